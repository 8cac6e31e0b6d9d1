"""Poses over travel against a general multibody library, a general optimizer, and laws."""

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import least_squares
from scipy.spatial.transform import Rotation

from fixturegen.axle.linkage import Joint, Link, Linkage
from fixturegen.axle.linkage_equations import solve_four, system_of
from fixturegen.axle.motion import constraint_matrix, motions
from fixturegen.axle.poses import close, start_sign, wheel_travel
from fixturegen.axle.travel import poses_at, refuse_out_of_reach
from fixturegen.errors import InputFault
from tests.axle import invented_linkages as made
from tests.axle import multibody
from tests.axle.invented_linkages import INCH

TRAVEL = [(0.0, 0.0), (100.0, 0.0), (-120.0, 0.0), (40.0, 8.0), (-60.0, -10.0)]
HEAVE, ROLL = (np.array(v) for v in zip(*TRAVEL, strict=True))


def apart(one, other):
    """Angle between rotations [deg]."""
    return math.degrees(Rotation.from_matrix(one.T @ other).magnitude())


@pytest.mark.parametrize("name", ["splayed", "single-splay", "three-link", "wishbone", "truck-arms"])
def test_a_multibody_library_stands_the_axle_in_the_same_place(name):
    linkage = made.EXACT[name]()
    poses = poses_at(linkage, HEAVE, ROLL)
    origins = poses.origins() - linkage.stance.origin
    turned = poses.rotations() @ linkage.stance.rotation.T
    for i, (place, rotation, speed) in enumerate(multibody.rest_poses(linkage, TRAVEL)):
        assert speed < 1e-6, "the library's model must have come to rest"
        assert np.abs(place - origins[i]).max() < 0.01
        assert apart(rotation, turned[i]) < 0.001


def test_the_comparison_with_the_library_sees_half_a_millimetre():
    linkage = made.three_link()
    links = tuple(
        replace(k, frame=Joint((k.frame.point[0], k.frame.point[1], k.frame.point[2] + 0.5)))
        if k.name == "upper" else k for k in linkage.links
    )  # fmt: skip
    other = poses_at(replace(linkage, links=links), HEAVE[:2], ROLL[:2])
    _, rotation, _ = multibody.rest_poses(linkage, TRAVEL[:2])[1]
    assert apart(rotation, other.rotations()[1] @ linkage.stance.rotation.T) > 0.001


@pytest.mark.parametrize("name", sorted(made.EXACT))
def test_lengths_are_held_to_1e_10_mm(name):
    linkage = made.EXACT[name]()
    poses = poses_at(linkage, HEAVE, ROLL)
    lengths = np.linalg.norm(poses.points(linkage.axle_points()) - linkage.frame_points(), axis=2)
    rods = [i for i, k in enumerate(linkage.links) if k.part != "guide"]
    assert poses.reached.all()
    assert np.abs(lengths - linkage.lengths())[:, rods].max() < 1e-10 + 1e-12 * lengths.max()
    for rotation in poses.rotations():
        assert rotation @ rotation.T == pytest.approx(np.eye(3), abs=1e-12)


@pytest.mark.parametrize("name", sorted(made.EXACT))
def test_heave_and_roll_are_those_asked_for_and_wheels_stand_accordingly(name):
    linkage = made.EXACT[name]()
    left, right = np.array([50.0, -80.0, 0.0]), np.array([10.0, 60.0, -90.0])
    poses = poses_at(linkage, *wheel_travel(left, right, linkage.stance.half_track))
    moved = poses.points(linkage.stance.wheels)[..., 2] - linkage.stance.loaded_radius
    assert moved[:, 0] == pytest.approx(left, abs=1e-9)
    assert moved[:, 1] == pytest.approx(right, abs=1e-9)


@pytest.mark.parametrize("name", sorted(made.EXACT))
def test_at_ride_height_nothing_moves(name):
    poses = poses_at(made.EXACT[name](), 0.0)
    assert np.abs(poses.unknowns).max() < 1e-9
    assert poses.ids == ("ride",)


@pytest.mark.parametrize("name", ["splayed", "three-link", "wishbone"])
def test_up_and_back_again_is_where_it_started(name):
    linkage = made.EXACT[name]()
    s, sign = system_of(linkage), start_sign(system_of(linkage), linkage)
    up = poses_at(linkage, 90.0, 6.0)
    q = up.unknowns
    for k in range(14, -1, -1):
        back = close(linkage, s, q, up.heave * k / 15, np.radians(up.roll) * k / 15, sign, 30.0)
        assert back.good.all()
        q = back.unknowns
    assert np.abs(q).max() < 1e-8


