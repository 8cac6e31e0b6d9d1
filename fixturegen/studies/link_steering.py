"""The road wheels over travel with the steering held: bump steer, roll steer, tie rod and drag link.

All is solved in the axle's frame, into which the held pitman joint is carried at each pose. The knuckles
turn about their real steering axes; the tie rod keeps its length between them, the drag link its own.
Steer angles are those of the wheels' headings in plan, to the left positive.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from fixturegen.axle.frames import Array, cross, rotated
from fixturegen.axle.linkage import Joint, Stance
from fixturegen.axle.model import Point
from fixturegen.axle.poses import Poses
from fixturegen.errors import Fault, InputFault

STEPS = 8
"""Steps from ride height to a pose: the wheels turn a few degrees in each, and none goes over centre."""
ROUNDS = 8
"""Newton rounds in each step."""
CLOSE = 1e-10
"""mm; a rod this near to its length is held."""
SIDES = (1.0, -1.0)


@dataclass(frozen=True)
class Knuckle:
    """A knuckle and its wheel, straight ahead.

    Attributes:
        point: A point of the steering axis in A [mm].
        axis: Its direction in A, lower to upper pivot.
        tie: Tie-rod joint on its arm.
        toe_in: Of the wheel at ride height, toe-in positive [deg].
        camber: Of the wheel, top outboard positive [deg].
    """

    point: Point
    axis: Point
    tie: Joint
    toe_in: float = 0.0
    camber: float = 0.0


@dataclass(frozen=True)
class Steering:
    """Pitman arm to road wheels.

    Attributes:
        left: Left knuckle.
        right: Right knuckle.
        pitman: Drag link's joint on the pitman arm, straight ahead, in V [mm].
        drag: Drag link's joint at its other end, straight ahead.
        drag_on: Whether that is on the left or right knuckle's arm, or on the tie rod.
    """

    left: Knuckle
    right: Knuckle
    pitman: Point
    drag: Joint
    drag_on: Literal["left", "right", "tie-rod"]


@dataclass(frozen=True, eq=False)
class SteeringMotion:
    """The wheels at each pose; arrays of shape (m,) [deg] but where it says otherwise.

    Attributes:
        knuckles: Turn of left and right knuckle about its axis against the axle, to the left positive, (m, 2).
        steer: Heading of left and right wheel in plan, to the left positive, (m, 2).
        change: Mean heading of both less that at ride height: bump steer and roll steer of the wheels.
        toe: Total toe-in.
        camber: Of left and right wheel against the ground, (m, 2).
        drag_slope: Drag link in the front view, climbing to the left positive.
        drag_plan: Drag link in plan, off the line across, turned to the left positive.
        reached: Whether rods reach, (m,).
    """

    knuckles: Array
    steer: Array
    change: Array
    toe: Array
    camber: Array
    drag_slope: Array
    drag_plan: Array
    reached: np.ndarray[tuple[int, ...], np.dtype[np.bool_]]


@dataclass(frozen=True, eq=False)
class _Rods:
    """The steering in A as arrays: axes and points (2, 3), tie joints (2, 3), drag joint (3,), lengths [mm]."""

    axes: Array
    points: Array
    ties: Array
    spindles: Array
    drag: Array
    pitman: Array
    on: int | None
    share: float
    aside: Array
    tie_length: float
    drag_length: float


def steering_faults(steering: Steering, stance: Stance) -> tuple[Fault, ...]:
    """What is wrong with a steering: a rod without length, a joint on its own axis, sides swapped."""
    faults = []
    rods = _rods(steering, stance)
    if rods.tie_length < 1.0:
        faults.append(
            Fault("links.steering.tie_end", "both ends in one place", "ends apart", "measure both tie-rod ends")
        )
    if rods.drag_length < 1.0:
        faults.append(Fault("links.steering.drag_end", "both ends in one place", "ends apart", "measure both ends"))
    if rods.ties[0, 1] < rods.ties[1, 1]:
        given = "left tie-rod end right of the right one"
        faults.append(Fault("links.steering.tie_end", given, "left of it", "left counts positive; swap the two"))
    for name, axis, point, tie in zip(("left", "right"), rods.axes, rods.points, rods.ties, strict=True):
        if float(np.linalg.norm(np.cross(tie - point, axis))) < 1.0:
            given = "a tie-rod end on the steering axis"
            faults.append(
                Fault("links.steering.tie_end", f"{given}, {name}", "off the axis", "measure the arm from the pivots")
            )
    return tuple(faults)


def steering_motion(poses: Poses, steering: Steering, rod_roll: float = 0.0) -> SteeringMotion:
    """The wheels at each pose with the pitman arm held.

    Args:
        poses: The axle over its travel.
        steering: Pitman arm to road wheels.
        rod_roll: Turn of the tie rod about its own line [deg]; moves a drag link joint that stands off it.

    Source: geometry, points turned about an axis keep their distances; iso-8855, steer, toe and camber.

    Raises:
        InputFault: When the steering is none.
    """
    stance = poses.linkage.stance
    faults = steering_faults(steering, stance)
    if faults:
        raise InputFault(*faults)
    rods = _rods(steering, stance)
    turned = poses.rotations()
    held = np.einsum("mji,mj->mi", turned, np.array(steering.pitman) - poses.origins())
    angles, good = _turns(rods, held, np.radians(rod_roll))
    angles[~good] = np.nan
    ends = np.einsum("mij,mj->mi", turned, _drag_end(rods, angles, np.radians(rod_roll))) + poses.origins()
    line = np.array(steering.pitman) - ends
    steer, camber = _headings(rods, angles, turned)
    start, _ = _headings(rods, np.zeros((1, 2)), stance.rotation[None])
    across = np.where(line[:, 1] < 0.0, -1.0, 1.0)
    return SteeringMotion(
        knuckles=_deg(angles),
        steer=steer,
        change=steer.mean(axis=1) - float(start.mean()),
        toe=steer[:, 1] - steer[:, 0],
        camber=camber,
        drag_slope=_deg(np.arctan2(line[:, 2] * across, np.abs(line[:, 1]))),
        drag_plan=_deg(np.arctan2(-line[:, 0] * across, np.abs(line[:, 1]))),
        reached=good,
    )


def roll_over(poses: Poses, steering: Steering, limit: float) -> Array:
    """Steer that is lost while the tie rod rolls from stop to stop, shape (m,) [deg].

    A drag link joined to the tie rod off its line turns the rod before it moves it.

    Args:
        poses: The axle over its travel.
        steering: Pitman arm to road wheels.
        limit: Roll of the tie rod that its ends allow either way [deg].

    Source: geometry; that the rod rolls before it pulls is common practice, no source.
    """
    if steering.drag_on != "tie-rod":
        return np.zeros(poses.heave.size)  # the rod turns between its ends and pulls nothing
    one, other = (steering_motion(poses, steering, s * limit).change for s in SIDES)
    return np.asarray(np.abs(one - other), dtype=np.float64)


def tie_rod_follow(steering: Steering, stance: Stance, left: Array) -> tuple[Array, Array]:
    """Steer of both wheels at ride height as the left knuckle is turned, each shape (m,) [deg].

    Args:
        steering: Pitman arm to road wheels; only the tie rod is used.
        stance: How the axle stands.
        left: Turn of the left knuckle about its axis, to the left positive, shape (m,) [deg].

    Source: geometry, the tie rod keeps its length.
    """
    steer, _ = wheel_headings(steering, stance, tie_rod_turns(steering, stance, left))
    return steer[:, 0], steer[:, 1]


def tie_rod_turns(steering: Steering, stance: Stance, left: Array) -> Array:
    """Turn of both knuckles about their axes as the left one is turned, to the left positive, shape (m, 2) [deg].

    Not a number where the tie rod does not reach.

    Source: geometry, the tie rod keeps its length.
    """
    rods = _rods(steering, stance)
    lefts = np.radians(np.asarray(left, dtype=np.float64))
    right = np.zeros_like(lefts)
    with np.errstate(all="ignore"):
        for k in range(1, STEPS + 1):
            for _ in range(ROUNDS):
                off, slopes = _tie(rods, np.stack([lefts * (k / STEPS), right], axis=1))
                right = right - off / slopes[:, 1]
        angles = np.stack([lefts, right], axis=1)
        angles[~(np.abs(_tie(rods, angles)[0]) <= CLOSE)] = np.nan
    return _deg(angles)


def wheel_headings(steering: Steering, stance: Stance, turns: Array) -> tuple[Array, Array]:
    """Heading in plan to the left, and camber, of both wheels at ride height, each shape (m, 2) [deg].

    Args:
        steering: The knuckles.
        stance: How the axle stands.
        turns: Of left and right knuckle about its axis, to the left positive, shape (m, 2) [deg].

    Source: iso-8855, steer and camber; geometry, points turned about an axis.
    """
    turned = np.broadcast_to(stance.rotation, (len(turns), 3, 3))
    return _headings(_rods(steering, stance), np.radians(turns), turned)


def drag_ends(poses: Poses, steering: Steering, turns: Array) -> Array:
    """The drag link's joint at the axle, the knuckles turned alike at every pose, shape (m, 3) in V [mm].

    Args:
        poses: The axle over its travel.
        steering: Pitman arm to road wheels.
        turns: Of left and right knuckle about its axis, to the left positive, shape (2,) [deg].
    """
    end = _drag_end(_rods(steering, poses.linkage.stance), np.radians(turns)[None, :], 0.0)
    return poses.points(end)[:, 0]


def shaft_joint_angles(steering: Steering, stance: Stance, turns: Array) -> Array:
    """True angle of left and right axle-shaft joint at knuckle turns, shape (m, 2) [deg].

    With inclination and caster it is not the steer angle.

    Args:
        steering: The knuckles.
        stance: How the axle stands.
        turns: Of left and right knuckle about its axis, to the left positive, shape (m, 2) [deg].

    Source: geometry, angle between the axle line and the spindle turned about the steering axis.
    """
    out = []
    rods = _rods(steering, stance)
    for side, spindle, axis, turn in zip(SIDES, rods.spindles, rods.axes, np.radians(turns).T, strict=True):
        now, line = rotated(spindle, axis, turn), np.array([0.0, side, 0.0])
        out.append(np.degrees(np.arctan2(np.linalg.norm(np.cross(now, line), axis=1), now @ line)))
    return np.stack(out, axis=1)


def _deg(value: Array) -> Array:
    return np.asarray(np.degrees(value), dtype=np.float64)


def _spindle(knuckle: Knuckle, side: float) -> Array:
    """Outboard direction of the spindle in A, shape (3,)."""
    toe, camber = np.radians(knuckle.toe_in), np.radians(knuckle.camber)
    return np.array([np.sin(toe) * np.cos(camber), side * np.cos(toe) * np.cos(camber), -np.sin(camber)])


def _rods(steering: Steering, stance: Stance) -> _Rods:
    knuckles = (steering.left, steering.right)
    axes = np.array([np.array(k.axis) / np.linalg.norm(k.axis) for k in knuckles])
    ties = np.array([stance.in_axle(k.tie) for k in knuckles])
    drag, pitman = stance.in_axle(steering.drag), stance.to_axle(steering.pitman)
    rod = ties[1] - ties[0]
    length = float(np.linalg.norm(rod))
    share = float((drag - ties[0]) @ rod) / max(length, 1e-9) ** 2
    # toe and camber are of the vehicle; the housing's turn about its line changes them in A
    spindles = np.array([stance.rotation.T @ _spindle(k, s) for k, s in zip(knuckles, SIDES, strict=True)])
    return _Rods(
        axes=axes,
        points=np.array([k.point for k in knuckles]),
        ties=ties,
        spindles=spindles,
        drag=drag,
        pitman=pitman,
        on={"left": 0, "right": 1, "tie-rod": None}[steering.drag_on],
        share=share,
        aside=drag - ties[0] - share * rod,
        tie_length=length,
        drag_length=float(np.linalg.norm(drag - pitman)),
    )


def _moved(rods: _Rods, i: int, point: Array, angle: Array) -> Array:
    """A point of knuckle i after its turn, shape (m, 3) [mm]."""
    return np.asarray(rods.points[i] + rotated(point - rods.points[i], rods.axes[i], angle), dtype=np.float64)


def _tie(rods: _Rods, angles: Array) -> tuple[Array, Array]:
    """Tie rod's length less its own (m,) [mm], and the change with both turns (m, 2) [mm/rad]."""
    ends = [_moved(rods, i, rods.ties[i], angles[:, i]) for i in (0, 1)]
    line = ends[1] - ends[0]
    length = np.linalg.norm(line, axis=1)
    way = line / length[:, None]
    rates = [
        (-1.0, 1.0)[i] * (cross(rods.axes[i], ends[i] - rods.points[i]) * way).sum(axis=1) for i in (0, 1)
    ]  # fmt: skip
    return np.asarray(length - rods.tie_length, dtype=np.float64), np.stack(rates, axis=1)


