"""Everything that may be in the way of something else: the axle, brackets, links, and what the sheet lists.

Each body stands in the frame of what it rides on: V for the frame, A for the axle and both knuckles (straight
ahead), its own line for a link or strut. What is given in V at ride height and rides on the axle is turned
into A. Other makers of bodies (a truss, shapes the person brought) hand in `Item`s of their own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from fixturegen.axle.frames import Array, as_point
from fixturegen.axle.linkage import Stance
from fixturegen.axle.model import Point
from fixturegen.bodies import ends
from fixturegen.bodies.axle import OnTheBench, bodies_in, jig_solids
from fixturegen.bodies.drawing import rows
from fixturegen.shapes import solids
from fixturegen.shapes.cache import shape_key
from fixturegen.shapes.meshes import DEFLECTION, Body, body_of
from fixturegen.shapes.skins import Skin
from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.specs.clearance import BoxInTheWay, PlaneInTheWay, RailInTheWay
from fixturegen.studies.bracket_plan import slug
from fixturegen.studies.bracket_records import Mount, TubeBase
from fixturegen.studies.clearance_poses import Line
from fixturegen.studies.clearance_records import AXLE, FRAME, LEFT, RIGHT, Motion, Thing
from fixturegen.studies.link_inputs import point_of, stance_of

NOT_IN_THE_WAY = ("bar", "ring-gear", "caps")
"""What is no part of the finished axle, or lies within its housing."""
WITH_KNUCKLE = ("brake-", "wheel-", "outer-")
BRACKETS = "brackets"
ONE_JOINT = 40.0
"""mm; ends of two lines nearer than this share a joint, or lie side by side on one bolt [cp]."""
LEVEL = np.array([0.0, 0.0, 1.0])


@dataclass(frozen=True, eq=False)
class Item:
    """One body of the scene.

    Attributes:
        thing: What is known beside its shape.
        solid: Its solid in the frame of its mover; None for a plane, and for a mesh that was read.
        mesh: Its mesh and search tree, where it came as one.
        plane: A point of it and the unit direction beyond it, in the frame of its mover; None for bodies.
        form: The exact solid that a mesh was made from, in the same frame; None for scans, and where `solid` is given.
    """

    thing: Thing
    solid: solids.Shape | None = None
    mesh: Body | None = None
    plane: tuple[Point, Point] | None = None
    form: solids.Shape | None = None

    @cached_property
    def body(self) -> Body:
        """Mesh and search tree, within the accuracy of the thing."""
        if self.mesh is not None:
            return self.mesh
        if self.solid is None:
            raise ValueError(f"{self.thing.name} is a plane: it has no mesh")
        return body_of(self.solid, self.thing.label, self.thing.accuracy)

    @cached_property
    def skin(self) -> Skin:
        """Faces, edges and corners of its solid, for exact distances."""
        return Skin(self.exact)

    @property
    def exact(self) -> solids.Shape:
        """Its exact solid; None for scans and planes."""
        return self.solid if self.solid is not None else self.form

    @property
    def digest(self) -> object:
        """What tells its surface from any other's, for the keys of kept results."""
        if self.solid is None:
            return self.body.mesh.digest
        return shape_key(self.solid)

    @cached_property
    def box(self) -> Array:
        """Low and high corner of a box that holds it, in its own frame, shape (2, 3) [mm]."""
        if self.solid is None:
            return np.asarray(self.body.mesh.bounds, dtype=np.float64)
        return np.array(solids.bounding_box(self.solid)).reshape(2, 3)


def items_of(
    job: OnTheBench, lines: Iterable[Line], mounts: Iterable[Mount], deflection: float = DEFLECTION
) -> tuple[tuple[Item, ...], dict[str, Motion], tuple[str, ...]]:
    """All bodies of a sheet, the motion of every line, and what is left out for want of a measure.

    Args:
        job: Sheet, axle, parts and assemblies.
        lines: Links, struts, rods and shaft.
        mounts: Of the brackets in the assembly "brackets".
        deflection: Of all meshes [mm].
    """
    sheet = job.sheet
    mounts = tuple(mounts)
    found = list(_axle(job))
    found += _brackets(job, mounts, stance_of(sheet, job.axle))
    found += _more_welded(job)
    rods, motions, blind = _rods(sheet, tuple(lines), mounts)
    found += rods
    found += _listed(sheet, stance_of(sheet, job.axle))
    items = tuple(replace(i, thing=replace(i.thing, accuracy=i.thing.accuracy or deflection)) for i in found)
    notes = (f"not looked at, no diameter in [[clearance.rounds]]: {', '.join(blind)}",) if blind else ()
    return items, motions, notes


