"""A stub for each kind of pivot."""

from __future__ import annotations

import numpy as np

from fixturegen.errors import GeometryFault
from fixturegen.parts._stub_pieces import (
    CHAMFER,
    CUP_PROUD,
    FLOOR_FREE,
    HEAD_NOTE,
    JACK,
    JACK_DEEP,
    ONE_SETTING,
    PILOT,
    SCREW,
    SCREW_DRILL,
    SLEEVE_THREAD,
    TIGHT,
    Cut,
    Piece,
    Stub,
    head,
    nut,
    sleeve,
    steps_of,
    stub_part,
    tail,
    tommy,
    washer,
)
from fixturegen.parts.joinery import INCH, decimal
from fixturegen.plate import Turned, TurnedStep
from fixturegen.studies.stub_plan import (
    PAST,
    SEAT_PROUD,
    SEAT_SHORT,
    SHANK_FIT,
    SLIP_FIT,
    THREADS,
    PivotPlan,
    jack_thread,
    tail_length,
    tail_thread,
    taper_diameter,
)

# Between arm and bar there is little room: a loose stub must step aside before it passes the tube end.
SIDE_STEP = "the stub, once loose, a step of 1/16 in outboard to pass the tube end, then"


def stub_of(pivot: PivotPlan) -> Stub:
    """The stub of a pivot.

    Raises:
        GeometryFault: When no stub can be held in it.
    """
    kind, inside = pivot.pivot.kind, pivot.pivot.large_end == "inside"
    if kind == "pin":
        return _over_pin(pivot)
    if kind == "thread":
        return _threaded(pivot)
    if kind == "taper":
        return _taper_from_inside(pivot) if inside else _taper_from_outside(pivot)
    deep = float(pivot.pivot.depth or 0.0) >= pivot.pivot.arm_thickness - 1.0
    if kind == "straight" or deep:
        return _straight(pivot)
    if inside:
        return _cup_from_inside(pivot)
    return _cup_blind(pivot) if is_blind(pivot) else _cup_through(pivot)


def is_blind(pivot: PivotPlan) -> bool:
    """Whether its stub can only be held up from outside, by a strap over the finger bars."""
    p = pivot.pivot
    return (
        p.kind == "cup"
        and p.through <= 0.0
        and p.large_end == "outside"
        and float(p.depth or 0.0) < p.arm_thickness - 1.0
    )


def _straight(pivot: PivotPlan) -> Stub:
    bore = float(pivot.pivot.diameter)
    shank = bore - SHANK_FIT
    words = f"shank: measured bore {decimal(bore, 4)} less 0.001 in; undercut 1/32 under the shoulder"
    thread = tail_thread(pivot, shank - 4.0)
    start = pivot.inside - tail_length(thread)
    steps = steps_of(
        start,
        *tail(start, pivot.inside + 1.0, thread),
        (pivot.inside + 1.0 + CHAMFER, shank - 2.0 * CHAMFER, shank, None, "lead"),
        (pivot.outside, shank, None, TIGHT, words),
        (pivot.outside + pivot.shoulder, pivot.shoulder_diameter(bore), None, None, "shoulder, face square"),
        *head(pivot),
    )
    body = stub_part(
        pivot,
        "stub pin, straight bore",
        Turned(steps, cross_holes=tommy(start, pivot)),
        ONE_SETTING,
        HEAD_NOTE,
    )
    return Stub(
        (Piece(body, start), washer(pivot, bore, thread)),
        "from outside, shoulder down on the clean outer face of the arm; thick washer and jam nut from "
        "inside, snug (15 ft-lb), anti-seize on the shank.",
        "nut and washer off between arm and bar, then turn it by a tommy bar and "
        "draw it outward; it comes out warm, the shank is 0.001 in under the bore.",
        (nut(thread),),
    )


