"""LNK-06, LNK-07, LNK-12, LNK-13: the steering from stop to stop and over travel, and the tie rod that rolls."""

from __future__ import annotations

import numpy as np

from fixturegen.axle.poses import Poses
from fixturegen.checks.links import INCH, SOURCE, links_in
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.findings import Finding, Level
from fixturegen.studies.link_inputs import box_on
from fixturegen.studies.link_lock import IN_LINE, in_line, pitman_swing
from fixturegen.studies.link_numbers import numbers_of
from fixturegen.studies.link_records import NAMED

BOX_LEFT = 2.0  # [deg] of the pitman arm kept between knuckle stop and box stop (common practice, no source)
WHOLE = 100.0  # [%] of the difference that rolling wants; more scrubs the other way
STRAIGHT = 1.0  # [deg] both wheels may steer over the travel with the steering held (common practice, no source)
STEEP = 15.0  # [deg] of a cross drag link at ride in the front view (common practice, no source)
ACROSS = 45.0  # [deg] in plan: a drag link nearer to fore and aft than this is no cross link
LOST = 1.0  # [deg] of steer lost while the tie rod rolls that a driver feels (common practice, no source)


@claim("LNK-06", "the knuckle stop is met before the steering box's own stop", holds="nothing", stage="travel")
def check_box(claim: Claim, job: Job) -> list[Finding]:
    """Swing of the pitman arm that brings the wheels to their knuckle stops, at every named pose, against the box's."""
    study, links = links_in(job), job.sheet.links
    if study is None or study.steering is None or links is None or links.steering is None:
        return []
    missing = [k for k in ("lock", "sector_shaft", "box_sweep") if getattr(links.steering, k) in (None, ())]
    box = box_on(job.sheet)
    if missing or box is None or box.sweep is None or study.turned is None:
        words = f"without {', '.join(missing)} of [links.steering] nobody can say whether the box stops first"
        remedy = "measure the wheel at its knuckle stop, the pitman arm's shaft, and the arm's swing with drag link off"
        return [claim.finding(Level.WARN, words, remedy=remedy, source=SOURCE)]
    ride = study.named.poses
    angle = in_line(ride, study.steering, box)
    if angle < IN_LINE:
        words = f"drag link and pitman arm lie {angle:.0f} deg from one line at ride: the arm cannot pull"
        remedy = "measure sector_shaft and pitman again, or turn the arm on its splines"
        return [claim.finding(Level.FAIL, words, remedy=remedy, value=angle, limit=IN_LINE, unit="deg", source=SOURCE)]
    found = []
    for k, word in ((-1, "left"), (0, "right")):
        swings = np.where(ride.reached, np.abs(pitman_swing(ride, study.steering, box, study.turned.turns[k])), 0.0)
        found.append(_swing(claim, ride, swings, word, box.sweep))
    return found


def _swing(
    claim: Claim, poses: Poses, swings: np.ndarray[tuple[int, ...], np.dtype[np.float64]], word: str, sweep: float
) -> Finding:
    if np.isnan(swings).any():
        pose = NAMED[int(np.flatnonzero(np.isnan(swings))[0])]
        words = f"full {word} lock at {pose}: the pitman arm goes over centre before the knuckle stop is met"
        remedy = "take a longer pitman arm or a shorter steering arm, or move the box"
        return claim.finding(Level.FAIL, words, remedy=remedy, source=SOURCE)
    at = int(np.argmax(swings))
    most = float(swings[at])
    words = (
        f"full {word} lock takes {most:.1f} deg of the pitman arm (worst at {NAMED[at]}), the box stops at {sweep:.1f}"
    )
    level, remedy = Level.PASS, ""
    if most > sweep:
        level = Level.FAIL
        remedy = (
            "the box would be the stop and takes every blow: set the knuckle stops sooner, or take a longer pitman arm"
        )
    elif most > sweep - BOX_LEFT:
        level, remedy = Level.WARN, f"keep {BOX_LEFT:.0f} deg of the box: set the knuckle stop a little sooner"
    return claim.finding(level, words, remedy=remedy, value=most, limit=sweep, unit="deg", source=SOURCE)


