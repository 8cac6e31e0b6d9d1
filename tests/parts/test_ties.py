"""Tie and keepers: what goes together goes on, and a clock plate turned round does not.

Plane geometry is shapely's; whether one convex section goes into another is decided from support
functions (a convex body lies in another exactly when no support of it is larger), in numpy.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from shapely import Point, Polygon, affinity, box

from fixturegen.parts.clock_plates import make_clock_plates
from fixturegen.parts.ties import end_section, keeper_free, make_ties
from fixturegen.plate.profile import polyline, signed_area
from fixturegen.studies.keeper_plan import local_pins, tie_flats
from tests.parts.jig_contexts import BALL, KINGPIN, REAR, context_from, example, raw

FRONTS = (KINGPIN, BALL)
ROWS = ("0", "+", "-")
TURNS = np.radians(np.arange(0.0, 360.0, 0.5))
DIRECTIONS = np.radians(np.arange(0.0, 360.0, 2.0))


def supports(points: np.ndarray, turn: float = 0.0) -> np.ndarray:
    c, s = math.cos(turn), math.sin(turn)
    moved = points @ np.array([[c, s], [-s, c]])
    n = np.column_stack([np.cos(DIRECTIONS), np.sin(DIRECTIONS)])
    return (moved @ n.T).max(axis=0)


def goes_in(inner: np.ndarray, outer: np.ndarray, turn: float) -> bool:
    """Whether a convex section, turned, goes into a convex opening at some small shift."""
    slack = supports(outer) - supports(inner, turn)
    n = np.column_stack([np.cos(DIRECTIONS), np.sin(DIRECTIONS)])
    shifts = np.array([(x, y) for x in np.arange(-1.6, 1.7, 0.2) for y in np.arange(-1.6, 1.7, 0.2)])
    return bool((shifts @ n.T <= slack + 1e-6).all(axis=1).any())


def points_of(loop) -> np.ndarray:
    return np.array(polyline(loop, 0.005))


def keeper_opening(context, side: str) -> np.ndarray:
    """The keeper's opening as it stands: x forward, z up, about the tie."""
    made = make_ties(context)
    part = next(p for p in made.parts if p.name == f"keeper-{side}")
    place = next(p for p in made.placements if p.part == part.name)
    flat = points_of(part.profile.inner[0])
    r = place.rotation
    return np.column_stack([flat @ np.array(r[0][:2]), flat @ np.array(r[2][:2])])


def plate_holes(context, flipped: bool):
    """Holes of a clock plate in T (x forward, z up from its bore), mirrored when turned round."""
    plate = next(p for p in make_clock_plates(context).parts if p.name == "clock-plate-l")
    s = 1.0 if flipped else -1.0
    return [(h.label, s * h.x, h.y, h.finished / 2.0) for h in plate.profile.holes]


def accepted_turns(context, row: str, flipped: bool, pins=None, upside_down: bool = False) -> int:
    """At how many turns about the tie, in a row hole, all the keeper's pins find holes.

    The keeper may sit up to 2.5 mm off the hole's middle: loose on the tie, the tie in its slot.
    """
    holes = plate_holes(context, flipped)
    tie = next(h for h in holes if h[0] == f"clock {row}")
    at, radius = np.array([h[1:3] for h in holes]), np.array([h[3] for h in holes])
    shifts = np.array([(x, y) for x in np.arange(-2.5, 2.6, 0.5) for y in np.arange(-2.5, 2.6, 0.5)])
    shifts = shifts[np.hypot(shifts[:, 0], shifts[:, 1]) <= 2.5]
    found = 0
    for turn in TURNS:
        c, s = math.cos(turn), math.sin(turn)
        fits = np.ones(len(shifts), dtype=bool)
        for fx, up, d in pins or local_pins():
            x0 = -fx if upside_down else fx
            pin = shifts + np.array([tie[1] + c * x0 - s * up, tie[2] + s * x0 + c * up])
            apart = np.hypot(*(pin[:, None, :] - at[None, :, :]).transpose(2, 0, 1))
            fits &= (apart + d / 2.0 <= radius).any(axis=1)
        found += bool(fits.any())
    return found