def _taper_from_outside(pivot: PivotPlan) -> Stub:
    p = pivot.pivot
    per_foot, large = float(p.taper_per_foot or 0.0), float(p.diameter)
    short, proud = _seat(pivot)
    small = taper_diameter(large, per_foot, p.arm_thickness - short)
    thread = tail_thread(pivot, small - 1.0)
    foot, top = pivot.inside + short, pivot.outside + proud
    start = pivot.inside - tail_length(thread)
    steps = steps_of(
        start,
        *tail(start, foot, thread),
        (top, small, taper_diameter(large, per_foot, -proud), None, _taper_words(pivot)),
        *head(pivot),
    )
    length = sum(s.length for s in steps)
    turned = Turned(
        steps,
        bores=((length - JACK_DEEP, length, JACK.drill, None, f"tap {JACK.name} x 3/4 in deep, jacking thread"),),
        cross_holes=tommy(start, pivot),
    )
    body = stub_part(
        pivot,
        "stub pin, taper, large end outside",
        turned,
        ONE_SETTING,
        HEAD_NOTE,
        _blue(pivot),
    )
    return Stub(
        (Piece(body, start), washer(pivot, taper_diameter(large, per_foot, p.arm_thickness), thread)),
        "wipe the taper dry; from outside, push home by hand; thick washer and jam nut from inside, draw "
        "it home (25 ft-lb).",
        f"nut off; a {JACK.name} bolt through a bridge over the boss (a bit of tube "
        "and a thick washer) into the head draws it outward; or nut flush with the end and one tap "
        "with a brass drift.",
        (
            nut(thread),
            ("hex bolt, full thread", f"{JACK.name} x 3", 1),
            ("bridge tube", "2 in x 1/8 in wall, 3 in long", 1),
        ),
    )


def _seat(pivot: PivotPlan) -> tuple[float, float]:
    """How far the male taper ends inside the small end and stands beyond the large one [mm]."""
    rise = pivot.head_from - pivot.outside
    return min(SEAT_SHORT, pivot.pivot.arm_thickness / 4.0), min(SEAT_PROUD, rise)


def _taper_words(pivot: PivotPlan) -> str:
    p = pivot.pivot
    per_foot = float(p.taper_per_foot or 0.0)
    return (
        f"taper {decimal(per_foot)} per foot, {decimal(float(p.diameter), 4)} at the plane of the arm's "
        f"{p.large_end} face"
    )


def _blue(pivot: PivotPlan) -> str:
    return f"{_taper_words(pivot)}; fit by blue in the pivot itself: four fifths bearing, all round at the large end"


def _from_inside(pivot: PivotPlan, label: str, bore: float, seat: tuple[Cut, ...], start: float, *notes: str) -> Stub:
    """A stub whose seat lies inside; its tail passes `bore` [mm] and carries the sleeve."""
    pilot = int((bore - 0.8) / 0.5) * 0.5
    fitting = [t for t in THREADS[:5] if t.diameter <= pilot - 1.0]
    if not fitting:
        raise GeometryFault(
            f"stub-{pivot.name}",
            f"its tail must pass a hole of {bore / INCH:.3f} in and still carry a thread",
            "measure the pivot again",
        )
    thread = fitting[-1]
    jack = jack_thread(thread)
    end = pivot.outside + PILOT + SLEEVE_THREAD
    steps = steps_of(
        start,
        *seat,
        (pivot.outside + PILOT, pilot, None, TIGHT, "plain tail, fits the sleeve's bore"),
        (end - CHAMFER, thread.diameter, None, None, f"{thread.name} UNF, undercut at the shoulder"),
        (end, thread.diameter, thread.diameter - 2.0 * CHAMFER, None, "chamfer"),
    )
    body = stub_part(pivot, label, Turned(steps), ONE_SETTING.replace("gauge head", "plain tail"), *notes)
    length = end - start
    beside = length <= pivot.room(max(s.diameter for s in steps) / 2.0)
    when = "between arm and bar" if beside else "from between the arms, before the bar is slid in"
    drawn = "" if beside else "draw the bar out; "
    return Stub(
        (Piece(body, start), sleeve(pivot, pilot, thread)),
        f"{when}, tail first, outward through the pivot; a tap to seat it, then screw the sleeve down on "
        "its tail until the foot draws it home (15 ft-lb).",
        f"{drawn}sleeve back two turns, a {jack.name} bolt in its outer end pushes the "
        f"stub inward; sleeve off, {SIDE_STEP if beside else 'stub'} out between the arms.",
        (("hex bolt, full thread", f"{jack.name} x 2", 1),),
        first=not beside,
    )


