"""Whether parts fit the sheets there are, at the boundary; room and limits are arithmetic on the sheet's numbers."""

from fixturegen.checks import registry
from fixturegen.checks.registry import Job
from fixturegen.findings import Level
from fixturegen.plate import Part, Profile
from fixturegen.plate.profile import rectangle
from tests.studies.study_jobs import case, sheet_of

INCH = 25.4
FIT = next(c for c in registry.claims() if c.code == "NST-01")
HALF = {"name": "half", "plate": "1/2 in", "length": "48 in", "width": "24 in", "count": 1, "grain": "length"}


def job(size, *stock, thickness="0.503 in", **changes):
    sheet = sheet_of(sheets=list(stock), nesting={"edge": "1/2 in", **changes})
    _, axle, plan = case()
    part = Part(
        "bar-plate",
        "Plate",
        "toy",
        "plate",
        float(thickness.split()[0]) * INCH,
        profile=Profile(rectangle(0.0, 0.0, size[0] * INCH, size[1] * INCH)),
    )
    return Job(sheet, axle, plan, {part.name: part})


def levels(made):
    return [f.level for f in FIT.check(made)]


def test_a_part_a_hair_larger_than_the_sheet_inside_its_edges_is_held():
    assert FIT.code == "NST-01"
    for size in ((47.0, 23.0), (5.0, 23.01)):
        assert levels(job(size, HALF)) == [Level.PASS]
    for size in ((47.01, 5.0), (23.01, 23.01)):
        (finding,) = FIT.check(job(size, HALF))
        assert finding.level is Level.FAIL
        assert finding.parts == ("bar-plate",)
        assert finding.holding
        assert "half" in finding.words
        assert "47 in x 23 in inside its edges" in finding.words


def test_grain_and_turns_decide_which_way_it_may_lie():
    upright = (5.0, 40.0)
    assert levels(job(upright, HALF)) == [Level.PASS]
    assert levels(job(upright, HALF, turn="half-turns")) == [Level.FAIL]
    across = HALF | {"grain": "width"}
    assert levels(job(upright, across, turn="none")) == [Level.PASS]
    assert levels(job((40.0, 5.0), across, turn="none")) == [Level.FAIL]


def test_a_plate_of_which_no_sheet_is_there_is_held():
    (finding,) = FIT.check(job((5.0, 5.0), HALF | {"plate": "3/8 in"}))
    assert finding.level is Level.FAIL
    assert "no sheet of 1/2 in is there" in finding.words


def test_a_remnant_that_is_used_up_is_told_and_nothing_lies_on_it():
    for gone in (HALF | {"count": 0}, HALF | {"width": "0 in"}):
        made = job((5.0, 5.0), HALF | {"name": "other"}, gone)
        assert levels(made) == [Level.PASS, Level.WARN]
        assert "half is on the list" in FIT.check(made)[1].words
        assert levels(job((5.0, 5.0), gone)) == [Level.FAIL, Level.WARN]


def test_without_a_list_of_sheets_it_is_a_warning_and_holds_nothing():
    (finding,) = FIT.check(job((5.0, 5.0)))
    assert finding.level is Level.WARN
    assert "[[sheets]]" in finding.remedy
