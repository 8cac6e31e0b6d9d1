"""Bent solids against closed forms, against the folding map, and there and back.

The map (numbers) and the solid (kernel surfaces) are made independently of each other.
"""

import math

import numpy as np
import pytest

from fixturegen.errors import GeometryFault
from fixturegen.plate import Bend, Hole, Part, Profile, Purpose
from fixturegen.plate.bend_marks import bend_part
from fixturegen.plate.bend_rules import BendRule
from fixturegen.plate.bending import SIDES, Fold, bent_strip, tray
from fixturegen.plate.folds import folded
from fixturegen.plate.profile import rectangle, signed_area
from fixturegen.shapes.folding import measured
from fixturegen.shapes.meshes import mesh_of
from fixturegen.shapes.solids import bounding_box, solid_of, volume

T = 6.0
RULE = BendRule("din")
SQUARE, DOWN = Fold(90.0, 8.0), Fold(90.0, 8.0, up=False)

FLATS = {
    "angle": bent_strip((75.0, 60.0), [SQUARE], 50.0, T, RULE),
    "channel": bent_strip((60.0, 100.0, 50.0), [SQUARE, SQUARE], 80.0, T, RULE),
    "zed": bent_strip((60.0, 100.0, 50.0), [SQUARE, DOWN], 80.0, T, RULE),
    "hat": bent_strip((40.0, 60.0, 90.0, 60.0, 40.0), [DOWN, SQUARE, SQUARE, DOWN], 70.0, T, RULE),
    "oblique": bent_strip((60.0, 80.0, 70.0), [Fold(35.0, 9.0), Fold(120.0, 7.0)], 80.0, T, RULE),
    "tray": tray((200.0, 140.0), dict.fromkeys(SIDES, (45.0, SQUARE)), T, RULE),
    "corner": tray((200.0, 140.0), {"right": (50.0, SQUARE), "back": (40.0, DOWN)}, T, RULE),
    "tabs": tray((200.0, 140.0), {"right": (50.0, SQUARE), "back": (40.0, DOWN)}, T, RULE, inset=25.0),
    "tabs v": tray((200.0, 140.0), {"left": (50.0, SQUARE), "front": (40.0, DOWN)}, T, RULE, inset=25.0, kind="v"),
}


def part(name):
    return bend_part("piece", "piece", "toy", FLATS[name])


@pytest.mark.parametrize("name", FLATS)
def test_the_bent_solid_measures_the_outside_sizes_asked_for(name):
    made = part(name)
    found = measured(solid_of(made), T)
    assert len(found) == len(made.bends)
    wanted = sorted((*sorted(b.outside), b.angle, b.radius) for b in made.bends)
    read = sorted((*sorted(m.outside), m.angle, m.radius) for m in found)
    assert np.allclose(read, wanted, atol=1e-6)
    assert all(m.thickness == pytest.approx(T) for m in found)


def test_a_channel_and_a_zed_fill_the_boxes_a_square_would_find():
    # squares of sheet metal: web and flanges as outside sizes; the zed steps back by one thickness
    assert np.allclose(bounding_box(solid_of(part("channel")))[3:], (60.0, 80.0, 100.0), atol=1e-6)
    box = bounding_box(solid_of(part("zed")))
    assert box[3] - box[0] == pytest.approx(60.0 + 50.0 - T)
    assert box[5] - box[2] == pytest.approx(100.0)


@pytest.mark.parametrize("name", FLATS)
def test_the_volume_is_faces_and_sectors_of_rings(name):
    made = part(name)
    area = signed_area(made.profile.outer)
    total = area * T
    for b in made.bends:
        long = math.dist((b.x0, b.y0), (b.x1, b.y1))
        total += math.radians(b.angle) / 2.0 * ((b.radius + T) ** 2 - b.radius**2) * long - b.allowance * long * T
    assert volume(solid_of(made)) == pytest.approx(total, rel=1e-9)


@pytest.mark.parametrize("name", FLATS)
def test_corners_of_the_solid_come_back_to_the_flat_and_go_there_again(name):
    made = part(name)
    plan = folded(made)
    for v in solid_of(made).Vertices():
        p = (v.X, v.Y, v.Z)
        flat = plan.flat(p)
        assert min(abs(flat[2]), abs(flat[2] - T)) < 1e-6
        assert math.dist(plan.point(*flat), p) < 1e-6


