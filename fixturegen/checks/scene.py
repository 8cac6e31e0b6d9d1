"""What stands on the bench, as things with a name, a group, a solid and a mesh.

Claims about solids look at one scene, so nothing is drawn or meshed twice. The kernel is loaded
inside functions only: the claims about numbers run without it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Any

from fixturegen.checks.registry import Job
from fixturegen.plate.part import Matrix, Vector

if TYPE_CHECKING:
    from fixturegen.shapes.meshes import Body

DEFLECTION = 0.2  # sag of the meshes [mm]; whoever reads a mesh distance takes off twice this
AXLE = "axle"
TABLE = "table"
TABLE_REACH = 3000.0  # the table is drawn as far as any jig goes; its edge is FIT-10's [mm]
UNTURNED: Matrix = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
Pose = tuple[Matrix, Vector]
BoxOf = tuple[float, float, float, float, float, float]


@dataclass(eq=False)
class Thing:
    """One solid on the bench, frame T.

    Attributes:
        name: What findings call it.
        group: Group of the assembly, "axle" or "table".
        part: Name of the part; empty for axle and table.
        solid: Where it stands.
        index: Which placement of the assembly; -1 for axle and table.
        pose: Rotation (3, 3) and origin (3,) [mm] its mesh stands in, where it was drawn elsewhere.
    """

    name: str
    group: str
    part: str
    solid: Any
    index: int = -1
    pose: Pose = (UNTURNED, (0.0, 0.0, 0.0))
    _drawn: Thing | None = field(default=None, repr=False)

    @cached_property
    def box(self) -> BoxOf:
        """(xmin, ymin, zmin, xmax, ymax, zmax) [mm]."""
        from fixturegen.shapes.solids import bounding_box

        return bounding_box(self.solid)

    @cached_property
    def body(self) -> Body:
        """Mesh and search tree; made once for a thing that only stands elsewhere."""
        from fixturegen.shapes.meshes import body_of

        if self._drawn is not None:
            return self._drawn.body.at(self.pose)
        return body_of(self.solid, self.name, DEFLECTION)

    def shifted(self, way: Vector) -> Body:
        """The mesh shifted by (x, y, z) [mm] from where the thing stands."""
        turn, at = self.pose
        return self.body.at((turn, (at[0] + way[0], at[1] + way[1], at[2] + way[2])))


def elsewhere(thing: Thing, turn: Matrix, at: Vector) -> Thing:
    """The same thing moved: p_new = turn @ p + at [mm]."""
    from fixturegen.shapes import solids

    drawn = thing if thing._drawn is None else thing._drawn
    if thing._drawn is not None:
        turn, at = _after(turn, at, thing.pose)
    solid = solids.transformed(drawn.solid, turn, at)
    return Thing(thing.name, thing.group, thing.part, solid, thing.index, (turn, at), drawn)


def _after(turn: Matrix, at: Vector, pose: Pose) -> Pose:
    import numpy as np

    first, second = np.array(pose[0]), np.array(turn)
    both = second @ first
    origin = second @ np.array(pose[1]) + np.array(at)
    a, b, c = ((float(r[0]), float(r[1]), float(r[2])) for r in both)
    return (a, b, c), (float(origin[0]), float(origin[1]), float(origin[2]))


def turned_about_bar(thing: Thing, angle: float, height: float) -> Thing:
    """The thing turned about the axle line by `angle` [deg], the line `height` [mm] up; 0 to +X."""
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    turn: Matrix = ((c, 0.0, s), (0.0, 1.0, 0.0), (-s, 0.0, c))
    return elsewhere(thing, turn, (-s * height, 0.0, height - c * height))


def scene_of(job: Job) -> tuple[Thing, ...]:
    """Axle, table and jig of a job; drawn once."""
    kept: tuple[Thing, ...] | None = job.store.get("scene")
    if kept is None:
        kept = tuple(_things(job))
        job.store["scene"] = kept
    return kept


def _things(job: Job) -> Iterable[Thing]:
    from fixturegen.bodies.axle import bench_bodies, jig_solids
    from fixturegen.shapes import solids

    drawn = jig_solids(job)
    placements = job.assemblies["jig"].placements if "jig" in job.assemblies else ()
    has_bar = any(p.group == "bar" and _is_bar(job, p.part) for p in placements)
    for name, solid in bench_bodies(job).items():
        if name == "bar" and has_bar:
            continue
        yield Thing(name, "bar" if name == "bar" else AXLE, "", solid)
    far = TABLE_REACH
    yield Thing("table top", TABLE, "", solids.box(-far, -far, -25.0, far, far, 0.0))
    total = {p.part: sum(q.part == p.part for q in placements) for p in placements}
    seen: dict[str, int] = {}
    for i, placement in enumerate(placements):
        if (i, placement.part) not in drawn:
            continue
        seen[placement.part] = seen.get(placement.part, 0) + 1
        name = placement.part
        if total[name] > 1:
            name = f"{name} #{seen[name]}"
        yield Thing(name, placement.group, placement.part, drawn[i, placement.part], i)


def _is_bar(job: Job, part: str) -> bool:
    """Whether a part of the jig is the alignment bar itself: as long as the sheet says."""
    made = job.parts[part]
    long = made.tube[2] if made.tube else 0.0
    if made.turned:
        long = sum(s.length for s in made.turned.steps)
    return abs(long - job.sheet.bar.length) < 1.0


def grouped(things: Iterable[Thing], *groups: str) -> tuple[Thing, ...]:
    """Things of these groups."""
    return tuple(t for t in things if t.group in groups)


def others(things: Iterable[Thing], *groups: str) -> tuple[Thing, ...]:
    """Things of none of these groups."""
    return tuple(t for t in things if t.group not in groups)


def jig_of(things: Iterable[Thing]) -> tuple[Thing, ...]:
    """The jig alone: neither axle nor table."""
    return others(things, AXLE, TABLE)


def chosen(things: Iterable[Thing], keep: Callable[[Thing], bool]) -> tuple[Thing, ...]:
    """Things that pass a test."""
    return tuple(t for t in things if keep(t))


def gap_of_boxes(a: BoxOf, b: BoxOf) -> float:
    """Distance of two boxes [mm]; 0 when they overlap."""
    total = 0.0
    for i in range(3):
        apart = max(0.0, a[i] - b[i + 3], b[i] - a[i + 3])
        total += apart**2
    return float(total**0.5)


def moved_box(box: BoxOf, way: Vector) -> BoxOf:
    """A box shifted by (x, y, z) [mm]."""
    return (
        box[0] + way[0],
        box[1] + way[1],
        box[2] + way[2],
        box[3] + way[0],
        box[4] + way[1],
        box[5] + way[2],
    )


def joined_box(a: BoxOf, b: BoxOf) -> BoxOf:
    """The box round two boxes."""
    low = tuple(min(a[i], b[i]) for i in range(3))
    high = tuple(max(a[i], b[i]) for i in range(3, 6))
    return low[0], low[1], low[2], high[0], high[1], high[2]


def inches(length: float) -> str:
    """A length [mm] in words: decimal inch and millimetres."""
    return f"{length / 25.4:.3f} in ({length:.2f} mm)"


def parts_of(*things: Thing) -> tuple[str, ...]:
    """Names of the parts among things, each once, in order."""
    return tuple(dict.fromkeys(t.part for t in things if t.part))
