"""Machinery's Handbook, 31st edition, p. 1421, lengths of bends; inches as printed.

Read in a secondary copy.
"""

import math

import pytest

from fixturegen.calc import ask
from fixturegen.calc.bend import bend

INCH = 25.4


def allowance(thickness, radius, angle, material="soft-steel-aluminium"):
    """Length of a bend by the handbook's rule [in]."""
    return bend("handbook", thickness * INCH, radius * INCH, angle, material).allowance / INCH


# the worked example: 1.338 and .707 and a straight 3.5 come to 5.545
@pytest.mark.parametrize(("radius", "angle", "printed"), [(3 / 8, 180.0, 1.338), (5 / 8, 60.0, 0.707)])
def test_the_bends_of_the_worked_example_come_out(radius, angle, printed):
    assert allowance(1 / 8, radius, angle) == pytest.approx(printed, abs=6e-4)


def test_the_worked_example_comes_to_5_545_in_total():
    typed = {
        "rule": "handbook",
        "thickness": "1/8 in",
        "lengths": "3.5 in",
        "bends": "3/8 in x 180 deg, 5/8 in x 60 deg",
        "measured": "straight",
        "material": "soft-steel-aluminium",
    }
    answer = ask("flat-length", typed).answer
    assert answer.flat_length / INCH == pytest.approx(5.545, abs=6e-4)
    # the metal of another row would be seen
    typed["material"] = "spring-steel"
    assert ask("flat-length", typed).answer.flat_length / INCH != pytest.approx(5.545, abs=6e-4)


@pytest.mark.parametrize(
    ("material", "of_thickness"),
    [("soft-brass", 0.55), ("soft-steel-aluminium", 0.64), ("spring-steel", 0.71)],
)
def test_each_metal_has_its_printed_factor(material, of_thickness):
    assert allowance(1.0, 0.0, 90.0, material) == pytest.approx(of_thickness)
    assert allowance(1.0, 2.0, 90.0, material) == pytest.approx(of_thickness + 2 * 1.57)
    assert allowance(1.0, 2.0, 30.0, material) == pytest.approx((of_thickness + 2 * 1.57) / 3)


def test_the_neutral_line_at_half_the_thickness_would_be_seen():
    assert math.pi * (3 / 8 + 1 / 16) != pytest.approx(1.338, abs=6e-4)


def test_the_default_k_factor_is_the_handbooks_factor_of_soft_steel():
    assert bend("k-factor", 10.0, 0.0, 90.0).allowance / 10.0 == pytest.approx(0.64, abs=0.005)
