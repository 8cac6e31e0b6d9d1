"""From parts to sheets: which layout is used and what is said of it; toy parts, distances by shapely."""

import dataclasses

import pytest

from fixturegen import nest_flow
from fixturegen.findings import Level
from fixturegen.nesting import beside
from fixturegen.nesting.records import Layout
from fixturegen.plate import Mark, Part, Profile
from fixturegen.plate.bend_marks import GRAIN
from fixturegen.plate.placed import placed_part
from fixturegen.plate.profile import polyline, rectangle
from tests.studies.study_jobs import sheet_of

INCH = 25.4
THICK = 0.378 * INCH
SHEET = {"name": "full", "plate": "3/8 in", "length": "40 in", "width": "20 in", "grain": "length", "price": "80"}


def plate(name="a", x=300.0, y=200.0, **more):
    return Part(name, name, "toy", "plate", THICK, profile=Profile(rectangle(0.0, 0.0, x, y)), **more)


def sheet(*stock, **wishes):
    return sheet_of(sheets=list(stock) or [SHEET], nesting={"edge": "1/2 in", "spacing": "3/8 in", **wishes})


def nests(parts, tmp_path, made=None):
    return nest_flow.nests_of(tmp_path / "toy.toml", made or sheet(), parts)


def codes(found):
    return [(f.code, f.level) for f in nest_flow.findings_of(found)]


def test_parts_without_a_kept_layout_are_laid_out_steadily_and_it_is_told(tmp_path):
    found = nests([plate(), plate("b")], tmp_path)
    assert [n.how for n in found] == ["steady"]
    assert codes(found) == [("NST-02", Level.PASS), ("NST-03", Level.WARN)]
    assert nests([plate("b"), plate()], tmp_path)[0].layout == found[0].layout


def test_a_kept_layout_is_used_until_something_it_hangs_on_changes(tmp_path):
    parts = [plate(), plate("b")]
    nest_flow.kept_beside(tmp_path / "toy.toml", nests(parts, tmp_path))
    again = nests(parts, tmp_path)
    assert [n.how for n in again] == ["kept"]
    assert codes(again) == [("NST-02", Level.PASS), ("NST-03", Level.PASS)]
    changed = nests([plate(), plate("b", x=300.5)], tmp_path)
    assert [(n.how, n.stale) for n in changed] == [("steady", True)]
    (told,) = [f for f in nest_flow.findings_of(changed) if f.code == "NST-03"]
    assert "made for other parts or sheets" in told.words


def test_a_kept_layout_that_was_edited_into_an_overlap_is_not_used(tmp_path):
    parts = [plate(), plate("b")]
    (nest,) = nests(parts, tmp_path)
    moved = tuple(dataclasses.replace(p, x=nest.layout.puts[0].x, y=nest.layout.puts[0].y) for p in nest.layout.puts)
    spoiled = dataclasses.replace(nest.layout, puts=moved)
    beside.keep(tmp_path / "toy.toml", {nest.job.name: (nest.job.digest, spoiled)})
    (again,) = nests(parts, tmp_path)
    assert again.how == "steady"
    assert codes([dataclasses.replace(nest, layout=spoiled)])[0] == ("NST-02", Level.FAIL)


def test_parts_the_sheets_have_no_room_for_are_told_and_not_held(tmp_path):
    found = nests([plate(x=900.0, y=400.0, quantity=3)], tmp_path)
    warned = [f for f in nest_flow.findings_of(found) if f.code == "NST-02" and f.level is Level.WARN]
    assert len(warned) == 1
    assert "a #2, a #3" in warned[0].words
    assert not warned[0].holding


def test_sheets_to_cut_have_their_parts_where_the_layout_says_and_leave_a_remnant(tmp_path):
    from shapely.geometry import Polygon

    (cut,) = nest_flow.cut_sheets(sheet(), nests([plate(quantity=2)], tmp_path))
    assert (cut.number, cut.name, cut.price) == (1, "full", 80.0)
    shapes = [Polygon(polyline(placed_part(p).profile.outer)) for p in cut.placed]
    assert shapes[0].distance(shapes[1]) >= 0.375 * INCH - 0.01
    reach = max(s.bounds[2] for s in shapes)
    assert cut.cut_to == pytest.approx(reach + 0.375 * INCH, abs=0.01)
    assert min(s.bounds[0] for s in shapes) >= 0.5 * INCH - 0.01


def test_coupons_are_cut_by_themselves():
    parts = [plate(), dataclasses.replace(plate("c"), kind="coupons")]
    (job,) = nest_flow.plate_jobs(sheet(), parts)
    assert set(job.parts) == {"a"}


def test_a_part_with_a_grain_arrow_lies_along_the_grain():
    arrow = Mark(10.0, 10.0, GRAIN, angle=90.0)
    (job,) = nest_flow.plate_jobs(sheet(), [plate(marks=(arrow,))])
    assert job.blanks[0].turns == (90.0, 270.0)
    (job,) = nest_flow.plate_jobs(sheet(), [plate()])
    assert job.blanks[0].turns == (0.0, 90.0, 180.0, 270.0)


def test_a_plate_without_a_sheet_and_parts_of_no_plate_are_left_out():
    strange = dataclasses.replace(plate("s"), thickness=7.7)
    assert nest_flow.plate_jobs(sheet(), [strange]) == ()
    assert nest_flow.plate_jobs(sheet(SHEET | {"plate": "1/2 in"}), [plate()]) == ()


def test_looking_for_a_better_layout_never_gives_a_worse_one(tmp_path):
    parts = [plate("a", 300.0, 200.0), plate("b", 180.0, 90.0, quantity=3)]
    path = tmp_path / "toy.toml"
    before = nests(parts, tmp_path)
    after = nest_flow.improved(path, sheet(), parts, 2.0)
    assert nest_flow.compared(after[0])[0] <= nest_flow.compared(before[0])[0] + 1e-6
    assert after[0].job.faults(after[0].layout) == ()
    used, boxes = nest_flow.compared(after[0])
    assert used <= boxes + 1e-6
    numbers = nest_flow.numbers_of(after)
    assert numbers["nest.saved"].value == pytest.approx(1.0 - used / boxes)
    assert 0.0 < numbers["nest.share"].value <= 1.0


def test_no_plates_no_numbers():
    assert nest_flow.numbers_of(()) == {}
    assert Layout((), (), 1.0, 1.0).puts == ()


def test_parts_that_may_tip_or_fall_are_cut_last_and_what_lies_inside_before_its_host():
    # pitch 100 mm: 300 x 300 has 150 from its middle to an edge, 300 x 150 has 75, 80 x 40 is shorter than the pitch
    big, tipping, small = plate("big", 300.0, 300.0), plate("tips", 300.0, 150.0), plate("falls", 80.0, 40.0)
    inner = nest_flow.Placed(small, 0.0, 0.0, 0.0, 2, "big")
    told = [nest_flow.Placed(p, 0.0, 0.0, 0.0) for p in (small, tipping)] + [
        inner,
        nest_flow.Placed(big, 0.0, 0.0, 0.0),
    ]
    order = [(p.part.name, p.copy) for p in nest_flow.loose_last(told, 100.0)]
    assert order == [("falls", 2), ("big", 1), ("tips", 1), ("falls", 1)]
