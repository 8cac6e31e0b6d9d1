"""The face stand on the table: studs, table holes, what touches the housing."""

import math

import pytest
from shapely.geometry import Point

from fixturegen.parts import stand_stops, stand_walls, stands
from fixturegen.plate import Purpose
from fixturegen.plate.profile import Operation, bounds
from fixturegen.sheet.threads import thread_diameter
from tests.parts.stand_jobs import (
    ALL,
    DROPOUT,
    INTEGRAL,
    everything,
    hole_of,
    in_table,
    job,
    polygon,
    steel,
)

each = pytest.mark.parametrize("name", ALL)


def made(name, maker=stands.make_stands):
    result = maker(job(name))
    return {p.name: p for p in result.parts}, result.placements


def place_of(name, part):
    return next(p for p in everything(job(name))[1] if p.part == part)


@each
def test_stud_holes_stand_over_the_studs_and_are_an_eighth_wider(name):
    context = job(name)
    part, place = made(name)[0]["face-plate"], place_of(name, "face-plate")
    stud = thread_diameter(context.sheet.housing.face.studs.size)
    for number, (y, z) in enumerate(context.axle.studs, 1):
        hole = hole_of(part, f"stud {number}")
        assert in_table(place, hole.x, hole.y)[1:] == pytest.approx([y, context.plan.height + z])
        assert hole.finished == pytest.approx(stud + 25.4 / 8.0)
        assert hole.purpose is Purpose.BOLT


@each
def test_the_face_plate_stands_off_the_face_and_clears_its_opening(name):
    context = job(name)
    plan, face = context.plan, context.sheet.housing.face
    part, place = made(name)[0]["face-plate"], place_of(name, "face-plate")
    near = plan.face_sign * in_table(place, 0.0, 0.0, part.thickness)[0]
    assert near == pytest.approx(plan.stand.face_plate[0])
    assert near - plan.index.face >= 6.3
    free = polygon(part.profile.inner[0])
    disc = Point(0.0, context.axle.face_middle[1]).buffer(face.opening_diameter / 2.0 - 5.05)
    assert free.contains(disc)


@each
def test_table_holes_stand_on_the_grid_and_the_second_pin_hole_is_a_slot_along_y(name):
    context = job(name)
    plan, table = context.plan, context.sheet.table
    part, place = made(name)[0]["stand-base"], place_of(name, "stand-base")
    pin = hole_of(part, "table pin 1")
    assert in_table(place, pin.x, pin.y)[:2] == pytest.approx(plan.stand.pins[0])
    assert pin.finished == pytest.approx(table.pin + 0.43)  # 0.017 in, common practice, no source
    assert pin.operation is not Operation.CUT
    assert "ream" not in pin.note  # it is a clearance hole: nothing is left to ream after the drill
    assert "to spare" in pin.note
    x, y = plan.stand.pins[1]
    local = (x - place.origin[0], y - place.origin[1])
    slot = next(polygon(loop) for loop in part.profile.inner if polygon(loop).contains(Point(local)))
    x0, y0, x1, y1 = slot.bounds
    assert x1 - x0 == pytest.approx(table.pin + 0.43, abs=0.01)
    assert y1 - y0 == pytest.approx(table.pin + 0.43 + 3.0, abs=0.01)
    for number, want in enumerate(plan.stand.bolts, 1):
        hole = hole_of(part, f"table bolt {number}")
        at = in_table(place, hole.x, hole.y)
        assert at[:2] == pytest.approx(want)
        steps = [(at[0] - plan.grid[0]) / plan.grid[2], (at[1] - plan.grid[1]) / plan.grid[2]]
        assert all(abs(s - round(s)) < 1e-6 for s in steps)


@each
def test_a_wrench_turns_on_every_table_bolt_and_fingers_reach_every_pin(name):
    """5/8 hex socket 15/16 across: about 17 mm round the middle; common practice, no source."""
    context = job(name)
    plan = context.plan
    parts, placements = everything(context)
    for x, y, room in [(*p, 9.5) for p in plan.stand.pins] + [(*b, 17.0) for b in plan.stand.bolts]:
        for placement in placements:
            part = parts[placement.part]
            if part.profile is None or placement.group not in ("stand", "index", "steady"):
                continue
            if part.name in ("stand-base", "y-stop"):
                continue
            # the plate cut level, 12 mm above the base's top
            level = plan.stand_thickness + 12.0 - placement.origin[2]
            for piece in level_cut(part, level):
                ends = [in_table(placement, px, level, z) for px in piece for z in (0.0, part.thickness)]
                xs, ys = [e[0] for e in ends], [e[1] for e in ends]
                dx = max(min(xs) - x, x - max(xs), 0.0)
                dy = max(min(ys) - y, y - max(ys), 0.0)
                assert math.hypot(dx, dy) >= room, (part.name, x, y)


