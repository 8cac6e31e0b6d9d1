"""The edge of a plate on a tube: against the kernel, a mesh, closed forms and the law of the mirror.

Every expected value comes from the distance to the tube's axis, a kernel boolean, a mesh section, or the
handbook form of the saddle. Tubes and plates are invented.
"""

import math
from itertools import pairwise

import cadquery as cq
import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, MultiPoint

from fixturegen.calc._saddles import saddle_height
from fixturegen.errors import GeometryFault
from fixturegen.plate.biarcs import biarc_chain
from fixturegen.plate.profile import Vertex, edge_between
from fixturegen.plate.saddles import LARGEST_GAP, flat_base, saddle_base, saddle_edge, wrap_ends
from fixturegen.plate.shadows import tube_shadow
from fixturegen.shapes.faces import wire_of
from fixturegen.shapes.primitives import common, cylinder, transformed, volume
from tests.plate.saddle_cases import ALONG, in_tube_frame, off_axis, stand

INCH = 25.4
RADIUS, GAP = 38.1, 0.8
DEVIATION = 0.005

TILTS = [
    (0.0, 0.0, 0.0, 6.35, (0.0, 0.0, 0.0)),
    (20.0, 0.0, 0.0, 6.35, (12.0, 300.0, -7.0)),
    (0.0, 20.0, 0.0, 9.5, (0.0, -200.0, 60.0)),
    (35.0, 0.0, 40.0, 4.8, (5.0, 20.0, 3.0)),
    (0.0, 35.0, -70.0, 6.35, (0.0, 0.0, 0.0)),
    (50.0, 0.0, 0.0, 12.7, (0.0, 0.0, 0.0)),
    (0.0, 50.0, 15.0, 9.5, (-30.0, 0.0, 40.0)),
    (30.0, -40.0, 110.0, 6.35, (10.0, 10.0, 10.0)),
    (0.4, 0.0, 0.0, 6.35, (0.0, 0.0, 0.0)),
]


def standing(case, radius=RADIUS, gap=GAP, clock=20.0, before=55.0, after=48.0):
    yaw, lean, spin, thickness, origin = case
    where = stand(yaw, lean, spin, thickness, origin)
    return where, saddle_base(where, radius, gap, wrap_ends(where, clock, before, after))


def patch(base, nearer=0.0):
    """A loop of the edge and a far border, moved towards the tube by some [mm]."""
    (ax, ay), (mx, my), (bx, by) = base.normals
    (x0, y0), (x1, y1) = base.ends
    far = [
        Vertex(x1 + 40.0 * bx, y1 + 40.0 * by),
        Vertex(base.middle[0] + 120.0 * mx, base.middle[1] + 120.0 * my),
        Vertex(x0 + 40.0 * ax, y0 + 40.0 * ay),
    ]
    return tuple(Vertex(v.x - nearer * mx, v.y - nearer * my, v.bulge) for v in (*base.edge, *far))


def plate_in_tube_frame(where, loop):
    solid = cq.Solid.extrudeLinear(wire_of(loop, "patch"), [], cq.Vector(0.0, 0.0, where.thickness))
    return transformed(solid, where.rotation, where.origin)


def rod(radius, at=0.0):
    return cylinder((0.0, at - 500.0, 0.0), (0.0, at + 500.0, 0.0), 2.0 * radius)


@pytest.mark.parametrize("case", TILTS)
def test_the_plate_clears_the_tube_by_the_gap_and_no_more_by_the_kernel(case):
    where, base = standing(case)
    plate = plate_in_tube_frame(where, patch(base))
    tube = rod(RADIUS, where.origin[1])
    assert volume(common(plate, tube)) == pytest.approx(0.0, abs=1e-9)
    assert plate.distance(tube) == pytest.approx(GAP, abs=0.01)
    assert plate.distance(tube) >= GAP - 1e-6
    assert volume(common(plate, rod(RADIUS + GAP + 0.05, where.origin[1]))) > 0.0


@pytest.mark.parametrize("case", TILTS[1:4])
def test_a_plate_pushed_nearer_than_its_gap_is_found_in_the_tube_by_the_kernel(case):
    where, base = standing(case)
    plate = plate_in_tube_frame(where, patch(base, GAP * 2.0))
    assert volume(common(plate, rod(RADIUS, where.origin[1]))) > 0.1


def chain_points(base):
    """Points on every piece of the edge, arcs exactly."""
    found = []
    for a, b in pairwise(base.edge):
        e = edge_between(a, b)
        for share in np.linspace(0.0, 1.0, 9):
            if e.centre is None:
                found.append((e.x0 + share * (e.x1 - e.x0), e.y0 + share * (e.y1 - e.y0)))
            else:
                t = math.atan2(e.y0 - e.centre[1], e.x0 - e.centre[0]) + share * e.sweep_rad
                found.append((e.centre[0] + e.radius * math.cos(t), e.centre[1] + e.radius * math.sin(t)))
    return np.array(found)


