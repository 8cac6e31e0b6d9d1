"""Table posts: base on the table's holes, two cheeks that take the dummy bolt's ends, a cross plate between them."""

from __future__ import annotations

import math

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.brackets.frames import Stand
from fixturegen.brackets.locator_turned import joint_of
from fixturegen.brackets.registry import LOCATORS, BracketContext, MadeLocator
from fixturegen.errors import GeometryFault
from fixturegen.parts.holes import PIN_CLEARANCE, decimal, fraction, hole, joint_hole, pin_words
from fixturegen.parts.joinery import (
    bolt_clearance,
    filleted,
    locating_room,
    slot,
    stadium,
    stand_xy,
    tab,
    thread_diameter,
)
from fixturegen.parts.layout import LEG, rack_material
from fixturegen.parts.marking import letter_height
from fixturegen.parts.registry import Context
from fixturegen.plate import Loop, Mark, Part, Placement, Profile, Purpose, Weld
from fixturegen.plate.lettering import text_box
from fixturegen.plate.outlines import Corner
from fixturegen.plate.tape import tape_text
from fixturegen.studies.cutting_rules import rules_for
from fixturegen.studies.locator_plan import SHIM, head_radius
from fixturegen.studies.locator_records import Locator, Post

FOOT_HIGH = 20.0  # upright edge of a cheek above its foot [mm]
FOOT_TAB = 25.0  # each of a cheek's two tabs [mm]
CROSS_TAB = 30.0  # tab of the cross plate [mm]
PIN_TRAVEL = 3.0  # length of the second pin hole beyond round [mm]
CORNER = 12.0
TICK = 12.0  # where a square at the head stands on the foot [mm]


def make_post(context: BracketContext, locator: Locator) -> MadeLocator:
    """The plates of a post where they stand."""
    post = _post(locator)
    group = f"locator-{locator.name}"
    names = [f"{locator.name}-post-right", f"{locator.name}-post-left"]
    cheeks = [_cheek(context, locator, post, k, n) for k, n in enumerate(names)]
    base, cross = _base(context, locator, post), _cross(context, locator, post)
    rotation, point = np.array(locator.rotation), np.array(locator.point)
    places = [
        Stand(point + faces[0] * rotation[:, 2], rotation).placement(n, group)
        for faces, n in zip(locator.plates, names, strict=True)
    ]
    places.append(stand_xy(base.name, float(point[0]), float(point[1]), SHIM, group))
    places.append(_cross_place(locator, post, cross, group))
    long = 2.0 * post.half
    welds = [
        Weld((n, base.name), LEG, 2.0 * long, "over the tabs from below, ground flush; then outside") for n in names
    ]
    welds += [Weld((cross.name, n), LEG, post.cross[2] - post.cross[1], "over the tabs from outside") for n in names]
    bolt, pin, label = context.sheet.table.bolt, decimal(float(context.sheet.table.pin)), locator.mount.label
    return MadeLocator(
        locator=locator,
        parts=(*cheeks, base, cross),
        placements=tuple(places),
        welds=tuple(welds),
        hardware=(
            ("table bolt and washer", bolt, len(post.bolts), f"post of {label}"),
            ("table pin", pin, 2, f"post of {label}"),
            ("shims", f"slotted, {fraction(SHIM)} and thinner", 4, f"under the post of {label}"),
            ("hitch clip", "1/8 in", 2, f"dummy bolt of {label}"),
        ),
    )


def _post(locator: Locator) -> Post:
    if locator.post is None:
        raise GeometryFault(locator.mount.label, "it has no post", "use an arm on the tube")
    return locator.post


def foot_tabs(post: Post) -> tuple[float, float]:
    """Middles (x) of a cheek's two tabs [mm]."""
    return post.foot - 0.5 * post.half, post.foot + 0.5 * post.half


def under_bolt(locator: Locator, cheek: int) -> float:
    """Table top to the underside of the dummy bolt at a cheek's outer face [mm]; what a tape reads.

    Args:
        locator: The post.
        cheek: 0 right, 1 left.
    """
    face = locator.plates[cheek][cheek]
    return locator.point[2] + face * locator.bolt[2] - joint_of(locator).shank / 2.0 / locator.rotation[2][1]


