"""BRK: every bracket can be drawn, its holes keep their edges and its beads keep off holes and other welds."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.scene import inches
from fixturegen.findings import Finding, Level
from fixturegen.plate import Hole, Part, Placement, Purpose
from fixturegen.plate.nearness import loop_to_point
from fixturegen.plate.tape import crossings
from fixturegen.studies.bracket_records import BracketFacts, Mount, TubeBase

ASSEMBLY = "brackets"
INCH = 25.4
PRACTICE = "common practice, no source"
EDGE, AHEAD = 1.5, 2.0
"""Least distance from a joint's hole to the edge, in bolt diameters: any way, and the way the link pulls [1] [cp]."""
TOE = INCH / 2.0  # from the edge of a hole to the toe of a weld [mm] [cp]
OTHER_WELD = INCH / 2.0  # from a bracket's bead to a knuckle's, an end's or the centre section's [mm] [cp]
IN_PLANE = 0.2  # a link that leans less than this toward the plate pulls no way in it [1]
ROUNDING = 1e-6  # [mm]


@dataclass(frozen=True)
class PlacedHole:
    """A joint's hole in a plate of a bracket.

    Attributes:
        part: The plate.
        hole: In the part's frame.
        place: Where the plate stands.
    """

    part: Part
    hole: Hole
    place: Placement

    @property
    def centre(self) -> Array:
        """Its middle, half the plate in, frame A, shape (3,) [mm]."""
        own = np.array([self.hole.x, self.hole.y, self.part.thickness / 2.0])
        return np.asarray(np.array(self.place.rotation) @ own + np.array(self.place.origin))

    def way(self, direction: tuple[float, float, float]) -> tuple[float, float]:
        """A direction of A in the plane of the plate."""
        own = np.array(self.place.rotation).T @ np.array(direction)
        return float(own[0]), float(own[1])


def placements_of(job: Job, facts: BracketFacts) -> tuple[Placement, ...]:
    """Where the parts of a bracket stand, frame A."""
    if ASSEMBLY not in job.assemblies:
        return ()
    name = facts.mount.name
    return tuple(p for p in job.assemblies[ASSEMBLY].placements if p.group == name)


def holes_of(job: Job, facts: BracketFacts) -> Iterator[PlacedHole]:
    """Every joint's hole of the flat plates of a bracket."""
    for place in placements_of(job, facts):
        part = job.parts[place.part]
        if part.profile is not None and not part.bends:
            for hole in part.profile.holes:
                if hole.purpose is Purpose.JOINT:
                    yield PlacedHole(part, hole, place)


@claim("BRK-01", "Every bracket of the sheet can be drawn.", holds="nothing")
def check_drawn(claim: Claim, job: Job) -> list[Finding]:
    """A fail for every bracket that cannot be drawn, naming what is in the way and by how much."""
    made = job.brackets
    found = [
        claim.finding(
            Level.FAIL, _named(one.mount, one.words), remedy=one.remedy, assembly=ASSEMBLY, source=PRACTICE, frame="A"
        )
        for one in made.unmade
    ]
    if made.facts and not found:
        words = f"{len(made.facts)} brackets are drawn, from {len({f.mount.row for f in made.facts.values()})} rows"
        found.append(claim.finding(Level.PASS, words, assembly=ASSEMBLY, source=PRACTICE, frame="A"))
    return found


def _named(mount: str, words: str) -> str:
    """Words that begin with the bracket's name, said once."""
    head = "".join(c for c in words.partition(":")[0].casefold() if c.isalnum())
    return words if head.startswith(mount.replace("-", "")) else f"{mount}: {words}"


@claim("BRK-04", "Every joint's hole keeps 1 1/2 bolts to the edge, and 2 the way its link pulls.", holds="part")
def check_edges(claim: Claim, job: Job) -> list[Finding]:
    """One finding a bracket: its worst hole, measured on the plate's outline."""
    found = []
    for facts in job.brackets.facts.values():
        joint = facts.mount.joint
        if joint is None:
            continue
        rows = [r for h in holes_of(job, facts) for r in _edges_of(facts.mount, h)]
        rows += _bent_edges(job, facts)
        if rows:
            found.append(_edge_finding(claim, facts, joint.shank, min(rows, key=lambda r: r[0] - r[1] * joint.shank)))
    return found


Row = tuple[float, float, str, str]
"""Distance [mm], least in bolt diameters, way in words, what."""


def _edges_of(mount: Mount, one: PlacedHole) -> Iterator[Row]:
    profile, hole = one.part.profile, one.hole
    if profile is None:
        return
    what = f"{hole.label or 'hole'} in {one.part.name}"
    yield min(loop_to_point(loop, hole.x, hole.y) for loop in (profile.outer, *profile.inner)), EDGE, "any way", what
    x, y = one.way(mount.along)
    if math.hypot(x, y) > IN_PLANE:
        at = crossings(profile.outer, (hole.x, hole.y), (hole.x + x, hole.y + y))
        yield min(abs(t) for t in at), AHEAD, "along the link", what


def _bent_edges(job: Job, facts: BracketFacts) -> Iterator[Row]:
    """Of a folded bracket: any way on its flat, along the link as its maker laid it out."""
    for name in facts.parts:
        part = job.parts[name]
        if part.profile is None or not part.bends:
            continue
        for hole in part.profile.holes:
            if hole.purpose is Purpose.JOINT:
                near = min(loop_to_point(loop, hole.x, hole.y) for loop in (part.profile.outer, *part.profile.inner))
                yield near, EDGE, "any way, on the flat", f"{hole.label or 'hole'} in {name}"
        for ear in facts.ears:
            if ear.part == name:
                yield ear.ahead, AHEAD, "along the link", f"ear of {name}"


