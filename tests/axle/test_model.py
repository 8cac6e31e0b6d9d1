"""The idealized axle: stations, datum face, caster through the frames."""

import copy
import tomllib
from pathlib import Path

import numpy as np
import pytest

from fixturegen.axle import frames
from fixturegen.axle.model import axle_of, to_table
from fixturegen.sheet.specs import Sheet

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def raw():
    return tomllib.loads((EXAMPLES / "front-dropout-kingpin.toml").read_text(encoding="utf-8"))


def changed(raw, **values):
    data = copy.deepcopy(raw)
    for dotted, value in values.items():
        *path, last = dotted.split("__")
        node = data
        for key in path:
            node = node[key]
        node[last] = value
    return Sheet.model_validate(data)


def test_seventeen_on_the_bench_and_pinion_raised_ten_gives_seven_in_the_vehicle(raw):
    # common practice, no source
    axle = axle_of(changed(raw, axle__caster="7 deg", axle__pinion_angle="10 deg"))
    assert axle.bench_caster == pytest.approx(17.0)
    for knuckle in axle.knuckles:
        in_vehicle = frames.turn_about_y(axle.vehicle_turn(10.0)) @ np.array(knuckle.axis)
        assert frames.caster_of(in_vehicle) == pytest.approx(7.0, abs=1e-9)


def test_the_plate_is_cut_from_the_face_for_16_5_when_the_face_angle_is_a_half(raw):
    # common practice, no source: the carrier face is set vertical and the face angle is allowed for
    axle = axle_of(changed(raw, axle__caster="7 deg", axle__pinion_angle="10 deg", housing__face__angle="0.5 deg"))
    assert axle.plate_caster == pytest.approx(16.5)
    rotation, _ = to_table(axle, 300.0)
    for knuckle in axle.knuckles:
        assert frames.caster_of(rotation @ np.array(knuckle.axis)) == pytest.approx(16.5, abs=1e-9)


def test_a_raised_nose_of_a_front_pinion_points_up_and_back(raw):
    axle = axle_of(changed(raw))
    nose = frames.turn_about_y(axle.vehicle_turn(10.0)) @ np.array([axle.pinion_sign, 0.0, 0.0])
    assert nose[0] < 0.0 and nose[2] == pytest.approx(np.sin(np.radians(10.0)))


def test_the_carrier_face_of_a_front_drop_out_looks_to_the_rear_and_a_cover_face_to_the_front(raw):
    assert axle_of(changed(raw)).face_sign == -1
    assert axle_of(changed(raw, housing__kind="integral")).face_sign == 1


def test_knuckles_are_mirror_images_at_the_station_the_sheet_asks_for(raw):
    sheet = changed(raw)
    left, right = axle_of(sheet).knuckles
    assert left.axis_point[1] == pytest.approx(sheet.axle.wheel_mount_width / 2 - sheet.knuckles.axis_to_wheel_mount)
    assert np.array(left.upper.centre) * [1, -1, 1] == pytest.approx(np.array(right.upper.centre))
    spread = np.linalg.norm(np.subtract(left.upper.centre, left.lower.centre))
    assert spread == pytest.approx(sheet.knuckles.pivot_spread)


def test_a_wider_left_tube_moves_only_the_left_tube_end(raw):
    before, after = axle_of(changed(raw)), axle_of(changed(raw, tubes__left={"length": "15 in"}))
    assert after.tube_ends[0] == before.tube_ends[0]
    assert after.tube_ends[1] != before.tube_ends[1]
