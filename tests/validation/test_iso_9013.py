"""ISO 9013:2017 limit deviations of thermal cuts, mm as printed; read in a secondary copy.

The first figures of class 2 are doubtful in that copy and the shipped entries say so.
"""

import pytest

from fixturegen.calc import ask
from fixturegen.errors import InputFault

SIZES = (5, 20, 50, 200, 500, 1500)
PRINTED = {
    ("5 mm", "1"): (0.20, 0.25, 0.25, 0.30, 0.40, 0.45),
    ("8 mm", "1"): (0.25, 0.30, 0.30, 0.35, 0.45, 0.55),
    ("12 mm", "1"): (0.30, 0.35, 0.40, 0.45, 0.55, 0.65),
    ("5 mm", "2"): (0.8, 0.9, 0.9, 1.1, 1.2, 1.3),
    ("8 mm", "2"): (1.0, 1.1, 1.3, 1.4, 1.5, 1.6),
    ("12 mm", "2"): (1.8, 1.8, 1.8, 1.9, 2.3, 3.0),
}


def tolerance(thickness, size, quality):
    """Plus and minus [mm]."""
    return ask("cut-tolerance", {"thickness": thickness, "size": size, "class": quality}).answer.tolerance


@pytest.mark.parametrize(("thickness", "quality"), PRINTED)
def test_tolerances_agree_with_the_printed_ones(thickness, quality):
    found = tuple(tolerance(thickness, f"{s} mm", quality) for s in SIZES)
    assert found == pytest.approx(PRINTED[thickness, quality])


@pytest.mark.parametrize("inch", ["1/4 in", "3/8 in"])
def test_a_quarter_inch_stands_in_the_second_row(inch):
    # 6.35 mm is over 6.3; the first row would give 0.9
    assert tolerance(inch, "2 in", "2") == 1.3
    assert tolerance("6.3 mm", "2 in", "2") == 0.9
    assert tolerance("3/16 in", "2 in", "2") == 0.9
    assert tolerance("1/2 in", "2 in", "2") == 1.8


def test_a_size_on_a_border_belongs_to_the_range_it_begins():
    # ranges are printed as from 10 to under 35, ... up to under 2000
    assert tolerance("8 mm", "9.999 mm", "2") == 1.0
    assert tolerance("8 mm", "10 mm", "2") == 1.1
    assert tolerance("8 mm", "1999 mm", "2") == 1.6


@pytest.mark.parametrize(
    ("thickness", "size", "key"),
    [
        ("3.15 mm", "50 mm", "--thickness"),
        ("15.1 mm", "50 mm", "--thickness"),
        ("8 mm", "2.9 mm", "--size"),
        ("8 mm", "2000 mm", "--size"),
    ],
)
def test_what_the_table_does_not_hold_is_refused(thickness, size, key):
    with pytest.raises(InputFault) as refused:
        tolerance(thickness, size, "1")
    assert [f.key for f in refused.value.faults] == [key]


def test_a_measured_quarter_inch_is_warned_of_the_border():
    near = ask("cut-tolerance", {"thickness": "0.247 in", "size": "2 in", "class": "1"})
    assert any("border" in w for w in near.warnings)
    far = ask("cut-tolerance", {"thickness": "8 mm", "size": "2 in", "class": "1"})
    assert not any("border" in w for w in far.warnings)


def test_class_2_says_that_it_is_doubtful():
    typed = {"thickness": "8 mm", "size": "2 in", "class": "2"}
    assert any("doubtful" in w for w in ask("cut-tolerance", typed).warnings)
    assert not any("doubtful" in w for w in ask("cut-tolerance", typed | {"class": "1"}).warnings)
