"""The least gap of two bodies over many poses: few distances measured, the other poses shown to be farther.

Let b move from pose i to pose j as seen from a. No point of b moves farther than D, the most any corner of
its box moves, since the length of an affine map is convex and so largest at a corner. Distances change by
no more than points move: d(j) >= d(i) - D(i, j). A pose whose bound lies above the least distance found so
far cannot be the worst one, and a pose whose bound lies above 0 is apart: on the way from i to j no surface
was met. Boxes give such bounds too. So the answer is that of measuring every pose.

Source: derived; distance is 1-Lipschitz, triangle inequality.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

import numpy as np

from fixturegen.plate.part import Matrix, Vector
from fixturegen.shapes.meshes import CONTACT, Body, Clearance, Floats, Pose, State, clearance, mesh_distance


@dataclass(frozen=True)
class Least:
    """The least gap of a pair.

    Attributes:
        found: At the worst pose, in the frame of the first body; `pose` is its index.
        looked: Poses at which the distance was measured.
        touching: Poses with contact.
        floor: No pose is nearer than this [mm], by boxes alone; the answer where nothing was measured.
    """

    found: Clearance | None
    looked: int
    touching: int
    floor: float


def least_gap(a: Body, b: Body, rotations: Floats, origins: Floats, reach: float = np.inf, prune: bool = True) -> Least:
    """The pose at which two bodies are nearest; of poses with contact the first one.

    Args:
        a: Stands still; its own pose is not used.
        b: Moves; its own pose is not used.
        rotations: From b's frame to a's, shape (m, 3, 3).
        origins: Of b's frame in a's, shape (m, 3) [mm].
        reach: What is shown to stay farther apart is not measured [mm].
        prune: Whether bounds spare poses; the answer is the same.
    """
    bound = box_bounds(a.mesh.bounds, b.mesh.bounds, rotations, origins)
    floor = float(bound.min())
    if floor > reach:
        return Least(None, 0, 0, floor)
    corners = np.einsum("mij,kj->mki", rotations, _corners(b)) + origins[:, None, :]
    if not prune:
        bound = np.zeros_like(bound)
    open_ = np.ones(len(bound), dtype=np.bool_)
    still = a.at(_REST)
    best: Clearance | None = None
    looked = touching = 0
    while open_.any():
        pose = int(np.argmin(np.where(open_, bound, np.inf)))
        if bound[pose] > reach or (best is not None and _beaten(best, float(bound[pose]))):
            break
        there = b.at(_pose(rotations[pose], origins[pose]))
        # a bound above 0 shows that neither lies in the other: that takes long on a million triangles
        found = _apart_by(still, there) if prune and bound[pose] > 0.0 else clearance(still, there)
        looked += 1
        open_[pose] = False
        if found.state is not State.APART:
            touching += 1
            bound[pose] = 0.0
        elif prune:
            moved = np.sqrt(((corners - corners[pose]) ** 2).sum(axis=2).max(axis=1))
            np.maximum(bound, found.measured - moved, out=bound)
        if best is None or _nearer(found, pose, best):
            best = Clearance(found.state, found.gap, found.measured, found.point, found.other, pose, found.names)
    return Least(best, looked, touching, floor)


_REST: Pose = (((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), (0.0, 0.0, 0.0))


def _apart_by(a: Body, b: Body) -> Clearance:
    """The gap of two bodies that are known to stand apart."""
    measured, point, other = mesh_distance(a, b)
    gap = max(0.0, measured - a.mesh.deflection - b.mesh.deflection)
    return Clearance(State.APART, gap, measured, point, other, names=(a.name, b.name))


def _beaten(best: Clearance, bound: float) -> bool:
    """Whether no pose that is left can be worse; the one asked about has the least bound."""
    if best.state is not State.APART:
        return bound > 0.0  # every pose that may touch is looked at, so that they are counted
    return bool(bound > best.measured + CONTACT)


def _nearer(found: Clearance, pose: int, best: Clearance) -> bool:
    touches, touched = found.state is not State.APART, best.state is not State.APART
    if touches != touched:
        return touches
    if touches:
        return pose < best.pose
    if abs(found.measured - best.measured) <= CONTACT:
        return pose < best.pose
    return found.measured < best.measured


def box_bounds(a: Floats, b: Floats, rotations: Floats, origins: Floats) -> Floats:
    """Distance that two boxes leave at each pose [mm], the better of a's axes and b's, shape (m,).

    Args:
        a: Low and high corner of the box that stands still, shape (2, 3) [mm].
        b: Of the box that moves, in its own frame.
        rotations: From b's frame to a's, shape (m, 3, 3).
        origins: Of b's frame in a's, shape (m, 3) [mm].
    """
    back = np.swapaxes(rotations, 1, 2)
    there = _apart(a, b, rotations, origins)
    return np.maximum(there, _apart(b, a, back, -np.einsum("mij,mj->mi", back, origins)))


def _apart(a: Floats, b: Floats, rotations: Floats, origins: Floats) -> Floats:
    low, high = a
    middle, half = b.mean(axis=0), np.ptp(b, axis=0) / 2.0
    centre = rotations @ middle + origins
    grown = np.abs(rotations) @ half
    apart = np.maximum(0.0, np.maximum(centre - grown - high, low - centre - grown))
    return np.asarray(np.linalg.norm(apart, axis=1), dtype=np.float64)


def _corners(b: Body) -> Floats:
    low, high = b.mesh.bounds
    return np.array(list(product(*zip(low, high, strict=True))))


def _pose(rotation: Floats, origin: Floats) -> Pose:
    return _matrix(rotation), (float(origin[0]), float(origin[1]), float(origin[2]))


def _matrix(m: Floats) -> Matrix:
    one, two, three = ((float(r[0]), float(r[1]), float(r[2])) for r in m)
    return one, two, three


def point_at(rotation: Floats, origin: Floats, point: Vector) -> Vector:
    """A point of a mover's frame in V [mm]."""
    x, y, z = (float(v) for v in rotation @ np.array(point) + origin)
    return x, y, z
