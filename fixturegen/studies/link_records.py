"""What is kept of an axle over its travel: the records that the study fills and papers and checks read."""

from __future__ import annotations

from dataclasses import dataclass

from fixturegen.axle.frames import Array
from fixturegen.axle.linkage import Linkage
from fixturegen.axle.poses import Poses
from fixturegen.studies.link_hoses import HoseMotion
from fixturegen.studies.link_joints import Misalignment
from fixturegen.studies.link_lock import Turned
from fixturegen.studies.link_metrics import Metrics, Vehicle
from fixturegen.studies.link_shafts import ShaftMotion
from fixturegen.studies.link_steering import Steering, SteeringMotion
from fixturegen.studies.link_stops import Hold
from fixturegen.studies.link_struts import StrutMotion

NAMED = ("ride", "bump", "droop", "cross-L", "cross-R")
"""Poses every axle is told at."""


@dataclass(frozen=True, eq=False)
class Travel:
    """The axle at some poses, and all that is told of it there.

    Attributes:
        poses: The poses.
        metrics: Of the linkage.
        joints: Misalignment of each link's joints.
        steering: Of the road wheels; None without steering.
        struts: (kind, motion) of each.
        shaft: Of the drive shaft; None without one.
        lost: Steer that is lost while the tie rod rolls from stop to stop, shape (m,) [deg]; None without steering.
        hoses: Brake hoses, straight ahead first, then at both locks where the lock is known.
    """

    poses: Poses
    metrics: Metrics
    joints: tuple[Misalignment, ...]
    steering: SteeringMotion | None
    struts: tuple[tuple[str, StrutMotion], ...]
    shaft: ShaftMotion | None
    lost: Array | None = None
    hoses: tuple[HoseMotion, ...] = ()


@dataclass(frozen=True, eq=False)
class LinkStudy:
    """What the links of a sheet do.

    Attributes:
        linkage: As measured.
        vehicle: Centre of gravity and shares.
        steering: Its points; None without.
        named: At ride, bump, droop, left wheel up and right down, right wheel up and left down.
        heave: From droop to bump, both wheels alike.
        roll: From right wheel up to left wheel up, the axle centre held at the height of the crossed poses.
        turned: The wheels from stop to stop at ride; None where the knuckle stop is not known.
        holds: Where bump stops and straps end the travel.
        shaft_limit: Largest angle of the axle shaft's joint [deg]; None where it is not known.
        box_stop: Swing of the pitman arm either way at the box's own stop [deg]; None where it was not measured.
    """

    linkage: Linkage
    vehicle: Vehicle
    steering: Steering | None
    named: Travel
    heave: Travel
    roll: Travel
    turned: Turned | None = None
    holds: tuple[Hold, ...] = ()
    shaft_limit: float | None = None
    box_stop: float | None = None
