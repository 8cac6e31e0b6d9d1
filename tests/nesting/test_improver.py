"""Better layouts stay true layouts: looked at by shapely, never worse than what they began with, kept on Ctrl-C.

How long a strip becomes depends on the machine; that is judged in `tests/long`.
"""

import _thread
import threading
from dataclasses import replace

import pytest

from fixturegen.nesting import improver, measure, openings, rectangles, steady
from fixturegen.nesting.records import Blank, StockSheet
from fixturegen.plate.profile import rectangle
from tests.nesting.public_sets import SETS
from tests.nesting.shop import EDGE, PARTS, SHEETS, SPACING, STAND, WEDGE, short_distances, steel_on

SHORT = 0.012  # [mm] 0.01 asked for, and chords of 0.001 in each part
SECONDS = 2.5


@pytest.mark.parametrize("name", ["albano", "fu", "shapes1"])
def test_public_sets_stay_true_and_never_get_longer(name):
    chosen = SETS[name]
    blanks, sheets = chosen.blanks, (chosen.strip,)
    start = steady.nested(blanks, sheets, 0.0, 0.0)
    found = improver.improved(start, blanks, sheets, SECONDS)
    assert short_distances(found, blanks, SHORT) == []
    assert measure.area_used(found, blanks, sheets) <= measure.area_used(start, blanks, sheets)
    wanted = chosen.density * chosen.best * chosen.height * chosen.scale**2
    assert steel_on(found, blanks, "strip", 1) == pytest.approx(wanted, rel=1e-3)
    assert not found.unplaced


def test_several_sheets_grain_and_openings_are_kept():
    small = (StockSheet("full", 900.0, 500.0, 4, "y"), SHEETS[1])
    start = steady.nested(PARTS, small, SPACING, EDGE)
    told = []
    found = improver.improved(start, PARTS, small, 4.0, lambda share, best: told.append((share, best)))
    assert measure.faults_of(found, PARTS, small) == ()
    assert short_distances(found, PARTS, SHORT) == []
    assert len(found.unplaced) <= len(start.unplaced)
    assert all(0.0 <= share <= 1.0 for share, _ in told)
    areas = [measure.area_used(best, PARTS, small) for _, best in told]
    assert areas == sorted(areas, reverse=True)


def test_without_time_the_layout_is_the_one_it_began_with():
    start = steady.nested(PARTS, SHEETS, SPACING, EDGE)
    assert improver.improved(start, PARTS, SHEETS, 0.0) == start


def test_one_part_alone_is_left_where_it_is():
    blank = Blank("wedge", WEDGE)
    start = steady.nested([blank], SHEETS, SPACING, EDGE)
    assert improver.improved(start, [blank], SHEETS, 5.0) == start


def test_a_false_layout_of_the_library_is_thrown_away(monkeypatch):
    blanks = (Blank("wedge", WEDGE, (), 6),)
    sheets = (StockSheet("s", 2000.0, 400.0),)
    start = steady.nested(blanks, sheets, SPACING, EDGE)
    lay = improver._layout_of

    def spoilt(*given):
        found = lay(*given)
        return replace(found, puts=tuple(replace(p, x=0.8 * p.x) for p in found.puts))

    monkeypatch.setattr(improver, "_layout_of", spoilt)
    assert improver.improved(start, blanks, sheets, 1.5) == start


def test_ctrl_c_gives_the_best_so_far():
    blanks = (Blank("wedge", WEDGE, (), 7), Blank("bar", rectangle(0.0, 0.0, 210.0, 35.0), (), 5))
    sheets = (StockSheet("s", 2000.0, 400.0),)
    start = steady.nested(blanks, sheets, SPACING, EDGE)
    told = []
    # as Ctrl-C does: the main thread is interrupted wherever it is
    timer = threading.Timer(1.5, _thread.interrupt_main)
    timer.start()
    try:
        found = improver.improved(start, blanks, sheets, 4.0, lambda share, best: told.append(best))
    finally:
        timer.cancel()
    assert measure.faults_of(found, blanks, sheets) == ()
    assert found == (told[-1] if told else start)


def test_small_parts_are_moved_into_openings_that_stand_empty():
    tabs = Blank("tab", rectangle(0.0, 0.0, 60.0, 50.0), (), 3, (0.0, 180.0))
    blanks = (replace(STAND, quantity=1), tabs)
    sheets = (StockSheet("s", 2000.0, 330.0, 1, "y"),)
    beside = rectangles.by_rectangles(blanks, sheets, SPACING, EDGE)
    found = openings.into_openings(beside, blanks, sheets)
    assert [p.inside for p in found.puts if p.blank == "tab"] == ["stand"] * 3
    assert {p.angle for p in found.puts if p.blank == "tab"} <= {90.0, 270.0}
    assert measure.faults_of(found, blanks, sheets) == ()
    assert short_distances(found, blanks, SHORT) == []
    assert measure.area_used(found, blanks, sheets) < measure.area_used(beside, blanks, sheets)
