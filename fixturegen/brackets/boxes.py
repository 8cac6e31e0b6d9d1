"""A bracket whose bolt lies ahead of the tube it is welded to: ears in a box of two ribs and a shelf.

The shelf is a plate through the tube's middle line that passes under the joint. It is welded along the
tube, takes the force that runs along the tube, and both ears stand on it; the ribs stand square to the tube
at its ends, the far one as high as the ears, the near one under the bar. A brace goes on where the
shelf ends. Frame of the box: x along the tube toward the bar, y away from the tube, z = x cross y.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.brackets.box_plates import Box, BoxRib, box_ear, box_rib, box_shelf, ear_frame, far_side, told
from fixturegen.brackets.ears import bored, needed_joint, seams, undrawn
from fixturegen.brackets.flanks import BODY_ROOM
from fixturegen.brackets.frames import Stand
from fixturegen.brackets.gussets import LEAST, SIDE_LEG, SNIPE, Gusset, foot_line, gusset
from fixturegen.brackets.registry import BracketContext, MadeBracket
from fixturegen.brackets.words import bolt_hardware, weld_words
from fixturegen.errors import GeometryFault
from fixturegen.plate import Weld
from fixturegen.studies.bracket_records import BracketFacts, Mount, TubeBase

ASKEW = 10.0
"""Most a bolt may stand off square to the tube [deg]: the ribs stand askew to the tube by as much (common practice)."""
STEEPEST = 65.0  # of the shelf from the bolt [deg]: beyond it the ears do not stand on it
RAISE = 1.0  # step by which the shelf goes farther from the joint [mm]
WELD_ROOM = 0.5  # over the least from a hole to the weld of its ear [mm]
STEPS = 80
BRACE = 0.9  # of its height a brace reaches out [1] (common practice, no source)
SLEEVE = 3.0  # length of a bearing end's sleeve on the tube, in thicknesses of its flange, as it is drawn [1]
TUBE_END = 12.7  # from the toe of a brace to the weld at the end of the tube [mm] (common practice, no source)


def make_box(context: BracketContext, mount: Mount) -> MadeBracket:
    """Ears, shelf, far and near rib, and a brace.

    Raises:
        GeometryFault: When it cannot be drawn, naming what is in the way and by how much.
    """
    try:
        return _made(context, mount)
    except GeometryFault:
        raise
    except ValueError as fault:
        raise undrawn(mount, fault) from fault


def _made(context: BracketContext, mount: Mount) -> MadeBracket:
    box, half, thick = _box(context, mount), mount.inside / 2.0, mount.thickness
    ears = [box_ear(context, mount, box, front) for front in (False, True)]
    shelf = box_shelf(context, mount, box)
    ribs = [box_rib(context, mount, box, ears, far) for far in (True, False)]
    brace = _brace(context, mount, box, ribs)
    parts = [*(e.part for e in ears), shelf[0], *(r.part for r in ribs), *(b.part for b in brace)]
    leg, side = float(mount.spec.leg), SIDE_LEG * thick
    words = weld_words(mount)
    welds = [Weld((r.part.name, mount.base.words), leg, r.blank.base.length, words) for r in ribs]
    long = sum(math.dist(s.begin, s.end) for s in shelf[1])
    welds.append(Weld((shelf[0].name, mount.base.words), leg, long, "both sides, along the tube"))
    for e in ears:
        welds.append(Weld((e.part.name, shelf[0].name), side, 2.0 * box.wide - SNIPE, "both sides"))
        welds.append(Weld((e.part.name, ribs[0].part.name), side, e.high, "outside, its height"))
    welds += [Weld((shelf[0].name, r.part.name), side, shelf[2], "both sides where a torch goes") for r in ribs]
    found = [replace(s, lengthwise=False) for r in ribs for s in seams(mount, r.blank, r.part.name, r.face)]
    return MadeBracket(
        parts=tuple(parts),
        placements=(
            *(e.stand.placement(e.part.name, mount.name) for e in ears),
            shelf[3].placement(shelf[0].name, mount.name),
            *(r.blank.stand.placement(r.part.name, mount.name) for r in ribs),
            *(b.placement for b in brace),
        ),
        welds=(*welds, *(w for b in brace for w in b.welds)),
        hardware=bolt_hardware(mount),
        facts=BracketFacts(
            mount,
            tuple(p.name for p in parts),
            (*found, *shelf[1], *(s for b in brace for s in b.seams)),
            tuple(told(mount, e, way * half) for e, way in zip(ears, _ways(mount, box), strict=True)),
            tuple(e.root(box, side) for e in ears),
        ),
    )


def _ways(mount: Mount, box: Box) -> tuple[float, float]:
    """Sides of the joint on which the rear and the front ear stand, along the bolt."""
    way = float(np.sign(box.front @ np.array(mount.bolt)))
    return -way, way


def _box(context: BracketContext, mount: Mount) -> Box:
    """The frame of the box: the shelf as near under the joint as its welds and the bar allow."""
    base = mount.base
    if not isinstance(base, TubeBase):
        raise GeometryFault(mount.label, "a box stands on a tube", "take the ears to the face itself")
    bolt, tube = np.array(mount.bolt), np.array(base.along)
    askew = math.degrees(math.asin(min(1.0, abs(float(bolt @ tube)))))
    if askew > ASKEW:
        words = f"its bolt stands {askew:.0f} deg off square to the {base.words}, a box takes {ASKEW:.0f} deg"
        raise GeometryFault(mount.label, words, 'give bolt_way nearer to ["1", "0", "0"]')
    along = tube - (tube @ bolt) * bolt
    along *= np.copysign(1.0, float(along @ np.array(mount.along))) / np.linalg.norm(along)
    slant = float(tube @ along)
    # where the tube's middle line meets the plane of the ribs through the hardpoint
    off = np.array(base.point) - np.array(mount.point)
    axis = off - tube * float(off @ along) / slant
    front = bolt * -np.copysign(1.0, float(axis @ bolt))
    up = np.cross(along, front)
    up *= -np.copysign(1.0, float(axis @ up)) if abs(float(axis @ up)) > 1.0 else np.copysign(1.0, float(up[2]))
    return _lowered(context, mount, axis, (along, up, front))


def _lowered(context: BracketContext, mount: Mount, axis: Array, ways: tuple[Array, Array, Array]) -> Box:
    along, up, front = ways
    joint, half, thick = needed_joint(mount), mount.inside / 2.0, mount.thickness
    _, rules = bored(context, mount, ear_frame(mount, ways, 0.0))
    wide = max(joint.body / 2.0 + BODY_ROOM, rules.along)
    a, b = float(axis @ front), float(axis @ up)
    below = max(rules.base, rules.base - thick + float(mount.spec.leg)) + WELD_ROOM
    for _ in range(STEPS):
        # upper face of the shelf through the front ear's inner face, so far under the hole
        x, y = half - a, -below - b
        angle = math.atan2(y, x) - math.asin(thick / 2.0 / math.hypot(x, y))
        d, n = (math.cos(angle) * front + math.sin(angle) * up, -math.sin(angle) * front + math.cos(angle) * up)
        under = float(-axis @ n)
        # the shelf rises toward the front ear, so it is nearest to the joint there
        if min(under - thick / 2.0, below * math.cos(angle)) >= joint.body / 2.0 + BODY_ROOM:
            break
        below += RAISE
    if abs(angle) > math.radians(STEEPEST) or below > rules.base + (STEPS - 1) * RAISE:
        words = f"its shelf would stand {abs(math.degrees(angle)):.0f} deg steep from the bolt"
        raise GeometryFault(mount.label, words, "move the point farther ahead of the tube, or straight over it")
    z = np.cross(along, d)
    shelf = Stand(np.array(mount.point) - under * n, np.stack([along, d, z], axis=1))
    if float(z @ n) < 0.0:
        shelf = Stand(shelf.origin, np.stack([-along, d, -z], axis=1))
    return Box(along, up, front, shelf, under, wide)


def _brace(context: BracketContext, mount: Mount, box: Box, ribs: list[BoxRib]) -> list[Gusset]:
    """A triangle in the shelf's plane outside the far rib, or outside the near one where the tube ends before it."""
    for rib in ribs:
        side = far_side(box) if rib.far else -far_side(box)
        start, top = side * (box.wide + mount.thickness), -SNIPE
        x, y = side * box.shelf.rotation[:, 0], box.shelf.rotation[:, 1]
        frame = Stand(np.array(box.shelf.outward(start, 0.0, 0.0)), np.stack([x, y, np.cross(x, y)], axis=1))
        high = top - foot_line(mount, frame, 0.0, mount.thickness)
        reach = min(BRACE * high, _tube_left(context, mount, frame))
        if reach >= SNIPE + LEAST + 4.0 and high >= 2.0 * SNIPE + LEAST:
            made = gusset(context, mount, f"{mount.name}-brace", rib.part.name, frame, reach, top)
            return [replace(made, part=replace(made.part, label=f"Brace of the {mount.called('bracket')}"))]
    words = "neither end of its box leaves room for a brace on the tube"
    raise GeometryFault(mount.label, words, "move the point along the tube, or stand the bracket on the truss")


def _tube_left(context: BracketContext, mount: Mount, frame: Stand) -> float:
    """Length of tube beyond the origin of a frame along its x, up to the toe before the next weld [mm]."""
    base = mount.base
    if not isinstance(base, TubeBase):
        return 0.0
    at = float((frame.origin - np.array(base.point)) @ np.array(base.along))
    low, high = base.reach
    if mount.spec.hoop is None:
        # the tube is free only as far as what is welded on over its end
        sleeve = SLEEVE * float(context.sheet.wheel_ends.end_flange_thickness)
        ends = (context.axle.tube_ends[0] + sleeve, context.axle.tube_ends[1] - sleeve)
        stations = [k.weld_station for k in context.axle.knuckles] or ends
        low = max([low, *(s for s in stations if s < at)])
        high = min([high, *(s for s in stations if s > at)])
    left = high - at if float(frame.rotation[:, 0] @ np.array(base.along)) > 0.0 else at - low
    return left - TUBE_END - float(mount.spec.leg) - WELD_ROOM
