"""Seats and pads: a plate on two legs that stand across what they are welded to, or flat on a rail.

The seat's face passes through the point of the sheet and looks along the spring or stop. Lines on its
underside show where the legs stand: a slot through it would leave a bead where the spring bears.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.brackets.ears import Blank, base_edge, seams
from fixturegen.brackets.frames import Stand
from fixturegen.brackets.rails import demand_rail_room
from fixturegen.brackets.registry import BracketContext, MadeBracket
from fixturegen.brackets.tab_sets import open_root
from fixturegen.errors import GeometryFault
from fixturegen.parts.holes import INCH, decimal
from fixturegen.plate import Loop, Mark, Part, Profile, Weld
from fixturegen.plate.outlines import filleted
from fixturegen.plate.profile import Hole, polyline
from fixturegen.plate.saddles import Base
from fixturegen.plate.tab_outlines import FOOT, EdgeRules, TabHole, tab_outline
from fixturegen.studies.bracket_records import BracketFacts, FlatBase, Mount, Seam

LEAST_WEB = FOOT  # steel between a seat and the tube under it [mm] (common practice, no source)
CORNER = 8.0  # radius of a leg's upper corners [mm]; less where it is low
MARGIN = 3.0  # a seat stands out so far beyond the beads of its legs [mm] (common practice, no source)
LEANS = 30.0  # most a seat leans along its tube [deg]: beyond it the legs' edges grow long (common practice)
FLUSH = 1.0  # a seat that would stand so near to a rail lies on it [mm]
SQUARE = math.cos(math.radians(0.5))  # [1] such a seat is parallel to the rail
RIB_FROM = INCH  # legs that are higher are kept from racking by a rib between them [mm] (common practice, no source)
LEAST_RUN = 4.0  # legs a run of weld is long at least [1]; source: AISC 360 J2.2b (from memory)
STEP = 2.0  # places along a leg's top that are looked at [mm]
CHORD = 4.0  # of a round seat's outline when its bead is told in straight pieces [mm]


@dataclass(frozen=True)
class SeatForm:
    """What differs from kind to kind.

    Attributes:
        noun: What the plate is called: "Coil seat".
        outline: Of the plate, about its middle: x along the axle to the left, y forward [mm].
        half: Half its width at a distance along the axle from its middle [mm].
        out: From its middle to the outer face of a leg [mm].
        holes: Of the plate.
        notes: What the maker of it must know.
        rib: Whether a rib may stand under its middle.
    """

    noun: str
    outline: Loop
    half: Callable[[float], float]
    out: float
    holes: tuple[Hole, ...] = ()
    notes: tuple[str, ...] = ()
    rib: bool = True


@dataclass(frozen=True)
class Ways:
    """Unit directions of a seat in A, shape (3,) each: out of its face, along the axle to the left, forward."""

    up: Array
    left: Array
    forward: Array

    def underside(self, mount: Mount) -> Stand:
        """Stand of the seat plate: marked face to what it is welded to."""
        top = np.array(mount.point)
        return Stand(top, np.stack([self.left, self.forward, -self.up], axis=1))

    def on_face(self, mount: Mount) -> Stand:
        """Stand of a plate that lies on the seat, marked face up."""
        return Stand(np.array(mount.point), np.stack([-self.left, self.forward, self.up], axis=1))

    def across(self, mount: Mount, offset: float) -> Stand:
        """Stand of a plate across the axle, its face z = 0 so far to the left of the seat's middle [mm]."""
        origin = np.array(mount.point) + offset * self.left
        return Stand(origin, np.stack([np.cross(self.up, self.left), self.up, self.left], axis=1))

    def between(self, mount: Mount) -> Stand:
        """Stand of a rib along the axle under the seat's middle, its own middle there."""
        origin = np.array(mount.point) - mount.thickness / 2.0 * self.forward
        return Stand(origin, np.stack([self.left, self.up, self.forward], axis=1))


@dataclass(frozen=True)
class _Leg:
    made: Blank
    name: str
    face: float
    top: float


