"""Sheets of a tiling lap, agree with each other, and leave out what carries nothing."""

import math
import re
from dataclasses import replace

import pytest

from fixturegen.pages import PAPERS, Figure, Pen, TitleBlock, Window, Words, read_pdf
from fixturegen.plate import Hole, Part, Profile, Vertex
from fixturegen.plate.profile import Purpose, rectangle
from fixturegen.templates.blanks import blank_of
from fixturegen.templates.template import Template
from fixturegen.templates.tiles import book_of
from fixturegen.templates.tiling import LAP, RIM, Tile, Tiling, row_letters, tiling_of, turned_points, window_of
from tests.templates.toys import big

LETTER = PAPERS["letter"]


def _read(part, paper=LETTER):
    template = blank_of(part, "in")
    tiling = tiling_of(template.area, paper)
    book, proofs = book_of(template, tiling, TitleBlock("job"), paper)
    return tiling, read_pdf(book.pdf()).pages, proofs


def test_rows_are_lettered_as_columns_of_a_ledger():
    assert [row_letters(n) for n in (0, 1, 25, 26, 27, 51, 52)] == ["A", "B", "Z", "AA", "AB", "AZ", "BA"]


@pytest.mark.parametrize("paper", list(PAPERS.values()), ids=list(PAPERS))
def test_each_point_of_the_part_is_on_some_sheet_and_neighbours_share_the_lap(paper):
    tiling = tiling_of(blank_of(big(), "in").area, paper)
    assert tiling.seams and tiling.whole()
    for seam in tiling.seams:
        a, b = seam.first.box, seam.second.box
        shared = a[2] - b[0] if seam.x0 == seam.x1 else b[3] - a[1]
        assert shared == pytest.approx(LAP)
    for x, y in blank_of(big(), "in").area:
        p, q = (-y, x) if tiling.turned else (x, y)
        assert any(b[0] <= p <= b[2] and b[1] <= q <= b[3] for b in (t.box for t in tiling.tiles))


def test_a_part_that_just_fits_takes_one_sheet_and_a_hair_more_takes_two():
    x0, y0, x1, y1 = window_of(LETTER)
    wide, high = x1 - x0 - 2 * RIM, y1 - y0 - 2 * RIM
    for more, count in ((0.0, 1), (0.1, 2)):
        loop = rectangle(0.0, 0.0, wide + more, high + more)
        assert len(tiling_of(loop_points(loop), LETTER).tiles) >= count
        assert (len(tiling_of(loop_points(loop), LETTER).tiles) == 1) is (count == 1)


def loop_points(loop):
    return tuple((v.x, v.y) for v in loop)


def test_a_long_part_gets_paper_that_lies_or_is_turned_when_that_saves_a_sheet():
    def lies(wide, high):
        tiling = tiling_of(loop_points(rectangle(0, 0, wide, high)), LETTER)
        assert len(tiling.tiles) == 1
        return tiling.lying, tiling.turned

    assert lies(100.0, 190.0) == (False, False)
    assert lies(240.0, 100.0) == (True, False)  # too wide for upright paper
    assert lies(190.0, 150.0) == (False, True)  # and too high for paper that lies


def test_sheets_that_no_steel_lies_under_are_left_out_and_the_map_shows_the_others():
    tiling, pages, proofs = _read(big())
    points = turned_points(blank_of(big(), "in").area, tiling.turned)
    x0, y0, x1, y1 = window_of(LETTER.lying if tiling.lying else LETTER)
    across, up = (max(v) - min(v) + 2 * RIM - LAP for v in zip(*points, strict=True))
    grid = math.ceil(across / (x1 - x0 - LAP)) * math.ceil(up / (y1 - y0 - LAP))
    assert len(tiling.tiles) < grid
    text = pages[0].text
    assert all(t.name in text for t in tiling.tiles)
    assert len(pages) == len(proofs)


