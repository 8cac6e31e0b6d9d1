"""RDG: the tube ends stand near enough to the bar for the jig to work on."""

from __future__ import annotations

from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.wording import PRACTICE, inch
from fixturegen.findings import Finding, Level
from fixturegen.studies.jig_deviations import SIDES
from fixturegen.studies.readings import FAIL_ABOVE, WARN_ABOVE, eccentricity_of


@claim("RDG-01", "the tube ends stand to the bar", holds="job", stage="numbers")
def check_eccentricity(claim: Claim, job: Job) -> list[Finding]:
    """Eccentricity of each tube end from its four readings."""
    found = []
    for side in SIDES:
        e = eccentricity_of(job.sheet, side)
        level = Level.PASS if e.size <= WARN_ABOVE else Level.WARN
        level = Level.FAIL if e.size > FAIL_ABOVE else level
        way = f"{inch(abs(e.x), 4)} {'forward' if e.x >= 0 else 'rearward'}"
        way += f" and {inch(abs(e.z), 4)} {'up' if e.z >= 0 else 'down'}"
        words = f"{side} tube end stands {inch(e.size, 4)} off the bar ({way})"
        remedy = ""
        if level is Level.WARN:
            remedy = "usable; straighten first if you can, and look for a cracked plug weld"
        if level is Level.FAIL:
            remedy = "straighten first: the knuckle would be set on a bent tube"
        found.append(
            claim.finding(
                level,
                words,
                remedy=remedy,
                value=e.size,
                unit="mm",
                limit=FAIL_ABOVE if level is Level.FAIL else WARN_ABOVE,
                source=f"housing end to bar 0.010 in, reject 0.030 in: {PRACTICE}",
            )
        )
    return found


@claim(
    "RDG-02",
    "the four readings of a tube end fit one circle",
    holds="nothing",
    needed=False,
    stage="numbers",
)
def check_residual(claim: Claim, job: Job) -> list[Finding]:
    """What the four readings disagree by, against what the dial can do."""
    found = []
    for side in SIDES:
        e = eccentricity_of(job.sheet, side)
        # Each mean of two readings may be off by the whole uncertainty, and so may their half
        # difference.
        good = e.residual <= e.uncertainty + 1e-9
        words = (
            f"{side}: up and down against fore and aft disagree by {inch(e.residual, 4)}, "
            f"a reading is good to {inch(e.uncertainty, 4)}"
        )
        found.append(
            claim.finding(
                Level.PASS if good else Level.WARN,
                words,
                value=e.residual,
                limit=e.uncertainty,
                remedy="" if good else "read again; if it stays, the tube end is oval: dress it round",
                unit="mm",
                source="derived from the uncertainty on the sheet",
            )
        )
    return found
