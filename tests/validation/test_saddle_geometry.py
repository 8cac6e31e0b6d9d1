"""The saddle: points on two cylinders at once, a published-style case worked out by hand, a mesh."""

import math

import numpy as np
import pytest
import trimesh

from fixturegen.calc._saddles import saddle_height
from fixturegen.calc.saddle import saddle
from fixturegen.errors import InputFault

INCH = 25.4


def test_a_three_quarter_radius_on_one_inch_square_is_3386_deep():
    # R - sqrt(R^2 - r^2) = 1 - sqrt(1 - .5625)
    assert saddle(1.5 * INCH, 2 * INCH, 90.0).depth / INCH == pytest.approx(0.3386, abs=5e-5)
    assert saddle(1.5 * INCH, 2 * INCH, 60.0).depth / INCH != pytest.approx(0.3386, abs=5e-3)


@pytest.mark.parametrize("angle", [35.0, 60.0, 90.0, 120.0])
@pytest.mark.parametrize("offset", [-4.0, 0.0, 6.0])
def test_every_point_of_the_line_lies_on_both_tubes(angle, offset):
    r, big = 19.0, 30.0
    turn = np.linspace(0, 360, 73)
    z = saddle_height(turn, r, big, angle, offset)
    # main axis along x at y = offset, branch along u through the origin; distances from the axes by cross products
    u = np.array([math.cos(math.radians(angle)), 0, math.sin(math.radians(angle))])
    e = np.array([math.sin(math.radians(angle)), 0, -math.cos(math.radians(angle))])
    t = np.radians(turn)[:, None]
    points = z[:, None] * u + r * (np.cos(t) * e + np.sin(t) * np.array([0, 1.0, 0]))
    from_main = np.linalg.norm(np.cross(points - [0, offset, 0], [1.0, 0, 0]), axis=1)
    from_branch = np.linalg.norm(np.cross(points, u), axis=1)
    assert from_main == pytest.approx(np.full(73, big))
    assert from_branch == pytest.approx(np.full(73, r))
    assert points[:, 2].min() > 0


def first_hit(triangles, start, along):
    """Distance at which a ray first meets a triangle (Moeller and Trumbore)."""
    a, ab, ac = triangles[:, 0], triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]
    h = np.cross(along, ac)
    with np.errstate(divide="ignore", invalid="ignore"):
        over = 1 / np.einsum("ij,ij->i", ab, h)
        s = start - a
        p = over * np.einsum("ij,ij->i", s, h)
        q = np.cross(s, ab)
        r = over * (q @ along)
        t = over * np.einsum("ij,ij->i", ac, q)
        inside = (p >= 0) & (r >= 0) & (p + r <= 1) & (t > 0)
    return t[inside].min()


def test_the_line_agrees_with_rays_against_a_mesh_of_the_main_tube():
    r, big, angle, offset = 15.0, 25.0, 55.0, 3.0
    main = trimesh.creation.cylinder(radius=big, height=400.0, sections=2000)
    main.apply_transform(trimesh.transformations.rotation_matrix(math.pi / 2, [0, 1, 0]))
    main.apply_translation([0, offset, 0])
    turn = np.arange(5.0, 360.0, 40.0)
    u = np.array([math.cos(math.radians(angle)), 0, math.sin(math.radians(angle))])
    e = np.array([math.sin(math.radians(angle)), 0, -math.cos(math.radians(angle))])
    t = np.radians(turn)[:, None]
    starts = 150 * u + r * (np.cos(t) * e + np.sin(t) * np.array([0, 1.0, 0]))
    found = np.array([150 - first_hit(main.triangles, start, -u) for start in starts])
    assert saddle_height(turn, r, big, angle, offset) == pytest.approx(found, abs=0.01)


def test_the_table_goes_once_round_and_its_largest_cut_is_the_depth():
    found = saddle(40.0, 60.0, 70.0, 5.0)
    turn, around, cut = (np.array(c) for c in zip(*found.table, strict=True))
    assert around[-1] == pytest.approx(40 * math.pi)
    assert turn[-1] == 360
    assert cut[0] == pytest.approx(cut[-1])
    assert cut.min() >= 0
    fine = saddle_height(np.linspace(0, 360, 200_001), 20.0, 30.0, 70.0, 5.0)
    assert found.depth == pytest.approx(fine.max() - fine.min(), abs=1e-6)
    assert cut.max() <= found.depth + 1e-9


def test_turned_over_the_line_is_its_own_mirror():
    turn = np.linspace(0, 360, 37)
    assert saddle_height(turn, 10, 20, 60, 4) == pytest.approx(saddle_height(-turn, 10, 20, 60, -4))
    assert saddle_height(turn, 10, 20, 60, 0) == pytest.approx(saddle_height(180 - turn, 10, 20, 120, 0))


@pytest.mark.parametrize(
    ("sizes", "words"), [((51.0, 50.0, 90.0, 0.0), "exchange the two"), ((40.0, 50.0, 90.0, 5.1), "--offset")]
)
def test_a_branch_that_passes_beside_the_main_tube_is_refused(sizes, words):
    with pytest.raises(InputFault, match=words):
        saddle(*sizes)
    # on the border both are possible
    assert saddle(50.0, 50.0, 90.0, 0.0).depth == pytest.approx(25.0)
    assert saddle(40.0, 50.0, 90.0, 5.0).depth > 0
