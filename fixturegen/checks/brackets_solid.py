"""BRK: what is measured on the finished solids: holes on hardpoints, room for the joint, gap at the root."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.checks.brackets import ASSEMBLY, INCH, PRACTICE, ROUNDING, placements_of
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.scene import Thing, inches
from fixturegen.findings import Finding, Level
from fixturegen.plate import Part, Placement
from fixturegen.plate.profile import polyline
from fixturegen.studies.bracket_places import off_surface
from fixturegen.studies.bracket_records import Base, BracketFacts, FlatBase, Seam

ON_POINT = 0.05  # [mm] a solid's hole this near to the hardpoint stands on it; the kernel's own rounding is far less
ON_LINE = 0.01  # [deg] a hole's line that leans by less from the bolt's
LEAST_ROOM, MOST_ROOM, TOO_WIDE = 0.005 * INCH, 0.030 * INCH, INCH / 8.0
"""Between joint and ears together: to go in by hand; what thin ears close without a bend; never more [mm] [cp]."""
BESIDE_HOLE = 1.5  # [mm] lines are shot along the bolt this far outside its hole: on the sleeve, on flat steel
WAYS = 8  # lines round the bolt
ROOT = INCH / 16.0
"""Gap at the root up to which a fillet keeps its size [mm] (AWS D1.1, fit-up of fillet welds, from memory)."""
MOST_ROOT = 3.0 * INCH / 16.0  # beyond it a fillet is not allowed at all [mm] (as above, from memory)
SAMPLE = 2.0  # [mm] along an edge from one place that is measured to the next
DEEP = 5  # places through the thickness
FROM_MEMORY = "AWS D1.1, fit-up of fillet welds, from memory"


def things_of(job: Job) -> tuple[Thing, ...]:
    """Every placed part of the brackets as a solid, frame A; group is the bracket's name. Drawn once."""
    from fixturegen.bodies.axle import jig_solids

    kept: tuple[Thing, ...] | None = job.store.get("scene of brackets")
    if kept is None:
        places = job.assemblies[ASSEMBLY].placements if ASSEMBLY in job.assemblies else ()
        kept = tuple(
            Thing(name, places[i].group, name, solid, i) for (i, name), solid in jig_solids(job, ASSEMBLY).items()
        )
        job.store["scene of brackets"] = kept
    return kept


def _own(job: Job, facts: BracketFacts) -> tuple[Thing, ...]:
    return tuple(t for t in things_of(job) if t.group == facts.mount.name)


@claim("BRK-02", "The holes of every bracket stand on the hardpoint of the sheet.", holds="part")
def check_on_point(claim: Claim, job: Job) -> list[Finding]:
    """One finding a bracket: the hole farthest off, measured on the solids where they stand."""
    found = []
    for facts in job.brackets.facts.values():
        if not facts.ears:
            continue
        off, many = _off_point(facts, _own(job, facts))
        good = many >= len(facts.ears) and off <= ON_POINT
        if many < len(facts.ears):
            words = (
                f"{facts.mount.label}: {many} of {len(facts.ears)} ears have a hole on the line of the bolt; "
                f"the nearest other one is {inches(off)} off"
            )
        else:
            words = (
                f"{facts.mount.label}: {many} holes, the worst {inches(off)} off the hardpoint of {facts.mount.holds}"
            )
        found.append(
            claim.finding(
                Level.PASS if good else Level.FAIL,
                words,
                remedy="" if good else "use no part of this bracket; report it with the sheet",
                parts=facts.parts,
                assembly=ASSEMBLY,
                point=facts.mount.point,
                value=off,
                limit=ON_POINT,
                unit="mm",
                source="the sheet's point, turned into the axle's frame",
                frame="A",
            )
        )
    return found


def _off_point(facts: BracketFacts, own: tuple[Thing, ...]) -> tuple[float, int]:
    """How far the worst of as many holes as there are ears is off [mm]; how many stand on the bolt's line."""
    from fixturegen.shapes.bores import bores_of

    point, bolt = facts.mount.point, facts.mount.bolt
    hole = max(e.hole for e in facts.ears)
    rows: list[tuple[float, float]] = []
    for one in own:
        lines = [b for b in bores_of(one.solid) if abs(b.diameter - hole) < ON_POINT]
        rows += [(b.off(point), b.leans(bolt)) for b in lines]
    # each ear has its own; those of more holes stand a pitch away
    near = sorted(off for off, lean in rows if lean <= ON_LINE)
    many = sum(off <= ON_POINT for off in near)
    if not near:
        return math.inf, 0
    worst = near[min(len(facts.ears), len(near)) - 1]
    return worst, many


