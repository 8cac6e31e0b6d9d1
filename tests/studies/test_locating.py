"""Locating of every body of the jig."""

from dataclasses import replace

import pytest

from fixturegen.studies.locating import Contact, TurnStop, bodies_located, located
from tests.studies.study_jobs import DROPOUT, INTEGRAL, REAR, case

X, Z = (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)


@pytest.mark.parametrize("name", [DROPOUT, INTEGRAL, REAR])
def test_every_body_is_held_once_but_for_what_is_left_on_purpose(name):
    for body in bodies_located(*case(name)):
        assert body.unwanted == ()
        assert body.excess == 0
        assert body.rank == body.freedoms - len(body.wanted)


def test_each_body_of_a_front_jig_is_looked_at():
    names = [b.name for b in bodies_located(*case(INTEGRAL))]
    assert names == [
        "housing",
        "index plate",
        "bar",
        "tie",
        "left clock plate and knuckle",
        "right clock plate and knuckle",
    ]


def test_a_drop_out_with_a_cradle_under_the_bar_is_left_to_roll():
    # the bar lies in the stand there, so a cradle under it holds nothing of the housing
    sheet, axle, plan = case(DROPOUT)
    left, right = plan.cradles
    short = replace(plan, cradles=(left, replace(right, carries="bar")))
    housing = bodies_located(sheet, axle, short)[0]
    assert housing.rank == 5
    assert housing.unwanted


def test_a_tie_without_its_steady_swings_in_plan():
    # the turn of the tie in plan is the split: one index plate cannot hold it
    contacts = [Contact("tie", (0.0, 0.0, 300.0), n, "index hole") for n in (X, Z)]
    free = located("tie", contacts).free
    assert any("swings in plan" in f or "moves along" in f for f in free)
    assert len(free) == 4


def test_a_freedom_held_twice_is_counted():
    contacts = [Contact("bar", (0.0, y, 0.0), Z, "puck") for y in (-50.0, 0.0, 50.0)]
    assert located("bar", contacts).excess == 1


def test_a_difference_of_two_gaps_stops_the_turn_alone():
    contacts = [
        Contact("plate", (0.0, 0.0, 0.0), X, ""),
        Contact("plate", (0.0, 0.0, 0.0), Z, ""),
        TurnStop("plate", "gaps"),
    ]
    held = located("plate", contacts)
    assert held.rank == 3
    assert not any("turns about the axle line" in f for f in held.free)


def test_pads_close_together_are_touchier_than_pads_apart():
    sheet, axle, plan = case(DROPOUT)
    (l0, l1), (u0, u1) = plan.index.pads
    near = tuple((z0 * 0.3, z1 * 0.3) for z0, z1 in ((l0, l1), (u0, u1)))
    close = replace(plan, index=replace(plan.index, pads=near))
    assert bodies_located(sheet, axle, close)[0].condition > bodies_located(sheet, axle, plan)[0].condition