@pytest.mark.parametrize("name", FRONTS)
def test_the_ties_end_section_is_a_disc_cut_by_its_flats(name):
    tie = example(name).plan.tie
    disc = Point(0.0, 0.0).buffer(tie.diameter / 2.0, quad_segs=2000)
    for angle, distance in tie_flats(tie):
        beyond = affinity.rotate(box(distance, -100.0, 100.0, 100.0), 90.0 - angle, origin=(0.0, 0.0))
        disc = disc.difference(beyond)
    assert signed_area(end_section(tie)) == pytest.approx(disc.area, rel=1e-5)
    assert disc.symmetric_difference(Polygon(points_of(end_section(tie)))).area < 0.6


@pytest.mark.parametrize("name", FRONTS)
@pytest.mark.parametrize("side", ["l", "r"])
def test_a_keeper_goes_on_the_ties_end_as_it_stands(name, side):
    context = example(name)
    opening = keeper_opening(context, side)
    section = points_of(end_section(context.plan.tie))
    assert Polygon(opening).contains(Polygon(section))
    gap = Polygon(opening).exterior.distance(Polygon(section))
    assert gap == pytest.approx(keeper_free(context), abs=0.02)


@pytest.mark.parametrize("name", FRONTS)
def test_a_keeper_turned_over_does_not_go_on_the_tie_at_any_turn(name):
    context = example(name)
    opening = keeper_opening(context, "l") * np.array([-1.0, 1.0])
    section = points_of(end_section(context.plan.tie))
    assert not any(goes_in(section, opening, t) for t in TURNS[::4])


@pytest.mark.parametrize("name", FRONTS)
def test_with_two_flats_alone_a_keeper_turned_over_would_go_on(name):
    # the case that shows what the third flat is for
    context = example(name)
    tie = context.plan.tie
    disc = Point(0.0, 0.0).buffer(tie.diameter / 2.0, quad_segs=200)
    half = tie.diameter / 2.0 - tie.flat_depth
    plain = np.array(disc.intersection(box(-100.0, -half, 100.0, half)).exterior.coords)
    grown = plain * (1.0 + keeper_free(context) / half)
    assert goes_in(plain, grown * np.array([-1.0, 1.0]), 0.0)


@pytest.mark.parametrize("name", FRONTS)
@pytest.mark.parametrize("row", ROWS)
def test_a_keeper_fits_the_right_way_round_in_every_hole_of_the_row(name, row):
    assert accepted_turns(example(name), row, flipped=False) > 0


@pytest.mark.parametrize("name", FRONTS)
@pytest.mark.parametrize("row", ROWS)
def test_a_clock_plate_turned_round_is_refused_at_every_turn_of_the_tie(name, row):
    assert accepted_turns(example(name), row, flipped=True) == 0


@pytest.mark.parametrize("name", FRONTS)
def test_one_pin_alone_would_take_a_plate_turned_round(name):
    # the case that shows what the second pin is for
    assert accepted_turns(example(name), "0", flipped=True, pins=local_pins()[:1]) > 0


@pytest.mark.parametrize("name", FRONTS)
def test_only_a_keeper_turned_over_would_take_a_plate_turned_round(name):
    # and that one does not go on the tie (above)
    assert accepted_turns(example(name), "0", flipped=True, upside_down=True) > 0


@pytest.mark.parametrize("name", FRONTS)
@pytest.mark.parametrize("other", ["+", "-"])
def test_keepers_refuse_left_and_right_in_different_holes_of_the_row(name, other):
    # the tie's turn that suits hole 0 must not suit the other hole: the flats carry it across
    context = example(name)

    def turns(row):
        holes = plate_holes(context, False)
        tie = next(h for h in holes if h[0] == f"clock {row}")
        found = []
        for turn in TURNS:
            c, s = math.cos(turn), math.sin(turn)
            if all(
                any(
                    math.hypot(tie[1] + c * x - s * u - hx, tie[2] + s * x + c * u - hz) + d / 2.0 <= r
                    for _, hx, hz, r in holes
                )
                for x, u, d in local_pins()
            ):
                found.append(math.degrees(turn))
        return found

    apart = min(abs((a - b + 180.0) % 360.0 - 180.0) for a in turns("0") for b in turns(other))
    assert apart > 4.0


