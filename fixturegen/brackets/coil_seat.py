"""Seats of coil springs: a round plate on saddle legs, a ring that centres the coil, drains inside it."""

from __future__ import annotations

import math
from dataclasses import replace

from fixturegen.brackets.registry import BracketContext, MadeBracket
from fixturegen.brackets.seat_sets import SeatForm, Ways, demand, make_seat, ways_of
from fixturegen.errors import GeometryFault
from fixturegen.parts.holes import INCH, bolt_hole, decimal, hole
from fixturegen.parts.registry import Context
from fixturegen.plate import Hole, Part, Placement, Profile, Purpose, Weld
from fixturegen.plate.profile import circle, reversed_loop
from fixturegen.studies.bracket_records import Mount

LIP = INCH / 4.0  # the seat stands out beyond the coil [mm] (common practice, no source)
RING_ROOM = INCH / 16.0  # between ring and coil, on the diameter [mm] (common practice, no source)
RING = INCH / 2.0  # width of the ring [mm] (common practice, no source)
LEAST_INSIDE = 1.25 * INCH  # within the ring: torch and drains [mm] (common practice, no source)
DRAIN = INCH / 2.0  # diameter of a drain [mm] (common practice, no source)
WEB = 5.0  # between a drain and ring or bolt [mm]
UNDER = 0.75  # outer faces of the legs, in radii of the coil's middle line [1]: the coil bears over them
NOTES = (
    "the coil's ground end bears on it; for an end that is not ground weld a stop where the wire ends",
    "axis of the coil within 5 deg of square to both seats over the travel (common practice, no source)",
)


def make_coil_seat(context: BracketContext, mount: Mount) -> MadeBracket:
    """A seat square to the coil's axis, with its ring.

    Raises:
        GeometryFault: When a measure is missing or it cannot be drawn, naming what is in the way and by how much.
    """
    inside = demand(mount, "coil_inside", "give coil_inside: the inside of the coil's end, by caliper")
    outside = demand(mount, "coil_outside", "give coil_outside: the outside of the coil's end, by caliper")
    ring = inside - RING_ROOM
    if not (outside > inside and ring - 2.0 * RING >= LEAST_INSIDE):
        words = (
            f"a coil of {decimal(inside)} inside and {decimal(outside)} outside leaves no ring of {decimal(RING)} "
            f"with {decimal(LEAST_INSIDE)} within"
        )
        raise GeometryFault(mount.label, words, "measure both across the coil's end, on the diameter")
    size = outside + 2.0 * LIP if mount.spec.length is None else float(mount.spec.length)
    if size < outside:
        words = f"a seat of {decimal(size)} is smaller than the coil of {decimal(outside)} on it"
        raise GeometryFault(mount.label, words, "make length larger, or leave it out")
    radius, out = size / 2.0, UNDER * (inside + outside) / 4.0
    form = SeatForm(
        noun="Coil seat",
        outline=circle(0.0, 0.0, size),
        half=lambda x: math.sqrt(max(0.0, radius**2 - x**2)),
        out=out,
        holes=_holes(context, mount, ring - 2.0 * RING),
        notes=NOTES,
        rib=not mount.spec.retainer,
    )
    made = make_seat(context, mount, form)
    part, place, weld = _ring(context, mount, ways_of(mount), ring, made.parts[0].name)
    hardware: tuple[tuple[str, str, int, str], ...] = ()
    if mount.spec.retainer:
        plate = f"with a plate or washer over the coil's end turn, more than {decimal(inside)} across"
        hardware = ((f"bolt and lock nut {mount.spec.retainer}", plate, 1, mount.label),)
    return replace(
        made,
        parts=(*made.parts, part),
        placements=(*made.placements, place),
        welds=(*made.welds, weld),
        hardware=hardware,
        facts=replace(made.facts, parts=(*made.facts.parts, part.name)),
    )


def _holes(context: BracketContext, mount: Mount, within: float) -> tuple[Hole, ...]:
    """Two drains within the ring, one fore and one aft, and the bolt's hole where there is a retainer."""
    jig = Context(context.sheet, context.axle, context.plan)
    far = within / 2.0 - DRAIN / 2.0 - WEB
    found = [
        hole(0.0, y, DRAIN, Purpose.ACCESS, f"drain {n}", jig, thickness=mount.thickness)
        for n, y in enumerate((-far, far), 1)
    ]
    if mount.spec.retainer:
        label = "coil retainer"
        bolt = bolt_hole(0.0, 0.0, mount.spec.retainer, label, jig, thickness=mount.thickness)
        room = far - DRAIN / 2.0 - bolt.finished / 2.0
        if room < WEB:
            words = f"between its retainer's hole and a drain {max(0.0, room):.1f} mm are left and {WEB:.0f} mm must be"
            raise GeometryFault(mount.label, words, "take a smaller bolt")
        found.append(bolt)
    return tuple(found)


def _ring(context: BracketContext, mount: Mount, ways: Ways, outer: float, seat: str) -> tuple[Part, Placement, Weld]:
    inner = outer - 2.0 * RING
    part = context.plate(
        mount,
        name=f"{mount.name}-ring",
        label=f"Ring that centres the coil, {mount.label}",
        thickness=mount.thickness,
        profile=Profile(outer=circle(0.0, 0.0, outer), inner=(reversed_loop(circle(0.0, 0.0, inner)),)),
        datum="middle of the ring; marked face up",
        notes=(
            f"in the middle of the seat, {decimal(RING_ROOM)} smaller than the coil; break its upper edge by 1/16 in",
            "welded inside only, so that the coil slips over it",
        ),
    )
    place = ways.on_face(mount).placement(part.name, mount.name)
    weld = Weld(
        (part.name, seat),
        0.75 * mount.thickness,
        0.75 * math.pi * inner,
        "inside, in three runs between the drains; none outside",
    )
    return part, place, weld
