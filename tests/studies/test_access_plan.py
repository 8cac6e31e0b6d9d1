"""What comes off and on which ways, as numbers: against trade figures, closed forms and laws."""

import math

import numpy as np
import pytest

from fixturegen.axle.frames import turn_about_y
from fixturegen.sheet.specs import Access
from fixturegen.studies import access_tools as tools
from fixturegen.studies.access_plan import (
    PLAY,
    fittings_of,
    missing_fittings,
    removals_at_face,
    removals_of_fittings,
    removals_of_shafts,
)
from fixturegen.studies.access_records import Shift, Turn
from tests.studies.study_jobs import DROPOUT, INTEGRAL, REAR, case

INCH = 25.4
PLUG = {"kind": "fill plug", "at": ["-5 in", "0 in", "0 in"], "out": ["-1", "0", "0"], "across": "1.1 in"}


def of(name, group, **changes):
    sheet, axle, _ = case(name, **changes)
    return [r for r in removals_at_face(sheet, axle) if r.group == group], sheet, axle


def test_a_socket_for_a_three_eighths_bolt_wants_the_radius_the_trade_leaves_free():
    # a 9/16 socket is about 0.82 in across, so 0.45 in of radius is left free (common practice, no source)
    tool = tools.tool_for(tools.across_flats("3/8-16"))
    assert tool.socket / 2.0 + PLAY == pytest.approx(0.45 * INCH, abs=0.01 * INCH)
    assert tools.tool_for(tools.across_flats("M10x1.5")).socket > 16.0 * 2.0 / math.sqrt(3.0)


@pytest.mark.parametrize(("flats", "wide"), [(10.0, 28.0), (13.0, 34.3), (17.0, 42.7)])
def test_an_open_end_is_as_wide_as_the_standard_allows(flats, wide):
    # ISO 3318, largest width of an open end, from memory
    one = tools.wrench_try(np.zeros(3), np.array([1.0, 0.0, 0.0]), 8.0, flats)
    assert one.rods[0].diameter == pytest.approx(wide)


def test_what_the_sheet_measured_of_a_socket_goes_before_the_table():
    given = Access.model_validate({"socket": "21 mm", "socket_length": "40 mm"})
    tool = tools.tool_for(tools.across_flats("3/8-16"), given)
    assert (tool.socket, tool.length, tool.source) == (21.0, 40.0, "measured")


@pytest.mark.parametrize("name", [DROPOUT, INTEGRAL, REAR])
def test_each_bolt_stands_square_on_the_face_at_its_place_of_the_sheet(name):
    bolts, _, axle = of(name, "bolts")
    # the face leans by the angle the pinion stands off square; law: a rotation keeps lengths and angles
    square = turn_about_y(-axle.table_turn) @ np.array([axle.face_sign, 0.0, 0.0])
    assert len(bolts) == len(axle.studs) == 10
    for bolt, (y, z) in zip(bolts, axle.studs, strict=True):
        low = bolt.tries[0].rods[0]
        way = np.array(low.end) - np.array(low.begin)
        assert way / np.linalg.norm(way) == pytest.approx(square)
        back = turn_about_y(axle.table_turn) @ np.array(low.begin)
        assert back[1:] == pytest.approx([y, z])
        assert abs(back[0]) > abs(axle.face_distance)


def test_a_socket_comes_off_over_the_stud_that_stands_in_it():
    bolts, sheet, _ = of(DROPOUT, "bolts")
    one = bolts[0].tries[0]
    stand = sheet.housing.face.studs.length - Access().carrier_flange
    nut = 0.875 * 0.375 * INCH
    long = math.dist(one.rods[0].begin, one.rods[0].end) + tools.OFF
    assert long == pytest.approx(1.125 * INCH + max(stand, nut))  # a 9/16 socket 1 1/8 in long
    long_studs, sheet, _ = of(DROPOUT, "bolts", housing__face__studs__length="2 in")
    more = math.dist(long_studs[0].tries[0].rods[0].begin, long_studs[0].tries[0].rods[0].end)
    assert more + tools.OFF == pytest.approx(1.125 * INCH + 1.5 * INCH)