def _cheek(context: BracketContext, locator: Locator, post: Post, k: int, name: str) -> Part:
    thick, kerf = context.plan.stand_thickness, float(context.sheet.process.kerf)
    joint = joint_of(locator)
    head, floor = head_radius(joint.shank), post.floors[k]
    left, right = post.foot - post.half, post.foot + post.half
    up = floor + FOOT_HIGH
    items: tuple[Corner | Loop, ...] = (
        (left, floor, 0.0),
        *(tab(x, floor, 0.0, FOOT_TAB, thick, kerf) for x in foot_tabs(post)),
        (right, floor, 0.0),
        (right, up, 8.0),
        (head, -head, 10.0),
        (head, head, head),
        (-head, head, head),
        (-head, -head, 10.0),
        (left, up, 8.0),
    )
    x, low, high = post.cross
    room = locating_room(context.sheet)
    text = f"UNDER BOLT {tape_text(under_bolt(locator, k), context.sheet.job.units)}"
    words = fraction(under_bolt(locator, k))
    side = "left" if k else "right"
    return Part(
        name=name,
        label=f"Cheek of the {locator.mount.label} post, {side}",
        kind=LOCATORS,
        form="plate",
        thickness=thick,
        material=rack_material(_jig(context), float(context.sheet.jig.stand_plate)),
        profile=Profile(
            outer=filleted(items),
            inner=(slot(x, (low + high) / 2.0, 90.0, CROSS_TAB, thick, kerf, locating=True, room=room),),
            holes=(
                joint_hole(
                    0.0,
                    0.0,
                    joint.shank,
                    "dummy bolt",
                    rules_for(context.sheet, thick),
                    metric=context.sheet.job.units == "mm",
                    note="both cheeks in one go, after the post is welded",
                ),
            ),
        ),
        hand=locator.mount.hand,
        marks=_marks(context, post, text, head, floor),
        datum="on the dummy bolt's line; marked face to the bolt's left end, y up",
        notes=(
            f"table to the underside of the dummy bolt {words} at the outer face, base on its shims: "
            "shim until a tape reads it",
        ),
    )


def _marks(context: BracketContext, post: Post, text: str, head: float, floor: float) -> tuple[Mark, ...]:
    """A tick under the head's side, and the tape number up the column where that is long enough for it."""
    side = head if post.foot >= 0.0 else -head
    tick = Mark(side, floor + 2.0, to=(side, floor + 2.0 + TICK))
    high = letter_height(context.sheet.process)
    x0, y0, x1, y1 = text_box(text, high)
    low = (post.cross[1] + post.cross[2]) / 2.0 + CROSS_TAB / 2.0 + 12.0
    if low + (x1 - x0) > -head:
        return (tick,)
    middle = low + (x1 - x0) / 2.0
    x = post.foot * min(1.0, (middle + head) / (floor + head))
    return tick, Mark(x + (y0 + y1) / 2.0, low - x0, text, high, angle=90.0)


def slot_places(locator: Locator, post: Post, thick: float) -> list[tuple[float, float]]:
    """Middles of the base's slots in T, right cheek first, two each [mm]: where the tabs pass its middle."""
    rotation, point = np.array(locator.rotation), np.array(locator.point)
    found = []
    for faces in locator.plates:
        middle = sum(faces) / 2.0
        y = (SHIM + thick / 2.0 - point[2] - middle * rotation[2, 2]) / rotation[2, 1]
        for x in foot_tabs(post):
            p = point + rotation @ np.array([x, y, middle])
            found.append((float(p[0]), float(p[1])))
    return found


