"""Frames against plain rotation matrices of a general library (scipy)."""

import math

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from fixturegen.axle import frames


@pytest.mark.parametrize("angle", [-37.5, 0.0, 0.5, 10.0, 17.0, 90.0])
def test_a_turn_about_y_is_the_library_rotation(angle):
    assert np.allclose(
        frames.turn_about_y(angle), Rotation.from_euler("y", angle, degrees=True).as_matrix(), atol=1e-15
    )


def test_a_turn_takes_the_vertical_forward():
    # frames: R_y(t) takes z to (sin t, 0, cos t), ISO 8855 axes
    z = frames.turn_about_y(10.0) @ np.array([0.0, 0.0, 1.0])
    assert z == pytest.approx([math.sin(math.radians(10)), 0.0, math.cos(math.radians(10))])


def test_turning_there_and_back_is_identity():
    v = np.array([1.0, 2.0, 3.0])
    assert frames.turn_about_y(-23.0) @ (frames.turn_about_y(23.0) @ v) == pytest.approx(v)


def test_a_knuckle_of_nine_degrees_inclination_set_to_eight_of_caster_reads_9_087():
    # derived from the projection of the steering axis, ISO 8855: atan(tan 9 / cos 8)
    axis = frames.steering_axis(1, 8.0, 9.0)
    assert frames.inclination_of(axis, 1) == pytest.approx(9.087, abs=5e-4)
    assert frames.caster_of(axis) == pytest.approx(8.0, abs=1e-12)


@pytest.mark.parametrize("caster", [-3.0, 0.0, 7.0, 17.0])
def test_left_and_right_steering_axes_are_mirror_images(caster):
    left, right = (frames.steering_axis(s, caster, 8.5) for s in (1, -1))
    assert left * np.array([1, -1, 1]) == pytest.approx(right)


def test_top_to_the_rear_is_positive_caster_and_top_inboard_positive_inclination():
    axis = frames.steering_axis(1, 7.0, 8.5)
    assert axis[0] < 0.0, "the top leans to the rear (-X)"
    assert axis[1] < 0.0, "on the left side inboard is -Y"
