"""Leads on a full sheet: none into a neighbour, none off the plate; looked at with shapely, and by the read-back."""

import dataclasses
import io
import itertools
import math
from pathlib import Path
from typing import Any

import ezdxf
import pytest
import shapely

from fixturegen.plate import Part, Profile
from fixturegen.plate.placed import CutSheet, Placed, placed_part
from fixturegen.plate.profile import circle, polyline, rectangle, reversed_loop
from fixturegen.write import dxf
from fixturegen.write.content import read_dxf
from fixturegen.write.drawing import Drawing
from fixturegen.write.file_rules import FileRules
from fixturegen.write.sequence import runs
from fixturegen.write.sheet_dxf import sheet_dxf_bytes, sheet_faults
from tests.write.test_dxf import by_gdal, polygons
from tests.write.toys import OUTSIDE_AREA, plate_part

GAP = 10.0  # between parts; less than a lead and the room of its pierce
LEAD = 9.4
FRAME = Part(
    "frame", "Frame", "toy", "plate", 9.4,
    profile=Profile(rectangle(0.0, 0.0, 300.0, 150.0), (reversed_loop(rectangle(20.0, 20.0, 240.0, 130.0)),)),
)  # fmt: skip
PUCK = Part("puck", "Puck", "toy", "plate", 9.4, profile=Profile(circle(0.0, 0.0, 60.0)))


def full_sheet() -> CutSheet:
    """Plates in rows so near that leads along their edges would reach into the next; a plate in a frame's opening."""
    plate = plate_part()
    puts = [Placed(plate, 12.0 + i * (200.0 + GAP), 12.0 + j * (100.0 + GAP), 0.0, 1 + i + 3 * j)
            for j in range(2) for i in range(3)]  # fmt: skip
    y = 12.0 + 2 * (100.0 + GAP)
    puts += [Placed(plate, 12.0 + 20.0 + GAP, y + 20.0 + 5.0, 0.0, 7, "frame"), Placed(FRAME, 12.0, y, 0.0)]
    puts += [Placed(PUCK, 352.0 + k * (60.0 + GAP), y + 30.0, 0.0, 1 + k) for k in range(4)]
    return CutSheet(1, "full", 650.0, 12.0 + 220.0 + 150.0 + 12.0, 9.4, "a36", "length", tuple(puts), GAP, 12.0, 640.0)


def steel_of(sheet: CutSheet) -> list[shapely.Polygon]:
    found = []
    for put in sheet.placed:
        profile = placed_part(put).profile
        assert profile is not None
        rings = [circle(h.x, h.y, h.cut) for h in profile.holes if h.cut]
        inner = [polyline(loop, 0.001) for loop in (*profile.inner, *rings)]
        found.append(shapely.Polygon(polyline(profile.outer, 0.001), inner))
    return found


@pytest.mark.parametrize("swirl", ["clockwise", "counter-clockwise"])
def test_no_lead_reaches_into_a_part_or_off_the_plate(swirl: Any) -> None:
    sheet, rules = full_sheet(), FileRules(lead=LEAD, swirl=swirl)
    data = sheet_dxf_bytes(sheet, "mm", 0.0, rules)
    assert sheet_faults(sheet, "mm", 0.0, data, rules) == []
    found, broken = runs(read_dxf(data))
    assert broken == []
    assert len(found) == 7 * 4 + 2 + 4
    leads = [r.lead for r in found if r.lead is not None]
    assert len(leads) == len(found)
    plate = shapely.box(0.0, 0.0, sheet.length, sheet.width)
    for steel, e in itertools.product(steel_of(sheet), leads):
        assert steel.intersection(shapely.LineString([(e.x0, e.y0), (e.x1, e.y1)])).length < 0.01
        assert steel.distance(shapely.Point(e.x0, e.y0)) > 1.0
        assert plate.contains(shapely.Point(e.x0, e.y0))
    # an outside begun within the room there is keeps most of its lead
    assert min(r.lead.length for r in found if r.lead and r.layer == "CUT_OUT") > 0.6 * LEAD


