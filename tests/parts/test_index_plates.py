"""Index and puck plate against the plan: where holes and pads land on the table."""

import dataclasses
import math

import pytest
from shapely.geometry import LineString, Point
from shapely.geometry import box as rectangle_of

from fixturegen.parts.index_plates import make_index_plates
from fixturegen.plate import Purpose
from fixturegen.plate.outlines import mirrored
from fixturegen.plate.profile import signed_area
from tests.parts.stand_jobs import ALL, DROPOUT, INTEGRAL, REAR, hole_of, in_table, job, polygon

each = pytest.mark.parametrize("name", ALL)
FRONT = (DROPOUT, INTEGRAL)


def made(name):
    result = make_index_plates(job(name))
    return {p.name: p for p in result.parts}, {p.part: p for p in result.placements}


def towards_face(part, context):
    """The outline with x turned so that it grows toward the datum face."""
    loop = part.profile.outer
    return polygon(mirrored(loop) if context.plan.face_sign > 0 else loop)


@each
def test_the_bar_bore_stands_on_the_bar_at_the_planned_stations(name):
    parts, places = made(name)
    plan = job(name).plan
    for part, station in (("index-plate", plan.index.station), ("puck-plate", plan.index.puck_station)):
        if station is None:
            assert part not in parts
            continue
        bore = hole_of(parts[part], "bar bore")
        assert in_table(places[part], bore.x, bore.y, plan.clock_thickness / 2.0) == pytest.approx(
            [0.0, station, plan.height]
        )
        assert (bore.finished, bore.purpose, bore.cut) == (plan.index.bore, Purpose.ANGLE, None)


@pytest.mark.parametrize("name", FRONT)
def test_index_holes_stand_at_their_radius_and_clock_angle(name):
    parts, places = made(name)
    plan = job(name).plan
    for spot in plan.tie.row:
        hole = hole_of(parts["index-plate"], f"index {spot.label}")
        x, _, z = in_table(places["index-plate"], hole.x, hole.y)
        z -= plan.height
        assert math.hypot(x, z) == pytest.approx(plan.tie.radius)
        assert math.degrees(math.atan2(x, z)) == pytest.approx(spot.index_angle, abs=1e-9)  # + forward
        assert hole.finished == plan.tie.diameter
        # bored in one stack only where all three plates have the hole at one place
        there = spot.clock_angle == spot.index_angle
        assert ("both clock plates" in hole.note) is there and ("this plate alone" in hole.note) is not there


@pytest.mark.parametrize("name", FRONT)
def test_level_pins_stand_where_the_plan_has_them(name):
    parts, places = made(name)
    plan = job(name).plan
    for number, (x, z) in enumerate(plan.index.level_pins, 1):
        hole = hole_of(parts["index-plate"], f"level pin {number}")
        place = in_table(places["index-plate"], hole.x, hole.y)
        assert (place[0], place[2] - plan.height) == pytest.approx((x, z))
        assert hole.purpose is Purpose.DOWEL


def test_a_rear_axle_has_no_arm_no_index_row_and_no_level_pins():
    parts, _ = made(REAR)
    assert [h.label for h in parts["index-plate"].profile.holes] == ["bar bore"]
    assert polygon(parts["index-plate"].profile.outer).bounds[3] == pytest.approx(job(REAR).plan.stand.top)


@each
def test_only_pads_and_tongue_reach_the_plane_of_the_face(name):
    context = job(name)
    index = context.plan.index
    shape = towards_face(made(name)[0]["index-plate"], context)
    plane = index.face + index.gap
    touching = shape.boundary.intersection(LineString([(plane, -200.0), (plane, 200.0)]).buffer(0.01))
    heights = sorted((g.bounds[1], g.bounds[3]) for g in touching.geoms if g.bounds[3] - g.bounds[1] > 5.0)
    for (low, high), (want_low, want_high) in zip(heights, index.pads, strict=True):
        assert low == pytest.approx(want_low, abs=1.1)  # a broken corner
        assert high == pytest.approx(want_high, abs=1.1)
    band = context.plan.stand.top
    before = shape.intersection(rectangle_of(-500.0, -400.0, plane - 0.02, band))
    reach = index.tongue + 12.01
    assert -reach < before.bounds[1]
    assert before.bounds[3] < reach


def test_the_puck_plate_touches_with_its_lower_pad_alone():
    context = job(DROPOUT)
    shape = towards_face(made(DROPOUT)[0]["puck-plate"], context)
    face = context.plan.index.face
    ring = shape.boundary
    assert ring.distance(Point(face, sum(context.plan.index.pads[0]) / 2.0)) < 1e-6
    assert ring.distance(Point(face, sum(context.plan.index.pads[1]) / 2.0)) == pytest.approx(2.0, abs=0.01)


@each
def test_the_tongue_goes_into_the_opening_and_the_arm_clears_the_housing(name):
    context = job(name)
    face, plan = context.sheet.housing.face, context.plan
    shape = towards_face(made(name)[0]["index-plate"], context)
    # the opening at the plate's farther face, by Pythagoras
    off = abs(plan.index.station - context.axle.face_middle[0]) + plan.clock_thickness / 2.0
    half = math.sqrt((face.opening_diameter / 2.0) ** 2 - off**2)
    inside = shape.intersection(rectangle_of(-500.0, -300.0, plan.index.face - 0.5, 160.0))
    assert max(-inside.bounds[1], inside.bounds[3]) < half - 1.0
    if plan.tie is not None:
        over = shape.intersection(rectangle_of(-500.0, plan.index.tongue + 40.0, plan.index.face - 5.0, 900.0))
        assert over.bounds[1] >= context.sheet.housing.height / 2.0 + 20.0
        assert shape.bounds[0] == pytest.approx(plan.index.arm_tip)


@pytest.mark.parametrize("name", FRONT)
def test_the_same_plate_for_a_face_that_looks_the_other_way_is_its_mirror_image(name):
    context = job(name)
    turned = dataclasses.replace(context, plan=dataclasses.replace(context.plan, face_sign=-context.plan.face_sign))
    one = next(p for p in make_index_plates(context).parts if p.name == "index-plate")
    other = next(p for p in make_index_plates(turned).parts if p.name == "index-plate")
    assert signed_area(one.profile.outer) == pytest.approx(signed_area(other.profile.outer))
    assert polygon(mirrored(one.profile.outer)).symmetric_difference(polygon(other.profile.outer)).area < 0.5


def test_an_integral_index_plate_has_no_foot_and_two_wide_clamp_holes():
    parts, places = made(INTEGRAL)
    plan = job(INTEGRAL).plan
    part = parts["index-plate"]
    holes = [h for h in part.profile.holes if h.label.startswith("clamp")]
    assert [h.finished for h in holes] == [pytest.approx(19.05)] * 2
    assert polygon(part.profile.outer).bounds[1] == pytest.approx(plan.index.pads[0][0])
    assert make_index_plates(job(INTEGRAL)).welds == ()
    assert places["index-plate"].group == "index"
