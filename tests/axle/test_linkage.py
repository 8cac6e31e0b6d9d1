"""Linkages by name, and what is refused as none."""

from dataclasses import replace

import numpy as np
import pytest

from fixturegen.axle.linkage import Joint, Link, Linkage
from fixturegen.axle.linkage_faults import linkage_faults, refuse
from fixturegen.axle.linkage_kinds import LINKS_OF, Leaf, leaf_springs, linkage_of
from fixturegen.axle.travel import poses_at
from fixturegen.errors import InputFault
from tests.axle import invented_linkages as made
from tests.axle.invented_linkages import INCH


def changed(linkage, name, **values):
    """The linkage with one link changed."""
    links = tuple(replace(k, **values) if k.name == name else k for k in linkage.links)
    return replace(linkage, links=links)


def said(linkage):
    return " | ".join(f.sentence() for f in linkage_faults(linkage))


@pytest.mark.parametrize("name", sorted(made.EXACT))
def test_the_invented_linkages_are_linkages(name):
    assert linkage_faults(made.EXACT[name]()) == ()


def test_a_point_given_in_the_axle_frame_is_the_same_point():
    there = made.splayed()
    links = tuple(replace(k, axle=Joint(tuple(there.stance.to_axle(k.axle.point)), at="axle")) for k in there.links)
    here = replace(there, links=links)
    assert here.axle_points() == pytest.approx(there.axle_points(), abs=1e-10)
    assert here.lengths() == pytest.approx(there.lengths(), abs=1e-10)


def test_a_raised_pinion_turns_the_axle_frame_as_the_axes_say():
    # ISO 8855 axes: a rear pinion points ahead, a front one back; a raised nose points up
    for stance, sign in ((made.rear_stance(pinion=5.0), 1), (made.front_stance(pinion=5.0), -1)):
        nose = stance.rotation @ [sign, 0.0, 0.0]
        assert nose[2] == pytest.approx(np.sin(np.radians(5.0)))
        assert np.sign(nose[0]) == sign


def test_bushes_in_a_row_are_softer_than_either():
    link = Link("upper", Joint((0, 0, 0), rate=3000.0), Joint((1, 0, 0), rate=6000.0))
    assert link.rate == pytest.approx(2000.0)  # springs in a row: 1/3 + 1/6 = 1/2
    assert Link("upper", Joint((0, 0, 0)), Joint((1, 0, 0))).rate is None


def test_a_link_that_is_missing_or_too_many_is_named():
    links = made.splayed().links
    with pytest.raises(InputFault, match=r"links\.upper\.right.*four-link linkage has 4 lines"):
        linkage_of("four-link", made.rear_stance(), links[:3])
    with pytest.raises(InputFault, match=r"links\.track_bar.*leave it out"):
        linkage_of("four-link", made.rear_stance(), (*links, made.arms()[-1]))


def test_every_kind_with_links_can_be_made():
    makers = (made.splayed, made.three_link, made.five_link, made.wishbone, made.radius_arms, made.truck_arms)
    assert {m().kind for m in makers} == set(LINKS_OF)


# what is refused, and what just passes


def test_fewer_than_four_lengths_name_the_motion_left():
    three = made.three_link()
    for name, motion in (
        ("track-bar", "moves sideways"),
        ("upper", "turns about its own line"),
    ):
        less = replace(three, links=tuple(k for k in three.links if k.name != name))
        assert f"3 lengths ({', '.join(k.name for k in less.links)}), with which the axle {motion}" in said(less)
    lowers_only = replace(three, links=three.links[:2])
    assert "moves sideways" in said(lowers_only) and "turns about its own line" in said(lowers_only)
    one_lower = replace(three, links=three.links[1:])
    assert "turns in plan" in said(one_lower) or "moves fore and aft" in said(one_lower)


def test_parallel_links_without_a_track_bar_move_sideways():
    links = (*made.both("lower", (0, 18, 14), (38, 18, 14)), *made.both("upper", (2, 12, 26), (30, 12, 26)))
    parallel = Linkage("four-link", made.rear_stance(), links)
    assert "4 links that lie in one plane, run parallel or meet in one line, so that the axle moves sideways" in said(
        parallel
    )
    # unlike slopes hold one motion more, and it is roll: still nothing stops the axle going sideways
    unlike = (*links[:2], *made.both("upper", (2, 12, 26), (30, 12, 27)))
    assert "it cannot roll, and instead it moves sideways" in said(replace(parallel, links=unlike))
    # splayed by a few inches it is located
    splay = made.both("upper", (2, 5, 26), (30, 12, 26))
    assert said(replace(parallel, links=(*links[:2], *splay))) == ""


def test_links_in_one_plane_let_the_pinion_swing():
    links = (*made.both("lower", (0, 20, 16), (40, 16, 16)), *made.both("upper", (0, 4, 16), (30, 16, 16)))
    assert "turns about its own line" in said(Linkage("four-link", made.rear_stance(), links))