@pytest.mark.parametrize(("lead", "words"), [(LEAD, "pierces at the edge of a part"), (30.0, "cuts into a part")])
def test_cut_10_leads_drawn_as_if_each_part_lay_alone_are_found(lead: float, words: str) -> None:
    sheet, rules = full_sheet(), FileRules(lead=lead)
    drawing = Drawing("mm", rules)
    parts = [placed_part(p) for p in sheet.placed]
    for part in parts:
        assert part.profile is not None
        dxf.draw_marks(drawing, part, part.profile)
    for part in parts:
        assert part.profile is not None
        dxf.draw_cuts(drawing, part.profile)
    dxf.draw_notes(drawing, (), (0.0, 0.0))
    faults = sheet_faults(sheet, "mm", 0.0, drawing.bytes(), rules)
    assert any(words in f for f in faults)
    assert any("begins off the sheet" in f for f in faults) is (lead > sheet.edge)
    assert sheet_faults(sheet, "mm", 0.0, sheet_dxf_bytes(sheet, "mm", 0.0, rules), rules) == []


def test_another_reader_finds_every_part_of_a_full_sheet(tmp_path: Path) -> None:
    sheet = full_sheet()
    layers = by_gdal(tmp_path, sheet_dxf_bytes(sheet, "in", 0.0, FileRules("polyline", "R12")))
    # the ring round a plate in an opening is a polygon with a hole; its outside is what is looked for
    found = sorted(shapely.Polygon(p.exterior).area * 25.4**2 for p in polygons(layers["CUT_OUT"], 1e-7))
    by_hand = sorted([*[OUTSIDE_AREA] * 7, 300.0 * 150.0, *[math.pi * 30.0**2] * 4])
    assert found == pytest.approx(by_hand, rel=1e-5)


def test_a_frame_cut_before_the_plate_in_its_opening_is_found() -> None:
    sheet = full_sheet()
    late = dataclasses.replace(sheet, placed=(*sheet.placed[:6], sheet.placed[7], sheet.placed[6], *sheet.placed[8:]))
    for one, told in ((sheet, False), (late, True)):
        faults = sheet_faults(one, "mm", 0.0, sheet_dxf_bytes(one, "mm", 0.0, FileRules()), FileRules())
        assert any("is cut after the one round it" in f for f in faults) is told


def test_a_pilot_mark_that_is_lost_and_a_part_turned_end_for_end_are_found() -> None:
    sheet, rules = full_sheet(), FileRules()
    document = ezdxf.read(io.StringIO(sheet_dxf_bytes(sheet, "mm", 0.0, rules).decode()))
    space = document.modelspace()
    cross = [e for e in space if e.dxf.layer == "MARK" and abs((e.dxf.end - e.dxf.start).magnitude - 3.175) < 1e-6]
    space.delete_entity(cross[0])
    out = io.StringIO()
    document.write(out)
    assert any("pilot mark" in f for f in sheet_faults(sheet, "mm", 0.0, out.getvalue().encode(), rules))
    # turned by half a turn about its own middle: same box, same area
    turned = dataclasses.replace(sheet.placed[0], x=212.0, y=112.0, angle=180.0)
    other = dataclasses.replace(sheet, placed=(turned, *sheet.placed[1:]))
    data = sheet_dxf_bytes(other, "mm", 0.0, rules)
    assert sheet_faults(other, "mm", 0.0, data, rules) == []
    assert any("missing on CUT_OUT" in f for f in sheet_faults(sheet, "mm", 0.0, data, rules))


def test_a_contour_without_room_for_a_lead_is_counted_in_the_note() -> None:
    assert dxf.leads_said(FileRules(lead=LEAD), 2).endswith("NO ROOM FOR A LEAD AT 2")
    assert "NO ROOM" not in dxf.leads_said(FileRules(lead=LEAD))
    thread = reversed_loop(rectangle(20.0, 20.0, 60.0, 20.5))
    part = plate_part(profile=Profile(rectangle(0.0, 0.0, 200.0, 100.0), (thread,)), marks=())
    assert part.profile is not None
    assert dxf.draw_cuts(Drawing("mm", FileRules(lead=LEAD)), part.profile) == 1
    assert dxf.draw_cuts(Drawing("mm", FileRules()), part.profile) == 0
