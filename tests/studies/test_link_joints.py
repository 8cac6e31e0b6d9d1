"""How far joints are out of line: closed forms and limits."""

import math
from dataclasses import replace

import numpy as np
import pytest

from fixturegen.axle.linkage import Joint, Link, Linkage
from fixturegen.axle.travel import poses_at
from fixturegen.studies.link_joints import misalignments
from tests.axle import invented_linkages as made

ACROSS = (0.0, 1.0, 0.0)


def bolted(linkage, bolt=ACROSS, limit=None):
    links = tuple(
        replace(k, frame=replace(k.frame, bolt=bolt, limit=limit), axle=replace(k.axle, bolt=bolt, limit=limit))
        for k in linkage.links
    )
    return replace(linkage, links=links)


def parallel() -> Linkage:
    beside = Joint(made.inches((-made.WHEELBASE, 0, 26)))
    links = (
        *made.both("lower", (0, 15, 16), (36, 15, 16)),
        made.rear("upper", (0, 0, 26), (36, 0, 26)),
        Link("middle", beside, beside, part="guide", direction=ACROSS),
    )
    return Linkage("three-link", made.rear_stance(), links)


def by_name(found):
    return {m.link: m for m in found}


def test_a_joint_swings_freely_about_its_bolt():
    found = misalignments(poses_at(bolted(parallel()), np.array([0.0, 100.0, -150.0])))
    assert [m.link for m in found] == ["lower-left", "lower-right", "upper"], "guides are no links"
    for one in found:
        assert one.frame == pytest.approx(0.0, abs=1e-6) and one.axle == pytest.approx(0.0, abs=1e-6)


def test_a_tab_that_is_not_square_to_its_link_has_used_part_of_the_joint_at_rest():
    # geometry: a link splayed in plan by atan(4/40), climbing 6, on bolts straight across
    found = by_name(misalignments(poses_at(bolted(made.splayed()), 0.0)))["lower-left"]
    tilt = math.degrees(math.asin(4 / math.sqrt(40**2 + 4**2 + 6**2)))
    assert found.frame[0] == pytest.approx(tilt, abs=1e-9) and found.axle[0] == pytest.approx(tilt, abs=1e-9)


def test_each_end_takes_half_the_twist_of_roll():
    # common practice, no source: half the crossed-up angle each; the upper link, at the height the axle rolls
    # about, only twists, and the lower ones swing aside as well
    links = by_name(misalignments(poses_at(bolted(parallel()), 0.0, np.array([0.0, 10.0, -10.0]))))
    assert links["upper"].frame == pytest.approx([0.0, 5.0, 5.0], abs=1e-3)
    assert links["upper"].axle == pytest.approx([0.0, 5.0, 5.0], abs=1e-3)
    # 10 in below it: tilt asin(10 sin 10 deg / 36) at the least, half of 10 deg of twist
    tilt = math.asin(10 * math.sin(math.radians(10)) / 36)
    least = math.degrees(math.acos(math.cos(tilt) * math.cos(math.radians(5))))
    assert links["lower-left"].frame[1] == pytest.approx(least, abs=0.3)


def test_an_arm_gives_its_frame_joint_the_whole_roll():
    # the arm goes with the axle, so its bore leaves the bolt by the roll of the housing
    found = by_name(misalignments(poses_at(bolted(made.truck_arms()), 0.0, np.array([0.0, 8.0]))))["arm-left-front"]
    assert found.frame == pytest.approx([0.0, 8.0], abs=0.1)
    assert found.axle == pytest.approx([0.0, 0.0])


def test_a_wishbone_hinged_on_its_bolts_is_in_line_at_the_frame_and_rolls_at_the_axle():
    linkage = made.wishbone()
    poses = poses_at(bolted(linkage), np.array([0.0, 80.0, 0.0]), np.array([0.0, 0.0, 7.0]))
    found = by_name(misalignments(poses))["upper-left"]
    assert found.frame == pytest.approx([0.0, 0.0, 0.0], abs=1e-9)
    assert found.axle[:2] == pytest.approx([0.0, 0.0], abs=1e-9)
    assert found.axle[2] == pytest.approx(7.0, abs=0.1)


@pytest.mark.parametrize(("limit", "over"), [(4.0, True), (6.0, False)])
def test_the_pose_beyond_the_limit_is_told(limit, over):
    found = by_name(misalignments(poses_at(bolted(parallel(), limit=limit), 0.0, np.array([0.0, 5.0, 10.0]))))
    assert found["upper"].beyond() == ({"frame": 2, "axle": 2} if over else {})


def test_without_bolts_nothing_is_told():
    for one in misalignments(poses_at(made.splayed(), 50.0)):
        assert one.frame is None and one.axle is None and one.beyond() == {}