@pytest.mark.parametrize("name", ["splayed", "single-splay", "wishbone", "truck-arms-mirrored", "three-link-mirrored"])
def test_the_mirror_image_moves_as_the_mirror_image(name):
    linkage = made.EXACT[name.removesuffix("-mirrored")]()
    mirror = np.array([1.0, -1.0, 1.0])
    links = tuple(
        replace(
            k,
            frame=replace(k.frame, point=tuple(mirror * k.frame.point)),
            axle=replace(k.axle, point=tuple(mirror * k.axle.point)),
        )
        for k in linkage.links
    )
    one, other = poses_at(linkage, HEAVE, ROLL), poses_at(replace(linkage, links=links), HEAVE, -ROLL)
    assert other.unknowns == pytest.approx(one.unknowns * np.array([[1.0], [-1.0], [-1.0], [1.0]]), abs=1e-8)


def test_many_poses_at_once_are_the_few_poses():
    linkage = made.three_link()
    rng = np.random.default_rng(4)
    heave, roll = rng.uniform(-120, 120, 4000), rng.uniform(-11, 11, 4000)
    many = poses_at(linkage, heave, roll)
    few = poses_at(linkage, heave[::100], roll[::100])
    assert many.reached.all()
    assert many.unknowns[:, ::100] == pytest.approx(few.unknowns, abs=1e-8)
    again = poses_at(linkage, heave, roll)
    assert again.unknowns.tobytes() == many.unknowns.tobytes()