def _axle(job: OnTheBench) -> Iterator[Item]:
    """The finished axle; what a job has drawn already is taken over."""
    sheet, axle = job.sheet, job.axle
    bodies = bodies_in(job, "A") | ends.outer_bodies(sheet, axle) | ends.third_member_bodies(sheet, axle)
    turned = axle.front and sheet.links is not None and sheet.links.steering is not None
    for name, shape in bodies.items():
        if name in NOT_IN_THE_WAY:
            continue
        side = LEFT if name.endswith("left") else RIGHT
        rides = side if turned and name.startswith(WITH_KNUCKLE) else AXLE
        yield Item(Thing(name, _said(name), rides, "tyre" if name.startswith("wheel-") else "", own=True), shape)


def _said(name: str) -> str:
    words = {"wheel": "tyre and wheel", "outer": "outer knuckle", "knuckle": "inner knuckle", "nose": "third member"}
    head, _, side = name.rpartition("-")
    if side in (LEFT, RIGHT):
        return f"{words.get(head, head.replace('-', ' '))}, {side}"
    return words.get(name, name.replace("-", " "))


def _brackets(job: OnTheBench, mounts: tuple[Mount, ...], stance: Stance) -> Iterator[Item]:
    """One body a bracket; those on the frame turned into V."""
    if BRACKETS not in job.assemblies:
        return
    places = job.assemblies[BRACKETS].placements
    drawn = jig_solids(job, BRACKETS)
    known = {m.name for m in mounts}
    for mount in mounts:
        own = [s for (i, _), s in drawn.items() if places[i].group == mount.name]
        if not own:
            continue
        shape = solids.compound(own) if len(own) > 1 else own[0]
        on_frame = mount.spec.end == "frame"
        if on_frame:
            shape = solids.transformed(shape, rows(stance.rotation), as_point(stance.origin))
        # what stands beside it on one tube is the matter of BRK claims; here: what it is welded to, and its link
        beside = {m for m in known if m != mount.name} | {slug(mount.holds)}
        if isinstance(mount.base, TubeBase):
            beside |= {"tube-left", "tube-right"}
        if mount.spec.on in ("housing", "truss"):
            beside |= {"housing"} if mount.spec.on == "housing" else {"truss"}
        label = f"{mount.label.removesuffix(', on the frame')} bracket" + (", on the frame" if on_frame else "")
        name = f"bracket-{mount.name}"
        yield Item(Thing(name, label, FRAME if on_frame else AXLE, beside=_named(beside, known)), shape)


def _named(beside: set[str], mounts: set[str]) -> frozenset[str]:
    return frozenset(f"bracket-{b}" if b in mounts else b for b in beside) | frozenset(beside - mounts)


def _more_welded(job: OnTheBench) -> Iterator[Item]:
    """Other parts welded to the axle: every further assembly in frame A is one body."""
    for name, assembly in job.assemblies.items():
        if assembly.frame != "A" or name == BRACKETS:
            continue
        own = list(jig_solids(job, name).values())
        if own:
            beside = frozenset({"tube-left", "tube-right", "housing"})
            yield Item(Thing(name, name, AXLE, beside=beside), solids.compound(own))


def _rods(
    sheet: Sheet, lines: tuple[Line, ...], mounts: tuple[Mount, ...]
) -> tuple[list[Item], dict[str, Motion], list[str]]:
    """Links, struts, rods and shaft as round bars, their motions, and those without a diameter."""
    found: list[Item] = []
    motions: dict[str, Motion] = {}
    blind = []
    drag_on = None if sheet.links is None or sheet.links.steering is None else sheet.links.steering.drag_on
    joined = {
        "tie-rod": {"outer-left", "outer-right", "drag-link"},
        "drag-link": {"tie-rod" if drag_on == "tie-rod" else f"outer-{drag_on}"},
        "drive-shaft": {"pinion", "nose"},
    }
    for line in lines:
        diameter = _diameter(sheet, line)
        if diameter is None:
            blind.append(line.label)
            continue
        pieces = [f"{line.name}-{k + 1}" for k in range(len(line.motions))] if len(line.motions) > 1 else [line.name]
        beside = {f"bracket-{m.name}" for m in mounts if slug(m.holds) == line.name}
        beside |= joined.get(line.name, set()) | _fellows(line, lines)
        # its joints lie in their brackets: that room is looked at with them
        trim = min(diameter, 0.25 * line.length)
        for k, (name, motion) in enumerate(zip(pieces, line.motions, strict=True)):
            low = trim if k == 0 else 0.0
            high = line.length - (trim if k == len(pieces) - 1 else 0.0)
            bar = solids.cylinder((0.0, 0.0, low), (0.0, 0.0, high), diameter)
            motions[name] = motion
            others = frozenset(beside | set(pieces)) - {name}
            found.append(Item(Thing(name, line.label, name, beside=others, part_of=line.name), bar))
    return found, motions, blind


