"""The face stand: face plate, base and back.

Only the pads touch the machined face. Studs pass through wide holes: they clamp and place nothing.
"""

from __future__ import annotations

from fixturegen.parts.holes import PIN_CLEARANCE, pin_words
from fixturegen.parts.joinery import (
    INCH,
    bolt_clearance,
    decimal,
    fraction,
    hole,
    locating_room,
    slot,
    stadium,
    stand_xy,
    stand_yz,
    tab,
    thread_diameter,
)
from fixturegen.parts.layout import (
    FIXED_GAP,
    LEG,
    PAD_SCREW,
    PART_GAP,
    STOP_TAB,
    STUD_ROOM,
    Layout,
    across,
    layout_of,
    middle_of,
    opening_radius,
    stand_plate,
    stop_tab,
)
from fixturegen.parts.registry import Context, Made
from fixturegen.plate import Loop, Mark, Part, Profile, Purpose, Weld
from fixturegen.plate.outlines import filleted, mirrored, opened
from fixturegen.plate.profile import reversed_loop
from fixturegen.studies.table_room import WASHER

SLOT_ROUND = 3.0
SIDE_ROOM = INCH / 32.0  # of a welded plate in the face plate's slot, each side [mm]
TURN_ROOM = 3.0  # of the integral index plate in its slot, on its free side [mm]
PIN_TRAVEL = 3.0  # length of the second pin hole beyond round [mm]
LIFT = 1.25 * INCH


def make_stands(context: Context) -> Made:
    """Face plate, base and back of the stand, placed in group "stand"."""
    lay = layout_of(context)
    plan = context.plan
    middle = middle_of(context)[0]
    sign, high = plan.face_sign, plan.height
    return Made(
        parts=(_face_plate(context, lay), _base(context, lay), _back(context, lay)),
        placements=(
            stand_yz("face-plate", sign, plan.stand.face_plate[1], middle, high, "stand"),
            stand_xy("stand-base", 0.0, middle, 0.0, "stand"),
            stand_yz("stand-back", sign, lay.back[1], middle, high, "stand"),
        ),
        welds=(
            Weld(
                ("face-plate", "stand-base"),
                LEG,
                4 * 50.0 + 160.0,
                "over the tabs from below, then behind in 2 in runs",
            ),
            Weld(("stand-back", "stand-base"), LEG, 160.0, "both sides"),
        ),
        hardware=_hardware(context),
        steps=_steps(context),
    )


def _windows(context: Context) -> tuple[tuple[float, float, float, float], ...]:
    """Slots of index and puck plate in the face plate: (x from, x to, z from, z to) [mm]."""
    plan = context.plan
    half = plan.clock_thickness / 2.0
    (low, _), (_, high) = plan.index.pads
    if plan.index.puck_station is None:
        # the side plate stands against the index plate's left face; the other face is free
        ends = [
            across(context, plan.index.station + half + SIDE_ROOM),
            across(context, plan.index.station - half - TURN_ROOM),
        ]
        return ((min(ends), max(ends), low - PART_GAP, high + PART_GAP),)
    windows = []
    for station in (plan.index.station, plan.index.puck_station):
        x = across(context, station)
        room = half + SIDE_ROOM
        windows.append((x - room, x + room, low - FIXED_GAP, high + FIXED_GAP))
    return tuple(windows)


def _face_outline(context: Context, lay: Layout) -> Loop:
    plan = context.plan
    kerf = float(context.sheet.process.kerf)
    w, top = plan.stand.width, plan.stand.top
    tabs = sorted((-plan.face_sign * y, n) for y, n in lay.face_tabs)
    return filleted(
        (
            (-w, lay.floor, 0.0),
            *(tab(x, lay.floor, 0.0, n, plan.stand_thickness, kerf) for x, n in tabs),
            (w, lay.floor, 0.0),
            (w, top, 25.0),
            (-w, top, 25.0),
        )
    )


