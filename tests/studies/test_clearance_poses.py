"""The tour of poses and its movers: what is joined stays joined, wheels stand where travel and lock put them."""

from functools import cache

import numpy as np
import pytest

from fixturegen.sheet.specs import Clearance
from fixturegen.studies.clearance_poses import tour_of
from fixturegen.studies.clearance_records import AXLE, FRAME, LEFT, RIGHT, Gaps, Thing, compared, kind_of
from fixturegen.studies.link_inputs import linkage_on, steering_on, struts_on
from tests.studies.study_jobs import DROPOUT, INTEGRAL, REAR, case


@cache
def toured(name, steps=2):
    sheet, axle, _ = case(name)
    sheet = sheet.model_copy(update={"clearance": Clearance(steps=steps)})
    return sheet, axle, *tour_of(sheet, axle)


def test_ride_comes_first_and_corners_of_the_travel_with_both_locks_are_among_the_poses():
    _, _, tour, _ = toured(DROPOUT)
    names = [p.name for p in tour.places]
    assert names[0] == "ride" and len(set(names)) == len(names) == 25 * 5
    for corner in ("bump", "droop", "cross-L", "cross-R"):
        for lock in ("", "+lock-L", "+lock-R", "+half-lock-L", "+half-lock-R"):
            assert f"{corner}{lock}" in names
    assert max(abs(p.steer) for p in tour.places) == 32.0  # the sheet's lock


def test_wheels_travel_as_far_as_the_sheet_says_and_head_where_the_lock_puts_them():
    # iso-8855, steer: angle of the wheel's plane in plan; travel up positive
    sheet, axle, tour, _ = toured(DROPOUT)
    half = linkage_on(sheet, axle).stance.half_track
    hub = np.array([[0.0, half, 0.0], [0.0, -half, 0.0]])
    at = {p.name: k for k, p in enumerate(tour.places)}
    going = tour.motions[AXLE]
    height = [(going.rotations[k] @ hub.T).T[:, 2] + going.origins[k, 2] for k in range(len(at))]
    bump, droop = float(sheet.links.bump), float(sheet.links.droop)
    assert height[at["cross-L"]] - height[0] == pytest.approx([bump, -droop], abs=1e-6)
    for side, mover, inner in (("L", LEFT, 1.0), ("R", RIGHT, -1.0)):
        motion = tour.motions[mover]
        k = at[f"ride+lock-{side}"]
        out = motion.rotations[k] @ np.array([0.0, inner, 0.0])
        start = motion.rotations[0] @ np.array([0.0, inner, 0.0])
        heading = np.degrees(
            np.arctan2(-inner * out[0], inner * out[1]) - np.arctan2(-inner * start[0], inner * start[1])
        )
        assert heading == pytest.approx(inner * 32.0, abs=0.05)


def test_links_keep_their_length_and_end_on_the_axle_at_every_pose():
    sheet, axle, tour, lines = toured(DROPOUT)
    linkage = linkage_on(sheet, axle)
    going = tour.motions[AXLE]
    for link, tip in zip(linkage.links, linkage.axle_points(), strict=True):
        line = next(one for one in lines if one.name == link.name)
        (motion,) = line.motions
        assert np.abs(motion.origins - np.array(link.frame.point)).max() < 1e-9
        end = motion.rotations[:, :, 2] * line.length + motion.origins
        there = np.einsum("mij,j->mi", going.rotations, tip) + going.origins
        assert np.abs(end - there).max() < 1e-6
        assert np.abs(motion.rotations @ np.swapaxes(motion.rotations, 1, 2) - np.eye(3)).max() < 1e-9


def test_the_tie_rod_keeps_its_length_and_its_ends_stay_on_the_knuckles():
    sheet, axle, tour, lines = toured(DROPOUT)
    rod = next(one for one in lines if one.name == "tie-rod")
    assert rod.motions[0].slack < 1e-6 and rod.motions[0].known.all()
    steering, stance = steering_on(sheet, axle), linkage_on(sheet, axle).stance
    right = tour.motions[RIGHT]
    tie = np.einsum("mij,j->mi", right.rotations, stance.in_axle(steering.right.tie)) + right.origins
    end = rod.motions[0].rotations[:, :, 2] * rod.length + rod.motions[0].origins
    assert np.abs(end - tie).max() < 1e-6