@claim("LNK-07", "the outer wheel turns less than the inner one, and not too little", holds="nothing", stage="travel")
def check_outer_wheel(claim: Claim, job: Job) -> list[Finding]:
    """The outer wheel at lock as the real tie rod turns it, against the angle at which both wheels roll."""
    study = links_in(job)
    if study is None or study.turned is None:
        return []
    turned = study.turned
    inner, outer, wanted, share = (float(v[-1]) for v in (turned.inner, turned.outer, turned.wanted, turned.share))
    if not np.isfinite(outer):
        words = f"the tie rod goes over centre before {inner:.0f} deg of lock"
        remedy = "move tie_end: its arm must not come into line with the rod; or set the knuckle stop sooner"
        return [claim.finding(Level.FAIL, words, remedy=remedy, source=SOURCE)]
    words = (
        f"at {inner:.0f} deg of lock the outer wheel stands at {outer:.1f} deg, rolling wants {wanted:.1f}: "
        f"{share:.0f} % of the difference"
    )
    level, remedy = Level.PASS, ""
    if share < 0.0:
        level = Level.WARN
        remedy = (
            "the outer wheel turns more and scrubs: aim the arms at the rear axle's middle, outside the pivots if ahead"
        )
    elif share > WHOLE:
        level, remedy = Level.WARN, "the outer wheel turns too little and scrubs: set the tie-rod ends farther out"
    source = "geometry, wheels that roll about one point; practice, 0 to 60 % is usual"
    return [claim.finding(level, words, remedy=remedy, value=share, limit=WHOLE, unit="%", source=source)]


@claim("LNK-12", "no steer is lost while the tie rod rolls", holds="nothing", stage="travel")
def check_roll_over(claim: Claim, job: Job) -> list[Finding]:
    """Steer lost at the named poses while a drag link off the tie rod's line rolls the rod from stop to stop."""
    study, links = links_in(job), job.sheet.links
    if study is None or study.named.lost is None or links is None or links.steering is None:
        return []
    lost = study.named.lost
    if not np.isfinite(lost).any():
        return []
    at = int(np.nanargmax(lost))
    most, roll = float(lost[at]), float(links.steering.rod_roll)
    words = (
        f"rolling {roll:.0f} deg either way the tie rod lets the wheels wander {most:.2f} deg (worst at {NAMED[at]})"
    )
    if links.steering.drag_on != "tie-rod":
        words = "the drag link is on a knuckle: the tie rod may roll without turning a wheel"
    bad = most > LOST
    remedy = "bring the drag link's joint to the tie rod's line, or stop the rod from rolling" if bad else ""
    level = Level.WARN if bad else Level.PASS
    return [claim.finding(level, words, remedy=remedy, value=most, limit=LOST, unit="deg", source=SOURCE)]


@claim("LNK-13", "the wheels keep straight in bump and droop with the steering held", holds="nothing", stage="travel")
def check_bump_steer(claim: Claim, job: Job) -> list[Finding]:
    """Steer of both wheels over travel, and beside it the drag link against the track bar: angle first, then length."""
    study = links_in(job)
    if study is None or study.heave.steering is None or study.named.steering is None:
        return []
    change = study.heave.steering.change
    if not np.isfinite(change).any():
        words = "the rods do not reach anywhere over the travel"
        return [claim.finding(Level.FAIL, words, remedy="measure pitman, drag_end and tie_end again", source=SOURCE)]
    at = int(np.nanargmax(np.abs(change)))
    most, heave = float(change[at]), float(study.heave.poses.heave[at])
    side = "left" if most > 0.0 else "right"
    where = f"{abs(heave) / INCH:.1f} in of {'bump' if heave > 0.0 else 'droop'}"
    words = f"the wheels steer {abs(most):.2f} deg to the {side} at {where}"
    numbers = numbers_of(study)
    off = numbers.get("steering.drag_off_bar")
    cross = abs(float(study.named.steering.drag_plan[0])) < ACROSS
    if off is not None and cross:
        long = numbers["steering.drag_length"].value - numbers["steering.bar_length"].value
        words += f"; drag link {off.value:+.1f} deg and {long / INCH:+.1f} in off the track bar"
    bad = abs(most) > STRAIGHT
    remedy = ""
    if bad:
        remedy = (
            "make drag link and track bar parallel first, then alike in length"
            if cross
            else ("let the drag link swing as the axle does: move the pitman joint up or down, then along")
        )
    level = Level.WARN if bad else Level.PASS
    found = [claim.finding(level, words, remedy=remedy, value=abs(most), limit=STRAIGHT, unit="deg", source=SOURCE)]
    slope = abs(float(study.named.steering.drag_slope[0]))
    if cross and slope > STEEP:
        words = f"the drag link climbs {slope:.1f} deg at ride"
        remedy = (
            "bring its ends nearer to one height: a pitman arm with more drop, or the joint on top of the steering arm"
        )
        found.append(
            claim.finding(Level.WARN, words, remedy=remedy, value=slope, limit=STEEP, unit="deg", source=SOURCE)
        )
    return found
