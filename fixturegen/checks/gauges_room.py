"""GAU-04: whether the sine gauge goes on: past knuckle and stub pins, with both rods on the gauge heads."""

from __future__ import annotations

from fixturegen.bodies.axle import bench_bodies, part_solid
from fixturegen.checks.gauges import planned
from fixturegen.checks.overlap import overlap
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.scene import Thing
from fixturegen.checks.wording import PRACTICE, inch
from fixturegen.errors import GeometryFault
from fixturegen.findings import Finding, Level
from fixturegen.gauges.in_use import on_knuckle
from fixturegen.shapes.primitives import cylinder
from fixturegen.shapes.solids import placed

NAME = "sine-gauge"
STUBS = "stubs-l"


@claim("GAU-04", "the sine gauge goes on past knuckle and stub pins", holds="part", needed=False)
def check_goes_on(claim: Claim, job: Job) -> list[Finding]:
    """Plate, rods and rollers against the left knuckle and what stands in its pivots; the right one is its mirror."""
    part = job.parts.get(NAME)
    gauge = next((g for g in planned(job).gauges if g.name == NAME), None) if job.sheet.gauges else None
    if part is None or gauge is None or not job.axle.knuckles or "jig" not in job.assemblies:
        return []
    stands = on_knuckle(part, job.plan, abs(job.axle.knuckles[0].axis_point[1]))
    if stands is None:
        return []
    place, rods = stands
    try:
        plate = Thing("its plate", "gauge", NAME, placed(part_solid(job, NAME), place))
        own = [
            plate,
            *(Thing(f"its {r.label}", "gauge", "", cylinder(r.start, r.end, gauge.sizes["rod"])) for r in rods),
        ]
        others = _others(job)
    except GeometryFault as fault:
        return [claim.finding(Level.NOT_CHECKED, f"cannot be drawn: {fault.words}", parts=(NAME,), source=PRACTICE)]
    met = [(a, b, found) for a in own for b in others if (found := overlap(a, b)) is not None]
    if met:
        a, b, found = max(met, key=lambda m: m[2].depth)
        return [
            claim.finding(
                Level.FAIL,
                f"{a.name} stands {inch(found.depth, 2)} deep in {b.name}",
                remedy="measure boss and neck of the knuckle again; for this knuckle use an angle finder on the flat",
                parts=(NAME,),
                point=found.point,
                source=PRACTICE,
            )
        ]
    words = f"on the left knuckle its plate and {len(rods)} rods touch nothing but the gauge heads"
    return [claim.finding(Level.PASS, words, parts=(NAME,), source=PRACTICE)]


def _others(job: Job) -> list[Thing]:
    """The left knuckle and the pieces in its pivots."""
    found = [Thing("the knuckle", "axle", "", s) for n, s in bench_bodies(job).items() if n == "knuckle-left"]
    for i, p in enumerate(job.assemblies["jig"].placements):
        if p.group == STUBS:
            found.append(Thing(p.part, STUBS, p.part, placed(part_solid(job, p.part), p), i))
    return found
