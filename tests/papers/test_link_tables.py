"""Cells of the tables against the study, by hand where a hand can; poses out of reach; joints past their limit."""

from dataclasses import replace

import numpy as np
import pytest

from fixturegen.papers.link_end_tables import ends_table, lock_table
from fixturegen.papers.link_tables import (
    OUT,
    angle_table,
    joint_table,
    metric_table,
    points_table,
    unit_text,
    value_text,
)
from tests.papers import invented_cases as cases

INCH = 25.4


def row(table, *start):
    (found,) = [r for r in table.rows if r[: len(start)] == start]
    return found


@pytest.fixture(scope="module")
def splayed():
    return cases.splayed_case()


def test_cells_hold_what_the_study_says_at_each_pose(splayed):
    table = metric_table((splayed,))
    m = splayed.study.named.metrics
    assert table.head[2:7] == ("ride", "bump", "droop", "crossed, left up", "crossed, right up")
    assert row(table, "Anti-squat under drive")[2:7] == tuple(f"{v:.1f}" for v in m.anti_squat)
    assert row(table, "Pinion angle")[2:7] == tuple(f"{v:.2f}" for v in m.pinion_angle)
    centre = row(table, "Roll centre")
    assert centre[2:7] == tuple(f"{v / INCH:.3f} ({v:.1f})" for v in m.roll_centre)
    assert centre[7:] == ("in (mm)", "iso-8855", "worked out")


def test_the_roll_centre_cell_is_the_height_between_the_apexes(splayed):
    # on the line through the apexes (-10, 83/3) and (200, 46) in: at the axle 83/3 + 10/210 (46 - 83/3)
    height = 83.0 / 3.0 + 10.0 / 210.0 * (46.0 - 83.0 / 3.0)
    assert row(metric_table((splayed,)), "Roll centre")[2] == f"{height:.3f} ({height * INCH:.1f})"


def test_left_and_right_crossed_are_mirror_images_under_an_axle_that_is_alike_on_both_sides(splayed):
    cells = row(metric_table((splayed,)), "Sideways shift of the axle")
    assert cells[5].replace("-", "") == cells[6].replace("-", "")
    assert cells[5] != cells[6]
    angles = angle_table((splayed,))
    assert row(angles, "lower-left")[5] == row(angles, "lower-right")[6]
    assert row(angles, "lower-left")[5] != row(angles, "lower-left")[6]


def test_a_level_link_has_no_slope_and_one_that_climbs_to_the_frame_has_a_positive_one():
    case = cases.of_every_kind()["parallel"]
    assert row(angle_table((case,)), "lower-left")[2] == "0.00"
    # splayed lower link, in: from (0, 20, 16) to (40, 16, 22): 6 up over the root of 40^2 + 4^2
    steep = np.degrees(np.arctan2(6.0, np.hypot(40.0, 4.0)))
    assert row(angle_table((cases.splayed_case(),)), "lower-left")[2] == f"{steep:.2f}"


def test_poses_out_of_reach_say_so_in_every_table():
    case = cases.binding_case()
    reached = case.study.named.poses.reached
    assert not reached.all()
    for table in (metric_table((case,)), angle_table((case,))):
        for cells in table.rows:
            assert [c == OUT for c in cells[2:7]] == [not ok for ok in reached]
    assert not any(OUT in cells for cells in metric_table((cases.splayed_case(),)).rows)


def test_a_joint_past_its_limit_is_told_by_how_much():
    tight = cases.splayed_case(limit=15.0)
    wide = cases.splayed_case(limit=60.0)
    found = next(r for r in joint_table((tight,)).rows if r[0] == "upper-left, frame end")
    worst = float(found[7])
    assert found[9] == f"PAST IT by {worst - 15.0:.1f}"
    kept = next(r for r in joint_table((wide,)).rows if r[0] == "upper-left, frame end")
    assert kept[9] == f"{60.0 - worst:.1f}"
    assert not any("PAST" in r[9] for r in joint_table((wide,)).rows)


def test_a_linkage_without_bolts_has_no_joint_table():
    assert joint_table((cases.binding_case(),)) is None


