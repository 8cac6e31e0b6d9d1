"""Clock plates and their finger bars: they carry the tie's angle to the knuckles' stub pins.

Left and right plate are cut and bored alike; the marked face looks to the vehicle's left on both,
so the fingers stand on the unmarked face of the left plate and on the marked face of the right one.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace
from itertools import pairwise
from typing import Any

import numpy as np
import numpy.typing as npt

from fixturegen.axle.model import Side, sign_of
from fixturegen.errors import GeometryFault
from fixturegen.parts.joinery import INCH, decimal, fraction, stand_xz
from fixturegen.parts.layout import rack_material, xz_hole
from fixturegen.parts.marking import letter_height, words_on
from fixturegen.parts.registry import Context, Made
from fixturegen.plate import Hole, Mark, Part, Placement, Profile, Purpose, Turned, TurnedStep, Vertex
from fixturegen.plate.lettering import text_box
from fixturegen.plate.outlines import hull_of_discs
from fixturegen.plate.part import Matrix
from fixturegen.plate.profile import Loop, bounds
from fixturegen.studies.error_budget import trim_of
from fixturegen.studies.jig_records import KEEPER_HOLE, LEVEL_PIN, ClockPlan, TiePlan, level_pin_length, row_point
from fixturegen.studies.keeper_plan import SECOND_HOLE, second_hole
from fixturegen.studies.proofs import over_dowels, turned_change
from fixturegen.studies.stub_plan import BAR_TOLERANCE, THREAD_OVER, WASHER, finger_thread

Floats = npt.NDArray[np.floating[Any]]

SIDES: tuple[Side, Side] = ("left", "right")
SHORT = {"left": "l", "right": "r"}
FLANGE = 3.0 / 8.0 * INCH  # thickness of a finger bar's flange [mm]
FLANGE_OVER = 0.75 * INCH  # flange larger than the bar, on the diameter
SHANK_SHORT = 0.8  # shank ends this much inside the plate, so that the nut draws on the plate [mm]
TIP = 1.5  # chamfer at the tip [mm]
HAND_WEB = 25.0  # steel left round the hand hole [mm]
HAND_LARGEST = 40.0  # greatest radius of the hand hole [mm]
HAND_LEAST = 22.0  # below this no hand hole is worth piercing [mm]
TIE_SLOT = INCH / 8.0  # tie holes longer along the radius than round, after reaming [mm]
ROW_LETTER = 8.0  # height of the labels of the row [mm], and how far above the tie's hole they stand
ROW_ABOVE = 6.0
CALIPER = 12.0 * INCH  # longest caliper taken for granted

# rows of the rotation: local Z along +Y or -Y of T, local X up
ALONG: dict[Side, Matrix] = {
    "left": ((0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0)),
    "right": ((0.0, -1.0, 0.0), (0.0, 0.0, -1.0), (1.0, 0.0, 0.0)),
}


def make_clock_plates(context: Context) -> Made:
    """Clock plates, finger bars and level pins; nothing on a rear axle."""
    plan = context.plan
    if plan.clock is None or plan.tie is None:
        return Made()
    fingers = tuple(_finger_bar(context, which) for which in ("upper", "lower"))
    parts = [*(_plate(context, plan.clock, plan.tie, s) for s in SIDES), *fingers, _level_pin(context)]
    places = [p for s in SIDES for p in _places(context, plan.clock, s)]
    return Made(
        parts=tuple(parts),
        placements=tuple(places),
        hardware=_hardware(context),
        steps=_steps(context, plan.clock),
    )


def _plate(context: Context, clock: ClockPlan, tie: TiePlan, side: Side) -> Part:
    holes = _holes(context, clock, tie)
    seconds = ((*second_hole(tie.radius, row.clock_angle), SECOND_HOLE / 2.0 + 12.0) for row in tie.row)
    outer = hull_of_discs(tuple((-x, z, r) for x, z, r in (*clock.discs, *seconds)))
    hand = _hand_hole(context, outer, holes)
    if hand is not None:
        holes = (*holes, hand)
    least = letter_height(context.sheet.process)
    part = Part(
        name=f"clock-plate-{SHORT[side]}",
        label=f"clock plate, {side}",
        kind="clock_plates",
        form="plate",
        thickness=context.plan.clock_thickness,
        material=rack_material(context, float(context.sheet.jig.clock_plate)),
        profile=Profile(outer=outer, holes=holes),
        hand="L" if side == "left" else "R",
        marks=_marks(clock, tie, least),
        datum="bar bore; x rearward, y up, marked face to the vehicle's left",
        notes=_notes(context, clock, tie, side),
    )
    return replace(part, marks=(*part.marks, *words_on(part, _words(clock), least, (0.0, 0.0))))


def _holes(context: Context, clock: ClockPlan, tie: TiePlan) -> tuple[Hole, ...]:
    stack = "the index plate and the other clock plate"
    found = [
        xz_hole(context, (0.0, 0.0), context.plan.index.bore, Purpose.ANGLE, "bar bore", stack),
    ]
    for row in tie.row:
        at = clock.row_place(tie.radius, row)
        words = stack if row.clock_angle == row.index_angle else "the other clock plate"
        hole = xz_hole(context, at, tie.diameter, Purpose.ANGLE, f"clock {row.label}", words)
        # the tie sags and the plate hangs: only the turn may be held, never the radius
        note = f"{hole.note}; then lengthen {fraction(TIE_SLOT / 2.0)} each way along the radius"
        found.append(replace(hole, note=note, slot=TIE_SLOT, slot_angle=90.0 + row.clock_angle))
    finger = float(context.sheet.jig.finger_diameter)
    for pair in clock.fingers:
        for letter, at in zip("ab", pair.bars, strict=True):
            label = f"finger {pair.pivot} {letter}"
            in_plate = clock.in_plate(at)  # the plate hangs lower than the axle line
            found.append(xz_hole(context, in_plate, finger, Purpose.ANGLE, label, "the other clock plate"))
    for i, at in enumerate(context.plan.index.level_pins):
        found.append(xz_hole(context, at, LEVEL_PIN, Purpose.DOWEL, f"level pin {i + 1}", stack))
    for row, at in zip(tie.row, clock.keepers, strict=True):
        found.append(xz_hole(context, at, KEEPER_HOLE, Purpose.BOLT, f"keeper {row.label}"))
        second = second_hole(tie.radius, row.clock_angle)
        found.append(xz_hole(context, second, SECOND_HOLE, Purpose.BOLT, f"keeper second {row.label}"))
    return tuple(found)


def _hand_hole(context: Context, outer: Loop, holes: Iterable[Hole]) -> Hole | None:
    """The largest round opening that leaves its web all round: lighter, and a place to lift by."""
    discs = [(h.x, h.y, h.finished / 2.0) for h in holes]
    x0, y0, x1, y1 = bounds(outer)
    step = 4.0
    nx, ny = int((x1 - x0) / step) + 1, int((y1 - y0) / step) + 1
    x, y = np.meshgrid(x0 + step * np.arange(nx), y0 + step * np.arange(ny), indexing="ij")
    clear = np.min([np.hypot(x - a, y - b) - r for a, b, r in discs], axis=0)
    room = np.minimum(_all_inside(outer, x, y), clear)
    best: tuple[float, float, float] | None = None
    for i, j in np.ndindex(nx, ny):
        if best is None or room[i, j] > best[0] + 1e-9:
            best = (float(room[i, j]), float(x[i, j]), float(y[i, j]))
    if best is None or best[0] - HAND_WEB < HAND_LEAST:
        return None
    radius = math.floor(min(HAND_LARGEST, best[0] - HAND_WEB))
    return xz_hole(context, (-best[1], best[2]), 2.0 * radius, Purpose.LIGHTENING, "hand hole")


def check_pair(context: Context, clock: ClockPlan, tie: TiePlan, pivot: str) -> tuple[str, str, float, float]:
    """The caliper dimension that shows a finger pair's angle best: names, over dowels [mm], mm per 0.1 deg.

    Taken from a hole of the row or a level pin to a finger bar, no longer than a common caliper.
    """
    finger = float(context.sheet.jig.finger_diameter)
    starts = [(f"clock {r.label}", clock.row_place(tie.radius, r), tie.diameter) for r in tie.row]
    pins = context.plan.index.level_pins
    starts += [(f"level pin {i + 1}", at, LEVEL_PIN) for i, at in enumerate(pins)]
    pair = next(f for f in clock.fingers if f.pivot == pivot)
    found = []
    for name, at, diameter in starts:
        for letter, place in zip("ab", pair.bars, strict=True):
            bar = clock.in_plate(place)
            over = over_dowels(at, bar, diameter, finger)
            gain = abs(turned_change(at, bar, 0.1))
            found.append((over <= CALIPER, gain, name, f"finger {pivot} {letter}", over))
    _, gain, name, to, over = max(found)
    return name, to, over, gain


def _notes(context: Context, clock: ClockPlan, tie: TiePlan, side: Side) -> tuple[str, ...]:
    toward = "unmarked" if side == "left" else "marked"
    notes = [
        f"cut for {clock.caster:.2f} deg of caster from the vertical face",
        "stack with the index plate and the other clock plate, marked faces the same way; clamp, bore and "
        "ream bar bore and tie hole 0 in one setting, then level pins; the other holes in both clock plates",
        "the two finger holes of a pair set the gap: bore them from one zero, do not follow the marks",
        "before boring, lay a straightedge across the plate at both finger pairs: how much light it may show stands "
        "in the report under findings, TCH-03; if it shows more, spot-face the seats of the finger bars in the "
        "setting of their holes",
        f"finger bars on the {toward} face, flange down square, nuts on the other face",
        "after reaming, lengthen the tie holes along the radius by milling or filing top and bottom only: the "
        "two sides hold the angle and stay as reamed; no file on the bores",
    ]
    for pivot in ("upper", "lower"):
        name, to, over, gain = check_pair(context, clock, tie, pivot)
        notes.append(
            f"check with a caliper over bars in hole {name} and hole {to}: {decimal(over)}; "
            f"{decimal(gain, 4)} off is 0.1 deg"
        )
    return tuple(notes)


def _marks(clock: ClockPlan, tie: TiePlan, least: float) -> tuple[Mark, ...]:
    """The line of the steering axis and the labels of the row."""
    marks = list(_axis_line(clock))
    high = max(ROW_LETTER, least)
    for row in tie.row:
        x, z = row_point(tie.radius, row.clock_angle)
        x0, _, x1, _ = text_box(row.label, high)
        marks.append(Mark(-x - (x0 + x1) / 2.0, z + tie.diameter / 2.0 + ROW_ABOVE, row.label, high))
    return tuple(marks)


def _words(clock: ClockPlan) -> tuple[str, ...]:
    """What stands on the free steel below the bar bore."""
    return ("MARKED FACE TO", "VEHICLE LEFT", f"{clock.caster:.2f} DEG", "FROM FACE")


def _axis_line(clock: ClockPlan) -> tuple[Mark, ...]:
    """Two pieces of the steering axis' line as the plate sees it, from the finger pairs toward the bar."""
    lines = []
    for pair in clock.fingers:
        x, z = -pair.middle[0], pair.middle[1]
        r = math.hypot(x, z)
        near, far = (r - 52.0) / r, (r - 28.0) / r
        lines.append(Mark(x * near, z * near, to=(x * far, z * far)))
    return tuple(lines)


