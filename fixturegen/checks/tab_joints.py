"""JNT: tabs are placed by one slot, end where a bead fits over them, and go into the slot's corners."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.tabs_enter import CHORD, Joint, chords, pairs
from fixturegen.checks.wording import inch
from fixturegen.findings import Finding, Level
from fixturegen.plate import Part, Placement
from fixturegen.plate.profile import Loop, polyline
from fixturegen.stock import Fit, entry

Array = NDArray[np.float64]

INCH = 25.4
SHORT = INCH / 32.0  # a tab ends at most this far below the far face, so that a bead fills it [mm] (common practice)
PASSES = 10.0  # a plate that reaches farther out on both sides is no tab [mm]
CLEAR = 0.01  # room more than a slot's rule by less is that rule [mm]
AROUND = 48  # directions a torch is tried in round a tab's corner
DEEP = 12  # distances it is tried at


def rooms(joint: Joint, opening: Array) -> tuple[float, float]:
    """Room along the tab and across its thickness, both sides together, at its middle [mm].

    At the middle, since the relieved corners of a slot reach beyond its sides.
    """
    corners = np.array(joint.corners)
    middle, found = corners.mean(axis=0), []
    for way in (corners[1] - corners[0], corners[2] - corners[1]):
        size = float(np.linalg.norm(way))
        found.append(_through(opening, middle, way / size) - size)
    return found[0], found[1]


def _through(opening: Array, point: Array, way: Array) -> float:
    """How wide an opening (n, 2) is through a point (2,) along a unit vector (2,) [mm]; infinite when open."""
    a, along = opening - point, np.roll(opening, -1, axis=0) - opening
    off, rise = a @ np.array([-way[1], way[0]]), along @ np.array([-way[1], way[0]])
    meets = (off < 0.0) != (off + rise < 0.0)
    if not meets.any():
        return math.inf
    t = -off[meets] / rise[meets]
    s = a[meets] @ way + t * (along[meets] @ way)
    ahead, behind = s[s > 0.0], s[s <= 0.0]
    return float(ahead.min() - behind.max()) if len(ahead) and len(behind) else math.inf


def _opening(part: Part, number: int) -> Array:
    loop: Loop = part.profile.inner[number] if part.profile else ()
    return np.array(polyline(loop, CHORD))


def tabs(job: Job) -> list[tuple[Placement, Placement, list[tuple[Joint, Array]]]]:
    """Pairs of plates with the passages that are tabs in slots: no more room than a loose slot's."""
    loose = float(entry("fits", "slot-loose", Fit).largest) + CLEAR
    found = []
    for passer, holder, joints in pairs(job):
        # a slot takes one tab: of several sections through it the first, at half depth, is the tab's
        first = {j.opening: j for j in reversed(joints)}
        there = [(first[k], _opening(job.parts[first[k].slot], k)) for k in sorted(first)]
        fit = [(j, o) for j, o in there if max(rooms(j, o)) <= loose]
        if fit:
            found.append((passer, holder, fit))
    return found


def _pass(claim: Claim, words: str, names: Iterable[str]) -> Finding:
    return claim.finding(Level.PASS, words, assembly="jig", parts=tuple(sorted(set(names))))


@claim("JNT-01", "of the tabs between two plates one sets the place, the others are loose", holds="part", needed=False)
def check_one_locating(claim: Claim, job: Job) -> list[Finding]:
    """Two tight tabs in one joint fight one another; a plate none of whose tabs is tight stands anywhere."""
    tight = 2.0 * float(job.sheet.process.slot_room) + CLEAR
    found, seen, placed = [], tabs(job), set()
    for passer, holder, fit in seen:
        count = sum(min(rooms(j, o)) <= tight for j, o in fit)
        placed |= {id(passer)} if count else set()
        if count > 1:
            words = f"{count} tabs of {passer.part} are tight in {holder.part}: they fight when the plate is a hair off"
            remedy = "make all but one slot of the joint 1/32 in larger on each side"
            found.append(_fault(claim, words, remedy, fit[0][0]))
    for passer, _, fit in seen:
        if id(passer) not in placed:
            placed.add(id(passer))
            words = f"no tab of {passer.part} is tight in its slot: nothing sets its place"
            found.append(_fault(claim, words, "make one slot of it a locating one", fit[0][0]))
    if found or not seen:
        return found
    count = sum(len(fit) for _, _, fit in seen)
    words = f"{count} tabs in {len(seen)} joints: at most one of a joint is tight, and each plate has one that is"
    return [_pass(claim, words, (p.part for p, _, _ in seen))]


