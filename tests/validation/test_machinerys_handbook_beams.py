"""Machinery's Handbook, 27th edition, p. 264: beam with two overhangs; inches and pounds.

The formulas were read in a copy; the figures are worked out from them.
"""

import math

import numpy as np
import pytest

from fixturegen.calc.tube_bending import tube_bending

INCH, LBF, PSI = 25.4, 4.4482216152605, 6.894757293168e-3


def tube(load=3000.0, overhang=12.0, spacing=36.0):
    """A 3.5 x .250 tube, E 30 000 ksi."""
    return tube_bending(3.5 * INCH, 0.25 * INCH, load * LBF, overhang * INCH, spacing * INCH, 30e6 * PSI)


def test_three_thousand_pounds_a_foot_outside_give_18_584_psi_and_487_thousandths():
    found = tube()
    assert found.stress / PSI == pytest.approx(18_584, abs=1)
    assert found.slope == pytest.approx(0.487, abs=5e-4)
    assert found.moment / LBF / INCH == pytest.approx(36_000)


def test_slope_and_deflection_agree_with_the_integrated_moment():
    # curvature M / EI integrated twice from the middle, where the slope is zero
    second = math.pi / 64 * (3.5**4 - 3.0**4)
    x = np.linspace(0, 30, 300_001)
    curve = 3000 * np.where(x < 18, 12.0, 30 - x) / (30e6 * second)
    slope = np.concatenate([[0], np.cumsum((curve[1:] + curve[:-1]) / 2) * (x[1] - x[0])])
    bent = np.concatenate([[0], np.cumsum((slope[1:] + slope[:-1]) / 2) * (x[1] - x[0])])
    found = tube()
    assert found.slope == pytest.approx(math.degrees(slope[-1]), rel=1e-6)
    assert found.deflection / INCH == pytest.approx(bent[-1] - bent[180_000], rel=1e-6)


def test_double_load_doubles_all_and_the_spacing_does_not_touch_the_stress():
    once, twice, apart = tube(), tube(load=6000.0), tube(spacing=40.0)
    for name in ("moment", "stress", "slope", "deflection"):
        assert getattr(twice, name) == pytest.approx(2 * getattr(once, name))
    assert apart.stress == once.stress
    assert apart.slope > once.slope
