"""Tabs of a bracket against published examples, closed forms, a section library and a beam program."""

import math

import pytest

from fixturegen.calc._pins import AISC_SAFETY
from fixturegen.errors import InputFault
from fixturegen.studies.bracket_case import check_case, closing_force, closing_stress, tab_loads
from fixturegen.studies.strength_records import STANDARD, Steel
from fixturegen.studies.tab_strength import root_stress, tab_strengths
from tests.studies.bracket_cases import INCH, KIP, KSI, LBF, bracket, changed


def named(case, end):
    return next(s for s in tab_strengths(case) if s.what.endswith(end))


def test_the_tab_at_its_hole_is_the_published_pin_plate():
    # AISC Design Example D.7: A36, w 4.25, t 0.5, d 1.00, hole 1.03, a 2.25 in beyond the hole: nominal
    # 93.4 (tension), 95.7 (shear), 32.4 (bearing), 76.5 kip (yield)
    case = bracket((2000, 0, 0), bolt="1-8", thickness_in=0.5, hole=1.03125 * INCH)
    case = changed(case, width=4.25 * INCH, edge=(2.25 + 1.03125 / 2) * INCH)
    for end, kips in (
        ("torn beside the hole, as a pin plate", 93.4),
        ("sheared out beyond the hole", 95.7),
        ("crushed by the bolt", 32.4),
        ("yields over its width", 76.5),
    ):
        assert named(case, end).capacity / KIP == pytest.approx(kips, abs=0.2), end
        assert named(case, end).holds
    assert not named(changed(case, force=(40 * KIP, 0.0, 0.0)), "crushed by the bolt").holds


def test_a_lifting_plate_is_the_published_one_with_its_factor_beside_it():
    # ASME BTH-1 sheet: Nd 2, t 0.75, a 3.3125, Dp 1.375, Dh 1.6875, R 4.15625, 36/58 ksi: bearing 23.20 kip.
    # With its pin of 1 in instead the same sum by hand: 1.25 x 36 x 1.0 x 0.75 = 33.75 kip before the factor
    case = bracket((2000, 0, 0), bolt="1-8", thickness_in=0.75, code="bth")
    found = [s for s in tab_strengths(case) if s.source == "asme-bth-1"]
    crushed = named(case, "crushed by the bolt")
    assert crushed.capacity / KIP == pytest.approx(33.75, rel=1e-4)
    assert crushed.factor.value == 3.0
    assert len(found) == 4 and all(s.section == "section 3-3.3" for s in found)
    assert not named(changed(case, force=(30 * KIP, 0.0, 0.0)), "crushed by the bolt").holds


def test_the_smaller_of_bearing_and_tear_out_is_told():
    # AISC J3.10: 1.2 lc t Fu to 2.4 d t Fu; they meet where lc = 2 d
    near, far = bracket((1000, 0, 0)), bracket((1000, 0, 0), edge=3.0 * INCH)
    lc = 1.25 - (0.75 + 1 / 32) / 2
    assert named(near, "torn out to the edge").capacity / KIP == pytest.approx(1.2 * lc * 0.25 * 58, rel=1e-4)
    assert named(far, "hole drawn long by the bolt").capacity / KIP == pytest.approx(2.4 * 0.75 * 0.25 * 58, rel=1e-4)
    assert not named(bracket((14_000, 0, 0), edge=0.75 * INCH), "torn out to the edge").holds


def test_the_section_beside_the_hole_carries_its_tensile_strength():
    # AISC D2: (w - hole) t Fu = (2.5 - 0.78125) x 0.25 x 58 = 24.9 kip
    part = named(bracket((1000, 0, 0)), "parted beside the hole")
    assert part.capacity / KIP == pytest.approx(24.92, abs=0.01)
    assert not named(bracket((26_000, 0, 0)), "parted beside the hole").holds


