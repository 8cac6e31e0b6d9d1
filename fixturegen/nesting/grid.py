"""A sheet as cells, taken or free: every place of a part at once, by one product of transforms.

Cells err on the safe side alone. What a part takes is every cell its steel touches; what it keeps
others from is every cell within the spacing of its steel. A place where the two do not meet keeps
the spacing exactly, however coarse the cells.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from fixturegen.nesting.figures import cosine_and_sine, outside_points, rings
from fixturegen.nesting.records import Blank

Mask = NDArray[np.bool_]
DEVIATION = 0.05  # arcs as tangents within this [mm]
CELLS = 220_000  # of a sheet: a product of transforms takes a few milliseconds then
FINEST = 1.0  # [mm] no finer cells: lengths of a shop are not truer
QUARTER_SEGMENTS = 16  # of a rounded corner, when steel is grown


def cell_of(width: float, height: float) -> float:
    """Side of a cell [mm] for a sheet of a size [mm]."""
    return max(FINEST, math.sqrt(width * height / CELLS))


@dataclass
class Shape:
    """A part at one rotation, its bounds standing in (0, 0), as polygon and as cells.

    Attributes:
        blank: The part.
        angle: From the sheet's x axis to the part's [deg].
    """

    blank: Blank
    angle: float
    masks: dict[tuple[float, float], Mask] = field(default_factory=dict)

    @cached_property
    def _turned(self) -> tuple[Any, float, float]:
        from shapely import affinity
        from shapely.geometry import Polygon

        outer, *openings = rings(self.blank)
        steel = Polygon(
            outside_points(outer, DEVIATION), [outside_points(opening, DEVIATION) for opening in openings]
        ).buffer(0.0)
        c, s = cosine_and_sine(self.angle)
        steel = affinity.affine_transform(steel, [c, -s, s, c, 0.0, 0.0])
        x0, y0, _, _ = steel.bounds
        return affinity.translate(steel, -x0, -y0), x0, y0

    @property
    def steel(self) -> Any:
        """Polygon that holds all steel, its bounds standing in (0, 0)."""
        return self._turned[0]

    @property
    def low(self) -> tuple[float, float]:
        """Corner of the bounds before they were moved [mm]."""
        return self._turned[1], self._turned[2]

    @property
    def size(self) -> tuple[float, float]:
        """Length along x and y [mm]."""
        _, _, x, y = self.steel.bounds
        return float(x), float(y)

    def mask(self, cell: float, grown: float) -> Mask:
        """Cells (nx, ny) touched by the steel grown by `grown` [mm]; the first at (-grown, -grown), rounded out."""
        key = (cell, grown)
        if key not in self.masks:
            self.masks[key] = _touched(self.steel, cell, grown)
        return self.masks[key]


def _touched(steel: Any, cell: float, grown: float) -> Mask:
    import shapely

    reach = cell * math.sqrt(0.5)
    # corners of a grown polygon are chords: grow a little more, so that the circle lies inside
    more = (grown + reach) / math.cos(math.pi / (4.0 * QUARTER_SEGMENTS))
    fat = steel.buffer(more, quad_segs=QUARTER_SEGMENTS)
    shapely.prepare(fat)
    out = math.ceil(grown / cell) if grown else 0
    _, _, x, y = steel.bounds
    nx, ny = math.ceil(x / cell) + 2 * out, math.ceil(y / cell) + 2 * out
    xs = (np.arange(nx) - out + 0.5) * cell
    ys = (np.arange(ny) - out + 0.5) * cell
    grid_x, grid_y = np.meshgrid(xs, ys, indexing="ij")
    return np.asarray(shapely.contains_xy(fat, grid_x, grid_y), dtype=np.bool_)


class Grid:
    """The part of a sheet inside its edges [mm], as cells that are taken or free."""

    def __init__(self, width: float, height: float, cell: float, spacing: float) -> None:
        import scipy.fft

        self.width, self.height, self.cell, self.spacing = width, height, cell, spacing
        self.taken = np.zeros((max(1, math.ceil(width / cell)), max(1, math.ceil(height / cell))), dtype=np.float32)
        self._size = [scipy.fft.next_fast_len(n, real=True) for n in self.taken.shape]
        self._spectrum: Any = None
        self._spectra: dict[tuple[str, float], Any] = {}

    def first_place(self, shape: Shape) -> tuple[float, float] | None:
        """Lowest x, then lowest y, at which the part's bounds may stand [mm]; None where there is none."""
        import scipy.fft

        w, h = shape.size
        nx = math.floor((self.width - w) / self.cell + 1e-9)
        ny = math.floor((self.height - h) / self.cell + 1e-9)
        if nx < 0 or ny < 0:
            return None
        key = (shape.blank.name, shape.angle)
        if key not in self._spectra:
            mask = shape.mask(self.cell, 0.0).astype(np.float32)
            self._spectra[key] = np.conj(
                scipy.fft.rfft2(mask[: self.taken.shape[0], : self.taken.shape[1]], self._size)
            )
        if self._spectrum is None:
            self._spectrum = scipy.fft.rfft2(self.taken, self._size)
        met = scipy.fft.irfft2(self._spectrum * self._spectra[key], self._size)
        free = met[: nx + 1, : ny + 1] < 0.5  # whole cells are counted, so half a cell is rounding
        at = int(np.argmax(free))
        if not free.flat[at]:
            return None
        i, j = divmod(at, free.shape[1])
        return i * self.cell, j * self.cell

    def take(self, shape: Shape, x: float, y: float) -> None:
        """Take the place of a part whose bounds stand at (x, y) [mm], and its spacing."""
        mask = shape.mask(self.cell, self.spacing)
        out = math.ceil(self.spacing / self.cell) if self.spacing else 0
        i, j = round(x / self.cell) - out, round(y / self.cell) - out
        a, b = max(0, -i), max(0, -j)
        part = mask[a : self.taken.shape[0] - i, b : self.taken.shape[1] - j]
        here = self.taken[i + a : i + a + part.shape[0], j + b : j + b + part.shape[1]]
        np.maximum(here, part, out=here)
        self._spectrum = None
