"""Towers against the sheet's points, measured joint, plain geometry and the kernel's distances."""

import numpy as np
import pytest

from tests.brackets import link_jobs as jobs
from tests.brackets import tab_jobs

SIDES = ("upper-left", "upper-right")
INSIDE = 57.0 + jobs.INCH / 64.0


def height(mount):
    """Of the hardpoint over the truss [mm]."""
    return float((np.array(mount.point) - np.array(mount.base.point)) @ np.array(mount.base.normal))


def test_towers_are_released():
    names = [n for n in jobs.held() if n.startswith("upper-")]
    assert len(names) == 10
    assert {n: jobs.held()[n] for n in names} == dict.fromkeys(names)


@pytest.mark.parametrize("name", SIDES)
def test_the_bores_of_both_side_plates_lie_on_the_hardpoint_square_to_the_link(name):
    made = jobs.every()
    mount = made.mount(name)
    found = jobs.axes(made, name)
    assert [p for p, _ in found] == [f"{name}-side-right", f"{name}-side-left"]
    for _, (axis,) in found:
        assert tab_jobs.off_line(mount.point, axis) < 0.01
        assert abs(float(axis[1] @ np.array(mount.along))) < 1e-6


@pytest.mark.parametrize("name", SIDES)
def test_every_plate_stands_on_the_truss_with_the_root_gap_though_the_bolt_leans(name):
    made = jobs.every()
    assert abs(float(np.dot(made.mount(name).bolt, made.mount(name).base.normal))) > 0.01
    for word in ("-side-right", "-side-left", "-back", "-gusset-right", "-gusset-left"):
        (found,) = tab_jobs.gaps(made, name, word)
        assert found == pytest.approx(jobs.GAP, abs=1e-3)


@pytest.mark.parametrize("name", SIDES)
def test_no_two_plates_share_a_place_and_each_meets_its_neighbour(name):
    made = jobs.every()
    assert max(jobs.overlaps(made, name)) < 1e-3
    there = dict(jobs.parts(made, name))
    back = there[f"{name}-back"]
    for end in ("right", "left"):
        side = there[f"{name}-side-{end}"]
        assert tab_jobs.exact_distance(side, back)[0] < 1e-6  # shoulders of the back plate seat on it
        assert tab_jobs.exact_distance(side, there[f"{name}-gusset-{end}"])[0] < 1e-6
    assert tab_jobs.exact_distance(there[f"{name}-side-left"], there[f"{name}-side-right"])[0] == pytest.approx(INSIDE)


@pytest.mark.parametrize("name", SIDES)
def test_feet_are_as_wide_as_nine_tenths_of_the_height(name):
    made = jobs.every()
    mount = made.mount(name)
    for end in ("right", "left"):
        outer = made.job.parts[f"{name}-side-{end}"].profile.outer
        first, second = sorted(outer, key=lambda v: v.y)[:2]
        assert abs(first.x - second.x) >= 0.9 * height(mount) - 1e-6  # common practice, no source


def test_the_sheet_may_say_how_wide_the_feet_are():
    made = jobs.one("tower", jobs.UPPER, width="150 mm")
    outer = made.job.parts["upper-left-side-left"].profile.outer
    first, second = sorted(outer, key=lambda v: v.y)[:2]
    assert abs(first.x - second.x) == pytest.approx(150.0)


@pytest.mark.parametrize("end", ["right", "left"])
def test_a_gusset_leaves_room_for_a_socket_and_lets_the_side_plates_weld_run_on(end):
    made = jobs.every()
    mount = made.mount("upper-left")
    there = dict(jobs.parts(made, "upper-left"))
    gusset = there[f"upper-left-gusset-{end}"]
    start = np.array(mount.point)
    bolt = np.array(mount.bolt)
    # a socket of 1.8 bolt diameters round the bolt's line, from the tower outward (common practice, no source)
    out = bolt if end == "left" else -bolt
    near, far = start + out * (INSIDE / 2.0 + 6.1), start + out * 200.0
    socket = tab_jobs.cylinder(tuple(near), tuple(far), 2.0 * 1.8 * 17.97 - 0.02)
    assert jobs.interferes(gusset, socket) < 1e-6
    # the corner between side plate and truss: a bead with legs of 7 mm passes
    normal = np.array(mount.base.normal)
    down = -(normal - (normal @ bolt) * bolt)  # along the side plate
    foot = near + down * float((near - np.array(mount.base.point)) @ normal - jobs.GAP) / -(down @ normal)
    along = np.cross(bolt, normal)
    bead = tab_jobs.cylinder(tuple(foot - 40.0 * along), tuple(foot + 40.0 * along), 2.0 * 7.0)
    assert jobs.interferes(gusset, bead) < 1e-6


def test_the_right_tower_is_the_mirror_image_of_the_left_one():
    sides, volumes = tab_jobs.mirrored_boxes(jobs.every(), *SIDES)
    assert sides < 0.01
    assert volumes < 1e-5


def test_a_bolt_level_with_the_truss_makes_side_plates_and_gussets_alike():
    level = {"point": ["-2840 mm", "110 mm", "650 mm"], "toward": ["-2000 mm", "110 mm", "640 mm"]}
    made = jobs.one("tower", {**jobs.UPPER, "holds": "lone"}, **level)
    assert made.job.parts["lone-side"].quantity == 2
    assert made.job.parts["lone-gusset"].quantity == 2
    assert [p.part for p in made.placements].count("lone-gusset") == 2
    assert max(jobs.overlaps(made, "lone")) < 1e-3


def test_a_point_too_low_for_a_tower_is_sent_to_the_lower_bracket():
    words, remedy = jobs.refused("tower", jobs.UPPER, surface="150 mm")
    assert "too low for a tower" in words
    assert "two-tab" in remedy


def test_a_narrow_joint_leaves_no_back_plate_and_says_so():
    raw = jobs.data(("tower", jobs.UPPER, {}))
    raw["joints"][1]["width"] = "30 mm"
    with pytest.raises(tab_jobs.GeometryFault, match="leaves no room between cut-off corners"):
        tab_jobs.made(raw)
