"""Springs, shocks and straps: differences of poses and closed forms."""

import math

import numpy as np
import pytest

from fixturegen.axle.linkage import Joint
from fixturegen.axle.travel import poses_at
from fixturegen.studies.link_struts import Strut, strut_motion
from tests.axle import invented_linkages as made
from tests.axle.invented_linkages import INCH

SHOCK = Strut("shock-left", Joint(made.inches((-113, 14, 38))), Joint(made.inches((-112, 19, 17))), 400.0, 700.0)


@pytest.mark.parametrize(("heave", "roll"), [(0.0, 0.0), (60.0, 0.0), (-80.0, 5.0), (30.0, -8.0)])
def test_motion_ratios_are_differences_of_two_poses(heave, roll):
    linkage = made.splayed()
    here = strut_motion(poses_at(linkage, heave, roll), SHOCK)
    e = 1e-3
    up = strut_motion(poses_at(linkage, [heave + e, heave - e], roll), SHOCK).length
    assert here.heave_ratio[0] == pytest.approx(-(up[0] - up[1]) / (2 * e), abs=1e-6)
    turned = poses_at(linkage, heave, [roll + e, roll - e])
    length = strut_motion(turned, SHOCK).length
    wheel = turned.points(linkage.stance.wheels)[:, 0, 2]
    assert here.roll_ratio[0] == pytest.approx(-(length[0] - length[1]) / (wheel[0] - wheel[1]), abs=1e-6)


def test_an_upright_spring_at_the_axle_line_has_a_ratio_of_one_and_its_lever_in_roll():
    x = -made.WHEELBASE
    spring = Strut("spring-left", Joint(made.inches((x, 18, 30))), Joint(made.inches((x, 18, 16))))
    found = strut_motion(poses_at(made.leaves(), 0.0), spring)
    # statics: at 18 in with the tyres at 30 in; upright, so the lean is none
    assert (found.heave_ratio[0], found.roll_ratio[0]) == pytest.approx((1.0, 18 / 30), abs=1e-9)
    assert found.lean[0] == pytest.approx(0.0, abs=1e-6) and found.bend[0] == pytest.approx(0.0, abs=1e-6)


def test_a_leaning_shock_loses_the_cosine_of_its_lean():
    # geometry; leaning across, where the axle goes straight up
    x = -made.WHEELBASE
    shock = Strut("shock", Joint(made.inches((x, 12, 36))), Joint(made.inches((x, 22, 16))))
    found = strut_motion(poses_at(made.leaves(), 0.0), shock)
    assert found.lean[0] == pytest.approx(math.degrees(math.atan(0.5)))
    assert found.heave_ratio[0] == pytest.approx(math.cos(math.atan(0.5)))


def test_left_and_right_are_mirror_images():
    right = Strut("shock-right", Joint(made.inches((-113, -14, 38))), Joint(made.inches((-112, -19, 17))))
    linkage = made.splayed()
    heave, roll = np.array([0.0, 40.0, -60.0]), np.array([0.0, 6.0, -9.0])
    one, other = (
        strut_motion(poses_at(linkage, heave, roll), SHOCK),
        strut_motion(poses_at(linkage, heave, -roll), right),
    )
    assert other.length == pytest.approx(one.length) and other.roll_ratio == pytest.approx(one.roll_ratio)


def test_room_in_and_out_is_what_is_left_of_its_stroke():
    found = strut_motion(poses_at(made.splayed(), np.array([0.0, 5.0 * INCH])), SHOCK)
    assert found.room_in + found.room_out == pytest.approx(300.0)
    assert found.room_in[1] < found.room_in[0]
    assert strut_motion(poses_at(made.splayed(), 0.0), Strut("s", SHOCK.frame, SHOCK.axle)).room_in is None
