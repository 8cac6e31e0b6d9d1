"""Loops, offsets and distances of the flat records, against laws and a general geometry library.

The library (shapely) knows chords only: arcs are handed to it as chords within 0.001 mm. Finer
chords make its buffer answer wrongly, as a count of points on a grid showed.
"""

import math

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from fixturegen.errors import GeometryFault
from fixturegen.plate import Hole, Purpose, Vertex, offsets
from fixturegen.plate.nearness import (
    edge_to_point,
    encloses,
    hole_to_hole,
    hole_to_loop,
    loop_to_loop,
    loop_to_point,
)
from fixturegen.plate.offsets import offset_loop, offset_loops
from fixturegen.plate.profile import (
    bounds,
    circle,
    edge_between,
    edges,
    perimeter,
    polyline,
    rectangle,
    reversed_loop,
    signed_area,
)

coordinate = st.floats(-200, 200).map(lambda v: round(v, 3))
bulge = st.sampled_from((0.0, 0.0, 0.15, -0.15, 0.4, -0.4, 0.9))


@st.composite
def star_loops(draw):
    """A loop that runs once round the origin, corners at least 15 deg apart."""
    count = draw(st.integers(3, 8))
    turns = draw(st.lists(st.floats(0, 0.6), min_size=count, max_size=count))
    reach = draw(st.lists(st.floats(25, 60), min_size=count, max_size=count))
    bulges = draw(st.lists(st.sampled_from((0, 0, 0.2, -0.2)), min_size=count, max_size=count))
    angles = [2 * math.pi * (k + t) / count for k, t in enumerate(turns)]
    return tuple(
        Vertex(r * math.cos(a), r * math.sin(a), float(b)) for a, r, b in zip(angles, reach, bulges, strict=True)
    )


def chords(loop):
    return shapely.Polygon(polyline(loop, 0.001))


def simple(loop):
    """Whether the loop crosses itself nowhere and has no neck or corner like a knife's edge."""
    flat = chords(loop)
    assume(flat.is_valid and flat.area > 300)
    directions = [
        (
            math.atan2(e.y1 - e.y0, e.x1 - e.x0) - e.sweep_rad / 2,
            math.atan2(e.y1 - e.y0, e.x1 - e.x0) + e.sweep_rad / 2,
        )
        for e in edges(loop)
    ]
    for k, (leaves, _) in enumerate(directions):
        turn = (leaves - directions[k - 1][1] + math.pi) % (2 * math.pi) - math.pi
        assume(abs(turn) < math.radians(165))
    return flat


@given(coordinate, coordinate, coordinate, coordinate, st.floats(-3, 3))
def test_an_arc_is_as_far_from_its_centre_at_both_ends_and_in_the_middle(x0, y0, x1, y1, b):
    assume(math.dist((x0, y0), (x1, y1)) > 1 and abs(b) > 0.01)
    edge = edge_between(Vertex(x0, y0, b), Vertex(x1, y1))
    assert math.isclose(math.dist(edge.centre, (x0, y0)), edge.radius, rel_tol=1e-9)
    assert math.isclose(math.dist(edge.centre, (x1, y1)), edge.radius, rel_tol=1e-9)
    # DXF reference, LWPOLYLINE, group 42: bulge is the tangent of a quarter of the angle; so the
    # middle of the arc lies bulge x half a chord off the chord, to its right when positive
    chord = math.dist((x0, y0), (x1, y1))
    nx, ny = (y1 - y0) / chord, -(x1 - x0) / chord
    top = ((x0 + x1) / 2 + nx * b * chord / 2, (y0 + y1) / 2 + ny * b * chord / 2)
    assert math.isclose(math.dist(edge.centre, top), edge.radius, rel_tol=1e-9)
    start = math.atan2(y0 - edge.centre[1], x0 - edge.centre[0]) + edge.sweep_rad / 2
    middle = [c + edge.radius * f(start) for c, f in zip(edge.centre, (math.cos, math.sin), strict=True)]
    assert math.dist(middle, top) < 1e-6


def test_a_bulge_that_bows_by_nothing_is_a_line():
    assert edge_between(Vertex(0, 0, 1e-13), Vertex(100, 0)).centre is None
    assert edge_between(Vertex(5, 5, 1.0), Vertex(5, 5)).length == 0.0
    assert edge_between(Vertex(0, 0, 1e-6), Vertex(100, 0)).centre is not None


