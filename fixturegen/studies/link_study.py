"""The axle of a sheet over its travel: poses, metrics, joints, steering, struts and shaft, and their numbers."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.linkage import Linkage
from fixturegen.axle.model import AxleModel
from fixturegen.axle.poses import Poses, wheel_travel
from fixturegen.axle.travel import poses_at
from fixturegen.findings import Number, Trust, weakest
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.link_inputs import (
    linkage_on,
    links_on,
    shaft_on,
    steering_on,
    struts_on,
    vehicle_on,
)
from fixturegen.studies.link_joints import Misalignment, misalignments
from fixturegen.studies.link_metrics import Metrics, Vehicle, metrics_of
from fixturegen.studies.link_shafts import ShaftMotion, shaft_motion
from fixturegen.studies.link_steering import Steering, SteeringMotion, steering_motion
from fixturegen.studies.link_struts import StrutMotion, strut_motion

NAMED = ("ride", "bump", "droop", "cross-L", "cross-R")
STEPS = 61  # poses over the heave, ride among them
MODEL = "exact rigid links, free motions of the constraint matrix"


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
    """

    poses: Poses
    metrics: Metrics
    joints: tuple[Misalignment, ...]
    steering: SteeringMotion | None
    struts: tuple[tuple[str, StrutMotion], ...]
    shaft: ShaftMotion | None


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
    """

    linkage: Linkage
    vehicle: Vehicle
    steering: Steering | None
    named: Travel
    heave: Travel
    roll: Travel


def study_of(sheet: Sheet, axle: AxleModel) -> LinkStudy:
    """The study of a sheet's links.

    Raises:
        InputFault: When the sheet has no links, or they are no linkage.
    """
    links = links_on(sheet)
    linkage = linkage_on(sheet, axle)
    bump, droop = float(links.bump), float(links.droop)
    half = linkage.stance.half_track
    left = np.array([0.0, bump, -droop, bump, -droop])
    right = np.array([0.0, bump, -droop, -droop, bump])
    z, r = wheel_travel(left, right, half)
    most = float(r[3])
    return LinkStudy(
        linkage=linkage,
        vehicle=vehicle_on(sheet, axle),
        steering=steering_on(sheet, axle),
        named=travel_at(sheet, axle, linkage, z, r),
        heave=travel_at(sheet, axle, linkage, _with_ride(-droop, bump), np.zeros(STEPS)),
        roll=travel_at(sheet, axle, linkage, np.zeros(STEPS), _with_ride(-most, most)),
    )


def _with_ride(low: float, high: float) -> Array:
    """Evenly spread values with 0 among them."""
    values = np.linspace(low, high, STEPS)
    values[int(np.argmin(np.abs(values)))] = 0.0
    return values


def travel_at(sheet: Sheet, axle: AxleModel, linkage: Linkage, heave: Array, roll: Array) -> Travel:
    """The axle at each heave [mm] and roll [deg], shape (m,)."""
    poses = poses_at(linkage, heave, roll)
    steering, shaft = steering_on(sheet, axle), shaft_on(sheet, axle)
    return Travel(
        poses=poses,
        metrics=metrics_of(poses, vehicle_on(sheet, axle)),
        joints=misalignments(poses),
        steering=None if steering is None else steering_motion(poses, steering),
        struts=tuple((kind, strut_motion(poses, strut)) for kind, strut in struts_on(sheet)),
        shaft=None if shaft is None else shaft_motion(poses, shaft),
    )


METRICS = (
    # name, attribute, unit, what it is
    ("anti_squat", "anti_squat", "%", "of the drive force; anti-lift on a front axle"),
    ("anti_dive", "anti_dive", "%", "of the brake force; anti-lift on a rear axle"),
    ("roll_centre", "roll_centre", "mm", "height above ground at ride"),
    ("roll_axis", "roll_axis", "deg", "climbing forward positive"),
    ("roll_steer", "roll_steer", "deg/deg", "toward understeer positive"),
    ("pinion_angle", "pinion_angle", "deg", "nose above level"),
    ("sideways", "sideways", "mm", "axle centre to the left"),
    ("wheelbase_change", "wheelbase_change", "mm", "longer positive"),
)


def link_numbers(sheet: Sheet, axle: AxleModel, study: LinkStudy | None = None) -> dict[str, Number]:
    """`links.*`, `steering.*` and `driveline.*` by dotted name and pose; empty for a sheet without links.

    Poses where the linkage binds give no number.
    """
    if sheet.links is None:
        return {}
    made = study or study_of(sheet, axle)
    trust = weakest(Trust.MEASURED, Trust.DERIVED)
    if made.linkage.approximate:
        trust = weakest(trust, Trust.PRACTICE)
    found: dict[str, Number] = {}
    for i, pose in enumerate(p.lower() for p in NAMED):
        if not made.named.poses.reached[i]:
            continue
        for name, attribute, unit, meaning in METRICS:
            value = float(getattr(made.named.metrics, attribute)[i])
            if np.isfinite(value):
                found[f"links.{name}.{pose}"] = Number(value, unit, f"{MODEL}; {meaning}", trust)
        found |= _steered(made, i, pose, trust)
        found |= _driven(made, i, pose, trust)
    return found


def _steered(made: LinkStudy, i: int, pose: str, trust: Trust) -> dict[str, Number]:
    motion = made.named.steering
    if motion is None or not motion.reached[i]:
        return {}
    steer = "mean turn of both wheels with the steering held, to the left positive"
    return {
        f"steering.change.{pose}": Number(float(motion.change[i]), "deg", steer, trust),
        f"steering.toe.{pose}": Number(float(motion.toe[i]), "deg", "total toe-in", trust),
        f"steering.drag_slope.{pose}": Number(float(motion.drag_slope[i]), "deg", "drag link, front view", trust),
    }


def _driven(made: LinkStudy, i: int, pose: str, trust: Trust) -> dict[str, Number]:
    shaft = made.named.shaft
    if shaft is None:
        return {}
    return {
        f"driveline.plunge.{pose}": Number(float(shaft.plunge[i]), "mm", "length less that at ride", trust),
        f"driveline.case_angle.{pose}": Number(float(shaft.case_angle[i]), "deg", "true joint angle", trust),
        f"driveline.pinion_joint.{pose}": Number(float(shaft.pinion_angle[i]), "deg", "true joint angle", trust),
        f"driveline.fluctuation.{pose}": Number(
            float(shaft.fluctuation[i]), "1", "fastest less slowest over mean speed of the pinion", trust
        ),
    }
