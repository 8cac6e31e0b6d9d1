"""Outlines of tabs that go on through a bend: edge distances by another library, reliefs by plain geometry."""

import math
from itertools import pairwise

import pytest
from shapely.geometry import LineString, Point, Polygon

from fixturegen.plate.profile import edge_between, polyline
from fixturegen.plate.saddles import flat_base, saddle_base, wrap_ends
from fixturegen.plate.tab_outlines import Flank, TabHole, edge_rules, flanked_outline, foot_top, top_of
from tests.plate.saddle_cases import stand

RADIUS, GAP, BOLT, THICK = 44.5, 0.4, 19.05, 6.35
FINE = 0.0005  # chords of the independent polygon [mm]
UP = RADIUS + 60.0
CUT = (THICK, 5.5)


def drawn(points=((0.0, UP),), x=36.0, low=RADIUS + 12.0, wrap=55.0, where=None, load=180.0, foot=9.5):
    where = where or stand()
    base = saddle_base(where, RADIUS, GAP, wrap_ends(where, 0.0, wrap, wrap))
    holes = [TabHole(px, py, edge_rules(BOLT, THICK, load), f"hole {k}") for k, (px, py) in enumerate(points, 1)]
    flank = Flank(x, low, top_of(holes, base), CUT)
    return flanked_outline(holes, base, flank, foot=foot), base, holes, flank


SHAPES = {
    "one hole": {},
    "three adjustment holes": {"points": [(0.0, UP + 38.1 * k) for k in range(3)]},
    "link straight up": {"load": 90.0},
    "any load": {"load": None},
    "askew": {"where": stand(yaw=20.0), "low": RADIUS + 16.0},
    "narrow feet": {"wrap": 35.0, "low": RADIUS + 18.0},
}


@pytest.mark.parametrize("name", SHAPES)
def test_free_edges_keep_their_distance_from_every_hole(name):
    chain, _, holes, _ = drawn(**SHAPES[name])
    shape, free = Polygon(polyline(chain, FINE)), LineString(polyline(chain, FINE))
    assert shape.is_valid
    for hole in holes:
        assert shape.contains(Point(hole.x, hole.y))
        # the bend's own line closes the polygon and is no part of the chain
        assert free.distance(Point(hole.x, hole.y)) >= hole.rules.across - 2.0 * FINE


@pytest.mark.parametrize("name", SHAPES)
def test_it_runs_from_the_upper_end_of_the_bend_to_the_lower_one_and_is_square_to_it_there(name):
    chain, _, _, flank = drawn(**SHAPES[name])
    assert (chain[0].x, chain[0].y) == (flank.x, flank.high)
    assert (chain[-1].x, chain[-1].y) == (flank.x, flank.low)
    assert chain[1].y == pytest.approx(flank.high)
    assert chain[-2].y == pytest.approx(flank.low)
    assert chain[-2].x < flank.x
    assert max(v.x for v in chain if v.y > flank.low + 1.0) == pytest.approx(flank.x)


@pytest.mark.parametrize("name", SHAPES)
def test_the_cut_below_the_bend_is_round_as_wide_and_as_deep_as_asked(name):
    chain, base, _, flank = drawn(**SHAPES[name])
    hollow = [e for e in (edge_between(a, b) for a, b in pairwise(chain)) if e.centre and e.sweep_rad < 0.0]
    relief = [e for e in hollow if e.radius == pytest.approx(CUT[0] / 2.0)]
    assert len(relief) == 2
    assert min(e.centre[0] - e.radius for e in relief) == pytest.approx(flank.x - CUT[1])
    assert all(e.centre[1] == pytest.approx(flank.low - CUT[0] / 2.0) for e in relief)
    # steel under it, by the distance to the tube's section drawn anew
    for e in relief:
        assert base.shadow.clearance(*e.centre) - e.radius >= 9.5 - 1e-6


@pytest.mark.parametrize("name", SHAPES)
def test_it_has_no_sharp_inside_corner(name):
    chain, base, _, _ = drawn(**SHAPES[name])
    ends = {(round(v.x, 6), round(v.y, 6)) for v in base.edge}
    for a, b in pairwise([edge_between(p, q) for p, q in pairwise(chain)]):
        turn = math.remainder(_heading(b, 0.0) - _heading(a, 1.0), 2.0 * math.pi)
        if (round(b.x0, 6), round(b.y0, 6)) not in ends:
            assert turn > -1e-6, (b.x0, b.y0)


def _heading(edge, share):
    if edge.centre is None:
        return math.atan2(edge.y1 - edge.y0, edge.x1 - edge.x0)
    start = math.atan2(edge.y0 - edge.centre[1], edge.x0 - edge.centre[0])
    return start + share * edge.sweep_rad + math.copysign(math.pi / 2.0, edge.sweep_rad)


def test_on_a_flat_face_the_foot_stays_a_cuts_width_under_the_web():
    base = flat_base(stand(), (0.0, 0.0, 1.0), 0.0, GAP, ((-60.0, 0.0), (60.0, 0.0)))
    holes = [TabHole(0.0, 90.0, edge_rules(BOLT, THICK, 180.0))]
    low = foot_top(base, 9.5) + CUT[0]
    chain = flanked_outline(holes, base, Flank(36.0, low, top_of(holes, base), CUT), foot=9.5)
    beyond = [v.y for v in chain if v.x > 36.0 + 1.0]
    # 9.5 mm of foot and its rounding of 5 mm over the root gap
    assert max(beyond) == pytest.approx(GAP + 9.5 + 5.0)
    assert low - max(beyond) == pytest.approx(CUT[0])


def test_a_web_that_ends_too_low_is_refused_by_the_steel_left():
    with pytest.raises(ValueError, match=r"only .* mm of steel are left under the cut .* end the bend higher"):
        drawn(low=RADIUS - 2.0)


def test_a_hole_too_near_the_weld_is_refused_by_how_much():
    with pytest.raises(ValueError, match=r"hole 1 stands 20\.\d mm from the welded edge and must stand 2\d\.\d mm off"):
        drawn(points=[(0.0, RADIUS + GAP + 20.5)], low=RADIUS + 5.0)


def test_a_hole_behind_a_foot_is_refused():
    with pytest.raises(ValueError, match=r"foot|feet"):
        drawn(points=[(-75.0, -60.0)])
