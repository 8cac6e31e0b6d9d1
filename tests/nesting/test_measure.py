"""The measure of a layout trips on each thing that can be wrong, and agrees with plane geometry and shapely."""

import math
from dataclasses import replace

import pytest
from shapely.geometry import box

from fixturegen.nesting import measure, remnants
from fixturegen.nesting.records import Blank, Layout, Put, StockSheet
from fixturegen.plate.profile import bounds, circle, rectangle, signed_area
from tests.nesting.shop import polygon

DISC = Blank("disc", circle(0.0, 0.0, 100.0), (), 2, (0.0,))
RING = Blank("ring", circle(0.0, 0.0, 200.0), (circle(0.0, 0.0, 150.0),), 1, (0.0,))
SHEET = StockSheet("s", 600.0, 400.0)


def discs(gap: float, spacing: float = 8.0, edge: float = 12.0) -> Layout:
    """Two discs along a line of slope 3 : 4, so that their distance is known [mm]."""
    away = 100.0 + gap
    puts = (Put("disc", 1, "s", 1, 70.0, 70.0, 0.0), Put("disc", 2, "s", 1, 70.0 + 0.6 * away, 70.0 + 0.8 * away, 0.0))
    return Layout(puts, (), spacing, edge)


def test_two_discs_at_the_spacing_are_right():
    assert measure.faults_of(discs(8.0), [DISC], [SHEET]) == ()
    assert measure.faults_of(discs(7.992), [DISC], [SHEET]) == ()


@pytest.mark.parametrize("gap", [7.985, 0.0, -1.0, -99.0])
def test_two_discs_nearer_than_the_spacing_are_told(gap):
    (said,) = measure.faults_of(discs(gap), [DISC], [SHEET])
    number = float(said.split(" are ")[1].split(" mm apart")[0])
    assert abs(number - max(gap, 0.0)) <= 0.011


def test_a_disc_in_an_opening_is_right_only_with_the_spacing_round_it():
    one = replace(DISC, quantity=1)
    puts = (Put("ring", 1, "s", 1, 200.0, 200.0, 0.0), Put("disc", 1, "s", 1, 200.0, 200.0, 0.0))
    assert measure.faults_of(Layout(puts, (), 25.0, 10.0), [one, RING], [SHEET]) == ()
    (said,) = measure.faults_of(Layout(puts, (), 25.05, 10.0), [one, RING], [SHEET])
    assert "25.00 mm apart" in said


@pytest.mark.parametrize(
    ("spoil", "words"),
    [
        (lambda p: replace(p, x=61.98), "edge"),
        (lambda p: replace(p, y=400.0 - 61.98), "edge"),
        (lambda p: replace(p, angle=90.0), "turned by 90 deg"),
        (lambda p: replace(p, number=2), "no sheet s #2"),
        (lambda p: replace(p, sheet="t"), "no sheet t #1"),
        (lambda p: replace(p, copy=2), "every copy"),
    ],
)
def test_each_thing_that_can_be_wrong_with_one_part_is_told(spoil, words):
    found = discs(30.0)
    first = replace(found.puts[0], x=62.0, y=62.0)
    assert measure.faults_of(replace(found, puts=(first, found.puts[1])), [DISC], [SHEET]) == ()
    said = measure.faults_of(replace(found, puts=(spoil(first), found.puts[1])), [DISC], [SHEET])
    assert words in " ".join(said)


def test_a_copy_that_is_told_nowhere_is_a_fault():
    found = discs(8.0)
    assert measure.faults_of(replace(found, puts=found.puts[:1]), [DISC], [SHEET])
    assert measure.faults_of(replace(found, puts=found.puts[:1], unplaced=(("disc", 2),)), [DISC], [SHEET]) == ()


def test_used_area_and_steel_are_those_of_plane_geometry():
    found = discs(8.0)
    reach = 70.0 + 0.6 * 108.0 + 50.0
    assert measure.area_used(found, [DISC], [SHEET]) == pytest.approx((reach + 8.0) * 400.0)
    assert measure.steel_area(found, [DISC]) == pytest.approx(2.0 * math.pi * 50.0**2)


def test_the_off_cut_begins_beyond_the_last_part_and_its_spacing():
    found = discs(8.0)
    x0, y0, x1, y1 = bounds(remnants.off_cut(found.puts, [DISC], SHEET, 8.0))
    assert (x0, y0, x1, y1) == pytest.approx((70.0 + 0.6 * 108.0 + 50.0 + 8.0, 0.0, 600.0, 400.0))
    assert remnants.off_cut(found.puts, [DISC], replace(SHEET, width=190.0), 8.0) == ()


def test_the_largest_rectangle_left_is_free_and_misses_little():
    block = Blank("block", rectangle(0.0, 0.0, 500.0, 100.0))
    puts = [Put("block", 1, "s", 1, 10.0, 10.0, 0.0)]
    left = remnants.largest_left(puts, [block], SHEET, 8.0)
    x0, y0, x1, y1 = bounds(left)
    assert box(x0, y0, x1, y1).distance(polygon(puts[0], block)) >= 8.0
    whole = 600.0 * (400.0 - 118.0)  # above the block, over the whole length
    assert 0.97 * whole <= abs(signed_area(left)) <= whole
    assert not remnants.largest_left(
        [Put("all", 1, "s", 1, 0.0, 0.0, 0.0)], [Blank("all", rectangle(0, 0, 600, 400))], SHEET, 8.0
    )
