"""Changes with points and spreads: closed plane cases, circles, statistics, laws."""

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from fixturegen.axle.linkage import Joint, Linkage
from fixturegen.axle.travel import poses_at
from fixturegen.errors import InputFault
from fixturegen.studies import link_spread
from fixturegen.studies.link_batch import Stroke, batch_of, readings_of
from fixturegen.studies.link_metrics import Vehicle, metrics_of
from fixturegen.studies.link_points import both_ends, points_of, with_ends
from fixturegen.studies.link_spread import drawn_spreads, linear_spreads, sensitivity_of, which_matters
from tests.axle import invented_linkages as made
from tests.axle.invented_linkages import INCH

STROKE = Stroke(90.0, 110.0)
FULL = Vehicle(30 * INCH, 1.0, 1.0)
ALL = {
    **{k: v for k, v in made.EXACT.items() if k != "leaves"},
    "radius-arms": made.radius_arms,
    "five-link": lambda: made.five_link(rate=2000.0),
}


def plane(lower, upper, wheelbase):
    """Lower pair, upper link and level track bar of a rear axle, side view ahead of the axle [in]."""

    def rod(name, axle, frame):
        return made.rod(name, axle, frame, -wheelbase)

    (x1, z1), (x2, z2) = lower
    (x3, z3), (x4, z4) = upper
    links = (
        *made.both("lower", (x1, 20, z1), (x2, 20, z2), make=rod),
        rod("upper", (x3, 0, z3), (x4, 0, z4)),
        rod("track-bar", (0, -20, 16), (0, 20, 16)),
    )
    return Linkage("three-link", made.rear_stance(wheelbase=wheelbase), links)


def with_tolerance(linkage, tolerance):
    links = tuple(
        replace(k, frame=replace(k.frame, tolerance=tolerance), axle=replace(k.axle, tolerance=tolerance))
        for k in linkage.links
    )
    return replace(linkage, links=links)


@pytest.mark.parametrize("name", list(ALL))
def test_many_geometries_at_once_are_each_as_one_alone(name):
    linkage = ALL[name]()
    heave, roll = STROKE.poses(linkage.stance.half_track)
    rng = np.random.default_rng(11)
    points = points_of(linkage)
    shift = rng.uniform(-8.0, 8.0, (3, len(points), 3))
    if name == "truck-arms":
        shift[:] = 0.0  # truck arms fit in roll only with their pivot in the middle
    ends = link_spread.shifted(both_ends(linkage), points, shift)
    found = readings_of(batch_of(linkage, ends, heave, roll), FULL)
    for g, one in enumerate(ends):
        alone = metrics_of(poses_at(with_ends(linkage, one), heave, roll), FULL)
        for metric, value in found.items():
            if not metric.startswith("instant"):
                assert value[g] == pytest.approx(getattr(alone, metric), rel=1e-9, abs=1e-8), metric
        centre = np.stack([found["instant_centre_x"][g], found["instant_centre_z"][g]], axis=1)
        assert centre == pytest.approx(alone.instant_centre, rel=1e-6, abs=1e-6, nan_ok=True)


def anti_squat(points, wheelbase, gravity_height):
    """Gillespie, chapter 7 (from memory): 100 (e/d) L/h, the instant centre by crossing two lines. All [in]."""
    (x1, z1), (x2, z2), (x3, z3), (x4, z4) = points
    a, b = (z2 - z1) / (x2 - x1), (z4 - z3) / (x4 - x3)
    x = (z3 - b * x3 - z1 + a * x1) / (a - b)
    return 100.0 * (z1 + a * (x - x1)) / x * wheelbase / gravity_height


PLANE = [
    # the two plane cases, derived: 104.26 % and 125 %
    (((0, 16), (40, 22)), ((2, 28), (30, 29)), 110, 32),
    (((0, 15), (40, 20)), ((0, 25), (30, 25)), 120, 30),
]


@pytest.mark.parametrize(("lower", "upper", "wheelbase", "height"), PLANE)
def test_change_of_anti_squat_is_the_derivative_of_the_drawn_construction(lower, upper, wheelbase, height):
    linkage = plane(lower, upper, wheelbase)
    found = sensitivity_of(linkage, Vehicle(height * INCH, 1.0, 1.0), STROKE, ["anti_squat.ride"])
    names, both = found.both_sides()
    at = {n: both[0, i] for i, n in enumerate(names)}
    flat = [list(p) for p in (*lower, *upper)]
    assert found.value[0] == pytest.approx(anti_squat(flat, wheelbase, height), abs=1e-9)
    e = 1e-5
    for k, name in enumerate(("lower-left.axle", "lower-left.frame", "upper.axle", "upper.frame")):
        for c, axis in enumerate((0, 2)):
            up, down = ([list(p) for p in flat] for _ in range(2))
            up[k][c] += e
            down[k][c] -= e
            slope = (anti_squat(up, wheelbase, height) - anti_squat(down, wheelbase, height)) / (2 * e)
            assert at[name][axis] * INCH == pytest.approx(slope, rel=1e-6, abs=1e-6)
        # in the plane case nothing sideways matters
        assert at[name][1] == pytest.approx(0.0, abs=1e-8)