def _fellows(line: Line, lines: tuple[Line, ...]) -> set[str]:
    """Other lines that end where this one ends: bars of one arm or wishbone, rods that share a bolt."""
    return {
        other.name
        for other in lines
        if other is not line and any(float(np.linalg.norm(p - q)) < ONE_JOINT for p in line.tips for q in other.tips)
    }


def _diameter(sheet: Sheet, line: Line) -> float | None:
    """Outside of a line [mm]: as listed, else what [[loads.links]] says it is made of."""
    rounds = () if sheet.clearance is None else sheet.clearance.rounds
    by_name = {slug(r.name): float(r.diameter) for r in rounds}
    tubes = {} if sheet.loads is None else {slug(t.link): float(t.diameter) for t in sheet.loads.links}
    for known in (by_name, tubes):
        for name in (line.name, line.name.removesuffix("-left").removesuffix("-right")):
            if name in known:
                return known[name]
    return None


def _listed(sheet: Sheet, stance: Stance) -> Iterator[Item]:
    """Boxes, rails and planes of [clearance]."""
    given = sheet.clearance
    if given is None:
        return
    listed: list[tuple[str, BoxInTheWay | RailInTheWay | PlaneInTheWay]] = []
    listed += [(f"box-{n}", one) for n, one in enumerate(given.boxes, 1)]
    listed += [(f"rail-{n}", one) for n, one in enumerate(given.rails, 1)]
    listed += [(f"plane-{n}", one) for n, one in enumerate(given.planes, 1)]
    for head, what in listed:
        gap = None if what.gap is None else float(what.gap)
        thing = Thing(f"{head}-{slug(what.name)}", what.name, what.rides, "flex" if what.gives else "", gap=gap)
        yield from _drawn(what, thing, stance)


def _drawn(one: BoxInTheWay | RailInTheWay | PlaneInTheWay, thing: Thing, stance: Stance) -> Iterator[Item]:
    if isinstance(one, PlaneInTheWay):
        through, way = np.array(point_of(one.through)), np.array(point_of(one.beyond))
        way = way / np.linalg.norm(way)
        if thing.rides != FRAME:
            through, way = stance.to_axle(as_point(through)), stance.rotation.T @ way
        yield Item(thing, plane=(as_point(through), as_point(way)))
        return
    shape = _box(one) if isinstance(one, BoxInTheWay) else _rail(one)
    yield Item(thing, _carried(shape, thing, stance))
    if not one.both_sides:
        return
    # mirrored by drawing it on the other side: a box is its own mirror image but for its place
    other = _box(one, -1.0) if isinstance(one, BoxInTheWay) else _rail(one, -1.0)
    rides = {LEFT: RIGHT, RIGHT: LEFT}.get(thing.rides, thing.rides)
    far = replace(thing, name=f"{thing.name}-other", label=f"{thing.label}, other side", rides=rides)
    yield Item(far, _carried(other, far, stance))


def _box(one: BoxInTheWay, side: float = 1.0) -> solids.Shape:
    (x0, x1), (y0, y1), (z0, z1) = (sorted(float(v) for v in axis) for axis in (one.x, one.y, one.z))
    y0, y1 = sorted((side * y0, side * y1))
    return solids.box(x0, y0, z0, x1, y1, z1)


def _rail(one: RailInTheWay, side: float = 1.0) -> solids.Shape:
    mirror = np.array([1.0, side, 1.0])
    begin, end = np.array(point_of(one.begin)) * mirror, np.array(point_of(one.end)) * mirror
    long = float(np.linalg.norm(end - begin))
    along = (end - begin) / long
    upright = abs(float(along @ LEVEL)) > 0.999  # a post has no level direction across it but the vehicle's own
    across = np.array([0.0, 1.0, 0.0]) if upright else np.cross(LEVEL, along)
    across = across / np.linalg.norm(across)
    half, tall = float(one.width) / 2.0, float(one.height) / 2.0
    turn = np.stack([along, across, np.cross(along, across)], axis=1)
    return solids.transformed(solids.box(0.0, -half, -tall, long, half, tall), rows(turn), as_point(begin))


def _carried(shape: solids.Shape, thing: Thing, stance: Stance) -> solids.Shape:
    """A shape given in V at ride height in the frame of its mover."""
    if thing.rides == FRAME:
        return shape
    back = stance.rotation.T
    return solids.transformed(shape, rows(back), as_point(-back @ stance.origin))
