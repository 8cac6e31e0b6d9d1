"""Every fault a cut file can have is found; each limit has its boundary pair."""

import dataclasses
import io
from collections.abc import Callable
from typing import Any

import ezdxf
import pytest

from fixturegen.findings import Level
from fixturegen.plate import Part, Profile, Vertex
from fixturegen.plate.profile import circle, reversed_loop
from fixturegen.write import content, dxf, readback
from tests.write.toys import QUARTER, plate_part

Spoil = Callable[[Any], None]


def spoiled(part: Part, change: Callable[[Any, Any], None], units: dxf.Units = "mm") -> bytes:
    document = ezdxf.read(io.StringIO(dxf.dxf_bytes(part, units).decode()))
    change(document, document.modelspace())
    out = io.StringIO()
    document.write(out)
    return out.getvalue().encode()


def first(space: Any, layer: str, kind: str) -> Any:
    return next(e for e in space if e.dxf.layer == layer and e.dxftype() == kind)


@pytest.mark.parametrize("units", ["mm", "in"])
def test_a_true_file_passes_and_says_what_was_read(part: Part, units: dxf.Units) -> None:
    finding = readback.check_dxf(part, units, dxf.dxf_bytes(part, units))
    assert finding.level is Level.PASS
    assert finding.code == "CUT-01"
    assert finding.parts == ("plate-a",)
    assert "200.00 x 100.00 mm overall, 2 holes cut, 1 pilot marks, 1 cut-outs" in finding.words


def test_round_outlines_and_round_cut_outs_pass() -> None:
    ring = plate_part(profile=Profile(circle(0, 0, 80), (reversed_loop(circle(0, 0, 30)),)))
    assert readback.dxf_faults(ring, "mm", dxf.dxf_bytes(ring, "mm")) == []


def test_a_loop_of_two_arcs_passes() -> None:
    lens = plate_part(profile=Profile((Vertex(0, 0, QUARTER), Vertex(60, 0, QUARTER))), marks=())
    assert readback.dxf_faults(lens, "mm", dxf.dxf_bytes(lens, "mm")) == []


def move_end(by: float) -> Callable[[Any, Any], None]:
    def change(_: Any, space: Any) -> None:
        line = first(space, "CUT_OUT", "LINE")
        line.dxf.end = line.dxf.end + ezdxf.math.Vec3(0.0, by, 0.0)

    return change


def move_hole(by: float) -> Callable[[Any, Any], None]:
    def change(_: Any, space: Any) -> None:
        hole = first(space, "CUT_IN", "CIRCLE")
        hole.dxf.center = hole.dxf.center + ezdxf.math.Vec3(by, 0.0, 0.0)

    return change


def second_line(off: float) -> Callable[[Any, Any], None]:
    def change(_: Any, space: Any) -> None:
        space.add_line((0, off), (200, off), dxfattribs={"layer": "CUT_OUT"})

    return change


@pytest.mark.parametrize(
    ("change", "limit", "words"),
    [
        (move_end, content.GAP, "contour open"),
        (move_hole, content.SIZE, "is missing"),
    ],
)
def test_gaps_and_moved_holes_trip_just_above_their_limit(
    part: Part, change: Callable[[float], Any], limit: float, words: str
) -> None:
    assert limit == 0.001  # the brief of this program: gaps at most 0.001 mm
    assert readback.dxf_faults(part, "mm", spoiled(part, change(0.95 * limit))) == []
    faults = readback.dxf_faults(part, "mm", spoiled(part, change(1.05 * limit)))
    assert any(words in f for f in faults)


def test_lines_nearer_than_a_thousandth_of_an_inch_are_doubles(part: Part) -> None:
    # practice: no doubles within 0.025 mm (0.001 in)
    for off, tripped in ((0.024, True), (0.026, False), (0.0, True)):
        faults = readback.dxf_faults(part, "mm", spoiled(part, second_line(off)))
        assert any("cut twice" in f for f in faults) is tripped


def test_short_edges_at_corners_are_no_doubles() -> None:
    step = 0.12
    outer = (Vertex(0, 0), Vertex(50, 0), Vertex(50, 20), Vertex(20, 20), Vertex(20, 20 + step), Vertex(0, 20 + step))
    stepped = plate_part(profile=Profile(outer), marks=())
    assert readback.dxf_faults(stepped, "mm", dxf.dxf_bytes(stepped, "mm")) == []


