"""Whether the jig finds room and holes on the fab table, and the studs reach through."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.threads import thread_diameter
from fixturegen.stock import Bolt, NotInTable, entry
from fixturegen.studies.jig_records import STAND_OFF, JigPlan

FOOT_EDGE = 30.0  # base plate beyond its outermost hole [mm] [cp]
WASHER = 1.65  # plain washer of a 3/8 or M10 bolt [mm] [cp]
NUT = 0.875  # height of a hex nut in diameters; ASME B18.2.2, 3/8: 21/64 in (from memory)
METRIC_NUTS = {8.0: 6.8, 10.0: 8.4, 12.0: 10.8, 14.0: 12.8, 16.0: 14.8}  # ISO 4032, from memory [mm]
THREADS_SHOWN = 1.0  # threads beyond a tight nut [cp]
PAD_BUTTON = 0.75 * 25.4  # the face plate of an integral's stand stands off by its pad buttons [mm]


@dataclass(frozen=True)
class Room:
    """Room along one edge of the table.

    Attributes:
        needed: Least table [mm] that takes the bases with every hole on a table hole.
        have: [mm].
        first: Which row of table holes, from 1, takes the jig's first row.
    """

    needed: float
    have: float
    first: int


def holes_of(plan: JigPlan) -> tuple[tuple[float, float], ...]:
    """Every table hole the jig uses, (x, y) in T [mm]."""
    feet = tuple(h for c in plan.cradles for h in c.holes)
    return (*plan.stand.pins, *plan.stand.bolts, *feet)


def off_grid(plan: JigPlan) -> float:
    """Largest distance of a jig hole from the table's grid, counted from the first pin [mm]."""
    x0, y0, pitch = plan.grid
    worst = 0.0
    for x, y in holes_of(plan):
        for d in (x - x0, y - y0):
            worst = max(worst, abs(d - round(d / pitch) * pitch))
    return worst


def room_of(
    sheet: Sheet,
    plan: JigPlan,
    holes_too: tuple[tuple[float, float], ...] = (),
    bases_too: tuple[tuple[float, float, float, float], ...] = (),
) -> tuple[Room, Room]:
    """Room along the table's length (the axle's direction) and its width.

    Args:
        sheet: The build sheet.
        plan: The jig.
        holes_too: Table holes (x, y) of what stands beside the jig [mm].
        bases_too: (x from, x to, y from, y to) of its bases [mm].
    """
    stand, table = plan.stand, sheet.table
    holes = (*holes_of(plan), *holes_too)
    ys = [*stand.base[2:]]
    xs = [plan.x(u) for u in stand.base[:2]]
    for cradle in plan.cradles:
        ys += [cradle.station - cradle.half_width, cradle.station + cradle.half_width]
        xs += [cradle.holes[0][0] + FOOT_EDGE, cradle.holes[1][0] - FOOT_EDGE]
    for x0, x1, y0, y1 in bases_too:
        xs += [x0, x1]
        ys += [y0, y1]
    pitch, edge = float(table.grid), float(table.edge)
    return (
        _room([y for _, y in holes], ys, pitch, edge, float(table.length)),
        _room([x for x, _ in holes], xs, pitch, edge, float(table.width)),
    )


def _room(holes: list[float], ends: list[float], pitch: float, edge: float, have: float) -> Room:
    before = min(holes) - min(ends)
    after = max(ends) - max(holes)
    first = max(0, math.ceil((before - edge) / pitch - 1e-9))
    needed = edge + first * pitch + max(holes) - min(holes) + max(after, edge)
    return Room(needed, have, first + 1)


def stud_needed(sheet: Sheet, plan: JigPlan) -> float:
    """Stud beyond the face for pad, face plate, washer, nut and a thread [mm].

    Source: ASME B18.2.2 nut height 7/8 of the diameter, ISO 4032 for metric ones (both from
    memory); one thread beyond the nut: common practice.
    """
    thread = sheet.housing.face.studs.size
    diameter = thread_diameter(thread)
    nut = NUT * diameter
    if thread.startswith("M"):
        nut = METRIC_NUTS.get(diameter, nut)
    return grip(plan) + WASHER + nut + THREADS_SHOWN * _pitch(thread, diameter)


def grip(plan: JigPlan) -> float:
    """From the machined face to the far side of the face plate [mm]."""
    off = STAND_OFF if plan.index.puck_station is not None else PAD_BUTTON
    return off + plan.stand_thickness


def _pitch(thread: str, diameter: float) -> float:
    try:
        return entry("bolts", thread.replace(" x ", "x"), Bolt).lead
    except NotInTable:
        return 0.15 * diameter
