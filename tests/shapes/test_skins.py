"""The exact distance asked piece by piece: closed forms, the kernel asked for the whole, boxes that hold their points.

Closed forms are school geometry: distance of centres less radii, of parallel axes less radii, of a point from a plane.
"""

import math

import cadquery as cq
import numpy as np
import pytest
from OCP.BRepAdaptor import BRepAdaptor_Curve, BRepAdaptor_Surface
from OCP.TopoDS import TopoDS

from fixturegen.shapes import meshes, skins, solids
from fixturegen.shapes.skins import CORNER, EDGE, Skin, nearest

UPRIGHT = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
CUBE = solids.box(-20, -20, -20, 20, 20, 20)
BALL = solids.sphere((0.0, 0.0, 0.0), 60.0)
BAR = solids.cylinder((-100.0, 0.0, 0.0), (100.0, 0.0, 0.0), 40.0)
FUNNEL = solids.cone((0.0, 0.0, 0.0), (0.0, 0.0, 120.0), 30.0, 90.0)
PLATE = solids.cut(
    solids.box(-150, -80, 0, 150, 80, 12),
    solids.cylinder((40.0, 10.0, -5.0), (40.0, 10.0, 20.0), 60.0),
    solids.cylinder((-90.0, -20.0, -5.0), (-90.0, -20.0, 20.0), 25.0),
)
SADDLE = solids.cut(solids.box(-70, -40, -90, 70, 40, 0), solids.cylinder((0, -50, 10), (0, 50, 10), 90.0))
RING = cq.Solid.makeTorus(200.0, 45.0)
SHAPES = {"cube": CUBE, "ball": BALL, "bar": BAR, "funnel": FUNNEL, "plate": PLATE, "saddle": SADDLE, "ring": RING}


def turned(rng):
    """A rotation of any kind, as rows."""
    q = rng.normal(size=4)
    w, x, y, z = q / np.linalg.norm(q)
    return (
        (1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)),
        (2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)),
        (2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)),
    )


def closed(name, turn, at):
    """Closed form of a body placed beside the cube's top plane, the ball, or the bar."""
    at = np.array(at)
    if name == "ball-ball":
        return float(np.linalg.norm(at)) - 60.0
    if name == "ball-bar":  # a point from a segment
        along = np.clip(at[0], -100.0, 100.0)
        return float(np.linalg.norm(at - [along, 0.0, 0.0])) - 20.0 - 30.0
    # a cube's corners over a wide plate: lowest corner
    corners = np.array([[x, y, z] for x in (-20, 20) for y in (-20, 20) for z in (-20, 20)])
    return float((corners @ np.array(turn).T + at)[:, 2].min())


@pytest.mark.parametrize("seed", range(6))
def test_balls_bars_and_planes_stand_as_far_apart_as_geometry_has_it(seed):
    rng = np.random.default_rng(seed)
    turn = turned(rng)
    way = rng.normal(size=3)
    at = way / np.linalg.norm(way) * rng.uniform(70.0, 300.0)
    found = nearest(Skin(BALL), Skin(BALL), turn, tuple(at), 400.0)
    assert found.distance == pytest.approx(closed("ball-ball", turn, at), abs=1e-6)
    beside = (rng.uniform(-95.0, 95.0), *(np.array([math.cos(seed), math.sin(seed)]) * rng.uniform(60.0, 300.0)))
    found = nearest(Skin(BAR), Skin(BALL), turn, beside, 400.0)
    assert found.distance == pytest.approx(closed("ball-bar", turn, beside), abs=1e-6)
    # the points stand that far apart, one on each
    assert math.dist(found.point, found.other) == pytest.approx(found.distance, abs=1e-6)
    assert math.hypot(found.point[1], found.point[2]) == pytest.approx(20.0, abs=1e-6)
    assert math.dist(found.other, beside) == pytest.approx(30.0, abs=1e-6)
    floor = solids.box(-500, -500, -30, 500, 500, 0)
    over = (10.0, -20.0, rng.uniform(40.0, 90.0))
    found = nearest(Skin(floor), Skin(CUBE), turn, over, 200.0)
    assert found.distance == pytest.approx(closed("cube", turn, over), abs=1e-6)


@pytest.mark.parametrize("limit", [0.0, 1.0, 1e4])
def test_the_answer_does_not_hang_on_where_the_search_begins(limit):
    # closed form: 200 between centres, radii of 30 each
    found = nearest(Skin(BALL), Skin(BALL), UPRIGHT, (200.0, 0.0, 0.0), limit)
    assert found.distance == pytest.approx(140.0, abs=1e-7)
    assert (found.asked == 0) == (limit < 140.0)


