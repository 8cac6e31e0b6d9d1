"""Width gauges: one plate, two ends milled to the least and the most between a bracket's ears."""

from __future__ import annotations

from fixturegen.gauges.shared import OVER, GaugeContext, MadeGauge, plate_part, size_text
from fixturegen.gauges.steps import end_marks, end_widths, two_ends
from fixturegen.parts.holes import decimal
from fixturegen.plate import Profile
from fixturegen.studies.gauge_records import Gauge


def make_widths(context: GaugeContext, gauge: Gauge) -> MadeGauge:
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
        words=(f"JOINT {size_text(context, gauge.sizes['joint'])}",),
        marks=end_marks(),
        notes=(
            f"cut {decimal(OVER)} over on each side: {how} both edges of the GO end to {decimal(go)} and of the NO-GO "
            f"end to {decimal(no_go)}, parallel within 0.001 in; stamp what they measure",
        ),
    )
    return MadeGauge((part,), edges=end_widths(gauge.name, go, no_go))
