"""BUD: how far caster and split may be off by the setting, before welding."""

from __future__ import annotations

from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.wording import shared, simulation
from fixturegen.findings import Finding, Level
from fixturegen.studies.error_budget import (
    CASTER_WORST,
    SPLIT_RSS,
    SPLIT_WORST,
    TRIM,
    Budget,
    Contributor,
    budget_of,
    remedy_for,
)

SOURCE = "limit of this job; tolerances from how each feature is made, common practice, no source"


def budget(job: Job) -> Budget:
    """The job's error budget, worked out once."""
    return shared(job, "study.budget", lambda: budget_of(job.sheet, job.axle, job.plan, simulation(job)))


def _remedy(job: Job) -> str:
    """What would make it pass, worked out once."""
    return shared(job, "study.budget_remedy", lambda: remedy_for(job.sheet, job.axle))


def _finding(claim: Claim, job: Job, value: float, limit: float, words: str, share: str) -> list[Finding]:
    good = value <= limit
    remedy = ""
    if not good:
        largest = sorted(budget(job).contributors, key=lambda c: (-getattr(c, share), c.name))[:3]
        words += "; the three largest: " + ", ".join(_told(c, share) for c in largest)
        remedy = f"what would pass: {_remedy(job)}"
    return [
        claim.finding(
            Level.PASS if good else Level.FAIL,
            words,
            remedy=remedy,
            assembly="jig",
            value=value,
            limit=limit,
            unit="deg",
            source=SOURCE,
            data={"trim": TRIM},
        )
    ]


def _told(c: Contributor, share: str) -> str:
    return f"{c.name} {getattr(c, share):.3f} deg"


@claim("BUD-01", "left and right caster agree, worst case of the setting", holds="job", stage="numbers")
def check_split_worst(claim: Claim, job: Job) -> list[Finding]:
    """Worst case of the split against its limit."""
    if job.axle.bench_caster is None:
        return []
    b = budget(job)
    words = (
        f"left less right at most {b.split:.3f} deg by the setting, steady set by the level; "
        "weld pull comes on top: read again cold"
    )
    return _finding(claim, job, b.split, SPLIT_WORST, words, "split")


@claim("BUD-02", "left and right caster agree, as it usually comes out", holds="job", stage="numbers")
def check_split_rss(claim: Claim, job: Job) -> list[Finding]:
    """Root of the sum of squares of the split against its limit."""
    if job.axle.bench_caster is None:
        return []
    b = budget(job)
    words = f"left less right usually within {b.split_rss:.3f} deg (root of the sum of squares)"
    return _finding(claim, job, b.split_rss, SPLIT_RSS, words, "split_rss")


@claim(
    "BUD-03",
    "each caster comes out as asked for, worst case after the trim",
    holds="job",
    stage="numbers",
)
def check_caster_worst(claim: Claim, job: Job) -> list[Finding]:
    """Worst case of either caster against its limit."""
    if job.axle.bench_caster is None:
        return []
    b = budget(job)
    side = "left" if b.caster_left >= b.caster_right else "right"
    usual = max(b.caster_left_rss, b.caster_right_rss)
    words = (
        f"caster off by at most {b.caster:.3f} deg ({side} side), usually within {usual:.3f} deg, "
        "after the trim: steady and a shim at the face, both by the level; the tube ends as read "
        f"would have shifted it {b.untrimmed_left:+.3f} deg left and {b.untrimmed_right:+.3f} deg "
        "right without it"
    )
    return _finding(claim, job, b.caster, CASTER_WORST, words, side)
