"""There and back: a coupon cut by a torch of known kerf gives that kerf back, whatever was allowed for.

The torch is worked out by shapely, which knows nothing of our formulas: it runs half the allowed
kerf inside the drawn window and burns half its true kerf to each side of its path.
"""

import math

import pytest
import shapely

from fixturegen.studies.coupon_readings import (
    HoleReading,
    bend_deduction,
    hole_error,
    kerf_of_block,
    kerf_of_both,
    kerf_of_window,
    room_of,
    smallest_round,
)

INCH = 25.4
DRAWN = 1.5 * INCH
TORCHES = [(2.2, 1.6), (1.6, 1.6), (1.2, 1.6), (2.2, 0.0), (2.2, 4.4)]  # true kerf, allowed [mm]


def burnt(drawn, kerf, allowed):
    """(opening, block) that a torch leaves of a drawn window."""
    path = drawn.buffer(-allowed / 2.0, join_style="mitre")
    cut = path.exterior.buffer(kerf / 2.0, join_style="mitre")
    return path.union(cut), path.difference(cut)


def across(shape):
    x0, _, x1, _ = shape.bounds
    return x1 - x0


@pytest.mark.parametrize(("kerf", "allowed"), TORCHES)
def test_window_and_block_give_the_kerf_of_the_torch_and_what_it_allowed_for(kerf, allowed):
    opening, block = burnt(shapely.box(0.0, 0.0, DRAWN, DRAWN), kerf, allowed)
    found = kerf_of_both(DRAWN, across(opening), across(block))
    assert found.kerf == pytest.approx(kerf, abs=1e-9)
    assert found.allowed == pytest.approx(allowed, abs=1e-9)
    assert found.wide == pytest.approx(across(opening) - DRAWN, abs=1e-9)


@pytest.mark.parametrize(("kerf", "allowed"), TORCHES)
def test_one_of_the_two_gives_the_kerf_when_it_is_known_what_was_allowed_for(kerf, allowed):
    opening, block = burnt(shapely.box(0.0, 0.0, DRAWN, DRAWN), kerf, allowed)
    assert kerf_of_window(DRAWN, across(opening), allowed).kerf == pytest.approx(kerf, abs=1e-9)
    assert kerf_of_block(DRAWN, across(block), allowed).kerf == pytest.approx(kerf, abs=1e-9)
    # with another number the answer would be wrong by as much as that number is
    assert kerf_of_block(DRAWN, across(block), allowed + 0.5).kerf != pytest.approx(kerf, abs=0.1)


@pytest.mark.parametrize(("kerf", "allowed"), TORCHES[:3])
def test_a_slot_cut_with_the_corrected_kerf_has_the_room_of_the_slot_that_fitted(kerf, allowed):
    plate, room = 9.6, 0.3048
    fitted, _ = burnt(shapely.box(0.0, 0.0, plate + 2.0 * room, 44.0), kerf, allowed)
    opening, block = burnt(shapely.box(0.0, 0.0, DRAWN, DRAWN), kerf, allowed)
    found = kerf_of_both(DRAWN, across(opening), across(block))
    new_room = room_of(room, found.wide)
    again, _ = burnt(shapely.box(0.0, 0.0, plate + 2.0 * new_room, 44.0), kerf, found.kerf)
    assert across(again) == pytest.approx(across(fitted), abs=1e-9)


@pytest.mark.parametrize(("kerf", "allowed"), TORCHES[:3])
def test_a_saddle_cut_with_the_corrected_kerf_has_the_radius_of_the_one_that_seated(kerf, allowed):
    tube, room = 88.85, 0.381
    ring = shapely.Point(0.0, 0.0).buffer(tube / 2.0 + room, quad_segs=256)
    fitted, _ = burnt(ring, kerf, allowed)
    wide = kerf - allowed
    again, _ = burnt(shapely.Point(0.0, 0.0).buffer(tube / 2.0 + room_of(room, wide), quad_segs=256), kerf, kerf)
    assert across(again) == pytest.approx(across(fitted), abs=1e-3)


def test_a_hole_is_judged_by_what_it_is_off_beyond_the_kerf():
    # a torch that cuts every hole 0.4 mm small on its own, and whose kerf was set 0.6 mm too small
    holes = [HoleReading(d, (d + 0.6 - 0.4, d + 0.6 - 0.4)) for d in (9.525, 14.2875, 23.8125)]
    assert hole_error(holes, 0.6) == pytest.approx(-0.4)
    assert hole_error(holes, 0.0) == pytest.approx(0.2)


def test_the_smallest_round_hole_is_the_last_before_one_that_is_not():
    good, oval, once = (10.0, 10.2), (14.0, 15.0), (24.0,)
    assert smallest_round([HoleReading(10.0, good), HoleReading(14.0, (14.1, 14.2))], 0.0, (1.1, 1.1)) == 10.0
    assert smallest_round([HoleReading(10.0, good), HoleReading(14.0, oval)], 0.0, (1.1, 1.1)) is None
    assert smallest_round([HoleReading(10.0, oval), HoleReading(24.0, (24.0, 24.1))], 0.0, (9.0, 1.1)) == 24.0
    assert smallest_round([HoleReading(24.0, once)], 0.0, (1.1,)) is None
    # round, but out of class by more than it allows
    assert smallest_round([HoleReading(10.0, (11.2, 11.2))], 0.0, (1.1,)) is None


def test_a_strip_bent_as_the_handbook_says_gives_the_handbooks_deduction():
    # Machinery's Handbook, 31st edition, p. 1421 (secondary copy): 1/8 in plate round 3/8 in takes up
    # 1.338 in over 180 deg, so half of that over 90; outside flanges reach to the corner, 1/2 in past
    # the tangent points on both sides
    bend, straight = 1.338 / 2.0, 1.25
    flange = straight + 3 / 8 + 1 / 8
    found = bend_deduction(flange, flange, 2.0 * straight + bend)
    assert found == pytest.approx(2.0 * (3 / 8 + 1 / 8) - bend, abs=1e-9)
    assert found == pytest.approx(0.331, abs=6e-4)
    # the middle of the plate would give another one
    assert found != pytest.approx(1.0 - math.pi / 2.0 * (3 / 8 + 1 / 16), abs=6e-3)
