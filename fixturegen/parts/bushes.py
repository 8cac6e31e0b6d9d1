"""Bushes, pucks and collars: everything that is turned to the measured alignment bar."""

from __future__ import annotations

import math

from fixturegen.axle.model import Side, sign_of
from fixturegen.calc.hole import hole
from fixturegen.parts.joinery import INCH, decimal, fraction
from fixturegen.parts.registry import Context, Made
from fixturegen.plate import Part, Placement, Turned, TurnedStep
from fixturegen.plate.part import Matrix
from fixturegen.stock import Head, entry
from fixturegen.studies.bar_sag import JACK_LEAVES, Sag, sag_of
from fixturegen.studies.jig_records import BUSH_RELIEF

SIDES: tuple[Side, Side] = ("left", "right")
SHORT = {"left": "l", "right": "r"}
FLANGE = 3.0 / 16.0 * INCH
FLANGE_OVER = 0.5 * INCH  # flange larger than the bore, on the diameter
NOSE = 3.0  # bush beyond the plate's far face [mm]
BAR_FIT = 0.02  # bush over the measured bar [mm] [cp]
BAR_BORED = (0.0, 0.013)
PUCK_FIT = 0.02  # puck under the measured bearing bore [mm] [cp]
LEAD = 1.0  # chamfer of a bore, so that the bar finds it [mm]
HEAD_BORE = 13.0 / 32.0 * INCH  # counterbore for a 1/4 in socket head, 0.375 in wide (from memory)
SCREW_LONG = 0.75 * INCH  # of the collar's screw, under its head
SEAT_STEP = INCH / 16.0  # its seat stands at a full sixteenth
ENGAGED = 0.3125 * INCH  # least length of thread that holds: 1 1/4 diameters in steel [cp]
PULL_DRILL = 0.201 * INCH  # tap drill of 1/4-20, from memory
PULL_WALL = 12.0  # least wall for a pulling hole [mm]
COLLAR_LENGTH = 0.625 * INCH
COLLAR_OVER = 1.0 * INCH  # collar larger than the bar, on the diameter
SAW = INCH / 16.0
# Least interval of tolerance class h6 by nominal size [mm]. Source: ISO 286-2, from memory.
H6 = ((30.0, 0.013), (50.0, 0.016), (80.0, 0.019), (120.0, 0.022), (180.0, 0.025))

LEFTWARD: Matrix = ((0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0))
RIGHTWARD: Matrix = ((0.0, -1.0, 0.0), (0.0, 0.0, -1.0), (1.0, 0.0, 0.0))


def make_bushes(context: Context) -> Made:
    """Index pucks, carrier pucks (integral), clock plate bushes and bar collars (front); the bar itself is bought."""
    parts = [_index_puck(context)]
    places = _index_places(context)
    steps = [(50, _bar_words(context)), (97, _bar_out(context))]
    if context.plan.kind == "integral":
        parts.append(_carrier_puck(context))
        places += _carrier_places(context)
        steps.append(
            (
                22,
                "Before the housing meets the stand: bearing bores wiped clean, carrier pucks in, caps on and "
                "torqued as with bearings; try the bar through both by hand.",
            )
        )
    if context.plan.clock is not None:
        parts += [_clock_bush(context), _bar_collar(context)]
        places += _clock_places(context, context.plan.clock.inner)
    jacks = tuple(s for s in sag_of(context.sheet, context.axle, context.plan) if s.jack)
    if jacks:
        steps += _jack_steps(jacks)
    return Made(
        parts=tuple(parts),
        placements=tuple(places),
        hardware=_hardware(context, jacks),
        steps=tuple(steps),
    )


def h6(diameter: float) -> tuple[float, float]:
    """Limits of a shaft of class h6 [mm] for a nominal diameter [mm].

    Source: ISO 286-2, class h6, from memory.
    """
    width = next((w for size, w in H6 if diameter <= size), H6[-1][1])
    return (-width, 0.0)


def _bored(length: float, bore: float, words: str) -> tuple[tuple[float, float, float, float | None, str], ...]:
    """A bore right through with a lead at both ends."""
    wide = bore + 2.0 * LEAD
    return (
        (0.0, LEAD, wide, bore, "lead"),
        (LEAD, length - LEAD, bore, None, words),
        (length - LEAD, length, bore, wide, "lead"),
    )


def _bar_bore(context: Context) -> tuple[float, str]:
    bar = context.plan.bar
    bore = bar + BAR_FIT
    return bore, f"bore {decimal(bore, 4)} +0.0005: measured bar {decimal(bar, 4)}, turns by hand without shake"


