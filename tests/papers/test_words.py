"""Numbers in the words of the shop."""

import pytest

from fixturegen.findings import Number, Trust
from fixturegen.papers.words import fraction, length, shown


@pytest.mark.parametrize(
    ("millimetres", "text"),
    [
        (25.4, "1 in"),
        (66.675, "2 5/8 in"),
        (0.396875, "1/64 in"),
        (0.0, "0 in"),
        (-66.675, "-2 5/8 in"),
        (304.8, "12 in"),
    ],
)
def test_exact_fractions_carry_no_rounding_error(millimetres, text):
    assert fraction(millimetres) == text


def test_a_rounded_fraction_says_by_how_much():
    # 10 mm = 0.3937 in; 25/64 in = 0.3906 in; arithmetic
    assert fraction(10.0) == "25/64 in (+0.003)"


def test_lengths_show_the_other_unit_beside_them():
    assert length(25.4) == "1.000 in (25.40 mm)"
    assert length(25.4, "mm") == "25.40 mm (1.000 in)"


def test_masses_are_shown_in_pounds_with_kilograms():
    # 1 lb = 0.45359237 kg exactly (international pound)
    assert shown(Number(0.45359237, "kg", "", Trust.MEASURED)) == "1.0 lb (0.45 kg)"
