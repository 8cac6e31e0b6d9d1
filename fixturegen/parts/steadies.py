"""The steady: two screws that set the tie square to the bar in plan (front axles only).

It is the stand's outer rib, carried up and over the housing like the index plate's arm. An arm
reaching sideways from the index plate would be pushed across its thickness; a plate that stands
across the axle takes the push in its own plane, and needs no further part.
"""

from __future__ import annotations

from fixturegen.parts.joinery import INCH, decimal, fraction, reversed_loop, stand_xz
from fixturegen.parts.layout import (
    COPE,
    LEG,
    STOP_NUT,
    Layout,
    layout_of,
    rib_bottom,
    rib_face_edge,
    stand_plate,
    uz_loop,
    uz_place,
)
from fixturegen.parts.registry import Context, Made
from fixturegen.plate import Loop, Mark, Part, Profile, Weld
from fixturegen.plate.outlines import Corner, filleted, mirrored
from fixturegen.studies.jig_records import STEADY_TIP, TiePlan, row_point

AIR = 13.0  # round the tie in every hole of the row [mm]
ROUND = 12.0  # corners of the window [mm]
ABOVE = 26.0  # steel above the window [mm]
NUT_LONG = 1.25 * INCH
NUT_IN = 4.0  # from the window's edge to the nut [mm]
ROOT = 12.0


def make_steadies(context: Context) -> Made:
    """The steady's plate in group "steady"; nothing on a rear axle, which has no tie."""
    plan = context.plan
    if plan.tie is None:
        return Made()
    lay = layout_of(context)
    part = _steady(context, plan.tie, lay)
    reach = _reach(plan.tie)
    return Made(
        parts=(part,),
        placements=(stand_xz(part.name, plan.tie.steady, part.thickness, plan.height, "steady"),),
        welds=(
            Weld((part.name, "stand-base"), LEG, 160.0, "both sides, not in the cope"),
            Weld((part.name, "face-plate"), LEG, 260.0, "over the tabs, then 2 in runs, both sides"),
        ),
        hardware=(
            ("coupling nut", f"1/2-13 x {fraction(NUT_LONG)}", 2, "welded on the steady's marked face"),
            ("square head set screw, flat end", f"1/2-13 x {fraction(reach)}", 2, "steady"),
            ("jam nut", "1/2-13", 2, "steady"),
        ),
        steps=((82, "Both steady screws up to the tie by hand, so that neither pushes; jam nuts still loose."),),
    )


def _window(tie: TiePlan) -> tuple[float, float, float]:
    """Half width and (z from, z to) of the window round the whole swing of the tie [mm]."""
    points = [row_point(tie.radius, spot.index_angle) for spot in tie.row]
    room = tie.diameter / 2.0 + AIR
    half = max(abs(x) for x, _ in points) + room
    return half, min(z for _, z in points) - room, max(z for _, z in points) + room


def _reach(tie: TiePlan) -> float:
    """Length of a screw that meets the tie in the far hole of the row, in half inches up [mm]."""
    half, _, _ = _window(tie)
    far = max(abs(row_point(tie.radius, spot.index_angle)[0]) for spot in tie.row)
    need = NUT_IN + half + far - tie.diameter / 2.0 + NUT_LONG + 14.0
    return -(-need // (INCH / 2.0)) * INCH / 2.0


def _steady(context: Context, tie: TiePlan, lay: Layout) -> Part:
    plan = context.plan
    half, low, high = _window(tie)
    top, tip = high + ABOVE, plan.index.arm_tip - STEADY_TIP + 2.0
    tip = max(tip, -(half + NUT_IN + NUT_LONG + 8.0))
    riser = min(plan.index.riser[1], lay.rib_foot - 20.0)
    items: tuple[Corner | Loop, ...] = (
        *rib_bottom(context, lay),
        (lay.rib_foot, lay.floor + 40.0, 15.0),
        (riser, -40.0, 60.0),
        (riser, top, 60.0),
        (tip, top, 20.0),
        (tip, plan.index.arm[0], 20.0),
        (lay.edge, plan.index.arm[0], ROOT),
        *rib_face_edge(context, lay),
    )
    window = filleted(((-half, low, ROUND), (half, low, ROUND), (half, high, ROUND), (-half, high, ROUND)))
    window = mirrored(window) if plan.face_sign > 0 else window
    return stand_plate(
        context,
        "steadies",
        "steady-plate",
        "Steady plate",
        Profile(outer=uz_loop(context, items), inner=(reversed_loop(window),)),
        marks=_nut_marks(context, tie, half),
        datum="on the bar's axis, at the bar's height; marked face to the vehicle's left, y up",
        notes=(
            "two coupling nuts lie on the marked face, on the two lines beside the window: run one "
            "straight screw through both while they are tacked",
            f"screws push at the tie's middle, {decimal(_screw_height(tie))} above the bar",
            f"the {fraction(COPE)} cope stands over the table pin: no weld in it",
        ),
    )


def _screw_height(tie: TiePlan) -> float:
    """Z of the screws: middle of the heights the tie has in its row [mm]."""
    heights = [row_point(tie.radius, spot.index_angle)[1] for spot in tie.row]
    return (min(heights) + max(heights)) / 2.0


def _nut_marks(context: Context, tie: TiePlan, half: float) -> tuple[Mark, ...]:
    z = _screw_height(tie)
    marks = []
    for way in (-1.0, 1.0):
        for dz in (0.0, STOP_NUT / 2.0):
            x0, _ = uz_place(context, way * (half + NUT_IN), z)
            x1, _ = uz_place(context, way * (half + NUT_IN + NUT_LONG), z)
            marks.append(Mark(x0, z + dz, to=(x1, z + dz)))
    return tuple(marks)
