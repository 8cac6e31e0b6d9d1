"""Machinery's Handbook, 31st edition, p. 695, sine bars; inches and degrees as printed.

Read in a secondary copy.
"""

import math

import pytest

from fixturegen.calc.sine_height import sine_height
from fixturegen.units import Angle, parse

INCH = 25.4


@pytest.mark.parametrize(
    ("length", "angle", "height", "digit"),
    [
        (5.0, "12 deg", 1.03956, 1e-5),
        (5.0, "28 deg 38 min 1 s", 2.396, 5e-4),  # a taper of 6 1/8 in per foot
        (5.0, "31 deg 15 min", 2.5939, 1e-4),
    ],
)
def test_heights_agree_with_the_printed_ones(length, angle, height, digit):
    found = sine_height(length * INCH, parse(angle, Angle())).height / INCH
    assert found == pytest.approx(height, abs=digit)


def test_the_height_of_a_tangent_bar_would_be_seen():
    assert 5 * math.tan(math.radians(12)) != pytest.approx(1.03956, abs=1e-5)


def test_the_taper_per_foot_gives_the_printed_angle():
    # 6 1/8 in per foot, both sides: twice the angle whose tangent is half the taper
    taper = 2 * math.atan(6.125 / 24)
    assert math.degrees(taper) == pytest.approx(parse("28 deg 38 min 1 s", Angle()), abs=1 / 3600)
