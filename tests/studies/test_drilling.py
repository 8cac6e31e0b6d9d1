"""Which drill: 0.003 in near is the same hole, a reamer takes about 1/64 in (common practice, no source)."""

import pytest

from fixturegen.studies.drilling import drill_before_reamer, drill_for, drill_words, joint_limits, reamed_size

INCH = 25.4


@pytest.mark.parametrize(
    ("size", "metric", "name"),
    # a drill of 13.5 mm is 0.5315 in, 17/32 in is 0.53125 in; letter F is 0.257 in (from memory)
    [(0.5625, False, "9/16 in"), (0.531, False, "17/32 in"), (0.531, True, "13.5 mm"), (0.257, False, "letter F")],
)
def test_the_drill_of_the_persons_own_unit_is_named_first(size, metric, name):
    assert drill_for(size * INCH, metric).name == name


def test_a_size_no_drill_makes_is_said_in_decimals():
    assert drill_for(0.635 * INCH) is None
    assert drill_words(0.635 * INCH) == "0.635 in"
    assert drill_words(0.5 * INCH) == "1/2 (0.500 in)"
    assert drill_words(12.5, metric=True) == "12.5 mm (0.492 in)"


@pytest.mark.parametrize("size", [0.25 + n / 200.0 for n in range(150)])
@pytest.mark.parametrize("metric", [False, True])
def test_every_reamed_size_has_a_drill_that_leaves_it_something(size, metric):
    drill = drill_before_reamer(size * INCH, metric)
    assert 0.006 * INCH - 1e-9 <= size * INCH - drill.size <= 0.032 * INCH + 1e-9


def test_a_size_beyond_the_drawer_has_none():
    assert drill_before_reamer(80.0) is None


@pytest.mark.parametrize("shank", [9.4, 12.63, 15.84, 15.9, 19.02, 25.37])
@pytest.mark.parametrize("metric", [False, True])
def test_the_reamed_size_lies_between_five_and_ten_thousandths_over(shank, metric):
    low, high = joint_limits(shank)
    assert (low - shank, high - shank) == (pytest.approx(0.005 * INCH), pytest.approx(0.010 * INCH))
    assert low - 1e-9 <= reamed_size(shank, metric) <= high + 1e-9