def test_laid_together_the_sheets_give_the_distance_of_holes_on_different_sheets():
    holes = (Hole(20.0, 20.0, 10.0, Purpose.BOLT), Hole(320.0, 20.0, 10.0, Purpose.BOLT))
    part = Part("long", "long bar", "toys", "plate", 6.0, profile=Profile(rectangle(0, 0, 340, 40), (), holes))
    tiling, pages, _ = _read(part)
    assert len(tiling.tiles) == 2
    # as a person does: crosses of one name laid on each other, from what is read on the two sheets
    marks = []
    for page in pages[:2]:
        rings = sorted(((x, y) for x, y, d in page.circles() if abs(d - 3.0) < 0.01), key=lambda p: (p[1], p[0]))
        assert len(rings) == 2
        marks.append(rings)
    shift = [a - b for a, b in zip(marks[0][0], marks[1][0], strict=True)]
    again = [a - b for a, b in zip(marks[0][1], marks[1][1], strict=True)]
    assert shift == pytest.approx(again, abs=0.01)
    spots = [next((x, y) for x, y, d in page.circles() if abs(d - 10.0) < 0.01) for page in pages[:2]]
    seen = [[(x, y) for x, y, d in page.circles() if abs(d - 10.0) < 0.01] for page in pages[:2]]
    assert [len(s) for s in seen] == [1, 1]
    there = (spots[1][0] + shift[0], spots[1][1] + shift[1])
    assert math.dist(spots[0], there) == pytest.approx(300.0, abs=0.05)


def test_names_of_match_marks_stand_on_both_sheets():
    tiling, pages, _ = _read(big())
    first = tiling.tiles[0]
    other = next(s.second for s in tiling.seams if s.first == first)
    names = [f"{first.name}-{other.name} {letter}" for letter in "ab"]
    on = [page.text for page in pages]
    for name in names:
        assert sum(name in text for text in on) == 2


def _taper():
    loop = ((0.0, 0.0, 0.0), (60.0, 0.0, 0.0), (300.0, 500.0, 0.0), (0.0, 500.0, 0.0))
    return Part("taper", "taper", "toys", "plate", 6.0, profile=Profile(tuple(Vertex(*v) for v in loop), (), ()))


def test_each_row_begins_where_its_steel_begins_so_that_a_taper_takes_no_sheet_for_a_sliver():
    area = blank_of(_taper(), "in").area
    tiling = tiling_of(area, LETTER)
    x0, y0, x1, y1 = window_of(LETTER)
    # in straight columns: 2 across, 3 up; its lowest third is narrower than one sheet
    assert (math.ceil((308 - LAP) / (x1 - x0 - LAP)), math.ceil((508 - LAP) / (y1 - y0 - LAP))) == (2, 3)
    assert len(tiling.tiles) <= 5 and tiling.whole()
    for x, y in turned_points(area, tiling.turned):
        assert any(t.box[0] <= x <= t.box[2] and t.box[1] <= y <= t.box[3] for t in tiling.tiles)


def test_crosses_of_one_name_have_one_place_on_the_steel_whichever_sheet_shows_them():
    tiling, pages, proofs = _read(_taper())
    (start,) = turned_points(((0.0, 0.0),), tiling.turned)
    found = {tile: [] for tile in tiling.tiles}
    for tile, page, proof in zip(tiling.tiles, pages, proofs, strict=False):
        shift = (proof.start[0] - start[0], proof.start[1] - start[1])
        found[tile] = [(x - shift[0], y - shift[1]) for x, y, d in page.circles() if abs(d - 3.0) < 0.01]
    for seam in tiling.seams:
        for mark in seam.marks:
            for tile in (seam.first, seam.second):
                assert min(math.dist(mark, spot) for spot in found[tile]) < 0.02


def test_sheets_that_nothing_tapes_together_are_no_tiling():
    far = Tiling(False, False, (Tile(0, 0, (0.0, 0.0, 100.0, 100.0)), Tile(0, 1, (300.0, 0.0, 400.0, 100.0))))
    near = Tiling(False, False, (Tile(0, 0, (0.0, 0.0, 100.0, 100.0)), Tile(0, 1, (90.0, 0.0, 190.0, 100.0))))
    assert near.whole() and not far.whole()


