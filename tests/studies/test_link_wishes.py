"""What a search is asked for: faults in sentences, words, and points from shares of their room."""

import math
from dataclasses import replace

import numpy as np
import pytest

from fixturegen.errors import InputFault
from fixturegen.studies.link_layout import Layout
from fixturegen.studies.link_points import both_ends, points_of
from fixturegen.studies.link_wishes import Beyond, Box, Plane, Rail, Room, Row, Wanted, Wish, refuse_wanted
from tests.axle import invented_linkages as made
from tests.axle.invented_linkages import INCH
from tests.studies import plane_case

ROOM = Room(*plane_case.spot("upper.frame", 22, 28))
GOOD = Wanted(
    plane_case.linkage(), plane_case.VEHICLE, plane_case.STROKE, (ROOM,), (Wish("anti_squat.ride", 100.0, 140.0),)
)
X, Y, Z = ROOM.low


def test_what_makes_sense_is_not_refused():
    refuse_wanted(GOOD)
    refuse_wanted(replace(GOOD, keep_out=(Box("tank", (0.0, 0.0, 0.0), (1.0, 1.0, 1.0)),)))


FAULTS = {
    "a point that is not there": ({"rooms": (replace(ROOM, point="uper.frame"),)}, "did you mean upper.frame"),
    "a link of another kind": ({"rooms": (replace(ROOM, point="upper-left.frame"),)}, "does not have"),
    "a range reversed": ({"rooms": (replace(ROOM, low=(X, Y, 30 * INCH)),)}, "z from 30 in to 28 in"),
    "a pitch longer than the range": (
        {"rooms": (replace(ROOM, pitch=(0.0, 0.0, 7 * INCH)),)},
        "shorter than the range",
    ),
    "a pitch below nothing": ({"rooms": (replace(ROOM, pitch=(0.0, 0.0, -1.0)),)}, "0 or more"),
    "a face that misses": (
        {"rooms": (replace(ROOM, plane=Plane((1.0, 0.0, 0.0), (X + 1.0, 0.0, 0.0))),)},
        "a face that misses the box",
    ),
    "one point twice": ({"rooms": (ROOM, ROOM)}, "the point twice"),
    "a row without a step": ({"rooms": (Row("upper.frame", ROOM.low, (0.0, 0.0, 0.0), 4),)}, "at least one hole"),
    "no room": ({"rooms": ()}, "no point"),
    "no wish": ({"wishes": ()}, "no wish"),
    "a metric that is not known": ({"wishes": (Wish("antisquat.ride", 1.0),)}, "did you mean anti_squat"),
    "a pose that is not known": ({"wishes": (Wish("anti_squat.bumps", 1.0),)}, "did you mean bump"),
    "a wish reversed": ({"wishes": (Wish("anti_squat.ride", 2.0, 1.0),)}, "least not above most"),
    "a wish of nothing": ({"wishes": (Wish("anti_squat.ride"),)}, "neither least nor most"),
    "a wish of no weight": ({"wishes": (Wish("anti_squat.ride", 1.0, weight=0.0),)}, "above 0"),
    "a box without room": ({"keep_out": (Box("tank", (0.0, 0.0, 0.0), (1.0, 0.0, 1.0)),)}, "a box without room"),
    "an upright rail": ({"keep_out": (Rail("rail", (0.0, 0.0, 0.0), (0.0, 0.0, 9.0), 2.0, 2.0),)}, "stands upright"),
    "a plane without a side": ({"keep_out": (Beyond("floor", (0.0, 0.0, 0.0), (0.0, 0.0, 0.0)),)}, "no length"),
}


@pytest.mark.parametrize("name", FAULTS)
def test_what_makes_none_is_said_in_one_sentence(name):
    change, words = FAULTS[name]
    with pytest.raises(InputFault) as refused:
        refuse_wanted(replace(GOOD, **change))
    (fault,) = refused.value.faults
    assert words in fault.sentence()
    assert fault.key.startswith("links.search")
    assert fault.allowed
    assert fault.remedy


def test_every_fault_is_told_at_once():
    with pytest.raises(InputFault) as refused:
        refuse_wanted(replace(GOOD, rooms=(replace(ROOM, point="x.frame"),), wishes=(Wish("squat.ride", 1.0),)))
    assert len(refused.value.faults) == 2


