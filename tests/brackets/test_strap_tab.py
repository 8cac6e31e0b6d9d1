"""Tabs of limit straps on the axle tube and under a rail."""

import numpy as np
import pytest

from fixturegen.shapes.meshes import exact_distance
from tests.brackets import tab_jobs as jobs

FRAME = "strap-left-frame"


def test_strap_tabs_are_released():
    parts = [n for n in jobs.held() if n.startswith("strap-")]
    assert len(parts) == 8
    assert {n: jobs.held()[n] for n in parts} == dict.fromkeys(parts)


@pytest.mark.parametrize(("group", "end"), [("strap-left", "point"), (FRAME, "toward")])
def test_the_bolt_goes_through_the_point_of_the_sheet(group, end):
    made = jobs.every()
    part = next(n for n in made.job.parts if n.startswith(f"{group}-tab"))
    size = made.job.parts[part].profile.holes[0].finished
    axes = [a for s in made.solids(group) for a in jobs.bore_axes(s, size)]
    assert len(axes) == len(made.job.brackets.facts[group].ears)
    assert all(jobs.off_line(jobs.in_axle(jobs.STRAP_ENDS[end]), a) < 0.01 for a in axes)


@pytest.mark.parametrize(("group", "words"), [("strap-left", ("-in", "-out")), (FRAME, ("-tab", "-gusset"))])
def test_the_edges_stand_off_tube_and_rail_by_the_root_gap(group, words):
    found = jobs.gaps(jobs.every(), group, words)
    assert len(found) == 2
    assert all(jobs.GAP - 1e-4 < g < jobs.GAP + 0.006 for g in found)


@pytest.mark.parametrize(("left", "right"), [("strap-left", "strap-right"), (FRAME, "strap-right-frame")])
def test_right_tabs_are_the_mirror_image_of_left_ones(left, right):
    sides, volumes = jobs.mirrored_boxes(jobs.every(), left, right)
    assert sides < 0.01
    assert volumes < 1e-5


def test_two_tabs_leave_the_width_of_the_strap_end_and_one_stands_beside_it():
    made = jobs.every()
    inner, outer = made.solids("strap-left")
    assert exact_distance(inner, outer)[0] == pytest.approx(13.0 + 25.4 / 64.0, abs=1e-6)
    (ear,) = made.job.brackets.facts[FRAME].ears
    assert ear.offset == pytest.approx(13.0 / 2.0)  # the outer one of a left bracket: to the left


def test_a_straight_foot_is_welded_round_its_ends_too():
    made = jobs.one("strap-tab", jobs.RAIL_ROWS["strap-tab"], ears="both")
    seams = made.job.brackets.facts[FRAME].seams
    ways = [np.subtract(s.end, s.begin) / np.linalg.norm(np.subtract(s.end, s.begin)) for s in seams]
    # beads of one line alone carry no moment about it
    assert min(abs(float(ways[0] @ w)) for w in ways) < 0.1


def test_a_row_without_a_joint_is_refused():
    words, remedy = jobs.refused("strap-tab", joint="")
    assert words == "its row names no joint, so neither width nor bolt is known"
    assert remedy.startswith("measure the joint")


def test_two_tabs_wider_than_their_rail_are_refused():
    # strap 13 mm and room, two plates of 6.1 mm, a bead of 1/4 in on both sides
    need = 13.0 + 25.4 / 64.0 + 2.0 * 6.1 + 2.0 * 25.4 / 4.0
    row = jobs.RAIL_ROWS["strap-tab"] | {"ears": "both"}
    words, _ = jobs.refused("strap-tab", row, rail_width="1.25 in")
    assert words.startswith("its feet and their beads take ")
    # the tabs lean with the strap, so they take a hair more across the rail
    assert need <= float(words.split()[6]) < need + 1.5
    assert jobs.refused("strap-tab", row, rail_width="3 in") == ("", "")
