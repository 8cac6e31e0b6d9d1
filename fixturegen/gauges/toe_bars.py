"""Toe bars: a strip on two neighbouring wheel studs, with a point for the trammel at either end."""

from __future__ import annotations

from fixturegen.gauges.shared import GaugeContext, MadeGauge, plate_part, set_hole, size_text
from fixturegen.parts.holes import INCH, decimal, hole
from fixturegen.plate import Profile, Purpose
from fixturegen.plate.outlines import filleted
from fixturegen.studies.gauge_records import Gauge

ABOVE = 0.9 * INCH  # strip over the stud holes
BELOW = 2.1 * INCH  # strip under the stud holes
ENDS = 0.75 * INCH  # strip beyond its points
ROUND = 10.0  # [mm]
ROOM = INCH / 32.0  # stud hole over the stud, on the diameter: the flange sets the bar, not the studs
POINT = 0.125 * INCH  # hole for the trammel's point


def make_toe_bars(context: GaugeContext, gauge: Gauge) -> MadeGauge:
    """Two alike; origin half way between the stud holes, x forward or rearward."""
    s = gauge.sizes
    thick = context.plate(context.plan.stand_thickness)
    half = s["span"] / 2.0
    outer = filleted(
        (
            (-half - ENDS, -BELOW, ROUND),
            (half + ENDS, -BELOW, ROUND),
            (half + ENDS, ABOVE, ROUND),
            (-half - ENDS, ABOVE, ROUND),
        )
    )
    size = s["stud"] + ROOM
    studs = [
        hole(x, 0.0, size, Purpose.BOLT, f"wheel stud {n}", context.shop, thickness=thick, clearance=ROOM)
        for n, x in enumerate((-s["chord"] / 2.0, s["chord"] / 2.0), 1)
    ]
    middle = (ABOVE - BELOW) / 2.0
    points = [set_hole(context, x, middle, POINT, label, thick) for x, label in ((-half, "point a"), (half, "point b"))]
    one = gauge.settings[0]
    nose = 2.0 * max(0.0, s["below"] - ABOVE)
    part = plate_part(
        context,
        gauge,
        gauge.name,
        gauge.label,
        thick,
        Profile(outer, (), (*studs, *points)),
        "half way between the stud holes; the long edge level",
        words=(f"TOE {size_text(context, one.low)} TO {size_text(context, one.high)}", "REAR LESS FRONT"),
        notes=(
            f"hangs under the hub: a hub or nose of more than {decimal(nose, 2)} across meets its "
            "upper edge; then turn the bar over, points up",
            "file both faces round the stud holes flat over the flange's width; a bow of the strip is taken out by the "
            "second reading with the hubs turned half round",
        ),
        quantity=2,
    )
    return MadeGauge(
        (part,),
        (("trammel, or two rods that slide in one another", "to suit the wheel mount width", 1, "toe bars"),),
        ((gauge.name, "point a", "point b", s["span"]),),
    )
