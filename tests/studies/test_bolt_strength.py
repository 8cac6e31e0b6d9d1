"""The joint bolt against arithmetic of its grade, statics, and a loose wide bracket."""

import math

import pytest

from fixturegen.errors import InputFault
from fixturegen.stock import NotInTable
from fixturegen.studies.bolt_strength import bolt_moment, bolt_strengths
from fixturegen.studies.bracket_case import closable_gap, closing_force, drawn_tight, tab_loads
from fixturegen.studies.strength_records import bolt_of
from tests.studies.bracket_cases import INCH, KIP, KSI, LBF, bracket, changed


def named(case, start):
    return next(s for s in bolt_strengths(case) if s.what.startswith(start))


@pytest.mark.parametrize(
    ("bolt", "kips"),
    [("1/2-13", 17.7), ("9/16-12", 22.4), ("5/8-11", 27.6), ("3/4-10", 39.8), ("7/8-9", 54.1), ("1-8", 70.7)],
)
def test_one_plane_of_a_grade_8_shank_shears_at_what_common_practice_says(bolt, kips):
    # 0.6 x 150 ksi x area of the shank (SAE J429 grade 8; the share 0.6 is common practice, no source)
    shear = named(bracket((1000, 0, 0), bolt=bolt), "bolt in double shear")
    assert shear.capacity / KIP == pytest.approx(kips, abs=0.06)
    assert shear.demand == pytest.approx(500 * LBF)


def test_thread_in_the_plane_leaves_the_stress_area():
    # 1/2-13: 0.6 x 150 ksi x 0.1419 in^2 = 12.8 kip (ASME B1.1 stress area)
    case = bracket((1000, 0, 0), bolt="1/2-13", thread_in_plane=True)
    assert named(case, "bolt in double").capacity / KIP == pytest.approx(12.8, abs=0.05)
    # and bends as a round of that area: d = sqrt(4 A / pi) = 0.4251 in
    shank, thread = (named(changed(case, thread_in_plane=t), "bolt bent, joint loose").demand for t in (False, True))
    assert thread / shank == pytest.approx((0.5 / 0.4251) ** 3, rel=1e-3)


def test_a_force_beside_the_middle_loads_one_plane_more():
    # lever: half the spacing off would be all on one tab
    case = bracket((2000, 0, 0), off_middle=0.5 * INCH)
    loads = tab_loads(case)
    spacing = 2.625 + 0.02 + 0.25
    assert loads[0].size / LBF == pytest.approx(2000 * (0.5 + 0.5 / spacing))
    assert sum(x.at_hole[0] for x in loads) == pytest.approx(case.force[0])
    assert sum(x.z * x.at_hole[0] for x in loads) == pytest.approx(case.force[0] * case.off_middle)
    assert named(case, "bolt in double").demand == pytest.approx(loads[0].size)


def test_the_bolt_of_a_loose_bracket_bends_as_a_beam_between_its_tabs():
    # statics: even load over joint and tabs, moment in the middle = P / 2 (s / 2) - P b / 8, s between
    # the middles of the tabs; stress 32 M / (pi d^3)
    case = bracket((10_000, 0, 0), gap=0.125)
    load, joint, tab = 10_000 * LBF, 2.625 * INCH, 0.25 * INCH
    spacing = joint + 0.125 * INCH + tab
    moment = load / 2 * spacing / 2 - load * joint / 8
    assert bolt_moment(case, tab_loads(case)[0], loose=True) == pytest.approx(moment)
    stress = moment / (math.pi * (0.75 * INCH) ** 3 / 32)
    assert named(case, "bolt bent, joint loose").demand == pytest.approx(stress)


def test_a_beam_program_finds_the_same_moment():
    # PyNiteFEA: a bolt on supports in the middles of its tabs, even load over the joint
    import Pynite

    case = bracket((10_000, 0, 0), gap=0.125)
    joint, spacing = case.joint_width, case.spacing
    beam = Pynite.FEModel3D()
    beam.add_material("steel", 200_000.0, 77_000.0, 0.3, 7.85e-6)
    beam.add_section("round", 285.0, 6_463.0, 6_463.0, 12_926.0)
    beam.add_node("a", 0, 0, 0)
    beam.add_node("b", spacing, 0, 0)
    beam.add_member("bolt", "a", "b", "steel", "round")
    beam.def_support("a", True, True, True, True, False, False)
    beam.def_support("b", False, True, True, False, False, False)
    even = case.in_plane / joint
    beam.add_member_dist_load("bolt", "Fy", -even, -even, (spacing - joint) / 2, (spacing + joint) / 2)
    beam.analyze()
    moment = max(abs(beam.members["bolt"].max_moment("Mz")), abs(beam.members["bolt"].min_moment("Mz")))
    assert bolt_moment(case, tab_loads(case)[0], loose=True) == pytest.approx(moment, rel=1e-3)


