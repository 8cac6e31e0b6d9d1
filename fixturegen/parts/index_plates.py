"""Index plate and puck plate: from the machined face to the tie in one piece of plate.

Drop-out: both are walls of the stand, reach in through the opening and carry the bar; three milled
pads touch the face. Integral: the index plate hangs on the bar alone, is turned until two gaps to
the face are alike, and is then clamped to the first side of the stand.
"""

from __future__ import annotations

from dataclasses import replace

from fixturegen.parts.joinery import (
    INCH,
    decimal,
    fraction,
    stand_xz,
    tab,
)
from fixturegen.parts.layout import (
    BUTT,
    Layout,
    layout_of,
    nose,
    rack_material,
    uz_loop,
    xz_hole,
)
from fixturegen.parts.registry import Context, Made
from fixturegen.plate import Hole, Loop, Part, Placement, Profile, Purpose, Weld
from fixturegen.plate.outlines import Corner
from fixturegen.studies.jig_records import LEVEL_PIN, level_pin_length, row_point

PROUD = 2.0  # pads stand this much before the rest of their edge [mm]
ROOT = 12.0  # inside corners of tongue and arm [mm]
CORNER = 20.0  # outside corners of arm and riser [mm]
SEAT = 3.0  # relief where the plate meets the face plate's edges [mm]
TURN_GAP = 3.0  # the integral index plate stays off the face plate, so that it can be turned [mm]
CLAMP_BOLT = 0.5 * INCH
CLAMP_HOLE = 0.75 * INCH
LEG = 3.0 / 16.0 * INCH

Items = tuple[Corner | Loop, ...]


def make_index_plates(context: Context) -> Made:
    """The index plate and, on a drop-out, the puck plate, placed in group "index"."""
    lay = layout_of(context)
    index = _index_plate(context, lay)
    parts, places = [index], [_place(context, index, context.plan.index.station)]
    welds: list[Weld] = []
    if context.plan.index.puck_station is not None:
        puck = _puck_plate(context, lay)
        parts.append(puck)
        places.append(_place(context, puck, context.plan.index.puck_station))
        welds = [w for p in parts for w in _welds(p.name)]
    return Made(
        parts=tuple(parts),
        placements=tuple(places),
        welds=tuple(welds),
        hardware=_hardware(context),
        steps=_steps(context),
    )


def _place(context: Context, part: Part, station: float) -> Placement:
    return stand_xz(part.name, station, part.thickness, context.plan.height, "index")


def _welds(name: str) -> tuple[Weld, ...]:
    return (
        Weld((name, "stand-base"), LEG, 4 * 50.0, "over the tabs from below, then both sides 2 in at a time"),
        Weld((name, "face-plate"), LEG, 4 * 40.0, "behind the face plate, above and below the opening"),
        Weld((name, "stand-back"), LEG, 2 * 60.0, "over the tab from behind"),
    )


def _pad_edge(context: Context, z0: float, z1: float, relief: float, *, down: bool) -> tuple[Corner, ...]:
    """The face edge from one end of a pad to the tongue, or the other way (run downward or not)."""
    face = context.plan.index.face + context.plan.index.gap
    back = face + relief
    near, far = (z0, z1) if abs(z0) < abs(z1) else (z1, z0)
    ramp = near - (relief if near > 0.0 else -relief)
    pad = ((face, far, 1.0), (face, near, 0.0), (back, ramp, 0.0))
    return pad if down else pad[::-1]


def _face_side(context: Context, *, upper: bool) -> Items:
    """Down the face side: upper pad, tongue, lower pad; `upper` False relieves the upper edge."""
    index = context.plan.index
    (low0, low1), (up0, up1) = index.pads
    back = index.face + index.gap + PROUD
    t = index.tongue
    top: Items = _pad_edge(context, up0, up1, PROUD, down=True)
    if not upper:
        top = ((back, up1, 1.0),)  # in line with the relieved edge: a step would be a sliver
    return (
        *top,
        (back, t, ROOT),
        nose(t),
        (back, -t, ROOT),
        *_pad_edge(context, low0, low1, PROUD, down=False),
    )


