"""What stands where in the 3-D page: one scene an assembly, the axle on its links, and what stands in neither."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.model import to_table
from fixturegen.bodies.axle import bodies_in, jig_solids, part_solid, undrawn_parts
from fixturegen.bodies.colours import BRACKET, GHOST, HOLDER, OTHER, TURNED, Colour, group_colour
from fixturegen.checks.registry import Job
from fixturegen.errors import GeometryFault
from fixturegen.shapes.cache import shape_key
from fixturegen.shapes.kernel import Shape
from fixturegen.shapes.solids import bounding_box

STILL = (1.0, 0.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 0.0, 1.0, 0.0)
"""Rows of a rotation beside its origin, (3, 4) in a line: what stands where it was drawn."""
GAP = 25.0  # [mm] between parts that are laid out side by side
TITLES = {
    "jig": "Jig on the table",
    "brackets": "Brackets on the axle",
    "locators": "Locators on the table",
    "truss": "Truss on the axle",
}
LOOSE, TRAVEL = "loose", "travel"


@dataclass(frozen=True, eq=False)
class Body:
    """One body of a scene.

    Attributes:
        shape: Its digest and location tell mesh and place; None where the surface was read from a file.
        name: Of the part, or slug of what it is.
        label: What people call it.
        group: Step of assembly, or what it belongs to.
        colour: Red, green, blue, each 0 to 1.
        part: Whether `name` is a part that is made.
        ghost: Whether it is shown through at first.
        mover: What it rides on; empty where nothing moves.
        place: Where the drawing stands, rows of (3, 4) in a line [mm].
    """

    shape: Shape
    name: str
    label: str
    group: str
    colour: Colour
    part: bool = True
    ghost: bool = False
    mover: str = ""
    place: tuple[float, ...] = STILL


@dataclass(frozen=True, eq=False)
class Motions:
    """Where movers stand.

    Attributes:
        poses: Each as (heave [mm], roll [deg], steer [deg], name).
        movers: Name of the mover to its places, shape (m, 12); no number where it is not known.
        paths: Name of a movement to the indices of its poses, in order.
    """

    poses: tuple[tuple[float, float, float, str], ...]
    movers: Mapping[str, Array]
    paths: tuple[tuple[str, tuple[int, ...]], ...]


@dataclass(frozen=True, eq=False)
class Scene:
    """What is shown at once.

    Attributes:
        name: Of the assembly; "loose" and "travel" are ours.
        title: What people call it.
        frame: T, A, V, or P where parts only lie side by side.
        bodies: What stands in it.
        frames: Other frames whose points can be shown, to their place in this one, (3, 4) in a line.
        motions: Where it moves; None where it stands still.
        notes: What is not in it, and why.
    """

    name: str
    title: str
    frame: str
    bodies: tuple[Body, ...]
    frames: Mapping[str, tuple[float, ...]] = field(default_factory=dict)
    motions: Motions | None = None
    notes: tuple[str, ...] = ()


def line_of(rotation: Array, origin: Array) -> tuple[float, ...]:
    """Rotation (3, 3) and origin (3,) [mm] as twelve numbers, row by row."""
    return tuple(float(n) for n in np.hstack([np.asarray(rotation), np.asarray(origin).reshape(3, 1)]).ravel())


def standing_scenes(job: Job) -> tuple[Scene, ...]:
    """One scene for each assembly that has anything drawn, and one for the parts in none of them."""
    scenes = [_assembly(job, name) for name in job.assemblies]
    loose = _loose(job)
    return tuple(s for s in (*scenes, loose) if any(b.part for b in s.bodies))


def _assembly(job: Job, name: str) -> Scene:
    assembly = job.assemblies[name]
    on_brackets = {p.part for p in job.assemblies["brackets"].placements} if "brackets" in job.assemblies else set()
    bodies = []
    for (i, part), solid in jig_solids(job, name).items():
        group = assembly.placements[i].group
        colour = _colour(job, name, part, group, on_brackets)
        bodies.append(Body(solid, part, job.parts[part].label, group, colour))
    bodies += list(_axle(job, assembly.frame))
    frames = {}
    if assembly.frame == "T":
        frames["A"] = line_of(*to_table(job.axle, job.plan.height))
    frame_ends = job.assemblies[name].frame == "A" and any(
        f.mount.spec.end == "frame" for f in job.brackets.facts.values()
    )
    notes = ("Those on the frame: at ride height.",) if frame_ends and name == "brackets" else ()
    title = TITLES.get(name, name.replace("-", " ").capitalize())
    return Scene(name, title, assembly.frame, tuple(bodies), frames, notes=notes)


def _colour(job: Job, assembly: str, part: str, group: str, on_brackets: set[str]) -> Colour:
    if assembly == "jig":
        return group_colour(group)
    if part in on_brackets:
        return BRACKET
    return TURNED if job.parts[part].form == "turned" else HOLDER


def _axle(job: Job, frame: str) -> Iterator[Body]:
    """The axle beside an assembly: through at first, but for the bar; a bracket is seen best on solid steel."""
    for name, shape in bodies_in(job, frame).items():
        ghost = frame == "T" and name != "bar"
        yield Body(shape, name, name.replace("-", " "), "axle", GHOST, part=False, ghost=ghost)


def _loose(job: Job) -> Scene:
    """Parts of no assembly side by side, lying flat, in rows about as long as they are deep together."""
    placed = {p.part for a in job.assemblies.values() for p in a.placements}
    faults = undrawn_parts(job)
    drawn: list[tuple[str, Shape]] = []
    for name in job.parts:
        if name in placed or name in faults:
            continue
        try:
            drawn.append((name, part_solid(job, name)))
        except GeometryFault as fault:
            faults[name] = fault
    bodies = []
    for (name, solid), (x, y, z) in zip(drawn, _rows([bounding_box(s) for _, s in drawn]), strict=True):
        place = (1.0, 0.0, 0.0, x, 0.0, 1.0, 0.0, y, 0.0, 0.0, 1.0, z)
        bodies.append(Body(solid, name, job.parts[name].label, job.parts[name].kind, OTHER, place=place))
    return Scene(LOOSE, "Parts by themselves", "P", tuple(bodies))


def _rows(boxes: Iterable[tuple[float, ...]]) -> list[tuple[float, float, float]]:
    """How far each box is shifted so that they lie in rows on Z = 0 [mm]."""
    boxes = list(boxes)
    wide = math.sqrt(sum((b[3] - b[0] + GAP) * (b[4] - b[1] + GAP) for b in boxes))
    shifts, x, y, deep = [], 0.0, 0.0, 0.0
    for low_x, low_y, low_z, high_x, high_y, _ in boxes:
        if x > 0.0 and x + high_x - low_x > wide:
            x, y, deep = 0.0, y - deep - GAP, 0.0
        shifts.append((x - low_x, y - high_y, -low_z))
        x, deep = x + high_x - low_x + GAP, max(deep, high_y - low_y)
    return shifts


def undrawn(job: Job) -> dict[str, str]:
    """Names of parts that cannot be drawn, and why."""
    return {name: fault.words for name, fault in undrawn_parts(job).items()}


def placed_line(body: Body) -> tuple[float, ...]:
    """Where the mesh of a body stands: its place after the location of its shape, (3, 4) in a line [mm]."""
    _, location = shape_key(body.shape)
    outer, inner = (np.vstack([np.array(n).reshape(3, 4), (0.0, 0.0, 0.0, 1.0)]) for n in (body.place, location))
    return tuple(float(n) for n in (outer @ inner)[:3].ravel())
