"""Order of inside contours: each once, no way back over a loose slug where one without exists, in any place."""

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from fixturegen.plate.cut_order import OVER, comes_back_over, inside_order
from fixturegen.plate.profile import circle, polyline, rectangle, reversed_loop

PITCH = 100.0


def crossed_by_shapely(order, loops):
    """The same count by another library: ways that come within the nozzle of a slug cut before the last."""
    shapes = [Polygon(polyline(loop, 0.01)) for loop in loops]
    found = 0
    for n in range(len(order) - 1):
        a, b = (loops[i][0] for i in order[n : n + 2])
        way = LineString([(a.x, a.y), (b.x, b.y)])
        found += sum(way.distance(shapes[k]) < OVER for k in order[:n])
    return found


ROW = [circle(60.0 * k, 0.0, 30.0) for k in range(5)]


def test_a_row_is_cut_from_one_end_to_the_other():
    order = inside_order(ROW, (-100.0, 0.0), PITCH)
    assert order == (0, 1, 2, 3, 4)
    assert comes_back_over(order, ROW, PITCH) == 0


def test_jumping_about_in_a_row_comes_back_over_what_is_loose():
    order = (1, 2, 0, 3, 4)  # from 2 back to 0 over 1, from 0 to 3 over 1 and 2
    assert comes_back_over(order, ROW, PITCH) == crossed_by_shapely(order, ROW) == 3


def test_a_longer_way_is_taken_rather_than_one_over_a_loose_slug():
    # the shorter way (1, 3, 2, 0) passes from 2 to 0 over 3, which is loose by then; found by trying, told by shapely
    loops = [circle(x, y, 24.0) for x, y in ((180.0, 40.0), (100.0, 100.0), (160.0, 0.0), (140.0, 20.0))]
    assert crossed_by_shapely((1, 3, 2, 0), loops) == 1
    order = inside_order(loops, (0.0, 0.0), PITCH)
    assert crossed_by_shapely(order, loops) == 0


def test_slugs_that_lie_flat_are_in_nobodys_way():
    large = [circle(700.0 * k, 0.0, 500.0) for k in range(3)]
    assert comes_back_over((1, 0, 2), large, PITCH) == 0
    assert comes_back_over((1, 0, 2), large, 600.0) == 1


def test_no_contours_need_no_order():
    assert inside_order([], (0.0, 0.0), PITCH) == ()


@st.composite
def boards(draw):
    cells = draw(st.lists(st.tuples(st.integers(0, 4), st.integers(0, 4)), min_size=1, max_size=6, unique=True))
    return [reversed_loop(rectangle(80.0 * i, 80.0 * j, 80.0 * i + 40.0, 80.0 * j + 25.0)) for i, j in cells]


@settings(max_examples=60, deadline=None)
@given(boards())
def test_every_contour_comes_once_and_the_count_is_what_another_library_finds(loops):
    order = inside_order(loops, (-20.0, -20.0), PITCH)
    assert sorted(order) == list(range(len(loops)))
    assert comes_back_over(order, loops, PITCH) == crossed_by_shapely(order, loops)


@settings(max_examples=25, deadline=None)
@given(boards())
def test_no_slug_is_crossed_where_an_order_exists_that_crosses_none(loops):
    best = min(crossed_by_shapely(order, loops) for order in itertools.permutations(range(len(loops))))
    order = inside_order(loops, (-20.0, -20.0), PITCH)
    if best == 0:
        assert comes_back_over(order, loops, PITCH) <= 1  # taken one after the other: at most one is given away


def test_the_order_does_not_depend_on_where_the_part_lies():
    loops = [rectangle(10, 10, 60, 20), circle(100, 40, 25), circle(30, 80, 30), rectangle(90, 70, 120, 110)]
    moved = [tuple(type(v)(v.x + 512.0, v.y - 256.0, v.bulge) for v in loop) for loop in loops]
    assert inside_order(loops, (0.0, 0.0), PITCH) == inside_order(moved, (512.0, -256.0), PITCH)


def test_the_way_is_no_longer_than_taking_the_next_nearest_from_the_corner_when_nothing_tips():
    loops = [circle(37.0 * k % 101, 53.0 * k % 89, 5.0) for k in range(1, 9)]

    def way(order):
        stops = [(0.0, 0.0), *((loops[i][0].x, loops[i][0].y) for i in order)]
        return sum(math.dist(a, b) for a, b in itertools.pairwise(stops))

    left, here, nearest = set(range(8)), (0.0, 0.0), []
    while left:
        at = min(left, key=lambda i: math.dist(here, (loops[i][0].x, loops[i][0].y)))
        nearest.append(at)
        left.remove(at)
        here = (loops[at][0].x, loops[at][0].y)
    assert way(inside_order(loops, (0.0, 0.0), 1.0)) <= way(nearest) + 1e-6


@pytest.mark.parametrize("kerf", [0.0, 2.5])
def test_a_slug_is_flat_by_what_the_kerf_leaves_of_it(kerf):
    loops = [circle(0.0, 0.0, 202.0), circle(-200.0, 0.0, 20.0), circle(200.0, 0.0, 20.0)]
    assert comes_back_over((0, 1, 2), loops, PITCH, kerf) == (1 if kerf else 0)
