"""Places of brackets against the sheet's own points, plain trigonometry of a circle, and Pythagoras."""

import dataclasses
import math
from functools import cache

import numpy as np
import pytest

from fixturegen.studies.bracket_places import across_of, chains, clock_of, halfway, off_surface, on_round, places_of
from fixturegen.studies.bracket_records import Seam
from fixturegen.studies.link_inputs import stance_of
from tests.brackets.place_jobs import job_of, rear
from tests.brackets.place_jobs import level as level_axle

INCH = 25.4


def placed(made):
    facts = made.brackets.facts.values()
    return {p.mount.name: p for p in places_of(made.axle, stance_of(made.sheet, made.axle), facts)}


@cache
def level():
    return job_of(level_axle())


@pytest.mark.parametrize(
    ("clock", "arc", "chord"),
    [
        # circle of radius 2: quarter pi and 2 sqrt 2, third 4 pi / 3 and 2 sqrt 3, half 2 pi and 4 (any geometry book)
        (90.0, math.pi, 2.0 * math.sqrt(2.0)),
        (-90.0, -math.pi, 2.0 * math.sqrt(2.0)),
        (120.0, 4.0 * math.pi / 3.0, 2.0 * math.sqrt(3.0)),
        (60.0, 2.0 * math.pi / 3.0, 2.0),
        (180.0, 2.0 * math.pi, 4.0),
        (0.0, 0.0, 0.0),
    ],
)
def test_a_place_on_a_tube_is_told_by_arc_and_chord_from_its_top(clock, arc, chord):
    a = math.radians(clock)
    found = on_round(2.0 * math.sin(a), 2.0 * math.cos(a), 2.0)
    assert found.clock == pytest.approx(clock)
    assert found.arc == pytest.approx(arc)
    assert found.chord == pytest.approx(chord)


@pytest.mark.parametrize(("way", "wanted"), [((0, 1), 0.0), ((1, 0), 90.0), ((0, -1), 180.0), ((-1, 0), -90.0)])
def test_clock_angles_run_from_straight_up_and_forward_is_positive(way, wanted):
    assert clock_of(*way) == pytest.approx(wanted)


def test_the_hole_stands_where_the_sheet_measured_it():
    made = placed(level())
    lower = made["lower-left"]
    # the sheet: axle line 2845 behind the front one and 445 up; joint at -2750, 480, 420
    assert (lower.forward, lower.station, lower.up) == pytest.approx((95.0, 480.0, -25.0))
    assert lower.clock == pytest.approx(180.0 - math.degrees(math.atan2(95.0, 25.0)))
    # 1626 mm from wheel mount surface to wheel mount surface
    assert lower.from_left == pytest.approx(813.0 - 480.0)
    assert lower.from_right == pytest.approx(813.0 + 480.0)
    assert lower.off == pytest.approx(math.hypot(95.0, 25.0) - 82.6 / 2.0)
    upper = made["upper-left"]
    assert upper.clock is None
    assert upper.off == pytest.approx(660.0 - 445.0 - 165.0)  # truss 165 above the axle line


def test_a_raised_pinion_turns_the_clock_angle_by_itself():
    data = level_axle()
    data["axle"]["pinion_angle"] = "7 deg"
    # rear axle: A is turned by the pinion angle the other way round (pinion to the front, nose up)
    turned = placed(job_of(data))["lower-left"].clock - placed(level())["lower-left"].clock
    assert turned == pytest.approx(7.0)


def test_lines_to_scribe_lie_on_the_tube_and_their_ends_are_a_wrap_apart():
    made = level()
    for place in placed(made).values():
        if place.clock is None:
            continue
        assert len(place.lines) == 2
        for line in place.lines:
            low, _, high = line.points
            assert low.name == "lower end" and high.name == "upper end"
            for q in line.points:
                # on the tube but for the root gap of 1/64 in and the lean of a plate
                assert 0.0 <= math.hypot(q.point[0], q.point[2]) - 41.3 <= INCH / 16.0
                assert q.from_left + q.from_right == pytest.approx(1626.0)
                assert q.round.chord == pytest.approx(2.0 * 41.3 * math.sin(abs(math.radians(q.round.clock)) / 2.0))
            assert low.round.clock - high.round.clock == pytest.approx(110.0, abs=5.0)  # wrap asked for


