"""A tower for an upper link on the top plate of a truss: two tall side plates, a back plate, gussets outside.

The side plates stand on long feet, since the link pulls at the top of a long lever; the back plate is
welded to the truss as well and makes a stiff corner of the three.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from fixturegen.brackets.ears import Blank, blank, ear, is_square, needed_joint, seams, with_openings
from fixturegen.brackets.flanks import BODY_ROOM, clear_of, flank_side, slot_steel
from fixturegen.brackets.frames import Stand, upright
from fixturegen.brackets.gussets import LEAST, SIDE_LEG, SLOPE, SNIPE, Gusset, foot_line, gusset
from fixturegen.brackets.registry import KIND, BracketContext, MadeBracket
from fixturegen.brackets.words import bolt_hardware, ends_of, weld_words
from fixturegen.errors import GeometryFault
from fixturegen.parts.holes import decimal, fraction
from fixturegen.parts.joinery import filleted, locating_room, slot, tab
from fixturegen.plate import Loop, Part, Placement, Profile, Weld
from fixturegen.studies.bracket_records import BracketFacts, Mount, Seam

SPREAD = 0.45  # half a foot over the height of the bolt [1] (common practice, no source)
TAB = 20.0  # length of the back plate's tabs [mm]
TWO_TABS = 100.0  # a back plate this high has two tabs a side [mm]
WRENCH = 1.8  # bolt diameters from the bolt's line to a gusset below: head, washer and socket (common practice)
LOWEST = 60.0  # a bracket lower than this is no tower: kind two-tab [mm]


def make_tower(context: BracketContext, mount: Mount) -> MadeBracket:
    """Two side plates square to the bolt, a back plate between them, a gusset against each where there is room.

    Raises:
        GeometryFault: When it cannot be drawn, naming what is in the way and by how much.
    """
    joint, clear = needed_joint(mount), clear_of(mount)
    if clear < LOWEST:
        words = f"its bolt stands {clear:.0f} mm over the {mount.base.words}, too low for a tower"
        raise GeometryFault(mount.label, words, f"take the kind two-tab below {LOWEST:.0f} mm")
    half, thick = mount.inside / 2.0, mount.thickness
    stands = (upright(mount, -half - thick, 1), upright(mount, half, 1))
    back = flank_side(mount, stands[0]) * (joint.body / 2.0 + BODY_ROOM + thick / 2.0)
    top, low = joint.shank / 2.0, -clear
    steps = _tabs(low, top)
    foot = SPREAD * clear if mount.spec.width is None else float(mount.spec.width) / 2.0
    kerf = float(context.sheet.process.kerf)
    steel = tuple(d for y in steps for d in slot_steel(back, y, TAB, thick, kerf))
    blanks = [blank(context, mount, s, steel, foot) for s in stands]
    names = _names(mount, "side")
    plates = _plates(context, mount, blanks, names, back, steps)
    rear, rear_place, seam = _back(context, mount, stands[0], back, (steps, top))
    ribs = _gussets(context, mount, stands, names, (low, -WRENCH * joint.shank))
    parts = {p.name: p for p in (*plates, rear, *(g.part for g in ribs))}
    found = [s for b, n, face in zip(blanks, names, (0.0, thick), strict=True) for s in seams(mount, b, n, face)]
    words, leg = weld_words(mount), float(mount.spec.leg)
    welds = [Weld((n, mount.base.words), leg, b.base.length, words) for b, n in zip(blanks, names, strict=True)]
    welds.append(Weld((rear.name, mount.base.words), leg, math.dist(seam.begin, seam.end), "outside of the back plate"))
    high = top - low - SNIPE
    welds += [Weld((rear.name, n), SIDE_LEG * thick, high, "outside of the back plate, its height") for n in names]
    return MadeBracket(
        parts=tuple(parts.values()),
        placements=(
            *(b.stand.placement(n, mount.name) for b, n in zip(blanks, names, strict=True)),
            rear_place,
            *(g.placement for g in ribs),
        ),
        welds=(*welds, *(w for g in ribs for w in g.welds)),
        hardware=bolt_hardware(mount),
        facts=BracketFacts(
            mount,
            tuple(parts),
            (*found, seam, *(g.seam for g in ribs)),
            tuple(ear(mount, b, n, at, True) for b, n, at in zip(blanks, names, (-half, half), strict=True)),
        ),
    )


def _names(mount: Mount, what: str) -> list[str]:
    """Names of two plates: one name where they are alike."""
    if is_square(mount):
        return [f"{mount.name}-{what}"] * 2
    return [f"{mount.name}-{what}-{end}" for end in ends_of(mount)]


def _tabs(low: float, top: float) -> tuple[float, ...]:
    """Middles of the back plate's tabs along the side plates [mm]; the upper one sets the place."""
    high = top - low
    upper = top - high * (0.25 if high >= TWO_TABS else 0.5)
    return (upper, low + 0.3 * high) if high >= TWO_TABS else (upper,)


