"""The axle of a sheet over its travel: poses, metrics, joints, steering, struts, hoses and shaft."""

from __future__ import annotations

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.linkage import Linkage
from fixturegen.axle.model import AxleModel
from fixturegen.axle.poses import wheel_travel
from fixturegen.axle.travel import poses_at
from fixturegen.findings import Number
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.link_faults import refuse_points
from fixturegen.studies.link_hoses import hose_motion
from fixturegen.studies.link_inputs import (
    box_on,
    hoses_on,
    linkage_on,
    links_on,
    lock_on,
    rod_roll_on,
    shaft_on,
    steering_on,
    struts_on,
    vehicle_on,
)
from fixturegen.studies.link_joints import misalignments
from fixturegen.studies.link_lock import Turned, turned, turns_at
from fixturegen.studies.link_metrics import metrics_of
from fixturegen.studies.link_numbers import numbers_of
from fixturegen.studies.link_records import NAMED, LinkStudy, Travel
from fixturegen.studies.link_shafts import shaft_motion
from fixturegen.studies.link_steering import roll_over, steering_motion
from fixturegen.studies.link_stops import holds_of
from fixturegen.studies.link_struts import strut_motion

__all__ = ["NAMED", "LinkStudy", "Travel", "link_numbers", "study_of", "travel_at"]

STEPS = 61  # poses over the heave, ride among them


def study_of(sheet: Sheet, axle: AxleModel) -> LinkStudy:
    """The study of a sheet's links.

    Raises:
        InputFault: When the sheet has no links, or they are no linkage.
    """
    links = links_on(sheet)
    linkage = linkage_on(sheet, axle)
    refuse_points(sheet, axle)
    bump, droop = float(links.bump), float(links.droop)
    half = linkage.stance.half_track
    given, box = links.steering, box_on(sheet)
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
        turned=_turned(sheet, axle, linkage),
        holds=holds_of(linkage, struts_on(sheet), bump, droop),
        shaft_limit=None if given is None or given.shaft_limit is None else float(given.shaft_limit),
        box_stop=None if box is None else box.sweep,
    )


def _turned(sheet: Sheet, axle: AxleModel, linkage: Linkage) -> Turned | None:
    """The wheels from stop to stop; None without steering or where the knuckle stop is not known."""
    steering, lock = steering_on(sheet, axle), lock_on(sheet)
    if steering is None or lock is None:
        return None
    return turned(steering, linkage.stance, lock, box_on(sheet), poses_at(linkage, 0.0))


def _locks(sheet: Sheet, axle: AxleModel, linkage: Linkage) -> Array:
    """Turns of both knuckles straight ahead and, where it is known, at left and right lock, shape (k, 2) [deg]."""
    steering, lock = steering_on(sheet, axle), lock_on(sheet)
    if steering is None or lock is None:
        return np.zeros((1, 2))
    return turns_at(steering, linkage.stance, np.array([0.0, lock, -lock]))


def _with_ride(low: float, high: float) -> Array:
    """Evenly spread values with 0 among them."""
    values = np.linspace(low, high, STEPS)
    values[int(np.argmin(np.abs(values)))] = 0.0
    return values


def travel_at(sheet: Sheet, axle: AxleModel, linkage: Linkage, heave: Array, roll: Array) -> Travel:
    """The axle at each heave [mm] and roll [deg], shape (m,)."""
    poses = poses_at(linkage, heave, roll)
    steering, shaft, hoses = steering_on(sheet, axle), shaft_on(sheet, axle), hoses_on(sheet)
    locks = _locks(sheet, axle, linkage) if hoses else np.zeros((1, 2))
    return Travel(
        poses=poses,
        metrics=metrics_of(poses, vehicle_on(sheet, axle)),
        joints=misalignments(poses),
        steering=None if steering is None else steering_motion(poses, steering),
        struts=tuple((kind, strut_motion(poses, strut)) for kind, strut in struts_on(sheet)),
        shaft=None if shaft is None else shaft_motion(poses, shaft),
        lost=None if steering is None else roll_over(poses, steering, rod_roll_on(sheet)),
        hoses=tuple(hose_motion(poses, h, steering, locks) for h in hoses),
    )


def link_numbers(sheet: Sheet, axle: AxleModel, study: LinkStudy | None = None) -> dict[str, Number]:
    """`links.*`, `steering.*` and `driveline.*` by dotted name and pose; empty for a sheet without links.

    Poses where the linkage binds give no number.
    """
    return {} if sheet.links is None else numbers_of(study or study_of(sheet, axle))
