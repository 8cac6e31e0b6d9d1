"""Pieces on slats: widths against closed forms, and the rule against slats laid under a piece one by one."""

import math

import pytest

from fixturegen.plate import Part, Profile
from fixturegen.plate.profile import Hole, Operation, Purpose, Vertex, circle, rectangle, reversed_loop
from fixturegen.plate.tipping import greatest_width, hull_of, least_width, lies, middle_of, reach_of, tipping


def turned(points, angle):
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    return tuple((c * x - s * y, s * x + c * y) for x, y in points)


@pytest.mark.parametrize("angle", [0.0, 17.0, 45.0, 90.0])
def test_widths_of_a_rectangle_are_its_short_side_and_its_diagonal(angle):
    hull = hull_of(turned(((0.0, 0.0), (30.0, 0.0), (30.0, 40.0), (0.0, 40.0)), angle))
    assert least_width(hull) == pytest.approx(30.0, abs=1e-9)
    assert greatest_width(hull) == pytest.approx(50.0, abs=1e-9)


def test_least_width_of_a_triangle_is_its_smallest_height():
    # 3-4-5: area 6, smallest height on the long side 2 * 6 / 5; the inscribed circle's radius is 1
    hull = hull_of(((0.0, 0.0), (4.0, 0.0), (0.0, 3.0)))
    assert least_width(hull) == pytest.approx(2.4, abs=1e-12)
    middle = middle_of(hull)
    assert middle == pytest.approx((4.0 / 3.0, 1.0))
    # the middle of area stands a third of each height from its side, so 0.8 from the longest
    assert reach_of(hull, middle) == pytest.approx(0.8, abs=1e-12)


def test_a_disc_is_as_wide_every_way_as_its_diameter():
    found = lies(circle(5.0, 7.0, 60.0), 100.0)
    assert found.least == pytest.approx(60.0, abs=0.03)  # chords lie inside by their deviation
    assert found.length == pytest.approx(60.0, abs=0.03)
    assert found.reach == pytest.approx(30.0, abs=0.03)
    assert found.place == pytest.approx((5.0, 7.0), abs=1e-6)


def test_a_notch_does_not_make_a_piece_narrower_but_moves_its_middle():
    # U of 60 x 60 with a notch of 20 x 40: area 2800, notch's middle at y = 40
    u = tuple(
        Vertex(x, y) for x, y in ((0, 0), (60, 0), (60, 60), (40, 60), (40, 20), (20, 20), (20, 60), (0, 60))
    )  # fmt: skip - a row of corners
    found = lies(u, 10.0)
    assert found.least == pytest.approx(60.0)
    assert found.place == pytest.approx((30.0, (3600.0 * 30.0 - 800.0 * 40.0) / 2800.0))


def resting(points, middle, pitch, shift):
    """On slats x = shift + k pitch under a convex piece: none, one side bare, or held on both sides of the middle."""
    low, high = min(x for x, _ in points), max(x for x, _ in points)
    under = [x for k in range(-50, 50) if low <= (x := shift + k * pitch) <= high]
    if not under:
        return "falls"
    return "flat" if min(under) <= middle[0] <= max(under) else "tips"


@pytest.mark.parametrize("size", [(20.0, 30.0), (60.0, 150.0), (190.0, 300.0), (201.0, 300.0), (98.0, 18.0)])
def test_the_rule_is_what_slats_laid_under_the_piece_everywhere_show(size):
    pitch, (a, b) = 100.0, size
    box = ((0.0, 0.0), (a, 0.0), (a, b), (0.0, b))
    met = set()
    for angle in range(0, 180, 3):
        points = turned(box, float(angle))
        middle = middle_of(points)
        met |= {resting(points, middle, pitch, shift) for shift in (pitch * k / 40.0 for k in range(40))}
    found = lies(rectangle(0.0, 0.0, a, b), pitch)
    if found.way == "flat":
        assert met == {"flat"}
    else:
        assert met - {"flat"}
    assert ("falls" in met) is (found.least < pitch)
    if found.way == "falls":
        assert math.hypot(a, b) < pitch


@pytest.mark.parametrize(("size", "wanted"), [(99.9, "falls"), (100.1, "tips"), (199.9, "tips"), (200.1, "flat")])
def test_a_disc_falls_below_one_pitch_and_lies_flat_from_two(size, wanted):
    assert lies(circle(0.0, 0.0, size), 100.0).way == wanted


def test_only_what_is_cut_leaves_a_slug_and_the_kerf_makes_it_smaller():
    holes = (
        Hole(100.0, 100.0, 30.0, Purpose.BOLT, "bolt", Operation.CUT, 30.0),
        Hole(200.0, 100.0, 30.0, Purpose.ANGLE, "index", Operation.PILOT, None),
        Hole(300.0, 100.0, 4.0, Purpose.BOLT, "small", Operation.CUT, 4.0),
    )
    profile = Profile(rectangle(0, 0, 400, 400), (reversed_loop(rectangle(50, 200, 350, 350)),), holes)
    part = Part("p", "P", "toy", "plate", 9.5, profile=profile)
    found = {t.piece: t for t in tipping(part, 100.0, 2.5)}
    assert set(found) == {"opening 1", "bolt"}  # the small hole is all kerf; the plate itself lies flat
    assert found["bolt"].least == pytest.approx(25.0, abs=0.03)
    assert found["opening 1"].way == "tips"
    assert found["opening 1"].reach == pytest.approx(75.0 - 2.5)
    assert tipping(Part("pin", "Pin", "toy", "turned"), 100.0) == ()