def test_four_equations_are_solved_as_a_general_library_solves_them():
    rng = np.random.default_rng(1)
    matrix, right = rng.normal(size=(50, 4, 4)), rng.normal(size=(50, 4))
    found, det = solve_four(tuple(np.moveaxis(matrix, (2, 1), (0, 1))), right.T)
    assert pytest.approx(np.linalg.solve(matrix, right[..., None])[..., 0], rel=1e-6, abs=1e-9) == found.T
    assert det == pytest.approx(np.linalg.det(matrix), rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("name", sorted(made.EXACT))
def test_the_free_motions_are_the_null_space_of_the_constraint_matrix(name):
    poses = poses_at(made.EXACT[name](), HEAVE, ROLL)
    matrix, free = constraint_matrix(poses), motions(poses)
    for twist in (free.heave, free.roll):
        assert np.abs(np.einsum("mnk,mk->mn", matrix, twist)).max() < 1e-8
    for at in matrix:
        # by a general library: the rank is four and the two twists span what is left
        _, sizes, ways = np.linalg.svd(at * np.array([1, 1, 1, 1e-3, 1e-3, 1e-3]))
        assert sizes[3] > 1e-3 and (sizes[4:] < 1e-6).all()
        assert ways[4:].shape[0] == 2


def test_a_twist_is_the_difference_of_two_poses():
    linkage = made.three_link()
    e = 1e-3
    pairs = poses_at(linkage, [40 + e, 40 - e, 40, 40], [5, 5, 5 + e, 5 - e])
    free = motions(poses_at(linkage, 40.0, 5.0))
    origins, turns = pairs.origins(), pairs.rotations()
    for i, twist, step in ((0, free.heave[0], 2 * e), (2, free.roll[0], math.radians(2 * e))):
        assert (origins[i] - origins[i + 1]) / step == pytest.approx(twist[:3], abs=1e-5)
        turned = Rotation.from_matrix(turns[i] @ turns[i + 1].T).as_rotvec()
        assert turned / step == pytest.approx(twist[3:], abs=1e-7)


# where the way ends


def level_parallel() -> Linkage:
    """Level links of 28 in, held in the middle of the truck: the end of reach is known."""
    beside = Joint(made.inches((-made.WHEELBASE, 0, 20)))
    links = (
        *made.both("lower", (0, 15, 16), (28, 15, 16)),
        made.rear("upper", (0, 0, 26), (28, 0, 26)),
        Link("middle", beside, beside, part="guide", direction=(0.0, 1.0, 0.0)),
    )
    return Linkage("three-link", made.rear_stance(pinion=0.0), links)


def test_a_linkage_binds_where_its_links_stand_upright():
    # closed form: level parallel links of 28 in end at a heave of 28 in
    poses = poses_at(level_parallel(), np.array([27.9, 28.1, -28.1]) * INCH)
    assert poses.reached.tolist() == [True, False, False]
    assert {round(b.heave / INCH, 3) for b in poses.bindings} == {28.0, -28.0}
    assert np.isnan(poses.origins()[1]).any() and np.isnan(poses.off[1]).all()
    assert set(poses.bindings[0].links) <= {"lower-left", "lower-right", "upper"}
    with pytest.raises(InputFault, match=r"links\.bump: given heave 28\.1 in .*binds at heave 28\.?0* in"):
        refuse_out_of_reach(poses)
    refuse_out_of_reach(poses_at(level_parallel(), 27.9 * INCH))


def test_the_margin_falls_to_nothing_where_the_linkage_binds():
    margin = poses_at(level_parallel(), np.array([0.0, 14.0, 27.0, 27.99]) * INCH).margin
    assert margin[0] == pytest.approx(1.0)
    assert (np.diff(margin) < 0).all() and 0.0 < margin[-1] < 0.05


def test_no_pose_jumps_to_the_mirror_solution():
    # links may stand with the axle ahead of them as well: lengths fit, but the determinant has changed its sign
    linkage = level_parallel()
    s, sign = system_of(linkage), start_sign(system_of(linkage), linkage)
    zero = np.zeros(1)
    ahead = np.array([[2 * 28.0 * INCH], [0.0], [0.0], [0.0]])
    mirror = close(linkage, s, ahead + 1.0, zero, zero, sign)
    assert np.abs(mirror.off).max() < 1e-10, "it is a solution"
    assert not mirror.good.any(), "and is not taken"
    x = poses_at(linkage, np.linspace(-27, 27, 3001) * INCH).unknowns[0]
    assert (x > -1e-9).all() and x.max() < 28 * INCH


# more lengths than needed


def test_arms_without_bush_rates_bind_in_roll_but_not_in_heave():
    linkage = made.radius_arms(rate=None)
    with pytest.raises(InputFault, match=r"binds in roll.*rate"):
        poses_at(linkage, [0.0, 10.0], [0.0, 4.0])
    poses_at(made.radius_arms(rate=None), 0.0)


def test_arms_that_meet_in_one_pivot_do_not_bind():
    poses = poses_at(made.truck_arms(), HEAVE, ROLL)
    assert poses.reached.all() and np.abs(poses.off).max() < 1e-8


@pytest.mark.parametrize("stiff", [(), ("track-bar",), ("lower-left", "track-bar")])
@pytest.mark.parametrize("maker", [made.radius_arms, made.five_link])
def test_what_bushes_share_is_the_least_work_a_general_optimizer_finds(maker, stiff):
    linkage = maker(rate=3000.0)
    links = tuple(
        replace(k, axle=replace(k.axle, rate=None if k.name in stiff else 2000.0 + 700.0 * i))
        for i, k in enumerate(linkage.links)
    )
    linkage = replace(linkage, links=links)
    poses = poses_at(linkage, HEAVE, ROLL)
    rates = linkage.rates()
    weights = np.where(np.isinf(rates), 1e10, rates)  # as good as stiff, for the optimizer
    points, frame, lengths = linkage.axle_points(), linkage.frame_points(), linkage.lengths()
    stance = linkage.stance

    def work(u, heave, roll):
        turn = Rotation.from_euler("ZXY", [u[2], math.radians(roll), u[3]]).as_matrix() @ stance.rotation
        there = points @ turn.T + stance.origin + [1000 * u[0], 1000 * u[1], heave]
        return np.sqrt(weights / 1e3) * (np.linalg.norm(there - frame, axis=1) - lengths)

    for i, (heave, roll) in enumerate(TRAVEL):
        best = least_squares(work, np.zeros(4), args=(heave, roll), xtol=1e-15, ftol=1e-15, gtol=1e-15)
        found = poses.unknowns[:, i] / 1000.0
        assert found == pytest.approx(best.x, abs=3e-6)
        kept = [k for k, link in enumerate(links) if link.name in stiff]
        assert np.abs(poses.off[i, kept]).max(initial=0.0) < 1e-9
    assert np.abs(poses.off[-1]).max() > 0.05, "in roll the bushes give"


def test_bushes_that_are_all_twice_as_stiff_give_the_same_way():
    soft, hard = (poses_at(made.five_link(rate=r), HEAVE, ROLL) for r in (2000.0, 4000.0))
    assert soft.reached.all() and hard.unknowns == pytest.approx(soft.unknowns, abs=1e-9)
    assert np.abs(soft.off).max() > 1e-3
