"""Plots over travel and roll, read back by their ticks and compared with the metrics of the named poses."""

import math
import xml.etree.ElementTree as ET
from dataclasses import replace

import numpy as np
import pytest

from fixturegen.papers.link_plots import plot_svg, tick_text, wrapped
from fixturegen.papers.link_quantities import LinkCase, quantities
from tests.papers import invented_cases as cases
from tests.papers.svg_reading import boxes, elements, graph, texts

INCH = 25.4
RIDE, BUMP, DROOP, LEFT_UP, RIGHT_UP = range(5)
SLACK = 0.012  # places are written to 0.01 of a picture point; the frame is 238 points high


def quantity(case, key):
    return next(q for q in quantities((case,)) if q.key == key)


@pytest.fixture(scope="module")
def kingpin():
    return cases.sheet_case(cases.KINGPIN)


@pytest.fixture(scope="module")
def splayed():
    return cases.splayed_case()


# what the study says itself, without the list of quantities that the plots are drawn from
HEAVE = {
    "anti_squat": (lambda t: t.metrics.anti_squat, 1.0),
    "anti_dive": (lambda t: t.metrics.anti_dive, 1.0),
    "roll_centre": (lambda t: t.metrics.roll_centre, INCH),
    "roll_axis": (lambda t: t.metrics.roll_axis, 1.0),
    "roll_steer": (lambda t: t.metrics.roll_steer, 1.0),
    "wheelbase_change": (lambda t: t.metrics.wheelbase_change, INCH),
    "sideways": (lambda t: t.metrics.sideways, INCH),
    "axle_steer": (lambda t: t.metrics.axle_steer, 1.0),
    "pinion_angle": (lambda t: t.metrics.pinion_angle, 1.0),
    "steering_change": (lambda t: t.steering.change, 1.0),
    "toe": (lambda t: t.steering.toe, 1.0),
    "plunge": (lambda t: t.shaft.plunge, INCH),
    "case_angle": (lambda t: t.shaft.case_angle, 1.0),
    "pinion_joint": (lambda t: t.shaft.pinion_angle, 1.0),
    "fluctuation": (lambda t: t.shaft.fluctuation, 0.01),
}


def agrees(read, wanted, ys):
    """Whether a value read off a plot is the wanted one, within what a point of the picture can tell."""
    return abs(read - wanted) <= SLACK * (max(ys) - min(ys)) / 238.0 + 1e-9


def read_at(g, name, x):
    points = np.concatenate(g.curves[name])
    at = int(np.argmin(np.abs(points[:, 0] - x)))
    assert abs(points[at, 0] - x) < 0.02, "the curve does not go there"
    return points[at, 1]


@pytest.mark.parametrize("key", HEAVE)
def test_a_plot_over_travel_says_at_ride_bump_and_droop_what_the_study_says_there(key, kingpin):
    g = graph(plot_svg(quantity(kingpin, key), (kingpin,), "heave"))
    get, unit = HEAVE[key]
    values = get(kingpin.study.named) / unit
    travel = kingpin.study.named.poses.heave / INCH
    for pose in (RIDE, BUMP, DROOP):
        assert agrees(read_at(g, "as measured", travel[pose]), values[pose], g.ys), (key, pose)


def test_the_frame_goes_from_droop_to_bump_and_every_curve_stays_in_it(kingpin):
    for q in quantities((kingpin,)):
        if q.climb:
            g = graph(plot_svg(q, (kingpin,), "heave"))
            left, right, low, top = g.frame
            assert (left, right) == pytest.approx((-6.0, 5.0), abs=0.02)  # droop and bump of the sheet [in]
            assert g.ride == pytest.approx(0.0, abs=0.02)
            points = np.concatenate(g.curves["as measured"])
            slack = 0.02 * (top - low) / 238.0
            assert points[:, 1].min() >= low - slack
            assert points[:, 1].max() <= top + slack


def test_a_plot_that_is_off_by_a_point_of_the_picture_is_noticed(kingpin):
    g = graph(plot_svg(quantity(kingpin, "pinion_angle"), (kingpin,), "heave"))
    wanted = kingpin.study.named.metrics.pinion_angle[BUMP]
    assert agrees(read_at(g, "as measured", 5.0), wanted, g.ys)
    assert not agrees(read_at(g, "as measured", 5.0), wanted + (max(g.ys) - min(g.ys)) / 238.0, g.ys)
    assert not agrees(read_at(g, "as measured", 5.0), kingpin.study.named.metrics.pinion_angle[DROOP], g.ys)


def test_plots_over_roll_end_at_the_roll_of_the_crossed_poses(kingpin):
    # left wheel at bump, right at droop: tan roll = (bump + droop) / track; the axle turns in one piece
    half = kingpin.study.linkage.stance.half_track
    bump, droop = kingpin.study.named.poses.heave[[BUMP, DROOP]]
    most = math.degrees(math.asin((bump - droop) / (2.0 * half)))
    g = graph(plot_svg(quantity(kingpin, "roll_steer_angle"), (kingpin,), "roll"))
    curve = np.concatenate(g.curves["as measured"])
    assert curve[-1, 0] == pytest.approx(most, abs=0.02)
    assert curve[0, 0] == pytest.approx(-most, abs=0.02)
    assert agrees(read_at(g, "as measured", 0.0), 0.0, g.ys)


