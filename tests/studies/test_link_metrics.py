"""What the links do: plane cases, statics, differences of poses, laws."""

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from fixturegen.axle import frames
from fixturegen.axle.linkage import Joint, Link, Linkage
from fixturegen.axle.motion import motions
from fixturegen.axle.travel import poses_at
from fixturegen.studies import link_metrics
from fixturegen.studies.link_metrics import Vehicle, metrics_of
from tests.axle import invented_linkages as made
from tests.axle.invented_linkages import INCH

FULL = Vehicle(30 * INCH, 1.0, 1.0)
HEAVE, ROLL = np.array([0.0, 80.0, -100.0, 40.0, -60.0]), np.array([0.0, 0.0, 0.0, 7.0, -9.0])


def plane(lower, upper, wheelbase):
    """Lower pair, upper link and level track bar of a rear axle, points in the side view ahead of the axle [in]."""
    (x1, z1), (x2, z2) = lower
    (x3, z3), (x4, z4) = upper

    def rod(name, axle, frame):
        return made.rod(name, axle, frame, -wheelbase)

    links = (
        *made.both("lower", (x1, 20, z1), (x2, 20, z2), make=rod),
        rod("upper", (x3, 0, z3), (x4, 0, z4)),
        rod("track-bar", (0, -20, 16), (0, 20, 16)),
    )
    return Linkage("three-link", made.rear_stance(wheelbase=wheelbase), links)


def mirrored_to_the_front(linkage):
    """The rear linkage turned end for end under a front axle."""
    ahead = linkage.stance.wheelbase
    links = tuple(
        replace(
            k,
            frame=Joint((-k.frame.point[0] - ahead, *k.frame.point[1:])),
            axle=Joint((-k.axle.point[0] - ahead, *k.axle.point[1:])),
        )
        for k in linkage.links
    )
    return replace(linkage, stance=replace(linkage.stance, front=True), links=links)


# Gillespie, Fundamentals of Vehicle Dynamics, chapter 7 (definition from memory); the cases are derived from it by
# crossing lines: 100 (e / d) / (h / L)


def test_the_first_plane_case_to_1e_9():
    metrics = metrics_of(
        poses_at(plane(((0, 16), (40, 22)), ((2, 28), (30, 29)), 110), 0.0), Vehicle(32 * INCH, 1.0, 0.4)
    )
    # the lines z = 16 + 6/40 x and z = 28 + (x - 2)/28 meet at x = 104.375, z = 31.65625
    assert metrics.instant_centre[0] / INCH + [110, 0] == pytest.approx([104.375, 31.65625], abs=1e-9)
    assert metrics.anti_squat[0] == pytest.approx(100 * (31.65625 / 104.375) * 110 / 32, abs=1e-9)
    assert metrics.anti_squat[0] == pytest.approx(104.26, abs=5e-3)
    assert metrics.anti_dive[0] == pytest.approx(0.4 * metrics.anti_squat[0])


def test_the_second_plane_case_is_125_percent_exactly():
    metrics = metrics_of(poses_at(plane(((0, 15), (40, 20)), ((0, 25), (30, 25)), 120), 0.0), FULL)
    assert metrics.instant_centre[0] / INCH + [120, 0] == pytest.approx([80.0, 25.0], abs=1e-9)
    assert metrics.anti_squat[0] == pytest.approx(125.0, abs=1e-9)


def test_a_moved_point_does_change_the_plane_case():
    metrics = metrics_of(poses_at(plane(((0, 15), (40, 20)), ((0, 25), (30, 25.1)), 120), 0.0), FULL)
    assert abs(metrics.anti_squat[0] - 125.0) > 0.1


def test_parallel_links_have_a_force_line_and_no_instant_centre():
    # in the limit the line from the contact patch runs parallel to the links: slope 6/40
    metrics = metrics_of(poses_at(plane(((0, 16), (40, 22)), ((0, 28), (40, 34)), 110), 0.0), FULL)
    assert metrics.force_line[0] == pytest.approx(math.degrees(math.atan(6 / 40)), abs=1e-9)
    assert np.isnan(metrics.instant_centre[0]).all()


