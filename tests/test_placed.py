"""Parts lying on a sheet: turned and moved exactly, against a general geometry library and by laws."""

import math

import pytest
from shapely import affinity
from shapely.geometry import Polygon

from fixturegen.plate.placed import REMNANT, CutSheet, Placed, placed_loop, placed_part, placed_point, turned_size
from fixturegen.plate.profile import bounds, polyline, signed_area
from tests.write.toys import plate_part

SHEET = CutSheet(1, "toy", 1000.0, 500.0, 9.4, "a36", "length", (), 10.0, 12.0, 900.0)


@pytest.mark.parametrize("angle", [0.0, 90.0, 180.0, 270.0, 37.5])
def test_a_placed_loop_lies_where_a_general_library_puts_it(angle):
    part = plate_part()
    put = Placed(part, 310.0, -20.0, angle)
    ours = Polygon(polyline(placed_loop(put, part.profile.outer), 0.001))
    theirs = affinity.translate(
        affinity.rotate(Polygon(polyline(part.profile.outer, 0.001)), angle, origin=(0.0, 0.0)), 310.0, -20.0
    )
    assert ours.symmetric_difference(theirs).area < 1e-3 * ours.area**0.5
    assert signed_area(placed_loop(put, part.profile.outer)) == pytest.approx(signed_area(part.profile.outer))


def test_quarter_turns_do_not_round():
    assert placed_point(Placed(plate_part(), 0.0, 0.0, 90.0), 3.0, 4.0) == (-4.0, 3.0)
    assert placed_point(Placed(plate_part(), 0.0, 0.0, -90.0), 3.0, 4.0) == (4.0, -3.0)


def test_holes_and_marks_go_with_the_part():
    placed = placed_part(Placed(plate_part(), 50.0, 60.0, 90.0))
    bore = next(h for h in placed.profile.holes if h.label == "bar bore")
    assert (bore.x, bore.y) == (0.0, 160.0)  # (100, 50) turned a quarter is (-50, 100)
    text, tick = placed.marks
    assert (text.x, text.y, text.angle) == (-30.0, 70.0, 90.0)
    assert (tick.x, tick.y) == (50.0, 160.0)
    assert tick.to == (44.0, 160.0)


def test_the_size_of_a_turned_rectangle_is_that_of_its_diagonals():
    part = plate_part()
    loop = part.profile.outer[:3] + part.profile.outer[4:]
    x0, y0, x1, y1 = bounds(loop)
    assert turned_size(loop, 90.0) == (y1 - y0, x1 - x0)
    c = math.sqrt(0.5)
    # the rounded corner points up then: it is (sqrt 2 - 1) radii short of the sharp one
    assert turned_size(part.profile.outer, 45.0) == pytest.approx(
        (c * 300.0, c * 300.0 - (math.sqrt(2.0) - 1.0) * 20.0)
    )


def test_a_strip_left_over_is_a_remnant_only_when_it_is_worth_keeping():
    assert bounds(SHEET.remnant) == (900.0, 0.0, 1000.0, 500.0)
    narrow = CutSheet(**{**vars(SHEET), "cut_to": 1000.0 - REMNANT + 0.01})
    assert narrow.remnant == ()
