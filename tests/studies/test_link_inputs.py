"""From the sheet's points to the linkage: mirrored where the right side is left out, refused where one is missing."""

import copy
import tomllib

import pytest

from fixturegen.axle.model import axle_of
from fixturegen.errors import InputFault
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.link_inputs import linkage_on, links_on, shaft_on, stance_of, steering_on, struts_on, vehicle_on
from fixturegen.studies.link_study import NAMED, link_numbers, study_of
from tests.studies.study_jobs import DROPOUT, EXAMPLES, INTEGRAL, REAR, case

INCH = 25.4


def made(name=DROPOUT, change=lambda links: None):
    data = copy.deepcopy(tomllib.loads((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")))
    change(data["links"])
    sheet = Sheet.model_validate(data)
    return sheet, axle_of(sheet)


def test_the_right_link_is_the_left_one_mirrored_until_it_is_measured():
    links = {k.name: k for k in linkage_on(*made()).links}
    left, right = links["lower-left"], links["lower-right"]
    assert right.frame.point == (left.frame.point[0], -left.frame.point[1], left.frame.point[2])
    assert right.axle.point == (left.axle.point[0], -left.axle.point[1], left.axle.point[2])

    def measured(given):
        given["lower"]["right"] = copy.deepcopy(given["lower"]["left"])
        given["lower"]["right"]["frame"] = ["-36 in", "-14 1/8 in", "20 1/4 in"]
        given["lower"]["right"]["axle"] = ["-3 in", "-18 in", "16 3/4 in"]

    links = {k.name: k for k in linkage_on(*made(change=measured)).links}
    assert links["lower-right"].frame.point[1] == pytest.approx(-14.125 * INCH)


def test_the_stance_is_that_of_the_sheet():
    sheet, axle = made()
    stance = stance_of(sheet, axle)
    # 66 in between wheel mount surfaces; rims 8 1/2 in bead to bead and an inch of flanges (common practice, no source)
    out = (float(sheet.vehicle.wheel_width) + INCH) / 2.0 - float(sheet.vehicle.wheel_backspacing)
    assert stance.half_track == pytest.approx(33.0 * INCH + out)
    assert stance.front
    assert tuple(stance.origin) == (0.0, 0.0, pytest.approx(17.5 * INCH))
    sheet, axle = made(REAR)
    assert tuple(stance_of(sheet, axle).origin) == (-2845.0, 0.0, 445.0)


def test_a_missing_link_and_a_missing_section_are_named():
    with pytest.raises(InputFault, match="track_bar"):
        linkage_on(*made(change=lambda links: links.pop("track_bar")))
    sheet, axle, _ = case(INTEGRAL, links=None)
    with pytest.raises(InputFault, match=r"\[links\]"):
        links_on(sheet)
    assert link_numbers(sheet, axle) == {}


def test_shaft_steering_struts_and_shares_come_from_the_sheet():
    sheet, axle = made()
    steering, shaft = steering_on(sheet, axle), shaft_on(sheet, axle)
    assert steering is not None and shaft is not None
    left, right = steering.left, steering.right
    assert right.tie.point[1] == -left.tie.point[1]
    assert left.axis == next(k.axis for k in axle.knuckles if k.side == "left")
    assert shaft.case_axis[0] > 0.0 > shaft.case_axis[2]  # toward a front axle and down
    assert [kind for kind, _ in struts_on(sheet)] == ["spring", "shock", "bump stop", "strap"]
    assert vehicle_on(sheet, axle).drive_share == 0.5
    rear_sheet, rear = made(REAR)
    assert steering_on(rear_sheet, rear) is None
    assert vehicle_on(rear_sheet, rear).brake_share == 0.35  # common practice, no source


def test_numbers_are_there_for_every_pose_and_mirror_each_other_where_the_truck_does():
    sheet, axle = made(REAR)
    numbers = link_numbers(sheet, axle)
    for pose in NAMED:
        assert f"links.anti_squat.{pose.lower()}" in numbers
    # the example is the same left and right: crossed one way is the other's mirror image
    assert numbers["links.sideways.cross-l"].value == pytest.approx(-numbers["links.sideways.cross-r"].value)
    assert numbers["links.anti_squat.cross-l"].value == pytest.approx(numbers["links.anti_squat.cross-r"].value)
    assert numbers["links.sideways.bump"].value == pytest.approx(0.0, abs=1e-9)


def test_the_study_has_ride_in_all_its_runs():
    study = study_of(*made())
    for travel in (study.named, study.heave, study.roll):
        assert 0.0 in travel.poses.heave and 0.0 in travel.poses.roll
