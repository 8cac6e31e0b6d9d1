"""Width gauges: one plate, two ends milled to the least and the most between a bracket's ears."""

from __future__ import annotations

from fixturegen.gauges.shared import GaugeContext, MadeGauge, size_text
from fixturegen.gauges.steps import two_ended
from fixturegen.studies.gauge_records import Gauge


def make_widths(context: GaugeContext, gauge: Gauge) -> MadeGauge:
    """The blank, wider than it is made afterwards; origin in its middle."""
    return two_ended(context, gauge, f"JOINT {size_text(context, gauge.sizes['joint'])}", "parallel within 0.001 in")
