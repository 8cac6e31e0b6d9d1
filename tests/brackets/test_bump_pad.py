"""Bump pads on legs with a rib, low ones without, and one flat under a rail."""

import numpy as np
import pytest

from fixturegen.shapes.meshes import exact_distance
from tests.brackets import tab_jobs as jobs


def test_bump_pads_are_released():
    parts = [n for n in jobs.held() if n.startswith("stop-")]
    assert len(parts) == 8
    assert {n: jobs.held()[n] for n in parts} == dict.fromkeys(parts)


@pytest.mark.parametrize(
    ("group", "end", "other"), [("stop-left", "point", "toward"), ("stop-left-frame", "toward", "point")]
)
def test_the_pad_faces_its_stop_at_the_point_of_the_sheet(group, end, other):
    here, there = jobs.in_axle(jobs.STOP_ENDS[end]), jobs.in_axle(jobs.STOP_ENDS[other])
    way = (there - here) / np.linalg.norm(there - here)
    (pad,) = jobs.every().solids(group, "-seat")
    (face,) = [(h, n) for h, n, _ in jobs.flats(pad) if n @ way > 0.99]
    assert face[1] @ way == pytest.approx(1.0, abs=1e-12)
    assert face[0] == pytest.approx(float(here @ way), abs=0.01)


@pytest.mark.parametrize("group", ["stop-left", "stop-right"])
def test_legs_and_rib_stand_on_the_tube_with_the_root_gap(group):
    made = jobs.every()
    found = jobs.gaps(made, group, ("-leg", "-rib"))
    assert len(found) == 3  # two legs alike, one part, and the rib
    assert all(jobs.GAP - 1e-4 < g < jobs.GAP + 0.006 for g in found)
    (rib,), (one, other) = made.solids(group, "-rib"), made.solids(group, "-leg")
    assert max(exact_distance(rib, leg)[0] for leg in (one, other)) < 1e-6
    assert made.job.parts[f"{group}-leg"].quantity == 2


def test_a_flat_pad_lies_on_its_rail():
    made = jobs.every()
    assert jobs.gaps(made, "stop-left-frame", "-seat") == [pytest.approx(0.0, abs=1e-6)]
    seams = made.job.brackets.facts["stop-left-frame"].seams
    # all round a pad of 2 3/4 in: four sides less what the corners of 10 mm take
    around = 4.0 * (2.75 * 25.4 - 20.0) + 2.0 * np.pi * 10.0
    assert sum(np.linalg.norm(np.subtract(s.end, s.begin)) for s in seams) == pytest.approx(around, rel=0.05)


def test_a_pad_that_leans_over_a_flat_top_has_its_feet_under_both_its_edges():
    # a stop upright in the vehicle, a truss level with a pinion 12 deg nose up
    point, top = ["-2872 mm", "560 mm", "585 mm"], ["-2872 mm", "560 mm", "795 mm"]
    made = jobs.one("bump-pad", point=point, toward=top, on="truss", facing="up", surface="112 mm", wall="12 mm")
    assert jobs.gaps(made, "stop-left", "-leg") == [pytest.approx(jobs.GAP, abs=0.006)] * 2
    (pad,) = made.solids("stop-left", "-seat")
    for leg in made.solids("stop-left", "-leg"):
        foot, over = leg.BoundingBox(), pad.BoundingBox()
        assert foot.zmin == pytest.approx(112.0 + jobs.GAP, abs=0.01)
        # all that stands below the pad is within a bead's leg of it, and no narrower than the pad less both beads
        assert over.xmin - 6.35 < foot.xmin < foot.xmax < over.xmax + 6.35
        assert foot.xmax - foot.xmin > 69.85 * np.cos(np.radians(12.0)) - 4.0 * 6.35


def test_a_low_pad_needs_no_rib():
    made = jobs.one("bump-pad", point=["-2850 mm", "560 mm", "510 mm"])
    assert not made.solids("stop-left", "-rib")
    assert len(made.solids("stop-left", "-leg")) == 2


def test_the_right_pad_is_the_mirror_image_of_the_left_one():
    sides, volumes = jobs.mirrored_boxes(jobs.every(), "stop-left", "stop-right")
    assert sides < 0.01
    assert volumes < 1e-5


def test_a_pad_too_near_to_the_tube_is_refused_by_how_much():
    words, remedy = jobs.refused("bump-pad", point=["-2850 mm", "560 mm", "495 mm"])
    assert "are left to the left axle tube and its legs need 6.3 mm" in words
    assert remedy.startswith("move its point ")


def test_a_pad_of_its_own_size_is_that_size():
    made = jobs.one("bump-pad", length="90 mm", width="60 mm")
    (pad,) = made.solids("stop-left", "-seat")
    assert pad.BoundingBox().ylen == pytest.approx(90.0, abs=1e-6)
    areas = sorted(a for _, _, a in jobs.flats(pad))
    # rectangle less the corners of 10 mm
    assert areas[-1] == pytest.approx(90.0 * 60.0 - (4.0 - np.pi) * 100.0, rel=1e-6)


def test_a_pad_wider_than_its_rail_is_refused_and_one_that_fits_with_its_beads_is_not():
    row = jobs.RAIL_ROWS["bump-pad"]
    # 60 mm of pad and a bead of 1/4 in on both sides
    need = 60.0 + 2.0 * 25.4 / 4.0
    words, remedy = jobs.refused("bump-pad", row, length="60 mm", rail_width=f"{need - 1.0:.3f} mm")
    assert words.startswith(f"its feet and their beads take {need:.1f} mm across the underside of the rail")
    assert remedy.startswith("make it 1.0 mm narrower")
    assert jobs.refused("bump-pad", row, length="60 mm", rail_width=f"{need + 0.1:.3f} mm") == ("", "")