def _drag_end(rods: _Rods, angles: Array, rod_roll: float) -> Array:
    """Drag link's joint at the axle, shape (m, 3) [mm] in A."""
    if rods.on is not None:
        return _moved(rods, rods.on, rods.drag, angles[:, rods.on])
    ends = [_moved(rods, i, rods.ties[i], angles[:, i]) for i in (0, 1)]
    line = ends[1] - ends[0]
    way = line / np.linalg.norm(line, axis=1, keepdims=True)
    ride = (rods.ties[1] - rods.ties[0]) / rods.tie_length
    # what stands off the rod is carried along without a turn about it, then rolled
    turn = cross(ride, way)
    cosine = (way @ ride)[:, None]
    carried = cosine * rods.aside + cross(turn, rods.aside) + turn * (turn @ rods.aside)[:, None] / (1.0 + cosine)
    rolled = np.cos(rod_roll) * carried + np.sin(rod_roll) * cross(way, carried)
    return np.asarray(ends[0] + rods.share * line + rolled, dtype=np.float64)


def _off(rods: _Rods, angles: Array, held: Array, rod_roll: float) -> Array:
    """Tie rod and drag link less their lengths, shape (2, m) [mm]."""
    drag = np.linalg.norm(_drag_end(rods, angles, rod_roll) - held, axis=1) - rods.drag_length
    return np.stack([_tie(rods, angles)[0], drag])


