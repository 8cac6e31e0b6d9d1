"""Two cradles that carry the weight: a flat jack under the tube or the bar, and a roll stop.

The flat pad is free along and across; height is set by the screw to the bar. The horns stand clear
of the tube when home: they only stop it from rolling off.
"""

from __future__ import annotations

from dataclasses import dataclass

from fixturegen.parts._cradle_words import hardware_of, steps_of
from fixturegen.parts.joinery import (
    INCH,
    bolt_clearance,
    fraction,
    hole,
    locating_room,
    reversed_loop,
    slot,
    stadium,
    stand_xy,
    stand_xz,
    stand_yz,
    tab,
    thread_diameter,
)
from fixturegen.parts.layout import LEG, stand_plate
from fixturegen.parts.registry import Context, Made
from fixturegen.plate import Loop, Part, Placement, Profile, Purpose, Turned, TurnedStep, Weld
from fixturegen.plate.outlines import Corner, filleted, mirrored
from fixturegen.studies.jig_records import CradlePlan

CLEAR = 0.25 * INCH  # horns: this far from the tube, and this far below its middle
TRAVEL = 0.75 * INCH  # of the jack, each way about home
SCREW = INCH  # 1-8
NUT_FLATS = 1.5 * INCH
NUT_HIGH = 0.86 * INCH
JAM_HIGH = 0.56 * INCH
HEAD_HIGH = 0.61 * INCH
GAP = 44.0  # between the side plates: the nut lies with two flats along them [mm]
PAD = 2.25 * INCH
PAD_HIGH = 22.0
PAD_SOCKET = 12.0
HORN = 28.0  # widest top of a horn [mm]
SHELF_TAB = 40.0
CROSS_TAB = 40.0
WRENCH = 30.0  # from a table bolt to a side plate's foot [mm]
BOLT_TRAVEL = 6.0  # of the slotted table hole [mm]
ROUND = 12.0


@dataclass(frozen=True)
class _Cradle:
    """Heights and widths of one cradle: x about the bar, z from the bar [mm]."""

    plan: CradlePlan
    letter: str
    floor: float
    foot: float
    inner: float
    pad_top: float
    shelf: float  # top of the shelf
    notch: float  # floor of the notch
    side: float  # |y| of a side plate's middle from the cradle's
    cross: float  # x of the cross plate's middle
    window: tuple[float, float, float, float]
    screw: float  # length under the head


