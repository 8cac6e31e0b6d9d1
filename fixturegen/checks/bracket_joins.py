"""From a bracket as drawn to a bracket as its strength takes it: sizes of ears, welds, cross plate and wall.

The bracket's frame: origin in the middle of the joint, x along the link at ride, z along the bolt.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.checks.registry import Job
from fixturegen.errors import Fault, InputFault
from fixturegen.findings import Trust
from fixturegen.plate import Part, Placement
from fixturegen.plate.profile import polyline
from fixturegen.plate.tape import crossings
from fixturegen.studies.bracket_case import BracketCase, check_case
from fixturegen.studies.bracket_records import BracketFacts, Ear, JointSize, Mount, TubeBase
from fixturegen.studies.joint_bolts import joint_bolt
from fixturegen.studies.strength_records import Steel, steel_of
from fixturegen.studies.weld_lines import WeldLine

ASSEMBLY = "brackets"
PLAIN_STEEL = "a36"
"""Taken for steel nobody named: the softest of the table."""
ACROSS = math.sqrt(0.5)
"""Bolt to tube or rail (cosine): from here plates square to the bolt stand across it."""
SQUARE = 0.2
"""Cosine to the bolt up to which a plate stands square to the ears and holds them."""
BOTH_SIDES = 1.5
"""Beads of one plate nearer than so many of its thicknesses lie on its two sides."""
CHORDS = 0.1  # arcs as chords within this where only sizes are read off [mm]


@dataclass(frozen=True)
class Joined:
    """A bracket ready for a force.

    Attributes:
        facts: As it was drawn.
        case: Its sizes, no force on it yet.
        turn: Rows of the bracket's frame in A, shape (3, 3).
        wall_known: Whether the thickness of what it stands on is known.
        notes: What was taken for want of a value, in sentences.
    """

    facts: BracketFacts
    case: BracketCase
    turn: tuple[tuple[float, float, float], ...]
    wall_known: bool
    notes: tuple[str, ...]

    def under(self, force: tuple[float, float, float], pressed: float) -> BracketCase:
        """The bracket under a force in A [N], its tube pressed to a share of its yield strength [1]."""
        x, y, z = (float(v) for v in np.array(self.turn) @ np.array(force))
        return replace(self.case, force=(x, y, z), tube_stress_share=pressed)


def joined(job: Job, facts: BracketFacts, joint: JointSize) -> Joined:
    """A bracket with ears as its strength takes it.

    Raises:
        InputFault: When its sizes cannot be a bracket, or its bolt is in no table.
    """
    mount = facts.mount
    turn = _rows(mount)
    at = [_middle(e) for e in facts.ears]
    shapes = [_shape(job, facts, e, z, turn) for e, z in zip(facts.ears, at, strict=True)]
    worst = max(shapes, key=lambda s: s.height / s.root_width)
    wall, steel, notes = _wall(job, mount)
    lines = _lines(facts, turn, wall or mount.thickness)
    case = BracketCase(
        force=(0.0, 0.0, 0.0),
        joint_width=joint.width,
        gap=_gap(facts, joint),
        bolt=joint_bolt(joint),
        thread_in_plane=_thread_in_plane(job, joint),
        single_shear=len(facts.ears) == 1,
        tab=steel_of(_material(job, facts)),
        thickness=min(e.thickness for e in facts.ears),
        hole=max(e.hole for e in facts.ears),
        edge=min(min(e.edge, e.ahead) for e in facts.ears),
        width=min(s.width for s in shapes),
        root_width=worst.root_width,
        height=worst.height,
        brace=worst.brace,
        brace_width=worst.brace_width,
        outward=worst.outward,
        welds=lines,
        tube=steel,
        tube_wall=wall or mount.thickness,
        tube_radius=mount.base.radius if isinstance(mount.base, TubeBase) else 0.0,
        rail_width=float(mount.spec.rail_width or 0.0) if wall else 0.0,
        across_tube=_across(mount),
    )
    check_case(case)
    return Joined(facts, case, tuple((float(r[0]), float(r[1]), float(r[2])) for r in turn), wall is not None, notes)


def _rows(mount: Mount) -> Array:
    """Rows of the bracket's frame in A: along the link, across it, along the bolt."""
    z = np.array(mount.bolt)
    x = np.array(mount.along) - (np.array(mount.along) @ z) * z
    if np.linalg.norm(x) < SQUARE:
        remedy = "give bolt_way nearer to square with the link"
        raise InputFault(Fault(mount.label, "a bolt along its link", "a bolt across it", remedy))
    x /= np.linalg.norm(x)
    return np.stack([x, np.cross(z, x), z])


def _middle(ear: Ear) -> float:
    """Of an ear's thickness, along the bolt [mm]."""
    return ear.offset + math.copysign(ear.thickness / 2.0, ear.offset)


def _gap(facts: BracketFacts, joint: JointSize) -> float:
    """Room between the ears over the joint's width; beside the one ear in single shear [mm]."""
    offsets = [e.offset for e in facts.ears]
    if len(offsets) == 1:
        return max(0.0, abs(offsets[0]) - joint.width / 2.0)
    gap = max(offsets) - min(offsets) - joint.width
    return 0.0 if abs(gap) < 1e-6 else gap


