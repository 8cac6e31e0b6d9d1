"""FIT-04 and FIT-13: the bar and the tie go in lengthwise past everything."""

from __future__ import annotations

from collections.abc import Iterable

from fixturegen.axle.model import sign_of
from fixturegen.checks.overlap import TOUCH, Overlap, overlap_of
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.scene import Thing, chosen, gap_of_boxes, inches, parts_of, scene_of
from fixturegen.findings import Finding, Level


def swept(job: Job, name: str, z: float, diameter: float, length: float) -> Thing:
    """The room a round bar takes from home all the way out on the free side."""
    from fixturegen.shapes import solids

    s = float(sign_of(job.sheet.bar.free_side))
    ends = sorted((-s * length / 2.0, s * (length / 2.0 + length)))
    return Thing(name, name, "", solids.cylinder((0.0, ends[0], z), (0.0, ends[1], z), diameter))


def met(sweep: Thing, things: Iterable[Thing]) -> list[Overlap]:
    """What stands deeper in the sweep than a touch, deepest first."""
    found = []
    for thing in things:
        if gap_of_boxes(sweep.box, thing.box) > 0.0:
            continue
        one = overlap_of(sweep, thing, sweep.solid, thing.solid)
        if one is not None and one.depth > TOUCH:
            found.append(one)
    return sorted(found, key=lambda o: -o.depth)


def _fails(claim: Claim, found: list[Overlap], what: str, remedy: str) -> list[Finding]:
    return [
        claim.finding(
            Level.FAIL,
            f"{one.second.name} stands in the way of the {what}, {inches(one.depth)} deep",
            remedy=remedy,
            parts=parts_of(one.second),
            assembly="jig",
            point=one.point,
            value=one.depth,
            limit=TOUCH,
            unit="mm",
        )
        for one in found
    ]


@claim(
    "FIT-04",
    "The bar slides in and out past everything from the free side, and meets no stub pin.",
    holds="assembly",
)
def check_bar_slides_in(claim: Claim, job: Job) -> list[Finding]:
    """The bar's sweep against axle and jig, and the free length beside the table."""
    things = chosen(scene_of(job), lambda t: t.group != "bar" and t.part != "bar")
    length, diameter = float(job.sheet.bar.length), float(job.sheet.bar.diameter)
    sweep = swept(job, "bar", job.plan.height, diameter, length)
    found = _fails(claim, met(sweep, things), "bar", "bore or move it; the bar is the axle line")
    free = float(job.sheet.bar.free_length)
    if free < length:
        found.append(
            claim.finding(
                Level.FAIL,
                f"the bar is {inches(length)} long, the free length beyond the {job.sheet.bar.free_side} "
                f"tube end only {inches(free)}",
                remedy="turn the table, open a door in line with the axle, or use a shorter bar",
                assembly="jig",
                value=free,
                limit=length,
                unit="mm",
            )
        )
    return found or [
        claim.finding(
            Level.PASS,
            f"a bar of {inches(diameter)} passes everything from the {job.sheet.bar.free_side}; free "
            f"length {inches(free)} for a bar of {inches(length)}",
            assembly="jig",
            value=free,
            limit=length,
            unit="mm",
        )
    ]


@claim("FIT-13", "The tie slides in lengthwise through all plates.", holds="assembly")
def check_tie_slides_in(claim: Claim, job: Job) -> list[Finding]:
    """The tie's sweep at its first hole against all but its own keepers and collars."""
    tie = job.plan.tie
    if tie is None:
        return [claim.finding(Level.PASS, "a rear axle has no tie")]
    things = chosen(scene_of(job), lambda t: t.group != "tie")
    sweep = swept(job, "tie", job.plan.height + tie.radius, tie.diameter, tie.length)
    found = _fails(claim, met(sweep, things), "tie", "give the tie a hole or another radius")
    side = job.sheet.bar.free_side
    end = abs(job.axle.tube_ends[1 if side == "left" else 0])
    clock = job.plan.clock
    outside = clock.inner + job.plan.clock_thickness if clock is not None else end
    need = outside - end + tie.length
    free = float(job.sheet.bar.free_length)
    if free < need:
        found.append(
            claim.finding(
                Level.FAIL,
                f"the tie needs {inches(need)} beyond the {side} tube end to go in, there are {inches(free)}",
                remedy="open a door in line with the axle, or put the tie in before the clock plate",
                parts=("tie",),
                assembly="jig",
                value=free,
                limit=need,
                unit="mm",
            )
        )
    return found or [
        claim.finding(
            Level.PASS,
            f"the tie passes all plates from the {side}; it needs {inches(need)} of {inches(free)} beyond the tube end",
            assembly="jig",
            value=free,
            limit=need,
            unit="mm",
        )
    ]
