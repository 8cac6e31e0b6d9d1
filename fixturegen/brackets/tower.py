"""A tower for an upper link on the top plate of a truss: two tall side plates, a back plate, gussets outside.

The side plates stand on long feet, since the link pulls at the top of a long lever; the back plate is
welded to the truss as well and makes a stiff corner of the three.
"""

from __future__ import annotations

import math
from dataclasses import replace

from fixturegen.brackets.backs import SHOULDER, TAB, back_place, back_plate, back_weld, covered_top, names_of, tab_steps
from fixturegen.brackets.ears import Blank, blank, ear, needed_joint, seams, with_openings
from fixturegen.brackets.flanks import BODY_ROOM, clear_of, flank_side, slot_steel
from fixturegen.brackets.frames import Stand, upright
from fixturegen.brackets.gussets import SIDE_LEG, SNIPE, Gusset
from fixturegen.brackets.registry import BracketContext, MadeBracket
from fixturegen.brackets.side_gussets import outer_gussets
from fixturegen.brackets.words import bolt_hardware, ends_of, weld_words
from fixturegen.errors import GeometryFault
from fixturegen.parts.holes import decimal, fraction
from fixturegen.parts.joinery import locating_room, slot
from fixturegen.plate import Loop, Part, Weld
from fixturegen.studies.bracket_records import BracketFacts, Mount

SPREAD = 0.45  # half a foot over the height of the bolt [1] (common practice, no source)
LOWEST = 60.0  # a bracket lower than this is no tower: kind two-tab [mm]


def make_tower(context: BracketContext, mount: Mount) -> MadeBracket:
    """Two side plates square to the bolt, a back plate between them, a gusset against each where there is room.

    Raises:
        GeometryFault: When it cannot be drawn, naming what is in the way and by how much.
    """
    joint, clear = needed_joint(mount), clear_of(mount)
    if clear < LOWEST:
        words = f"its bolt stands {max(0.0, clear):.0f} mm over the {mount.base.words}, too low for a tower"
        raise GeometryFault(mount.label, words, f"take the kind two-tab below {LOWEST:.0f} mm")
    half, thick = mount.inside / 2.0, mount.thickness
    stands = (upright(mount, -half - thick, 1), upright(mount, half, 1))
    back = flank_side(mount, stands[0]) * (joint.body / 2.0 + BODY_ROOM + thick / 2.0)
    top, low = joint.shank / 2.0, -clear
    steps = tab_steps(low, top)
    foot = SPREAD * clear if mount.spec.width is None else float(mount.spec.width) / 2.0
    kerf = float(context.sheet.process.kerf)
    steel = tuple(d for y in steps for d in slot_steel(back, y, TAB, thick, kerf))
    blanks = [blank(context, mount, s, steel, foot) for s in stands]
    outer = back + math.copysign(thick / 2.0, back)
    top = covered_top([b.profile.outer for b in blanks], outer, top, max(steps) + TAB / 2.0 + SHOULDER)
    names = names_of(mount, "side")
    plates = _plates(context, mount, blanks, names, back, steps)
    rear, rear_place, rear_seams = back_plate(context, mount, back_place(stands[0], back, half, thick), steps, top)
    ribs = _gussets(context, mount, stands, names)
    parts = {p.name: p for p in (*plates, rear, *(g.part for g in ribs))}
    found = [s for b, n, face in zip(blanks, names, (0.0, thick), strict=True) for s in seams(mount, b, n, face)]
    words, leg = weld_words(mount), float(mount.spec.leg)
    welds = [Weld((n, mount.base.words), leg, b.base.length, words) for b, n in zip(blanks, names, strict=True)]
    own, counted = back_weld(mount, rear.name, rear_seams)
    welds += own
    found += counted
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
            (*found, *(s for g in ribs for s in g.seams)),
            tuple(ear(mount, b, n, at, True) for b, n, at in zip(blanks, names, (-half, half), strict=True)),
        ),
    )


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
        made[name] = context.plate(
            mount,
            name=name,
            label=f"Side plate of the {mount.called('tower')}",
            thickness=mount.thickness,
            profile=with_openings(b, openings),
            datum=f"on the bolt's line; marked face to the bolt's {ends_of(mount)[1]} end, y away from the truss",
            notes=(
                f"stands on the {mount.base.words} with {decimal(float(mount.spec.gap))} at the root; "
                f"{decimal(mount.inside)} between the side plates, joint {fraction(needed_joint(mount).width)} wide",
                "the truss below must be whole: stand the feet over its own webs or put a plate under them inside",
            ),
        )
    return list(made.values())


def _gussets(context: BracketContext, mount: Mount, stands: tuple[Stand, Stand], names: list[str]) -> list[Gusset]:
    """Gussets outside; none where a round tube passes beside them: nobody asked for them."""
    try:
        return outer_gussets(context, mount, stands, names)
    except GeometryFault:
        return []
