"""Bushes, pucks and collars against the measured bar and bores."""

from __future__ import annotations

import pytest

from fixturegen.parts.bushes import collar_screw, h6, make_bushes
from fixturegen.parts.registry import Context
from tests.parts.jig_contexts import BALL, KINGPIN, REAR, context_from, example, raw

INCH = 25.4
ALL = (KINGPIN, BALL, REAR)


def parts_of(context: Context):
    return {p.name: p for p in make_bushes(context).parts}


def bore_of(part) -> float:
    return min(b[2] for b in part.turned.bores)


def span(context: Context, place, part) -> tuple[float, float]:
    """Stations along Y from which to which a turned part stands."""
    length = sum(s.length for s in part.turned.steps)
    ends = place.origin[1], place.origin[1] + place.rotation[1][2] * length
    return min(ends), max(ends)


# ISO 286-2, class h6, from memory
@pytest.mark.parametrize(("size", "micrometres"), [(25.0, 13), (38.1, 16), (57.15, 19), (100.0, 22), (150.0, 25)])
def test_class_h6_has_the_standards_width(size, micrometres):
    assert h6(size) == pytest.approx((-micrometres / 1000.0, 0.0))


@pytest.mark.parametrize("name", ALL)
def test_index_pucks_run_close_on_the_bar_and_fit_their_plates(name):
    context = example(name)
    puck = parts_of(context)["index-puck"]
    assert bore_of(puck) - context.plan.bar == pytest.approx(0.02)
    body = puck.turned.steps[1]
    assert body.diameter == context.plan.index.bore
    assert body.tolerance[1] <= 0.0
    assert puck.quantity == (1 if context.plan.kind == "integral" else 2)


@pytest.mark.parametrize("name", ALL)
def test_flanges_stand_on_the_side_the_bar_comes_from(name):
    context = example(name)
    made = make_bushes(context)
    side = 1.0 if context.sheet.bar.free_side == "left" else -1.0
    stations = [s for s in (context.plan.index.station, context.plan.index.puck_station) if s is not None]
    places = [p for p in made.placements if p.part == "index-puck"]
    assert len(places) == len(stations)
    for place, station in zip(places, stations, strict=True):
        face = station + side * context.plan.clock_thickness / 2.0
        flange = parts_of(context)["index-puck"].turned.steps[0].length
        assert place.origin[1] == pytest.approx(face + side * flange)
        assert place.rotation[1][2] == -side


def test_the_other_free_side_turns_the_flanges():
    data = raw(KINGPIN)
    data["bar"]["free_side"] = "right"
    places = [p for p in make_bushes(context_from(data)).placements if p.part == "index-puck"]
    assert all(p.rotation[1][2] == 1.0 for p in places)


@pytest.mark.parametrize("name", [KINGPIN, BALL])
def test_clock_bushes_leave_the_plate_free_fore_and_aft_and_hang_on_the_bars_top(name):
    context = example(name)
    bush = parts_of(context)["clock-bush"]
    assert bore_of(bush) - context.plan.bar == pytest.approx(INCH / 16.0)
    for place in (p for p in make_bushes(context).placements if p.part == "clock-bush"):
        # top of the bore on top of the bar
        top = place.origin[2] + bore_of(bush) / 2.0
        assert top == pytest.approx(context.plan.height + context.plan.bar / 2.0, abs=1e-6)


@pytest.mark.parametrize("name", [KINGPIN, BALL])
def test_collars_stand_on_both_sides_of_each_clock_plate(name):
    context = example(name)
    made, parts = make_bushes(context), parts_of(context)
    inner, thick = context.plan.clock.inner, context.plan.clock_thickness
    for short, s in (("l", 1.0), ("r", -1.0)):
        spans = [
            span(context, p, parts["bar-collar"])
            for p in made.placements
            if p.part == "bar-collar" and p.group == f"clock-{short}"
        ]
        away = sorted(tuple(sorted((s * a, s * b))) for a, b in spans)
        assert len(away) == 2
        assert away[0][1] <= inner
        assert away[1][0] >= inner + thick
    assert parts["bar-collar"].turned.saw_cut > 0.0


