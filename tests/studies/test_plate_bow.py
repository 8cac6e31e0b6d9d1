"""Bow of a plate against the circle it is an arc of, and tolerances as rolled."""

import math

import pytest

from fixturegen.studies.plate_bow import (
    bow_of,
    caster_from_tilt,
    end_tilt,
    in_plane_turn,
    rolled_bow,
    shortening,
    tilt_for_caster,
)


@pytest.mark.parametrize(("radius", "half_deg"), [(1000.0, 5.0), (5000.0, 1.0), (300.0, 20.0)])
def test_bow_and_tilt_are_those_of_a_circle(radius, half_deg):
    # circle: sagitta r (1 - cos a), chord 2 r sin a; the tangent at the end leaves the chord at a
    a = math.radians(half_deg)
    bow, chord = radius * (1.0 - math.cos(a)), 2.0 * radius * math.sin(a)
    assert end_tilt(bow, chord) == pytest.approx(half_deg, abs=1e-9)
    assert bow_of(half_deg, chord) == pytest.approx(bow, rel=1e-9)


def test_a_flat_arc_tilts_its_ends_by_four_bows_over_the_length():
    # the shop's rule 4 f / L, in radians
    assert math.radians(end_tilt(0.5, 500.0)) == pytest.approx(4.0 * 0.5 / 500.0, rel=1e-5)


def test_a_chord_is_shorter_than_its_arc_by_second_order():
    a, radius = math.radians(2.0), 2000.0
    bow, chord = radius * (1.0 - math.cos(a)), 2.0 * radius * math.sin(a)
    assert shortening(bow, chord) == pytest.approx(2.0 * radius * a - chord, rel=2e-3)
    assert shortening(2.0 * bow, chord) == pytest.approx(4.0 * shortening(bow, chord))


def test_a_plate_shortened_one_way_turns_a_diagonal_by_half_its_strain():
    bow, length = 5.0, 500.0
    e = shortening(bow, length) / length
    seen = 45.0 - math.degrees(math.atan(1.0 - e))
    assert in_plane_turn(bow, length) == pytest.approx(seen, rel=1e-3)


def test_caster_and_tilt_are_turned_round():
    for caster in (0.02, 0.25, 1.0):
        assert caster_from_tilt(tilt_for_caster(caster, 110.0, 260.0), 110.0, 260.0) == pytest.approx(caster)
    # tips 100 mm out, leaning 1 in 1000 each way, 200 mm apart: 0.1 mm and 0.1 mm over 200 mm
    tilt = math.degrees(math.atan(0.001))
    assert math.tan(math.radians(caster_from_tilt(tilt, 100.0, 200.0))) == pytest.approx(0.2 / 200.0)


@pytest.mark.parametrize(
    ("thickness", "length", "wanted"),
    # EN 10029, class N, common steels: 8 to 15 mm thick, 7 mm over 1 m, 1 % of shorter lengths; from memory
    [(12.7, 1000.0, 7.0), (12.7, 226.0, 2.26), (9.5, 500.0, 5.0), (6.35, 1000.0, 8.0), (30.0, 1200.0, 6.0)],
)
def test_plate_as_rolled_may_be_bowed_by_the_standards_table(thickness, length, wanted):
    assert rolled_bow(thickness, length) == pytest.approx(wanted)
