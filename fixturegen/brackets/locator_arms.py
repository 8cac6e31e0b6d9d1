"""Arms: two plates on the axle tube that hold the dummy bolt where no table post goes.

Each plate sits on the tube by a saddle, as an ear does, and is as high as the hardpoint; a tie plate
between them is drawn onto the tube by a U-bolt. What turns the arm on the tube is set by reading.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.model import to_table
from fixturegen.brackets.ears import Blank, blank, with_openings
from fixturegen.brackets.frames import ASKEW, Stand, upright
from fixturegen.brackets.registry import LOCATORS, BracketContext, MadeLocator
from fixturegen.errors import GeometryFault
from fixturegen.parts.holes import decimal, fraction, hole
from fixturegen.parts.joinery import bolt_clearance, filleted, locating_room, slot, tab
from fixturegen.parts.layout import LEG, rack_material
from fixturegen.parts.registry import Context
from fixturegen.plate import Part, Placement, Profile, Purpose, Weld
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.bracket_plan import axle_tube
from fixturegen.studies.bracket_records import BracketFacts, Mount, TubeBase
from fixturegen.studies.jig_records import INCH
from fixturegen.studies.locator_error import place_error
from fixturegen.studies.locator_plan import (
    WIDEST_GAP,
    Layout,
    bead_gap,
    frame_of,
    head_radius,
    outer_faces,
    overhang_of,
    plates_at,
    point_of,
    pull_of,
    rows_of,
)
from fixturegen.studies.locator_records import Locator
from fixturegen.studies.locator_room import Bulk, bulks_of, filled, met, swept

U_BOLT = 0.375 * INCH  # round bar of the U-bolt [mm]
U_NUT = 12.0  # from its legs to the next plate or edge [mm]: washer and socket
OVER_TUBE = 0.625 * INCH  # tie plate from the tube: what the U-bolt draws down [mm] (common practice, no source)
TIE_TAB = 30.0  # tab of the tie plate [mm]
FAR = 12.0 * INCH  # a longer arm whips (common practice, no source)
BESIDE = 6.0  # saddle from the ends of the tube [mm]
TAKE_OFF = 150.0  # an arm is drawn off the tube so far [mm]
ASIDE: tuple[Layout, ...] = ("outboard", "inboard")
"""Both plates beside the bracket: astride of it their tie plate would run where the bracket stands."""
WEB = 1.5  # plate thicknesses of steel beyond a slot [1] (common practice, no source)


@dataclass(frozen=True, eq=False)
class _Arm:
    """An arm while it is laid out: frame of its plates at the bolt, in A.

    Attributes:
        mount: The bracket as if it stood on the tube, in the plate of the jig's stand.
        stand: Frame of the plates, origin at the hardpoint.
        tube: What it sits on.
        plates: Faces along the bolt [mm].
        tie: (x, y) of the middle of the tie plate [mm].
        middle: (x, z) where the U-bolt's middle stands [mm].
        across: Unit direction (x, z) from leg to leg, square to the tube.
    """

    mount: Mount
    stand: Stand
    tube: TubeBase
    plates: tuple[tuple[float, float], tuple[float, float]]
    tie: tuple[float, float]
    middle: tuple[float, float]
    across: tuple[float, float]


def make_arm(context: BracketContext, facts: BracketFacts, why: GeometryFault) -> MadeLocator:
    """The plates of an arm where they stand.

    Args:
        context: The job.
        facts: The bracket.
        why: Why no post goes there; told when no arm goes either.

    Raises:
        GeometryFault: When no arm goes there either, naming what is in the way of both.
    """
    told: list[str] = []
    for layout in ASIDE:
        try:
            return _arm_made(context, facts, layout)
        except GeometryFault as fault:
            told.append(f"{layout}, {fault.words}")
        except ValueError as fault:
            told.append(f"{layout}, its plates cannot be drawn ({fault})")
    words = f"neither post nor arm holds its dummy bolt: {why.words}; " + "; ".join(told)
    remedy = "hold the bracket by square and rule to its tape numbers, or move the cradle"
    raise GeometryFault(facts.mount.label, words, remedy)


def _arm_made(context: BracketContext, facts: BracketFacts, layout: Layout) -> MadeLocator:
    arm = _laid_out(context, facts, layout)
    locator = _locator(context, facts, arm)
    group, thick = f"locator-{locator.name}", context.plan.stand_thickness
    names = [f"{locator.name}-arm-right", f"{locator.name}-arm-left"]
    stands = [upright(arm.mount, faces[0], 1) for faces in arm.plates]
    x, y = arm.tie
    web = WEB * thick + thick / 2.0
    steel = tuple((x + s * (TIE_TAB / 2.0 - thick / 2.0), y, web) for s in (-1.0, 1.0))
    blanks = [blank(context, arm.mount, s, steel) for s in stands]
    plates = [_plate(context, locator, arm, b, n) for b, n in zip(blanks, names, strict=True)]
    tie, tie_stand = _tie(context, locator, arm)
    placements = [_in_table(context, s, n, group) for s, n in zip(stands, names, strict=True)]
    placements.append(_in_table(context, tie_stand, tie.name, group))
    label = locator.mount.label
    return MadeLocator(
        locator=locator,
        parts=(*plates, tie),
        placements=tuple(placements),
        welds=tuple(Weld((tie.name, n), LEG, 2.0 * TIE_TAB, "over the tabs from outside") for n in names),
        hardware=(
            (
                "U-bolt, nuts and washers",
                f"{fraction(U_BOLT)}, inside {fraction(2.0 * arm.tube.radius + INCH / 16.0)}",
                1,
                f"arm of {label}",
            ),
            ("hitch clip", "1/8 in", 2, f"dummy bolt of {label}"),
        ),
    )


def _laid_out(context: BracketContext, facts: BracketFacts, layout: Layout) -> _Arm:
    """The layout of an arm.

    Raises:
        GeometryFault: When tube, length or jig forbid it.
    """
    sheet, axle, plan = context.sheet, context.axle, context.plan
    thick, label = plan.stand_thickness, facts.mount.label
    station = float(facts.mount.point[1])
    tube = axle_tube(sheet, axle, station)
    spec = facts.mount.spec.model_copy(update={"extra_holes": 0})
    mount = replace(facts.mount, base=tube, thickness=thick, spec=spec)
    stand = upright(mount, 0.0, 1)
    along, start = stand.direction(tube.along), stand.inward(tube.point)
    if mount.joint is None:
        raise GeometryFault(label, "it holds no joint", "a pad or a seat is set by its tape numbers")
    if abs(float(along[2])) < math.cos(math.radians(ASKEW)):
        words = f"its bolt runs across the {tube.words}, so no saddle of an arm stands square to it"
        raise GeometryFault(label, words, "hold it by square and rule, or by a strap from the bench")
    head = head_radius(mount.joint.shank)

    def crossing(z: float) -> Array:
        return np.asarray(start + along * (z - start[2]) / along[2])

    deep = -float(crossing(0.0)[1])
    turn, _ = to_table(axle, plan.height)
    strip = ((-head, -deep), (head, -deep), (head, -head), (-head, -head))
    gap = bead_gap(axle, plan, facts, turn @ stand.rotation, strip) if deep > head else WIDEST_GAP * 2.0
    if gap > WIDEST_GAP or deep - tube.radius > FAR:
        words = (
            f"an arm would be {(deep - tube.radius) / INCH:.1f} in long and stand {gap / INCH:.1f} in outside the ears"
        )
        raise GeometryFault(label, words, "hold it by square and rule")
    plates = plates_at(facts, gap, thick, layout)
    seats = [crossing(z) for faces in plates for z in faces]
    _on_tube(label, stand, tube, seats, abs(float(along[0] / along[2])) * tube.radius + BESIDE)
    low = max(float(s[1]) for s in seats) + tube.radius / abs(float(along[2])) ** 0.5
    middle = crossing((plates[0][1] + plates[1][0]) / 2.0)
    tie = (float(np.mean([s[0] for s in seats])), low + OVER_TUBE + thick / 2.0)
    if tie[1] + thick / 2.0 + WEB * thick > -head:
        words = f"its bolt stands {(deep - tube.radius) / INCH:.2f} in off the tube, no tie plate goes under it"
        raise GeometryFault(label, words, "hold it by square and rule")
    square = np.array([along[2], -along[0]]) / np.hypot(along[0], along[2])
    arm = _Arm(
        mount, stand, tube, plates, tie, (float(middle[0]), float(middle[2])), (float(square[0]), float(square[1]))
    )
    _clear(context, arm, head, deep)
    return arm


def _on_tube(label: str, stand: Stand, tube: TubeBase, seats: list[Array], room: float) -> None:
    low, high = tube.reach
    for seat in seats:
        there = np.array(stand.outward(*(float(v) for v in seat))) - np.array(tube.point)
        far = float(there @ np.array(tube.along))
        if not low + room <= far <= high - room:
            words = f"a saddle at {far / INCH:.1f} in does not lie on the {tube.words}"
            raise GeometryFault(label, words, "hold it by square and rule")


def _steel(context: BracketContext, arm: _Arm, head: float, deep: float) -> Array:
    """Points of plates and U-bolt in T, shape (n, 3) [mm]."""
    turn, up = to_table(context.axle, context.plan.height)
    wide = arm.tube.radius * 0.8
    # a saddle of 110 deg ends 0.57 of the radius above the tube's middle
    low = 0.5 * arm.tube.radius - deep
    flat = filled(((-wide, low), (wide, low), (head, 0.0), (head, head), (-head, head), (-head, 0.0)))
    points = [np.column_stack([flat, np.full(len(flat), f)]) for faces in arm.plates for f in faces]
    around = np.linspace(0.0, 2.0 * np.pi, 24)
    far = arm.tube.radius + U_BOLT
    x, z = arm.middle
    ring = [
        (x + far * np.cos(a) * arm.across[0], -deep + far * np.sin(a), z + far * np.cos(a) * arm.across[1])
        for a in around
    ]
    local = np.concatenate([*points, np.array(ring)])
    return np.asarray((local @ arm.stand.rotation.T + arm.stand.origin) @ turn.T + up)


def _clear(context: BracketContext, arm: _Arm, head: float, deep: float) -> None:
    bulks = _others(context, arm)
    steel = _steel(context, arm, head, deep)
    stop = met(steel, bulks)
    turn, _ = to_table(context.axle, context.plan.height)
    way = turn @ arm.stand.rotation[:, 1]
    stop = stop or met(swept(steel, way, TAKE_OFF), bulks, 2.0)
    low = float(steel[:, 2].min())
    if stop or low < BESIDE:
        words = f"an arm would stand in the {stop or 'table'} or not come off past it"
        raise GeometryFault(arm.mount.label, words, "hold it by square and rule")


def _others(context: BracketContext, arm: _Arm) -> tuple[Bulk, ...]:
    found = bulks_of(context.sheet, context.axle, context.plan)
    return tuple(b for b in found if b.name != arm.tube.words)


def _locator(context: BracketContext, facts: BracketFacts, arm: _Arm) -> Locator:
    sheet, axle, plan = context.sheet, context.axle, context.plan
    rotation, point = frame_of(axle, plan, facts, 80.0)
    shank = arm.mount.joint.shank if arm.mount.joint else 0.0
    turn, _ = to_table(axle, plan.height)
    reach = float(np.hypot(facts.mount.point[0], facts.mount.point[2]))
    span = arm.plates[1][0] - arm.plates[0][1]
    return Locator(
        mount=facts.mount,
        form="arm",
        point=point_of(point),
        bolt=point_of(rotation[:, 2]),
        rotation=rows_of(rotation),
        ears=outer_faces(facts),
        plates=arm.plates,
        pull=pull_of(facts.mount.side, rotation, point, arm.plates, outer_faces(facts), shank, _others(context, arm)),
        leave=point_of(turn @ arm.stand.rotation[:, 1]),
        post=None,
        error=place_error(sheet, "arm", shank, reach, overhang_of(arm.plates), span),
    )


def _plate(context: BracketContext, locator: Locator, arm: _Arm, made: Blank, name: str) -> Part:
    thick, kerf = context.plan.stand_thickness, float(context.sheet.process.kerf)
    x, y = arm.tie
    opening = slot(x, y, 0.0, TIE_TAB, thick, kerf, locating=True, room=locating_room(context.sheet))
    side = name.rpartition("-")[2]
    notes = [
        f"sits on the {arm.tube.words}; both plates' dummy bolt holes reamed in one go after the tie plate is welded",
        f"table to the middle of the dummy bolt at the joint {fraction(locator.point[2])}, "
        f"from the axle line {fraction(abs(locator.point[0]))} {'forward' if locator.point[0] > 0 else 'rearward'}",
    ]
    if on_undrawn(context.sheet, locator):
        notes.append(f"the {locator.mount.base.words} is not drawn: look that the arm passes it")
    return Part(
        name=name,
        label=f"Plate of the {locator.mount.label} arm, {side}",
        kind=LOCATORS,
        form="plate",
        thickness=thick,
        material=rack_material(_jig(context), float(context.sheet.jig.stand_plate)),
        profile=with_openings(made, (opening,)),
        hand=locator.mount.hand,
        datum="on the dummy bolt's line; marked face to the bolt's left end, y away from the tube",
        notes=tuple(notes),
    )


def on_undrawn(sheet: Sheet, locator: Locator) -> bool:
    """Whether the bracket stands on something that nobody draws: a housing, or a truss that was measured."""
    drawn = sheet.truss is not None and sheet.truss.form == "box" and locator.mount.spec.on == "truss"
    return not isinstance(locator.mount.base, TubeBase) and not drawn


def _tie(context: BracketContext, locator: Locator, arm: _Arm) -> tuple[Part, Stand]:
    """The tie plate between the arm's plates: x along the bolt, y along their x, marked face away from the tube."""
    thick, kerf = context.plan.stand_thickness, float(context.sheet.process.kerf)
    x, y = arm.tie
    mid = (arm.plates[0][1] + arm.plates[1][0]) / 2.0
    half = (arm.plates[1][0] - arm.plates[0][1]) / 2.0
    far, size = arm.tube.radius + U_BOLT / 2.0 + INCH / 32.0, bolt_clearance(U_BOLT)
    legs = [
        (arm.middle[1] - mid + s * far * arm.across[1], arm.middle[0] - x + s * far * arm.across[0])
        for s in (-1.0, 1.0)
    ]
    edge = size / 2.0 + max(U_NUT, WEB * thick)
    low = min(-TIE_TAB / 2.0 - 8.0, *(v - edge for _, v in legs))
    high = max(TIE_TAB / 2.0 + 8.0, *(v + edge for _, v in legs))
    if any(half - abs(u) < size / 2.0 + U_NUT for u, _ in legs):
        raise GeometryFault(
            arm.mount.label, "the U-bolt's nuts would meet the arm's plates", "hold it by square and rule"
        )
    outer = filleted(
        (
            (-half, low, 0.0),
            (half, low, 0.0),
            tab(half, 0.0, 90.0, TIE_TAB, thick, kerf),
            (half, high, 0.0),
            (-half, high, 0.0),
            tab(-half, 0.0, -90.0, TIE_TAB, thick, kerf),
        )
    )
    jig = _jig(context)
    holes = tuple(
        hole(u, v, size, Purpose.BOLT, f"U-bolt {n}", jig, thickness=thick) for n, (u, v) in enumerate(legs, 1)
    )
    part = Part(
        name=f"{locator.name}-arm-tie",
        label=f"Tie plate of the {locator.mount.label} arm",
        kind=LOCATORS,
        form="plate",
        thickness=thick,
        material=rack_material(jig, float(context.sheet.jig.stand_plate)),
        profile=Profile(outer=outer, holes=holes),
        hand=locator.mount.hand,
        datum="middle of the plate; x along the dummy bolt, marked face away from the tube",
        notes=(f"stands {decimal(OVER_TUBE)} off the tube; the U-bolt draws it down",),
    )
    r = arm.stand.rotation
    turn = np.stack([r[:, 2], r[:, 0], r[:, 1]], axis=1)
    origin = np.array(arm.stand.outward(x, y - thick / 2.0, mid))
    return part, Stand(origin, turn)


def _in_table(context: BracketContext, stand: Stand, part: str, group: str) -> Placement:
    turn, up = to_table(context.axle, context.plan.height)
    return Stand(turn @ stand.origin + up, turn @ stand.rotation).placement(part, group)


def _jig(context: BracketContext) -> Context:
    return Context(context.sheet, context.axle, context.plan)
