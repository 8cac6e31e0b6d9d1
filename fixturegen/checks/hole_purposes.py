"""HOL: every hole is made the way its purpose asks for."""

from __future__ import annotations

from collections.abc import Iterator

from fixturegen.checks.cut_plates import SAME, CutPlate, cut_plates, passing, said
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.wording import inch
from fixturegen.findings import Finding, Level
from fixturegen.plate import Hole, Purpose
from fixturegen.plate.profile import Operation
from fixturegen.studies.drilling import INCH, drill_before_reamer, drill_words, joint_limits, reamed_size

NEVER = INCH / 32.0  # a joint bolt's hole is never larger over its shank than this [mm] (common practice, no source)
SET = (Purpose.ANGLE, Purpose.DOWEL, Purpose.BORE, Purpose.TAP, Purpose.JOINT)


def _name(hole: Hole) -> str:
    return f"the hole {hole.label or hole.purpose.value} of {inch(hole.finished)}"


def _at(hole: Hole) -> tuple[float, float, float]:
    return hole.x, hole.y, 0.0


@claim("HOL-01", "every hole that is cut is at least as large as the torch can cut it", holds="part", needed=False)
def check_smallest_hole(claim: Claim, job: Job) -> list[Finding]:
    """A hole cut to size below the smallest round one fails, and one cut under below what can be cut at all."""
    plates = cut_plates(job)
    found = [f for p in plates if not p.trial for f in _too_small(claim, p)]
    return passing(claim, plates, found, "each hole that is cut is as large as the torch cuts it, the rest is marked")


def _too_small(claim: Claim, plate: CutPlate) -> Iterator[Finding]:
    rules = plate.rules
    for hole in plate.profile.holes:
        if hole.operation is Operation.PILOT:
            continue
        rule = rules.hole if hole.operation is Operation.CUT else rules.hole_possible
        size = (hole.finished if hole.cut is None else hole.cut) + rules.hole_error.value
        if size >= rule.value - SAME:
            continue
        yield claim.finding(
            Level.FAIL,
            f"{_name(hole)} is to be cut at {inch(size)}, and the torch cuts no hole below {said(rule.value)} in "
            f"this plate ({rule.source})",
            remedy=f"mark it and drill {drill_words(hole.finished)}, or measure process.smallest_hole on the coupon",
            parts=(plate.part.name,),
            point=_at(hole),
            frame="P",
            value=size,
            limit=rule.value,
            unit="mm",
            source=rule.source,
        )


@claim("HOL-02", "every hole that is only marked is larger than its mark", holds="part", needed=False)
def check_smallest_mark(claim: Claim, job: Job) -> list[Finding]:
    """A hole no larger than the cross of its centre fails: the mark would stay on the steel round it."""
    plates, found = cut_plates(job), []
    for plate in plates:
        rule = plate.rules.mark
        for hole in plate.profile.holes:
            if hole.operation is not Operation.PILOT or hole.finished >= rule.value - SAME:
                continue
            found.append(
                claim.finding(
                    Level.FAIL,
                    f"{_name(hole)} is smaller than the cross of {said(rule.value)} that would mark it",
                    remedy='mark it by hand with a centre punch (process.marking = "hand"), or make it larger',
                    parts=(plate.part.name,),
                    point=_at(hole),
                    frame="P",
                    value=hole.finished,
                    limit=rule.value,
                    unit="mm",
                    source=rule.source,
                )
            )
    return passing(claim, plates, found, "each hole that is drilled from a mark is larger than the mark")


@claim("HOL-03", "no hole that must have its size is left as the torch cuts it", holds="part", needed=False)
def check_close_holes(claim: Claim, job: Job) -> list[Finding]:
    """Holes that set something, close classes, and clearances finer than the tolerance class are drilled."""
    plates = cut_plates(job)
    found = [f for p in plates for h in p.profile.holes if h.operation is Operation.CUT for f in _as_cut(claim, p, h)]
    return passing(claim, plates, found, "holes that must have their size are drilled, reamed or bored, none is as cut")


