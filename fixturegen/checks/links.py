"""LNK: what the links, joints, struts, shaft and steering come to over the travel of the sheet."""

from __future__ import annotations

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.errors import InputFault
from fixturegen.findings import Finding, Level
from fixturegen.studies.link_study import NAMED, LinkStudy, study_of

INCH = 25.4
LEFT_AT_LOCK = 2.0  # [deg] kept between the knuckle stop and the axle-shaft joint's limit (common practice, no source)
STROKE_LEFT = INCH / 2.0  # of a shock, kept at full bump and full droop (common practice, no source)
SOURCE = "exact rigid links, derived; limits as measured on the sheet"


def links_in(job: Job) -> LinkStudy | None:
    """The study of the job's links, worked out once; None without links, or where they are no linkage."""
    if job.sheet.links is None:
        return None
    if "link.study" not in job.store:
        try:
            job.store["link.study"] = study_of(job.sheet, job.axle)
        except InputFault as fault:
            job.store["link.study"] = fault
    found = job.store["link.study"]
    return found if isinstance(found, LinkStudy) else None


@claim("LNK-01", "the links let the axle travel as far as the sheet asks", holds="nothing", stage="travel")
def check_reach(claim: Claim, job: Job) -> list[Finding]:
    """Bump, droop and both crossed poses are in reach; links that are no linkage are told."""
    if job.sheet.links is None:
        return []
    study = links_in(job)
    if study is None:
        fault = job.store["link.study"]
        return [claim.finding(Level.FAIL, f.sentence(), remedy=f.remedy, source=SOURCE) for f in fault.faults]
    short = [name for name, there in zip(NAMED, study.named.poses.reached, strict=True) if not there]
    if not short:
        words = f"{study.linkage.kind}: ride, bump, droop and both crossed poses are in reach"
        if study.linkage.approximate:
            words += "; leaf springs are approximated by links"
        return [claim.finding(Level.PASS, words, source=SOURCE)]
    found = []
    for name, bound in zip(short, study.named.poses.bindings, strict=False):
        words = (
            f"at {name} the linkage binds: it ends at heave {bound.heave / INCH:+.2f} in, roll {bound.roll:+.1f} deg, "
            f"where {', '.join(bound.links)} lock one another"
        )
        remedy = "shorten the travel with stop or strap, or move the points of those links"
        found.append(claim.finding(Level.FAIL, words, remedy=remedy, source=SOURCE))
    return found


@claim("LNK-02", "no joint of a link is bent past its limit", holds="nothing", stage="travel")
def check_joints(claim: Claim, job: Job) -> list[Finding]:
    """Misalignment at both ends of each link over the named poses, against the limit given for it."""
    study = links_in(job)
    if study is None or study.linkage.approximate:
        return []  # lines that stand for leaf springs have no joints
    found, looked, blind = [], 0, []
    for joint in study.named.joints:
        for end, angles, limit in (
            ("frame", joint.frame, joint.frame_limit),
            ("axle", joint.axle, joint.axle_limit),
        ):
            if angles is None or limit is None:
                blind.append(f"{joint.link} ({end})")
                continue
            looked += 1
            at = int(np.nanargmax(angles))
            if angles[at] > limit:
                words = f"{joint.link}, {end} end: {angles[at]:.1f} deg at {NAMED[at]}, its joint takes {limit:.1f}"
                remedy = "square the bolt to the link at ride, or take a joint that takes more"
                found.append(_with(claim, Level.FAIL, words, remedy, float(angles[at]), limit, "deg"))
    if looked and not found:
        found.append(claim.finding(Level.PASS, f"{looked} joint ends stay within their limits", source=SOURCE))
    if blind:
        words = f"without bolt direction or limit nobody can say: {', '.join(blind)}"
        remedy = "give frame_bolt, axle_bolt and limit of the link"
        found.append(claim.finding(Level.WARN, words, remedy=remedy))
    return found


