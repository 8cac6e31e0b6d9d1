"""FIT-03, FIT-05, FIT-08, FIT-09: what goes in and out along its way."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from fixturegen.axle.model import Side, sign_of
from fixturegen.checks.overlap import TOUCH, Overlap, Passage, overlap, slide
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.scene import (
    AXLE,
    UNTURNED,
    Thing,
    chosen,
    elsewhere,
    gap_of_boxes,
    grouped,
    inches,
    moved_box,
    parts_of,
    scene_of,
)
from fixturegen.findings import Finding, Level
from fixturegen.plate.part import Vector
from fixturegen.sheet.specs import Pivot

SIDES: tuple[Side, Side] = ("left", "right")
STAND = ("stand", "index", "steady")
SHRINK = 25.4 / 32.0
"""What a weld may draw a tube end inward [mm] (common practice, no source)."""
ASIDE = 20.0  # a pin clears the end of the neck after this much outboard [mm]
ROOM = 220.0  # round a pin, within which things may stop it [mm]
SIDEWAYS = 150.0  # out between the arms this far a pin is in the hand [mm]
SPARE = 10.0  # a body that is this far past everything is out [mm]


def with_axle(things: Iterable[Thing]) -> tuple[Thing, ...]:
    """The axle and what is bolted into it before it is lowered (pucks in the bearing bores)."""
    return chosen(things, lambda t: t.group == AXLE or t.part == "carrier-puck")


def of_stand(things: Iterable[Thing]) -> tuple[Thing, ...]:
    """What is slid onto the face: stand, index and puck plates, steady."""
    return chosen(things, lambda t: t.group in STAND and t.part != "carrier-puck")


def cradles(things: Iterable[Thing]) -> tuple[Thing, ...]:
    """Both cradles."""
    return grouped(things, "cradle-l", "cradle-r")


def _finding(claim: Claim, one: Overlap, doing: str, remedy: str) -> Finding:
    return claim.finding(
        Level.FAIL,
        f"{doing}: after {inches(one.travel)} {one.first.name} meets {one.second.name}, {inches(one.depth)} deep",
        remedy=remedy,
        parts=parts_of(one.first, one.second),
        assembly="jig",
        point=one.point,
        value=one.depth,
        limit=TOUCH,
        unit="mm",
    )


def _passed(claim: Claim, doing: str, passage: Passage, length: float) -> Finding:
    words = f"{doing}: free over {inches(length)}"
    if passage.least is not None:
        a, b = passage.between
        words += f"; nearest {a} and {b}, {inches(passage.least)} apart"
    if passage.slid:
        pairs = ", ".join(f"{a} along {b}" for a, b in passage.slid[:4])
        words += f"; {len(passage.slid)} pairs slide closer than 0.4 mm ({pairs})"
    return claim.finding(
        Level.PASS,
        words,
        assembly="jig",
        point=passage.point,
        value=passage.least,
        limit=0.0,
        unit="mm",
    )


def _told(claim: Claim, doing: str, passage: Passage, length: float, remedy: str) -> list[Finding]:
    """The finding or findings of one motion."""
    if not passage.hits:
        return [_passed(claim, doing, passage, length)]
    found = []
    for group in dict.fromkeys(h.second.group for h in passage.hits):
        met = sorted((h for h in passage.hits if h.second.group == group), key=lambda h: h.travel)
        first = _finding(claim, met[0], doing, remedy)
        more = f"; {len(met) - 1} more pairs meet farther on" if len(met) > 1 else ""
        parts = tuple(dict.fromkeys(p for h in met for p in parts_of(h.first, h.second)))
        found.append(replace(first, words=first.words + more, parts=parts))
    return found


@claim(
    "FIT-03",
    "The axle goes straight down onto the cradles, and the stand slides onto the face, and both back.",
    holds="assembly",
)
def check_axle_goes_in(claim: Claim, job: Job) -> list[Finding]:
    """Both motions, run backward from home: the stand off the face, then the axle up."""
    things = scene_of(job)
    axle, stand, under = with_axle(things), of_stand(things), cradles(things)
    if not stand or not under:
        return [claim.finding(Level.NOT_CHECKED, "no stand or no cradles in the jig", assembly="jig")]
    back = float(job.plan.stand.draw_back)
    off: Vector = (float(job.plan.face_sign), 0.0, 0.0)
    off_face = slide(stand, (*axle, *under), off, back)
    found = _told(claim, "stand drawn off the face", off_face, back, "give the plate room or turn the stand's order")
    away = tuple(elsewhere(t, UNTURNED, (off[0] * back, 0.0, 0.0)) for t in stand)
    lowest = min(t.box[2] for t in axle)
    height = max(t.box[5] for t in (*away, *under)) - lowest + SPARE
    up = slide(axle, (*away, *under), (0.0, 0.0, 1.0), height)
    remedy = "draw the stand farther back, or move the cradle"
    return found + _told(claim, "axle lifted straight up, stand drawn back", up, height, remedy)


@claim(
    "FIT-05",
    "The clock plates with their fingers come off outboard with the knuckles welded on.",
    holds="assembly",
)
def check_plates_come_off(claim: Claim, job: Job) -> list[Finding]:
    """Both plates along the bar to its end: tie, keepers and outboard collar off, stubs in."""
    if job.plan.clock is None:
        return [claim.finding(Level.PASS, "a rear axle has no clock plates")]
    things = scene_of(job)
    found = []
    for side in SIDES:
        found += _plate_off(claim, job, things, side)
    return found


def _plate_off(claim: Claim, job: Job, things: tuple[Thing, ...], side: Side) -> list[Finding]:
    s, short = float(sign_of(side)), side[0]
    own = grouped(things, f"clock-{short}", f"fingers-{short}")
    moving = chosen(own, lambda t: t.part != "bar-collar")
    if not moving:
        return [claim.finding(Level.NOT_CHECKED, f"no {side} clock plate in the jig", assembly="jig")]
    plate = next((t for t in moving if t.part.startswith("clock-plate")), moving[0])
    outboard = s * plate.box[4 if s > 0 else 1]
    # a cradle under the bar is set after the plate and taken away before it (see the steps)
    under_bar = any(c.side == side and c.carries == "bar" for c in job.plan.cradles)

    def stays(thing: Thing) -> bool:
        if thing in moving or thing.group == "tie":
            return False
        if under_bar and thing.group == f"cradle-{short}":
            return False
        # the collar outboard of the plate is off
        return thing.part != "bar-collar" or s * thing.box[1 if s > 0 else 4] < outboard - 1.0

    doing = f"{side} clock plate off outboard"
    if under_bar:
        doing += ", the cradle under the bar taken away first"
    inboard = min(s * t.box[1 if s > 0 else 4] for t in moving)
    length = max(job.sheet.bar.length / 2.0 - inboard, 50.0) + SPARE
    passage = slide(moving, chosen(things, stays), (0.0, s, 0.0), length)
    return _told(claim, doing, passage, length, "move what stands in the way of the plate")


@claim("FIT-08", "Every stub pin can be drawn out with the knuckle welded on.", holds="assembly")
def check_stubs_come_out(claim: Claim, job: Job) -> list[Finding]:
    """Each stub outward; where the steel forbids that, inward and out between the arms."""
    if not job.axle.knuckles:
        return [claim.finding(Level.PASS, "a rear axle has no stub pins")]
    things = scene_of(job)
    found = []
    for side in SIDES:
        stubs = grouped(things, f"stubs-{side[0]}")
        for pivot in ("upper", "lower"):
            pins = chosen(stubs, lambda t, p=pivot: t.part == f"stub-{p}")  # type: ignore[misc]
            if not pins:
                found.append(claim.finding(Level.NOT_CHECKED, f"no {side} {pivot} stub pin", assembly="jig"))
            for pin in pins:
                found.append(_stub_out(claim, job, things, pin, side, pivot))
    return found


def _stub_out(claim: Claim, job: Job, things: tuple[Thing, ...], pin: Thing, side: Side, pivot: str) -> Finding:
    knuckle = next(k for k in job.axle.knuckles if k.side == side)
    place = knuckle.upper if pivot == "upper" else knuckle.lower
    out = _outward(job, place.outward)
    short = side[0]
    off = (f"clock-{short}", f"fingers-{short}", "tie")

    def stays(thing: Thing) -> bool:
        # clock plate off first; washer, sleeve, ring and strap of this pivot are off
        same = thing.group == pin.group and thing.part.startswith(f"stub-{pivot}")
        collar = thing.part == "bar-collar"
        return thing is not pin and not same and (thing.group not in off or collar)

    around = tuple(pin.box[i] + (-ROOM if i < 3 else ROOM) for i in range(6))
    near = sorted(chosen(things, stays), key=lambda t: not t.name.startswith("knuckle"))
    still = tuple(t for t in near if gap_of_boxes(around, t.box) <= 0.0)  # type: ignore[arg-type]
    length = _length(job, pin) + 2.0
    outward = slide((pin,), still, out, length)
    name = f"{side} {pivot} stub pin, clock plate off and bar in"
    if not outward.hits:
        return _passed(claim, f"{name}, drawn outward", outward, length)
    inward = _inward(pin, still, out, place.pivot, length, float(sign_of(side)))
    if not inward.hits:
        return _passed(claim, f"{name}, pushed inward, then out between the arms", inward, length)
    return _finding(
        claim,
        inward.hits[0],
        f"{name}, outward it stands in its pivot; pushed inward",
        "measure the pivot's taper and which end is large again, or draw the bar first",
    )


def _inward(pin: Thing, still: tuple[Thing, ...], out: Vector, pivot: Pivot, length: float, s: float) -> Passage:
    """Inward until the pin is out of its bore, then out between the arms: outboard, fore or aft.

    Where it meets something on the straight way, it is tried a little earlier with a small step
    outboard, which a tapered or stepped pin has room for once it is loose.
    """
    back: Vector = (-out[0], -out[1], -out[2])
    straight = slide((pin,), still, back, length)
    reach = straight.hits[0].travel - 1.0 if straight.hits else length
    found = _sideways(pin, still, back, (float(pivot.arm_thickness), reach), s)
    if found is not None:
        return found
    for early in (1.0, 6.0):
        loose = _along(pin, back, max(0.0, reach - early))
        for aside in (1.5, 3.0):
            if _blocked(loose, still, (0.0, s, 0.0), aside):
                continue
            beside = elsewhere(loose, UNTURNED, (0.0, s * aside, 0.0))
            left = max(1.0, length - reach)
            on = slide((beside,), still, back, left)
            far = on.hits[0].travel - 1.0 if on.hits else left
            found = _sideways(beside, still, back, (0.0, far), s)
            if found is not None:
                return found
    return straight if straight.hits else slide((_along(pin, back, reach),), still, (0.0, s, 0.0), SIDEWAYS)


def _sideways(
    pin: Thing, still: tuple[Thing, ...], back: Vector, between: tuple[float, float], s: float
) -> Passage | None:
    """The way out between the arms from the first depth that lets the pin out; None for none.

    Outboard, or a little outboard and then fore or aft past what is on the bar.
    """
    travel, last = between
    while travel <= last:
        there = _along(pin, back, travel)
        out = slide((there,), still, (0.0, s, 0.0), SIDEWAYS, first_only=True)
        if not out.hits:
            return out
        if not _blocked(there, still, (0.0, s, 0.0), ASIDE):
            beside = elsewhere(there, UNTURNED, (0.0, s * ASIDE, 0.0))
            for way in ((1.0, 0.0, 0.0), (-1.0, 0.0, 0.0)):
                out = slide((beside,), still, way, SIDEWAYS, first_only=True)
                if not out.hits:
                    return out
        travel += 3.0
    return None


def _blocked(pin: Thing, still: tuple[Thing, ...], way: Vector, travel: float) -> bool:
    return bool(slide((pin,), still, way, travel, first_only=True).hits)


def _along(pin: Thing, way: Vector, travel: float) -> Thing:
    return elsewhere(pin, UNTURNED, (way[0] * travel, way[1] * travel, way[2] * travel))


def _outward(job: Job, outward: Vector) -> Vector:
    """A direction of frame A in T."""
    import numpy as np

    from fixturegen.axle.model import to_table

    rotation, _ = to_table(job.axle, 0.0)
    v = rotation @ np.array(outward)
    return float(v[0]), float(v[1]), float(v[2])


def _length(job: Job, pin: Thing) -> float:
    turned = job.parts[pin.part].turned
    return sum(s.length for s in turned.steps) if turned else 100.0


@claim(
    "FIT-09",
    "A tube end that shrinks inward 1/32 in loads neither stub pins nor fingers.",
    holds="assembly",
)
def check_end_may_shrink(claim: Claim, job: Job) -> list[Finding]:
    """Knuckle and stubs moved inward by 1/32 in against clock plate, fingers and tie."""
    if not job.axle.knuckles:
        return [claim.finding(Level.PASS, "a rear axle has no clock plates")]
    things = scene_of(job)
    found: list[Finding] = []
    tried = 0
    for side in SIDES:
        s, short = float(sign_of(side)), side[0]
        moving = (
            *chosen(things, lambda t, n=f"knuckle-{side}": t.name == n),  # type: ignore[misc]
            *grouped(things, f"stubs-{short}"),
        )
        fixed = (
            *grouped(things, f"clock-{short}", f"fingers-{short}", "tie", "bar"),
            *cradles(things),
        )
        way: Vector = (0.0, -s * SHRINK, 0.0)
        for one in moving:
            for other in fixed:
                if gap_of_boxes(moved_box(one.box, way), other.box) > 0.0:
                    continue
                tried += 1
                hit = overlap(one, other, way, SHRINK)
                if hit is not None and hit.depth > TOUCH:
                    found.append(_finding(claim, hit, f"{side} end moved inward", "give the part room along the axle"))
    return found or [
        claim.finding(
            Level.PASS,
            f"both ends moved {inches(SHRINK)} inward: {tried} pairs tried, none is pressed",
            assembly="jig",
            value=SHRINK,
            limit=SHRINK,
            unit="mm",
            source="common practice, no source",
        )
    ]


__all__ = [
    "check_axle_goes_in",
    "check_end_may_shrink",
    "check_plates_come_off",
    "check_stubs_come_out",
    "cradles",
    "of_stand",
    "with_axle",
]