def _edge_finding(claim: Claim, facts: BracketFacts, shank: float, row: Row) -> Finding:
    value, least, way, what = row
    limit = least * shank
    good = value >= limit - ROUNDING
    words = (
        f"{facts.mount.label}: {what}, {inches(value)} from its middle to the edge {way}, "
        f"{value / shank:.2f} bolt diameters of {inches(shank)}"
    )
    return claim.finding(
        Level.PASS if good else Level.FAIL,
        words,
        remedy="" if good else "take a smaller bolt, or give the plate more steel round that hole",
        parts=facts.parts,
        assembly=ASSEMBLY,
        value=value,
        limit=limit,
        unit="mm",
        source=PRACTICE,
        frame="A",
    )


@claim("BRK-05", "From the edge of a joint's hole to the toe of a weld it is at least 1/2 in.", holds="part")
def check_toes(claim: Claim, job: Job) -> list[Finding]:
    """One finding a bracket: the hole nearest to a bead, across the bolt, leg taken off."""
    found = []
    for facts in job.brackets.facts.values():
        gaps = [g for h in holes_of(job, facts) for g in _toes_of(facts, h)]
        if not gaps:
            gaps = [(e.over - e.hole / 2.0 - float(facts.mount.spec.leg), e.part) for e in facts.ears]
        if not gaps:
            continue
        gap, part = min(gaps)
        good = gap >= TOE - ROUNDING
        words = f"{facts.mount.label}: {inches(gap)} from the edge of a hole in {part} to the toe of its weld"
        found.append(
            claim.finding(
                Level.PASS if good else Level.FAIL,
                words,
                remedy="" if good else "move the joint away from what it is welded to, or take a smaller leg or bolt",
                parts=facts.parts,
                assembly=ASSEMBLY,
                value=gap,
                limit=TOE,
                unit="mm",
                source=PRACTICE,
                frame="A",
            )
        )
    return found


def _toes_of(facts: BracketFacts, one: PlacedHole) -> Iterator[tuple[float, str]]:
    bolt, centre = np.array(facts.mount.bolt), one.centre
    for seam in facts.seams:
        if seam.part != one.part.name:
            continue  # its line lies behind another plate
        off = distance_across(centre, bolt, np.array(seam.begin), np.array(seam.end))
        yield off - one.hole.finished / 2.0 - seam.leg, one.part.name


def distance_across(centre: Array, axis: Array, begin: Array, end: Array) -> float:
    """Distance from a line to a stretch, seen along the line [mm].

    Args:
        centre: A point of the line, shape (3,) [mm].
        axis: Its unit direction, shape (3,).
        begin: One end of the stretch, shape (3,) [mm].
        end: Its other end, shape (3,) [mm].
    """
    a, b = begin - centre, end - centre
    a, b = a - (a @ axis) * axis, b - (b @ axis) * axis
    way = b - a
    long = float(way @ way)
    share = 0.0 if long == 0.0 else min(1.0, max(0.0, -float(a @ way) / long))
    return float(np.linalg.norm(a + share * way))


@claim("BRK-06", "Beads of brackets lie on their tube, 1/2 in from any other weld.", holds="part")
def check_stations(claim: Claim, job: Job) -> list[Finding]:
    """One finding a bracket on the axle's own tube: its bead nearest to knuckle, end or centre section."""
    found = []
    for facts in job.brackets.facts.values():
        base = facts.mount.base
        if not (isinstance(base, TubeBase) and facts.mount.spec.end == "axle" and abs(base.along[1]) == 1.0):
            continue
        if not facts.seams:
            continue
        gap, name = min((_beside(job, s.begin[1], s.end[1], s.leg) for s in facts.seams), key=lambda g: g[0])
        level = Level.PASS if gap >= OTHER_WELD - ROUNDING else Level.FAIL
        if gap >= 0.0:
            words = f"{facts.mount.label}: {inches(gap)} from its nearest toe to the weld of the {name}"
        else:
            words = f"{facts.mount.label}: its bead reaches {inches(-gap)} past the weld of the {name}, off the tube"
        found.append(
            claim.finding(
                level,
                words,
                remedy="" if level is Level.PASS else f"move its point along the axle, away from the {name}",
                parts=facts.parts,
                assembly=ASSEMBLY,
                value=gap,
                limit=OTHER_WELD,
                unit="mm",
                source=PRACTICE,
                frame="A",
            )
        )
    return found


def other_welds(job: Job) -> tuple[tuple[str, float, int], ...]:
    """Welds across the axle: name, station [mm], and which way along Y the free tube lies from there."""
    axle = job.axle
    found = [("centre section", axle.section[1], 1), ("centre section", axle.section[0], -1)]
    if axle.knuckles:
        found += [(f"{k.side} knuckle", k.weld_station, -1 if k.side == "left" else 1) for k in axle.knuckles]
    else:
        back = 3.0 * float(job.sheet.wheel_ends.end_flange_thickness)  # length of an end's sleeve, as it is drawn
        found.append(("left bearing end", axle.tube_ends[1] - back, -1))
        found.append(("right bearing end", axle.tube_ends[0] + back, 1))
    return tuple(found)


def _beside(job: Job, y0: float, y1: float, leg: float) -> tuple[float, str]:
    """Toe of a bead to the nearest weld on its side of the axle [mm], negative past it; and its name."""
    middle = (y0 + y1) / 2.0
    left = middle >= job.axle.bearing_middle
    rows = []
    for name, at, way in other_welds(job):
        if (at > job.axle.bearing_middle) == left:
            near = min(way * (y0 - at), way * (y1 - at)) - leg
            rows.append((near, name))
    return min(rows)
