"""BRK: nothing shares a bracket's place on the axle, and a torch reaches its seams."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array, as_point
from fixturegen.checks.brackets import ASSEMBLY, PRACTICE
from fixturegen.checks.brackets_solid import things_of
from fixturegen.checks.overlap import TOUCH, Overlap, overlap
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.scene import AXLE, DEFLECTION, Thing, gap_of_boxes, inches
from fixturegen.checks.torch import ENOUGH, NOZZLE, NOZZLE_LONG, STICK_OUT, TRAVEL, WORK
from fixturegen.findings import Finding, Level
from fixturegen.plate.part import Matrix, Vector
from fixturegen.studies.bracket_records import BracketFacts, FlatBase, Seam

CLOSE = 0.5  # pairs farther apart than this by mesh are not handed to the kernel [mm]
REACHED = ENOUGH / 360.0  # share of a bracket's seams that a torch must reach, as of the round joints [1] [cp]
TURNED = 0.7  # [1] a stretch that runs through the plate by more than this is turned round its end
OFF_ROOT = 2.0  # the torch aims so far over the root [mm]


def axle_things(job: Job) -> tuple[Thing, ...]:
    """The bare axle as solids, frame A; drawn once."""
    from fixturegen.bodies.axle import bodies_in

    kept: tuple[Thing, ...] | None = job.store.get("bare axle in A")
    if kept is None:
        kept = tuple(Thing(name, AXLE, "", solid) for name, solid in bodies_in(job, "A").items())
        job.store["bare axle in A"] = kept
    return kept


def shared(a: Thing, b: Thing) -> Overlap | None:
    """What two things share, deeper than a touch; None when they stand apart."""
    from fixturegen.shapes.meshes import State, clearance

    if gap_of_boxes(a.box, b.box) > CLOSE:
        return None
    gap = clearance(a.body, b.body)
    if gap.state is State.APART and gap.measured > CLOSE:
        return None
    one = overlap(a, b)
    return one if one is not None and one.depth > TOUCH else None


@claim("BRK-08", "No two brackets stand in one place.", holds="part")
def check_each_other(claim: Claim, job: Job) -> list[Finding]:
    """A fail for every two brackets that share steel, naming both and by how much; else one pass."""
    things = things_of(job)
    if not things:
        return []
    labels = {f.mount.name: f.mount.label for f in job.brackets.facts.values()}
    worst: dict[tuple[str, str], Overlap] = {}
    for i, a in enumerate(things):
        for b in things[i + 1 :]:
            one = shared(a, b) if a.group != b.group else None
            pair = (a.group, b.group)
            if one is not None and (pair not in worst or one.depth > worst[pair].depth):
                worst[pair] = one
    if not worst:
        words = f"{len(labels)} brackets, none stands in another"
        return [claim.finding(Level.PASS, words, assembly=ASSEMBLY, value=0.0, limit=TOUCH, unit="mm", frame="A")]
    return [
        claim.finding(
            Level.FAIL,
            f"the brackets of {labels.get(one, one)} and {labels.get(other, other)} are in one place: "
            f"{hit.first.part} and {hit.second.part} share at least {inches(hit.depth)}",
            remedy=f"move the point of one of them by more than {inches(hit.depth)}, or turn it round the tube",
            parts=tuple(p for g in (one, other) for p in job.brackets.facts[g].parts if g in job.brackets.facts),
            assembly=ASSEMBLY,
            point=hit.point,
            value=hit.depth,
            limit=TOUCH,
            unit="mm",
            frame="A",
        )
        for (one, other), hit in worst.items()
    ]


@claim("BRK-09", "Brackets on the axle stand in no steel of it.", holds="part")
def check_in_axle(claim: Claim, job: Job) -> list[Finding]:
    """A fail for every bracket in housing, tube, knuckle or end; a pass for each that stands free."""
    found = []
    for facts in job.brackets.facts.values():
        if facts.mount.spec.end != "axle":
            continue
        own = tuple(t for t in things_of(job) if t.group == facts.mount.name)
        hits = [h for a in own for b in axle_things(job) if (h := shared(a, b)) is not None]
        if not hits:
            words = f"{facts.mount.label}: stands in no steel of the axle"
            found.append(_place(claim, facts, Level.PASS, words, "", 0.0))
            continue
        hit = max(hits, key=lambda h: h.depth)
        words = f"{facts.mount.label}: {hit.first.part} stands at least {inches(hit.depth)} in the {hit.second.name}"
        remedy = f"turn its point round the tube or move it along, away from the {hit.second.name}"
        found.append(_place(claim, facts, Level.FAIL, words, remedy, hit.depth, hit.point))
    return found


def _place(
    claim: Claim, facts: BracketFacts, level: Level, words: str, remedy: str, value: float, point: Vector | None = None
) -> Finding:
    return claim.finding(
        level,
        words,
        remedy=remedy,
        parts=facts.parts,
        assembly=ASSEMBLY,
        point=point,
        value=value,
        limit=TOUCH,
        unit="mm",
        frame="A",
    )


ROUND_END = 0.9  # [1] cosine of a seam with the bolt: such a bead is turned round the end of a foot


@dataclass(frozen=True, eq=False)
class Aim:
    """How a torch comes to a stretch of a seam.

    Attributes:
        at: Middle of the stretch, over the root (3,) [mm].
        off_plate: Unit direction away from the plate (3,).
        off_base: Unit direction away from what the plate stands on (3,).
        along: Unit direction of the seam (3,).
    """

    at: Array
    off_plate: Array
    off_base: Array
    along: Array

    def ways(self) -> Iterator[Array]:
        """Unit directions from the bead to the torch, best first."""
        for lean in TRAVEL:
            for work in WORK:
                w, t = math.radians(work), math.radians(lean)
                yield (
                    math.cos(t) * (math.cos(w) * self.off_plate + math.sin(w) * self.off_base)
                    + math.sin(t) * self.along
                )


def aim_of(job: Job, facts: BracketFacts, seam: Seam, own: tuple[Thing, ...]) -> Aim:
    """The torch at the middle of a stretch: off the plate's face, on the side away from its own steel.

    Args:
        job: Parts and where they stand.
        facts: The bracket.
        seam: A stretch of its bead.
        own: Its parts where they stand.
    """
    from fixturegen.shapes.solids import centre_of_mass

    a, b = np.array(seam.begin), np.array(seam.end)
    middle, along = (a + b) / 2.0, (b - a) / np.linalg.norm(b - a)
    base = facts.mount.base
    if isinstance(base, FlatBase):
        up = np.array(base.normal)
    else:
        line, off = np.array(base.along), middle - np.array(base.point)
        up = off - (off @ line) * line
    up = _square(up, along)
    steel = [(np.array(centre_of_mass(t.solid)), t) for t in own if t.part == seam.part]
    out = np.cross(along, up)
    if steel:
        centre, plate = min(steel, key=lambda c: float(np.linalg.norm(c[0] - middle)))
        face = np.array(job.assemblies[ASSEMBLY].placements[plate.index].rotation)[:, 2]
        if job.parts[plate.part].bends:
            face = np.array(facts.mount.bolt)
        if abs(float(face @ along)) < TURNED:
            out = _square(face, along)
        out = out if float((middle - centre) @ out) > 0.0 else -out
    return Aim(middle + OFF_ROOT * (out + up), out, up, along)


def _square(way: Array, along: Array) -> Array:
    """A direction made square to another, unit."""
    way = way - (way @ along) * along
    return np.asarray(way / np.linalg.norm(way), dtype=np.float64)


@claim("BRK-12", "A torch reaches five sixths of every bracket's seams, locators off.", holds="part")
def check_torch(claim: Claim, job: Job) -> list[Finding]:
    """One finding a bracket: its seams walked with a nozzle of 3/4 in by 5 in."""
    from fixturegen.shapes import solids
    from fixturegen.shapes.meshes import body_of

    torch = body_of(
        solids.cylinder((0.0, 0.0, STICK_OUT), (0.0, 0.0, STICK_OUT + NOZZLE_LONG), NOZZLE), "torch", DEFLECTION
    )
    found = []
    for facts in job.brackets.facts.values():
        if not facts.seams or not facts.ears:
            continue
        things = things_of(job)
        own = tuple(t for t in things if t.group == facts.mount.name)
        if facts.mount.spec.end == "axle":
            things = (*things, *axle_things(job))
        total, free, culprits = 0.0, 0.0, dict[str, float]()
        for seam in facts.seams:
            long = math.dist(seam.begin, seam.end)
            total += long
            name = blocker(aim_of(job, facts, seam, own), torch, things)
            if name:
                culprits[name] = culprits.get(name, 0.0) + long
            else:
                free += long
        found.append(_torch_finding(claim, facts, free / total, culprits))
    return found


def blocker(aim: Aim, torch: object, things: tuple[Thing, ...]) -> str:
    """What stands in the best way of a torch when every way is shut; empty when one is free."""
    from fixturegen.shapes.meshes import Body, meshes_collide

    first = ""
    if not isinstance(torch, Body):
        return first
    start = as_point(aim.at)
    for way in aim.ways():
        there = torch.at((_pointing(way), start))
        low, high = there.box
        box = (float(low[0]), float(low[1]), float(low[2]), float(high[0]), float(high[1]), float(high[2]))
        hit = next((t for t in things if gap_of_boxes(t.box, box) <= 0.0 and meshes_collide(there, t.body)), None)
        if hit is None:
            return ""
        first = first or hit.name
    return first


def _pointing(way: Array) -> Matrix:
    """Rotation that takes local Z to a unit direction."""
    x = np.cross([0.0, 1.0, 0.0] if abs(way[1]) < 0.9 else [1.0, 0.0, 0.0], way)
    x = x / np.linalg.norm(x)
    a, b, c = (as_point(r) for r in np.stack([x, np.cross(way, x), way], axis=1))
    return a, b, c


def _torch_finding(claim: Claim, facts: BracketFacts, share: float, culprits: dict[str, float]) -> Finding:
    good = share >= REACHED
    words = f"{facts.mount.label}: a torch reaches {100.0 * share:.0f} % of its seams"
    names = sorted(culprits, key=lambda n: -culprits[n])[:3]
    if names:
        words += "; shut by " + ", ".join(f"{n} ({inches(culprits[n])} of seam)" for n in names)
    return claim.finding(
        Level.PASS if good else Level.FAIL,
        words,
        remedy="" if good else f"move it away from {names[0]}, or weld it before {names[0]} is put on",
        parts=facts.parts,
        assembly=ASSEMBLY,
        value=share,
        limit=REACHED,
        unit="1",
        source=PRACTICE,
        frame="A",
    )
