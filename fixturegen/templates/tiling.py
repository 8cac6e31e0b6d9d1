"""How a template lies on sheets of paper that lap.

Rows are lettered from the top, sheets of a row numbered from the left: B2 is the second row's second sheet.
Each row begins where its own steel begins, so that no sheet carries a sliver that its neighbours have room
for. Sheets that share a band long enough are neighbours; a sheet that no steel would lie under is left out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import pairwise
from typing import Any

from fixturegen.pages import Paper, free_room

LAP = 12.7  # [mm] shared by neighbours: room for tape and for a trim that is not straight
HEAD = 19.0  # [mm] words and map above the drawing
RIM = 4.0  # [mm] of paper round the template
PLACES = (0.2, 0.8)  # of a lap, where its two crosses stand
MARK = (16.0, 5.0)  # [mm] that a cross with its name reaches to the sides, and up and down
LEAST_SEAM = 60.0  # [mm] shared by two sheets above one another: room for two crosses that set a direction
SHIFTS = (0.5, 0.25, 0.75, 0.0, 1.0)  # of what is left over that stands above the template, liked in this order
ROUGH = 0.3  # [mm] the outline may be off when sheets are counted; the rim takes it

Box = tuple[float, float, float, float]
Points = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Tile:
    """One sheet of a tiling.

    Attributes:
        row: From the top, from 0.
        column: In its row, from the left, from 0.
        box: What it shows of the template as it lies (x0, y0, x1, y1) [mm].
    """

    row: int
    column: int
    box: Box

    @property
    def name(self) -> str:
        """B2: second row, second sheet."""
        return f"{row_letters(self.row)}{self.column + 1}"


@dataclass(frozen=True)
class Seam:
    """The middle of the band that two sheets share.

    Attributes:
        first: The upper or left sheet.
        second: The lower or right one.
        x0: Lower left end of the line (x0, y0) to (x1, y1) both carry, as the template lies [mm].
        y0: [mm].
        x1: [mm].
        y1: [mm].
    """

    first: Tile
    second: Tile
    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def marks(self) -> tuple[tuple[float, float], ...]:
        """Where its two crosses stand, as the template lies [mm]."""
        return tuple((self.x0 + f * (self.x1 - self.x0), self.y0 + f * (self.y1 - self.y0)) for f in PLACES)


@dataclass(frozen=True)
class Tiling:
    """How a template lies on paper.

    Attributes:
        turned: Whether it is turned by a quarter.
        lying: Whether the paper's long side lies across.
        tiles: The sheets that carry something, by row and column.
    """

    turned: bool
    lying: bool
    tiles: tuple[Tile, ...]

    @cached_property
    def seams(self) -> tuple[Seam, ...]:
        """Of each two sheets that lap."""
        found = []
        for k, a in enumerate(self.tiles):
            for b in self.tiles[k + 1 :]:
                if b.row == a.row and b.column == a.column + 1 and a.box[2] > b.box[0]:
                    x = (a.box[2] + b.box[0]) / 2.0
                    found.append(Seam(a, b, x, a.box[1], x, a.box[3]))
                elif b.row == a.row + 1:
                    left, right = max(a.box[0], b.box[0]), min(a.box[2], b.box[2])
                    if right - left >= LEAST_SEAM:
                        y = (a.box[1] + b.box[3]) / 2.0
                        found.append(Seam(a, b, left, y, right, y))
        return tuple(found)

    def whole(self) -> bool:
        """Whether every sheet is taped to the others, directly or by way of more of them."""
        if not self.tiles:
            return True
        reached, ahead = {self.tiles[0]}, [self.tiles[0]]
        while ahead:
            one = ahead.pop()
            for seam in self.seams:
                if one in (seam.first, seam.second):
                    other = seam.second if seam.first == one else seam.first
                    if other not in reached:
                        reached.add(other)
                        ahead.append(other)
        return len(reached) == len(self.tiles)

    def clear(self, x0: float, y0: float, x1: float, y1: float) -> bool:
        """Whether a box of the drawing, not turned, lies on one sheet and on no line of a lap [mm]."""
        corners = turned_points(((x0, y0), (x1, y1)), self.turned)
        (a, b), (c, d) = (sorted(axis) for axis in zip(*corners, strict=True))
        if not any(t.box[0] <= a and b <= t.box[2] and t.box[1] <= c and d <= t.box[3] for t in self.tiles):
            return False
        if any(s.x0 <= b and a <= s.x1 and s.y0 <= d and c <= s.y1 for s in self.seams):
            return False
        return not any(x - MARK[0] <= b and a <= x + MARK[0] and y - MARK[1] <= d and c <= y + MARK[1]
                       for s in self.seams for x, y in s.marks)  # fmt: skip


def row_letters(row: int) -> str:
    """A, B ... Z, AA, AB ..."""
    text = ""
    row += 1
    while row:
        row, rest = divmod(row - 1, 26)
        text = chr(65 + rest) + text
    return text


def window_of(paper: Paper) -> Box:
    """Where a page of this paper, as it lies, shows its piece of the template (x0, y0, x1, y1) [mm]."""
    x0, y0, x1, y1 = free_room(paper)
    return x0, y0, x1, y1 - HEAD


def turned_points(points: Points, turned: bool) -> Points:
    """The points as they lie: turned by a quarter counter-clockwise, or as they are (n, 2) [mm]."""
    return tuple((-y, x) for x, y in points) if turned else points


@lru_cache(maxsize=4)  # a blank asks for its own, and so does the book of it
def tiling_of(area: Points, paper: Paper) -> Tiling:
    """The tiling with the fewest sheets; not turned and on upright paper where that costs none.

    Args:
        area: Points round the template (n, 2) [mm].
        paper: Letter or A4, upright.
    """
    import shapely

    found = []
    for turned in (False, True):
        points = turned_points(area, turned)
        steel = shapely.make_valid(shapely.Polygon(points)).simplify(ROUGH).buffer(RIM, join_style="mitre")
        for lying in (False, True):
            sheet = paper.lying if lying else paper
            found += [_tiling(steel, points, sheet, turned, lying, shift) for shift in SHIFTS]
            single = [t for t in found if len(t.tiles) == 1]
            if single:
                return single[0]
    # the first of those with the fewest sheets: straight before turned, upright before lying, in the middle first
    taped = [t for t in found if t.whole()]
    if taped:
        return min(taped, key=lambda t: len(t.tiles))
    # a neck too narrow for two crosses lies on a lap: the sheets in straight columns, as a calendar has them
    steel = shapely.make_valid(shapely.Polygon(area)).buffer(RIM, join_style="mitre")
    return _tiling(steel, area, paper, turned=False, lying=False, shift=0.5, straight=True)


def _tiling(
    steel: Any, points: Points, sheet: Paper, turned: bool, lying: bool, shift: float, straight: bool = False
) -> Tiling:
    import shapely

    x0, y0, x1, y1 = window_of(sheet)
    wide, high = x1 - x0, y1 - y0
    ys = [y for _, y in points]
    left, right = min(x for x, _ in points) - RIM, max(x for x, _ in points) + RIM
    low, top = min(ys) - RIM, max(ys) + RIM
    rows = _count(top - low, high)
    over = rows * (high - LAP) + LAP - (top - low)
    ceiling = top + shift * over
    tiles = []
    for row in range(rows):
        y = ceiling - row * (high - LAP)
        # the outer half of a lap belongs to the neighbour
        upper = y - (LAP / 2.0 if row else 0.0)
        lower = y - high + (LAP / 2.0 if row + 1 < rows else 0.0)
        strip = steel.intersection(shapely.box(left - RIM, lower, right + RIM, upper))
        column = 0
        for a, b in [(left, right)] if straight else _pieces(strip, wide):
            count = _count(b - a, wide)
            start = (a + b) / 2.0 - (count * (wide - LAP) + LAP) / 2.0
            for k in range(count):
                u = start + k * (wide - LAP)
                tiles.append(Tile(row, column, (u, y - high, u + wide, y)))
                column += 1
    return Tiling(turned, lying, tuple(tiles))


def _count(length: float, room: float) -> int:
    """Sheets that a length takes when each has room for so much and laps with the next."""
    return max(1, math.ceil((length - LAP) / (room - LAP) - 1e-9))


def _pieces(strip: Any, wide: float) -> list[tuple[float, float]]:
    """(left, right) of what each run of sheets must reach over in a row [mm]; apart only where that saves a sheet."""
    parts = [g for g in getattr(strip, "geoms", (strip,)) if not g.is_empty and g.area > 0.0]
    spans: list[tuple[float, float]] = []
    for a, b in sorted((g.bounds[0], g.bounds[2]) for g in parts):
        if spans and a <= spans[-1][1]:
            spans[-1] = (spans[-1][0], max(b, spans[-1][1]))
        else:
            spans.append((a, b))
    while len(spans) > 1:
        for k, (one, two) in enumerate(pairwise(spans)):
            apart = _count(one[1] - one[0], wide) + _count(two[1] - two[0], wide)
            if _count(two[1] - one[0], wide) <= apart:
                spans[k : k + 2] = [(one[0], two[1])]
                break
        else:
            break
    return spans
