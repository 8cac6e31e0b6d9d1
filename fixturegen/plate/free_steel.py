"""Where lettering has room on a plate: clear of the edge, of openings, finished holes and other marks."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import numpy as np
import numpy.typing as npt

from fixturegen.plate.lettering import text_box
from fixturegen.plate.part import Mark, Part
from fixturegen.plate.profile import Loop, bounds, hole_loop, polyline

Floats = npt.NDArray[np.floating[Any]]
Bools = npt.NDArray[np.bool_]
Point = tuple[float, float]
Box = tuple[float, float, float, float]

STEP = 1.0  # side of a cell [mm]; what it may miss is far less than the clearances asked for
CELLS = 1_500_000  # a plate larger than this many cells is looked at more coarsely
AROUND = 2.0  # kept between marks [mm]
BEND_ROOM = 6.0  # kept to a bend line [mm]: lettering in the bend cannot be read


class FreeSteel:
    """Cells of a plate in part frame, each free or taken; symmetric about the middle of the plate's box."""

    def __init__(self, part: Part) -> None:
        """Takes what the part has cut, bent and marked already.

        Args:
            part: A plate part.

        Raises:
            ValueError: When it has no flat profile.
        """
        if part.profile is None:
            raise ValueError(f"{part.name} has no flat profile")
        x0, y0, x1, y1 = bounds(part.profile.outer)
        self.middle = ((x0 + x1) / 2.0, (y0 + y1) / 2.0)
        self.step = max(STEP, math.sqrt((x1 - x0) * (y1 - y0) / CELLS))
        nx, ny = (2 * math.ceil((b - a) / 2.0 / self.step) + 3 for a, b in ((x0, x1), (y0, y1)))
        self.x = self.middle[0] + self.step * (np.arange(nx) - (nx - 1) / 2.0)
        self.y = self.middle[1] + self.step * (np.arange(ny) - (ny - 1) / 2.0)
        self._sums: npt.NDArray[np.int64] | None = None
        self.taken: Bools = ~_inside(part.profile.outer, self.x, self.y)
        for loop in (*part.profile.inner, *(hole_loop(h) for h in part.profile.holes)):
            self._take_loop(loop)
        for bend in part.bends:
            self.take_line(bend.x0, bend.y0, bend.x1, bend.y1, BEND_ROOM)
        for mark in part.marks:
            self.take(mark)

    def _take_loop(self, loop: Loop) -> None:
        i, j = self._window(bounds(loop))
        self.taken[j, i] |= _inside(loop, self.x[i], self.y[j])

    def _window(self, box: Box) -> tuple[slice, slice]:
        """Columns and rows of the cells a box touches."""
        spans = []
        for axis, low, high in ((self.x, box[0], box[2]), (self.y, box[1], box[3])):
            first = math.floor((low - axis[0]) / self.step)
            last = math.ceil((high - axis[0]) / self.step)
            spans.append(slice(max(0, first), max(0, last + 1)))
        return spans[0], spans[1]

    def take_box(self, box: Box, around: float = AROUND) -> None:
        """Marks a box (xmin, ymin, xmax, ymax) [mm] and what lies around it [mm] as taken."""
        i, j = self._window((box[0] - around, box[1] - around, box[2] + around, box[3] + around))
        self.taken[j, i] = True
        self._sums = None

    def take_line(self, x0: float, y0: float, x1: float, y1: float, around: float = AROUND) -> None:
        """Marks a line [mm] and what lies around it [mm] as taken."""
        n = max(1, math.ceil(math.hypot(x1 - x0, y1 - y0) / 4.0))
        ends = [(x0 + (x1 - x0) * k / n, y0 + (y1 - y0) * k / n) for k in range(n + 1)]
        for (ax, ay), (bx, by) in pairwise(ends):
            self.take_box((min(ax, bx), min(ay, by), max(ax, bx), max(ay, by)), around)

    def take(self, mark: Mark) -> None:
        """Marks the place of a mark as taken."""
        if mark.to is not None:
            self.take_line(mark.x, mark.y, *mark.to)
        if mark.text:
            self.take_box(mark_box(mark))

    def back_to(self, taken: Bools) -> None:
        """Forgets what was taken since a copy of `taken` (rows, columns) was made."""
        self.taken = taken.copy()
        self._sums = None

    def is_free(self, x0: float, y0: float, x1: float, y1: float, around: float) -> bool:
        """Whether a line [mm] with what lies around it [mm] is free."""
        n = max(1, math.ceil(math.hypot(x1 - x0, y1 - y0) / self.step))
        for k in range(n + 1):
            x, y = x0 + (x1 - x0) * k / n, y0 + (y1 - y0) * k / n
            low, high = (x - around, y - around), (x + around, y + around)
            if low[0] < self.x[0] or low[1] < self.y[0] or high[0] > self.x[-1] or high[1] > self.y[-1]:
                return False
            i, j = self._window((*low, *high))
            if self.taken[j, i].any():
                return False
        return True

    def place(
        self, wide: float, high: float, around: float, near: Sequence[Point], from_right: bool = False
    ) -> Point | None:
        """Low corner [mm] of the free rectangle whose middle is nearest to one of the points; None without room.

        Args:
            wide: Along x [mm].
            high: Along y [mm].
            around: Room on every side of it [mm].
            near: Points to be near to [mm].
            from_right: Which of equal places is taken: of a mirrored plate the mirrored one.
        """
        nx = math.ceil((wide + 2.0 * around) / self.step) + 1
        ny = math.ceil((high + 2.0 * around) / self.step) + 1
        if nx > self.x.size or ny > self.y.size:
            return None
        if self._sums is None:
            self._sums = np.zeros((self.y.size + 1, self.x.size + 1), dtype=np.int64)
            self._sums[1:, 1:] = self.taken.cumsum(axis=0).cumsum(axis=1)
        sums = self._sums
        held = sums[ny:, nx:] - sums[:-ny, nx:] - sums[ny:, :-nx] + sums[:-ny, :-nx]
        rows, columns = np.nonzero(held == 0)
        if rows.size == 0:
            return None
        x = self.x[columns] + (nx - 1) * self.step / 2.0
        y = self.y[rows] + (ny - 1) * self.step / 2.0
        far = np.min([np.hypot(x - a, y - b) for a, b in near], axis=0)
        best = np.lexsort((-x if from_right else x, y, np.round(far, 6)))[0]
        return float(x[best]) - wide / 2.0, float(y[best]) - high / 2.0


