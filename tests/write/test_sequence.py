"""A cut file is run in the order it stands in: every fault of that order is found, and none where there is none."""

import io
import itertools
from collections.abc import Callable
from typing import Any

import ezdxf
import pytest

from fixturegen.plate import Profile, Vertex
from fixturegen.plate.profile import circle, rectangle, reversed_loop
from fixturegen.write import dxf, readback
from fixturegen.write.content import read_dxf
from fixturegen.write.file_rules import FileRules
from fixturegen.write.sequence import order_faults, runs
from tests.write.toys import QUARTER, plate_part

DIALECTS = list(itertools.product(("plain", "polyline"), ("R2000", "R12")))
Change = Callable[[Any, Any], None]


def changed(change: Change, rules: FileRules, **parts: Any) -> bytes:
    document = ezdxf.read(io.StringIO(dxf.dxf_bytes(plate_part(**parts), "mm", 0.0, rules).decode()))
    change(document, document.modelspace())
    out = io.StringIO()
    document.write(out)
    return out.getvalue().encode()


def again(space: Any, entities: list[Any]) -> None:
    """The entities at the end of the file instead."""
    for e in entities:
        space.unlink_entity(e)
        space.add_entity(e)


def on(space: Any, *layers: str) -> list[Any]:
    return [e for e in space if e.dxf.layer in layers]


@pytest.mark.parametrize("swirl", ["clockwise", "counter-clockwise"])
@pytest.mark.parametrize("lead", [None, 9.4])
@pytest.mark.parametrize(("entities", "version"), DIALECTS)
def test_every_dialect_is_in_order_and_counted_by_hand(
    entities: Any, version: Any, lead: float | None, swirl: Any
) -> None:
    rules = FileRules(entities, version, swirl, lead)
    content = read_dxf(dxf.dxf_bytes(plate_part(), "mm", 0.0, rules))
    found, broken = runs(content)
    assert (broken, order_faults(content, rules)) == ([], [])
    # slot, two cut holes, outside (see toys.py)
    assert [r.layer for r in found] == ["CUT_IN", "CUT_IN", "CUT_IN", "CUT_OUT"]
    assert sum(r.lead is not None for r in found) == (4 if lead else 0)
    assert abs(found[-1].area) == pytest.approx(200.0 * 100.0 - (20.0**2 - 3.141592653589793 * 20.0**2 / 4.0))


@pytest.mark.parametrize(
    "outer",
    [
        circle(0.0, 0.0, 80.0),
        (Vertex(0.0, 0.0, QUARTER), Vertex(60.0, 0.0, QUARTER)),
        (Vertex(0.0, 0.0, 1.0), Vertex(60.0, 0.0)),
        (Vertex(0.0, 0.0), Vertex(90.0, 0.0), Vertex(0.0, 50.0)),
    ],
    ids=["circle", "lens", "half moon", "triangle"],
)
@pytest.mark.parametrize("lead", [None, 6.0])
@pytest.mark.parametrize(("entities", "version"), DIALECTS)
def test_contours_of_few_entities_are_in_order_too(entities: Any, version: Any, lead: float | None, outer: Any) -> None:
    rules = FileRules(entities, version, lead=lead)
    part = plate_part(profile=Profile(outer), marks=())
    assert readback.dxf_faults(part, "mm", dxf.dxf_bytes(part, "mm", 0.0, rules), rules) == []


def outside_first(_: Any, space: Any) -> None:
    again(space, on(space, "CUT_IN"))


def mark_last(_: Any, space: Any) -> None:
    again(space, on(space, "MARK")[:1])


def torn(_: Any, space: Any) -> None:
    again(space, on(space, "CUT_OUT")[2:3])


def other_way(_: Any, space: Any) -> None:
    for e in reversed(on(space, "CUT_OUT")):
        again(space, [e])


@pytest.mark.parametrize(
    ("change", "lead", "words"),
    [
        (outside_first, None, "is cut after the one round it"),
        (outside_first, 9.4, "is cut after the one round it"),
        (mark_last, None, "a mark stands after the first cut"),
        (torn, None, "is not run in one go"),
        (torn, 9.4, "is not run in one go"),
        (other_way, None, "is run the wrong way round"),
        (other_way, 9.4, "is not run in one go"),  # its lead comes last
    ],
)
def test_each_fault_of_the_order_is_found(change: Change, lead: float | None, words: str) -> None:
    rules = FileRules(lead=lead)
    faults = readback.dxf_faults(plate_part(), "mm", changed(change, rules), rules)
    assert any(words in f for f in faults), faults


