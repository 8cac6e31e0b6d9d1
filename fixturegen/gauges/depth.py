"""Pinion depth gauge: discs in the bearing bores, an arbor through them, a block on the pinion head."""

from __future__ import annotations

from fixturegen.gauges.shared import LEAD, OVER, GaugeContext, MadeGauge, plate_part, size_text, turned_part
from fixturegen.parts.holes import INCH, decimal
from fixturegen.plate import Profile, Turned, TurnedStep
from fixturegen.plate.outlines import filleted
from fixturegen.studies.gauge_records import Gauge

ARBOR_OUT = 0.5 * INCH  # arbor beyond the discs, on either side
BORE_OVER = 0.006  # bore of a disc over its arbor [mm]
RIM = (3.0 / 16.0 * INCH, 0.25 * INCH)  # of a disc: length, larger than the bore on the diameter
ROUND = 1.5  # [mm]


def make_depth(context: GaugeContext, gauge: Gauge) -> MadeGauge:
    """Two discs, the arbor and the block; the block's width is what measures."""
    s = gauge.sizes
    width, bore = s["bore width"], s["arbor"] + BORE_OVER
    whole = width + RIM[0]
    disc = Turned(
        (
            TurnedStep(LEAD, s["disc"] - 2.0 * LEAD, s["disc"], None, "lead"),
            TurnedStep(
                width - LEAD, s["disc"], None, (-0.005, 0.0), f"measured bore {decimal(s['bore'], 4)} less 0.0005 in"
            ),
            TurnedStep(RIM[0], s["bore"] + RIM[1], None, None, "rim, stays outside"),
        ),
        ((0.0, whole, bore, None, f"bore {decimal(bore, 4)} +0.0002, slides on the arbor without shake"),),
    )
    arbor = Turned(
        (
            TurnedStep(LEAD, s["arbor"] - 2.0 * LEAD, s["arbor"], None, "lead"),
            TurnedStep(
                s["over"] + 2.0 * ARBOR_OUT, s["arbor"], None, (-0.005, 0.0), "ground, straight within 0.0005 in"
            ),
            TurnedStep(LEAD, s["arbor"], s["arbor"] - 2.0 * LEAD, None, "lead"),
        )
    )
    thick = context.plan.clock_thickness
    half, tall = s["block"] / 2.0 + OVER, s["tall"] / 2.0
    outer = filleted(((-tall, -half, ROUND), (tall, -half, ROUND), (tall, half, ROUND), (-tall, half, ROUND)))
    block = plate_part(
        context,
        gauge,
        "depth-block",
        "block on the pinion head",
        thick,
        Profile(outer),
        "middle of the plate; y is the way it measures",
        words=(size_text(context, s["gap"] + s["arbor"] / 2.0),),
        notes=(
            f"cut {decimal(OVER)} over on each side: mill both long edges parallel to {decimal(s['block'], 4)}, lap "
            "them and stamp what they measure with a micrometer; leaf = gap under the arbor less the stamped figure",
            f"gap from head to arbor {decimal(s['gap'], 4)}; tall enough to reach the axis from an offset pinion",
        ),
    )
    true = ("bore and outside in one setting, true within 0.0003 in",)
    return MadeGauge(
        (
            turned_part(gauge, "depth-disc", "disc of the bearing bores", disc, true, 2),
            turned_part(
                gauge, "depth-arbor", "arbor of the depth gauge", arbor, ("a ground bar of that size will do",)
            ),
            block,
        ),
        edges=(("depth-block", 0.0, s["block"]),),
    )
