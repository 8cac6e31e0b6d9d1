"""Hole-to-hole bars: a strip with two reamed holes, pins that stand in spools between the ears."""

from __future__ import annotations

from fixturegen.gauges.shared import (
    ROD_FIT,
    GaugeContext,
    MadeGauge,
    plate_part,
    rod_row,
    set_hole,
    size_text,
    turned_part,
)
from fixturegen.parts.holes import INCH, decimal
from fixturegen.plate import Profile, Turned, TurnedStep
from fixturegen.plate.outlines import filleted
from fixturegen.studies.gauge_records import Gauge

WIDE = 2.0 * INCH  # of the strip
ENDS = 1.25 * INCH  # strip beyond its holes
ROUND = 10.0  # [mm]
SPOOL_FIT = 0.1  # spool over the joint bolt's shank [mm]
SPOOL_UNDER = (-0.1, 0.0)  # length against the joint's width


def make_hole_bar(context: GaugeContext, gauge: Gauge) -> MadeGauge:
    """The bar and the two spools; pins are bought ground. Origin of the bar: its left hole, x to the right hole."""
    s, rod = gauge.sizes, gauge.sizes["rod"]
    thick = context.plate(context.plan.stand_thickness)
    half = WIDE / 2.0
    outer = filleted(
        (
            (-ENDS, -half, ROUND),
            (s["span"] + ENDS, -half, ROUND),
            (s["span"] + ENDS, half, ROUND),
            (-ENDS, half, ROUND),
        )
    )
    holes = (
        set_hole(context, 0.0, 0.0, rod + ROD_FIT, "left pin", thick),
        set_hole(context, s["span"], 0.0, rod + ROD_FIT, "right pin", thick),
    )
    bar = plate_part(
        context,
        gauge,
        gauge.name,
        gauge.label,
        thick,
        Profile(outer, (), holes),
        "left hole; x to the right hole",
        words=(f"{size_text(context, s['span'])} HOLE TO HOLE",),
        notes=("measure over both pins less one diameter, stamp it: from then on the stamped figure counts",),
    )
    spool = Turned(
        (TurnedStep(s["spool"], s["body"], None, None, f"length {decimal(s['spool'])} -0.004: the joint's own width"),),
        ((0.0, s["spool"], s["shank"] + SPOOL_FIT, None, "bore, over the joint bolt"),),
        cross_holes=(
            (s["spool"] / 2.0, rod + ROD_FIT, 0.0, "ream for the pin, one wall, in the middle of its length"),
        ),
    )
    notes = (
        "cross hole square to the bore and in the middle of the length within 0.005 in",
        "the pin stands on the joint bolt",
        "not a part of the truck: a joint goes there afterwards",
    )
    turned = turned_part(gauge, f"{gauge.name}-spool", "spool between the ears", spool, notes, 2)
    return MadeGauge(
        (bar, turned),
        (rod_row(rod, s["pin"], 2, f"{gauge.label}, pins"),),
        ((gauge.name, "left pin", "right pin", s["span"]),),
    )
