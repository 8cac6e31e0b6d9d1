"""Cradles: heights of pad, horns and screw, the plan's table holes, tube and bar."""

import math

import pytest
from shapely.geometry import Point

from fixturegen.parts.cradles import make_cradles
from fixturegen.plate.profile import polyline
from fixturegen.units import as_inch
from tests.parts.stand_jobs import ALL, INTEGRAL, hole_of, in_table, job, polygon

each = pytest.mark.parametrize("name", ALL)
CLEAR = 25.4 / 4.0


def made(name):
    result = make_cradles(job(name))
    return {p.name: p for p in result.parts}, result.placements


def at(placements, part):
    return next(p for p in placements if p.part == part)


@each
def test_the_flat_pad_touches_what_it_carries_and_is_two_inches_wide(name):
    parts, placements = made(name)
    plan = job(name).plan
    for cradle, letter in zip(plan.cradles, "lr", strict=True):
        pad = parts[f"jack-pad-{letter}"]
        top = in_table(at(placements, pad.name), 0.0, 0.0, sum(s.length for s in pad.turned.steps))
        assert top == pytest.approx([0.0, cradle.station, plan.height - cradle.radius])
        assert pad.turned.steps[-1].end_diameter >= 50.8


def test_a_cradle_that_carries_the_bar_is_higher_by_the_difference_of_the_radii():
    plan = job(INTEGRAL).plan
    assert {c.carries for c in plan.cradles} == {"tube", "bar"}
    _parts, placements = made(INTEGRAL)
    heights = {
        c.carries: at(placements, f"jack-pad-{letter}").origin[2] for c, letter in zip(plan.cradles, "lr", strict=True)
    }
    radii = {c.carries: c.radius for c in plan.cradles}
    assert heights["bar"] - heights["tube"] == pytest.approx(radii["tube"] - radii["bar"])


@each
def test_horns_stop_a_quarter_inch_clear_and_a_quarter_below_the_middle(name):
    parts, _ = made(name)
    for cradle, letter in zip(job(name).plan.cradles, "lr", strict=True):
        side = polygon(parts[f"cradle-{letter}-side"].profile.outer)
        assert side.bounds[3] == pytest.approx(-CLEAR)
        tube = Point(0.0, 0.0).buffer(cradle.radius, quad_segs=256)
        # the horn's inner edge stands upright: its distance is level with its top
        points = polyline(parts[f"cradle-{letter}-side"].profile.outer, 0.01)
        inner = min(abs(x) for x, y in points if -cradle.radius / 2.0 < y < -CLEAR - 8.1 or y == -CLEAR)
        assert inner >= cradle.radius + CLEAR - 1e-6
        assert side.distance(tube) > CLEAR
        # a tube that rolls off meets a horn
        rolled = Point(cradle.radius + CLEAR + 1.0, 0.0).buffer(cradle.radius, quad_segs=256)
        assert side.intersects(rolled)


@each
def test_the_bolts_that_are_the_jack_screws_stand_among_what_is_bought(name):
    context = job(name)
    parts, _ = made(name)
    rows = [h for h in make_cradles(context).hardware if "tap bolt" in h[0]]
    assert sum(row[2] for row in rows) == 2
    lengths = [parts[f"jack-screw-{letter}"].turned.steps for letter in "lr"]
    bought = sorted(size for _, size, n, _ in rows for _ in range(n))
    assert bought == sorted(f"1-8 x {as_inch(sum(s.length for s in v[1:]), 64).split(' (')[0]}" for v in lengths)


@each
def test_the_jack_travels_three_quarters_each_way_in_its_nut_and_free_of_the_lock_nut(name):
    parts, placements = made(name)
    plan = job(name).plan
    for letter in "lr":
        pad, screw = at(placements, f"jack-pad-{letter}"), at(placements, f"jack-screw-{letter}")
        shelf = at(placements, f"cradle-{letter}-shelf")
        top, under = shelf.origin[2] + plan.stand_thickness, shelf.origin[2]
        travel = 0.75 * 25.4
        jam, nut = 0.56 * 25.4, 0.86 * 25.4  # heights of 1-8 nuts, from memory of ASME B18.2.2
        assert pad.origin[2] - travel > top + jam
        steps = parts[f"jack-screw-{letter}"].turned.steps
        head_top = screw.origin[2] + steps[0].length
        assert head_top + travel < under - nut  # highest: the head stays off the nut
        end = screw.origin[2] + sum(s.length for s in steps)
        assert end == pytest.approx(pad.origin[2] + 12.0)  # it bears on the bottom of the pad's socket
        assert end - travel > top  # lowest: still through the shelf
        assert screw.origin[2] - travel > plan.stand_thickness + 10.0  # the head never meets the base
        x0, z0, x1, z1 = polygon(parts[f"cradle-{letter}-side"].profile.inner[0]).bounds
        assert z0 + plan.height < screw.origin[2] - travel  # a wrench reaches the head all the way
        assert z1 + plan.height > head_top + travel
        assert x1 - x0 > 60.0


@each
def test_table_holes_are_the_plans_and_one_is_slotted_in_x(name):
    parts, placements = made(name)
    for cradle, letter in zip(job(name).plan.cradles, "lr", strict=True):
        base, place = parts[f"cradle-{letter}-base"], at(placements, f"cradle-{letter}-base")
        hole = hole_of(base, "table bolt 1")
        assert in_table(place, hole.x, hole.y)[:2] == pytest.approx(cradle.holes[0])
        x, y = cradle.holes[1]
        slot = next(
            polygon(loop)
            for loop in base.profile.inner
            if polygon(loop).contains(Point(x - place.origin[0], y - place.origin[1]))
        )
        x0, y0, x1, y1 = slot.bounds
        assert x1 - x0 == pytest.approx(y1 - y0 + 6.0, abs=0.02)  # chords of the ends


@each
def test_two_like_plates_are_one_part_made_twice(name):
    parts, placements = made(name)
    for letter in "lr":
        side = f"cradle-{letter}-side"
        assert parts[side].quantity == 2
        stations = sorted(p.origin[1] for p in placements if p.part == side)
        assert stations[1] - stations[0] > 40.0


@each
def test_a_cradle_keeps_off_the_stands_base(name):
    context = job(name)
    y0, y1 = context.plan.stand.base[2:]
    parts, placements = made(name)
    for letter in "lr":
        base, place = parts[f"cradle-{letter}-base"], at(placements, f"cradle-{letter}-base")
        low, high = polygon(base.profile.outer).bounds[1::2]
        assert place.origin[1] + high < y0 - 5.0 or place.origin[1] + low > y1 + 5.0


@each
def test_the_nut_goes_between_the_sides_with_its_flats_along_them(name):
    _parts, placements = made(name)
    thick = job(name).plan.stand_thickness
    stations = sorted(p.origin[1] for p in placements if p.part == "cradle-l-side")
    gap = stations[1] - stations[0] - thick
    assert 1.5 * 25.4 + 3.0 < gap < 1.5 * 25.4 / math.cos(math.radians(30.0)) + 6.0
