"""What holds for every part of all three examples: material, edges, lettering, hardware, steps."""

import dataclasses
import math
from functools import cache

import pytest
from shapely.geometry import LineString, MultiLineString, Point, Polygon

from fixturegen.parts.marking import LEFT_OUT
from fixturegen.parts.registry import make_jig
from fixturegen.plate.profile import edges, polyline
from fixturegen.stock import Material, entry
from fixturegen.studies.bar_sag import sag_of
from fixturegen.studies.error_budget import trim_of
from fixturegen.studies.jig_records import level_pin_length
from fixturegen.studies.stability import ROLL_SPARE, roll_stop
from fixturegen.write.dxf import dxf_bytes
from fixturegen.write.kerf import torch_part
from fixturegen.write.strokes import strokes
from tests.parts.stand_jobs import ALL, DROPOUT, INTEGRAL, REAR, job

INCH = 25.4
# Common practice, no source: a shorter edge is no edge for a torch, it only makes the head stop.
SHORTEST = 0.5
each = pytest.mark.parametrize("name", ALL)


@cache
def jig(name):
    context = job(name)
    parts, (assembly,) = make_jig(context.sheet, context.axle, context.plan)
    return parts, assembly


def plates(name):
    return [p for p in jig(name)[0] if p.profile is not None]


def listed(name, what):
    return [h for h in jig(name)[1].hardware if h[0] == what]


@each
def test_every_part_names_a_material_of_the_tables(name):
    rack = {p.material for p in job(name).sheet.plates}
    for part in jig(name)[0]:
        assert entry("materials", part.material, Material).density > 0.0
        # plates come from the rack, turned parts from bar
        assert part.material in (rack if part.profile is not None else {"1018-cd", "ground-1045"}), part.name


def shortest_edge(part):
    loops = (part.profile.outer, *part.profile.inner)
    return min(math.hypot(e.x1 - e.x0, e.y1 - e.y0) for loop in loops for e in edges(loop))


@each
def test_no_edge_of_a_plate_is_a_sliver_neither_finished_nor_as_the_torch_runs(name):
    kerf = float(job(name).sheet.process.kerf)
    for part in plates(name):
        assert shortest_edge(part) >= SHORTEST, part.name
        assert shortest_edge(torch_part(part, kerf)) >= SHORTEST, part.name


def test_a_sliver_would_be_seen():
    part = next(p for p in plates(DROPOUT) if p.name == "stand-back")
    a, *rest = part.profile.outer
    sliver = dataclasses.replace(a, x=a.x + SHORTEST / 2.0, bulge=0.0)
    outer = (dataclasses.replace(a, bulge=0.0), sliver, *rest)
    assert shortest_edge(dataclasses.replace(part, profile=dataclasses.replace(part.profile, outer=outer))) < SHORTEST


def drawn(mark):
    if mark.to is not None:
        return LineString([(mark.x, mark.y), mark.to])
    lines = strokes(mark.text, mark.x, mark.y, mark.height, mark.angle)
    return MultiLineString([((a, b), (c, d)) for a, b, c, d in lines])


def steel(part):
    shape = Polygon(polyline(part.profile.outer, 0.01))
    for loop in part.profile.inner:
        shape = shape.difference(Polygon(polyline(loop, 0.01)))
    for h in part.profile.holes:
        shape = shape.difference(Point(h.x, h.y).buffer((h.finished + h.slot) / 2.0))
    return shape.buffer(-1.0)


@each
def test_every_mark_stands_on_steel_a_millimetre_off_edges_and_holes(name):
    for part in plates(name):
        for mark in part.marks:
            assert steel(part).contains(drawn(mark)), (part.name, mark)


@each
def test_no_lettering_runs_into_other_lettering(name):
    for part in plates(name):
        words = [(m.text, drawn(m).envelope) for m in part.marks if m.text]
        for i, (one, a) in enumerate(words):
            for other, b in words[i + 1 :]:
                assert not a.buffer(0.5).intersects(b), (part.name, one, other)


@each
def test_every_plate_carries_its_revision(name):
    for part in plates(name):
        told = any("REV A" in m.text for m in part.marks)
        # a stop of an inch has room for its name alone; its paper says what to write on it
        assert told or any(n.startswith(LEFT_OUT) and "REV A" in n for n in part.notes), part.name
        assert told or part.name == "y-stop"


def test_another_revision_is_another_lettering_in_the_cut_file():
    context = job(REAR)
    revision = context.sheet.revision.model_copy(update={"id": "2026.11"})
    sheet = context.sheet.model_copy(update={"revision": revision})
    parts, _ = make_jig(sheet, context.axle, context.plan)
    for before, after in zip(jig(REAR)[0], parts, strict=True):
        if before.profile is None:
            continue
        words = {w for m in after.marks for w in m.text.split()}
        told = "REV" in words and "2026.11" in words
        assert told or any(n.startswith(LEFT_OUT) and "REV 2026.11" in n for n in after.notes), after.name
        assert before.profile == after.profile
        assert not told or dxf_bytes(before, "mm", 0.0) != dxf_bytes(after, "mm", 0.0)
        for mark in after.marks:
            assert steel(after).contains(drawn(mark)), (after.name, mark)


