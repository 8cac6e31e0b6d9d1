"""Nesting without clock or chance: the same parts and sheets give the same layout.

Parts are taken in a few fixed orders, each part put where it reaches least far along the sheet, in
the opening of another where it can be; then everything is pushed together exactly. Of all orders,
and of rectangles around the parts, the one that uses least of the sheets wins.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace

from fixturegen.nesting.faults import angle_on, fits
from fixturegen.nesting.grid import Grid, Shape, cell_of
from fixturegen.nesting.measure import area_used, as_cut
from fixturegen.nesting.push import pushed
from fixturegen.nesting.records import Blank, Layout, Put, StockSheet
from fixturegen.nesting.rectangles import by_rectangles
from fixturegen.plate.profile import bounds, signed_area

Copies = tuple[tuple[Blank, int], ...]
WASTED = 0.9  # area of sheets largest first, as a share of that smallest first, for which a remnant is kept
EXACT = 0.01  # arcs as segments within this, when parts are pushed together [mm]


@dataclass
class _Open:
    """One sheet in use."""

    sheet: StockSheet
    number: int
    grid: Grid
    puts: list[Put] = field(default_factory=list)


def _long(blank: Blank) -> tuple[float, float]:
    x0, y0, x1, y1 = bounds(blank.outer)
    return max(x1 - x0, y1 - y0), min(x1 - x0, y1 - y0)


_ORDERS: tuple[Callable[[Blank], float], ...] = (
    lambda b: -abs(signed_area(b.outer)),
    lambda b: -_long(b)[0],
    lambda b: -_long(b)[1],
)
"""Largest area, longest, and broadest first; equals by name."""


def nested(blanks: Sequence[Blank], sheets: Sequence[StockSheet], spacing: float, edge: float) -> Layout:
    """A layout, the same for the same input whatever its order; parts that find no place are named in it.

    Sheets are taken smallest first, so that remnants go before full sheets, unless largest first
    places more parts or uses up less than `WASTED` of the area; of the orders of parts the one that
    uses least area wins.

    Args:
        blanks: Parts to cut.
        sheets: What there is to cut them from.
        spacing: Least between two parts [mm].
        edge: Least from a part to the sheet's edge [mm].
    """
    parts = sorted(blanks, key=lambda b: b.name)
    small = sorted(sheets, key=lambda s: (s.width * s.height, s.name))
    shapes: dict[tuple[str, float], Shape] = {}

    def best_of(stock: Sequence[StockSheet]) -> Layout:
        found = [by_rectangles(parts, stock, spacing, edge)]
        for order in _ORDERS:
            ordered = sorted(parts, key=lambda b: (round(order(b), 6), b.name))
            copies = tuple((b, n) for b in ordered for n in range(1, b.quantity + 1))
            found.append(_laid_out(copies, stock, spacing, edge, shapes))
        return min(found, key=lambda layout: _worth(layout, parts, sheets))

    best = best_of(small)
    if len(small) > 1:
        other = best_of(small[::-1])
        left, area = _worth(best, parts, sheets)
        if _worth(other, parts, sheets) < (left, WASTED * area):
            best = other
    together = as_cut(pushed(best, parts, sheets, EXACT), parts, sheets)
    return together if _worth(together, parts, sheets) <= _worth(best, parts, sheets) else as_cut(best, parts, sheets)


def _worth(layout: Layout, blanks: Sequence[Blank], sheets: Sequence[StockSheet]) -> tuple[int, float]:
    """Parts without a place, then area used up [mm2]: less is better."""
    return len(layout.unplaced), round(area_used(layout, blanks, sheets), 3)


def _laid_out(
    copies: Copies, stock: Sequence[StockSheet], spacing: float, edge: float, shapes: dict[tuple[str, float], Shape]
) -> Layout:
    fresh = _sheets(stock, spacing, edge)
    used: list[_Open] = []
    unplaced = []
    for blank, copy in copies:
        done = any(_placed(blank, copy, there, edge, shapes) for there in used)
        while not done:
            there = next(fresh, None)
            if there is None:
                break
            used.append(there)
            done = _placed(blank, copy, there, edge, shapes)
        if not done:
            unplaced.append((blank.name, copy))
    return Layout(tuple(p for there in used for p in there.puts), tuple(sorted(unplaced)), spacing, edge)


def _sheets(stock: Sequence[StockSheet], spacing: float, edge: float) -> Iterator[_Open]:
    for sheet in stock:
        width, height = sheet.width - 2.0 * edge, sheet.height - 2.0 * edge
        for number in range(1, sheet.count + 1):
            yield _Open(sheet, number, Grid(width, height, cell_of(width, height), spacing))


def _placed(blank: Blank, copy: int, there: _Open, edge: float, shapes: dict[tuple[str, float], Shape]) -> bool:
    """Whether the copy found a place on the sheet; it is put where it reaches least far along it."""
    best: tuple[float, float, float, Shape] | None = None
    for turn in blank.turns:
        if not fits(blank, there.sheet, turn, edge):
            continue
        angle = angle_on(there.sheet, turn)
        shape = shapes.setdefault((blank.name, angle), Shape(blank, angle))
        at = there.grid.first_place(shape)
        if at is None:
            continue
        reach = round(at[0] + shape.size[0], 6)
        if best is None or (reach, at) < (best[0], best[1:3]):
            best = (reach, at[0], at[1], shape)
    if best is None:
        return False
    _, x, y, shape = best
    there.grid.take(shape, x, y)
    low = shape.low
    there.puts.append(
        Put(blank.name, copy, there.sheet.name, there.number, x + edge - low[0], y + edge - low[1], shape.angle)
    )
    return True


def filled(
    layout: Layout, left: Copies, blanks: Sequence[Blank], sheets: Sequence[StockSheet]
) -> tuple[Layout, Copies]:
    """The layout with more copies put where there is room on its sheets, and what found none."""
    by_name, of_sheet = {b.name: b for b in blanks}, {s.name: s for s in sheets}
    shapes: dict[tuple[str, float], Shape] = {}
    opened: dict[tuple[str, int], _Open] = {}
    for put in layout.puts:
        key = (put.sheet, put.number)
        if key not in opened:
            opened[key] = next(
                o
                for o in _sheets([replace(of_sheet[put.sheet], count=put.number)], layout.spacing, layout.edge)
                if o.number == put.number
            )  # fmt: skip - one thought
        there = opened[key]
        shape = shapes.setdefault((put.blank, put.angle), Shape(by_name[put.blank], put.angle))
        _take_off_the_grid(there.grid, shape, put.x + shape.low[0] - layout.edge, put.y + shape.low[1] - layout.edge)
    rest, more = [], []
    for blank, copy in left:
        done = any(_placed(blank, copy, there, layout.edge, shapes) for there in opened.values())
        if not done:
            rest.append((blank, copy))
    for there in opened.values():
        more += there.puts
    return replace(layout, puts=(*layout.puts, *more)), tuple(rest)


def _take_off_the_grid(grid: Grid, shape: Shape, x: float, y: float) -> None:
    """Take the place of a part that does not stand on the grid: at the four places around it."""
    i, j = x // grid.cell, y // grid.cell
    for a in (i, i + 1):
        for b in (j, j + 1):
            grid.take(shape, a * grid.cell, b * grid.cell)
