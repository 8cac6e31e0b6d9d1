"""What stands in the way, against points walked along every link of every geometry at every pose."""

from dataclasses import replace

import numpy as np
import pytest

from fixturegen.studies.link_bars import bars_of
from fixturegen.studies.link_batch import batch_of
from fixturegen.studies.link_judge import Judge
from fixturegen.studies.link_layout import Layout
from fixturegen.studies.link_wishes import Beyond, Box, Rail, Room, Wanted, Wish
from tests.axle import invented_linkages as made
from tests.studies import plane_case

ROOMS = (
    Room("lower-left.frame", (-1830.0, 330.0, 480.0), (-1730.0, 450.0, 620.0)),
    Room("upper-left.frame", (-2080.0, 330.0, 660.0), (-1980.0, 450.0, 800.0)),
    Room("upper-left.axle", (-2820.0, 60.0, 660.0), (-2770.0, 200.0, 760.0)),
)
WISHES = (Wish("anti_squat.ride", 60.0, 110.0), Wish("roll_steer.ride", -0.05, 0.05, weight=3.0))
WANTED = Wanted(made.splayed(), plane_case.VEHICLE, plane_case.STROKE, ROOMS, WISHES, link_radius=20.0)
GAP = 20.0

BOX = Box("it", (-2500.0, 200.0, 790.0), (-2250.0, 260.0, 860.0))
RAIL = Rail("it", (-1700.0, 300.0, 880.0), (-2500.0, 380.0, 820.0), 50.0, 60.0)  # narrows forward and falls rearward
FLOOR = Beyond("it", (-2400.0, 250.0, 800.0), (0.1, 0.5, 2.0))


def walked(batch, count=1500):
    """Points along every link at every pose, shape (g, p, n, count, 3) [mm]."""
    frame, axle = batch.lines()
    share = np.linspace(0.0, 1.0, count)[:, None]
    return frame[..., None, :] + share * (axle - frame)[..., None, :]


def within(points, what, gap):
    """Whether points are inside a thing grown by a gap, worked out without a rotation."""
    if isinstance(what, Box):
        return np.all((points >= np.array(what.low) - gap) & (points <= np.array(what.high) + gap), axis=-1)
    if isinstance(what, Beyond):
        n = np.array(what.normal)
        return (points - np.array(what.through)) @ n / np.sqrt(n @ n) >= -gap
    off, way = points - np.array(what.begin), np.array(what.end) - np.array(what.begin)
    length = np.sqrt(way @ way)
    along = off @ way / length
    # level and square to the rail; what is left of the distance is up or down, square to both
    aside = (off[..., 1] * way[0] - off[..., 0] * way[1]) / np.hypot(way[0], way[1])
    over = np.sqrt(np.maximum((off**2).sum(axis=-1) - along**2 - aside**2, 0.0))
    ends = (along >= -gap) & (along <= length + gap)
    return ends & (np.abs(aside) <= what.width / 2.0 + gap) & (over <= what.height / 2.0 + gap)


def looked(what, seed=1, count=60):
    wanted = replace(WANTED, keep_out=(what,))
    layout = Layout(wanted)
    ends, _, outside = layout.made(np.random.default_rng(seed).random((count, layout.count)))
    batch = batch_of(wanted.linkage, ends, *wanted.stroke.poses(wanted.linkage.stance.half_track))
    assert batch.reached.all()
    bars = {b.name: b.amount for b in bars_of(wanted, batch, outside, ())}
    return bars["clear.it"], walked(batch)


@pytest.mark.parametrize("what", [BOX, RAIL, FLOOR], ids=["box", "rail", "plane"])
def test_a_link_is_in_the_way_where_a_point_of_it_is(what):
    amount, points = looked(what)
    surely, perhaps = (within(points, what, GAP + more).any(axis=(1, 2, 3)) for more in (-0.5, 0.5))
    assert surely.any()
    assert not perhaps.all(), "some are clear, or nothing is told apart"
    assert (amount[surely] > 0.0).all()
    assert (amount[~perhaps] <= 0.0).all()


def test_how_far_a_link_goes_through_a_box_is_the_length_walked_inside():
    amount, points = looked(BOX)
    step = np.linalg.norm(points[..., 1, :] - points[..., 0, :], axis=-1)
    inside = (within(points, BOX, GAP).sum(axis=-1) * step).sum(axis=-1).max(axis=-1) / 25.4
    through = inside > 0.5
    assert through.any()
    assert amount[through] - 0.1 == pytest.approx(inside[through], rel=0.02, abs=0.06)


def test_a_thing_on_both_sides_is_one_thing():
    other = replace(BOX, low=(-2500.0, -260.0, 790.0), high=(-2250.0, -200.0, 860.0))
    judge = Judge(replace(WANTED, keep_out=(BOX, other)))
    assert judge.names.count("clear.it") == 1
    one, both = (Judge(replace(WANTED, keep_out=k)) for k in ((BOX,), (BOX, other)))
    share = np.random.default_rng(2).random((20, one.layout.count))
    at = one.names.index("clear.it")
    # mirrored links at mirrored poses: what is in the way on one side is so on the other
    assert both.looked(share).terms[:, at] == pytest.approx(one.looked(share).terms[:, at], abs=1e-6)


def test_a_wish_given_up_counts_next_to_nothing():
    judge, lesser = Judge(WANTED), Judge(replace(WANTED, wishes=WISHES[:1]))
    share = np.random.default_rng(2).random((20, judge.layout.count))
    judged = judge.looked(share)
    whole, without, alone = judge.score(judged), judge.score(judged, (1,)), lesser.score(lesser.looked(share))
    # a ten-thousandth of its weight is left to it; the middle of the ranges, not the same ones, makes a thousandth
    assert without == pytest.approx(alone + 3e-4 * judged.aims[:, 1] ** 2, abs=2e-3)
    assert (whole > without + 1.0).any()
    assert np.isfinite(whole).all()


def test_a_wish_counts_the_square_of_its_scales_times_its_weight():
    judge = Judge(WANTED)
    share = np.random.default_rng(2).random((30, judge.layout.count))
    judged = judge.looked(share)
    by_hand = judged.aims[:, 0] ** 2 + 3.0 * judged.aims[:, 1] ** 2 + 100.0 * (judged.aims[:, 2:] ** 2).sum(axis=1)
    assert judge.score(judged) == pytest.approx(by_hand, abs=2e-3)