def test_change_with_the_upper_frame_hole_of_the_second_case_by_hand():
    # derived by hand: with slope b of the upper link, 25 + b x = 15 + x/8, x = 10 / (1/8 - b), e = 25 + b x:
    # e/d = 25 (1/8 - b)/10 + b, so d(e/d)/db = -1.5, db = 1/30 per inch; 100 x 120/30 x -1.5/30 = -20 % per inch
    found = sensitivity_of(plane(*PLANE[1][:2], 120), FULL, STROKE, ["anti_squat.ride"])
    index = [p.name for p in found.points].index("upper.frame")
    assert found.change[0, index, 2] * INCH == pytest.approx(-20.0, abs=1e-6)
    assert abs(found.change[0, index, 2] * INCH + 20.0 * 1.001) > 1e-3  # another slope would be seen


def test_change_of_the_sideways_shift_with_the_bar_length_is_that_of_the_circle():
    # geometry: a level bar of length L swings its end by L - sqrt(L^2 - z^2)
    linkage = plane(*PLANE[1][:2], 120)
    found = sensitivity_of(linkage, FULL, Stroke(100.0, 100.0), ["sideways.bump", "sideways.droop"])
    index = [p.name for p in found.points].index("track-bar.frame")
    length, z = 40 * INCH, 100.0
    assert found.value == pytest.approx(length - math.sqrt(length**2 - z**2), abs=0.2)
    root = math.sqrt(length**2 - z**2)
    # rising end: off by s over the level line it stood s over, the shift changes by s z / sqrt(L^2 - z^2)
    lift = found.change[:, index, 2]
    assert lift == pytest.approx([-z / root, z / root], abs=0.01)


def test_no_travel_no_shift_and_no_change_of_it():
    found = sensitivity_of(made.splayed(), FULL, STROKE, ["sideways.ride", "pinion_angle.ride"])
    assert np.abs(found.change).max() < 1e-9
    assert found.value == pytest.approx([0.0, 2.0], abs=1e-9)


def test_mirrored_points_change_symmetric_readings_alike():
    found = sensitivity_of(made.splayed(), FULL, STROKE, ["anti_squat.ride", "roll_centre.bump", "sideways.bump"])
    at = {p.name: i for i, p in enumerate(found.points)}
    for name in ("lower-left.frame", "lower-left.axle", "upper-left.frame", "upper-left.axle"):
        left, right = found.change[:, at[name]], found.change[:, at[name.replace("left", "right")]]
        assert left[:2] == pytest.approx(right[:2] * [1.0, -1.0, 1.0], abs=1e-8)
        # a shift to the left is the mirror image of one to the right
        assert left[2] == pytest.approx(-right[2] * [1.0, -1.0, 1.0], abs=1e-8)


def test_parallel_equal_links_moved_fore_and_aft_together_turn_the_pinion_no_more():
    # geometry: all four points forward by the same amount is the same parallelogram
    links = plane(((0, 15), (40, 15)), ((0, 25), (40, 25)), 120)
    found = sensitivity_of(links, FULL, STROKE, ["pinion_angle.bump", "pinion_angle.droop"])
    assert found.change.sum(axis=1)[:, 0] == pytest.approx(0.0, abs=1e-9)


def test_linear_spread_is_the_stack_of_its_changes():
    # tolerance stack: worst sum |a| t, RSS sqrt(sum a^2 t^2)
    linkage = with_tolerance(made.splayed(), 1.5)
    found = sensitivity_of(linkage, FULL, STROKE)
    for spread, change in zip(linear_spreads(found), found.change, strict=True):
        assert spread.worst == pytest.approx(1.5 * np.abs(change).sum())
        assert spread.rss == pytest.approx(1.5 * np.linalg.norm(change))
        assert spread.deviation == pytest.approx(spread.rss * stats.uniform(-1, 2).std())
        assert sum(s.part for s in spread.shares) == pytest.approx(1.0)
        assert list(spread.shares) == sorted(spread.shares, key=lambda s: -round(s.part, 9))


