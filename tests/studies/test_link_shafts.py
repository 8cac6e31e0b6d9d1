"""The drive shaft: joints built from vectors, the text-book exercise, closed forms."""

import math
from dataclasses import replace

import numpy as np
import pytest

from fixturegen.axle.travel import poses_at
from fixturegen.calc.joint_pair import joint_pair
from fixturegen.studies.link_shafts import DriveShaft, shaft_motion
from tests.axle import invented_linkages as made
from tests.axle.invented_linkages import INCH

CASE = made.inches((-60, 2, 24))
SHAFT = DriveShaft(case=CASE, case_axis=(-1.0, 0.0, -0.03), pinion=(10 * INCH, 1 * INCH, 0.5 * INCH))


def uneven(axes, yokes="in-line", steps=3600):
    """Fastest less slowest of the last axis: cross joints from their arms, speeds by differences.

    The arm of a driven yoke is square to the arm of the driving one and to its own shaft.
    """
    first, shaft, last = (np.array(a) / np.linalg.norm(a) for a in axes)

    def frame(axis):
        u = np.cross(axis, [0.3, 0.5, 0.8])
        u /= np.linalg.norm(u)
        return u, np.cross(axis, u)

    u, v = frame(first)
    t = np.linspace(0, 2 * np.pi, steps, endpoint=False)[:, None]
    arm = np.cos(t) * u + np.sin(t) * v
    middle = np.cross(shaft, arm)
    middle /= np.linalg.norm(middle, axis=1, keepdims=True)
    # the other end's yoke: its arm in line with the first yoke's, or a quarter turn on
    other = middle if yokes == "in-line" else np.cross(shaft, middle)
    end = np.cross(last, other)
    a, b = frame(last)
    angle = np.unwrap(np.arctan2(end @ b, end @ a))
    speed = np.diff(np.append(angle, angle[0] + math.copysign(2 * np.pi, angle[-1] - angle[0]))) / (2 * np.pi / steps)
    return np.ptp(speed) / abs(speed.mean())


def axes_of(poses, shaft, i=0):
    pinion = poses.points(np.array([shaft.pinion]))[i, 0]
    into = poses.rotations()[i] @ [-poses.linkage.stance.pinion_sign, 0.0, 0.0]
    return shaft.case_axis, pinion - np.array(shaft.case), into


@pytest.mark.parametrize("yokes", ["in-line", "crossed"])
@pytest.mark.parametrize("heave", [0.0, 90.0, -120.0])
def test_the_unevenness_is_that_of_two_cross_joints_built_from_vectors(heave, yokes):
    poses = poses_at(made.splayed(), heave, 4.0)
    shaft = replace(SHAFT, yokes=yokes)
    found = shaft_motion(poses, shaft)
    assert found.fluctuation[0] == pytest.approx(uneven(axes_of(poses, shaft), yokes), abs=2e-5)


def test_one_joint_is_tan_times_sin():
    # geometry: 1/cos b - cos b; text-book exercise: 100 rpm of 1200 is 16.42 deg (one printed answer says 16.2)
    poses = poses_at(made.splayed(), np.array([0.0, 80.0, -100.0]))
    found = shaft_motion(poses, replace(SHAFT, joints="double"))
    beta = np.radians(found.pinion_angle)
    assert found.fluctuation == pytest.approx(np.tan(beta) * np.sin(beta), abs=1e-12)
    assert found.equivalent_angle == pytest.approx(found.pinion_angle, abs=1e-9)
    case = replace(SHAFT, case_axis=(-math.cos(math.radians(16.42)), math.sin(math.radians(16.42)), 0.0))
    straight = poses_at(made.splayed(), 0.0)
    into = straight.rotations()[0] @ [-1.0, 0.0, 0.0]
    at = straight.points(np.array([SHAFT.pinion]))[0, 0] - 1000 * into
    case = replace(case, case=tuple(at), case_axis=tuple(into))
    assert shaft_motion(straight, case).fluctuation[0] == pytest.approx(0.0, abs=1e-12)


def test_equal_joints_in_one_plane_take_each_other_out_and_crossed_yokes_add():
    # SAE AE-7: equal angles in one plane with yokes in line give even speed
    poses = poses_at(made.splayed(), 0.0)
    pinion = poses.points(np.array([SHAFT.pinion]))[0, 0]
    into = poses.rotations()[0] @ [-1.0, 0.0, 0.0]
    parallel = replace(SHAFT, case=tuple(pinion - 1200 * into + np.array([0.0, 0.0, 90.0])), case_axis=tuple(into))
    found = shaft_motion(poses, parallel)
    assert found.case_angle == pytest.approx(found.pinion_angle)
    assert found.fluctuation[0] == pytest.approx(0.0, abs=1e-12)
    crossed = shaft_motion(poses, replace(parallel, yokes="crossed"))
    # squares of the angles add for small ones: b sqrt 2
    assert crossed.equivalent_angle[0] == pytest.approx(math.sqrt(2) * found.case_angle[0], rel=2e-3)


def test_in_one_plane_it_is_the_pair_of_the_handbook():
    poses = poses_at(made.splayed(), 0.0)
    pinion = poses.points(np.array([SHAFT.pinion]))[0, 0]
    into = poses.rotations()[0] @ [-1.0, 0.0, 0.0]
    shaft = replace(SHAFT, case=tuple(pinion - 1200 * into + np.array([0.0, 0.0, 120.0])), case_axis=(-1.0, 0.0, 0.0))
    found = shaft_motion(poses, shaft)
    pair = joint_pair(float(found.case_angle[0]), float(found.pinion_angle[0]), 1500.0)
    assert found.equivalent_angle[0] == pytest.approx(pair.equivalent_angle, rel=0.01)


def test_length_and_plunge_are_distances():
    poses = poses_at(made.splayed(), np.array([0.0, 75.0]))
    found = shaft_motion(poses, SHAFT)
    far = np.linalg.norm(poses.points(np.array([SHAFT.pinion]))[:, 0] - np.array(CASE), axis=1)
    assert found.length == pytest.approx(far) and found.plunge == pytest.approx(far - far[0])
