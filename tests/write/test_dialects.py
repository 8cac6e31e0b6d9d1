"""Every dialect, direction and lead, read by another reader (GDAL through pyogrio), by ezdxf and by ourselves."""

import io
import itertools
import math

import ezdxf
import pytest
import shapely

from fixturegen.keeping import cache_used
from fixturegen.plate import Hole, Profile, Purpose, Vertex
from fixturegen.plate.profile import circle, polyline, rectangle, reversed_loop, signed_area
from fixturegen.write import dxf, readback
from fixturegen.write.content import read_dxf, without_leads
from fixturegen.write.file_rules import FileRules
from fixturegen.write.leads import begun, ring_lead
from tests.write.test_dxf import by_gdal, polygons
from tests.write.toys import OUTSIDE_AREA, SLOT_AREA, plate_part

DIALECTS = list(itertools.product(("plain", "polyline"), ("R2000", "R12")))


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("entities, version", DIALECTS)
@pytest.mark.parametrize("lead", [None, 9.4])
def test_every_dialect_is_read_back_as_the_part(entities, version, units, lead):
    rules = FileRules(entities, version, lead=lead)
    part = plate_part()
    data = dxf.dxf_bytes(part, units, 0.0, rules)
    assert readback.dxf_faults(part, units, data, rules) == []
    other = FileRules("plain" if entities == "polyline" else "polyline", version, lead=lead)
    assert readback.dxf_faults(part, units, data, other) != []
    newer = FileRules(entities, "R12" if version == "R2000" else "R2000", lead=lead)
    assert any("version" in f for f in readback.dxf_faults(part, units, data, newer))


@pytest.mark.parametrize("entities, version", DIALECTS)
@pytest.mark.parametrize("units, scale", [("mm", 1.0), ("in", 25.4)])
def test_another_reader_finds_the_areas_worked_out_by_hand_in_every_dialect(tmp_path, entities, version, units, scale):
    layers = by_gdal(tmp_path, dxf.dxf_bytes(plate_part(), units, 0.0, FileRules(entities, version)))
    (outside,) = polygons(layers["CUT_OUT"], 1e-7)
    assert outside.area * scale**2 == pytest.approx(OUTSIDE_AREA, rel=1e-5)
    inside = [p.area * scale**2 for p in polygons(layers["CUT_IN"], 1e-7)]
    assert inside == pytest.approx(sorted([SLOT_AREA, math.pi * 17.0**2 / 4.0, math.pi * 13.5**2 / 4.0]), rel=1e-5)


@pytest.mark.parametrize("version, code", [("R2000", "AC1015"), ("R12", "AC1009")])
def test_the_version_is_the_one_asked_for_and_polylines_are_closed(version, code):
    document = ezdxf.read(io.StringIO(dxf.dxf_bytes(plate_part(), "mm", 0.0, FileRules("polyline", version)).decode()))
    assert document.dxfversion == code
    cut = [e for e in document.modelspace() if e.dxf.layer.startswith("CUT")]
    lines = [e for e in cut if e.dxftype() != "CIRCLE"]
    assert {e.dxftype() for e in lines} == {"POLYLINE" if version == "R12" else "LWPOLYLINE"}
    assert all(e.is_closed for e in lines)
    assert not document.audit().errors


def test_an_open_polyline_is_a_fault():
    rules = FileRules("polyline")
    document = ezdxf.read(io.StringIO(dxf.dxf_bytes(plate_part(), "mm", 0.0, rules).decode()))
    next(e for e in document.modelspace() if e.dxftype() == "LWPOLYLINE").closed = False
    out = io.StringIO()
    document.write(out)
    faults = readback.dxf_faults(plate_part(), "mm", out.getvalue().encode(), rules)
    assert any("open" in f for f in faults)


