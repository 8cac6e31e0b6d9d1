"""Two flat ears with a joint between them, and a cross plate that sets their distance and braces them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from fixturegen.brackets.ears import Blank, blank, ear, is_square, needed_joint, seams, with_openings
from fixturegen.brackets.flanks import BODY_ROOM, DRAIN, clear_of, flank_side, slot_steel
from fixturegen.brackets.frames import Stand, upright
from fixturegen.brackets.registry import BracketContext, MadeBracket
from fixturegen.brackets.side_gussets import outer_gussets
from fixturegen.brackets.words import bolt_hardware, weld_words
from fixturegen.parts.holes import decimal, fraction
from fixturegen.parts.joinery import filleted, locating_room, slot, tab
from fixturegen.plate import Loop, Part, Placement, Profile, Weld
from fixturegen.studies.bracket_records import BracketFacts, Mount

LEAST_CROSS = 32.0  # a shorter cross plate braces nothing [mm]
CROSS_TAB = 20.0  # its tabs are this long [mm]
NOTE_EARS = "both ears are alike, marked faces the same way: to the bolt's left end"


def make_two_tab(context: BracketContext, mount: Mount) -> MadeBracket:
    """Two ears, square to the bolt, a cross plate where there is room for one, and gussets where they are asked for.

    Raises:
        GeometryFault: When it cannot be drawn, naming what is in the way and by how much.
    """
    half, thick = mount.inside / 2.0, mount.thickness
    stands = (upright(mount, -half - thick, 1), upright(mount, half, 1))
    cross = _cross_place(mount, stands[0])
    blanks = [blank(context, mount, s, _cross_steel(context, mount, cross)) for s in stands]
    names = [f"{mount.name}-tab"] * 2 if is_square(mount) else [f"{mount.name}-tab-right", f"{mount.name}-tab-left"]
    parts = _ears(context, mount, blanks, names, cross)
    placements = [b.stand.placement(n, mount.name) for b, n in zip(blanks, names, strict=True)]
    welds = [
        Weld((n, mount.base.words), float(mount.spec.leg), b.base.length, weld_words(mount))
        for b, n in zip(blanks, names, strict=True)
    ]
    if cross is not None:
        part, place = _cross(context, mount, stands[0], cross)
        parts.append(part)
        placements.append(place)
        high = cross[2] - cross[1]
        welds += [Weld((part.name, n), 0.75 * thick, high, "outside of the cross plate, both ears") for n in names]
    ribs = outer_gussets(context, mount, stands, names) if mount.spec.gussets else []
    parts += {g.part.name: g.part for g in ribs}.values()
    placements += [g.placement for g in ribs]
    welds += [w for g in ribs for w in g.welds]
    found = [s for b, n, face in zip(blanks, names, (0.0, thick), strict=True) for s in seams(mount, b, n, face)]
    found += [s for g in ribs for s in g.seams]
    ears = (
        ear(mount, blanks[0], names[0], -half, cross is not None),
        ear(mount, blanks[1], names[1], half, cross is not None),
    )
    return MadeBracket(
        parts=tuple(parts),
        placements=tuple(placements),
        welds=tuple(welds),
        hardware=bolt_hardware(mount),
        facts=BracketFacts(mount, tuple(p.name for p in parts), tuple(found), ears),
    )


def _cross_place(mount: Mount, stand: Stand) -> tuple[float, float, float] | None:
    """(x of its middle, y from, y to) of the cross plate in the ears' frame [mm]; None without room.

    It stands on the flank away from the link, or on the lower one where the link pulls straight away.
    """
    joint = needed_joint(mount)
    far = joint.body / 2.0 + BODY_ROOM + mount.thickness / 2.0
    low = -clear_of(mount) + DRAIN
    high = joint.shank / 2.0
    if high - low < LEAST_CROSS:
        return None
    return flank_side(mount, stand) * far, low, high


def _cross_steel(
    context: BracketContext, mount: Mount, cross: tuple[float, float, float] | None
) -> tuple[tuple[float, float, float], ...]:
    """Discs of steel that the ears need round the cross plate's slot."""
    if cross is None:
        return ()
    x, low, high = cross
    return slot_steel(x, (low + high) / 2.0, CROSS_TAB, mount.thickness, float(context.sheet.process.kerf))


def _ears(
    context: BracketContext,
    mount: Mount,
    blanks: list[Blank],
    names: list[str],
    cross: tuple[float, float, float] | None,
) -> list[Part]:
    parts: dict[str, Part] = {}
    for made, name in zip(blanks, names, strict=True):
        if name in parts:
            parts[name] = replace(parts[name], quantity=2, notes=(*parts[name].notes, NOTE_EARS))
            continue
        openings: tuple[Loop, ...] = ()
        if cross is not None:
            x, low, high = cross
            kerf, room = float(context.sheet.process.kerf), locating_room(context.sheet)
            openings = (slot(x, (low + high) / 2.0, 90.0, CROSS_TAB, mount.thickness, kerf, locating=True, room=room),)
        parts[name] = context.plate(
            mount,
            name=name,
            label=f"Ear of the {mount.called('bracket')}",
            thickness=mount.thickness,
            profile=with_openings(made, openings),
            datum="on the bolt's line; marked face to the bolt's left end, y away from what it is welded to",
            notes=(
                f"sits on the {mount.base.words} with {decimal(float(mount.spec.gap))} at the root; "
                f"{decimal(mount.inside)} between the ears, over a joint {fraction(needed_joint(mount).width)} wide",
            ),
        )
    return list(parts.values())


def _cross(
    context: BracketContext, mount: Mount, stand: Stand, cross: tuple[float, float, float]
) -> tuple[Part, Placement]:
    """The cross plate: marked face away from the joint."""
    x, low, high = cross
    half, thick, kerf = mount.inside / 2.0, mount.thickness, float(context.sheet.process.kerf)
    middle = (low + high) / 2.0
    outer = filleted(
        (
            (-half, low - middle, 0.0),
            (half, low - middle, 0.0),
            tab(half, 0.0, 90.0, CROSS_TAB, thick, kerf),
            (half, high - middle, 0.0),
            (-half, high - middle, 0.0),
            tab(-half, 0.0, -90.0, CROSS_TAB, thick, kerf),
        )
    )
    part = context.plate(
        mount,
        name=f"{mount.name}-cross",
        label=f"Cross plate of the {mount.called('bracket')}",
        thickness=thick,
        profile=Profile(outer=outer),
        datum="middle of the plate; y away from what the bracket is welded to",
        notes=("its shoulders set the room between the ears; the gap below it stays open so that water leaves",),
    )
    way = 1.0 if x > 0.0 else -1.0
    z = way * stand.rotation[:, 0]
    y = stand.rotation[:, 1]
    turn = np.stack([np.cross(y, z), y, z], axis=1)
    near = x - way * thick / 2.0
    origin = np.array(stand.outward(near, middle, half + thick))
    return part, Stand(origin, turn).placement(part.name, mount.name)