def test_an_unbraced_tab_is_a_cantilever_and_a_cross_plate_shortens_it():
    # 6 F h / (w t^2): 300 lbf, half on each tab, h 2.5, w 3, t 0.25: 12.0 ksi; held 1 in below: 4.8 ksi
    free = bracket((0, 0, 300), gap=0.0)
    assert named(free, "held by its root").demand / KSI == pytest.approx(12.0)
    assert named(changed(free, brace=1.0 * INCH), "held by the cross plate").demand / KSI == pytest.approx(4.8)
    # a bracket that its bolt cannot draw tight leaves it all to one tab
    assert named(changed(free, gap=0.25 * INCH), "held by its root").demand / KSI == pytest.approx(24.0)
    assert not named(changed(free, gap=0.25 * INCH), "held by its root").holds


def test_a_beam_program_bends_the_tab_as_far_and_as_hard():
    # PyNiteFEA: cantilever of the tab's section, load at the hole
    import Pynite

    case = bracket((0, 0, 0), gap=0.03)
    width, thick, height = case.root_width, case.thickness, case.height
    beam = Pynite.FEModel3D()
    beam.add_material("steel", case.tab.modulus, case.tab.modulus / 2.6, 0.3, 7.85e-6)
    strong, weak = thick * width**3 / 12, width * thick**3 / 12
    beam.add_section("tab", width * thick, weak, strong, 4 * weak)
    beam.add_node("root", 0, 0, 0)
    beam.add_node("hole", height, 0, 0)
    beam.add_member("tab", "root", "hole", "steel", "tab")
    beam.def_support("root", True, True, True, True, True, True)
    beam.add_node_load("hole", "FZ", closing_force(case))
    beam.analyze()
    assert beam.nodes["hole"].DZ["Combo 1"] == pytest.approx(0.015 * INCH, rel=1e-6)
    moment = max(abs(beam.members["tab"].max_moment("My")), abs(beam.members["tab"].min_moment("My")))
    assert closing_stress(case) == pytest.approx(moment * thick / 2 / weak, rel=1e-6)
    assert closing_stress(case) != pytest.approx(closing_stress(changed(case, gap=0.031 * INCH)))


def test_the_root_has_the_stress_a_section_library_finds():
    # sectionproperties: rectangle under pull and bending about both axes, largest corner
    from sectionproperties.analysis import Section
    from sectionproperties.pre.library import rectangular_section

    case = bracket((3000, 1000, 200), gap=0.0, off_middle=0.3 * INCH)
    for load in tab_loads(case):
        section = Section(rectangular_section(d=case.root_width, b=case.thickness).create_mesh([20.0]))
        section.calculate_geometric_properties()
        section.calculate_warping_properties()
        stress = section.calculate_stress(n=load.radial, mxx=load.moment, myy=load.side_moment)
        largest = max(abs(float(v)) for v in stress.get_stress()[0]["sig_zz"])
        assert root_stress(case, load) == pytest.approx(largest, rel=1e-6)
    hard = changed(case, force=(9000 * LBF, 1000 * LBF, 200 * LBF))
    assert named(case, "at its root, all together").holds
    assert not named(hard, "at its root, all together").holds


def test_the_tabs_together_carry_the_whole_load():
    # statics: force, and moment about the middle of the root, with a cross plate and without
    for brace in (None, 1.5 * INCH):
        case = bracket((3000, -800, 500), gap=0.0, off_middle=0.4 * INCH, brace=brace, outward=70.0)
        loads = tab_loads(case)
        x, y, z = case.force
        turn = math.radians(70)
        outward = x * math.cos(turn) + y * math.sin(turn)
        assert sum(a.radial for a in loads) == pytest.approx(outward)
        assert math.hypot(sum(a.radial for a in loads), sum(a.tangential for a in loads)) == pytest.approx(
            case.in_plane
        )
        assert sum(a.side for a in loads) == pytest.approx(z)
        # about the tangent at the root: pull times place along the bolt, and what each root bends by
        held = sum(-a.z * a.radial + a.side_moment for a in loads)
        assert held == pytest.approx(z * case.height - case.off_middle * outward)


