"""What nesting keeps to: the sheet before the table, and the thickness before too small a spacing."""

import pytest

from fixturegen.studies.nesting_rules import nesting_rules, plate_of, sheets_of, used_up
from tests.studies.study_jobs import sheet_of

INCH = 25.4


def rules(index=0, **wishes):
    sheet = sheet_of(nesting=wishes)
    return nesting_rules(sheet, sheet.plates[index])


def test_spacing_is_the_table_or_the_thickness_whichever_is_more():
    # table: 3/8 in between parts, 1/2 in to the edge; plates of 0.503 in and 0.251 in (common practice, no source)
    assert rules(0).spacing == pytest.approx(0.503 * INCH)
    assert rules(2).spacing == pytest.approx(0.375 * INCH)
    assert rules(0).edge == pytest.approx(0.5 * INCH)


def test_what_the_sheet_gives_wins():
    given = rules(0, spacing="1/4 in", edge="1 in", turn="half-turns", parts_in_holes=False)
    assert (given.spacing, given.edge) == (pytest.approx(0.25 * INCH), INCH)
    assert given.turns == (0.0, 180.0)
    assert not given.in_holes
    assert given.spacing_words == "nesting.spacing"


def test_sheets_are_those_of_the_plate_that_are_there():
    stock = [
        {"name": "a", "plate": "1/2 in", "length": "48 in", "width": "24 in"},
        {"name": "b", "plate": "12.7 mm", "length": "10 in", "width": "24 in"},
        {"name": "c", "plate": "3/8 in", "length": "48 in", "width": "24 in"},
        {"name": "d", "plate": "1/2 in", "length": "48 in", "width": "24 in", "count": 0},
    ]
    sheet = sheet_of(sheets=stock)
    assert [s.name for s in sheets_of(sheet, sheet.plates[0])] == ["a", "b"]
    assert [s.name for s in used_up(sheet)] == ["d"]


def test_a_part_finds_its_plate_by_the_measured_thickness():
    sheet = sheet_of()
    assert plate_of(sheet, 0.503 * INCH) == sheet.plates[0]
    assert plate_of(sheet, 0.5 * INCH) is None
