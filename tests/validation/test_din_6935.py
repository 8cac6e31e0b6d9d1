"""DIN 6935, developed length of bent plate: shortening v at 90 deg, mm (from memory)."""

import math

import pytest

from fixturegen.calc._bends import din_k
from fixturegen.calc.bend import bend

# radius, thickness, v to a tenth
PRINTED = [(1.0, 1.0, 1.9), (1.6, 1.0, 2.1), (2.5, 1.0, 2.4), (2.5, 1.5, 3.2), (4.0, 3.0, 6.0)]


@pytest.mark.parametrize(("radius", "thickness", "v"), PRINTED)
def test_the_shortening_agrees_with_the_table(radius, thickness, v):
    assert bend("din", thickness, radius, 90.0).deduction == pytest.approx(v, abs=0.051)


@pytest.mark.parametrize(("radius", "thickness", "v"), PRINTED)
def test_its_k_taken_for_a_k_factor_would_be_seen(radius, thickness, v):
    # the trap: k of the standard is twice the share of the thickness
    allowance = math.pi / 2 * (radius + din_k(radius / thickness) * thickness)
    assert 2 * (radius + thickness) - allowance != pytest.approx(v, abs=0.051)


def test_k_ends_at_one_from_a_radius_of_five_thicknesses():
    # the printed formula comes to 0.9995 at 5 and would pass 1 beyond
    assert din_k(5.0) == pytest.approx(1.0, abs=6e-4)
    assert din_k(20.0) == 1.0
    assert din_k(1.0) == pytest.approx(0.65)
    assert bend("din", 2.0, 40.0, 90.0).allowance == pytest.approx(math.pi / 2 * 41.0)


def test_a_bend_sharper_than_the_standard_goes_is_said():
    assert any("sharper" in w for w in bend("din", 6.35, 3.0, 90.0).warnings)
    assert not any("sharper" in w for w in bend("din", 6.35, 6.0, 90.0).warnings)
    assert bend("din", 6.35, 0.0, 90.0).allowance == 0.0
