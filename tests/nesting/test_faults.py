"""What cannot be nested is told in one sentence that names it, what was given and what to do."""

import math
from dataclasses import replace

import pytest

from fixturegen.nesting.faults import faults_of
from fixturegen.nesting.records import Blank, StockSheet
from fixturegen.plate.profile import Vertex, rectangle

PART = Blank("arm", rectangle(0.0, 0.0, 300.0, 100.0))
SHEET = StockSheet("full", 600.0, 300.0, 1, "x")


def test_a_sound_job_has_no_fault():
    assert faults_of([PART], [SHEET], 8.0, 12.0) == ()


@pytest.mark.parametrize(
    ("blanks", "sheets", "spacing", "edge", "key"),
    [
        ([PART], [], 8.0, 12.0, "stock"),
        ([PART], [replace(SHEET, width=0.0)], 8.0, 12.0, "sheet.full.width"),
        ([PART], [replace(SHEET, height=-3.0)], 8.0, 12.0, "sheet.full.height"),
        ([PART], [replace(SHEET, width=math.nan)], 8.0, 12.0, "sheet.full.width"),
        ([PART], [replace(SHEET, count=0)], 8.0, 12.0, "sheet.full.count"),
        ([PART], [SHEET, SHEET], 8.0, 12.0, "sheet.full"),
        ([PART, PART], [SHEET], 8.0, 12.0, "part.arm"),
        ([replace(PART, quantity=0)], [SHEET], 8.0, 12.0, "part.arm.quantity"),
        ([replace(PART, turns=())], [SHEET], 8.0, 12.0, "part.arm.turns"),
        ([PART], [SHEET], -1.0, 12.0, "spacing"),
        ([PART], [SHEET], 8.0, math.inf, "edge"),
        ([replace(PART, outer=rectangle(0.0, 0.0, 577.0, 100.0))], [SHEET], 8.0, 12.0, "part.arm"),
        ([replace(PART, outer=(Vertex(0, 0), Vertex(10, 0), Vertex(20, 0)))], [SHEET], 8.0, 12.0, "part.arm"),
        ([replace(PART, openings=((Vertex(0, 0), Vertex(math.nan, 0)),))], [SHEET], 8.0, 12.0, "part.arm"),
    ],
)
def test_each_fault_is_one_sentence_about_its_key(blanks, sheets, spacing, edge, key):
    found = faults_of(blanks, sheets, spacing, edge)
    assert [f.key for f in found] == [key]
    sentence = found[0].sentence()
    assert sentence.startswith(key)
    assert sentence.count(". ") == 0
    assert sentence.endswith(".")


def test_a_part_that_just_fits_is_no_fault_and_the_edge_counts():
    just = replace(PART, outer=rectangle(0.0, 0.0, 576.0, 276.0), turns=(0.0,))
    assert faults_of([just], [SHEET], 8.0, 12.0) == ()
    assert faults_of([just], [SHEET], 8.0, 12.1)


def test_the_grain_can_make_a_part_too_large():
    long = replace(PART, outer=rectangle(0.0, 0.0, 500.0, 50.0), turns=(0.0, 180.0))
    assert faults_of([long], [SHEET], 8.0, 12.0) == ()
    assert faults_of([long], [replace(SHEET, grain="y")], 8.0, 12.0)


def test_a_part_too_large_does_not_hide_the_others():
    big = Blank("big", rectangle(0.0, 0.0, 900.0, 900.0))
    assert [f.key for f in faults_of([big, PART], [SHEET], 8.0, 12.0)] == ["part.big"]
