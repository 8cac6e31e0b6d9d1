"""Pucks: the bar in the middle of bores the jig has no puck for."""

from __future__ import annotations

from fixturegen.gauges.shared import LEAD, GaugeContext, MadeGauge, turned_part
from fixturegen.parts.holes import INCH, decimal
from fixturegen.plate import Turned, TurnedStep
from fixturegen.studies.gauge_records import Gauge

BORE_OVER = 0.02  # bore over the measured bar [mm] [cp]
BORE_WIDTH = 0.875 * INCH
RIM = (3.0 / 16.0 * INCH, 0.25 * INCH)  # flange that stays outside: length, larger than the bore on the diameter


def make_pucks(context: GaugeContext, gauge: Gauge) -> MadeGauge:
    """Two alike: a body in the bore, a rim outside it to pull it out by."""
    s = gauge.sizes
    outside, bore = s["outside"], s["bar"] + BORE_OVER
    steps = (
        TurnedStep(LEAD, outside - 2.0 * LEAD, outside, None, "lead"),
        TurnedStep(
            BORE_WIDTH - LEAD, outside, None, (-0.013, 0.0), f"measured bore {decimal(s['bore'], 4)} less 0.0008 in"
        ),
        TurnedStep(RIM[0], s["bore"] + RIM[1], None, None, "rim, stays outside"),
    )
    whole, wide = BORE_WIDTH + RIM[0], bore + 2.0 * LEAD
    words = f"bore {decimal(bore, 4)} +0.0005: measured bar {decimal(s['bar'], 4)}, slides without shake"
    bores = (
        (0.0, LEAD, wide, bore, "lead"),
        (LEAD, whole - LEAD, bore, None, words),
        (whole - LEAD, whole, bore, wide, "lead"),
    )
    notes = (
        "bore and outside in one setting, true within 0.0005 in",
        "where the two bores differ by more than 0.001 in make each puck to its own bore and stamp L and R",
    )
    return MadeGauge((turned_part(gauge, gauge.name, gauge.label, Turned(steps, bores), notes, 2),))
