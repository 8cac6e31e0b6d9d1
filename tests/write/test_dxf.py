"""Written DXF files, read by another reader (GDAL through pyogrio) and by ezdxf."""

import hashlib
import io
import itertools
import math
import subprocess
import sys
from pathlib import Path

import ezdxf
import pyogrio
import pytest
import shapely

from fixturegen.errors import GeometryFault
from fixturegen.plate import Hole, Part, Profile, Purpose
from fixturegen.plate.profile import Operation, circle, rectangle, reversed_loop
from fixturegen.write import dxf
from tests.write.toys import OUTSIDE_AREA, SLOT_AREA, plate_part


def by_gdal(tmp_path: Path, data: bytes) -> dict[str, list[shapely.Geometry]]:
    """Geometries by layer as GDAL reads them, arcs as chords of 0.05 deg."""
    path = tmp_path / "x.dxf"
    path.write_bytes(data)
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": "0.05", "DXF_MERGE_BLOCK_GEOMETRIES": "NO"})
    _, _, geometry, fields = pyogrio.raw.read(path, columns=["Layer"])
    found: dict[str, list[shapely.Geometry]] = {}
    for shape, layer in zip(shapely.from_wkb(geometry), fields[0], strict=True):
        found.setdefault(layer, []).append(shape)
    return found


def polygons(shapes: list[shapely.Geometry], grid: float) -> list[shapely.Polygon]:
    snapped = [shapely.set_precision(s, grid) for s in shapes]
    return sorted(shapely.polygonize(snapped).geoms, key=lambda p: p.area)


@pytest.mark.parametrize(("units", "scale"), [("mm", 1.0), ("in", 1.0 / 25.4)])
def test_another_reader_finds_the_areas_worked_out_by_hand(
    part: Part, tmp_path: Path, units: dxf.Units, scale: float
) -> None:
    layers = by_gdal(tmp_path, dxf.dxf_bytes(part, units))
    (outside,) = polygons(layers["CUT_OUT"], 1e-7)
    assert outside.area / scale**2 == pytest.approx(OUTSIDE_AREA, rel=1e-6)
    inside = [p.area / scale**2 for p in polygons(layers["CUT_IN"], 1e-7)]
    by_hand = sorted([SLOT_AREA, math.pi * 17.0**2 / 4.0, math.pi * 13.5**2 / 4.0])
    assert inside == pytest.approx(by_hand, rel=1e-5)


@pytest.mark.parametrize(("units", "scale"), [("mm", 1.0), ("in", 1.0 / 25.4)])
def test_the_witness_square_measures_one_inch_and_stands_clear_of_the_part(
    part: Part, tmp_path: Path, units: dxf.Units, scale: float
) -> None:
    layers = by_gdal(tmp_path, dxf.dxf_bytes(part, units))
    squares = [p for p in polygons(layers["NOTE"], 1e-7) if p.area / scale**2 == pytest.approx(25.4**2)]
    assert len(squares) == 1
    x0, y0, x1, y1 = squares[0].bounds
    assert (x1 - x0) / scale == pytest.approx(25.4, abs=1e-6)
    assert (y1 - y0) / scale == pytest.approx(25.4, abs=1e-6)
    notes = shapely.unary_union(layers["NOTE"])
    assert notes.distance(polygons(layers["CUT_OUT"], 1e-7)[0]) / scale > 10.0


def test_a_pilot_mark_is_a_small_cross_that_is_not_cut(part: Part, tmp_path: Path) -> None:
    layers = by_gdal(tmp_path, dxf.dxf_bytes(part))
    cross = [s for s in layers["MARK"] if s.distance(shapely.Point(150.0, 50.0)) < 1e-9]
    assert sorted(round(s.length, 9) for s in cross) == [3.175, 3.175]  # 1/8 in (common practice, no source)
    assert shapely.unary_union(layers["CUT_IN"]).distance(shapely.Point(150.0, 50.0)) > 20.0


def entities(data: bytes) -> list[ezdxf.entities.DXFGraphic]:
    return list(ezdxf.read(io.StringIO(data.decode())).modelspace())


def test_only_lines_arcs_and_circles_are_written_in_travel_order(part: Part) -> None:
    found = entities(dxf.dxf_bytes(part))
    assert {e.dxftype() for e in found} == {"LINE", "ARC", "CIRCLE"}
    layers = [e.dxf.layer for e in found]
    firsts = sorted(set(layers), key=layers.index)
    assert firsts == ["MARK", "CUT_IN", "CUT_OUT", "NOTE"]
    outline = [e for e in found if e.dxf.layer == "CUT_OUT"]
    for one, following in itertools.pairwise(outline):
        ends = [(v.x, v.y) for v in ends_of(one)]
        starts = [(v.x, v.y) for v in ends_of(following)]
        assert min(math.dist(a, b) for a in ends for b in starts) < 1e-6


