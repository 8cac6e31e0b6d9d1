"""Sag of the alignment bar against handbook beams and an independent integration."""

import math
from dataclasses import replace

import numpy as np
import pytest

from fixturegen.studies.bar_sag import (
    JACK_ABOVE,
    Overhang,
    needed_length,
    overhang_sag,
    round_stiffness,
    sag_of,
)
from tests.studies.study_jobs import DROPOUT, INTEGRAL, REAR, case

NONE = Overhang(0.0, 0.0, 0.0)


def test_one_load_on_one_overhang_sags_as_the_handbook_says():
    # Machinery's Handbook, beam with one overhanging end: y = P a^2 (l + a) / (3 E I)
    span, a, p, ei = 500.0, 300.0, 200.0, 2e10
    sag, slope = overhang_sag(span, Overhang(a, p, a), NONE, 0.0, ei, a)
    assert sag == pytest.approx(p * a**2 * (span + a) / (3 * ei))
    # slope at the loaded end: P a (2 l + 3 a) / (6 E I)
    assert slope == pytest.approx(p * a * (2 * span + 3 * a) / (6 * ei))


def test_equal_loads_outside_both_supports_slope_as_published():
    # Machinery's Handbook 27, p. 264: end slope W a Lp / 2EI + W a^2 / 2EI; 3.5 x .250 tube, 3000 lbf,
    # 12 in out, 36 in apart, E 30e6 psi: 0.487 deg a side (derived figure)
    i = math.pi / 64.0 * (3.5**4 - 3.0**4)
    end = Overhang(12.0, 3000.0, 12.0)
    _, slope = overhang_sag(36.0, end, end, 0.0, 30e6 * i, 12.0)
    assert math.degrees(slope) == pytest.approx(0.487, abs=5e-4)


def test_own_weight_sags_as_an_integration_of_the_curvature_says():
    # independent way: double integration of M / EI on a fine grid, supports brought to zero
    span, out, far, w, ei = 120.0, 900.0, 1000.0, 0.09, 2.1e10
    y = np.linspace(-far, span + out, 40001)
    reaction_right = w * (span + out + far) * ((out + span - far) / 2.0) / span
    reaction_left = w * (span + out + far) - reaction_right
    moment = -w * (y + far) ** 2 / 2 + reaction_left * np.clip(y, 0, None)
    moment += reaction_right * np.clip(y - span, 0, None)
    h = y[1] - y[0]
    slope = np.concatenate([[0], np.cumsum((moment[1:] + moment[:-1]) / 2)]) * h / ei
    line = np.concatenate([[0], np.cumsum((slope[1:] + slope[:-1]) / 2)]) * h
    at0, at1 = np.interp(0.0, y, line), np.interp(span, y, line)
    line -= at0 + (at1 - at0) * y / span
    found, _ = overhang_sag(span, Overhang(out, 0.0, 0.0), Overhang(far, 0.0, 0.0), w, ei, 700.0)
    assert found == pytest.approx(-np.interp(span + 700.0, y, line), rel=1e-3)


def test_double_load_sags_double():
    one = overhang_sag(100.0, Overhang(50.0, 10.0, 50.0), NONE, 0.0, 1e9, 50.0)
    two = overhang_sag(100.0, Overhang(50.0, 20.0, 50.0), NONE, 0.0, 1e9, 50.0)
    assert two[0] == pytest.approx(2 * one[0])


def test_a_point_inboard_and_outboard_of_the_load_meet_at_the_load():
    near = Overhang(80.0, 10.0, 50.0)
    inside = overhang_sag(100.0, near, NONE, 0.0, 1e9, 50.0 - 1e-9)
    outside = overhang_sag(100.0, near, NONE, 0.0, 1e9, 50.0 + 1e-9)
    assert inside == pytest.approx(outside)


def test_a_round_bar_is_as_stiff_as_the_handbook_says():
    # Machinery's Handbook: I = pi d^4 / 64; d = 2 in: 0.7854 in^4
    assert round_stiffness(50.8) / 205_000.0 == pytest.approx(0.7854 * 25.4**4, rel=1e-4)


def test_more_than_ten_thousandths_asks_for_a_screw_jack():
    # common practice, no source: 0.010 in
    assert pytest.approx(0.254) == JACK_ABOVE
    for sag in sag_of(*case(INTEGRAL)):
        assert sag.jack == (sag.sag > 0.254)
        assert sag.left_over <= 0.254


def test_a_cradle_under_the_bar_takes_the_sag_of_its_side():
    sheet, axle, plan = case(DROPOUT)
    left, right = plan.cradles
    carried = replace(plan, cradles=(replace(left, carries="bar"), right))
    assert not sag_of(sheet, axle, carried)[0].jack


def test_a_rear_axle_has_no_clock_plates_to_hang():
    sheet, axle, plan = case(REAR)
    assert sag_of(sheet, axle, plan) == ()
    assert needed_length(axle, plan) > axle.tube_ends[1] - axle.tube_ends[0]
