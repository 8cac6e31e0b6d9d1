"""Pads of leaf springs: a plate with the hole of the centre bolt on two saddle legs."""

from __future__ import annotations

import math
from dataclasses import replace

from fixturegen.brackets.registry import BracketContext, MadeBracket
from fixturegen.brackets.seat_sets import MARGIN, SeatForm, demand, make_seat
from fixturegen.errors import GeometryFault
from fixturegen.parts.holes import INCH, decimal, hole
from fixturegen.parts.registry import Context
from fixturegen.plate import Purpose
from fixturegen.plate.outlines import filleted
from fixturegen.studies.bracket_records import FlatBase, Mount

CORNER = 6.0  # radius of a pad's corners [mm]
PIN_ROOM = INCH / 32.0  # over the head of the centre bolt, on the diameter [mm] (common practice, no source)
EDGE = 1.0  # steel beside the hole of the centre bolt, in its diameters [1] (common practice, no source)
NOTES = (
    "tack it at this angle, set the truck on its springs, read the pinion angle, and only then weld it out",
    "the head of the centre bolt sits in the hole and locates the axle: nothing else does; U-bolts only clamp",
)


def make_spring_pad(context: BracketContext, mount: Mount) -> MadeBracket:
    """A pad square to the spring at its seat: pinion angle and the spring's own slope are in it.

    Raises:
        GeometryFault: When a measure is missing or it cannot be drawn, naming what is in the way and by how much.
    """
    long = demand(mount, "length", "give length: the width of the spring where it is clamped")
    wide = demand(mount, "width", "give width: of the pad along the spring, 5 to 6 in are common")
    pin = demand(mount, "pin", "give pin: the head of the spring's centre bolt, measured")
    size = pin + PIN_ROOM
    beside = min(long, wide) / 2.0 - size / 2.0
    if beside < EDGE * size:
        words = (
            f"beside the hole of its centre bolt {beside:.1f} mm of the pad are left and {EDGE * size:.1f} mm must be"
        )
        raise GeometryFault(mount.label, words, "make the pad longer or wider, or measure pin again")
    x, y = long / 2.0, wide / 2.0
    outline = filleted(((-x, -y, CORNER), (x, -y, CORNER), (x, y, CORNER), (-x, y, CORNER)))
    centre = hole(
        0.0,
        0.0,
        size,
        Purpose.BOLT,
        "centre bolt",
        Context(context.sheet, context.axle, context.plan),
        thickness=mount.thickness,
        clearance=PIN_ROOM,
        note=f"the head measured {decimal(pin)}; clean and round: it holds the axle in place",
    )
    form = SeatForm(
        noun="Spring pad",
        outline=outline,
        half=lambda _: y,
        out=x - float(mount.spec.leg) - MARGIN,
        holes=(centre,),
        notes=(_angle_words(context, mount), *NOTES),
        rib=False,
    )
    made = make_seat(context, mount, form)
    if isinstance(mount.base, FlatBase):
        return made
    bolts = (
        "U-bolt",
        f"inside {decimal(2.0 * mount.base.radius)} over the tube, with plate and deep nuts as the spring's maker says",
        2,
        mount.label,
    )
    return replace(made, hardware=(bolts,))


def _angle_words(context: BracketContext, mount: Mount) -> str:
    """How the pad stands to the pinion, by which it is set on the bench."""
    x, _, z = mount.along
    turn = math.degrees(math.atan2(x, z) if z >= 0.0 else math.atan2(-x, -z))
    ahead = turn * (-1 if context.axle.front else 1)
    pinion = float(context.sheet.axle.pinion_angle)
    lean = "lower" if ahead >= 0.0 else "higher"
    return (
        f"stands {abs(turn):.1f} deg to the pinion axis, {lean} toward the nose's end: pinion angle {pinion:.1f} deg "
        f"and {abs(ahead - pinion):.1f} deg of the spring's own slope"
    )