@each
def test_a_screw_jack_is_listed_for_each_clock_plate_under_which_the_bar_hangs(name):
    context = job(name)
    # common practice, no source: more than 0.010 in at a clock plate; a cradle under the bar is a jack itself
    sags = sag_of(context.sheet, context.axle, context.plan)
    carried = {c.side for c in context.plan.cradles if c.carries == "bar"}
    hang = [s.side for s in sags if s.sag > 0.010 * INCH and s.side not in carried]
    rows = listed(name, "screw jack")
    assert [r[2] for r in rows] == ([len(hang)] if hang else [])
    steps = [s for s in jig(name)[1].steps if s.startswith("Screw jack on the table")]
    assert len(steps) == (1 if hang else 0)
    for side in hang:
        assert side in rows[0][3]
        assert side in steps[0]


def test_the_dropout_wants_two_bar_jacks_and_the_integral_one():
    assert listed(DROPOUT, "screw jack")[0][2] == 2
    assert listed(INTEGRAL, "screw jack")[0][2] == 1
    assert listed(REAR, "screw jack") == []
    # 12 in of axle height less half the 1 1/2 in bar
    assert "11 1/4 in" in listed(DROPOUT, "screw jack")[0][1]


@each
def test_straps_prop_and_jack_stand_are_listed_where_the_checks_ask(name):
    context = job(name)
    tubes = sum(c.carries == "tube" for c in context.plan.cradles)
    assert listed(name, "ratchet strap")[0][2] == tubes
    moment, held = roll_stop(context.sheet, context.axle, context.plan)
    assert bool(listed(name, "screw prop")) is (held < ROLL_SPARE * moment)
    stands = listed(name, "jack stand")
    assert bool(stands) is (tubes < 2)
    assert all("8 in" in s[1] for s in stands)


@each
def test_straps_are_on_before_the_hoist_is_slack_and_away_after_all_nuts_are_tight(name):
    steps = jig(name)[1].steps
    strap = next(i for i, s in enumerate(steps) if "ratchet strap" in s)
    slack = next(i for i, s in enumerate(steps) if s.startswith("Hoist slack"))
    nuts = next(i for i, s in enumerate(steps) if "two opposite face nuts" in s)
    away = next(i for i, s in enumerate(steps) if s.startswith("All face nuts tight"))
    assert strap < slack < nuts < away


def test_a_jack_under_the_bar_is_away_before_its_clock_plate_comes_off():
    for name in (DROPOUT, INTEGRAL):
        steps = jig(name)[1].steps
        on = next(i for i, s in enumerate(steps) if s.startswith("Clock plates over the bar"))
        jack = next(i for i, s in enumerate(steps) if s.startswith("Screw jack"))
        away = next(i for i, s in enumerate(steps) if s.startswith("Jack under the bar away"))
        out = next(i for i, s in enumerate(steps) if "slide each clock plate outboard" in s)
        assert on < jack < away < out


@pytest.mark.parametrize(
    ("name", "kind", "how", "not_how"),
    [(DROPOUT, "drop-out", "feeler stock", "two gaps"), (INTEGRAL, "integral", "two gaps", "feeler stock")],
)
def test_both_parts_of_the_trim_are_a_step_in_the_words_of_this_housing_alone(name, kind, how, not_how):
    steps = [s for s in jig(name)[1].steps if s.startswith(trim_of(kind))]
    assert len(steps) == 1
    assert "clock plates" in steps[0]
    assert how in steps[0] and not_how not in steps[0]


@pytest.mark.parametrize("name", [DROPOUT, INTEGRAL])
def test_level_pins_of_all_three_plates_stand_out_40_mm(name):
    # common practice, no source: a level's foot is 1 in wide and must find the pin
    thick = job(name).plan.clock_thickness
    assert level_pin_length(thick) - thick >= 40.0
    pin = next(p for p in jig(name)[0] if p.name == "level-pin")
    assert sum(s.length for s in pin.turned.steps) == pytest.approx(level_pin_length(thick))
    (row,) = listed(name, "dowel pin, ground")
    assert row[:3] == ("dowel pin, ground", f"1/2 x {level_pin_length(thick) / INCH:.0f} 1/4 in", 2)


@each
def test_the_washers_under_the_stud_nuts_are_the_thin_ones_the_reach_is_counted_with(name):
    # plain washer of 3/8: 0.065 in; ASME B18.21.1 type A, from memory
    (row,) = [h for h in jig(name)[1].hardware if h[0].startswith("plain washer")]
    assert "0.065 in" in row[1]
    assert row[2] == len(job(name).axle.studs)
    assert not [h for h in jig(name)[1].hardware if "thick washer" in h[0] and "stud" in h[3]]


def test_height_of_the_axle_line_carries_no_rounding_noise():
    # 24 halves of an inch are 12 in, 304.8 mm exactly by the inch's definition
    for name in ALL:
        assert job(name).plan.height == 304.8


def test_the_upper_stub_of_the_integral_says_how_it_passes_the_tube_end():
    out = next(s for s in jig(INTEGRAL)[1].steps if s.startswith("Stub pins, upper. Out"))
    assert "1/16 in outboard to pass the tube end" in out
