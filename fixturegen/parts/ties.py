"""The tie, its collars, and the keepers that refuse a clock plate turned round (`keeper_plan`)."""

from __future__ import annotations

import math
from dataclasses import replace

from fixturegen.axle.model import Side, sign_of
from fixturegen.parts.joinery import INCH, XZ, decimal, fraction, hole, reversed_loop
from fixturegen.parts.layout import rack_material
from fixturegen.parts.marking import letter_height, words_on
from fixturegen.parts.registry import Context, Made
from fixturegen.plate import Hole, Loop, Part, Placement, Profile, Purpose, Turned, TurnedStep, Vertex
from fixturegen.plate.outlines import hull_of_discs
from fixturegen.plate.part import Matrix
from fixturegen.studies.cutting_rules import rules_for
from fixturegen.studies.jig_records import KEEPER_HOLE, TiePlan
from fixturegen.studies.keeper_plan import BEYOND, INTO, SECOND_HOLE, flat_half_angle, local_pins, tie_flats

SIDES: tuple[Side, Side] = ("left", "right")
SHORT = {"left": "l", "right": "r"}
CHAMFER = 1.5  # [mm]
KEEPER_WEB = 14.0  # steel round the tie's hole and the pins [mm]
KEEPER_FREE = 0.25  # keeper over the tie's end, at the least, on each side [mm]
KEEPER_MOST = 1.0  # more, and a keeper turned over would go on [mm]
COLLAR_LENGTH = 0.5 * INCH
COLLAR_OVER = 0.75 * INCH  # collar larger than the bar, on the diameter
SET_DRILL = 0.257 * INCH  # tap drill of 5/16-18, from memory
PIN_PAST = 2.0  # keeper pin beyond the clock plate's inboard face [mm]

# local Z along +Y of T, local X up, local Y forward
ALONG_LEFT: Matrix = ((0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0))
ALONG_RIGHT: Matrix = ((0.0, -1.0, 0.0), (0.0, 0.0, -1.0), (1.0, 0.0, 0.0))
XZ_RIGHT: Matrix = ((1.0, 0.0, 0.0), (0.0, 0.0, -1.0), (0.0, 1.0, 0.0))


def make_ties(context: Context) -> Made:
    """Tie, tie collars, keepers and their pins; nothing on a rear axle."""
    plan = context.plan
    if plan.tie is None or plan.clock is None:
        return Made()
    tie = plan.tie
    pins = tuple(_pin(context, i) for i in range(2))
    parts = (_tie(tie), _collar(tie), *(_keeper(context, tie, s) for s in SIDES), *pins)
    return Made(
        parts=parts,
        placements=tuple(_places(context, tie, plan.clock.inner + plan.clock_thickness)),
        hardware=(("set screw, cup point", "5/16-18 x 5/16", 4, "tie collars"),),
        steps=_steps(),
    )


def _tie(tie: TiePlan) -> Part:
    """The tie, from its right end (Z = 0) to its left end; local X up, local Y forward."""
    n, d = tie.length, tie.diameter
    steps = (
        TurnedStep(CHAMFER, d - 2.0 * CHAMFER, d, None, "chamfer"),
        TurnedStep(n - 2.0 * CHAMFER, d, None, (-0.013, 0.0), "ground bar as bought, straight within 0.005 in"),
        TurnedStep(CHAMFER, d, d - 2.0 * CHAMFER, None, "chamfer"),
    )
    flats = []
    for direction, distance in tie_flats(tie):
        long = tie.flat_length if direction in (0.0, 180.0) else BEYOND + INTO
        flats += [(0.0, long, distance, direction), (n - long, n, distance, direction)]
    return Part(
        name="tie",
        label="tie",
        kind="ties",
        form="turned",
        material="ground-1045",
        turned=Turned(steps, flats=tuple(flats)),
        datum="axis, right end; local X up, local Y forward",
        notes=(
            f"bought: ground bar, 1045, {decimal(d)} as ground, {fraction(n)} long; roll it on the table: bow under "
            "0.010 in",
            "mill the flats of both ends in one setting, or clock the second end from the first with a level: "
            f"up and down {decimal(tie.flat_depth)} deep, third flat up-forward at 45 deg over the last "
            f"{decimal(BEYOND + INTO, 2)}",
            "no burr beside the flats: the bar must still pass its reamed hole",
            "stamp LEFT and UP on the left end",
        ),
    )


