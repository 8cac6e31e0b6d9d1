"""Tabs and slots: 1/32 in a side for a loose tab, 0.008 in for a locating one: common practice, no source."""

import math

import pytest
from shapely.geometry import Point
from shapely.geometry import box as rectangle_of

from fixturegen.parts import joinery
from fixturegen.plate.outlines import filleted
from fixturegen.plate.profile import edges, signed_area
from tests.parts.stand_jobs import DROPOUT, INTEGRAL, context_of, in_table, job, polygon, raw, ring

THICK = 9.6
LOCATING = 0.008 * 25.4  # what `process.slot_room` is when left out


def test_the_room_the_coupon_asked_for_is_the_room_of_the_locating_tab_alone():
    def wide(**more):
        loop = joinery.slot(0.0, 0.0, 0.0, 40.0, THICK, 1.9, **more)
        return max(v.y for v in loop) - min(v.y for v in loop)

    assert wide(locating=True, room=0.35) == pytest.approx(THICK + 0.7)
    assert wide(locating=False, room=0.35) == pytest.approx(THICK + 25.4 / 16.0)
    values = {**raw(DROPOUT), "process": {**raw(DROPOUT)["process"], "slot_room": "0.015 in"}}
    assert joinery.locating_room(context_of(values).sheet) == pytest.approx(0.381)


@pytest.mark.parametrize("kerf", [0.5, 1.9, 4.0])
@pytest.mark.parametrize("locating", [True, False])
def test_a_square_bar_as_big_as_the_tab_and_its_room_enters_the_slot(kerf, locating):
    loop = joinery.slot(10.0, -5.0, 90.0, 40.0, THICK, kerf, locating=locating)
    room = LOCATING if locating else 25.4 / 32.0
    half, high = 20.0 + room, THICK / 2.0 + room
    bar = rectangle_of(10.0 - high, -5.0 - half, 10.0 + high, -5.0 + half)
    assert ring(loop).is_simple
    assert signed_area(loop) < 0.0
    assert bar.difference(polygon(loop)).area < 0.05  # chords of the reliefs
    wider = rectangle_of(10.0 - high - 0.1, -5.0 - half, 10.0 + high + 0.1, -5.0 + half)
    assert wider.difference(polygon(loop)).area > 1.0


@pytest.mark.parametrize("kerf", [0.5, 1.9, 4.0])
def test_corner_reliefs_are_arcs_no_tighter_than_half_the_kerf_or_a_millimetre(kerf):
    loop = joinery.slot(0.0, 0.0, 0.0, 40.0, THICK, kerf, locating=True)
    arcs = [e for e in edges(loop) if e.centre is not None]
    assert len(arcs) == 4
    assert all(e.radius >= max(1.0, kerf / 2.0) for e in arcs)
    corner = (20.0 + LOCATING, THICK / 2.0 + LOCATING)
    assert min(abs(math.dist(e.centre, corner) - e.radius) for e in arcs) < 1e-9


def test_a_tab_is_as_high_as_the_plate_it_enters_less_a_sixty_fourth_and_lies_beside_the_edge():
    loop = filleted(
        (
            (0.0, 0.0, 0.0),
            joinery.tab(50.0, 0.0, 0.0, 40.0, THICK, 1.9),
            (100.0, 0.0, 0.0),
            (100.0, 60.0, 0.0),
            (0.0, 60.0, 0.0),
        )
    )
    shape = polygon(loop)
    assert shape.is_valid
    assert shape.bounds[1] == pytest.approx(-(THICK - 25.4 / 64.0))
    outside = shape.intersection(rectangle_of(-10.0, -50.0, 200.0, -0.001))
    assert outside.bounds[0] == pytest.approx(30.0, abs=0.01)
    assert outside.bounds[2] == pytest.approx(70.0, abs=0.01)
    # the plate beside the root is taken away, so that the edge seats on the other plate
    assert not shape.contains(Point(29.5, 0.2))
    assert shape.contains(Point(25.0, 0.2))


def test_a_slotted_hole_takes_its_pin_at_both_ends_and_no_farther():
    shape = polygon(joinery.stadium(0.0, 0.0, 90.0, 3.0, 16.0)).buffer(0.01)
    for y, inside in ((1.5, True), (-1.5, True), (1.6, False)):
        assert shape.contains(Point(0.0, y).buffer(8.0)) is inside


def test_an_xz_plate_looks_left_with_x_rearward():
    placement = joinery.stand_xz("p", 100.0, 12.0, 300.0, "g")
    assert in_table(placement, 5.0, 7.0, 12.0) == pytest.approx([-5.0, 106.0, 307.0])


@pytest.mark.parametrize("sign", [-1, 1])
def test_a_yz_plate_looks_at_the_axle(sign):
    placement = joinery.stand_yz("p", sign, 120.0, 50.0, 300.0, "g")
    back, front = in_table(placement, 0.0, 0.0, 0.0), in_table(placement, 0.0, 0.0, 9.0)
    assert sign * back[0] == pytest.approx(120.0)
    assert sign * front[0] == pytest.approx(111.0)
    assert in_table(placement, 10.0, 4.0)[1:] == pytest.approx([50.0 - sign * 10.0, 304.0])


@pytest.mark.parametrize("name", [DROPOUT, INTEGRAL])
def test_placements_turn_without_mirroring(name):
    import numpy as np

    for matrix in (joinery.XZ, joinery.XY, joinery.stand_yz("p", job(name).plan.face_sign, 0, 0, 0, "g").rotation):
        assert np.linalg.det(np.array(matrix)) == pytest.approx(1.0)
        assert np.array(matrix) @ np.array(matrix).T == pytest.approx(np.eye(3))
