"""Masses without the kernel, against closed forms and published weights."""

import math

import pytest

from fixturegen.studies.masses import Body, bodies_of, hull_area, round_mass, together
from tests.studies.study_jobs import DROPOUT, INTEGRAL, REAR, case


def test_a_tube_weighs_what_the_weight_formula_says():
    # weight lb/ft = 10.69 (D - t) t, D and t in inches (ASME B36.10)
    for outside, wall in ((3.5, 0.25), (3.0, 0.375), (4.0, 0.5)):
        found = round_mass(outside * 25.4, (outside - 2 * wall) * 25.4, 304.8) / 0.45359237
        assert found == pytest.approx(10.69 * (outside - wall) * wall, rel=2e-3)


def test_the_hull_of_two_equal_discs_is_a_slot_shape():
    # closed form: area of an obround 2 r L + pi r^2
    area, x, z = hull_area(((0.0, 0.0, 20.0), (100.0, 0.0, 20.0)))
    assert area == pytest.approx(2 * 20 * 100 + math.pi * 400, rel=2e-3)
    assert (x, z) == pytest.approx((50.0, 0.0), abs=1e-9)


def test_the_hull_of_four_points_is_their_square():
    area, x, z = hull_area(((0, 0, 0), (10, 0, 0), (10, 10, 0), (0, 10, 0), (5, 5, 0)))
    assert area == pytest.approx(100.0)
    assert (x, z) == pytest.approx((5.0, 5.0))


def test_the_common_middle_lies_between_by_the_lever():
    total, at = together([Body("a", 1.0, (0, 0, 0), False, ""), Body("b", 3.0, (4.0, 8.0, 0), False, "")])
    assert total == 4.0
    assert at == pytest.approx((3.0, 6.0, 0.0))
    assert together([]) == (0.0, (0.0, 0.0, 0.0))


@pytest.mark.parametrize("name", [DROPOUT, INTEGRAL, REAR])
def test_every_body_weighs_something_and_estimates_are_marked(name):
    bodies = bodies_of(*case(name))
    assert all(b.mass > 0.0 for b in bodies.values())
    assert bodies["centre"].assumed
    assert bodies["stand"].assumed
    assert not bodies["tube-l"].assumed


def test_clock_plates_are_mirror_images():
    bodies = bodies_of(*case(DROPOUT))
    left, right = bodies["clock-l"], bodies["clock-r"]
    assert left.mass == right.mass
    assert left.at[0] == right.at[0]
    assert left.at[1] == -right.at[1]


def test_a_thicker_skin_weighs_in_proportion():
    thin = bodies_of(*case(DROPOUT, housing__skin="0.125 in"))["centre"].mass
    thick = bodies_of(*case(DROPOUT, housing__skin="0.250 in"))["centre"].mass
    ring = 2 * thin - thick  # what does not depend on the skin
    assert 0.0 < ring < thin
