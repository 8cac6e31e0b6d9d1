"""Where components stand: studs of the face, bolt circles, frames of vehicle and axle."""

from pathlib import Path

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from fixturegen.axle.model import axle_of, to_table
from fixturegen.sheet import read_text
from fixturegen.sheet.specs.components import BoltCircle
from fixturegen.studies.component_plan import components_of, on_circle, stud_place
from fixturegen.studies.component_records import BoxShape, OutlineShape, PlaneShape
from fixturegen.studies.link_inputs import stance_of
from tests.sheet.altered import BALLJOINT, KINGPIN
from tests.sheet.component_cases import TEXT

INCH = 25.4
BOX = """
[[components]]
name = "pan"
kind = "oil-pan"
moves_with = "{moves}"
at = "{at}"
accuracy = "1/8 in"
box = {{ x = ["-4 in", "4 in"], y = ["-3 in", "3 in"], z = ["20 in", "26 in"] }}
"""


def planned(text):
    sheet = read_text(text)
    axle = axle_of(sheet)
    return sheet, axle, components_of(sheet, axle, Path("there"))


@pytest.mark.parametrize("text", [KINGPIN, BALLJOINT])
def test_a_stud_stands_on_the_face_and_on_its_circle(text):
    """With the face upright in T its distance from the bore axis is the sheet's; the circle is measured across."""
    sheet = read_text(text)
    axle = axle_of(sheet)
    turn, origin = to_table(axle, 0.0)
    there = np.array([turn @ stud_place(axle, k + 1) + origin for k in range(len(axle.studs))])
    assert there[:, 0] == pytest.approx(axle.face_sign * float(sheet.housing.face.bore_distance))
    middle = np.array([float(sheet.housing.pinion_offset), -float(sheet.housing.face.vertical_offset)])
    radius = float(sheet.housing.face.studs.circle_diameter) / 2.0
    assert np.linalg.norm(there[:, 1:] - middle, axis=1) == pytest.approx(radius)


def test_a_bolt_on_a_circle_turns_right_handed_about_its_axis():
    circle = BoltCircle.model_validate(
        {
            "centre": ["10 mm", "20 mm", "30 mm"],
            "axis": ["0", "0.6", "0.8"],
            "zero": ["1", "0.1", "0"],
            "diameter": "200 mm",
        }
    )
    axis = np.array([0.0, 0.6, 0.8])
    start = on_circle(circle, 0.0) - [10.0, 20.0, 30.0]
    assert np.linalg.norm(start) == pytest.approx(100.0)
    assert start @ axis == pytest.approx(0.0, abs=1e-9)
    for angle in (37.0, 90.0, -120.0):
        turned = Rotation.from_rotvec(np.radians(angle) * axis).apply(start)
        assert on_circle(circle, angle) - [10.0, 20.0, 30.0] == pytest.approx(turned)


@pytest.mark.parametrize("moves", ["axle", "frame"])
@pytest.mark.parametrize("at", ["axle", "vehicle"])
def test_what_stands_still_at_ride_is_in_one_place_whatever_frame_it_is_given_in(moves, at):
    sheet, axle, (part,) = planned(KINGPIN + BOX.format(moves=moves, at=at))
    stance = stance_of(sheet, axle)
    corner = np.array([4.0, 3.0, 26.0]) * INCH
    stands = np.array(part.rotation) @ corner + np.array(part.origin)
    in_v = stance.rotation @ stands + stance.origin if part.frame == "A" else stands
    given = stance.rotation @ corner + stance.origin if at == "axle" else corner
    assert in_v == pytest.approx(given)
    assert part.residual is None


def test_every_sort_of_component_comes_out_as_it_was_given():
    _, _, parts = planned(TEXT)
    pan, cover, floor, tank = parts
    assert isinstance(pan.shape, BoxShape)
    assert pan.shape.low == pytest.approx([v * INCH for v in (-12, -6, 24)])
    assert pan.shape.high == pytest.approx([v * INCH for v in (10, 6, 31)])
    assert (cover.shape.path, cover.shape.unit, cover.frame) == (Path("there/cover.stl"), "mm", "A")
    assert floor.shape == PlaneShape((0.0, 0.0, 1016.0), (-0.0, -0.0, -1.0))
    assert isinstance(tank.shape, OutlineShape)
    assert tank.shape.depth == pytest.approx(8 * INCH)
    # accuracy 1/8 in and 1/8 in on each of three coordinates
    assert tank.placing == pytest.approx(INCH / 8.0 * (1.0 + 3.0**0.5))
