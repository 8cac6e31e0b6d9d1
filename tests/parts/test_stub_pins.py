"""Stub pins: every kind of pivot gets one that goes in, stands true, is gripped and comes out."""

from __future__ import annotations

import math

import numpy as np
import pytest

from fixturegen.axle.model import to_table
from fixturegen.errors import GeometryFault
from fixturegen.parts._stub_kinds import is_blind, stub_of
from fixturegen.parts.registry import Context
from fixturegen.parts.stub_pins import make_stub_pins
from fixturegen.plate import Turned
from fixturegen.studies.stub_plan import JACKS, THREADS, finger_gap, pivot_plans, taper_diameter
from tests.parts.jig_contexts import BALL, KINGPIN, PIVOTS, REAR, context_from, example, raw, with_pivot

INCH = 25.4
FROM_INSIDE = ("taper-inside", "cup-inside")
ALL = [(name, which) for name in PIVOTS for which in ("upper", "lower")]


def plan_of_pivot(context: Context, which: str):
    return next(p for p in pivot_plans(context.sheet, context.axle, context.plan) if p.name == which)


def diameter_at(turned: Turned, z: float) -> float:
    """Outside diameter of a turned part at a height, read off its steps."""
    low = 0.0
    for step in turned.steps:
        if z <= low + step.length:
            end = step.diameter if step.end_diameter is None else step.end_diameter
            return step.diameter + (end - step.diameter) * (z - low) / step.length
        low += step.length
    return 0.0


def bore_at(pivot, s: float) -> float:
    """Diameter of the arm's own hole at a station of the axis, from the sheet's words."""
    p = pivot.pivot
    if p.kind == "taper":
        from_large = pivot.outside - s if p.large_end == "outside" else s - pivot.inside
        return p.diameter - p.taper_per_foot / 304.8 * from_large
    if p.kind == "cup":
        deep = pivot.outside - s if p.large_end == "outside" else s - pivot.inside
        return p.diameter if deep < p.depth else p.through
    return float(p.diameter)


def left_knuckle(context: Context):
    from fixturegen.bodies.knuckle import knuckle_body
    from fixturegen.shapes import solids

    body = knuckle_body(context.sheet.knuckles, context.axle.knuckles[0], context.axle.bench_caster)
    rotation, origin = to_table(context.axle, context.plan.height)
    rows = tuple(tuple(float(v) for v in row) for row in rotation)
    return solids.transformed(body, rows, tuple(float(v) for v in origin))


@pytest.mark.parametrize(("name", "which"), ALL)
def test_every_pivot_gets_valid_solids_and_one_of_each_on_both_sides(name, which):
    from fixturegen.shapes import solids

    made = make_stub_pins(with_pivot(name, which))
    for part in made.parts:
        assert solids.volume(solids.solid_of(part)) > 0.0
        assert part.quantity == 2
        groups = sorted(p.group for p in made.placements if p.part == part.name)
        assert groups == ["stubs-l", "stubs-r"]
    assert any(p.name.startswith(f"stub-{which}") for p in made.parts)


@pytest.mark.parametrize(("name", "which"), ALL)
def test_no_piece_cuts_into_the_knuckle_the_bar_or_a_finger_bar(name, which):
    from fixturegen.parts.clock_plates import make_clock_plates
    from fixturegen.shapes import solids

    context = with_pivot(name, which)
    made, plates = make_stub_pins(context), make_clock_plates(context)
    high = context.plan.height
    bar = solids.cylinder((0.0, 400.0, high), (0.0, 1000.0, high), context.plan.bar)
    others = [left_knuckle(context), bar]
    by = {p.name: p for p in (*made.parts, *plates.parts)}
    others += [solids.placed(solids.solid_of(by[p.part]), p) for p in plates.placements if p.group == "fingers-l"]
    for place in made.placements:
        if place.group != "stubs-l" or which not in place.part:
            continue
        shape = solids.placed(solids.solid_of(by[place.part]), place)
        for other in others:
            assert solids.volume(solids.common(shape, other)) < 0.5, place.part


def test_a_straight_stub_a_size_too_large_cuts_into_the_knuckle():
    # the case that trips the test above
    from fixturegen.shapes import solids

    context = with_pivot("straight", "upper")
    made = make_stub_pins(context)
    knuckle = left_knuckle(context)
    place = next(p for p in made.placements if p.part == "stub-upper" and p.group == "stubs-l")
    fat = solids.placed(solids.cylinder((0.0, 0.0, 0.0), (0.0, 0.0, 60.0), 1.3 * INCH), place)
    assert solids.volume(solids.common(fat, knuckle)) > 50.0


