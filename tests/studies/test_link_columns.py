"""Links against Euler, Johnson, a beam program and arithmetic of threads."""

import math
from dataclasses import replace

import pytest

from fixturegen.errors import InputFault
from fixturegen.studies.link_columns import LinkCase, link_strengths
from fixturegen.studies.strength_records import steel_of
from tests.studies.bracket_cases import INCH, KIP, KSI, LBF


def link(**changes):
    given = {
        "name": "lower link",
        "push": 10_000 * LBF,
        "pull": 8000 * LBF,
        "diameter": 2.0 * INCH,
        "wall": 0.25 * INCH,
        "length": 40.0 * INCH,
        "steel": steel_of("dom-1020"),
    }
    return LinkCase(**{**given, **changes})


def named(case, words):
    return next(s for s in link_strengths(case) if words in s.what)


def test_a_slender_link_buckles_as_euler_says():
    # pi^2 E I / L^2: 1.0 x 0.120 tube, 48 in, E 29 000 ksi: I = pi/64 (1 - 0.76^4) = 0.03271 in^4: 4.06 kip
    case = link(diameter=1.0 * INCH, wall=0.12 * INCH, length=48.0 * INCH)
    column = named(case, "buckles (Euler)")
    inertia = math.pi / 64 * (1 - 0.76**4)
    assert column.capacity / KIP == pytest.approx(math.pi**2 * 29_000 * inertia / 48**2, rel=1e-6)
    assert column.capacity / KIP == pytest.approx(4.06, abs=0.01)
    assert not column.holds and column.factor.value == pytest.approx(1.9167, abs=1e-4)


def test_a_short_link_buckles_as_johnson_says():
    # A Fy (1 - Fy s^2 / (4 pi^2 E)); 2.0 x 0.25: A 1.3744 in^2, k 0.6250 in, s = 64: 65.1 kip
    column = named(link(), "buckles (Johnson)")
    slender = 40 / math.sqrt((math.pi / 64 * (16 - 1.5**4)) / (math.pi / 4 * (4 - 1.5**2)))
    load = math.pi / 4 * (4 - 1.5**2) * 60 * (1 - 60 * slender**2 / (4 * math.pi**2 * 29_000))
    assert column.capacity / KIP == pytest.approx(load, rel=1e-6)
    assert column.holds
    assert not named(link(push=40_000 * LBF), "buckles").holds


def test_a_link_is_pulled_no_more_than_its_section_yields_at():
    # A Fy = 1.3744 x 60 = 82.5 kip
    pulled = named(link(), "yields")
    assert pulled.capacity / KIP == pytest.approx(82.47, abs=0.01)
    assert pulled.demand == pytest.approx(10_000 * LBF)
    assert pulled.holds and not named(link(pull=50_000 * LBF), "yields").holds


def test_the_thread_of_a_rod_end_carries_its_stress_area():
    # ASME B1.1: 3/4-16: 0.373 in^2; at 120 ksi 44.8 kip
    case = link(thread_area=0.373 * INCH**2, thread_tensile=120 * KSI)
    assert named(case, "thread").capacity / KIP == pytest.approx(44.76)
    assert named(case, "thread").holds and not named(replace(case, pull=23_000 * LBF), "thread").holds


def test_the_joint_is_held_against_the_load_its_maker_gives():
    case = link(rating=21_000 * LBF)
    assert named(case, "joint across").holds
    assert not named(replace(case, rating=19_000 * LBF), "joint across").holds
    assert not any("joint across" in s.what for s in link_strengths(link()))


def test_a_link_on_a_rock_bends_as_a_beam_program_says():
    # PyNiteFEA: beam on two supports, load in the middle
    import Pynite

    case = link(rock=2000 * LBF)
    inertia = math.pi / 64 * ((2 * INCH) ** 4 - (1.5 * INCH) ** 4)
    beam = Pynite.FEModel3D()
    beam.add_material("steel", case.steel.modulus, case.steel.modulus / 2.6, 0.3, 7.85e-6)
    beam.add_section("tube", 900.0, inertia, inertia, 2 * inertia)
    for name, x in (("a", 0.0), ("b", case.length / 2), ("c", case.length)):
        beam.add_node(name, x, 0, 0)
    beam.add_member("left", "a", "b", "steel", "tube")
    beam.add_member("right", "b", "c", "steel", "tube")
    beam.def_support("a", True, True, True, True, False, False)
    beam.def_support("c", False, True, True, False, False, False)
    beam.add_node_load("b", "FY", -case.rock)
    beam.analyze()
    told = named(case, "rock")
    moment = max(abs(beam.members["left"].max_moment("Mz")), abs(beam.members["left"].min_moment("Mz")))
    assert told.demand == pytest.approx(moment * INCH / inertia, rel=1e-6)
    assert next(g.value for g in told.given if g.name == "bends by") == pytest.approx(
        -beam.nodes["b"].DY["Combo 1"], rel=1e-6
    )
    assert not told.judged


def test_a_bent_link_is_weaker_the_farther_its_middle_stands_off():
    # secant law: at small loads P / A + P e c / I; the growth is 1 / (1 - P / P_euler)
    light = named(link(push=1.0, pull=1.0, offset=25.4), "offset")
    inertia = math.pi / 64 * ((2 * INCH) ** 4 - (1.5 * INCH) ** 4)
    area = math.pi / 4 * ((2 * INCH) ** 2 - (1.5 * INCH) ** 2)
    assert light.demand == pytest.approx(1 / area + 25.4 * INCH / inertia, rel=1e-4)
    # half of Euler's load doubles the offset (beam-column of a sine shape, a law)
    euler = math.pi**2 * 29_000 * KSI * inertia / (40 * INCH) ** 2
    half = named(link(push=euler / 2, pull=0.0, offset=25.4), "offset")
    assert half.demand == pytest.approx(euler / 2 * (1 / area + 2 * 25.4 * INCH / inertia))
    buckled = named(link(push=1.1 * euler, pull=0.0, offset=1.0), "offset")
    assert buckled.demand == math.inf and not buckled.holds
    assert buckled.as_json()["demand"] is None
    assert named(link(push=2000 * LBF, pull=0.0, offset=25.4), "offset").holds
    assert not named(link(offset=50.0), "offset").holds
    assert not any("offset" in s.what for s in link_strengths(link()))


def test_a_round_bar_is_a_tube_of_half_its_diameter():
    # A = pi d^2 / 4
    bar = named(link(diameter=1.5 * INCH, wall=0.75 * INCH), "yields")
    assert bar.capacity / KIP == pytest.approx(math.pi / 4 * 1.5**2 * 60)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"wall": 30.0}, "wall: given 30 mm"),
        ({"length": 0.0}, "length: given 0 mm"),
        ({"push": math.nan}, "not finite"),
        ({"rating": 0.0}, "joint rating"),
        ({"thread_area": 200.0}, "rod end: given no strength"),
    ],
)
def test_sizes_that_cannot_be_a_link_are_refused_in_one_sentence(changes, words):
    with pytest.raises(InputFault, match=words) as caught:
        link_strengths(link(**changes))
    assert "\n" not in str(caught.value)
