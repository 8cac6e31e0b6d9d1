"""Sizes in the words of the bench: the unit of the job first, the other one beside it."""

from __future__ import annotations

import math

from fixturegen.pages.paper import MM_PER_INCH
from fixturegen.parts.holes import SET, to_size
from fixturegen.plate import Hole
from fixturegen.plate.profile import Operation, Purpose
from fixturegen.units import as_inch

FINEST = 32  # of an inch: the finest a tape is read to, and steel is marked to
SAME = 0.0005  # [in] a fraction is the decimals in other words
NUDGE = 1e-9  # far below what is printed: a half that binary writes a hair low is rounded up all the same
PURPOSES = {
    Purpose.ANGLE: "sets an angle",
    Purpose.DOWEL: "dowel",
    Purpose.BORE: "bore",
    Purpose.BOLT: "bolt",
    Purpose.JOINT: "joint bolt",
    Purpose.TABLE: "table pin or bolt",
    Purpose.TAP: "tapped",
    Purpose.ACCESS: "access",
    Purpose.LIGHTENING: "lightening",
    Purpose.RELIEF: "relief",
}


def size(value: float, units: str, decimals: int = 3) -> str:
    """A size [mm] in the unit of the job, the other one in brackets."""
    if units == "mm":
        return f"{fixed(value, 2)} mm ({value / MM_PER_INCH:.{decimals}f} in)"
    return f"{value / MM_PER_INCH:.{decimals}f} in ({fixed(value, 2)} mm)"


def finished(hole: Hole, units: str) -> str:
    """The finished size of a hole; one that sets something is told as finely as its note tells it."""
    if hole.purpose not in SET:
        return size(hole.finished, units)
    bored = to_size(hole.finished, metric=units == "mm")
    return (
        f"{bored} ({hole.finished / MM_PER_INCH:.4f} in)"
        if units == "mm"
        else f"{bored} ({fixed(hole.finished, 2)} mm)"
    )


def fixed(value: float, decimals: int) -> str:
    """A number of mm with so many decimals; a half is rounded up: 3.175 is 3.18. Inches stay as the steel is marked."""
    return f"{value + math.copysign(NUDGE, value):.{decimals}f}"


def tape(value: float, units: str) -> str:
    """A length [mm] for the tape: nearest 1/32 in, as steel is marked, with decimals and mm; or mm first."""
    if units == "mm":
        return f"{fixed(value, 1)} mm ({value / MM_PER_INCH:.2f} in)"
    bare, exact = fraction(value), f"{value / MM_PER_INCH:.3f} in, "
    if abs(round(value / MM_PER_INCH * FINEST) / FINEST - value / MM_PER_INCH) < SAME:
        exact = ""
    return f"{bare} ({exact}{fixed(value, 1)} mm)"


def tape_both(wide: float, high: float, units: str) -> str:
    """Two lengths [mm] for the tape, as `tape` has one: "4 1/16 x 4 25/32 in (4.074 x 4.772 in, 103.5 x 121.2 mm)"."""
    if units == "mm":
        return f"{fixed(wide, 1)} x {fixed(high, 1)} mm ({wide / MM_PER_INCH:.2f} x {high / MM_PER_INCH:.2f} in)"
    both = f"{wide / MM_PER_INCH:.3f} x {high / MM_PER_INCH:.3f} in, {fixed(wide, 1)} x {fixed(high, 1)} mm"
    return f"{fraction(wide).removesuffix(' in')} x {fraction(high)} ({both})"


def fraction(value: float) -> str:
    """A length [mm] as inch and nearest fraction, whatever that leaves out."""
    return as_inch(value, FINEST).partition(" (")[0]


def at(x: float, y: float, units: str) -> str:
    """A place [mm] from the part's zero."""
    if units == "mm":
        return f"{x + 0.0:.1f}, {y + 0.0:.1f} mm"
    return f"{x / MM_PER_INCH + 0.0:.3f}, {y / MM_PER_INCH + 0.0:.3f} in"


def purpose(hole: Hole) -> str:
    """What a hole is for: its own name, and the kind of hole where the name does not say it."""
    kind = PURPOSES[hole.purpose]
    return f"{hole.label}: {kind}" if hole.label and hole.label != kind else kind


def made(hole: Hole, units: str) -> str:
    """How a hole is made: at the cutter, and at the drill afterwards."""
    if hole.operation is Operation.PILOT:
        first = "punch the centre" + ("" if hole.note else ", drill")
    elif hole.operation is Operation.UNDERCUT:
        first = f"cut {size(hole.cut or hole.finished, units)}" + ("" if hole.note else ", then drill")
    else:
        first = "cut to size"
    slot = f"; slot {size(hole.slot, units)} longer at {hole.slot_angle:g} deg" if hole.slot > 0.0 else ""
    return f"{first}{slot}" + (f"; {hole.note}" if hole.note else "")