@pytest.mark.parametrize(("one", "two"), [("plate", "saddle"), ("saddle", "bar"), ("funnel", "plate"), ("bar", "bar")])
def test_it_is_what_the_kernel_says_of_the_whole_and_the_mesh_is_never_off_by_more_than_is_stated(one, two):
    rng = np.random.default_rng(7)
    first, second = SHAPES[one], SHAPES[two]
    a, b = Skin(first), Skin(second)
    mesh = meshes.body_of(first, one), meshes.body_of(second, two)
    compared = 0
    for _ in range(8):
        turn, at = turned(rng), tuple(rng.uniform(-1.0, 1.0, 3) * [250.0, 200.0, 200.0])
        coarse = meshes.clearance(mesh[0], mesh[1].at((turn, at)))
        if coarse.state is not meshes.State.APART or coarse.measured < 1.0:
            continue
        bound = 2.0 * meshes.DEFLECTION
        found = nearest(a, b, turn, at, coarse.measured + bound)
        whole, _, _ = meshes.exact_distance(first, solids.transformed(second, turn, at))
        assert found.distance == pytest.approx(whole, abs=1e-6)
        assert abs(found.distance - coarse.measured) <= bound
        compared += 1
    assert compared >= 4


def test_only_what_lies_near_is_asked_for():
    # a plate with a thousand edges and corners: the kernel is asked for those beside the ball alone
    comb = solids.cut(PLATE, *(solids.cylinder((x, 60.0, -5), (x, 60.0, 20), 6.0) for x in range(-140, 150, 10)))
    found = nearest(Skin(comb), Skin(solids.sphere((0.0, 0.0, 0.0), 10.0)), UPRIGHT, (-145.0, -75.0, 30.0), 13.2)
    assert found.distance == pytest.approx(30.0 - 12.0 - 5.0, abs=1e-6)
    assert 1 <= found.asked <= 20


def points_of(skin, key, rng):
    """Points of a face within its range, or of an edge."""
    if key[0] == EDGE:
        curve = BRepAdaptor_Curve(TopoDS.Edge(skin.piece(key)))
        for u in rng.uniform(curve.FirstParameter(), curve.LastParameter(), 40):
            yield curve.Value(float(u))
        return
    face = BRepAdaptor_Surface(TopoDS.Face(skin.piece(key)), True)
    low, high = (face.FirstUParameter(), face.FirstVParameter()), (face.LastUParameter(), face.LastVParameter())
    for u, v in rng.uniform(low, high, (60, 2)):
        yield face.Value(float(u), float(v))


@pytest.mark.parametrize("name", SHAPES)
def test_cells_hold_every_point_of_what_they_stand_for(name, monkeypatch):
    monkeypatch.setattr(skins, "CELL", 15.0)
    skin, rng = Skin(SHAPES[name]), np.random.default_rng(3)
    cut_up = 0
    for key in skin.pieces(np.arange(len(skin.boxes))):
        if key[0] == CORNER:
            continue
        cells = skin.cells(key)
        cut_up += len(cells) > 1
        for p in points_of(skin, key, rng):
            point = np.array([p.X(), p.Y(), p.Z()])
            for boxes in (cells, *([skin.fine_cells(key)] if key[0] == EDGE else [])):
                assert ((point >= boxes[:, :3]) & (point <= boxes[:, 3:])).all(axis=1).any()
    assert cut_up


def test_a_ball_beside_a_ring_is_as_far_as_geometry_has_it():
    # closed form: from the middle of the ball to the circle that runs within the ring, less both radii
    at = (150.0, 90.0, 160.0)
    around = math.hypot(math.hypot(at[0], at[1]) - 200.0, at[2])
    found = nearest(Skin(RING), Skin(BALL), UPRIGHT, at, 200.0)
    assert found.distance == pytest.approx(around - 45.0 - 30.0, abs=1e-6)


def test_coarse_cells_give_the_same(monkeypatch):
    turn, at = turned(np.random.default_rng(1)), (30.0, -60.0, 240.0)
    fine = nearest(Skin(PLATE), Skin(SADDLE), turn, at, 400.0)
    monkeypatch.setattr(skins, "CELL", 1e4)
    coarse = nearest(Skin(PLATE), Skin(SADDLE), turn, at, 400.0)
    assert fine.distance == pytest.approx(coarse.distance, abs=1e-9) and fine.asked <= coarse.asked


@pytest.mark.parametrize("first", [(300.0, 0.0, 6.0), (-300.0, 0.0, 6.0), (0.0, -230.0, 6.0), (0.0, 230.0, 6.0)])
def test_what_was_asked_before_does_not_choose_among_points_that_are_equally_near(first):
    # a cube square over a plate: any point under it will do, but it must be the same one with a cache and without
    fresh = nearest(Skin(PLATE), Skin(CUBE), UPRIGHT, (0.0, 0.0, 60.0), 60.0)
    plate, cube = Skin(PLATE), Skin(CUBE)
    # seen from one side only: the far face and its corners are not among what is asked for
    assert nearest(plate, cube, UPRIGHT, first, 130.0).distance == pytest.approx(130.0, abs=1e-9)
    assert nearest(plate, cube, UPRIGHT, (0.0, 0.0, 60.0), 60.0) == fresh
    assert fresh.distance == pytest.approx(60.0 - 20.0 - 12.0, abs=1e-9)
