"""A track-bar bracket with its brace: the bar pulls along the axle, at the top of a lever, every time the truck rolls.

On a flat face, or over a tube, the ears stand on it by long feet and a plate closes them on the end away
from the bar. Ahead of a tube they stand in a box (`boxes`). Either way a brace carries the bar's force
down beside the bracket.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from fixturegen.brackets.backs import SHOULDER, TAB, back_place, back_plate, back_weld, covered_top, names_of, tab_steps
from fixturegen.brackets.boxes import make_box
from fixturegen.brackets.ears import Blank, blank, ear, needed_joint, seams, with_openings
from fixturegen.brackets.flanks import BODY_ROOM, clear_of, flank_side, slot_steel
from fixturegen.brackets.frames import Stand, upright
from fixturegen.brackets.gussets import LEAST, SIDE_LEG, SNIPE, Gusset, gusset
from fixturegen.brackets.registry import BracketContext, MadeBracket
from fixturegen.brackets.words import bolt_hardware, ends_of, weld_words
from fixturegen.parts.holes import decimal, fraction
from fixturegen.parts.joinery import locating_room, slot
from fixturegen.plate import Loop, Part, Weld
from fixturegen.studies.bracket_records import BracketFacts, FlatBase, Mount

SPREAD = 0.6  # half a foot over the height of the bolt, along the bar [1] (common practice, no source)
OVER = 0.8  # of a tube's radius that ears standing along it may lie beside its middle [1]: beyond it the foot runs out
BRACE = 1.0  # of its height a brace reaches out [1]: 45 deg (common practice, no source)


def make_track_bar(context: BracketContext, mount: Mount) -> MadeBracket:
    """Two ears square to the bolt, closed on the end away from the bar, and a brace there.

    Raises:
        GeometryFault: When it cannot be drawn, naming what is in the way and by how much.
    """
    needed_joint(mount)
    return _standing(context, mount) if _stands(mount) else make_box(context, mount)


def _stands(mount: Mount) -> bool:
    """Whether both ears come down on what the bracket stands on."""
    base, bolt = mount.base, np.array(mount.bolt)
    if isinstance(base, FlatBase):
        return True
    along = np.array(base.along)
    off = np.array(mount.point) - np.array(base.point)
    beside = abs(float((off - (off @ along) * along) @ bolt))
    return beside + mount.inside / 2.0 + mount.thickness < OVER * base.radius


def _standing(context: BracketContext, mount: Mount) -> MadeBracket:
    joint, clear = needed_joint(mount), clear_of(mount)
    half, thick = mount.inside / 2.0, mount.thickness
    stands = (upright(mount, -half - thick, 1), upright(mount, half, 1))
    back = flank_side(mount, stands[0]) * (joint.body / 2.0 + BODY_ROOM + thick / 2.0)
    top = joint.shank / 2.0
    steps, kerf = tab_steps(-clear, top), float(context.sheet.process.kerf)
    foot = max(SPREAD * clear, abs(back) + SNIPE) if mount.spec.width is None else float(mount.spec.width) / 2.0
    steel = tuple(d for y in steps for d in slot_steel(back, y, TAB, thick, kerf))
    blanks = [blank(context, mount, s, steel, foot) for s in stands]
    outer = back + math.copysign(thick / 2.0, back)
    top = covered_top([b.profile.outer for b in blanks], outer, top, max(steps) + TAB / 2.0 + SHOULDER)
    names = names_of(mount, "ear")
    middle = back_place(stands[0], back, half, thick)
    rear, rear_place, rear_seams = back_plate(context, mount, middle, steps, top)
    brace = _brace(context, mount, middle, rear.name, (-clear, top))
    made = _ears(context, mount, (blanks, names), back, steps)
    parts = {p.name: p for p in (*made, rear, *(b.part for b in brace))}
    found = [s for b, n, face in zip(blanks, names, (0.0, thick), strict=True) for s in seams(mount, b, n, face)]
    words, leg = weld_words(mount), float(mount.spec.leg)
    welds = [Weld((n, mount.base.words), leg, b.base.length, words) for b, n in zip(blanks, names, strict=True)]
    own, counted = back_weld(mount, rear.name, rear_seams)
    welds += own
    found += counted
    high = top + clear - SNIPE
    welds += [Weld((rear.name, n), SIDE_LEG * thick, high, "outside of the back plate, its height") for n in names]
    return MadeBracket(
        parts=tuple(parts.values()),
        placements=(
            *(b.stand.placement(n, mount.name) for b, n in zip(blanks, names, strict=True)),
            rear_place,
            *(b.placement for b in brace),
        ),
        welds=(*welds, *(w for b in brace for w in b.welds)),
        hardware=bolt_hardware(mount),
        facts=BracketFacts(
            mount,
            tuple(parts),
            (*found, *(s for b in brace for s in b.seams)),
            tuple(ear(mount, b, n, at, True) for b, n, at in zip(blanks, names, (-half, half), strict=True)),
        ),
    )


def _brace(
    context: BracketContext, mount: Mount, middle: Stand, against: str, rise: tuple[float, float]
) -> tuple[Gusset, ...]:
    """The brace behind the back plate; none where the bracket is so low that there is nothing to brace."""
    low, top = rise
    high = top - low
    if high < LEAST + 2.0 * SNIPE:
        return ()
    x, y = middle.rotation[:, 2], middle.rotation[:, 1]
    frame = Stand(np.array(middle.outward(0.0, 0.0, mount.thickness / 2.0)), np.stack([x, y, np.cross(x, y)], axis=1))
    reach = max(BRACE * high, SNIPE + LEAST + 4.0)
    made = gusset(context, mount, f"{mount.name}-brace", against, frame, reach, top)
    return (replace(made, part=replace(made.part, label=f"Brace of the {mount.called('bracket')}")),)


def _ears(
    context: BracketContext,
    mount: Mount,
    drawn: tuple[list[Blank], list[str]],
    back: float,
    steps: tuple[float, ...],
) -> list[Part]:
    kerf, room = float(context.sheet.process.kerf), locating_room(context.sheet)
    openings: tuple[Loop, ...] = tuple(
        slot(back, y, 90.0, TAB, mount.thickness, kerf, locating=k == 0, room=room) for k, y in enumerate(steps)
    )
    made: dict[str, Part] = {}
    for b, name in zip(*drawn, strict=True):
        if name in made:
            made[name] = replace(made[name], quantity=2)
            continue
        made[name] = context.plate(
            mount,
            name=name,
            label=f"Ear of the {mount.called('bracket')}",
            thickness=mount.thickness,
            profile=with_openings(b, openings),
            datum=f"on the bolt's line; marked face to the bolt's {ends_of(mount)[1]} end, y away from its foot",
            notes=(
                f"stands on the {mount.base.words} with {decimal(float(mount.spec.gap))} at the root; "
                f"{decimal(mount.inside)} between the ears, joint {fraction(needed_joint(mount).width)} wide",
            ),
        )
    return list(made.values())
