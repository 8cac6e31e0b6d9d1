"""Steering, rake and engine speed by plane geometry (derived); signs by ISO 8855 (secondary copy)."""

import math

import numpy as np
import pytest

from fixturegen.calc import ask
from fixturegen.calc.ackermann import ackermann
from fixturegen.calc.engine_speed import engine_speed
from fixturegen.calc.rake import rake
from fixturegen.calc.scrub import scrub
from fixturegen.calc.trail import trail

INCH = 25.4


def ground_point(caster, inclination, radius, ahead, inboard):
    """Where a left steering axis meets the ground, x forward and y outboard of the contact point.

    The axis passes hub height `ahead` of the wheel centre and `inboard` of it; its vector is
    (-tan caster, -tan inclination, 1), upward.
    """
    axis = np.array([-math.tan(math.radians(caster)), -math.tan(math.radians(inclination)), 1.0])
    return np.array([ahead, -inboard, radius]) - radius * axis


def test_the_outer_wheel_of_the_derived_example():
    assert ackermann(1200.0, 2700.0, 40.0).outer == pytest.approx(31.432, abs=5e-4)
    # cotangents the wrong way round would be seen
    assert math.degrees(math.atan(1 / (1 / math.tan(math.radians(40)) - 1.2 / 2.7))) != pytest.approx(31.432, abs=1)


@pytest.mark.parametrize("inner", [0.5, 10.0, 25.0, 45.0, 70.0])
def test_both_front_wheels_roll_about_one_point_of_the_rear_axle_line(inner):
    outer = ackermann(1400.0, 2800.0, inner).outer
    near = 2800.0 / math.tan(math.radians(inner))
    assert 2800.0 / math.tan(math.radians(outer)) == pytest.approx(near + 1400.0)
    assert outer < inner


def test_wheels_straight_ahead_stay_so():
    assert ackermann(1400.0, 2800.0, 0.0).outer == 0.0


def test_the_trail_of_the_derived_example():
    assert trail(18.5 * INCH, 7.0).trail / INCH == pytest.approx(2.272, abs=5e-4)
    assert 18.5 * math.sin(math.radians(7.0)) != pytest.approx(2.272, abs=5e-4)


@pytest.mark.parametrize("caster", [-4.0, 0.0, 7.0])
@pytest.mark.parametrize("inclination", [0.0, 9.0])
def test_trail_and_scrub_are_where_the_steering_axis_meets_the_ground(caster, inclination):
    radius, ahead_of_axis, inboard = 470.0, 20.0, 90.0
    # the wheel centre stands ahead of the axis, so the axis passes behind it
    x, y, z = ground_point(caster, inclination, radius, -ahead_of_axis, inboard)
    assert z == pytest.approx(0.0)
    assert trail(radius, caster, ahead_of_axis).trail == pytest.approx(x)
    assert scrub(radius, inclination, inboard).scrub == pytest.approx(-y)


def test_an_axis_that_meets_the_ground_outboard_has_negative_scrub():
    assert scrub(470.0, 15.0, 100.0).scrub < 0 < scrub(470.0, 9.0, 100.0).scrub


def test_nose_up_is_positive_rake():
    assert rake(700.0, 600.0, 2000.0).rake == pytest.approx(math.degrees(math.atan2(1, 20)))
    assert rake(600.0, 700.0, 2000.0).rake < 0
    assert rake(600.0, 600.0, 2000.0).rake == 0.0


def test_engine_speed_has_the_known_constant():
    # 63360 / (60 pi) = 336.135: inches of a mile over minutes of an hour and pi
    typed = {"road-speed": "1 mph", "ratio": "1", "tyre-diameter": "10 in"}
    assert ask("engine-speed", typed).answer.engine_speed * 10 == pytest.approx(336.135, abs=5e-4)
    assert 63360 / (60 * math.pi) == pytest.approx(336.135, abs=5e-4)
    # the constant often rounded to 336 would be seen
    assert ask("engine-speed", typed).answer.engine_speed * 10 != pytest.approx(336.0, abs=0.1)


def test_engine_speed_in_metric_is_the_same():
    inch = engine_speed(60 * 63360 * INCH / 3600, 4.1, 37 * INCH).engine_speed
    metric = {"road-speed": "96.56064 km/h", "ratio": "4.1", "tyre-diameter": "939.8 mm"}
    assert ask("engine-speed", metric).answer.engine_speed == pytest.approx(inch)
