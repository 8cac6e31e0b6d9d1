"""The steady: air round the tie in every hole, screws at the tie's height, none on a rear axle."""

import math

import pytest
from shapely.geometry import Point
from shapely.geometry import box as rectangle_of

from fixturegen.parts.registry import Made
from fixturegen.parts.steadies import make_steadies
from tests.parts.stand_jobs import DROPOUT, INTEGRAL, REAR, in_table, job, polygon, steel

FRONT = pytest.mark.parametrize("name", [DROPOUT, INTEGRAL])


def test_a_rear_axle_has_no_steady():
    assert make_steadies(job(REAR)) == Made()


@FRONT
def test_the_tie_swings_through_its_row_with_twelve_millimetres_of_air(name):
    plan = job(name).plan
    (part,) = make_steadies(job(name)).parts
    window = polygon(part.profile.inner[0])
    for spot in plan.tie.row:
        a = math.radians(spot.index_angle)
        tie = Point(-plan.tie.radius * math.sin(a), plan.tie.radius * math.cos(a))
        assert window.contains(tie.buffer(plan.tie.diameter / 2.0 + 12.0))
        assert steel(part).distance(tie) - plan.tie.diameter / 2.0 >= 12.0


@FRONT
def test_both_screws_reach_the_tie_in_every_hole_and_push_near_its_middle(name):
    plan = job(name).plan
    made = make_steadies(job(name))
    (part,) = made.parts
    lines = [m for m in part.marks if m.to and m.y == m.to[1] and abs(m.to[0] - m.x) > 25.0]
    screws = {round(m.y, 6) for m in lines}
    axis = min(screws)
    for spot in plan.tie.row:
        height = plan.tie.radius * math.cos(math.radians(spot.index_angle))
        assert abs(axis - height) < plan.tie.diameter / 8.0
    size = next(h[1] for h in made.hardware if h[0].startswith("square head"))
    whole, _, part_of = size.removeprefix("1/2-13 x ").removesuffix(" in").partition(" ")
    inches = float(whole) + (1 / 2 if part_of == "1/2" else 0.0)
    inner = min(abs(x) for m in lines for x in (m.x, m.to[0]))
    outer = max(abs(x) for m in lines for x in (m.x, m.to[0]))
    far = max(plan.tie.radius * math.sin(math.radians(s.index_angle)) for s in plan.tie.row)
    reach = outer + far - plan.tie.diameter / 2.0  # to the near side of a tie in the far hole
    assert inner < outer
    assert reach <= inches * 25.4 <= reach + 40.0


@FRONT
def test_nuts_lie_wholly_on_steel_on_the_marked_face(name):
    (part,) = make_steadies(job(name)).parts
    lines = [m for m in part.marks if m.to and m.y == m.to[1] and abs(m.to[0] - m.x) > 25.0]
    half = 25.4 * 11.0 / 32.0
    axis = min(m.y for m in lines)
    for m in (m for m in lines if m.y == axis):
        x0, x1 = sorted((m.x, m.to[0]))
        assert polygon(part.profile.outer).contains(rectangle_of(x0, axis - half, x1, axis + half))


@FRONT
def test_the_plate_stands_in_a_ribs_place_far_from_the_index_plate_and_over_the_housing(name):
    context = job(name)
    plan = context.plan
    made = make_steadies(context)
    (place,), (part,) = made.placements, made.parts
    middle = in_table(place, 0.0, 0.0, part.thickness / 2.0)
    assert middle == pytest.approx([0.0, plan.tie.steady, plan.height])
    assert plan.tie.steady in plan.stand.ribs
    assert abs(plan.tie.steady - plan.index.station) > 100.0
    x = -plan.face_sign * (plan.index.face - 5.0)
    over = polygon(part.profile.outer).intersection(
        rectangle_of(-900.0, -900.0, x, 900.0) if plan.face_sign < 0 else rectangle_of(x, -900.0, 900.0, 900.0)
    )
    assert over.bounds[1] > context.sheet.housing.height / 2.0 + 20.0