def _taper_from_inside(pivot: PivotPlan) -> Stub:
    p = pivot.pivot
    per_foot, large = float(p.taper_per_foot or 0.0), float(p.diameter)
    short, proud = _seat(pivot)
    start, top = pivot.inside - proud, pivot.outside - short
    low, high = (taper_diameter(large, per_foot, d) for d in (-proud, p.arm_thickness - short))
    seat: tuple[Cut, ...] = ((top, low, high, None, _taper_words(pivot)),)
    bore = taper_diameter(large, per_foot, p.arm_thickness)
    return _from_inside(pivot, "stub pin, taper, large end inside", bore, seat, start, _blue(pivot))


def _cup_from_inside(pivot: PivotPlan) -> Stub:
    p = pivot.pivot
    if p.through <= 0.0:
        raise GeometryFault(
            f"stub-{pivot.name}",
            "a blind cup bore that opens toward the axle line cannot be reached by a gauge head",
            f"give knuckles.{pivot.name}.through, or drill the arm 5/8 in through the cup's middle",
        )
    disc = p.diameter - SHANK_FIT
    start, floor = pivot.inside - CUP_PROUD, pivot.inside + float(p.depth or 0.0)
    seat: tuple[Cut, ...] = (
        (floor - FLOOR_FREE, disc, None, TIGHT, _disc_words(pivot)),
        (floor, disc, disc - 2.0 * FLOOR_FREE, None, "chamfer, clears the corner of the cup bore"),
    )
    words = "face the disc square: it seats on the floor"
    return _from_inside(pivot, "stub pin, cup bore open inside", float(p.through), seat, start, words)


def _disc_words(pivot: PivotPlan) -> str:
    return f"disc: measured cup bore {decimal(float(pivot.pivot.diameter), 4)} less 0.001 in"


def _disc(pivot: PivotPlan) -> tuple[Cut, ...]:
    """The disc that fills a cup bore open to the outside, from its floor up."""
    p = pivot.pivot
    disc, floor = p.diameter - SHANK_FIT, pivot.outside - float(p.depth or 0.0)
    top = pivot.outside + min(CUP_PROUD, pivot.shoulder)
    return (
        (floor + FLOOR_FREE, disc - 2.0 * FLOOR_FREE, disc, None, "chamfer, clears the corner of the cup bore"),
        (top, disc, None, TIGHT, _disc_words(pivot)),
    )


def _cup_through(pivot: PivotPlan) -> Stub:
    p = pivot.pivot
    thread = tail_thread(pivot, p.through - 1.0)
    start = pivot.inside - tail_length(thread)
    floor = pivot.outside - float(p.depth or 0.0)
    steps = steps_of(start, *tail(start, floor, thread), *_disc(pivot), *head(pivot))
    body = stub_part(
        pivot,
        "stub pin, cup bore",
        Turned(steps, cross_holes=tommy(start, pivot)),
        ONE_SETTING,
        HEAD_NOTE,
        "face the underside of the disc square: it seats on the floor of the cup bore",
    )
    return Stub(
        (Piece(body, start), washer(pivot, float(p.through), thread)),
        "clean the floor of the cup bore; from outside until the disc seats on the floor; thick washer and "
        "jam nut from inside, snug (15 ft-lb).",
        "nut and washer off between arm and bar, turn it by a tommy bar and draw it outward.",
        (nut(thread),),
    )


def _cup_blind(pivot: PivotPlan) -> Stub:
    p = pivot.pivot
    start = pivot.outside - float(p.depth or 0.0)
    end = strap_end(pivot)
    steps = steps_of(start, *_disc(pivot), *head(pivot, end))
    length = end - start
    turned = Turned(
        steps,
        bores=((length - JACK_DEEP, length, JACK.drill, None, f"tap {JACK.name} x 3/4 in deep, jacking thread"),),
    )
    body = stub_part(
        pivot,
        "stub pin, blind cup bore",
        turned,
        ONE_SETTING,
        HEAD_NOTE,
        "face the underside of the disc square: it seats on the floor of the cup bore",
        "screw a 3/8-16 set screw flush into the head's end: the strap's screw pushes on it",
    )
    return Stub(
        (Piece(body, start),),
        "clean the floor of the cup bore; from outside until the disc seats on it, held by a strip of tape; when "
        "the clock plate is on, strap over the finger bars with two U-bolts, its screw finger tight on the head.",
        "set screw back, U-bolts and strap off, a hand under the stub; clock plate off; a 3/8-16 bolt in the head "
        "through a bridge over the boss draws the disc outward.",
        (
            ("U-bolt, 1/4 rod, with nuts", f"for a {decimal(pivot.finger)} bar", 4),
            ("set screw, oval point, with jam nut", "3/8-16 x 1", 2),
            ("set screw, flat point", "3/8-16 x 3/8", 2),
        ),
    )


