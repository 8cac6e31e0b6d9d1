"""A bracket bent from one plate: a web behind the joint and an ear on each end of it, like a U.

The web stands on the flank away from the link and reaches from above the drain to the top of the ears.
Bent, it does what the cross plate of a two-tab bracket does, and there is no weld beside the holes.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from fixturegen.brackets.ears import (
    FOOT_OUT,
    Blank,
    base_edge,
    bored,
    ear,
    needed_joint,
    seams,
    tab_holes,
    undrawn,
)
from fixturegen.brackets.flanks import BODY_ROOM, DRAIN, flank_side
from fixturegen.brackets.frames import Stand, upright
from fixturegen.brackets.registry import KIND, BracketContext, MadeBracket
from fixturegen.brackets.words import bolt_hardware, ends_of, weld_words
from fixturegen.errors import GeometryFault
from fixturegen.parts.holes import decimal, fraction
from fixturegen.plate import Hole, Part, Placement, Profile, Vertex, Weld
from fixturegen.plate.bend_marks import bend_part
from fixturegen.plate.bend_rules import BendRule, radius_for, rule_for
from fixturegen.plate.bending import Unfolded, hole_distance, relief_size
from fixturegen.plate.part import Bend
from fixturegen.plate.profile import bounds
from fixturegen.plate.saddles import Base
from fixturegen.plate.tab_outlines import FOOT, Flank, flanked_outline, foot_top, top_of
from fixturegen.sheet.specs import Plate
from fixturegen.studies.bracket_records import BracketFacts, Mount

SQUARE = 90.0  # deg
LEAST_WEB = 25.0  # a lower web holds its ears no better than none [mm] (common practice, no source)
STEP = 0.5  # by which the web is raised until the cut below it leaves steel [mm]
HIGHEST = 400  # steps
WEB = 1.5  # plate thicknesses of steel between two cuts [1] (common practice, no source)
HOLE_ROOM = 0.5  # over the least distance from a hole to a bend [mm]


@dataclass(frozen=True)
class _Bent:
    """What the bends are made by.

    Attributes:
        radius: Inside [mm].
        takes: Flat length of one bend [mm].
        web: From the bolt's line to the inner face of the web [mm].
        half: Half the room between the ears [mm].
        rule: For the flat lengths.
    """

    radius: float
    takes: float
    web: float
    half: float
    rule: BendRule

    @property
    def tangent(self) -> float:
        """Where an ear begins to be bent, from the bolt's line [mm]."""
        return self.web - self.radius

    @property
    def zone(self) -> float:
        """Where a bend begins on the web, from its middle [mm]."""
        return self.half - self.radius

    @property
    def shift(self) -> float:
        """From the middle of the flat to the bolt's line of an ear [mm]."""
        return self.zone + self.takes + self.tangent


def make_folded(context: BracketContext, mount: Mount) -> MadeBracket:
    """A U of one plate, its ears square to the bolt.

    Raises:
        GeometryFault: When it cannot be drawn, naming what is in the way and by how much.
    """
    half, thick = mount.inside / 2.0, mount.thickness
    side = int(flank_side(mount, upright(mount, half, 1)))
    # ears seen so that the web stands to their right
    stands = (upright(mount, side * (-half - thick), side), upright(mount, side * half, side))
    bent = _bent(context, mount, stands[0])
    try:
        blanks, low, high = _ears(context, mount, stands, bent)
    except GeometryFault:
        raise
    except ValueError as fault:
        raise undrawn(mount, fault) from fault
    part, place = _part(context, mount, blanks, bent, (low, high))
    ends = (-half, half) if side > 0 else (half, -half)
    ears = tuple(ear(mount, b, part.name, at, True) for b, at in zip(blanks, ends, strict=True))
    found = [s for b, face in zip(blanks, (0.0, thick), strict=True) for s in seams(mount, b, part.name, face)]
    words = weld_words(mount)
    return MadeBracket(
        parts=(part,),
        placements=(place,),
        welds=tuple(Weld((part.name, mount.base.words), float(mount.spec.leg), b.base.length, words) for b in blanks),
        hardware=bolt_hardware(mount),
        facts=BracketFacts(mount, (part.name,), tuple(found), ears),
    )


def _plate_of(context: BracketContext, mount: Mount) -> Plate:
    return min(context.sheet.plates, key=lambda p: abs(p.nominal - mount.spec.plate))


def _bent(context: BracketContext, mount: Mount, stand: Stand) -> _Bent:
    plate, asked = _plate_of(context, mount), mount.spec.inside_radius
    rule = rule_for(context.sheet.brake, plate)
    radius = radius_for(context.sheet.brake, float(plate.nominal)) if asked is None else float(asked)
    takes = rule.allowance(mount.thickness, radius, SQUARE)
    joint = needed_joint(mount)
    holes, _ = bored(context, mount, stand)
    # the hole must stay round when the ear beside it is bent
    from_hole = hole_distance(mount.thickness, radius) + holes[0].finished / 2.0 + HOLE_ROOM - takes / 2.0 + radius
    return _Bent(radius, takes, max(joint.body / 2.0 + BODY_ROOM, from_hole), mount.inside / 2.0, rule)


