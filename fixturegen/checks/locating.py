"""LOC: every body of the jig is held in every freedom that matters, and held once."""

from __future__ import annotations

from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.findings import Finding, Level
from fixturegen.studies.locating import Located, bodies_located


@claim(
    "LOC-01",
    "every body is held in all its freedoms, each of them once",
    holds="job",
    stage="numbers",
)
def check_located(claim: Claim, job: Job) -> list[Finding]:
    """Rank of the locator matrix of each body, freedoms left and constraints in excess."""
    return [finding_of(claim, b) for b in bodies_located(job.sheet, job.axle, job.plan)]


def finding_of(claim: Claim, body: Located) -> Finding:
    """What one body's locators come to."""
    needed = body.freedoms - len(body.wanted)
    good = not body.unwanted and body.excess == 0
    words = f"{body.name}: {body.rank} of {body.freedoms} freedoms held"
    words += f", condition {body.condition:.1f}"
    if body.wanted:
        words += f"; left free on purpose: {', '.join(body.wanted)}"
    remedy = ""
    if body.unwanted:
        words += f"; left free and should not be: {', '.join(body.unwanted)}"
        remedy = "add a locator that stops it, or move one: supports in one line do not hold"
    if body.excess:
        words += f"; {body.excess} held twice"
        remedy = "take a locator away: what is held twice springs or rocks"
    return claim.finding(
        Level.PASS if good else Level.FAIL,
        words,
        remedy=remedy,
        assembly="jig",
        value=float(body.rank),
        limit=float(needed),
        unit="1",
        source="locator matrix, Asada and By 1985 (from memory): deterministic when the rank is full",
    )