def end_section(tie: TiePlan, free: float = 0.0) -> Loop:
    """Section of the tie's end as a counter-clockwise loop, x forward, y up [mm].

    Args:
        tie: The tie.
        free: Added all round [mm].
    """
    radius = tie.diameter / 2.0 + free
    # directions turned from "up toward the front" to the usual angle from x
    flats = sorted(((90.0 - a) % 360.0, d + free) for a, d in tie_flats(tie))
    loop: list[Vertex] = []
    for i, (at, d) in enumerate(flats):
        nxt, nd = flats[(i + 1) % len(flats)]
        end = at + flat_half_angle(d, radius)
        gap = (nxt - flat_half_angle(nd, radius) - end) % 360.0
        if gap > 180.0:  # the flats meet: corner where their lines cross
            turn = math.radians((nxt - at) % 360.0)
            a = math.radians(at)
            along = (nd - d * math.cos(turn)) / math.sin(turn)
            loop.append(Vertex(d * math.cos(a) - along * math.sin(a), d * math.sin(a) + along * math.cos(a)))
            continue
        e = math.radians(end)
        loop.append(Vertex(radius * math.cos(e), radius * math.sin(e), math.tan(math.radians(gap) / 4.0)))
        f = math.radians(end + gap)
        loop.append(Vertex(radius * math.cos(f), radius * math.sin(f)))
    return tuple(loop)


def keeper_free(context: Context) -> float:
    """Room of a keeper on the tie's end, on each side [mm]: it goes on as the cutter leaves it."""
    tie = context.plan.tie
    allowed = None if tie is None else rules_for(context.sheet, context.plan.stand_thickness).tolerance(tie.diameter)
    return KEEPER_MOST if allowed is None else min(KEEPER_FREE + allowed.value / 2.0, KEEPER_MOST)


def _keeper(context: Context, tie: TiePlan, side: Side) -> Part:
    """A keeper, tie's axis at the origin, marked face outboard; x rearward on the left, forward on the right."""
    thick, s = context.plan.stand_thickness, -float(sign_of(side))
    section = tuple(Vertex(s * v.x, v.y, v.bulge) for v in end_section(tie, keeper_free(context)))
    # seen from the left, forward is -x: that mirrors the section and turns it clockwise by itself
    inner = _mirrored(section) if s < 0.0 else reversed_loop(section)
    pins = [(s * forward, up, d) for forward, up, d in local_pins()]
    outer = hull_of_discs(
        ((0.0, 0.0, tie.diameter / 2.0 + KEEPER_WEB), *((x, y, d / 2.0 + KEEPER_WEB - 2.0) for x, y, d in pins))
    )
    holes = tuple(
        _pin_hole(hole(x, y, d, Purpose.DOWEL, label, context, thickness=thick, note="press fit, ream 0.0005 under"))
        for (x, y, d), label in zip(pins, ("keeper pin", "second pin"), strict=True)
    )
    part = Part(
        name=f"keeper-{SHORT[side]}",
        label=f"keeper, {side}",
        kind="ties",
        form="plate",
        thickness=thick,
        material=rack_material(context, float(context.sheet.jig.stand_plate)),
        profile=Profile(outer=outer, inner=(inner,), holes=holes),
        hand="L" if side == "left" else "R",
        datum="axis of the tie; y away from the bar, marked face outboard",
        notes=(
            "press both pins in from the marked face, flush there: they stand out on the other face only",
            f"pin holes: take only their middles, from the marks, or by transfer punches of {_punch(KEEPER_HOLE)} and "
            f"{_punch(SECOND_HOLE)} through the clock plate's keeper holes, keeper on the tie, tie in the plate; then "
            "drill and ream the keeper alone to its pins: the plate's holes are larger, so that the pins enter freely",
            f"the opening is cut {decimal(keeper_free(context))} loose all round: file off what keeps it from "
            "sliding on the tie's end, no more; it must not go on turned over",
        ),
    )
    # which face looks outboard decides whether it goes on at all: marked before the rest takes the room
    above = (0.0, tie.diameter / 2.0 + KEEPER_WEB / 2.0)
    return replace(part, marks=words_on(part, ("OUT",), letter_height(context.sheet.process), above))


