"""The simulated jig against closed forms and against what heights may not do.

Closed forms are plane geometry worked out here: a hole T out of place at radius R turns a plate by
T / R; a point moved across at lever L turns it by T / L. Nothing is taken from the program's output.
"""

import math
from dataclasses import replace

import numpy as np
import pytest

from fixturegen.axle import frames
from fixturegen.errors import GeometryFault, ProgramFault
from fixturegen.studies.jig_contacts import rotation, solved
from fixturegen.studies.jig_deviations import Chain, Deviations, Ground, actual, turned_knuckle
from fixturegen.studies.jig_pose import Simulation
from fixturegen.studies.jig_records import BUSH_RELIEF
from tests.studies.study_jobs import DROPOUT, INTEGRAL, REAR, case

BOTH = pytest.mark.parametrize("name", [DROPOUT, INTEGRAL])
STEP = 0.01


@pytest.fixture(scope="module")
def jigs():
    return {name: Simulation(*case(name)) for name in (DROPOUT, INTEGRAL)}


def slope(jig, d, side="left"):
    a = getattr(jig.pose(Deviations(levelled=False)), side).caster_bench
    b = getattr(jig.pose(replace(d, levelled=False)), side).caster_bench
    return (b - a) / STEP


@BOTH
def test_as_drawn_both_knuckles_stand_at_the_bench_caster(jigs, name):
    # common practice, no source: caster on the bench = caster wanted + pinion angle
    sheet, _, _ = case(name)
    wanted = float(sheet.axle.caster) + float(sheet.axle.pinion_angle)
    pose = jigs[name].pose()
    assert pose.left.caster_bench == pytest.approx(wanted, abs=1e-9)
    assert pose.right.caster_bench == pytest.approx(wanted, abs=1e-9)
    assert pose.left.caster_vehicle == pytest.approx(float(sheet.axle.caster), abs=1e-9)


@BOTH
@pytest.mark.parametrize("field", ["tie_x", "tie_fit", "tie_hole"])
def test_the_tie_out_of_place_by_t_turns_the_knuckle_by_t_over_r(jigs, name, field):
    radius = jigs[name].plan.tie.radius
    found = slope(jigs[name], Deviations(left=replace(Chain(), **{field: STEP})))
    assert abs(found) == pytest.approx(math.degrees(1.0 / radius), rel=1e-4)


@BOTH
def test_the_index_hole_moves_both_sides_by_t_over_r(jigs, name):
    radius = jigs[name].plan.tie.radius
    for side in ("left", "right"):
        found = slope(jigs[name], Deviations(index_hole=STEP), side)
        assert found == pytest.approx(-math.degrees(1.0 / radius), rel=1e-4)


@BOTH
def test_the_tube_end_ahead_by_e_turns_the_knuckle_by_about_e_over_r(jigs, name):
    # job rule: e / R; the fingers let the plate follow across, not fore and aft, which costs
    # little: the turn is e / R within 5 %.
    radius = jigs[name].plan.tie.radius
    found = slope(jigs[name], Deviations(left=Chain(tube_x=STEP)))
    assert found == pytest.approx(math.degrees(1.0 / radius), rel=0.05)


@BOTH
def test_fingers_out_of_place_turn_the_knuckle_over_the_lever_of_both_heads(jigs, name):
    # Both pairs out, one forward and one rearward: the knuckle turns by 2 T over the heads' distance
    # measured square to `across`, and the plate stays.
    jig = jigs[name]
    upper, lower = jig.clock.fingers
    lever = math.dist(upper.middle, lower.middle)
    d = Deviations(left=Chain(finger_upper=STEP, finger_lower=-STEP))
    plate = jig.pose(replace(d, levelled=False)).left.plate[2]
    # The plate moves by what the tie makes of the small shift of the middle between the heads.
    middle = (upper.along - lower.along) / 2.0
    assert slope(jig, d) == pytest.approx(-math.degrees(2.0 / lever), rel=2e-2)
    assert abs(plate) <= math.degrees(abs(middle) * 2.0 * STEP / lever / jig.plan.tie.radius) * 1.2 + 1e-6


