"""FIT-01: no part of the jig stands in the axle or in another part."""

from __future__ import annotations

from fixturegen.checks.overlap import TOUCH, Overlap, overlap
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.scene import (
    AXLE,
    TABLE,
    Thing,
    gap_of_boxes,
    inches,
    parts_of,
    scene_of,
)
from fixturegen.findings import Finding, Level

FORCE_FIT = 0.06
"""Depth allowed between a bush or dowel and the bore it is pressed into [mm].

Twice a medium drive fit at 2 in: ISO 286-2, H7/s6 at 50 to 80 mm is at most 0.078 mm on the
diameter, 0.039 mm on the radius (from memory)."""
THREAD = 0.65 * 25.4 / 10.0
"""Depth allowed between a screw and a tapped hole [mm]: the thread of ten to the inch (3/4-10 UNC),
0.65 of its pitch. Source: ASME B1.1, basic thread height 0.6495 P."""
CLOSE = 0.5  # pairs farther apart than this by mesh are not handed to the kernel [mm]


def allowed_depth(job: Job, a: Thing, b: Thing) -> float:
    """How deep a pair may overlap [mm]: a touch, a force fit between bush and bore, or a thread."""
    allowed = TOUCH
    for one, other in ((a, b), (b, a)):
        if _round(job, one) and _holed(job, other):
            allowed = max(allowed, FORCE_FIT)
            if _threaded(job, one) or _threaded(job, other):
                allowed = max(allowed, THREAD)
    return allowed


def _round(job: Job, thing: Thing) -> bool:
    return bool(thing.part) and job.parts[thing.part].form == "turned"


def _holed(job: Job, thing: Thing) -> bool:
    if not thing.part:
        return True
    part = job.parts[thing.part]
    return bool(part.turned or (part.profile and part.profile.holes))


def _threaded(job: Job, thing: Thing) -> bool:
    if not thing.part:
        return False
    part = job.parts[thing.part]
    if part.profile is not None:
        return any(h.purpose.value == "tap" for h in part.profile.holes)
    if part.turned is None:
        return False
    notes = [s.note for s in part.turned.steps] + [b[4] for b in part.turned.bores]
    notes += [c[3] for c in part.turned.cross_holes] + [h[3] for h in part.turned.axial_holes]
    return any("UNC" in n or "UNF" in n or "thread" in n.lower() for n in notes)


def near_pairs(job: Job, things: tuple[Thing, ...]) -> list[tuple[Thing, Thing]]:
    """Pairs of which at least one is of the jig and that stand nearer than 0.5 mm or in each other."""
    from fixturegen.shapes.cache import kept_of_pair

    pairs = []
    for i, a in enumerate(things):
        for b in things[i + 1 :]:
            if {a.group, b.group} <= {AXLE, TABLE}:
                continue
            if gap_of_boxes(a.box, b.box) > CLOSE:
                continue
            if kept_of_pair("near", a.solid, b.solid, lambda a=a, b=b: _near(a, b)):  # type: ignore[misc]
                pairs.append((a, b))
    return pairs


def _near(a: Thing, b: Thing) -> bool:
    from fixturegen.shapes.meshes import State, clearance

    found = clearance(a.body, b.body)
    return found.state is not State.APART or found.measured <= CLOSE


def overlaps(job: Job) -> tuple[list[Overlap], int]:
    """Every overlap deeper than its pair allows, deepest first; and how many pairs were tried."""
    pairs = near_pairs(job, scene_of(job))
    found = []
    for a, b in pairs:
        one = overlap(a, b)
        if one is not None and one.depth > allowed_depth(job, a, b):
            found.append(one)
    return sorted(found, key=lambda o: -o.depth), len(pairs)


@claim(
    "FIT-01",
    "No part of the jig stands in the axle, the table or another part.",
    holds="part",
)
def check_no_interference(claim: Claim, job: Job) -> list[Finding]:
    """One finding per pair in one place and per part that cannot be drawn, or one pass for all."""
    from fixturegen.bodies.axle import undrawn_parts

    found, tried = overlaps(job)
    undrawn = [
        claim.finding(
            Level.FAIL,
            f"{name} cannot be drawn: {fault.words}",
            remedy=fault.remedy,
            parts=(name,),
            assembly="jig",
        )
        for name, fault in undrawn_parts(job).items()
    ]
    if not found and not undrawn:
        return [
            claim.finding(
                Level.PASS,
                f"{tried} pairs that touch or nearly touch were cut with each other; none shares more than its fit",
                assembly="jig",
                value=0.0,
                limit=TOUCH,
                unit="mm",
            )
        ]
    return undrawn + [_finding(claim, job, one) for one in found]


def _finding(claim: Claim, job: Job, one: Overlap) -> Finding:
    a, b = one.first, one.second
    return claim.finding(
        Level.FAIL,
        f"{a.name} and {b.name} are in one place, {inches(one.depth)} deep ({one.volume:.0f} mm3)",
        remedy=f"give {_which(a, b)} room there, or measure again what shapes it",
        parts=parts_of(a, b),
        assembly="jig",
        point=one.point,
        value=one.depth,
        limit=allowed_depth(job, a, b),
        unit="mm",
    )


def _which(a: Thing, b: Thing) -> str:
    return a.name if a.part and not b.part else b.name if b.part and not a.part else f"{a.name} or {b.name}"
