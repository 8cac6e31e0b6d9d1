"""The least gap on a way: against closed forms, the exact kernel and a planar geometry library."""

import math

import numpy as np
import pytest
from shapely import Polygon, unary_union
from shapely.affinity import rotate

from fixturegen.shapes import solids, sweeps
from fixturegen.shapes.meshes import body_of, exact_distance
from fixturegen.shapes.sweeps import (
    SIDES,
    above_plane,
    bar,
    end_pose,
    least_on_way,
    pose_after,
    sector,
    swept_box,
    swept_into,
)
from fixturegen.studies.access_records import Shift, Turn

SAG = 0.05
FAR = 500.0
X, Z = (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)


def test_a_bar_holds_the_true_cylinder_and_is_hardly_larger():
    # closed form: a prism over a regular polygon round a circle has the area n r^2 tan(pi / n)
    body = bar((10.0, -4.0, 3.0), (60.0, 20.0, -8.0), 24.0)
    long = math.dist((10.0, -4.0, 3.0), (60.0, 20.0, -8.0))
    assert body.mesh.volume == pytest.approx(SIDES * 12.0**2 * math.tan(math.pi / SIDES) * long, rel=1e-9)
    assert math.pi * 144.0 * long < body.mesh.volume < 1.002 * math.pi * 144.0 * long


@pytest.mark.parametrize("over", [20.1, 21.0, 35.0, 60.0])
def test_a_ball_that_passes_a_ball_comes_as_near_as_their_middles_say(over):
    # closed form: centre line to centre less both radii
    moving = body_of(solids.sphere((-100.0, over, 0.0), 16.0), "a", SAG)
    still = body_of(solids.sphere((0.0, 0.0, 0.0), 24.0), "b", SAG)
    found = least_on_way(moving, still, (Shift(X, 200.0),), FAR)
    gap = over - 8.0 - 12.0
    assert found.gap <= gap + 1e-9
    assert gap - found.gap <= 2.0 * SAG + max(0.3, 0.05 * gap) + 2.0 * SAG
    assert found.travel == pytest.approx(100.0, abs=4.0)


@pytest.mark.parametrize("start", [-100.0, -93.0, -87.5])
def test_what_lies_between_two_places_is_allowed_for(start, monkeypatch):
    # steps as long as one and a half times the distance pass the nearest place by: the floor is still no larger
    monkeypatch.setattr(sweeps, "SHARE", 1.5)
    moving = body_of(solids.sphere((start, 40.0, 0.0), 16.0), "a", SAG)
    still = body_of(solids.sphere((0.0, 0.0, 0.0), 24.0), "b", SAG)
    found = least_on_way(moving, still, (Shift(X, 200.0),), FAR)
    assert found.gap <= 20.0 + 1e-9 < found.measured


@pytest.mark.parametrize("spare", [0.6, 3.0, -0.2])
def test_a_bar_that_turns_reaches_as_far_as_its_corner(spare):
    # closed form: the end's edge is hypot(length, radius) from the axis it turns about
    reach = math.hypot(120.0, 10.0)
    wall = body_of(solids.box(reach + spare, -200.0, -50.0, reach + 40.0, 200.0, 50.0), "wall", SAG)
    moving = bar((0.0, 0.0, 0.0), (0.0, -120.0, 0.0), 20.0)
    found = least_on_way(moving, wall, (Turn(Z, (0.0, 0.0, 0.0), 180.0),), FAR)
    assert (found.gap <= 0.0) == (spare < 0.0)
    if spare > 0.0:
        # facets stand out by 0.2 % of the radius
        assert spare - 0.5 - SAG < found.gap <= spare


def test_a_thin_sheet_across_the_way_is_met_where_it_stands():
    sheet = body_of(solids.box(60.0, -80.0, -80.0, 61.5, 80.0, 80.0), "sheet", SAG)
    found = least_on_way(bar((0.0, 0.0, 0.0), (10.0, 0.0, 0.0), 12.0), sheet, (Shift(X, 200.0),), FAR)
    assert found.gap == 0.0
    assert found.travel == pytest.approx(50.0, abs=1.0)
    beside = body_of(solids.box(60.0, 7.0, -80.0, 61.5, 80.0, 80.0), "sheet", SAG)
    assert least_on_way(bar((0.0, 0.0, 0.0), (10.0, 0.0, 0.0), 12.0), beside, (Shift(X, 200.0),), FAR).gap > 0.0


@pytest.mark.parametrize("turn", [0.0, 0.4])
def test_where_two_bodies_meet_is_a_point_of_both(turn):
    # a bar of 12 mm through a sheet 2 mm thick at 60 mm: no point of that is farther than 6 mm off its middle
    c, s = math.cos(turn), math.sin(turn)
    spin = ((c, -s, 0.0), (s, c, 0.0), (0.0, 0.0, 1.0))
    sheet = body_of(solids.box(60.0, -80.0, -80.0, 62.0, 80.0, 80.0), "sheet", SAG).at((spin, (5.0, 3.0, 1.0)))
    way = bar((0.0, 0.0, 0.0), (10.0, 0.0, 0.0), 12.0).at((spin, (5.0, 3.0, 1.0)))
    step = (Shift((c, s, 0.0), 200.0),)
    found = least_on_way(way, sheet, step, FAR)
    own = sheet.own(np.array([found.point]))[0]
    assert found.gap == 0.0 and 59.0 <= own[0] <= 63.0 and math.hypot(own[1], own[2]) < 6.5
    there = bar((0.0, 0.0, 0.0), (100.0, 0.0, 0.0), 12.0).at((spin, (5.0, 3.0, 1.0)))
    own = sheet.own(np.array([sweeps.meeting_point(there, sheet)]))[0]
    assert 59.0 <= own[0] <= 63.0 and math.hypot(own[1], own[2]) < 6.5


