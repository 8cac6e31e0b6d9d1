"""Claims about gauges; limits are common practice without a source, or a law of geometry."""

import dataclasses

import pytest

from fixturegen.checks.registry import claims
from fixturegen.findings import Level
from fixturegen.gauges.registry import STORE
from fixturegen.plate.profile import Operation
from tests.gauges.gauge_jobs import BALL, INCH, example, job_with, sheet_with


def findings(code, job):
    return next(c for c in claims() if c.code == code).check(job)


def about(code, job, part):
    return [f for f in findings(code, job) if part in f.parts]


def test_gau_01_a_gauge_coarser_than_a_quarter_of_its_tolerance_is_told_with_what_makes_it_finer():
    fine = about("GAU-01", example(), "sine-gauge")[0]
    assert fine.level is Level.PASS
    assert fine.value <= 0.25 / 4.0  # a quarter of the build target of the trade
    marked = about("GAU-01", job_with(sheet_with(angle_holes="marked")), "sine-gauge")[0]
    assert marked.level is Level.WARN
    assert marked.value > 0.25 / 4.0
    assert "mill" in marked.remedy


def test_gau_01_a_gauge_that_cannot_tell_good_from_bad_is_held():
    # a level that spreads by 0.4 deg cannot prove 0.25 deg
    sheet = sheet_with()
    level = type(sheet.tools.level_repeatability)(0.4)
    sheet = sheet.model_copy(update={"tools": sheet.tools.model_copy(update={"level_repeatability": level})})
    held = about("GAU-01", job_with(sheet), "sine-gauge")[0]
    assert held.level is Level.FAIL
    assert "do not judge by it" in held.remedy


def test_gau_02_a_gauge_asked_for_by_name_that_cannot_be_made_is_told():
    named = findings("GAU-02", job_with(sheet_with(gauges={"wanted": ["depth", "end-disc"]})))
    assert [f.level for f in named] == [Level.PASS, Level.WARN]
    assert "pinion_head" in named[1].remedy
    given = findings("GAU-02", job_with(sheet_with(gauges={"wanted": ["depth", "end-disc"], "pinion_head": "2.6 in"})))
    assert [f.level for f in given] == [Level.PASS]
    listed = findings("GAU-02", job_with(sheet_with(gauges={}), drawn=False))
    assert {f.level for f in listed[1:]} == {Level.NOT_CHECKED}


def test_gau_03_a_hole_that_measures_is_a_mark_and_an_edge_has_steel_left():
    job = job_with(sheet_with())
    assert [f.level for f in findings("GAU-03", job)] == [Level.PASS]
    part = job.parts["sine-gauge"]
    first = dataclasses.replace(part.profile.holes[2], operation=Operation.CUT, cut=part.profile.holes[2].finished)
    holes = (*part.profile.holes[:2], first, *part.profile.holes[3:])
    job.parts["sine-gauge"] = dataclasses.replace(part, profile=dataclasses.replace(part.profile, holes=holes))
    told = about("GAU-03", job, "sine-gauge")[0]
    assert told.level is Level.FAIL
    assert "would be cut by the torch" in told.words


@pytest.mark.parametrize("off", [0.0, 0.4])
def test_gau_03_a_roller_off_its_place_is_seen(off):
    job = job_with(sheet_with())
    part = job.parts["sine-gauge"]
    moved = dataclasses.replace(part.profile.holes[3], x=part.profile.holes[3].x + off)
    holes = (*part.profile.holes[:3], moved, *part.profile.holes[4:])
    job.parts["sine-gauge"] = dataclasses.replace(part, profile=dataclasses.replace(part.profile, holes=holes))
    assert about("GAU-03", job, "sine-gauge")[0].level is (Level.FAIL if off else Level.PASS)


def test_gau_03_a_blank_without_steel_for_the_mill_is_seen():
    job = job_with(sheet_with())
    made = job.store[STORE]
    job.store[STORE] = dataclasses.replace(made, edges=tuple((n, x, w + 0.1 * INCH) for n, x, w in made.edges))
    told = about("GAU-03", job, "width-1")[0]
    assert told.level is Level.FAIL
    assert "left to be milled" in told.words


def test_a_sheet_without_gauges_hears_nothing_of_them():
    sheet = sheet_with(BALL).model_copy(update={"gauges": None})
    job = job_with(sheet, drawn=False)
    assert [findings(code, job) for code in ("GAU-01", "GAU-02", "GAU-03")] == [[], [], []]
