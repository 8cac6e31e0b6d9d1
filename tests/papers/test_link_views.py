"""Views read back with a rule laid on their own scale bar; instant centre and roll axis against what lines drawn give.

In a linkage alike on both sides the side-view instant centre is where the lines of upper and lower links meet, and
the roll axis runs through the two points where each splayed pair meets in plan (common drawn constructions, exact
by symmetry: both sides move alike in heave, and a pair holds its meeting point sideways).
"""

import math
import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import numpy as np
import pytest

from fixturegen.papers.link_quantities import LinkCase
from fixturegen.papers.link_scene import views_scale
from fixturegen.papers.link_views import joined, views_svg
from tests.axle import invented_linkages as made
from tests.papers import invented_cases as cases
from tests.papers.svg_reading import boxes, corners, elements, paths, scale, texts

KINDS = cases.of_every_kind()
SIDE, PLAN, END = range(3)


def rods(svg):
    """Name of each link to its two places in side view, plan and end view, shape (3, 2, 2), frame end first."""
    found: dict = {}
    for e in elements(svg, "path"):
        kind, _, name = (e.get("class") or "").partition(" ")
        if kind == "rod":
            found.setdefault(name, []).append(corners(e.get("d")))
    return {name: np.array(places) for name, places in found.items()}


def taped(views, mm):
    """Length of a link from its three views [mm]: along and up from the side view, across from the plan."""
    side, plan = views[SIDE][1] - views[SIDE][0], views[PLAN][1] - views[PLAN][0]
    return mm * math.hypot(side[0], plan[1], side[1])


@pytest.mark.parametrize("kind", KINDS)
def test_every_link_measures_its_length_by_the_scale_bar(kind):
    case = KINDS[kind]
    svg = views_svg(case)
    drawn, mm = rods(svg), scale(svg)
    for link, long in zip(case.study.linkage.links, case.study.linkage.lengths(), strict=True):
        if link.part == "guide":
            assert link.name not in drawn  # stands for the side stiffness of a spring: nothing one could touch
            continue
        # ends are written to 0.01 of a point, 0.04 mm of the truck at 1 : 16
        assert taped(drawn[link.name], mm) == pytest.approx(float(long), abs=0.15), link.name


def test_a_view_of_another_scale_is_noticed():
    case = KINDS["splayed"]
    svg = views_svg(case)
    long = float(case.study.linkage.lengths()[0])
    assert taped(rods(svg)["lower-left"], scale(svg)) == pytest.approx(long, abs=0.15)
    wrong = re.sub(r'(class="rod lower-left" d="M)([0-9.]+)', lambda m: f"{m[1]}{float(m[2]) + 1.0}", svg)
    assert taped(rods(wrong)["lower-left"], scale(wrong)) != pytest.approx(long, abs=0.15)


@pytest.mark.parametrize("kind", KINDS)
def test_the_bar_measures_what_is_written_beside_it(kind):
    svg = views_svg(KINDS[kind])
    (bar,) = paths(svg, "bar")
    inches = float(re.search(r"h([0-9.]+)", bar).group(1)) / 96.0  # CSS: 96 points in an inch
    part = int(next(t for t in texts(svg) if t.startswith("1 : ")).split()[2])
    assert inches == pytest.approx(12.0 / part, abs=1e-3)
    assert any(f"{12.0 / part:.3f} in" in t for t in texts(svg))


def test_the_three_views_agree_and_face_the_way_they_say():
    # kingpin: steering and track bar make left and right differ
    case = cases.sheet_case(cases.KINGPIN)
    svg = views_svg(case)
    drawn = rods(svg)
    titles = " ".join(texts(svg))
    assert "FRONT VIEW, from the front; LEFT ->" in titles
    left, right = drawn["lower-left"], drawn["lower-right"]
    assert left[PLAN][0][1] > right[PLAN][0][1]  # plan: LEFT down
    assert left[END][0][0] > right[END][0][0]  # from the front: LEFT ->
    assert left[SIDE][0][0] > left[SIDE][1][0]  # FRONT <-: the frame ends stand behind the axle
    for places in drawn.values():
        assert np.allclose(places[SIDE][:, 1], places[END][:, 1], atol=0.02)  # one height in both
        assert np.allclose(np.diff(places[SIDE][:, 0]), np.diff(places[PLAN][:, 0]), atol=0.02)  # one length
        assert np.allclose(np.diff(places[PLAN][:, 1]), np.diff(places[END][:, 0]), atol=0.02)  # one width
    rear = rods(views_svg(KINDS["splayed"]))
    assert rear["lower-left"][END][0][0] < rear["lower-right"][END][0][0]  # from behind: LEFT <-
    assert rear["lower-left"][SIDE][0][0] < rear["lower-left"][SIDE][1][0]


