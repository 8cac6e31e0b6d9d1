"""Drills: inch fractions are arithmetic; letters as in ASME B94.11M (from memory, compared once by hand with an
open list of a general CAD library, to 0.001 in); metric steps are arithmetic."""

from fractions import Fraction

import pytest

from fixturegen.stock import DrillSeries, entry

INCH = 25.4
LETTERS = {  # a tap-drill chart's letters, in, from memory
    **{"A": 0.234, "C": 0.242, "F": 0.257, "I": 0.272, "O": 0.316},
    **{"Q": 0.332, "R": 0.339, "U": 0.368, "X": 0.397, "Z": 0.413},
}


def series(name):
    return entry("drills", name, DrillSeries)


def test_fractions_are_every_sixty_fourth_to_one_inch():
    wanted = [Fraction(n, 64) for n in range(8, 65)] + [Fraction(n, 16) for n in range(17, 33)]
    assert [float(s) / INCH for s in series("fraction").sizes] == pytest.approx([float(w) for w in wanted])


@pytest.mark.parametrize("letter", LETTERS)
def test_letters_are_the_standards(letter):
    assert dict(series("letter").named())[letter] / INCH == pytest.approx(LETTERS[letter], abs=5e-4)


def test_letters_are_26_and_every_series_rises():
    assert "".join(series("letter").names) == "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
    for name in ("fraction", "letter", "metric"):
        sizes = list(series(name).sizes)
        assert sizes == sorted(set(sizes))
