"""Faces back to profiles: exact round trips, biarcs, joins and fillets; offsets three ways."""

import math

import cadquery as cq
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from fixturegen.errors import GeometryFault
from fixturegen.plate import Hole, Profile, Purpose, Vertex
from fixturegen.plate.nearness import loop_to_point
from fixturegen.plate.profile import (
    circle,
    edges,
    perimeter,
    polyline,
    rectangle,
    reversed_loop,
    signed_area,
)
from fixturegen.shapes import profiles
from fixturegen.shapes.faces import face_of, wire_of
from fixturegen.shapes.primitives import box, cylinder, moved, surface

HOLES = (Hole(20.0, 25.0, 8.0, Purpose.ANGLE, "index"), Hole(60.0, 25.0, 12.0, Purpose.BOLT, "bolt"))
PLATE = Profile(
    (Vertex(0, 0), Vertex(100, 0, 0.25), Vertex(100, 50), Vertex(50, 50, -0.1), Vertex(0, 50)),
    (reversed_loop(rectangle(30, 10, 45, 40)),),
    HOLES,
)


def area_of(profile):
    openings = sum(abs(signed_area(loop)) for loop in profile.inner)
    return signed_area(profile.outer) - openings - sum(math.pi * h.finished**2 / 4 for h in profile.holes)


def close(loop, other):
    assert len(loop) == len(other)
    for a, b in zip(loop, other, strict=True):
        assert (a.x, a.y, a.bulge) == pytest.approx((b.x, b.y, b.bulge), abs=1e-9)


def test_a_profile_comes_back_from_its_face_as_it_went():
    back = profiles.profile_of(face_of(PLATE), known=HOLES)
    close(back.outer, PLATE.outer)
    # the same corners the same way round, told from the lowest of least x
    assert back.inner[0][0] == Vertex(30, 10)
    assert set(back.inner[0]) == set(PLATE.inner[0])
    assert back.holes == HOLES
    unknown = profiles.profile_of(face_of(PLATE), purpose=Purpose.LIGHTENING)
    assert [h.purpose for h in unknown.holes] == [Purpose.LIGHTENING] * 2
    assert [(h.x, h.y, h.finished) for h in unknown.holes] == [
        pytest.approx((h.x, h.y, h.finished), abs=1e-9) for h in HOLES
    ]


@settings(max_examples=25, deadline=None)
@given(st.lists(st.tuples(st.floats(25, 60), st.sampled_from((0.0, 0.2, -0.2))), min_size=3, max_size=7))
def test_any_outline_of_lines_and_arcs_makes_the_round_trip(corners):
    n = len(corners)
    loop = tuple(
        Vertex(r * math.cos(2 * math.pi * k / n), r * math.sin(2 * math.pi * k / n), b)
        for k, (r, b) in enumerate(corners)
    )
    assume(shapely.Polygon(polyline(loop, 0.001)).is_valid)
    back = profiles.profile_of(face_of(Profile(loop))).outer
    start = next(k for k, v in enumerate(loop) if math.dist((v.x, v.y), (back[0].x, back[0].y)) < 1e-6)
    close(back, loop[start:] + loop[:start])
    assert surface(face_of(Profile(loop))) == pytest.approx(signed_area(loop), rel=1e-12)


def test_a_face_seen_from_below_or_cut_from_a_solid_gives_the_same_outline():
    solid = box(0, 0, 0, 40, 30, 5).cut(cylinder((20, 15, -1), (20, 15, 9), 10))
    for which in ("<Z", ">Z"):
        found = profiles.profile_of(cq.Workplane(solid).faces(which).val())
        assert signed_area(found.outer) == pytest.approx(1200)
        assert found.holes[0].finished == pytest.approx(10)
        assert (found.holes[0].x, found.holes[0].y) == pytest.approx((20, 15))
    with pytest.raises(GeometryFault, match="does not lie flat"):
        profiles.profile_of(cq.Workplane(solid).faces(">X").val())
    shifted = moved(solid, 100, 0, 7)
    assert profiles.profile_of(cq.Workplane(shifted).faces(">Z").val()).holes[0].x == pytest.approx(120)


