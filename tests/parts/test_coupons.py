"""Coupons: loose parts, drawn at the sizes the command compares with, with room for torch and caliper."""

from __future__ import annotations

import math

import pytest
import shapely

from fixturegen.parts.coupons import make_coupons
from fixturegen.parts.registry import make_jig
from fixturegen.plate.lettering import strokes
from fixturegen.plate.profile import bounds, circle, polyline
from fixturegen.studies.coupon_plan import coupon_plans, strip_plan, web_of
from fixturegen.studies.coupon_readings import kerf_of_both, room_of
from fixturegen.write.kerf import torch_part
from tests.parts.jig_contexts import BALL, KINGPIN, REAR, context_from, example, raw

EXAMPLES = (KINGPIN, BALL, REAR)
INCH = 25.4


def coupons(name):
    context = example(name)
    plates = [p for p in make_coupons(context).parts if p.form == "plate"]
    return list(zip(plates, coupon_plans(context.sheet), strict=True))


def polygon(loop, deviation=0.001):
    return shapely.Polygon(polyline(loop, deviation))


def cut_areas(part):
    """(window, slots, holes) as polygons."""
    window, *slots = (polygon(loop) for loop in part.profile.inner)
    holes = [polygon(circle(h.x, h.y, h.finished)) for h in part.profile.holes]
    return window, slots, holes


@pytest.mark.parametrize("name", EXAMPLES)
def test_one_for_each_plate_with_tabs_and_slots_and_none_of_them_stands_on_the_table(name):
    context = example(name)
    made = make_coupons(context)
    measured = {p.measured for p in context.sheet.plates}
    thick = [p.thickness for p in made.parts if p.form == "plate"]
    assert len(thick) == len(set(thick)) == 3  # clock plates, stand, truss
    assert set(thick) <= measured
    assert made.placements == ()


def test_one_coupon_when_both_plates_of_the_jig_are_one():
    data = raw(KINGPIN)
    data["jig"] = {"clock_plate": "3/8 in", "stand_plate": "3/8 in"}
    del data["truss"]
    data["brackets"] = [b for b in data["brackets"] if b["plate"] == "3/8 in" and b.get("on") != "truss"]
    names = [p.name for p in make_coupons(context_from(data)).parts if p.form == "plate"]
    assert names == ["coupon-3-8"]


def test_a_plate_of_the_truss_or_of_a_slotted_bracket_has_its_coupon_and_a_folded_one_needs_none():
    data = raw(KINGPIN)
    data["jig"] = {"clock_plate": "1/2 in", "stand_plate": "1/2 in"}
    del data["truss"]
    ears = [b for b in data["brackets"] if b.get("on") != "truss" and b["plate"] == "3/8 in"]
    for kind, names in (("two-tab", ["coupon-1-2", "coupon-3-8"]), ("folded", ["coupon-1-2"])):
        data["brackets"] = [b for b in ears if b["kind"] == kind]
        assert data["brackets"]
        assert [p.name for p in make_coupons(context_from(data)).parts if p.form == "plate"] == names


@pytest.mark.parametrize(("plate", "told"), [("3/8 in", True), ("1/4 in", False)])
def test_a_strip_of_another_plate_than_the_folded_parts_says_so(plate, told):
    data = raw(KINGPIN)
    for bracket in data["brackets"]:
        if bracket["kind"] == "folded":
            bracket["plate"] = plate
    made = make_coupons(context_from(data))
    (strip,) = (p for p in made.parts if p.form == "bent")
    assert strip.name == "bend-strip-1-4"
    assert any("bent from 3/8 in plate" in n for n in strip.notes) == told
    assert ("bend a strip of that plate too" in made.steps[0][1]) == told


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_coupon_fits_a_scrap(name):
    for part, _ in coupons(name):
        x0, y0, x1, y1 = bounds(part.profile.outer)
        assert x1 - x0 <= 10.5 * INCH
        assert y1 - y0 <= 6.5 * INCH


