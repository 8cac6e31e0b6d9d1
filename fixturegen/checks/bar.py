"""BAR: the alignment bar is long enough, can be slid in, and what it hangs through."""

from __future__ import annotations

from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.wording import PRACTICE, bodies, inch
from fixturegen.findings import Finding, Level
from fixturegen.studies.bar_sag import JACK_ABOVE, needed_length, sag_of


@claim("BAR-01", "the bar reaches past both ends", holds="job", stage="numbers")
def check_length(claim: Claim, job: Job) -> list[Finding]:
    """Length of the bar against what the jig needs."""
    have, need = float(job.sheet.bar.length), needed_length(job.axle, job.plan)
    good = have >= need
    words = f"bar {inch(have, 1)} long, needed {inch(need, 1)} over both ends with collars and a grip"
    return [
        claim.finding(
            Level.PASS if good else Level.FAIL,
            words,
            value=have,
            limit=need,
            unit="mm",
            remedy="" if good else f"get a bar of at least {inch(need, 1)}",
            source=PRACTICE,
        )
    ]


@claim("BAR-02", "the bar can be slid in from its end", holds="job", stage="numbers")
def check_free_length(claim: Claim, job: Job) -> list[Finding]:
    """Free length beyond the tube end against the bar's length."""
    bar = job.sheet.bar
    have, need = float(bar.free_length), float(bar.length)
    good = have >= need
    words = f"{inch(have, 1)} free beyond the {bar.free_side} tube end for a bar of {inch(need, 1)}"
    return [
        claim.finding(
            Level.PASS if good else Level.FAIL,
            words,
            value=have,
            limit=need,
            unit="mm",
            remedy="" if good else "turn the table round, open a door, or use a bar in two parts",
            source="geometry: the whole bar stands outside before it enters",
        )
    ]


@claim(
    "BAR-03",
    "the bar does not hang at the clock plates",
    holds="nothing",
    needed=False,
    stage="numbers",
)
def check_sag(claim: Claim, job: Job) -> list[Finding]:
    """Sag and slope of the bar at each clock plate; a screw jack is listed where it is too much."""
    found = []
    for sag in sag_of(job.sheet, job.axle, job.plan, bodies(job)):
        good = sag.sag <= JACK_ABOVE
        words = (
            f"{sag.side}: bar hangs {inch(sag.sag)} at the clock plate and slopes {sag.slope:.3f} deg "
            "there, on its pucks alone with the clock plate on it"
        )
        remedy = ""
        if sag.jack:
            remedy = (
                "set a screw jack on the table under the bar just outboard of the clock plate, by "
                f"the dial at the tube end, to {inch(sag.left_over)}"
            )
        elif not good:
            remedy = "the cradle under the bar takes it up: set its screw by the dial at the tube end"
        found.append(
            claim.finding(
                Level.PASS if good else Level.WARN,
                words,
                remedy=remedy,
                assembly="jig",
                value=sag.sag,
                limit=JACK_ABOVE,
                unit="mm",
                source=f"beam overhanging two supports, Machinery's Handbook; 0.010 in: {PRACTICE}",
            )
        )
    return found
