"""From [links.search] to what a search is asked for: frames, mirror images, faults in sentences."""

import copy
import math
import tomllib

import pytest

from fixturegen.axle.model import axle_of
from fixturegen.errors import InputFault
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.link_asked import search_on, wanted_on
from fixturegen.studies.link_wishes import SCALES, Beyond, Box, Rail, Room, Row, Wish, refuse_wanted
from tests.studies.study_jobs import DROPOUT, EXAMPLES, REAR


def made(change=lambda links: None, name=REAR):
    data = copy.deepcopy(tomllib.loads((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")))
    change(data["links"])
    sheet = Sheet.model_validate(data)
    return sheet, axle_of(sheet)


def with_point(**keys):
    return lambda links: links["search"].update(points=[keys])


def told(change):
    with pytest.raises(InputFault) as refused:
        wanted_on(*made(change))
    (fault,) = refused.value.faults
    return fault


def test_the_example_is_a_search_that_makes_sense():
    wanted = wanted_on(*made())
    refuse_wanted(wanted)
    assert wanted.unit == "mm"
    assert wanted.link_radius == 34.0
    assert (wanted.stroke.bump, wanted.stroke.droop) == (125.0, 150.0)


def test_every_metric_a_wish_may_have_is_a_key_and_no_other():
    from fixturegen.sheet.specs.link_search import Wants

    assert set(Wants.model_fields) == set(SCALES)


def test_coordinates_left_out_stay_where_the_links_have_them():
    (room,) = wanted_on(*made(with_point(point="upper-left.frame", z=["640 mm", "690 mm"]))).rooms
    assert room == Room("upper-left.frame", (-2030.0, 470.0, 640.0), (-2030.0, 470.0, 690.0))


def test_holes_and_pitches_are_taken_over():
    holes = {"first": ["-1840 mm", "360 mm", "460 mm"], "step": ["1 mm", "2 mm", "25 mm"], "count": 4}
    (row,) = wanted_on(*made(with_point(point="lower-left.frame", holes=holes))).rooms
    assert row == Row("lower-left.frame", (-1840.0, 360.0, 460.0), (1.0, 2.0, 25.0), 4)
    (room,) = wanted_on(*made(with_point(point="upper-left.frame", z=["640 mm", "690 mm"], pitch_z="1 in"))).rooms
    assert room.pitch == (0.0, 0.0, 25.4)


def test_a_point_given_in_the_axle_frame_has_its_room_there():
    def change(links):
        links["upper"]["left"].update(at="axle", axle=["10 mm", "130 mm", "220 mm"])
        with_point(point="upper-left.axle", x=["0 mm", "20 mm"])(links)

    (room,) = wanted_on(*made(change)).rooms
    assert room.at == "axle"
    assert room.low == pytest.approx((0.0, 130.0, 220.0))
    assert room.high == pytest.approx((20.0, 130.0, 220.0))


def test_wishes_without_one_end_are_open_there():
    def change(links):
        links["search"]["want"] = {
            "roll_steer": [{"pose": "cross-L", "most": "0.05", "weight": "2"}],
            "anti_squat": [{"pose": "bump", "least": "50"}],
            "roll_centre": [{"pose": "ride", "least": "20 in", "most": "25 in"}],
        }

    assert wanted_on(*made(change)).wishes == (
        Wish("anti_squat.bump", 50.0, math.inf, 1.0, "mm"),
        Wish("roll_centre.ride", 508.0, 635.0, 1.0, "mm"),
        Wish("roll_steer.cross-L", -math.inf, 0.05, 2.0, "mm"),
    )


def test_what_is_on_both_sides_comes_twice_under_one_name():
    def change(links):
        box = {"name": "tank", "x": ["1 mm", "2 mm"], "y": ["3 mm", "4 mm"], "z": ["5 mm", "6 mm"], "both_sides": True}
        rail = {"name": "rail", "begin": ["1 mm", "2 mm", "3 mm"], "end": ["-9 mm", "2 mm", "3 mm"]}
        rail |= {"width": "50 mm", "height": "100 mm"}
        plane = {"name": "tyre", "through": ["0 mm", "600 mm", "0 mm"], "beyond": ["0", "1", "0"], "both_sides": True}
        links["search"].update(boxes=[box], rails=[rail, {**rail, "both_sides": False}], planes=[plane])

    assert wanted_on(*made(change)).keep_out == (
        Box("tank", (1.0, 3.0, 5.0), (2.0, 4.0, 6.0)),
        Box("tank", (1.0, -4.0, 5.0), (2.0, -3.0, 6.0)),
        Rail("rail", (1.0, 2.0, 3.0), (-9.0, 2.0, 3.0), 50.0, 100.0),
        Rail("rail", (1.0, -2.0, 3.0), (-9.0, -2.0, 3.0), 50.0, 100.0),
        Rail("rail", (1.0, 2.0, 3.0), (-9.0, 2.0, 3.0), 50.0, 100.0),
        Beyond("tyre", (0.0, 600.0, 0.0), (0.0, 1.0, 0.0)),
        Beyond("tyre", (0.0, -600.0, 0.0), (0.0, -1.0, 0.0)),
    )


def test_a_point_that_is_not_there_is_named_with_the_nearest_one():
    fault = told(with_point(point="uper-left.frame", z=["640 mm", "690 mm"]))
    assert fault.key == "links.search.points[1].point"
    assert "did you mean upper-left.frame?" in fault.sentence()
    assert "four-link" in fault.given


@pytest.mark.parametrize(
    ("keys", "key", "words"),
    [
        ({}, "links.search.points[1]", "without any range"),
        ({"z": ["640 mm"]}, "links.search.points[1].z", "write both ends of the range"),
        ({"x": ["-2 m", "-1 m"], "pitch_z": "25 mm"}, "links.search.points[1].pitch_z", "without a range"),
        (
            {
                "z": ["640 mm", "690 mm"],
                "holes": {"first": ["0 mm"] * 3, "step": ["0 mm", "0 mm", "1 in"], "count": 3},
            },
            "links.search.points[1]",
            "leave one of the two out",
        ),
    ],
    ids=["nothing", "one end", "pitch alone", "both ways"],
)
def test_a_point_said_in_no_way_or_in_two_is_refused(keys, key, words):
    fault = told(with_point(point="upper-left.frame", **keys))
    assert fault.key == key
    assert words in fault.sentence()


def test_a_sheet_without_a_search_is_told_what_to_add():
    sheet, axle = made(lambda links: links.pop("search", None), name=DROPOUT)
    with pytest.raises(InputFault, match=r"\[\[links\.search\.points\]\]"):
        search_on(sheet)
    with pytest.raises(InputFault, match=r"links\.search"):
        wanted_on(sheet, axle)
