"""Brake hoses: closed forms of arcs and lines, the bent springy rod by integration, and rigid motion."""

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import minimize
from scipy.spatial.transform import Rotation

from fixturegen.axle.linkage import Joint
from fixturegen.axle.travel import poses_at
from fixturegen.studies.link_hoses import Hose, best_radius, hose_motion
from tests.axle import invented_linkages as made
from tests.axle.invented_linkages import INCH
from tests.studies.test_link_steering import steering

STRAIGHT = np.zeros((1, 2))
LOCKS = np.array([[0.0, 0.0], [32.0, 26.0], [-26.0, -32.0]])


def hose(frame, axle, on="left", **more):
    return Hose("hose", made.inches(frame), "frame", Joint(made.inches(axle)), on, 22.0 * INCH, **more)


def at_ride(given):
    return hose_motion(poses_at(made.three_link(), 0.0), given, steering(), STRAIGHT)


def test_the_ends_go_with_frame_axle_and_knuckle():
    linkage, rods = made.three_link(), steering()
    poses = poses_at(linkage, np.array([0.0, -120.0, 40.0]), np.array([0.0, 0.0, 6.0]))
    given = hose((2, 15, 30), (2, 27, 20))
    found = hose_motion(poses, given, rods, LOCKS)
    stance = linkage.stance
    tip = stance.to_axle(given.axle.point)
    axis = np.array(rods.left.axis) / np.linalg.norm(rods.left.axis)
    for k, (left, _) in enumerate(LOCKS):
        turned = Rotation.from_rotvec(math.radians(left) * axis).apply(tip - rods.left.point) + rods.left.point
        for i in range(3):
            end = poses.rotations()[i] @ turned + poses.origins()[i]
            assert found.straight[i, k] == pytest.approx(np.linalg.norm(end - given.frame), abs=1e-9)
    assert found.least_spare == pytest.approx(22.0 * INCH - found.straight.max(axis=1))


def test_a_hose_from_housing_to_knuckle_changes_at_lock_alone():
    poses = poses_at(made.three_link(), np.array([0.0, -100.0]))
    given = Hose("hose", made.inches((2, 15, 22)), "axle", Joint(made.inches((2, 27, 20))), "right", 500.0)
    found = hose_motion(poses, given, steering(), LOCKS)
    assert found.straight[1] == pytest.approx(found.straight[0], abs=1e-9)
    assert np.ptp(found.straight[0]) > 1.0


def test_the_mirror_image_of_a_hose_needs_as_much():
    linkage = made.leaves()
    stance_poses = poses_at(linkage, np.array([0.0, -60.0]))
    left = Hose("l", made.inches((-100, 15, 30)), "frame", Joint(made.inches((-108, 20, 18))), "axle", 500.0)
    right = Hose("r", made.inches((-100, -15, 30)), "frame", Joint(made.inches((-108, -20, 18))), "axle", 500.0)
    one, other = (hose_motion(stance_poses, h, None, STRAIGHT) for h in (left, right))
    assert other.needed == pytest.approx(one.needed, abs=1e-9)


def test_fittings_that_face_each_other_need_the_straight_line():
    along = np.array([0.0, 12.0, -10.0]) / math.hypot(12, 10)
    given = hose((2, 15, 30), (2, 27, 20), bend=40.0, frame_way=tuple(along), axle_way=tuple(-along))
    found = at_ride(given)
    assert found.needed == pytest.approx(found.straight, abs=1e-9)


@pytest.mark.parametrize("apart", [4.5, 7.0, 12.0])
def test_fittings_side_by_side_need_a_half_circle_and_the_rest_of_the_way(apart):
    # closed form: out along x, back along x, ends `apart` beside each other: pi R + apart - 2 R
    given = hose((2, 27 - apart, 20), (2, 27, 20), bend=2.0 * INCH, frame_way=(1, 0, 0), axle_way=(1, 0, 0))
    assert at_ride(given).needed[0, 0] / INCH == pytest.approx(math.pi * 2.0 + apart - 4.0, abs=1e-7)


