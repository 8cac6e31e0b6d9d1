"""What is told of the links: each curve has its signs in words, and the words are true of the axle's motion."""

import html
import re
from dataclasses import replace
from typing import get_args

import numpy as np
import pytest

from fixturegen.papers import link_section as section_room
from fixturegen.papers.link_quantities import Kind, LinkCase, quantities
from fixturegen.papers.link_section import link_section
from tests.papers import invented_cases as cases
from tests.papers.svg_reading import elements

BUMP, DROOP, LEFT_UP = 1, 2, 3
TABLE_ALONE = ("lean of ", "tyre ")
"""Quantities that have a row and no picture."""
LEAST = {
    *("anti_squat", "anti_dive", "roll_centre", "roll_axis", "roll_steer", "roll_steer_angle"),
    *("wheelbase_change", "sideways", "axle_steer", "pinion_angle", "joint_use"),
}
"""What every sheet with joints is told."""
STEERED = {"caster", "steering_change", "toe", "plunge", "case_angle", "pinion_joint", "fluctuation"}


@pytest.fixture(scope="module")
def kingpin():
    return cases.sheet_case(cases.KINGPIN)


@pytest.fixture(scope="module")
def rear():
    return cases.sheet_case(cases.REAR)


def unexplained(section) -> list[str]:
    """Pictures whose caption does not say what is up, what is right, and what a climbing line means."""
    found = []
    for figure in section.plots:
        told = re.match(r"Up = (.+?)\. Right = (.+?)\. A line that climbs to the right means: (.+?)\.", figure.caption)
        if told is None or any(len(words.split()) < 2 for words in told.groups()):
            found.append(re.search('aria-label="([^"]*)"', figure.svg).group(1))
    return found


def without_words(given) -> list[str]:
    """Quantities that say nothing of what is up, or have neither a picture nor a place among the tables alone."""
    return [
        q.key
        for q in given
        if not q.up.strip()
        or not q.source.strip()
        or (not (q.climb + q.roll_climb + q.lock_climb).strip() and not q.key.startswith(TABLE_ALONE))
    ]


def test_every_quantity_says_what_is_up_and_what_a_climbing_line_means(kingpin, rear):
    for case in (kingpin, rear, *cases.of_every_kind().values()):
        assert without_words(quantities((case,))) == []
        assert unexplained(link_section((case,))) == []


@pytest.mark.parametrize(
    "spoilt", [{"up": ""}, {"climb": "", "roll_climb": ""}, {"source": " "}], ids=["up", "climb", "source"]
)
def test_a_quantity_without_its_words_is_found(spoilt, kingpin):
    every = quantities((kingpin,))
    assert without_words((*every[1:], replace(every[0], **spoilt))) == [every[0].key]


@pytest.mark.parametrize("spoilt", [{"up": ""}, {"climb": " "}], ids=["up", "climb"])
def test_a_picture_without_its_words_is_found(spoilt, kingpin, monkeypatch):
    every = quantities((kingpin,))
    monkeypatch.setattr(section_room, "quantities", lambda _: (replace(every[0], **spoilt), *every[1:3]))
    assert unexplained(link_section((kingpin,))) == ["Anti-lift under drive over wheel travel"]


def test_no_number_of_the_axle_is_without_a_picture(kingpin, rear):
    shown = {q.key for q in quantities((kingpin,)) if q.climb or q.roll_climb or q.lock_climb}
    assert shown >= LEAST | STEERED | {"outer_wheel", "shaft_at_lock", "pitman"}
    assert {"room of bump stop, front", "room of strap, front", "spare of brake hose, left"} <= shown
    assert {q.key for q in quantities((rear,))} >= LEAST | {"plunge", "case_angle"}
    assert {q.kind for q in quantities((kingpin,))} == set(get_args(Kind))  # every unit has been drawn


def test_each_picture_shows_one_line_for_each_geometry_and_its_own_words(kingpin):
    section = link_section((kingpin,))
    labels = [re.search('aria-label="([^"]*)"', f.svg).group(1) for f in section.plots]
    assert len(labels) == len(set(labels))
    for figure in section.plots:
        assert [e for e in elements(figure.svg, "path") if e.get("class") == "curve"], html.escape(figure.svg[:80])


def reading(case, key, pose):
    q = next(q for q in quantities((case,)) if q.key == key)
    values = q.read(case.study, case.study.named)
    return float(values[pose] - values[0]), q.up


def moved(case, pose):
    """What the axle is seen to do from ride to a pose, from its rigid motion alone [mm, 1]."""
    poses, stance = case.study.named.poses, case.study.linkage.stance
    wheels = poses.points(stance.wheels)
    nose = poses.directions(np.array([[float(stance.pinion_sign), 0.0, 0.0]]))[:, 0, 2]
    centre = wheels.mean(axis=1)
    return {
        "to the left": centre[pose, 1] - centre[0, 1],
        "forward": centre[pose, 0] - centre[0, 0],
        "left wheel behind the right one": wheels[pose, 1, 0] - wheels[pose, 0, 0],
        "nose higher": nose[pose] - nose[0],
    }