@claim("BRK-03", "Every joint goes between the ears as they are made, and they close on it.", holds="part")
def check_joint_room(claim: Claim, job: Job) -> list[Finding]:
    """One finding a bracket of two ears: room beside the joint, measured along the bolt on the solids."""
    found = []
    for facts in job.brackets.facts.values():
        joint = facts.mount.joint
        if joint is None or len(facts.ears) < 2:
            continue
        right, left = between(facts, _own(job, facts))
        room = right + left - joint.width
        aside = (left - right) / 2.0
        level, remedy = _judged(room)
        words = (
            f"{facts.mount.label}: {inches(right + left)} between the ears over a joint of {inches(joint.width)}, "
            f"{inches(room)} of room"
        )
        if room < 0.0:
            words = (
                f"{facts.mount.label}: the {joint.name} is {inches(joint.width)} wide and {inches(right + left)} are "
                f"between the ears, {inches(-room)} too little"
            )
        deep = joint.body / 2.0 - off_surface(facts.mount)
        if deep > 0.0:
            level, remedy = Level.FAIL, f"move its point {inches(deep)} or more away from the {facts.mount.base.words}"
            words += f"; the body of the {joint.name} would stand {inches(deep)} in the {facts.mount.base.words}"
        if abs(aside) > MOST_ROOM:
            level, remedy = Level.FAIL, "use no part of this bracket; report it with the sheet"
            words += f"; its middle lies {inches(abs(aside))} beside the hardpoint"
        found.append(
            claim.finding(
                level,
                words,
                remedy=remedy,
                parts=facts.parts,
                assembly=ASSEMBLY,
                point=facts.mount.point,
                value=room,
                limit=0.0 if room < 0.0 else MOST_ROOM,
                unit="mm",
                source=PRACTICE,
                frame="A",
            )
        )
    return found


def _judged(room: float) -> tuple[Level, str]:
    if room < 0.0:
        return Level.FAIL, "measure the joint again, spacers on, and raise `room` of this bracket"
    if room > TOO_WIDE:
        return Level.FAIL, "the ears would bend before they clamp: lower `room` to 1/64 in"
    if room < LEAST_ROOM - ROUNDING:
        return Level.WARN, "paint alone will fill that: ask for 1/64 in of `room`"
    if room > MOST_ROOM + ROUNDING:
        return Level.WARN, "the bolt must draw that in: ask for less `room`, or shim the joint"
    return Level.PASS, ""


def between(facts: BracketFacts, own: tuple[Thing, ...]) -> tuple[float, float]:
    """From the hardpoint along the bolt to the nearest steel, to its right and to its left [mm].

    Lines are shot round the hole, where the sleeve of the joint touches.

    Args:
        facts: The bracket.
        own: Its parts where they stand.
    """
    from fixturegen.shapes.rays import ray_lengths

    bolt, point = np.array(facts.mount.bolt), np.array(facts.mount.point)
    x = np.cross(bolt, [0.0, 0.0, 1.0] if abs(bolt[2]) < 0.9 else [1.0, 0.0, 0.0])
    x = x / np.linalg.norm(x)
    y = np.cross(bolt, x)
    far = max(e.hole for e in facts.ears) / 2.0 + BESIDE_HOLE
    turns = np.arange(WAYS) * 2.0 * math.pi / WAYS
    starts = point + far * (np.cos(turns)[:, None] * x + np.sin(turns)[:, None] * y)
    found = []
    for way in (-bolt, bolt):
        lengths = [ray_lengths(t.body.mesh, t.body.own(starts), way @ np.array(t.body.pose[0])) for t in own]
        found.append(min((float(v.min()) for v in lengths), default=math.inf))
    return found[0], found[1]


