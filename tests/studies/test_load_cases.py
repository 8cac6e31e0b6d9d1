"""Load cases against weights, moments and work worked out by hand beside them; wrong input in one sentence each."""

import math

import numpy as np
import pytest

from fixturegen.axle.model import axle_of
from fixturegen.errors import InputFault
from fixturegen.findings import Trust
from fixturegen.sources import read_sources
from fixturegen.studies.load_cases import GRAVITY, cases_of, left_out, pinion_torque, weights_of
from fixturegen.studies.load_factors import factor_of
from tests.sheet.altered import KINGPIN, by_key, line_with, put
from tests.sheet.altered import sheet as read_sheet
from tests.studies.study_jobs import DROPOUT, REAR, sheet_of

LB = 0.45359237  # kg, exact by definition
WEIGHT = 2640 * LB * 9.80665  # of the front example's axle [N]
TRUCK = 5050 * LB * 9.80665
UNSPRUNG = 690 * LB * 9.80665
RADIUS, BASE, HEIGHT = 17.5 * 25.4, 112 * 25.4, 34 * 25.4


def cases(name=DROPOUT, **changes):
    sheet = sheet_of(name, **changes)
    return {c.name: c for c in cases_of(sheet, axle_of(sheet))}


def total(case):
    return np.sum([p.force for p in case.pushes], axis=0)


def pushes(case):
    return {p.what: p for p in case.pushes}


def test_the_acceleration_of_free_fall_is_the_standard_one():
    assert GRAVITY == 9.80665  # ISO 80000-3, exact


def test_a_front_axle_with_steering_has_these_cases_in_this_order():
    assert list(cases()) == [
        *("static", "bump", "brake", "drive", "reverse", "side-left", "side-right", "rock-left", "rock-right"),
        *("jack", "recovery", "steer-left", "steer-right", "side-steer-left", "side-steer-right"),
    ]
    assert [n for n in cases(REAR) if "steer" in n] == []
    assert not {"drive", "reverse"} & set(cases(links__drive_share="0"))


def test_standing_wheels_carry_what_the_scales_read_and_the_springs_what_hangs_on_them():
    static = cases()["static"]
    assert [p.force[2] for p in static.pushes] == pytest.approx([WEIGHT / 2, WEIGHT / 2, -UNSPRUNG])
    # contact points: straight below the hubs, at the loaded radius
    assert static.pushes[0].below == pytest.approx((0, 0, -RADIUS))
    assert static.pushes[0].at[1] == -static.pushes[1].at[1] > 0


def test_bump_is_the_factor_times_static_at_the_height_of_full_bump():
    found = cases(loads__vertical_factor="3")
    static, bump = found["static"], found["bump"]
    for here, there in zip(static.pushes, bump.pushes, strict=True):
        assert there.force == pytest.approx([3 * f for f in here.force])
    assert bump.heave == pytest.approx(5 * 25.4)
    assert bump.pose == "bump"
    assert {c.pose for n, c in found.items() if n != "bump"} == {"ride"}


def test_the_usual_vertical_factor_is_within_what_the_handbook_gives():
    # Pawlowski and Erz, quoted in Happian-Smith: 2.5 to 3 on the road, 4 off it
    loads = read_sheet(KINGPIN, ('vertical_factor = "4"\n', "")).loads
    factor = factor_of(loads, "vertical_factor")
    assert 2.5 <= factor.value <= 4.0
    assert factor.source == "happian-smith"
    assert factor.trust is Trust.ASSUMED
    assert factor_of(read_sheet().loads, "vertical_factor").trust is Trust.PRACTICE


def test_a_front_axle_brakes_with_what_comes_over_from_the_rear():
    # moments about the rear contact points: friction x truck x height / wheelbase comes to the front
    brake = cases(loads__friction="0.8", loads__brake_factor="1.5")["brake"]
    load = WEIGHT + 0.8 * TRUCK * HEIGHT / BASE
    assert total(brake)[2] == pytest.approx(load - UNSPRUNG)
    assert total(brake)[0] == pytest.approx(-1.5 * 0.8 * load)


def test_no_axle_carries_more_than_the_truck():
    weights = weights_of(sheet_of(loads__friction="2", links__gravity_height="89 in"), axle_of(sheet_of()))
    assert weights.pressed == pytest.approx(TRUCK)
    assert weights.outer == pytest.approx(WEIGHT)


def test_a_rear_axle_is_pressed_when_it_pulls_forward_and_not_when_it_brakes():
    found = cases(REAR)
    weight, truck = 1090 * 9.80665, 2290 * 9.80665
    moved = truck * 860 / 2845
    hung = 290 * 9.80665
    assert total(found["brake"])[2] == pytest.approx(weight - hung)
    assert total(found["drive"])[2] == pytest.approx(weight + moved - hung)
    assert total(found["drive"])[0] == pytest.approx(2 * (weight + moved))
    assert total(found["reverse"])[2] == pytest.approx(weight - hung)
    assert total(found["reverse"])[0] == pytest.approx(-2 * weight)