def _turns(rods: _Rods, held: Array, rod_roll: float) -> tuple[Array, np.ndarray[tuple[int, ...], np.dtype[np.bool_]]]:
    """Turns of both knuckles (m, 2) [rad] at pitman joints held in A (m, 3), and whether the rods reach.

    Newton's method with differences: four more looks at cheap equations, and one code for both hook-ups.
    """
    m = held.shape[0]
    angles = np.zeros((m, 2))
    nudge = 1e-6
    sign = 0.0
    good = np.ones(m, dtype=np.bool_)
    with np.errstate(all="ignore"):
        for k in range(STEPS + 1):
            goal, roll = rods.pitman + (held - rods.pitman) * (k / STEPS), rod_roll * k / STEPS
            for turn in range(ROUNDS + 1):
                off = _off(rods, angles, goal, roll)
                slopes = []
                for i in (0, 1):
                    step = np.zeros(2)
                    step[i] = nudge
                    slopes.append(
                        (_off(rods, angles + step, goal, roll) - _off(rods, angles - step, goal, roll)) / nudge
                    )
                (a, c), (b, d) = (s / 2.0 for s in slopes)
                det = a * d - b * c
                if turn == ROUNDS or not (np.abs(off) > CLOSE / 4.0).any():
                    break
                angles = angles - np.stack([(d * off[0] - b * off[1]) / det, (a * off[1] - c * off[0]) / det], axis=1)
            sign = sign or float(np.sign(det[0]))
            good &= (np.abs(off).max(axis=0) <= CLOSE) & (det * sign > 0.0)
    return angles, good


def _headings(rods: _Rods, angles: Array, rotations: Array) -> tuple[Array, Array]:
    """Heading in plan to the left, and camber, of both wheels, each (m, 2) [deg]."""
    steer, camber = [], []
    for i, side in enumerate(SIDES):
        spindle = rotated(rods.spindles[i], rods.axes[i], angles[:, i])
        out = np.einsum("mij,mj->mi", rotations, spindle)
        steer.append(np.degrees(np.arctan2(-side * out[:, 0], side * out[:, 1])))
        camber.append(np.degrees(np.arcsin(np.clip(-out[:, 2], -1.0, 1.0))))
    return np.stack(steer, axis=1), np.stack(camber, axis=1)
