import re

import pytest

from fixturegen.sheet.specs.base import BOLT, THREAD
from fixturegen.sheet.threads import thread_diameter


@pytest.mark.parametrize(
    "text, diameter",
    [
        # the size of an inch thread is its diameter (ASME B1.1); No. 10 is 0.190 in there (from memory)
        ("3/8-24", 9.525),
        ("1/2-13", 12.7),
        ("1 1/2-12", 38.1),
        ("1-14", 25.4),
        ("1/2", 12.7),
        ("#10-32", 0.190 * 25.4),
        # ISO 68-1: M is followed by the diameter in mm
        ("M10x1.5", 10.0),
        ("M10 x 1.5", 10.0),
        ("M12", 12.0),
    ],
)
def test_the_diameter_of_a_thread_is_read_from_its_size(text, diameter):
    assert thread_diameter(text) == pytest.approx(diameter)
    assert re.match(BOLT, text)


@pytest.mark.parametrize("text", ["", "half inch", "3/8 coarse", "3/0-16", "M", "-24", "3.8-24"])
def test_a_text_that_is_no_thread_has_no_diameter(text):
    with pytest.raises(ValueError):
        thread_diameter(text)


@pytest.mark.parametrize("text", ["3/8", "M10", "3/8-24 ", "x"])
def test_a_size_without_a_pitch_is_no_thread(text):
    assert not re.fullmatch(THREAD, text)
