"""The wheels turned from stop to stop: outer wheel, axle-shaft joints, and the swing of the pitman arm.

The knuckles turn about their inclined axes and the tie rod keeps its length between them; the steering box
turns the pitman arm about its own shaft. Angles of wheels are their headings in plan, as turn plates read them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.linkage import Stance
from fixturegen.axle.model import Point
from fixturegen.axle.poses import Poses
from fixturegen.calc.ackermann import ackermann
from fixturegen.studies.link_steering import (
    Steering,
    drag_ends,
    shaft_joint_angles,
    tie_rod_turns,
    wheel_headings,
)

SWEEPS = 61
"""Steer angles from stop to stop, straight ahead among them."""
ROUNDS = 30
"""Rounds in which a turn is found for a heading; each takes nine tenths of what is off, or more."""
CLOSE = 1e-10
"""deg; a heading this near is met."""
STRAIGHT = 0.5
"""deg; steer below which a share of so small a difference says nothing."""
IN_LINE = 5.0
"""deg; a drag link nearer to the line of its pitman arm cannot be pulled: common practice, no source."""


@dataclass(frozen=True)
class Box:
    """The steering box.

    Attributes:
        shaft: A point of the centre line of the shaft the pitman arm sits on, in V [mm].
        way: Its direction in V, any length.
        sweep: Swing of the arm either way to the box's own stop [deg]; None where it was not measured.
    """

    shaft: Point
    way: Point
    sweep: float | None


@dataclass(frozen=True, eq=False)
class Turned:
    """The wheels turned by the steering at ride height, from full right to full left; arrays of shape (m,) [deg].

    Attributes:
        inner: Heading of the wheel inside the bend, to the left positive.
        outer: Heading of the other wheel.
        wanted: Heading of the other wheel at which both roll about one point.
        share: Of the difference that rolling wants, how much the tie rod gives [%]; not a number near straight.
        turns: Of left and right knuckle about its axis, (m, 2).
        shafts: True angle of left and right axle-shaft joint, (m, 2).
        pitman: Swing of the pitman arm from straight ahead, to the side of a left turn positive; None without box.
    """

    inner: Array
    outer: Array
    wanted: Array
    share: Array
    turns: Array
    shafts: Array
    pitman: Array | None


def turned(steering: Steering, stance: Stance, lock: float, box: Box | None, ride: Poses | None = None) -> Turned:
    """The wheels from stop to stop.

    Args:
        steering: Pitman arm to road wheels.
        stance: How the axle stands.
        lock: Heading of the inner wheel on its knuckle stop, alike both ways [deg].
        box: The steering box, for the pitman arm.
        ride: The axle at ride height; needed with the box.

    Formula: cot(wanted) - cot(inner) = distance of the pivots at the ground / wheelbase.
    Source: geometry, the tie rod keeps its length; wheels that roll about one point; iso-8855, steer.
    """
    inner = np.linspace(-lock, lock, SWEEPS)
    inner[SWEEPS // 2] = 0.0
    turns = turns_at(steering, stance, inner)
    steer, _ = wheel_headings(steering, stance, turns)
    outer = np.where(inner >= 0.0, steer[:, 1], steer[:, 0])
    distance = pivot_distance(steering, stance)
    wanted = np.sign(inner) * [
        ackermann(pivot_distance=distance, wheelbase=stance.wheelbase, inner=abs(float(a))).outer for a in inner
    ]
    with np.errstate(divide="ignore", invalid="ignore"):
        share = 100.0 * (np.abs(inner) - np.abs(outer)) / (np.abs(inner) - np.abs(wanted))
    share[np.abs(inner) < STRAIGHT] = np.nan
    pitman = None
    if box is not None and ride is not None:
        pitman = np.array([float(pitman_swing(ride, steering, box, t)[0]) for t in turns])
        left = pitman[inner > 0.0]
        pitman = pitman * (-1.0 if np.nansum(left) < 0.0 else 1.0)
    return Turned(inner, outer, wanted, share, turns, shaft_joint_angles(steering, stance, turns), pitman)


def turns_at(steering: Steering, stance: Stance, inner: Array) -> Array:
    """Turn of both knuckles about their axes where the inner wheel heads so, shape (m, 2) [deg].

    Args:
        steering: The knuckles and the tie rod; left and right are mirror images.
        stance: How the axle stands.
        inner: Heading of the wheel inside the bend, to the left positive, shape (m,) [deg].

    Source: geometry; a leaning axis turns the wheel's heading a little more or less than itself.
    """
    inner = np.asarray(inner, dtype=np.float64)
    goal = np.abs(inner)
    turn = goal.copy()
    for _ in range(ROUNDS):
        heading, _ = wheel_headings(steering, stance, np.stack([turn, np.zeros_like(turn)], axis=1))
        off = goal - heading[:, 0]
        turn = turn + off
        if float(np.abs(off).max(initial=0.0)) < CLOSE:
            break
    left = tie_rod_turns(steering, stance, turn)
    # a bend to the right is the mirror image: the right knuckle turns as the left one did, the other way
    return np.asarray(np.where((inner >= 0.0)[:, None], left, -left[:, ::-1]), dtype=np.float64)


def pivot_distance(steering: Steering, stance: Stance) -> float:
    """Between the points where the two steering axes meet the ground [mm].

    Source: iso-8855, steering axis and ground plane.
    """
    across = []
    for knuckle in (steering.left, steering.right):
        point = stance.to_vehicle(knuckle.point)
        axis = stance.rotation @ np.array(knuckle.axis)
        across.append(float(point[1] - axis[1] * point[2] / axis[2]))
    return abs(across[0] - across[1])


def pitman_swing(poses: Poses, steering: Steering, box: Box, turns: Array) -> Array:
    """Swing of the pitman arm that holds the knuckles turned so, shape (m,) [deg]; not a number out of its reach.

    Args:
        poses: The axle over its travel.
        steering: Pitman arm to road wheels.
        box: The steering box.
        turns: Of left and right knuckle about its axis, shape (2,) [deg].

    Formula: |p(a) - e| = length of the drag link, p on its circle about the shaft: A cos a + B sin a = C.
    Source: geometry, distance of two points; of the two answers that on the side the arm stands on at ride.
    """
    way = np.array(box.way) / np.linalg.norm(box.way)
    length = float(np.linalg.norm(_ride_end(poses, steering) - np.array(steering.pitman)))
    side = 1.0 if _answers(way, box, steering, _ride_end(poses, steering)[None], length)[0][0] < 0.0 else -1.0
    middle, off = _answers(way, box, steering, drag_ends(poses, steering, turns), length)
    swing = np.mod(middle + side * off + math.pi, 2.0 * math.pi) - math.pi
    return np.asarray(np.degrees(swing), dtype=np.float64)


def in_line(poses: Poses, steering: Steering, box: Box) -> float:
    """Angle between drag link and pitman arm at ride, seen along the shaft, 0 to 90 [deg].

    Nothing is pulled where it is 0.

    Source: geometry.
    """
    way = np.array(box.way) / np.linalg.norm(box.way)
    arm = np.array(steering.pitman) - np.array(box.shaft)
    line = _ride_end(poses, steering) - np.array(steering.pitman)
    arm, line = (v - (v @ way) * way for v in (arm, line))
    return float(np.degrees(np.arctan2(np.linalg.norm(np.cross(arm, line)), abs(float(arm @ line)))))


def arm_length(steering: Steering, box: Box) -> float:
    """Length of the pitman arm, its joint off the centre line of the shaft [mm]."""
    way = np.array(box.way) / np.linalg.norm(box.way)
    return float(np.linalg.norm(np.cross(np.array(steering.pitman) - np.array(box.shaft), way)))


def _ride_end(poses: Poses, steering: Steering) -> Array:
    stance = poses.linkage.stance
    x, y, z = (float(v) for v in stance.in_axle(steering.drag))
    return stance.to_vehicle((x, y, z))


def _answers(way: Array, box: Box, steering: Steering, ends: Array, length: float) -> tuple[Array, Array]:
    """The two swings at which the drag link fits, as their middle and half their distance, shape (m,) [rad]."""
    arm = np.array(steering.pitman) - np.array(box.shaft)
    along = float(arm @ way)
    out = arm - along * way
    to = ends - np.array(box.shaft) - along * way
    a, b = to @ out, to @ np.cross(way, out)
    c = ((to * to).sum(axis=1) + float(out @ out) - length * length) / 2.0
    with np.errstate(invalid="ignore"):
        return np.arctan2(b, a), np.arccos(c / np.hypot(a, b))
