"""Claims about gauges; limits are common practice without a source, or a law of geometry."""

import dataclasses

import pytest

from fixturegen.axle.model import axle_of, to_table
from fixturegen.bodies.knuckle import knuckle_body
from fixturegen.checks.registry import claims
from fixturegen.findings import Level
from fixturegen.gauges.registry import STORE
from fixturegen.parts.registry import Context
from fixturegen.parts.stub_pins import make_stub_pins
from fixturegen.plate import Assembly
from fixturegen.plate.profile import Operation
from fixturegen.shapes.solids import transformed
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


def test_gau_04_a_gauge_that_runs_into_the_knuckle_is_held():
    job = on_the_bench(BALL)
    assert [f.level for f in findings("GAU-04", job)] == [Level.PASS]
    # the same gauge at a knuckle whose lower boss turns out larger than the sheet had it
    spec = job.sheet.knuckles
    lower = spec.lower.model_copy(update={"boss_diameter": type(spec.lower.boss_diameter)(5.75 * INCH)})
    sheet = job.sheet.model_copy(update={"knuckles": spec.model_copy(update={"lower": lower})})
    store = {STORE: job.store[STORE], "bench_bodies": knuckle_of(sheet, job.plan)}
    told = findings("GAU-04", dataclasses.replace(job, sheet=sheet, store=store))[0]
    assert told.level is Level.FAIL
    assert "deep in the knuckle" in told.words


def knuckle_of(sheet, plan):
    """The left knuckle alone, where it stands on the bench."""
    axle = axle_of(sheet)
    left = axle.knuckles[0]
    turn, at = to_table(axle, plan.height)
    body = knuckle_body(sheet.knuckles, left, axle.bench_caster)
    return {"knuckle-left": transformed(body, tuple(map(tuple, turn.tolist())), tuple(at.tolist()))}


def on_the_bench(name):
    """A job with gauges, the stub pins of its jig and its left knuckle; nothing else drawn."""
    job = job_with(sheet_with(name))
    made = make_stub_pins(Context(job.sheet, job.axle, job.plan))
    job.parts.update({p.name: p for p in made.parts})
    job.assemblies["jig"] = Assembly("jig", "T", made.placements)
    job.store["bench_bodies"] = knuckle_of(job.sheet, job.plan)
    return job


def test_a_sheet_without_gauges_hears_nothing_of_them():
    sheet = sheet_with(BALL).model_copy(update={"gauges": None})
    job = job_with(sheet, drawn=False)
    assert [findings(code, job) for code in ("GAU-01", "GAU-02", "GAU-03", "GAU-04")] == [[], [], [], []]