def test_steering_rods_and_the_ground_are_in_the_picture():
    svg = views_svg(cases.sheet_case(cases.KINGPIN))
    assert {"drag link", "tie rod", "track-bar"} <= set(rods(svg))
    assert len(paths(svg, "ground")) == 2  # side and end
    (circle,) = [e for e in elements(svg, "circle") if e.get("class") == "tyre"]
    ground = float(re.search(r"M[0-9.]+ ([0-9.]+)", paths(svg, "ground")[0]).group(1))
    assert float(circle.get("cy")) + float(circle.get("r")) == pytest.approx(ground, abs=0.02)  # it stands on it


def meeting(a, b):
    """Where the lines through two stretches of the picture meet."""
    (p, q), (r, s) = a, b
    t = np.linalg.solve(np.stack([q - p, r - s], axis=1), r - p)[0]
    return p + t * (q - p)


def test_the_instant_centre_is_drawn_where_the_lines_of_the_links_meet():
    # 14 + 4/30 x = 28 - 5/24 x: they meet 41 in ahead of the axle, near enough to be on the page
    lowers = made.both("lower", (0, 18, 14), (30, 18, 18))
    uppers = made.both("upper", (0, 5, 28), (24, 15, 23))
    linkage = made.linkage_of("four-link", made.rear_stance(), (*lowers, *uppers))
    svg = views_svg(LinkCase("near", cases.study(linkage)))
    drawn = rods(svg)
    (dot,) = [e for e in elements(svg, "circle") if e.get("class") == "centre"]
    spot = np.array([float(dot.get("cx")), float(dot.get("cy"))])
    assert np.allclose(spot, meeting(drawn["lower-left"][SIDE], drawn["upper-left"][SIDE]), atol=0.3)
    assert not np.allclose(spot, meeting(drawn["lower-left"][SIDE], drawn["upper-left"][SIDE]) + 2.0, atol=0.3)


def test_an_instant_centre_off_the_page_is_told_and_pointed_at():
    svg = views_svg(KINDS["wishbone"])
    drawn = rods(svg)
    assert not [e for e in elements(svg, "circle") if e.get("class") == "centre"]
    tail, tip = corners(paths(svg, "tocentre")[0])
    place = meeting(drawn["lower-left"][SIDE], drawn["upper-left"][SIDE])
    along, out = place - tail, tip - tail
    # the arrow points at it: square distance of the place from the arrow's line, small against how far off it is
    off = abs(along[0] * out[1] - along[1] * out[0]) / np.linalg.norm(out)
    assert off < 0.01 * np.linalg.norm(along)
    assert float(along @ out) > 0.0
    words = " ".join(texts(svg))
    axle = np.mean([drawn[n][SIDE] for n in ("lower-left",)], axis=0)[1]
    far = abs(place[0] - axle[0]) * scale(svg) / 25.4  # the lower link ends under the axle line
    told = float(re.search(r"IC: ([0-9.]+) in", words).group(1))
    assert told == pytest.approx(far, rel=0.005)
    assert "ahead of the axle" in words


def test_links_that_never_meet_have_no_instant_centre_on_the_page():
    svg = views_svg(KINDS["parallel"])
    assert not paths(svg, "tocentre")
    assert "IC: none within 100 ft, links all but parallel" in texts(svg)


