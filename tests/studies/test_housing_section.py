"""Section of tube and truss against a section library that meshes the same outline, and against closed forms."""

import math
from functools import cache

import numpy as np
import pytest

from fixturegen.errors import ProgramFault
from fixturegen.studies.housing_section import TUBE, Cut, Seam, Strip, section_of
from fixturegen.studies.wall_flow import flows_of

DIAMETER, WALL, PLATE = 88.9, 6.35, 6.35
HALF, TOP = 34.0, 130.0
"""mm; invented: side plates 68 apart middle to middle, top plate's upper face 130 above the axle line."""


def foot(x):
    return math.sqrt((DIAMETER / 2) ** 2 - x**2)


def side(name, x, top=TOP - PLATE):
    return Strip(name, (x, foot(x)), (x, top), PLATE)


def on_tube(name, x, **more):
    return Seam(f"{name} to tube", name, TUBE, (x, foot(x)), 6.0, **more)


BOX = Cut(
    (side("front", HALF), side("rear", -HALF), Strip("top", (-HALF, TOP - PLATE / 2), (HALF, TOP - PLATE / 2), PLATE)),
    (
        on_tube("front", HALF),
        on_tube("rear", -HALF),
        Seam("front to top", "front", "top", (HALF, TOP - PLATE / 2), 6.0),
        Seam("rear to top", "rear", "top", (-HALF, TOP - PLATE / 2), 6.0),
    ),
)
# one plate ahead of the middle with a flange that leans: no axis of symmetry is left
LEANING = Cut(
    (side("web", 20.0, 110.0), Strip("flange", (20.0, 110.0), (62.0, 128.0), 8.0)),
    (on_tube("web", 20.0), Seam("web to flange", "web", "flange", (20.0, 110.0), 6.0)),
)


def outline(cut):
    """Tube and strips as one polygon; strips that stand on the tube go a little into its wall."""
    from shapely.geometry import LineString, Point
    from shapely.ops import unary_union

    ring = Point(0, 0).buffer(DIAMETER / 2, quad_segs=32).difference(Point(0, 0).buffer(DIAMETER / 2 - WALL, 32))
    pieces = []
    for s in cut.strips:
        (x0, z0), (x1, z1) = s.start, s.end
        into = 2.5 if math.hypot(x0, z0) < DIAMETER / 2 + 0.1 else 0.0
        pieces.append(LineString([(x0, z0 - into), (x1, z1)]).buffer(s.thickness / 2, cap_style="flat"))
    return unary_union([ring, *pieces])


@cache
def by_the_library(cut):
    from sectionproperties.analysis import Section
    from sectionproperties.pre import Geometry

    section = Section(Geometry(outline(cut)).create_mesh(mesh_sizes=[8]))
    section.calculate_geometric_properties()
    section.calculate_warping_properties()
    return section


@pytest.mark.parametrize("cut", [BOX, LEANING])
def test_area_middle_and_second_moments_are_those_of_the_meshed_outline(cut):
    ours, theirs = section_of(DIAMETER, WALL, cut), by_the_library(cut)
    xx, yy, xy = theirs.get_ic()
    assert ours.area == pytest.approx(theirs.get_area(), rel=0.006)  # corners where strips meet count once there
    assert ours.middle == pytest.approx(theirs.get_c(), abs=0.6)
    assert (ours.upright, ours.level) == pytest.approx((xx, yy), rel=0.012)
    assert ours.mixed == pytest.approx(xy, abs=0.012 * yy)


def test_pieces_that_do_not_overlap_add_up_to_the_meshed_outline_within_its_mesh():
    # one upright plate: nothing but the sliver at its root is counted otherwise
    cut = Cut((side("front", 0.0),), (on_tube("front", 0.0),))
    ours, theirs = section_of(DIAMETER, WALL, cut), by_the_library(cut)
    assert ours.area == pytest.approx(theirs.get_area(), rel=1e-3)
    assert ours.upright == pytest.approx(theirs.get_ic()[0], rel=2e-3)
    assert ours.level == pytest.approx(theirs.get_ic()[1], rel=2e-3)


@pytest.mark.parametrize(("cut", "near"), [(BOX, 0.03), (LEANING, 0.03)])
def test_torsion_constant_and_shear_centre_are_those_of_the_meshed_outline(cut, near):
    # walls as lines: 3 per cent of a constant, 2 mm of a place
    ours, theirs = flows_of(section_of(DIAMETER, WALL, cut)), by_the_library(cut)
    assert ours.torsion == pytest.approx(theirs.get_j(), rel=near)
    assert np.subtract(ours.centre, np.add(theirs.get_sc(), 0.0)) == pytest.approx((0.0, 0.0), abs=2.0)
    assert ours.closed is (cut is BOX)


