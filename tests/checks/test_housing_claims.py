"""Claims about housing and truss, on either side of sums done by hand; loads scaled to just below and above a limit."""

from dataclasses import replace
from functools import cache

import pytest

from fixturegen.axle.model import axle_of
from fixturegen.checks.housing import numbers_in
from fixturegen.checks.housing_judged import housing_in
from fixturegen.checks.registry import Job
from fixturegen.checks.truss import plan_in
from fixturegen.findings import Level
from fixturegen.studies.axle_loads import loads_of
from fixturegen.studies.jig_plan import plan_of
from tests.checks.strength_jobs import CLAIMS, findings, scaled
from tests.studies.study_jobs import REAR, sheet_of

KSI = 6.894757293168
A36_YIELD = 36 * KSI
BELOW, ABOVE = 0.999, 1.001
CODES = ("HSG-01", "HSG-02", "HSG-03", "HSG-04", "HSG-05")


@cache
def _sheet(items):
    sheet = sheet_of(
        REAR, truss={"plate": "6 mm", **dict(items)} if items is not None else None, brackets=[], joints=[]
    )
    axle = axle_of(sheet)
    return sheet, axle, plan_of(sheet, axle), loads_of(sheet, axle)


@cache
def _plan(items):
    sheet, axle, plan, _ = _sheet(items)
    return plan_in(Job(sheet, axle, plan))


def job(times=1.0, bare=False, **truss):
    sheet, axle, plan, loads = _sheet(None if bare else tuple(sorted(truss.items())))
    made = Job(sheet, axle, plan, store={"axle.loads": scaled(loads, times)})
    made.store |= {"truss.plan": _plan(tuple(sorted(truss.items())))} if not bare else {}
    return made


def told(code, made):
    found = findings(code, made)
    return next((f for f in found if f.level is not Level.PASS), found[0])


def test_hsg_01_plates_are_held_at_their_yield_over_1_67():
    one = told("HSG-01", job(0.5))
    assert one.limit == pytest.approx(A36_YIELD / 1.67, rel=1e-6)  # AISC 360 F: yield over 1.67
    times = 0.5 * one.limit / one.value
    assert Level.FAIL not in {f.level for f in findings("HSG-01", job(BELOW * times))}
    found = next(f for f in findings("HSG-01", job(ABOVE * times)) if f.level is Level.FAIL)
    assert found.holding and "truss-front" in found.parts and found.remedy
    assert "licensed" in found.words and "fatigue" in found.words
    # beside the end of its weld a plate follows the tube: said, and held by nothing
    beside = [f for f in findings("HSG-01", job(ABOVE * times)) if f.level is Level.WARN]
    assert all(not f.holding and "follows the tube" in f.words for f in beside)
    assert told("HSG-01", job(0.5)).level is Level.PASS


def test_hsg_02_welds_are_held_at_the_throat_or_the_plate_beside_it():
    # plate beside it: 0.6 x 36 ksi x thickness / 1.5, less than the throat of a 1/4 fillet (AISC 360 J2.4 and J4.2)
    housing = housing_in(job())
    limit = 0.6 * A36_YIELD * housing.plan.thickness / 1.5
    assert all(
        one.capacity / one.factor.value == pytest.approx(limit) for f, one in housing.welds if "plate" in one.what
    )
    # where plates take up their share it is an estimate: said, and held by nothing
    most = {
        ending: max(one.used * one.factor.value for f, one in housing.welds if f.ending is ending)
        for ending in (True, False)
    }
    assert told("HSG-02", job(BELOW / max(most.values()))).level is Level.PASS
    said = told("HSG-02", job(ABOVE / most[True]))
    assert (said.level, said.holding) == (Level.WARN, False)
    assert "take up their share" in said.words and "taper off longer" in said.remedy
    # along it, V Q / I: held
    assert Level.FAIL not in {f.level for f in findings("HSG-02", job(BELOW / most[False]))}
    found = [f for f in findings("HSG-02", job(ABOVE / most[False])) if f.level is Level.FAIL]
    assert found and found[0].holding and found[0].limit == pytest.approx(limit)
    assert found[0].parts[0].startswith("truss-") and "fatigue" in found[0].words
    # a smaller leg lets the weld metal rule: 0.6 x 70 ksi x 0.7071 leg / 2
    small = housing_in(job(leg="1/8 in")).welds
    throat = 0.6 * 70 * KSI * 0.70710678 * 3.175 / 2
    assert any(one.capacity / one.factor.value == pytest.approx(throat, rel=1e-6) for _, one in small)


def test_hsg_03_an_end_that_is_too_high_is_a_step_and_says_what_to_do():
    passed, stepped = (told("HSG-03", job(end_height=h)) for h in ("1 in", "2 in"))
    assert passed.level is Level.PASS and passed.value < 2.0 < stepped.value
    assert stepped.level is Level.WARN and not stepped.holding
    assert "taper longer" in stepped.remedy and "end_height" in stepped.remedy