def test_leaf_springs_cannot_be_searched():
    with pytest.raises(InputFault, match="leaf-springs"):
        refuse_wanted(replace(GOOD, linkage=made.leaves()))


def test_wishes_are_read_in_the_units_of_the_shop():
    assert Wish("roll_centre.ride", high=508.0).words == "the roll centre's height at ride of at most 20 in"
    assert Wish("roll_centre.ride", high=508.0, unit="mm").words == "the roll centre's height at ride of at most 508 mm"
    assert Wish("anti_squat.bump", 50.0).words == "anti-squat at bump of at least 50.0 %"
    assert "from -0.020 deg/deg to 0.050 deg/deg" in Wish("roll_steer.ride", -0.02, 0.05).words
    # a shortness is never told as nothing
    assert Wish("pinion_angle.bump", 9.0).said_off(0.0123) == "0.012 deg"
    assert Wish("roll_centre.ride", 9.0).said_off(0.3) == "0.012 in"


def layout(*rooms, linkage=None):
    return Layout(replace(GOOD, rooms=rooms, linkage=linkage or GOOD.linkage))


def place(made_by, linkage, name, share):
    ends, _, outside = made_by.made(np.atleast_2d(share))
    i, e = next(p for p in points_of(linkage) if p.name == name).members[0]
    return ends[:, e, i], outside


def test_shares_of_nothing_and_one_are_the_corners():
    box = Room("upper.frame", (X, -10.0, Z), (X + 50.0, 20.0, Z))
    found, _ = place(layout(box), GOOD.linkage, "upper.frame", [[0.0, 0.0], [1.0, 1.0], [0.5, 0.25]])
    assert found == pytest.approx(np.array([[X, -10.0, Z], [X + 50, 20.0, Z], [X + 25, -2.5, Z]]))


def test_points_without_room_stay_and_a_left_one_takes_its_fellow_along():
    linkage = made.splayed()
    box = Room("lower-left.frame", (-1800.0, 300.0, 500.0), (-1700.0, 400.0, 600.0))
    ends, _, _ = layout(box, linkage=linkage).made(np.array([[0.2, 0.7, 0.4]]))
    names = linkage.names
    left, right = (ends[0, 0, names.index(n)] for n in ("lower-left", "lower-right"))
    assert left == pytest.approx([-1780.0, 370.0, 540.0])
    assert right == pytest.approx([-1780.0, -370.0, 540.0])
    was = both_ends(linkage)
    stay = np.ones((2, 4), dtype=bool)
    stay[0, [names.index("lower-left"), names.index("lower-right")]] = False
    assert np.array_equal(ends[0][stay], was[stay])


def test_a_fellow_with_room_of_its_own_is_no_mirror_image():
    linkage = made.splayed()
    rooms = (
        Room("lower-left.frame", (-1800.0, 300.0, 500.0), (-1700.0, 300.0, 500.0)),
        Room("lower-right.frame", (-1900.0, -310.0, 510.0), (-1900.0, -310.0, 520.0)),
    )
    ends, _, _ = layout(*rooms, linkage=linkage).made(np.array([[0.0, 1.0]]))
    assert ends[0, 0, linkage.names.index("lower-right")] == pytest.approx([-1900.0, -310.0, 520.0])


def test_every_share_lies_on_a_hole():
    row = Row("upper.frame", (X, 0.0, Z), (3.0, 0.0, 25.0), 5)
    found, _ = place(layout(row), GOOD.linkage, "upper.frame", np.linspace(0.0, 1.0, 41)[:, None])
    hole = (found - row.first) @ np.array(row.step) / (9.0 + 625.0)
    assert hole == pytest.approx(np.round(hole), abs=1e-9)
    assert sorted(set(np.round(hole).astype(int))) == [0, 1, 2, 3, 4]
    pitched = replace(ROOM, pitch=(0.0, 0.0, 40.0))  # 152.4 mm of room: holes at 0, 40, 80 and 120
    found, _ = place(layout(pitched), GOOD.linkage, "upper.frame", np.linspace(0.0, 1.0, 41)[:, None])
    assert sorted(set(np.round(found[:, 2] - Z, 6))) == [0.0, 40.0, 80.0, 120.0]


