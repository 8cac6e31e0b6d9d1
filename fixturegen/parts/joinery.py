"""Rules shared by all makers: what is done for a hole, tabs and slots, and how parts stand in T.

A maker draws in the part frame; the three `stand_*` functions put it on the table (DEVELOPERS.md).
"""

from __future__ import annotations

import math

from fixturegen.parts.registry import Context
from fixturegen.plate import Hole, Loop, Placement, Purpose, Vertex
from fixturegen.plate.outlines import filleted
from fixturegen.plate.part import Matrix
from fixturegen.plate.profile import Operation, circle, rectangle, reversed_loop
from fixturegen.sheet.threads import thread_diameter
from fixturegen.units import as_inch

INCH = 25.4
LOOSE = INCH / 32.0  # room on each side of a tab that only helps to find the place [cp]
LOCATING = 0.2  # room on each side of the one tab of a joint that sets the place [mm] [cp]
TAB_SHORT = INCH / 64.0  # tabs end 0 to 1/32 in below the far face, so that a bead fits over them
TAB_CHAMFER = 1.5  # corners of a tab, so that it finds its slot [mm]
UNDER = INCH / 8.0  # a plasma edge is hard: cut this much under and bore it away [cp]
INSIDE_RADIUS = 3.0  # least radius of an inside corner of an outline [mm]
CLEAN_RATIO = 1.5  # hole over thickness from which a plasma hole may stay as cut [cp]
POSSIBLE_RATIO = 1.0  # below this ratio a hole is not worth piercing [cp]

# Limit deviations of a dimension over 10 to 35 mm, by plate thickness up to [mm]: class 1, class 2.
# Source: ISO 9013:2017, limit deviations for nominal dimensions.
DEVIATION = ((6.3, 0.25, 0.9), (10.0, 0.30, 1.1), (15.0, 0.35, 1.8), (math.inf, 0.45, 2.5))

XZ: Matrix = ((-1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0))
XY: Matrix = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


def decimal(value: float, places: int = 3) -> str:
    """A length as decimal inch text, as a mill or lathe hand reads it ("1.250 in"); value [mm]."""
    return f"{value / INCH:.{places}f} in"


def deviation(thickness: float, tolerance_class: int) -> float:
    """Limit deviation of a hole at the cutter [mm] for a plate thickness [mm].

    Source: ISO 9013:2017, limit deviations, nominal dimension over 10 to 35 mm.
    """
    row = next(r for r in DEVIATION if thickness <= r[0])
    return row[tolerance_class]


def hole(
    x: float,
    y: float,
    finished: float,
    purpose: Purpose,
    label: str,
    context: Context,
    *,
    thickness: float,
    clearance: float = INCH / 16.0,
    stack: str = "",
    note: str = "",
) -> Hole:
    """A hole with what is done at the cutter and at the drill, decided from what it is for.

    Holes that set an angle or a place are only marked. A clearance hole stays as cut when it is at
    least 1.5 times the thickness and its clearance takes up the class of the cutter; else it is cut
    1/8 in under and drilled out, or only marked when that would be smaller than the plate is thick.

    Args:
        x: Centre in the part frame [mm].
        y: Centre in the part frame [mm].
        finished: Finished diameter [mm].
        purpose: What it is for.
        label: What the drawing calls it.
        context: The job; its process decides.
        thickness: Measured thickness of the plate [mm].
        clearance: Room over what goes through a clearance hole, on the diameter [mm].
        stack: Parts it is drilled together with, in words.
        note: Words of its own, put after ours.
    """
    operation, cut = Operation.CUT, finished
    if purpose in (Purpose.ANGLE, Purpose.DOWEL, Purpose.BORE, Purpose.TAP):
        operation = Operation.PILOT
    elif purpose in (Purpose.BOLT, Purpose.TABLE):
        allowed = deviation(thickness, context.sheet.process.tolerance_class)
        if finished < CLEAN_RATIO * thickness or clearance < allowed:
            small = finished - UNDER < POSSIBLE_RATIO * thickness
            operation = Operation.PILOT if small else Operation.UNDERCUT
            cut = finished - UNDER
    words = [_drill_words(purpose, operation, finished, context, stack), note]
    return Hole(
        x=x,
        y=y,
        finished=finished,
        purpose=purpose,
        label=label,
        operation=operation,
        cut=None if operation is Operation.PILOT else cut,
        note="; ".join(w for w in words if w),
    )


def _drill_words(purpose: Purpose, operation: Operation, finished: float, context: Context, stack: str) -> str:
    size = decimal(finished)
    together = f" in one stack with {stack}" if stack else ""
    if purpose is Purpose.ANGLE:
        if context.sheet.process.angle_holes == "mill":
            return f"bore and ream {size} on the mill from coordinates{together}"
        return f"drill from the punched mark and ream {size}{together}"
    if purpose is Purpose.DOWEL:
        return f"drill{together or ' with its mate'} and ream {size}"
    if purpose is Purpose.BORE:
        return f"bore {size} on the mill{together}"
    if purpose is Purpose.TAP:
        return f"drill and tap{together}"
    if operation is Operation.UNDERCUT:
        return f"cut 1/8 in under, drill out to {size}"
    if operation is Operation.PILOT:
        return f"only marked: drill {size}"
    return ""


def relief_radius(kerf: float) -> float:
    """Radius of a corner relief [mm]: what the kerf can turn in and the other part clears."""
    return max(1.5, kerf / 2.0 + 0.1)


