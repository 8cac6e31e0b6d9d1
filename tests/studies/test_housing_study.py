"""The housing as a beam: a handbook's case, a frame library with a stepped section, laws of statics and elasticity."""

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from fixturegen.axle.model import axle_of
from fixturegen.studies.axle_bending import moment_at, pushes_on
from fixturegen.studies.axle_loads import loads_of
from fixturegen.studies.housing_actions import actions_on
from fixturegen.studies.housing_section import section_of
from fixturegen.studies.housing_study import housing_study
from tests.studies.housing_jobs import PlainTruss, housing, pushed
from tests.studies.load_jobs import INCH, LBF
from tests.studies.study_jobs import DROPOUT, REAR, sheet_of

PSI = 6.894757293168e-3
BOOK_MODULUS = 30e6 * PSI


def test_two_equal_overhangs_give_the_handbook_s_stress_and_slope():
    # Machinery's Handbook 27, p. 264: W a / Z = 18 584 psi; slope W a Lp / (2 E I) + W a^2 / (2 E I) = .487 deg
    sheet, axle, loads = housing()
    found = housing_study(sheet, axle, loads)
    (one,) = found.cases
    assert one.bare.peak.max() / PSI == pytest.approx(18_584, rel=1e-4)
    camber = -one.bare.ends.camber * found.modulus / BOOK_MODULUS
    assert camber == pytest.approx((0.487, 0.487), abs=5e-4)
    # deflection of a wheel against the middle: that of the end against the pad and of the pad against the middle
    second = math.pi / 64 * (3.5**4 - 3.0**4)
    rise = 3000 * 12 / (30e6 * second) * (18.0**2 / 2 + 18.0 * 12 + 12**2 / 3)
    assert one.bare.ends.rise * found.modulus / BOOK_MODULUS / INCH == pytest.approx((rise, rise), rel=1e-6)


def test_top_and_bottom_of_the_tube_are_pushed_and_pulled_alike_and_the_sides_not_at_all():
    found = housing_study(*housing()).cases[0]
    middle = int(np.argmin(np.abs(found.actions.upward)))
    top, bottom, front, rear = found.bare.fibres[:, middle] / PSI
    assert (top, bottom) == pytest.approx((-18_584, 18_584), rel=1e-4)  # wheels push the ends up: the top is pressed
    assert abs(front) < 1e-6 and abs(rear) < 1e-6
    assert found.bare.equivalent == pytest.approx(found.bare.peak)


def by_elements(axle, beam, modulus, lines, wheel):
    """Rise and slope at both wheels, the axle held in the middle of its centre section, from PyNite."""
    from Pynite import FEModel3D

    model = FEModel3D()
    model.add_material("steel", modulus, modulus / 2.6, 0.3, 1e-12)
    edges = [-wheel, wheel, *axle.section, *(y for one in beam.lengths for y in (one.begin, one.end))]
    edges = sorted({round(y, 6) for y in edges})
    for i, y in enumerate(edges):
        model.add_node(f"n{i}", y, 0, 0)
    for i, (a, b) in enumerate(pairwise(edges)):
        one = next((k for k in beam.lengths if k.begin <= (a + b) / 2 <= k.end), None)
        second = (one.sections[1].upright, one.sections[1].level) if one else (1e13, 1e13)
        model.add_section(f"s{i}", 1e4, second[1], second[0], 1e7)
        model.add_member(f"m{i}", f"n{i}", f"n{i + 1}", "steel", f"s{i}")
    middle = edges.index(round(axle.section[0], 6))
    model.def_support(f"n{middle}", True, True, True, True, True, True)
    for y, up, forward in lines:
        node = f"n{min(range(len(edges)), key=lambda i: abs(edges[i] - y))}"
        model.add_node_load(node, "FY", up)
        model.add_node_load(node, "FZ", forward)
    model.analyze_linear()
    (combo,) = model.load_combos
    ends = [model.nodes[f"n{i}"] for i in (0, len(edges) - 1)]
    return [(n.DY[combo], n.RZ[combo], n.DZ[combo], -n.RY[combo]) for n in ends]


@pytest.mark.parametrize(
    ("section", "truss"),
    [
        ((-2.0, 2.0), {"ends": (-22.0, 22.0)}),
        ((-9.0, -1.0), {"ends": (-24.0, 15.0)}),
        ((-3.0, 5.0), {"ends": (-20.0, 24.0), "bridge": (-4.0, 6.0), "inset": 0.75}),
    ],
)
def test_a_stepped_housing_bends_as_a_frame_library_says(section, truss):
    sheet, axle, loads = housing(pushed((0, 0, 3100), (0, 0, 2500)), section=section)
    stiff = PlainTruss(diameter=3.5, hold="bridge" not in truss, **truss)
    found = housing_study(sheet, axle, loads, stiff)
    (one,) = found.cases
    springs = loads.cases[0].springs
    lines = [(30 * INCH, 3100 * LBF, 0.0), (-30 * INCH, 2500 * LBF, 0.0)]
    lines += [(way * 18 * INCH, -springs[side], 0.0) for side, way in (("left", 1), ("right", -1))]
    right, left = by_elements(axle, found.beam, found.modulus, lines, 30 * INCH)
    # the section varies along its ends: lengths of one section each there, in the library
    assert one.truss.ends.rise == pytest.approx((right[0], left[0]), rel=4e-3)
    line = (left[0] - right[0]) / (60 * INCH)
    camber = (math.degrees(right[1] - line), -math.degrees(left[1] - line))
    assert one.truss.ends.camber == pytest.approx(camber, rel=4e-3)
    # and the truss makes it stiffer
    assert (np.abs(one.truss.ends.camber) < np.abs(one.bare.ends.camber)).all()


