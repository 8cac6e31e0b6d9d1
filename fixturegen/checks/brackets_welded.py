"""WLD: no bracket is welded to a part whose weld may break in the driver's hands."""

from __future__ import annotations

from dataclasses import replace

from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.findings import Finding, Level
from fixturegen.sheet.specs.brackets import NEVER_WELDED

CODE = "WLD-01"
SOURCE = "common practice, no source; many inspectors fail any weld or heat on steering parts: ask yours"
REMEDY = "bolt it, or take a part that has the mount on it from its maker; never weld there"


@claim(
    CODE,
    "Nothing is welded to outer knuckles, steering arms, pitman arms, tie rods, drag links, spindles, ball joints "
    "or calipers.",
    holds="part",
    stage="numbers",
)
def check_never_welded(claim: Claim, job: Job) -> list[Finding]:
    """A fail for every bracket on such a part, by which `write.staging` holds the weld list; else one pass."""
    if not job.sheet.brackets:
        return []
    found = []
    for row, spec in enumerate(job.sheet.brackets):
        if spec.on not in NEVER_WELDED:
            continue
        parts = tuple(p for f in job.brackets.facts.values() if f.mount.row == row for p in f.parts)
        words = f"the bracket of {spec.holds} would be welded to the {spec.on.replace('-', ' ')}; no such weld is made"
        one = claim.finding(Level.FAIL, words, remedy=REMEDY, parts=parts, source=SOURCE, frame="A")
        # such a bracket is not even drawn: without a part of it the job would be held, and not the weld list alone
        found.append(one if parts else replace(one, holds="nothing"))
    if found:
        return found
    on = ", ".join(sorted({b.on for b in job.sheet.brackets}))
    words = f"{len(job.sheet.brackets)} kinds of brackets are welded to {on} alone"
    return [claim.finding(Level.PASS, words, assembly="brackets", source=SOURCE, frame="A")]