def _ears(
    context: BracketContext, mount: Mount, stands: tuple[Stand, Stand], bent: _Bent
) -> tuple[list[Blank], float, float]:
    """Both ears, and the lower and upper edge of the web in their frame [mm]."""
    drawn = []
    for stand in stands:
        holes, rules = bored(context, mount, stand)
        base = base_edge(mount, stand, max(rules.along + FOOT_OUT, bent.web + mount.thickness))
        drawn.append((stand, holes, rules, base))
    high = max(top_of(tab_holes(holes, rules), base) for _, holes, rules, base in drawn)
    width, past = relief_size(mount.thickness, bent.radius)
    cut = (width, past - bent.takes / 2.0)
    low = max(_least_low(base, bent, mount.thickness, cut) for *_, base in drawn)
    if high - low < LEAST_WEB:
        words = f"between drain and top of the ears {max(0.0, high - low):.0f} mm are left for its web"
        remedy = f"{LEAST_WEB:.0f} mm are needed: move the point out, or take the kind two-tab"
        raise GeometryFault(mount.label, words, remedy)
    blanks = []
    for stand, holes, rules, base in drawn:
        flank = Flank(bent.tangent, low, high, cut)
        chain = flanked_outline(tab_holes(holes, rules), base, flank, foot=_foot(mount.thickness))
        blanks.append(Blank(Profile(outer=chain, holes=holes), base, stand, rules))
    return blanks, low, high


def _foot(thick: float) -> float:
    """Height of a foot: what the torch needs to leave steel beside the cut below the web [mm]."""
    return max(FOOT, WEB * thick)


def _least_low(base: Base, bent: _Bent, thick: float, cut: tuple[float, float]) -> float:
    """Lowest place of the web's lower edge that leaves the drain open and steel round the cut [mm]."""
    width, past = cut
    least = _foot(thick)
    low = foot_top(base, least) + width
    for _ in range(HIGHEST):
        under = min(base.shadow.clearance(x, low) for x in (bent.web, bent.web + thick))
        steel = base.shadow.clearance(bent.tangent - past + width / 2.0, low - width / 2.0) - width / 2.0
        if under >= DRAIN and steel >= least + STEP:
            break
        low += STEP
    return low


def _part(
    context: BracketContext, mount: Mount, blanks: list[Blank], bent: _Bent, rise: tuple[float, float]
) -> tuple[Part, Placement]:
    """The flat, marked face inside the U, and where the web of the bent part stands."""
    low, high = rise
    left, right = blanks
    shift = bent.shift
    there = [Vertex(v.x - shift, v.y, v.bulge) for v in left.profile.outer]
    mirrored = [(shift - v.x, v.y) for v in right.profile.outer][::-1]
    # mirrored and run backward an arc keeps its bulge, which its other end then carries
    bulges = [*(v.bulge for v in right.profile.outer[-2::-1]), 0.0]
    back = [Vertex(x, y, b) for (x, y), b in zip(mirrored, bulges, strict=True)]
    ears = ends_of(mount) if left.stand.rotation[:, 2] @ np.array(mount.bolt) > 0.0 else ends_of(mount)[::-1]
    holes = [*_moved(left, -shift, 1.0, f"{ears[0]} ear"), *_moved(right, shift, -1.0, f"{ears[1]} ear")]
    line = bent.zone + bent.takes / 2.0
    thick = mount.thickness
    web = 2.0 * (bent.half + thick)
    far = [bent.web + thick - bounds(b.profile.outer)[0] for b in blanks]
    ends = ((line, low, line, high), (-line, high, -line, low))
    bends = tuple(
        Bend(
            *end,
            SQUARE,
            bent.radius,
            True,
            bent.takes,
            bent.rule.words(bent.radius, SQUARE),
            bent.rule.is_measured(bent.radius, SQUARE),
            (web, out),
        )
        for end, out in zip(ends, (far[1], far[0]), strict=True)
    )
    flat = Unfolded(thick, Profile(outer=(*there, *back), holes=tuple(holes)), bends, (0.0, (low + high) / 2.0), 0.0)
    part = bend_part(
        f"{mount.name}-folded",
        f"Folded bracket, {mount.label}",
        KIND,
        flat,
        material=context.material(mount),
        datum="middle of the web at the height of the bolt; marked face inside the U, y away from what it is welded to",
        notes=(
            f"{decimal(mount.inside)} inside between the ears, joint {fraction(needed_joint(mount).width)} wide; "
            "ream both ears in one go after bending",
            f"sits on the {mount.base.words} with {decimal(float(mount.spec.gap))} at the root; the room below the web "
            "stays open so that water leaves",
        ),
    )
    part = replace(part, hand=mount.hand)
    stand = left.stand
    z = -stand.rotation[:, 0]
    turn = np.stack([np.cross(stand.rotation[:, 1], z), stand.rotation[:, 1], z], axis=1)
    middle = bent.half + thick
    origin = np.array(stand.outward(bent.web + thick, 0.0, middle))
    return part, Stand(origin, turn).placement(part.name, mount.name)


def _moved(made: Blank, shift: float, way: float, words: str) -> list[Hole]:
    return [replace(h, x=shift + way * h.x, label=f"{h.label}, {words}") for h in made.profile.holes]
