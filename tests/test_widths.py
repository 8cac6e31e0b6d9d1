"""Widths along cuts against distances of another library (shapely) and plane geometry."""

import math

import numpy as np
import pytest
from shapely.geometry import Polygon

from fixturegen.plate import Profile, Vertex
from fixturegen.plate.outlines import filleted, hull_of_discs
from fixturegen.plate.profile import circle, polyline, rectangle, reversed_loop
from fixturegen.plate.widths import between, contour_fault, contours, inside_corners, narrowest, self_touch

PLATE = rectangle(0.0, 0.0, 100.0, 100.0)


def cuts(outer, *inner):
    return contours(Profile(outer, tuple(reversed_loop(loop) for loop in inner)))


@pytest.mark.parametrize("turn", [0.0, 0.3, 1.0, 2.5])
@pytest.mark.parametrize("wide", [0.8, 4.0, 31.0])
def test_a_slot_is_as_wide_as_it_was_drawn_whichever_way_it_lies(turn, wide):
    def at(x, y):
        return Vertex(50.0 + x * math.cos(turn) - y * math.sin(turn), 50.0 + x * math.sin(turn) + y * math.cos(turn))

    loop = tuple(at(x, y) for x, y in ((-20, -wide / 2), (20, -wide / 2), (20, wide / 2), (-20, wide / 2)))
    _, slot = cuts(PLATE, loop)
    assert narrowest(slot, steel=False).width == pytest.approx(wide)
    assert narrowest(slot, steel=True) is None


def test_a_round_ended_slot_is_as_wide_as_its_ends_and_a_neck_as_its_waist():
    _, stadium = cuts(PLATE, hull_of_discs(((30.0, 50.0, 4.0), (70.0, 50.0, 4.0))))
    assert narrowest(stadium, steel=False).width == pytest.approx(8.0, abs=0.05)
    waist = filleted(
        (
            *((0, 0, 0), (100, 0, 0), (100, 40, 5), (56, 40, 5), (56, 60, 5), (100, 60, 5)),
            *((100, 100, 0), (0, 100, 0), (0, 60, 5), (44, 60, 5), (44, 40, 5), (0, 40, 5)),
        )
    )
    (outline,) = cuts(waist)
    assert narrowest(outline, steel=True).width == pytest.approx(12.0)
    assert narrowest(outline, steel=False).width == pytest.approx(20.0)


def test_the_tip_of_a_corner_is_no_narrow_place():
    # 45 deg at the tips: the sides do not face each other
    (outline,) = cuts((Vertex(0.0, 0.0), Vertex(100.0, 0.0), Vertex(0.0, 100.0)))
    assert narrowest(outline, steel=True) is None


@pytest.mark.parametrize("seed", range(12))
def test_the_distance_of_two_cuts_is_that_of_another_library(seed):
    rng = np.random.default_rng(seed)
    discs = [tuple((float(x), float(y), float(r)) for x, y, r in rng.uniform((5, 5, 1), (40, 90, 6), (3, 3)))]
    discs.append(tuple((x + 50.0, y, r) for x, y, r in discs[0][::-1]))
    a, b = (hull_of_discs(d) for d in discs)
    _, one, two = cuts(rectangle(-50, -50, 200, 200), a, b)
    true = Polygon(polyline(a, 0.001)).distance(Polygon(polyline(b, 0.001)))
    assert between(one, two, 1000.0).width == pytest.approx(true, abs=0.05)
    assert between(one, two, 0.0) is None


@pytest.mark.parametrize("degrees", [60.0, 90.0, 120.0, 150.0])
def test_what_a_round_torch_leaves_in_a_corner_is_plane_geometry(degrees):
    # a circle of radius r in a corner of angle a: its middle lies r / sin(a / 2) from the corner
    half = math.radians(degrees) / 2.0
    long = 40.0
    wedge = (Vertex(50.0, 50.0), Vertex(50.0 + long * math.cos(half), 50.0 - long * math.sin(half)))
    wedge += (Vertex(50.0 + long * math.cos(half), 50.0 + long * math.sin(half)),)
    corners = inside_corners(reversed_loop(wedge), 1.2)
    at_tip = next(c for c in corners if (c.x, c.y) == (50.0, 50.0))
    assert at_tip.left == pytest.approx(1.2 / math.sin(half) - 1.2)


def test_corners_with_room_outside_corners_and_round_openings_leave_nothing():
    assert inside_corners(PLATE, 1.0) == []
    assert inside_corners(reversed_loop(circle(50.0, 50.0, 30.0)), 1.0) == []
    rounded = filleted(((20, 20, 1.0), (60, 20, 1.0), (60, 60, 1.0), (20, 60, 1.0)))
    assert inside_corners(reversed_loop(rounded), 1.0) == []
    assert len(inside_corners(reversed_loop(rounded), 1.1)) == 4
    shut = hull_of_discs(((30.0, 50.0, 0.5), (70.0, 50.0, 0.5)))
    assert math.isinf(inside_corners(reversed_loop(shut), 1.0)[0].left)


@pytest.mark.parametrize("seed", range(20))
def test_rings_that_meet_themselves_are_those_another_library_calls_not_simple(seed):
    rng = np.random.default_rng(100 + seed)
    angles = np.sort(rng.uniform(0.0, 2.0 * math.pi, 9)) if seed % 2 else rng.uniform(0.0, 2.0 * math.pi, 7)
    points = np.stack([np.cos(angles), np.sin(angles)], axis=1) * rng.uniform(20.0, 60.0, (len(angles), 1))
    assert (self_touch(points) is None) is Polygon(points).is_valid


def test_small_arcs_and_short_edges_are_no_touch():
    tiny = filleted(((0, 0, 0.05), (100, 0, 0.05), (100, 100, 0.05), (0, 100, 0.05)))
    for loop in (tiny, circle(0.0, 0.0, 0.5), hull_of_discs(((0.0, 0.0, 0.05), (40.0, 0.0, 3.0)))):
        assert contour_fault(cuts(loop)[0], outside=True) is None
