"""Coupons: cut first, measured, and the sheet corrected by `fixturegen coupon` before a part is cut.

One plate for each thickness that has tabs and slots on the job, and a strip for the brake. They stand nowhere on
the table.
"""

from __future__ import annotations

from dataclasses import replace

from fixturegen.parts._coupon_plate import plate_of_coupon
from fixturegen.parts._coupon_strip import strip_part
from fixturegen.parts.layout import rack_material
from fixturegen.parts.registry import Context, Made
from fixturegen.plate import Part
from fixturegen.studies.coupon_plan import CouponPlan, bent_elsewhere, coupon_plans, strip_plan, web_of

NO_STRIP = (
    "no bend strip: the rack has no plate of 1/4 in (6 mm) or less, or no sheet of it is listed; where parts are bent "
    "elsewhere, have the one who bends them tell the deduction"
)
OTHER_STRIP = (
    "parts of this job are bent from {} plate, of which this strip tells nothing: bend a strip of that plate too, to "
    "the radius and on the machine of the parts, and add what it takes off under [[brake.tests]]"
)


def make_coupons(context: Context) -> Made:
    """A coupon for each plate with tabs and slots, and the bend strip; loose parts, none of them placed."""
    sheet = context.sheet
    coupons = [_coupon(context, plan) for plan in coupon_plans(sheet)]
    names = " and ".join(c.name for c in coupons)
    strip = strip_plan(sheet)
    bend = f"; bend {strip.name}" if strip is not None else ""
    words = (
        f"Before any other part is cut: cut {names}{bend}; measure them, and put what was measured into the build "
        "sheet (at the computer: fixturegen coupon)."
    )
    if strip is None:
        coupons[-1] = replace(coupons[-1], notes=(*coupons[-1].notes, NO_STRIP))
        return Made(parts=tuple(coupons), steps=((0, words),))
    letter = float(sheet.process.mark_height)
    bent = strip_part(strip, sheet.brake, rack_material(context, strip.nominal), letter)
    others = " and ".join(p.nominal.text for p in bent_elsewhere(sheet))
    if others:
        told = OTHER_STRIP.format(others)
        bent = replace(bent, notes=(*bent.notes, told))
        words = f"{words} {told[0].upper()}{told[1:]}."
    return Made(parts=(*coupons, bent), steps=((0, words),))


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
            "fish out the square block that falls out of the window: it is measured, and it is the tongue for the "
            "slots; the other pieces are scrap",
            "knock the dross off, let it cool, measure on the marked face, then: "
            f'fixturegen coupon SHEET --plate "{plan.plate}" says where to put the caliper',
        ),
    )
