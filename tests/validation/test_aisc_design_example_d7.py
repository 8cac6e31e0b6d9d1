"""AISC Design Examples, D.7, pin-connected member (360-10, D5 and J7); kips and inches as printed.

Read in a secondary copy.
"""

import pytest

from fixturegen.calc.pin_plate import pin_plate

INCH, KSI, KIP = 25.4, 6.894757293168, 4448.2216152605
A36 = (36 * KSI, 58 * KSI)


def plate(width=4.25, edge=2.25, hole=1.03, pin=1.0):
    """The member of the example."""
    sizes = (0.5, width, hole, pin, edge)
    return pin_plate("aisc", *(s * INCH for s in sizes), *A36)


def test_the_four_nominal_strengths_of_the_example_come_out():
    found = plate()
    loads = [load / KIP for load in (found.tension, found.shear, found.bearing, found.yielding)]
    assert loads == pytest.approx([93.4, 95.7, 32.4, 76.5], abs=0.05)
    assert found.effective_width / INCH == pytest.approx(1.61, abs=5e-4)


def test_bearing_governs_and_is_halved():
    found = plate()
    assert found.warnings[0] == "bearing governs"
    assert found.allowable / KIP == pytest.approx(32.4 / 2, abs=0.03)


def test_the_example_keeps_the_sizes_the_code_asks_for():
    assert not [w for w in plate().warnings if "outside the code" in w]


# D5.2: edge 1.33 x 1.61 = 2.141 in, hole at most pin + 1/32 in
@pytest.mark.parametrize(("kept", "broken"), [({"edge": 2.15}, {"edge": 2.13}), ({"hole": 1.031}, {"hole": 1.04})])
def test_sizes_outside_the_code_are_said_so(kept, broken):
    assert not [w for w in plate(**kept).warnings if "outside the code" in w]
    assert [w for w in plate(**broken).warnings if "outside the code" in w]


def test_rupture_of_the_whole_net_width_is_not_what_the_code_gives():
    # a plate of 10 in would carry on 2 t + 0.63 in a side only, not on its whole net width
    assert plate(width=10.0).tension / KIP == pytest.approx(58 * 2 * 0.5 * 1.63, rel=1e-9)
    assert plate(width=10.0).tension / KIP < 0.5 * 58 * 0.5 * (10 - 1.03)