def test_the_drive_shaft_gives_the_torque_of_the_wheels_over_the_ratio():
    found = cases()
    torque = total(found["drive"])[0] * RADIUS / 4.875
    assert abs(found["drive"].couples[0].moment[0]) == pytest.approx(torque)
    assert np.sign(found["drive"].couples[0].moment[0]) == -np.sign(found["reverse"].couples[0].moment[0])
    assert found["brake"].couples == ()


def test_power_comes_in_as_it_goes_out():
    # law: torque of the shaft x its speed = torque of the wheels x theirs, whichever way the pinion turns
    for name, side in ((DROPOUT, "left"), (DROPOUT, "right"), (REAR, "left"), (REAR, "right")):
        sheet = sheet_of(name, third_member__ring_gear_side=side)
        axle = axle_of(sheet)
        shaft = np.array(pinion_torque(sheet, axle, 1000.0, 4.0))
        # the tooth of the ring gear in mesh: ahead of (or behind) the axle line on the pinion's side
        wheels = np.array([0.0, 1.0, 0.0])  # rolling forward
        tooth = np.array([axle.pinion_sign * 100.0, 0.0, 0.0])
        speed = np.cross(wheels, tooth)
        beside = np.array([0.0, (1.0 if side == "left" else -1.0) * 25.0, 0.0])  # 100 / 4, from the pinion's axis
        turning = np.array([np.cross(beside, speed)[0] / 25.0**2, 0.0, 0.0])  # w = r x v / r^2
        assert np.cross(turning, beside) == pytest.approx(speed)
        assert abs(turning[0]) == pytest.approx(4.0)
        assert shaft @ turning == pytest.approx(1000.0)


def test_a_common_rear_axle_is_turned_left_side_down_when_it_pulls():
    # common practice: engine clockwise from the front, ring gear on the left: the right rear tyre spins first
    sheet = sheet_of(REAR)
    assert pinion_torque(sheet, axle_of(sheet), 1000.0, 4.0)[0] < 0.0


@pytest.mark.parametrize(("side", "way"), [("left", 1), ("right", -1)])
def test_a_side_force_at_the_limit_of_grip_loads_the_outer_wheel(side, way):
    found = cases(loads__friction="0.4", loads__side_factor="1")
    case, by_tyre = found[f"side-{side}"], pushes(found[f"side-{side}"])
    assert total(case)[1] == pytest.approx(way * 0.4 * WEIGHT)
    outer = by_tyre["tyre-right" if side == "left" else "tyre-left"]
    inner = by_tyre[f"tyre-{side}"]
    track = 2 * abs(outer.at[1])
    # moments about the inner contact point
    assert outer.force[2] * track == pytest.approx(WEIGHT * track / 2 + 0.4 * WEIGHT * HEIGHT)
    assert outer.force[2] + inner.force[2] == pytest.approx(WEIGHT)
    assert outer.force[1] / outer.force[2] == pytest.approx(way * 0.4)


def test_a_rock_pushes_one_wheel_up_and_back_through_its_hub():
    case = cases()["rock-left"]
    rock = pushes(case)["rock-left"]
    assert rock.force == pytest.approx((-WEIGHT, 0, WEIGHT))  # twice the weight of one wheel, as much to the rear
    assert rock.below == (0, 0, 0)
    assert pushes(case)["tyre-right"].force[2] == pytest.approx(0)
    light = cases(loads__rock_vertical="1.2", loads__rock_rearward="0.5")["rock-right"]
    assert pushes(light)["rock-right"].force == pytest.approx((-0.3 * WEIGHT, 0, 0.6 * WEIGHT))
    assert total(light)[2] == pytest.approx(WEIGHT - UNSPRUNG)


def test_a_jack_lifts_under_the_middle_of_the_housing_or_where_it_is_put():
    case = cases()["jack"]
    jack = pushes(case)["jack"]
    assert jack.force == pytest.approx((0, 0, 1.5 * WEIGHT))
    assert jack.at == pytest.approx((0, (-6.5 + 1 / 16) * 25.4, -12.5 / 2 * 25.4))  # the sheet's own figures
    assert not any("tyre" in name for name in pushes(case))
    put_there = cases(loads__jack=["1 in", "20 in", "-2 in"])["jack"]
    assert pushes(put_there)["jack"].at == pytest.approx((25.4, 508, -50.8))


def test_a_winch_pulls_a_front_axle_forward_and_a_rear_one_rearward():
    assert total(cases()["recovery"])[0] == pytest.approx(1.5 * TRUCK)
    assert total(cases(REAR)["recovery"])[0] == pytest.approx(-1.5 * 2290 * 9.80665)
    hooked = cases(loads__recovery=["4 in", "0 in", "-3 in"])["recovery"]
    assert pushes(hooked)["recovery"].at == pytest.approx((101.6, 0, -76.2))


