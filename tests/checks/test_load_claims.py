"""The claim about loads, on either side of what links and springs can carry."""

from dataclasses import replace

from fixturegen.axle.model import axle_of
from fixturegen.checks import registry
from fixturegen.checks.job_numbers import loaded
from fixturegen.checks.registry import Job
from fixturegen.findings import Level
from fixturegen.studies.axle_loads import loads_of
from fixturegen.studies.jig_plan import plan_of
from tests.studies.study_jobs import DROPOUT, REAR, sheet_of

CLAIMS = {c.code: c for c in registry.claims("travel")}


def job(name=DROPOUT, **changes):
    sheet = sheet_of(name, **changes)
    axle = axle_of(sheet)
    return Job(sheet, axle, plan_of(sheet, axle))


def coil(frame, axle):
    return [{"name": "coil", "kind": "spring", "frame": frame, "axle": axle}]


def test_lod_01_springs_apart_carry_every_case_and_springs_in_the_middle_carry_none():
    apart = job(REAR, links__struts=coil(["-2845 mm", "60 mm", "900 mm"], ["-2845 mm", "60 mm", "500 mm"]))
    (passed,) = CLAIMS["LOD-01"].check(apart)
    assert passed.level is Level.PASS
    middle = job(REAR, links__struts=coil(["-2845 mm", "0 mm", "900 mm"], ["-2845 mm", "0 mm", "500 mm"]))
    found = CLAIMS["LOD-01"].check(middle)
    assert {f.level for f in found} == {Level.FAIL}
    assert len(found) == 11  # every case of a rear axle
    assert all("in roll" in f.words for f in found)


def test_lod_01_names_the_governing_case_of_each_link_and_what_is_not_covered():
    (passed,) = CLAIMS["LOD-01"].check(job())
    assert passed.level is Level.PASS
    assert "track-bar" in passed.words
    assert "in side-steer-" in passed.words  # of all cases the one made to load the track bar most
    for word in ("lower-left", "upper", "fatigue", "heat-affected zone", "impact beyond the factor"):
        assert word in passed.words.replace("Forces", "forces")
    assert passed.value < passed.limit


def test_lod_01_a_case_that_does_not_close_is_a_fail():
    made = job(REAR)
    loads = loads_of(made.sheet, made.axle)
    first = loads.cases[0]

    def with_share(share):
        spoiled = replace(first, residual=replace(first.residual, share=share))
        return Job(made.sheet, made.axle, made.plan, store={"axle.loads": replace(loads, cases=(spoiled,))})

    assert {f.level for f in CLAIMS["LOD-01"].check(with_share(0.9e-9))} == {Level.PASS}
    assert {f.level for f in CLAIMS["LOD-01"].check(with_share(1.1e-9))} == {Level.FAIL}
    assert {f.level for f in CLAIMS["LOD-01"].check(with_share(float("nan")))} == {Level.FAIL}


def test_lod_01_a_bump_out_of_reach_is_named_with_its_case():
    middle = {"frame": ["-4 in", "-9 in", "32 in"], "axle": ["-2 in", "-10 in", "27 in"]}
    made = job(links__upper={"middle": middle})
    (told,) = [f for f in CLAIMS["LOD-01"].check(made) if f.level is Level.FAIL]
    assert told.words.startswith("bump (")
    assert "out of reach" in told.words
    assert told.pose == "bump"


def test_lod_01_a_missing_value_is_a_sentence_and_no_traceback():
    (told,) = CLAIMS["LOD-01"].check(job(loads={"axle_load": "2640 lb"}))
    assert (told.level, told.holding) == (Level.FAIL, False)
    assert "loads.ratio" in told.words
    (told,) = CLAIMS["LOD-01"].check(job(links=None))
    assert told.level is Level.FAIL
    assert "[links]" in told.words
    assert CLAIMS["LOD-01"].check(job(loads=None)) == []


def test_lod_01_steering_without_its_force_is_told_as_not_checked():
    found = CLAIMS["LOD-01"].check(job(loads={"axle_load": "2640 lb", "ratio": "4"}))
    assert [f.level for f in found] == [Level.PASS, Level.NOT_CHECKED]
    assert "loads.steering_force" in found[1].words
    assert not found[1].holding


def test_the_numbers_of_a_job_hold_every_case_with_what_it_does_not_cover():
    made = job(REAR)
    found = loaded(made)
    for one in loads_of(made.sheet, made.axle).cases:
        for link, force in one.links.items():
            number = found[f"loads.{one.case.name}.{link}"]
            assert (number.value, number.unit) == (force, "N")
            assert "not covered: " in number.source and "fatigue" in number.source
    assert loaded(job(REAR, loads=None)) == {}
    assert loaded(job(REAR, loads={"axle_load": "2640 lb"})) == {}  # no ratio: LOD-01 says so