def _foot(context: Context, lay: Layout, riser_to: float) -> Items:
    """From the lower pad down to the base, along it, and up the back to the riser's far edge."""
    low = context.plan.index.pads[0][0]
    kerf = float(context.sheet.process.kerf)
    thick = context.plan.stand_thickness
    return (
        (lay.edge, low, -SEAT),
        (lay.edge, lay.floor, 0.0),
        *(tab(u, lay.floor, 0.0, n, thick, kerf) for u, n in lay.foot_tabs),
        (lay.back[0] - BUTT, lay.floor, 0.0),
        tab(lay.back[0] - BUTT, lay.back_tab[0], 90.0, lay.back_tab[1], thick + BUTT, kerf),
        (lay.back[0] - BUTT, lay.back_top + 4.0, CORNER),
        (riser_to, min(-40.0, context.plan.index.pads[0][1] + 60.0), 60.0),
    )


def _arm(context: Context, front_edge: float) -> Items:
    """From the riser's top over the housing to the tip and back to the riser's front edge."""
    index = context.plan.index
    if context.plan.tie is None:
        top = context.plan.stand.top
        return ((index.riser[1], top, 3.0 * CORNER), (front_edge, top, 6.0))
    return (
        (index.riser[1], index.arm[1], 3.0 * CORNER),
        (index.arm_tip, index.arm[1], CORNER),
        (index.arm_tip, index.arm[0], CORNER),
        (front_edge, index.arm[0], ROOT),
    )


def _index_items(context: Context, lay: Layout) -> Items:
    index = context.plan.index
    (low0, _), (_, up1) = index.pads
    if context.plan.kind == "drop-out":
        return (
            *_foot(context, lay, index.riser[1]),
            *_arm(context, lay.edge),
            (lay.edge, up1, -SEAT),
            *_face_side(context, upper=True),
        )
    edge = index.riser[0] + TURN_GAP
    return (
        (index.riser[1], low0, CORNER),
        *_arm(context, edge),
        (edge, up1, -SEAT),
        *_face_side(context, upper=True),
    )


def _stack(context: Context, *, row: bool) -> str:
    if row and context.sheet.process.stacked and context.plan.tie is not None:
        return "both clock plates"
    return "the puck plate" if not row and context.plan.index.puck_station is not None else ""


def _index_holes(context: Context, lay: Layout) -> tuple[Hole, ...]:
    plan = context.plan
    front = plan.tie is not None
    mates = _stack(context, row=True) or _stack(context, row=False)
    if front and plan.index.puck_station is not None:
        mates += ", puck plate" if mates else "the puck plate"
    holes = [xz_hole(context, (0.0, 0.0), plan.index.bore, Purpose.ANGLE, "bar bore", mates)]
    if plan.tie is not None:
        stack = _stack(context, row=True)
        for spot in plan.tie.row:
            place = row_point(plan.tie.radius, spot.index_angle)
            label = f"index {spot.label}"
            if spot.clock_angle == spot.index_angle:
                holes.append(xz_hole(context, place, plan.tie.diameter, Purpose.ANGLE, label, stack))
                continue
            # the clock plates have theirs elsewhere: the difference is the step of the trim
            aside = xz_hole(context, place, plan.tie.diameter, Purpose.ANGLE, label)
            holes.append(replace(aside, note=f"{aside.note}, this plate alone, its zero the bar bore"))
        for number, place in enumerate(plan.index.level_pins, 1):
            label = f"level pin {number}"
            holes.append(xz_hole(context, place, LEVEL_PIN, Purpose.DOWEL, label, stack))
    for number, (u, z) in enumerate(lay.clamps, 1):
        place = (plan.x(u), z)
        holes.append(
            xz_hole(
                context,
                place,
                CLAMP_HOLE,
                Purpose.BOLT,
                f"clamp {number}",
                clearance=CLAMP_HOLE - CLAMP_BOLT,
            )
        )
    return tuple(holes)


def _index_plate(context: Context, lay: Layout) -> Part:
    plan = context.plan
    return Part(
        name="index-plate",
        label="Index plate",
        kind="index_plates",
        form="plate",
        thickness=plan.clock_thickness,
        material=rack_material(context, float(context.sheet.jig.clock_plate)),
        profile=Profile(
            outer=uz_loop(context, _index_items(context, lay)),
            holes=_index_holes(context, lay),
        ),
        datum="middle of the bar bore; marked face to the vehicle's left, y up, x to the rear",
        notes=_index_notes(context),
    )