@pytest.mark.parametrize("way", ["forward", "upward", "torque"])
def test_flow_through_a_seam_is_the_shear_the_library_finds_in_the_plate_beside_it(way):
    shear, torque = 10_000.0, 1e6
    section, theirs = section_of(DIAMETER, WALL, BOX), by_the_library(BOX)
    given = {"forward": (shear, 0.0, 0.0), "upward": (0.0, shear, 0.0), "torque": (0.0, 0.0, torque)}[way]
    flow = flows_of(section)
    x, z = flow.centre
    # the library's shears pass through the shear centre
    about = given[2] + z * given[0] - x * given[1]
    ours = flow.through(*(np.array(v) for v in (given[0], given[1], about)))
    for k, at in ((0, HALF), (1, -HALF)):
        low = max(foot(at - PLATE / 2), foot(at + PLATE / 2)) + 6.0
        spots = [(at + PLATE * u, low + 2.0 * n) for u in np.linspace(-0.45, 0.45, 7) for n in range(5)]
        found = theirs.get_stress_at_points(spots, vx=given[0], vy=given[1], mzz=-given[2])
        mean = PLATE * float(np.mean([s[2] for s in found]))
        # what the plate between seam and slice adds is worked out by hand: t x height x gradient at its middle
        x_grad, z_grad = np.linalg.solve([[section.level, section.mixed], [section.mixed, section.upright]], given[:2])
        half = low + 4.0 - foot(at)
        beside = PLATE * half * (x_grad * (at - section.middle[0]) + z_grad * (foot(at) + half / 2 - section.middle[1]))
        # the library's flow runs up the plate, ours from plate to tube; it takes what is counterclockwise as positive
        assert ours[k] == pytest.approx(-(mean + beside), rel=0.04)


def test_an_open_plate_hands_over_v_q_over_i():
    section = section_of(DIAMETER, WALL, Cut((side("front", 0.0),), (on_tube("front", 0.0),)))
    high = TOP - PLATE - DIAMETER / 2
    first = PLATE * high * (DIAMETER / 2 + high / 2 - section.middle[1])
    flow = flows_of(section).through(np.array(0.0), np.array(5000.0), np.array(0.0))
    # second moments of walls as lines lack what is t^2 of the tube's
    assert abs(flow[0]) == pytest.approx(5000.0 * first / section.upright, rel=0.01)


def test_the_tube_alone_has_the_ring_s_constants_and_its_middle_is_its_shear_centre():
    section = section_of(DIAMETER, WALL)
    inner = DIAMETER - 2 * WALL
    assert section.upright == section.level == pytest.approx(math.pi / 64 * (DIAMETER**4 - inner**4))
    found = flows_of(section)
    assert found.torsion == pytest.approx(math.pi / 32 * (DIAMETER**4 - inner**4))
    assert found.centre == pytest.approx((0.0, 0.0), abs=1e-9)
    assert not found.closed and section.bare


def test_two_cells_twist_alike_as_bredt_says():
    # 4 A^T D^-1 A of tube and box: what the walls give along their middle lines, from memory of the text books
    radius, turn = (DIAMETER - WALL) / 2, 2 * math.asin(HALF / ((DIAMETER - WALL) / 2))
    root = math.sqrt(radius**2 - HALF**2)
    arc, high = radius * turn / WALL, (TOP - PLATE / 2 - root) / PLATE
    flex = np.array([[2 * math.pi * radius / WALL, -arc], [-arc, arc + 2 * high + 2 * HALF / PLATE]])
    room = 2 * HALF * (TOP - PLATE / 2 - root) - (radius**2 * (turn - math.sin(turn)) / 2)
    areas = np.array([math.pi * radius**2, room])
    bredt = 4 * areas @ np.linalg.solve(flex, areas)
    assert flows_of(section_of(DIAMETER, WALL, BOX)).torsion == pytest.approx(bredt, rel=0.02)


def test_a_cut_turned_round_is_the_section_turned_round():
    back = Cut(
        tuple(Strip(s.name, (-s.start[0], s.start[1]), (-s.end[0], s.end[1]), s.thickness) for s in LEANING.strips),
        tuple(Seam(s.name, s.first, s.second, (-s.at[0], s.at[1]), s.leg) for s in LEANING.seams),
    )
    one, other = section_of(DIAMETER, WALL, LEANING), section_of(DIAMETER, WALL, back)
    assert (one.mixed, one.middle[0]) == pytest.approx((-other.mixed, -other.middle[0]))
    assert flows_of(one).centre[0] == pytest.approx(-flows_of(other).centre[0])
    assert flows_of(one).torsion == pytest.approx(flows_of(other).torsion)


def test_stress_slopes_give_the_moments_back():
    section = section_of(DIAMETER, WALL, LEANING)
    about_level, about_upright = 3.1e6, -1.7e6
    forward, upward = section.slopes(about_level, about_upright)
    assert -(section.mixed * forward + section.upright * upward) == pytest.approx(about_level)
    assert section.level * forward + section.mixed * upward == pytest.approx(about_upright)


def test_strips_that_nothing_joins_to_the_tube_carry_nothing():
    loose = Cut(BOX.strips, (on_tube("front", HALF, welded=0.0), *BOX.seams[2:]))
    assert section_of(DIAMETER, WALL, loose).bare
    hung = Cut(BOX.strips, BOX.seams[:1])
    assert [s.name for s in section_of(DIAMETER, WALL, hung).cut.strips] == ["front"]
    with pytest.raises(ProgramFault, match="not cut"):
        section_of(DIAMETER, WALL, Cut(BOX.strips, (on_tube("middle", 0.0),)))
