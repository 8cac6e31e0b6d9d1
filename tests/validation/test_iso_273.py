"""ISO 273 clearance holes, fine, medium and coarse, mm as printed; read in a secondary copy."""

import pytest

from fixturegen.calc import ask

HOLES = {
    "M8": (8.4, 9, 10),
    "M10": (10.5, 11, 12),
    "M12": (13, 13.5, 14.5),
    "M14": (15, 15.5, 16.5),
    "M16": (17, 17.5, 18.5),
    "M20": (21, 22, 24),
    "M24": (25, 26, 28),
}
FITS = ("close", "normal", "loose")


def hole(bolt, fit):
    """Diameter of the hole [mm]."""
    return ask("hole", {"bolt": bolt, "fit": fit}).answer.diameter


@pytest.mark.parametrize("bolt", HOLES)
def test_holes_agree_with_the_printed_ones(bolt):
    assert tuple(hole(bolt, fit) for fit in FITS) == HOLES[bolt]


# An old British table that is passed on under the heading ISO 273.
@pytest.mark.parametrize(("bolt", "british"), [("M12", 14), ("M14", 16), ("M16", 18)])
def test_the_old_british_table_is_not_what_we_ship(bolt, british):
    assert british not in [hole(bolt, fit) for fit in FITS]


@pytest.mark.parametrize("name", ["M12", "m12", "M 12", "M12x1.75", "M12 x 1.75", "M12×1.25"])
def test_a_metric_bolt_is_known_by_any_of_its_names(name):
    assert hole(name, "normal") == 13.5


def test_a_metric_and_an_inch_size_are_not_taken_for_each_other():
    # M24 is 0.945 in: between 7/8 and 1
    assert hole("M24", "close") == 25
    assert hole("1", "close") == pytest.approx(1.031 * 25.4)
