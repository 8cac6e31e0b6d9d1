"""Outlines of exact lines and arcs."""

import math

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import MultiPoint, Point
from shapely.ops import unary_union

from fixturegen.plate import outlines
from fixturegen.plate.profile import perimeter, signed_area


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
