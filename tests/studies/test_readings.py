"""Eccentricity of a tube end from four readings."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fixturegen.studies.readings import eccentricity, eccentricity_of
from tests.studies.study_jobs import DROPOUT, sheet_of

INCH = 25.4


@given(st.floats(-0.5, 0.5), st.floats(-0.5, 0.5), st.floats(-1.0, 1.0))
def test_a_round_tube_moved_off_the_bar_is_found_where_it_was_moved(x, z, zero):
    # geometry: distance from the bar's axis to a circle of radius r about (x, z), read along four
    # directions; to first order r + x sin + z cos, checked to the second order x^2 / 2r.
    r = 38.0
    gaps = []
    for degrees in (0, 90, 180, 270):
        a = math.radians(degrees)
        along, across = x * math.sin(a) + z * math.cos(a), x * math.cos(a) - z * math.sin(a)
        gaps.append(along + math.sqrt(r * r - across * across) + zero)
    e = eccentricity(gaps, 0.0)
    assert e.x == pytest.approx(x, abs=1e-9)
    assert e.z == pytest.approx(z, abs=1e-9)
    assert e.residual <= (x * x + z * z) / (2.0 * r) + 1e-6


def test_a_large_gap_on_top_means_that_the_tube_stands_high():
    assert eccentricity((0.010, 0.0, -0.010, 0.0), 0.0).z == pytest.approx(0.010)


def test_an_oval_tube_end_shows_as_residual_and_not_as_eccentricity():
    e = eccentricity((0.02, -0.02, 0.02, -0.02), 0.0)
    assert (e.x, e.z) == (0.0, 0.0)
    assert e.residual == pytest.approx(0.02)


def test_the_dial_s_own_zero_does_not_matter():
    a = eccentricity((0.1, 0.2, 0.3, 0.4), 0.0)
    b = eccentricity((1.1, 1.2, 1.3, 1.4), 0.0)
    assert (a.x, a.z) == pytest.approx((b.x, b.z))


def test_each_side_reads_its_own_row_of_the_sheet():
    zero = ["0 in"] * 4
    sheet = sheet_of(DROPOUT, readings__left=["0.004 in", "0 in", "0 in", "0 in"], readings__right=zero)
    assert eccentricity_of(sheet, "left").z == pytest.approx(0.002 * INCH)
    assert eccentricity_of(sheet, "right").size == 0.0
