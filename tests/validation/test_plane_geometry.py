"""Chords and rollers checked by coordinates, and by factors of Machinery's Handbook [memory]."""

import cmath
import math

import pytest

from fixturegen.calc.chord import chord
from fixturegen.calc.vee_roller import vee_roller


@pytest.mark.parametrize("count", [2, 3, 4, 5, 6, 8, 10, 12, 14])
def test_chords_agree_with_the_distance_of_two_points(count):
    one, two = (cmath.rect(100.0, 2 * math.pi * k / count) for k in (0, 1))
    assert chord(200.0, count).chord == pytest.approx(abs(one - two))


# Machinery's Handbook, length of chords for spacing holes, circle of 1 in; from memory.
@pytest.mark.parametrize(("count", "factor"), [(3, 0.866025), (5, 0.587785), (8, 0.382683), (10, 0.309017)])
def test_chords_agree_with_the_printed_factors(count, factor):
    assert chord(1.0 * 25.4, count).chord / 25.4 == pytest.approx(factor, abs=1e-6)


def test_the_arc_instead_of_the_chord_would_be_seen():
    assert math.pi / 5 != pytest.approx(0.587785, abs=1e-6)


@pytest.mark.parametrize("angle", [20.0, 60.0, 90.0, 120.0, 170.0])
def test_a_roller_touches_both_flanks(angle):
    centre = vee_roller(angle, 80.0).height
    # a flank leaves the root at half the included angle from upright; its distance from (0, h)
    flank = cmath.rect(1.0, math.pi / 2 - math.radians(angle) / 2)
    across = abs((flank.conjugate() * complex(0, centre)).imag)
    assert across == pytest.approx(40.0)


def test_in_a_v_of_90_the_centre_is_0_7071_diameters_up_and_in_60_one():
    assert vee_roller(90.0, 1.0).height == pytest.approx(0.70711, abs=5e-6)
    assert vee_roller(60.0, 1.0).height == pytest.approx(1.0)
    # taking the included angle for the half angle gives another height
    assert vee_roller(90.0, 1.0).height != pytest.approx(0.5, abs=0.1)
