"""Meshes, distances, clearances and rays against closed forms and against the exact kernel."""

import math
from itertools import pairwise

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st
from OCP.gp import gp_Dir, gp_Lin, gp_Pnt
from OCP.IntCurvesFace import IntCurvesFace_ShapeIntersector

from fixturegen.errors import GeometryFault
from fixturegen.shapes import meshes, rays, solids
from fixturegen.shapes.meshes import State

SQUARE = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


def turn_z(angle_rad):
    c, s = math.cos(angle_rad), math.sin(angle_rad)
    return ((c, -s, 0.0), (s, c, 0.0), (0.0, 0.0, 1.0))


BIG = meshes.body_of(solids.box(-100, -100, -100, 100, 100, 100), "big")
SMALL = meshes.body_of(solids.box(-5, -5, -5, 5, 5, 5), "small")


@pytest.mark.parametrize("deflection", [0.5, 0.1, 0.02])
def test_no_facet_sags_more_than_the_deflection_asked_for(deflection):
    # the case where a relative deflection of 0.1 sags by more than a millimetre
    bar = solids.cylinder((0, 0, 0), (0, 0, 300), 300)
    # a coarse mesh made before must not be taken over
    bar.mesh(5.0, 1.5)
    mesh = meshes.mesh_of(bar, deflection)
    middles = (mesh.triangles + np.roll(mesh.triangles, 1, axis=1)) / 2
    round_ = (middles[..., 2] > 1e-6) & (middles[..., 2] < 300 - 1e-6)
    sag = 150 - np.hypot(middles[..., 0], middles[..., 1])[round_]
    assert sag.min() >= -1e-6 and sag.max() <= deflection
    # and the facets are no finer than about what was asked: it is a bound that binds
    assert mesh_sag_without_bound(bar) > 0.5


def mesh_sag_without_bound(bar):
    points, _ = bar.copy().tessellate(0.1, 1.5)
    angles = sorted({round(math.atan2(p.y, p.x), 6) for p in points if abs(p.z) < 1e-6})
    widest = max(b - a for a, b in pairwise(angles))
    return 150 * (1 - math.cos(widest / 2))


def test_a_mesh_is_closed_and_turned_outward():
    solid = solids.cut(solids.box(0, 0, 0, 40, 30, 20), solids.cylinder((20, 15, -1), (20, 15, 21), 12))
    mesh = meshes.mesh_of(solid)
    other = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    assert other.is_watertight and other.is_winding_consistent
    assert mesh.volume == pytest.approx(other.volume, rel=1e-9)
    assert mesh.volume == pytest.approx(solids.volume(solid), rel=0.01)
    # a placed solid is meshed where it stands
    there = meshes.mesh_of(solids.moved(solid, 100, 0, 0))
    assert there.bounds[:, 0] == pytest.approx((100, 140))


@settings(max_examples=25, deadline=None)
@given(st.floats(0, 2 * math.pi), st.floats(-60, 60), st.floats(-60, 60), st.floats(120, 200), st.floats(0, 6))
def test_mesh_distance_and_its_points_agree_with_the_exact_kernel(a, x, y, z, b):
    block, bar = solids.box(-30, -20, -10, 30, 20, 10), solids.cylinder((0, 0, -20), (0, 10, 20), 16)
    pose, other = (turn_z(a), (x, y, z)), (turn_z(b), (-x, 5.0, 0.0))
    first, second = meshes.body_of(block).at(pose), meshes.body_of(bar).at(other)
    measured, p, q = meshes.mesh_distance(first, second)
    exact, p_exact, q_exact = meshes.exact_distance(solids.transformed(block, *pose), solids.transformed(bar, *other))
    assert math.dist(p, q) == pytest.approx(measured, abs=1e-6)
    assert math.dist(p_exact, q_exact) == pytest.approx(exact, abs=1e-6)
    # facets lie inside convex bodies, so the mesh is never nearer than the truth
    assert exact - 1e-6 <= measured <= exact + 0.2
    # the points are told in the common frame
    assert first.own(np.array([p]))[0] == pytest.approx(
        np.clip(first.own(np.array([p]))[0], [-30, -20, -10], [30, 20, 10]), abs=1e-6
    )
    gap = meshes.clearance(first, second)
    assert gap.state is State.APART
    assert gap.gap <= exact


def test_a_body_wholly_inside_another_is_told_from_one_that_stands_apart():
    measured, _, _ = meshes.mesh_distance(BIG, SMALL)
    assert measured == pytest.approx(95)  # the trap: a good distance, and no clearance at all
    for pair in ((BIG, SMALL), (SMALL, BIG)):
        found = meshes.clearance(*pair)
        assert found.state is State.INSIDE and found.gap == 0.0
    apart = meshes.clearance(BIG, SMALL.at((SQUARE, (110.0, 0.0, 0.0))))
    assert apart.state is State.APART
    assert apart.measured == pytest.approx(5) and apart.gap == pytest.approx(4.8)
    crossing = meshes.clearance(BIG, SMALL.at((SQUARE, (100.0, 0.0, 0.0))))
    assert crossing.state is State.OVERLAP and crossing.gap == 0.0
    assert meshes.meshes_collide(BIG, SMALL.at((SQUARE, (100.0, 0.0, 0.0))))
    assert not meshes.meshes_collide(BIG, SMALL)


def test_a_body_in_the_bore_of_another_is_apart_and_one_piece_of_two_inside_is_not():
    pipe = meshes.body_of(solids.tube((0, 0, -50), (0, 0, 50), 80, 60), "pipe")
    found = meshes.clearance(pipe, SMALL)
    assert found.state is State.APART
    assert found.measured == pytest.approx(30 - math.hypot(5, 5), abs=0.11)
    pieces = solids.compound([solids.box(300, 0, 0, 310, 10, 10), solids.box(-2, -2, -2, 2, 2, 2)])
    assert meshes.clearance(BIG, meshes.body_of(pieces)).state is State.INSIDE


