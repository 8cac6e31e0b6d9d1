"""Squareness disc: slides on the bar against the end of a tube."""

from __future__ import annotations

from fixturegen.gauges.shared import LEAD, GaugeContext, MadeGauge, turned_part
from fixturegen.parts.holes import INCH, decimal
from fixturegen.plate import Turned, TurnedStep
from fixturegen.studies.gauge_records import Gauge

BORE_OVER = 0.02  # bore over the measured bar [mm] [cp]
HUB_OVER = 1.0 * INCH  # hub larger than the bar, on the diameter
RELIEF = (0.5, 0.125 * INCH)  # face hollowed inside the tube's wall: depth and room round the bore [mm]


def make_end_disc(context: GaugeContext, gauge: Gauge) -> MadeGauge:
    """One piece: disc at Z = 0, hub behind it; the bore is long so that it stands square."""
    s = gauge.sizes
    bore, whole = s["bar"] + BORE_OVER, s["hub"]
    steps = (
        TurnedStep(s["disc"], s["face"], None, None, "disc: its outer face measures"),
        TurnedStep(whole - s["disc"], s["bar"] + HUB_OVER, None, None, "hub"),
    )
    words = f"bore {decimal(bore, 4)} +0.0005: measured bar {decimal(s['bar'], 4)}, slides without shake"
    wide = bore + 2.0 * LEAD
    bores = (
        (0.0, LEAD, wide, bore, "lead"),
        (LEAD, whole - LEAD, bore, None, words),
        (whole - LEAD, whole, bore, wide, "lead"),
    )
    notes = (
        "bore and face in one setting; face runs true within 0.0005 in at its rim",
        "ring the rim with marks every 90 deg, so that a reading can be found again",
    )
    return MadeGauge((turned_part(gauge, "end-disc", gauge.label, Turned(steps, bores), notes),))