def least_openings(base, where, radius):
    """Over the thickness: the least opening at points all along the edge, in closed form [mm]."""
    flat = chain_points(base)
    # the squared distance from the axis is a parabola in z: take its least on [0, t] exactly
    z = [off_axis(where, np.column_stack([flat, np.full(len(flat), k)])) ** 2 for k in (0.0, 0.5, 1.0)]
    bend, slope = 2.0 * (z[0] - 2.0 * z[1] + z[2]), -3.0 * z[0] + 4.0 * z[1] - z[2]
    at = np.clip(np.where(bend > 1e-12, -slope / (2.0 * np.maximum(bend, 1e-12)), 0.0), 0.0, where.thickness)
    at = np.where(bend > 1e-12, at, 0.0)
    return off_axis(where, np.column_stack([flat, at])) - radius


angles = st.floats(-50.0, 50.0)


@settings(max_examples=120, deadline=None)
@given(
    angles,
    angles,
    st.floats(-180.0, 180.0),
    st.floats(1.5, 25.0),
    st.floats(19.0, 80.0),
    st.floats(0.0, 3.0),
    st.floats(-180.0, 180.0),
    st.floats(5.0, 150.0),
    st.tuples(*(st.floats(-60.0, 60.0),) * 3),
)
def test_the_edge_stands_off_by_the_gap_all_along_and_its_error_is_on_the_side_of_the_steel(
    yaw, lean, spin, thickness, radius, gap, clock, half, origin
):
    where = stand(yaw, lean, spin, thickness, origin)
    base = saddle_base(where, radius, gap, wrap_ends(where, clock, half, half))
    openings = least_openings(base, where, radius) - gap
    assert openings.min() >= -1e-7
    assert openings.max() <= DEVIATION
    assert base.wrap == pytest.approx(2.0 * half, abs=1e-6)


@pytest.mark.parametrize("case", TILTS)
def test_the_largest_gap_is_the_greatest_opening_of_both_faces(case):
    where, base = standing(case)
    flat = chain_points(base)
    for face, z in enumerate((0.0, where.thickness)):
        found = (off_axis(where, np.column_stack([flat, np.full(len(flat), z)])) - RADIUS).max()
        assert base.largest_gaps[face] == pytest.approx(found, abs=0.008)
    assert base.largest_gap == max(base.largest_gaps) >= GAP - 1e-9


def test_a_plate_square_to_the_tube_opens_no_wider_than_the_gap_and_a_leaning_one_more_than_a_sixteenth():
    assert standing(TILTS[0])[1].largest_gap == pytest.approx(GAP, abs=1e-9)
    assert standing(TILTS[2])[1].largest_gap > LARGEST_GAP


@pytest.mark.parametrize("case", TILTS)
def test_the_shadow_is_the_hull_of_both_sections_of_a_mesh(case):
    yaw, lean, spin, thickness, origin = case
    where = stand(yaw, lean, spin, thickness, origin)
    shadow = tube_shadow(where, RADIUS, GAP)
    mesh = trimesh.creation.cylinder(RADIUS + GAP, 1000.0, sections=720)
    mesh.apply_transform(trimesh.geometry.align_vectors([0, 0, 1], [0, 1, 0]))
    mesh.apply_translation([0.0, origin[1], 0.0])
    turn = np.array(where.rotation)
    points = []
    for z in (0.0, thickness):
        cut = mesh.section(plane_origin=in_tube_frame(where, np.array([[0.0, 0.0, z]]))[0], plane_normal=turn[:, 2])
        points.append(((np.asarray(cut.vertices) - origin) @ turn)[:, :2])
    hull = MultiPoint(np.vstack(points)).convex_hull
    ours = LineString([(p.x, p.y) for p in (shadow.at(q) for q in np.linspace(0.0, shadow.turn, 2001))])
    # a chord of the mesh's cylinder lies in by r (1 - cos(pi / n)), along the ellipse by 1 / cos(tilt) more
    sag = 2.0 * (RADIUS + GAP) * (1.0 - math.cos(math.pi / 720)) / math.cos(math.radians(60.0))
    assert hull.exterior.hausdorff_distance(ours) < sag + 0.01


def test_the_section_of_one_face_alone_is_not_the_shadow():
    where = stand(lean=30.0)
    shadow = tube_shadow(where, RADIUS, 0.0)
    away = [shadow.at(q) for q in np.linspace(0.0, shadow.turn, 721)]
    at_bottom = off_axis(where, np.array([[p.x, p.y, 0.0] for p in away]))
    assert at_bottom.max() > RADIUS + 3.0


