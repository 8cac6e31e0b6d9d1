"""Outlines of tabs: edge distances by another library, the law of the mirror, the project's own rules of outlines.

The distances asked for are common practice, no source; the floor is AISC 360 table J3.4 (from memory).
"""

import math

import cadquery as cq
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon

from fixturegen.plate.outlines import mirrored
from fixturegen.plate.part import Profile
from fixturegen.plate.profile import edges, polyline, signed_area
from fixturegen.plate.saddles import flat_base, saddle_base, wrap_ends
from fixturegen.plate.tab_outlines import LEAST_INSIDE, EdgeRules, TabHole, edge_rules, tab_outline
from fixturegen.plate.widths import contour_fault, contours, inside_corners
from fixturegen.shapes.faces import wire_of
from fixturegen.shapes.primitives import common, cylinder, transformed, volume
from tests.plate.saddle_cases import ALONG, stand

INCH = 25.4
RADIUS, GAP, BOLT, THICK = 38.1, 0.8, 19.05, 6.35
FINE = 0.0005  # chords of the independent polygon [mm]
FOOT = INCH / 4.0


def tab(points, clock=0.0, wrap=(50.0, 50.0), load=0.0, where=None, **sizes):
    where = where or stand()
    base = saddle_base(where, RADIUS, GAP, wrap_ends(where, clock, *wrap))
    rules = edge_rules(BOLT, THICK, load)
    holes = [TabHole(x, y, rules, f"hole {k}") for k, (x, y) in enumerate(points, 1)]
    return tab_outline(holes, base, **sizes), base, holes


UP = RADIUS + 50.0
SHAPES = {
    "one hole standing": {"points": [(0.0, UP)]},
    "one hole high": {"points": [(5.0, UP + 60.0)], "wrap": (35.0, 35.0)},
    "two holes": {"points": [(0.0, UP), (0.0, UP + 38.1)], "load": 90.0},
    "three adjustment holes": {"points": [(0.0, UP + 38.1 * k) for k in range(3)], "wrap": (60.0, 60.0)},
    "four on a slant": {"points": [(20.0 - 12.0 * k, UP + 36.0 * k) for k in range(4)], "load": None},
    "three along the tube's side": {"points": [(-38.1, UP), (0.0, UP), (38.1, UP)], "wrap": (45.0, 45.0)},
    "hanging, link forward": {"points": [(-50.0, -RADIUS - 30.0)], "clock": 150.0},
    "hanging, two holes, feet on one side": {
        "points": [(-60.0, -RADIUS - 40.0), (-22.0, -RADIUS - 40.0)],
        "clock": 140.0,
        "wrap": (60.0, 50.0),
    },
    "hole over no foot": {"points": [(-55.0, -RADIUS - 35.0)], "clock": 180.0},
    "askew by yaw": {"points": [(0.0, UP)], "where": stand(yaw=40.0)},
    "askew by lean, three holes": {
        "points": [(0.0, 110.0 + 38.1 * k) for k in range(3)],
        "where": stand(lean=40.0),
        "wrap": (60.0, 60.0),
    },
    "askew both ways, hanging": {"points": [(-40.0, -95.0)], "clock": 160.0, "where": stand(yaw=20.0, lean=15.0)},
    "far round": {"points": [(0.0, UP + 20.0)], "wrap": (85.0, 85.0)},
}


@pytest.mark.parametrize("shape", SHAPES, ids=str)
def test_every_hole_has_its_steel_as_another_library_measures_it(shape):
    loop, base, holes = tab(**SHAPES[shape])
    polygon = Polygon(polyline(loop, FINE))
    assert polygon.is_valid
    welded = LineString([(v.x, v.y) for v in base.edge]).buffer(1.0)
    free = polygon.exterior.difference(welded)
    for hole in holes:
        assert polygon.contains(Point(hole.x, hole.y))
        assert free.distance(Point(hole.x, hole.y)) >= hole.rules.across - 2.0 * FINE
        assert Point(hole.x, hole.y).distance(LineString(polyline(base.edge, FINE))) >= hole.rules.base - 2.0 * FINE
        if hole.rules.way is None:
            continue
        a = math.radians(hole.rules.way)
        for sign in (1.0, -1.0):
            x, y = hole.x + sign * 500.0 * math.cos(a), hole.y + sign * 500.0 * math.sin(a)
            out = LineString([(hole.x, hole.y), (x, y)]).intersection(free)
            if not out.is_empty:
                assert out.distance(Point(hole.x, hole.y)) >= hole.rules.along - 2.0 * FINE