def test_what_lies_wholly_inside_is_met_before_it_moves():
    block = body_of(solids.box(-50.0, -50.0, -50.0, 50.0, 50.0, 50.0), "block", SAG)
    assert least_on_way(bar((0.0, 0.0, 0.0), (10.0, 0.0, 0.0), 4.0), block, (Shift(X, 1.0),), FAR).gap == 0.0
    assert swept_into(block, bar((0.0, 0.0, 0.0), (10.0, 0.0, 0.0), 4.0))
    assert not swept_into(block, bar((60.0, 0.0, 0.0), (70.0, 0.0, 0.0), 4.0))


def test_what_stays_beyond_the_reach_is_not_told():
    far = body_of(solids.box(0.0, 300.0, 0.0, 10.0, 310.0, 10.0), "far", SAG)
    assert least_on_way(bar((0.0, 0.0, 0.0), (10.0, 0.0, 0.0), 4.0), far, (Shift(X, 50.0),), 60.0) is None


STEPS = (
    Shift((0.6, 0.8, 0.0), 45.0),
    Turn((0.0, 1.0, 0.0), (0.0, 0.0, 0.0), -35.0),
    Shift((0.0, 0.0, -1.0), 60.0),
    Turn((0.0, 0.0, 1.0), (10.0, 0.0, 0.0), 50.0),
)


def test_the_exact_kernel_finds_no_place_nearer_and_the_bound_is_kept():
    own = solids.fuse(solids.cylinder((0.0, 0.0, 0.0), (70.0, 0.0, 0.0), 30.0), solids.sphere((70.0, 0.0, 0.0), 44.0))
    other = solids.box(40.0, 70.0, -90.0, 130.0, 100.0, 10.0)
    moving, still = body_of(own, "a", SAG), body_of(other, "b", SAG)
    found = least_on_way(moving, still, STEPS, FAR)
    ways = np.linspace(0.0, 260.0, 79)
    poses = [pose_after(moving, STEPS, float(w)) for w in ways]
    exact = [exact_distance(solids.transformed(own, *pose), other)[0] for pose in poses]
    assert found.gap <= min(exact)
    assert min(exact) - found.gap < 2.0 * SAG + 0.5 + 0.08 * min(exact) + 1.0  # the places are 3 mm apart
    low, high = swept_box(moving, STEPS)
    for pose in poses:
        there = moving.at(pose).world(moving.mesh.vertices)
        assert bool((there >= low - 1e-9).all() and (there <= high + 1e-9).all())


def test_a_turn_about_a_line_that_was_moved_goes_with_it():
    # law: turned about its own moved middle, a body's middle stays; and there and back is where it began
    moving = bar((-20.0, 0.0, 0.0), (20.0, 0.0, 0.0), 10.0)
    shift, turn = Shift(X, 80.0), Turn(Z, (0.0, 0.0, 0.0), 90.0)
    _, at = end_pose(moving, (shift, turn))
    assert at == pytest.approx((80.0, 0.0, 0.0))
    back = (shift, turn, Turn(Z, (0.0, 0.0, 0.0), -90.0), Shift((-1.0, 0.0, 0.0), 80.0))
    rotation, at = end_pose(moving, back)
    assert np.asarray(rotation) == pytest.approx(np.eye(3)) and at == pytest.approx((0.0, 0.0, 0.0), abs=1e-9)


@pytest.mark.parametrize("arc", [30.0, 5.0])
def test_the_room_of_a_handle_holds_it_at_every_angle_and_hardly_more(arc):
    # planar library: the union of the handle's rectangle over the arc
    reach, width = 200.0, 16.0
    body = sector(reach, arc, width, 12.0)
    flat = [tuple(p[:2]) for p in body.mesh.vertices if p[2] == 0.0]
    room = Polygon(flat)
    one = Polygon([(0.0, -width / 2.0), (reach, -width / 2.0), (reach, width / 2.0), (0.0, width / 2.0)])
    swept = unary_union([rotate(one, a, origin=(0.0, 0.0)) for a in np.linspace(-arc / 2.0, arc / 2.0, 121)])
    assert room.buffer(1e-6).contains(swept)
    assert room.area < 1.06 * swept.area
    assert body.mesh.volume == pytest.approx(room.area * 12.0)


def test_a_plane_is_passed_when_the_lowest_corner_passes_it():
    # closed form: a bar leaning by a has its lowest point h sin a + r cos a below its middle
    lean = math.radians(30.0)
    moving = bar((0.0, 0.0, 0.0), (100.0 * math.cos(lean), 0.0, -100.0 * math.sin(lean)), 20.0)
    low = 100.0 * math.sin(lean) + 10.0 * math.cos(lean)
    found = above_plane(moving, (Shift((0.0, 0.0, -1.0), 30.0),), (0.0, 0.0, -low - 30.0 - 2.0), (0.0, 0.0, -1.0))
    assert found.gap == pytest.approx(2.0, abs=0.05)
    assert found.travel == pytest.approx(30.0)
    past = above_plane(moving, (Shift((0.0, 0.0, -1.0), 30.0),), (0.0, 0.0, -low - 28.0), (0.0, 0.0, -1.0))
    assert past.gap == 0.0
