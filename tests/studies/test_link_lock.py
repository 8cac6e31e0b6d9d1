"""The wheels from stop to stop: closed forms, a general solver, and laws of four-bar linkages."""

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.spatial.transform import Rotation

from fixturegen.axle.linkage import Joint
from fixturegen.axle.travel import poses_at
from fixturegen.studies.link_lock import Box, arm_length, in_line, pitman_swing, pivot_distance, turned, turns_at
from tests.axle import invented_linkages as made
from tests.axle.invented_linkages import INCH
from tests.studies.test_link_steering import steering, track_bar

STANCE = made.front_stance()


def turn(knuckle, point, angle):
    """A point turned about a knuckle's axis by a general library [deg]."""
    axis = np.array(knuckle.axis) / np.linalg.norm(knuckle.axis)
    return Rotation.from_rotvec(math.radians(angle) * axis).apply(np.asarray(point) - knuckle.point) + knuckle.point


def heading(knuckle, side, angle):
    axis = np.array(knuckle.axis) / np.linalg.norm(knuckle.axis)
    # the wheel stands plumb and straight ahead in the vehicle at ride height
    out = Rotation.from_rotvec(math.radians(angle) * axis).apply(STANCE.rotation.T @ [0.0, side, 0.0])
    out = STANCE.rotation @ out
    return math.degrees(math.atan2(-side * out[0], side * out[1]))


def test_the_inner_wheel_heads_as_asked_and_the_tie_rod_keeps_its_length():
    rods = steering()
    goal = np.array([-35.0, -20.0, 0.0, 10.0, 35.0])
    turns = turns_at(rods, STANCE, goal)
    knuckles, ties = (rods.left, rods.right), [STANCE.to_axle(k.tie.point) for k in (rods.left, rods.right)]
    for want, angles in zip(goal, turns, strict=True):
        inner = 0 if want >= 0.0 else 1
        assert heading(knuckles[inner], (1, -1)[inner], angles[inner]) == pytest.approx(want, abs=1e-8)
        ends = [turn(k, t, a) for k, t, a in zip(knuckles, ties, angles, strict=True)]
        assert np.linalg.norm(ends[1] - ends[0]) == pytest.approx(np.linalg.norm(ties[1] - ties[0]), abs=1e-8)


def test_the_outer_wheel_is_where_a_general_solver_turns_it():
    rods = steering()
    found = turned(rods, STANCE, 34.0, None)
    ties = [STANCE.to_axle(k.tie.point) for k in (rods.left, rods.right)]
    whole = np.linalg.norm(ties[1] - ties[0])
    inner = brentq(lambda a: heading(rods.left, 1, a) - 34.0, 20.0, 50.0, xtol=1e-12)
    end = turn(rods.left, ties[0], inner)
    outer = brentq(lambda a: np.linalg.norm(turn(rods.right, ties[1], a) - end) - whole, 10.0, 40.0, xtol=1e-12)
    assert found.outer[-1] == pytest.approx(heading(rods.right, -1, outer), abs=1e-7)


def test_left_and_right_lock_are_mirror_images():
    found = turned(steering(), STANCE, 33.0, None)
    assert found.inner[::-1] == pytest.approx(-found.inner)
    assert found.outer[::-1] == pytest.approx(-found.outer, abs=1e-9)
    assert found.shafts[::-1, ::-1] == pytest.approx(found.shafts, abs=1e-9)
    assert found.outer[found.inner == 0.0] == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(("pivots", "wheelbase", "inner", "outer"), [(60, 110, 35, 26.9), (60, 100, 30, 23.2)])
def test_the_wanted_outer_angle_is_the_closed_form_between_the_pivots_at_the_ground(pivots, wheelbase, inner, outer):
    # cot(outer) = cot(inner) + pivots / wheelbase: 60/110 in, 35 deg: 26.9; 60/100 in, 30 deg: 23.2 (trade arithmetic)
    rods = steering(caster=6.0, inclination=0.0)  # plumb in the vehicle at a pinion of 6
    across = pivots / 2 * INCH
    rods = replace(
        rods, left=replace(rods.left, point=(0, across, 0)), right=replace(rods.right, point=(0, -across, 0))
    )
    stance = replace(STANCE, wheelbase=wheelbase * INCH)
    found = turned(rods, stance, float(inner), None)
    assert found.wanted[-1] == pytest.approx(outer, abs=0.05)
    exact = math.degrees(math.atan(1 / (1 / math.tan(math.radians(inner)) + pivots / wheelbase)))
    assert found.wanted[-1] == pytest.approx(exact, abs=1e-9)
    assert found.wanted[0] == pytest.approx(-exact, abs=1e-9)


def test_inclination_sets_the_pivots_farther_apart_at_the_ground():
    # geometry: axes at 26 in at axle height 18 in, leaning inboard by 8 deg as seen from the front
    rods = steering(caster=6.0, inclination=8.0)
    lean = rods.left.axis[1] / np.array(STANCE.rotation @ rods.left.axis)[2]
    assert pivot_distance(rods, STANCE) == pytest.approx(2 * (26 - 18 * lean) * INCH)
    assert pivot_distance(rods, STANCE) > 2 * 26 * INCH


