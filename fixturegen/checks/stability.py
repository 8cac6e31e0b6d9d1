"""STA: nothing tips or rolls at any step, and what to know before lifting and welding."""

from __future__ import annotations

from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.wording import POUND_FORCE, PRACTICE, bodies, inch, pounds, pounds_force
from fixturegen.findings import Finding, Level
from fixturegen.studies.stability import (
    ONE_PERSON,
    ROLL_SPARE,
    SPARE,
    TWO_PEOPLE,
    earth_room,
    entering_spare,
    lifts_of,
    roll_stop,
    steps_of,
)

GRAVITY = 9.80665
HAND = 100.0  # least gap in which a hand is not crushed [mm]; ISO 13854, from memory
EARTH_CLAMP = 2.0 * 25.4  # [mm]
FOOT_POUND = 1355.8179483314  # N*mm


@claim(
    "STA-01",
    "at every step the centre of mass lies inside the supports with 2 in to spare",
    holds="job",
    stage="numbers",
)
def check_steps(claim: Claim, job: Job) -> list[Finding]:
    """Support polygon of every step, table bolts, hands and hoist not counted."""
    found = []
    for step in steps_of(job.sheet, job.axle, job.plan, bodies(job)):
        good = step.spare >= SPARE
        words = (
            f"{step.name}: {pounds(step.mass)}, centre of mass {inch(step.spare, 1)} inside the "
            f"supports, {inch(step.side_spare, 1)} from tipping to an end"
        )
        if step.spare < 0.0:
            words = f"{step.name}: the centre of mass lies {inch(-step.spare, 1)} outside the supports"
        remedy = "" if good else "move a cradle out on the heavy side, or carry that end on a jack stand"
        found.append(
            claim.finding(
                Level.PASS if good else Level.FAIL,
                words,
                remedy=remedy,
                assembly="jig",
                value=step.spare,
                limit=SPARE,
                unit="mm",
                source="statics; 2 in to spare: limit of this job",
                point=(step.centre[0], step.centre[1], job.plan.height),
            )
        )
    return found


@claim(
    "STA-02",
    "the bar does not tip the axle while it is slid in",
    holds="nothing",
    needed=False,
    stage="numbers",
)
def check_entering(claim: Claim, job: Job) -> list[Finding]:
    """Spare with the bar's tip in the first puck and nobody at its tail."""
    spare = entering_spare(job.sheet, job.axle, job.plan, bodies(job))
    good = spare >= SPARE
    words = (
        f"bar of {pounds(bodies(job)['bar'].mass)} with its tip in the first puck and its tail free: "
        f"centre of mass {inch(spare, 1)} inside the supports"
    )
    return [
        claim.finding(
            Level.PASS if good else Level.WARN,
            words,
            value=spare,
            limit=SPARE,
            unit="mm",
            remedy="" if good else "carry the bar's tail on a roller stand at bar height until half of it is in",
            assembly="jig",
            source="statics; 2 in to spare: limit of this job",
        )
    ]


@claim("STA-03", "a roll stop holds before the first two nuts", holds="job", stage="numbers")
def check_roll(claim: Claim, job: Job) -> list[Finding]:
    """Moment that rolls the bare housing against the friction of a strap at each cradle."""
    moment, held = roll_stop(job.sheet, job.axle, job.plan, bodies(job))
    good = held >= ROLL_SPARE * moment
    words = (
        f"the bare housing would roll with {moment / FOOT_POUND:.1f} lbf ft; a ratchet strap over the "
        f"tube at each cradle, drawn by hand, holds {held / FOOT_POUND:.1f} lbf ft by friction"
    )
    level = Level.PASS if good else Level.WARN
    remedy = ""
    if not good:
        # A prop holds what a strap cannot; without either nothing holds.
        arm = 4.0 * 25.4
        remedy = (
            "set a screw prop under the heavy side as well, at least 4 in from the axle line: it "
            f"carries about {pounds_force(moment / arm)}; leave straps and prop until all face nuts are tight"
        )
        if held <= 0.0:
            level = Level.FAIL
    return [
        claim.finding(
            level,
            words,
            remedy=remedy,
            assembly="jig",
            value=held,
            limit=ROLL_SPARE * moment,
            unit="N*mm",
            source=f"friction 0.15, strap drawn to 300 lbf: {PRACTICE}",
        )
    ]


