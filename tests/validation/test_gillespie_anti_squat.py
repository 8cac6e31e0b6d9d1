"""Gillespie, Fundamentals of Vehicle Dynamics, chapter 7 (definition from memory).

The plane cases are derived from it: 100 (e/d) / (h/L), instant centre by crossing of lines.
"""

import math
import re

import numpy as np
import pytest

from fixturegen.calc.anti_squat import anti_squat
from fixturegen.errors import InputFault

INCH = 25.4


def asked(lower, upper, wheelbase, height):
    """The answer for links given by axle and frame point [in] ahead of the contact patch."""
    (x1, z1), (x2, z2) = lower
    (x3, z3), (x4, z4) = upper
    sizes = (z1, z2, x2 - x1, z3, z4, x4 - x3, wheelbase, height, x1, x3)
    return anti_squat(*(INCH * s for s in sizes))


FIRST = (((0, 16), (40, 22)), ((2, 28), (30, 29)), 110, 32)
SECOND = (((0, 15), (40, 20)), ((0, 25), (30, 25)), 120, 30)


def centre_of(answer):
    """Instant centre [in] as the answer says it in words."""
    said = re.search(r"stands (\S+) in ahead of the contact patch and (\S+) in high", " ".join(answer.warnings))
    return tuple(float(s) for s in said.groups())


def test_the_first_plane_case_comes_out():
    answer = asked(*FIRST)
    assert answer.anti_squat_percent == pytest.approx(104.26, abs=5e-3)
    assert centre_of(answer) == pytest.approx((104.375, 31.656), abs=6e-4)


def test_the_second_plane_case_comes_out_exactly():
    answer = asked(*SECOND)
    assert answer.anti_squat_percent == pytest.approx(125.0, abs=1e-9)
    assert centre_of(answer) == pytest.approx((80.0, 25.0), abs=6e-4)


def test_the_upper_link_taken_for_the_lower_changes_nothing_but_a_moved_end_does():
    lower, upper, wheelbase, height = SECOND
    assert asked(upper, lower, wheelbase, height).anti_squat_percent == pytest.approx(125.0, abs=1e-9)
    assert asked(lower, ((0, 25), (30, 25.1)), wheelbase, height).anti_squat_percent != pytest.approx(125.0, abs=0.1)


@pytest.mark.parametrize("case", [FIRST, SECOND, (((3, 14), (38, 13)), ((-2, 30), (25, 26)), 100, 28)])
def test_the_force_line_is_that_of_crossed_lines_in_homogeneous_coordinates(case):
    lower, upper, wheelbase, height = case
    lines = [np.cross([*a, 1.0], [*b, 1.0]) for a, b in (lower, upper)]
    x, z, w = np.cross(*lines)
    answer = asked(*case)
    assert answer.force_line == pytest.approx(math.degrees(math.atan((z / w) / (x / w))), abs=1e-9)
    assert answer.anti_squat_percent == pytest.approx(100 * (z / x) * wheelbase / height, abs=1e-9)


def test_parallel_links_give_a_line_parallel_to_them():
    answer = asked(((0, 16), (40, 20)), ((0, 26), (30, 29)), 110, 32)
    assert answer.anti_squat_percent == pytest.approx(100 * 0.1 * 110 / 32)
    assert any("parallel" in w for w in answer.warnings)
    # nearly parallel ones come to the same
    near = asked(((0, 16), (40, 20)), ((0, 26), (30, 29 - 1e-6)), 110, 32)
    assert near.anti_squat_percent == pytest.approx(answer.anti_squat_percent, rel=1e-4)


def test_an_instant_centre_above_the_contact_patch_is_refused():
    with pytest.raises(InputFault, match="cross above the contact patch"):
        asked(((0, 20), (40, 22)), ((0, 20), (30, 29)), 110, 32)
