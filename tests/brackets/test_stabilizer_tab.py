"""The tab of a steering stabilizer: one plate along the tube."""

import numpy as np
import pytest

from tests.brackets import tab_jobs as jobs


def test_the_stabilizer_tab_is_released():
    assert jobs.held()["rod-tab"] is None


def test_its_bolt_goes_through_the_point_square_to_tube_and_rod():
    made = jobs.every()
    here, there = (jobs.in_axle(jobs.RODS[k]) for k in ("point", "toward"))
    (plate,) = made.solids("rod")
    (axis,) = jobs.bore_axes(plate, made.job.parts["rod-tab"].profile.holes[0].finished)
    assert jobs.off_line(here, axis) < 0.01
    assert abs(axis[1][1]) < 1e-12  # the tube runs along Y
    assert abs(axis[1] @ (there - here)) / np.linalg.norm(there - here) < 1e-9


def test_its_straight_edge_lies_along_the_tube_with_the_root_gap():
    made = jobs.every()
    (found,) = jobs.gaps(made, "rod", "-tab")
    assert jobs.GAP - 1e-4 < found < jobs.GAP + 1e-3
    (plate,) = made.solids("rod")
    along = [n for _, n, _ in jobs.flats(plate)]
    assert all(abs(n[1]) < 1e-9 for n in along if abs(n @ made.mount("rod").bolt) > 0.99)


def test_the_plate_is_the_one_nearer_to_the_tube_and_touches_the_eye():
    made = jobs.every()
    mount = made.mount("rod")
    (ear,) = made.job.brackets.facts["rod"].ears
    assert abs(ear.offset) == pytest.approx(38.0 / 2.0)
    inner = np.array(mount.point) + ear.offset * np.array(mount.bolt)
    outer = np.array(mount.point) - ear.offset * np.array(mount.bolt)
    assert np.hypot(inner[0], inner[2]) < np.hypot(outer[0], outer[2])


def test_of_a_rod_on_the_other_side_it_is_the_mirror_image():
    left = jobs.one("stabilizer-tab", holds="rod-left", **{k: _over(jobs.RODS[k]) for k in jobs.RODS})
    sides, volumes = jobs.mirrored_boxes(left, "rod-left", "rod-right")
    assert sides < 0.01
    assert volumes < 1e-9
    assert left.job.parts["rod-left-tab"].hand == "L"
    assert left.job.parts["rod-right-tab"].hand == "R"


def _over(point):
    x, y, z = point
    return [x, f"{-float(y.removesuffix(' mm'))} mm", z]


def test_a_plate_off_the_tubes_middle_says_what_to_grind():
    made = jobs.one("stabilizer-tab", ears="both")
    notes = [n for p in made.job.parts.values() for n in p.notes if "grind it" in n]
    assert notes  # 23 mm off the middle of a tube of 82.6 mm an edge of 10 mm gapes 7 mm and more
    assert not any("grind it" in n for n in jobs.every().job.parts["strap-left-tab-in"].notes)


def test_a_hole_too_near_to_its_weld_is_refused_by_how_much():
    words, _ = jobs.refused("stabilizer-tab", point=["-2783 mm", "-300 mm", "470 mm"])
    assert "from the welded edge and must stand" in words
    assert "mm out" in words


@pytest.mark.parametrize("part", ["tie-rod", "drag-link", "pitman-arm", "steering-arm"])
def test_its_notes_keep_welds_off_what_steers(part):
    notes = " ".join(jobs.every().job.parts["rod-tab"].notes)
    assert {"tie-rod": "tie rod", "drag-link": "drag link"}.get(part, "arm") in notes
    assert "local rules come first" in notes
