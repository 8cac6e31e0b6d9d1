"""Laws of a layout, looked at by shapely: no overlap, spacing, edges, grain, area, openings, sameness."""

import math
from dataclasses import replace

import pytest
from shapely.geometry import box

from fixturegen.nesting import measure, rectangles, steady
from fixturegen.nesting.records import Blank, StockSheet
from fixturegen.plate.profile import circle, rectangle
from tests.nesting.public_sets import SETS
from tests.nesting.shop import EDGE, HALF, PARTS, SHEETS, SPACING, STAND, WEDGE, polygon, short_distances, steel_on

SHORT = 0.01  # [mm] asked for: the spacing on the true outlines less this
CHORDS = 0.002  # [mm] the two parts' chords lie inside their arcs, or outside a hollow one, by 0.001 each


@pytest.fixture(scope="module")
def layout():
    return steady.nested(PARTS, SHEETS, SPACING, EDGE)


def test_no_two_parts_are_nearer_than_the_spacing(layout):
    assert short_distances(layout, PARTS, SHORT + CHORDS) == []


def test_every_part_keeps_the_edge_distance(layout):
    by_name, of_sheet = {b.name: b for b in PARTS}, {s.name: s for s in SHEETS}
    for put in layout.puts:
        sheet = of_sheet[put.sheet]
        inside = box(0.0, 0.0, sheet.width, sheet.height).buffer(-EDGE + SHORT, join_style="mitre")
        assert inside.contains(polygon(put, by_name[put.blank])), put


def test_every_copy_is_told_once_and_no_steel_is_lost(layout):
    told = sorted((p.blank, p.copy) for p in layout.puts) + sorted(layout.unplaced)
    assert sorted(told) == sorted((b.name, n) for b in PARTS for n in range(1, b.quantity + 1))
    areas = sum(steel_on(layout, PARTS, *key) for key in measure.on_sheets(layout))
    # rectangle, right triangle, L, stadium, and a rectangle less a segment: by plane geometry
    chord, sagitta = 140.0, 35.0
    radius = (chord**2 / 4.0 + sagitta**2) / (2.0 * sagitta)
    half = math.asin(chord / 2.0 / radius)
    segment = radius**2 * (half - math.sin(half) * math.cos(half))
    wanted = (
        2 * (400.0 * 300.0 - 280.0 * 180.0)
        + 6 * 180.0 * 120.0 / 2.0
        + 4 * (220.0 * 50.0 + 60.0 * 110.0 - math.pi * 10.0**2)
        + 5 * (120.0 * 60.0 + math.pi * 30.0**2 - math.pi * 15.0**2)
        + 3 * (140.0 * 90.0 - segment)
        + 8 * 45.0 * 25.0
    )
    assert areas == pytest.approx(wanted, rel=1e-4)


def test_the_grain_is_respected_on_sheets_rolled_either_way():
    for grain, allowed in (("x", {0.0, 180.0}), ("y", {90.0, 270.0}), ("", {0.0, 180.0})):
        blank = Blank("wedge", WEDGE, (), 4, HALF)
        found = steady.nested([blank], [StockSheet("s", 900.0, 600.0, 1, grain)], SPACING, EDGE)
        assert not found.unplaced
        assert {p.angle % 360.0 for p in found.puts} <= allowed


def test_a_part_that_fits_only_across_the_grain_is_not_laid_across_it():
    blank = Blank("bar", rectangle(0.0, 0.0, 500.0, 40.0), (), 1, HALF)
    found = steady.nested([blank], [StockSheet("s", 600.0, 300.0, 1, "y")], SPACING, EDGE)
    assert found.unplaced == (("bar", 1),)


def test_small_parts_lie_in_the_openings_of_larger_ones():
    tabs = Blank("tab", rectangle(0.0, 0.0, 60.0, 50.0), (), 4)
    sheet = StockSheet("s", 424.0, 324.0)  # the stand fills it
    found = steady.nested([replace(STAND, quantity=1), tabs], [sheet], SPACING, EDGE)
    assert not found.unplaced
    assert [p.inside for p in found.puts if p.blank == "tab"] == ["stand"] * 4
    assert short_distances(found, (STAND, tabs), SHORT) == []
    assert [p.blank for p in found.puts][-1] == "stand", "what lies in an opening is cut before its host"


def test_an_opening_too_small_for_part_and_spacing_stays_empty():
    ring = Blank("ring", circle(0.0, 0.0, 200.0), (circle(0.0, 0.0, 100.0),))
    disc = Blank("disc", circle(0.0, 0.0, 84.5))  # 7.75 mm all round, 8 asked for
    sheet = StockSheet("s", 224.0, 224.0)
    assert steady.nested([ring, disc], [sheet], SPACING, EDGE).unplaced == (("disc", 1),)


