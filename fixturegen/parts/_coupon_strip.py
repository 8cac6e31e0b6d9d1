"""The strip that is bent once on the brake and measured."""

from __future__ import annotations

from dataclasses import replace

from fixturegen.plate import Part
from fixturegen.plate.bend_marks import bend_part
from fixturegen.plate.bend_rules import BendRule
from fixturegen.plate.bending import Fold, bent_strip
from fixturegen.sheet.specs import Brake
from fixturegen.studies.coupon_plan import StripPlan
from fixturegen.units import as_inch

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
    return bend_part(
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
