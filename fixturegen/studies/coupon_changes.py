"""What the sheet should say after a coupon was measured, with the formula of each value.

Readings come in as they were asked for; whatever is no plausible reading is refused with a sentence.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from fixturegen.calc.cut_tolerance import cut_tolerance
from fixturegen.errors import Fault, InputFault
from fixturegen.findings import Trust
from fixturegen.sheet.contradictions.shop import SAME_PLATE
from fixturegen.sheet.keys import Path
from fixturegen.sheet.specs import Sheet
from fixturegen.stock import CutProcess, entry
from fixturegen.studies.coupon_plan import CouponPlan, StripPlan
from fixturegen.studies.coupon_readings import (
    MISREAD,
    HoleReading,
    KerfReading,
    believable_kerf,
    bend_deduction,
    hole_error,
    kerf_of_block,
    kerf_of_both,
    kerf_of_window,
    room_of,
    smallest_round,
)
from fixturegen.units import as_inch

SAME_ANGLE = 0.5  # bend tests closer than this in angle are of one kind [deg]
SAME_RADIUS = 0.4  # and in radius, a step of a radius gauge, 1/64 in [mm]
TOLD = 0.25  # allowance that differs from the kerf of the sheet by more than 0.010 in is told [mm]
FAR_OFF = 0.4  # openings wrong by more than this (0.016 in): slots and holes want another coupon [mm] [cp]


@dataclass(frozen=True)
class Readings:
    """What was measured on one coupon; None for what was not.

    Attributes:
        window: Side of the window [mm].
        block: Side of the block that fell out of it [mm].
        kerf_set: What the coupon is lettered with (K) [mm].
        holes: Diameters of each hole, by number from 1 [mm].
        slot: Number of the tightest slot the block enters by hand.
        saddle: Number of the tightest saddle that seats.
        letters: Height of the smallest lettering that can be read [mm].
    """

    window: float | None = None
    block: float | None = None
    kerf_set: float | None = None
    holes: Mapping[int, tuple[float, ...]] = field(default_factory=dict)
    slot: int | None = None
    saddle: int | None = None
    letters: float | None = None


@dataclass(frozen=True)
class StripReadings:
    """What was measured on the bent strip.

    Attributes:
        flange_a: Outside [mm].
        flange_b: Outside [mm].
        flat: Length before it was bent [mm].
        radius: Inside [mm].
        angle: Turned through [deg].
        as_drawn: Names of those that were not measured but taken as drawn.
    """

    flange_a: float
    flange_b: float
    flat: float
    radius: float
    angle: float
    as_drawn: tuple[str, ...] = ()


@dataclass(frozen=True)
class Change:
    """One value for the sheet.

    Attributes:
        path: Where it stands.
        value: New [mm], [deg].
        formula: Where it comes from, with numbers left out.
        kind: length or angle.
        trust: Measured, or assumed where a size was taken as drawn.
    """

    path: Path
    value: float
    formula: str
    kind: str = "length"
    trust: Trust = Trust.MEASURED


@dataclass(frozen=True)
class Outcome:
    """Changes, and what the person should know besides; `cut_with` is the kerf the cut allowed for [mm]."""

    changes: tuple[Change, ...]
    notes: tuple[str, ...] = ()
    cut_with: float | None = None


def said(value: float, metric: bool) -> str:
    """A length [mm] as the shop reads a caliper: a thousandth of an inch, or a hundredth of a millimetre."""
    number = f"{value:.2f} mm" if metric else f"{value / 25.4:.3f} in"
    return number.removeprefix("-") if not float(number.split()[0]) else number


def in_words(change: Change, metric: bool) -> str:
    """The new value as it is written on the sheet: what is drawn in its fraction, what is measured in decimals."""
    if change.kind == "angle":
        return f"{change.value:g} deg"
    if not metric and change.path[-1] in ("smallest_hole", "mark_height"):
        inches = as_inch(change.value, 64)
        if "(" not in inches:
            return inches
    return said(change.value, metric)


def from_coupon(sheet: Sheet, plan: CouponPlan, given: Readings) -> Outcome:
    """What the process values become.

    Args:
        sheet: The build sheet.
        plan: The coupon's sizes as drawn.
        given: What was measured.

    Raises:
        InputFault: When a reading is missing or cannot be right.
    """
    changes: list[Change] = []
    notes: list[str] = []
    reading = _kerf(sheet, plan, given)
    if reading is not None:
        how = "(window - block) / 2"
        if given.window is None:
            how = "drawn - kerf set - block"
        elif given.block is None:
            how = "kerf set + window - drawn"
        changes.append(Change(("process", "kerf"), reading.kerf, how))
        notes += _kerf_notes(sheet, plan, given, reading)
    wide = 0.0 if reading is None else reading.wide
    if given.holes:
        more, told = _holes(sheet, plan, given, wide)
        changes += more
        notes += told
    if given.slot is not None:
        room = plan.rooms[_number(given.slot, len(plan.rooms), "--slot", "slots") - 1]
        changes.append(Change(("process", "slot_room"), room_of(room, wide), "room drawn + (window - drawn) / 2"))
        if given.slot == len(plan.rooms):
            notes.append(f"slot {given.slot} is the widest there is: the room may be less than this joint needs")
    if given.saddle is not None:
        room = plan.saddles[_number(given.saddle, len(plan.saddles), "--saddle", "saddles") - 1]
        changes.append(Change(("process", "saddle_room"), room_of(room, wide), "room drawn + (window - drawn) / 2"))
    if given.letters is not None:
        changes.append(_letters(plan, given.letters))
    _demand_rooms(changes, plan)
    return Outcome(tuple(changes), tuple(notes), None if reading is None else reading.allowed)


def _kerf(sheet: Sheet, plan: CouponPlan, given: Readings) -> KerfReading | None:
    """The kerf; None when nothing asks for it."""
    rest = given.holes or given.slot is not None or given.saddle is not None
    both = "--window and --block: the opening, and the block that fell out of it, measured the same way"
    if given.window is None and given.block is None:
        if rest:
            words = "slots, saddles and holes are cleared of what the kerf does: measure the window first"
            raise InputFault(Fault("--window", "nothing", both, words))
        if given.kerf_set is not None:
            raise InputFault(Fault("--kerf-set", "alone", both, "it is no reading: measure the window and the block"))
        return None
    _near("--window", given.window, plan.block, plan)
    if given.window is not None and given.block is not None:
        reading = kerf_of_both(plan.block, given.window, given.block)
    elif given.kerf_set is None:
        key = "--block" if given.window is None else "--window"
        words = f"with {key} alone, the kerf it was cut with must be known: give --kerf-set, the number after K on it"
        raise InputFault(Fault(key, "alone", both, words))
    elif given.window is not None:
        reading = kerf_of_window(plan.block, given.window, given.kerf_set)
    else:
        reading = kerf_of_block(plan.block, float(given.block or 0.0), given.kerf_set)
    process = entry("processes", sheet.process.name, CutProcess)
    low, high = believable_kerf(float(process.kerf_lowest), float(process.kerf_highest))
    if not low <= reading.kerf <= high:
        key = "--window" if given.block is None else "--block"
        words = (
            f"shops see {process.kerf_lowest.text} to {process.kerf_highest.text} with {process.id}: measure again "
            "across the middle of the sides, dross off, or name another process"
        )
        shown = f"a kerf of {said(reading.kerf, plan.metric)}"
        raise InputFault(Fault(key, shown, f"{said(low, plan.metric)} to {said(high, plan.metric)}", words))
    return reading


def _near(key: str, value: float | None, drawn: float, plan: CouponPlan) -> None:
    """Refuse a reading far from what is drawn."""
    if value is not None and abs(value - drawn) > MISREAD:
        low, high = said(drawn - MISREAD, plan.metric), said(drawn + MISREAD, plan.metric)
        words = f"{said(drawn, plan.metric)} is drawn: measure again, and look at the unit and at the plate named"
        raise InputFault(Fault(key, said(value, plan.metric), f"{low} to {high}", words))


def _kerf_notes(sheet: Sheet, plan: CouponPlan, given: Readings, reading: KerfReading) -> list[str]:
    notes = []
    expected, what = float(sheet.process.kerf), "the sheet says"
    if given.kerf_set is not None:
        expected, what = given.kerf_set, "you set"
    if abs(reading.allowed - expected) > TOLD:
        notes.append(
            f"the cut allowed for a kerf of {said(reading.allowed, plan.metric)}, {what} "
            f"{said(expected, plan.metric)}: unless K on the coupon is the first of them, the controller used a number "
            "of its own, none, or allowed for it once more than the file"
        )
    if abs(reading.wide) > FAR_OFF:
        notes.append(
            f"openings came out {said(abs(reading.wide), plan.metric)} too {'wide' if reading.wide > 0 else 'narrow'}: "
            "take the kerf from this coupon, and slots, saddles and holes from one cut with the new kerf"
        )
    if len(sheet.plates) > 1:
        notes.append(f"the sheet has one kerf for every plate: this one is of {plan.plate}")
    return notes


def _holes(sheet: Sheet, plan: CouponPlan, given: Readings, wide: float) -> tuple[list[Change], list[str]]:
    """Error of the holes and the smallest that is round."""
    holes = []
    for number, across in sorted(given.holes.items()):
        drawn = plan.holes[number - 1]
        for value in across:
            _near(f"--hole-{number}", value, drawn, plan)
        holes.append(HoleReading(drawn, across))
    changes, notes = [], []
    try:
        class_ = "1" if sheet.process.tolerance_class == 1 else "2"
        limits = [float(cut_tolerance(plan.nominal, h.drawn, class_).tolerance) for h in holes]  # type: ignore[arg-type]
    except InputFault:
        limits = []
        notes.append(f"ISO 9013 has no class for a hole in {plan.plate} plate on file: the smallest hole stays")
    smallest = smallest_round(holes, wide, limits) if limits else None
    counted = [h for h in holes if smallest is None or h.drawn >= smallest]
    changes.append(
        Change(("process", "hole_error"), hole_error(counted, wide), "mean of (hole - drawn) - (window - drawn)")
    )
    if smallest is not None:
        how = f"smallest hole within class {class_} and out of round by no more than 0.020 in"
        changes.append(Change(("process", "smallest_hole"), smallest, how))
        notes.append(f"the sheet has one smallest hole for every plate: this one is of {plan.plate}")
    elif limits:
        notes.append(
            "no smallest hole: give each hole twice, along the coupon and across it; when they differ, it is not round"
        )
    return changes, notes


def _number(given: int, most: int, key: str, what: str) -> int:
    if not 1 <= given <= most:
        words = f"give the number beside it; when none of the {what} goes, set the kerf first and cut another coupon"
        raise InputFault(Fault(key, str(given), f"1 to {most}", words))
    return given


def _letters(plan: CouponPlan, given: float) -> Change:
    nearest = min(plan.letters, key=lambda h: abs(h - given))
    if abs(nearest - given) > 0.1 * nearest:
        unit = "mm" if plan.metric else "in"
        allowed = ", ".join(f"{w} {unit}" for w in plan.letter_words)
        words = "name the smallest of these that can be read on the coupon"
        raise InputFault(Fault("--letters", said(given, plan.metric), allowed, words))
    return Change(("process", "mark_height"), nearest, "smallest lettering that can be read")


def _demand_rooms(changes: list[Change], plan: CouponPlan) -> None:
    """Refuse a room that is none: the tongue entered only because the cut was wide, or misread."""
    for change in changes:
        if str(change.path[-1]).endswith("_room") and change.value < 0.0:
            key = "--slot" if change.path[-1] == "slot_room" else "--saddle"
            shown = f"a room of {said(change.value, plan.metric)} once the kerf is right"
            words = "leave it out, set the new kerf, cut another coupon and take it from that"
            raise InputFault(Fault(key, shown, "0 and more", words))


def from_strip(sheet: Sheet, plan: StripPlan, given: StripReadings) -> Outcome:
    """The bend test that the strip comes to: a new one, or new values of the one that is there.

    Args:
        sheet: The build sheet.
        plan: The strip's sizes as drawn.
        given: What was measured.

    Raises:
        InputFault: When a reading cannot be right.
    """
    for key, value, drawn in (
        ("--flange-a", given.flange_a, plan.flange),
        ("--flange-b", given.flange_b, plan.flange),
        ("--flat", given.flat, plan.flat),
    ):
        if abs(value - drawn) > 2.0 * MISREAD:
            low, high = said(drawn - 2.0 * MISREAD, plan.metric), said(drawn + 2.0 * MISREAD, plan.metric)
            words = f"{said(drawn, plan.metric)} is drawn: measure the outside of the strip again, and look at the unit"
            raise InputFault(Fault(key, said(value, plan.metric), f"{low} to {high}", words))
    at = _test_of(sheet, plan, given)
    measured = {
        name: Trust.ASSUMED if name in given.as_drawn else Trust.MEASURED for name in ("flat", "radius", "angle")
    }
    deduction = bend_deduction(given.flange_a, given.flange_b, given.flat)
    how = "flange a + flange b - flat"
    changes = (
        Change(("brake", "tests", at, "plate"), plan.nominal, "as named"),
        Change(("brake", "tests", at, "inside_radius"), given.radius, "by gauge", trust=measured["radius"]),
        Change(("brake", "tests", at, "angle"), given.angle, "as bent", "angle", measured["angle"]),
        Change(("brake", "tests", at, "deduction"), deduction, how, trust=measured["flat"]),
    )
    return Outcome(changes)


def _test_of(sheet: Sheet, plan: StripPlan, given: StripReadings) -> int:
    """Place of the bend test of this plate, angle and radius in the list; the next free one without."""
    for n, test in enumerate(sheet.brake.tests):
        same = abs(test.plate - plan.nominal) < SAME_PLATE and abs(test.angle - given.angle) < SAME_ANGLE
        if same and abs(test.inside_radius - given.radius) <= SAME_RADIUS:
            return n
    return len(sheet.brake.tests)