def test_a_share_of_a_hundred_is_the_wanted_angle_and_parallel_arms_give_none():
    # arms straight back with plumb pivots: both wheels turn alike, a parallelogram
    alike = turned(steering(caster=6.0, inclination=0.0, tie_y=26.0), STANCE, 30.0, None)
    assert alike.outer == pytest.approx(alike.inner, abs=1e-8)
    assert alike.share[-1] == pytest.approx(0.0, abs=1e-6) and np.isnan(alike.share[alike.inner == 0.0]).all()
    found = turned(steering(), STANCE, 30.0, None)
    given = abs(found.inner - found.outer)[-1] / abs(found.inner - found.wanted)[-1]
    assert found.share[-1] == pytest.approx(100.0 * given)


def parallelogram(arm=6.0, sweep=40.0):
    """Plumb axes and shaft, steering arm and pitman arm parallel and equal: a parallelogram."""
    rods = steering(caster=6.0, inclination=0.0, arm=arm)
    # the steering arm of the right knuckle points straight ahead
    rods = replace(rods, right=replace(rods.right, point=tuple(STANCE.to_axle(made.inches((0, -16, 22))))))
    x, y, z = rods.pitman
    return rods, Box((x - arm * INCH, y, z), (0.0, 0.0, 1.0), sweep)


@pytest.mark.parametrize("angle", [-30.0, -10.0, 0.0, 25.0])
def test_a_pitman_arm_equal_and_parallel_to_the_steering_arm_turns_as_the_knuckle_does(angle):
    rods, box = parallelogram()
    ride = poses_at(track_bar(), 0.0)
    assert arm_length(rods, box) == pytest.approx(6.0 * INCH)
    assert in_line(ride, rods, box) == pytest.approx(90.0)
    assert pitman_swing(ride, rods, box, np.array([0.0, angle])) == pytest.approx([angle], abs=1e-8)


def test_the_drag_link_keeps_its_length_at_every_swing():
    rods, linkage = steering(3.0), track_bar(2.0)
    box = Box((rods.pitman[0] + 7.0 * INCH, rods.pitman[1] - 1.0 * INCH, rods.pitman[2] + INCH), (0.1, -0.2, 1.0), 40.0)
    poses = poses_at(linkage, np.array([0.0, 90.0, -110.0, 20.0]), np.array([0.0, 0.0, 0.0, 6.0]))
    stance = linkage.stance
    drag = stance.to_axle(rods.drag.point)
    whole = np.linalg.norm(np.array(rods.drag.point) - rods.pitman)
    way = np.array(box.way) / np.linalg.norm(box.way)
    for angles in turns_at(rods, stance, np.array([0.0, 28.0, -28.0])):
        end = poses.points(turn(rods.right, drag, angles[1])[None])[:, 0]
        for swing, tip in zip(pitman_swing(poses, rods, box, angles), end, strict=True):
            arm = Rotation.from_rotvec(math.radians(swing) * way).apply(np.array(rods.pitman) - box.shaft)
            assert np.linalg.norm(arm + box.shaft - tip) == pytest.approx(whole, abs=1e-8)
            assert abs(swing) < 90.0, "the answer on the side of ride height"
    assert pitman_swing(poses, rods, box, np.zeros(2))[0] == pytest.approx(0.0, abs=1e-6)


def test_a_swing_beyond_the_arms_reach_is_no_number_and_left_counts_positive():
    rods, box = parallelogram()
    short = replace(box, shaft=(rods.pitman[0] - 2.0 * INCH, *rods.pitman[1:]))
    ride = poses_at(track_bar(), 0.0)
    assert np.isnan(pitman_swing(ride, rods, short, np.array([0.0, 40.0]))).all()
    rods = steering()
    box = Box((rods.pitman[0] + 6.0 * INCH, *rods.pitman[1:]), (0.0, 0.0, 1.0), None)
    for sign in (1.0, -1.0):  # a shaft measured upside down turns the other way: the side of the bend is kept
        found = turned(rods, STANCE, 30.0, replace(box, way=(0.0, 0.0, sign)), ride)
        assert found.pitman[-1] > 0.0 > found.pitman[0]
    assert turned(rods, STANCE, 30.0, box, None).pitman is None


def test_a_drag_link_in_line_with_its_arm_is_seen():
    rods = steering()
    x, y, z = rods.pitman
    for lean, angle in ((0.0, 0.0), (3.0, 3.0), (90.0, 90.0)):
        a = math.radians(lean)
        box = Box((x + 6 * INCH * math.sin(a), y + 6 * INCH * math.cos(a), z), (0, 0, 1), None)
        assert in_line(poses_at(track_bar(), 0.0), rods, box) == pytest.approx(angle, abs=1e-6)


def test_joints_of_the_drag_link_given_in_the_axles_frame_swing_alike():
    rods, box = parallelogram()
    inside = replace(rods, drag=Joint(tuple(STANCE.to_axle(rods.drag.point)), "axle"))
    ride = poses_at(track_bar(), 0.0)
    turns = np.array([0.0, 20.0])
    assert pitman_swing(ride, inside, box, turns) == pytest.approx(pitman_swing(ride, rods, box, turns), abs=1e-9)