def test_splayed_links_turn_about_the_line_through_their_apexes():
    # derived: lower pair meets in plan at (200, 46.0), upper at (-10, 27.667); the roll axis is the line through both
    metrics = metrics_of(poses_at(made.splayed(), 0.0), FULL)
    upper, lower = (-10.0, 28 - 1 / 3), (200.0, 46.0)
    slope = (lower[1] - upper[1]) / (lower[0] - upper[0])
    assert metrics.roll_centre[0] / INCH == pytest.approx(upper[1] - upper[0] * slope, abs=1e-9)
    assert metrics.roll_axis[0] == pytest.approx(math.degrees(math.atan(slope)), abs=1e-9)
    assert (metrics.roll_centre[0] / INCH, metrics.roll_axis[0]) == pytest.approx((28.54, 4.99), abs=5e-3)
    # ISO 8855: an axis that climbs forward steers a rear axle out of the turn it leans in: oversteer
    assert metrics.roll_steer[0] == pytest.approx(-slope, abs=1e-9)


@pytest.mark.parametrize("name", ["splayed", "single-splay", "three-link", "wishbone"])
def test_the_force_line_is_that_of_the_forces_in_the_links(name):
    # statics, another way: link forces u_i T_i, a force 1 forward at each patch, a lift N at the axle centre and a
    # roll moment in equilibrium; of a force 2 forward the links press the axle down by 2 e / d
    linkage = made.EXACT[name]()
    poses = poses_at(linkage, 50.0, 0.0)
    arms = poses.points(linkage.axle_points())[0] - poses.origins()[0]
    lines = arms + poses.origins()[0] - linkage.frame_points()
    lines /= np.linalg.norm(lines, axis=1, keepdims=True)
    columns = [np.concatenate([u, np.cross(p, u)]) for u, p in zip(lines, arms, strict=True)]
    columns += [[0, 0, 1, 0, 0, 0], [0, 0, 0, 1, 0, 0]]
    patches = link_metrics.contact_arms(poses)[0]
    drive = sum(np.concatenate([[1.0, 0, 0], np.cross(p, [1.0, 0, 0])]) for p in patches)
    lift = np.linalg.solve(np.array(columns).T, -drive)[4]
    slope = link_metrics.force_slope(poses, motions(poses))[0]
    assert lift / 2.0 == pytest.approx(slope * linkage.stance.pinion_sign, abs=1e-9)


def test_a_linkage_turned_end_for_end_resists_dive_as_it_resisted_lift():
    rear = plane(((0, 16), (40, 22)), ((2, 28), (30, 29)), 110)
    one, other = (metrics_of(poses_at(k, 0.0), FULL) for k in (rear, mirrored_to_the_front(rear)))
    assert other.force_line == pytest.approx(one.force_line)
    assert other.anti_dive == pytest.approx(one.anti_dive)
    assert other.wheelbase_change == pytest.approx(one.wheelbase_change, abs=1e-9)


def test_a_front_axle_on_leading_links_whose_centre_is_behind_and_above_resists_dive():
    # brakes push the tyres to the rear; with the instant centre behind and above, that presses the axle away
    linkage = mirrored_to_the_front(plane(((0, 16), (40, 22)), ((2, 28), (30, 29)), 110))
    metrics = metrics_of(poses_at(linkage, 0.0), FULL)
    assert metrics.instant_centre[0, 0] < 0.0 and metrics.anti_dive[0] > 0.0


def test_the_roll_centre_on_a_track_bar_is_where_the_bar_crosses_the_middle():
    # common practice, no source: the drawn construction
    linkage = made.three_link()
    linkage = replace(linkage, links=tuple(
        replace(k, frame=Joint(made.inches((0, 16, 23))), axle=Joint(made.inches((0, -16, 20))))
        if k.name == "track-bar" else k for k in linkage.links
    ))  # fmt: skip
    assert metrics_of(poses_at(linkage, 0.0), FULL).roll_centre[0] == pytest.approx(21.5 * INCH, abs=2.0)


@pytest.mark.parametrize("name", ["splayed", "three-link", "wishbone", "truck-arms", "leaves"])
def test_roll_steer_is_the_difference_of_two_poses(name):
    linkage = made.EXACT[name]()
    e = 1e-3
    for heave, roll in zip(HEAVE, ROLL, strict=True):
        pair = poses_at(linkage, heave, [roll + e, roll - e])
        slope = (pair.yaw[0] - pair.yaw[1]) / (2 * e)
        here = poses_at(linkage, heave, roll)
        sign = 1.0 if linkage.stance.front else -1.0
        assert link_metrics.roll_steer(here, motions(here))[0] == pytest.approx(sign * slope, abs=1e-7)