def test_the_two_ends_of_the_travel_are_told_though_no_tick_falls_on_them(kingpin):
    words = texts(plot_svg(quantity(kingpin, "caster"), (kingpin,), "heave"))
    assert "<- DROOP 6 in" in words
    assert "BUMP 5 in ->" in words
    roll = texts(plot_svg(quantity(kingpin, "caster"), (kingpin,), "roll"))
    assert any(w.startswith("LEFT UP 9.") and w.endswith("deg ->") for w in roll)


def test_inches_and_millimetres_give_the_same_curve(kingpin):
    q = quantity(kingpin, "roll_centre")
    inch, mm = (graph(plot_svg(q, (kingpin,), "heave", u)) for u in ("in", "mm"))
    a, b = (np.concatenate(g.curves["as measured"]) for g in (inch, mm))
    assert np.allclose(a * INCH, b, atol=0.1)


def test_a_line_ends_in_a_cross_where_the_axle_binds():
    case = cases.binding_case()
    reached = case.study.heave.poses.reached
    far = case.study.heave.poses.heave[reached].min() / INCH
    assert far > -10.0, "the case is to bind"
    g = graph(plot_svg(quantity(case, "pinion_angle"), (case,), "heave"))
    assert g.stops[0][0] == pytest.approx(far, abs=0.05)
    assert np.concatenate(g.curves["short"])[:, 0].min() == pytest.approx(far, abs=0.05)
    free = cases.splayed_case()
    assert not graph(plot_svg(quantity(free, "pinion_angle"), (free,), "heave")).stops


def test_geometries_share_one_picture_and_differ_in_their_dashes(splayed):
    both = (splayed, cases.flat_case())
    svg = plot_svg(quantity(splayed, "anti_squat"), both, "heave")
    g = graph(svg)
    for case in both:
        for pose, x in ((RIDE, 0.0), (BUMP, 5.0), (DROOP, -6.0)):
            wanted = case.study.named.metrics.anti_squat[pose]
            assert agrees(read_at(g, case.name, x), wanted, g.ys)
    dashes = [e.get("stroke-dasharray") for e in elements(svg, "path") if e.get("class") == "curve"]
    assert len(dashes) == len(set(dashes)) == 2


def test_names_are_escaped_and_read_back_as_they_were_given():
    name = "a<b & \"c\" 'd'"
    case = cases.splayed_case(name)
    svg = plot_svg(quantity(case, "pinion_angle"), (case,), "heave")
    assert list(graph(svg).curves) == [name]
    assert "a<b" not in svg
    strut = replace(quantity(case, "pinion_angle"), title='length of "<x>"')
    assert ET.fromstring(plot_svg(strut, (case,), "heave")).get("aria-label").startswith('length of "<x>"')


def test_the_same_geometry_gives_the_same_bytes(kingpin):
    again = cases.sheet_case(cases.KINGPIN)
    for q in quantities((kingpin,)):
        over = "lock" if q.lock_climb else "heave"
        assert plot_svg(q, (kingpin,), over) == plot_svg(quantity(again, q.key), (again,), over)


def test_what_cannot_be_below_zero_is_not_shown_below_it():
    case = cases.sheet_case(cases.REAR)
    assert min(graph(plot_svg(quantity(case, "fluctuation"), (case,), "heave")).ys) == 0.0


def test_a_joint_is_shown_against_the_whole_of_its_limit(kingpin):
    q = quantity(kingpin, "joint_use")
    assert (min(graph(plot_svg(q, (kingpin,), "heave")).ys), max(graph(plot_svg(q, (kingpin,), "heave")).ys)) == (
        0,
        100,
    )
    bare = replace(q, shown=(), mark=None)
    assert min(graph(plot_svg(bare, (kingpin,), "heave")).ys) > 0.0


def test_no_word_of_a_plot_lies_on_another():
    three = (cases.splayed_case(), cases.flat_case("level lowers, 2 in down"), cases.binding_case())
    for q in quantities(three):
        words = boxes(plot_svg(q, three, "heave"))
        assert overlaps(words) == []


def overlaps(words):
    return [
        (a[4], b[4])
        for i, a in enumerate(words)
        for b in words[i + 1 :]
        if a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
    ]


def test_words_on_one_another_are_noticed():
    assert overlaps([(0, 0, 10, 5, "a"), (8, 2, 20, 6, "b"), (30, 0, 40, 5, "c")]) == [("a", "b")]


@pytest.mark.parametrize(
    ("value", "step", "text"),
    [(19.05, 6.35, "0.75 (19.05)"), (-25.4, 12.7, "-1.0 (-25.4)"), (0.0, 25.4, "0 (0)"), (-0.0, 6.35, "0.00 (0)")],
)
def test_ticks_are_exact_in_both_units(value, step, text):
    # 1 in = 25.4 mm exactly (international inch)
    assert tick_text(value, step, "length", "in") == text


def test_a_long_name_is_broken_where_it_may_be():
    assert wrapped("front-dropout-kingpin") == ("front-dropout-", "kingpin")
    assert wrapped("level lowers, two in down") == ("level lowers,", "two in down")
    assert wrapped("short") == ("short",)
    assert len(wrapped("x" * 200)) == 2


def test_a_geometry_without_a_value_draws_no_line_and_is_no_fault(kingpin, splayed):
    q = quantity(kingpin, "caster")
    nothing = replace(q, read=lambda _s, t: np.full(t.poses.heave.size, np.nan))
    assert graph(plot_svg(nothing, (kingpin,), "heave")).curves == {}
    assert list(graph(plot_svg(q, (kingpin, LinkCase("other", splayed.study)), "heave")).curves) == ["as measured"]