def test_a_single_tab_is_bent_by_the_joint_beside_it():
    # the pull outward acts t / 2 + b / 2 beside the tab
    case = bracket((0, 1000, 0), joint=1.5, gap=0.0, bolt="5/8-11", single_shear=True)
    (load,) = tab_loads(case)
    assert abs(load.side_moment) == pytest.approx(1000 * LBF * (0.125 + 0.75) * INCH)
    assert not any("draws in" in s.what for s in tab_strengths(case))
    # statics, moment of the force about the root of the tab: side x height - pull x what it stands beside
    case = changed(case, force=(0.0, 1000.0, 300.0), off_middle=5.0)
    (load,) = tab_loads(case)
    assert load.side_moment == pytest.approx(300.0 * case.height - 1000.0 * (5.0 + 0.875 * INCH))


def test_the_gap_is_held_against_what_the_bolt_draws_in():
    assert named(bracket(gap=0.02), "gap that the bolt draws in").holds
    wide = named(bracket(gap=0.125), "gap that the bolt draws in")
    assert not wide.holds and "too wide" in wide.note


def test_sizes_outside_the_rules_for_pin_plates_are_said():
    good = bracket((1000, 0, 0), width=4.0 * INCH, edge=2.5 * INCH)
    assert named(good, "crushed by the bolt").note == ""
    for changes, words in (
        ({"hole": (0.75 + 1 / 16) * INCH}, "hole over 1/32 in"),
        ({"edge": 1.0 * INCH}, "edge less than 1.33 be"),
        ({"width": 1.0 * INCH, "edge": 0.5 * INCH}, "edge less than 1.33 be"),
    ):
        note = named(changed(good, **changes), "crushed by the bolt").note
        assert note.startswith("outside the rules") and words in note


def test_a_stiffer_steel_does_not_change_the_stress_by_a_force():
    case = bracket((0, 0, 300), gap=0.0)
    stiff = changed(case, tab=Steel("x", 36 * KSI, 58 * KSI, 2 * case.tab.modulus, case.tab.trust))
    assert named(stiff, "held by its root").demand == named(case, "held by its root").demand


def test_the_factors_asked_for_are_those_of_the_code():
    # AISC 360: 2.0 on rupture and bearing, 1.67 on yield, 2.0 on welds; chapter K 1.67, J4.2 1.5 and 2.0 (memory)
    assert STANDARD.tab_rupture.value == AISC_SAFETY["bearing"] == AISC_SAFETY["shear"] == 2.0
    assert (STANDARD.tab_yield.value, STANDARD.weld.value, STANDARD.wall.value) == (1.67, 2.0, 1.67)
    assert (STANDARD.base_yield.value, STANDARD.base_rupture.value) == (1.5, 2.0)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"gap": -0.5}, "gap: given -0.5 mm"),
        ({"hole": 15.0}, "hole: given 15 mm"),
        ({"edge": 9.0}, "edge distance: given 9 mm"),
        ({"width": 19.0}, "tab width: given 19 mm"),
        ({"brace": 100.0}, "cross plate: given 100 mm"),
        ({"off_middle": 40.0}, "off middle: given 40 mm"),
        ({"thickness": 0.0}, "tab thickness: given 0 mm"),
        ({"height": math.nan}, "hole height: given nan mm"),
        ({"force": (math.inf, 0.0, 0.0)}, "force"),
        ({"tube_radius": 3.0}, "tube radius: given 3 mm"),
        ({"tube_stress_share": 1.0}, "tube stress share"),
    ],
)
def test_sizes_that_cannot_be_a_bracket_are_refused_in_one_sentence(changes, words):
    check_case(bracket())
    with pytest.raises(InputFault, match=words) as caught:
        check_case(changed(bracket(), **changes))
    assert "\n" not in str(caught.value)