@pytest.mark.parametrize(("ahead", "beside"), [(10.0, 4.0), (3.0, 9.0), (-5.0, 8.0)])
def test_one_fitting_needs_an_arc_and_its_tangent(ahead, beside):
    # closed form: tangent from the end to the circle of radius R beside the start; start at 0, out along +x
    r = 2.0
    given = hose((2 - ahead, 27 - beside, 20), (2, 27, 20), bend=r * INCH, frame_way=(1, 0, 0))
    line = math.sqrt(ahead**2 + (beside - r) ** 2 - r**2)
    # heading t of the line: start of the line is (r sin t, r - r cos t)
    turn = math.atan2(beside - r, ahead) + math.atan2(r, line)
    assert at_ride(given).needed[0, 0] / INCH == pytest.approx(r * turn + line, abs=1e-7)


def test_in_space_a_general_optimizer_finds_no_shorter_way():
    out, back, r = np.array([0.3, 1.0, 0.2]), np.array([-0.2, -0.5, 1.0]), 1.5
    given = hose((2, 12, 30), (5, 27, 20), bend=r * INCH, frame_way=tuple(out), axle_way=tuple(back))
    u, v = out / np.linalg.norm(out), back / np.linalg.norm(back)
    p, q = np.array([2.0, 12, 30]), np.array([5.0, 27, 20])

    def whole(at):
        """Arc, straight line, arc: from any direction of the line; its ends must meet (penalty)."""
        way = np.array([math.cos(at[0]) * math.cos(at[1]), math.sin(at[0]) * math.cos(at[1]), math.sin(at[1])])
        a, b = math.acos(np.clip(u @ way, -1, 1)), math.acos(np.clip(-(v @ way), -1, 1))
        one = p + r * math.tan(a / 2) * (u + way)
        two = q + r * math.tan(b / 2) * (v - way)
        gap = two - one
        miss = gap - (gap @ way) * way
        return r * (a + b) + gap @ way, float(miss @ miss)

    best = minimize(
        lambda at: whole(at)[1], [1.4, -0.5], method="Nelder-Mead", options={"xatol": 1e-12, "fatol": 1e-22}
    )
    assert at_ride(given).needed[0, 0] / INCH == pytest.approx(whole(best.x)[0], abs=1e-6)


@pytest.mark.parametrize("modulus", [0.1, 0.5, 0.9])
def test_the_bent_rod_is_the_one_that_is_integrated(modulus):
    # elastica between free ends: theta'' = -sin(theta), from the steepest end to the other; k = sin(alpha / 2)
    alpha = 2 * math.asin(modulus)
    level = lambda s, y: y[0]  # noqa: E731
    level.terminal, level.direction = True, -1
    run = solve_ivp(
        lambda s, y: [y[1], -math.sin(y[0]), math.cos(y[0])],
        (0, 20),
        [alpha, 0.0, 0.0],
        events=level,
        rtol=1e-11,
        atol=1e-12,
    )
    half, chord, bend = run.t[-1], run.y[2, -1], abs(run.y[1, -1])
    found = best_radius(np.array([2 * chord]), 2 * half)
    assert found[0] == pytest.approx(1.0 / bend, rel=1e-6)


def test_a_slightly_slack_hose_bends_as_a_sine_wave_and_a_taut_one_not():
    # small bow: shortening / length = alpha^2 / 4, radius = length / (pi alpha)
    length, alpha = 500.0, 0.02
    found = best_radius(np.array([length * (1 - alpha**2 / 4), length, length + 1.0]), length)
    assert found[0] == pytest.approx(length / (math.pi * alpha), rel=1e-3)
    assert np.isinf(found[1:]).all()


def test_ends_too_near_for_their_arcs_give_no_number():
    given = hose((2, 26, 20), (2, 27, 20), bend=8.0 * INCH, frame_way=(0, -1, 0), axle_way=(0, -1, 0.3))
    needed = at_ride(given).needed[0, 0]
    assert np.isnan(needed) or needed > math.pi * 8.0 * INCH
