"""What to measure on a coupon and where to put the caliper, in words and as JSON fields."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from fixturegen.studies.coupon_plan import CouponPlan, StripPlan


def guide_text(plans: Sequence[CouponPlan], strip: StripPlan | None) -> str:
    """What to measure, coupon by coupon."""
    from fixturegen.studies.coupon_changes import said

    lines = [
        "Cut the coupons before anything else, with the kerf lettered on them (K). Let them cool, knock the dross",
        "off, and measure on the marked face, with a caliper, across the middle of each side: not where the torch",
        "went in. Leave out what you did not measure.",
    ]
    for plan in plans:
        m = plan.metric
        holes = ", ".join(f"H{n} {said(d, m)}" for n, d in enumerate(plan.holes, 1))
        rooms = ", ".join(f"{n} {said(r, m)}" for n, r in enumerate(plan.rooms, 1))
        saddles = ", ".join(f"S{n} {said(r, m)}" for n, r in enumerate(plan.saddles, 1))
        heights = ", ".join(f"{w} {'mm' if m else 'in'}" for w in plan.letter_words)
        lines += [
            "",
            f'{plan.name}, --plate "{plan.plate}"',
            f"  --window   inside jaws in the square opening; {said(plan.block, m)} is drawn",
            "  --block    the block that fell out of it, outside jaws between the same two sides",
            f"  --hole-1 to --hole-3, each twice: along the coupon, and across it; {holes} are drawn",
            "  --slot     stand the block on edge; number of the tightest slot it goes through by hand, from the",
            f"             marked face; room on each side: {rooms}",
            f"  --saddle   number of the tightest saddle that sits on the axle tube ({said(plan.tube, m)}) with no",
            f"             light at its bottom; room on the radius: {saddles}",
            f"  --letters  height of the smallest lettering you can read: {heights}",
        ]
    if strip is not None:
        m = strip.metric
        lines += [
            "",
            f'{strip.name}, --plate "{strip.plate}", bent once through {strip.angle:g} deg on the ticks',
            f"  --flat     its length before it is bent; {said(strip.flat, m)} is drawn",
            "  --flange-a, --flange-b  outside, from each end to the corner of the outside faces; drawn for",
            f"             {said(strip.flange, m)} each",
            f"  --radius   inside radius, by gauge; {said(strip.radius, m)} is asked for",
            "  --angle    as bent; 90 deg when left out",
        ]
    return "\n".join(lines)


def guide_json(plans: Sequence[CouponPlan], strip: StripPlan | None) -> dict[str, Any]:
    """The drawn sizes, all lengths [mm]."""
    return {
        "coupons": [
            {
                "name": p.name,
                "plate": p.plate,
                "kerf_mm": p.kerf,
                "window_mm": p.block,
                "slot_rooms_mm": list(p.rooms),
                "holes_mm": list(p.holes),
                "tube_mm": p.tube,
                "saddle_rooms_mm": list(p.saddles),
                "letters_mm": list(p.letters),
            }
            for p in plans
        ],
        "strip": None
        if strip is None
        else {
            "name": strip.name,
            "plate": strip.plate,
            "flat_mm": strip.flat,
            "flange_mm": strip.flange,
            "radius_mm": strip.radius,
            "angle_deg": strip.angle,
        },
    }