def _all_inside(outer: Loop, x: Floats, y: Floats) -> Floats:
    """Distance of points (m, n) to the nearest chord of a convex outline [mm]; negative outside, chords lie inside."""
    found: Floats = np.min([_from_chord(a, b, x, y) for a, b in pairwise((*outer, outer[0]))], axis=0)
    return found


def _from_chord(a: Vertex, b: Vertex, x: Floats, y: Floats) -> Floats:
    found: Floats = ((b.x - a.x) * (y - a.y) - (b.y - a.y) * (x - a.x)) / math.hypot(b.x - a.x, b.y - a.y)
    return found


def _finger_bar(context: Context, pivot: str) -> Part:
    """A finger bar, from its tip (Z = 0) outboard: bar, flange, shank through the plate, thread."""
    clock = context.plan.clock
    if clock is None:  # pragma: no cover - the maker asks only where there are clock plates
        raise GeometryFault("finger", "there is no clock plate", "give a front axle")
    pair = next(f for f in clock.fingers if f.pivot == pivot)
    d, thick = float(context.sheet.jig.finger_diameter), context.plan.clock_thickness
    thread = finger_thread(d)
    reach = clock.inner - pair.tip - FLANGE
    tail = SHANK_SHORT + WASHER + thread.nut + THREAD_OVER
    steps = (
        TurnedStep(TIP, d - 2.0 * TIP, d, None, "chamfer"),
        TurnedStep(reach - TIP, d, None, BAR_TOLERANCE, "gauging length, polished; no taper"),
        TurnedStep(FLANGE, d + FLANGE_OVER, None, None, "flange, face to the plate square within 0.0005 in"),
        TurnedStep(thick - SHANK_SHORT, d, None, BAR_TOLERANCE, "shank, slides in the reamed hole by hand"),
        TurnedStep(tail - TIP, thread.diameter, None, None, f"{thread.name} UNF, undercut at the shank"),
        TurnedStep(TIP, thread.diameter, thread.diameter - 2.0 * TIP, None, "chamfer"),
    )
    return Part(
        name=f"finger-{pivot}",
        label=f"finger bar, {pivot}",
        kind="clock_plates",
        form="turned",
        material="1018-cd",
        turned=Turned(steps),
        quantity=4,
        datum="axis, tip",
        notes=(
            "turn from one bar between centres: gauging length, face of the flange and shank in one setting",
            f"gauging length {decimal(reach)} from the flange, all four alike within 1/64 in",
            f"flange clears its neighbour by {decimal(math.dist(*pair.bars) - d - FLANGE_OVER)}",
        ),
    )


