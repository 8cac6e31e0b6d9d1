"""Depth of overlaps and straight motions, against closed forms of boxes and bars."""

import math

import pytest

from fixturegen.checks.overlap import KERNEL_STEP, overlap, slide
from fixturegen.checks.scene import Thing, elsewhere, turned_about_bar
from fixturegen.shapes import solids
from fixturegen.studies.jig_records import INCH


def block(x0, y0, z0, x1, y1, z1, name="block"):
    return Thing(name, "stand", "", solids.box(x0, y0, z0, x1, y1, z1))


def test_two_boxes_that_touch_share_nothing():
    assert overlap(block(0, 0, 0, 10, 10, 10), block(10, 0, 0, 20, 10, 10)) is None


@pytest.mark.parametrize("depth", [0.02, 0.2, 1.0])
def test_the_depth_of_a_thin_overlap_is_its_thickness(depth):
    found = overlap(block(0, 0, 0, 100, 100, 10), block(0, 0, 10 - depth, 100, 100, 20))
    # 2 V / A of a box t x 100 x 100 is t / (1 + 2 t / 100): closed form
    assert math.isclose(found.depth, depth / (1 + 2 * depth / 100), rel_tol=1e-6)
    assert math.isclose(found.volume, depth * 100 * 100, rel_tol=1e-6)
    assert math.isclose(found.point[2], 10 - depth / 2, abs_tol=1e-6)


def test_a_bar_in_a_hole_of_its_own_size_lengthened_one_way_only_touches():
    plate = solids.box(-50, -6, -50, 50, 6, 50)
    hole = solids.fuse(
        solids.cylinder((0, -10, -1.6), (0, 10, -1.6), 31.75),
        solids.cylinder((0, -10, 1.6), (0, 10, 1.6), 31.75),
        solids.box(-15.875, -10, -1.6, 15.875, 10, 1.6),
    )
    bar = Thing("bar", "tie", "", solids.cylinder((0, -100, 0), (0, 100, 0), 31.75))
    for angle in (0.0, 8.5):
        found = overlap(turned_about_bar(Thing("plate", "x", "", solids.cut(plate, hole)), angle, 0.0), bar)
        assert found is None or found.depth < 0.05


def test_a_motion_is_stopped_where_the_gap_ends():
    moving, wall = block(0, 0, 0, 10, 10, 10), block(0, 47.3, 0, 10, 60, 10)
    hit = slide([moving], [wall], (0.0, 1.0, 0.0), 100.0).hits[0]
    assert 37.3 < hit.travel <= 37.3 + KERNEL_STEP
    assert not slide([moving], [wall], (0.0, 1.0, 0.0), 37.0).hits


def test_a_thin_fin_in_the_way_is_not_stepped_over():
    fin = block(-50, 300.0, -50, 50, 300.3, 50)
    bar = Thing("bar", "bar", "", solids.cylinder((0, -100, 0), (0, 100, 0), 38.0))
    hit = slide([bar], [fin], (0.0, 1.0, 0.0), 600.0).hits
    assert hit
    assert math.isclose(hit[0].travel, 200.0, abs_tol=KERNEL_STEP)


def test_a_motion_beside_a_ball_reports_the_gap_it_kept_on_the_safe_side():
    moving = block(0, 0, 0, 10, 10, 10)
    ball = Thing("ball", "stand", "", solids.sphere((18.0, 150.0, 18.0), 20.0))
    passage = slide([moving], [ball], (0.0, 1.0, 0.0), 400.0)
    gap = math.hypot(8.0, 8.0) - 10.0  # edge of the box to the ball, closed form
    assert not passage.hits
    assert gap - 0.4 - 1e-6 <= passage.least <= gap


def test_a_bar_sliding_in_a_close_bore_is_no_hit_and_a_bore_too_small_is():
    bar = Thing("bar", "bar", "", solids.cylinder((0, -200, 0), (0, 0, 0), 38.1))
    for bore, wanted in ((38.12, 0), (37.8, 1)):
        bush = Thing("bush", "index", "", solids.tube((0, 30, 0), (0, 50, 0), 60.0, bore))
        assert len(slide([bar], [bush], (0.0, 1.0, 0.0), 150.0).hits) == wanted


def test_a_thing_put_elsewhere_twice_is_where_both_moves_put_it():
    one = block(0, 0, 0, 1, 1, 1)
    quarter = ((0.0, -1.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    there = elsewhere(elsewhere(one, quarter, (10.0, 0.0, 0.0)), quarter, (0.0, 0.0, 5.0))
    # (x, y) -> (-y + 10, x) -> (-x, -y + 10)
    assert all(math.isclose(a, b, abs_tol=1e-9) for a, b in zip(there.box, (-1, 9, 5, 0, 10, 6), strict=True))
    assert all(
        math.isclose(a, b, abs_tol=1e-6) for a, b in zip(there.body.box.reshape(-1), (-1, 9, 5, 0, 10, 6), strict=True)
    )


def test_clock_angles_turn_forward():
    one = Thing("pin", "x", "", solids.sphere((0.0, 0.0, 12 * INCH + 300.0), 2.0))
    x0, _, z0, x1, _, z1 = turned_about_bar(one, 30.0, 300.0).box
    assert math.isclose((x0 + x1) / 2, 12 * INCH * math.sin(math.radians(30)), abs_tol=1e-6)
    assert math.isclose((z0 + z1) / 2, 300 + 12 * INCH * math.cos(math.radians(30)), abs_tol=1e-6)