def test_in_r12_the_witness_square_tells_the_unit():
    # DXF R12 has no variable for the unit (DXF reference, $INSUNITS came with R2000)
    for units, scale in (("mm", 1.0), ("in", 25.4)):
        data = dxf.dxf_bytes(plate_part(), units, 0.0, FileRules(version="R12"))
        assert b"INSUNITS" not in data
        assert read_dxf(data).scale == scale
    spoiled = dxf.dxf_bytes(plate_part(), "in", 0.0, FileRules(version="R12"))
    assert any("witness" in f for f in readback.dxf_faults(plate_part(), "mm", spoiled, FileRules(version="R12")))


@pytest.mark.parametrize("entities, version", DIALECTS)
def test_writing_and_reading_say_nothing_of_their_own_on_the_screen(caplog, entities, version):
    rules = FileRules(entities, version, lead=9.4)
    with cache_used(False):
        readback.dxf_faults(plate_part(), "in", dxf.dxf_bytes(plate_part(), "in", 0.0, rules), rules)
    assert caplog.records == []


@pytest.mark.parametrize("entities, version", DIALECTS)
def test_each_dialect_gives_the_same_bytes_again(entities, version):
    rules = FileRules(entities, version, lead=9.4)
    with cache_used(False):
        assert dxf.dxf_bytes(plate_part(), "in", 0.0, rules) == dxf.dxf_bytes(plate_part(), "in", 0.0, rules)


def runs(data):
    """Signed area of the corners of each polyline, by layer."""
    document = ezdxf.read(io.StringIO(data.decode()))
    found = {"CUT_OUT": 0.0, "CUT_IN": 0.0}
    for e in document.modelspace():
        if e.dxftype() == "LWPOLYLINE" and e.dxf.layer in found:
            points = list(e.vertices())
            pairs = zip(points, points[1:] + points[:1], strict=True)
            found[e.dxf.layer] += sum(a[0] * b[1] - a[1] * b[0] for a, b in pairs) / 2.0
    return found


@pytest.mark.parametrize("swirl, sign", [("clockwise", -1.0), ("counter-clockwise", 1.0)])
def test_the_square_edge_is_the_parts_with_either_swirl(swirl, sign):
    # a clockwise swirl leaves the square edge on the right: outside clockwise, openings the other way
    # (common practice, no source)
    found = runs(dxf.dxf_bytes(plate_part(), "mm", 0.0, FileRules("polyline", swirl=swirl)))
    assert math.copysign(1.0, found["CUT_OUT"]) == sign
    assert math.copysign(1.0, found["CUT_IN"]) == -sign


def lead_lines(part, rules):
    content = read_dxf(dxf.dxf_bytes(part, "mm", 0.0, rules))
    found = {}
    for layer in ("CUT_OUT", "CUT_IN"):
        found[layer] = without_leads(content.pieces.get(layer, []), content.rings.get(layer, []))[1]
    return found


@pytest.mark.parametrize("swirl", ["clockwise", "counter-clockwise"])
def test_every_lead_lies_in_scrap_and_ends_on_its_contour(swirl):
    part = plate_part()
    steel = shapely.Polygon(
        polyline(part.profile.outer, 0.001),
        [
            polyline(part.profile.inner[0], 0.001),
            *(polyline(circle(h.x, h.y, h.cut), 0.001) for h in part.profile.holes if h.cut),
        ],
    )
    found = lead_lines(part, FileRules(lead=9.4, swirl=swirl))
    assert [len(found[layer]) for layer in ("CUT_OUT", "CUT_IN")] == [1, 3]
    for e in (*found["CUT_OUT"], *found["CUT_IN"]):
        line = shapely.LineString([(e.x0, e.y0), (e.x1, e.y1)])
        assert steel.intersection(line).length < 0.01
        assert steel.boundary.distance(shapely.Point(e.x1, e.y1)) < 0.01
        assert steel.distance(shapely.Point(e.x0, e.y0)) > 1.0


def test_the_outside_is_begun_at_a_sharp_corner_along_its_first_edge():
    loop = reversed_loop(rectangle(0.0, 0.0, 100.0, 60.0))
    turned, lead = begun(loop, True, 8.0, 1.6)
    assert signed_area(turned) == signed_area(loop)
    assert lead.length == pytest.approx(8.0)
    first = (turned[1].x - turned[0].x, turned[1].y - turned[0].y)
    along = (lead.x1 - lead.x0, lead.y1 - lead.y0)
    assert first[0] * along[1] - first[1] * along[0] == pytest.approx(0.0)
    assert first[0] * along[0] + first[1] * along[1] > 0.0