@claim("LNK-03", "no shock is closed or open before the travel ends", holds="nothing", stage="travel")
def check_struts(claim: Claim, job: Job) -> list[Finding]:
    """Shocks of the left side over the named poses; coils have LNK-10, stops and straps LNK-08 and LNK-09."""
    study = links_in(job)
    if study is None:
        return []
    found = []
    for kind, strut in study.named.struts:
        if kind != "shock":
            continue
        for word, room in (("closed", strut.room_in), ("open", strut.room_out)):
            if room is None:
                continue
            at = int(np.nanargmin(room))
            left = float(room[at])
            words = f"{strut.name} ({kind}): {left / INCH:.2f} in from {word} at {NAMED[at]}"
            if left < 0.0:
                remedy = (
                    "it would carry the axle there: set stop or strap to end the travel first, or take a longer one"
                )
                found.append(_with(claim, Level.FAIL, words, remedy, left, 0.0, "mm"))
            elif left < STROKE_LEFT:
                remedy = "leave half an inch of stroke: a shock is neither bump stop nor strap"
                found.append(_with(claim, Level.WARN, words, remedy, left, STROKE_LEFT, "mm"))
            else:
                found.append(_with(claim, Level.PASS, words, "", left, STROKE_LEFT, "mm"))
    return found


@claim("LNK-04", "the drive shaft neither bottoms, pulls out nor binds", holds="nothing", stage="travel")
def check_shaft(claim: Claim, job: Job) -> list[Finding]:
    """Plunge and joint angles of the drive shaft over the named poses."""
    study = links_in(job)
    if study is None or study.named.shaft is None or job.sheet.links is None or job.sheet.links.shaft is None:
        return []
    given, motion = job.sheet.links.shaft, study.named.shaft
    rows: list[tuple[str, Array, float | None, str]] = [
        ("length changes by", np.abs(motion.plunge), given.plunge, "mm"),
        ("joint at the case stands at", motion.case_angle, given.case_limit, "deg"),
        ("joint at the pinion stands at", motion.pinion_angle, given.pinion_limit, "deg"),
    ]
    found = []
    for what, values, limit, unit in rows:
        if limit is None:
            continue
        at = int(np.nanargmax(values))
        size = f"{values[at] / INCH:.2f} in" if unit == "mm" else f"{values[at]:.1f} deg"
        fails = values[at] > limit
        remedy = "shorten the travel, move the pinion, or take a shaft that allows more" if fails else ""
        level = Level.FAIL if fails else Level.PASS
        found.append(
            _with(claim, level, f"{what} {size} at {NAMED[at]}", remedy, float(values[at]), float(limit), unit)
        )
    return found


@claim("LNK-05", "the knuckle stop is met before the axle shaft's joint binds", holds="nothing", stage="travel")
def check_lock(claim: Claim, job: Job) -> list[Finding]:
    """True angle of the axle-shaft joint at lock, either way, against its limit less what is kept."""
    study, links = links_in(job), job.sheet.links
    if study is None or study.steering is None or links is None or links.steering is None:
        return []
    turned, limit = study.turned, links.steering.shaft_limit
    if turned is None or limit is None:
        return []
    lock = float(turned.inner[-1])
    worst = float(np.nanmax(turned.shafts))
    allowed = float(limit) - LEFT_AT_LOCK
    words = f"at {lock:.0f} deg of lock an axle-shaft joint stands at {worst:.1f} deg, with inclination and caster"
    if worst > allowed:
        remedy = f"set the knuckle stop so that {LEFT_AT_LOCK:.0f} deg are left to the joint's limit"
        return [_with(claim, Level.FAIL, words, remedy, worst, allowed, "deg")]
    return [_with(claim, Level.PASS, words, "", worst, allowed, "deg")]


def _with(claim: Claim, level: Level, words: str, remedy: str, value: float, limit: float, unit: str) -> Finding:
    return claim.finding(level, words, remedy=remedy, value=value, limit=limit, unit=unit, source=SOURCE)
