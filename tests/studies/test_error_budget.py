"""The error budget: levers against closed forms, what cancels, what fails, and the remedy told."""

import math

import pytest

from fixturegen.studies.error_budget import (
    CASTER_WORST,
    SPLIT_RSS,
    SPLIT_WORST,
    budget_of,
    moved,
    remedy_for,
    root_sum_square,
    worst_case,
)
from fixturegen.studies.jig_deviations import Chain, Deviations, actual
from fixturegen.studies.jig_pose import Simulation
from tests.studies.study_jobs import DROPOUT, INTEGRAL, case, sheet_of

BOTH = pytest.mark.parametrize("name", [DROPOUT, INTEGRAL])


@pytest.fixture(scope="module")
def budgets():
    return {name: budget_of(*case(name)) for name in (DROPOUT, INTEGRAL)}


def named(budget, name):
    return next(c for c in budget.contributors if c.name == name)


def test_the_limits_are_those_of_the_job():
    assert (SPLIT_WORST, SPLIT_RSS, CASTER_WORST) == (0.25, 0.15, 0.25)


@BOTH
def test_the_example_passes_with_its_own_process_and_a_12_inch_tie(budgets, name):
    sheet, _, plan = case(name)
    assert sheet.process.angle_holes == "mill"
    assert plan.tie.radius == pytest.approx(12 * 25.4)
    b = budgets[name]
    assert b.passes
    assert b.caster <= 0.25
    assert b.split <= 0.25
    assert b.split_rss <= 0.15


@BOTH
def test_holes_drilled_from_a_punched_mark_do_not_pass(name):
    b = budget_of(*case(name, process__angle_holes="marked"))
    assert not b.passes
    assert b.caster > 0.25
    assert "finger bar holes" in [c.name for c in b.largest]


@BOTH
def test_plates_drilled_apart_from_marks_are_useless_for_the_split(name):
    # a rough study of the trade: hand-drilled jigs split by more than a degree
    b = budget_of(*case(name, process__angle_holes="marked", process__stacked=False))
    assert b.split > 0.5


@BOTH
def test_the_tie_s_lever_is_t_over_r(budgets, name):
    # closed form: a hole T out at radius R turns by T / R
    _, _, plan = case(name)
    found = named(budgets[name], "tie in the index hole").sensitivity
    assert found == pytest.approx(math.degrees(1.0 / plan.tie.radius), rel=1e-3)


@BOTH
def test_the_pads_lever_is_t_over_their_span(budgets, name):
    # closed form: upper and lower pad out by T each, oppositely: 2 T over the span
    _, _, plan = case(name)
    low, high = (sum(p) / 2.0 for p in plan.index.pads)
    pads = named(budgets[name], "pads on the datum face")
    assert pads.left == pytest.approx(math.degrees(2.0 * 0.05 / (high - low)), rel=0.03)


@BOTH
def test_the_fingers_lever_is_the_distance_of_the_heads(budgets, name):
    _, _, plan = case(name)
    upper, lower = plan.clock.fingers
    lever = math.dist(upper.middle, lower.middle)
    holes = named(budgets[name], "finger bar holes")
    assert holes.left == pytest.approx(math.degrees(2.0 * 0.05 / lever), rel=0.03)


@BOTH
def test_holes_drilled_with_their_mates_cancel_in_the_split(budgets, name):
    assert named(budgets[name], "finger bar holes").split < 1e-6
    apart = budget_of(*case(name, process__stacked=False))
    assert named(apart, "finger bar holes").split > 0.02


@BOTH
def test_what_turns_both_plates_is_trimmed_out_and_told_before_the_trim(budgets, name):
    tie = named(budgets[name], "tie out of straight")
    assert tie.untrimmed == pytest.approx(2 * 0.254 / case(name)[2].tie.radius * 180 / math.pi, rel=0.01)
    assert max(tie.left, tie.right, tie.split) < 1e-6


@BOTH
def test_the_level_counts_twice_in_the_split_and_once_a_plate(budgets, name):
    level = named(budgets[name], "level on the level pins")
    assert level.split == pytest.approx(2 * 0.02, rel=1e-3)
    # one reading of the plate and one of the index plate
    assert level.left == pytest.approx(2 * 0.02, rel=1e-3)


@BOTH
def test_the_linear_trim_agrees_with_the_simulated_one(name):
    sheet, axle, plan = case(name)
    jig = Simulation(sheet, axle, plan)
    d = moved(actual(sheet), "left.finger_upper", 0.05)
    simulated = jig.trimmed(d)[0].left.caster_bench - axle.bench_caster
    only = budget_of(*case(name, process__stacked=False))
    share = named(only, "finger bar holes")
    # two inputs of the left plate, upper and lower, of nearly equal effect
    assert 2.0 * abs(simulated) == pytest.approx(share.left, rel=0.05)


@BOTH
def test_a_better_level_and_a_wider_tolerance_move_the_budget_as_they_should(budgets, name):
    worse = budget_of(*case(name, tools__level_repeatability="0.05 deg"))
    assert worse.split - budgets[name].split == pytest.approx(2 * 0.03, rel=1e-2)


def test_the_remedy_named_passes_when_it_is_done():
    sheet, axle, _ = case(DROPOUT, process__angle_holes="marked")
    assert "mill" in remedy_for(sheet, axle)
    assert budget_of(*case(DROPOUT, process__angle_holes="mill")).passes


def test_a_poor_level_is_told_as_such():
    sheet, axle, plan = case(DROPOUT, tools__level_repeatability="0.1 deg")
    assert not budget_of(sheet, axle, plan).passes
    assert "level that repeats" in remedy_for(sheet, axle)


def test_where_nothing_passes_the_remedy_says_so():
    sheet, axle, plan = case(DROPOUT, housing__face__angle="0.5 deg +/- 0.5 deg")
    assert not budget_of(sheet, axle, plan).passes
    assert "measure the largest contributors again" in remedy_for(sheet, axle)


def test_several_changes_are_told_together_when_one_is_not_enough():
    changes = {"process__angle_holes": "marked", "process__stacked": False, "tools__level_repeatability": "0.08 deg"}
    sheet, axle, plan = case(DROPOUT, **changes)
    assert not budget_of(sheet, axle, plan).passes
    told = remedy_for(sheet, axle)
    assert "level" in told
    assert "mill" in told


def test_a_face_not_measured_costs_more_and_is_marked_assumed():
    sheet = sheet_of(DROPOUT)
    housing = sheet.housing.model_copy(update={"face": sheet.housing.face.model_copy(update={"angle": None})})
    _, axle, plan = case(DROPOUT)
    b = budget_of(sheet.model_copy(update={"housing": housing}), axle, plan)
    face = named(b, "face angle")
    assert face.left == pytest.approx(0.10, rel=1e-3)
    assert face.trust == "assumed"


def test_a_stack_adds_up_as_published():
    # sources: stack .010, .005, .015, .008 gives .038 worst case and .02035 RSS (derived)
    terms = [(1.0, 0.010), (-1.0, 0.005), (1.0, 0.015), (-1.0, 0.008)]
    assert worst_case(terms) == pytest.approx(0.038)
    assert root_sum_square(terms) == pytest.approx(0.02035, abs=5e-6)


def test_a_deviation_is_moved_by_its_path():
    d = moved(Deviations(left=Chain(tie_x=0.1)), "left.tie_x", 0.2)
    assert d.left.tie_x == pytest.approx(0.3)
    assert moved(Deviations(), "index_hole", 0.5).index_hole == 0.5