@pytest.mark.parametrize(("long", "short"), [(50, 30), (50, 49), (80, 6)])
@pytest.mark.parametrize("deviation", [0.02, 0.2])
def test_an_ellipse_becomes_arcs_within_the_deviation(long, short, deviation):
    wire = cq.Wire.makeEllipse(long, short, cq.Vector(), cq.Vector(0, 0, 1), cq.Vector(1, 0, 0))
    loop = profiles.loop_of(wire, deviation=deviation)
    angles = [2 * math.pi * k / 997 for k in range(997)]
    off = [loop_to_point(loop, long * math.cos(a), short * math.sin(a)) for a in angles]
    assert max(off) <= deviation * 1.05
    assert abs(signed_area(loop) - math.pi * long * short) <= deviation * perimeter(loop)
    # arcs follow one another without a corner
    for before, after in zip(edges(loop)[:-1], edges(loop)[1:], strict=True):
        into = math.atan2(before.y1 - before.y0, before.x1 - before.x0) + before.sweep_rad / 2
        out = math.atan2(after.y1 - after.y0, after.x1 - after.x0) - after.sweep_rad / 2
        assert abs((out - into + math.pi) % (2 * math.pi) - math.pi) < 1e-6


def test_a_spline_with_an_inflection_becomes_arcs_within_the_deviation():
    points = [cq.Vector(*p) for p in ((0, 0), (30, 12), (60, -12), (90, 5))]
    spline = cq.Edge.makeSpline(points)
    sides = [cq.Edge.makeLine(*(cq.Vector(*p) for p in pair)) for pair in (
        ((90, 5), (90, 60)), ((90, 60), (0, 60)), ((0, 60), (0, 0)),
    )]  # fmt: skip
    loop = profiles.loop_of(cq.Wire.assembleEdges([spline, *sides]))
    for k in range(301):
        p = spline.positionAt(k / 300)
        assert loop_to_point(loop, p.x, p.y) <= 0.021
    assert len(loop) < 80


def test_pieces_of_a_join_add_up_and_holes_keep_their_purpose():
    disc = Profile(circle(90, 25, 40))
    total = {how: profiles.combine(how, PLATE, disc) for how in ("union", "cut", "intersect")}
    area = {how: sum(map(area_of, found)) for how, found in total.items()}
    assert area["cut"] + area["intersect"] == pytest.approx(area_of(PLATE), rel=1e-9)
    assert area["union"] + area["intersect"] == pytest.approx(area_of(PLATE) + 400 * math.pi, rel=1e-9)
    assert set(total["union"][0].holes) == set(HOLES)
    want = shapely.Polygon(polyline(PLATE.outer, 0.001)).union(shapely.Polygon(polyline(disc.outer, 0.001)))
    assert abs(signed_area(total["union"][0].outer) - want.area) <= 0.001 * want.length
    parted = profiles.combine("cut", Profile(rectangle(0, 0, 90, 20)), Profile(rectangle(40, -5, 50, 25)))
    assert [signed_area(p.outer) for p in parted] == pytest.approx([800, 800])
    assert profiles.combine("intersect", Profile(rectangle(0, 0, 1, 1)), disc) == ()


def test_fillets_take_the_corners_and_no_more():
    # Source: a square corner less its quarter circle: r^2 (1 - pi/4)
    rounded = profiles.fillet_corners(rectangle(0, 0, 100, 50), 5)
    assert signed_area(rounded) == pytest.approx(5000 - 4 * 25 * (1 - math.pi / 4))
    one = profiles.fillet_corners(reversed_loop(rectangle(0, 0, 100, 50)), 5, at=[(99, 49)])
    assert signed_area(one) == pytest.approx(5000 - 25 * (1 - math.pi / 4))
    assert profiles.fillet_corners(circle(0, 0, 20), 3) == circle(0, 0, 20)
    again = profiles.fillet_corners(rounded, 2)
    assert again == rounded
    with pytest.raises(GeometryFault, match=r"fillet of 30 mm|no room"):
        profiles.fillet_corners(rectangle(0, 0, 100, 50), 30, part="clock-plate")


@pytest.mark.parametrize("distance", [-6.0, -2.0, 3.0, 8.0])
def test_our_offset_is_the_kernels_offset(distance):
    loop = (Vertex(0, 0), Vertex(80, 0, 0.3), Vertex(80, 40), Vertex(40, 40, -0.3), Vertex(10, 40), Vertex(0, 20))
    ours = profiles.offset_loop(loop, distance)
    (wire,) = wire_of(loop).offset2D(distance)
    theirs = profiles.loop_of(wire)
    assert signed_area(ours) == pytest.approx(abs(signed_area(theirs)), rel=1e-9)
    assert perimeter(ours) == pytest.approx(perimeter(theirs), rel=1e-9)
