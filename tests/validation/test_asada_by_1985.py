"""Deterministic locating: Asada and By, IEEE J. Robotics and Automation RA-1, 1985 (from memory).

The determinant of the six-point example is derived from their locator rows [n, r x n].
"""

import numpy as np
import pytest

from fixturegen.studies.locating import Contact, located, rank_of, row

X, Y, Z = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
SIX = (
    ((10.0, 10.0, 0.0), Z),
    ((90.0, 10.0, 0.0), Z),
    ((50.0, 70.0, 0.0), Z),
    ((20.0, 0.0, 10.0), Y),
    ((80.0, 0.0, 10.0), Y),
    ((0.0, 40.0, 10.0), X),
)


def test_three_two_one_has_the_derived_determinant():
    matrix = np.array([row(p, n) for p, n in SIX])
    assert abs(np.linalg.det(matrix)) == pytest.approx(288_000.0, rel=1e-12)


def test_three_two_one_holds_a_block_once():
    held = located("block", [Contact("block", p, n, "") for p, n in SIX])
    assert (held.rank, held.excess, held.free) == (6, 0, ())


def test_three_supports_in_one_line_leave_a_freedom():
    bent = (((10.0, 10.0, 0.0), Z), ((90.0, 10.0, 0.0), Z), ((50.0, 10.0, 0.0), Z), *SIX[3:])
    held = located("block", [Contact("block", p, n, "") for p, n in bent])
    assert held.rank == 5
    assert held.excess == 1
    assert held.free == ("block rolls (about the fore-and-aft line)",)


def test_the_rank_does_not_depend_on_the_unit():
    for scale in (1.0, 25.4, 1e-3):
        rows = np.array([row(tuple(v * scale for v in p), n) for p, n in SIX])
        rows[:, 3:] /= 50.0 * scale
        assert rank_of(rows) == 6
