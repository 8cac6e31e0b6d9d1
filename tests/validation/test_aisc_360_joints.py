"""AISC 360 J2 (fillet welds), J3.4 (edges), J3.10 (bearing), D2 (net section); kips and inches.

Read in secondary copies but for the edges, which are from memory.
"""

import math

import numpy as np
import pytest

from fixturegen.calc._pins import bent_tab, bolt_bearing, net_section, tear_out
from fixturegen.calc._welds import fillet_strength, largest_fillet, leg_for, long_weld, smallest_fillet
from fixturegen.calc.fillet import fillet
from fixturegen.errors import InputFault
from fixturegen.stock import EdgeDistance, entry, table

INCH, KSI, KIP = 25.4, 6.894757293168, 4448.2216152605


# the teaching example: 3/4 in fillet, 8 in, E70, along and across
@pytest.mark.parametrize(("angle", "kips"), [(0.0, 133.6), (90.0, 200.4)])
def test_a_three_quarter_fillet_of_eight_inches_has_the_printed_design_strength(angle, kips):
    found = fillet(0.75 * INCH, 8 * INCH, 1.0 * INCH, angle)
    assert found.design_strength / KIP == pytest.approx(kips, abs=0.1)  # printed with a throat of .707
    assert found.nominal / KIP == pytest.approx(kips / 0.75, abs=0.15)


def test_without_the_direction_factor_the_weld_across_would_be_seen():
    assert fillet(0.75 * INCH, 8 * INCH, INCH, 45.0).design_strength / KIP == pytest.approx(
        133.6 * (1 + 0.5 * math.sin(math.pi / 4) ** 1.5), abs=0.1
    )
    assert fillet(0.75 * INCH, 8 * INCH, INCH, 45.0).design_strength / KIP != pytest.approx(133.6, abs=1)


def test_a_sixteenth_of_leg_carries_the_printed_load_an_inch():
    found = fillet(0.25 * INCH, 10 * INCH, 0.25 * INCH)
    assert found.allowable / KIP / 40 == pytest.approx(0.928, abs=5e-4)
    assert found.design_strength / KIP / 40 == pytest.approx(1.392, abs=5e-4)
    assert leg_for(4 * 928 * 4.4482216152605 / INCH) / INCH == pytest.approx(0.25, rel=1e-3)


# AWS D1.1 table 7.7: to 1/4: 1/8; over 1/4 to 1/2: 3/16; over 1/2 to 3/4: 1/4; over 3/4: 5/16
@pytest.mark.parametrize(
    ("plate", "leg"),
    [(3 / 16, 1 / 8), (1 / 4, 1 / 8), (0.26, 3 / 16), (1 / 2, 3 / 16), (0.51, 1 / 4), (3 / 4, 1 / 4), (0.76, 5 / 16)],
)
def test_the_smallest_fillet_is_that_of_the_table(plate, leg):
    assert smallest_fillet(plate * INCH).leg / INCH == pytest.approx(leg)
    assert fillet(leg * INCH, 4 * INCH, plate * INCH).minimum_size / INCH == pytest.approx(leg)
    with pytest.raises(InputFault, match="cools too fast"):
        fillet((leg - 1 / 32) * INCH, 4 * INCH, plate * INCH)


def test_along_an_edge_of_a_quarter_and_more_a_sixteenth_is_left():
    # J2.2b: under 1/4 in the thickness itself
    assert largest_fillet(0.25 * INCH) / INCH == pytest.approx(3 / 16)
    assert largest_fillet(0.1875 * INCH) / INCH == pytest.approx(3 / 16)
    assert any("too large" in w for w in fillet(0.25 * INCH, 4 * INCH, 0.25 * INCH).warnings)
    assert not any("too large" in w for w in fillet(0.1875 * INCH, 4 * INCH, 0.25 * INCH).warnings)


def test_a_weld_shorter_than_four_legs_is_refused():
    assert fillet(0.25 * INCH, 1.0 * INCH, 0.25 * INCH).nominal > 0
    with pytest.raises(InputFault, match="4 legs or more"):
        fillet(0.25 * INCH, 0.99 * INCH, 0.25 * INCH)


def test_a_long_weld_counts_less():
    # J2.2b: 1.2 - 0.002 l/w from 100 legs, 180 legs beyond 300
    assert long_weld(1.0, np.array([99.0, 100.0, 200.0, 300.0, 600.0])) == pytest.approx([1, 1, 0.8, 0.6, 0.3])
    assert fillet_strength(1.0, 600.0) == pytest.approx(fillet_strength(1.0, 300.0))


# J3.4, from memory
@pytest.mark.parametrize(("bolt", "edge"), [("1/2", 3 / 4), ("5/8", 7 / 8), ("3/4", 1), ("7/8", 9 / 8), ("1", 5 / 4)])
def test_edge_distances_are_those_of_the_table(bolt, edge):
    row = entry("edge-distances", bolt, EdgeDistance)
    assert row.edge / INCH == pytest.approx(edge)
    # a floor, never over the 1 1/2 diameters of suspension practice (common practice, no source)
    assert row.edge <= 1.5 * row.bolt + 1e-9
    assert len(table("edge-distances").entries) == 5


def test_tear_out_governs_near_the_edge_and_bearing_far_from_it():
    # J3.10: min(1.2 lc t Fu, 2.4 d t Fu), equal where lc = 2 d; 3/4 bolt, 1/4 plate, A36
    d, t, fu = 0.75 * INCH, 0.25 * INCH, 58 * KSI
    clear = np.array([1.4, 1.5, 3.0]) * INCH
    found = bolt_bearing(clear, d, t, fu) / KIP
    assert found == pytest.approx([1.2 * 1.4 * 0.25 * 58, 2.4 * 0.75 * 0.25 * 58, 2.4 * 0.75 * 0.25 * 58])
    assert tear_out(3.0 * INCH, t, fu) / KIP > found[2]


def test_net_section_and_unbraced_tab_are_those_of_plain_statics():
    assert net_section(2 * INCH, 0.5 * INCH, 0.25 * INCH, 58 * KSI) / KIP == pytest.approx(58 * 1.5 * 0.25)
    # 100 lbf, 3 in up, root 4 x 1/4: M c / I
    second, moment = 4 * 0.25**3 / 12, 100.0 * 3
    found = bent_tab(0.1 * KIP, 3 * INCH, 4 * INCH, 0.25 * INCH) / KSI
    assert found == pytest.approx(moment * 0.125 / second / 1000)