@pytest.mark.parametrize("version", ["R2000", "R12"])
def test_a_polyline_file_with_a_contour_in_single_lines_is_found(version: Any) -> None:
    rules = FileRules("polyline", version)
    square = plate_part(profile=Profile(rectangle(0.0, 0.0, 90.0, 50.0)), marks=())
    plain = dxf.dxf_bytes(square, "mm", 0.0, FileRules("plain", version))
    assert readback.dxf_faults(square, "mm", dxf.dxf_bytes(square, "mm", 0.0, rules), rules) == []
    assert any("not as a polyline" in f for f in readback.dxf_faults(square, "mm", plain, rules))


def test_openings_side_by_side_may_be_cut_in_any_order_and_nested_ones_may_not() -> None:
    ring = reversed_loop(rectangle(20.0, 20.0, 60.0, 60.0))
    within = reversed_loop(rectangle(30.0, 30.0, 50.0, 50.0))
    beside = reversed_loop(rectangle(70.0, 20.0, 90.0, 60.0))
    outer = rectangle(0.0, 0.0, 200.0, 100.0)
    for loops, late in (((ring, beside), False), ((beside, ring), False), ((ring, within), True)):
        part = plate_part(profile=Profile(outer, loops), marks=())
        content = read_dxf(dxf.dxf_bytes(part, "mm"))
        drawn = runs(content)[0]
        order = [round(abs(r.area)) for r in drawn]
        told = any("after the one round it" in f for f in order_faults(content, FileRules()))
        assert told is (late and order.index(1600) < order.index(400))


def a_block(document: Any, space: Any) -> None:
    document.blocks.new("BRACKET").add_line((0, 0), (1, 0))


def paper(document: Any, _: Any) -> None:
    document.paperspace().add_line((0, 0), (1, 0))


def placed_block(document: Any, space: Any) -> None:
    document.blocks.new("BRACKET").add_line((0, 0), (1, 0))
    space.add_blockref("BRACKET", (0, 0), dxfattribs={"layer": "CUT_IN"})


def from_behind(_: Any, space: Any) -> None:
    next(e for e in space if e.dxftype() == "ARC").dxf.extrusion = (0, 0, -1)


def above(_: Any, space: Any) -> None:
    hole = next(e for e in space if e.dxftype() == "CIRCLE")
    hole.dxf.center = (hole.dxf.center.x, hole.dxf.center.y, 5.0)


def hatched(_: Any, space: Any) -> None:
    space.add_hatch(dxfattribs={"layer": "CUT_IN"}).paths.add_polyline_path([(0, 0), (9, 0), (9, 9)])


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (a_block, "has a block BRACKET"),
        (placed_block, "INSERT"),
        (paper, "drawn on the paper"),
        (from_behind, "does not lie flat"),
        (above, "does not lie flat"),
        (hatched, "HATCH"),
        (lambda _, s: s.add_point((1, 1), dxfattribs={"layer": "CUT_IN"}), "POINT"),
        (lambda _, s: s.add_mtext("A", dxfattribs={"layer": "NOTE"}), "MTEXT"),
        (lambda _, s: s.add_line((9, 9), (9, 9), dxfattribs={"layer": "CUT_IN"}), "contour"),
        (lambda _, s: s.add_line((60, 20), (60, 20), dxfattribs={"layer": "CUT_IN"}), "contour"),
    ],
)
def test_what_controllers_leave_out_or_mirror_is_found(change: Change, words: str) -> None:
    # practice at the table: blocks mirrored or scaled, paper space, text and hatch among the cuts
    faults = readback.dxf_faults(plate_part(), "mm", changed(change, FileRules()))
    assert any(words in f for f in faults), faults


def test_edges_of_two_openings_that_share_a_short_stretch_are_doubles() -> None:
    # 250 mm edges that lie on one line and run together for 5 mm only
    below = reversed_loop(rectangle(10.0, 20.0, 260.0, 40.0))
    for gap, tripped in ((0.0, True), (0.024, True), (0.026, False)):
        above_it = reversed_loop(rectangle(255.0, 40.0 + gap, 505.0, 60.0))
        part = plate_part(profile=Profile(rectangle(0.0, 0.0, 600.0, 100.0), (below, above_it)), marks=())
        faults = readback.dxf_faults(part, "mm", dxf.dxf_bytes(part, "mm"))
        assert any("cut twice" in f for f in faults) is tripped