@pytest.mark.parametrize("name", EXAMPLES)
def test_slots_are_the_measured_plate_and_their_room_and_longer_than_the_block(name):
    for part, plan in coupons(name):
        _, slots, _ = cut_areas(part)
        middles = []
        for slot, room in zip(slots, plan.rooms, strict=True):
            x0, y0, x1, y1 = slot.bounds
            # the straight middle, away from the corner reliefs
            middle = slot.intersection(shapely.box(x0, (y0 + y1) / 2 - 1.0, x1, (y0 + y1) / 2 + 1.0))
            a, _, b, _ = middle.bounds
            assert b - a == pytest.approx(plan.thickness + 2.0 * room, abs=1e-6)
            assert y1 - y0 > plan.block + 3.0
            middles.append((a + b) / 2)
        assert middles == sorted(middles)


@pytest.mark.parametrize("name", EXAMPLES)
def test_saddles_are_arcs_of_the_measured_tube_and_their_room(name):
    for part, plan in coupons(name):
        arcs = [e for e in _edges(part) if e.centre is not None and e.radius > 20.0]
        arcs.sort(key=lambda e: e.centre[0])
        assert [e.radius for e in arcs] == pytest.approx([plan.tube / 2.0 + r for r in plan.saddles])
        for e in arcs:
            assert abs(math.degrees(e.sweep_rad)) > 80.0  # less shows nothing of a room


def _edges(part):
    from fixturegen.plate.profile import edges

    return edges(part.profile.outer)


@pytest.mark.parametrize("name", EXAMPLES)
def test_no_two_cuts_and_no_edge_stand_nearer_than_the_web_of_the_process(name):
    for part, plan in coupons(name):
        web = web_of(example(name).sheet, plan.thickness)
        window, slots, holes = cut_areas(part)
        areas = [window, *slots, *holes]
        edge = polygon(part.profile.outer).exterior
        for i, a in enumerate(areas):
            assert a.distance(edge) >= web - 0.01
            for b in areas[i + 1 :]:
                assert a.distance(b) >= web - 0.01


@pytest.mark.parametrize("name", EXAMPLES)
def test_lettering_stands_on_steel_and_no_two_words_meet(name):
    context = example(name)
    parts, _ = make_jig(context.sheet, context.axle, context.plan)
    for part in (p for p in parts if p.kind == "coupons" and p.form == "plate"):
        window, slots, holes = cut_areas(part)
        steel = polygon(part.profile.outer).difference(shapely.union_all([window, *slots, *holes]))
        words = []
        for m in (m for m in part.marks if m.text):
            lines = [((a, b), (c, d)) for a, b, c, d in strokes(m.text, m.x, m.y, m.height, m.angle)]
            shape = shapely.MultiLineString(lines)
            assert steel.buffer(-1.5).covers(shape), (part.name, m.text)
            words.append((m.text, shape))
        for i, (text, a) in enumerate(words):
            for other, b in words[i + 1 :]:
                assert a.distance(b) > 0.8, (text, other)


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_slot_saddle_and_hole_is_numbered_beside_itself(name):
    for part, plan in coupons(name):
        marks = {m.text: (m.x, m.y) for m in part.marks}
        _, slots, holes = cut_areas(part)
        for n, slot in enumerate(slots, 1):
            assert slot.distance(shapely.Point(marks[str(n)])) < 10.0
        for n, hole in enumerate(holes, 1):
            assert hole.distance(shapely.Point(marks[f"H{n}"])) < 15.0
        assert {f"S{n + 1}" for n in range(len(plan.saddles))} <= set(marks)


def test_the_kerf_it_is_cut_with_is_lettered_on_it_in_the_unit_of_the_shop():
    assert {m.text for p, _ in coupons(KINGPIN) for m in p.marks if m.text.startswith("K ")} == {"K .062"}
    assert {m.text for p, _ in coupons(REAR) for m in p.marks if m.text.startswith("K ")} == {"K 1.55"}


def test_the_first_step_of_the_job_is_to_cut_and_measure_them():
    context = example(KINGPIN)
    _, (assembly,) = make_jig(context.sheet, context.axle, context.plan)
    assert assembly.steps[0].startswith("Before any other part is cut: cut coupon-1-2 and coupon-3-8")


