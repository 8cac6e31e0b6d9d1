"""Loads of bolts: SAE J429 and ISO 898-1 (secondary copies), shear and bending of pins."""

import math

import numpy as np
import pytest

from fixturegen.calc import ask
from fixturegen.calc._bolts import (
    bolt_shear,
    cantilever_moment,
    pin_moment,
    pin_stress,
    shank_area,
    stress_area_inch,
    stress_area_metric,
)
from fixturegen.calc.bolt import bolt
from fixturegen.errors import InputFault

INCH, KSI, LBF, KIP = 25.4, 6.894757293168, 4.4482216152605, 4448.2216152605


def test_an_m12_of_10_9_has_the_loads_of_iso_898_1():
    found = bolt("M12", "10.9")
    # printed 70 000 and 87 700 N
    assert found.proof_load == pytest.approx(70_000, abs=50)
    assert found.ultimate_load == pytest.approx(87_700, abs=50)
    assert found.clamp_load == pytest.approx(52_500, abs=40)
    assert bolt("M12", "12.9").proof_load != pytest.approx(70_000, abs=1000)


@pytest.mark.parametrize(
    ("name", "area", "proof", "tensile"),
    [("SAE 2", 0.1419, 55, 74), ("SAE 5", 0.1419, 85, 120), ("SAE 8", 0.1419, 120, 150)],
)
def test_a_half_inch_bolt_has_the_loads_of_its_grade(name, area, proof, tensile):
    found = bolt("1/2-13", name)
    assert found.proof_load / KIP == pytest.approx(area * proof, rel=1e-6)
    assert found.ultimate_load / KIP == pytest.approx(area * tensile, rel=1e-6)


# common practice, no source: 0.6 x 150 ksi in one plane, kip; thread in the plane of a half inch bolt 12.8
@pytest.mark.parametrize(
    ("name", "kips"),
    [("1/2-13", 17.7), ("9/16-12", 22.4), ("5/8-11", 27.6), ("3/4-10", 39.8), ("7/8-9", 54.1), ("1-8", 70.7)],
)
def test_a_grade_8_shank_shears_at_the_usual_figure(name, kips):
    one = bolt(name, "SAE 8", "shank", "1").shear_load
    assert one / KIP == pytest.approx(kips, abs=0.06)
    assert bolt(name, "SAE 8", "shank", "2").shear_load == pytest.approx(2 * one)
    assert bolt(name, "SAE 8", "thread", "1").shear_load < 0.8 * one


def test_thread_in_the_plane_of_a_half_inch_bolt_leaves_12_8():
    assert bolt("1/2-13", "SAE 8").shear_load / KIP == pytest.approx(12.8, abs=0.05)


def test_stress_areas_come_from_the_formulas_of_the_standards():
    # ISO 898-1 printed: M8 36.6, M12 84.3, M20 245 mm^2; ASME B1.1 from memory .1419, .334 in^2
    printed = [36.6, 84.3, 245]
    found = stress_area_metric(np.array([8.0, 12, 20]), np.array([1.25, 1.75, 2.5]))
    assert found == pytest.approx(printed, rel=2e-3)
    assert stress_area_inch(0.5 * INCH, 13) / INCH**2 == pytest.approx(0.1419, abs=5e-5)
    assert stress_area_inch(0.75 * INCH, 10) / INCH**2 == pytest.approx(0.334, abs=5e-4)
    assert bolt_shear(shank_area(0.5 * INCH), 150 * KSI) / KIP == pytest.approx(17.67, abs=0.01)


@pytest.mark.parametrize("given", ["1/2-13", "1/2", "1/2 in", '1/2"', "1/2 - 13", "1/2-13 UNC"])
def test_a_bolt_may_be_called_by_any_of_its_names(given):
    assert bolt(given, "8").stress_area / INCH**2 == pytest.approx(0.1419, abs=5e-5)


@pytest.mark.parametrize("given", ["M12", "m12", "M12x1.75", "M12 x 1.75", "M12-1.75"])
def test_a_metric_bolt_without_pitch_is_the_coarse_one(given):
    assert bolt(given, "class 10.9").stress_area == pytest.approx(84.3)
    assert bolt("M12x1.25", "10.9").stress_area > 90


@pytest.mark.parametrize("given", ["SAE 2", "sae 2", "2", "grade 2", "Gr. 2", "grade-2", "SAE grade 2"])
def test_a_grade_may_be_called_by_any_of_its_names(given):
    assert bolt("1/2-13", given).proof_load / LBF == pytest.approx(55_000 * 0.1419, rel=1e-6)


@pytest.mark.parametrize(
    ("name", "grade", "words"),
    [
        ("1/2-14", "SAE 8", "not in the table"),
        ("1/2-13", "SAE 7", "read the marks"),
        ("M12", "SAE 8", "10.9 or 12.9 for a metric bolt"),
        ("1/2-13", "10.9", "SAE 2, 5 or 8 for an inch bolt"),
        ("7/8-9", "SAE 2", "bolts of 1/4 in to 3/4 in"),
        ("M20", "8.8", "bolts of 5 mm to 16 mm"),
    ],
)
def test_what_does_not_belong_together_is_refused(name, grade, words):
    with pytest.raises(InputFault, match=words):
        bolt(name, grade)


def test_both_faults_come_out_at_once():
    with pytest.raises(InputFault) as refused:
        ask("bolt", {"bolt": "1/2-14", "grade": "SAE 7"})
    assert [f.key for f in refused.value.faults] == ["--bolt", "--grade"]


def test_a_pin_between_two_plates_has_the_moment_of_even_loads():
    # even load over each plate and over the joint, integrated to the middle: an independent sum
    load, outer, inner, gap = 20_000.0, 6.35, 50.8, 1.5
    x = (np.arange(200_000) + 0.5) / 200_000 * (outer + gap + inner / 2)
    flow = np.where(x < outer, load / 2 / outer, np.where(x > outer + gap, -load / inner, 0.0))
    moment = float(np.sum(flow * (outer + gap + inner / 2 - x)) * (x[1] - x[0]))
    assert pin_moment(load, outer, inner, gap) == pytest.approx(moment, rel=1e-4)
    assert pin_moment(load, outer, inner, 0.0) != pytest.approx(moment, rel=0.05)


def test_a_gap_of_an_eighth_adds_a_sixteenth_of_the_load_in_bending():
    more = pin_moment(1000.0, 6.0, 50.0, 3.175) - pin_moment(1000.0, 6.0, 50.0, 0.0)
    assert more == pytest.approx(1000.0 * 3.175 / 2)
    # single shear: arm between the middles
    assert cantilever_moment(1000.0, 6.0, 50.0, 2.0) == pytest.approx(1000 * 30)
    # M c / I of a round
    assert pin_stress(1e5, 12.0) == pytest.approx(1e5 * 6 / (math.pi / 64 * 12**4))
