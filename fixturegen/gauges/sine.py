"""Sine gauge: a plate with two rods for the gauge heads of the stub pins and two rollers for stack and level."""

from __future__ import annotations

from fixturegen.errors import GeometryFault
from fixturegen.gauges.shared import ROD_FIT, GaugeContext, MadeGauge, plate_part, rod_row, set_hole, size_text
from fixturegen.parts.holes import INCH, decimal, hole
from fixturegen.parts.joinery import XZ
from fixturegen.plate import Hole, Mark, Placement, Profile, Purpose
from fixturegen.plate.outlines import filleted
from fixturegen.studies.gauge_records import Gauge
from fixturegen.studies.gauge_sine import YOKE_RODS

TIP = 0.15 * INCH  # steel beyond a rod, towards the head
TOWARD = 0.18 * INCH  # steel round a rod, towards the arm: a stub's washer stands there
HORN = 0.62 * INCH  # half height of a horn, and of steel round its rod [mm]
BODY = 1.75 * INCH  # width of the upright [mm]
BEAM = (0.95 * INCH, 0.65 * INCH)  # half height of the beam at the upright and at its end [mm]
END = 0.7 * INCH  # beam beyond the rear roller [mm]
INNER, OUTER, NOSE = 6.0, 8.0, 5.0  # roundings of inside and outside corners [mm]
CORD = 0.25 * INCH  # hole for a cord that holds the gauge to the heads
CORD_AT = 0.8 * INCH  # cord hole behind the rod [mm]
PINION = "sine-pinion"  # the use on the pinion, by the name of its plan
LETTER = 8.0  # [mm]
SIGHT = 6.0 * INCH  # rods on the heads: long, so that a straight edge squares them to the bar
ROLLER = 2.0 * INCH  # rollers out of the plate, in all [mm]


def make_sine(context: GaugeContext, gauge: Gauge) -> MadeGauge:
    """The plate; rods and rollers are bought ground. Its use on the pinion has none of its own on a front axle.

    Part frame: origin on the steering axis half way between the heads, x rearward, y along the axis; of the plate
    without horns the front roller.

    Raises:
        GeometryFault: When the arms leave no room for the horns.
    """
    if gauge.name == PINION:
        return _of_pinion(context, gauge)
    s = gauge.sizes
    rod, half, length = s["rod"], s["spread"] / 2.0, s["length"]
    thick = context.plate(context.plan.stand_thickness)
    x0 = (s["head"] + rod) / 2.0
    # the upper head stands inboard of the plate and the lower one outboard: little steel beyond the rods
    tip = x0 - rod / 2.0 - TIP
    low = rod / 2.0 + TOWARD
    body = s["boss"]
    if half - low < BEAM[0] + 2.0 * INNER:
        raise GeometryFault(gauge.name, "the heads stand too near together for its horns", "use an angle finder here")
    front = body + BODY / 2.0
    rear = front + length
    outer = filleted(
        (
            (tip, -half - HORN, NOSE),
            (body + BODY, -half - HORN, OUTER),
            (body + BODY, -BEAM[0], INNER),
            (rear + END, -BEAM[1], OUTER),
            (rear + END, BEAM[1], OUTER),
            (body + BODY, BEAM[0], INNER),
            (body + BODY, half + HORN, OUTER),
            (tip, half + HORN, NOSE),
            (tip, half - low, NOSE),
            (body, half - low, INNER),
            (body, -half + low, INNER),
            (tip, -half + low, NOSE),
        )
    )
    size = rod + ROD_FIT
    holes = [
        set_hole(context, x0, half, size, "upper rod", thick),
        set_hole(context, x0, -half, size, "lower rod", thick),
        set_hole(context, front, 0.0, size, "front roller", thick),
        set_hole(context, rear, 0.0, size, "rear roller", thick),
        *_yoke_holes(context, front, size, thick),
    ]
    for y in (half, -half):
        holes.append(hole(x0 + CORD_AT, y, CORD, Purpose.ACCESS, "cord", context.shop, thickness=thick))
    main = gauge.settings[1]
    words = (
        f"BAR {size_text(context, length)}",
        f"STACK AT THIS END {size_text(context, main.value, 4)}",
        f"FOR {main.angle or 0.0:.2f} DEG",
    )
    part = plate_part(
        context,
        gauge,
        "sine-gauge",
        "sine gauge for caster and pinion angle",
        thick,
        Profile(outer, (), tuple(holes)),
        "steering axis, half way between the heads; x rearward, y along the steering axis",
        words=words,
        near=((front + rear) / 2.0, 0.0),
        marks=(Mark(x0 + CORD_AT + 8.0, half - LETTER / 2.0, "TOP", LETTER),),
        notes=(
            f"all six holes in one setting; rollers {decimal(length, 4)} apart, square to the line of the rods: the "
            "six places are the gauge, no edge of it measures",
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
            ("sine-gauge", "upper yoke rod", "lower yoke rod", YOKE_RODS),
        ),
        stands=(Placement("sine-gauge", rotation=XZ),),
    )


def _yoke_holes(context: GaugeContext, x: float, size: float, thick: float) -> tuple[Hole, Hole]:
    """Where the long rods stand for the pinion: a line square to that of the rollers."""
    half = YOKE_RODS / 2.0
    return (
        set_hole(context, x, half, size, "upper yoke rod", thick),
        set_hole(context, x, -half, size, "lower yoke rod", thick),
    )


def _of_pinion(context: GaugeContext, gauge: Gauge) -> MadeGauge:
    """On a front axle the caster gauge is used; on a rear axle a plate without horns."""
    if context.plan.clock is not None:
        return MadeGauge((), shares=("sine-gauge",))
    s, rod = gauge.sizes, gauge.sizes["rod"]
    thick, half = context.plan.clock_thickness, BODY / 2.0
    tall = YOKE_RODS / 2.0 + HORN
    outer = filleted(
        (
            (-half, -tall, OUTER),
            (half, -tall, OUTER),
            (half, -BEAM[0], INNER),
            (s["length"] + END, -BEAM[1], OUTER),
            (s["length"] + END, BEAM[1], OUTER),
            (half, BEAM[0], INNER),
            (half, tall, OUTER),
            (-half, tall, OUTER),
        )
    )
    size = rod + ROD_FIT
    holes = (
        set_hole(context, 0.0, 0.0, size, "front roller", thick),
        set_hole(context, s["length"], 0.0, size, "rear roller", thick),
        *_yoke_holes(context, 0.0, size, thick),
    )
    main = gauge.settings[-1]
    part = plate_part(
        context,
        gauge,
        "sine-gauge",
        gauge.label,
        thick,
        Profile(outer, (), holes),
        "front roller; x to the rear roller",
        words=(
            f"BAR {size_text(context, s['length'])}",
            f"STACK {size_text(context, main.value, 4)}",
            f"FOR {main.angle or 0.0:.2f} DEG",
        ),
        near=(s["length"] / 2.0, 0.0),
        notes=(
            "all four holes in one setting: their places are the gauge, no edge of it measures",
            "rods and rollers in with retaining compound; measure over the rollers, take one diameter off, stamp it",
        ),
    )
    return MadeGauge(
        (part,),
        (rod_row(rod, SIGHT, 2, "sine gauge, on the yoke"), rod_row(rod, thick + ROLLER, 2, "sine gauge, rollers")),
        (
            ("sine-gauge", "front roller", "rear roller", s["length"]),
            ("sine-gauge", "upper yoke rod", "lower yoke rod", YOKE_RODS),
        ),
    )