@BOTH
def test_one_pad_proud_tilts_the_housing_by_t_over_the_span_of_the_pads(jigs, name):
    jig = jigs[name]
    low, high = (sum(p) / 2.0 for p in jig.plan.index.pads)
    d = Deviations(ground=Ground(pad_upper=STEP, pad_lower=-STEP, pad_side=-STEP))
    # 2 T over the span turns housing (or index plate) against the other; the knuckle follows the
    # index plate. The bar's shift against the tube ends is nothing, since the pads move oppositely.
    assert abs(slope(jig, d)) == pytest.approx(math.degrees(2.0 / (high - low)), rel=0.05)


@BOTH
def test_the_face_angle_s_error_goes_into_the_caster_whole(jigs, name):
    assert slope(jigs[name], Deviations(face_angle=STEP)) == pytest.approx(1.0, abs=1e-6)


MOVES = [
    {"stand_height": 1.0},
    {"cradle_left": 1.0},
    {"cradle_right": 1.0},
    {"tube_diameter": 1.0},
    {"table_height": 1.0},
    {"rise_left": 1.0},
    {"rise_right": 1.0},
    {"table_pitch": 0.2},
    {"table_roll": 0.05},
]


@BOTH
@pytest.mark.parametrize("move", MOVES, ids=lambda m: next(iter(m)))
def test_heights_tube_size_and_table_leave_the_caster_alone_once_the_screws_are_set_again(jigs, name, move):
    # issue: 1 mm of each changes the predicted caster by less than 0.001 deg; 0.2 deg of pitch is
    # 1 mm over the stand's base of about 280 mm, 0.05 deg of roll 1 mm over 1.2 m of table.
    jig = jigs[name]
    base = actual(jig.sheet)
    home, moved = jig.pose(base), jig.pose(replace(base, ground=replace(Ground(), **move)))
    assert abs(moved.left.caster_bench - home.left.caster_bench) < 0.001
    assert abs(moved.right.caster_bench - home.right.caster_bench) < 0.001


@pytest.mark.parametrize("move", [{"stand_height": 1.0}, {"cradle_left": 1.0}, {"tube_diameter": 1.0}])
def test_without_setting_the_screws_again_a_drop_out_s_heights_do_show(jigs, move):
    # the case that shows the invariance above is no tautology
    jig = jigs[DROPOUT]
    home = jig.pose(Deviations(ground=Ground(screws_reset=False)))
    moved = jig.pose(Deviations(ground=replace(Ground(screws_reset=False), **move)))
    assert abs(moved.left.caster_bench - home.left.caster_bench) > 0.005


@BOTH
def test_the_steady_set_by_the_level_leaves_no_split_of_what_turns_the_plates(jigs, name):
    d = Deviations(left=Chain(tie_x=0.3, tube_x=0.1), right=Chain(tie_x=-0.2, bar_sag=0.2))
    jig = jigs[name]
    assert abs(jig.pose(replace(d, levelled=False)).split) > 0.05
    assert abs(jig.pose(d).split) < 1e-6


@BOTH
def test_without_the_level_the_tie_s_turn_in_plan_is_the_split(jigs, name):
    # one index plate in the middle cannot hold the tie square: 1 mm at the steady
    jig = jigs[name]
    pose = jig.pose(Deviations(steady=1.0, levelled=False))
    span = jig.tie.steady - jig.plan.index.station
    apart = 2.0 * (jig.clock.inner + jig.plan.clock_thickness / 2.0)
    shift = apart / span  # difference of the tie's x at both plates [mm]
    assert pose.split == pytest.approx(-math.degrees(math.atan(shift / jig.tie.radius)), rel=1e-3)


@BOTH
def test_the_whole_trim_brings_both_knuckles_to_the_wanted_caster(jigs, name):
    d = Deviations(left=Chain(tie_x=0.3, tube_x=0.1), right=Chain(tie_x=0.2), index_fit=0.1)
    jig = jigs[name]
    assert abs(jig.pose(d).left.caster_bench - jig.bench_caster) > 0.03
    pose, shim = jig.trimmed(d)
    assert pose.left.caster_bench == pytest.approx(jig.bench_caster, abs=2e-4)
    assert pose.right.caster_bench == pytest.approx(jig.bench_caster, abs=2e-4)
    assert shim != 0.0


