"""Sine gauge: a plate with two rods for the gauge heads of the stub pins and two rollers for stack and level."""

from __future__ import annotations

from fixturegen.errors import GeometryFault
from fixturegen.gauges.shared import ROD_FIT, GaugeContext, MadeGauge, plate_part, rod_row, set_hole
from fixturegen.parts.holes import INCH, decimal, hole
from fixturegen.parts.joinery import XZ
from fixturegen.plate import Mark, Placement, Profile, Purpose
from fixturegen.plate.outlines import filleted
from fixturegen.studies.gauge_records import Gauge

HORN = 0.62 * INCH  # half height of a horn, and of steel round its rod [mm]
BODY = 1.75 * INCH  # width of the upright [mm]
BEAM = (0.95 * INCH, 0.65 * INCH)  # half height of the beam at the upright and at its end [mm]
END = 0.7 * INCH  # beam beyond the rear roller [mm]
INNER, OUTER = 6.0, 8.0  # roundings of inside and outside corners [mm]
CORD = 0.25 * INCH  # hole for a cord that holds the gauge to the heads
CORD_AT = 0.8 * INCH  # cord hole behind the rod [mm]
LETTER = 8.0  # [mm]
SIGHT = 6.0 * INCH  # rods on the heads: long, so that a straight edge squares them to the bar
ROLLER = 2.0 * INCH  # rollers out of the plate, in all [mm]


def make_sine(context: GaugeContext, gauge: Gauge) -> MadeGauge:
    """The plate; rods and rollers are bought ground.

    Part frame: origin on the steering axis half way between the heads, x rearward, y along the axis.

    Raises:
        GeometryFault: When the arms leave no room for the horns.
    """
    s = gauge.sizes
    rod, half, length = s["rod"], s["spread"] / 2.0, s["length"]
    thick = context.plan.clock_thickness
    x0 = (s["head"] + rod) / 2.0
    body = s["boss"]
    if half - HORN < BEAM[0] + 2.0 * INNER:
        raise GeometryFault(gauge.name, "the heads stand too near together for its horns", "use an angle finder here")
    front = body + BODY / 2.0
    rear = front + length
    outer = filleted(
        (
            (x0 - HORN, -half - HORN, OUTER),
            (body + BODY, -half - HORN, OUTER),
            (body + BODY, -BEAM[0], INNER),
            (rear + END, -BEAM[1], OUTER),
            (rear + END, BEAM[1], OUTER),
            (body + BODY, BEAM[0], INNER),
            (body + BODY, half + HORN, OUTER),
            (x0 - HORN, half + HORN, OUTER),
            (x0 - HORN, half - HORN, OUTER),
            (body, half - HORN, INNER),
            (body, -half + HORN, INNER),
            (x0 - HORN, -half + HORN, OUTER),
        )
    )
    size = rod + ROD_FIT
    holes = [
        set_hole(context, x0, half, size, "upper rod", thick),
        set_hole(context, x0, -half, size, "lower rod", thick),
        set_hole(context, front, 0.0, size, "front roller", thick),
        set_hole(context, rear, 0.0, size, "rear roller", thick),
    ]
    for y in (half, -half):
        holes.append(hole(x0 + CORD_AT, y, CORD, Purpose.ACCESS, "cord", context.shop, thickness=thick))
    main = gauge.settings[1]
    words = (
        f"BAR {length / INCH:g} IN",
        f"STACK AT THIS END {main.value / INCH:.4f} IN",
        f"FOR {main.angle or 0.0:.2f} DEG",
    )
    part = plate_part(
        context,
        gauge,
        "sine-gauge",
        gauge.label,
        thick,
        Profile(outer, (), tuple(holes)),
        "steering axis, half way between the heads; x rearward, y along the steering axis",
        words=words,
        near=((front + rear) / 2.0, 0.0),
        marks=(Mark(x0 + CORD_AT + 8.0, half - LETTER / 2.0, "TOP", LETTER),),
        notes=(
            f"all four holes in one setting; rollers {decimal(length, 4)} apart, square to the line of the rods: the "
            "four places are the gauge, no edge of it measures",
            "rods and rollers in with retaining compound; rollers stand out 1 in on either face; marked face to the "
            "vehicle's left on both sides, so that the beam always points to the rear",
            "measure over the two rollers, take one diameter off, stamp what it is: the stack follows from that",
        ),
    )
    return MadeGauge(
        (part,),
        (
            rod_row(rod, SIGHT, 2, "sine gauge, on the gauge heads"),
            rod_row(rod, thick + ROLLER, 2, "sine gauge, rollers"),
            ("straight edge, ground", f"{length / INCH + 4:.0f} in", 1, "sine gauge, over the rollers"),
        ),
        (
            ("sine-gauge", "front roller", "rear roller", length),
            ("sine-gauge", "upper rod", "lower rod", s["spread"]),
        ),
        stands=(Placement("sine-gauge", rotation=XZ),),
    )
