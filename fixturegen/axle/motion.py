"""How the axle can move at a pose: the constraint matrix of its links, and the motions they leave free.

A motion is a twist: velocity of the axle centre and turning rate, both in V. Of the two free motions one
is heave without roll, the other roll without travel of the axle centre; every other is a sum of them.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.linkage_equations import ARC, Values, cosines, system_of, values
from fixturegen.axle.poses import Poses, step_of


@dataclass(frozen=True, eq=False)
class Motions:
    """The two free motions at each pose.

    Attributes:
        heave: Twist of heave: velocity of the axle centre and turning rate, each for 1 mm up with no
            roll, shape (m, 6) [mm/mm, rad/mm].
        roll: Twist of roll: the same for 1 rad of roll with the axle centre at its height, shape (m, 6)
            [mm/rad, rad/rad].
    """

    heave: Array
    roll: Array


def constraint_matrix(poses: Poses) -> Array:
    """Change of each length with velocity and turning rate of the axle, shape (m, n, 6).

    The rows are Pluecker's coordinates of the links' lines about the axle centre.

    Source: geometry, a length stays where u . (v + w x p) = 0.
    """
    linkage = poses.linkage
    arms = poses.points(linkage.axle_points()) - poses.origins()[:, None, :]
    lines = arms + poses.origins()[:, None, :] - linkage.frame_points()
    for i, link in enumerate(linkage.links):
        if link.part == "guide":
            lines[:, i] = link.direction
    lines = lines / np.linalg.norm(lines, axis=2, keepdims=True)
    return np.concatenate([lines, np.cross(arms, lines)], axis=2)


def motions(poses: Poses) -> Motions:
    """The free motions at each pose: the null space of the constraint matrix, split into heave and roll.

    With more than four lengths it is the motion in which the bushes do least work.

    Source: geometry; the rates of the unknowns solve the derived equations of `linkage_equations`.
    """
    linkage = poses.linkage
    roll = np.radians(poses.roll)
    with np.errstate(all="ignore"):
        at = values(system_of(linkage), poses.unknowns, poses.heave, cosines(roll), with_roll=True)
        step = step_of(linkage)
        asked = (at.climb, at.climb if at.lever is None else at.lever * ARC)
        rates = [-step(Values(change, at.matrix, at.climb, None, at.yaw))[0] for change in asked]
    yaw, elevation = poses.unknowns[2] / ARC, roll
    line = np.stack([-np.sin(yaw) * np.cos(elevation), np.cos(yaw) * np.cos(elevation), np.sin(elevation)], axis=1)
    ahead = np.stack([np.cos(yaw), np.sin(yaw), np.zeros_like(yaw)], axis=1)
    twists = []
    for rate, up, over in zip(rates, (1.0, 0.0), (0.0, 1.0), strict=True):
        velocity = np.stack([rate[0], rate[1], np.full_like(yaw, up)], axis=1)
        turning = np.array([0.0, 0.0, 1.0]) * (rate[2] / ARC)[:, None] + line * (rate[3] / ARC)[:, None] + over * ahead
        twists.append(np.concatenate([velocity, turning], axis=1))
    return Motions(*twists)


def velocity_at(twist: Array, arm: Array) -> Array:
    """Velocity of a point of the axle, shape (m, k, 3).

    Args:
        twist: Shape (m, 6).
        arm: The point less the axle centre, in V, shape (m, k, 3) [mm].

    Source: geometry, v + w x p.
    """
    return np.asarray(twist[:, None, :3] + np.cross(twist[:, None, 3:], arm), dtype=np.float64)