def test_hsg_04_a_quarter_of_a_degree_of_bending_as_it_stands_is_said():
    # 0 to +/- 0.25 deg is what a wheel may be off when built (common practice, no source)
    one = told("HSG-04", job(bare=True))
    assert one.limit == 0.25
    times = one.limit / one.value
    assert told("HSG-04", job(BELOW * times, bare=True)).level is Level.PASS
    found = told("HSG-04", job(ABOVE * times, bare=True))
    assert found.level is Level.WARN and not found.holding and "set the ends" in found.remedy
    # a truss takes most of it away
    assert told("HSG-04", job()).value < 0.5 * one.value
    assert "without the truss" in told("HSG-04", job()).words


def test_hsg_05_a_truss_whose_weld_is_shorter_than_it_is_high_counts_for_nothing_and_that_is_said():
    assert told("HSG-05", job()).level is Level.PASS
    short = told("HSG-05", job(centre="bridge", left_end="260 mm"))
    assert short.level is Level.WARN and "left" in short.remedy
    assert "bridges the centre section" in short.words
    # nowhere half of it counts: what it follows the tube by is told, and where
    (plates,) = findings("HSG-01", job(0.1, centre="bridge", left_end="260 mm", right_end="-290 mm"))
    assert plates.level is Level.PASS and plates.value > 0.0 and "follows the tube" in plates.words
    assert "carry on over the centre section" in plates.words
    loose = job()
    plan = loose.store["truss.plan"]
    loose.store["truss.plan"] = replace(plan, welds=tuple(w for w in plan.welds if not w.onto.startswith("tube")))
    assert told("HSG-05", loose).level is Level.WARN
    assert "counts nowhere, see HSG-05" in told("STR-10", loose).words and findings("HSG-01", loose) == []


def test_str_10_a_truss_lets_the_tubes_carry_more_and_both_figures_are_told():
    bare, trussed = told("STR-10", job(bare=True)), told("STR-10", job())
    assert trussed.value < 0.9 * bare.value
    assert "with the truss counted; without it" in trussed.words
    times = trussed.limit / trussed.value
    assert told("STR-10", job(BELOW * times)).level is Level.PASS
    assert told("STR-10", job(ABOVE * times)).level is Level.WARN


def test_str_10_a_bridge_is_judged_with_its_share_shed_beside_the_centre_section_and_the_other_bound_told():
    bridged = told("STR-10", job(centre="bridge"))
    welded = told("STR-10", job())
    assert bridged.value > welded.value
    assert "if its plates carry on across" in bridged.words
    across = housing_in(job(centre="bridge")).across
    assert across is not None and across.worst()[0].best.equivalent.max() < bridged.value


def test_a_truss_without_loads_is_not_judged_and_held_by_nothing():
    sheet, axle, plan, _ = _sheet(())
    made = Job(sheet.model_copy(update={"loads": None}), axle, plan)
    (one,) = findings("HSG-01", made)
    assert (one.level, one.holding) == (Level.NOT_CHECKED, False)
    assert "[loads]" in one.remedy
    for code in ("HSG-02", "HSG-04", "HSG-05", "STR-10"):
        assert findings(code, made) == []
    assert told("HSG-03", made).level is Level.PASS  # a step needs no loads


def test_a_housing_without_truss_has_no_claims_about_one():
    for code in CODES:
        if code != "HSG-04":
            assert findings(code, job(bare=True)) == []
    assert set(CODES) <= set(CLAIMS)


def test_a_truss_that_cannot_be_drawn_is_left_to_its_own_claim():
    sheet, axle, plan, loads = _sheet(())
    tall = sheet.truss.model_copy(update={"height": sheet.truss.end_height})
    made = Job(sheet.model_copy(update={"truss": tall}), axle, plan, store={"axle.loads": replace(loads)})
    assert findings("HSG-01", made) == []
    assert "cannot be drawn, see TRS-01" in told("STR-10", made).words


def test_numbers_of_the_housing_carry_units_and_trust_and_are_those_of_the_claims():
    made = job()
    numbers = numbers_in(made)
    study = housing_in(made).study
    assert numbers["housing.stress"].value == pytest.approx(told("STR-10", made).value)
    assert numbers["housing.stress-bare"].value == pytest.approx(told("STR-10", job(bare=True)).value)
    assert numbers["housing.plate-stress"].value == pytest.approx(max(c.truss.plates.max() for c in study.cases))
    assert numbers["housing.static.camber-left"].value == pytest.approx(study.case("static").truss.ends.camber[1])
    assert numbers["housing.static.camber-left-bare"].value == pytest.approx(study.case("static").bare.ends.camber[1])
    assert {n.unit for n in numbers.values()} <= {"MPa", "deg", "mm", "1"}
    assert all(n.source and n.trust for n in numbers.values())
    assert numbers["housing.step-left"].value == pytest.approx(told("HSG-03", made).value, rel=0.05)
    assert not any("truss" in k or "weld" in k for k in numbers_in(job(bare=True)))