def test_a_hole_table_stands_on_a_sheet_that_has_room_and_on_a_page_of_its_own_where_none_has():
    holes = (Hole(20.0, 20.0, 10.0, Purpose.BOLT), Hole(320.0, 20.0, 10.0, Purpose.BOLT))
    low = Part("low", "low bar", "toys", "plate", 6.0, profile=Profile(rectangle(0, 0, 340, 40), (), holes))
    high = replace(low, profile=Profile(rectangle(0, 0, 340, 190), (), holes))
    tiling, pages, proofs = _read(low)
    assert len(pages) == len(proofs) == len(tiling.tiles)
    assert sum("How it is made" in page.text for page in pages) == 1
    on = next(k for k, page in enumerate(pages) if "How it is made" in page.text)
    assert f"Holes: sheet {tiling.tiles[on].name}" in pages[0].text
    # nothing of the table over the drawing: its words stand clear of the bar and of the lap
    bar = next(p.box for p in pages[on].paths if p.closed and abs(p.length - 760.0) < 0.05)
    told = [w.box for w in pages[on].words if "How it is made" in w.text]
    assert told and all(box[3] < bar[1] or box[1] > bar[3] for box in told)
    tiling, pages, _ = _read(high)
    assert len(pages) == len(tiling.tiles) + 1 and "the last page" in pages[0].text


def test_no_number_of_a_hole_is_cut_by_the_rim_of_a_sheet():
    holes = tuple(Hole(10.0 + 20.0 * k, 20.0, 6.0, Purpose.BOLT) for k in range(17))
    part = Part("row", "row", "toys", "plate", 6.0, profile=Profile(rectangle(0, 0, 340, 40), (), holes))
    _, pages, _ = _read(part)
    window = window_of(LETTER.lying if pages[0].width > pages[0].height else LETTER)
    seen = []
    for page in pages:
        for word in page.words:
            match = re.fullmatch(r"(\d+)(  ?0\.236 in)?", word.text.strip())
            if match and window[1] < word.box[1] and word.box[3] < window[3]:
                seen.append(int(match[1]))
                assert window[0] - 0.5 <= word.box[0] and word.box[2] <= window[2] + 0.5
    assert set(seen) >= set(range(1, 18))


def test_lettering_is_never_on_its_head_when_the_drawing_is_turned():
    figure = Figure()
    figure.loop(rectangle(0.0, 0.0, 190.0, 150.0), Pen(0.5), "outline")
    figure.text(100.0, 50.0, "LAP", 3.0, "middle", 90.0)
    template = Template("x", "x", figure, loop_points(rectangle(0.0, 0.0, 190.0, 150.0)), ())
    tiling = tiling_of(template.area, LETTER)
    assert tiling.turned
    book, _ = book_of(template, tiling, TitleBlock("job"), LETTER)
    words = [i for w in book.pages[0].items if isinstance(w, Window) for i in w.items if isinstance(i, Words)]
    assert [w.angle % 360.0 for w in words] == [0.0]


def test_a_place_over_a_lap_a_cross_or_the_rim_of_a_sheet_is_not_clear():
    tiles = (Tile(0, 0, (0.0, 0.0, 100.0, 200.0)), Tile(0, 1, (100.0 - LAP, 0.0, 200.0, 200.0)))
    tiling = Tiling(False, False, tiles)
    middle = 100.0 - LAP / 2.0
    assert tiling.clear(20.0, 90.0, 40.0, 95.0)
    assert not tiling.clear(middle - 10.0, 90.0, middle + 1.0, 95.0)  # over the line
    assert not tiling.clear(middle - 12.0, 38.0, middle - 5.0, 42.0)  # beside a cross, where its name stands
    assert not tiling.clear(-1.0, 90.0, 10.0, 95.0)  # half off the sheet
    turned = Tiling(True, False, tiles)
    assert turned.clear(90.0, -40.0, 95.0, -20.0) and not turned.clear(90.0, -middle - 1.0, 95.0, -middle + 10.0)
