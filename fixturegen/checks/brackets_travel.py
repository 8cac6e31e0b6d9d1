"""BRK: brackets and links keep off tyre, brake and one another over the whole travel and from lock to lock.

Everything is told in the axle's frame as it stands at ride height: what is on the frame stands still
there, and the axle moves with its wheels. A link is a round bar from joint to joint; bends are not known.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.linkage import Link
from fixturegen.checks.brackets import ASSEMBLY, INCH
from fixturegen.checks.brackets_motion import Motion, Pose, after, motion_of, pointing, steered, wheel_things
from fixturegen.checks.brackets_room import axle_things
from fixturegen.checks.brackets_solid import things_of
from fixturegen.checks.overlap import overlap
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.scene import DEFLECTION, Thing, elsewhere, inches
from fixturegen.findings import Finding, Level
from fixturegen.plate.part import Vector
from fixturegen.sheet.specs.loads import LinkTube
from fixturegen.studies.bracket_records import BracketFacts

if TYPE_CHECKING:
    from fixturegen.shapes.meshes import Body

TYRE_ROOM = INCH / 2.0  # from a tyre: it bulges and leans [mm] (common practice, no source)
ROOM = INCH / 4.0  # from anything else [mm] (common practice, no source)
NUT = INCH  # from a rod end's body to the link's tube: thread and jam nut [mm] (common practice, no source)
PRACTICE = "common practice, no source; poses of exact rigid links"


@dataclass(frozen=True)
class Near:
    """The tightest place of something.

    Attributes:
        gap: What is safe to rely on [mm]; 0 or less in contact.
        name: Of what it is near to.
        words: Pose in words.
        point: Where [mm], frame A at ride.
        poses: (pose of the first, pose of the other) at that place.
        other: What it is near to.
    """

    gap: float
    name: str
    words: str
    point: Vector
    poses: tuple[Pose, Pose]
    other: Thing

    @property
    def spare(self) -> float:
        """Gap less what ought to be kept [mm]."""
        return self.gap - room_from(self.name)


def room_from(name: str) -> float:
    """What is kept from a thing [mm]."""
    return TYRE_ROOM if name.startswith("wheel") else ROOM


Moved = tuple[Thing, str, Pose]
STILL: Pose = (((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), (0.0, 0.0, 0.0))


@dataclass(frozen=True)
class Around:
    """Things round about where they stand, with their boxes.

    Attributes:
        moved: Each with words of its pose, and the pose.
        bodies: Each where it stands.
        low: Corners of their boxes (n, 3) [mm].
        high: The opposite corners (n, 3) [mm].
        kept: What ought to be kept from each (n,) [mm].
    """

    moved: tuple[Moved, ...]
    bodies: tuple[Body, ...]
    low: Array
    high: Array
    kept: Array


def around_of(others: Iterable[Moved]) -> Around:
    """Where things round about stand, worked out once for all that is held against them."""
    moved = tuple(others)
    bodies = tuple(other.body.at(there) for other, _, there in moved)
    boxes = np.array([b.box for b in bodies]).reshape(-1, 2, 3)
    return Around(moved, bodies, boxes[:, 0], boxes[:, 1], np.array([room_from(m[0].name) for m in moved]))


def tightest(body: Body, pose: Pose, around: Around, worst: Near | None) -> Near | None:
    """The tighter of what was found before and of what a body is near to now.

    Args:
        body: What is looked at.
        pose: Where it stands.
        around: What it may be near to.
        worst: Found before.
    """
    from fixturegen.shapes.meshes import State, clearance

    here = body.at(pose)
    low, high = here.box
    apart = np.linalg.norm(np.maximum(0.0, np.maximum(around.low - high, low - around.high)), axis=1)
    least = apart - 2.0 * DEFLECTION - around.kept
    # what may be tightest comes first, so that most need no distance at all
    for k in np.argsort(least, kind="stable").tolist():
        if worst is not None and least[k] > worst.spare:
            break
        (other, words, there), placed = around.moved[k], around.bodies[k]
        found = clearance(here, placed)
        gap = found.measured - 2.0 * DEFLECTION if found.state is State.APART else 0.0
        if worst is None or gap - room_from(other.name) < worst.spare:
            worst = Near(gap, other.name, words, found.point, (pose, there), other)
    return worst


@claim(
    "BRK-10",
    "Brackets keep off tyres and brakes, and those on the frame off the axle, over travel and lock.",
    holds="part",
)
def check_wheels(claim: Claim, job: Job) -> list[Finding]:
    """One finding a bracket: the tightest place over all poses, with both names and by how much."""
    found = []
    motion = motion_of(job)
    for facts in job.brackets.facts.values():
        own = [t for t in things_of(job) if t.group == facts.mount.name]
        worst: Near | None = None
        first: Thing | None = None
        around = around_of(moved for others in _round_about(job, facts, motion) for moved in others)
        for one in own:
            before = worst
            worst = tightest(one.body, STILL, around, worst)
            if worst is not before:
                first = one
        if worst is not None and first is not None:
            found.append(_wheel_finding(claim, facts, first, worst))
    return found


def _round_about(job: Job, facts: BracketFacts, motion: Motion | None) -> Iterator[list[Moved]]:
    """Wheels round a bracket on the axle; wheels, axle and its brackets at every pose round one on the frame."""
    wheels = [(t, w, p) for t in wheel_things(job) for w, p in steered(job, t.name)]
    if facts.mount.spec.end == "axle":
        yield [(t, f"any travel{w}", p) for t, w, p in wheels]
        return
    if motion is None:
        return
    on_axle = {f.mount.name for f in job.brackets.facts.values() if f.mount.spec.end == "axle"}
    riding = (*axle_things(job), *(t for t in things_of(job) if t.group in on_axle))
    for i, name in enumerate(motion.ids):
        pose = motion.pose(i)
        moved: list[Moved] = [(t, f"{name}{w}", after(pose, p)) for t, w, p in wheels]
        yield moved + [(t, name, pose) for t in riding]


def _wheel_finding(claim: Claim, facts: BracketFacts, first: Thing, near: Near) -> Finding:
    where = f"{first.part} and {near.name}, {near.words}"
    depth = shared_depth(first, near) if near.gap <= 0.0 else 0.0
    level, words, remedy = _told(facts.mount.label, where, near, depth)
    return claim.finding(
        level,
        words,
        remedy=remedy,
        parts=facts.parts,
        assembly=ASSEMBLY,
        pose=near.words,
        point=near.point,
        value=-depth if depth else near.gap,
        limit=room_from(near.name),
        unit="mm",
        source=PRACTICE,
        frame="A",
    )


def _told(label: str, where: str, near: Near, depth: float) -> tuple[Level, str, str]:
    if near.gap <= 0.0:
        words = f"{label}: {where}: they share at least {inches(depth)}" if depth else f"{label}: {where}: they touch"
        return Level.FAIL, words, f"move its point or turn it to the other side, away from the {near.name}"
    words = f"{label}: {inches(near.gap)} between {where}"
    if near.spare < 0.0:
        return Level.WARN, words, f"ask for {inches(room_from(near.name))}: steel and rubber give under load"
    return Level.PASS, words, ""


def shared_depth(first: Thing, near: Near) -> float:
    """How deep the two stand in each other at the tightest place [mm]."""
    mine, other = (elsewhere(t, *p) for t, p in zip((first, near.other), near.poses, strict=True))
    one = overlap(mine, other)
    return 0.0 if one is None else one.depth


@claim("BRK-11", "Links keep off brackets, axle, tyres and brakes over travel and lock.", holds="part")
def check_links(claim: Claim, job: Job) -> list[Finding]:
    """One finding a link that has a bracket: the tightest place of its body, with both names and by how much."""
    motion = motion_of(job)
    if motion is None or not job.brackets.facts:
        return []
    found = []
    for link in motion.links:
        own = [f for f in job.brackets.facts.values() if f.mount.holds == link.name]
        if not own:
            continue
        thick, known = thickness(job, link, own)
        tight = _along_travel(job, motion, link, own, thick, known)
        if tight is not None:
            found.append(_link_finding(claim, link, own, *tight, thick, known))
    return found


def thickness(job: Job, link: Link, own: list[BracketFacts]) -> tuple[float, bool]:
    """Outside diameter of a link [mm], and whether it was measured: else its joint's body stands for it."""
    given = _tube_of(job, link)
    if given is not None:
        return float(given.diameter), True
    return max((f.mount.joint.body for f in own if f.mount.joint is not None), default=2.0 * INCH), False


