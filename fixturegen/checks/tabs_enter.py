"""FIT-02: every tab enters its slot with the plate as thick as it was measured. No kernel needed."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.scene import inches
from fixturegen.checks.wording import shared
from fixturegen.findings import Finding, Level
from fixturegen.plate import Part, Placement
from fixturegen.plate.profile import Loop, polyline

Array = NDArray[np.float64]
LEAST_ROOM = 0.1
"""Room a tab needs on each side of its slot [mm]: half of the spread of the plate's own thickness
that a micrometer finds over one sheet, 0.2 mm (common practice, no source)."""
CHORD = 0.01  # arcs of a slot as chords within this [mm]


@dataclass(frozen=True)
class Joint:
    """A plate that passes through an opening of another.

    Attributes:
        tab: Name of the part that passes.
        slot: Name of the part with the opening.
        room: Least distance from the tab to the opening's edge [mm]; negative when it does not enter.
        point: Middle of the tab (3,), frame T [mm].
        size: Length and thickness of the tab [mm].
        opening: Number of the opening among those of the slotted part.
        corners: Corners of the tab in the slotted part's frame (4, 2) [mm].
    """

    tab: str
    slot: str
    room: float
    point: tuple[float, float, float]
    size: tuple[float, float]
    opening: int = 0
    corners: tuple[tuple[float, float], ...] = ()


Pair = tuple[Placement, Placement, list[Joint]]


def joints(job: Job) -> list[Joint]:
    """Every passage of a plate through an opening of another plate, square to it."""
    return [j for _, _, found in pairs(job) for j in found]


def pairs(job: Job) -> list[Pair]:
    """The pairs of `joint_pairs`, looked for once a job."""
    return shared(job, "study.joint_pairs", lambda: joint_pairs(job))


def joint_pairs(job: Job, assembly: str = "jig") -> list[Pair]:
    """Where a plate that passes and one with openings stand, and each passage between the two."""
    if assembly not in job.assemblies:
        return []
    places = job.assemblies[assembly].placements
    plates = [(p, job.parts[p.part]) for p in places if job.parts[p.part].profile is not None]
    found: list[Pair] = []
    for holder, slotted in plates:
        if slotted.profile is None or not slotted.profile.inner:
            continue
        openings = [np.array(polyline(loop, CHORD)) for loop in slotted.profile.inner]
        for passer, tabbed in plates:
            there = [] if passer is holder else _between(passer, tabbed, holder, slotted, openings)
            if there:
                found.append((passer, holder, there))
    return found


def _between(passer: Placement, tabbed: Part, holder: Placement, slotted: Part, openings: list[Array]) -> list[Joint]:
    turn_a, turn_b = np.array(passer.rotation), np.array(holder.rotation)
    if abs(float(turn_a[:, 2] @ turn_b[:, 2])) > 1e-6 or tabbed.profile is None:
        return []
    found: dict[tuple[int, int], Joint] = {}
    low, high = (np.array([side(o, axis=0) for o in openings]) for side in (np.min, np.max))
    for depth in (0.5, 0.02, 0.98):  # the middle first: ends of a tab are chamfered, its root is relieved
        for corners in _sections(passer, tabbed, holder, depth * slotted.thickness):
            middle = corners.mean(axis=0)
            for number in np.flatnonzero(np.all((low <= middle) & (middle <= high), axis=1)).tolist():
                opening = openings[number]
                if not _inside(opening, middle[None])[0]:
                    continue
                joint = _joint(tabbed, slotted, holder, corners, opening, depth)
                joint = replace(joint, opening=number, corners=tuple((float(x), float(y)) for x, y in corners))
                # one joint per opening and place, the tightest of the three depths
                key = (number, round(float(middle[0] + 1000.0 * middle[1])))
                if key not in found or joint.room < found[key].room:
                    found[key] = joint
    return list(found.values())


def _sections(passer: Placement, tabbed: Part, holder: Placement, depth: float) -> Iterator[Array]:
    """Rectangles (4, 2) [mm] that a plate cuts out of a plane of the other, in the other's frame."""
    turn_a, turn_b = np.array(passer.rotation), np.array(holder.rotation)
    origin_a, origin_b = np.array(passer.origin), np.array(holder.origin)
    normal = turn_b[:, 2]
    level = float(normal @ origin_b) + depth
    # the plane in the passer's own x and y: nx x + ny y = c
    nx, ny = float(normal @ turn_a[:, 0]), float(normal @ turn_a[:, 1])
    c = level - float(normal @ origin_a)
    if tabbed.profile is None:
        return
    loops = (tabbed.profile.outer, *tabbed.profile.inner)
    for low, high in chords(loops, (nx, ny), c):
        corners = []
        for s, z in ((low, 0.0), (high, 0.0), (high, tabbed.thickness), (low, tabbed.thickness)):
            x, y = c * nx - s * ny, c * ny + s * nx
            world = turn_a @ np.array([x, y, z]) + origin_a
            corners.append((turn_b.T @ (world - origin_b))[:2])
        yield np.array(corners)


