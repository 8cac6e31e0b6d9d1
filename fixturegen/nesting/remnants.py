"""What is left of a sheet for the next job: the off-cut of full height, and the largest rectangle."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from fixturegen.nesting.measure import cut_to, pieces_of
from fixturegen.nesting.records import Blank, Put, StockSheet
from fixturegen.plate.profile import Loop, rectangle

CELLS = 400  # along the longer side: what is told is smaller than what is there by a cell at each side
DEVIATION = 0.05  # arcs as tangents within this [mm]


def off_cut(puts: Sequence[Put], blanks: Sequence[Blank], sheet: StockSheet, spacing: float) -> Loop:
    """The sheet beyond the last part and its spacing, over the full height [mm]; empty when nothing is left."""
    x = cut_to(puts, {b.name: b for b in blanks}, sheet, spacing)
    return rectangle(x, 0.0, sheet.width, sheet.height) if x < sheet.width else ()


def largest_left(puts: Sequence[Put], blanks: Sequence[Blank], sheet: StockSheet, spacing: float) -> Loop:
    """The largest upright rectangle that keeps the spacing from every part [mm]; empty when there is none.

    Found on cells and so never too large; openings of parts are left out of account, what was cut
    round them is scrap.
    """
    import shapely

    by_name = {b.name: b for b in blanks}
    cell = max(sheet.width, sheet.height) / CELLS
    edges = [np.arange(int(length / cell + 1e-9) + 1) * cell for length in (sheet.width, sheet.height)]
    free = np.ones((len(edges[0]) - 1, len(edges[1]) - 1), dtype=np.bool_)
    reach = spacing + cell * np.sqrt(0.5)  # a cell whose centre is farther away holds nothing too near
    xs, ys = np.meshgrid(edges[0][:-1] + cell / 2.0, edges[1][:-1] + cell / 2.0, indexing="ij")
    for put in puts:
        outline = Blank(put.blank, by_name[put.blank].outer)
        steel = shapely.Polygon(pieces_of(put, {put.blank: outline}, DEVIATION)[:, :2]).buffer(0.0)
        shapely.prepare(steel)
        free &= ~shapely.dwithin(steel, shapely.points(xs, ys), reach)
    area, box = _largest(free)
    if not area:
        return ()
    x0, y0, x1, y1 = (float(n * cell) for n in box)
    return rectangle(x0, y0, x1, y1)


def _largest(free: np.ndarray[tuple[int, ...], np.dtype[np.bool_]]) -> tuple[int, tuple[int, int, int, int]]:
    """Cells of the largest rectangle that is all free, and its corners: heights of columns, kept rising on a stack."""
    best, box = 0, (0, 0, 0, 0)
    heights = np.zeros(free.shape[1], dtype=np.int64)
    for i in range(free.shape[0]):
        heights = np.where(free[i], heights + 1, 0)
        rising: list[tuple[int, int]] = []  # where a height begins, and the height
        for j, height in enumerate([*map(int, heights), 0]):
            start = j
            while rising and rising[-1][1] >= height:
                start, tall = rising.pop()
                if tall * (j - start) > best:
                    best, box = tall * (j - start), (i + 1 - tall, start, i + 1, j)
            rising.append((start, height))
    return best, box