@pytest.mark.parametrize(("name", "which"), ALL)
def test_tails_and_nuts_stay_off_the_bar(name, which):
    context = with_pivot(name, which)
    pivot = plan_of_pivot(context, which)
    stub = stub_of(pivot)
    low = min(piece.start for piece in stub.pieces)
    nuts = {n for what, n, _ in stub.hardware if what == "hex jam nut"}
    widest = max((t.flats / math.sqrt(3.0) for t in THREADS if t.name in nuts), default=8.0)
    # the nearest point of a disc about the axis to the axle line, by brute force over its rim
    point, way = np.array(pivot.knuckle.axis_point), np.array(pivot.place.outward)
    side = np.cross(way, [0.0, 1.0, 0.0])
    side /= np.linalg.norm(side)
    for turn in np.linspace(0.0, 2.0 * math.pi, 360):
        rim = point + low * way + widest * (math.cos(turn) * side + math.sin(turn) * np.cross(way, side))
        assert math.hypot(rim[0], rim[2]) > context.plan.bar / 2.0 + 2.0


@pytest.mark.parametrize(("name", "which"), ALL)
def test_the_gauge_head_slides_between_the_finger_bars(name, which):
    context = with_pivot(name, which)
    pivot = plan_of_pivot(context, which)
    pair = next(f for f in context.plan.clock.fingers if f.pivot == which)
    gap = finger_gap(pair, float(context.sheet.jig.finger_diameter))
    heads = [s for p in stub_of(pivot).pieces for s in p.part.turned.steps if "gauge head" in s.note]
    assert len(heads) == 1
    largest = heads[0].diameter + heads[0].tolerance[1]
    least = heads[0].diameter + heads[0].tolerance[0]
    assert largest < gap  # goes in
    assert gap - least < 0.05  # 0.002 in: without shake


@pytest.mark.parametrize(("name", "which"), ALL)
def test_the_gauge_head_reaches_past_the_finger_bars_both_ways(name, which):
    context = with_pivot(name, which)
    pivot = plan_of_pivot(context, which)
    piece = next(p for p in stub_of(pivot).pieces if any("gauge head" in s.note for s in p.part.turned.steps))
    low = high = piece.start
    for step in piece.part.turned.steps:
        high += step.length
        if "gauge head" in step.note:
            break
        low = high
    half = float(context.sheet.jig.finger_diameter) / 2.0
    assert low <= pivot.along - half - 5.9
    # a stub in a blind cup bore ends under its strap, which lies on the bars
    assert high >= (pivot.along + 4.0 if is_blind(pivot) else pivot.along + half + 5.9)


@pytest.mark.parametrize(("name", "which"), [a for a in ALL if not a[0].startswith("pin")])
def test_a_stub_goes_in_and_comes_out_the_way_it_says(name, which):
    pivot = plan_of_pivot(with_pivot(name, which), which)
    piece = stub_of(pivot).pieces[0]
    turned = piece.part.turned
    length = sum(s.length for s in turned.steps)
    stations = np.linspace(1e-3, length - 1e-3, 400)
    inside = name in FROM_INSIDE
    for z in stations:
        s = piece.start + z
        if not pivot.inside < s < pivot.outside:
            continue
        # whatever is in the arm must pass every part of the hole between it and the way out
        out = np.linspace(pivot.inside if inside else s, s if inside else pivot.outside, 60)
        narrow = min(bore_at(pivot, float(v)) for v in out[1:-1])
        if not is_blind(pivot) or s > pivot.outside - pivot.pivot.depth:
            assert diameter_at(turned, float(z)) <= narrow + 0.02
    beyond = [z for z in stations if (piece.start + z > pivot.outside if inside else piece.start + z < pivot.inside)]
    smallest = min(bore_at(pivot, float(v)) or math.inf for v in np.linspace(pivot.inside, pivot.outside, 90)[1:-1])
    for z in beyond:
        assert diameter_at(turned, float(z)) <= smallest + 1e-9


def test_taper_per_foot_is_the_change_of_diameter_in_twelve_inches():
    # definition of taper per foot: 1 1/2 in/ft changes the diameter by 1/8 in in 1 in of length
    assert taper_diameter(1.0 * INCH, 1.5 * INCH, 1.0 * INCH) == pytest.approx(0.875 * INCH, abs=1e-9)
    # Machinery's Handbook, standard taper of 3/4 in per foot (1:16), from memory
    assert taper_diameter(1.0 * INCH, 0.75 * INCH, 1.6 * INCH) == pytest.approx(0.9 * INCH, abs=1e-9)


