"""Estimates by hand: 600 mm at 10 mm/s and so on."""

import pytest

from fixturegen.studies.cut_costs import CutWork, Speeds, cost_of, together

SPEEDS = Speeds(cut=10.0, mark=50.0, travel=100.0, pierce=0.5)


def test_time_is_length_over_speed_and_pierces_on_top():
    assert CutWork(4, 600.0, 250.0, 1000.0).time(SPEEDS) == pytest.approx(60.0 + 5.0 + 10.0 + 2.0)


def test_two_sheets_take_the_time_of_both():
    one, two = CutWork(4, 600.0, 250.0, 1000.0), CutWork(1, 30.0, 0.0, 20.0)
    assert together((one, two)).time(SPEEDS) == pytest.approx(one.time(SPEEDS) + two.time(SPEEDS))
    assert together(()) == CutWork(0, 0.0, 0.0, 0.0)


def test_the_remnant_keeps_its_share_of_the_price():
    assert cost_of(200.0, 3.0, 4.0) == 150.0
    assert cost_of(None, 3.0, 4.0) is None