@pytest.mark.parametrize("name", ["zed", "tray", "tabs v", "oblique"])
def test_the_mesh_of_the_solid_lies_on_the_faces_of_the_folded_flat(name):
    # a mesh of the kernel's surfaces, every point followed back: it must lie on a face or an edge of the blank
    made = part(name)
    plan, mesh = folded(made), mesh_of(solid_of(made), 0.02)
    for p in mesh.vertices[:: max(1, len(mesh.vertices) // 300)]:
        x, y, z = plan.flat(tuple(float(c) for c in p))
        assert -1e-5 <= z <= T + 1e-5
        assert math.dist(plan.point(x, y, z), p) < 1e-5


def test_up_and_down_are_mirror_images_through_the_middle_of_the_plate():
    up = folded(bend_part("a", "a", "toy", bent_strip((60.0, 50.0), [SQUARE], 40.0, T, RULE)))
    down = folded(bend_part("b", "b", "toy", bent_strip((60.0, 50.0), [DOWN], 40.0, T, RULE)))
    for x in np.linspace(0.0, 95.0, 41):
        a, b = up.point(x, 10.0, 1.5), down.point(x, 10.0, T - 1.5)
        assert a[0] == pytest.approx(b[0]) and a[1] == b[1]
        assert a[2] - T / 2.0 == pytest.approx(T / 2.0 - b[2])


def test_lengths_on_the_neutral_line_are_kept():
    # at the depth of the K factor the bend is as long as its flat: what a K factor means
    k = 0.4
    made = bend_part("a", "a", "toy", bent_strip((60.0, 50.0), [SQUARE], 40.0, T, BendRule("k-factor", k)))
    plan = folded(made)
    x = np.linspace(1.0, 90.0, 2001)
    points = np.array([plan.point(v, 10.0, T - k * T) for v in x])
    assert np.linalg.norm(np.diff(points, axis=0), axis=1).sum() == pytest.approx(89.0, abs=1e-4)


def test_holes_in_flat_faces_stay_round_and_square_to_them():
    flat = FLATS["angle"]
    hole = Hole(100.0, 25.0, 13.0, Purpose.BOLT)
    made = bend_part("a", "a", "toy", flat)
    drilled = Part("a", "a", "toy", "bent", T, profile=Profile(flat.profile.outer, (), (hole,)), bends=flat.bends)
    away = volume(solid_of(made)) - volume(solid_of(drilled))
    assert away == pytest.approx(math.pi / 4.0 * 13.0**2 * T)


def bent(bends, holes=(), inner=()):
    profile = Profile(rectangle(0.0, 0.0, 200.0, 60.0), tuple(inner), tuple(holes))
    return Part("piece", "piece", "toy", "bent", T, profile=profile, bends=tuple(bends))


LINE = Bend(100.0, 0.0, 100.0, 60.0, 90.0, 8.0, allowance=16.0)


@pytest.mark.parametrize(
    ("made", "word"),
    [
        (bent([LINE], [Hole(107.0, 30.0, 10.0, Purpose.BOLT, "eye")]), "crosses the hole 'eye'"),
        (bent([LINE], inner=[rectangle(95.0, 20.0, 97.0, 30.0)]), "crosses a cut-out"),
        (bent([Bend(100.0, 0.0, 100.0, 40.0, 90.0, 8.0, allowance=16.0)]), "does not run to a free edge"),
        (bent([LINE, Bend(110.0, 0.0, 110.0, 60.0, 90.0, 8.0, allowance=16.0)]), "run into each other"),
        (bent([Bend(100.0, 0.0, 112.0, 60.0, 90.0, 8.0, allowance=16.0)]), "no steel"),
        (bent([Bend(100.0, 0.0, 100.0, 60.0, 90.0, 8.0)]), "flat length 0"),
        (bent([Bend(100.0, 0.0, 100.0, 60.0, 180.0, 8.0, allowance=16.0)]), "under 180"),
        (bent([]), "no bends"),
    ],
)
def test_what_cannot_be_bent_is_refused_in_a_sentence(made, word):
    with pytest.raises(GeometryFault) as caught:
        solid_of(made)
    assert word in str(caught.value)
    assert caught.value.remedy


def test_flanges_that_run_through_one_another_are_refused():
    inward = Fold(150.0, 8.0)
    flat = bent_strip((120.0, 60.0, 120.0), [inward, inward], 50.0, T, RULE)
    with pytest.raises(GeometryFault):
        solid_of(bend_part("a", "a", "toy", flat))