def test_points_without_tolerance_have_no_share():
    linkage = made.splayed()
    links = tuple(
        replace(k, frame=replace(k.frame, tolerance=1.0)) if k.name == "upper-left" else k for k in linkage.links
    )
    spread = linear_spreads(sensitivity_of(replace(linkage, links=links), FULL, STROKE, ["anti_squat.ride"]))[0]
    assert {s.point for s in spread.shares} == {"upper-left.frame"}
    assert "links.upper.left.frame in height" in which_matters(spread)
    none = linear_spreads(sensitivity_of(linkage, FULL, STROKE, ["anti_squat.ride"]))[0]
    assert none.rss == 0.0 and "no point has a tolerance" in which_matters(none)


@pytest.mark.parametrize("name", ["splayed", "three-link", "wishbone", "radius-arms"])
def test_drawn_and_linear_spread_agree_within_the_error_of_the_draw(name):
    # JCGM 101:2008 (from memory): where the model is nearly straight over the tolerance both ways agree
    linkage = with_tolerance(ALL[name](), 0.5)
    readings = [r for r in link_spread.WATCHED if not r.startswith("instant")]
    linear = linear_spreads(sensitivity_of(linkage, FULL, STROKE, readings))
    drawn = drawn_spreads(linkage, FULL, STROKE, seed=4, samples=4000, readings=readings)
    for a, b in zip(linear, drawn, strict=True):
        assert b.missed == 0
        if a.deviation < 1e-9:
            assert b.deviation < 1e-3
            continue
        # four standard errors, and a thousandth for what is not straight
        assert abs(b.deviation - a.deviation) < 4.0 * b.error + 2e-3 * a.deviation, a.reading
        assert abs(b.mean - a.value) < 4.0 * b.deviation / math.sqrt(4000) + 0.01 * a.deviation, a.reading
        assert a.value - a.worst * 1.01 < b.low < b.high < a.value + a.worst * 1.01
        # statistics: of n values the deviation has the error s sqrt((kurtosis - 1) / 4n); kurtosis 1.8 where one
        # coordinate with equal chance makes it all, 3 where many make a normal spread
        share = b.error / b.deviation * math.sqrt(4.0 * 4000)
        assert 0.95 * math.sqrt(0.8) < share < 1.05 * math.sqrt(2.0)


def test_a_wrong_tolerance_is_seen_by_the_draw():
    linkage = made.splayed()
    linear = linear_spreads(sensitivity_of(with_tolerance(linkage, 0.5), FULL, STROKE, ["anti_squat.ride"]))[0]
    drawn = drawn_spreads(with_tolerance(linkage, 0.55), FULL, STROKE, 4, 4000, ["anti_squat.ride"])[0]
    assert abs(drawn.deviation - linear.deviation) > 4.0 * drawn.error


def test_the_same_seed_draws_the_same_and_another_does_not():
    linkage = with_tolerance(made.three_link(), 1.0)
    one, two, other = (drawn_spreads(linkage, FULL, STROKE, s, 300) for s in (7, 7, 8))
    assert one == two and one != other


def test_a_wishbone_has_one_joint_at_the_axle_and_moves_as_one():
    linkage = made.wishbone()
    points = points_of(linkage)
    assert [p.name for p in points].count("upper-right.axle") == 0
    tip = next(p for p in points if p.name == "upper-left.axle")
    assert len(tip.members) == 2
    found = sensitivity_of(linkage, FULL, STROKE, ["roll_centre.ride"])
    # at ride the roll axis goes through the wishbone's joint: raised by 1 mm, with the lowers' apex far off,
    # the roll centre under it rises with it
    change = found.change[0, [p.name for p in found.points].index("upper-left.axle"), 2]
    assert change == pytest.approx(1.0, abs=0.05)


def test_leaf_springs_and_unknown_readings_are_refused_in_a_sentence():
    with pytest.raises(InputFault, match="leaf-springs"):
        sensitivity_of(made.leaves(), FULL, STROKE)
    with pytest.raises(InputFault, match=r"anti_squat\.ride"):
        sensitivity_of(made.splayed(), FULL, STROKE, ["squat.ride"])
    with pytest.raises(InputFault, match="a pose"):
        sensitivity_of(made.splayed(), FULL, STROKE, ["anti_squat.middle"])


def test_joint_given_in_the_axle_frame_gives_the_same_changes():
    linkage = made.splayed()
    links = tuple(replace(k, axle=Joint(tuple(linkage.stance.to_axle(k.axle.point)), "axle")) for k in linkage.links)
    one, other = (sensitivity_of(k, FULL, STROKE) for k in (linkage, replace(linkage, links=links)))
    assert one.change == pytest.approx(other.change, rel=1e-6, abs=1e-7, nan_ok=True)
