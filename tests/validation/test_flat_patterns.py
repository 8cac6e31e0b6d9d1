"""Flats of bent parts against Machinery's Handbook (31st edition, p. 1421, secondary copy) and DIN 6935 (from memory).

Inches as printed for the handbook, mm for the standard.
"""

import pytest

from fixturegen.findings import Trust
from fixturegen.plate.bend_rules import BendRule, BendTested
from fixturegen.plate.bending import Fold, bent_strip
from fixturegen.plate.profile import bounds

INCH = 25.4


def length(flat):
    x0, _, x1, _ = bounds(flat.profile.outer)
    return x1 - x0


def test_the_flat_of_the_handbooks_worked_example_is_5_545_long():
    # T 1/8, bends of 3/8 through 180 and 5/8 through 60 with 3.5 straight: 1.338 + .707 + 3.5;
    # half a turn of 180 is drawn as two bends of 90 that touch: the handbook's lengths go with the angle
    t, r, s = 0.125, 0.375, 0.625
    square, sixty = r + t, (s + t) * 0.5773502692  # to the corner: tan 45 = 1, tan 30
    little = 1e-6
    sizes = (1.0 + square, square + little + square, 1.5 + square + sixty, 1.0 + sixty)
    folds = [Fold(90.0, r * INCH), Fold(90.0, r * INCH), Fold(60.0, s * INCH)]
    flat = bent_strip([v * INCH for v in sizes], folds, 50.0, t * INCH, BendRule("handbook"))
    assert length(flat) / INCH == pytest.approx(5.545, abs=6e-4)
    wrong = bent_strip([v * INCH for v in sizes], folds, 50.0, t * INCH, BendRule("k-factor", 0.5))
    assert length(wrong) / INCH != pytest.approx(5.545, abs=6e-3)


# radius, thickness, shortening v of DIN 6935 at 90 deg to a tenth [mm]
PRINTED = [(1.0, 1.0, 1.9), (1.6, 1.0, 2.1), (2.5, 1.0, 2.4), (2.5, 1.5, 3.2), (4.0, 3.0, 6.0)]


@pytest.mark.parametrize(("radius", "thickness", "v"), PRINTED)
def test_a_channel_is_shorter_by_twice_the_shortening_of_din_6935(radius, thickness, v):
    flat = bent_strip((30.0, 50.0, 30.0), [Fold(90.0, radius)] * 2, 20.0, thickness, BendRule("din"))
    assert length(flat) == pytest.approx(110.0 - 2.0 * v, abs=0.11)
    angle = bent_strip((30.0, 50.0), [Fold(90.0, radius)], 20.0, thickness, BendRule("din"))
    assert length(angle) == pytest.approx(80.0 - v, abs=0.055)


def test_a_measured_strip_gives_its_own_deduction_back_and_wins():
    strip = BendTested(6.35, 6.35, 90.0, 11.0)
    rule = BendRule("handbook", tests=(strip,))
    flat = bent_strip((80.0, 80.0), [Fold(90.0, 6.35)], 50.0, 6.35, rule)
    assert length(flat) == pytest.approx(160.0 - 11.0)
    assert flat.bends[0].measured
    assert rule.trust(6.35, 90.0) is Trust.MEASURED
    # a drawing that rounds the radius the gauge read changes nothing
    assert rule.deduction(6.35, 6.5, 90.0) == pytest.approx(11.0)


def test_a_measured_strip_speaks_for_other_angles_with_less_trust_and_not_for_other_radii():
    strip = BendTested(6.35, 6.35, 90.0, 11.0)
    rule = BendRule("handbook", tests=(strip,))
    flat = 2.0 * (6.35 + 6.35) - 11.0  # of the square bend: setback less deduction
    assert rule.allowance(6.35, 6.35, 45.0) == pytest.approx(flat / 2.0)  # goes with the angle
    assert rule.trust(6.35, 45.0) is Trust.DERIVED
    assert "in proportion" in rule.words(6.35, 45.0)
    assert not bent_strip((80.0, 80.0), [Fold(45.0, 6.35)], 50.0, 6.35, rule).bends[0].measured
    plain = BendRule("handbook")
    assert rule.allowance(6.35, 12.7, 90.0) == plain.allowance(6.35, 12.7, 90.0)
    assert rule.words(12.7, 90.0) == "handbook, soft steel"


def test_of_two_strips_the_one_bent_nearest_to_the_angle_speaks():
    strips = (BendTested(6.0, 6.0, 90.0, 10.0), BendTested(6.0, 6.0, 30.0, 1.1))
    rule = BendRule("din", tests=strips)
    assert rule.deduction(6.0, 6.0, 30.0) == pytest.approx(1.1)
    assert rule.deduction(6.0, 6.0, 90.0) == pytest.approx(10.0)
    assert rule.test(6.0, 50.0) is strips[1]