def test_the_force_line_over_travel_is_square_to_the_way_of_the_contact_patch():
    linkage = made.splayed()
    e = 1e-3
    patches = poses_at(linkage, [60 + e, 60 - e]).origins()
    turn = np.radians(np.diff(poses_at(linkage, [60 - e, 60 + e]).turn))[0]
    # the patch below the axle centre goes back by radius x turn where the top goes forward
    dx = patches[0, 0] - patches[1, 0] - linkage.stance.loaded_radius * turn
    slope = metrics_of(poses_at(linkage, 60.0), FULL).force_line[0]
    assert math.tan(math.radians(slope)) == pytest.approx(-dx / (2 * e), abs=1e-6)


def test_leaves_with_the_front_eye_low_understeer_in_roll_and_high_oversteer():
    # common practice, no source: the lower front eye of a rear spring gives understeer
    low, high = (metrics_of(poses_at(made.leaves(rise=r), 0.0), FULL).roll_steer[0] for r in (-2.0, 2.0))
    assert low > 0.0 > high
    # a link of slope s under half the spring base swings its end by s per heave: both sides apart, steer s
    assert low == pytest.approx(2.0 / 52.0, rel=0.01)


def test_pinion_and_caster_turn_together():
    linkage = made.three_link()
    poses = poses_at(linkage, HEAVE)
    axes = np.array([frames.steering_axis(s, 12.0, 8.0) for s in (1, -1)])
    caster, inclination = link_metrics.casters(poses, axes)
    # frames: bench caster - pinion angle, at every height, since side-view angles add exactly
    assert caster[:, 0] == pytest.approx(12.0 - link_metrics.pinion_angle(poses), abs=0.02)
    level = poses_at(made.splayed(), HEAVE[:3])
    caster, inclination = link_metrics.casters(level, axes)
    assert caster[:, 0] == pytest.approx(12.0 + link_metrics.pinion_angle(level), abs=1e-9)
    assert caster[:, 0] == pytest.approx(caster[:, 1]) and inclination[:, 0] == pytest.approx(inclination[:, 1])


def test_at_ride_height_pinion_path_and_angles_are_those_of_the_sheet():
    linkage = made.three_link()
    poses = poses_at(linkage, 0.0)
    metrics, angles = metrics_of(poses, FULL), link_metrics.link_angles(poses)
    assert metrics.pinion_angle[0] == pytest.approx(6.0)
    assert abs(metrics.fore_aft[0]) + abs(metrics.sideways[0]) + abs(metrics.axle_steer[0]) < 1e-9
    # lower: 36 in back, 1 in inboard, 2 in up in the invented linkage's words (0,15,16) to (-36,14,18)
    lower, bar = linkage.names.index("lower-left"), linkage.names.index("track-bar")
    assert math.tan(math.radians(angles.side[0, lower])) == pytest.approx(-2 / 36)
    assert math.tan(math.radians(angles.plan[0, lower])) == pytest.approx(1 / 36)
    assert math.tan(math.radians(angles.front[0, bar])) == pytest.approx(1 / 32)
    assert math.sin(math.radians(angles.slope[0, bar])) == pytest.approx(1 / math.hypot(32, 1))


def test_a_level_track_bar_shifts_the_axle_as_the_circle_says():
    # common practice, no source; arithmetic of a circle: at 4 in of travel 28 in 0.29, 32 in 0.25, 36 in 0.22
    for length, shift in ((28, 0.29), (32, 0.25), (36, 0.22)):
        bar = Link("track-bar", Joint((0.0, length / 2 * INCH, 500.0)), Joint((0.0, -length / 2 * INCH, 500.0)))
        lowers = made.both("lower", (0, 15, 16), (-400, 15, 16), make=made.rod)
        upper = made.rod("upper", (0, 0, 28), (-400, 0, 28))
        linkage = Linkage("three-link", made.front_stance(), (*lowers, upper, bar))
        moved = metrics_of(poses_at(linkage, np.array([-4, 4]) * INCH), FULL).sideways / INCH
        assert moved == pytest.approx(length - math.sqrt(length**2 - 16), abs=2e-3)
        assert moved == pytest.approx(shift, abs=6e-3)


def test_wheels_stand_where_a_general_rotation_puts_them():
    linkage = made.three_link()
    poses = poses_at(linkage, HEAVE, ROLL)
    for i, at in enumerate(link_metrics.wheel_centres(poses)):
        turn = Rotation.from_euler("ZXY", [poses.yaw[i], ROLL[i], poses.turn[i]], degrees=True)
        assert at == pytest.approx(turn.apply(linkage.stance.wheels) + poses.origins()[i], abs=1e-9)
