"""The strip that is bent once on the brake and measured."""

from __future__ import annotations

import math
from dataclasses import replace

from fixturegen.plate import Mark, Part
from fixturegen.plate.bend_marks import bend_part, ticks
from fixturegen.plate.bend_rules import BendRule
from fixturegen.plate.bending import Fold, bent_strip
from fixturegen.sheet.specs import Brake
from fixturegen.studies.coupon_plan import StripPlan
from fixturegen.units import as_inch

TICK_IN = 2.0  # from the edge to a tick: on the edge the cut takes it away [mm]
ARROW_UP = 0.72  # of the width: the grain arrow leaves room for the tape check below it


def strip_part(plan: StripPlan, brake: Brake, material: str, letter: float) -> Part:
    """The strip, drawn by the rule of the sheet and never by an earlier strip: what is measured is compared with it.

    Args:
        plan: The strip's sizes.
        brake: Its rule.
        material: Of the plate.
        letter: Height of lettering [mm].
    """
    rule = BendRule(brake.rule, float(brake.k_factor))
    folds = (Fold(plan.angle, plan.radius),)
    flat = bent_strip((plan.flange, plan.flange), folds, plan.width, plan.thickness, rule)
    flat = replace(flat, arrow=(flat.arrow[0], ARROW_UP * plan.width))
    size = f"{plan.flange:g} mm" if plan.metric else as_inch(plan.flange)
    part = bend_part(
        plan.name,
        f"bend strip, {plan.plate} plate",
        "coupons",
        flat,
        height=letter,
        material=material,
        notes=(
            "measure its length before it is bent, and keep the number",
            f"bend it once through {plan.angle:g} deg, marked face inward, on the die and punch the job is bent with",
            f"both flanges are drawn for {size} outside; measure them from the end to the corner, then: "
            "fixturegen coupon SHEET --flat ... --flange-a ... --flange-b ... --radius ...",
        ),
    )
    at_edge = {tick for bend in part.bends for tick in ticks(bend)}
    return replace(part, marks=tuple(_off_edge(m) if m in at_edge else m for m in part.marks))


def _off_edge(tick: Mark) -> Mark:
    """The tick without the length that lies in the cut."""
    x, y = tick.to or (tick.x, tick.y)
    long = math.hypot(x - tick.x, y - tick.y)
    share = TICK_IN / long
    return replace(tick, x=tick.x + share * (x - tick.x), y=tick.y + share * (y - tick.y))