def _fault(claim: Claim, words: str, remedy: str, joint: Joint, value: float | None = None) -> Finding:
    return claim.finding(
        Level.FAIL,
        words,
        remedy=remedy,
        parts=(joint.tab, joint.slot),
        assembly="jig",
        point=joint.point,
        value=value,
        unit="" if value is None else "mm",
        source="common practice, no source",
    )


@claim("JNT-02", "tabs end 0 to 1/32 in below the face a bead is laid over", holds="part", needed=False)
def check_tab_ends(claim: Claim, job: Job) -> list[Finding]:
    """A tab that stands out keeps the plate off what it lies on; one too short leaves a hole in the bead."""
    found, ends, names = [], [], set()
    for passer, holder, fit in tabs(job):
        for joint, _ in fit:
            short = tab_short(job, passer, holder, joint)
            if short is None:
                continue
            ends.append(short)
            names |= {joint.tab, joint.slot}
            if short < -CLEAR:
                words = f"a tab of {joint.tab} stands {inch(-short)} out of {joint.slot}"
            elif short > SHORT + CLEAR:
                words = f"a tab of {joint.tab} ends {inch(short)} below the face of {joint.slot}, more than 1/32 in"
            else:
                continue
            found.append(_fault(claim, words, "correct the measured thickness in [[plates]]", joint, short))
    if found or not ends:
        return found
    return [_pass(claim, f"{len(ends)} tabs end {inch(min(ends))} to {inch(max(ends))} below the far face", names)]


def tab_short(job: Job, passer: Placement, holder: Placement, joint: Joint) -> float | None:
    """How far below the far face a tab ends [mm], negative when it stands out; None when the plate passes on.

    Measured along the middle of the tab, square to the plate it enters.

    Args:
        job: The job.
        passer: Where the plate with the tab stands.
        holder: Where the plate with the slot stands.
        joint: The passage.
    """
    tabbed, thick = job.parts[joint.tab].profile, job.parts[joint.slot].thickness
    turn_p, turn_h = np.array(passer.rotation), np.array(holder.rotation)
    if tabbed is None:
        return None
    square = turn_h[:, 2]
    middle = turn_h @ np.array([*np.array(joint.corners).mean(axis=0), 0.0]) + np.array(holder.origin)
    x, y, _ = turn_p.T @ (middle - np.array(passer.origin))
    dx, dy, _ = turn_p.T @ square
    start = float(square @ (np.array(passer.origin) - np.array(holder.origin)))
    for low, high in chords((tabbed.outer, *tabbed.inner), (dy, -dx), dy * x - dx * y):
        below, above = -(low + start), high + start - thick
        if below + above + thick > 0.0 and below > -thick / 2.0 and above > -thick / 2.0:
            return None if min(below, above) > PASSES else -min(below, above)
    return None


@claim("JNT-03", "the corners of every tab go into its slot as the torch cuts it", holds="part", needed=False)
def check_corners_relieved(claim: Claim, job: Job) -> list[Finding]:
    """A corner of a tab that a torch of this kerf cannot clear keeps the tab out."""
    radius = float(job.sheet.process.kerf) / 2.0
    found, names, count = [], set(), 0
    for _, _, fit in tabs(job):
        for joint, opening in fit:
            count += 1
            names |= {joint.tab, joint.slot}
            shut = [c for c in joint.corners if not reached(np.array(c), opening, radius)]
            if shut:
                words = (
                    f"{len(shut)} corners of a tab of {joint.tab} do not go into {joint.slot}: a torch with a kerf of "
                    f"{inch(2.0 * radius)} leaves steel there"
                )
                found.append(_fault(claim, words, "relieve the corners of the slot", joint))
    if found or not count:
        return found
    words = f"the corners of {count} tabs are clear of what a kerf of {inch(2.0 * radius)} leaves in their slots"
    return [_pass(claim, words, names)]


def reached(corner: Array, opening: Array, radius: float) -> bool:
    """Whether a torch that clears a disc of `radius` [mm], kept inside the opening (n, 2), clears a point (2,)."""
    import shapely  # a check of the sheet alone need not load it

    angle = np.linspace(0.0, 2.0 * np.pi, AROUND, endpoint=False)
    away = np.linspace(0.0, radius, DEEP)
    middles = corner + np.stack([np.outer(away, np.cos(angle)).ravel(), np.outer(away, np.sin(angle)).ravel()], axis=1)
    room = shapely.Polygon(opening)
    shapely.prepare(room)
    points = shapely.points(middles[shapely.contains_xy(room, middles[:, 0], middles[:, 1])])
    return bool((shapely.distance(room.exterior, points) >= radius - CHORD).any())