def _thread_in_plane(job: Job, joint: JointSize) -> bool:
    return next((j.thread_in_plane for j in job.sheet.joints if j.name == joint.name), False)


def _material(job: Job, facts: BracketFacts) -> str:
    part = job.parts.get(facts.ears[0].part)
    return PLAIN_STEEL if part is None or not part.material else part.material


def _across(mount: Mount) -> bool:
    """Whether the ears stand across the tube or rail."""
    if isinstance(mount.base, TubeBase):
        return abs(float(np.dot(mount.base.along, mount.bolt))) >= ACROSS
    # rails and the plates of a frame run along the truck, a truss along the axle
    along = (1.0, 0.0, 0.0) if mount.spec.end == "frame" else (0.0, 1.0, 0.0)
    return abs(float(np.dot(along, mount.bolt))) >= ACROSS


def _wall(job: Job, mount: Mount) -> tuple[float | None, Steel, tuple[str, ...]]:
    """Thickness and steel of what a bracket stands on, and what is not known of it."""
    base, spec = mount.base, mount.spec
    if isinstance(base, TubeBase) and spec.hoop is None and base.words.endswith("axle tube"):
        return base.wall, steel_of(job.sheet.tubes.material), ()
    plain = steel_of(PLAIN_STEEL)
    steel = replace(plain, name=f"{plain.name}, taken as none is named", trust=Trust.ASSUMED)
    if isinstance(base, TubeBase):
        return base.wall, steel, ()
    if spec.wall is not None:
        return float(spec.wall), steel, ()
    if spec.on == "housing":
        return float(job.sheet.housing.skin), steel, ()
    return None, steel, (f"{base.words}: its thickness is not on the sheet, give wall of this bracket",)


def pad_welds(job: Job, facts: BracketFacts) -> tuple[tuple[WeldLine, ...], Array]:
    """Beads of a pad or seat in a frame whose x is its strut's line, and the rows of that frame, shape (3, 3)."""
    wall, _, _ = _wall(job, facts.mount)
    turn = _rows(facts.mount)
    return _lines(facts, turn, wall or facts.mount.thickness), turn


@dataclass(frozen=True)
class _Shape:
    """Sizes of one ear, as `BracketCase` names them."""

    root_width: float
    height: float
    outward: float
    width: float
    brace: float | None
    brace_width: float | None


def _shape(job: Job, facts: BracketFacts, ear: Ear, z: float, turn: Array) -> _Shape:
    """Root, height and widths of an ear, in the bracket's frame."""
    seams = _seams_of(facts, ear, z, turn)
    if not seams:
        remedy = "weld it to what it stands on, or hold it by another plate"
        raise InputFault(Fault(facts.mount.label, f"{ear.part} without a bead of its own", "a welded ear", remedy))
    ends = np.array([p for s in seams for p in s])[:, :2]
    lengths = np.array([math.dist(a, b) for a, b in seams])
    middles = np.array([(a + b) / 2.0 for a, b in seams])[:, :2]
    spans = ends[:, None, :] - ends[None, :, :]
    one, other = np.unravel_index(int(np.argmax(np.linalg.norm(spans, axis=2))), spans.shape[:2])
    root = ends[other] - ends[one]
    wide = float(np.linalg.norm(root))
    along = root / wide
    out = np.array([-along[1], along[0]])
    centre = lengths @ middles / lengths.sum()
    if out @ centre > 0.0:
        out = -out
    height, near = -float(out @ centre), -float((ends @ out).max())
    width = 2.0 * ear.edge
    placed = _placed(job, facts, ear, z)
    if placed is not None:
        part, place = placed
        sides = _chord(part, place, facts.mount, turn, np.zeros(2), np.array([0.0, 1.0]))
        if sides is not None:
            width = 2.0 * min(abs(s) for s in sides)
        # at the toe of the bead that comes nearest to the hole the ear may be narrower than its feet are apart
        toe = near - float(facts.mount.spec.leg)
        crown = _chord(part, place, facts.mount, turn, -toe * out, along)
        if crown is not None and height / wide**2 < toe / (crown[1] - crown[0]) ** 2:
            wide, height = crown[1] - crown[0], toe
    brace, held = _brace(job, facts, turn, min(height, max(near, ear.over))) if ear.braced else (None, None)
    return _Shape(
        root_width=wide,
        height=height,
        outward=math.degrees(math.atan2(out[1], out[0])),
        width=width,
        brace=None if brace is None else min(brace, height),
        brace_width=None if held is None else min(wide, max(held, 2.0 * ear.edge)),
    )


def _seams_of(facts: BracketFacts, ear: Ear, z: float, turn: Array) -> list[tuple[Array, Array]]:
    """Beads of an ear, their ends in the bracket's frame: those of its name on its side of the joint."""
    found = []
    # an ear in a box stands on another plate of it
    for seam in (*facts.seams, *facts.roots):
        a, b = _local(facts.mount, turn, seam.begin), _local(facts.mount, turn, seam.end)
        if seam.part == ear.part and (len(facts.ears) == 1 or (a[2] + b[2]) * z > 0.0):
            found.append((a, b))
    return found


