"""Side plates of a truss, and the one plate of a back brace: lower edge cut to the axle, tabs into the top."""

from __future__ import annotations

import math
from itertools import pairwise

from fixturegen.parts.holes import decimal
from fixturegen.parts.joinery import filleted, locating_room, slot, tab
from fixturegen.plate import Hole, Loop, Part, Placement, Profile, Purpose, Weld
from fixturegen.plate.outlines import mirrored
from fixturegen.plate.part import Matrix
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.truss_records import SidePlate, TrussPlan
from fixturegen.studies.truss_ribs import LIFT, VENT
from fixturegen.truss.shared import (
    ASSEMBLY,
    FRONT,
    KIND,
    REAR,
    TAB,
    Drawn,
    loop_of,
    rib_tab,
    span_beside_middle,
    top_tabs,
)

END_ROUND = 4.0  # of the upper corner at an end [mm]


def make_side_plates(sheet: Sheet, plan: TrussPlan) -> Drawn:
    """Front and rear plate, marked face outward; or the brace, marked face up."""
    parts = tuple(_part(sheet, plan, p) for p in plan.plates)
    places = tuple(_placement(p) for p in plan.plates)
    welds = []
    for run in plan.welds:
        words = {"tube-left": "left axle tube", "tube-right": "right axle tube", "housing": "centre section"}
        if run.onto == "top":
            continue
        sides = "from outside" if run.sides == 1 else "both sides"
        low, high = run.stations
        where = f"{sides}, {span_beside_middle(low, high)}"
        welds.append(Weld((run.part, words[run.onto]), run.leg, run.sides * run.length, where))
    welds += [
        Weld((w.part, "truss top"), w.leg, w.length, "from outside under its lip, and over the tabs")
        for w in plan.welds
        if w.onto == "top" and plan.runs
    ]
    return Drawn(parts, places, tuple(welds))


def _placement(plate: SidePlate) -> Placement:
    if plate.lies:
        # heights along X: part x to the left for a plate ahead, to the right for one behind, marked face up
        s = float(plate.lies)
        turn: Matrix = ((0.0, s, 0.0), (-s, 0.0, 0.0), (0.0, 0.0, 1.0))
        return Placement(plate.name, (0.0, 0.0, plate.x[0]), turn, ASSEMBLY)
    if plate.way > 0:
        return Placement(plate.name, (plate.x[0], 0.0, 0.0), FRONT, ASSEMBLY)
    return Placement(plate.name, (plate.x[1], 0.0, 0.0), REAR, ASSEMBLY)


def _turned(plate: SidePlate) -> bool:
    """Whether the part frame sees the axle from the other side: its x runs to the right."""
    return plate.way < 0 if not plate.lies else plate.lies > 0


def _lies(plate: SidePlate) -> str:
    """Which way the part frame looks on the vehicle, in words."""
    across = f"x to the vehicle's {'right' if _turned(plate) else 'left'}"
    if plate.lies:
        return f"{across}, y {'forward' if plate.lies > 0 else 'rearward'}, marked face up"
    return f"{across}, y up, marked face {'forward' if plate.way > 0 else 'rearward'}"


def _part(sheet: Sheet, plan: TrussPlan, plate: SidePlate) -> Part:
    outer = _outline(sheet, plan, plate)
    inner, holes = _openings(sheet, plan, plate)
    if _turned(plate):
        outer, inner = mirrored(outer), tuple(mirrored(i) for i in inner)
        holes = tuple(Hole(-h.x, h.y, h.finished, h.purpose, h.label, h.operation, h.cut, h.note) for h in holes)
    over = (
        "stands over the centre section with air, no weld on it" if plan.bridged else "is welded to the centre section"
    )
    return Part(
        name=plate.name,
        label=plate.label,
        kind=KIND,
        form="plate",
        thickness=plate.thickness,
        material=plan.material,
        profile=Profile(outer=outer, inner=inner, holes=holes),
        datum=f"middle of the axle, on the axle line; {_lies(plate)}",
        notes=(
            f"lower edge {decimal(plan.gap)} off tubes{'' if plan.bridged else ' and housing'}; it {over}",
            "half rounds in the lower edge are drains: leave them open, no weld across",
            "grind the cut edge bright where it is welded",
        ),
    )


def _outline(sheet: Sheet, plan: TrussPlan, plate: SidePlate) -> Loop:
    """Outline in (station, height) counter-clockwise, tabs on its upper edge."""
    kerf = float(sheet.process.kerf)
    upper = plate.upper
    items: list[Loop | tuple[float, float, float]] = [loop_of(plate.lower)]
    round_ = max(END_ROUND, plan.bend_radius + 1.0)
    corners = list(reversed(upper))
    items.append((*corners[0], END_ROUND))
    for k, (a, b) in enumerate(pairwise(corners)):
        if plan.runs:
            run = plan.runs[-1 - k]
            angle = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))
            for y in reversed(top_tabs(run)):
                items.append(tab(y, run.underside(y), angle, TAB, run.thickness, kerf))
        last = k == len(corners) - 2
        items.append((*b, END_ROUND if last else round_ if plan.bend_radius else 0.0))
    return filleted(tuple(items))


def _openings(sheet: Sheet, plan: TrussPlan, plate: SidePlate) -> tuple[tuple[Loop, ...], tuple[Hole, ...]]:
    """Slots for the ribs, and round openings."""
    kerf, room = float(sheet.process.kerf), locating_room(sheet)
    slots = []
    for rib in plan.ribs:
        z, long = rib_tab(rib)
        slots.append(slot(rib.station, z, 90.0, long, plan.thickness, kerf, locating=True, room=room))
    holes = []
    for ring in plate.openings:
        x, y = (ring[0].x + ring[1].x) / 2.0, ring[0].y
        size = ring[1].x - ring[0].x
        purpose = Purpose.LIGHTENING if size > 30.0 else Purpose.ACCESS
        holes.append(Hole(x, y, size, purpose, _called(size), cut=size))
    return tuple(slots), tuple(holes)


def _called(size: float) -> str:
    return "lift" if abs(size - LIFT) < 1e-6 else "vent" if abs(size - VENT) < 1e-6 else "lightening"