@pytest.mark.parametrize("name", FRONTS)
def test_pins_of_the_keepers_stand_in_their_holes_with_room(name):
    context = example(name)
    made, plate = make_ties(context), make_clock_plates(context)
    part = next(p for p in plate.parts if p.name == "clock-plate-l")
    place = next(p for p in plate.placements if p.part == part.name)
    for pin, label in (("keeper-pin", "keeper 0"), ("keeper-pin-second", "keeper second 0")):
        hole = next(h for h in part.profile.holes if h.label == label)
        x, z = place.origin[0] - hole.x, place.origin[2] + hole.y
        diameter = next(p for p in made.parts if p.name == pin).turned.steps[0].diameter
        for stands in (p for p in made.placements if p.part == pin):
            off = math.hypot(stands.origin[0] - x, stands.origin[2] - z)
            assert off + diameter / 2.0 < hole.finished / 2.0 - 0.4


@pytest.mark.parametrize("name", FRONTS)
def test_flats_of_the_tie_stand_square_to_the_radius(name):
    context = example(name)
    made = make_ties(context)
    tie = next(p for p in made.parts if p.name == "tie")
    place = next(p for p in made.placements if p.part == "tie")
    up = {d for _, _, distance, d in tie.turned.flats if distance > context.plan.tie.diameter / 2.0 - 2.0}
    assert up == {0.0, 180.0}
    for direction in up:
        a = math.radians(direction)
        normal = [place.rotation[i][0] * math.cos(a) + place.rotation[i][1] * math.sin(a) for i in range(3)]
        assert [abs(round(v, 12)) for v in normal] == [0.0, 0.0, 1.0]


@pytest.mark.parametrize("name", FRONTS)
def test_the_third_flat_looks_up_and_forward_at_both_ends(name):
    context = example(name)
    made = make_ties(context)
    tie = next(p for p in made.parts if p.name == "tie")
    place = next(p for p in made.placements if p.part == "tie")
    third = [f for f in tie.turned.flats if f[3] == 45.0]
    assert len(third) == 2
    a = math.radians(45.0)
    normal = [place.rotation[i][0] * math.cos(a) + place.rotation[i][1] * math.sin(a) for i in range(3)]
    assert normal == pytest.approx([math.sqrt(0.5), 0.0, math.sqrt(0.5)])


@pytest.mark.parametrize("name", FRONTS)
def test_the_tie_reaches_beyond_both_keepers(name):
    context = example(name)
    made = make_ties(context)
    tie = next(p for p in made.placements if p.part == "tie")
    ends = tie.origin[1], tie.origin[1] + context.plan.tie.length
    for place in made.placements:
        if place.part in ("keeper-l", "keeper-r", "tie-collar"):
            assert ends[0] + 10.0 < place.origin[1] < ends[1] - 10.0


def test_a_keeper_is_not_drilled_through_the_larger_holes_of_the_clock_plate():
    keeper = next(p for p in make_ties(example(KINGPIN)).parts if p.name == "keeper-l")
    assert not any("mate" in h.note for h in keeper.profile.holes)
    (note,) = [n for n in keeper.notes if n.startswith("pin holes")]
    # clock plate: pin and 3 mm, 0.493 and 0.431 in; punches by 64ths: 31/64 is 0.484, 27/64 is 0.422
    assert "31/64 in and 27/64 in" in note
    assert "ream the keeper alone" in note


def test_ground_bars_are_bought_at_their_size_and_used_as_ground():
    for part in make_ties(example(KINGPIN)).parts:
        if part.material == "ground-1045":
            assert part.notes[0].startswith("bought: ground ")
            size = max(s.diameter for s in part.turned.steps) / 25.4
            assert any(f"{size:.{n}f} in as ground" in part.notes[0] for n in (3, 4))


def test_a_rear_axle_has_no_tie():
    assert make_ties(example(REAR)).parts == ()


@pytest.mark.parametrize("diameter", ["3/4 in", "1 in", "2 in", "2 1/2 in"])
def test_plates_turned_round_are_refused_with_other_ties(diameter):
    data = raw(KINGPIN)
    data["jig"] = {**data.get("jig", {}), "tie_diameter": diameter}
    context = context_from(data)
    for row in ROWS:
        assert accepted_turns(context, row, flipped=False) > 0
        assert accepted_turns(context, row, flipped=True) == 0
    opening = keeper_opening(context, "l") * np.array([-1.0, 1.0])
    section = points_of(end_section(context.plan.tie))
    assert not any(goes_in(section, opening, t) for t in TURNS[::4])