@pytest.mark.parametrize("way", [slice(None), slice(None, None, -1)])
def test_the_order_of_the_input_and_another_run_change_nothing(layout, way):
    turned_round = PARTS[3:] + PARTS[:3]
    assert steady.nested(turned_round[way], SHEETS[way], SPACING, EDGE) == layout


@pytest.mark.parametrize("name", SETS)
def test_public_sets_are_laid_out_true_and_never_longer_than_rectangles(name):
    chosen = SETS[name]
    blanks, strip = chosen.blanks, chosen.strip
    found = steady.nested(blanks, [strip], 0.0, 0.0)
    assert not found.unplaced
    assert short_distances(found, blanks, SHORT) == []
    assert steel_on(found, blanks, "strip", 1) == pytest.approx(
        chosen.density * chosen.best * chosen.height * chosen.scale**2, rel=1e-3
    )
    by_boxes = rectangles.by_rectangles(blanks, [strip], 0.0, 0.0)
    assert measure.area_used(found, blanks, [strip]) <= measure.area_used(by_boxes, blanks, [strip]) + 1e-3
    # nothing can be shorter than what its steel fills
    by_name = {b.name: b for b in blanks}
    assert measure.reach_of(found.puts, by_name) > chosen.density * chosen.best * chosen.scale


@pytest.mark.parametrize("name", SETS)
def test_public_sets_have_the_number_of_pieces_and_corners_published(name):
    # pieces and mean number of corners: Bennell and Oliveira 2008, tutorial in irregular packing, from memory
    pieces, mean = {"albano": (24, 7.25), "fu": (12, 3.58), "shapes1": (43, 8.75), "trousers": (64, 5.06)}[name]
    chosen = SETS[name]
    assert sum(n for n, _ in chosen.pieces) == pieces
    kinds = [len(c) for n, c in chosen.pieces for _ in range(n if name == "fu" else 1)]
    assert sum(kinds) / len(kinds) == pytest.approx(mean, abs=0.006)


def test_the_remnant_goes_before_the_sheet():
    blank = Blank("tab", rectangle(0.0, 0.0, 100.0, 80.0), (), 6)
    found = steady.nested([blank], SHEETS, SPACING, EDGE)
    assert {p.sheet for p in found.puts} == {"remnant"}


def test_a_full_sheet_goes_before_a_remnant_that_would_be_wasted():
    # a bar across the full sheet takes 120 of 2400 mm; along the remnant it would use all of it up
    blank = Blank("bar", rectangle(0.0, 0.0, 100.0, 670.0), (), 1)
    found = steady.nested([blank], SHEETS, SPACING, EDGE)
    assert {p.sheet for p in found.puts} == {"full"}


def test_what_finds_no_room_is_named_and_the_rest_is_laid_out():
    blank = Blank("plate", rectangle(0.0, 0.0, 300.0, 200.0), (), 3)
    found = steady.nested([blank], [StockSheet("s", 640.0, 230.0)], SPACING, EDGE)
    assert len(found.puts) == 2
    assert found.unplaced == (("plate", 3),)


def test_two_sheets_are_used_when_one_does_not_hold_all():
    blank = Blank("plate", rectangle(0.0, 0.0, 300.0, 200.0), (), 3)
    found = steady.nested([blank], [StockSheet("s", 640.0, 230.0, 2)], SPACING, EDGE)
    assert not found.unplaced
    assert sorted(measure.on_sheets(found)) == [("s", 1), ("s", 2)]


def test_much_more_spacing_never_takes_less_sheet():
    # a method that looks at few orders may win or lose a little: the law is looked at over wide steps
    used = [measure.area_used(steady.nested(PARTS, SHEETS[:1], s, EDGE), PARTS, SHEETS) for s in (2.0, 15.0, 40.0)]
    assert used == sorted(used)


def test_triangles_that_pair_up_take_less_than_their_rectangles():
    # two right triangles make one rectangle: half the sheet but for the spacing
    blank = Blank("wedge", WEDGE, (), 8)
    sheet = [StockSheet("s", 3000.0, 300.0)]
    found = measure.area_used(steady.nested([blank], sheet, 1.0, 5.0), [blank], sheet)
    boxes = measure.area_used(rectangles.by_rectangles([blank], sheet, 1.0, 5.0), [blank], sheet)
    assert found < 0.7 * boxes
