"""The least gap of a body that moves on its way past one that stands still, to a stated bound.

Distance changes by no more than a body moves. So from a place with distance d the next one looked at may lie
d - b farther on, b the least distance found yet: nothing nearer than b is passed over. Steps are never shorter
than the larger of 0.5 mm and a twelfth of d. Between two places h apart with distances d and e the gap is at
least (d + e - h) / 2; the least of these, less the sag of both meshes, is what is told.

Source: derived; distance is 1-Lipschitz, triangle inequality.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import fcl
import numpy as np

from fixturegen.plate.part import Vector
from fixturegen.shapes.meshes import (
    CONTACT,
    Body,
    Floats,
    Mesh,
    Pose,
    State,
    any_inside,
    clearance,
    mesh_distance,
    meshes_collide,
)
from fixturegen.studies.access_records import Shift, Step, Turn

LEAST_STEP = 0.5  # mm, of a motion while bodies are near
SHARE = 0.08  # [1] of the distance that a step may be, whatever was found before
ARC = 5.0  # deg, longest facet of a sector
SIDES = 48  # facets of a bar: it is 0.2 % too thick at its edges


@dataclass(frozen=True)
class Passed:
    """How near a body came on its way.

    Attributes:
        gap: Least distance that is safe to rely on [mm]; 0 where they meet, or may.
        measured: Least distance of the meshes at the places looked at [mm].
        point: Nearest point of the body that stands still (3,) [mm].
        travel: How far the moving one had come [mm].
        looked: Places looked at.
    """

    gap: float
    measured: float
    point: Vector
    travel: float
    looked: int


@dataclass(frozen=True, eq=False)
class _Leg:
    """One step from where the steps before it end.

    Attributes:
        turn: Rotation of the body at its start (3, 3).
        at: Its origin there (3,) [mm].
        step: The step.
        through: Point of a turn's line, moved by the steps before (3,) [mm].
        length: Longest way any point of the body goes [mm].
    """

    turn: Floats
    at: Floats
    step: Step
    through: Floats
    length: float

    def pose(self, travel: float) -> Pose:
        """Where the body stands after so much of the way [mm]."""
        if isinstance(self.step, Shift):
            return _pose(self.turn, self.at + np.array(self.step.way) * travel)
        share = travel / self.length if self.length > 0.0 else 1.0
        own = turned(np.array(self.step.axis), self.step.angle * share)
        return _pose(own @ self.turn, own @ (self.at - self.through) + self.through)


def least_on_way(
    moving: Body, fixed: Body, steps: Sequence[Step], reach: float, least_step: float = LEAST_STEP
) -> Passed | None:
    """The least gap on the way, to the bound of this module; None where it stays above `reach`.

    Args:
        moving: Where it stands before it moves.
        fixed: What stands still.
        steps: One after the other; none asks about where it stands.
        reach: What is shown to stay farther apart is not measured [mm].
        least_step: Of the motion while they are near; the longer, the lower the gap that is safe to tell [mm].
    """
    found = clearance(moving, fixed)
    sag = moving.mesh.deflection + fixed.mesh.deflection
    if found.state is not State.APART:
        return Passed(0.0, 0.0, meeting_point(moving, fixed), 0.0, 1)
    best, point, where, looked = found.measured, found.other, 0.0, 1
    floor, here, done = best, best, 0.0
    for leg in legs(moving, steps):
        travel = 0.0
        while travel < leg.length:
            step = min(leg.length - travel, max(least_step, SHARE * here, here - min(best, reach)))
            travel += step
            after, _, other = mesh_distance(moving.at(leg.pose(travel)), fixed)
            looked += 1
            if after <= CONTACT:
                here_now = moving.at(leg.pose(travel))
                return Passed(0.0, 0.0, meeting_point(here_now, fixed), done + travel, looked)
            # from either end the gap falls by no more than the way gone
            floor = min(floor, after, (here + after - step) / 2.0)
            here = after
            if here < best:
                best, point, where = here, other, done + travel
        done += leg.length
    gap = floor - sag
    return None if gap > reach else Passed(max(0.0, gap), best, point, where, looked)


def meeting_point(a: Body, b: Body) -> Vector:
    """A point (3,) [mm] where two bodies meet: of their surfaces, else the middle of what both boxes hold.

    Nearest points of bodies that cross are no points of either: the distance library does not promise any.
    """
    result = fcl.CollisionResult()
    fcl.collide(a.object, b.object, fcl.CollisionRequest(num_max_contacts=1, enable_contact=True), result)
    low, high = np.maximum(a.box[0], b.box[0]), np.minimum(a.box[1], b.box[1])
    point = (low + high) / 2.0
    if result.contacts:
        told = np.asarray(result.contacts[0].pos, dtype=np.float64)
        # releases differ in what they promise; a point outside either box is not taken
        if bool((told >= low - 1.0).all() and (told <= high + 1.0).all()):
            point = told
    x, y, z = (float(v) for v in point)
    return x, y, z


def legs(moving: Body, steps: Sequence[Step]) -> Iterator[_Leg]:
    """The steps with where each begins and the longest way any point of the body goes on it."""
    turn, at = np.asarray(moving.pose[0], float), np.asarray(moving.pose[1], float)
    carried = np.eye(3), np.zeros(3)
    for step in steps:
        if isinstance(step, Shift):
            yield _Leg(turn, at, step, at, step.length)
            shift = np.array(step.way) * step.length
            at, carried = at + shift, (carried[0], carried[1] + shift)
            continue
        through = carried[0] @ np.array(step.through) + carried[1]
        far = _farthest(moving.mesh.vertices @ turn.T + at, np.array(step.axis), through)
        leg = _Leg(turn, at, step, through, math.radians(abs(step.angle)) * far)
        yield leg
        own = turned(np.array(step.axis), step.angle)
        turn, at = own @ turn, own @ (at - through) + through
        carried = own @ carried[0], own @ (carried[1] - through) + through


def end_pose(moving: Body, steps: Sequence[Step]) -> Pose:
    """Where the body stands after all steps."""
    pose = moving.pose
    for leg in legs(moving, steps):
        pose = leg.pose(leg.length)
    return pose


def pose_after(moving: Body, steps: Sequence[Step], travel: float) -> Pose:
    """Where the body stands after so much of the whole way [mm]."""
    pose, left = moving.pose, travel
    for leg in legs(moving, steps):
        pose = leg.pose(min(left, leg.length))
        left -= leg.length
        if left <= 0.0:
            break
    return pose


def swept_box(moving: Body, steps: Sequence[Step]) -> Floats:
    """Low and high corner of a box that holds the body on all its way, shape (2, 3) [mm]."""
    low, high = moving.box
    for leg in legs(moving, steps):
        for share in (0.0, 0.25, 0.5, 0.75, 1.0) if isinstance(leg.step, Turn) else (1.0,):
            there = moving.at(leg.pose(share * leg.length)).box
            # between two places of a turn a point leaves the line between them by less than an eighth of its arc
            spare = leg.length / 32.0 if isinstance(leg.step, Turn) else 0.0
            low, high = np.minimum(low, there[0] - spare), np.maximum(high, there[1] + spare)
    return np.stack([low, high])


def above_plane(moving: Body, steps: Sequence[Step], through: Vector, beyond: Vector) -> Passed:
    """How near a body comes to a plane on its way; 0 where it passes it.

    Args:
        moving: Where it stands before it moves.
        steps: One after the other.
        through: A point of the plane (3,) [mm].
        beyond: Unit direction into what stays clear (3,).
    """
    way, points = np.array(beyond), moving.mesh.vertices
    limit = float(np.array(through) @ way)
    best, point, where, looked, done = math.inf, (0.0, 0.0, 0.0), 0.0, 0, 0.0
    places: list[tuple[float, Pose]] = [(0.0, moving.pose)]
    for leg in legs(moving, steps):
        count = 1 if isinstance(leg.step, Shift) else 1 + int(abs(leg.step.angle))
        places += [(done + leg.length * k / count, leg.pose(leg.length * k / count)) for k in range(1, count + 1)]
        done += leg.length
    for travel, pose in places:
        there = points @ np.asarray(pose[0]).T + np.asarray(pose[1])
        k = int(np.argmax(there @ way))
        looked += 1
        gap = limit - float(there[k] @ way)
        if gap < best:
            x, y, z = (float(v) for v in there[k])
            best, point, where = gap, (x, y, z), travel
    return Passed(max(0.0, best - moving.mesh.deflection), best, point, where, looked)


def sector(reach: float, arc: float, width: float, height: float) -> Body:
    """The room a handle sweeps: it stands along +X from the origin and turns by half the arc either way.

    The outline holds the true one: its arcs are drawn outside. Height along Z from 0.

    Args:
        reach: From the axis to the end of the handle [mm].
        arc: Over which its middle goes [deg].
        width: Of the handle [mm].
        height: Of the handle [mm].
    """
    half = math.radians(arc / 2.0)
    # the handle's own corners reach past its middle line by half its width
    edge = half + math.asin(min(1.0, width / 2.0 / reach))
    count = max(1, math.ceil(math.degrees(2.0 * edge) / ARC))
    far = math.hypot(reach, width / 2.0) / math.cos(edge / count)
    rim = [(far * math.cos(a), far * math.sin(a)) for a in np.linspace(-edge, edge, count + 1)]
    root = width / 2.0
    outline = np.array(
        [(-root * math.sin(half), root * math.cos(half)), (-root * math.sin(half), -root * math.cos(half)), *rim]
    )
    flat = np.column_stack([outline, np.zeros(len(outline))])
    return Body(_prism(flat, height), "handle")


def swept_into(room: Body, other: Body) -> bool:
    """Whether a body reaches into a room: their surfaces cross, or a piece of it lies wholly inside.

    Whether the room lies wholly inside the body is not asked: whoever asks knows a part of it to be free.
    """
    if boxes_gap(room.box, other.box) > 0.0:
        return False
    return meshes_collide(room, other) or any_inside(room, other)


def bar(begin: Vector, end: Vector, diameter: float, name: str = "") -> Body:
    """A round bar as a body whose facets lie outside: distances to it are never told too large.

    Args:
        begin: Middle of one end (3,) [mm].
        end: Middle of the other (3,) [mm].
        diameter: Outside [mm].
        name: What findings call it.
    """
    way = np.array(end) - np.array(begin)
    long = float(np.linalg.norm(way))
    angles = np.arange(SIDES) * 2.0 * math.pi / SIDES
    radius = diameter / 2.0 / math.cos(math.pi / SIDES)
    ring = np.column_stack([radius * np.cos(angles), radius * np.sin(angles), np.zeros(SIDES)])
    own = _prism(ring, long)
    placed = own.vertices @ upright(way / long).T + np.array(begin)
    return Body(Mesh(placed, own.faces, 0.0), name)


def _prism(outline: Floats, height: float) -> Mesh:
    """What lies over a convex outline at Z = 0, counter-clockwise, shape (n, 3) [mm]."""
    n = len(outline)
    fan = [(0, k, k + 1) for k in range(1, n - 1)]
    sides = [(k, (k + 1) % n, n + (k + 1) % n) for k in range(n)] + [(k, n + (k + 1) % n, n + k) for k in range(n)]
    under = [(a, c, b) for a, b, c in fan]
    over = [(a + n, b + n, c + n) for a, b, c in fan]
    both = np.vstack([outline, outline + np.array([0.0, 0.0, height])])
    return Mesh(both, np.array([*under, *over, *sides]), 0.0)


def turned(axis: Floats, angle: float) -> Floats:
    """Rotation (3, 3) about a unit axis by an angle [deg], right hand.

    Source: geometry, Rodrigues' formula.
    """
    a = math.radians(angle)
    x, y, z = (float(v) for v in axis)
    k = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    return np.asarray(np.eye(3) + math.sin(a) * k + (1.0 - math.cos(a)) * k @ k)


def upright(axis: Floats) -> Floats:
    """A rotation (3, 3) whose Z runs along a unit direction."""
    aside = np.array([1.0, 0.0, 0.0]) if abs(axis[0]) < 0.9 else np.array([0.0, 1.0, 0.0])
    x = aside - axis * float(aside @ axis)
    x = x / np.linalg.norm(x)
    return np.stack([x, np.cross(axis, x), axis], axis=1)


def _farthest(points: Floats, axis: Floats, through: Floats) -> float:
    arm = points - through
    return float(np.linalg.norm(arm - np.outer(arm @ axis, axis), axis=1).max())


def _pose(turn: Floats, at: Floats) -> Pose:
    a, b, c = ((float(r[0]), float(r[1]), float(r[2])) for r in turn)
    return (a, b, c), (float(at[0]), float(at[1]), float(at[2]))


def boxes_gap(a: Floats, b: Floats) -> float:
    """Distance of two boxes, each low and high corner (2, 3) [mm]; 0 where they overlap."""
    return float(np.linalg.norm(np.maximum(0.0, np.maximum(a[0] - b[1], b[0] - a[1]))))


def union_box(boxes: Iterable[Floats]) -> Floats:
    """Low and high corner of the box round several, shape (2, 3) [mm]."""
    every = np.stack(list(boxes))
    return np.stack([every[:, 0].min(axis=0), every[:, 1].max(axis=0)])