def _plates(
    context: BracketContext,
    mount: Mount,
    blanks: list[Blank],
    names: list[str],
    back: float,
    steps: tuple[float, ...],
) -> list[Part]:
    kerf, room = float(context.sheet.process.kerf), locating_room(context.sheet)
    openings: tuple[Loop, ...] = tuple(
        slot(back, y, 90.0, TAB, mount.thickness, kerf, locating=k == 0, room=room) for k, y in enumerate(steps)
    )
    made: dict[str, Part] = {}
    for b, name in zip(blanks, names, strict=True):
        if name in made:
            made[name] = replace(made[name], quantity=2)
            continue
        made[name] = Part(
            name=name,
            label=f"Side plate of the {mount.label} tower",
            kind=KIND,
            form="plate",
            thickness=mount.thickness,
            material=context.material(mount),
            profile=with_openings(b, openings),
            hand=mount.hand,
            datum=f"on the bolt's line; marked face to the bolt's {ends_of(mount)[1]} end, y away from the truss",
            notes=(
                f"stands on the {mount.base.words} with {decimal(float(mount.spec.gap))} at the root; "
                f"{decimal(mount.inside)} between the side plates, joint {fraction(needed_joint(mount).width)} wide",
                "the truss below must be whole: stand the feet over its own webs or put a plate under them inside",
            ),
        )
    return list(made.values())


def _back(
    context: BracketContext, mount: Mount, stand: Stand, back: float, rise: tuple[tuple[float, ...], float]
) -> tuple[Part, Placement, Seam]:
    """The back plate, marked face away from the joint, and its seam."""
    (steps, top), half, thick = rise, mount.inside / 2.0, mount.thickness
    kerf = float(context.sheet.process.kerf)
    way = 1.0 if back > 0.0 else -1.0
    z, y = way * stand.rotation[:, 0], stand.rotation[:, 1]
    turn = np.stack([np.cross(y, z), y, z], axis=1)
    middle = Stand(np.array(stand.outward(back, 0.0, half + thick)), turn)
    snipe = max(SNIPE, float(mount.spec.leg) + 4.0)
    ends = [(x, foot_line(mount, middle, x, thick)) for x in (-half + snipe, half - snipe)]
    sides = [foot_line(mount, middle, x, thick) + snipe for x in (-half, half)]
    if min(steps) - TAB / 2.0 < max(sides) or 2.0 * (half - snipe) < LEAST:
        words = f"its back plate, {2.0 * half:.0f} mm wide, leaves no room for tabs and cut-off corners"
        raise GeometryFault(mount.label, words, "move the point out, or take the kind two-tab")
    rising = sorted(steps)
    outer = filleted(
        (
            (*ends[0], 0.0),
            (*ends[1], 0.0),
            (half, sides[1], 0.0),
            *(tab(half, v, 90.0, TAB, thick, kerf) for v in rising),
            (half, top, 0.0),
            (-half, top, 0.0),
            *(tab(-half, v, -90.0, TAB, thick, kerf) for v in rising[::-1]),
            (-half, sides[0], 0.0),
        )
    )
    part = Part(
        name=f"{mount.name}-back",
        label=f"Back plate of the {mount.label} tower",
        kind=KIND,
        form="plate",
        thickness=thick,
        material=context.material(mount),
        profile=Profile(outer=outer),
        hand=mount.hand,
        datum="middle of the plate at the height of the bolt; y away from the truss, marked face away from the joint",
        notes=(
            "its shoulders set the room between the side plates; the cut-off corners stay open so that water leaves",
        ),
    )
    place = Stand(np.array(middle.outward(0.0, 0.0, -thick / 2.0)), turn).placement(part.name, mount.name)
    a, b = (middle.outward(x, y, thick / 2.0) for x, y in ends)
    return part, place, Seam(part.name, a, b, float(mount.spec.leg))


def _gussets(
    context: BracketContext,
    mount: Mount,
    stands: tuple[Stand, Stand],
    names: list[str],
    rise: tuple[float, float],
) -> list[Gusset]:
    """A gusset against the outside of each side plate, under the bolt; none without room."""
    low, top = rise
    high = top - low
    reach = max(SLOPE * high, SNIPE + LEAST + 4.0)
    if high < LEAST + 2.0 * SNIPE:
        return []
    own = _names(mount, "gusset")
    made = []
    for stand, face, way, name, side in zip(stands, (0.0, mount.thickness), (-1.0, 1.0), own, names, strict=True):
        x, y = way * stand.rotation[:, 2], stand.rotation[:, 1]
        frame = Stand(np.array(stand.outward(0.0, 0.0, face)), np.stack([x, y, np.cross(x, y)], axis=1))
        made.append(gusset(context, mount, name, side, frame, reach, top))
    if own[0] == own[1]:
        made[0] = replace(made[0], part=replace(made[0].part, quantity=2))
        made[1] = replace(made[1], part=made[0].part)
    return made
