"""Sheets of a tiling lap, agree with each other, and leave out what carries nothing."""

import math

import pytest

from fixturegen.pages import PAPERS, TitleBlock, read_pdf
from fixturegen.plate import Hole, Part, Profile
from fixturegen.plate.profile import Purpose, rectangle
from fixturegen.templates.blanks import blank_of
from fixturegen.templates.tiles import LAP, RIM, book_of, row_letters, tiling_of, window_of
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
    for a in tiling.tiles:
        right = tiling.tile(a.row, a.column + 1)
        below = tiling.tile(a.row + 1, a.column)
        if right:
            assert a.box[2] - right.box[0] == pytest.approx(LAP)
        if below:
            assert below.box[3] - a.box[1] == pytest.approx(LAP)
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


def test_a_long_part_is_turned_when_that_saves_paper():
    assert tiling_of(loop_points(rectangle(0, 0, 190.0, 100.0)), LETTER).turned  # too wide across, not along
    assert not tiling_of(loop_points(rectangle(0, 0, 100.0, 190.0)), LETTER).turned


def test_sheets_that_no_steel_lies_under_are_left_out_and_the_map_shows_the_others():
    tiling, pages, proofs = _read(big())
    assert len(tiling.tiles) < tiling.rows * tiling.columns
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
    other = tiling.tile(0, 1) or tiling.tile(1, 0)
    names = [f"{first.name}-{other.name} {letter}" for letter in "ab"]
    on = [page.text for page in pages]
    for name in names:
        assert sum(name in text for text in on) == 2