def _flanged(context: Context) -> tuple[TurnedStep, ...]:
    """Flange at Z = 0, then the body through a clock-thickness plate."""
    bore = context.plan.index.bore
    return (
        TurnedStep(FLANGE, bore + FLANGE_OVER, None, None, "flange, face square to the body"),
        TurnedStep(context.plan.clock_thickness, bore, None, h6(bore), "body, to the bore as reamed: push fit"),
        TurnedStep(NOSE, bore - 0.5, bore - 2.0, None, "lead"),
    )


def _index_puck(context: Context) -> Part:
    steps = _flanged(context)
    bore, words = _bar_bore(context)
    return Part(
        name="index-puck",
        label="bush of the index plate" + ("s" if context.plan.index.puck_station is not None else ""),
        kind="bushes",
        form="turned",
        material="1018-cd",
        turned=Turned(steps, _bored(sum(s.length for s in steps), bore, words)),
        quantity=1 if context.plan.index.puck_station is None else 2,
        datum="axis, outer face of the flange",
        notes=("bore, body and face of the flange in one setting; body and bore true within 0.0005 in",),
    )


def _index_places(context: Context) -> list[Placement]:
    """The flange stands on the side the bar comes from, so that the bar pushes it home."""
    plan = context.plan
    s = sign_of(context.sheet.bar.free_side)
    found = []
    for station in (plan.index.station, plan.index.puck_station):
        if station is not None:
            y = station + s * (plan.clock_thickness / 2.0 + FLANGE)
            found.append(Placement("index-puck", (0.0, y, plan.height), RIGHTWARD if s > 0 else LEFTWARD, "index"))
    return found


def _carrier_puck(context: Context) -> Part:
    bearings, bar = context.sheet.housing.bearings, context.plan.bar
    outside, length = bearings.bore_diameter - PUCK_FIT, float(bearings.bore_width)
    bore, words = _bar_bore(context)
    wall = (outside - bar) / 2.0
    pulls: tuple[tuple[float, float, float, str], ...] = ()
    if wall >= PULL_WALL:
        r = (outside + bar) / 4.0
        pulls = ((0.0, r, PULL_DRILL, "tap 1/4-20, pulling hole"), (0.0, -r, PULL_DRILL, "tap 1/4-20, pulling hole"))
    return Part(
        name="carrier-puck",
        label="puck of the carrier bearing bores",
        kind="bushes",
        form="turned",
        material="1018-cd",
        turned=Turned(
            (
                TurnedStep(LEAD, outside - 2.0 * LEAD, outside, None, "lead"),
                TurnedStep(
                    length - LEAD,
                    outside,
                    None,
                    (-0.013, 0.0),
                    f"measured bearing bore {decimal(float(bearings.bore_diameter), 4)} less 0.0008 in",
                ),
            ),
            _bored(length, bore, words),
            axial_holes=pulls,
        ),
        quantity=2,
        datum="axis, face with the lead",
        notes=(
            "bore and outside in one setting, true within 0.0005 in",
            "measure both bearing bores with caps torqued; where they differ by more than 0.001 in make each "
            "puck to its own bore and stamp L and R",
        ),
    )


def _carrier_places(context: Context) -> list[Placement]:
    bearings = context.sheet.housing.bearings
    far = bearings.width_over / 2.0
    middle = context.axle.bearing_middle
    return [
        Placement("carrier-puck", (0.0, middle + s * far, context.plan.height), turn, "bar")
        for s, turn in ((1.0, RIGHTWARD), (-1.0, LEFTWARD))
    ]


def _clock_bush(context: Context) -> Part:
    """Bush of a clock plate: larger than the bar, so that the plate is free fore and aft."""
    steps = _flanged(context)
    bore = context.plan.bar + BUSH_RELIEF
    return Part(
        name="clock-bush",
        label="bush of a clock plate",
        kind="bushes",
        form="turned",
        material="1018-cd",
        turned=Turned(
            steps,
            _bored(sum(s.length for s in steps), bore, f"bore {decimal(bore, 4)} +/-0.002: 1/16 in over the bar"),
        ),
        quantity=2,
        datum="axis, outer face of the flange",
        notes=(
            "the bore is 1/16 in over the bar: the plate hangs 1/32 in low, as its finger holes allow for, and is "
            "free fore and aft; the bush only carries height",
            "flange outboard; bore and body in one setting",
        ),
    )


def _bar_collar(context: Context) -> Part:
    bar = context.plan.bar
    return Part(
        name="bar-collar",
        label="split collar of the bar",
        kind="bushes",
        form="turned",
        material="1018-cd",
        turned=Turned(
            (TurnedStep(COLLAR_LENGTH, bar + COLLAR_OVER, None, None, "face both sides square"),),
            _bored(COLLAR_LENGTH, bar + 0.05, f"bore {decimal(bar + 0.05, 4)}, slides on the bar"),
            saw_cut=SAW,
        ),
        quantity=4,
        datum="axis, one face",
        notes=_screw_notes(bar),
    )