def test_the_published_saddle_is_as_deep_as_the_handbook_has_it():
    # r .75 on R 1.0 at 90 deg: depth .3386 in (sources of the project, derived; R - sqrt(R^2 - r^2))
    where = stand(thickness=0.25 * INCH)
    base = saddle_base(where, INCH, 0.0, ((-0.75 * INCH, 30.0), (0.75 * INCH, 30.0)))
    crown = saddle_base(where, INCH, 0.0, wrap_ends(where, 0.0, 30.0, 30.0)).middle
    assert crown == pytest.approx((0.0, INCH), abs=1e-9)
    narrow = saddle_base(where, INCH, 0.0, wrap_ends(where, 0.0, *(math.degrees(math.asin(0.75)),) * 2))
    assert (crown[1] - narrow.ends[0][1]) / INCH == pytest.approx(0.3386, abs=5e-5)
    assert base.length < narrow.length


@pytest.mark.parametrize("angle", [90.0, 70.0, 50.0])
def test_a_thin_leaning_plate_has_the_height_of_the_saddle_formula(angle):
    where = stand(lean=90.0 - angle, thickness=1e-4)
    base = saddle_base(where, RADIUS, 0.0, wrap_ends(where, 0.0, 60.0, 60.0))
    for x, y in chain_points(base):
        # the branch's far side, turn 90, of a branch as wide as this point stands off
        want = float(saddle_height(90.0, abs(x), RADIUS, angle, 0.0))
        slope = base.shadow.foot(x, y).normal[1]
        assert y == pytest.approx(want, abs=(DEVIATION + 2e-4) / slope)


@pytest.mark.parametrize("case", TILTS)
def test_the_mirrored_plate_has_the_mirrored_edge(case):
    yaw, lean, spin, thickness, origin = case
    one = stand(yaw, lean, spin, thickness, origin)
    other = stand(-yaw, lean, -spin, thickness, (-origin[0], origin[1], origin[2]))
    ours = saddle_base(one, RADIUS, GAP, wrap_ends(one, 20.0, 50.0, 40.0))
    theirs = saddle_base(other, RADIUS, GAP, wrap_ends(other, -20.0, 40.0, 50.0))
    assert theirs.length == pytest.approx(ours.length, abs=1e-6)
    assert theirs.largest_gaps == pytest.approx(ours.largest_gaps, abs=1e-9)
    flipped = LineString([(-x, y) for x, y in chain_points(ours)])
    assert flipped.hausdorff_distance(LineString(chain_points(theirs))) < DEVIATION


@pytest.mark.parametrize("case", TILTS)
def test_the_normals_leave_the_tube_and_stand_square_to_the_edge(case):
    base = standing(case)[1]
    for (nx, ny), (x, y) in zip(base.normals, (base.ends[0], base.middle, base.ends[1]), strict=True):
        assert math.hypot(nx, ny) == pytest.approx(1.0)
        assert base.shadow.clearance(x + 10.0 * nx, y + 10.0 * ny) == pytest.approx(10.0, abs=0.006)
        assert base.shadow.clearance(x, y) == pytest.approx(0.0, abs=0.006)


@pytest.mark.parametrize("case", TILTS)
def test_the_clearance_is_the_distance_another_library_measures(case):
    base = standing(case)[1]
    shadow = base.shadow
    ring = LineString([(p.x, p.y) for p in (shadow.at(q) for q in np.linspace(0.0, shadow.turn, 20001))])
    rng = np.random.default_rng(5)
    for x, y in rng.uniform(-130.0, 130.0, (40, 2)):
        px, py = shadow.x + x, shadow.y + y
        ours = shadow.clearance(px, py)
        point = MultiPoint([(px, py)])
        if ours > 0.0:
            assert ours == pytest.approx(ring.distance(point), abs=1e-4)
        else:
            assert MultiPoint(ring.coords).convex_hull.buffer(1e-6).covers(point)


def test_ends_given_as_points_are_the_nearest_places_of_the_edge():
    where = stand(yaw=25.0)
    by_clock = saddle_base(where, RADIUS, GAP, wrap_ends(where, 0.0, 40.0, 40.0))
    out = []
    for (x, y), (nx, ny) in zip(by_clock.ends, (by_clock.normals[0], by_clock.normals[2]), strict=True):
        out.append((x + 30.0 * nx, y + 30.0 * ny))
    by_point = saddle_base(where, RADIUS, GAP, (out[0], out[1]))
    assert by_point.ends[0] == pytest.approx(by_clock.ends[0], abs=1e-3)
    assert by_point.ends[1] == pytest.approx(by_clock.ends[1], abs=1e-3)
    assert by_point.clocks == pytest.approx(by_clock.clocks, abs=1e-3)