@pytest.mark.parametrize("shape", SHAPES, ids=str)
def test_an_outline_is_whole_runs_counter_clockwise_and_has_no_sharp_inside_corner(shape):
    loop, base, _ = tab(**SHAPES[shape])
    assert contour_fault(contours(Profile(loop))[0], outside=True) is None
    assert loop[: len(base.edge) - 1] == base.edge[:-1]
    assert (loop[len(base.edge) - 1].x, loop[len(base.edge) - 1].y) == base.ends[1]
    # SMOOTH of `widths` lets corners under 5 deg pass: arcs and tangents of ours have none
    assert [c for c in inside_corners(loop, LEAST_INSIDE) if c.left > 1e-9] == []
    free = edges(loop)[len(base.edge) - 1 :]
    assert all(e.radius >= LEAST_INSIDE - 1e-9 for e in free if e.centre is not None)
    assert min(e.length for e in free) > 0.05


@pytest.mark.parametrize("shape", SHAPES, ids=str)
def test_corners_are_only_where_the_feet_meet_the_tube_and_they_are_square_there(shape):
    loop, base, _ = tab(**SHAPES[shape])
    ring = edges(loop)
    corners = []
    for before, after in zip([ring[-1], *ring[:-1]], ring, strict=True):
        (ax, ay), (bx, by) = heading(before, True), heading(after, False)
        turn = math.degrees(math.atan2(ax * by - ay * bx, ax * bx + ay * by))
        if abs(turn) > 0.5:
            corners.append((after.x0, after.y0, turn))
    assert [c[:2] for c in corners] == list(base.ends)
    assert [c[2] for c in corners] == pytest.approx([90.0, 90.0], abs=3.5)


def heading(edge, end):
    x, y = (edge.x1, edge.y1) if end else (edge.x0, edge.y0)
    if edge.centre is None:
        n = math.hypot(edge.x1 - edge.x0, edge.y1 - edge.y0)
        return (edge.x1 - edge.x0) / n, (edge.y1 - edge.y0) / n
    s = math.copysign(1.0 / edge.radius, edge.sweep_rad)
    return -(y - edge.centre[1]) * s, (x - edge.centre[0]) * s


def test_the_mirrored_tab_is_the_mirrored_outline():
    ours, _, _ = tab([(-50.0, -RADIUS - 30.0)], clock=150.0, where=stand(yaw=20.0))
    theirs, _, _ = tab([(50.0, -RADIUS - 30.0)], clock=-150.0, where=stand(yaw=-20.0))
    one, other = Polygon(polyline(mirrored(ours), FINE)), Polygon(polyline(theirs, FINE))
    assert one.symmetric_difference(other).area < 0.005 * one.length


def test_a_symmetric_tab_is_its_own_mirror():
    loop, _, _ = tab([(0.0, UP)])
    one, other = Polygon(polyline(loop, FINE)), Polygon(polyline(mirrored(loop), FINE))
    assert one.symmetric_difference(other).area < 1e-6 * one.area


def test_the_hull_over_the_feet_is_that_of_another_library():
    loop, base, holes = tab([(0.0, UP), (10.0, UP + 40.0)], load=None)
    # above a line through the holes no foot takes part: the hull of the discs is all there is
    discs = Polygon()
    for hole in holes:
        discs = discs.union(Point(hole.x, hole.y).buffer(hole.rules.across, quad_segs=512))
    above = Polygon([(-200.0, UP + 5.0), (200.0, UP + 5.0), (200.0, 500.0), (-200.0, 500.0)])
    ours = Polygon(polyline(loop, FINE)).intersection(above)
    assert ours.area >= discs.convex_hull.intersection(above).area - 0.1
    outer = discs.union(LineString(base.ends).buffer(12.0)).convex_hull
    assert ours.difference(outer).area < 0.1


def test_a_rail_carries_a_tab_as_a_tube_does():
    where = stand(lean=10.0)
    base = flat_base(where, (0.0, 0.0, 1.0), 25.0, GAP, ((-45.0, 90.0), (45.0, 90.0)))
    loop = tab_outline([TabHole(0.0, 90.0, edge_rules(BOLT, THICK, 0.0), "hole 1")], base)
    assert contour_fault(contours(Profile(loop))[0], outside=True) is None
    assert signed_area(loop) > 0.0
    assert [v.bulge for v in base.edge] == [0.0, 0.0]


def test_a_gusset_along_the_tube_has_feet_too():
    where = stand(base=ALONG)
    base = saddle_base(where, RADIUS, GAP, ((-60.0, 90.0), (60.0, 90.0)))
    loop = tab_outline([TabHole(-20.0, 95.0, edge_rules(BOLT, THICK, None), "hole 1")], base)
    assert contour_fault(contours(Profile(loop))[0], outside=True) is None


