"""Pivot spread gauge: one plate that goes in between the arms of a knuckle at one end and does not at the other."""

from __future__ import annotations

from fixturegen.gauges.shared import GaugeContext, MadeGauge, size_text
from fixturegen.gauges.steps import two_ended
from fixturegen.studies.gauge_records import Gauge


def make_spread(context: GaugeContext, gauge: Gauge) -> MadeGauge:
    """The blank, wider than it is made afterwards; origin in its middle."""
    return two_ended(context, gauge, f"BETWEEN ARMS {size_text(context, gauge.sizes['between'])}", "parallel")
