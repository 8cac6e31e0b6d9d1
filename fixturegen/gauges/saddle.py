"""Scribing saddle: two arches on two seats, square on the tube; the outer faces are scribed along."""

from __future__ import annotations

import math

from fixturegen.gauges.shared import ROD_FIT, GaugeContext, MadeGauge, plate_part, screws, seat, set_hole
from fixturegen.parts.holes import INCH, decimal
from fixturegen.plate import Profile, Vertex
from fixturegen.plate.outlines import filleted
from fixturegen.studies.gauge_angles import RODS_AT
from fixturegen.studies.gauge_records import Gauge

AIR = INCH / 16.0  # arch off the tube, so that the scriber's point gets in [mm]
BELOW = 0.0  # legs end at the tube's middle
WALL = 0.6 * INCH  # steel round a seat's hole
CROWN = 1.5 * INCH  # steel over the opening, to hold it by
ROUND = 10.0  # [mm]


def make_saddle(context: GaugeContext, gauge: Gauge) -> MadeGauge:
    """Two arches alike and two seats. Origin: the tube's middle, y up."""
    s, rod = gauge.sizes, gauge.sizes["rod"]
    thick = context.plate(context.plan.stand_thickness)
    across = s["seat"] * math.sin(math.radians(RODS_AT))
    up = s["seat"] * math.cos(math.radians(RODS_AT))
    open_ = s["radius"] + AIR
    half = max(across + rod / 2.0 + WALL, open_ + WALL)
    top = max(up + rod / 2.0 + WALL, open_ + CROWN)
    over = (Vertex(-open_, BELOW, -1.0), Vertex(open_, BELOW, 0.0))
    outer = filleted(((half, top, ROUND), (-half, top, ROUND), (-half, BELOW, 4.0), over, (half, BELOW, 4.0)))
    holes = tuple(
        set_hole(context, w * across, up, rod + ROD_FIT, label, thick)
        for w, label in ((1.0, "seat a"), (-1.0, "seat b"))
    )
    part = plate_part(
        context,
        gauge,
        "saddle-arch",
        gauge.label,
        thick,
        Profile(outer, (), holes),
        "middle of the tube; y up",
        words=("SCRIBE HERE",),
        notes=(
            "both arches drilled and reamed as one stack; one is turned over, so that both marked faces look out",
            f"opening {decimal(2.0 * open_)}: it clears the tube of {decimal(2.0 * s['radius'])} all round; slag and "
            "bow knocked off, the face must lie flat within 0.010 in",
        ),
        quantity=2,
    )
    body = s["apart"] - 2.0 * thick
    return MadeGauge(
        (part, seat(gauge, "saddle-seat", thick, body, True, rod)),
        (screws(4, "scribing saddle, seats"),),
        (("saddle-arch", "seat a", "seat b", 2.0 * across),),
    )