def test_a_link_square_to_its_travel_locks_the_axle():
    def with_bar(frame):
        lowers = made.both("lower", (0, 15, 16), (-36, 15, 18), make=made.rod)
        bar = made.rod("track-bar", (0, -16, 20), frame)
        return Linkage("three-link", made.front_stance(), (*lowers, made.rod("upper", (-1, 0, 26), (-31, 0, 27)), bar))

    upright = said(with_bar((0, -16, 48)))
    assert "links that lock the axle at ride height" in upright
    assert "it cannot go up and down" in upright and "instead it moves sideways" in upright
    assert "lay it flatter" in upright
    assert said(with_bar((0, 12, 48))) == ""


def test_a_link_without_length_is_refused_and_a_short_one_is_not():
    base = made.three_link()
    upper = next(k for k in base.links if k.name == "upper")
    x, y, z = upper.axle.point
    assert "ends 0.9 in apart" in said(changed(base, "upper", frame=Joint((x - 0.9 * INCH, y, z))))
    assert "apart" not in said(changed(base, "upper", frame=Joint((x - 1.1 * INCH, y, z))))


def test_two_links_on_one_joint_centre_are_refused_unless_they_are_a_wishbone():
    base = made.splayed()
    lower = next(k for k in base.links if k.name == "lower-left")
    words = said(changed(base, "upper-left", axle=lower.axle))
    assert "the same joint centre as" in words and "two legs of a wishbone" in words
    x, y, z = lower.axle.point
    assert "same joint" not in said(changed(base, "upper-left", axle=Joint((x, y, z + 2.0))))
    assert said(made.wishbone()) == ""


@pytest.mark.parametrize("end", ["frame", "axle"])
def test_a_point_under_the_ground_is_refused(end):
    base = made.splayed()
    link = base.links[0]
    x, y, _ = getattr(link, end).point
    assert f"links.lower.left.{end}: given a point 0.5 in under the ground" in said(
        changed(base, "lower-left", **{end: Joint((x, y, -0.5 * INCH))})
    )
    assert "ground" not in said(changed(base, "lower-left", **{end: Joint((x, y, 0.5 * INCH))}))


def test_left_and_right_swapped_is_refused():
    base = made.splayed()
    by_name = {k.name: k for k in base.links}
    left, right = by_name["lower-left"], by_name["lower-right"]
    swapped = changed(changed(base, "lower-left", frame=right.frame), "lower-right", frame=left.frame)
    assert "links.lower.left.frame" in said(swapped) and "swap the two" in said(swapped)


def test_a_point_that_is_no_number_is_refused():
    assert "no number" in said(changed(made.splayed(), "lower-left", frame=Joint((float("nan"), 1.0, 2.0))))


def test_each_refusal_is_one_sentence_with_a_remedy():
    base = changed(made.splayed(), "lower-left", frame=Joint((0.0, 1.0, -5.0)))
    with pytest.raises(InputFault) as caught:
        refuse(base)
    for fault in caught.value.faults:
        assert fault.key.startswith("links.") and fault.given and fault.allowed and fault.remedy
        assert "\n" not in fault.sentence()


# leaf springs


def test_an_eye_of_a_leaf_bent_to_a_circle_moves_on_the_arc_of_its_link():
    # closed form of a beam of length L bent to a circle: the chord along is sin(k L) / k, across (1 - cos(k L)) / k
    half = 26.0 * INCH
    linkage = made.leaves()
    for bend in (0.1, 0.25, 0.4):
        curve = bend / half
        shortened, across = half - np.sin(bend) / curve, (1 - np.cos(bend)) / curve
        moved = poses_at(linkage, across)
        # the axle goes toward the eye by what the spring shortens
        assert moved.unknowns[0, 0] == pytest.approx(shortened, rel=0.02)
        assert moved.turn[0] == pytest.approx(0.0, abs=1e-9)
    assert linkage.approximate


@pytest.mark.parametrize(("a", "b"), [(22.0, 30.0), (30.0, 22.0)])
def test_unlike_halves_turn_the_seat_as_two_springs_in_balance_do(a, b):
    # statics: cantilevers of one section, stiffness as 1 / L^3, loads in balance about the seat:
    # (1 + a t) / a^3 * a = (1 - b t) / b^3 * b for a heave of 1 and a turn t that lifts the fixed eye's side
    turn = np.linalg.solve([[1 / a + 1 / b]], [1 / b**2 - 1 / a**2])[0]
    e = 0.01
    poses = poses_at(made.leaves(a, b), [e, -e])
    # the fixed eye is ahead: lifting the front is a turn to the rear, negative
    assert np.radians(poses.turn[0] - poses.turn[1]) / (2 * e) == pytest.approx(-turn / INCH, rel=1e-5)


def test_a_seat_that_is_not_between_the_eyes_is_refused():
    leaf = Leaf((-2000.0, 450.0, 350.0), (-1900.0, 450.0, 350.0), (-2794.0, 450.0, 350.0))
    with pytest.raises(InputFault, match=r"links\.leaf\.left\.seat.*between the eyes"):
        leaf_springs(made.rear_stance(), leaf, leaf)