@pytest.mark.parametrize("pose", [BUMP, DROOP, LEFT_UP])
@pytest.mark.parametrize("end", ["front", "rear"])
def test_up_is_what_the_words_say(end, pose, kingpin, rear):
    case = kingpin if end == "front" else rear
    seen = moved(case, pose)
    way = 1.0 if end == "front" else -1.0  # a front axle that goes forward lengthens the wheelbase
    for key, motion, words in (
        ("sideways", seen["to the left"], "to the left"),
        ("wheelbase_change", way * seen["forward"], "longer wheelbase"),
        ("axle_steer", seen["left wheel behind the right one"], "turned to the left, seen from above"),
        ("roll_steer_angle", way * seen["left wheel behind the right one"], "seen from above"),
        ("pinion_angle", seen["nose higher"], "nose higher"),
    ):
        value, up = reading(case, key, pose)
        assert words in up
        assert abs(motion) < 1e-6 or np.sign(value) == np.sign(motion), key


@pytest.mark.parametrize("pose", [BUMP, DROOP, LEFT_UP])
def test_tyres_go_where_their_rows_say(pose, kingpin, rear):
    for case in (kingpin, rear):
        stance, poses = case.study.linkage.stance, case.study.named.poses
        for k, side in enumerate(("left", "right")):
            wheel = poses.points(stance.wheels)[:, k]
            for axis, way in enumerate(("forward", "to the left", "up")):
                value, up = reading(case, f"tyre {side} {way}", pose)
                assert f"{side} wheel centre {way}" in up
                assert value == pytest.approx(wheel[pose, axis] - wheel[0, axis], abs=1e-9)


def over_steer(case, key):
    q = next(q for q in quantities((case,)) if q.key == key)
    return case.study.turned.inner, q.steered(case.study), q


def test_right_in_a_picture_over_steer_is_a_left_turn(kingpin):
    inner, pitman, q = over_steer(kingpin, "pitman")
    assert "Right = wheels steered to the left" in q.sign_words("lock") and "left turn" in q.up
    assert (inner[-1], inner[0]) == (32.0, -32.0) and pitman[-1] > 0.0 > pitman[0]
    # rigid motion: the drag link's end on the right knuckle's arm, ahead of the pivots, goes to the left
    turns = kingpin.study.turned.turns
    assert turns[-1, 1] > 0.0 > turns[0, 1]


def test_a_limit_is_drawn_only_where_all_geometries_share_it(kingpin):
    def marks(*given):
        return [q.mark and q.mark[0] for q in quantities(given) if q.key in ("shaft_at_lock", "pitman")]

    assert marks(kingpin) == [42.0, -43.0]  # of the sheet; the right lock needs more of the box
    other = LinkCase("other", replace(kingpin.study, shaft_limit=40.0, box_stop=None))
    assert marks(kingpin, other) == [None, None]


def test_the_left_shafts_joint_is_bent_most_where_its_wheel_is_inside(kingpin):
    inner, angle, q = over_steer(kingpin, "shaft_at_lock")
    assert "inside of the bend" in q.climbs("lock")
    assert angle[-1] > angle[0] > angle[inner == 0.0][0]


def test_the_outer_wheel_is_drawn_above_zero_where_it_turns_too_far(kingpin):
    _, error, q = over_steer(kingpin, "outer_wheel")
    # trade arithmetic: cot(outer) = cot(inner) + distance / wheelbase; short of the whole difference it turns too far
    assert "turned farther than the angle at which both wheels roll" in q.up
    assert kingpin.study.turned.share[-1] < 100.0 and error[-1] > 0.0
    assert error[::-1] == pytest.approx(error, abs=1e-9)


def test_room_slack_and_hose_are_used_up_the_way_the_words_say(kingpin):
    for key, full, word in (
        ("room of bump stop, front", BUMP, "a stop closes in bump"),
        ("room of strap, front", DROOP, "droop uses the slack up"),
        ("spare of brake hose, left", DROOP, "droop uses the hose up"),
    ):
        q = next(q for q in quantities((kingpin,)) if q.key == key)
        values = q.read(kingpin.study, kingpin.study.named)
        assert values[full] == min(values[[0, BUMP, DROOP]])
        assert word in q.climb


def test_caster_goes_up_where_the_top_of_the_steering_axis_goes_to_the_rear(kingpin):
    axis = np.array([kingpin.study.steering.left.axis])
    tops = kingpin.study.named.poses.directions(axis)[:, 0]
    lean = np.degrees(np.arctan2(-tops[:, 0], tops[:, 2]))
    for pose in (BUMP, DROOP):
        value, up = reading(kingpin, "caster", pose)
        assert "to the rear" in up
        assert value == pytest.approx(lean[pose] - lean[0], abs=1e-9)


def test_a_spring_is_shorter_in_bump_and_the_words_say_so(kingpin):
    for q in quantities((kingpin,)):
        if q.key.startswith("length of "):
            values = q.read(kingpin.study, kingpin.study.named)
            assert values[BUMP] < values[0] < values[DROOP]
            assert "longer" in q.up
            assert "close in bump (a line that falls)" in q.climb


def test_front_and_rear_words_differ_where_the_axle_works_the_other_way(kingpin, rear):
    words = [{q.key: q for q in quantities((case,))} for case in (kingpin, rear)]
    assert [w["anti_squat"].title for w in words] == ["Anti-lift under drive", "Anti-squat under drive"]
    assert [("understeer" in w["roll_axis"].up) for w in words] == [True, False]
    assert [("forward" in w["wheelbase_change"].climb) for w in words] == [True, False]


def test_an_undriven_axle_is_told_nothing_of_anti_squat():
    case = cases.front_case(drive=0.0)
    assert "anti_squat" not in {q.key for q in quantities((case,))}
    assert "anti_squat" in {q.key for q in quantities((LinkCase("driven", cases.front_case().study),))}
