"""What the links do to the axle at each pose: instant centre, anti-squat, roll axis, steer, path, angles.

Everything that is a rate follows from the two free motions of the axle (`axle.motion`), not from lines
drawn on: splayed links and a track bar come out right, and in the plane it equals the drawn construction.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.motion import Motions, motions, velocity_at
from fixturegen.axle.poses import Poses

STILL = 1e-12
"""rad/mm; a heave that turns the axle less has its instant centre a thousand kilometres off: none is given."""


@dataclass(frozen=True)
class Vehicle:
    """What anti-squat is judged with.

    Attributes:
        gravity_height: Of the centre of gravity of the sprung mass, above ground at ride height [mm].
        drive_share: Of the drive force at this axle, 0 to 1.
        brake_share: Of the brake force at this axle, 0 to 1.
    """

    gravity_height: float
    drive_share: float
    brake_share: float


@dataclass(frozen=True, eq=False)
class Metrics:
    """The axle at each pose; every array has shape (m,) but where it says otherwise.

    Attributes:
        instant_centre: Side-view instant centre of heave in V, x and z, shape (m, 2) [mm]; not a number
            where the axle rises without turning.
        force_line: Slope of the line a force at the tyres works along, climbing away from the axle toward
            the middle of the truck positive [deg].
        anti_squat: Of the drive force, rear axle [%]; for a front axle this is its anti-lift.
        anti_dive: Of the brake force, front axle [%]; for a rear axle this is its anti-lift.
        roll_centre: Height in V, in the plane through the wheel centres [mm].
        roll_axis: Slope of the roll axis, climbing forward positive [deg].
        roll_steer: Steer of the axle per roll, toward understeer positive [deg/deg].
        fore_aft: Axle centre ahead of its place at ride height [mm].
        sideways: Axle centre left of its place at ride height [mm].
        wheelbase_change: Longer positive [mm].
        axle_steer: Turn of the axle in plan, to the left positive [deg].
        pinion_angle: Nose above level, by projection on the side view [deg].
        turn: Of the housing about its own line since ride height, top forward positive [deg].
    """

    instant_centre: Array
    force_line: Array
    anti_squat: Array
    anti_dive: Array
    roll_centre: Array
    roll_axis: Array
    roll_steer: Array
    fore_aft: Array
    sideways: Array
    wheelbase_change: Array
    axle_steer: Array
    pinion_angle: Array
    turn: Array


def metrics_of(poses: Poses, vehicle: Vehicle) -> Metrics:
    """What the links do at each pose.

    Args:
        poses: The axle over its travel.
        vehicle: Height of the centre of gravity, shares of drive and brake.

    Formula: anti = 100 share (e / d) L / h; e / d is the slope of the line square to the way of the contact
        patch in heave, which is height over distance of the instant centre.
    Holds: for drive and brake forces that act at the tyre contact patches, as a beam axle's do.
    Source: gillespie, chapter 7; iso-8855, roll centre and roll axis; geometry, rigid motion.
    """
    stance = poses.linkage.stance
    free = motions(poses)
    slope = force_slope(poses, free)
    anti = 100.0 * slope * stance.wheelbase / vehicle.gravity_height
    centre, axis = roll_line(poses, free)
    origins = poses.origins() - stance.origin
    return Metrics(
        instant_centre=instant_centre(poses, free),
        force_line=_deg(np.arctan(slope)),
        anti_squat=anti * vehicle.drive_share,
        anti_dive=anti * vehicle.brake_share,
        roll_centre=centre,
        roll_axis=axis,
        roll_steer=roll_steer(poses, free),
        fore_aft=origins[:, 0],
        sideways=origins[:, 1],
        wheelbase_change=-stance.pinion_sign * origins[:, 0],
        axle_steer=poses.yaw,
        pinion_angle=pinion_angle(poses),
        turn=poses.turn,
    )


def _deg(value: Array) -> Array:
    return np.asarray(np.degrees(value), dtype=np.float64)


def instant_centre(poses: Poses, free: Motions) -> Array:
    """Side-view instant centre of heave in V, x and z, shape (m, 2) [mm].

    Source: geometry, the point of the side view that a motion leaves at rest: v + w x p = 0.
    """
    turning = free.heave[:, 4]
    with np.errstate(divide="ignore", invalid="ignore"):
        place = np.stack([free.heave[:, 2] / turning, -free.heave[:, 0] / turning], axis=1)
    place[np.abs(turning) < STILL] = np.nan
    return np.asarray(place + poses.origins()[:, [0, 2]], dtype=np.float64)


def contact_arms(poses: Poses) -> Array:
    """From the axle centre to the two contact patches, straight below the wheel centres, shape (m, 2, 3) [mm]."""
    stance = poses.linkage.stance
    wheels = poses.points(stance.wheels) - poses.origins()[:, None, :]
    return np.asarray(wheels - np.array([0.0, 0.0, stance.loaded_radius]), dtype=np.float64)


def force_slope(poses: Poses, free: Motions) -> Array:
    """Slope of the line a force at the contact patches works along, shape (m,).

    Climbing toward the middle of the truck is positive: forward of a rear axle, rearward of a front one.
    It has no gap where links are parallel and the instant centre is nowhere.

    Source: geometry, work of equal forces at both patches over heave; gillespie, chapter 7.
    """
    way = velocity_at(free.heave, contact_arms(poses)).mean(axis=1)
    return np.asarray(-poses.linkage.stance.pinion_sign * way[:, 0] / way[:, 2], dtype=np.float64)


def roll_line(poses: Poses, free: Motions) -> tuple[Array, Array]:
    """Height of the roll centre in V [mm] and slope of the roll axis, climbing forward positive [deg].

    In roll with no travel of the axle centre the points of the middle plane that do not move sideways are
    the roll axis; where it crosses the plane through the wheel centres is the roll centre. A track bar's
    is where the bar crosses the middle plane.

    Source: iso-8855, roll centre and roll axis; geometry, v + w x p = 0 sideways.
    """
    height = free.roll[:, 1] / free.roll[:, 3] + poses.origins()[:, 2]
    return height, _deg(np.arctan2(free.roll[:, 5], free.roll[:, 3]))


def roll_steer(poses: Poses, free: Motions) -> Array:
    """Turn of the axle in plan per roll, toward understeer positive, shape (m,) [deg/deg].

    Left wheel up is a turn to the right: a rear axle that steers right, a front one that steers left
    understeers.

    Source: iso-8855, signs; geometry, turning rate about Z over that about X.
    """
    sign = 1.0 if poses.linkage.stance.front else -1.0
    # the rate of yaw with roll; the turn about the sloping axle line also has a part about Z
    line = poses.directions(np.array([[0.0, 1.0, 0.0]]))[:, 0]
    turned = np.cross(free.roll[:, 3:], line)
    plan = line[:, 0] ** 2 + line[:, 1] ** 2
    yaw = (line[:, 1] * -turned[:, 0] + line[:, 0] * turned[:, 1]) / plan
    climb = turned[:, 2] / np.sqrt(plan)
    return np.asarray(sign * yaw / climb, dtype=np.float64)


def pinion_angle(poses: Poses) -> Array:
    """Nose above level in the side view, shape (m,) [deg].

    Source: iso-8855, angle by projection on the XZ plane.
    """
    sign = poses.linkage.stance.pinion_sign
    nose = poses.directions(np.array([[float(sign), 0.0, 0.0]]))[:, 0]
    return _deg(np.arctan2(nose[:, 2], sign * nose[:, 0]))


def casters(poses: Poses, axes: Array) -> tuple[Array, Array]:
    """Caster and steering-axis inclination of both sides in the vehicle, each shape (m, 2) [deg].

    Args:
        poses: The axle over its travel.
        axes: Steering axes, lower to upper pivot, left and right, in A, shape (2, 3).

    Source: iso-8855, angles by projection on the XZ and the YZ plane.
    """
    k = poses.directions(axes)
    side = np.array([1.0, -1.0])
    return _deg(np.arctan2(-k[..., 0], k[..., 2])), _deg(np.arctan2(-side * k[..., 1], k[..., 2]))


def wheel_centres(poses: Poses) -> Array:
    """Wheel centres in V, left and right, shape (m, 2, 3) [mm]."""
    return poses.points(poses.linkage.stance.wheels)


@dataclass(frozen=True, eq=False)
class LinkAngles:
    """How each link lies, from its axle end to its frame end; arrays of shape (m, n) [deg].

    Attributes:
        slope: Above level, frame end higher positive.
        side: In the side view, climbing forward positive.
        front: In the front view, climbing to the left positive.
        plan: In plan, off the line fore and aft, leaning to the left ahead positive.
    """

    slope: Array
    side: Array
    front: Array
    plan: Array


def link_angles(poses: Poses) -> LinkAngles:
    """How each link lies at each pose.

    Source: geometry, angles of a line in space and in its three projections.
    """
    linkage = poses.linkage
    line = linkage.frame_points() - poses.points(linkage.axle_points())
    x, y, z = line[..., 0], line[..., 1], line[..., 2]
    return LinkAngles(
        slope=_deg(np.arctan2(z, np.hypot(x, y))),
        side=_folded(z, x),
        front=_folded(z, y),
        plan=_folded(y, x),
    )


def _folded(up: Array, along: Array) -> Array:
    """Angle of a line without direction, -90 to 90 [deg]."""
    flip = np.where(along < 0.0, -1.0, 1.0)
    return _deg(np.arctan2(up * flip, np.abs(along)))
