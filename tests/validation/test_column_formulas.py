"""Euler and Johnson columns: where and how they meet, and the equation of a buckling beam."""

import math

import numpy as np
import pytest

from fixturegen.calc._columns import (
    critical_stress,
    euler_stress,
    johnson_stress,
    slenderness_where_they_meet,
    tube_critical_load,
)
from fixturegen.calc.column import column

INCH, KSI, LBF = 25.4, 6.894757293168, 4.4482216152605
E = 29_000 * KSI


@pytest.mark.parametrize("strength", [36 * KSI, 60 * KSI, 100 * KSI])
def test_the_formulas_meet_at_half_the_yield_strength_with_one_slope(strength):
    meet = slenderness_where_they_meet(strength, E)
    assert euler_stress(meet, E) == pytest.approx(strength / 2)
    assert johnson_stress(meet, strength, E) == pytest.approx(strength / 2)
    step = meet * 1e-5
    slopes = [
        (f(meet + step) - f(meet - step)) / (2 * step)
        for f in (lambda s: euler_stress(s, E), lambda s: johnson_stress(s, strength, E))
    ]
    assert slopes[0] == pytest.approx(slopes[1], rel=1e-6)
    # a meeting at another slenderness would have two slopes
    assert euler_stress(0.9 * meet, E) > johnson_stress(0.9 * meet, strength, E)


def test_short_and_slender_columns_follow_their_own_formula():
    strength = 60 * KSI
    slender = np.array([0.0, 40.0, 150.0])
    found = critical_stress(slender, strength, E)
    assert found[0] == pytest.approx(strength)
    assert found[1] == pytest.approx(strength - strength**2 * 40**2 / (4 * math.pi**2 * E))
    assert found[2] == pytest.approx(math.pi**2 * E / 150**2)


def test_a_slender_tube_buckles_where_the_finite_differences_of_its_equation_say():
    # EI y'' + P y = 0, pinned: smallest eigenvalue of the second difference, 400 points
    diameter, wall, length, n = 25.4, 3.0, 2500.0, 400
    step = length / n
    line = (np.diag(np.full(n - 1, 2.0)) - np.diag(np.ones(n - 2), 1) - np.diag(np.ones(n - 2), -1)) / step**2
    second = math.pi / 64 * (diameter**4 - (diameter - 2 * wall) ** 4)
    wanted = E * second * np.linalg.eigvalsh(line)[0]
    assert tube_critical_load(diameter, wall, length, 60 * KSI, 1.0, E) == pytest.approx(wanted, rel=1e-4)


def test_a_two_inch_link_of_three_feet_comes_out_by_hand():
    # 2 x .250: A 1.37445, I .53689 in^4 (pi/64 (2^4 - 1.5^4)), r = sqrt(I / A) = .625, kl/r = 57.6
    found = column(2 * INCH, 0.25 * INCH, 36 * INCH, 60 * KSI)
    assert found.slenderness == pytest.approx(57.6, abs=0.005)
    by_hand = 1.37445 * (60 - (60 * 57.6 / (2 * math.pi)) ** 2 / 29_000)
    assert found.critical_load / LBF / 1000 == pytest.approx(by_hand, rel=1e-4)
    assert found.yield_load / LBF / 1000 == pytest.approx(1.37445 * 60, rel=1e-5)


# recommended effective lengths, AISC 360 commentary, from memory
@pytest.mark.parametrize(("ends", "factor"), [("pinned", 1.0), ("fixed", 0.65), ("fixed-pinned", 0.8), ("free", 2.1)])
def test_ends_count_by_the_recommended_factor(ends, factor):
    found = column(2 * INCH, 0.25 * INCH, 36 * INCH, 60 * KSI, ends)
    assert found.slenderness == pytest.approx(57.6 * factor, rel=1e-4)