def test_hole_to_hole_and_diagonals_are_those_of_the_points():
    made = level()
    found = {a.words: a for a in across_of(placed(made).values())}
    assert found["lower, hole to hole across the axle"].length == pytest.approx(2 * 480.0)
    assert found["upper, hole to hole across the axle"].length == pytest.approx(2 * 130.0)
    # lower left (-2750, 480, 420), upper right (-2820, -130, 660)
    want = math.sqrt(70.0**2 + 610.0**2 + 240.0**2)
    diagonals = [a for a in found.values() if a.mate]
    assert len(diagonals) == 2 and len({a.mate for a in diagonals}) == 1
    assert [a.length for a in diagonals] == pytest.approx([want, want])


def test_a_joint_moved_on_one_side_alone_makes_the_diagonals_differ():
    made = placed(level())
    right = made["lower-right"]
    x, y, z = right.mount.point
    made["lower-right"] = dataclasses.replace(right, mount=dataclasses.replace(right.mount, point=(x + INCH, y, z)))
    one, other = (a.length for a in across_of(made.values()) if a.mate)
    assert abs(one - other) > 1.0


def test_left_and_right_are_mirror_images():
    made = placed(rear())
    for name in ("lower", "upper"):
        a, b = made[f"{name}-left"], made[f"{name}-right"]
        assert (a.station, a.from_left, a.clock, a.off) == pytest.approx((-b.station, b.from_right, b.clock, b.off))
        assert (a.turn, a.tilt) == pytest.approx((-b.turn, -b.tilt))


def test_a_frame_bracket_is_told_in_the_vehicles_own_measures():
    data = level_axle()
    data["brackets"].append(
        {
            "holds": "lower-left",
            "kind": "two-tab",
            "end": "frame",
            "joint": "lower joint",
            "plate": "6 mm",
            "on": "rail",
            "facing": "down",
            "surface": "600 mm",
        }
    )
    place = placed(job_of(data))["lower-left-frame"]
    # the sheet: joint at -1840, 360, 520, under a rail 600 up
    assert (place.forward, place.station, place.up) == pytest.approx((-1840.0, 360.0, 520.0))
    assert place.from_left is None and place.clock is None and place.lines == ()
    assert place.off == pytest.approx(80.0)


def test_beads_are_joined_where_one_begins_at_the_end_of_the_other():
    rows = [((0, 0, 0), (1, 0, 0)), ((1, 0, 0), (2, 0, 0)), ((5, 0, 0), (6, 0, 0))]
    made = list(chains(Seam("a", p, q, 6.0) for p, q in rows))
    assert [len(c) for c in made] == [2, 1]


def test_off_the_surface_of_a_tube_is_measured_square_to_it():
    mount = placed(level())["lower-left"].mount
    moved = dataclasses.replace(mount, point=(mount.point[0], mount.point[1] + 100.0, mount.point[2]))
    assert off_surface(moved) == pytest.approx(off_surface(mount))
    assert np.isclose(off_surface(mount), math.hypot(95.0, 25.0) - 41.3)


def test_halfway_along_a_bead_on_a_tube_lies_on_the_round_and_not_on_the_chord():
    # a quarter of a tube 40 mm in radius in two uneven stretches: halfway is at 45 deg (geometry)
    at = [(40.0 * math.sin(math.radians(a)), 7.0, 40.0 * math.cos(math.radians(a))) for a in (0.0, 30.0, 90.0)]
    x, _, z = halfway(at, round_base=True)
    assert math.hypot(x, z) == pytest.approx(40.0)
    assert clock_of(x, z) == pytest.approx(45.0)
    assert halfway([(0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (1.0, 3.0, 0.0)], round_base=False) == (1.0, 1.0, 0.0)


def test_ends_that_a_bead_is_turned_round_have_no_line_of_their_own():
    made = level()
    facts = made.brackets.facts["lower-left"]
    x, y, z = facts.seams[0].begin
    turn = Seam(facts.seams[0].part, (x, y + 6.0, z), (x, y, z), 6.0)
    other = dataclasses.replace(facts, seams=(*facts.seams, turn))
    (place,) = places_of(made.axle, stance_of(made.sheet, made.axle), [other])
    assert len(place.lines) == 2


def test_a_third_pair_adds_two_diagonals_and_not_four():
    made = placed(level())
    for side, over in (("left", 1.0), ("right", -1.0)):
        low = made[f"lower-{side}"]
        mount = dataclasses.replace(
            low.mount, name=f"shock-{side}", label=f"shock {side}", point=(-90.0, over * 430.0, 0.0)
        )
        made[f"shock-{side}"] = dataclasses.replace(low, mount=mount)
    found = across_of(made.values())
    assert sum(not a.mate for a in found) == 3
    assert sorted({a.mate for a in found if a.mate}) == ["lower/upper", "upper/shock"]