def test_a_tapered_stub_has_the_hand_worked_diameters_at_both_faces_of_the_arm():
    context = example(BALL)
    # upper: 1.125 in at the inside, 1 1/2 in/ft, arm 1 in: 1.000 in at the outside
    upper = plan_of_pivot(context, "upper")
    piece = stub_of(upper).pieces[0]
    at = {s: diameter_at(piece.part.turned, s - piece.start) for s in (upper.inside, upper.outside - 3.0)}
    assert at[upper.inside] == pytest.approx(1.125 * INCH, abs=1e-6)
    assert at[upper.outside - 3.0] == pytest.approx(1.000 * INCH + 0.125 * 3.0, abs=1e-6)
    # lower: 1.000 in at the outside, arm 1 1/8 in: 1 - 1.5 * 1.125 / 12 = 0.859375 in at the inside
    lower = plan_of_pivot(context, "lower")
    piece = stub_of(lower).pieces[0]
    assert diameter_at(piece.part.turned, lower.outside - piece.start) == pytest.approx(1.0 * INCH, abs=1e-6)
    end = diameter_at(piece.part.turned, lower.inside + 3.0001 - piece.start)
    assert end == pytest.approx(0.859375 * INCH + 0.125 * 3.0, abs=1e-3)


@pytest.mark.parametrize(("name", "which"), ALL)
def test_stubs_stand_along_the_steering_axis_on_both_sides(name, which):
    context = with_pivot(name, which)
    turn, origin = to_table(context.axle, context.plan.height)
    made = make_stub_pins(context)
    for knuckle in context.axle.knuckles:
        place = knuckle.upper if which == "upper" else knuckle.lower
        way = turn @ np.array(place.outward)
        centre = turn @ np.array(place.centre) + origin
        for stands in made.placements:
            if stands.group != f"stubs-{knuckle.side[0]}" or which not in stands.part or "strap" in stands.part:
                continue
            matrix = np.array(stands.rotation)
            assert matrix[:, 2] == pytest.approx(way, abs=1e-12)
            assert np.linalg.det(matrix) == pytest.approx(1.0)
            off = np.cross(np.array(stands.origin) - centre, way)
            assert np.linalg.norm(off) < 1e-9


@pytest.mark.parametrize(("name", "which"), ALL)
def test_every_stub_says_how_it_goes_in_and_how_it_comes_out(name, which):
    made = make_stub_pins(with_pivot(name, which))
    words = [w for _, w in made.steps]
    assert sum(w.startswith(f"Stub pins, {which}. In: ") for w in words) == 1
    assert sum(w.startswith(f"Stub pins, {which}. Out: ") for w in words) == 1
    goes_in = min(o for o, w in made.steps if "In:" in w)
    assert goes_in < 60  # before the clock plates, whose finger bars a shoulder would not pass


def test_a_stub_too_long_to_pass_the_bar_goes_in_before_the_bar():
    long, short = with_pivot("taper-inside", "upper"), example(BALL)
    for context in (long, short):
        pivot = plan_of_pivot(context, "upper")
        stub = stub_of(pivot)
        length = sum(s.length for s in stub.pieces[0].part.turned.steps)
        widest = max(s.diameter for s in stub.pieces[0].part.turned.steps) / 2.0
        assert stub.first == (length > pivot.room(widest))
    assert stub_of(plan_of_pivot(long, "upper")).first
    assert not stub_of(plan_of_pivot(short, "upper")).first


def test_a_blind_cup_bore_open_inside_is_refused_with_what_to_do():
    data = raw(KINGPIN)
    data["knuckles"]["lower"] = {**PIVOTS["cup-inside"], "through": "0 in", "arm_thickness": "1.5 in"}
    context = context_from(data)
    with pytest.raises(GeometryFault, match=r"cannot be reached by a gauge head; give knuckles\.lower\.through"):
        make_stub_pins(context)


def test_a_bar_too_thick_for_a_nut_is_refused_with_what_to_do():
    data = raw(KINGPIN)
    data["bar"]["diameter"] = "2.5 in"
    data["knuckles"]["pivot_spread"] = "5 in"
    data["knuckles"]["upper"] = {"arm_thickness": "1.5 in", "boss_diameter": "2.5 in", **PIVOTS["straight"]}
    with pytest.raises(GeometryFault, match="between arm and bar"):
        make_stub_pins(context_from(data))


def test_the_drawer_of_threads_is_that_of_the_standard():
    # ASME B1.1 unified sizes: major diameter in inches is the fraction itself;
    # tap drill = major - 1 / threads per inch leaves about 75 % of thread (Machinery's Handbook, from memory)
    for thread in (*THREADS, *JACKS):
        size, pitch = thread.name.split("-")
        assert thread.diameter == pytest.approx(_inches(size))
        assert thread.drill == pytest.approx(thread.diameter - INCH / float(pitch), abs=0.3)


def _inches(text: str) -> float:
    top, _, bottom = text.partition("/")
    return float(top) / float(bottom or 1.0) * INCH


def test_a_rear_axle_has_no_stub_pins():
    assert make_stub_pins(example(REAR)).parts == ()
