"""What cannot be nested, each in one sentence: no stock, no size, or a part no sheet can hold."""

from __future__ import annotations

import math
from collections.abc import Sequence

from fixturegen.errors import Fault
from fixturegen.nesting.figures import turned_loop
from fixturegen.nesting.records import Blank, StockSheet
from fixturegen.plate.profile import bounds, signed_area

SAME = 1e-6  # [mm] larger by less than this is rounding
LEAST_AREA = 1e-6  # [mm2] an outline of less holds nothing

_ABOVE_ZERO = "a number above 0"
_COUNTED = "a whole number, 1 or more"


def angle_on(sheet: StockSheet, turn: float) -> float:
    """Angle from the sheet's x axis to the part's [deg] for a turn from the grain [deg], 0 to below 360."""
    return (turn + (90.0 if sheet.grain == "y" else 0.0)) % 360.0


def fits(blank: Blank, sheet: StockSheet, turn: float, edge: float) -> bool:
    """Whether the part, at this turn from the grain [deg], lies in an empty sheet with `edge` [mm] all round."""
    x0, y0, x1, y1 = bounds(turned_loop(blank.outer, angle_on(sheet, turn)))
    return x1 - x0 <= sheet.width - 2.0 * edge + SAME and y1 - y0 <= sheet.height - 2.0 * edge + SAME


def faults_of(blanks: Sequence[Blank], sheets: Sequence[StockSheet], spacing: float, edge: float) -> tuple[Fault, ...]:
    """All faults of a nesting job; those of one part have the key `part.<name>`, so a caller can hold it alone."""
    found = [*_of_distance("spacing", spacing), *_of_distance("edge", edge)]
    if not sheets:
        found.append(Fault("stock", "no sheet", "at least one sheet or remnant", "list the sheets that are there"))
    for sheet in sheets:
        found += _of_sheet(sheet)
    found += _doubles("sheet", [s.name for s in sheets])
    found += _doubles("part", [b.name for b in blanks])
    stock_is_sound = not found
    for blank in blanks:
        own = _of_blank(blank)
        if not own and stock_is_sound and not any(fits(blank, s, t, edge) for s in sheets for t in blank.turns):
            own = [_too_large(blank, sheets, edge)]
        found += own
    return tuple(found)


def _of_distance(key: str, value: float) -> list[Fault]:
    if math.isfinite(value) and value >= 0.0:
        return []
    return [Fault(key, f"{value:g} mm", "a number, 0 or more", "give the distance that is to be kept")]


def _of_sheet(sheet: StockSheet) -> list[Fault]:
    key = f"sheet.{sheet.name}"
    found = [
        Fault(f"{key}.{side}", f"{value:g} mm", _ABOVE_ZERO, "measure the sheet, or take it off the list")
        for side, value in (("width", sheet.width), ("height", sheet.height))
        if not (math.isfinite(value) and value > 0.0)
    ]
    if sheet.count < 1:
        found.append(Fault(f"{key}.count", str(sheet.count), _COUNTED, "take the sheet off the list if none is there"))
    if sheet.grain not in ("x", "y", ""):
        found.append(Fault(f"{key}.grain", repr(sheet.grain), "x, y or nothing", "say which way it was rolled"))
    return found


def _doubles(kind: str, names: list[str]) -> list[Fault]:
    twice = sorted({n for n in names if names.count(n) > 1})
    return [Fault(f"{kind}.{n}", "the name twice", "each name once", "give one of them another name") for n in twice]


def _of_blank(blank: Blank) -> list[Fault]:
    key = f"part.{blank.name}"
    if blank.quantity < 1:
        return [Fault(f"{key}.quantity", str(blank.quantity), _COUNTED, "take the part off the list if none is wanted")]
    if not blank.turns or not all(math.isfinite(t) for t in blank.turns):
        return [Fault(f"{key}.turns", str(blank.turns), "one angle or more", "allow at least 0 degrees")]
    for words, loop in (("outline", blank.outer), *(("opening", o) for o in blank.openings)):
        numbers = [n for v in loop for n in (v.x, v.y, v.bulge)]
        if len(loop) < 2 or not all(map(math.isfinite, numbers)) or abs(signed_area(loop)) < LEAST_AREA:
            return [Fault(key, f"an {words} of no size", "a closed outline with an area", "draw the part again")]
    return []


def _too_large(blank: Blank, sheets: Sequence[StockSheet], edge: float) -> Fault:
    x0, y0, x1, y1 = bounds(blank.outer)
    largest = max(sheets, key=lambda s: (s.width * s.height, s.name))
    room = (largest.width - 2.0 * edge, largest.height - 2.0 * edge)
    return Fault(
        f"part.{blank.name}",
        f"{x1 - x0:.1f} by {y1 - y0:.1f} mm, larger than every sheet at the rotations allowed",
        f"at most {room[0]:.1f} by {room[1]:.1f} mm on the largest sheet, {largest.name}, inside its edge distance",
        "add a larger sheet, allow more rotations, or split the part",
    )
