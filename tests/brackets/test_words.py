"""What the hardware list says of a bolt is enough to buy it."""

import pytest

from fixturegen.brackets.words import bolt_length


@pytest.mark.parametrize(
    ("bolt", "grip", "told"),
    [
        # ASME B18.2.1, from memory: thread 2 D + 1/4 in. 3.397 + 0.177 + 2.0 = 5.574 in, the next quarter is 5 3/4
        ("7/8-9", 3.397 * 25.4, "5 3/4 in"),
        # ISO 4014, from memory: thread 2 d + 6 mm up to 125 mm. 70 + 4.5 + 42 = 116.5 mm, the next five is 120
        ("M18", 70.0, "120 mm"),
        # over 125 mm it is 2 d + 12 mm: 80 + 4.5 + 42 = 126.5 needs more than 125, and then 48: 132.5, so 135
        ("M18", 80.0, "135 mm"),
    ],
)
def test_the_plain_shank_of_the_bolt_told_comes_through_the_grip(bolt, grip, told):
    assert f"so {told} under the head" in bolt_length(bolt, grip)