def _tube_of(job: Job, link: Link) -> LinkTube | None:
    tubes = job.sheet.loads.links if job.sheet.loads is not None else ()
    return next((t for t in tubes if link.name in (t.link, f"{t.link}-left", f"{t.link}-right")), None)


def _along_travel(
    job: Job, motion: Motion, link: Link, own: list[BracketFacts], thick: float, known: bool
) -> tuple[Thing, Near] | None:
    axle_end = motion.stance.in_axle(link.axle)
    frame_end = motion.stance.to_axle(link.frame.point)
    long = float(np.linalg.norm(frame_end - axle_end))
    begin, stop = (_off(job, link, own, end) for end in ("axle", "frame"))
    if long - begin - stop < INCH:
        return None
    bar = _bar(link.name, begin, long - stop, thick)
    names = {f.mount.name for f in own}
    on_axle = {f.mount.name for f in job.brackets.facts.values() if f.mount.spec.end == "axle"}
    # an own bracket is judged only with the link's true thickness: its tube is slimmer than its joint
    plates = [t for t in things_of(job) if known or t.group not in names]
    riding = (*axle_things(job), *(t for t in plates if t.group in on_axle))
    standing = [t for t in plates if t.group not in on_axle]
    wheels = [(t, w, p) for t in wheel_things(job) for w, p in steered(job, t.name)]
    worst: Near | None = None
    for i, name in enumerate(motion.ids):
        pose = motion.pose(i)
        others: list[Moved] = [(t, name, pose) for t in riding]
        others += [(t, name, STILL) for t in standing]
        others += [(t, f"{name}{w}", after(pose, p)) for t, w, p in wheels]
        worst = tightest(bar.body, pointing(motion.point(i, axle_end), frame_end), around_of(others), worst)
    return None if worst is None else (bar, worst)


