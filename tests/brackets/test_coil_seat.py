"""Coil seats: the face on the point of the sheet, square to the coil, the ring inside it, the legs on tube and rail."""

import math

import numpy as np
import pytest

from fixturegen.plate import Purpose
from fixturegen.plate.profile import bounds
from fixturegen.shapes.meshes import exact_distance, interferes
from tests.brackets import tab_jobs as jobs

FRAME = "coil-left-frame"


def axis_of(ends, flip=False):
    here, there = (jobs.in_axle(ends[k]) for k in (("toward", "point") if flip else ("point", "toward")))
    return here, (there - here) / np.linalg.norm(there - here)


def test_coil_seats_are_released():
    parts = [n for n in jobs.held() if n.startswith("coil-")]
    assert len(parts) == 16
    assert {n: jobs.held()[n] for n in parts} == dict.fromkeys(parts)


@pytest.mark.parametrize(("group", "flip"), [("coil-left", False), (FRAME, True)])
def test_the_face_passes_through_the_point_square_to_the_coil(group, flip):
    point, axis = axis_of(jobs.COIL_ENDS, flip)
    (seat,) = jobs.every().solids(group, "-seat")
    (face,) = [(h, n) for h, n, _ in jobs.flats(seat) if n @ axis > 0.99]
    assert face[1] @ axis == pytest.approx(1.0, abs=1e-12)
    assert face[0] == pytest.approx(float(point @ axis), abs=0.01)
    # round, and about the coil's axis: as large as the coil and a quarter inch all round
    (rim,) = jobs.bore_axes(seat, 135.0 + 2.0 * 25.4 / 4.0)[:1]
    assert jobs.off_line(point, rim) < 0.01


@pytest.mark.parametrize("group", ["coil-left", "coil-right", FRAME])
def test_the_legs_stand_on_what_they_are_welded_to_with_the_root_gap_and_carry_the_seat(group):
    made = jobs.every()
    found = jobs.gaps(made, group, ("-leg-left", "-leg-right"))
    assert len(found) == 2
    assert all(jobs.GAP - 1e-4 < g < jobs.GAP + 0.006 for g in found)
    (seat,) = made.solids(group, "-seat")
    for leg in made.solids(group, ("-leg-left", "-leg-right")):
        assert exact_distance(leg, seat)[0] < 1e-6
        assert interferes(leg, seat) < 1e-3


def test_the_ring_lies_on_the_seat_and_the_coil_slips_over_it():
    made = jobs.every()
    (ring,), (seat,) = made.solids("coil-left", "-ring"), made.solids("coil-left", "-seat")
    assert exact_distance(ring, seat)[0] < 1e-6
    assert interferes(ring, seat) < 1e-3
    x0, _, x1, _ = bounds(made.job.parts["coil-left-ring"].profile.outer)
    assert 105.0 - 25.4 / 8.0 < x1 - x0 < 105.0
    point, _ = axis_of(jobs.COIL_ENDS)
    assert jobs.off_line(point, jobs.bore_axes(ring, x1 - x0)[0]) < 0.01


def test_water_within_the_ring_has_two_ways_out_that_no_leg_covers():
    made = jobs.every()
    holes = made.job.parts["coil-left-seat"].profile.holes
    drains = [h for h in holes if h.purpose is Purpose.ACCESS]
    assert len(drains) == 2
    inner = bounds(made.job.parts["coil-left-ring"].profile.inner[0])[2]
    for h in drains:
        assert math.hypot(h.x, h.y) + h.finished / 2.0 < inner
        lines = [m.x for m in made.job.parts["coil-left-seat"].marks if m.to is not None and m.x == m.to[0]]
        assert min(abs(h.x - x) for x in lines if abs(x) > 20.0) > h.finished / 2.0


def test_the_coil_bears_over_the_legs():
    made = jobs.every()
    _, axis = axis_of(jobs.COIL_ENDS)
    middle = made.solids("coil-left", "-seat")[0].Center()
    for leg in made.solids("coil-left", ("-leg-left", "-leg-right")):
        off = np.array(leg.Center().toTuple()) - np.array(middle.toTuple())
        along = np.array([0.0, 1.0, 0.0])
        along = along - (along @ axis) * axis
        assert abs(off @ along) < 105.0 / 2.0  # a leg inside the coil meets its wire twice


def test_the_retainers_bolt_goes_through_the_middle():
    seat = jobs.every().job.parts[f"{FRAME}-seat"].profile
    (bolt,) = [h for h in seat.holes if h.purpose is Purpose.BOLT]
    assert (bolt.x, bolt.y) == (0.0, 0.0)
    assert bolt.finished == 13.5  # ISO 273, medium series, M12


def test_the_right_seat_is_the_mirror_image_of_the_left_one():
    sides, volumes = jobs.mirrored_boxes(jobs.every(), "coil-left", "coil-right")
    assert sides < 0.01
    assert volumes < 1e-5


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"coil_outside": None}, "its row gives no coil_outside"),
        ({"coil_inside": "50 mm"}, "leaves no ring"),
        ({"length": "100 mm"}, "is smaller than the coil"),
        ({"point": ["-2845 mm", "420 mm", "498 mm"]}, "are left to the left axle tube and its legs need 6.3 mm"),
        ({"toward": ["-2845 mm", "420 mm", "300 mm"]}, "would look toward the left axle tube"),
        ({"toward": ["-2845 mm", "900 mm", "800 mm"]}, "deg along the left axle tube, and legs take 30 deg"),
    ],
)
def test_a_seat_that_cannot_be_is_refused_in_one_sentence(change, words):
    row = {k: v for k, v in (jobs.ROWS["coil-seat"] | change).items() if v is not None}
    assert words in jobs.refused("coil-seat", row)[0]
