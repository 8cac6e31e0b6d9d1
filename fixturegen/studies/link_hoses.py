"""Brake hoses over travel and from lock to lock: how much hose each pose needs, and how sharply it is bent.

What a hose needs is the shortest line between its ends: straight, or, where the directions of its fittings and
its least bend radius are given, an arc of that radius out of each fitting and a straight line between. What is
spare bends it: at best as a springy rod whose ends turn freely.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from fixturegen.axle.frames import Array, rotated
from fixturegen.axle.linkage import Joint
from fixturegen.axle.model import Point
from fixturegen.axle.poses import Poses
from fixturegen.studies.link_steering import Steering

ROUNDS = 200
"""Rounds in which the straight line between two arcs is found; it settles unless the ends are too near."""
CLOSE = 1e-9
"""Change of the line's direction at which it is found."""
ELASTIC = 60
"""Halvings of the modulus of the bent rod: to the last bit."""


@dataclass(frozen=True)
class Hose:
    """A brake hose.

    Attributes:
        name: What it is called.
        frame: End that stays, at ride in V [mm].
        frame_on: What that end sits on.
        axle: Other end, straight ahead.
        axle_on: What it goes with: the housing, or a knuckle.
        length: Free hose between its fittings [mm].
        bend: Least bend radius [mm], or None.
        frame_way: Direction in which it leaves the first end in V, or None.
        axle_way: Direction in which it leaves the other end, in the frame of `axle`, or None.
    """

    name: str
    frame: Point
    frame_on: Literal["frame", "axle"]
    axle: Joint
    axle_on: Literal["axle", "left", "right"]
    length: float
    bend: float | None = None
    frame_way: Point | None = None
    axle_way: Point | None = None


@dataclass(frozen=True, eq=False)
class HoseMotion:
    """A hose at each pose and at each turn of the knuckles; arrays of shape (m, k).

    Attributes:
        name: Of the hose.
        straight: Between its ends [mm].
        needed: Of hose: straight, or with the arcs out of its fittings [mm]; not a number where the ends stand
            too near each other for these arcs.
        spare: Hose left over [mm].
        radius: Of the sharpest bend that the spare hose takes at best [mm]; infinite where it is taut.
    """

    name: str
    straight: Array
    needed: Array
    spare: Array
    radius: Array

    @property
    def least_spare(self) -> Array:
        """Of all turns of the knuckles, shape (m,) [mm]."""
        return np.asarray(self.spare.min(axis=1), dtype=np.float64)


def hose_motion(poses: Poses, hose: Hose, steering: Steering | None, turns: Array) -> HoseMotion:
    """A hose over poses and turns of the knuckles.

    Args:
        poses: The axle over its travel.
        hose: The hose.
        steering: The knuckles; None where there are none.
        turns: Of left and right knuckle about its axis, shape (k, 2) [deg]; (0, 0) among them.

    Source: geometry, shortest line of bounded curvature (arc, straight, arc); love, elastica.
    """
    first, last, out, back = (
        np.stack(v, axis=1) for v in zip(*(_ends(poses, hose, steering, t) for t in turns), strict=True)
    )
    line = last - first
    straight = np.asarray(np.linalg.norm(line, axis=2), dtype=np.float64)
    needed = straight
    if hose.bend is not None and (hose.frame_way is not None or hose.axle_way is not None):
        needed = _arcs(line, out, back, hose.bend)
    return HoseMotion(hose.name, straight, needed, hose.length - needed, best_radius(straight, hose.length))


