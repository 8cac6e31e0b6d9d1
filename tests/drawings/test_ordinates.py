"""Figures beside a view: no two on one another, each as near its place as can be."""

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import optimize

from fixturegen.drawings.boards import Board, Frame
from fixturegen.drawings.ordinates import PITCH, Ordinate, draw_ordinates, merged, room_for, spread
from fixturegen.drawings.record import View
from fixturegen.drawings.written import Writer, fraction, scale_words
from fixturegen.pages import Words
from fixturegen.pages.figure import item_box

PLACES = st.lists(st.floats(0.0, 200.0), min_size=1, max_size=30).map(sorted)


@settings(max_examples=60, deadline=None)
@given(PLACES)
def test_places_are_spread_by_the_pitch_and_stay_in_order_within_the_band(places):
    found = spread(places, 5.0, 0.0, 200.0)
    assert all(b - a >= 5.0 - 1e-6 for a, b in itertools.pairwise(found))
    assert found[0] >= -1e-9
    assert found[-1] <= 200.0 + 1e-6


def test_places_already_apart_stay_where_they_are():
    assert spread([1.0, 10.0, 30.0], 5.0, 0.0, 100.0) == [1.0, 10.0, 30.0]


@pytest.mark.parametrize(("places", "wanted"), [([10.0, 10.0], [7.5, 12.5]), ([10.0, 10.0, 10.0], [5.0, 10.0, 15.0])])
def test_places_on_one_another_part_evenly(places, wanted):
    # least squares by hand: the mean stays, the pitch is kept
    assert spread(places, 5.0, 0.0, 100.0) == pytest.approx(wanted)


def test_no_other_places_lie_nearer():
    """Against scipy's minimiser on the same quadratic problem."""
    places = [3.0, 4.0, 4.5, 20.0, 21.0, 40.0]
    rows = [{"type": "ineq", "fun": lambda p, i=i: p[i + 1] - p[i] - 5.0} for i in range(5)]
    best = optimize.minimize(
        lambda p: sum((a - b) ** 2 for a, b in zip(p, places, strict=True)), [0, 6, 12, 18, 24, 40], constraints=rows
    )
    found = spread(places, 5.0, -100.0, 200.0)
    assert found == pytest.approx(best.x, abs=1e-3)


def test_a_place_named_twice_is_written_once_from_the_end_nearest_the_band():
    two = [Ordinate(5.0, 8.0, "corner", 3), Ordinate(5.001, 2.0, "edge", 2)]
    assert [(o.name, o.across) for o in merged(two, low=True)] == [("edge", 2.0)]
    assert [o.across for o in merged(two, low=False)] == [8.0]


def _figures(count: int, pitch: float, room: float = 150.0):
    board, view = Board(250.0, 250.0), View("v", 1.0, 20.0, 100.0)
    ordinates = [Ordinate(pitch * i, 0.0, f"edge {i}", i) for i in range(count)]
    sizes, dropped = draw_ordinates(
        board, view, "bottom", Frame(10.0, 40.0, 10.0 + room, 95.0), ordinates, Writer("in"), 0.0
    )
    return [i for i in board.figure.items if isinstance(i, Words)], sizes, dropped


def _overlaps(words):
    boxes = [item_box(w) for w in words]
    return [
        (a, b)
        for a, b in itertools.combinations(boxes, 2)
        if min(a[2], b[2]) - max(a[0], b[0]) > 0.3 and min(a[3], b[3]) - max(a[1], b[1]) > 0.3
    ]


@pytest.mark.parametrize("pitch", [0.1, 1.0, 4.0])
def test_figures_are_never_written_over_one_another(pitch):
    words, sizes, dropped = _figures(30, pitch)
    assert len(sizes) == 30
    assert dropped == 0
    assert _overlaps(words) == []


def test_figures_written_at_their_own_places_would_be(monkeypatch):
    monkeypatch.setattr("fixturegen.drawings.ordinates.spread", lambda places, *_: list(places))
    assert _overlaps(_figures(30, 1.0)[0])


def test_where_there_is_no_room_the_last_ranks_are_left_to_the_table_and_counted():
    words, sizes, dropped = _figures(60, 1.0, room=100.0)
    assert len(sizes) == room_for(100.0 - PITCH) < 60
    assert dropped == 60 - len(sizes)
    assert [s.name for s in sizes] == [f"edge {i}" for i in range(len(sizes))]
    assert _overlaps(words) == []


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (66.675, "2 5/8"),  # 2.625 in
        (66.7, "2 5/8 (+0.0010)"),  # 2.62598 in by division
        (-12.7, "-1/2"),
        (100.0, "3 15/16 (-0.0005)"),  # 3.93701 in; 3 15/16 is 3.9375
    ],
)
def test_a_fraction_says_what_it_leaves_out(value, words):
    assert fraction(value) == words


def test_decimal_first_in_the_unit_of_the_job_and_the_other_beside_it():
    assert Writer("in").pair(66.7) == "2.626 [66.70]"
    assert Writer("mm").pair(66.7) == "66.70 [2.626]"
    assert Writer("in").pair(-0.0001) == "0.000 [0.00]"
    assert scale_words(1.0 / 12.0) == "1:12"
    assert scale_words(2.0) == "2:1"
    assert math.isclose(float(Writer("in").fine(6.35).split()[0]), 0.25)