def _face_slots(context: Context, lay: Layout) -> tuple[Loop, ...]:
    plan = context.plan
    kerf, thick = float(context.sheet.process.kerf), plan.stand_thickness
    room = locating_room(context.sheet)
    loops = []
    for y in plan.stand.ribs:
        for i, (z, n) in enumerate(lay.rib_face_tabs):
            loops.append(slot(across(context, y), z, 90.0, n, thick, kerf, locating=i == 0, room=room))
    if plan.kind == "integral":
        for y in plan.stand.sides:
            for i, (z, n) in enumerate(lay.side_face_tabs):
                loops.append(slot(across(context, y), z, 90.0, n, thick, kerf, locating=i == 0, room=room))
    y, z = stop_tab(context)
    loops.append(slot(across(context, y), z, 0.0, STOP_TAB, thick, kerf, locating=True, room=room))
    return tuple(loops)


def _face_plate(context: Context, lay: Layout) -> Part:
    plan = context.plan
    face = context.sheet.housing.face
    thick = plan.stand_thickness
    holes = []
    stud = thread_diameter(face.studs.size)
    for number, (y, z) in enumerate(context.axle.studs, 1):
        holes.append(
            hole(
                across(context, y),
                z,
                stud + STUD_ROOM,
                Purpose.BOLT,
                f"stud {number}",
                context,
                thickness=thick,
                clearance=STUD_ROOM,
            )
        )
    for number, (y, z) in enumerate(plan.stand.pad_buttons, 1):
        holes.append(
            hole(
                across(context, y),
                z,
                bolt_clearance(PAD_SCREW),
                Purpose.BOLT,
                f"pad {number}",
                context,
                thickness=thick,
            )
        )
    for number, x in enumerate((-(plan.stand.width - 50.0), plan.stand.width - 50.0), 1):
        holes.append(hole(x, plan.stand.top - 32.0, LIFT, Purpose.ACCESS, f"lift {number}", context, thickness=thick))
    opening = opened(
        (0.0, middle_of(context)[1]),
        opening_radius(context),
        _windows(context),
        SLOT_ROUND,
    )
    return stand_plate(
        context,
        "stands",
        "face-plate",
        "Face plate",
        Profile(
            outer=_face_outline(context, lay),
            inner=(reversed_loop(opening), *_face_slots(context, lay)),
            holes=tuple(holes),
        ),
        marks=_side_marks(context, lay),
        datum="under the middle of the face, at the height of the bar; marked face to the axle, y up",
        notes=(
            f"stud holes are {fraction(STUD_ROOM)} over the stud and locate nothing: only pads touch the face",
            "the mill scale stays on; grind it off 1 in wide where plates are welded",
            "lift holes take a shackle each; the stand is over 50 lb: two people or a hoist",
        ),
    )


def _side_marks(context: Context, lay: Layout) -> tuple[Mark, ...]:
    w = context.plan.stand.width - 12.0
    left = -context.plan.face_sign * w
    return tuple(Mark(x - 4.0, lay.floor + 100.0, text, height=12.0) for x, text in ((left, "L"), (-left, "R")))


def _base(context: Context, lay: Layout) -> Part:
    plan = context.plan
    sign = plan.face_sign
    kerf, thick = float(context.sheet.process.kerf), plan.stand_thickness
    room = locating_room(context.sheet)
    middle = middle_of(context)[0]
    u0, u1, y0, y1 = plan.stand.base
    outline = filleted(tuple((u, y - middle, 15.0) for u, y in ((u0, y0), (u1, y0), (u1, y1), (u0, y1))))
    side_thick = thick if plan.kind == "integral" else plan.clock_thickness
    inner = []
    for y in plan.stand.sides:
        for i, (u, n) in enumerate(lay.foot_tabs):
            inner.append(slot(sign * u, y - middle, 0.0, n, side_thick, kerf, locating=i == 0, room=room))
    for y in plan.stand.ribs:
        u, n = lay.rib_tab
        inner.append(slot(sign * u, y - middle, 0.0, n, thick, kerf, locating=False))
    u = sum(plan.stand.face_plate) / 2.0
    for i, (y, n) in enumerate(lay.face_tabs):
        inner.append(slot(sign * u, y, 90.0, n, thick, kerf, locating=i == 0, room=room))
    pin = float(context.sheet.table.pin) + PIN_CLEARANCE
    (x1, y1_), (x2, y2) = plan.stand.pins
    inner.append(stadium(x2, y2 - middle, 90.0, PIN_TRAVEL, pin))
    holes = [
        hole(
            x1,
            y1_ - middle,
            pin,
            Purpose.TABLE,
            "table pin 1",
            context,
            thickness=thick,
            clearance=PIN_CLEARANCE,
            note=pin_words(float(context.sheet.table.pin)),
        )
    ]
    bolt = bolt_clearance(thread_diameter(context.sheet.table.bolt))
    for number, (x, y) in enumerate(plan.stand.bolts, 1):
        holes.append(hole(x, y - middle, bolt, Purpose.TABLE, f"table bolt {number}", context, thickness=thick))
    return stand_plate(
        context,
        "stands",
        "stand-base",
        "Stand base",
        Profile(
            outer=mirrored(outline) if sign < 0 else outline,
            inner=tuple(inner),
            holes=tuple(holes),
        ),
        datum="below the bar, at the middle of the face; marked face up, x forward, y to the left",
        notes=(
            f"the slotted pin hole is {decimal(pin)} wide, {decimal(PIN_CLEARANCE)} over the pin: file off only what "
            "keeps the pin out, long way across the axle line",
            "tabs must end flush or below: the base lies flat on the table",
            "clamps: free at both far corners, round the table bolts",
        ),
    )