def _level_pin(context: Context) -> Part:
    length = level_pin_length(context.plan.clock_thickness)
    steps = (
        TurnedStep(1.0, LEVEL_PIN - 2.0, LEVEL_PIN, None, "chamfer"),
        TurnedStep(length - 2.0, LEVEL_PIN, None, (0.0, 0.006), "ground"),
        TurnedStep(1.0, LEVEL_PIN, LEVEL_PIN - 2.0, None, "chamfer"),
    )
    return Part(
        name="level-pin",
        label="level pin",
        kind="clock_plates",
        form="turned",
        material="ground-1045",
        turned=Turned(steps),
        quantity=4,
        datum="axis, flush end",
        notes=(
            f"bought: ground dowel, {decimal(LEVEL_PIN, 4)} as ground, {fraction(length)} long; pressed in flush on "
            "the inboard face",
        ),
    )


def _places(context: Context, clock: ClockPlan, side: Side) -> list[Placement]:
    """Where plate, finger bars and level pins of one side stand."""
    plan, s, short = context.plan, sign_of(side), SHORT[side]
    middle = s * (clock.inner + plan.clock_thickness / 2.0)
    name = f"clock-plate-{short}"
    found = [stand_xz(name, middle, plan.clock_thickness, plan.height - clock.drop, f"clock-{short}")]
    for pair in clock.fingers:
        for x, z in pair.bars:
            at = (x, s * pair.tip, z + plan.height)
            found.append(Placement(f"finger-{pair.pivot}", at, ALONG[side], f"fingers-{short}"))
    for x, z in plan.index.level_pins:
        at = (x, s * clock.inner, z + plan.height - clock.drop)
        found.append(Placement("level-pin", at, ALONG[side], f"clock-{short}"))
    return found