@claim("BRK-07", "Plates stand on their tube with no more gap at the root than a fillet bridges.", holds="part")
def check_root(claim: Claim, job: Job) -> list[Finding]:
    """One finding a bracket: tightest and widest place along its seams, through the thickness of the plates."""
    found = []
    for facts in job.brackets.facts.values():
        rows = [g for p in placements_of(job, facts) for g in root_gaps(facts, job.parts[p.part], p)]
        if not rows:
            rows = [
                (g, g)
                for s in facts.seams
                for g in (gap_at(facts.mount.base, s.begin), gap_at(facts.mount.base, s.end))
            ]
        if not rows:
            continue
        least, most = min(g for g, _ in rows), max(g for _, g in rows)
        level, remedy = Level.PASS, ""
        on = facts.mount.base.words
        words = f"{facts.mount.label}: root gap {inches(least)} to {inches(most)} along its seams on the {on}"
        if least < -ROUNDING:
            level, remedy = Level.FAIL, "measure the tube again: the plate does not go on"
            words = f"{facts.mount.label}: its plate stands {inches(-least)} in the {facts.mount.base.words}"
        elif most > MOST_ROOT:
            level, remedy = Level.FAIL, "turn the bolt nearer to square with the tube, or take a thinner plate"
        elif most > ROOT:
            level, remedy = Level.WARN, f"grind the open side to fit, or make the leg {inches(most)} larger there"
        found.append(
            claim.finding(
                level,
                words,
                remedy=remedy,
                parts=facts.parts,
                assembly=ASSEMBLY,
                value=least if least < -ROUNDING else most,
                limit=0.0 if least < -ROUNDING else ROOT,
                unit="mm",
                source=FROM_MEMORY,
                frame="A",
            )
        )
    return found


def gap_at(base: Base, point: tuple[float, float, float]) -> float:
    """Height of a point over what a bracket stands on [mm], negative inside it."""
    p = np.array(point)
    if isinstance(base, FlatBase):
        return float((p - np.array(base.point)) @ np.array(base.normal))
    along, off = np.array(base.along), p - np.array(base.point)
    return float(np.linalg.norm(off - (off @ along) * along)) - base.radius


def root_gaps(facts: BracketFacts, part: Part, place: Placement) -> Iterator[tuple[float, float]]:
    """(least through the thickness, at the face that is welded) for places along the seams of a flat plate [mm]."""
    own = [s for s in facts.seams if s.part == part.name]
    if part.profile is None or part.bends or not own:
        return
    turn, origin = np.array(place.rotation), np.array(place.origin)
    for x, y in _walk(polyline(part.profile.outer)):
        column = np.array([(x, y, z) for z in np.linspace(0.0, part.thickness, DEEP)]) @ turn.T + origin
        faces = [column[0], column[-1]]
        welded = next((f for f in faces if any(_beside(f, s, facts.mount.base) for s in own)), None)
        if welded is None:
            continue
        heights = [gap_at(facts.mount.base, (float(p[0]), float(p[1]), float(p[2]))) for p in column]
        yield min(heights), gap_at(facts.mount.base, (float(welded[0]), float(welded[1]), float(welded[2])))


def _walk(corners: tuple[tuple[float, float], ...]) -> Iterator[tuple[float, float]]:
    """Places along a closed outline, corners among them."""
    for (ax, ay), (bx, by) in zip(corners, (*corners[1:], corners[0]), strict=True):
        n = max(1, math.ceil(math.hypot(bx - ax, by - ay) / SAMPLE))
        for k in range(n):
            yield ax + k / n * (bx - ax), ay + k / n * (by - ay)


def _beside(point: Array, seam: Seam, base: Base) -> bool:
    """Whether a point of a plate lies along a stretch of a seam: no farther off than its arc bulges from it."""
    a, b = np.array(seam.begin), np.array(seam.end)
    way = b - a
    long = float(np.linalg.norm(way))
    if long < ROUNDING:
        return False
    share = float((point - a) @ way) / long**2
    if not 0.0 <= share <= 1.0:
        return False
    # sagitta of the arc over the stretch (geometry), and what an askew ellipse bulges more
    bulge = 0.1 if isinstance(base, FlatBase) else 0.1 + long**2 / (4.0 * base.radius)
    return float(np.linalg.norm(point - a - share * way)) <= bulge
