"""Clock templates: a plate on the tube by two seats, levelled by two pins, with the place of a bracket's hole."""

from __future__ import annotations

import math
from dataclasses import replace

from fixturegen.errors import GeometryFault
from fixturegen.gauges.shared import (
    LEAD,
    ROD_FIT,
    GaugeContext,
    MadeGauge,
    plate_part,
    rod_row,
    screws,
    seat,
    set_hole,
    size_text,
    turned_part,
)
from fixturegen.parts.holes import INCH, decimal
from fixturegen.parts.joinery import XZ
from fixturegen.plate import Loop, Part, Placement, Profile, Turned, TurnedStep, Vertex
from fixturegen.plate.outlines import filleted
from fixturegen.studies.gauge_angles import LEVELS, POINT_HOLE, RODS_AT
from fixturegen.studies.gauge_records import Gauge

AIR = INCH / 8.0  # opening over the tube, on the radius [mm]
ROUND = 8.0  # corners [mm]
WALL = 0.45 * INCH  # steel round a hole [mm]
EDGE = 0.85 * INCH  # steel round the pointer's hole [mm]
BODY = 2.0 * INCH  # length of a seat [mm]
PINS = 0.75 * INCH  # level pins above the seats' holes [mm]
CONE = 30.0  # half angle of the pointer's cone [deg]
CONE_BASE, CONE_TIP = 0.5 * INCH, 0.06 * INCH
POINTER_UNDER = (-0.025, 0.0)
HEAD = 0.25 * INCH


def make_clock(context: GaugeContext, gauge: Gauge) -> MadeGauge:
    """Plate, two seats and the pointer that stands in the bracket for its bolt.

    Part frame: origin on the axle line, x rearward, y up, pinion level; marked face to the left.

    Raises:
        GeometryFault: When the hole lies under the tube or in the way of a seat.
    """
    s, rod = gauge.sizes, gauge.sizes["rod"]
    thick = context.plate(context.plan.stand_thickness)
    px, pz = -s["x"], s["z"]
    open_ = s["radius"] + AIR
    across = s["seat"] * math.sin(math.radians(RODS_AT))
    up = s["seat"] * math.cos(math.radians(RODS_AT))
    level = up + PINS + rod
    if abs(px) < open_ + POINT_HOLE and pz < open_ + POINT_HOLE:
        raise GeometryFault(gauge.name, "the hole lies under or in the opening for the tube", "tape the hole instead")
    if min(math.hypot(px - w * LEVELS / 2.0, pz - level) for w in (1, -1)) < rod + WALL:
        level += 2.0 * (rod + WALL)
    if min(math.hypot(px - w * across, pz - up) for w in (1, -1)) < rod + WALL:
        raise GeometryFault(gauge.name, "the hole lies where a seat must stand", "tape the hole instead")
    outer = _outline(px, pz, open_, max(LEVELS / 2.0, across) + rod / 2.0 + WALL, level + rod / 2.0 + WALL)
    size = rod + ROD_FIT
    holes = (
        set_hole(context, across, up, size, "rear seat", thick),
        set_hole(context, -across, up, size, "front seat", thick),
        set_hole(context, LEVELS / 2.0, level, size, "rear level pin", thick),
        set_hole(context, -LEVELS / 2.0, level, size, "front level pin", thick),
        set_hole(context, px, pz, POINT_HOLE, "pointer", thick),
    )
    words = (f"CLOCK {s['clock']:.1f} DEG", f"R {size_text(context, s['far'])}", "FACE TO THE LEFT")
    plate = plate_part(
        context,
        gauge,
        gauge.name,
        gauge.label,
        thick,
        Profile(outer, (), holes),
        "axle line; x rearward, y up, pinion level",
        words=words,
        notes=(
            "all five holes in one setting; the opening clears the tube and touches it nowhere",
            f"stands at station {s['station'] / INCH:.3f} in (left positive) when the cone is home",
        ),
    )
    seats = seat(gauge, f"{gauge.name}-seat", thick, BODY, False, rod)
    pointer = _pointer(gauge)
    return MadeGauge(
        (plate, seats, pointer),
        (
            screws(2, f"{gauge.label}, seats"),
            rod_row(rod, thick + 2.0 * INCH, 2, f"{gauge.label}, level pins"),
        ),
        (
            (gauge.name, "rear seat", "front seat", 2.0 * across),
            (gauge.name, "rear level pin", "front level pin", LEVELS),
        ),
        stands=(Placement(gauge.name, rotation=XZ),),
    )


def _outline(px: float, pz: float, open_: float, half: float, top: float) -> Loop:
    """An upside-down U over the tube, one leg long enough for the pointer's hole."""
    left, right = min(-half, px - EDGE), max(half, px + EDGE)
    top, foot = max(top, pz + EDGE), min(0.0, pz - EDGE)
    low_left, low_right = (foot, 0.0) if px < 0.0 else (0.0, foot)
    over = (Vertex(-open_, 0.0, -1.0), Vertex(open_, 0.0, 0.0))
    before = ((-open_, low_left, ROUND / 4.0),) if low_left < 0.0 else ()
    after = ((open_, low_right, ROUND / 4.0),) if low_right < 0.0 else ()
    legs = ((left, low_left, ROUND), *before, over, *after, (right, low_right, ROUND))
    return filleted(((right, top, ROUND), (left, top, ROUND), *legs))


def _pointer(gauge: Gauge) -> Part:
    """A dummy bolt through both ears, with a cone that finds the template's hole even where the bolt is askew."""
    s = gauge.sizes
    cone = (CONE_BASE - CONE_TIP) / 2.0 / math.tan(math.radians(CONE))
    # the cone stands in the hole by where it is as wide as the hole; its tip is that much beyond the near face
    beyond = (POINT_HOLE - CONE_TIP) / 2.0 / math.tan(math.radians(CONE))
    straight = s["pointer"] + beyond - cone
    steps = (
        TurnedStep(HEAD, s["shank"] + 0.5 * INCH, None, None, "head, against the inner ear"),
        TurnedStep(straight, s["shank"], None, POINTER_UNDER, "shank, through both ears"),
        TurnedStep(cone, CONE_BASE, CONE_TIP, None, "cone 60 deg, true with the shank within 0.001 in"),
    )
    if s["shank"] < CONE_BASE:
        thin = (s["shank"] - LEAD, s["shank"] - LEAD)
        cone = (thin[0] - CONE_TIP) / 2.0 / math.tan(math.radians(CONE))
        straight = s["pointer"] + beyond - cone
        steps = (steps[0], replace(steps[1], length=straight), replace(steps[2], length=cone, diameter=thin[0]))
    notes = (
        f"head to where the cone is {decimal(POINT_HOLE)} across: {decimal(s['pointer'])} +/-0.005",
        "for setting only: never a bolt that carries",
    )
    return turned_part(gauge, f"{gauge.name}-pointer", "pointer in place of the joint bolt", Turned(steps), notes, 2)