def _pad_words(context: Context, which: str) -> str:
    distance = decimal(context.plan.index.face + context.plan.index.gap)
    how = "mill" if context.sheet.process.pads == "mill" else "file"
    return (
        f"{which}: bore first, with 1/32 in more from bore to edge than drawn; then {how} the edge "
        f"to {distance} from the bore's middle, square to the plate"
    )


def _index_notes(context: Context) -> tuple[str, ...]:
    plan = context.plan
    notes = []
    if plan.tie is not None:
        notes.append(
            f"bar bore and index row set the caster: {decimal(plan.tie.radius)} from bore to row, "
            "in one clamping of the stack; line through bore and index 0 parallel to the pads"
        )
    else:
        notes.append("bar bore: in one clamping with the puck plate")
    if plan.kind == "drop-out":
        notes += [
            _pad_words(context, "both pads"),
            "mill the pads before the plate is welded in; afterwards try a straight edge over them",
            "tack with the bar through the bushes of both plates, so that the bores stay in line",
        ]
    else:
        gap = fraction(plan.index.gap)
        notes += [
            _pad_words(context, "both shoulders, in one clamping"),
            "the shoulders are gauge edges, parallel to the line through bore and index 0: a "
            f"{gap} block must go between shoulder and face, the same feel above and below",
            "not welded: turned on the bar until both gaps are alike, then clamped",
        ]
    return tuple(notes)


def _puck_plate(context: Context, lay: Layout) -> Part:
    plan = context.plan
    (_, _), (_, up1) = plan.index.pads
    riser_to = plan.index.riser[0] + 70.0
    items: Items = (
        *_foot(context, lay, riser_to),
        (riser_to, up1, CORNER),
        *_face_side(context, upper=False),
    )
    return Part(
        name="puck-plate",
        label="Puck plate",
        kind="index_plates",
        form="plate",
        thickness=plan.clock_thickness,
        material=rack_material(context, float(context.sheet.jig.clock_plate)),
        profile=Profile(
            outer=uz_loop(context, items),
            holes=(
                xz_hole(
                    context,
                    (0.0, 0.0),
                    plan.index.bore,
                    Purpose.ANGLE,
                    "bar bore",
                    "the index plate" + (" and both clock plates" if plan.tie else ""),
                ),
            ),
        ),
        datum="middle of the bar bore; marked face to the vehicle's left, y up, x to the rear",
        notes=(
            _pad_words(context, "lower pad only"),
            "the upper edge must not touch the face: three pads in all, two on the index plate",
        ),
    )


def _hardware(context: Context) -> tuple[tuple[str, str, int, str], ...]:
    plan = context.plan
    rows: list[tuple[str, str, int, str]] = []
    if plan.kind == "integral":
        grip = plan.clock_thickness + plan.stand_thickness + 30.0
        rows += [
            ("hex bolt, grade 8", f"1/2-13 x {fraction(round(grip / 6.35) * 6.35)}", 2, "index plate to stand side"),
            ("hex nut", "1/2-13", 2, "index plate to stand side"),
            ("thick washer, 1 1/2 in across", "1/2", 4, "over the 3/4 in clamp holes"),
            ("gap block, a ground pair", fraction(plan.index.gap), 2, "between index plate and face"),
        ]
    if plan.tie is not None:
        long = fraction(level_pin_length(plan.clock_thickness))
        rows.append(("dowel pin, ground", f"1/2 x {long}", 2, "level pins of the index plate, flush on one face"))
    return tuple(rows)


def _steps(context: Context) -> tuple[tuple[int, str], ...]:
    if context.plan.kind == "drop-out":
        return (
            (
                12,
                "Index plate and puck plate, loose until now, tabs home in face plate, base and back: line them up, "
                "bar and bushes through both bores; straight edge over the three pads; only then tack both, check "
                "with the bar, weld 2 in at a time from side to side.",
            ),
        )
    return (
        (
            52,
            "Index plate over the bar, flat against the stand side, clamp bolts finger tight; turn it "
            "until the gap block feels alike above and below; tighten; feel both gaps again.",
        ),
    )
