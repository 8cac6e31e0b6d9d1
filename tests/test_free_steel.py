"""Room for lettering, against another library's shapes."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon, box

from fixturegen.plate import Hole, Mark, Part, Profile, Purpose
from fixturegen.plate.free_steel import FreeSteel, mark_box
from fixturegen.plate.outlines import filleted
from fixturegen.plate.part import Bend
from fixturegen.plate.profile import polyline, rectangle, reversed_loop

OUTER = filleted(tuple((x, y, 20.0) for x, y in ((0.0, 0.0), (200.0, 0.0), (160.0, 120.0), (0.0, 120.0))))
WINDOW = reversed_loop(rectangle(60.0, 40.0, 100.0, 80.0))
HOLE = Hole(140.0, 40.0, 26.0, Purpose.BORE, "bore")


def part(**more):
    return Part("p", "P", "toy", "plate", 9.5, profile=Profile(OUTER, (WINDOW,), (HOLE,)), **more)


def steel():
    shape = Polygon(polyline(OUTER, 0.01)) - Polygon(polyline(WINDOW, 0.01))
    return shape - Point(HOLE.x, HOLE.y).buffer(HOLE.finished / 2.0)


@settings(max_examples=60, deadline=None)
@given(st.floats(5.0, 60.0), st.floats(5.0, 40.0), st.floats(1.5, 6.0), st.floats(0.0, 160.0), st.floats(0.0, 120.0))
def test_a_place_lies_on_steel_with_its_room_all_round(wide, high, around, x, y):
    found = FreeSteel(part()).place(wide, high, around, [(x, y)])
    if found is not None:
        grown = box(found[0], found[1], found[0] + wide, found[1] + high).buffer(around - 1.0)
        assert steel().contains(grown)  # a cell of 1 mm may hide as much


@settings(max_examples=30, deadline=None)
@given(st.floats(10.0, 150.0), st.floats(10.0, 110.0))
def test_none_is_given_only_where_there_is_none(x, y):
    found = FreeSteel(part()).place(20.0, 10.0, 2.0, [(x, y)])
    assert found is not None
    far = math.dist((found[0] + 10.0, found[1] + 5.0), (x, y))
    there = box(x - 10.0, y - 5.0, x + 10.0, y + 5.0).buffer(4.0)
    if steel().contains(there):
        assert far <= 1.0  # the place asked for itself, to a cell


def test_what_is_marked_or_bent_is_not_marked_again():
    free = FreeSteel(part())
    at = free.place(30.0, 10.0, 2.0, [(30.0, 60.0)])
    free.take_box((at[0], at[1], at[0] + 30.0, at[1] + 10.0))
    again = free.place(30.0, 10.0, 2.0, [(30.0, 60.0)])
    assert not box(*at, at[0] + 30.0, at[1] + 10.0).intersects(box(*again, again[0] + 30.0, again[1] + 10.0))
    bent = FreeSteel(part(bends=(Bend(0.0, 60.0, 200.0, 60.0, 90.0, 10.0),)))
    _, y = bent.place(30.0, 10.0, 2.0, [(30.0, 60.0)])
    assert not y - 6.0 < 60.0 < y + 16.0
    assert not bent.is_free(30.0, 55.0, 30.0, 65.0, 1.0)
    assert FreeSteel(part()).is_free(30.0, 55.0, 30.0, 65.0, 1.0)


def test_a_plate_wholly_taken_has_no_place():
    small = Part("p", "P", "toy", "plate", 9.5, profile=Profile(rectangle(0.0, 0.0, 30.0, 12.0)))
    assert FreeSteel(small).place(40.0, 5.0, 2.0, [(0.0, 0.0)]) is None
    assert FreeSteel(small).place(25.0, 11.0, 2.0, [(0.0, 0.0)]) is None
    with pytest.raises(ValueError, match="no flat profile"):
        FreeSteel(Part("pin", "Pin", "toy", "turned"))


def test_the_box_of_turned_lettering_is_turned():
    flat, upright = mark_box(Mark(10.0, 20.0, "REV A", 8.0)), mark_box(Mark(10.0, 20.0, "REV A", 8.0, angle=90.0))
    assert upright[3] - upright[1] == pytest.approx(flat[2] - flat[0])
    assert (upright[2], upright[1]) == pytest.approx((10.0, 20.0 + flat[0] - 10.0))