def strip_of(name):
    context = example(name)
    parts, _ = make_jig(context.sheet, context.axle, context.plan)
    return next(p for p in parts if p.form == "bent")


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_strip_is_of_the_thinnest_plate_and_cut_to_both_flanges_less_the_handbooks_deduction(name):
    sheet = example(name).sheet
    strip, plan = strip_of(name), strip_plan(sheet)
    t, r = strip.thickness, plan.radius
    assert t == min(p.measured for p in sheet.plates)
    x0, y0, x1, y1 = bounds(strip.profile.outer)
    # Machinery's Handbook, 31st edition, p. 1421 (secondary copy): soft steel, a bend of 90 deg takes
    # 0.64 T + 1.57 R; the flanges reach R + T past the tangent lines
    straight = 2.0 * (plan.flange - r - t)
    assert x1 - x0 == pytest.approx(straight + 0.64 * t + 1.57 * r, abs=0.01)
    assert x1 - x0 == pytest.approx(plan.flat, abs=1e-6)
    assert y1 - y0 == pytest.approx(plan.width)


@pytest.mark.parametrize("name", EXAMPLES)
def test_no_tick_but_those_of_the_bend_stands_across_the_strip(name):
    strip = strip_of(name)
    (bend,) = strip.bends
    upright = [m for m in strip.marks if m.to is not None and abs(m.to[0] - m.x) < 1e-6]
    assert {round(m.x, 3) for m in upright} == {round(bend.x0, 3)}
    assert not any("no room" in note for note in strip.notes)


def test_the_strip_keeps_its_length_whatever_was_measured_on_one_before():
    data = raw(KINGPIN)
    before = strip_plan(context_from(data).sheet)
    data["brake"]["tests"][0]["deduction"] = "0.470 in"
    assert strip_plan(context_from(data).sheet) == before


@pytest.mark.parametrize("case", ["thick", "not listed"])
def test_without_a_thin_plate_there_is_no_strip_and_the_coupon_says_so(case):
    data = raw(KINGPIN)
    del data["brake"]
    if case == "thick":
        data["plates"] = data["plates"][:2]
        data["sheets"] = data["sheets"][:3]
    else:
        for sheet in data["sheets"]:
            sheet["count"] = 0 if sheet["plate"] == "1/4 in" else sheet["count"]
    made = make_coupons(context_from(data))
    assert {p.form for p in made.parts} == {"plate"}
    assert any(n.startswith("no bend strip") for n in made.parts[-1].notes)


@pytest.mark.parametrize(("kerf", "allowed"), [(2.2, 1.6), (1.6, 1.6), (1.4, 2.0)])
def test_there_and_back_through_the_contours_of_the_cut_file(kerf, allowed):
    """The file allows for one kerf, the torch of shapely burns another: the coupon gives it back."""
    for part, plan in coupons(KINGPIN):
        path = torch_part(part, allowed).profile
        window, *slots = (polygon(loop) for loop in path.inner)
        burn = [(p.union(e), p.difference(e)) for p in (window, *slots) for e in [p.exterior.buffer(kerf / 2.0)]]
        opening, block = (s.bounds[2] - s.bounds[0] for s in burn[0])
        found = kerf_of_both(plan.block, opening, block)
        assert found.kerf == pytest.approx(kerf, abs=0.002)
        assert found.allowed == pytest.approx(allowed, abs=0.002)
        # the tightest slot a tongue of the measured plate enters, and what a joint gets from it
        gaps = [_middle_width(s) - plan.thickness for s, _ in burn[1:]]
        tightest = next((n for n, gap in enumerate(gaps) if gap > 0.0), None)
        if tightest is not None:
            assert 2.0 * room_of(plan.rooms[tightest], found.wide) == pytest.approx(gaps[tightest], abs=0.005)


def _middle_width(slot):
    x0, y0, x1, y1 = slot.bounds
    a, _, b, _ = slot.intersection(shapely.box(x0, (y0 + y1) / 2 - 1.0, x1, (y0 + y1) / 2 + 1.0)).bounds
    return b - a