def _pin_hole(made: Hole) -> Hole:
    """A pin hole of a keeper: its mate, the clock plate, has a larger hole and is not drilled with it."""
    return replace(made, note=made.note.replace("drill with its mate", "drill the keeper alone"))


def _punch(hole_diameter: float) -> str:
    """The largest transfer punch by 64ths that goes through a hole [mm]."""
    step = INCH / 64.0
    return fraction(math.floor(hole_diameter / step) * step)


def _mirrored(loop: Loop) -> Loop:
    """Vertices whose x was negated, with the bulges turned to match; runs the other way round."""
    return tuple(Vertex(v.x, v.y, -v.bulge) for v in loop)


def _pin(context: Context, index: int) -> Part:
    _, _, d = local_pins()[index]
    plan = context.plan
    length = math.ceil((plan.stand_thickness + plan.clock_thickness + PIN_PAST) / (INCH / 8.0)) * INCH / 8.0
    name = ("keeper-pin", "keeper-pin-second")[index]
    steps = (
        TurnedStep(length - 1.0, d, None, (0.0, 0.006), "ground"),
        TurnedStep(1.0, d, d - 2.0, None, "lead"),
    )
    return Part(
        name=name,
        label=name.replace("-", " "),
        kind="ties",
        form="turned",
        material="ground-1045",
        turned=Turned(steps),
        quantity=2,
        datum="axis, flush end",
        notes=(f"bought: ground dowel, {decimal(d, 4)} as ground, {fraction(length)} long",),
    )


def _collar(tie: TiePlan) -> Part:
    steps = (TurnedStep(COLLAR_LENGTH, tie.diameter + COLLAR_OVER, None, None, "face both sides square"),)
    turned = Turned(
        steps,
        bores=((0.0, COLLAR_LENGTH, tie.diameter + 0.1, None, "bore to slide on the tie"),),
        cross_holes=((COLLAR_LENGTH / 2.0, SET_DRILL, 0.0, "one side only: tap 5/16-18"),),
    )
    return Part(
        name="tie-collar",
        label="tie collar",
        kind="ties",
        form="turned",
        material="1018-cd",
        turned=turned,
        quantity=4,
        datum="axis, one face",
        notes=("outboard of the keepers the set screw stands on the upper flat",),
    )


def _places(context: Context, tie: TiePlan, outer: float) -> list[Placement]:
    """Tie, collars beside the index plate and outboard of the keepers, keepers with their pins."""
    plan = context.plan
    z = plan.height + tie.radius
    found = [Placement("tie", (0.0, -tie.length / 2.0, z), ALONG_LEFT, "tie")]
    half = plan.clock_thickness / 2.0
    for y in (plan.index.station - half - COLLAR_LENGTH, plan.index.station + half):
        found.append(Placement("tie-collar", (0.0, y, z), ALONG_LEFT, "tie"))
    for side in SIDES:
        s = sign_of(side)
        rotation = ALONG_LEFT if s > 0 else ALONG_RIGHT
        found.append(Placement(f"keeper-{SHORT[side]}", (0.0, s * outer, z), XZ if s > 0 else XZ_RIGHT, "tie"))
        inward = ALONG_RIGHT if s > 0 else ALONG_LEFT
        face = outer + plan.stand_thickness
        for name, (x, up, _) in zip(("keeper-pin", "keeper-pin-second"), local_pins(), strict=True):
            found.append(Placement(name, (x, s * face, z + up), inward, "tie"))
        found.append(Placement("tie-collar", (0.0, s * (face + 1.0), z), rotation, "tie"))
    return found


def _steps() -> tuple[tuple[int, str], ...]:
    return (
        (
            75,
            "Tie, end stamped LEFT to the left and UP up, through the hole marked 0 of one clock plate, a collar, "
            "the index plate, a collar, the steady and the other clock plate: the same label in all three.",
        ),
        (
            80,
            "Keepers over the tie's ends, marked face outboard, both pins into the clock plate; collars after "
            "them. A keeper that does not go on means a plate turned round: do not force it, do not turn the "
            "keeper over.",
        ),
    )