@pytest.mark.parametrize("bar", [1.0, 1.25, 1.5, 2.0, 2.5, 3.0])
def test_the_screw_of_a_collar_has_steel_round_its_seat_and_its_thread(bar):
    # 1/4 in socket head: 0.375 in wide; tap drill 0.201, clearance 0.281 in: asme-b18.3 and b18.2.8, from memory
    r, half_slot = bar / 2.0, 1.0 / 32.0
    outside = r + 0.5
    away, seat = (v / INCH for v in collar_screw(bar * INCH))
    assert seat * 16.0 == pytest.approx(round(seat * 16.0))
    assert (away + 0.375 / 2.0) ** 2 + seat**2 < outside**2  # the whole head lies on its seat
    assert (away - 0.406 / 2.0) ** 2 + seat**2 > (r + 0.05) ** 2  # and the counterbore stays out of the bore
    assert away - 0.281 / 2.0 > r + 0.08  # nor does the clearance hole open into it, where it is nearest
    assert seat - half_slot >= 3.0 / 16.0  # steel under the head
    tip = 0.75 - seat  # below the middle of the slot
    assert tip - half_slot >= 1.25 * 0.25  # thread that holds, in steel 1 1/4 diameters, common practice
    assert away**2 + tip**2 < outside**2  # the middle of its tip stays inside


def test_the_paper_of_a_collar_says_where_its_screw_goes():
    notes = " ".join(parts_of(example(KINGPIN))["bar-collar"].notes)
    # bar of 1.5 in in a wall of 1/2 in: 0.750 + 0.250; collar 5/8 in long
    for told in ("1.000 in from the collar's axis", "5/16 in from either face", "0.201 in", "0.281 in", "1/4-20"):
        assert told in notes


def test_carrier_pucks_fill_the_bearing_bores_of_an_integral_housing():
    context = example(BALL)
    made, parts = make_bushes(context), parts_of(context)
    bearings = context.sheet.housing.bearings
    puck = parts["carrier-puck"]
    assert max(s.diameter for s in puck.turned.steps) == pytest.approx(bearings.bore_diameter - 0.02)
    assert sum(s.length for s in puck.turned.steps) == pytest.approx(bearings.bore_width)
    ends = [span(context, p, puck) for p in made.placements if p.part == "carrier-puck"]
    low, high = min(e[0] for e in ends), max(e[1] for e in ends)
    assert high - low == pytest.approx(bearings.width_over)
    assert (high + low) / 2.0 == pytest.approx(context.axle.bearing_middle)
    index = next(span(context, p, parts["index-puck"]) for p in made.placements if p.part == "index-puck")
    assert all(index[0] > e[1] or index[1] < e[0] for e in ends)


def test_a_drop_out_has_no_carrier_pucks():
    assert "carrier-puck" not in parts_of(example(KINGPIN))


@pytest.mark.parametrize("name", ALL)
def test_bushes_are_valid_solids_and_the_bar_goes_through_them(name):
    from fixturegen.shapes import solids

    context = example(name)
    made, parts = make_bushes(context), parts_of(context)
    high = context.plan.height
    bar = solids.cylinder((0.0, -1500.0, high), (0.0, 1500.0, high), context.plan.bar)
    for place in made.placements:
        shape = solids.placed(solids.solid_of(parts[place.part]), place)
        assert solids.volume(solids.common(shape, bar)) < 1e-3
    thick = solids.cylinder((0.0, -1500.0, high), (0.0, 1500.0, high), context.plan.bar + 0.1)
    place = next(p for p in made.placements if p.part == "index-puck")
    shape = solids.placed(solids.solid_of(parts["index-puck"]), place)
    assert solids.volume(solids.common(shape, thick)) > 1.0  # the case that trips it


@pytest.mark.parametrize("name", ALL)
def test_the_bar_is_bought_not_made(name):
    made = make_bushes(example(name))
    assert any(what.startswith("alignment bar") for what, *_ in made.hardware)
    assert "bar" not in {p.name for p in made.parts}