def _off(job: Job, link: Link, own: list[BracketFacts], end: str) -> float:
    """How far from a joint's middle the link's tube begins: its joint's body, then thread and nut of a rod end [mm]."""
    joint = next((f.mount.joint for f in own if f.mount.spec.end == end and f.mount.joint is not None), None)
    body = 2.0 * INCH if joint is None else joint.body
    given = _tube_of(job, link)
    return body / 2.0 + (NUT if given is not None and given.thread else 0.0)


def _bar(name: str, begin: float, stop: float, thick: float) -> Thing:
    from fixturegen.shapes import solids

    return Thing(f"link {name}", "links", "", solids.cylinder((0.0, 0.0, begin), (0.0, 0.0, stop), thick))


def _link_finding(
    claim: Claim, link: Link, own: list[BracketFacts], bar: Thing, near: Near, thick: float, known: bool
) -> Finding:
    how = "" if known else ", as thick as its joint (its own bracket not looked at: give its tube in [[loads.links]])"
    where = f"link {link.name}, {inches(thick)} thick{how}, and {near.name}, {near.words}"
    depth = shared_depth(bar, near) if near.gap <= 0.0 else 0.0
    level, words, remedy = _told(link.name.replace("-", " "), where, near, depth)
    return claim.finding(
        level,
        words,
        remedy=remedy,
        parts=tuple(p for f in own for p in f.parts),
        assembly=ASSEMBLY,
        pose=near.words,
        point=near.point,
        value=-depth if depth else near.gap,
        limit=room_from(near.name),
        unit="mm",
        source=PRACTICE,
        frame="A",
    )
