"""Strength of the stand against published bolt, weld and plate values."""

import pytest

from fixturegen.studies import stand_strength
from fixturegen.studies.stand_strength import FILLET, LEG, PULL, strengths_of, stress_area
from tests.studies.study_jobs import DROPOUT, INTEGRAL, REAR, case

KIP = 4448.2216


def by_name(name, **changes):
    return {s.name: s for s in strengths_of(*case(name, **changes))}


def test_stress_areas_are_those_published():
    # ASME B1.1 (from memory): 1/2-13 .1419, 5/8-11 .226, 3/4-10 .334 in^2; ISO 898-1: M12 84.3 mm^2
    assert stress_area("1/2-13") / 25.4**2 == pytest.approx(0.1419, abs=1e-4)
    assert stress_area("5/8-11") / 25.4**2 == pytest.approx(0.226, abs=1e-3)
    assert stress_area("3/4-10") / 25.4**2 == pytest.approx(0.334, abs=1e-3)
    assert stress_area("M12x1.75") == pytest.approx(84.3, abs=0.1)


def test_a_thread_that_is_not_in_the_table_is_worked_out_by_its_standard():
    # ASME B1.1: 0.7854 (D - 0.9743 / n)^2; ISO 898-1: pi/4 (d - 0.9382 P)^2, M22x2.5 303 mm^2
    assert stress_area("1 1/8-7") / 25.4**2 == pytest.approx(0.763, abs=1e-3)
    assert stress_area("M22x2.5") == pytest.approx(303.0, abs=0.5)


def test_a_three_sixteenths_e70_fillet_carries_what_aisc_allows():
    # AISC: 0.928 kip/in for each 1/16 in of leg
    assert pytest.approx(3 * 0.928, rel=1e-4) == FILLET * LEG * 25.4 / KIP


def test_the_pull_on_the_tie_is_100_pounds_force():
    assert pytest.approx(444.82, abs=0.01) == PULL


@pytest.mark.parametrize("name", [DROPOUT, INTEGRAL, REAR])
def test_the_examples_carry_three_times_the_load(name):
    for one in strengths_of(*case(name)):
        assert one.holds, one.name


def test_a_thinner_index_plate_is_bent_by_the_square_of_its_thickness():
    # section modulus b t^2 / 6
    sheet, axle, plan = case(DROPOUT)
    thin = plan.__class__(**{**vars(plan), "clock_thickness": plan.clock_thickness / 2.0})
    a = next(s for s in strengths_of(sheet, axle, plan) if s.name == "index plate, bending")
    b = next(s for s in strengths_of(sheet, axle, thin) if s.name == "index plate, bending")
    assert b.demand == pytest.approx(4.0 * a.demand)


def test_a_heavier_knuckle_loads_the_cradle_screw_more():
    light, heavy = by_name(DROPOUT), by_name(DROPOUT, knuckles__mass="70 lb")
    assert heavy["cradle screw"].demand > light["cradle screw"].demand


def test_a_rear_axle_has_no_tie_to_pull():
    assert "index plate, bending" not in by_name(REAR)


def test_the_load_factor_is_three():
    assert stand_strength.LOAD_FACTOR == 3.0
