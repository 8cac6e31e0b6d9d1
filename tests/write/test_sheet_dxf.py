"""Whole sheets as files, read by GDAL and by ourselves; every fault of such a file is found."""

import dataclasses
import io
from pathlib import Path

import ezdxf
import pytest

from fixturegen.plate.placed import CutSheet, Placed
from fixturegen.plate.profile import signed_area
from fixturegen.write import sheet_files
from fixturegen.write.dxf import Units
from fixturegen.write.file_rules import FileRules
from fixturegen.write.sheet_dxf import remnant_dxf_bytes, sheet_dxf_bytes, sheet_faults
from tests.write.test_dxf import by_gdal, polygons
from tests.write.toys import OUTSIDE_AREA, plate_part

PART = plate_part(quantity=2)
SHEET = CutSheet(
    4, "full sheet", 900.0, 400.0, 9.4, "a36", "length",
    (Placed(PART, 20.0, 20.0, 0.0, 1), Placed(PART, 350.0, 30.0, 90.0, 2)),
    10.0, 12.0, 360.0, 80.0,
)  # fmt: skip
DIALECTS = [("plain", "R2000"), ("plain", "R12"), ("polyline", "R2000"), ("polyline", "R12")]


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("lead", [None, 9.4])
@pytest.mark.parametrize(("entities", "version"), DIALECTS)
def test_a_sheet_is_read_back_in_every_dialect(entities: str, version: str, lead: float | None, units: Units) -> None:
    rules = FileRules(entities, version, lead=lead)  # type: ignore[arg-type]  # the two lists above
    assert sheet_faults(SHEET, units, 0.0, sheet_dxf_bytes(SHEET, units, 0.0, rules), rules) == []


def test_another_reader_finds_both_parts_where_they_lie(tmp_path: Path) -> None:
    layers = by_gdal(tmp_path, sheet_dxf_bytes(SHEET, "mm", 0.0, FileRules()))
    found = polygons(layers["CUT_OUT"], 1e-7)
    assert [p.area for p in found] == pytest.approx([OUTSIDE_AREA, OUTSIDE_AREA], rel=1e-6)
    boxes = sorted(p.bounds for p in found)
    # the plate is 200 x 100 mm; turned by a quarter it lies left of its origin
    assert boxes[0] == pytest.approx((20.0, 20.0, 220.0, 120.0), abs=1e-6)
    assert boxes[1] == pytest.approx((250.0, 30.0, 350.0, 230.0), abs=1e-6)


def moved(data: bytes, layer: str) -> bytes:
    document = ezdxf.read(io.StringIO(data.decode()))
    circle = next(e for e in document.modelspace() if e.dxf.layer == layer and e.dxftype() == "CIRCLE")
    circle.dxf.center = (circle.dxf.center.x + 0.01, circle.dxf.center.y)
    out = io.StringIO()
    document.write(out)
    return out.getvalue().encode()


def test_cut_10_a_hole_a_hundredth_out_of_place_and_a_part_that_is_missing_are_found() -> None:
    assert sheet_files.CODE == "CUT-10"
    rules = FileRules()
    data = sheet_dxf_bytes(SHEET, "mm", 0.0, rules)
    assert sheet_faults(SHEET, "mm", 0.0, data, rules) == []
    assert any("missing on CUT_IN" in f for f in sheet_faults(SHEET, "mm", 0.0, moved(data, "CUT_IN"), rules))
    one = dataclasses.replace(SHEET, placed=SHEET.placed[:1])
    assert any("is no part's" in f for f in sheet_faults(one, "mm", 0.0, data, rules))
    assert any(
        "missing on CUT_OUT" in f for f in sheet_faults(SHEET, "mm", 0.0, sheet_dxf_bytes(one, "mm", 0.0, rules), rules)
    )


def test_a_kerf_in_the_file_makes_outsides_larger_by_half_of_it_all_round(tmp_path: Path) -> None:
    data = sheet_dxf_bytes(SHEET, "mm", 2.0, FileRules())
    assert sheet_faults(SHEET, "mm", 2.0, data, FileRules()) == []
    box = sorted(p.bounds for p in polygons(by_gdal(tmp_path, data)["CUT_OUT"], 1e-7))[0]
    assert box == pytest.approx((19.0, 19.0, 221.0, 121.0), abs=1e-6)


def test_a_part_in_anothers_opening_is_cut_before_that_opening() -> None:
    small = plate_part("small")
    sheet = dataclasses.replace(
        SHEET, placed=(Placed(small, 500.0, 20.0, 0.0, 1, "plate-a"), Placed(PART, 20.0, 20.0, 0.0, 1))
    )
    document = ezdxf.read(io.StringIO(sheet_dxf_bytes(sheet, "mm", 0.0, FileRules("polyline")).decode()))
    lines = [e for e in document.modelspace() if e.dxftype() == "LWPOLYLINE"]
    order = [(e.dxf.layer, min(x for x, *_ in e) > 400.0) for e in lines]
    assert order == [("CUT_IN", True), ("CUT_OUT", True), ("CUT_IN", False), ("CUT_OUT", False)]


def test_the_remnant_is_the_strip_beyond_the_last_cut(tmp_path: Path) -> None:
    (strip,) = polygons(by_gdal(tmp_path, remnant_dxf_bytes(SHEET, "mm", FileRules()))["CUT_OUT"], 1e-7)
    assert strip.bounds == pytest.approx((360.0, 0.0, 900.0, 400.0))
    assert strip.area == pytest.approx(abs(signed_area(SHEET.remnant)))


def test_work_is_counted_by_hand() -> None:
    work = sheet_files.work_of(SHEET)
    # per plate: outline, slot and two cut holes; a pilot mark of two 1/8 in lines (see toys.py)
    assert work.pierces == 8
    around = 2 * (200.0 + 100.0) - 2 * 20.0 + 3.141592653589793 * 20.0 / 2.0
    slot = 2 * (40.0 + 9.6)
    holes = 3.141592653589793 * (17.0 + 13.5)
    assert work.cut_length == pytest.approx(2 * (around + slot + holes))
    assert work.mark_length > 2 * 2 * 3.175
