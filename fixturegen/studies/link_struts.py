"""Springs, shocks, straps and stops over travel: length, motion ratio, lean."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array, as_point
from fixturegen.axle.linkage import Joint
from fixturegen.axle.motion import motions, velocity_at
from fixturegen.axle.poses import Poses


@dataclass(frozen=True)
class Strut:
    """A spring, shock, strap or bump stop between frame and axle.

    Attributes:
        name: shock-left, spring-right, strap-left ...
        frame: End on the frame.
        axle: End on the axle.
        shortest: Closed, solid or touching length [mm], or None.
        longest: Open length or length of the strap [mm], or None.
    """

    name: str
    frame: Joint
    axle: Joint
    shortest: float | None = None
    longest: float | None = None


@dataclass(frozen=True, eq=False)
class StrutMotion:
    """A strut at each pose; arrays of shape (m,).

    Attributes:
        name: Of the strut.
        length: Between its ends [mm].
        heave_ratio: Shortening per heave of the wheels, up positive [mm/mm].
        roll_ratio: Shortening per travel of the wheels in roll, with the strut's own side up [mm/mm].
        lean: Off vertical [deg].
        bend: Turn of the axle end's direction against the strut since ride height [deg]: what a coil or a
            stud eye must take.
        room_in: Length left before it is closed [mm]; None without `shortest`.
        room_out: Length left before it is open [mm]; None without `longest`.
    """

    name: str
    length: Array
    heave_ratio: Array
    roll_ratio: Array
    lean: Array
    bend: Array
    room_in: Array | None
    room_out: Array | None


def strut_motion(poses: Poses, strut: Strut) -> StrutMotion:
    """A strut at each pose.

    Formula: ratio = -dl/dz = -u . (v + w x p), u along the strut, twist of heave or roll; a spring's rate
        at the wheel is its own times the ratio squared.
    Holds: for heave with no roll, and for roll with the axle centre at its height.
    Source: geometry, rate of a distance.
    """
    stance = poses.linkage.stance
    foot_a = stance.in_axle(strut.axle)
    top = np.array(strut.frame.point)
    foot = poses.points(foot_a[None, :])[:, 0]
    line = foot - top
    length = np.asarray(np.linalg.norm(line, axis=1), dtype=np.float64)
    way = line / length[:, None]
    arm = (foot - poses.origins())[:, None, :]
    free = motions(poses)
    rate = [(velocity_at(t, arm)[:, 0] * way).sum(axis=1) for t in (free.heave, free.roll)]
    # wheels travel by half the track times the cosine of roll, for each radian
    side = 1.0 if stance.to_vehicle(as_point(foot_a))[1] >= 0.0 else -1.0
    wheel = side * stance.half_track * np.cos(np.radians(poses.roll))
    ride = stance.to_vehicle(as_point(foot_a)) - top
    carried = poses.directions((stance.rotation.T @ (ride / np.linalg.norm(ride)))[None, :])[:, 0]
    across = np.linalg.norm(np.cross(carried, way), axis=1)
    return StrutMotion(
        name=strut.name,
        length=length,
        heave_ratio=-rate[0],
        roll_ratio=-rate[1] / wheel,
        lean=np.degrees(np.arctan2(np.hypot(way[:, 0], way[:, 1]), np.abs(way[:, 2]))),
        bend=np.degrees(np.arctan2(across, (carried * way).sum(axis=1))),
        room_in=None if strut.shortest is None else length - strut.shortest,
        room_out=None if strut.longest is None else strut.longest - length,
    )