def _hardware(context: Context) -> tuple[tuple[str, str, int, str], ...]:
    thread = finger_thread(float(context.sheet.jig.finger_diameter))
    return (
        ("hex jam nut", thread.name, 8, "finger bars"),
        ("thick washer", f"{thread.name.split('-')[0]}, 3/16 in thick", 8, "finger bars"),
    )


def _steps(context: Context, clock: ClockPlan) -> tuple[tuple[int, str], ...]:
    inner = [clock.inner - abs(k.axis_point[1]) for k in context.axle.knuckles]
    return (
        (
            58,
            "On the bench: four finger bars into each clock plate, flanges down square, nuts tight; try a "
            "gauge head between each pair: it slides, a 0.003 in feeler beside it does not.",
        ),
        (
            60,
            "Clock plates over the bar's ends, marked face to the vehicle's left on both, the finger bars "
            "sliding along the bar past the gauge heads; the collar sets the inboard face "
            f"{decimal(inner[0], 2)} outboard of the steering axis at axle height.",
        ),
        (
            65,
            "Turn each knuckle and plate by hand until all four bars straddle their heads without force.",
        ),
        (
            85,
            "Level on the two level pins of the index plate, then of each clock plate, same way round each "
            "time; write the three readings down.",
        ),
        (86, f"{trim_of(context.sheet.housing.kind)} Jam nuts of the steady's screws tight; read once more."),
        (
            90,
            "Tack the knuckles, six tacks of 3/4 in each, opposite ones in turn, each ground; read the levels "
            "again after every pair. Back the bar collars off 1/16 to 1/8 in before welding.",
        ),
        (
            94,
            "Out: keepers off, tie drawn, collars off; slide each clock plate outboard off the bar, its "
            "finger bars clear the gauge heads.",
        ),
    )
