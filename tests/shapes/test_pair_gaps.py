"""The least gap over poses: closed forms, the exact kernel, another library, and the same without sparing poses."""

import math

import mujoco
import numpy as np
import pytest
import trimesh
from scipy.spatial import cKDTree

from fixturegen.shapes import meshes, solids
from fixturegen.shapes.meshes import State
from fixturegen.shapes.pair_gaps import box_bounds, least_gap

FINE = 0.02
BALL = meshes.body_of(solids.sphere((0.0, 0.0, 0.0), 60.0), "ball", FINE)
BAR = meshes.body_of(solids.cylinder((0.0, 0.0, -100.0), (0.0, 0.0, 100.0), 40.0), "bar", FINE)
CUBE = meshes.body_of(solids.box(-20, -20, -20, 20, 20, 20), "cube", FINE)
SLAB = meshes.body_of(solids.box(-500, -500, -10, 500, 500, 0), "slab", FINE)
HOLLOW = meshes.body_of(
    solids.cut(solids.box(-90, -90, -90, 90, 90, 90), solids.box(-80, -80, -80, 80, 80, 80)), "hollow box", FINE
)


def turns(angles_rad, axis=(0.0, 0.0, 1.0)):
    """Rotation matrices about one axis (Rodrigues)."""
    k = np.cross(np.eye(3), np.array(axis) / np.linalg.norm(axis))
    k = -k
    return np.array([np.eye(3) + math.sin(a) * k + (1.0 - math.cos(a)) * k @ k for a in angles_rad])


def shifts(n, *, seed, far):
    rng = np.random.default_rng(seed)
    return rng.uniform(-far, far, (n, 3))


def tour(n, seed, far=130.0):
    """Poses along a bent way, so that neighbours stand near one another, as over travel."""
    rng = np.random.default_rng(seed)
    axis = rng.normal(size=3)
    start, end = rng.uniform(-far, far, (2, 3))
    share = np.linspace(0.0, 1.0, n)[:, None]
    side = rng.normal(size=3)
    return turns(np.linspace(0.0, 1.2, n), axis), start + share * (end - start) + 40.0 * share * (1.0 - share) * side


def test_spheres_and_bars_and_boxes_stand_apart_as_geometry_has_it():
    # closed forms; the meshes lie inside round bodies, so a distance is too large by no more than both deflections
    still = np.eye(3)[None].repeat(5, axis=0)
    away = np.array([[90.0, 0, 0], [70.0, 10, 0], [75.0, 0, 30], [200.0, 0, 0], [71.0, 0, 0]])
    exact = np.linalg.norm(away, axis=1) - 60.0
    least = least_gap(BALL, BALL, still, away)
    assert least.found.pose == int(np.argmin(exact))
    assert 0.0 <= least.found.measured - exact.min() <= 2 * FINE + 1e-9
    # a bar lying over a plane, its line 55 high and turned about the plane's normal: always 55 - 20
    lying = turns([math.pi / 2], (1.0, 0.0, 0.0))
    over = least_gap(SLAB, BAR, turns(np.linspace(0, 3, 9)) @ lying, np.tile([3.0, 4.0, 55.0], (9, 1)))
    assert 35.0 - 1e-9 <= over.found.measured <= 35.0 + FINE
    # boxes corner to corner along the diagonal, and face to face
    box = least_gap(CUBE, CUBE, still[:2], np.array([[50.0, 50.0, 50.0], [0.0, 52.0, 0.0]]))
    assert box.found.pose == 0 or box.found.measured == pytest.approx(12.0, abs=1e-6)
    assert box.found.measured == pytest.approx(min(10.0 * math.sqrt(3.0), 12.0), abs=1e-6)


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("pair", [(BALL, BAR), (BAR, CUBE), (HOLLOW, BAR)], ids=["ball-bar", "bar-cube", "hollow-bar"])
def test_bounds_spare_poses_and_never_change_the_answer(pair, seed):
    rotations, origins = tour(40, seed)
    spared = least_gap(*pair, rotations, origins)
    every = least_gap(*pair, rotations, origins, prune=False)
    assert every.looked == 40
    assert spared.found.state is every.found.state
    assert spared.touching == every.touching
    assert spared.found.measured == pytest.approx(every.found.measured, abs=2e-6)
    if every.touching or every.found.measured > 1e-3:
        assert spared.found.pose == every.found.pose


def test_few_poses_of_a_long_way_are_measured():
    rotations, origins = tour(400, 3)
    origins = origins + np.array([0.0, 0.0, 190.0])
    least = least_gap(BALL, BAR, rotations, origins)
    assert least.found.state is State.APART and least.looked < 80


def test_two_hundred_poses_agree_with_the_exact_kernel_within_both_deflections():
    coarse = 0.3
    a = solids.cut(solids.box(-60, -50, -20, 60, 50, 20), solids.cylinder((0, 0, -21), (0, 0, 21), 70))
    b = solids.cylinder((0, 0, 0), (0, 0, 90), 30)
    one, two = meshes.body_of(a, "plate", coarse), meshes.body_of(b, "stub", coarse)
    rotations = np.concatenate([turns(np.linspace(0, 3, 70), axis) for axis in ((1, 0, 0), (1, 2, 0), (0.3, 1, 1))])
    origins = shifts(210, seed=5, far=150.0)
    errors = []
    for turn, at in zip(rotations, origins, strict=True):
        least = least_gap(one, two, turn[None], at[None])
        moved = solids.transformed(b, tuple(tuple(float(v) for v in r) for r in turn), tuple(float(v) for v in at))
        exact, _, _ = meshes.exact_distance(a, moved)
        if least.found.state is State.APART:
            errors.append(least.found.measured - exact)
        else:
            # meshes of round bores lie within the room of the bore: they may cross by what they are coarse
            assert exact <= 2 * coarse
    assert len(errors) >= 150
    # too large by both deflections at most; too small by that of a hollow surface, whose facets bridge it
    assert max(errors) <= 2 * coarse and min(errors) >= -2 * coarse
    assert max(errors) > 0.02  # a bound that binds


