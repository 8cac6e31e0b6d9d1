"""Outlines of exact lines and arcs."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import MultiPoint, Point, Polygon, box
from shapely.ops import unary_union

from fixturegen.plate import outlines
from fixturegen.plate.profile import edges, perimeter, polyline, signed_area


def test_the_hull_of_two_equal_discs_is_the_closed_form_stadium():
    loop = outlines.hull_of_discs(((0, 0, 5), (20, 0, 5)))
    assert math.isclose(signed_area(loop), math.pi * 25 + 200, rel_tol=1e-12)
    assert math.isclose(perimeter(loop), 2 * math.pi * 5 + 40, rel_tol=1e-12)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(*(st.integers(-100, 100),) * 2, st.integers(3, 40)), min_size=1, max_size=9))
def test_the_hull_of_discs_agrees_with_a_general_geometry_library(discs):
    discs = tuple((float(x), float(y), float(r)) for x, y, r in discs)
    ours = signed_area(outlines.hull_of_discs(discs))
    theirs = unary_union([Point(x, y).buffer(r, quad_segs=256) for x, y, r in discs]).convex_hull
    assert isinstance(theirs, MultiPoint) is False
    assert abs(ours - theirs.area) < 0.001 * theirs.length


def polygon(loop):
    return Polygon(polyline(loop, 0.001))


def test_a_rounded_rectangle_has_the_closed_form_area():
    loop = outlines.filleted(((0.0, 0.0, 5.0), (60.0, 0.0, 5.0), (60.0, 40.0, 5.0), (0.0, 40.0, 5.0)))
    assert math.isclose(signed_area(loop), 2400.0 - (4.0 - math.pi) * 25.0, rel_tol=1e-12)


def test_an_inside_corner_is_rounded_into_the_notch():
    corners = ((0, 0), (50, 0), (50, 20), (20, 20), (20, 50), (0, 50))
    loop = outlines.filleted(tuple((float(x), float(y), 6.0 if (x, y) == (20, 20) else 0.0) for x, y in corners))
    want = Polygon(corners).area + (1.0 - math.pi / 4.0) * 36.0
    assert math.isclose(signed_area(loop), want, rel_tol=1e-12)


@given(st.floats(30.0, 150.0), st.floats(1.0, 4.0))
def test_a_relief_is_an_arc_of_its_radius_through_the_corner(angle, radius):
    a = math.radians(angle)
    corner, far = (0.0, 0.0), (40.0 * math.cos(a), 40.0 * math.sin(a))
    loop = outlines.filleted(((40.0, 0.0, 0.0), (*far, 0.0), (*corner, -radius)))
    arcs = [e for e in edges(loop) if e.centre is not None]
    assert len(arcs) == 1
    assert math.isclose(arcs[0].radius, radius, rel_tol=1e-9)
    assert math.isclose(math.dist(arcs[0].centre, corner), radius, rel_tol=1e-9)
    assert math.isclose(math.dist((arcs[0].x0, arcs[0].y0), arcs[0].centre), radius, rel_tol=1e-9)


def test_a_rounding_that_does_not_fit_is_refused():
    with pytest.raises(ValueError, match="does not fit"):
        outlines.filleted(((0.0, 0.0, 6.0), (10.0, 0.0, 6.0), (10.0, 40.0, 0.0), (0.0, 40.0, 0.0)))


def test_a_mirrored_loop_keeps_its_area_and_its_way_round():
    loop = outlines.hull_of_discs(((0.0, 0.0, 5.0), (20.0, 3.0, 8.0)))
    other = outlines.mirrored(loop)
    assert math.isclose(signed_area(other), signed_area(loop), rel_tol=1e-12)
    flipped = affinity.scale(polygon(loop), xfact=-1.0, origin=(0.0, 0.0))
    assert polygon(other).symmetric_difference(flipped).area < 0.1


@given(st.floats(50.0, 110.0), st.floats(8.0, 14.0), st.floats(-3.0, 3.0))
def test_an_opening_with_windows_is_the_union_of_circle_and_windows(radius, wide, middle):
    windows = tuple(
        (x - wide / 2.0, x + wide / 2.0, middle - radius - 20.0, middle + radius + 15.0)
        for x in (-0.5 * radius, 0.45 * radius)
    )
    loop = outlines.opened((0.0, middle), radius, windows, 3.0)
    union = unary_union(
        [Point(0.0, middle).buffer(radius, quad_segs=512)]
        + [box(x0 + 3.0, y0 + 3.0, x1 - 3.0, y1 - 3.0).buffer(3.0, quad_segs=64) for x0, x1, y0, y1 in windows]
    )
    assert abs(signed_area(loop) - union.area) < 0.5
    assert polygon(loop).symmetric_difference(union).area < 1.0


def test_a_window_that_does_not_leave_the_circle_is_refused():
    with pytest.raises(ValueError, match="does not"):
        outlines.opened((0.0, 0.0), 50.0, ((-5.0, 5.0, -40.0, 70.0),), 3.0)
    with pytest.raises(ValueError, match="meet"):
        outlines.opened((0.0, 0.0), 50.0, ((-5.0, 5.0, -70.0, 70.0), (4.0, 12.0, -70.0, 70.0)), 3.0)