@pytest.mark.parametrize("width", [20.0, 6.0])
def test_a_slot_is_begun_at_an_end_and_along_it(width):
    # its long sides carry the fit of the tab (common practice, no source)
    turned, lead = begun(rectangle(0.0, 0.0, 40.0, width), False, 9.0, 1.6)
    assert lead.length == pytest.approx(9.0)
    assert (lead.y0, lead.y1) == pytest.approx((width / 2.0, width / 2.0))
    assert turned[0].x in (0.0, 40.0)


def test_a_small_opening_gets_a_shorter_lead_and_one_of_a_hair_none():
    small = begun(rectangle(0.0, 0.0, 6.0, 6.0), False, 9.0, 1.6)[1]
    assert 2.0 < small.length < 5.0
    assert begun(rectangle(0.0, 0.0, 40.0, 0.5), False, 9.0, 1.6)[1] is None


def test_an_opening_with_a_notch_is_not_begun_in_the_notch():
    notch = (Vertex(0, 0), Vertex(80, 0), Vertex(80, 60), Vertex(45, 60), Vertex(45, 72), Vertex(35, 72),
             Vertex(35, 60), Vertex(0, 60))  # fmt: skip
    lead = begun(notch, False, 9.0, 1.6)[1]
    assert lead.length == pytest.approx(9.0)
    assert shapely.Polygon([(v.x, v.y) for v in notch]).exterior.distance(shapely.Point(lead.x0, lead.y0)) > 8.9


def test_a_hole_is_begun_from_its_middle_at_the_most():
    assert ring_lead(10.0, 0.0, 12.0, False, 9.0).length == pytest.approx(6.0)
    assert ring_lead(10.0, 0.0, 40.0, False, 9.0).x0 == pytest.approx(21.0)
    assert ring_lead(0.0, 0.0, 40.0, True, 9.0).x0 == pytest.approx(29.0)


def test_a_lead_into_the_part_is_found():
    rules = FileRules(lead=9.4)
    part = plate_part()
    document = ezdxf.read(io.StringIO(dxf.dxf_bytes(part, "mm", 0.0, rules).decode()))
    first = next(e for e in document.modelspace() if e.dxf.layer == "CUT_OUT")
    assert first.dxftype() == "LINE"
    sx, sy = first.dxf.start.x, first.dxf.start.y
    ex, ey = first.dxf.end.x, first.dxf.end.y
    first.dxf.start = (100.0, 60.0) if math.dist((sx, sy), (ex, ey)) else (sx, sy)
    out = io.StringIO()
    document.write(out)
    faults = readback.dxf_faults(part, "mm", out.getvalue().encode(), rules)
    assert any("cuts into the part" in f for f in faults)


def test_who_draws_the_leads_and_what_it_is_cut_from_stands_in_the_note():
    ours = dxf.note_lines(plate_part(), "in", 0.0, FileRules(lead=9.4))
    theirs = dxf.note_lines(plate_part(), "in")
    assert any("LEADS ARE IN THE FILE" in line for line in ours)
    assert any("LEADS ARE LEFT TO THE CONTROLLER" in line for line in theirs)
    assert any("A36" in line for line in theirs)


def test_a_slug_that_may_tip_is_not_crossed_again():
    holes = tuple(Hole(x, 50.0, 30.0, Purpose.ACCESS, f"h{i}") for i, x in enumerate((30.0, 90.0, 150.0)))
    part = plate_part(profile=Profile(rectangle(0.0, 0.0, 200.0, 100.0), (), holes))
    content = read_dxf(dxf.dxf_bytes(part, "mm"))
    order = [round(x) for x, _, _ in content.rings["CUT_IN"]]
    assert order in ([30, 90, 150], [150, 90, 30])
