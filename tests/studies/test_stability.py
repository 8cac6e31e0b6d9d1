"""Support polygons, the roll stop and lifts."""

from dataclasses import replace

import pytest

from fixturegen.studies.masses import bodies_of
from fixturegen.studies.stability import (
    SPARE,
    entering_spare,
    lifts_of,
    polygon,
    roll_stop,
    spare_inside,
    steps_of,
)
from tests.studies.study_jobs import DROPOUT, INTEGRAL, REAR, case

SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))


def test_the_spare_in_a_square_is_the_distance_to_the_nearest_side():
    assert spare_inside(SQUARE, (30.0, 50.0)) == pytest.approx(30.0)
    assert spare_inside(SQUARE, (50.0, 95.0)) == pytest.approx(5.0)
    assert spare_inside(SQUARE, (50.0, 110.0)) == pytest.approx(-10.0)


def test_two_supports_leave_nothing_to_spare():
    assert spare_inside(polygon([(0, 0), (100, 0)]), (50.0, 0.0)) <= 0.0


def test_the_polygon_leaves_points_inside_out():
    assert polygon([*SQUARE, (50.0, 50.0)]) == tuple(SQUARE)


@pytest.mark.parametrize("name", [DROPOUT, INTEGRAL, REAR])
def test_the_examples_stand_with_two_inches_to_spare_at_every_step(name):
    # the job's own rule: 2 in
    assert pytest.approx(50.8) == SPARE
    for step in steps_of(*case(name)):
        assert step.spare >= 50.8, step.name


def test_every_step_of_the_job_is_looked_at():
    names = [s.name for s in steps_of(*case(DROPOUT))]
    assert names[0] == "on jacks alone"
    assert "bar half in" in names
    assert "left side fitted alone" in names
    assert "right side fitted alone" in names
    assert names[-1] == "knuckles on, tie in"


def test_a_cradle_close_to_the_casting_lets_the_long_side_tip():
    # the long tube's side with the bar half in: the cradle beside the casting is not enough
    sheet, axle, plan = case(INTEGRAL)
    left, right = plan.cradles
    near = replace(plan, cradles=(replace(left, station=-70.0), right))
    assert min(s.spare for s in steps_of(sheet, axle, near)) < 50.8


def test_the_bar_entering_is_the_worst_moment_for_the_long_side():
    sheet, axle, plan = case(DROPOUT)
    half_in = next(s for s in steps_of(sheet, axle, plan) if s.name == "bar half in")
    assert entering_spare(sheet, axle, plan) < half_in.spare


def test_a_middle_on_the_axle_line_does_not_roll():
    sheet, axle, plan = case(DROPOUT)
    bodies = bodies_of(sheet, axle, plan)
    even = {k: replace(b, at=(0.0, b.at[1], b.at[2])) for k, b in bodies.items()}
    moment, held = roll_stop(sheet, axle, plan, even)
    assert moment == 0.0
    assert held > 0.0


def test_the_roll_moment_is_weight_times_offset():
    # statics: M = m g x
    sheet, axle, plan = case(DROPOUT)
    bodies = bodies_of(sheet, axle, plan)
    moment, _ = roll_stop(sheet, axle, plan, bodies)
    centre = bodies["centre"]
    assert moment == pytest.approx(centre.mass * 9.80665 * abs(centre.at[0]))


def test_lifts_name_the_bar_and_the_finished_axle():
    names = [lift.name for lift in lifts_of(*case(DROPOUT))]
    assert "alignment bar" in names
    assert "axle with bar, knuckles and clock plates" in names