def chords(loops: tuple[Loop, ...], normal: tuple[float, float], c: float) -> list[tuple[float, float]]:
    """Where the line n . p = c runs inside the loops, as (from, to) along (-ny, nx) [mm]."""
    nx, ny = normal
    crossings = []
    for loop in loops:
        points = polyline(loop, CHORD)
        for (x0, y0), (x1, y1) in zip(points, points[1:] + points[:1], strict=True):
            d0, d1 = nx * x0 + ny * y0 - c, nx * x1 + ny * y1 - c
            if (d0 < 0.0) != (d1 < 0.0):
                t = d0 / (d0 - d1)
                x, y = x0 + t * (x1 - x0), y0 + t * (y1 - y0)
                crossings.append(-ny * x + nx * y)
    crossings.sort()
    return list(zip(crossings[::2], crossings[1::2], strict=False))


def _inside(polygon: Array, points: Array) -> NDArray[np.bool_]:
    """Which of the points (m, 2) lie inside a polygon (n, 2) (even-odd rule)."""
    start, end = polygon, np.concatenate([polygon[1:], polygon[:1]])
    x, y = points[:, 0, None], points[:, 1, None]
    crosses = (start[:, 1] > y) != (end[:, 1] > y)
    rise = np.where(end[:, 1] == start[:, 1], 1.0, end[:, 1] - start[:, 1])
    left = x < start[:, 0] + (y - start[:, 1]) / rise * (end[:, 0] - start[:, 0])
    return np.asarray(np.count_nonzero(crosses & left, axis=1) % 2 == 1)


def _joint(tabbed: Part, slotted: Part, holder: Placement, corners: Array, opening: Array, depth: float) -> Joint:
    middle = corners.mean(axis=0)
    sides = [float(np.linalg.norm(corners[1] - corners[0])), float(np.linalg.norm(corners[2] - corners[1]))]
    room = _distance(corners, opening)
    if not _inside(opening, corners).all() or _inside(corners, opening).any():
        room = -_depth_outside(corners, opening)
    world = np.array(holder.rotation) @ np.array([*middle, depth * slotted.thickness])
    world = world + np.array(holder.origin)
    point = float(world[0]), float(world[1]), float(world[2])
    return Joint(tabbed.name, slotted.name, room, point, (sides[0], sides[1]))


def _distance(a: Array, b: Array) -> float:
    """Least distance of two polygons' edges (n, 2), (m, 2) [mm], from corners to edges both ways."""
    return min(_to_edges(a, b), _to_edges(b, a))


def _to_edges(points: Array, polygon: Array) -> float:
    start = polygon
    edge = np.roll(polygon, -1, axis=0) - start
    length = np.maximum((edge**2).sum(axis=1), 1e-18)
    rel = points[:, None, :] - start[None, :, :]
    t = np.clip((rel * edge[None]).sum(axis=2) / length, 0.0, 1.0)
    nearest = start[None] + t[..., None] * edge[None]
    return float(np.sqrt(((points[:, None, :] - nearest) ** 2).sum(axis=2)).min())


def _depth_outside(corners: Array, opening: Array) -> float:
    """How far a tab stands over its opening [mm]."""
    out = [_to_edges(p[None], opening) for p in corners[~_inside(opening, corners)]]
    over = [_to_edges(p[None], corners) for p in opening[_inside(corners, opening)]]
    return max(out + over, default=math.inf)


@claim(
    "FIT-02",
    "Every tab enters its slot with the plates as thick as they were measured.",
    holds="part",
)
def check_tabs_enter(claim: Claim, job: Job) -> list[Finding]:
    """One pass with the tightest joint, or a fail for every joint that is too tight."""
    found = joints(job)
    tight = [j for j in found if j.room < LEAST_ROOM]
    if tight:
        return [_tight(claim, j) for j in tight]
    if not found:
        return [claim.finding(Level.PASS, "no plate passes through another", assembly="jig")]
    least = min(found, key=lambda j: j.room)
    return [
        claim.finding(
            Level.PASS,
            f"{len(found)} passages of a plate through a plate; the tightest is {least.tab} in "
            f"{least.slot} with {inches(least.room)} on its closest side",
            assembly="jig",
            parts=(least.tab, least.slot),
            point=least.point,
            value=least.room,
            limit=LEAST_ROOM,
            unit="mm",
        )
    ]


def _tight(claim: Claim, joint: Joint) -> Finding:
    long, thick = max(joint.size), min(joint.size)
    words = (
        f"{joint.tab} does not enter {joint.slot}: {inches(-joint.room)} too large"
        if joint.room < 0.0
        else f"{joint.tab} has only {inches(joint.room)} beside it in {joint.slot}"
    )
    return claim.finding(
        Level.FAIL,
        f"{words} (tab {inches(long)} by {inches(thick)})",
        remedy="measure both plates again and correct [[plates]]; the slot follows the thickness",
        parts=(joint.tab, joint.slot),
        assembly="jig",
        point=joint.point,
        value=joint.room,
        limit=LEAST_ROOM,
        unit="mm",
        source="common practice, no source",
    )