def mark_box(mark: Mark) -> Box:
    """(xmin, ymin, xmax, ymax) [mm] of a mark as it is drawn."""
    if mark.to is not None:
        (x, y), (u, v) = (mark.x, mark.y), mark.to
        return min(x, u), min(y, v), max(x, u), max(y, v)
    x0, y0, x1, y1 = text_box(mark.text, mark.height)
    a = math.radians(mark.angle)
    c, s = math.cos(a), math.sin(a)
    corners = [(mark.x + c * p - s * q, mark.y + s * p + c * q) for p in (x0, x1) for q in (y0, y1)]
    xs, ys = [p for p, _ in corners], [q for _, q in corners]
    return min(xs), min(ys), max(xs), max(ys)


def _inside(loop: Loop, x: Floats, y: Floats) -> Bools:
    """Which cells (rows y, columns x) lie inside a loop: edges crossed left of each are counted."""
    points = polyline(loop, 0.05)
    crossed = np.zeros((y.size, x.size + 1), dtype=np.int64)
    if x.size == 0 or y.size == 0:
        return np.zeros((y.size, x.size), dtype=np.bool_)
    for (ax, ay), (bx, by) in zip(points, (*points[1:], points[0]), strict=True):
        rows = np.nonzero((y >= min(ay, by)) & (y < max(ay, by)))[0]
        if rows.size:
            at = ax + (y[rows] - ay) * (bx - ax) / (by - ay)
            np.add.at(crossed, (rows, np.searchsorted(x, at)), 1)
    inside: Bools = crossed.cumsum(axis=1)[:, :-1] % 2 == 1
    return inside