def test_bending_in_a_loose_wide_bracket_governs_before_shear():
    # common practice, no source: bending of a bolt in a loose wide bracket comes before shear
    loose = bracket((8000, 0, 0), gap=0.25)
    assert not drawn_tight(loose)
    shear, bending = named(loose, "bolt in double"), named(loose, "bolt bent, joint loose")
    assert bending.judged
    assert bending.used * bending.factor.value > shear.used * shear.factor.value
    assert shear.holds and named(bracket((12_000, 0, 0), gap=0.25), "bolt in double").holds
    assert not named(bracket((12_000, 0, 0), gap=0.25), "bolt bent, joint loose").holds
    # drawn tight the same bolt holds
    tight = named(bracket((12_000, 0, 0), gap=0.02), "bolt bent, joint drawn tight")
    assert tight.judged and tight.holds


def test_what_the_bolt_draws_in_is_held_by_yield_or_by_half_its_clamp():
    # cantilever: force 3 E I x / h^3, stress 6 F h / (w t^2), each tab half the gap
    case = bracket((0, 0, 0))
    at_limit = changed(case, gap=closable_gap(case))
    force = closing_force(at_limit)
    stress = 6 * force * case.height / (case.root_width * case.thickness**2)
    clamp = 0.75 * 120 * KSI * 0.334 * INCH**2  # 3/4-10 grade 8: proof 120 ksi, 0.334 in^2
    assert stress == pytest.approx(36 * KSI)
    assert force < clamp / 2
    thick = bracket((0, 0, 0), thickness_in=1.5, height=2.0 * INCH)
    thick_force = closing_force(changed(thick, gap=closable_gap(thick)))
    assert thick_force == pytest.approx(clamp / 2, rel=2e-3)
    assert drawn_tight(at_limit) and not drawn_tight(changed(case, gap=1.01 * closable_gap(case)))


def test_the_clamp_holds_by_friction_of_two_faces_and_nothing_when_the_gap_stays_open():
    # clamp 0.75 of proof load, friction 0.15 (common practice, no source): 2 x 0.15 x 30.1 kip = 9.0 kip
    snug = named(bracket((1000, 0, 0), gap=0.0), "friction")
    assert snug.capacity / KIP == pytest.approx(2 * 0.15 * 0.75 * 120 * 0.334, rel=2e-3)
    assert not snug.judged and snug.holds
    assert named(bracket((1000, 0, 0), gap=0.25), "friction").capacity == 0


def test_a_bolt_in_single_shear_takes_all_of_it_and_bends_as_a_cantilever():
    case = bracket((3000, 0, 0), joint=1.5, gap=0.0, bolt="5/8-11", single_shear=True)
    assert named(case, "bolt in single shear").demand == pytest.approx(3000 * LBF)
    # M = P (t / 2 + b / 2) = 3000 x 0.875 = 2625 lbf in; 32 M / (pi d^3) = 109.5 ksi
    bent = named(case, "bolt bent, from one tab")
    assert bent.demand / KSI == pytest.approx(109.5, abs=0.1)
    assert bent.judged and not bent.holds
    double = bracket((3000, 0, 0), joint=1.5, gap=0.0, bolt="5/8-11")
    assert named(double, "bolt bent, joint drawn tight").holds


def test_shear_and_bending_together_are_more_than_either():
    case = bracket((8000, 0, 0), gap=0.25)
    shear, bent, both = (named(case, s) for s in ("bolt in double", "bolt bent, joint loose", "bolt, shear and"))
    assert both.used == pytest.approx(math.hypot(shear.used, bent.used))
    assert not named(bracket((40_000, 0, 0)), "bolt, shear and").holds


def test_a_bolt_and_a_grade_that_do_not_go_together_are_refused():
    assert bolt_of("M12x1.75", "10.9").tensile == pytest.approx(1040)
    # SAE J429: grade 2 in these strengths to 3/4 in
    for thread, grade, words in (
        ("M12x1.75", "grade-8", "bolt grade: given grade-8 on M12x1.75"),
        ("1/2-13", "10.9", "bolt grade: given 10.9 on 1/2-13"),
        ("1-8", "grade-2", "bolt: given 1-8"),
    ):
        with pytest.raises(InputFault, match=words):
            bolt_of(thread, grade)
    with pytest.raises(NotInTable):
        bolt_of("1/2-12", "grade-8")


def test_a_bolt_drawn_tight_bends_over_the_ends_of_its_joint():
    # M = P (t / 2 + 2 d / 4), P on one tab: 5000 x (0.125 + 0.375) = 2500 lbf in; 32 M / (pi d^3) = 60.4 ksi
    case = bracket((10_000, 0, 0))
    assert bolt_moment(case, tab_loads(case)[0], loose=False) == pytest.approx(2500 * LBF * INCH)
    assert named(case, "bolt bent, joint drawn tight").demand / KSI == pytest.approx(60.36, abs=0.02)
    # a joint narrower than two diameters bears over its own width
    narrow = changed(case, joint_width=1.0 * INCH)
    assert bolt_moment(narrow, tab_loads(narrow)[0], loose=False) == pytest.approx(5000 * LBF * 0.375 * INCH)


def test_one_face_holds_by_friction_in_single_shear():
    double, single = (bracket((1000, 0, 0), gap=0.0, single_shear=s) for s in (False, True))
    assert named(single, "friction").capacity == pytest.approx(named(double, "friction").capacity / 2)
