"""What a layout is worth and whether it is true: measured on the outlines, not on how it was found."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from fixturegen.nesting.faults import angle_on
from fixturegen.nesting.figures import (
    Floats,
    box_of,
    cross,
    distance,
    in_steel,
    moved,
    segments,
    turned,
    turned_loop,
)
from fixturegen.nesting.records import Blank, Layout, Put, StockSheet
from fixturegen.plate.profile import Loop, bounds, polyline, signed_area

EXACT = 0.01  # arcs as segments within this [mm]
FINER = 0.001  # as segments within this, where a distance seems short: both parts' together are less than SHORT [mm]
SHORT = 0.01  # a distance may be short by rounding [mm]
SAME_TURN = 1e-6  # [deg]

Key = tuple[str, int]
"""Name of the kind of sheet, and which of that kind."""

Copy = tuple[str, int]
"""Name of a part, and which copy."""


def on_sheets(layout: Layout) -> dict[Key, tuple[Put, ...]]:
    """What lies on each sheet in use, in the order of the layout."""
    found: dict[Key, list[Put]] = {}
    for put in layout.puts:
        found.setdefault((put.sheet, put.number), []).append(put)
    return {key: tuple(puts) for key, puts in found.items()}


def pieces_of(put: Put, blanks: Mapping[str, Blank], deviation: float = EXACT) -> Floats:
    """Segments (n, 4) round the steel of a copy where it lies [mm]."""
    return moved(turned(segments(blanks[put.blank], deviation), put.angle), put.x, put.y)


def reach_of(puts: Sequence[Put], blanks: Mapping[str, Blank]) -> float:
    """Largest x of any of the copies [mm]; 0 without any."""
    ends = (put.x + bounds(turned_loop(blanks[put.blank].outer, put.angle))[2] for put in puts)
    return max(ends, default=0.0)


def cut_to(puts: Sequence[Put], blanks: Mapping[str, Blank], sheet: StockSheet, spacing: float) -> float:
    """X beyond which nothing is cut, spacing allowed for [mm]."""
    return min(sheet.width, reach_of(puts, blanks) + spacing)


def area_used(layout: Layout, blanks: Sequence[Blank], sheets: Sequence[StockSheet]) -> float:
    """Area of sheet that is used up [mm2]: up to the last part and its spacing, over the whole height."""
    by_name, of_sheet = {b.name: b for b in blanks}, {s.name: s for s in sheets}
    return sum(
        cut_to(puts, by_name, of_sheet[name], layout.spacing) * of_sheet[name].height
        for (name, _), puts in on_sheets(layout).items()
    )


def steel_area(layout: Layout, blanks: Sequence[Blank]) -> float:
    """Area of the parts on all sheets, their told openings taken out [mm2]."""
    area = {b.name: abs(signed_area(b.outer)) - sum(abs(signed_area(o)) for o in b.openings) for b in blanks}
    return sum(area[put.blank] for put in layout.puts)


def as_cut(layout: Layout, blanks: Sequence[Blank], sheets: Sequence[StockSheet]) -> Layout:
    """The same layout in the order of cutting, and with what lies in whose opening written to it.

    Sheets in the order they are used; on a sheet from the zero corner along, each part after what
    lies in its openings.
    """
    by_name = {b.name: b for b in blanks}
    puts: list[Put] = []
    for here in on_sheets(layout).values():
        inner: dict[Copy | None, list[Put]] = {}
        for put in sorted(here, key=lambda p: _along(p, by_name)):
            host = _host(put, here, by_name)
            key = (host.blank, host.copy) if host else None
            inner.setdefault(key, []).append(replace(put, inside=host.blank if host else ""))
        puts += _cut_order(None, inner)
    return replace(layout, puts=tuple(puts))


def _along(put: Put, blanks: Mapping[str, Blank]) -> tuple[float, float, str, int]:
    box = bounds(turned_loop(blanks[put.blank].outer, put.angle))
    return round(put.x + box[0], 3), round(put.y + box[1], 3), put.blank, put.copy


def _cut_order(host: Copy | None, inner: Mapping[Copy | None, Sequence[Put]]) -> Iterator[Put]:
    """What lies in a copy (None: on the sheet), each after what lies in it."""
    for put in inner.get(host, ()):
        yield from _cut_order((put.blank, put.copy), inner)
        yield put


def _host(put: Put, here: Sequence[Put], blanks: Mapping[str, Blank]) -> Put | None:
    """The copy in whose opening a copy lies; the one with the smallest such opening."""
    x, y = map(float, pieces_of(put, blanks)[0, :2])
    found: list[tuple[float, str, int, Put]] = []
    for other in here:
        if other is put:
            continue
        for opening in blanks[other.blank].openings:
            if in_steel(_ring(opening, other), x, y):
                found.append((abs(signed_area(opening)), other.blank, other.copy, other))
    return min(found, key=lambda f: f[:3])[3] if found else None


def _ring(loop: Loop, put: Put) -> Floats:
    """Segments (n, 4) round an opening of a copy where it lies [mm]; arcs as chords."""
    points = np.array(polyline(loop, EXACT))
    return moved(turned(np.hstack([points, np.roll(points, -1, axis=0)]), put.angle), put.x, put.y)


def faults_of(layout: Layout, blanks: Sequence[Blank], sheets: Sequence[StockSheet]) -> tuple[str, ...]:
    """What is wrong with a layout, in words; empty when every distance is kept and every copy told once."""
    by_name, of_sheet = {b.name: b for b in blanks}, {s.name: s for s in sheets}
    found = _of_counts(layout, by_name, of_sheet)
    if found:
        return tuple(found)
    for (name, number), puts in on_sheets(layout).items():
        sheet = of_sheet[name]
        placed = [(put, pieces_of(put, by_name)) for put in puts]
        for i, (put, pieces) in enumerate(placed):
            said = f"{put.blank} #{put.copy} on {name} #{number}"
            found += _of_place(put, by_name[put.blank], sheet, layout.edge, said)
            for other, others in placed[:i]:
                gap = _gap(pieces, others, layout.spacing)
                if gap < layout.spacing - SHORT:
                    gap = _gap(pieces_of(put, by_name, FINER), pieces_of(other, by_name, FINER), layout.spacing)
                if gap < layout.spacing - SHORT:
                    found.append(f"{said} and {other.blank} #{other.copy} are {max(gap, 0.0):.2f} mm apart")
    return tuple(found)


def _of_counts(layout: Layout, blanks: Mapping[str, Blank], sheets: Mapping[str, StockSheet]) -> list[str]:
    told = sorted([(p.blank, p.copy) for p in layout.puts] + list(layout.unplaced))
    wanted = sorted((b.name, n) for b in blanks.values() for n in range(1, b.quantity + 1))
    found = [] if told == wanted else ["it does not tell every copy of every part once"]
    for put in layout.puts:
        sheet = sheets.get(put.sheet)
        if sheet is None or not 1 <= put.number <= sheet.count:
            found.append(f"there is no sheet {put.sheet} #{put.number}")
    return found


def _of_place(put: Put, blank: Blank, sheet: StockSheet, edge: float, said: str) -> list[str]:
    x0, y0, x1, y1 = bounds(turned_loop(blank.outer, put.angle))
    found = []
    if min(x0 + put.x, y0 + put.y, sheet.width - x1 - put.x, sheet.height - y1 - put.y) < edge - SHORT:
        found.append(f"{said} lies over the edge kept")
    turns = (angle_on(sheet, t) for t in blank.turns)
    if not any(abs((put.angle - t + 180.0) % 360.0 - 180.0) <= SAME_TURN for t in turns):
        found.append(f"{said} is turned by {put.angle:g} deg, which is not allowed")
    return found


def _gap(a: Floats, b: Floats, spacing: float) -> float:
    """Distance of the steel of two copies [mm], less than 0 where they overlap; the spacing where it is more."""
    ax0, ay0, ax1, ay1 = box_of(a)
    bx0, by0, bx1, by1 = box_of(b)
    if max(bx0 - ax1, ax0 - bx1, by0 - ay1, ay0 - by1) >= spacing:
        return spacing
    if cross(a, b) or in_steel(a, *map(float, b[0, :2])) or in_steel(b, *map(float, a[0, :2])):
        return -math.inf
    return distance(a, b)
