"""Leaf spring pads: turned by the pinion angle, the centre bolt on the point, saddle legs on the tube."""

import math

import numpy as np
import pytest

from fixturegen.axle.model import axle_of
from fixturegen.shapes.meshes import exact_distance
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.bracket_plan import bracket_plan
from tests.brackets import tab_jobs as jobs

INCH = 25.4


def test_spring_pads_are_released():
    parts = [n for n in jobs.held() if n.startswith("leaf-")]
    assert len(parts) == 4
    assert {n: jobs.held()[n] for n in parts} == dict.fromkeys(parts)


def test_the_pad_stands_to_the_pinion_by_the_pinion_angle_and_its_face_on_the_point():
    made = jobs.every()
    (pad,) = made.solids("leaf-left", "-seat")
    top = max(jobs.flats(pad), key=lambda f: f[2] * (f[1][2] > 0.0))
    # level at ride, the pinion 12 deg nose up: on the bench, pinion level, the pad falls 12 deg toward the nose
    assert math.degrees(math.atan2(top[1][0], top[1][2])) == pytest.approx(12.0, abs=1e-9)
    assert top[0] == pytest.approx(float(jobs.in_axle(jobs.LEAF_ENDS["point"]) @ top[1]), abs=0.01)
    (words,) = [n for n in made.job.parts["leaf-left-seat"].notes if "pinion axis" in n]
    assert words.startswith("stands 12.0 deg to the pinion axis, lower toward the nose's end")


def test_the_hole_of_the_centre_bolt_lies_on_the_point_and_takes_its_head():
    made = jobs.every()
    (hole,) = made.job.parts["leaf-left-seat"].profile.holes
    assert hole.finished == pytest.approx(14.0 + INCH / 32.0)
    (pad,) = made.solids("leaf-left", "-seat")
    (axis,) = jobs.bore_axes(pad, hole.finished)
    assert jobs.off_line(jobs.in_axle(jobs.LEAF_ENDS["point"]), axis) < 0.01


@pytest.mark.parametrize("group", ["leaf-left", "leaf-right"])
def test_the_legs_stand_on_the_tube_with_the_root_gap_under_the_spring(group):
    made = jobs.every()
    found = jobs.gaps(made, group, "-leg")
    assert len(found) == 2
    assert all(jobs.GAP - 1e-4 < g < jobs.GAP + 0.006 for g in found)
    (pad,) = made.solids(group, "-seat")
    boxes = [leg.BoundingBox() for leg in made.solids(group, "-leg")]
    assert all(exact_distance(leg, pad)[0] < 1e-6 for leg in made.solids(group, "-leg"))
    assert min(b.ymin for b in boxes) > pad.BoundingBox().ymin + INCH / 4.0  # the bead fits below the pad
    assert max(b.ymax for b in boxes) < pad.BoundingBox().ymax - INCH / 4.0


def test_the_right_pad_is_the_mirror_image_of_the_left_one():
    sides, volumes = jobs.mirrored_boxes(jobs.every(), "leaf-left", "leaf-right")
    assert sides < 0.01
    assert volumes < 1e-5


@pytest.mark.parametrize(("seat", "way"), [("520 mm", 1.0), ("370 mm", -1.0)])
def test_the_seat_of_a_leaf_spring_of_the_sheet_looks_square_to_its_eyes_and_away_from_the_tube(seat, way):
    raw = jobs.data(("spring-pad", jobs.ROWS["spring-pad"] | {"holds": "leaf-seat"}, {}))
    for key in ("point", "toward"):
        del raw["brackets"][0][key]
    raw["links"] |= {"kind": "leaf-springs", "leaf": {"left": _leaf(seat)}}
    for key in ("lower", "upper"):
        del raw["links"][key]
    sheet = Sheet.model_validate(raw)
    left, right = bracket_plan(sheet, axle_of(sheet)).mounts
    # eyes 1200 mm apart, the rear one 63 mm higher: 3 deg on top of the pinion's 12, tilted forward or back
    slope = math.degrees(math.atan2(63.0, 1200.0))
    assert math.degrees(math.atan2(way * left.along[0], way * left.along[2])) == pytest.approx(12.0 + slope, abs=1e-9)
    assert np.allclose(np.array(right.along) * (1, -1, 1), left.along)
    assert left.point == pytest.approx(tuple(jobs.in_axle(["-2845 mm", "520 mm", seat])))


def _leaf(height):
    return {
        "fixed_eye": ["-2245 mm", "520 mm", "500 mm"],
        "shackle_eye": ["-3445 mm", "520 mm", "563 mm"],
        "seat": ["-2845 mm", "520 mm", height],
    }


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"pin": None}, "its row gives no pin"),
        ({"width": None}, "its row gives no width"),
        ({"pin": "40 mm"}, "beside the hole of its centre bolt"),
        ({"point": ["-2845 mm", "620 mm", "500 mm"]}, "are left to the left axle tube and its legs need 6.3 mm"),
    ],
)
def test_a_pad_that_cannot_be_is_refused_in_one_sentence(change, words):
    row = {k: v for k, v in (jobs.ROWS["spring-pad"] | change).items() if v is not None}
    assert words in jobs.refused("spring-pad", row)[0]