def test_lengths_are_what_a_tape_reads_between_the_centres():
    # (0, 20, 16) to (40, 16, 22) in: root of 40^2 + 4^2 + 6^2 = 40.6448; and 40 5/8 is 0.020 less
    cells = row(points_table((cases.splayed_case(),)), "lower-left")
    assert cells[2:4] == ("-70.00, 16.00, 22.00", "-110.00, 20.00, 16.00")
    assert cells[4] == "40 5/8 in (+0.020), 1032.4 mm"
    assert row(points_table((cases.splayed_case(),), "mm"), "lower-left")[4].startswith("1032.4 mm, ")


def test_what_stands_for_the_side_stiffness_of_a_spring_is_no_link_to_cut():
    case = cases.of_every_kind()["leaf springs"]
    assert "leaf-sideways" in case.study.linkage.names
    for table in (points_table((case,)), angle_table((case,))):
        assert "leaf-sideways" not in {r[0] for r in table.rows}
    # approximate: no number of it is trusted as far as one of measured links
    assert {r[-1] for r in metric_table((case,)).rows} == {"shop practice"}
    assert {r[-1] for r in metric_table((cases.splayed_case(),)).rows} == {"worked out"}


def test_geometries_stand_under_one_another():
    table = metric_table((cases.splayed_case(), cases.flat_case()))
    names = [r[1] for r in table.rows]
    assert {"splayed", "flat"} == set(names)
    assert names.count("splayed") == names.count("flat")
    titles = [r[0] for r in table.rows if r[0].startswith("Roll centre")]
    assert len(titles) == 2


@pytest.mark.parametrize(
    ("value", "kind", "text"),
    [
        (25.4, "length", "1.000 (25.4)"),
        (-0.0001, "length", "0.000 (0.0)"),
        (-0.001, "deg", "0.00"),
        (float("nan"), "%", "none"),
        (0.06, "deg/deg", "0.060"),
    ],
)
def test_a_number_is_written_without_a_minus_before_zero(value, kind, text):
    assert value_text(value, kind) == text


def test_units_head_their_columns():
    assert [unit_text(k) for k in ("length", "1", "deg")] == ["in (mm)", "in per in", "deg"]
    assert unit_text("length", "mm") == "mm (in)"


# the ends of the travel and of the steering


def kingpin():
    return cases.sheet_case(cases.KINGPIN)


def test_the_lock_table_holds_both_locks_and_their_limits():
    case = kingpin()
    table = lock_table((case,))
    found = case.study.turned
    for what, values, limit in (
        ("Inner wheel", found.inner[[-1, 0]], "-"),
        ("Outer wheel, as the tie rod", found.outer[[-1, 0]], "-"),
        ("Outer wheel, wanted", found.wanted[[-1, 0]], "-"),
        ("Axle-shaft joint, inner", [found.shafts[-1, 0], found.shafts[0, 1]], "42.00"),  # from the sheet
        ("Axle-shaft joint, outer", [found.shafts[-1, 1], found.shafts[0, 0]], "42.00"),
        ("Pitman arm", found.pitman[[-1, 0]], "43.00"),
    ):
        (cells,) = [r for r in table.rows if r[0].startswith(what)]
        assert cells[2:4] == tuple(f"{v:.2f}" for v in values)
        assert cells[4] == limit
    # the knuckles are mirror images: what is inside bends alike, left and right
    inner = row(table, "Axle-shaft joint, inner wheel")
    assert inner[2] == inner[3]
    assert lock_table((cases.sheet_case(cases.REAR),)) is None


def test_the_table_of_ends_tells_both_sides_and_what_is_past_its_end():
    case = kingpin()
    table = ends_table((case,))
    assert len(table.rows) == len(case.study.holds) == 8
    for hold, cells in zip(case.study.holds, table.rows, strict=True):
        assert cells[0] == hold.name and cells[2] == hold.side
        assert cells[5] == ("not reached" if hold.holds is None else value_text(hold.holds, "length"))
    assert "PAST IT" not in " ".join(c for cells in table.rows for c in cells)
    first = case.study.holds[0]
    spoilt = replace(first, left=(replace(first.left[0], room=-2.0), *first.left[1:]))
    bad = replace(case, study=replace(case.study, holds=(spoilt,)))
    assert "-0.079 (-2.0) from coil on coil - PAST IT" in ends_table((bad,)).rows[0][6]
    assert ends_table((cases.splayed_case(),)) is None
