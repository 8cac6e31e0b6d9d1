"""Gauge-block stacks, toe readings and the pinion setting gauge against other ways of working them out."""

import itertools
import math
import re

import numpy as np
import pytest

from fixturegen.calc import ask
from fixturegen.calc.depth_gauge import depth_gauge
from fixturegen.calc.sine_stack import sine_stack
from fixturegen.calc.toe import toe
from fixturegen.errors import InputFault
from fixturegen.stock import GaugeSet, entry, table

INCH = 25.4


def blocks_in_inch(answer):
    return [round(inch, 6) for inch, _ in answer.blocks]


@pytest.mark.parametrize(
    ("angle", "printed"),
    [
        # Machinery's Handbook, 31st edition, p. 695, bar of 5 in; a tenth of a thou is the box's last digit
        (12.0, 1.0396),
        (28 + 38 / 60 + 1 / 3600, 2.3960),
        (31.25, 2.5939),
    ],
)
def test_a_stack_of_the_inch_box_adds_up_to_the_handbooks_height(angle, printed):
    found = sine_stack(5 * INCH, angle, "inch-81")
    # the second one is printed to a thou as the height of a taper; its angle is rounded to a second
    assert sum(blocks_in_inch(found)) == pytest.approx(printed, abs=1.01e-4)
    assert len(set(found.blocks)) == len(found.blocks)
    assert set(blocks_in_inch(found)) <= {round(s / INCH, 6) for s in entry("gauge-sets", "inch-81", GaugeSet).sizes}


@pytest.mark.parametrize("name", sorted(table("gauge-sets").entries))
def test_a_box_holds_as_many_different_blocks_as_its_name_says(name):
    sizes = entry("gauge-sets", name, GaugeSet).sizes
    assert len({round(s, 6) for s in sizes}) == len(sizes) == int(name.split("-")[1])


@pytest.mark.parametrize("name", ["inch-81", "metric-47", "metric-87"])
@pytest.mark.parametrize("angle", [3.0, 7.3, 12.0, 17.25])
def test_no_stack_of_fewer_blocks_makes_the_same_height(name, angle):
    found = sine_stack(5 * INCH, angle, name)
    sizes = [round(s * 1e5) for s in entry("gauge-sets", name, GaugeSet).sizes]
    target = round(found.stack * 1e5)
    fewer = range(1, min(len(found.blocks), 4))
    assert all(sum(some) != target for n in fewer for some in itertools.combinations(sizes, n))
    assert sum(round(mm * 1e5) for _, mm in found.blocks) == target
    # half the last digit of the box over the bar, as an angle
    last = 0.00127 if name == "inch-81" else 0.0025
    assert abs(found.made[0][1]) <= math.degrees(last / (5 * INCH * math.cos(math.radians(angle)))) * 3600 * 1.01


def test_what_digit_by_digit_stacking_makes_is_never_beaten_by_more_blocks():
    # the shop's way (common practice): strike out the last digit first: 0.1004 + 0.132 + 0.450 + 1
    found = sine_stack(5 * INCH, math.degrees(math.asin(1.6824 / 5)), "inch-81")
    assert found.stack == pytest.approx(1.6824 * INCH)
    assert len(found.blocks) <= 4


def test_a_stack_that_cannot_be_made_says_what_can():
    with pytest.raises(InputFault, match=r"1 in \(25\.4 mm, 11\.537 deg\) and 1\.1 in .*12\.709 deg"):
        sine_stack(5 * INCH, 12.0, "1 in, 2 in, 0.1 in")
    assert len(sine_stack(5 * INCH, 12.0, "1 in, 0.0396 in").blocks) == 2
    # one block of a size cannot be taken twice
    with pytest.raises(InputFault, match="can make"):
        sine_stack(5 * INCH, math.degrees(math.asin(0.4)), "1 in, 3 in")
    assert len(sine_stack(5 * INCH, math.degrees(math.asin(0.4)), "1 in, 1 in").blocks) == 2


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ("inch81", "inch-81, metric-47"),
        ("1 in, 2", "--set"),
        ("1 mm, 0.10001 in", "one system"),
        (", ".join(["1 in"] * 121), "up to 120"),
    ],
)
def test_a_box_that_is_none_is_refused_in_words(given, words):
    with pytest.raises(InputFault, match=re.escape(words)):
        sine_stack(5 * INCH, 12.0, given)


