"""Outlines of gauges with a go end and a no-go end."""

from __future__ import annotations

from fixturegen.gauges.shared import OVER, GaugeContext, MadeGauge, plate_part
from fixturegen.parts.holes import INCH, decimal
from fixturegen.plate import Loop, Mark, Profile
from fixturegen.plate.lettering import text_box
from fixturegen.plate.outlines import filleted
from fixturegen.studies.gauge_records import Gauge

END = 1.25 * INCH  # length of an end that measures
WAIST = 2.5 * INCH  # length between the ends
DEEP = 0.15  # waist under the ends, on each side, over the width [1]
MOST_DEEP = INCH / 4.0
ROUND = 4.0  # [mm]
LETTER = 6.0  # height of GO and NOGO [mm]


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
    """GO and NOGO at their ends: no end has room for a hyphen."""
    far = WAIST / 2.0 + END / 2.0
    words = (("GO", -far), ("NOGO", far))
    return tuple(Mark(x - text_box(text, LETTER)[2] / 2.0, -LETTER / 2.0, text, LETTER) for text, x in words)


def two_ended(context: GaugeContext, gauge: Gauge, words: str, parallel: str) -> MadeGauge:
    """A plate with both ends, as a blank that is wider than it is made afterwards; origin in its middle.

    Args:
        context: The job.
        gauge: Its plan; `go` and `no-go` are the finished widths.
        words: Marked on it.
        parallel: How true both edges of an end are milled.
    """
    go, no_go = gauge.sizes["go"], gauge.sizes["no-go"]
    part = plate_part(
        context,
        gauge,
        gauge.name,
        gauge.label,
        context.plate(context.plan.stand_thickness),
        Profile(two_ends(go, no_go)),
        "middle of the plate; go end at -x",
        words=(words,),
        marks=end_marks(),
        notes=(
            f"cut {decimal(OVER)} over on each side: {context.edge_word()} both edges of the end marked GO "
            f"to {decimal(go)} and of the one marked NOGO to {decimal(no_go)}, {parallel}; stamp what they measure",
        ),
    )
    return MadeGauge((part,), edges=end_widths(gauge.name, go, no_go))
