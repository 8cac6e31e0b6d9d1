"""Titles of parts: a drawing that says "ear of the bracket" must say which of two unlike ears it shows."""

import pytest

from fixturegen.plate import Part
from fixturegen.plate.labels import told_apart


def titles(*names, label="Ear of the lower bracket"):
    return [p.label for p in told_apart([Part(n, label, "toy", "plate") for n in names])]


@pytest.mark.parametrize(
    ("names", "own"),
    [
        (("lower-left-tab-right", "lower-left-tab-left"), ["right", "left"]),
        (("shock-tab-in", "shock-tab-out"), ["inner", "outer"]),
        (("clock-lower-seat", "saddle-seat"), ["clock lower", "saddle"]),
        (("rib-1", "rib-2", "rib-10"), ["1", "2", "10"]),
        (("stub", "stub-upper"), ["stub", "upper"]),
    ],
)
def test_unlike_parts_of_one_title_say_what_is_their_own(names, own):
    assert titles(*names) == [f"Ear of the lower bracket, {word}" for word in own]


def test_a_title_that_stands_alone_stays_and_so_does_the_order():
    parts = [
        Part("b", "Back plate", "toy", "plate"),
        Part("a", "Ear", "toy", "plate"),
        Part("c", "Ear", "toy", "plate"),
    ]
    assert [(p.name, p.label) for p in told_apart(parts)] == [("b", "Back plate"), ("a", "Ear, a"), ("c", "Ear, c")]