def tab(x: float, y: float, angle: float, length: float, mate: float, kerf: float) -> tuple[Vertex, ...]:
    """A tab as a piece of a counter-clockwise outline, to be put between two corners.

    The edge runs along `angle` with the steel on its left; the tab stands to the right. Its roots
    are relieved so that the edge seats, its corners are broken so that it enters.

    Args:
        x: Middle of the tab on the edge [mm].
        y: Middle of the tab on the edge [mm].
        angle: Direction of the edge [deg].
        length: Along the edge [mm].
        mate: Measured thickness of the plate it goes through [mm].
        kerf: Measured [mm].
    """
    r = relief_radius(kerf) * math.sqrt(2.0)
    high, c, h = mate - TAB_SHORT, TAB_CHAMFER, length / 2.0
    local = (
        (-h - r, 0.0, -1.0),
        (-h, -r, 0.0),
        (-h, -high + c, 0.0),
        (-h + c, -high, 0.0),
        (h - c, -high, 0.0),
        (h, -high + c, 0.0),
        (h, -r, -1.0),
        (h + r, 0.0, 0.0),
    )
    ca, sa = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    ca, sa = (round(v, 15) for v in (ca, sa))
    return tuple(Vertex(x + ca * u - sa * v, y + sa * u + ca * v, b) for u, v, b in local)


def slot(x: float, y: float, angle: float, length: float, mate: float, kerf: float, *, locating: bool) -> Loop:
    """The clockwise slot for a tab, its corners relieved.

    Args:
        x: Middle of the slot [mm].
        y: Middle of the slot [mm].
        angle: Direction of its long side [deg].
        length: Of the tab [mm].
        mate: Measured thickness of the plate whose tab enters [mm].
        kerf: Measured [mm].
        locating: Whether this is the one tab of the joint that sets the place.
    """
    room = LOCATING if locating else LOOSE
    half, high = length / 2.0 + room, mate / 2.0 + room
    r = relief_radius(kerf) * math.sqrt(2.0)
    local = (
        (-half + r, -high, 0.0),
        (half - r, -high, 1.0),
        (half, -high + r, 0.0),
        (half, high - r, 1.0),
        (half - r, high, 0.0),
        (-half + r, high, 1.0),
        (-half, high - r, 0.0),
        (-half, -high + r, 1.0),
    )
    ca, sa = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    ca, sa = (round(v, 15) for v in (ca, sa))
    return reversed_loop(tuple(Vertex(x + ca * u - sa * v, y + sa * u + ca * v, b) for u, v, b in local))


def stadium(x: float, y: float, angle: float, travel: float, diameter: float) -> Loop:
    """The clockwise slotted hole: `diameter` wide, free by `travel` [mm] along `angle` [deg]."""
    r, h = diameter / 2.0, travel / 2.0
    local = ((-h, -r, 0.0), (h, -r, 1.0), (h, r, 0.0), (-h, r, 1.0))
    ca, sa = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    ca, sa = (round(v, 15) for v in (ca, sa))
    return reversed_loop(tuple(Vertex(x + ca * u - sa * v, y + sa * u + ca * v, b) for u, v, b in local))


def stand_xz(part: str, station: float, thickness: float, height: float, group: str, x: float = 0.0) -> Placement:
    """A plate across the axle, marked face to the vehicle's left.

    Part x is rearward (-X of T), part y is Z - height.

    Args:
        part: Name of the part.
        station: Y of its middle plane [mm].
        thickness: Measured [mm].
        height: Z in T of the part's origin [mm].
        group: Group of the assembly.
        x: X in T of the part's origin [mm].
    """
    return Placement(part, (x, station - thickness / 2.0, height), XZ, group)


def stand_yz(part: str, sign: int, far: float, middle: float, height: float, group: str) -> Placement:
    """A plate along the axle, marked face to the axle.

    Part x is -sign * (Y - middle), part y is Z - height.

    Args:
        part: Name of the part.
        sign: face_sign of the plan.
        far: u of the face away from the axle [mm].
        middle: Y of the part's origin [mm].
        height: Z in T of the part's origin [mm].
        group: Group of the assembly.
    """
    s = float(sign)
    rotation: Matrix = ((0.0, 0.0, -s), (-s, 0.0, 0.0), (0.0, 1.0, 0.0))
    return Placement(part, (s * far, middle, height), rotation, group)


def stand_xy(part: str, x: float, y: float, z: float, group: str) -> Placement:
    """A flat-lying plate, marked face up; its origin stands at (x, y, z) [mm] of T."""
    return Placement(part, (x, y, z), XY, group)


def bolt_clearance(diameter: float) -> float:
    """Clearance hole of a bolt where it may float: 1/16 in over [mm]."""
    return diameter + INCH / 16.0


def fraction(value: float) -> str:
    """A length as inch and fraction for labels and hardware lists; value [mm]."""
    return as_inch(value, 64).split(" (")[0]


__all__ = [
    "CLEAN_RATIO",
    "DEVIATION",
    "INCH",
    "INSIDE_RADIUS",
    "LOCATING",
    "LOOSE",
    "TAB_CHAMFER",
    "TAB_SHORT",
    "UNDER",
    "XY",
    "XZ",
    "bolt_clearance",
    "circle",
    "decimal",
    "deviation",
    "filleted",
    "fraction",
    "hole",
    "rectangle",
    "relief_radius",
    "reversed_loop",
    "slot",
    "stadium",
    "stand_xy",
    "stand_xz",
    "stand_yz",
    "tab",
    "thread_diameter",
]