def lag(length, wide):
    # AISC 360 table D3.1, a plate welded along both edges, from memory
    return 3 * length**2 / (3 * length**2 + wide**2)


def test_beside_the_end_of_its_weld_a_plate_counts_with_what_shear_lag_leaves_of_it():
    sheet, axle, loads = housing(section=(-2.0, 2.0))
    truss = PlainTruss(ends=(-22.0, 22.0), diameter=3.5, hold=True)
    beam = housing_study(sheet, axle, loads, truss).beam
    depth = 5.0 - math.sqrt(1.75**2 - 1.25**2)  # of the side plates, from their weld up [in]
    for station, section in zip(beam.stations, beam.sections, strict=True):
        if abs(station) > 22 * INCH:
            assert section.upright == pytest.approx(beam.bare.upright)
            continue
        away = 22 * INCH - abs(station)
        strips = {s.name: s for s in section.cut.strips}
        assert strips["front"].share == pytest.approx(lag(away, 2 * depth * INCH), rel=1e-6)
        # the top is reached over the side plate, and lags more, farthest in its middle
        assert strips["top"].share == pytest.approx(lag(away, 2 * (depth + 1.25) * INCH), rel=0.06)
        assert beam.bare.upright < section.upright < section_of(3.5 * INCH, 0.25 * INCH, truss.cut_at(0.0)).upright
    assert beam.share[1] == pytest.approx(lag(20.0, 2 * depth), abs=0.02)


def test_a_truss_that_is_not_welded_to_the_middle_lags_there_too_and_one_that_is_not_welded_counts_nowhere():
    held = PlainTruss(ends=(-22.0, 22.0), diameter=3.5, hold=True)
    loose = replace(held, hold=False)
    roots = []
    for truss in (held, loose):
        beam = housing_study(*housing(section=(-2.0, 2.0)), truss).beam
        roots.append(next(n for n in beam.lengths if n.begin == 2 * INCH).sections[0].upright / beam.bare.upright)
    assert roots[0] > 3.0 and roots[1] == pytest.approx(1.0, abs=0.01)
    assert housing_study(*housing(section=(-2.0, 2.0)), replace(held, welded=0.0)).beam.share == (0.0, 0.0)


def test_a_pull_along_the_axle_line_bends_a_housing_whose_middle_lies_above_it():
    # statics: N / A and N times the height of the middle; a pull under the middle stretches the bottom more
    truss = PlainTruss(ends=(-22.0, 22.0), diameter=3.5, hold=True)
    found = housing_study(*housing(pushed((0, 2000, 0), (0, -2000, 0)), section=(-2.0, 2.0)), truss)
    (one,) = found.cases
    k = int(np.argmin(np.abs(found.beam.stations - 6 * INCH)))
    section, pull = found.beam.sections[k], 2000 * LBF
    z, radius = section.middle[1], 1.75 * INCH
    assert z > 0.5 * INCH
    top = pull / section.area - pull * z * (radius - z) / section.upright
    bottom = pull / section.area + pull * z * (radius + z) / section.upright
    assert one.truss.fibres[:2, k] == pytest.approx((top, bottom), rel=1e-6)
    assert one.bare.fibres[:, k] == pytest.approx(np.full(4, pull / found.beam.bare.area), rel=1e-6)


def test_doubled_loads_double_everything_and_two_loads_add_up():
    # superposition, and Hooke's law
    cases = [pushed((100, 0, 900), (0, 50, 2000), "a"), pushed((-40, 30, 1500), (70, 0, 0), "b")]
    both = pushed((60, 30, 2400), (70, 50, 2000), "both")
    truss = PlainTruss(ends=(-22.0, 22.0), diameter=3.5, hold=True)
    found = housing_study(*housing(*cases, both, section=(-3.0, 5.0)), truss)
    for name in ("rise", "camber", "toe", "twist"):
        a, b, whole = (getattr(found.case(n).truss.ends, name) for n in ("a", "b", "both"))
        assert a + b == pytest.approx(whole, rel=1e-3, abs=1e-7), name  # camber is an arc tangent
    fibres = [found.case(n).truss.fibres for n in ("a", "b", "both")]
    assert fibres[0] + fibres[1] == pytest.approx(fibres[2], abs=1e-9)