def tape_difference(diameter, left, right):
    """Rear less front distance between two discs turned about upright axes 60 in apart [in, deg]."""
    ends = {}
    for name, y, turn in (("left", 30.0, left), ("right", -30.0, -right)):
        # toe-in turns the left wheel's front end to the right: about +Z by a negative angle
        t = math.radians(-turn)
        along = np.array([math.cos(t), math.sin(t)]) * diameter / 2
        ends[name] = (np.array([0, y]) + along, np.array([0, y]) - along)
    front, rear = (abs(ends["left"][i][1] - ends["right"][i][1]) for i in (0, 1))
    return rear - front


@pytest.mark.parametrize(("diameter", "wheel"), [(37.0, 0.0968), (30.0, 0.1), (28.0, -0.25), (33.0, 3.0)])
def test_toe_agrees_with_the_ends_of_two_turned_discs(diameter, wheel):
    found = toe(f"{2 * wheel} deg", diameter * INCH, "total")
    assert found.wheel_angle == pytest.approx(wheel)
    assert found.total_reading / INCH == pytest.approx(tape_difference(diameter, wheel, wheel))
    assert toe(f"{wheel} deg", diameter * INCH, "wheel").total_reading == pytest.approx(found.total_reading)


def test_toe_of_the_shop_and_back():
    # common practice, no source: 1/8 in over a 37 in tyre is 0.19 deg; 0.1 deg at 30 in is 0.052 in
    found = toe("1/8 in", 37 * INCH, "total")
    assert found.total_angle == pytest.approx(0.19, abs=5e-3)
    assert toe("0.1 deg", 30 * INCH, "wheel").wheel_reading / INCH == pytest.approx(0.052, abs=5e-4)
    again = toe(f"{found.total_angle!r} deg", 37 * INCH, "total")
    assert again.total_reading == pytest.approx(INCH / 8)
    assert toe("-1/8 in", 37 * INCH).total_angle == pytest.approx(-found.total_angle)


@pytest.mark.parametrize("given", ["12 deg", "1,5 mm", "11 in", "0.2", "nothing"])
def test_a_toe_that_is_none_is_refused(given):
    with pytest.raises(InputFault, match="--toe"):
        toe(given, 30 * INCH, "wheel")


def test_the_depth_gauge_brings_the_head_to_the_distance():
    # plane geometry: the arbor's axis lies on the bores' axis; from the head: block, feeler, half the arbor
    for distance, arbor, feeler in ((66.675, 25.4, 0.508), (50.0, 20.0, 0.3), (101.6, 31.75, 1.0)):
        found = depth_gauge(77.79, distance, arbor, feeler, 0.0254)
        assert found.block + feeler + arbor / 2 == pytest.approx(distance)
        assert found.disc == pytest.approx(77.79 - 0.0254)
        assert found.gap - found.block == pytest.approx(feeler)
        # a disc that lies on the bottom of its bore is off the axis by half the difference
        assert found.play == pytest.approx((77.79 - found.disc) / 2)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"arbor": "2.9 in"}, "thinner arbor"),
        ({"distance": "0.51 in"}, "over 0.54 in"),
        ({"bore": "9 in"}, "1 in to 8 in"),
    ],
)
def test_a_depth_gauge_without_room_is_refused_in_words(change, words):
    given = {"bore": "3.0625 in", "distance": "2.625 in", "arbor": "1 in"}
    assert ask("depth-gauge", given).answer.block == pytest.approx(2.105 * INCH)
    with pytest.raises(InputFault, match=re.escape(words)):
        ask("depth-gauge", given | change)