@pytest.mark.parametrize("on", ["left", "right", "tie-rod"])
@pytest.mark.parametrize(("side", "way"), [("left", 1), ("right", -1)])
def test_the_steering_force_and_the_scrub_of_the_tyres_do_no_work_together(on, side, way):
    # virtual work: both wheels turn about their steering axes by the same small angle, housing held
    sheet = sheet_of(links__steering__drag_on=on)
    axle = axle_of(sheet)
    case = {c.name: c for c in cases_of(sheet, axle)}[f"steer-{side}"]
    force = np.array(pushes(case)["drag-link"].force)
    assert np.linalg.norm(force) == pytest.approx(1900 * 4.4482216152605)
    turn = math.radians(10)  # pinion angle: A to V is a turn about +Y for a front axle
    rotation = np.array([[math.cos(turn), 0, math.sin(turn)], [0, 1, 0], [-math.sin(turn), 0, math.cos(turn)]])
    knuckle = next(k for k in axle.knuckles if k.side == ("right" if on == "right" else "left"))
    axis = rotation @ np.array(knuckle.axis)
    pivot = rotation @ np.array(knuckle.axis_point) + [0, 0, RADIUS]
    points = sheet.links.steering
    pitman, drag, tie = (np.array([float(v) for v in p]) for p in (points.pitman, points.drag_end, points.tie_end))
    moved = np.cross(axis, (tie if on == "tie-rod" else drag) - pivot)
    work = float(force @ moved)
    assert work * way > 0  # the wheels go where the case says
    scrub = sum(c.moment[2] for c in case.couples)
    assert scrub * axis[2] == pytest.approx(-work)
    # along the drag link, pitman joint to its other end
    line = drag - pitman
    assert np.linalg.norm(np.cross(line, force)) == pytest.approx(0, abs=1e-6 * np.linalg.norm(line) * 1900)


def test_steering_added_to_the_side_case_pushes_the_axle_the_same_way():
    found = cases()
    for side, way in (("left", 1), ("right", -1)):
        both, slid = total(found[f"side-steer-{side}"]), total(found[f"side-{side}"])
        assert (both[1] - slid[1]) * way > 0
        assert found[f"side-steer-{side}"].couples


def test_what_has_no_case_is_told():
    sheet = sheet_of(loads={"axle_load": "2640 lb", "ratio": "4"})
    assert "loads.steering_force" in left_out(sheet, axle_of(sheet))[0]
    sheet = sheet_of(links__steering=None)
    assert "[links.steering]" in left_out(sheet, axle_of(sheet))[0]
    assert left_out(sheet_of(), axle_of(sheet_of())) == ()
    assert left_out(sheet_of(REAR), axle_of(sheet_of(REAR))) == ()


def test_what_was_not_weighed_is_estimated_from_the_axle_load():
    sheet = sheet_of(loads={"axle_load": "2640 lb"})
    weights = weights_of(sheet, axle_of(sheet))
    assert (weights.axle, weights.truck, weights.unsprung) == pytest.approx((WEIGHT, 2 * WEIGHT, WEIGHT / 4))


def test_every_factor_says_its_source_and_what_it_does_not_cover():
    for case in (*cases().values(), *cases(REAR).values()):
        assert "fatigue" in case.not_covered
        assert "heat-affected zone" in case.not_covered
        assert "impact beyond the factor" in case.not_covered
        assert case.words
        for factor in case.factors:
            assert factor.source in read_sources()
            assert factor.not_covered
            assert factor.not_covered in case.not_covered
            if factor.source == "practice" and factor.name != "steering_force":
                assert "common practice, no source" in factor.words


# wrong input: one sentence each


def told(name=DROPOUT, **changes):
    sheet = sheet_of(name, **changes)
    with pytest.raises(InputFault) as caught:
        cases_of(sheet, axle_of(sheet))
    (fault,) = caught.value.faults
    return fault


def test_no_loads_and_no_links_are_each_one_sentence():
    assert "axle_load" in told(loads=None).remedy
    assert told(links=None).key == "links"


def test_a_driven_axle_without_its_ratio_is_one_sentence():
    fault = told(loads={"axle_load": "2640 lb"})
    assert fault.key == "loads.ratio"
    assert "count the teeth" in fault.sentence()


@pytest.mark.parametrize("key", ["jack", "recovery"])
def test_half_a_point_is_one_sentence(key):
    assert f"loads.{key}: given 2 of 3 lengths" in told(**{f"loads__{key}": ["1 in", "2 in"]}).sentence()


LOAD = 'axle_load = "2640 lb"             # both front tyres\n'


def test_loads_without_an_axle_load_name_the_key():
    fault = by_key(put(KINGPIN, (LOAD, "")), "loads.axle_load")
    assert "100 lb" in fault.allowed


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('friction = "1"', 'friction = "0"'),
        ('brake_factor = "2"', 'brake_factor = "-2"'),
        ('drive_factor = "2"', 'drive_factor = "-1"'),
        ('vertical_factor = "4"', 'vertical_factor = "0"'),
        ('steering_force = "1900 lbf"', 'steering_force = "-1900 lbf"'),
        ('jack_factor = "1.5"', 'jack_factor = "-1.5"'),
    ],
)
def test_a_factor_out_of_its_range_is_refused_with_the_range(old, new):
    key = old.split(" ")[0]
    text = put(KINGPIN, (old, new))
    fault = by_key(text, f"loads.{key}")
    assert fault.line == line_with(text, new)
    assert " to " in fault.allowed
    assert "\n" not in fault.sentence()
