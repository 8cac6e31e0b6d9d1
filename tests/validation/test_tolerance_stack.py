"""Tolerance stack: worst case sum |a| T, and root of the sum of squares (derived)."""

import pytest

from fixturegen.studies.error_budget import root_sum_square, worst_case

STACK_IN = (0.010, 0.005, 0.015, 0.008)


def test_a_stack_of_four_in_inches():
    terms = [(1.0, t) for t in STACK_IN]
    assert worst_case(terms) == pytest.approx(0.038, abs=1e-12)
    assert root_sum_square(terms) == pytest.approx(0.02035, abs=5e-6)


def test_the_root_of_squares_never_exceeds_the_worst_case_and_meets_it_for_one():
    terms = [(0.3, t) for t in STACK_IN]
    assert root_sum_square(terms) < worst_case(terms)
    assert root_sum_square(terms[:1]) == pytest.approx(worst_case(terms[:1]))