@settings(deadline=None, max_examples=60)
@given(star_loops())
def test_a_loop_reversed_has_the_area_with_the_other_sign_and_the_same_box(loop):
    back = reversed_loop(loop)
    assert math.isclose(signed_area(back), -signed_area(loop), rel_tol=1e-9)
    assert math.isclose(perimeter(back), perimeter(loop), rel_tol=1e-9)
    assert bounds(back) == pytest.approx(bounds(loop), abs=1e-9)
    assert reversed_loop(back) == loop
    assert "-0.0" not in repr([v.bulge for v in reversed_loop(rectangle(0, 0, 1, 1))])


@settings(deadline=None, max_examples=60)
@given(star_loops())
def test_area_and_box_of_a_loop_agree_with_its_chords(loop):
    flat = simple(loop)
    assert abs(signed_area(loop) - flat.area) <= 0.001 * perimeter(loop)
    assert bounds(loop) == pytest.approx(flat.bounds, abs=0.001)


def test_the_box_of_a_bulged_side_reaches_to_the_top_of_its_arc():
    # half circle on a chord of 20: reaches 10 beyond it
    loop = (Vertex(0, 0), Vertex(20, 0, 1.0), Vertex(20, 20), Vertex(0, 20))
    assert bounds(loop) == pytest.approx((0, 0, 30, 20))
    dented = (Vertex(0, 0), Vertex(20, 0, -1.0), Vertex(20, 20), Vertex(0, 20))
    assert bounds(dented) == pytest.approx((0, 0, 20, 20))


def test_a_circle_has_the_area_and_length_of_the_closed_form():
    assert signed_area(circle(3, 4, 10)) == pytest.approx(math.pi * 25, rel=1e-14)
    assert perimeter(circle(3, 4, 10)) == pytest.approx(math.pi * 10, rel=1e-14)


@settings(deadline=None, max_examples=60)
@given(star_loops(), coordinate, coordinate)
def test_distance_and_enclosure_of_a_point_agree_with_the_library(loop, x, y):
    flat, point = simple(loop), shapely.Point(x, y)
    away = flat.exterior.distance(point)
    assert abs(loop_to_point(loop, x, y) - away) <= 0.0011
    assume(away > 0.01)
    assert encloses(loop, x, y) == flat.contains(point)


def test_a_point_between_a_chord_and_its_bow_is_enclosed_only_by_the_bow():
    bowed = (Vertex(0, 0), Vertex(10, 0, 1.0), Vertex(10, 10), Vertex(0, 10))
    assert encloses(bowed, 13, 5)
    assert not encloses(rectangle(0, 0, 10, 10), 13, 5)
    dented = (Vertex(0, 0), Vertex(10, 0, -0.5), Vertex(10, 10), Vertex(0, 10))
    assert not encloses(dented, 9, 5)
    assert encloses(rectangle(0, 0, 10, 10), 9, 5)


def test_a_point_right_on_the_chord_of_a_bow_is_enclosed():
    # the half circle bows out of the side x = 10, and the point lies on that side's line
    bowed = (Vertex(0, 0), Vertex(10, 0, 1.0), Vertex(10, 10), Vertex(0, 10))
    assert encloses(bowed, 10, 5) and encloses(reversed_loop(bowed), 10, 2.5)
    dented = (Vertex(0, 0), Vertex(10, 0, -0.5), Vertex(10, 10), Vertex(0, 10))
    assert not encloses(dented, 10, 5)
    assert not encloses(bowed, 10, 20)


def test_an_offset_whose_middle_falls_on_a_chord_is_not_lost():
    # the bow reaches 6 beyond its chord, so 6 inward its middle lies right on the chord
    loop = (Vertex(0, 0), Vertex(80, 0, 0.3), Vertex(80, 40), Vertex(0, 40))
    assert signed_area(offset_loop(loop, -6)) == pytest.approx(chords(loop).buffer(-6, quad_segs=256).area, abs=0.1)


def test_steel_between_holes_and_outline_follows_from_their_places():
    a, b = (Hole(x, 10, 6, Purpose.BOLT) for x in (10, 20))
    assert hole_to_hole(a, b) == pytest.approx(4)
    assert hole_to_loop(a, rectangle(0, 0, 40, 40)) == pytest.approx(7)
    assert hole_to_loop(Hole(2, 10, 6, Purpose.BOLT), rectangle(0, 0, 40, 40)) == pytest.approx(-1)
    assert loop_to_loop(circle(0, 0, 10), circle(20, 0, 10)) == pytest.approx(10, abs=1e-9)
    assert loop_to_loop(rectangle(0, 0, 5, 5), circle(15, 2.5, 10)) == pytest.approx(5, abs=1e-9)
    assert edge_to_point(edges(circle(0, 0, 10))[0], 0, 0) == pytest.approx(5)


