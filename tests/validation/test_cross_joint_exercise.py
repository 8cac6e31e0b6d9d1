"""A text-book exercise on the cross joint (secondary copy), and the law of its speeds (derived).

1200 rpm, fastest less slowest 100 rpm: angle 16.42 deg, 1251 and 1151 rpm. One printed answer says
16.2 deg, which is wrong.
"""

import math

import numpy as np
import pytest

from fixturegen.calc.joint_angle import joint_angle
from fixturegen.calc.joint_pair import joint_pair

SPEED = 1200.0


def ratios(angle, inputs):
    """Output over input speed of one joint at input angles [rad] (text-book law)."""
    b = math.radians(angle)
    return math.cos(b) / (1 - math.sin(b) ** 2 * np.cos(inputs) ** 2)


def test_the_exercise_comes_out():
    single = joint_pair(16.42, 0.0, SPEED)
    assert single.equivalent_angle == pytest.approx(16.42)
    assert single.fluctuation * SPEED == pytest.approx(100.0, abs=0.1)
    turn = ratios(single.equivalent_angle, np.linspace(0, math.pi, 1801)) * SPEED
    assert (turn.max(), turn.min()) == pytest.approx((1251, 1151), abs=0.5)


def test_the_wrongly_printed_angle_is_not_the_answer():
    assert joint_pair(16.2, 0.0, SPEED).fluctuation * SPEED != pytest.approx(100.0, abs=2.0)


@pytest.mark.parametrize("angle", [1.0, 5.0, 16.42, 30.0, 45.0])
def test_the_fluctuation_is_that_of_the_law_sampled_over_half_a_turn(angle):
    turn = ratios(angle, np.linspace(0, math.pi, 1801))
    assert joint_pair(angle, 0.0, SPEED).fluctuation == pytest.approx(turn.max() - turn.min(), rel=1e-9)


@pytest.mark.parametrize(("yokes", "lag"), [("in-line", math.pi / 2), ("crossed", 0.0)])
@pytest.mark.parametrize(("one", "two"), [(8.0, 5.0), (5.0, 8.0), (3.0, 1.0), (12.0, 6.0)])
def test_the_equivalent_angle_is_that_of_two_joints_turned_through(yokes, lag, one, two):
    # tan(out) = tan(in) / cos(b), chained; `lag` is the second joint's start against the first
    start = np.linspace(0, math.pi, 3601) + 1e-4
    b1 = math.radians(one)
    middle = np.arctan2(np.sin(start), np.cos(start) * math.cos(b1))
    first = math.cos(b1) / (np.cos(start) ** 2 * math.cos(b1) ** 2 + np.sin(start) ** 2)
    b2 = math.radians(two)
    at = middle + lag
    second = math.cos(b2) / (np.cos(at) ** 2 * math.cos(b2) ** 2 + np.sin(at) ** 2)
    spread = (first * second).max() - (first * second).min()
    assert joint_pair(one, two, SPEED, yokes).fluctuation == pytest.approx(spread, rel=0.02)


@pytest.mark.parametrize("plan", [-8.0, 0.0, 3.0])
@pytest.mark.parametrize("side", [-4.0, 0.0, 12.0])
@pytest.mark.parametrize(("plan_2", "side_2"), [(0.0, 0.0), (-3.0, 2.0)])
def test_the_true_angle_is_that_of_two_unit_vectors(plan, side, plan_2, side_2):
    def unit(p, s):
        v = np.array([1.0, math.tan(math.radians(p)), math.tan(math.radians(s))])
        return v / np.linalg.norm(v)

    one, two = unit(plan, side), unit(plan_2, side_2)
    # the half-angle form keeps its digits at small angles
    expected = math.degrees(2 * math.asin(np.linalg.norm(one - two) / 2))
    assert joint_angle(plan, side, plan_2, side_2).angle == pytest.approx(expected, abs=1e-9)


def test_plan_and_side_angles_do_not_add_but_go_by_squares_when_small():
    assert joint_angle(3.0, 4.0).angle == pytest.approx(5.0, abs=0.01)
    assert joint_angle(30.0, 40.0).angle != pytest.approx(50.0, abs=1.0)
    assert joint_angle(3.0, 4.0, 3.0, 4.0).angle == 0.0