@claim(
    "STA-04",
    "each lift is within what people or the hoist can do",
    holds="nothing",
    needed=False,
    stage="numbers",
)
def check_lifts(claim: Claim, job: Job) -> list[Finding]:
    """Mass and lift point of each lift: over 50 lb two people or a hoist, over 100 lb the hoist."""
    hoist = float(job.sheet.tools.hoist)
    found = []
    for lift in lifts_of(job.sheet, job.axle, job.plan, bodies(job)):
        y = lift.at
        at = f"{inch(abs(y), 0)} {'left' if y >= 0 else 'right'} of the centreline"
        about = "about " if lift.assumed else ""
        words = f"{lift.name}: {about}{pounds(lift.mass)}, its middle {at}"
        level, remedy = Level.PASS, ""
        if lift.mass > TWO_PEOPLE:
            level = Level.WARN if hoist >= lift.mass * GRAVITY else Level.FAIL
            remedy = f"lift it with the hoist ({hoist / POUND_FORCE:.0f} lbf), slings both sides of its middle"
            if level is Level.FAIL:
                remedy = "get a hoist rated for it: the sheet names none that is"
        elif lift.mass > ONE_PERSON:
            level, remedy = Level.WARN, "two people or the hoist"
        found.append(
            claim.finding(
                level,
                words,
                remedy=remedy,
                value=lift.mass,
                unit="kg",
                limit=TWO_PEOPLE if lift.mass > TWO_PEOPLE else ONE_PERSON,
                source=f"50 lb a person: {PRACTICE}",
            )
        )
    return found


@claim(
    "STA-05",
    "there is room for a hand where things close on each other",
    holds="nothing",
    needed=False,
    stage="numbers",
)
def check_pinch(claim: Claim, job: Job) -> list[Finding]:
    """Room between face plate and housing with the stand drawn back; the pinch points are told."""
    room = job.plan.stand.draw_back
    good = room >= HAND
    places = [
        "stand slid onto the face: between face plate and housing, and at the studs",
        "housing lowered: between tube and cradle",
        "bar slid in: between its end and each puck",
    ]
    if job.plan.clock is not None:
        places += [
            "clock plate swung on the bar: between finger bars and knuckle arms",
            "tie put through: in the row holes",
        ]
    words = f"{inch(room, 1)} between face plate and housing with the stand drawn back. Pinch points: "
    words += "; ".join(places) + ". Hands off while anything moves; one person gives the word"
    return [
        claim.finding(
            Level.PASS if good else Level.WARN,
            words,
            assembly="jig",
            value=room,
            limit=HAND,
            remedy="" if good else "draw the stand farther back before the housing is lowered",
            unit="mm",
            source="ISO 13854, least gap for a hand 100 mm (from memory)",
        )
    ]


@claim(
    "STA-06",
    "the earth clamps find a place off the jig",
    holds="nothing",
    needed=False,
    stage="numbers",
)
def check_earth(claim: Claim, job: Job) -> list[Finding]:
    """Bare tube beside each end being welded, long enough for a clamp."""
    what = "the knuckle being welded" if job.plan.clock is not None else "the end being welded"
    found = []
    for cradle in job.plan.cradles:
        bare = earth_room(job.sheet, job.axle, job.plan, cradle.side)
        good = bare >= EARTH_CLAMP
        words = (
            f"{cradle.side}: {inch(max(bare, 0.0), 1)} of bare tube beside the bead zone; earth clamp on "
            f"{what}, a second on the tube beside it, on bright steel; never on table, stand, bar or "
            "tie, or the current runs through bushes and pins"
        )
        found.append(
            claim.finding(
                Level.PASS if good else Level.WARN,
                words,
                assembly="jig",
                value=bare,
                limit=EARTH_CLAMP,
                unit="mm",
                source=f"a clamp takes 2 in of tube: {PRACTICE}",
                remedy=""
                if good
                else "put both clamps on the part being welded and on the centre section of that side",
            )
        )
    return found
