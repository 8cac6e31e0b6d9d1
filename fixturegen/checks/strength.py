"""STR: stand, cradles and bolts carry three times the load and a pull on the tie."""

from __future__ import annotations

from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.wording import bodies, pounds_force
from fixturegen.findings import Finding, Level
from fixturegen.studies.stand_strength import Strength, strengths_of


@claim(
    "STR-01",
    "stand, cradles and table bolts carry 3 times the load and 100 lbf on the tie",
    holds="job",
    stage="numbers",
)
def check_strength(claim: Claim, job: Job) -> list[Finding]:
    """Each thing that carries, its load against what it may carry."""
    return [finding_of(claim, s) for s in strengths_of(job.sheet, job.axle, job.plan, bodies(job))]


def finding_of(claim: Claim, one: Strength) -> Finding:
    """What one strength comes to."""
    if one.unit == "N":
        numbers = f"{pounds_force(one.demand)} of {pounds_force(one.capacity)}"
    else:
        numbers = f"{one.demand:.0f} of {one.capacity:.0f} {one.unit}"
    remedy = "" if one.holds else "use a larger bolt or screw, thicker plate, or a longer foot"
    return claim.finding(
        Level.PASS if one.holds else Level.FAIL,
        f"{one.name}: {numbers}; {one.words}",
        remedy=remedy,
        assembly="jig",
        value=one.demand,
        limit=one.capacity,
        unit=one.unit,
        source=one.source,
    )