def _back_half(context: Context) -> float:
    middle = middle_of(context)[0]
    return max(abs(y - middle) for y in context.plan.stand.sides) + 32.0


def _back(context: Context, lay: Layout) -> Part:
    plan = context.plan
    w = _back_half(context)
    thick = plan.stand_thickness if plan.kind == "integral" else plan.clock_thickness
    z, n = lay.back_tab
    kerf = float(context.sheet.process.kerf)
    room = locating_room(context.sheet)
    return stand_plate(
        context,
        "stands",
        "stand-back",
        "Stand back",
        Profile(
            outer=filleted(
                (
                    (-w, lay.floor, 0.0),
                    (w, lay.floor, 0.0),
                    (w, lay.back_top, 15.0),
                    (-w, lay.back_top, 15.0),
                )
            ),
            inner=tuple(
                slot(across(context, y), z, 90.0, n, thick, kerf, locating=i == 0, room=room)
                for i, y in enumerate(plan.stand.sides)
            ),
        ),
        datum="as the face plate: under the middle of the face, at the height of the bar, y up",
        notes=("stands on the base without tabs: the sides' tabs place it; fillet to the base both sides",),
    )


def _hardware(context: Context) -> tuple[tuple[str, str, int, str], ...]:
    plan, sheet = context.plan, context.sheet
    studs = sheet.housing.face.studs
    rows = [
        ("nut", studs.size, len(context.axle.studs), "studs through the face plate"),
        (
            "plain washer, thin",
            f"{studs.size.split('-')[0].split('x')[0]}, {decimal(WASHER)} thick at most",
            len(context.axle.studs),
            "under the nuts of the studs",
        ),
        ("table pin", decimal(float(sheet.table.pin)), 2, "stand base"),
        ("table bolt and washer", sheet.table.bolt, 2, "stand base"),
    ]
    if plan.kind == "integral":
        rows += [
            ("threaded rod, cut to suit", studs.size, len(context.axle.studs), "cover bolt holes to face plate"),
        ]
    return tuple(rows)


def _steps(context: Context) -> tuple[tuple[int, str], ...]:
    plan = context.plan
    walls = "sides" if plan.kind == "integral" else "index and puck plate"
    draw = fraction(plan.stand.draw_back)
    # Plates that carry the bores are lined up by the bar after everything else is welded and has pulled; common
    # practice, no source.
    joint, but = "tack every joint, measure again.", ""
    if plan.kind == "drop-out":
        joint = f"tack every joint but those of {walls}: these two stay loose in their slots; measure again."
        but = f", {walls} not"
    return (
        (
            10,
            f"Stand: put {walls} and ribs to the face plate, the back onto the tabs of the {walls}, "
            "all along one line; then set the whole into the base. Square the face plate to the "
            f"base, {joint}",
        ),
        (
            11,
            f"Weld 2 in at a time, left and right in turn{but}{';' if but else ','} let it cool to the hand; then try "
            "the base on the table with a feeler.",
        ),
        (28, f"Stand loose on the table, drawn back {draw} from its pins; the axle is still in the hoist."),
        (
            40,
            "Slide the stand onto the face, pins in; two opposite face nuts on at once, finger tight, then all the "
            "others finger tight; no feeler may enter at any pad. Table bolts tight.",
        ),
    )