def level_cut(part, level):
    from shapely.geometry import LineString

    cut = steel(part).intersection(LineString([(-2000.0, level), (2000.0, level)]))
    pieces = getattr(cut, "geoms", [cut])
    return [(p.bounds[0], p.bounds[2]) for p in pieces if p.length > 0.0]


@each
def test_the_base_is_free_for_a_clamp_two_inches_wide_at_both_far_corners(name):
    context = job(name)
    plan = context.plan
    u1, y0, y1 = plan.stand.base[1], plan.stand.base[2], plan.stand.base[3]
    parts, placements = everything(context)
    for corner in (y0, y1):
        way = 1.0 if corner == y0 else -1.0
        for placement in placements:
            part = parts[placement.part]
            if part.profile is None or part.name == "stand-base" or placement.group.startswith("cradle"):
                continue
            level = plan.stand_thickness + 5.0 - placement.origin[2]
            if placement.part == "y-stop":
                continue
            for piece in level_cut(part, level):
                ends = [in_table(placement, px, level, z) for px in piece for z in (0.0, part.thickness)]
                inside = [e for e in ends if plan.face_sign * e[0] > u1 - 50.8 and way * (e[1] - corner) < 50.8]
                assert not inside, part.name


def test_pad_buttons_reach_from_the_face_plate_to_the_face_and_clear_the_studs():
    context = job(INTEGRAL)
    plan = context.plan
    parts, placements = made(INTEGRAL, stand_stops.make_stand_stops)
    button = parts["pad-button"]
    length = sum(s.length for s in button.turned.steps)
    places = [p for p in placements if p.part == "pad-button"]
    assert button.quantity == len(places) == 3
    for place, (y, z) in zip(places, plan.stand.pad_buttons, strict=True):
        end = in_table(place, 0.0, 0.0, length)
        assert plan.face_sign * end[0] == pytest.approx(plan.index.face)
        assert end[1:] == pytest.approx([y, plan.height + z])
        radius = button.turned.steps[0].diameter / 2.0
        for sy, sz in context.axle.studs:
            assert math.hypot(sy - y, sz - z) > radius + 4.8 + 2.0  # 3/8 bolt and 2 mm
        hole = hole_of(made(INTEGRAL)[0]["face-plate"], f"pad {plan.stand.pad_buttons.index((y, z)) + 1}")
        at = in_table(place_of(INTEGRAL, "face-plate"), hole.x, hole.y)
        assert at[1:] == pytest.approx([y, plan.height + z])


def test_a_drop_out_stand_has_no_sides_and_no_pads_of_its_own():
    assert "stand-side" not in made(DROPOUT, stand_walls.make_stand_walls)[0]
    assert "pad-button" not in made(DROPOUT, stand_stops.make_stand_stops)[0]


def test_the_integral_index_plate_lies_flat_on_the_first_side_and_their_clamp_holes_meet():
    context = job(INTEGRAL)
    plan = context.plan
    parts, placements = everything(context)
    index = next(p for p in placements if p.part == "index-plate")
    sides = [p for p in placements if p.part == "stand-side"]
    face = index.origin[1] + plan.clock_thickness
    beside = min(sides, key=lambda p: abs(p.origin[1] - face))
    assert beside.origin[1] == pytest.approx(face)
    for label in ("clamp 1", "clamp 2"):
        a, b = hole_of(parts["index-plate"], label), hole_of(parts["stand-side"], label)
        pa, pb = in_table(index, a.x, a.y), in_table(beside, b.x, b.y)
        assert (pa[0], pa[2]) == pytest.approx((pb[0], pb[2]))
        assert a.finished - b.finished == pytest.approx(25.4 * (3 / 4 - 9 / 16))


@each
def test_the_y_stop_carries_its_screw_to_the_flange_and_touches_neither_flange_nor_tube(name):
    context = job(name)
    face, plan = context.sheet.housing.face, context.plan
    part, place = made(name, stand_stops.make_stand_stops)[0]["y-stop"], place_of(name, "y-stop")
    x0, y0, x1, _y1 = bounds(part.profile.outer)
    us = sorted(plan.face_sign * (x + place.origin[0]) for x in (x0, x1))
    flange = (plan.index.face - face.flange_thickness, plan.index.face)
    assert us[0] < flange[0] - 5.0
    low = place.origin[1] + y0 - context.axle.face_middle[0]
    assert low > face.outside_diameter / 2.0 + 2.0 or low > 0.0
    assert math.hypot(low, place.origin[2] - plan.height) > face.outside_diameter / 2.0 + 2.0
    tube = context.sheet.tubes.outside_diameter / 2.0
    top = place.origin[2] + part.thickness + 25.4 * 11 / 16 - plan.height  # over the nut
    assert top < -tube - 3.0 or us[0] > tube + 3.0


@each
def test_lift_holes_take_a_shackle(name):
    holes = [h for h in made(name)[0]["face-plate"].profile.holes if h.label.startswith("lift")]
    assert len(holes) == 2
    assert holes[0].x == -holes[1].x
