"""Blanks, reliefs, ticks and order of bends; sizes by hand from the figures of the trade."""

import math

import pytest

from fixturegen.errors import GeometryFault
from fixturegen.plate.bend_limits import flanges
from fixturegen.plate.bend_marks import bend_part, grain_of, lettered, ticks
from fixturegen.plate.bend_rules import BendRule, rule_for
from fixturegen.plate.bending import Fold, bent_strip, outside_in, relief_size, tray
from fixturegen.plate.folds import folded
from fixturegen.plate.free_steel import mark_box
from fixturegen.plate.nearness import encloses, loop_to_point
from tests.studies.study_jobs import sheet_of

T, R = 6.0, 8.0
RULE = BendRule()
SQUARE = Fold(90.0, R)


def test_a_relief_is_a_thickness_wide_and_a_thickness_and_radius_deep():
    assert relief_size(T, R) == (T, T + R)
    flat = tray((200.0, 140.0), {"right": (50.0, SQUARE)}, T, RULE, inset=30.0)
    (bend,) = flat.bends
    outer, end = flat.profile.outer, max(bend.y0, bend.y1)
    # the slot beside the flange, looked at in its middle: open to just short of its depth, steel beyond
    assert not encloses(outer, bend.x0 - (T + R) + 0.01, end + T / 2.0)
    assert encloses(outer, bend.x0 - (T + R) - 0.01, end + T / 2.0)
    assert encloses(outer, bend.x0, end - 0.01)
    assert not encloses(outer, bend.x0, end + 0.01)
    assert not encloses(outer, bend.x0, end + T - 0.01)
    assert encloses(outer, bend.x0, end + T + 0.01)


def test_a_v_relief_has_its_point_at_the_depth_and_its_width_at_the_edge():
    flat = tray((200.0, 140.0), {"right": (50.0, SQUARE)}, T, RULE, inset=30.0, kind="v")
    (bend,) = flat.bends
    outer, end = flat.profile.outer, max(bend.y0, bend.y1)
    assert loop_to_point(outer, bend.x0 - (T + R), end) == pytest.approx(0.0, abs=1e-9)
    assert loop_to_point(outer, 100.0, end + T) == pytest.approx(0.0, abs=1e-9)


def test_bends_of_a_tray_corner_do_not_meet():
    flat = tray((200.0, 140.0), {"right": (50.0, SQUARE), "back": (50.0, SQUARE)}, T, RULE)
    right, back = flat.bends
    # each ends a relief's depth short of the other's line
    assert max(right.y0, right.y1) == pytest.approx(back.y0 - (T + R))
    assert max(back.x0, back.x1) == pytest.approx(right.x0 - (T + R))


def test_ticks_stand_at_both_edges_and_never_in_the_middle_of_the_bend():
    bend = bent_strip((75.0, 75.0), [SQUARE], 60.0, T, RULE).bends[0]
    marks = ticks(bend)
    assert len(marks) == 2
    reach = sorted(y for m in marks for y in (m.y, m.to[1]))
    assert reach[0] == pytest.approx(1.5) and reach[3] == pytest.approx(58.5)
    assert reach[2] - reach[1] > 60.0 * 0.6
    assert all(m.x == m.to[0] == bend.x0 for m in marks)


def test_words_stand_on_a_flat_face_and_are_never_upside_down():
    flat = tray((200.0, 140.0), dict.fromkeys(("right", "left", "back", "front"), (60.0, SQUARE)), T, RULE)
    for i, bend in enumerate(flat.bends, 1):
        mark = lettered(i, bend)
        assert -90.0 <= mark.angle <= 90.0
        assert f"{i} UP 90" == mark.text
        a = math.radians(mark.angle)
        for up in (0.0, mark.height):  # baseline and top, clear of what the bend takes up
            x, y = mark.x - up * math.sin(a), mark.y + up * math.cos(a)
            off = abs(x - bend.x0) if bend.x0 == bend.x1 else abs(y - bend.y0)
            assert off >= bend.allowance / 2.0 + 2.0
        # strokes as they are drawn lie in the middle of the line, clear of both edges
        box = mark_box(mark)
        assert (box[0] + box[2]) / 2.0 == pytest.approx((bend.x0 + bend.x1) / 2.0) or bend.x0 == bend.x1
        assert (box[1] + box[3]) / 2.0 == pytest.approx((bend.y0 + bend.y1) / 2.0) or bend.y0 == bend.y1
    assert lettered(1, bent_strip((75.0, 75.0), [SQUARE], 40.0, T, RULE).bends[0], 6.0) is None


