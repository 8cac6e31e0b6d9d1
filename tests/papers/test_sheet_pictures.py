"""The picture of a sheet, read again as XML and laid over the steel with a general geometry library."""

import dataclasses
import tomllib
import xml.etree.ElementTree as ET

import pytest
from shapely.geometry import Polygon, box

from fixturegen.papers.sheet_pictures import sheet_svg
from fixturegen.papers.sheet_tables import minutes, remnant_text, sheet_card
from fixturegen.plate.placed import CutSheet, Placed, SheetFigures, placed_loop
from fixturegen.plate.profile import polyline
from fixturegen.sheet.specs import StockSheet
from fixturegen.studies.cut_costs import CutWork
from tests.write.toys import plate_part

SVG = "{http://www.w3.org/2000/svg}"
PART = plate_part("plate-a", quantity=2)
SHEET = CutSheet(
    3,
    "left <over> & more",
    900.0,
    400.0,
    9.4,
    "a36",
    "length",
    (Placed(PART, 20.0, 20.0, 0.0, 1), Placed(PART, 350.0, 20.0, 90.0, 2, "face-plate")),
    10.0,
    12.0,
    360.0,
    price=80.0,
    plate="3/8 in",
)


def texts(svg):
    return [(t.text, t.attrib) for t in ET.fromstring(svg).iter(f"{SVG}text")]


def test_every_part_has_its_order_and_its_name_on_its_own_steel():
    svg = sheet_svg(SHEET)
    for i, put in enumerate(SHEET.placed, 1):
        (found,) = [(t, a) for t, a in texts(svg) if t.startswith(f"{i}  plate-a")]
        text, at = found
        steel = Polygon(
            polyline(placed_loop(put, PART.profile.outer), 0.01),
            [polyline(placed_loop(put, loop), 0.01) for loop in PART.profile.inner],
        )
        x, y, high = float(at["x"]), -float(at["y"]), float(at["font-size"])
        half = 0.25 * len(text) * high  # letters are at least half as wide as high (common practice, no source)
        upright = at["transform"].startswith("rotate(-90")
        word = (
            box(x - high / 3, y - half, x + high / 3, y + half)
            if upright
            else box(x - half, y - high / 3, x + half, y + high / 3)
        )
        assert steel.contains(word)


def test_words_of_the_person_are_escaped_and_the_rest_is_told():
    svg = sheet_svg(SHEET)
    words = [t for t, _ in texts(svg)]
    assert any("left <over> & more" in w for w in words)
    assert "LEFT: 21.3 x 15.7 in" in words  # (900 - 360) / 25.4 = 21.26, 400 / 25.4 = 15.75
    assert "LEFT: 540 x 400 mm" in [t for t, _ in texts(sheet_svg(SHEET, "mm"))]
    assert "ZERO" in words
    full = dataclasses.replace(SHEET, cut_to=895.0)
    assert not any(w.startswith("LEFT") for w, _ in texts(sheet_svg(full)))


def test_a_part_too_small_for_its_name_keeps_its_number():
    small = dataclasses.replace(SHEET, length=9000.0, width=4000.0)
    assert [t for t, _ in texts(sheet_svg(small)) if t in ("1", "2")] == ["1", "2"]


def test_the_table_says_where_each_part_lies_by_tape():
    card = sheet_card(
        SheetFigures(SHEET, {"dxf": "cut/sheet-03_in.dxf"}, CutWork(8, 1219.2, 0, 0), 130.0, 0.5, 10.0, 40.0), "in"
    )
    first, second = card.rows
    assert first[2:4] == ("13/16 in (-0.025)", "13/16 in (-0.025)")  # 20 mm is 0.787 in
    assert "copy 2 of 2" in second[1]
    assert "opening of face-plate" in second[1]
    assert second[4] == "90 deg"
    assert "4 ft of cut" in card.caption  # 1219.2 mm is 4 ft
    assert "40 of its price of 80" in card.caption
    assert "about 2 min" in card.caption


@pytest.mark.parametrize("units", ["in", "mm"])
def test_the_remnant_is_written_as_a_sheet_and_never_said_larger_than_it_is(units):
    (said,) = tomllib.loads(remnant_text(SHEET, units))["sheets"]
    stock = StockSheet.model_validate(said)
    assert 540.0 - 3.0 < stock.length <= 540.0 + 1e-6
    assert 400.0 - 3.0 < stock.width <= 400.0 + 1e-6
    assert stock.grain == "length"
    assert remnant_text(dataclasses.replace(SHEET, cut_to=899.0), units) == ""


def test_times_are_said_as_at_a_machine():
    assert [minutes(t) for t in (10.0, 150.0, 3600.0, 5400.0)] == ["1 min", "2 min", "1 h 00 min", "1 h 30 min"]
