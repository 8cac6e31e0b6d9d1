"""ASME BTH-1, 3-3.3, pinned connections; kips and inches of published worked sheets.

Read in secondary copies. One of those sheets is wrong in its shear area, and stands here so.
"""

import math

import numpy as np
import pytest

from fixturegen.calc._pins import bth_plate, lost_at_round_end
from fixturegen.calc.pin_plate import pin_plate

INCH, KSI, KIP = 25.4, 6.894757293168, 4448.2216152605


def lug(thickness, beside, hole, pin, edge, factor, end_radius=math.inf):
    """Allowable loads of an A36 plate whose sizes are in inches."""
    sizes = (thickness, 2 * beside + hole, hole, pin, edge)
    return bth_plate(*(s * INCH for s in sizes), 36 * KSI, 58 * KSI, factor, end_radius * INCH)


def test_the_four_allowable_loads_of_the_worked_sheet_come_out():
    found = lug(0.75, 1.66, 1.6875, 1.375, 3.3125, 2.0, 4.15625)
    loads = [load / KIP for load in (found.tension, found.splitting, found.shear, found.bearing)]
    assert loads == pytest.approx([49.30, 68.76, 88.41, 23.20], abs=0.006)
    assert found.shear_area / INCH**2 == pytest.approx(5.23, abs=0.005)
    assert found.effective_width / INCH == pytest.approx(1.62, abs=0.005)


def test_a_straight_end_has_longer_shear_planes_than_the_round_one_of_the_sheet():
    straight = lug(0.75, 1.66, 1.6875, 1.375, 3.3125, 2.0)
    assert straight.shear / KIP != pytest.approx(88.41, abs=0.1)
    # rise of the round end as the sheet prints it: 0.028 in; planes of 3.512 in
    rise = lost_at_round_end(0.6875 * math.sin(math.radians(55 * 1.375 / 1.6875)), 4.15625)
    assert rise == pytest.approx(0.028, abs=5e-4)
    assert straight.shear_area / INCH**2 / 1.5 == pytest.approx(3.512, abs=5e-4)


def test_the_shear_area_of_2_305_that_another_sheet_prints_is_not_repeated():
    # t .75, b 1.0625, hole .875, pin .75, a 1.0625: its own formula gives 1.774
    found = lug(0.75, 1.0625, 0.875, 0.75, 1.0625, 3.0)
    by_hand = 2 * (1.0625 + 0.75 / 2 * (1 - math.cos(math.radians(55 * 0.75 / 0.875)))) * 0.75
    assert by_hand == pytest.approx(1.774, abs=5e-4)
    assert found.shear_area / INCH**2 == pytest.approx(1.774, abs=5e-4)
    assert found.shear_area / INCH**2 != pytest.approx(2.305, abs=0.1)
    # what the same sheet has right: tension 19.33 needs Cr and be, splitting 17.03
    assert found.effective_width / INCH == pytest.approx(0.9321, abs=5e-5)
    assert found.splitting / KIP == pytest.approx(17.0312, abs=5e-4)


def test_the_topic_gives_the_loads_of_the_formulas_and_the_least_of_them():
    sizes = (0.75, 5.0075, 1.6875, 1.375, 3.3125)
    found = pin_plate("bth", *(s * INCH for s in sizes), 36 * KSI, 58 * KSI, 2.0, 4.15625 * INCH)
    assert found.allowable / KIP == pytest.approx(23.20, abs=0.005)
    assert {w[0]: w[3] / KIP for w in found.ways}["splitting"] == pytest.approx(68.76, abs=0.006)
    assert found.warnings[0] == "bearing governs"


def test_twice_the_design_factor_halves_every_load_and_arrays_pass_through():
    found = lug(0.75, 1.66, 1.6875, 1.375, 3.3125, np.array([2.0, 4.0]))
    for name in ("tension", "splitting", "shear", "bearing"):
        first, second = getattr(found, name)
        assert second == pytest.approx(first / 2)