def test_the_grain_arrow_lies_across_the_bends():
    part = bend_part("a", "a", "toy", bent_strip((75.0, 75.0), [SQUARE], 60.0, T, RULE))
    assert grain_of(part) == 0.0
    side = tray((200.0, 140.0), {"back": (50.0, SQUARE), "front": (50.0, SQUARE)}, T, RULE)
    assert grain_of(bend_part("a", "a", "toy", side)) == 90.0


def test_outer_bends_come_first():
    assert outside_in(1) == (0,)
    assert outside_in(4) == (0, 3, 1, 2)
    flat = bent_strip((40.0, 60.0, 90.0, 60.0, 40.0), [SQUARE] * 4, 70.0, T, RULE)
    xs = [b.x0 for b in flat.bends]
    assert xs[0] == min(xs) and xs[1] == max(xs) and xs[2] < xs[3]


def test_down_bends_say_that_the_plate_is_turned_over():
    def notes(fold):
        return " ".join(bend_part("a", "a", "toy", bent_strip((75.0, 75.0), [fold], 60.0, T, RULE)).notes)

    assert "turn the plate over" in notes(Fold(90.0, R, up=False))
    assert "turn the plate over" not in notes(SQUARE)
    assert "tip of the punch" in notes(SQUARE)


def test_bends_across_earlier_ones_ask_for_a_short_punch():
    def notes(flat):
        return " ".join(bend_part("a", "a", "toy", flat).notes)

    both = tray((200.0, 140.0), {"right": (50.0, SQUARE), "back": (50.0, SQUARE)}, T, RULE)
    level = bent_strip((60.0, 100.0, 50.0), [SQUARE, SQUARE], 80.0, T, RULE)
    assert "no longer than the room between" in notes(both)
    assert "1 UP 90, 2 UP 90" in notes(both)
    assert "no longer" not in notes(level) and "outer bends before inner" in notes(level)


def test_the_flat_of_a_flange_runs_from_bend_line_to_edge_or_to_the_next_bend():
    part = bend_part("a", "a", "toy", bent_strip((60.0, 100.0, 50.0), [SQUARE, SQUARE], 80.0, T, RULE))
    plan = folded(part)
    first = min(range(2), key=lambda i: part.bends[i].x0)
    a, b = part.bends[first], part.bends[1 - first]
    between = b.x0 - a.x0 - b.allowance / 2.0
    assert sorted(flanges(part, plan, first)) == pytest.approx(sorted((a.x0, between)))


@pytest.mark.parametrize(
    ("make", "word"),
    [
        (lambda: bent_strip((75.0, 10.0), [SQUARE], 50.0, T, RULE), "leaves no flat"),
        (lambda: bent_strip((75.0, 20.0, 75.0), [SQUARE, SQUARE], 50.0, T, RULE), "leaves no flat"),
        (lambda: bent_strip((75.0,), [SQUARE], 50.0, T, RULE), "one length more"),
        (lambda: tray((200.0, 140.0), {"right": (10.0, SQUARE)}, T, RULE), "ends within its bend"),
        (lambda: tray((200.0, 140.0), {}, T, RULE), "no flange"),
        (lambda: tray((200.0, 140.0), {"right": (50.0, SQUARE)}, T, RULE, inset=5.0), "no room for its relief"),
        (lambda: tray((20.0, 140.0), {"right": (50.0, SQUARE), "left": (50.0, SQUARE)}, T, RULE), "no flat between"),
    ],
)
def test_sizes_that_leave_nothing_are_refused(make, word):
    with pytest.raises(GeometryFault) as caught:
        make()
    assert word in str(caught.value)


def test_strips_of_another_plate_say_nothing_of_this_one():
    test = {"plate": "1/4 in", "inside_radius": "0.25 in", "angle": "90 deg", "deduction": "0.45 in"}
    sheet = sheet_of(brake={"tests": [test], "rule": "k-factor", "k_factor": "0.44"})
    kind = type(sheet.plates[0])
    quarter = kind.model_validate({"nominal": "1/4 in", "measured": "0.255 in"})
    other = kind.model_validate({"nominal": "3/8 in", "measured": "0.380 in"})
    assert rule_for(sheet.brake, quarter).deduction(0.255 * 25.4, 6.35, 90.0) == pytest.approx(0.45 * 25.4)
    assert rule_for(sheet.brake, other).tests == ()
    assert rule_for(sheet.brake, other).words(6.35, 90.0) == "K factor 0.44"
