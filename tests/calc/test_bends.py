"""Bends and flat lengths: what the rules share, and what is refused."""

import math
import re

import pytest

from fixturegen.calc import ask
from fixturegen.calc.bend import bend
from fixturegen.errors import InputFault
from fixturegen.findings import Trust

TYPED = {"rule": "k-factor", "thickness": "4 mm", "radius": "6 mm", "angle": "90 deg", "k-factor": "0.5"}


def flat(**changed):
    """The answer of flat-length to a channel of 50 x 100 x 50 mm, with changes."""
    typed = {
        "rule": "k-factor",
        "thickness": "4 mm",
        "lengths": "50 mm, 100 mm, 50 mm",
        "bends": "6 mm x 90 deg, 6 mm x 90 deg",
        "measured": "outside",
        "k-factor": "0.5",
    }
    return ask("flat-length", typed | changed).answer


@pytest.mark.parametrize("rule", ["handbook", "din", "k-factor"])
@pytest.mark.parametrize("angle", [10.0, 45.0, 90.0, 135.0, 180.0])
def test_outside_sizes_less_the_deduction_give_the_straight_ones_and_the_allowance(rule, angle):
    # geometry: the straight part starts a setback of (radius + thickness) tan(angle / 2) from the
    # corner; past 90 deg, radius + thickness from the outermost point
    t, r = 4.0, 6.0
    found = bend(rule, t, r, angle)
    back = (r + t) * (math.tan(math.radians(angle) / 2) if angle <= 90 else 1.0)
    straight = (50.0 - back) + (80.0 - back)
    assert 50.0 + 80.0 - found.deduction == pytest.approx(straight + found.allowance)


def test_a_u_bend_is_longer_than_its_outside_sizes():
    assert bend("handbook", 4.0, 10.0, 180.0).deduction < 0


def test_a_channel_measured_outside_and_straight_is_the_same_strip():
    # corner to straight: 6 + 4 = 10 mm, so 50, 100, 50 outside are 40, 80, 40 straight
    outside, straight = flat(), flat(measured="straight", lengths="40 mm, 80 mm, 40 mm")
    assert outside.flat_length == pytest.approx(160 + math.pi * 8)  # neutral line at 6 + 2
    assert straight.flat_length == pytest.approx(outside.flat_length)
    assert flat(measured="straight").flat_length != pytest.approx(outside.flat_length)


def test_what_a_rule_does_not_look_at_is_neither_assumed_nor_silently_taken():
    reply = ask("bend", TYPED)
    assert (reply.assumed, reply.trust) == ((), Trust.DERIVED)
    assert "material" not in reply.inputs
    reply = ask("bend", TYPED | {"rule": "din"})
    assert "--k-factor takes no part in this answer" in reply.warnings
    reply = ask("bend", {k: v for k, v in TYPED.items() if k != "k-factor"})
    assert (reply.assumed, reply.trust) == (("k-factor",), Trust.ASSUMED)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"lengths": "50 mm, 100 mm"}, "2 lengths and 2 bends"),
        ({"lengths": "50, 100 mm, 50 mm"}, "--lengths"),
        ({"bends": "6 mm 90 deg"}, "inside radius x angle"),
        ({"bends": "6 mm x 90 deg,"}, "nothing"),
        ({"bends": "6 mm x 190 deg, 6 mm x 90 deg"}, "1 deg to 180 deg"),
        ({"lengths": "9.9 mm, 100 mm, 50 mm"}, "reach past the bends"),
        ({"lengths": "50 mm, 19.9 mm, 50 mm"}, "reach past the bends"),
    ],
)
def test_lists_that_do_not_fit_are_refused_in_words(changed, words):
    with pytest.raises(InputFault, match=re.escape(words)):
        flat(**changed)


def test_a_metal_that_is_not_known_is_refused_with_the_choices():
    with pytest.raises(InputFault, match="soft-brass or soft-steel-aluminium or spring-steel"):
        ask("bend", TYPED | {"rule": "handbook", "material": "copper"})