def test_a_partial_overlap_is_a_double(part: Part) -> None:
    over = spoiled(part, lambda _, s: s.add_line((180, 0), (240, 0), dxfattribs={"layer": "CUT_IN"}))
    assert any("cut twice" in f for f in readback.dxf_faults(part, "mm", over))


def no_witness(_: Any, space: Any) -> None:
    for line in [e for e in space if e.dxf.layer == "NOTE"][:1]:
        space.delete_entity(line)


def drop(layer: str, kind: str) -> Callable[[Any, Any], None]:
    return lambda _, space: space.delete_entity(first(space, layer, kind))


def mirrored(_: Any, space: Any) -> None:
    for e in [e for e in space if e.dxf.layer == "CUT_OUT"]:
        e.transform(ezdxf.math.Matrix44.scale(-1, 1, 1) @ ezdxf.math.Matrix44.translate(200, 0, 0))


def units_gone(document: Any, _: Any) -> None:
    document.header["$INSUNITS"] = 0


def inches_said(document: Any, _: Any) -> None:
    document.header["$INSUNITS"] = 1


def two_rings(_: Any, space: Any) -> None:
    space.add_circle((100, 50), 8.5, dxfattribs={"layer": "CUT_IN"})


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (drop("CUT_IN", "CIRCLE"), "is missing"),
        (drop("CUT_IN", "LINE"), "contour open"),
        (drop("CUT_OUT", "ARC"), "contour open"),
        (drop("MARK", "LINE"), "pilot mark of index 1"),
        (lambda _, s: s.add_circle((30, 80), 5, dxfattribs={"layer": "CUT_IN"}), "not the part's"),
        (two_rings, "cut twice"),
        (lambda _, s: s.add_spline([(0, 0), (5, 5), (9, 0)], dxfattribs={"layer": "CUT_IN"}), "SPLINE"),
        (lambda _, s: s.add_ellipse((30, 80), (5, 0), 0.5, dxfattribs={"layer": "CUT_IN"}), "ELLIPSE"),
        (lambda _, s: s.add_text("A", dxfattribs={"layer": "MARK"}), "TEXT"),
        (lambda _, s: s.add_line((0, 0), (1, 1)), "on layer 0"),
        (units_gone, "does not say mm"),
        (inches_said, "does not say mm"),
        (no_witness, "witness square"),
        (mirrored, "does not pass"),
    ],
)  # fmt: skip
def test_each_fault_of_a_file_is_found(part: Part, change: Callable[[Any, Any], None], words: str) -> None:
    faults = readback.dxf_faults(part, "mm", spoiled(part, change))
    assert any(words in f for f in faults), faults


def test_a_file_of_another_size_is_found(part: Part) -> None:
    data = dxf.dxf_bytes(part, "mm")
    longer = dataclasses.replace(part, profile=dataclasses.replace(part.profile, outer=dxf_outer(200.01)))  # type: ignore[type-var]
    faults = readback.dxf_faults(longer, "mm", data)
    assert any("outside" in f for f in faults)


def dxf_outer(width: float) -> tuple[Vertex, ...]:
    return (
        Vertex(0, 0), Vertex(width, 0), Vertex(width, 80, QUARTER), Vertex(width - 20, 100),
        Vertex(0, 100),
    )  # fmt: skip


@pytest.mark.parametrize("data", [b"", b"not a drawing", b"\xff\xfe\x00", b"0\nSECTION\n2\nENTITIES\n"])
def test_bytes_that_are_no_drawing_fail_and_do_not_crash(part: Part, data: bytes) -> None:
    finding = readback.check_dxf(part, "mm", data)
    assert finding.level is Level.FAIL
    assert finding.holding


def test_a_file_cut_off_in_the_middle_fails(part: Part) -> None:
    data = dxf.dxf_bytes(part)
    for share in (0.3, 0.6, 0.9, 0.97):
        cut_off = data[: int(len(data) * share)]
        assert readback.check_dxf(part, "mm", cut_off).level is Level.FAIL