def _local(mount: Mount, turn: Array, point: tuple[float, float, float]) -> Array:
    return np.asarray(turn @ (np.array(point) - np.array(mount.point)), dtype=np.float64)


def _placements(job: Job, facts: BracketFacts) -> list[tuple[Part, Placement]]:
    """Flat parts of a bracket and where they stand."""
    if ASSEMBLY not in job.assemblies:
        return []
    return [
        (job.parts[p.part], p)
        for p in job.assemblies[ASSEMBLY].placements
        if p.group == facts.mount.name and job.parts[p.part].profile is not None and not job.parts[p.part].bends
    ]


def _placed(job: Job, facts: BracketFacts, ear: Ear, z: float) -> tuple[Part, Placement] | None:
    """The flat plate of an ear and where it stands; None for a bent one."""
    for part, place in _placements(job, facts):
        if part.name == ear.part:
            middle = np.array(place.origin) + np.array(place.rotation) @ np.array([0.0, 0.0, part.thickness / 2.0])
            along = float((middle - np.array(facts.mount.point)) @ np.array(facts.mount.bolt))
            if abs(along - z) < part.thickness:
                return part, place
    return None


def _chord(
    part: Part, place: Placement, mount: Mount, turn: Array, through: Array, way: Array
) -> tuple[float, float] | None:
    """Where a line leaves a plate on either side of a point of the bracket's plane [mm]; None if it is not in it."""
    rotation, origin = np.array(place.rotation), np.array(place.origin)

    def in_part(p: Array) -> tuple[float, float]:
        own = rotation.T @ (turn.T @ np.array([p[0], p[1], 0.0]) + np.array(mount.point) - origin)
        return float(own[0]), float(own[1])

    if part.profile is None:
        return None
    found = crossings(part.profile.outer, in_part(through), in_part(through + way))
    below, above = [t for t in found if t < 0.0], [t for t in found if t > 0.0]
    return (max(below), min(above)) if below and above else None


def _brace(job: Job, facts: BracketFacts, turn: Array, otherwise: float) -> tuple[float, float | None]:
    """From what holds the ears apart to the hole, and how wide it holds them [mm]; the root where none is flat."""
    ears, mount = {e.part for e in facts.ears}, facts.mount
    found: list[tuple[float, float | None]] = []
    for part, place in _placements(job, facts):
        rotation = np.array(place.rotation)
        if part.name in ears or part.profile is None or abs(float(rotation[:, 2] @ np.array(mount.bolt))) > SQUARE:
            continue
        flat = polyline(part.profile.outer, CHORDS)
        points = np.array(
            [
                _local(mount, turn, tuple(rotation @ np.array([x, y, z]) + np.array(place.origin)))
                for x, y in flat
                for z in (0.0, part.thickness)
            ]
        )[:, :2]
        found.append(_strip(points))
    return min(found, key=lambda f: f[0], default=(otherwise, None))


def _strip(points: Array) -> tuple[float, float]:
    """From the origin to a plate seen along its edge, and how long it is square to that way [mm]."""
    middle = points.mean(axis=0)
    _, _, axes = np.linalg.svd(points - middle, full_matrices=False)
    spread = (points - middle) @ axes.T
    half = np.abs(spread).max(axis=0)
    own = axes @ -middle
    outside = np.maximum(np.abs(own) - half, 0.0)
    near = float(np.linalg.norm(outside))
    away = outside / near if near > 0.0 else np.array([0.0, 1.0])
    return max(near, CHORDS), float(2.0 * half[0] * away[1])


def _lines(facts: BracketFacts, turn: Array, wall: float) -> tuple[WeldLine, ...]:
    """The beads to what the bracket stands on, in the bracket's frame."""
    mount = facts.mount
    ends = [(_local(mount, turn, s.begin), _local(mount, turn, s.end)) for s in facts.seams]
    thick = {e.part: e.thickness for e in facts.ears}
    found = []
    for seam, (a, b) in zip(facts.seams, ends, strict=True):
        own = thick.get(seam.part, mount.thickness)
        mates = [q for s, q in zip(facts.seams, ends, strict=True) if s.part == seam.part and _mates(q, (a, b), own)]
        begin, end = (float(a[0]), float(a[1]), float(a[2])), (float(b[0]), float(b[1]), float(b[2]))
        gap = float(mount.spec.gap)
        found.append(
            WeldLine(begin, end, seam.leg, own, wall, gap, f"bead of {seam.part}", 2 if mates else 1),
        )
    return tuple(found)


def _mates(one: tuple[Array, Array], other: tuple[Array, Array], thick: float) -> bool:
    """Whether two beads lie on the two sides of one plate."""
    away = (one[0] + one[1] - other[0] - other[1]) / 2.0
    length = float(np.linalg.norm(one[1] - one[0]))
    beside = thick / 2.0 < abs(float(away[2])) < BOTH_SIDES * thick
    return beside and math.hypot(float(away[0]), float(away[1])) < length / 2.0
