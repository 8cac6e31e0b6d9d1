"""Go and no-go plugs for the holes of joint bolts."""

from __future__ import annotations

from fixturegen.gauges.shared import EXACT, LEAD, GaugeContext, MadeGauge, turned_part
from fixturegen.parts.holes import INCH, decimal
from fixturegen.plate import Turned, TurnedStep
from fixturegen.studies.gauge_records import Gauge

GO, NO_GO, GRIP = 1.0 * INCH, 0.5 * INCH, 2.5 * INCH  # lengths; the long end goes
BROKEN = 0.25  # edge of the no-go end: a lead would start in a good hole [mm]
NECK = 0.8  # grip over the shank [1]


def make_plugs(context: GaugeContext, gauge: Gauge) -> MadeGauge:
    """One plug, go at one end and no-go at the other; the no-go end is the short one."""
    go, no_go = gauge.sizes["go"], gauge.sizes["no-go"]
    tenth = tuple(v / 2.0 for v in EXACT)
    steps = (
        TurnedStep(LEAD, go - 2.0 * LEAD, go, None, "lead"),
        TurnedStep(GO, go, None, (tenth[0], tenth[1]), "GO, polished"),
        TurnedStep(GRIP, NECK * gauge.sizes["shank"], None, None, "grip"),
        TurnedStep(NO_GO, no_go, None, (tenth[0], tenth[1]), "NO-GO, polished; one red ring turned beside it"),
        TurnedStep(BROKEN, no_go, no_go - 2.0 * BROKEN, None, "edge broken, no lead"),
    )
    notes = (
        f"stamp GO {decimal(go, 4)} and NO-GO {decimal(no_go, 4)} on the grip at their ends",
        "no lead on the no-go end, only a broken edge: it would start in a good hole and look as if it went",
    )
    return MadeGauge((turned_part(gauge, gauge.name, gauge.label, Turned(steps), notes),))
