"""Dimensions that prove the jig without the program."""

import math

import pytest

from fixturegen.studies import proofs


def test_over_two_half_inch_dowels_ten_inches_apart_reads_ten_and_a_half():
    assert proofs.over_dowels((0, 0), (0, 254.0), 12.7, 12.7) == pytest.approx(10.5 * 25.4)


def test_a_tenth_of_a_degree_at_ten_inches_square_to_the_radius_is_17_thousandths():
    # arithmetic: 10 in x 0.1 deg in radians = 0.01745 in
    far = proofs.turned_change((1e7, 0.0), (0.0, 254.0), 0.1)
    assert abs(far) == pytest.approx(254.0 * math.radians(0.1), rel=1e-3)


def test_a_turn_of_nothing_changes_nothing():
    assert proofs.turned_change((10.0, 20.0), (30.0, -5.0), 0.0) == 0.0