@BOTH
def test_the_level_s_own_error_is_what_the_trim_leaves(jigs, name):
    pose, _ = jigs[name].trimmed(Deviations(left=Chain(level=0.02)))
    assert pose.split == pytest.approx(0.02, abs=2e-4)


@BOTH
def test_the_trim_is_blind_to_fingers_and_face(jigs, name):
    pose, _ = jigs[name].trimmed(Deviations(face_angle=0.1))
    assert pose.left.caster_bench - jigs[name].bench_caster == pytest.approx(0.1, abs=1e-6)


def test_a_plate_that_ignores_the_bush_s_drop_gives_too_much_caster():
    # geometry: the plate hangs d low; its fingers let the knuckle follow across only, so the plate
    # goes forward by d tan(c) and turns by that over R about the tie.
    sheet, axle, plan = case(DROPOUT)
    flat = replace(plan, clock=replace(plan.clock, drop=0.0))
    off = Simulation(sheet, axle, flat).pose().left.caster_bench - axle.bench_caster
    d, c = BUSH_RELIEF / 2.0, math.radians(axle.plate_caster)
    assert off == pytest.approx(math.degrees(d * math.tan(c) / plan.tie.radius), rel=0.05)


def test_a_tube_end_farther_off_than_the_bush_gives_is_refused_in_words():
    jig = Simulation(*case(DROPOUT))
    with pytest.raises(GeometryFault, match="straighten"):
        jig.pose(Deviations(left=Chain(tube_x=BUSH_RELIEF)))


def test_a_rear_axle_has_nothing_to_simulate():
    with pytest.raises(ProgramFault):
        Simulation(*case(REAR))


@pytest.mark.parametrize("label", ["+", "-"])
def test_the_side_holes_of_the_row_change_the_caster_by_their_step(label):
    # plane geometry: same-named holes of index and clock plate differ by the step; beside the top a
    # plate that hangs low would turn by a share of it, so its side holes stand that much higher
    sheet, axle, plan = case(DROPOUT)
    hole = next(h for h in plan.tie.row if h.label == label)
    pose = Simulation(sheet, axle, plan, hole).pose()
    # A clock plate whose hole stands `change` farther forward hangs turned rearward by it.
    change = hole.clock_angle - hole.index_angle
    assert pose.left.caster_bench - axle.bench_caster == pytest.approx(change, abs=0.002)
    assert abs(change) == pytest.approx(float(sheet.jig.trim_step))


def test_turned_knuckle_follows_the_published_relation():
    # sources: inclination 9, caster 0 -> 8 gives 9.087 deg (derived, ISO 8855 projections)
    inclination, camber, toe = turned_knuckle(1, 8.0, 9.0, 0.0, 0.0)
    assert inclination == pytest.approx(9.087, abs=5e-4)
    assert camber == pytest.approx(0.0, abs=1e-12)
    assert toe == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("side", [1, -1])
def test_camber_turned_forward_becomes_toe_in_alike_on_both_sides(side):
    # frames: a spindle with camber g gains toe-in of about g sin d per wheel
    _, camber, toe = turned_knuckle(side, 9.0, 8.5, 0.5, 1.0)
    assert toe == pytest.approx(0.5 * math.sin(math.radians(8.0)), rel=1e-3)
    assert camber == pytest.approx(0.5 * math.cos(math.radians(8.0)), rel=1e-3)


def test_rotation_is_the_product_of_the_plain_ones():
    found = rotation(0.0, math.radians(12.0), 0.0)
    assert np.allclose(found, frames.turn_about_y(12.0))
    r = rotation(0.1, 0.2, 0.3)
    assert np.allclose(r @ r.T, np.eye(3))
    assert np.linalg.det(r) == pytest.approx(1.0)


def test_contacts_that_cannot_be_met_are_a_fault_in_words():
    with pytest.raises(GeometryFault, match="cannot all be met"):
        solved(lambda x: np.array([x[0] ** 2 + 1.0]), np.array([0.5]))
