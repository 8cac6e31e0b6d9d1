"""Nesting of rectangles around the parts: what a layout of outlines must never be worse than."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from fixturegen.nesting.faults import angle_on, fits
from fixturegen.nesting.figures import turned_loop
from fixturegen.nesting.records import Blank, Layout, Put, StockSheet
from fixturegen.plate.profile import bounds

SAME = 1e-9  # [mm]


@dataclass
class _Open:
    sheet: StockSheet
    number: int
    boxes: list[tuple[float, float, float, float]] = field(default_factory=list)
    puts: list[Put] = field(default_factory=list)


def by_rectangles(blanks: Sequence[Blank], stock: Sequence[StockSheet], spacing: float, edge: float) -> Layout:
    """A layout of the rectangles around the parts, tallest first, each at the lowest x it can have.

    A rectangle stands in a corner that the edges and the rectangles before it make, spacing kept.

    Args:
        blanks: Parts to cut.
        stock: Sheets in the order they are to be used.
        spacing: Least between two parts [mm].
        edge: Least from a part to the sheet's edge [mm].
    """

    def size(blank: Blank) -> tuple[float, float, str]:
        x0, y0, x1, y1 = bounds(blank.outer)
        return -max(x1 - x0, y1 - y0), -min(x1 - x0, y1 - y0), blank.name

    there = [_Open(s, n) for s in stock for n in range(1, s.count + 1)]
    unplaced = []
    for blank in sorted(blanks, key=size):
        for copy in range(1, blank.quantity + 1):
            if not any(_placed(blank, copy, o, spacing, edge) for o in there):
                unplaced.append((blank.name, copy))
    return Layout(tuple(p for o in there for p in o.puts), tuple(sorted(unplaced)), spacing, edge)


def _placed(blank: Blank, copy: int, there: _Open, spacing: float, edge: float) -> bool:
    best: tuple[float, float, float, float] | None = None
    for turn in blank.turns:
        if not fits(blank, there.sheet, turn, edge):
            continue
        angle = angle_on(there.sheet, turn)
        x0, y0, x1, y1 = bounds(turned_loop(blank.outer, angle))
        for x, y in _corners(there, spacing, edge):
            if _free(there, x, y, x1 - x0, y1 - y0, spacing, edge):
                found = (x + x1 - x0, x, y, angle)
                best = found if best is None or found < best else best
                break
    if best is None:
        return False
    reach, x, y, angle = best
    x0, y0, x1, y1 = bounds(turned_loop(blank.outer, angle))
    there.boxes.append((x, y, reach, y + y1 - y0))
    there.puts.append(Put(blank.name, copy, there.sheet.name, there.number, x - x0, y - y0, angle))
    return True


def _corners(there: _Open, spacing: float, edge: float) -> list[tuple[float, float]]:
    xs = sorted({edge, *(b[2] + spacing for b in there.boxes)})
    ys = sorted({edge, *(b[3] + spacing for b in there.boxes)})
    return [(x, y) for x in xs for y in ys]


def _free(there: _Open, x: float, y: float, w: float, h: float, spacing: float, edge: float) -> bool:
    if x + w > there.sheet.width - edge + SAME or y + h > there.sheet.height - edge + SAME:
        return False
    return not any(
        x < b[2] + spacing - SAME
        and x + w > b[0] - spacing + SAME
        and y < b[3] + spacing - SAME
        and y + h > b[1] - spacing + SAME
        for b in there.boxes
    )
