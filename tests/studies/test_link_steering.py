"""Bump steer, roll steer, tie rod, drag link and axle-shaft angles at lock."""

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import fsolve, least_squares
from scipy.spatial.transform import Rotation

from fixturegen.axle import frames
from fixturegen.axle.linkage import Joint, Linkage
from fixturegen.axle.travel import poses_at
from fixturegen.errors import InputFault
from fixturegen.studies.link_steering import (
    Knuckle,
    Steering,
    roll_over,
    shaft_joint_angles,
    steering_faults,
    steering_motion,
    tie_rod_follow,
)
from tests.axle import invented_linkages as made
from tests.axle.invented_linkages import INCH

HEAVE, ROLL = np.array([0.0, 70.0, -90.0, 30.0, -40.0]), np.array([0.0, 0.0, 0.0, 6.0, -8.0])


def track_bar(slope=0.0, length=32.0) -> Linkage:
    """Level parallel links and a track bar of a slope [deg], frame end on the left."""
    lowers = made.both("lower", (0, 15, 16), (-36, 15, 16), make=made.rod)
    rise = length * math.tan(math.radians(slope))
    bar = made.rod("track-bar", (3, length / -2, 20), (3, length / 2, 20 + rise))
    return Linkage(
        "three-link", made.front_stance(), (*lowers, made.rod("upper", (0, 0, 26), (-36, 0, 26)), bar)
    )  # fmt: skip


def steering(slope=0.0, length=32.0, arm=6.0, on="right", tie_x=-5.0, tie_y=24.0, caster=12.0, inclination=8.0):
    """A drag link of a slope from a pitman arm on the left to an arm `arm` [in] ahead of the right pivots."""
    knuckles = [
        Knuckle(
            (0.0, s * 26 * INCH, 0.0),
            tuple(frames.steering_axis(s, caster, inclination)),
            Joint(made.inches((tie_x, s * tie_y, 18))),
        )
        for s in (1, -1)
    ]
    end = (arm, length / -2, 22) if on != "tie-rod" else (tie_x, length / -2, 18)
    rise = length * math.tan(math.radians(slope))
    pitman = made.inches((end[0], end[1] + length, end[2] + rise))
    return Steering(*knuckles, pitman, Joint(made.inches(end)), on)


@pytest.mark.parametrize("slope", [0.0, 5.0, 10.0])
def test_equal_and_parallel_bar_and_link_do_not_steer_to_first_order(slope):
    # law: both ends swing on equal parallel arcs; upright pivots leave nothing at all
    linkage, rods = track_bar(slope), steering(slope)
    change = steering_motion(poses_at(linkage, np.array([-2.0, 2.0, 4.0])), rods).change
    assert abs(change[1] - change[0]) / 4.0 < 1e-5, "deg per mm at ride height"
    assert np.abs(steering_motion(poses_at(linkage, np.array([-4, 4]) * INCH), rods).change).max() < 0.1
    upright = steering(slope, caster=6.0, inclination=0.0)  # bench caster 6 at pinion 6: plumb in the vehicle
    assert np.abs(steering_motion(poses_at(linkage, np.array([-4, 4]) * INCH), upright).change).max() < 1e-6


@pytest.mark.parametrize("mismatch", [3.0, 3.5, 4.0])
def test_three_to_four_degrees_of_mismatch_steer_about_two_over_four_inches(mismatch):
    # common practice, no source; arithmetic: the axle goes 4 in, the ends part by 4 tan(mismatch) over the arm of 6 in
    linkage, rods = track_bar(0.0), steering(mismatch)
    change = steering_motion(poses_at(linkage, np.array([-4, 4]) * INCH), rods).change
    arithmetic = math.degrees(math.asin(4 * math.tan(math.radians(mismatch)) / 6))
    assert np.abs(change).mean() == pytest.approx(arithmetic, rel=0.12)
    assert np.abs(change).mean() == pytest.approx(2.0, abs=0.7)
    # sign: the axle rises toward the pitman joint, the link has less to reach and pushes its end ahead of the
    # pivots away from the pitman arm, to the right: right steer
    assert change[1] < 0.0 < change[0]