def test_the_work_of_the_forces_is_the_energy_of_bending():
    # Clapeyron: half of force times way of all forces = integral of M^2 / (2 E I)
    truss = PlainTruss(ends=(-22.0, 22.0), diameter=3.5, hold=True)
    sheet, axle, loads = housing(pushed((0, 0, 3100), (0, 0, 2500)), section=(-2.0, 4.0))
    found = housing_study(sheet, axle, loads, truss)
    (one,) = found.cases
    stations, springs = found.beam.stations, loads.cases[0].springs
    work = 0.5 * LBF * (3100 * one.truss.ends.rise[1] + 2500 * one.truss.ends.rise[0])
    for side, way in (("left", 1), ("right", -1)):
        work -= 0.5 * springs[side] * one.truss.up[int(np.argmin(np.abs(stations - way * 18 * INCH)))]
    energy = 0.0
    for k, length in enumerate(found.beam.lengths):
        density = [
            one.actions.about_x[3 * k + i] ** 2 / (2 * found.modulus * length.sections[i].upright) for i in range(3)
        ]
        energy += (length.end - length.begin) * (density[0] + 4 * density[1] + density[2]) / 6
    assert work == pytest.approx(energy, rel=1e-3)


def test_mirrored_loads_give_mirrored_wheels_and_signs_are_those_of_the_shop():
    one, other = (
        housing_study(*housing(pushed(*pair), section=(-2.0, 2.0))).cases[0].bare.ends
        for pair in (((300, 0, 2000), (-100, 0, 900)), ((-100, 0, 900), (300, 0, 2000)))
    )
    for name in ("rise", "camber", "toe"):
        assert getattr(one, name) == pytest.approx(getattr(other, name)[::-1])
    # ends pushed up: top inboard, negative camber; ends pushed back: toe-out (common practice, no source)
    loaded = housing_study(*housing(pushed((-500, 0, 2000), (-500, 0, 2000)), section=(-2.0, 2.0))).cases[0].bare.ends
    assert (loaded.camber < 0).all() and (loaded.toe < 0).all() and (loaded.rise > 0).all()


def test_a_brake_twists_the_tubes_and_a_drive_force_goes_through_the_shafts():
    for name in (DROPOUT, REAR):
        sheet = sheet_of(name)
        axle = axle_of(sheet)
        loads = loads_of(sheet, axle)
        stations = np.array([axle.tube_ends[0] + 1.0, axle.tube_ends[1] - 1.0])
        brake, drive = loads.case("brake"), loads.case("drive")
        radius = float(sheet.vehicle.tyre_loaded_radius)
        (force,) = {p.force[0] for p in brake.case.pushes if p.what.startswith("tyre")}
        # statics: force x radius in each tube outboard of all brackets
        assert actions_on(axle, loads, brake, stations).torque == pytest.approx(np.array([-1, 1]) * -force * radius)
        assert actions_on(axle, loads, drive, stations).torque == pytest.approx(np.zeros(2), abs=1.0)
        assert abs(drive.case.pushes[0].force[0]) > 1000.0


def test_actions_close_over_the_centre_section_and_agree_with_the_moments_of_the_brackets():
    for name in (DROPOUT, REAR):
        sheet = sheet_of(name)
        axle = axle_of(sheet)
        loads = loads_of(sheet, axle)
        for one in loads.cases:
            outboard = np.array([axle.tube_ends[0] - 1e4, axle.tube_ends[1] + 1e4])
            assert actions_on(axle, loads, one, outboard).shear == pytest.approx(np.zeros(2), abs=1e-6)
            for y in (-500.0, 333.0):
                mine = actions_on(axle, loads, one, np.array([y]))
                assert mine.bending[0] == pytest.approx(moment_at(loads, one, y), rel=1e-9, abs=1.0)
            ends = actions_on(axle, loads, one, np.array([axle.section[0] - 1e-3, axle.section[1] + 1e-3]))
            points, forces, _ = pushes_on(loads, one)
            # a bracket's half foot beside it as well
            inside = (points[:, 1] > axle.section[0] - 25.4) & (points[:, 1] < axle.section[1] + 25.4)
            hung = next(np.array(p.force) for p in one.case.pushes if p.what == "unsprung")
            rest = forces[inside].sum(axis=0) + np.array(one.turn).T @ hung
            # what both tubes put into the centre section, links there and the weight the case puts there make nothing
            assert np.array([np.diff(v)[0] for v in (ends.forward, ends.axial, ends.upward)]) == pytest.approx(
                -rest, abs=1.0
            )


def test_leaf_springs_share_wind_up_alike_and_keep_the_sums():
    sheet = sheet_of("front-integral-balljoint")
    axle = axle_of(sheet)
    loads = loads_of(sheet, axle)
    found = housing_study(sheet, axle, loads)
    one = found.case("brake")
    # between the seats of two springs that share alike a brake's torque is gone (statics, symmetry)
    middle = np.abs(found.beam.stations) < 17 * INCH - 5.0
    assert np.abs(one.actions.torque[middle]).max() < 0.01 * np.abs(one.actions.torque).max()
    outer = np.abs(found.beam.stations) > 17 * INCH + 5.0
    assert np.abs(one.actions.torque[outer]).min() > 0.9 * np.abs(one.actions.torque).max()
