"""How far a dummy bolt may stand from its hardpoint, by how its locator is made and set."""

from __future__ import annotations

import math

from fixturegen.sheet.specs import Sheet
from fixturegen.studies.budget_inputs import PLACE
from fixturegen.studies.drilling import joint_limits
from fixturegen.studies.locator_records import ErrorItem, Form, PlaceError

INCH = 25.4
LIMIT = INCH / 16.0
"""A bracket's hardpoint within this of where the sheet has it [mm] (common practice, no source)."""
GRID = 0.010 * INCH
"""Table hole from its place, the pitch being measured [mm]: a shop-cut table 0.010 to 0.020 in (common practice)."""
TAPE = INCH / 64.0  # a rule or tape read with a square [mm] (common practice, no source)
LEAN = 0.010 * INCH  # cheek off square at the bolt, by square and feeler, shimmed out [mm] (common practice, no source)
PIN_SPREAD = 0.05  # difference of two pin fits when all bases are pushed the same way [mm] (common practice)
SADDLE_TURN = 0.25  # an arm set by an angle finder on its plate [deg] (common practice, no source)
SADDLE_SEAT = 0.4  # seat of a cut saddle on a tube, scale and ovality [mm] (common practice, no source)
PRACTICE = "common practice, no source"


def place_error(sheet: Sheet, form: Form, shank: float, reach: float, overhang: float, span: float) -> PlaceError:
    """How far the dummy bolt may stand from its hardpoint, across the bolt.

    Worst case adds every contributor at its most, sideways and up each by itself; the likely one is
    the root of the sum of squares, as for contributors that know nothing of each other.

    Args:
        sheet: The build sheet; how holes are made and the room of slots.
        form: post or arm.
        shank: Of the joint's bolt [mm].
        reach: From the axle line to the hardpoint, for an arm [mm].
        overhang: From the nearer plate to the joint's middle where both plates stand on one side, else 0 [mm].
        span: Between the two plates [mm].
    """
    drilled = PLACE[sheet.process.angle_holes]
    how = "bored from coordinates" if sheet.process.angle_holes == "mill" else "drilled from a punched mark"
    loose = joint_limits(shank)[1] - shank
    # a bolt in two holes on one side of the joint tips in them
    tipped = loose / 2.0 * (1.0 + 2.0 * overhang / span) if overhang else loose / 2.0
    items = [
        ErrorItem(f"bolt holes of the plates, {how}", drilled, drilled, PRACTICE),
        ErrorItem("dummy bolt in its reamed holes", tipped, tipped, "table of fits, link-bolt"),
        ErrorItem("bracket on the dummy bolt", loose / 2.0, loose / 2.0, "table of fits, link-bolt"),
    ]
    items += _post(sheet, drilled, how) if form == "post" else _arm(reach)
    items.sort(key=lambda i: (-i.size, i.name))
    worst = math.hypot(sum(i.across for i in items), sum(i.up for i in items))
    return PlaceError(tuple(items), worst, math.sqrt(sum(i.size**2 for i in items)))


def _post(sheet: Sheet, drilled: float, how: str) -> list[ErrorItem]:
    return [
        ErrorItem("table hole from its place", GRID, 0.0, PRACTICE),
        ErrorItem("table pins, all bases pushed the same way", PIN_SPREAD, 0.0, PRACTICE),
        ErrorItem(f"pin holes of the base, {how}", drilled, 0.0, PRACTICE),
        ErrorItem(f"pin holes of the stand, {how}", drilled, 0.0, PRACTICE),
        ErrorItem("cheeks in the slots of the base", float(sheet.process.slot_room), 0.0, "process.slot_room"),
        ErrorItem("post off square after welding, shimmed to a square", LEAN, 0.0, PRACTICE),
        ErrorItem("height by tape, shimmed", 0.0, TAPE, PRACTICE),
        ErrorItem("axle line above the table by tape", 0.0, TAPE, PRACTICE),
    ]


def _arm(reach: float) -> list[ErrorItem]:
    turn = reach * math.radians(SADDLE_TURN)
    return [
        ErrorItem("arm turned on the tube, set by angle finder", turn, 0.0, PRACTICE),
        ErrorItem("seat of the saddle on the tube", SADDLE_SEAT, SADDLE_SEAT, PRACTICE),
    ]