def test_each_extension_lifts_ratchet_and_handle_by_its_length():
    bolts, _, _ = of(REAR, "bolts", access={"extensions": ["6 in", "3 in"]})
    plain, three, six = bolts[0].tries[:3]
    assert three.words == "with socket, extension of 3 in and ratchet"
    for longer, by in ((three, 3.0), (six, 6.0)):
        lift = np.array(longer.swing.foot) - np.array(plain.swing.foot)
        assert np.linalg.norm(lift) == pytest.approx(by * INCH)


def test_the_ring_gear_is_out_of_the_face_when_the_third_member_goes_aside():
    # closed form: bore axis to face, and half the ring gear behind it
    (one,), sheet, axle = of(REAR, "third-member")
    straight = one.tries[0].steps[0]
    assert straight.length > axle.face_distance + sheet.third_member.ring_gear_diameter / 2.0
    assert one.tries[0].steps[1].way == (0.0, 0.0, -1.0)
    assert "77 lb (35 kg)" in one.notes


@pytest.mark.parametrize("name", [DROPOUT, REAR])
def test_a_third_member_is_not_tipped_before_its_flange_is_off_the_studs(name):
    (one,), sheet, axle = of(name, "third-member")
    b, radius = axle.face_distance, sheet.housing.face.outside_diameter / 2.0
    stud = float(sheet.housing.face.studs.length)
    square = turn_about_y(-axle.table_turn) @ np.array([axle.face_sign, 0.0, 0.0])
    tipped = [t for t in one.tries if any(isinstance(s, Turn) for s in t.steps)]
    assert len(tipped) == 4
    for way in tipped:
        out, turn = way.steps[0], way.steps[1]
        assert isinstance(out, Shift) and isinstance(turn, Turn)
        # the rim of the flange turned about the bearing bores: once it is tipped it stands off the studs all round
        spin = turn_about_y(turn.angle)
        for side in (1.0, -1.0):
            rim = turn_about_y(-axle.table_turn) @ np.array([axle.face_sign * b, 0.0, side * radius])
            off = float((spin @ rim) @ square) + out.length - b
            assert off >= stud
    downs = [t for t in tipped if "down" in t.words.split("tipped")[1][:6]]
    for way in downs:
        turn = way.steps[1]
        nose = turn_about_y(turn.angle) @ np.array([axle.pinion_sign * 100.0, 0.0, 0.0])
        assert nose[2] < 0.0


def test_shafts_come_out_by_what_the_shaft_list_says():
    sheet, axle, _ = case(REAR)
    left, right = removals_of_shafts(sheet, axle)
    for one, s in ((left, 1.0), (right, -1.0)):
        (rod,) = one.tries[0].rods
        expected = axle.half_width - s * axle.bearing_middle
        assert rod.begin[1] == pytest.approx(s * axle.half_width)
        assert rod.end[1] == pytest.approx(s * (axle.half_width + expected))
        assert rod.diameter == 184.0


def test_a_front_shaft_comes_out_through_the_arms_from_its_joint_on():
    sheet, axle, _ = case(DROPOUT)
    left, _ = removals_of_shafts(sheet, axle)
    (rod,) = left.tries[0].rods
    assert rod.begin[1] == pytest.approx(axle.knuckles[0].axis_point[1])
    assert rod.diameter == pytest.approx(3.5 * INCH) and "knuckle-left" not in left.leave


def test_fittings_of_both_sections_are_looked_at_once_each_and_the_missing_named():
    access = {"fittings": [{**PLUG, "name": "fill plug"}, {**PLUG, "name": "vent", "kind": "breather"}]}
    truss = {"plate": "1/4 in", "fittings": [{**PLUG, "name": "Fill plug"}]}
    sheet, _, _ = case(DROPOUT, access=access, truss=truss)
    assert [f.kind for f in fittings_of(sheet)] == ["fill plug", "breather"]
    assert missing_fittings(sheet) == ("drain plug",)
    plug, vent = removals_of_fittings(sheet)
    assert plug.tries[0].swing is not None and vent.tries[0].swing is None
    assert (plug.label, vent.label) == ("Fill plug", "breather vent")
