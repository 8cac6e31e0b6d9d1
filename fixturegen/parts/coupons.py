"""Coupons: cut first, measured, and the sheet corrected by `fixturegen coupon` before a part is cut.

One plate for each thickness the jig is cut from. It stands nowhere on the table.
"""

from __future__ import annotations

from fixturegen.parts._coupon_plate import plate_of_coupon
from fixturegen.parts.layout import rack_material
from fixturegen.parts.registry import Context, Made
from fixturegen.plate import Part
from fixturegen.studies.coupon_plan import CouponPlan, coupon_plans, web_of


def make_coupons(context: Context) -> Made:
    """A coupon for each plate the jig is cut from; loose parts, none of them placed."""
    coupons = tuple(_coupon(context, plan) for plan in coupon_plans(context.sheet))
    return Made(parts=coupons)


def _coupon(context: Context, plan: CouponPlan) -> Part:
    web = web_of(context.sheet, plan.thickness)
    profile, marks = plate_of_coupon(plan, web, float(context.sheet.process.mark_height))
    return Part(
        name=plan.name,
        label=f"coupon, {plan.plate} plate",
        kind="coupons",
        form="plate",
        thickness=plan.thickness,
        material=rack_material(context, plan.nominal),
        profile=profile,
        marks=marks,
        datum="lower left corner; marked face up, as it lies on the cutting table",
        notes=(
            "cut this first, before any other part of this plate, with the kerf it is lettered with (K)",
            "keep the square block that falls out of the window: it is measured, and it is the tongue for the slots",
            "knock the dross off, let it cool, measure on the marked face, then: "
            f'fixturegen coupon SHEET --plate "{plan.plate}" says where to put the caliper',
        ),
    )
