"""Jack pads under the tubes: a flat plate on two cheeks that saddle the tube from below."""

from __future__ import annotations

import math

from fixturegen.parts.holes import decimal
from fixturegen.parts.joinery import XY, XZ, filleted, locating_room, slot, tab
from fixturegen.plate import Loop, Part, Placement, Profile, Vertex, Weld
from fixturegen.plate.profile import rectangle
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.jack_pads import CHEEKS, HALF, LONG, JackPad
from fixturegen.studies.truss_records import TrussPlan
from fixturegen.truss.shared import ASSEMBLY, KIND, Drawn

TAB = 30.0  # of a cheek in its pad [mm]
TOP = 60.0  # clock angle from straight down to which a cheek goes up the tube [deg]
CAUTION = "for lifting the axle on a jack; nobody goes under it before it stands on stands"


def make_pads(sheet: Sheet, plan: TrussPlan) -> Drawn:
    """A flat pad on two cheeks under the tube, at each station of `truss.jack_pads`; all alike."""
    if not plan.pads:
        return Drawn()
    leg = 0.0 if sheet.truss is None else float(sheet.truss.leg)
    count = len(plan.pads)
    cheek, pad = _cheek(sheet, plan, 2 * count), _pad(sheet, plan, count)
    places, radius = [], sheet.tubes.outside_diameter / 2.0
    for one in plan.pads:
        places.append(Placement(pad.name, (0.0, one.station, one.low), XY, ASSEMBLY))
        for side in (-1.0, 1.0):
            y = one.station + side * CHEEKS / 2.0 - plan.thickness / 2.0
            places.append(Placement(cheek.name, (0.0, y, 0.0), XZ, ASSEMBLY))
    wrap = 2.0 * radius * math.radians(TOP)
    welds = (
        Weld((cheek.name, "axle tube"), leg, 2.0 * count * wrap, "outside of each cheek"),
        Weld((cheek.name, pad.name), leg, 2.0 * count * TAB, "over the tabs from below, ground flush"),
    )
    return Drawn((cheek, pad), tuple(places), welds)


def _cheek(sheet: Sheet, plan: TrussPlan, quantity: int) -> Part:
    one: JackPad = plan.pads[0]
    radius = sheet.tubes.outside_diameter / 2.0 + plan.gap
    x, z = radius * math.sin(math.radians(TOP)), -radius * math.cos(math.radians(TOP))
    foot, wide = one.low + plan.thickness, max(HALF, x + 6.0)
    # clockwise round the tube from its front to its rear side, the steel below
    saddle: Loop = (Vertex(x, z, -math.tan(math.radians(TOP) / 2.0)), Vertex(-x, z))
    outer = filleted(
        (
            tab(0.0, foot, 0.0, TAB, plan.thickness, float(sheet.process.kerf)),
            (HALF, foot, 0.0),
            (wide, z, 3.0),
            saddle,
            (-wide, z, 3.0),
            (-HALF, foot, 0.0),
        )
    )
    return Part(
        name="truss-jack-cheek",
        label="Cheek of a jack pad",
        kind=KIND,
        form="plate",
        thickness=plan.thickness,
        material=plan.material,
        profile=Profile(outer=outer),
        quantity=quantity,
        datum="on the axle line; x rearward, y up",
        notes=(f"saddles the tube {decimal(plan.gap)} off", CAUTION),
    )


def _pad(sheet: Sheet, plan: TrussPlan, quantity: int) -> Part:
    kerf, room = float(sheet.process.kerf), locating_room(sheet)
    slots = tuple(
        slot(0.0, s * CHEEKS / 2.0, 0.0, TAB, plan.thickness, kerf, locating=s < 0.0, room=room) for s in (-1.0, 1.0)
    )
    return Part(
        name="truss-jack-pad",
        label="Jack pad",
        kind=KIND,
        form="plate",
        thickness=plan.thickness,
        material=plan.material,
        profile=Profile(outer=rectangle(-HALF, -LONG / 2.0, HALF, LONG / 2.0), inner=slots),
        quantity=quantity,
        datum="middle of the pad; x forward, y left",
        notes=(CAUTION,),
    )
