"""Pivot spread gauge: one plate that goes in between the arms of a knuckle at one end and does not at the other."""

from __future__ import annotations

from fixturegen.gauges.shared import OVER, GaugeContext, MadeGauge, plate_part, size_text
from fixturegen.gauges.steps import end_marks, end_widths, two_ends
from fixturegen.parts.holes import decimal
from fixturegen.plate import Profile
from fixturegen.studies.gauge_records import Gauge


def make_spread(context: GaugeContext, gauge: Gauge) -> MadeGauge:
    """The blank, wider than it is made afterwards; origin in its middle."""
    go, no_go = gauge.sizes["go"], gauge.sizes["no-go"]
    thick = context.plate(context.plan.stand_thickness)
    how = context.edge_word()
    part = plate_part(
        context,
        gauge,
        gauge.name,
        gauge.label,
        thick,
        Profile(two_ends(go, no_go)),
        "middle of the plate; go end at -x",
        words=(f"BETWEEN ARMS {size_text(context, gauge.sizes['between'])}",),
        marks=end_marks(),
        notes=(
            f"cut {decimal(OVER)} over on each side: {how} both edges of the GO end to {decimal(go)} and of the NO-GO "
            f"end to {decimal(no_go)}, parallel; stamp what they measure",
        ),
    )
    return MadeGauge((part,), edges=end_widths(gauge.name, go, no_go))