def _base(context: BracketContext, locator: Locator, post: Post) -> Part:
    thick, kerf = context.plan.stand_thickness, float(context.sheet.process.kerf)
    room, jig = locating_room(context.sheet), _jig(context)
    px, py, _ = locator.point
    lean = math.asin(abs(locator.bolt[2]))
    mate = thick / math.cos(lean) + thick * math.tan(lean)
    angle = math.degrees(math.atan2(locator.rotation[1][0], locator.rotation[0][0]))
    inner = [
        slot(x - px, y - py, angle, FOOT_TAB, mate, kerf, locating=i % 2 == 0, room=room)
        for i, (x, y) in enumerate(slot_places(locator, post, thick))
    ]
    (ax, ay), (bx, by) = post.pins
    pin = float(context.sheet.table.pin) + PIN_CLEARANCE
    inner.append(stadium(bx - px, by - py, math.degrees(math.atan2(by - ay, bx - ax)), PIN_TRAVEL, pin))
    holes = [
        hole(
            ax - px,
            ay - py,
            pin,
            Purpose.TABLE,
            "table pin 1",
            jig,
            thickness=thick,
            clearance=PIN_CLEARANCE,
            note=pin_words(float(context.sheet.table.pin)),
        )
    ]
    size = bolt_clearance(thread_diameter(context.sheet.table.bolt))
    holes += [
        hole(x - px, y - py, size, Purpose.TABLE, f"table bolt {n}", jig, thickness=thick)
        for n, (x, y) in enumerate(post.bolts, 1)
    ]
    x0, x1, y0, y1 = (v - o for v, o in zip(post.base, (px, px, py, py), strict=True))
    outer = filleted(((x0, y0, CORNER), (x1, y0, CORNER), (x1, y1, CORNER), (x0, y1, CORNER)))
    return Part(
        name=f"{locator.name}-post-base",
        label=f"Base of the {locator.mount.label} post",
        kind=LOCATORS,
        form="plate",
        thickness=thick,
        material=rack_material(jig, float(context.sheet.jig.stand_plate)),
        profile=Profile(outer=outer, inner=tuple(inner), holes=tuple(holes)),
        hand=locator.mount.hand,
        datum="under the hardpoint; marked face up, x forward, y to the left",
        notes=(
            "tabs must end flush or below: the base lies on its shims",
            f"the slotted pin hole is {decimal(pin)} wide, {decimal(PIN_CLEARANCE)} over the pin: file off only what "
            "keeps the pin out",
        ),
    )


def _cross(context: BracketContext, locator: Locator, post: Post) -> Part:
    thick, kerf = context.plan.stand_thickness, float(context.sheet.process.kerf)
    _, low, high = post.cross
    half, tall = (locator.plates[1][0] - locator.plates[0][1]) / 2.0, (high - low) / 2.0
    outer = filleted(
        (
            (-half, -tall, 0.0),
            (half, -tall, 0.0),
            tab(half, 0.0, 90.0, CROSS_TAB, thick, kerf),
            (half, tall, 0.0),
            (-half, tall, 0.0),
            tab(-half, 0.0, -90.0, CROSS_TAB, thick, kerf),
        )
    )
    return Part(
        name=f"{locator.name}-post-cross",
        label=f"Cross plate of the {locator.mount.label} post",
        kind=LOCATORS,
        form="plate",
        thickness=thick,
        material=rack_material(_jig(context), float(context.sheet.jig.stand_plate)),
        profile=Profile(outer=outer),
        hand=locator.mount.hand,
        datum="middle of the plate; x along the dummy bolt, y up",
        notes=("its shoulders hold the cheeks apart and parallel",),
    )


def _cross_place(locator: Locator, post: Post, part: Part, group: str) -> Placement:
    """The cross plate: x along the bolt, y up, marked face rearward or forward as the frame has it."""
    rotation, point = np.array(locator.rotation), np.array(locator.point)
    x, low, high = post.cross
    z = np.cross(rotation[:, 2], rotation[:, 1])
    turn: Array = np.stack([rotation[:, 2], rotation[:, 1], z], axis=1)
    middle = (locator.plates[1][0] + locator.plates[0][1]) / 2.0
    origin = point + rotation @ np.array([x, (low + high) / 2.0, middle]) - part.thickness / 2.0 * z
    return Stand(np.asarray(origin), turn).placement(part.name, group)


def _jig(context: BracketContext) -> Context:
    return Context(context.sheet, context.axle, context.plan)
