"""Walls of the stand behind the face plate: ribs, and the sides of an integral housing's stand.

On a front axle one of the two ribs is the steady's plate (see `steadies`).
"""

from __future__ import annotations

from fixturegen.parts.joinery import (
    INCH,
    bolt_clearance,
    fraction,
    hole,
    stand_xz,
    tab,
)
from fixturegen.parts.layout import (
    BUTT,
    COPE,
    LEG,
    Layout,
    layout_of,
    opening_radius,
    rib_bottom,
    rib_face_edge,
    stand_plate,
    uz_loop,
    uz_place,
)
from fixturegen.parts.registry import Context, Made
from fixturegen.plate import Hole, Loop, Part, Profile, Purpose, Weld
from fixturegen.plate.outlines import Corner

CLAMP_BOLT = 0.5 * INCH
RECESS = 25.0  # of a side behind the opening, so that caps and pucks can be reached [mm]
DATUM = "on the bar's axis, at the bar's height; marked face to the vehicle's left, y up"


def make_stand_walls(context: Context) -> Made:
    """Ribs and, on an integral, sides, placed in group "stand"."""
    lay = layout_of(context)
    plan = context.plan
    ribs = [y for y in plan.stand.ribs if plan.tie is None or y != plan.tie.steady]
    parts = [_rib(context, lay, len(ribs))]
    walls = [("stand-rib", y) for y in ribs]
    if plan.kind == "integral":
        parts.append(_side(context, lay))
        walls += [("stand-side", y) for y in plan.stand.sides]
    return Made(
        parts=tuple(parts),
        placements=tuple(stand_xz(name, y, plan.stand_thickness, plan.height, "stand") for name, y in walls),
        welds=_welds(context),
    )


def _rib(context: Context, lay: Layout, quantity: int) -> Part:
    plan = context.plan
    top = plan.stand.top - 40.0
    items: tuple[Corner | Loop, ...] = (
        *rib_bottom(context, lay),
        (lay.rib_foot, lay.floor + 40.0, 15.0),
        (lay.edge + 45.0, top, 15.0),
        (lay.edge, top, 5.0),
        *rib_face_edge(context, lay),
    )
    return stand_plate(
        context,
        "stand_walls",
        "stand-rib",
        "Stand rib",
        Profile(outer=uz_loop(context, items)),
        quantity=quantity,
        datum=DATUM,
        notes=(f"the {fraction(COPE)} cope stands over the table pin: no weld in it, fingers must reach the pin",),
    )


def _side(context: Context, lay: Layout) -> Part:
    plan = context.plan
    kerf, thick = float(context.sheet.process.kerf), plan.stand_thickness
    top = plan.stand.top - 12.0
    clamp = bolt_clearance(CLAMP_BOLT)
    tabs = sorted(lay.side_face_tabs, reverse=True)
    reach = opening_radius(context) - 13.0
    items: tuple[Corner | Loop, ...] = (
        (lay.edge, lay.floor, 0.0),
        *(tab(u, lay.floor, 0.0, n, thick, kerf) for u, n in lay.foot_tabs),
        (lay.back[0] - BUTT, lay.floor, 0.0),
        tab(lay.back[0] - BUTT, lay.back_tab[0], 90.0, lay.back_tab[1], thick + BUTT, kerf),
        (lay.back[0] - BUTT, lay.back_top + 4.0, 20.0),
        (plan.index.riser[1], -40.0, 60.0),
        (plan.index.riser[1], top, 25.0),
        (lay.edge, top, 5.0),
        (lay.edge, reach, 5.0),
        (lay.edge + RECESS, reach, 12.0),
        (lay.edge + RECESS, -reach, 12.0),
        (lay.edge, -reach, 5.0),
        *(tab(lay.edge, z, -90.0, n, thick + BUTT, kerf) for z, n in tabs),
    )
    holes: list[Hole] = []
    for number, (u, z) in enumerate(lay.clamps, 1):
        x, y = uz_place(context, u, z)
        holes.append(hole(x, y, clamp, Purpose.BOLT, f"clamp {number}", context, thickness=thick))
    return stand_plate(
        context,
        "stand_walls",
        "stand-side",
        "Stand side",
        Profile(outer=uz_loop(context, items), holes=tuple(holes)),
        quantity=len(plan.stand.sides),
        datum=DATUM,
        notes=(
            "both are alike; the clamp holes are used in the one beside the index plate",
            "weld the side beside the index plate on its far face only: the index plate lies flat on it",
        ),
    )


def _welds(context: Context) -> tuple[Weld, ...]:
    welds = [
        Weld(("stand-rib", "stand-base"), LEG, 160.0, "both sides, not in the cope"),
        Weld(("stand-rib", "face-plate"), LEG, 260.0, "over the tabs, then 2 in runs, both sides"),
    ]
    if context.plan.kind == "integral":
        far = "over the tabs, then the far face"
        welds += [
            Weld(("stand-side", "stand-base"), LEG, 200.0, far),
            Weld(("stand-side", "face-plate"), LEG, 200.0, far),
            Weld(("stand-side", "stand-back"), LEG, 120.0, "over the tab from behind"),
        ]
    return tuple(welds)