def test_four_inches_of_length_mismatch_steer_much_less_than_the_angle():
    # common practice, no source: about 0.3 deg against about 2
    linkage = track_bar(0.0, 32.0)
    change = steering_motion(poses_at(linkage, np.array([-4, 4]) * INCH), steering(0.0, 28.0)).change
    assert np.abs(change).max() < 0.6


@pytest.mark.parametrize("on", ["left", "right", "tie-rod"])
def test_the_wheels_stand_as_a_general_solver_turns_them(on):
    linkage, rods = made.three_link(), steering(2.0, 30.0, on=on)
    stance = linkage.stance
    poses = poses_at(linkage, HEAVE, ROLL)
    motion = steering_motion(poses, rods)
    knuckles = (rods.left, rods.right)
    ties = [stance.to_axle(k.tie.point) for k in knuckles]
    drag, pitman = stance.to_axle(rods.drag.point), stance.to_axle(rods.pitman)
    share = (drag - ties[0]) @ (ties[1] - ties[0]) / np.sum((ties[1] - ties[0]) ** 2)

    def turned(k, point, angle):
        axis = np.array(k.axis) / np.linalg.norm(k.axis)
        return Rotation.from_rotvec(angle * axis).apply(point - np.array(k.point)) + k.point

    def off(angles, held):
        ends = [turned(k, t, a) for k, t, a in zip(knuckles, ties, angles, strict=True)]
        if on == "tie-rod":
            end = ends[0] + share * (ends[1] - ends[0])
        else:
            end = turned(knuckles[on == "right"], drag, angles[int(on == "right")])
        return [
            np.linalg.norm(ends[1] - ends[0]) - np.linalg.norm(ties[1] - ties[0]),
            np.linalg.norm(end - held) - np.linalg.norm(drag - pitman),
        ]

    assert motion.reached.all()
    for i in range(HEAVE.size):
        held = poses.rotations()[i].T @ (np.array(rods.pitman) - poses.origins()[i])
        angles = least_squares(off, [0.0, 0.0], args=(held,), xtol=1e-15, ftol=1e-15, gtol=1e-15).x
        assert motion.knuckles[i] == pytest.approx(np.degrees(angles), abs=1e-6)
        for j, side in enumerate((1, -1)):
            axis = np.array(knuckles[j].axis) / np.linalg.norm(knuckles[j].axis)
            out = poses.rotations()[i] @ Rotation.from_rotvec(angles[j] * axis).apply([0.0, side, 0.0])
            ahead = np.cross(side * out, [0.0, 0.0, 1.0])  # heading: square to the spindle, level
            assert motion.steer[i, j] == pytest.approx(math.degrees(math.atan2(ahead[1], ahead[0])), abs=1e-6)


def test_at_ride_height_the_wheels_stand_as_they_were_set():
    rods = steering()
    rods = replace(rods, left=replace(rods.left, toe_in=0.1, camber=0.5), right=replace(rods.right, toe_in=0.1))
    motion = steering_motion(poses_at(track_bar(), 0.0), rods)
    assert motion.toe[0] == pytest.approx(0.2, abs=1e-9)
    assert motion.camber[0] == pytest.approx([0.5, 0.0], abs=1e-9)
    assert motion.steer[0] == pytest.approx([-0.1, 0.1], abs=1e-9)
    assert motion.change[0] == pytest.approx(0.0, abs=1e-9)


def test_the_mirror_image_steers_the_other_way():
    linkage, rods = made.three_link(), steering(3.0)
    over = np.array([1.0, -1.0, 1.0])

    def mirrored(joint):
        return replace(joint, point=tuple(over * joint.point))

    links = tuple(replace(k, frame=mirrored(k.frame), axle=mirrored(k.axle)) for k in linkage.links)
    other = replace(rods, pitman=tuple(over * rods.pitman), drag=mirrored(rods.drag), drag_on="left")
    one = steering_motion(poses_at(linkage, HEAVE, ROLL), rods)
    two = steering_motion(poses_at(replace(linkage, links=links), HEAVE, -ROLL), other)
    assert two.steer[:, ::-1] == pytest.approx(-one.steer, abs=1e-7)
    assert two.toe == pytest.approx(one.toe, abs=1e-7)