def test_pieces_of_a_shock_cover_it_end_to_end_at_every_pose():
    sheet, axle, tour, lines = toured(REAR)
    shock = next(s for kind, s in struts_on(sheet) if kind == "shock")
    pieces = next(one for one in lines if one.label == f"{shock.name}, left")
    going = tour.motions[AXLE]
    foot = linkage_on(sheet, axle).stance.in_axle(shock.axle)
    there = np.einsum("mij,j->mi", going.rotations, foot) + going.origins
    way = there - np.array(shock.frame.point)
    length = np.linalg.norm(way, axis=1)
    starts = np.stack([np.linalg.norm(m.origins - np.array(shock.frame.point), axis=1) for m in pieces.motions])
    assert np.abs(starts[0]).max() < 1e-9
    assert np.abs(starts[-1] + pieces.length - length).max() < 1e-6
    assert (np.diff(starts, axis=0) <= pieces.length + 1e-6).all()


def test_a_sheet_without_links_is_looked_at_where_it_stands():
    sheet, axle, _ = case(REAR)
    tour, lines = tour_of(sheet.model_copy(update={"links": None}), axle)
    assert [p.name for p in tour.places] == ["ride"] and lines == ()
    assert "ride height only" in tour.notes[0]


GAPS = Gaps({"static": 6.0, "moving": 12.0, "tyre": 20.0, "flex": 25.0}, {frozenset(("cover", "pan")): 3.0})


@pytest.mark.parametrize(
    ("a", "b", "kind", "gap"),
    [
        (Thing("a", "a", AXLE), Thing("b", "b", AXLE), "static", 6.0),
        (Thing("a", "a", AXLE), Thing("b", "b", FRAME), "moving", 12.0),
        (Thing("a", "a", LEFT, "tyre"), Thing("b", "b", FRAME), "tyre", 20.0),
        (Thing("a", "a", AXLE), Thing("b", "b", FRAME, "flex"), "flex", 25.0),
        (Thing("a", "a", LEFT, "tyre"), Thing("b", "b", FRAME, "flex"), "tyre", 25.0),
        (Thing("a", "a", AXLE), Thing("b", "b", FRAME, gap=40.0), "moving", 40.0),
        (Thing("a", "Cover", AXLE), Thing("b", "pan", FRAME, gap=40.0), "moving", 3.0),
    ],
)
def test_the_gap_wanted_is_that_of_the_pair_or_of_one_of_them_or_of_the_kind(a, b, kind, gap):
    assert (kind_of(a, b), GAPS.wanted(a, b), GAPS.wanted(b, a)) == (kind, gap, gap)


def test_what_is_joined_or_stands_still_together_is_no_pair():
    tube, cover = Thing("tube", "tube", AXLE, own=True), Thing("cover", "cover", AXLE, own=True)
    bracket = Thing("bracket", "bracket", AXLE, beside=frozenset({"tube"}))
    rail, pan = Thing("rail", "rail"), Thing("pan", "pan")
    assert not compared(tube, cover) and not compared(rail, pan) and not compared(tube, bracket)
    assert compared(bracket, cover) and compared(tube, rail) and not compared(bracket, tube)
    # a piece of what telescopes is joined to what the whole is joined to
    piece, arm = Thing("shock-1", "shock", "shock-1", part_of="shock"), Thing("arm", "arm", beside=frozenset({"shock"}))
    assert not compared(piece, arm) and compared(piece, rail)


def test_lines_that_stand_for_leaf_springs_are_no_bodies_and_that_is_said():
    _, _, tour, lines = toured(INTEGRAL, 1)
    assert not [one.name for one in lines if one.name.startswith("leaf")]
    assert any("leaf springs themselves" in note for note in tour.notes)