def _threaded(pivot: PivotPlan) -> Stub:
    p = pivot.pivot
    major = float(p.diameter)
    ring = 3.0 / 8.0 * INCH
    if ring + 2.0 > pivot.room(major / 2.0 + 8.0):
        raise GeometryFault(f"stub-{pivot.name}", "no room for a lock ring between arm and bar", "use a thinner bar")
    words = p.thread or decimal(major)
    start = pivot.inside - ring - 2.0
    steps = steps_of(
        start,
        (start + CHAMFER, major - 2.0 * CHAMFER, major, None, "chamfer"),
        (pivot.outside - 3.0, major, None, None, f"thread {words}, cut to fit the arm without shake"),
        (pivot.outside, major - 4.0, None, None, "undercut"),
        (pivot.outside + pivot.shoulder, pivot.shoulder_diameter(major), None, None, "pilot shoulder, face square"),
        *head(pivot),
    )
    body = stub_part(
        pivot,
        "stub pin, threaded",
        Turned(steps, cross_holes=tommy(start, pivot)),
        ONE_SETTING.replace("seat", "thread"),
        HEAD_NOTE,
        "the thread only draws; the faced shoulder on a clean face sets the stub square",
    )
    lock = Turned(
        steps=(TurnedStep(ring, min(major + 16.0, p.boss_diameter - 1.0), None, None, "face both sides square"),),
        bores=((0.0, ring, major, None, f"thread {words}, 60 deg lead both ends"),),
        cross_holes=tuple((ring / 2.0, 0.1875 * INCH, a, "tommy hole") for a in (0.0, 120.0, 240.0)),
    )
    locked = stub_part(pivot, "lock ring", lock, suffix="-ring")
    return Stub(
        (Piece(body, start), Piece(locked, pivot.inside - ring)),
        "anti-seize; screw in from outside until the shoulder lands on the clean face, half a turn less if "
        "the thread would bind; lock ring from inside, snug.",
        "lock ring back, turn it out by a tommy bar.",
    )


def _over_pin(pivot: PivotPlan) -> Stub:
    p = pivot.pivot
    start = pivot.outside
    steps = steps_of(start, *head(pivot))
    length = sum(s.length for s in steps)
    reach = float(p.length or 0.0)
    bore = p.diameter + SLIP_FIT
    deep = min(reach + 1.0, length)
    words = f"ream or bore to slip on the measured pin, {decimal(float(p.diameter), 4)} +0.0008"
    bores = [(0.0, deep, bore, None, words)]
    jacked = length - deep >= 8.0
    if jacked:
        bores.append((deep, length, JACK.drill, None, f"tap {JACK.name} through, jacking thread and vent"))
    # between the two bars, on the side where neither touches
    screw = min(pivot.along - start, 0.5 * reach)
    grip = () if deep >= length - PAST else tommy(start, pivot)
    cross = ((screw, SCREW_DRILL, 0.0, f"one side only: tap {SCREW}, brass-tipped set screw"),)
    body = stub_part(
        pivot,
        "stub bushing over the pivot's own pin",
        Turned(steps, bores=tuple(bores), cross_holes=(*cross, *grip)),
        "bore and gauge head in one setting, true within 0.0005 in",
        HEAD_NOTE,
        "the tapped hole goes through one wall only",
    )
    pull = f"a {JACK.name} bolt in its end pushes it off the pin" if jacked else "turn and pull it off by hand"
    hardware = [("set screw, brass tip", f"{SCREW} x 1/4", 2)]
    if jacked:
        hardware.append(("hex bolt, full thread", f"{JACK.name} x 2", 1))
    return Stub(
        (Piece(body, start),),
        "dress the pin; slide the bushing over it down to the arm's face; set screw toward the middle of the "
        "axle, just firm.",
        f"set screw back; {pull}.",
        tuple(hardware),
    )


def strap_end(pivot: PivotPlan) -> float:
    """Station of the end of a blind stub's head: just under the strap that lies on the bars [mm]."""
    way = np.array(pivot.place.outward)
    tilt = float(abs(way[1]))
    return pivot.along + pivot.finger / 2.0 - pivot.head / 2.0 * tilt - 1.5
