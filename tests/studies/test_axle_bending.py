"""Bending of the axle's tubes against closed forms of a beam and a general finite-element library."""

from dataclasses import replace

import numpy as np
import pytest
from Pynite import FEModel3D

from fixturegen.axle.model import axle_of
from fixturegen.calc.tube_bending import tube_bending
from fixturegen.studies.axle_bending import bending_at, moment_at, section_modulus
from fixturegen.studies.axle_loads import carried, loads_of
from tests.studies.load_jobs import INCH, LBF, at_patches, plane_axle, straight_up
from tests.studies.study_jobs import DROPOUT, REAR, sheet_of


def plain(left=(0, 0, 1000), right=(0, 0, 1000)):
    """A plane axle with upright springs 16 in off the middle."""
    linkage = plane_axle(8.0)
    return linkage, carried(linkage, straight_up(), (at_patches(linkage.stance, left, right),))


def test_wheels_outside_their_springs_bend_the_tube_between_them_by_weight_times_overhang():
    # Machinery's Handbook, beam with overhangs: M = W a between the springs, W times the way from the wheel outside
    linkage, loads = plain()
    track, spring = linkage.stance.half_track / INCH, 16.0
    inside = moment_at(loads, loads.cases[0], 5.0 * INCH)
    assert inside == pytest.approx(1000 * LBF * (track - spring) * INCH, rel=1e-9)
    outside = moment_at(loads, loads.cases[0], (spring + 4.0) * INCH)
    assert outside == pytest.approx(1000 * LBF * (track - spring - 4.0) * INCH, rel=1e-9)


def test_a_side_force_bends_the_tube_by_the_radius_of_the_tyre():
    # statics: F r outboard of everything but the wheel
    linkage, loads = plain(left=(0, 500, 0), right=(0, 0, 0))
    station = linkage.stance.half_track - 1.0
    expected = 500 * LBF * linkage.stance.loaded_radius
    assert moment_at(loads, loads.cases[0], station) == pytest.approx(expected, rel=1e-9)


def test_a_brake_force_bends_the_tube_in_plan_and_twists_it_besides():
    # the moment in plan grows from the wheel inward; what the brake twists the tube by is not bending
    linkage, loads = plain(left=(-400, 0, 0), right=(-400, 0, 0))
    station = linkage.stance.half_track - 3.0 * INCH
    assert moment_at(loads, loads.cases[0], station) == pytest.approx(400 * LBF * 3.0 * INCH, rel=1e-9)


def test_the_stress_is_that_of_the_calc_topic():
    sheet = sheet_of(REAR)
    axle = axle_of(sheet)
    loads = loads_of(sheet, axle)
    one = loads.case("bump")
    diameter, wall = float(sheet.tubes.outside_diameter), float(sheet.tubes.wall)
    topic = tube_bending(diameter, wall, 1000.0, 300.0, 900.0)
    for station in (-700.0, -430.0, 200.0):
        found = bending_at(sheet, loads, one, station)
        assert found.stress / found.moment == pytest.approx(topic.stress / topic.moment, rel=1e-9)
    assert section_modulus(sheet) == pytest.approx(np.pi / 32 * (diameter**4 - (diameter - 2 * wall) ** 4) / diameter)


def by_elements(sheet, loads, one, stations):
    """Bending moments of the axle as a beam held in its middle, from Pynite [N*mm]."""
    turn, origin = np.array(one.turn), np.array(one.origin)
    pushes = [
        (np.array(p.at) + turn.T @ np.array(p.below), turn.T @ np.array(p.force))
        for p in one.case.pushes
        if p.what != "unsprung"
    ]
    pushes += [(np.array(k.at), turn.T @ (k.force * np.array(k.toward))) for k in one.lines]
    for s in loads.springs:
        way = origin + turn @ np.array(s.axle) - np.array(s.frame)
        pushes.append((np.array(s.axle), turn.T @ (one.springs[s.side] * way / np.linalg.norm(way))))
    places = sorted({-1500.0, 0.0, 1500.0, *stations, *(float(p[1]) for p, _ in pushes)})
    model = FEModel3D()
    model.add_material("steel", 200_000.0, 77_000.0, 0.3, 1e-12)
    model.add_section("tube", 2000.0, 1e6, 1e6, 2e6)
    for i, y in enumerate(places):
        model.add_node(f"n{i}", 0.0, y, 0.0)
    model.def_support(f"n{places.index(0.0)}", True, True, True, True, True, True)
    for i in range(len(places) - 1):
        model.add_member(f"m{i}", f"n{i}", f"n{i + 1}", "steel", "tube")
    for at, force in pushes:
        node = f"n{places.index(float(at[1]))}"
        moment = np.cross([at[0], 0.0, at[2]], force)
        for way, size in zip(("FX", "FY", "FZ", "MX", "MY", "MZ"), (*force, *moment), strict=True):
            model.add_node_load(node, way, float(size))
    for couple in one.case.couples:
        if couple.what.startswith("scrub"):
            side = 1 if couple.what.endswith("left") else -1
            node = f"n{len(places) - 1 if side > 0 else 0}"
            for way, size in zip(("MX", "MY", "MZ"), turn.T @ np.array(couple.moment), strict=True):
                model.add_node_load(node, way, float(size))
    model.analyze_linear()
    found = []
    for y in stations:
        i = places.index(y)
        member = model.members[f"m{i}" if y > 0.0 else f"m{i - 1}"]
        x = 0.0 if y > 0.0 else places[i] - places[i - 1]
        found.append(float(np.hypot(member.moment("My", x), member.moment("Mz", x))))
    return found


@pytest.mark.parametrize("name", [DROPOUT, REAR])
def test_the_housing_beam_agrees_with_a_finite_element_library_in_every_case(name):
    sheet = sheet_of(name)
    loads = loads_of(sheet, axle_of(sheet))
    stations = (-610.0, -433.0, -301.0, 307.0, 441.0, 611.0)
    for one in loads.cases:
        theirs = by_elements(sheet, loads, one, stations)
        ours = [moment_at(loads, one, y) for y in stations]
        assert ours == pytest.approx(theirs, rel=1e-6, abs=1.0), one.case.name
    spoiled = replace(one, lines=(replace(one.lines[0], force=one.lines[0].force + 1000.0), *one.lines[1:]))
    assert [moment_at(loads, spoiled, y) for y in stations] != pytest.approx(theirs, rel=1e-3)