def test_a_tie_rod_with_arms_aimed_at_the_rear_axle_turns_the_inner_wheel_more():
    # geometry: a trapezoid of arms; plumb pivots make it plane, which is solved here with complex numbers
    rods = steering(caster=6.0, inclination=0.0)
    stance = made.front_stance()
    left, right = tie_rod_follow(rods, stance, [30.0, -30.0])
    assert left == pytest.approx([30.0, -30.0], abs=1e-9)
    for turn, found in zip((30.0, -30.0), right, strict=True):
        end = 26j + (-5 - 2j) * np.exp(1j * math.radians(turn))

        def gap(a, end=end):
            return abs(-26j + (-5 + 2j) * np.exp(1j * a[0]) - end) - 48

        assert found == pytest.approx(math.degrees(fsolve(gap, [math.radians(turn)], xtol=1e-13)[0]), abs=1e-6)
    assert right[0] < 30.0 and right[1] < -30.0
    # the other way round with arms ahead and inboard
    ahead = steering(caster=6.0, inclination=0.0, tie_x=5.0)
    assert tie_rod_follow(ahead, stance, [30.0])[1][0] > 30.0


def test_the_shaft_joint_at_lock_has_less_than_the_turn_of_a_leaning_axis():
    # spherical geometry: a direction at the angle e off an axis, turned by t about it, moves by 2 asin(sin e sin t/2)
    rods = steering(caster=0.0, inclination=9.0)
    stance = made.front_stance(pinion=0.0)
    found = shaft_joint_angles(rods, stance, np.array([[35.0, 35.0], [-35.0, 0.0]]))
    off = math.radians(90.0 - 9.0)
    expected = math.degrees(2 * math.asin(math.sin(off) * math.sin(math.radians(17.5))))
    assert found[0] == pytest.approx([expected, expected], abs=1e-9)
    assert found[1] == pytest.approx([expected, 0.0], abs=1e-9)
    plumb = shaft_joint_angles(steering(caster=0.0, inclination=0.0), stance, np.array([[35.0, 35.0]]))
    assert plumb[0] == pytest.approx([35.0, 35.0])


def test_a_drag_link_off_the_tie_rods_line_loses_steer_while_the_rod_rolls():
    linkage = track_bar()
    on_line = steering(on="tie-rod")
    assert roll_over(poses_at(linkage, 0.0), on_line, 8.0) == pytest.approx(0.0, abs=1e-9)
    x, y, z = on_line.drag.point
    above = replace(
        on_line,
        drag=Joint((x + 1.0 * INCH, y, z + 1.0 * INCH)),
        pitman=(on_line.pitman[0] + 5.0 * INCH, on_line.pitman[1], on_line.pitman[2] + 3.0 * INCH),
    )
    lost = roll_over(poses_at(linkage, 0.0), above, 8.0)[0]
    # arithmetic: a roll of 16 deg moves the joint 1.41 in x 2 sin 8 deg = 0.394 in about the rod, along the sloping
    # link only in part
    assert 0.0 < lost < math.degrees(0.394 / 5.0)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda s: replace(s, left=s.right, right=s.left), "swap the two"),
        (lambda s: replace(s, drag=Joint(s.pitman)), "both ends in one place"),
        (lambda s: replace(s, left=replace(s.left, tie=s.right.tie)), "both ends in one place"),
        (lambda s: replace(s, left=replace(s.left, tie=Joint(s.left.point, at="axle"))), "on the steering axis"),
    ],
)
def test_a_steering_that_is_none_is_refused(change, words):
    rods = steering()
    assert steering_faults(rods, made.front_stance()) == ()
    bad = change(rods)
    with pytest.raises(InputFault, match=words):
        steering_motion(poses_at(track_bar(), 0.0), bad)


def test_rods_that_do_not_reach_are_told():
    motion = steering_motion(poses_at(track_bar(), np.array([0.0, -14.0]) * INCH), steering(35.0, 12.0))
    assert motion.reached.tolist() == [True, False] and np.isnan(motion.change[1])