def collar_screw(bar: float) -> tuple[float, float]:
    """(axis of the collar's screw from the collar's axis, seat of its head above the saw cut's middle) [mm].

    Args:
        bar: Diameter of the bar [mm].

    Formula: axis in the middle of the wall; the seat's far edge still within the outside, the thread still long enough.
    """
    outside = (bar + COLLAR_OVER) / 2.0
    away = (bar / 2.0 + outside) / 2.0
    whole = math.sqrt(outside**2 - (away + HEAD_BORE / 2.0) ** 2)
    most = min(whole, SCREW_LONG - SAW / 2.0 - ENGAGED)
    return away, math.floor(most / SEAT_STEP) * SEAT_STEP


def _screw_notes(bar: float) -> tuple[str, ...]:
    """How the collar's screw is put in: the order in which no drill has to start on the round."""
    away, seat = collar_screw(bar)
    through = hole("1/4", "normal").diameter
    tap = float(entry("heads", "1/4-20", Head).tap_drill)
    held = SCREW_LONG - seat - SAW / 2.0
    return (
        f"screw, before the slot is sawn: square to the slot, its axis {decimal(away)} from the collar's axis and "
        f"{fraction(COLLAR_LENGTH / 2.0)} from either face",
        f"in one setting: {fraction(HEAD_BORE)} end mill down to {fraction(seat)} above the slot's middle, for the "
        f"head; drill {decimal(tap)} on through to the outside; open to {decimal(through)} down to the slot's middle "
        "only; tap 1/4-20 below it; then saw the slot",
        f"a 1/4-20 x 3/4 cap screw holds over {decimal(held, 2)} of thread",
    )


def _clock_places(context: Context, inner: float) -> list[Placement]:
    """Bushes with their flanges outboard; a collar on either side of each clock plate."""
    plan = context.plan
    thick = plan.clock_thickness
    drop = plan.clock.drop if plan.clock is not None else 0.0
    found = []
    for side in SIDES:
        s, group = sign_of(side), f"clock-{SHORT[side]}"
        inward, outward = (RIGHTWARD, LEFTWARD) if s > 0 else (LEFTWARD, RIGHTWARD)
        flange = inner + thick + FLANGE
        found.append(Placement("clock-bush", (0.0, s * flange, plan.height - drop), inward, group))
        for y in (inner - NOSE - COLLAR_LENGTH, flange):
            found.append(Placement("bar-collar", (0.0, s * y, plan.height), outward, group))
    return found


def _bar_words(context: Context) -> str:
    through = (
        "the carrier pucks and the index plate between them"
        if context.plan.kind == "integral"
        else ("the pucks of puck plate and index plate")
    )
    collars = ", the inboard collars on it between the arms of the knuckles" if context.plan.clock is not None else ""
    return (
        f"Bar, wiped and oiled, slid in from the {context.sheet.bar.free_side} through {through}{collars}; it must "
        "turn by hand. Two people or the hoist: it is heavy and its end swings."
    )


def _bar_out(context: Context) -> str:
    held = ", the index plate unclamped and held as the bar leaves it" if context.plan.kind == "integral" else ""
    return (
        f"Bar drawn out the way it went in; what sits on it is loosened and taken off as it comes free{held}. Two "
        "people or the hoist."
    )


def _jack_steps(jacks: tuple[Sag, ...]) -> list[tuple[int, str]]:
    """Where the bar hangs too low under its clock plate: a jack after the plate is on, away before it is off."""
    sides = " and ".join(s.side for s in jacks)
    hang = ", ".join(f"{s.side} {decimal(s.sag)}" for s in jacks)
    return [
        (
            63,
            f"Screw jack on the table under the bar, just outboard of the clock plate, {sides}: without it the bar "
            f"hangs there ({hang}). Raise it until the dial on the bar at the tube end reads as on the bench sheet Set "
            f"the housing up, within {decimal(JACK_LEAVES)}; then leave it.",
        ),
        (93, f"Jack under the bar away, {sides}: it stands in the way of the clock plate."),
    ]


def _hardware(context: Context, jacks: tuple[Sag, ...]) -> tuple[tuple[str, str, int, str], ...]:
    bar = context.sheet.bar
    rows = [
        ("alignment bar, ground", f"{decimal(float(bar.diameter), 4)} x {fraction(float(bar.length))}", 1, "axle line"),
        ("retaining compound", "1 bottle", 1, "bushes in their plates"),
    ]
    if context.plan.clock is not None:
        rows.append(("socket head cap screw", "1/4-20 x 3/4", 4, "bar collars"))
    if jacks:
        high = fraction(context.plan.height - context.plan.bar / 2.0)
        sides = " and ".join(s.side for s in jacks)
        rows.append(("screw jack", f"to stand {high} high", len(jacks), f"under the bar, {sides}"))
    return tuple(rows)
