"""LNK-08 to LNK-11: what ends the travel, and what hoses have left there."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np

from fixturegen.checks.links import INCH, SOURCE, STROKE_LEFT, links_in
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.findings import Finding, Level
from fixturegen.studies.link_records import NAMED, LinkStudy
from fixturegen.studies.link_stops import Ends, Hold

OFF = INCH / 4.0  # mm between the travel on the sheet and that of stop or strap (common practice, no source)
COIL_LEFT = INCH / 4.0  # mm kept before a coil is solid (common practice, no source)
SPARE = INCH  # mm of hose kept at droop and lock (common practice, no source)
WAY = {"alike": "both wheels alike", "crossed": "crossed up"}
ELASTICA = "love, elastica; " + SOURCE
LOCKS = ("", "+lock-L", "+lock-R")


@claim("LNK-08", "the bump stop is solid before a shock is closed", holds="nothing", stage="travel")
def check_bump_stop(claim: Claim, job: Job) -> list[Finding]:
    """Where the bump stop is solid, either side, alike and crossed: the travel there and the stroke left."""
    return _ending(claim, job, "bump", "bump stop", "closed")


@claim("LNK-09", "the strap is taut before a shock is open", holds="nothing", stage="travel")
def check_strap(claim: Claim, job: Job) -> list[Finding]:
    """Where the strap is taut, either side, alike and crossed: the travel there and the stroke left."""
    return _ending(claim, job, "droop", "strap", "open")


def _ending(claim: Claim, job: Job, end: Ends, kind: str, word: str) -> list[Finding]:
    study, links = links_in(job), job.sheet.links
    if study is None or links is None:
        return []
    given = [s for s in links.struts if s.kind == kind]
    shocks = [s for s in links.struts if s.kind == "shock" and (s.shortest if end == "bump" else s.longest) is not None]
    if not given:
        if not shocks:
            return []
        words = f"no {kind} on the sheet: nobody can say what ends {end} before {shocks[0].name} is {word}"
        remedy = f'measure it and add [[links.struts]] of kind "{kind}"'
        return [claim.finding(Level.WARN, words, remedy=remedy, source=SOURCE)]
    size = "shortest" if end == "bump" else "longest"
    blind = [s.name for s in given if getattr(s, size) is None]
    if blind:
        what = "how high it is crushed solid" if end == "bump" else "its length pulled taut"
        words = f"{', '.join(blind)}: no {size} on the sheet, so nobody can say where {end} ends"
        return [claim.finding(Level.WARN, words, remedy=f"measure {what} ({size})", source=SOURCE)]
    holds = [h for h in study.holds if h.end == end]
    asked = float(links.bump if end == "bump" else links.droop)
    return [*_travels(claim, holds, end, asked), *_strokes(claim, holds, end, word)]


def _travels(claim: Claim, holds: Iterable[Hold], end: Ends, asked: float) -> list[Finding]:
    """Where both wheels alike are held, against the travel on the sheet: all else is judged over that travel."""
    found = []
    for hold in (h for h in holds if h.way == "alike"):
        what = f"{hold.name}, {hold.side}"
        does = "solid" if end == "bump" else "taut"
        if hold.holds is None:
            words = f"{what}: not {does} within {abs(hold.searched) / INCH:.1f} in of {end}; a shock or coil ends it"
            remedy = "take a longer stop or move its seat" if end == "bump" else "take a shorter strap"
            found.append(claim.finding(Level.FAIL, words, remedy=remedy, source=SOURCE))
            continue
        at = abs(hold.holds)
        begins = ""
        if hold.touches is not None and asked > 0.0:
            share = 100.0 * hold.touches / asked
            begins = f"touches at {hold.touches / INCH:.2f} in ({share:.0f} % of bump), "
        words = f"{what}: {begins}{does} at {at / INCH:.2f} in of {end}, the sheet asks for {asked / INCH:.2f}"
        near = abs(at - asked) <= OFF
        remedy = (
            "" if near else f"set links.{end} to what it lets the wheel do, or mend the {hold.name}: see the travel"
        )
        level = Level.PASS if near else Level.WARN
        found.append(claim.finding(level, words, remedy=remedy, value=at - asked, limit=OFF, unit="mm", source=SOURCE))
    return found


def _strokes(claim: Claim, holds: Iterable[Hold], end: Ends, word: str) -> list[Finding]:
    """The least stroke each shock has left wherever a stop or strap holds."""
    least: dict[str, tuple[float, Hold]] = {}
    for hold in holds:
        for rest in hold.left:
            if rest.kind == "shock" and rest.room < least.get(rest.name, (np.inf, hold))[0]:
                least[rest.name] = (rest.room, hold)
    found = []
    for name, (room, hold) in least.items():
        does = "is solid" if end == "bump" else "is taut"
        words = f"{name}: {room / INCH:.2f} in from {word} where {hold.name} {does} ({hold.side}, {WAY[hold.way]})"
        level, remedy = Level.PASS, ""
        if room < 0.0:
            level = Level.FAIL
            remedy = "the shock would carry the axle: let stop or strap hold sooner, or take a shock with more stroke"
        elif room < STROKE_LEFT:
            level, remedy = Level.WARN, "leave half an inch of stroke: a shock is neither bump stop nor strap"
        found.append(
            claim.finding(level, words, remedy=remedy, value=room, limit=STROKE_LEFT, unit="mm", source=SOURCE)
        )
    return found


@claim("LNK-10", "no coil is pressed solid in bump, and none comes loose in droop", holds="nothing", stage="travel")
def check_coils(claim: Claim, job: Job) -> list[Finding]:
    """Room of each coil over the named poses and wherever a stop holds; a loose coil is told."""
    study = links_in(job)
    if study is None:
        return []
    found = []
    for kind, strut in study.named.struts:
        if kind != "spring":
            continue
        if strut.room_in is not None:
            rooms = [(float(r), f"at {NAMED[i]}") for i, r in enumerate(strut.room_in) if np.isfinite(r)]
            rooms += [
                (x.room, f"where {h.name} is solid ({h.side}, {WAY[h.way]})")
                for h in study.holds
                for x in h.left
                if h.end == "bump" and x.name == strut.name
            ]
            room, where = min(rooms)
            words = f"{strut.name}: {room / INCH:.2f} in from coil on coil {where}"
            level, remedy = Level.PASS, ""
            if room < 0.0:
                level = Level.FAIL
                remedy = (
                    "the coil would carry the blow: a stop that holds sooner, a longer seat, or a coil with fewer turns"
                )
            elif room < COIL_LEFT:
                level, remedy = Level.WARN, "keep a quarter of an inch between solid and the stop"
            found.append(
                claim.finding(level, words, remedy=remedy, value=room, limit=COIL_LEFT, unit="mm", source=SOURCE)
            )
        if strut.room_out is not None:
            at = int(np.nanargmin(strut.room_out))
            room = float(strut.room_out[at])
            words = f"{strut.name}: {room / INCH:.2f} in from loose at {NAMED[at]}"
            loose = room < 0.0
            remedy = "hold the coil in both seats with retainers, or shorten droop with the strap" if loose else ""
            level = Level.WARN if loose else Level.PASS
            found.append(claim.finding(level, words, remedy=remedy, value=room, limit=0.0, unit="mm", source=SOURCE))
    return found


@claim("LNK-11", "no brake hose is taut at droop and lock, or bent too sharply", holds="nothing", stage="travel")
def check_hoses(claim: Claim, job: Job) -> list[Finding]:
    """Each hose over the named poses, straight ahead and at both locks."""
    study, links = links_in(job), job.sheet.links
    if study is None or links is None:
        return []
    found = []
    for given, hose in zip(links.hoses, study.named.hoses, strict=True):
        reached = np.isfinite(hose.straight[:, 0])
        near = np.isfinite(hose.straight) & ~np.isfinite(hose.needed)
        i, k = np.unravel_index(int(np.nanargmin(np.where(near, np.inf, hose.spare))), hose.spare.shape)
        spare, needed = float(hose.spare[i, k]), float(hose.needed[i, k])
        if not np.isfinite(spare):
            words = (
                f"{given.name}: its ends stand too near each other for arcs of its bend radius: looked at no further"
            )
            found.append(claim.finding(Level.WARN, words, remedy="move an end, or turn its fittings to face away"))
            continue
        words = f"{given.name}: {float(given.length) / INCH:.2f} in long, {needed / INCH:.2f} needed at {_pose(i, k)}"
        level, remedy = Level.PASS, ""
        if spare < 0.0:
            level, remedy = Level.FAIL, "taut: it pulls out of its fitting and the brakes are gone; take a longer hose"
        elif spare < SPARE:
            level, remedy = Level.WARN, "leave an inch: take a longer hose, or move an end nearer"
        found.append(claim.finding(level, words, remedy=remedy, value=spare, limit=SPARE, unit="mm", source=SOURCE))
        if study.turned is None and given.axle_on != "axle":
            words = f"{given.name}: looked at straight ahead alone, links.steering.lock is not on the sheet"
            found.append(claim.finding(Level.WARN, words, remedy="measure the inner wheel at its knuckle stop"))
        if given.bend is not None:
            found.append(_bend(claim, study, given.name, float(given.bend), hose.radius[reached]))
    return found


def _bend(
    claim: Claim, study: LinkStudy, name: str, limit: float, radius: np.ndarray[tuple[int, ...], np.dtype[np.float64]]
) -> Finding:
    there = np.flatnonzero(study.named.poses.reached)
    i, k = np.unravel_index(int(np.argmin(radius)), radius.shape)
    least = float(radius[i, k])
    words = (
        f"{name}: bent to {least / INCH:.2f} in of radius at best at {_pose(there[i], k)}, it takes {limit / INCH:.2f}"
    )
    bad = least < limit
    remedy = (
        "take a longer hose, or turn its fittings so that it leaves in a wide bow; then cycle and look" if bad else ""
    )
    level = Level.WARN if bad else Level.PASS
    return claim.finding(level, words, remedy=remedy, value=least, limit=limit, unit="mm", source=ELASTICA)


def _pose(i: int | np.integer[Any], k: int | np.integer[Any]) -> str:
    """The pose as it is called: droop+lock-L."""
    return NAMED[int(i)] + LOCKS[int(k)]
