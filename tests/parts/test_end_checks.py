"""End checks of a rear axle."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from fixturegen.parts.end_checks import make_end_checks
from fixturegen.parts.registry import Made
from tests.parts.jig_contexts import KINGPIN, REAR, example


def test_a_front_axle_gets_none():
    assert make_end_checks(example(KINGPIN)) == Made()


def test_two_discs_stand_off_the_tube_ends_facing_inward():
    context = example(REAR)
    made = make_end_checks(context)
    (disc,) = made.parts
    assert disc.quantity == len(made.placements) == 2
    right, left = context.axle.tube_ends
    for place, end, s in zip(made.placements, (left, right), (1.0, -1.0), strict=True):
        assert s * (place.origin[1] - end) > 0.0
        assert place.rotation[1][2] == s  # the hub is outboard
        assert place.origin[2] == context.plan.height


def test_the_rim_stands_beyond_the_tube_for_a_feeler_and_the_bore_slides():
    context = example(REAR)
    (disc,) = make_end_checks(context).parts
    tube = context.sheet.tubes
    assert max(s.diameter for s in disc.turned.steps) - tube.outside_diameter == pytest.approx(25.4)
    bores = sorted(b[2] for b in disc.turned.bores)
    assert bores[0] - context.plan.bar == pytest.approx(0.02)
    # the face is relieved only inside the tube's bore, so the ring still meets the tube's wall
    assert bores[-1] < tube.outside_diameter - 2.0 * tube.wall


def test_three_feeler_points_a_third_of_a_turn_apart_outside_the_tube():
    context = example(REAR)
    (disc,) = make_end_checks(context).parts
    holes = disc.turned.axial_holes
    angles = sorted(math.degrees(math.atan2(y, x)) % 360.0 for x, y, *_ in holes)
    assert [b - a for a, b in pairwise(angles)] == pytest.approx([120.0, 120.0])
    for x, y, d, _ in holes:
        assert math.hypot(x, y) - d / 2.0 > context.sheet.tubes.outside_diameter / 2.0


def test_the_discs_own_lean_is_under_the_build_limit():
    # lean of a bush by its clearance over its length, straight-line geometry; limits: shop practice,
    # 0.005 in build and 0.015 in reject over the face, no source
    context = example(REAR)
    (disc,) = make_end_checks(context).parts
    length = sum(s.length for s in disc.turned.steps)
    lean = 0.033 / length * context.sheet.tubes.outside_diameter  # loosest bore
    assert lean < 0.5 * 0.005 * 25.4
    assert any("0.005 in" in n and "0.015 in" in n for n in disc.notes)


def test_the_disc_is_one_valid_solid():
    from fixturegen.shapes import solids

    (disc,) = make_end_checks(example(REAR)).parts
    assert solids.volume(solids.solid_of(disc)) > 0.0
