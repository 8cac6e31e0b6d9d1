"""Laws that every plate of stand, index plates, steady and cradles obeys, on three axles.

Webs and tabs: common practice, no source. Geometry is judged by shapely.
"""

import copy
import dataclasses
import math
from collections import Counter

import pytest
from shapely.geometry import LineString, Point

from fixturegen.errors import GeometryFault
from fixturegen.parts import registry
from fixturegen.plate import Purpose
from fixturegen.plate.profile import edges, signed_area
from tests.parts.stand_jobs import (
    ALL,
    DROPOUT,
    INTEGRAL,
    REAR,
    blocked,
    context_of,
    everything,
    in_table,
    job,
    joints,
    polygon,
    raw,
    ring,
    steel,
    text_box,
)

each = pytest.mark.parametrize("name", ALL)
ANGLES = (Purpose.ANGLE, Purpose.DOWEL, Purpose.BORE)


def plates(name):
    return [p for p in everything(job(name))[0].values() if p.profile]


@each
def test_outlines_are_simple_and_run_counter_clockwise_and_openings_lie_inside_and_run_clockwise(name):
    for part in plates(name):
        outer = part.profile.outer
        assert ring(outer).is_simple, part.name
        assert signed_area(outer) > 0.0, part.name
        whole = polygon(outer)
        for loop in part.profile.inner:
            assert ring(loop).is_simple, part.name
            assert signed_area(loop) < 0.0, part.name
            assert whole.contains(polygon(loop)), part.name
        assert steel(part).geom_type == "Polygon", f"{part.name} falls in pieces"


@each
def test_no_edge_is_shorter_than_a_torch_can_follow(name):
    for part in plates(name):
        for loop in (part.profile.outer, *part.profile.inner):
            assert min(e.length for e in edges(loop)) > 0.3, part.name


@each
def test_inside_corners_are_round_or_relieved(name):
    # an inside corner that is a bare angle starts a crack: here it would be a vertex where the loop
    # turns away from the steel by more than 50 deg between two edges
    for part in plates(name):
        for loop in (part.profile.outer, *part.profile.inner):
            run = edges(loop)
            for a, b in zip(run, run[1:] + run[:1], strict=True):
                turn = direction(b, start=True) - direction(a, start=False)
                turn = (turn + math.pi) % (2.0 * math.pi) - math.pi
                assert math.degrees(turn) > -60.0, (part.name, b.x0, b.y0)


def direction(edge, *, start):
    if edge.centre is None:
        return math.atan2(edge.y1 - edge.y0, edge.x1 - edge.x0)
    x, y = (edge.x0, edge.y0) if start else (edge.x1, edge.y1)
    radial = math.atan2(y - edge.centre[1], x - edge.centre[0])
    return radial + math.copysign(math.pi / 2.0, edge.sweep_rad)


@each
def test_webs_round_holes_that_set_an_angle_are_one_and_a_half_thicknesses(name):
    for part in plates(name):
        rings = [ring(loop) for loop in (part.profile.outer, *part.profile.inner)]
        for hole in part.profile.holes:
            web = min(r.distance(Point(hole.x, hole.y)) for r in rings) - hole.finished / 2.0
            need = 1.5 if hole.purpose in (*ANGLES, Purpose.TABLE, Purpose.ACCESS) else 1.0
            assert web >= need * part.thickness - 0.01, (part.name, hole.label, web / part.thickness)


@each
def test_no_web_between_openings_is_thinner_than_the_plate(name):
    for part in plates(name):
        rings = [ring(loop) for loop in (part.profile.outer, *part.profile.inner)]
        rings += [ring_of(h) for h in part.profile.holes]
        for i, a in enumerate(rings):
            for b in rings[i + 1 :]:
                assert a.distance(b) >= part.thickness - 0.01, part.name


def ring_of(hole):
    return Point(hole.x, hole.y).buffer(hole.finished / 2.0, quad_segs=64).exterior


@each
def test_no_plate_stands_in_the_steel_of_another(name):
    parts, placements = everything(job(name))
    assert blocked(parts, placements) == set()


def test_a_plate_thicker_than_measured_does_not_enter_its_slots():
    parts, placements = everything(job(DROPOUT))
    parts["index-plate"] = dataclasses.replace(parts["index-plate"], thickness=parts["index-plate"].thickness + 2.0)
    shut = blocked(parts, placements)
    assert all("index-plate" in pair for pair in shut)
    assert {b for a, b in shut if a == "index-plate"} == {"stand-base", "stand-back", "face-plate"}


TABS = {
    ("index-plate", "stand-base"): 2,
    ("puck-plate", "stand-base"): 2,
    ("index-plate", "stand-back"): 1,
    ("puck-plate", "stand-back"): 1,
    ("stand-side", "stand-base"): 4,
    ("stand-side", "stand-back"): 2,
    ("stand-rib", "stand-base"): 1,
    ("stand-rib", "face-plate"): 2,
    ("steady-plate", "stand-base"): 1,
    ("steady-plate", "face-plate"): 2,
    ("y-stop", "face-plate"): 1,
    ("cradle-l-side", "cradle-l-base"): 4,
    ("cradle-l-shelf", "cradle-l-side"): 2,
    ("cradle-l-cross", "cradle-l-side"): 2,
}


