"""SAE AE-7 universal joint manual, section 3.1.1: allowed angle of joint 2, deg as printed.

Read in a secondary copy.
"""

import math

import pytest

from fixturegen.calc.joint_pair import joint_pair

PRINTED = {
    1500.0: (7.3, 7.4, 7.6, 7.9, 8.3, 8.9, 9.5, 10.1, 10.8, 11.6),
    1600.0: (6.9, 6.9, 7.1, 7.5, 7.9, 8.5, 9.1, 9.8, 10.5),
}
CASES = [(speed, float(one), two) for speed, row in PRINTED.items() for one, two in enumerate(row)]


@pytest.mark.parametrize(("speed", "one", "two"), CASES)
def test_allowed_angles_agree_with_the_printed_ones(speed, one, two):
    assert joint_pair(one, 0.0, speed).allowed_angle_2 == pytest.approx(two, abs=0.07)


def test_the_row_of_another_speed_would_be_seen():
    assert joint_pair(0.0, 0.0, 1400.0).allowed_angle_2 != pytest.approx(7.3, abs=0.07)


def test_a_pair_at_its_allowed_angle_has_the_equivalent_angle_of_one_joint_alone():
    alone = joint_pair(0.0, 0.0, 1500.0).allowed_angle_2
    allowed = joint_pair(5.0, 0.0, 1500.0).allowed_angle_2
    assert joint_pair(5.0, allowed, 1500.0).equivalent_angle == pytest.approx(alone)
    assert not any("is over the" in w for w in joint_pair(5.0, allowed - 0.01, 1500.0).warnings)
    assert any("is over the" in w for w in joint_pair(5.0, allowed + 0.01, 1500.0).warnings)


def test_crossed_yokes_add_what_yokes_in_line_take_out():
    # derived: b_eq^2 = |b1^2 -/+ b2^2|
    assert joint_pair(4.0, 3.0, 1500.0, "in-line").equivalent_angle == pytest.approx(math.sqrt(7))
    assert joint_pair(4.0, 3.0, 1500.0, "crossed").equivalent_angle == pytest.approx(5.0)
    assert joint_pair(4.0, 4.0, 1500.0, "in-line").equivalent_angle == 0.0
    allowed = joint_pair(4.0, 0.0, 1500.0, "crossed").allowed_angle_2
    alone = joint_pair(0.0, 0.0, 1500.0).allowed_angle_2
    assert math.hypot(4.0, allowed) == pytest.approx(alone)
    assert joint_pair(9.0, 0.0, 1500.0, "crossed").allowed_angle_2 == 0.0


def test_an_angle_too_small_to_cancel_is_said():
    assert any("at least" in w for w in joint_pair(10.0, 0.0, 1500.0).warnings)
    assert not any("at least" in w for w in joint_pair(5.0, 0.0, 1500.0).warnings)


def test_a_slow_shaft_is_left_to_the_joints_own_limit():
    slow = joint_pair(10.0, 10.0, 100.0)
    assert slow.allowed_angle_2 == 45.0
    assert any("joint's own limit" in w for w in slow.warnings)