def ways_of(mount: Mount) -> Ways:
    """The directions of a seat.

    Raises:
        GeometryFault: When it looks toward what it is welded to, or leans too far along it.
    """
    up, base = np.array(mount.along), mount.base
    off = np.array(mount.point) - np.array(base.point)
    if isinstance(base, FlatBase):
        left, stands = np.array(mount.bolt), float(up @ np.array(base.normal))
    else:
        along = np.array(base.along)
        lean = math.degrees(math.asin(min(1.0, abs(float(up @ along)))))
        if lean > LEANS:
            words = f"its seat would lean {lean:.0f} deg along the {base.words}, and legs take {LEANS:.0f} deg"
            raise GeometryFault(mount.label, words, "check both ends of what it holds, or stand it on a plate")
        left = along - (along @ up) * up
        left = left / np.linalg.norm(left) * (1.0 if left @ np.array(mount.bolt) >= 0.0 else -1.0)
        stands = float((off - (off @ along) * along) @ up)
    if stands <= 0.0:
        words = f"its seat would look toward the {base.words} it is welded to"
        raise GeometryFault(mount.label, words, "check its point, what it holds, and the surface it stands on")
    return Ways(up, left, np.cross(left, up))


def make_seat(context: BracketContext, mount: Mount, form: SeatForm) -> MadeBracket:
    """A seat plate with its legs, and a rib between them where they are high.

    Raises:
        GeometryFault: When it cannot be drawn, naming what is in the way and by how much.
    """
    ways = ways_of(mount)
    if _lies_flat(mount, ways):
        return _flat(context, mount, form, ways)
    legs = _legs(mount, form, ways)
    plate = _plate(context, mount, form, _lines(mount, form, legs))
    parts, seat = [plate], plate.name
    placements = [ways.underside(mount).placement(seat, mount.name)]
    bead = float(mount.spec.leg)
    welds: list[Weld] = []
    found: list[Seam] = []
    for leg in legs:
        if leg.name not in {p.name for p in parts}:
            count = sum(other.name == leg.name for other in legs)
            parts.append(_leg_part(context, mount, form, leg, count))
        placements.append(leg.made.stand.placement(leg.name, mount.name))
        welds.append(Weld((leg.name, seat), bead, 2.0 * leg.top, "both sides, before it goes on the axle"))
        words = (
            f"outside edge on the {mount.base.words}, turned round both feet, and inside as far as the torch reaches; "
            f"root gap {decimal(float(mount.spec.gap))}, never over 1/16 in"
        )
        welds.append(Weld((leg.name, mount.base.words), bead, leg.made.base.length, words))
        found += seams(mount, leg.made, leg.name, leg.face)
    demand_rail_room(context, mount, found)
    rib = _rib(context, mount, form, ways) if form.rib else None
    if rib is not None:
        part, stand, length, beads = rib
        parts.append(part)
        placements.append(stand.placement(part.name, mount.name))
        leg_bead = 0.75 * mount.thickness
        welds.append(Weld((part.name, seat), leg_bead, 2.0 * length, "both sides, with the legs, before the axle"))
        welds.append(Weld((part.name, mount.base.words), leg_bead, 2.0 * length, "both sides, from the open ends"))
        found += beads
    facts = BracketFacts(mount, tuple(p.name for p in parts), tuple(found), ())
    return MadeBracket(tuple(parts), tuple(placements), tuple(welds), (), facts)


def _lies_flat(mount: Mount, ways: Ways) -> bool:
    base = mount.base
    if not isinstance(base, FlatBase) or float(ways.up @ np.array(base.normal)) < SQUARE:
        return False
    high = float((np.array(mount.point) - np.array(base.point)) @ np.array(base.normal))
    return abs(high - mount.thickness) <= FLUSH