@each
def test_every_tab_of_every_joint_comes_to_lie_in_its_slot(name):
    parts, placements = everything(job(name))
    found = Counter((a, b) for a, b, _, _ in joints(parts, placements))
    for (a, b), count in TABS.items():
        if a in parts and not (a == "index-plate" and name == INTEGRAL):
            assert found[a, b] == count * (2 if a == "stand-rib" and name == REAR else 1), (a, b)


@each
def test_one_tab_of_each_joint_locates_and_the_others_are_loose(name):
    parts, placements = everything(job(name))
    rooms = {}
    for a, b, rectangle, opening in joints(parts, placements):
        if b == "face-plate" and a in ("index-plate", "puck-plate"):
            continue  # these pass the opening, they are not tabs
        a0, b0, a1, b1 = rectangle.bounds
        # the reliefs of the corners stand a little out of the slot: its width counts at the middle
        rooms.setdefault((a, b), []).append(opening.intersection(cross_line(opening)).length - min(a1 - a0, b1 - b0))
    assert rooms
    for joint, widths in rooms.items():
        assert all(0.39 < w < 2.0 * 25.4 / 32.0 + 0.01 for w in widths), joint
        # a part made twice shows its joint twice
        assert sum(w < 0.5 for w in widths) <= parts[joint[0]].quantity * parts[joint[1]].quantity, joint


def cross_line(shape):
    x0, y0, x1, y1 = shape.bounds
    x, y = (x0 + x1) / 2.0, (y0 + y1) / 2.0
    if x1 - x0 < y1 - y0:
        return LineString([(x0 - 1.0, y), (x1 + 1.0, y)])
    return LineString([(x, y0 - 1.0), (x, y1 + 1.0)])


@each
def test_nothing_stands_below_the_table_top_and_tabs_end_at_most_a_thirty_second_above_it(name):
    parts, placements = everything(job(name))
    lowest = []
    for placement in placements:
        part = parts[placement.part]
        if part.profile is None:
            continue
        x0, y0, x1, y1 = polygon(part.profile.outer).bounds
        corners = [in_table(placement, x, y, z) for x in (x0, x1) for y in (y0, y1) for z in (0.0, part.thickness)]
        low = min(c[2] for c in corners)
        assert low > -1e-6, part.name
        if part.name in ("index-plate", "puck-plate", "stand-rib", "stand-side", "steady-plate", "face-plate"):
            lowest.append((part.name, low))
    for part_name, low in lowest:
        if part_name == "index-plate" and name == INTEGRAL:
            assert low > 50.0  # it has no foot
        else:
            assert 0.0 <= low <= 25.4 / 32.0, part_name


@each
def test_lettering_and_arrows_lie_on_steel(name):
    for part in plates(name):
        sheet = steel(part)
        for mark in part.marks:
            shape = text_box(mark) if mark.text else LineString([(mark.x, mark.y), mark.to])
            assert sheet.contains(shape), (part.name, mark)


@each
def test_every_plate_says_its_datum_and_what_to_mind(name):
    for part in plates(name):
        assert part.datum, part.name
        assert part.notes, part.name


@each
def test_names_are_slugs_and_every_placement_has_its_part_as_often_as_it_is_made(name):
    parts, placements = everything(job(name))
    for part in parts.values():
        assert part.name == part.name.lower()
        assert len(part.name) <= 40
        assert sum(p.part == part.name for p in placements) == part.quantity, part.name
    assert {p.group for p in placements} <= {"stand", "index", "steady", "cradle-l", "cradle-r"}


@each
def test_the_same_job_gives_the_same_parts(name):
    assert everything(job(name)) == everything(job(name))


def test_sizes_that_cannot_be_drawn_are_told_in_one_sentence(monkeypatch):
    def refuses(context):
        raise ValueError("rounding does not fit on the edge from (0, 0) to (1, 0)")

    monkeypatch.setattr(registry, "makers", lambda: (("stands", refuses),))
    context = job(DROPOUT)
    with pytest.raises(GeometryFault, match="stands: cannot be drawn at these sizes"):
        registry.make_jig(context.sheet, context.axle, context.plan)


def test_a_much_shifted_index_plate_keeps_both_sides_of_the_stand_between_the_ribs():
    values = copy.deepcopy(raw(INTEGRAL))
    face = values["housing"]["face"]
    # a bolt on the middle line pushes the index plate to one side
    face["studs"]["angles"] = ["0 deg", "60 deg", "120 deg", "180 deg", "240 deg", "300 deg"]
    for lateral in ("-0.2 in", "0.2 in"):
        face["lateral_offset"] = lateral
        plan = context_of(values).plan
        low, high = plan.stand.ribs
        assert all(low + 40.0 < y < high - 40.0 for y in plan.stand.sides)
        assert abs(plan.stand.sides[0] - plan.stand.sides[1]) >= 100.0 - 1e-9
