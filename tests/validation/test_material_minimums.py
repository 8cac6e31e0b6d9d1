"""Minimum yield and tensile strength in ksi: ASTM A36, A572 grade 50, A500 (an older edition) read
in secondary copies; A513 type 5 drawn-over-mandrel 1020 from memory."""

import pytest

from fixturegen.stock import Material, entry

KSI = 6.894757


@pytest.mark.parametrize(
    ("name", "strength", "tensile"),
    [("a36", 36, 58), ("a572-50", 50, 65), ("a500-b", 42, 58), ("a500-c", 46, 62), ("dom-1020", 60, 70)],
)
def test_minimum_strengths_are_the_published_ones(name, strength, tensile):
    material = entry("materials", name, Material)
    assert material.yield_strength / KSI == pytest.approx(strength, rel=1e-6)
    assert material.tensile / KSI == pytest.approx(tensile, rel=1e-6)


def test_the_two_grades_of_structural_tube_are_not_mixed_up():
    b, c = entry("materials", "a500-b", Material), entry("materials", "a500-c", Material)
    assert b.yield_strength / KSI != pytest.approx(46, rel=1e-6)
    assert b.yield_strength < c.yield_strength