def test_the_roll_axis_runs_through_the_points_where_the_splayed_pairs_meet():
    # apexes (-10, 27.667) and (200, 46) in ahead of the axle, by the intercept theorem (see `splayed`)
    svg = views_svg(KINDS["splayed"])
    mm = scale(svg) / 25.4  # in of the truck in a point
    (circle,) = [e for e in elements(svg, "circle") if e.get("class") == "tyre"]
    x, y = float(circle.get("cx")), float(circle.get("cy"))
    (a, b) = corners(paths(svg, "rollaxis")[0])
    slope = -(b[1] - a[1]) / (b[0] - a[0])  # up is minus y, ahead is minus x
    height = lambda ahead: 16.0 + (y - (a[1] - slope * ((x - ahead / mm) - a[0]))) * mm  # noqa: E731 - read twice
    assert height(-10.0) == pytest.approx(83.0 / 3.0, abs=0.05)
    assert height(200.0) == pytest.approx(46.0, abs=0.3)
    assert "Roll axis: climbs 5.0 deg toward the front" in texts(svg)


@pytest.mark.parametrize("kind", KINDS)
def test_no_word_lies_on_another_or_runs_off_the_picture(kind):
    svg = views_svg(KINDS[kind])
    wide, high = (float(v) for v in ET.fromstring(svg).get("viewBox").split()[2:])
    words = boxes(svg, 0.58)
    for left, top, right, low, text in words:
        assert left >= 0.0, text
        assert right <= wide, text
        assert top >= 0.0, text
        assert low <= high, text
    tight = boxes(svg)
    for i, a in enumerate(tight):
        for b in tight[i + 1 :]:
            assert not (a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]), (a[4], b[4])


@pytest.mark.parametrize("kind", KINDS)
def test_every_link_is_named_in_the_plan(kind):
    case = KINDS[kind]
    words = " ".join(texts(views_svg(case)))
    for link in case.study.linkage.links:
        if link.part != "guide":
            assert link.name in words


def test_several_geometries_stand_in_one_scale_with_whole_titles():
    both = (cases.splayed_case(), cases.binding_case())
    size = views_scale(both)
    one, two = (views_svg(case, size) for case in both)
    assert scale(one) == scale(two)
    for svg in (one, two):
        wide = float(ET.fromstring(svg).get("width"))
        assert max(b[2] for b in boxes(svg, 0.58)) <= wide


def test_leaf_springs_are_marked_as_an_approximation():
    assert any("APPROXIMATE" in t for t in texts(views_svg(KINDS["leaf springs"])))
    assert not any("APPROXIMATE" in t for t in texts(views_svg(KINDS["splayed"])))


def test_what_cannot_be_reached_crossed_up_is_not_drawn_nor_in_the_legend():
    lowers = made.both("lower", (0, 20, 14), (9, 17, 15))
    uppers = made.both("upper", (0, 6, 22), (8, 15, 22))
    linkage = made.linkage_of("four-link", made.rear_stance(), (*lowers, *uppers))
    case = LinkCase("very short", cases.study(linkage, 24.0, 24.0))
    assert not case.study.named.poses.reached[3]
    svg = views_svg(case)
    assert not paths(svg, "ghost")
    assert not any("grey dashes" in t for t in texts(svg))
    assert paths(views_svg(KINDS["splayed"]), "ghost")


def test_names_are_escaped():
    case = KINDS["splayed"]
    links = tuple(replace(k, name=f'{k.name}<&">') for k in case.study.linkage.links)
    odd = LinkCase('a<b> & "c"', replace(case.study, linkage=replace(case.study.linkage, links=links)))
    svg = views_svg(odd)
    assert ET.fromstring(svg).get("aria-label").startswith('a<b> & "c"')
    assert 'lower-left<&">' in rods(svg)


def test_the_same_geometry_gives_the_same_bytes():
    assert views_svg(cases.splayed_case()) == views_svg(cases.splayed_case())
    assert views_svg(cases.splayed_case()) != views_svg(cases.flat_case("splayed"))


@pytest.mark.parametrize(
    ("names", "text"),
    [
        (["lower-left", "lower-right"], "lower L+R"),
        (["arm-left-front", "arm-right-front"], "arm-front L+R"),
        (["upper", "track-bar"], "upper + track-bar"),
        (["upper-left", "lower-right"], "upper-left + lower-right"),
        (["upper"], "upper"),
    ],
)
def test_lines_that_cover_one_another_share_a_name(names, text):
    assert joined(names) == text