def test_holes_found_once_are_the_same_when_looked_at_again():
    for width, pitch in ((152.4, 40.0), (100.0, 25.0), (124.9, 25.0), (125.1, 25.0), (7.0, 7.0)):
        made_by = layout(replace(ROOM, high=(X, Y, Z + width), pitch=(0.0, 0.0, pitch)))
        ends, snapped, _ = made_by.made(np.linspace(0.0, 1.0, 31)[:, None])
        again, same, _ = made_by.made(snapped)
        assert np.array_equal(ends, again), (width, pitch)
        assert np.array_equal(snapped, same)


def test_a_face_holds_the_point_and_says_how_far_it_leaves_the_box():
    # a face that leans back by 45 degrees through the middle of the box
    face = Plane((1.0, 0.0, 1.0), (X, 0.0, Z + 50.0))
    box = Room("upper.frame", (X - 10.0, 0.0, Z), (X + 10.0, 0.0, Z + 100.0), plane=face)
    made_by = layout(box)
    assert made_by.count == 1
    found, outside = place(made_by, GOOD.linkage, "upper.frame", np.linspace(0.0, 1.0, 9)[:, None])
    assert (found - face.through) @ np.array(face.normal) == pytest.approx(0.0, abs=1e-9)
    over = np.maximum(0.0, np.maximum(np.abs(found[:, 0] - X) - 10.0, np.abs(found[:, 2] - Z - 50.0) - 50.0))
    assert outside[:, 0] == pytest.approx(over)
    assert outside.max() > 1.0 or over.max() == 0.0


def test_room_in_the_axle_frame_is_a_box_there():
    linkage = made.splayed()
    stance = linkage.stance
    low, high = (-20.0, 80.0, 250.0), (30.0, 120.0, 320.0)
    box = Room("upper-left.axle", low, high, at="axle")
    share = np.random.default_rng(3).random((20, 3))
    found, _ = place(layout(box, linkage=linkage), linkage, "upper-left.axle", share)
    there = np.array([stance.to_axle(tuple(p)) for p in found])
    assert there == pytest.approx(np.array(low) + share * (np.array(high) - low), abs=1e-9)
    # the pinion is 2 deg up: the same numbers taken in the vehicle's frame are another box
    assert np.abs(found - stance.origin - there).max() > 1.0


def test_a_linkage_gives_its_own_shares_back():
    linkage = made.splayed()
    was = both_ends(linkage)
    rooms = []
    for name, at in (("lower-left.frame", "vehicle"), ("upper-left.axle", "axle")):
        i, e = next(p for p in points_of(linkage) if p.name == name).members[0]
        here = was[e, i] if at == "vehicle" else linkage.stance.to_axle(tuple(was[e, i]))
        low, high = here - np.array([30, 20, 10]), here + np.array([10, 20, 30])
        rooms.append(Room(name, tuple(low), tuple(high), at=at))
    made_by = layout(*rooms, linkage=linkage)
    assert made_by.share_of(was) == pytest.approx([0.75, 0.5, 0.25] * 2)
    assert made_by.made(made_by.share_of(was)[None])[0][0] == pytest.approx(was, abs=1e-9)


def test_a_tape_reads_whole_steps_and_stays_in_the_room():
    box = Room("upper.frame", (X, 0.3, Z), (X, 9.9, Z))
    made_by = layout(box)
    ends, _, _ = made_by.made(np.linspace(0.0, 1.0, 41)[:, None], tape=0.5)
    i, e = next(p for p in points_of(GOOD.linkage) if p.name == "upper.frame").members[0]
    y = ends[:, e, i, 1]
    assert 0.3 <= y.min() < y.max() <= 9.9
    inner = y[y < 9.9]  # 9.9 itself would be 10.0, which is outside
    assert inner.size < y.size
    assert 2.0 * inner == pytest.approx(np.round(2.0 * inner))


def test_a_narrow_range_is_met_nearby_and_a_wide_one_only_inside():
    assert Wish("anti_squat.ride", 125.0, 125.0).close > 0.0
    assert Wish("anti_squat.ride", 100.0, 125.0).close == 0.0
    assert math.isclose(Wish("anti_squat.ride", 125.0, 125.0).close * 10.0, 0.1)
