"""Tube cut list and axle-shaft measuring sheet: laws of lengths."""

import tomllib
from pathlib import Path

import pytest

from fixturegen.axle.model import axle_of
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.tube_cuts import shaft_readings, tube_cuts

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))


@pytest.fixture(params=EXAMPLES, ids=lambda p: p.stem)
def sheet(request):
    return Sheet.model_validate(tomllib.loads(request.param.read_text(encoding="utf-8")))


def test_a_tube_is_cut_to_what_shows_plus_what_goes_in(sheet):
    for cut, tube in zip(tube_cuts(sheet), (sheet.tubes.left, sheet.tubes.right), strict=True):
        assert cut.length == pytest.approx(float(tube.length) + float(tube.insertion))


def test_the_longer_tube_is_called_long_and_the_other_short(sheet):
    left, right = tube_cuts(sheet)
    if left.length - left.insertion > right.length - right.insertion:
        assert (left.name, right.name) == ("long", "short")
    elif left.exposed != right.exposed:
        assert (left.name, right.name) == ("short", "long")


def test_both_sides_of_the_wheel_mount_width_add_up(sheet):
    axle = axle_of(sheet)
    by = {(r.side, r.what.split(" to ")[1]): r.expected for r in shaft_readings(sheet, axle)}
    middle = "the middle of the carrier bearings"
    assert by["left", middle] + by["right", middle] == pytest.approx(float(sheet.axle.wheel_mount_width))