@pytest.mark.parametrize("shape", SHAPES, ids=str)
def test_the_finished_tab_has_no_volume_in_common_with_the_tube_by_the_kernel(shape):
    loop, _, _ = tab(**SHAPES[shape])
    where = SHAPES[shape].get("where") or stand()
    solid = cq.Solid.extrudeLinear(wire_of(loop, "tab"), [], cq.Vector(0.0, 0.0, where.thickness))
    solid = transformed(solid, where.rotation, where.origin)
    tube = cylinder((0.0, -400.0, 0.0), (0.0, 400.0, 0.0), 2.0 * RADIUS)
    assert volume(common(solid, tube)) == pytest.approx(0.0, abs=1e-9)
    assert solid.distance(tube) == pytest.approx(GAP, abs=0.01)
    assert volume(solid) == pytest.approx(signed_area(loop) * where.thickness, rel=1e-6)


@settings(max_examples=150, deadline=None)
@given(
    st.floats(-45.0, 45.0),
    st.floats(-45.0, 45.0),
    st.floats(-180.0, 180.0),
    st.tuples(st.floats(20.0, 80.0), st.floats(20.0, 80.0)),
    st.lists(st.tuples(st.floats(-60.0, 60.0), st.floats(-20.0, 140.0)), min_size=1, max_size=4),
    st.one_of(st.none(), st.floats(-180.0, 180.0)),
)
def test_any_tab_is_sound_or_refused_in_a_sentence(yaw, lean, clock, wrap, offsets, load):
    where = stand(yaw, lean)
    base = saddle_base(where, RADIUS, GAP, wrap_ends(where, clock, *wrap))
    (x, y), (nx, ny) = base.middle, base.normals[1]
    rules = edge_rules(BOLT, THICK, load)
    holes = [TabHole(x + o * nx + s * ny, y + o * ny - s * nx, rules, f"hole {k}") for k, (s, o) in enumerate(offsets)]
    try:
        loop = tab_outline(holes, base)
    except ValueError as fault:
        assert "\n" not in str(fault)
        assert "mm" in str(fault) or "foot" in str(fault)
        return
    polygon = Polygon(polyline(loop, 0.002))
    assert polygon.is_valid
    assert signed_area(loop) == pytest.approx(polygon.area, rel=1e-4)
    for hole in holes:
        assert polygon.exterior.distance(Point(hole.x, hole.y)) >= rules.across - 0.01
    points = np.array(polygon.exterior.coords)
    assert min(base.shadow.clearance(px, py) for px, py in points) > -0.01
    assert contour_fault(contours(Profile(loop))[0], outside=True) is None
    assert [c for c in inside_corners(loop, LEAST_INSIDE) if c.left > 1e-6] == []


def test_the_rules_are_twice_along_the_load_and_one_and_a_half_times_elsewhere():
    rules = edge_rules(BOLT, THICK, 30.0)
    assert rules == EdgeRules(1.5 * BOLT, 2.0 * BOLT, BOLT / 2.0 + INCH / 2.0 + THICK, 30.0)
    assert edge_rules(BOLT, THICK, None).across == 2.0 * BOLT
    assert edge_rules(BOLT, THICK, 0.0, hole=20.0).base == 10.0 + INCH / 2.0 + THICK


def test_no_distance_is_below_the_published_one_of_the_next_larger_bolt():
    # AISC 360 table J3.4: 1/2 in bolt 3/4 in, 5/8 in bolt 7/8 in, 1 in bolt 1 1/4 in (from memory)
    for bolt, edge in ((0.5, 0.75), (0.5625, 0.875), (0.625, 0.875), (1.0, 1.25)):
        assert edge_rules(bolt * INCH, THICK, 0.0).across >= edge * INCH - 1e-9
    assert edge_rules(0.5625 * INCH, THICK, 0.0).across == pytest.approx(0.875 * INCH)
    assert edge_rules(30.0, THICK, 0.0).across == 45.0


@pytest.mark.parametrize(
    ("spoil", "words"),
    [
        (lambda: tab([]), "at least one hole"),
        (lambda: tab([(0.0, UP)], inside=2.0), "inside radius is 2 mm"),
        (lambda: tab([(0.0, UP)], foot=0.0), "above 0 mm"),
        (lambda: tab([(0.0, RADIUS + 20.0)]), "hole 1 stands 19.2 mm from the welded edge and must stand 28.6 mm"),
        (lambda: tab([(0.0, 0.0)]), "hole 1 stands 0.0 mm"),
        (lambda: tab([(0.0, UP), (-90.0, 30.0)], wrap=(30.0, 30.0)), "foot"),
        (lambda: tab([(0.0, UP), (0.0, -UP)]), "feet|foot"),
        (lambda: tab([(-75.0, 0.0)], wrap=(60.0, 60.0)), "feet|foot"),
        (lambda: tab([(0.0, UP)], wrap=(130.0, 130.0)), "steel are left"),
        (lambda: edge_rules(0.0, THICK), "the bolt's diameter is 0 mm"),
        (lambda: edge_rules(BOLT, math.nan), "the plate's thickness"),
    ],
)
def test_a_tab_that_cannot_be_is_refused_in_one_sentence(spoil, words):
    with pytest.raises(ValueError, match=words):
        spoil()