def _flat(context: BracketContext, mount: Mount, form: SeatForm, ways: Ways) -> MadeBracket:
    """The seat welded flat on a rail, all round but for a drain."""
    plate = _plate(context, mount, form, ())
    stand, bead = ways.underside(mount), float(mount.spec.leg)
    points = polyline(form.outline, CHORD)
    ring = [
        Seam(plate.name, stand.outward(*a, mount.thickness), stand.outward(*b, mount.thickness), bead)
        for a, b in zip(points, (*points[1:], points[0]), strict=True)
    ]
    demand_rail_room(context, mount, ring)
    long = sum(math.dist(s.begin, s.end) for s in ring)
    words = "round its edge in short runs; leave half an inch open at the lowest place, so that no water stays"
    return MadeBracket(
        parts=(plate,),
        placements=(stand.placement(plate.name, mount.name),),
        welds=(Weld((plate.name, mount.base.words), bead, long, words),),
        hardware=(),
        facts=BracketFacts(mount, (plate.name,), tuple(ring), ()),
    )


def _legs(mount: Mount, form: SeatForm, ways: Ways) -> list[_Leg]:
    """Right and left leg as drawn; alike where the seat stands square to its tube."""
    thick = mount.thickness
    made = []
    for word, offset, face in (("right", -form.out, 0.0), ("left", form.out - thick, thick)):
        stand = ways.across(mount, offset)
        top = form.half(form.out) - float(mount.spec.leg) - MARGIN
        try:
            base = base_edge(mount, stand, top + _leaned(mount, ways))
            web = _demand_web(mount, base, top)
            blank = _leg_blank(mount, stand, base, top, web)
        except GeometryFault:
            raise
        except ValueError as fault:
            words = f"its legs cannot be drawn: {fault}"
            raise GeometryFault(mount.label, words, "check its point and size, or change wrap") from fault
        made.append(_Leg(blank, f"{mount.name}-leg-{word}", face, 2.0 * (top - min(CORNER, web / 2.0))))
    if made[0].made.profile == made[1].made.profile:
        made = [_Leg(leg.made, f"{mount.name}-leg", leg.face, leg.top) for leg in made]
    return made


def _leaned(mount: Mount, ways: Ways) -> float:
    """What the feet of a seat that leans over a flat face reach out more on each side, to stay under its edges [mm]."""
    if not isinstance(mount.base, FlatBase):
        return 0.0
    normal = np.array(mount.base.normal)
    cosine = min(1.0, float(ways.up @ normal))
    high = float((np.array(mount.point) - np.array(mount.base.point)) @ normal)
    return high * math.sqrt(1.0 - cosine**2) / cosine


def _demand_web(mount: Mount, base: Base, top: float) -> float:
    """Least steel between the seat and the welded edge [mm].

    Raises:
        GeometryFault: When it is too little.
    """
    count = max(2, math.ceil(2.0 * top / STEP))
    low = -mount.thickness
    web = min(base.shadow.clearance(-top + 2.0 * top * k / count, low) for k in range(count + 1))
    if web < LEAST_WEB:
        words = (
            f"under its plate {max(0.0, web):.1f} mm are left to the {mount.base.words} and its legs need "
            f"{LEAST_WEB:.1f} mm"
        )
        raise GeometryFault(mount.label, words, f"move its point {LEAST_WEB - web:.1f} mm away from it")
    return web


def _leg_blank(mount: Mount, stand: Stand, base: Base, top: float, web: float) -> Blank:
    r = min(CORNER, web / 2.0)
    rules = EdgeRules(r, r, r)
    corners = [TabHole(x, -mount.thickness - r, rules, "the seat's corner") for x in (-(top - r), top - r)]
    return Blank(Profile(outer=tab_outline(corners, base)), base, stand, rules)


def _leg_part(context: BracketContext, mount: Mount, form: SeatForm, leg: _Leg, count: int) -> Part:
    alike = ("both legs are alike, marked faces the same way: to the vehicle's left",) if count == 2 else ()
    return context.plate(
        mount,
        name=leg.name,
        label=f"Leg of the {form.noun.lower()}, {mount.label}",
        thickness=mount.thickness,
        profile=leg.made.profile,
        quantity=count,
        datum="in the middle of the seat's face; marked face to the vehicle's left, y out of the seat",
        notes=(
            f"sits on the {mount.base.words} with {decimal(float(mount.spec.gap))} at the root",
            *open_root(mount, leg.made.base),
            *alike,
        ),
    )