def test_a_gap_smaller_than_both_deflections_is_no_gap():
    near = meshes.clearance(BIG, SMALL.at((SQUARE, (105.15, 0.0, 0.0))))
    assert near.state is State.APART and near.gap == 0.0
    assert meshes.clearance(BIG, SMALL.at((SQUARE, (105.25, 0.0, 0.0)))).gap == pytest.approx(0.05)


@settings(max_examples=40, deadline=None)
@given(st.tuples(*(st.floats(-70, 70),) * 3))
def test_a_point_is_inside_by_winding_when_it_is_inside_by_formula(point):
    ring = meshes.body_of(solids.revolve_xz([(20, -10), (50, -10), (50, 10), (20, 10)]))
    reach, height = math.hypot(*point[:2]), abs(point[2])
    if min(abs(reach - 20), abs(reach - 50), abs(height - 10)) < 0.2:
        return
    assert meshes.contains(ring, point) == (20 < reach < 50 and height < 10)


def test_interference_is_the_volume_shared_and_touching_is_none():
    unit = solids.box(0, 0, 0, 1, 1, 1)
    assert meshes.interferes(unit, solids.box(0.5, 0, 0, 4, 1, 1)) == pytest.approx(0.5)
    assert meshes.interferes(unit, solids.box(1, 0, 0, 4, 1, 1)) == pytest.approx(0, abs=1e-9)
    assert meshes.interferes(unit, solids.box(3, 0, 0, 4, 1, 1)) == 0.0
    assert meshes.interferes(solids.box(-9, -9, -9, 9, 9, 9), unit) == pytest.approx(1)
    assert meshes.boxes_apart(unit, solids.box(1.5, 0, 0, 2, 1, 1))
    assert not meshes.boxes_apart(unit, solids.box(1.5, 0, 0, 2, 1, 1), margin=0.6)


def test_a_sweep_tells_the_tightest_pose_and_stops_at_contact():
    path = [(SQUARE, (200.0 - 10 * k, 0.0, 0.0)) for k in range(8)]
    free, blocked = meshes.swept_clearance(
        SMALL, path, [BIG, meshes.body_of(solids.box(150, -5, -5, 155, 5, 5), "post")]
    )
    assert free.state is State.APART and free.pose == 7
    assert free.measured == pytest.approx(25) and free.names == ("small", "big")
    assert blocked.state is State.OVERLAP and blocked.pose == 4
    with pytest.raises(GeometryFault, match="no poses"):
        meshes.swept_clearance(SMALL, [], [BIG])


def test_rays_meet_a_ball_where_the_formula_says():
    ball = meshes.mesh_of(solids.sphere((0, 0, 0), 100), 0.01)
    offsets = np.array([0.0, 10.0, 25.0, 40.0, 49.0, 51.0])
    origins = np.stack([offsets, offsets * 0, offsets * 0 - 200], axis=1)
    lengths = rays.ray_lengths(ball, origins, np.array([[0.0, 0.0, 3.0]]))
    want = 200 - np.sqrt(np.maximum(0, 2500 - offsets**2))
    assert lengths[:4] == pytest.approx(want[:4], abs=0.05)
    assert math.isinf(lengths[-1])
    hit = rays.rays_hit(ball, origins, np.array([[0.0, 0.0, 1.0]]), 160)
    assert hit.tolist() == [True, True, True, False, False, False]
    # backward, and from inside
    assert not rays.rays_hit(ball, origins, np.array([[0.0, 0.0, -1.0]])).any()
    assert rays.ray_lengths(ball, np.zeros((1, 3)), np.array([[1.0, 2, 3]]))[0] == pytest.approx(50, abs=0.05)


def test_a_ray_through_an_edge_or_corner_does_not_slip_between_facets():
    targets = np.array([[100.0, 100.0, 0], [0, 0, 100], [100, 100, 100], [0, 0, 0]])
    origins = targets + np.array([[0.0, 0.0, 0.0]]) * 0 + np.array([300.0, 310.0, 320.0])
    assert rays.rays_hit(BIG.mesh, origins, targets - origins).all()


def test_many_rays_agree_with_the_exact_kernel():
    solid = solids.cut(solids.box(0, 0, 0, 40, 30, 20), solids.box(10, 10, -1, 30, 20, 21))
    mesh = meshes.mesh_of(solid)
    rng = np.random.default_rng(5)
    origins = rng.uniform(-80, 120, (200, 3))
    ways = rng.normal(size=(200, 3))
    kernel = IntCurvesFace_ShapeIntersector()
    kernel.Load(solid.wrapped, 1e-9)
    ours = rays.ray_lengths(mesh, origins, ways)
    theirs = []
    for origin, way in zip(origins, ways, strict=True):
        line = gp_Lin(gp_Pnt(*map(float, origin)), gp_Dir(*map(float, way)))
        kernel.PerformNearest(line, 0.0, 1e6)
        theirs.append(kernel.WParameter(1) if kernel.NbPnt() else math.inf)
    assert ours == pytest.approx(np.array(theirs), abs=1e-6)
    assert 5 < np.isfinite(ours).sum() < 190


def test_the_box_of_a_turned_body_holds_all_of_it():
    pose = (turn_z(0.7), (10.0, 20.0, 30.0))
    there = SMALL.at(pose)
    corners = there.world(SMALL.mesh.vertices)
    assert there.own(corners) == pytest.approx(SMALL.mesh.vertices)
    assert there.box == pytest.approx(np.stack([corners.min(axis=0), corners.max(axis=0)]))