def test_a_second_library_finds_the_same_distance():
    # trimesh: nearest point of a surface to each of many points; scipy: nearest of two dense clouds of points
    rotations, origins = tour(12, 8, far=160.0)
    still = trimesh.Trimesh(CUBE.mesh.vertices, CUBE.mesh.faces, process=False)
    cloud = trimesh.Trimesh(BAR.mesh.vertices, BAR.mesh.faces, process=False)
    points = np.concatenate([trimesh.sample.sample_surface_even(cloud, 6000, seed=1)[0], cloud.vertices])
    others = np.concatenate([trimesh.sample.sample_surface_even(still, 6000, seed=2)[0], still.vertices])
    tree = cKDTree(others)
    compared = 0
    for turn, at in zip(rotations, origins, strict=True):
        found = least_gap(CUBE, BAR, turn[None], at[None]).found
        if found.state is not State.APART:
            continue
        moved = points @ turn.T + at
        near = np.argsort(tree.query(moved)[0])[:40]
        _, distances, _ = trimesh.proximity.closest_point_naive(still, moved[near])
        # points of one surface to the other surface: never nearer than the surfaces are, and near to it
        assert found.measured - 1e-6 <= distances.min() <= found.measured + 3.0
        compared += 1
    assert compared >= 6


SHAPES = {
    "ball": (BALL, 'type="sphere" size="30"'),
    "bar": (BAR, 'type="cylinder" size="20 100"'),
    "cube": (CUBE, 'type="box" size="20 20 20"'),
}


@pytest.mark.parametrize(("one", "two"), [("ball", "bar"), ("bar", "cube"), ("bar", "bar"), ("cube", "cube")])
def test_a_library_that_knows_no_triangles_finds_the_same_distance_at_two_hundred_poses(one, two):
    # MuJoCo, mj_geomDistance: true round and flat bodies by support functions, another method altogether
    (a, first), (b, second) = SHAPES[one], SHAPES[two]
    model = mujoco.MjModel.from_xml_string(
        f'<mujoco><worldbody><geom name="a" {first}/><body><freejoint/><geom name="b" {second}/></body>'
        "</worldbody></mujoco>"
    )
    data = mujoco.MjData(model)
    rng = np.random.default_rng(11)
    errors = []
    for _ in range(200):
        quaternion = rng.normal(size=4)
        quaternion /= np.linalg.norm(quaternion)
        data.qpos[:] = [*rng.uniform(-220.0, 220.0, 3), *quaternion]
        mujoco.mj_kinematics(model, data)
        exact = mujoco.mj_geomDistance(model, data, 0, 1, 1e4, np.zeros(6))
        turn, at = data.geom_xmat[1].reshape(3, 3), data.geom_xpos[1]
        found = least_gap(a, b, turn[None].copy(), at[None].copy()).found
        if exact < 1e-3:
            assert found.measured <= 2 * FINE + 1e-3 or found.state is not State.APART
            continue
        assert found.state is State.APART
        errors.append(found.measured - exact)
    assert len(errors) >= 100
    # 1e-5 mm: what the other library's own search may leave
    assert min(errors) >= -1e-5 and max(errors) <= 2 * FINE + 1e-5


def test_what_lies_within_another_is_told_from_what_stands_beside_it():
    still = np.eye(3)[None].repeat(3, axis=0)
    # in the room of a hollow box it is apart, in its wall it overlaps, outside it is apart
    apart = least_gap(HOLLOW, CUBE, still, np.array([[0, 0, 0], [5.0, 0, 0], [140.0, 0, 0]], float))
    assert apart.found.state is State.APART and apart.found.measured == pytest.approx(30.0, abs=1e-6)
    assert least_gap(HOLLOW, CUBE, still[:1], np.array([[65.0, 0, 0]])).found.state is State.OVERLAP
    # wholly in the steel of a solid its surface is far from the other's, and still it is no gap
    block = meshes.body_of(solids.box(-90, -90, -90, 90, 90, 90), "block", FINE)
    within = least_gap(block, CUBE, still, np.array([[200.0, 0, 0], [150.0, 0, 0], [0.0, 0, 0]]))
    assert within.found.state is State.INSIDE and within.found.pose == 2 and within.touching == 1


def test_of_poses_with_contact_the_first_is_told_and_all_are_counted():
    still = np.eye(3)[None].repeat(6, axis=0)
    least = least_gap(CUBE, CUBE, still, np.array([[x, 0.0, 0.0] for x in (80, 60, 39, 30, 45, 20)], float))
    assert (least.found.pose, least.touching, least.found.state) == (2, 3, State.OVERLAP)


def test_boxes_never_say_more_than_there_is():
    rotations, origins = tour(60, 4)
    bound = box_bounds(CUBE.mesh.bounds, BAR.mesh.bounds, rotations, origins)
    for k in range(0, 60, 4):
        found = least_gap(CUBE, BAR, rotations[k : k + 1], origins[k : k + 1]).found
        assert bound[k] <= found.measured + 1e-9


def test_a_pair_out_of_reach_is_not_measured():
    still = np.eye(3)[None]
    assert least_gap(CUBE, CUBE, still, np.array([[400.0, 0, 0]]), reach=100.0).found is None
    assert least_gap(CUBE, CUBE, still, np.array([[139.0, 0, 0]]), reach=100.0).found is not None