@settings(deadline=None, max_examples=100)
@given(star_loops(), st.sampled_from((-9.0, -4.0, -1.0, 1.0, 4.0, 9.0)))
def test_an_offset_has_the_area_and_count_of_the_librarys_buffer(loop, distance):
    flat = simple(loop)
    want = flat.buffer(distance, quad_segs=256)
    # a piece about to vanish, or a neck about to close, is decided by the chords
    for near in (distance - 0.02, distance + 0.02):
        assume(pieces(flat.buffer(near, quad_segs=64)) == pieces(want))
    if distance > 0:
        want = shapely.Polygon(want.exterior)
    found = offset_loops(loop, distance)
    assert len(found) == pieces(want)
    area = sum(signed_area(f) for f in found)
    assert abs(area - want.area) <= 0.001 * (perimeter(loop) + abs(distance) * 7)


def pieces(shape):
    return 0 if shape.is_empty else len(getattr(shape, "geoms", [shape]))


def test_the_offset_of_a_convex_outline_obeys_steiners_formula():
    # Source: J. Steiner 1840: area grows by d x perimeter + pi d^2, perimeter by 2 pi d
    loop = (Vertex(0, 0), Vertex(80, 0, 0.3), Vertex(80, 30), Vertex(20, 60))
    grown = offset_loop(loop, 7)
    assert signed_area(grown) == pytest.approx(signed_area(loop) + 7 * perimeter(loop) + math.pi * 49, rel=1e-12)
    assert perimeter(grown) == pytest.approx(perimeter(loop) + 14 * math.pi, rel=1e-12)


def test_a_stretch_of_the_offset_that_got_lost_is_noticed(monkeypatch):
    monkeypatch.setattr(offsets, "_belongs", lambda piece, source, distance: False)
    with pytest.raises(GeometryFault, match="loses"):
        offset_loops(rectangle(0, 0, 40, 20), -5)


def test_a_web_that_closes_parts_the_outline_at_its_width_and_not_before():
    # two squares of 30 joined by a web 2 mm wide: inside by 1 mm the web is gone
    loop = tuple(
        Vertex(float(x), float(y))
        for x, y in (
            (0, 0), (30, 0), (30, 14), (60, 14), (60, 0), (90, 0),
            (90, 30), (60, 30), (60, 16), (30, 16), (30, 30), (0, 30),
        )
    )  # fmt: skip
    assert len(offset_loops(loop, -0.99)) == 1
    for inward in (-1.0, -1.01, -2.0):
        found = offset_loops(loop, inward)
        assert len(found) == 2
        # the web's ends leave a rounded dent where they opened into the squares
        want = chords(loop).buffer(inward, quad_segs=256).area
        assert sum(map(signed_area, found)) == pytest.approx(want, abs=0.01)
    with pytest.raises(GeometryFault, match="gives 2 outlines, not one"):
        offset_loop(loop, -2.0, "web")


def test_an_outline_moved_in_past_its_middle_leaves_nothing():
    assert offset_loops(rectangle(0, 0, 10, 5), -2.6) == ()
    assert offset_loops(circle(0, 0, 10), -5.1) == ()
    assert signed_area(offset_loop(circle(0, 0, 10), -4)) == pytest.approx(math.pi, rel=1e-9)
    with pytest.raises(GeometryFault, match="gives 0 outlines"):
        offset_loop(rectangle(0, 0, 10, 5), -3)


@settings(deadline=None, max_examples=20)
@given(star_loops(), st.floats(0.5, 6))
def test_out_and_in_again_gives_back_a_convex_outline(loop, distance):
    hull = shapely.MultiPoint([(v.x, v.y) for v in loop]).convex_hull
    convex = tuple(Vertex(x, y) for x, y in shapely.geometry.polygon.orient(hull).exterior.coords[:-1])
    back = offset_loop(offset_loop(convex, distance), -distance)
    assert signed_area(back) == pytest.approx(signed_area(convex), rel=1e-6)