@pytest.mark.parametrize("beside", [0.0, 12.0, -25.0])
def test_a_plate_along_the_tube_has_a_straight_edge_at_the_gap(beside):
    where = stand(base=ALONG, origin=(beside, 0.0, 0.0))
    base = saddle_base(where, RADIUS, GAP, ((-40.0, 90.0), (60.0, 90.0)))
    assert [v.bulge for v in base.edge] == [0.0, 0.0]
    assert base.length == pytest.approx(100.0)
    assert least_openings(base, where, RADIUS) == pytest.approx(GAP, abs=1e-9)
    near = min((beside, beside + where.thickness), key=abs) if beside * (beside + where.thickness) > 0.0 else 0.0
    want = math.degrees(math.asin(near / (RADIUS + GAP)))
    assert base.clocks == pytest.approx((want, want), abs=1e-9)


@pytest.mark.parametrize("lean", [0.0, 15.0, -40.0])
def test_the_edge_on_a_flat_face_clears_it_by_the_gap_and_opens_by_the_sine_of_the_lean(lean):
    where = stand(lean=lean, origin=(0.0, 0.0, 20.0))
    base = flat_base(where, (0.0, 0.0, 1.0), 25.0, GAP, ((-30.0, 80.0), (45.0, 80.0)))
    assert base.length == pytest.approx(75.0)
    heights = []
    for x, y in base.ends:
        heights.append([in_tube_frame(where, np.array([[x, y, z]]))[0][2] for z in (0.0, where.thickness)])
    assert min(map(min, heights)) == pytest.approx(25.0 + GAP, abs=1e-9)
    assert base.largest_gap == pytest.approx(GAP + where.thickness * abs(math.sin(math.radians(lean))), abs=1e-9)
    assert base.clocks is None
    assert base.wrap == 0.0


def test_the_pieces_join_without_a_corner():
    for case in TILTS:
        pieces = [edge_between(a, b) for a, b in pairwise(standing(case)[1].edge)]
        for a, b in pairwise(pieces):
            ways = []
            for e, x, y in ((a, a.x1, a.y1), (b, b.x0, b.y0)):
                if e.centre is None:
                    ways.append(math.atan2(e.y1 - e.y0, e.x1 - e.x0))
                else:
                    turn = math.copysign(math.pi / 2.0, e.sweep_rad)
                    ways.append(math.atan2(y - e.centre[1], x - e.centre[0]) + turn)
            assert abs(math.remainder(ways[1] - ways[0], 2.0 * math.pi)) < 1e-6


def test_the_edge_alone_is_that_of_the_base():
    where, base = standing(TILTS[1])
    assert saddle_edge(where, RADIUS, GAP, wrap_ends(where, 20.0, 55.0, 48.0)) == base.edge


@pytest.mark.parametrize(
    ("spoil", "words"),
    [
        (lambda: saddle_base(stand(), 0.0, GAP, (0.0, 90.0)), "radius"),
        (lambda: saddle_base(stand(), math.nan, GAP, (0.0, 90.0)), "radius"),
        (lambda: saddle_base(stand(thickness=0.0), RADIUS, GAP, (0.0, 90.0)), "thickness"),
        (lambda: saddle_base(stand(), RADIUS, -0.1, (0.0, 90.0)), "gap"),
        (lambda: saddle_base(stand(), RADIUS, GAP, (0.0, 90.0), 0.0), "deviation"),
        (lambda: saddle_base(stand(), RADIUS, GAP, ((0.0, 5.0), (60.0, 60.0))), "lies within the tube"),
        (lambda: saddle_base(stand(), RADIUS, GAP, (30.0, 30.0)), "mm long"),
        (lambda: saddle_base(stand(lean=88.0), RADIUS, GAP, (-30.0, 30.0)), "leans 88.0 deg"),
        (lambda: saddle_base(stand(base=ALONG), RADIUS, GAP, (-30.0, 30.0)), "give points"),
        (lambda: saddle_base(stand(base=ALONG), RADIUS, GAP, ((0.0, 90.0), (50.0, -90.0))), "both sides"),
        (lambda: saddle_base(stand(base=ALONG), RADIUS, GAP, ((60.0, 90.0), (0.0, 90.0))), "wrong way round"),
        (lambda: saddle_base(stand(base=ALONG, origin=(50.0, 0.0, 0.0)), RADIUS, GAP, ((0.0, 9.0), (9.0, 9.0))), "pas"),
        (lambda: flat_base(stand(lean=90.0), (0.0, 0.0, 1.0), 25.0, GAP, ((0.0, 0.0), (9.0, 0.0))), "leans 90.0 deg"),
    ],
)  # fmt: skip
def test_what_makes_no_edge_is_refused_in_one_sentence(spoil, words):
    with pytest.raises(ValueError, match=words):
        spoil()


def test_a_curve_without_direction_is_refused():
    with pytest.raises(GeometryFault):
        biarc_chain(lambda t: ((t, 0.0), (0.0, 0.0)), 0.0, 1.0, 0.01)