def _cradle(context: Context, plan: CradlePlan) -> _Cradle:
    thick = context.plan.stand_thickness
    floor = -context.plan.height + thick
    pad_top = -plan.radius
    lowest = pad_top - PAD_HIGH - TRAVEL - 1.0
    shelf = lowest - JAM_HIGH - 4.0
    foot = min(abs(x) for x, _ in plan.holes) - WRENCH
    side = (GAP + thick) / 2.0
    cross = foot - 20.0
    nut_low = shelf - thick - NUT_HIGH
    # in the highest place the screw still fills the nut and stands out below it
    need = (pad_top + TRAVEL - PAD_HIGH + PAD_SOCKET) - nut_low + 4.0
    screw = -(-need // (INCH / 2.0)) * INCH / 2.0
    under_head = pad_top - PAD_HIGH + PAD_SOCKET - screw
    window = (
        -cross + 8.0,
        cross - thick / 2.0 - 16.0,
        under_head - HEAD_HIGH - TRAVEL - 6.0,
        min(under_head + TRAVEL + 6.0, shelf - thick - 16.0),
    )
    return _Cradle(
        plan=plan,
        letter="l" if plan.side == "left" else "r",
        floor=floor,
        foot=foot,
        inner=plan.radius + CLEAR,
        pad_top=pad_top,
        shelf=shelf,
        notch=lowest - 3.0,
        side=side,
        cross=context.plan.face_sign * cross,
        window=window,
        screw=screw,
    )


def make_cradles(context: Context) -> Made:
    """Both cradles in groups "cradle-l" and "cradle-r"."""
    parts: list[Part] = []
    places: list[Placement] = []
    welds: list[Weld] = []
    cradles = [_cradle(context, plan) for plan in context.plan.cradles]
    for c in cradles:
        name = f"cradle-{c.letter}"
        parts += [
            _base(context, c),
            _side(context, c),
            _shelf(context, c),
            _cross(context, c),
            _pad(c),
            _screw(c),
        ]
        places += _placements(context, c)
        welds += [
            Weld((f"{name}-side", f"{name}-base"), LEG, 4 * 120.0, "over the tabs from below, then outside"),
            Weld((f"{name}-shelf", f"{name}-side"), LEG, 2 * 80.0, "over the tabs from outside"),
            Weld((f"{name}-cross", f"{name}-side"), LEG, 2 * 80.0, "over the tabs from outside"),
        ]
    return Made(
        parts=tuple(parts),
        placements=tuple(places),
        welds=tuple(welds),
        hardware=hardware_of(context, tuple(_cradle(context, c).screw for c in context.plan.cradles)),
        steps=steps_of(context),
    )


def _side(context: Context, c: _Cradle) -> Part:
    thick, kerf = context.plan.stand_thickness, float(context.sheet.process.kerf)
    room = locating_room(context.sheet)
    horn = min(c.foot, c.inner + HORN)
    top = -CLEAR
    items: tuple[Corner | Loop, ...] = (
        (-c.foot, c.floor, 0.0),
        *(tab(x, c.floor, 0.0, n, thick, kerf) for x, n in _foot_tabs(c)),
        (c.foot, c.floor, 0.0),
        (c.foot, c.notch - 30.0, 30.0),
        (horn, top, 8.0),
        (c.inner, top, 8.0),
        (c.inner, c.notch, ROUND),
        (-c.inner, c.notch, ROUND),
        (-c.inner, top, 8.0),
        (-horn, top, 8.0),
        (-c.foot, c.notch - 30.0, 30.0),
    )
    outer = filleted(items)
    x0, x1, z0, z1 = c.window
    window = filleted(((x0, z0, ROUND), (x1, z0, ROUND), (x1, z1, ROUND), (x0, z1, ROUND)))
    if context.plan.face_sign > 0:
        outer, window = mirrored(outer), mirrored(window)
    low, high = _cross_tab(c)
    inner = [
        reversed_loop(window),
        slot(0.0, c.shelf - thick / 2.0, 0.0, SHELF_TAB, thick, kerf, locating=True, room=room),
        slot(-c.cross, (low + high) / 2.0, 90.0, CROSS_TAB, thick, kerf, locating=True, room=room),
    ]
    return stand_plate(
        context,
        "cradles",
        f"cradle-{c.letter}-side",
        f"Cradle side, {c.plan.side}",
        Profile(outer=outer, inner=tuple(inner)),
        quantity=2,
        datum="on the bar's axis, at the bar's height; marked face to the vehicle's left, y up",
        notes=("both plates of the cradle are alike, marked faces the same way",),
    )


def _foot_tabs(c: _Cradle) -> tuple[tuple[float, float], ...]:
    """(x, length) of a side's tabs in the base [mm]."""
    return ((-0.5 * c.foot, 40.0), (0.5 * c.foot, 40.0))


def _cross_tab(c: _Cradle) -> tuple[float, float]:
    """(z from, z to) of the cross plate [mm]: between base and shelf, clear of the foot's tabs."""
    return c.floor + 34.0, c.floor + 34.0 + CROSS_TAB + 24.0


def _base(context: Context, c: _Cradle) -> Part:
    thick, kerf = context.plan.stand_thickness, float(context.sheet.process.kerf)
    room = locating_room(context.sheet)
    (x1, y1), (x2, y2) = c.plan.holes
    station = c.plan.station
    bolt = bolt_clearance(thread_diameter(context.sheet.table.bolt))
    edge = bolt / 2.0 + 2.0 * thick
    low = min(-c.plan.half_width, y1 - station - edge)
    high = max(c.plan.half_width, y1 - station + edge)
    left, right = min(x1, x2) - edge, max(x1, x2) + edge
    inner = [
        slot(-x if context.plan.face_sign < 0 else x, way * c.side, 0.0, n, thick, kerf, locating=i == 0, room=room)
        for way in (-1.0, 1.0)
        for i, (x, n) in enumerate(_foot_tabs(c))
    ]
    inner.append(stadium(x2, y2 - station, 0.0, BOLT_TRAVEL, bolt))
    return stand_plate(
        context,
        "cradles",
        f"cradle-{c.letter}-base",
        f"Cradle base, {c.plan.side}",
        Profile(
            outer=filleted(((left, low, 12.0), (right, low, 12.0), (right, high, 12.0), (left, high, 12.0))),
            inner=tuple(inner),
            holes=(hole(x1, y1 - station, bolt, Purpose.TABLE, "table bolt 1", context, thickness=thick),),
        ),
        datum="below the bar, at the cradle's station; marked face up, x forward, y to the left",
        notes=("tabs must end flush or below: the base lies flat on the table",),
    )


def _shelf(context: Context, c: _Cradle) -> Part:
    thick, kerf = context.plan.stand_thickness, float(context.sheet.process.kerf)
    half = GAP / 2.0 - 0.4
    long = 42.0
    mate = thick + 0.4
    outer = filleted(
        (
            (-long, -half, 3.0),
            tab(0.0, -half, 0.0, SHELF_TAB, mate, kerf),
            (long, -half, 3.0),
            (long, half, 3.0),
            tab(0.0, half, 180.0, SHELF_TAB, mate, kerf),
            (-long, half, 3.0),
        )
    )
    return stand_plate(
        context,
        "cradles",
        f"cradle-{c.letter}-shelf",
        f"Cradle shelf, {c.plan.side}",
        Profile(
            outer=outer,
            holes=(
                hole(
                    0.0,
                    0.0,
                    bolt_clearance(SCREW),
                    Purpose.BOLT,
                    "jack screw",
                    context,
                    thickness=thick,
                ),
            ),
        ),
        datum="middle of the screw hole; marked face up, x forward",
        notes=(
            "1-8 hex nut welded under the shelf, two flats along the side plates; run the screw "
            "through while it is tacked",
        ),
    )


def _cross(context: Context, c: _Cradle) -> Part:
    thick, kerf = context.plan.stand_thickness, float(context.sheet.process.kerf)
    half = GAP / 2.0 - 0.4
    low, high = _cross_tab(c)
    middle = (low + high) / 2.0
    mate = thick + 0.4
    outer = filleted(
        (
            (-half, low, 3.0),
            (half, low, 3.0),
            tab(half, middle, 90.0, CROSS_TAB, mate, kerf),
            (half, high, 3.0),
            (-half, high, 3.0),
            tab(-half, middle, -90.0, CROSS_TAB, mate, kerf),
        )
    )
    return stand_plate(
        context,
        "cradles",
        f"cradle-{c.letter}-cross",
        f"Cradle cross plate, {c.plan.side}",
        Profile(outer=outer),
        datum="at the cradle's station, at the bar's height; y up",
        notes=("ties the two sides together below the jack, at the stand's end of the cradle",),
    )


def _pad(c: _Cradle) -> Part:
    return Part(
        name=f"jack-pad-{c.letter}",
        label=f"Jack pad, {c.plan.side}",
        kind="cradles",
        form="turned",
        material="1018-cd",
        turned=Turned(
            steps=(
                TurnedStep(6.0, 38.0, PAD, note="tapered"),
                TurnedStep(PAD_HIGH - 7.0, PAD),
                TurnedStep(1.0, PAD, PAD - 2.0, note="edge broken; top flat, faced"),
            ),
            bores=((0.0, PAD_SOCKET, SCREW + 0.25, None, "turns freely on the screw; grease"),),
        ),
        datum="middle of the lower end; z up",
        notes=("flat top: a V would hold the axle in x, which the face stand does",),
    )


def _screw(c: _Cradle) -> Part:
    head = NUT_FLATS / 2.0
    return Part(
        name=f"jack-screw-{c.letter}",
        label=f"Jack screw, {c.plan.side}",
        kind="cradles",
        form="turned",
        material="1018-cd",
        turned=Turned(
            steps=(
                TurnedStep(HEAD_HIGH, NUT_FLATS / 0.866, note="hexagon, 1 1/2 across flats"),
                TurnedStep(c.screw - 1.5, SCREW, note="1-8 UNC over the whole length"),
                TurnedStep(1.5, SCREW, SCREW - 3.0, note="end faced"),
            ),
            flats=tuple((0.0, HEAD_HIGH, head, 60.0 * k) for k in range(6)),
        ),
        datum="middle of the head's end; z up",
        notes=(
            f"bought: 1-8 x {fraction(c.screw)} hex tap bolt, threaded to the head; head down, "
            "turned from below with a 1 1/2 in wrench",
        ),
    )


def _placements(context: Context, c: _Cradle) -> list[Placement]:
    plan = context.plan
    group, name = f"cradle-{c.letter}", f"cradle-{c.letter}"
    y, high, thick = c.plan.station, plan.height, plan.stand_thickness
    pad = high + c.pad_top - PAD_HIGH
    return [
        stand_xy(f"{name}-base", 0.0, y, 0.0, group),
        stand_xz(f"{name}-side", y - c.side, thick, high, group),
        stand_xz(f"{name}-side", y + c.side, thick, high, group),
        stand_xy(f"{name}-shelf", 0.0, y, high + c.shelf - thick, group),
        stand_yz(f"{name}-cross", plan.face_sign, abs(c.cross) + thick / 2.0, y, high, group),
        stand_xy(f"jack-pad-{c.letter}", 0.0, y, pad, group),
        stand_xy(f"jack-screw-{c.letter}", 0.0, y, pad + PAD_SOCKET - c.screw - HEAD_HIGH, group),
    ]
