"""Rules shared by all makers: tabs and slots, and how parts stand in T; holes come from `holes`.

A maker draws in the part frame; the three `stand_*` functions put it on the table (DEVELOPERS.md).
"""

from __future__ import annotations

import math

from fixturegen.parts.holes import INCH, bolt_hole, cutter_does, decimal, drawn, fraction, hole, joint_hole
from fixturegen.plate import Loop, Placement, Vertex
from fixturegen.plate.outlines import filleted
from fixturegen.plate.part import Matrix
from fixturegen.plate.profile import circle, rectangle, reversed_loop
from fixturegen.sheet.specs import Process, Sheet
from fixturegen.sheet.threads import thread_diameter
from fixturegen.stock import Fit, entry
from fixturegen.units import Length, take

TAB_SHORT = INCH / 64.0  # tabs end 0 to 1/32 in below the far face, so that a bead fits over them
TAB_CHAMFER = 1.5  # corners of a tab, so that it finds its slot [mm]
INSIDE_RADIUS = 3.0  # least radius of an inside corner of an outline [mm]
XZ: Matrix = ((-1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0))
XY: Matrix = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


def locating_room(sheet: Sheet) -> float:
    """Room on each side of the one tab of a joint that sets the place [mm]: `process.slot_room`."""
    return float(sheet.process.slot_room)


def loose_room() -> float:
    """Room on each side of a tab that only helps to find the place [mm], by the table of fits."""
    return float(entry("fits", "slot-loose", Fit).largest) / 2.0


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


def slot(
    x: float,
    y: float,
    angle: float,
    length: float,
    mate: float,
    kerf: float,
    *,
    locating: bool,
    room: float | None = None,
) -> Loop:
    """The clockwise slot for a tab, its corners relieved.

    Args:
        x: Middle of the slot [mm].
        y: Middle of the slot [mm].
        angle: Direction of its long side [deg].
        length: Of the tab [mm].
        mate: Measured thickness of the plate whose tab enters [mm].
        kerf: Measured [mm].
        locating: Whether this is the one tab of the joint that sets the place.
        room: On each side of the locating tab, `locating_room` of the sheet [mm]; the key's default when
            not given. A loose tab has what the table of fits gives it.
    """
    if not locating:
        room = loose_room()
    elif room is None:
        room = float(take(Process.model_fields["slot_room"].default, Length()))
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


__all__ = [
    "INCH",
    "INSIDE_RADIUS",
    "TAB_CHAMFER",
    "TAB_SHORT",
    "XY",
    "XZ",
    "bolt_clearance",
    "bolt_hole",
    "circle",
    "cutter_does",
    "decimal",
    "drawn",
    "filleted",
    "fraction",
    "hole",
    "joint_hole",
    "locating_room",
    "loose_room",
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