def _as_cut(claim: Claim, plate: CutPlate, hole: Hole) -> Iterator[Finding]:
    rules = plate.rules
    allowed = rules.tolerance(hole.finished)
    room = None if hole.through is None else hole.finished - hole.through
    kind = f"class {rules.tolerance_class}"
    if hole.purpose in SET:
        why = f"is there for {hole.purpose.value} and would be left as cut"
    elif hole.fit == "close" and rules.tolerance_class == 2:
        why = f"is a close fit and would be left as cut by a torch of {kind}"
    elif room is not None and allowed is None:
        why = f"has {inch(room)} of clearance, and the tolerance table says nothing of this size and plate"
    elif room is not None and allowed is not None and room < allowed.value - SAME:
        why = f"has {inch(room)} of clearance, and {kind} lets a cut hole be {inch(allowed.value)} off"
    else:
        return
    yield claim.finding(
        Level.FAIL,
        f"{_name(hole)} {why}",
        remedy=f"cut it {inch(rules.under.value)} under or mark it, then drill {_drill(hole)}",
        parts=(plate.part.name,),
        point=_at(hole),
        frame="P",
        value=room,
        limit=None if allowed is None else allowed.value,
        unit="mm",
        source="" if allowed is None else allowed.source,
    )


def _drill(hole: Hole) -> str:
    """What makes the hole after the torch, in words."""
    first = drill_before_reamer(hole.finished)
    if hole.purpose in SET and first is not None:
        return f"{first.name} and ream {inch(hole.finished)}"
    return drill_words(hole.finished)


@claim(
    "HOL-04",
    "bolts of links, track bar, drag link and shocks sit in holes reamed 0.005 to 0.010 in over their shank",
    holds="part",
    needed=False,
)
def check_joint_holes(claim: Claim, job: Job) -> list[Finding]:
    """A clearance class, a hole over 1/32 in, or one that was never measured fails; one over 0.010 in warns."""
    plates = [p for p in cut_plates(job) if any(h.purpose is Purpose.JOINT for h in p.profile.holes)]
    found = [f for p in plates for h in p.profile.holes if h.purpose is Purpose.JOINT for f in _joint(claim, p, h)]
    return passing(claim, plates, found, "joint bolts sit in holes drilled and reamed to their measured shanks")


def _joint(claim: Claim, plate: CutPlate, hole: Hole) -> Iterator[Finding]:
    low, high = (0.0, 0.0) if hole.through is None else joint_limits(hole.through)
    level, over = Level.FAIL, 0.0 if hole.through is None else hole.finished - hole.through
    if hole.through is None:
        why = "is for a joint bolt whose shank was not measured"
    elif hole.fit not in ("", "reamed"):
        why = f"is a {hole.fit} clearance hole, and a joint bolt hammers in any clearance hole"
    elif over > NEVER + SAME:
        why = f"is {inch(over)} over the shank, more than 1/32 in"
    elif hole.finished < low - SAME:
        why = f"is {inch(over)} over the shank: the bolt will not go in by hand"
    elif hole.operation is Operation.CUT:
        why = "would be left as cut, and a joint bolt's hole is reamed"
    elif hole.finished > high + SAME:
        level, why = Level.WARN, f"is {inch(over)} over the shank, more than the fit asks for"
    else:
        return
    size = "0.005 to 0.010 in over it" if hole.through is None else f"{inch(reamed_size(hole.through))}"
    yield claim.finding(
        level,
        f"{_name(hole)} {why}",
        remedy=f"measure the bolt's shank; cut under or mark, drill, and ream {size}",
        parts=(plate.part.name,),
        point=_at(hole),
        frame="P",
        value=over,
        limit=high - (hole.through or 0.0),
        unit="mm",
        source="common practice, no source",
    )
