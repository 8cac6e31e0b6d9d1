"""Lettering is as high as it says: what a size rule is about."""

import pytest

from fixturegen.plate.lettering import strokes, text_box


@pytest.mark.parametrize("letter", list("ABCDEFGHIKLMNOPRSTUVWXYZ0123456789"))
def test_capitals_and_figures_stand_on_the_base_line_and_are_as_high_as_asked(letter):
    _, low, _, high = text_box(letter, 6.35)
    assert high == pytest.approx(6.35, abs=0.35)  # round letters of the font overshoot a little or fall short
    assert low == pytest.approx(0.0, abs=0.35)


def test_the_letter_h_is_exactly_as_high():
    assert text_box("H", 8.0)[1::2] == pytest.approx((0.0, 8.0), abs=1e-9)


def test_the_box_is_that_of_the_strokes_wherever_they_are_written():
    box = text_box("TAPE 12 1/2", 5.0)
    drawn = strokes("TAPE 12 1/2", 30.0, -20.0, 5.0)
    xs = [v for s in drawn for v in (s[0], s[2])]
    ys = [v for s in drawn for v in (s[1], s[3])]
    assert (min(xs) - 30.0, min(ys) + 20.0, max(xs) - 30.0, max(ys) + 20.0) == pytest.approx(box)
    upright = strokes("TAPE 12 1/2", 30.0, -20.0, 5.0, 90.0)
    assert max(s[3] for s in upright) + 20.0 == pytest.approx(box[2], abs=0.2)


def test_a_blank_takes_no_room():
    assert text_box(" ", 8.0) == (0.0, 0.0, 0.0, 0.0)