def _ends(poses: Poses, hose: Hose, steering: Steering | None, turn: Array) -> tuple[Array, Array, Array, Array]:
    """Both ends and the directions the hose leaves them in, each (m, 3) in V; no direction is not a number."""
    stance, m = poses.linkage.stance, poses.heave.size
    none = np.full((m, 3), np.nan)
    first = np.broadcast_to(np.array(hose.frame, dtype=np.float64), (m, 3))
    out = none if hose.frame_way is None else np.broadcast_to(_unit(np.array(hose.frame_way)), (m, 3))
    if hose.frame_on == "axle":
        first = poses.points(stance.to_axle(hose.frame)[None])[:, 0]
        out = none if hose.frame_way is None else poses.directions((stance.rotation.T @ out[0])[None])[:, 0]
    tip = stance.in_axle(hose.axle)
    way = None
    if hose.axle_way is not None:
        way = _unit(np.array(hose.axle_way))
        way = way if hose.axle.at == "axle" else stance.rotation.T @ way
    if steering is not None and hose.axle_on != "axle":
        left = hose.axle_on == "left"
        knuckle, angle = (steering.left, turn[0]) if left else (steering.right, turn[1])
        axis, pivot = _unit(np.array(knuckle.axis)), np.array(knuckle.point)
        by = np.radians(np.array([angle]))
        tip = pivot + rotated(tip - pivot, axis, by)[0]
        way = None if way is None else rotated(way, axis, by)[0]
    last = poses.points(tip[None])[:, 0]
    return first, last, out, none if way is None else poses.directions(way[None])[:, 0]


def _unit(v: Array) -> Array:
    return np.asarray(v / np.linalg.norm(v), dtype=np.float64)


def _arcs(line: Array, out: Array, back: Array, radius: float) -> Array:
    """Length of arc, straight line and arc between ends with directions [mm]; without a direction no arc there.

    Args:
        line: From the first end to the last, shape (..., 3) [mm].
        out: Direction in which the hose leaves the first end; not a number where it is free.
        back: Direction in which it leaves the last end.
        radius: Of the arcs [mm].

    An arc of angle t ends where the straight line begins: R tan(t / 2) along each of its two tangents.
    """
    free_out, free_back = ~np.isfinite(out[..., 0]), ~np.isfinite(back[..., 0])
    way = line / np.linalg.norm(line, axis=-1, keepdims=True)
    moved = np.full(line.shape[:-1], np.inf)
    with np.errstate(all="ignore"):
        for _ in range(ROUNDS):
            one, one_tip = _arc(way, out, free_out, radius)
            two, two_tip = _arc(-way, back, free_back, radius)
            rest = line + two_tip - one_tip
            long = np.linalg.norm(rest, axis=-1, keepdims=True)
            now = rest / long
            moved = np.abs(now - way).max(axis=-1)
            way = now
            if not (moved > CLOSE).any():
                break
        whole = one + long[..., 0] + two
    # where the two arcs lie over each other the line turns back and forth: there is no such path
    return np.asarray(np.where(moved <= CLOSE * 10.0, whole, np.nan), dtype=np.float64)


def _arc(way: Array, out: Array, free: Array, radius: float) -> tuple[Array, Array]:
    """Length of an arc out of an end into a direction, and from the end to the arc's tip."""
    turn = np.arctan2(np.linalg.norm(np.cross(out, way), axis=-1), (out * way).sum(axis=-1))
    tip = radius * np.tan(turn / 2.0)[..., None] * (out + way)
    return np.where(free, 0.0, radius * turn), np.where(free[..., None], 0.0, tip)


def best_radius(straight: Array, length: float) -> Array:
    """Radius of the sharpest bend of a springy rod of a length whose ends are pressed together, shape as given [mm].

    Ends that cannot turn bend it more sharply: it is the best that a hose can do.

    Args:
        straight: Between the ends [mm].
        length: Of the rod [mm].

    Formula: straight / length = 2 E(k) / K(k) - 1; radius = length / (4 k K(k)).
    Source: love, plane elastica between free ends.
    """
    from scipy.special import ellipe, ellipk

    share = np.asarray(straight, dtype=np.float64) / length
    low, high = np.zeros_like(share), np.full_like(share, 1.0 - 1e-12)
    for _ in range(ELASTIC):
        k = (low + high) / 2.0
        short = 2.0 * ellipe(k * k) / ellipk(k * k) - 1.0 < share
        low, high = np.where(short, low, k), np.where(short, k, high)
    k = (low + high) / 2.0
    with np.errstate(divide="ignore", invalid="ignore"):
        radius = length / (4.0 * k * ellipk(k * k))
    return np.asarray(np.where(share >= 1.0, np.inf, radius), dtype=np.float64)