def ends_of(entity: ezdxf.entities.DXFGraphic) -> tuple[ezdxf.math.Vec3, ezdxf.math.Vec3]:
    if entity.dxftype() == "LINE":
        return entity.dxf.start, entity.dxf.end
    return entity.start_point, entity.end_point


@pytest.mark.parametrize(("units", "code"), [("in", 1), ("mm", 4)])
def test_the_header_names_the_unit_and_the_version_is_read_nearly_everywhere(
    part: Part, units: dxf.Units, code: int
) -> None:
    # DXF reference, $INSUNITS: 1 inches, 4 millimetres; AC1015 is R2000
    document = ezdxf.read(io.StringIO(dxf.dxf_bytes(part, units).decode()))
    assert document.header["$INSUNITS"] == code
    assert document.dxfversion == "AC1015"
    assert dxf.file_name(part, units) == f"plate-a_{units}.dxf"


def test_a_round_outline_is_one_circle() -> None:
    puck = plate_part(profile=Profile(circle(5.0, 7.0, 80.0)), marks=())
    cut = [e for e in entities(dxf.dxf_bytes(puck)) if e.dxf.layer == "CUT_OUT"]
    assert [(e.dxftype(), e.dxf.radius) for e in cut] == [("CIRCLE", 40.0)]


def test_lettering_is_single_strokes_in_letters_every_torch_knows(part: Part) -> None:
    found = [e for e in entities(dxf.dxf_bytes(part)) if e.dxf.layer == "MARK"]
    assert {e.dxftype() for e in found} == {"LINE"}
    tops = [max(e.dxf.start.y, e.dxf.end.y) for e in found if e.dxf.start.y > 79.0]
    assert max(tops) == pytest.approx(88.0, abs=1e-6)  # 8 mm capitals on a base line at 80 mm


def test_a_lathe_part_has_nothing_to_cut() -> None:
    with pytest.raises(GeometryFault, match="no flat profile"):
        dxf.dxf_bytes(Part("pin", "Pin", "toy", "turned"))


DIGEST = """
import hashlib
from tests.write.toys import plate_part
from fixturegen.write.dxf import dxf_bytes
print(hashlib.sha256(dxf_bytes(plate_part(), "in")).hexdigest())
"""


def test_the_same_part_gives_the_same_bytes_in_another_process(part: Part) -> None:
    here = hashlib.sha256(dxf.dxf_bytes(part, "in")).hexdigest()
    root = Path(__file__).parents[2]
    for seed in ("1", "2"):
        there = subprocess.run(
            [sys.executable, "-c", DIGEST], cwd=root, env={"PYTHONHASHSEED": seed, "PATH": ""},
            capture_output=True, text=True, check=True,
        )  # fmt: skip
        assert there.stdout.strip() == here


def test_text_is_utf_8_with_line_feeds_only(part: Part) -> None:
    data = dxf.dxf_bytes(part)
    data.decode("ascii")
    assert b"\r" not in data


def test_the_note_tells_overall_size_and_counts_to_compare_at_the_table() -> None:
    # counted by hand: one outside, one slot, one cut hole; a bore is only marked
    slot = reversed_loop(rectangle(20.0, 20.0, 60.0, 30.0))
    holes = (Hole(80.0, 40.0, 10.0, Purpose.BOLT), Hole(100.0, 40.0, 8.0, Purpose.BORE, operation=Operation.PILOT))
    part = plate_part(profile=Profile(rectangle(0.0, 0.0, 254.0, 127.0), (slot,), holes), marks=())
    lines = dxf.note_lines(part, "mm")
    assert "10.000 X 5.000 IN (254.0 X 127.0 MM) OVERALL" in lines
    assert "PIERCES 3  PILOT MARKS 1" in lines


def test_the_outside_is_run_clockwise_and_openings_the_other_way() -> None:
    # common practice, no source: the usual swirl leaves the square edge on the torch's right
    slot = reversed_loop(rectangle(20.0, 20.0, 60.0, 30.0))
    part = plate_part(profile=Profile(rectangle(0.0, 0.0, 200.0, 100.0), (slot,)), marks=())
    space = ezdxf.read(io.StringIO(dxf.dxf_bytes(part).decode("ascii"))).modelspace()
    for layer, clockwise in ((dxf.CUT_OUT, True), (dxf.CUT_IN, False)):
        ring = [(e.dxf.start.x, e.dxf.start.y) for e in space.query(f'LINE[layer=="{layer}"]')]
        assert len(ring) == 4
        assert shapely.LinearRing(ring).is_ccw is not clockwise
