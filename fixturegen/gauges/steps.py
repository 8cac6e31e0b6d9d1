"""Outlines of gauges with a go end and a no-go end."""

from __future__ import annotations

from fixturegen.gauges.shared import OVER
from fixturegen.parts.holes import INCH
from fixturegen.plate import Loop, Mark
from fixturegen.plate.lettering import text_box
from fixturegen.plate.outlines import filleted

END = 1.25 * INCH  # length of an end that measures
WAIST = 2.5 * INCH  # length between the ends
DEEP = 0.15  # waist under the ends, on each side, over the width [1]
MOST_DEEP = INCH / 4.0
ROUND = 4.0  # [mm]
LETTER = 6.0  # height of GO and NO-GO [mm]


def two_ends(go: float, no_go: float) -> Loop:
    """The blank, as cut: both ends wider by what is milled off; x along it, the go end at -x.

    Args:
        go: Finished width of the go end [mm].
        no_go: Finished width of the no-go end [mm].
    """
    low, high = go / 2.0 + OVER, no_go / 2.0 + OVER
    waist = min(low, high) - min(MOST_DEEP, DEEP * min(low, high) * 2.0)
    near, far = WAIST / 2.0, WAIST / 2.0 + END
    return filleted(
        (
            (-far, -low, ROUND),
            (-near, -low, 0.0),
            (-near, -waist, ROUND / 2.0),
            (near, -waist, ROUND / 2.0),
            (near, -high, 0.0),
            (far, -high, ROUND),
            (far, high, ROUND),
            (near, high, 0.0),
            (near, waist, ROUND / 2.0),
            (-near, waist, ROUND / 2.0),
            (-near, low, 0.0),
            (-far, low, ROUND),
        )
    )


def end_widths(name: str, go: float, no_go: float) -> tuple[tuple[str, float, float], ...]:
    """Where both ends of a blank measure: (part, x, finished width) [mm]."""
    far = WAIST / 2.0 + END / 2.0
    return ((name, -far, go), (name, far, no_go))


def end_marks() -> tuple[Mark, ...]:
    """GO and NO-GO at their ends."""
    far = WAIST / 2.0 + END / 2.0
    words = (("GO", -far), ("NOGO", far))
    return tuple(Mark(x - text_box(text, LETTER)[2] / 2.0, -LETTER / 2.0, text, LETTER) for text, x in words)
