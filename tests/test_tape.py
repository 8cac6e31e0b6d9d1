"""Lengths a tape reads: closed forms of rectangles, discs and hulls, and another library's crossings."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from fixturegen.plate.outlines import filleted, hull_of_discs
from fixturegen.plate.profile import Vertex, circle, polyline, rectangle
from fixturegen.plate.tape import crossings, overall, spans, tape_text

INCH = 25.4


def test_a_rectangle_has_its_two_sides_the_longer_first():
    found = spans(rectangle(0.0, 0.0, 300.0, 100.0))
    assert {round(s.length, 9) for s in found} == {300.0, 100.0}
    assert found[0].length == pytest.approx(300.0)
    assert {round(y, 9) for y in (found[0].start[1], found[0].end[1])} == {50.0}  # in the middle of both edges


def test_rounded_corners_leave_the_sides_first_though_the_diagonal_is_longer():
    loop = filleted(tuple((x, y, 15.0) for x, y in ((0.0, 0.0), (200.0, 0.0), (200.0, 120.0), (0.0, 120.0))))
    found = spans(loop)
    assert found[0].length == pytest.approx(200.0)
    diagonal = math.hypot(200.0 - 30.0, 120.0 - 30.0) + 30.0
    assert max(s.length for s in found) == pytest.approx(diagonal)


def test_a_hull_of_two_discs_is_as_long_as_their_distance_and_radii():
    loop = hull_of_discs(((0.0, 0.0, 40.0), (300.0, 40.0, 25.0)))
    assert spans(loop)[0].length == pytest.approx(math.hypot(300.0, 40.0) + 65.0)


def test_nothing_short_and_no_edge_in_a_notch_is_measured():
    assert spans(rectangle(0.0, 0.0, 20.0, 20.0)) == ()
    # the notch's two sides face one another: the tape could not hook on either
    u = tuple(Vertex(*p) for p in ((0, 0), (90, 0), (90, 60), (60, 60), (60, 20), (30, 20), (30, 60), (0, 60)))
    lengths = {round(s.length, 6) for s in spans(u)}
    assert 30.0 not in lengths
    assert {90.0, 60.0} <= lengths
    for s in spans(u):
        assert overall(u, s.start, s.end).length == pytest.approx(s.length)


@given(st.floats(0.0, 180.0), st.floats(-25.0, 25.0))
def test_crossings_are_what_another_library_finds(angle, off):
    loop = filleted(tuple((x, y, 12.0) for x, y in ((-60.0, -40.0), (70.0, -30.0), (40.0, 50.0), (-50.0, 40.0))))
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    start, end = (-off * s, off * c), (-off * s + c, off * c + s)
    found = crossings(loop, start, end)
    far = LineString([(start[0] - 300 * c, start[1] - 300 * s), (start[0] + 300 * c, start[1] + 300 * s)])
    cut = Polygon(polyline(loop, 1e-4)).intersection(far)
    assert found[-1] - found[0] == pytest.approx(cut.length, abs=0.02)
    assert len(found) == 2


def test_a_line_beside_the_plate_measures_nothing():
    assert overall(circle(0.0, 0.0, 50.0), (0.0, 40.0), (1.0, 40.0)) is None


@pytest.mark.parametrize(
    ("inches", "wanted"), [(12.5, "12 1/2"), (3.03125, "3 1/32"), (4.0, "4"), (7.0 + 0.99 / 64.0, "7"), (0.75, "3/4")]
)
def test_inches_are_written_to_the_nearest_thirty_second(inches, wanted):
    assert tape_text(inches * INCH, "in") == wanted


@pytest.mark.parametrize(("length", "wanted"), [(303.51, "303.5 MM"), (204.2, "204 MM"), (204.3, "204.5 MM")])
def test_millimetres_are_written_to_the_half(length, wanted):
    assert tape_text(length, "mm") == wanted