def _plate(context: BracketContext, mount: Mount, form: SeatForm, lines: tuple[Mark, ...]) -> Part:
    over = height_words(mount)
    return context.plate(
        mount,
        name=f"{mount.name}-seat",
        label=f"{form.noun}, {mount.label}",
        thickness=mount.thickness,
        profile=Profile(outer=form.outline, holes=form.holes),
        marks=lines,
        datum=f"middle of the plate; marked face to the {mount.base.words}, x to the left, y forward",
        notes=(over, *(("legs stand outside the two lines",) if lines else ()), *form.notes),
    )


def height_words(mount: Mount) -> str:
    """How far the seat's face stands off what it is welded to, as a tape reads it."""
    off = np.array(mount.point) - np.array(mount.base.point)
    if isinstance(mount.base, FlatBase):
        high = float(off @ np.array(mount.base.normal))
        return f"its face stands {decimal(high)} off the {mount.base.words}, at its middle"
    along = np.array(mount.base.along)
    high = float(np.linalg.norm(off - (off @ along) * along)) - mount.base.radius
    return f"the middle of its face stands {decimal(high)} off the {mount.base.words}"


def _lines(mount: Mount, form: SeatForm, legs: list[_Leg]) -> tuple[Mark, ...]:
    """Lines on the underside along the inner faces of both legs."""
    x, y = form.out - mount.thickness, legs[0].top / 2.0
    return tuple(Mark(side * x, -y, to=(side * x, y)) for side in (-1.0, 1.0))


def _rib(
    context: BracketContext, mount: Mount, form: SeatForm, ways: Ways
) -> tuple[Part, Stand, float, tuple[Seam, ...]] | None:
    """A rib between the legs with its stand, the length of its foot and its seams; None without need or room."""
    stand = ways.between(mount)
    half = form.out - mount.thickness
    if not isinstance(mount.base, FlatBase) and abs(float(stand.direction(mount.base.along)[2])) > 1e-9:
        return None
    try:
        ends = base_edge(mount, stand, half).ends
    except ValueError:
        return None  # it would pass the tube
    low, high = max(e[1] for e in ends), -mount.thickness
    level = abs(ends[0][1] - ends[1][1]) < FLUSH
    snipe, bead = float(mount.spec.leg), 0.75 * mount.thickness
    if high - low < RIB_FROM or not level or 2.0 * (half - snipe) < LEAST_RUN * bead:
        return None
    outer = filleted(
        (
            (-half + snipe, low, 0.0),
            (half - snipe, low, 0.0),
            (half, low + snipe, 0.0),
            (half, high - snipe, 0.0),
            (half - snipe, high, 0.0),
            (-half + snipe, high, 0.0),
            (-half, high - snipe, 0.0),
            (-half, low + snipe, 0.0),
        )
    )
    part = context.plate(
        mount,
        name=f"{mount.name}-rib",
        label=f"Rib of the {form.noun.lower()}, {mount.label}",
        thickness=mount.thickness,
        profile=Profile(outer=outer),
        datum="in the middle of the seat's face; marked face forward, y out of the seat",
        notes=("between the legs, under the middle; its sniped corners let beads pass and water through",),
    )
    long = 2.0 * (half - snipe)
    beads = tuple(
        Seam(
            part.name,
            stand.outward(-half + snipe, low, f),
            stand.outward(half - snipe, low, f),
            bead,
        )
        for f in (0.0, mount.thickness)
    )
    return part, stand, long, beads


def demand(mount: Mount, key: str, remedy: str) -> float:
    """A measure a pad cannot do without [mm].

    Raises:
        GeometryFault: When its row does not give it.
    """
    value = getattr(mount.spec, key)
    if value is None:
        raise GeometryFault(mount.label, f"its row gives no {key}", remedy)
    return float(value)
