"""Tabs for shocks, straps and stabilizers: two plates beside a joint, or one with a gusset behind it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from fixturegen.brackets.ears import Blank, base_edge, blank, ear, is_square, needed_joint, seams
from fixturegen.brackets.flanks import clear_of
from fixturegen.brackets.frames import ALONG, Stand, upright
from fixturegen.brackets.rails import demand_rail_room
from fixturegen.brackets.registry import BracketContext, MadeBracket
from fixturegen.brackets.words import Hardware, bolt_hardware, bolt_length, weld_words
from fixturegen.errors import GeometryFault
from fixturegen.parts.holes import INCH, decimal, fraction
from fixturegen.plate import Part, Placement, Profile, Weld
from fixturegen.plate.outlines import filleted
from fixturegen.plate.saddles import LARGEST_GAP, Base
from fixturegen.studies.bracket_records import BracketFacts, FlatBase, Mount, Seam

BODY_ROOM = 3.0  # from a joint's body to what its bracket is welded to [mm] (common practice, no source)
ACROSS = 0.5  # a bolt with less of its direction along the axle runs fore and aft or up [1]
WASHER = 1.25  # radius of a large washer, in shanks [1] (common practice, no source)
WRENCH = 3.0  # kept between washer and gusset [mm] (common practice, no source)
LEAST_RUN = 4.0  # legs a run of weld is long at least [1]; source: AISC 360 J2.2b (from memory)
SPREAD = 0.8  # foot of a gusset over its height [1] (common practice, no source)
TOE = INCH / 4.0  # ends of a gusset are this high, so that the bead can go round them [mm] (common practice)
SNIPE = 4.0  # beyond the leg of the bead that passes under a gusset's corner [mm] (common practice, no source)
ROUND = 3.0  # radius of a gusset's corners [mm]
NOTE_EARS = "both tabs are alike, marked faces the same way: to the bolt's left end"


@dataclass(frozen=True)
class TabKind:
    """What differs from kind to kind.

    Attributes:
        noun: What a plate is called: "Shock tab".
        notes: What the maker of it must know.
        ears: Plates when the sheet says nothing.
        what: What is held, for words about its body.
    """

    noun: str
    notes: tuple[str, ...] = ()
    ears: Literal["both", "inner", "outer"] = "both"
    what: str = "eye"


@dataclass(frozen=True)
class _Plate:
    """One plate: as drawn, its name, its inner face along the bolt [mm], and the faces its beads lie on."""

    made: Blank
    name: str
    offset: float
    faces: tuple[float, ...]


def make_tabs(context: BracketContext, mount: Mount, kind: TabKind) -> MadeBracket:
    """The plates of a tab, and the gusset of a single one that stands across what it is welded to.

    Raises:
        GeometryFault: When it cannot be drawn, naming what is in the way and by how much.
    """
    demand_body_room(mount, kind.what)
    plates = _plates(context, mount, kind)
    parts = _parts(context, mount, kind, plates)
    placements = [p.made.stand.placement(p.name, mount.name) for p in plates]
    alone = len(plates) == 1
    welds = [
        Weld(
            (p.name, mount.base.words),
            float(mount.spec.leg),
            p.made.base.length * len(p.faces),
            f"both sides, {weld_words(mount).removeprefix('outside ')}" if alone else weld_words(mount),
        )
        for p in plates
    ]
    found = [s for p in plates for face in p.faces for s in seams(mount, p.made, p.name, face)]
    found += [s for p in plates if not alone for s in _turned(mount, p)]
    demand_rail_room(context, mount, found)
    stiff = _gusset(context, mount, plates[0]) if alone else None
    if stiff is not None:
        part, place, beads, length = stiff
        parts.append(part)
        placements.append(place)
        found += beads
        leg = _gusset_leg(mount)
        welds.append(Weld((part.name, mount.base.words), leg, length, "both sides of its foot, round the toe"))
        welds.append(Weld((part.name, plates[0].name), leg, length, "both sides of its back, round the toe"))
    return MadeBracket(
        parts=tuple(parts),
        placements=tuple(placements),
        welds=tuple(welds),
        hardware=_hardware(mount, len(plates)),
        facts=BracketFacts(
            mount,
            tuple(p.name for p in parts),
            tuple(found),
            tuple(ear(mount, p.made, p.name, p.offset, stiff is not None) for p in plates),
        ),
    )


def demand_body_room(mount: Mount, what: str) -> None:
    """Refuses a joint whose body would touch what the bracket stands on.

    Raises:
        GeometryFault: With by how much.
    """
    joint = needed_joint(mount)
    clear, need = clear_of(mount), joint.body / 2.0 + BODY_ROOM
    if clear >= need:
        return
    words = (
        f"its {what} of {fraction(joint.body)} would stand {clear - joint.body / 2.0:.1f} mm off the "
        f"{mount.base.words} and must stand {BODY_ROOM:.0f} mm off it"
    )
    raise GeometryFault(mount.label, words, f"move its point {need - clear:.1f} mm away from the {mount.base.words}")


def open_root(mount: Mount, base: Base) -> tuple[str, ...]:
    """What to grind where a square edge gapes on one face, in words; nothing where a fillet bridges it.

    Source: AWS D1.1, root openings over 1/16 in add to the leg (from memory).
    """
    if base.largest_gap <= LARGEST_GAP:
        return ()
    first, last = base.largest_gaps
    face = "marked face" if first > last else "face away from the marks"
    turn = np.degrees(np.arctan2(base.largest_gap - base.gap, mount.thickness))
    return (
        f"stands askew on the {mount.base.words}: its edge gapes {decimal(base.largest_gap)} on the {face}; grind it "
        f"{turn:.0f} deg off square until it lies on, or lay the leg so much larger there",
    )


def inner_way(mount: Mount) -> int:
    """+1 or -1: the bolt's end that is nearer to the middle of the axle, or to the tube."""
    bolt, point = np.array(mount.bolt), np.array(mount.point)
    if abs(bolt[1]) >= ACROSS or isinstance(mount.base, FlatBase):
        away = float(bolt[1] * point[1])
    else:
        away = float((point - np.array(mount.base.point)) @ bolt)
    return 1 if away < 0.0 else -1


def _plates(context: BracketContext, mount: Mount, kind: TabKind) -> list[_Plate]:
    joint, thick = needed_joint(mount), mount.thickness
    chosen = mount.spec.ears or kind.ears
    if chosen != "both":
        way = inner_way(mount) * (1 if chosen == "inner" else -1)
        offset = way * joint.width / 2.0
        stand = upright(mount, offset if way > 0 else offset - thick, 1)
        return [_Plate(blank(context, mount, stand), f"{mount.name}-tab", offset, (0.0, thick))]
    half = mount.inside / 2.0
    names = (f"{mount.name}-tab",) * 2 if is_square(mount) else _names(mount)
    stands = upright(mount, -half - thick, 1), upright(mount, half, 1)
    return [
        _Plate(blank(context, mount, stand), name, offset, (face,))
        for stand, name, offset, face in zip(stands, names, (-half, half), (0.0, thick), strict=True)
    ]


def _names(mount: Mount) -> tuple[str, str]:
    """Names of unlike plates, the one at the bolt's right or rear end first."""
    if abs(mount.bolt[1]) < ACROSS:
        return f"{mount.name}-tab-rear", f"{mount.name}-tab-front"
    both = (f"{mount.name}-tab-in", f"{mount.name}-tab-out")
    return both if inner_way(mount) < 0 else (both[1], both[0])


def _parts(context: BracketContext, mount: Mount, kind: TabKind, plates: list[_Plate]) -> list[Part]:
    joint = needed_joint(mount)
    between = f"{decimal(mount.inside)} between the tabs, over a joint {fraction(joint.width)} wide"
    alone = (
        f"stands alone: the bolt is in single shear; its face {decimal(joint.width / 2.0)} from the middle of the joint"
    )
    parts: dict[str, Part] = {}
    for plate in plates:
        if plate.name in parts:
            old = parts[plate.name]
            parts[plate.name] = replace(old, quantity=2, notes=(*old.notes, NOTE_EARS))
            continue
        parts[plate.name] = context.plate(
            mount,
            name=plate.name,
            label=f"{kind.noun} of the {mount.label}",
            thickness=mount.thickness,
            profile=plate.made.profile,
            datum="on the bolt's line; marked face to the bolt's left end, y away from what it is welded to",
            notes=(
                f"sits on the {mount.base.words} with {decimal(float(mount.spec.gap))} at the root; "
                + (between if len(plates) == 2 else alone),
                *open_root(mount, plate.made.base),
                *kind.notes,
            ),
        )
    return list(parts.values())


def _gusset(
    context: BracketContext, mount: Mount, plate: _Plate
) -> tuple[Part, Placement, tuple[Seam, ...], float] | None:
    """A gusset behind a single tab, square to it, in the plane of the bolt; None without room.

    With its place, its seams on what the bracket stands on, and their length.
    """
    stand = _behind(mount, plate)
    if stand is None:
        return None
    thick = mount.thickness
    low = base_edge(mount, stand, 1.0).ends[0][1]
    high = -WASHER * needed_joint(mount).shank - WRENCH
    tall, leg = high - low, _gusset_leg(mount)
    snipe = float(mount.spec.leg) + SNIPE
    least = snipe + LEAST_RUN * leg  # beads on its back and its foot as long as a bead must be
    if tall < least:
        return None
    bx, by, bz = (float(v) for v in stand.direction(mount.bolt))
    clear = thick / 2.0 * abs(bz / bx)  # a tab that stands askew comes nearer on one face of the gusset

    def back(y: float) -> float:
        return clear - by * y / bx

    wide = max(SPREAD * tall, least)
    near, far = back(low) + snipe, back(low) + wide
    outer = filleted(
        (
            (near, low, 0.0),
            (far, low, 0.0),
            (far, low + TOE, ROUND),
            (back(high) + TOE, high, ROUND),
            (back(high), high, 0.0),
            (back(low + snipe), low + snipe, 0.0),
        )
    )
    part = context.plate(
        mount,
        name=f"{mount.name}-gusset",
        label=f"Gusset of the {mount.called('tab')}",
        thickness=thick,
        profile=Profile(outer=outer),
        datum="on the back of the tab, in the bolt's height; y away from what it is welded to",
        notes=("behind the tab, away from the joint; its sniped corner lets the tab's bead pass under it",),
    )
    ends = [(stand.outward(near, low, f), stand.outward(far, low, f)) for f in (0.0, thick)]
    beads = tuple(Seam(part.name, a, b, leg) for a, b in ends)
    return part, stand.placement(part.name, mount.name), beads, 2.0 * (far - near)


def _gusset_leg(mount: Mount) -> float:
    """Of the beads of a gusset [mm]: no larger than three quarters of its plate."""
    return min(float(mount.spec.leg), 0.75 * mount.thickness)


def _behind(mount: Mount, plate: _Plate) -> Stand | None:
    """A stand behind a tab: x away from its back along what it is welded to, y away from that; None along a tube."""
    way = 1.0 if plate.offset > 0.0 else -1.0  # away from the joint
    bolt = np.array(mount.bolt)
    back = np.array(mount.point) + (plate.offset + way * mount.thickness) * bolt
    if isinstance(mount.base, FlatBase):
        y = np.array(mount.base.normal)
        x = way * (bolt - (bolt @ y) * y)
    else:
        along, off = np.array(mount.base.along), back - np.array(mount.base.point)
        if abs(bolt @ along) < ALONG:
            return None
        y = off - (off @ along) * along
        x = along * np.sign(way * (bolt @ along))
    y, x = y / np.linalg.norm(y), x / np.linalg.norm(x)
    z = np.cross(x, y)
    return Stand(back - mount.thickness / 2.0 * z, np.stack([x, y, z], axis=1))


def _turned(mount: Mount, plate: _Plate) -> tuple[Seam, ...]:
    """The bead turned round both feet: without it a foot is held along one line, which carries no moment."""
    (face,), stand = plate.faces, plate.made.stand
    far = mount.thickness - face
    return tuple(
        Seam(plate.name, stand.outward(x, y, face), stand.outward(x, y, far), float(mount.spec.leg), lengthwise=False)
        for x, y in plate.made.base.ends
    )


def _hardware(mount: Mount, count: int) -> Hardware:
    found = bolt_hardware(mount)
    if count == 2:
        return found
    joint = needed_joint(mount)
    grip = f"{bolt_length(joint.bolt, joint.width + mount.thickness)} must reach through the joint into the tab"
    wide = f"outside over {decimal(joint.body)}: keeps the joint on if its bush fails"
    return ((found[0][0], grip, 1, mount.label), *found[1:], (f"washer {joint.bolt}, large", wide, 1, mount.label))


def other_bolt_words(context: BracketContext, mount: Mount) -> tuple[str, ...]:
    """How far the bolts at both ends stand from parallel at ride, in words; nothing where one end is known."""
    found = []
    for other in context.brackets.mounts:
        if other.holds != mount.holds or other.name == mount.name or other.joint is None:
            continue
        turn = np.degrees(np.arccos(min(1.0, abs(float(np.dot(other.bolt, mount.bolt))))))
        found.append(f"at ride its bolt stands {turn:.1f} deg to the bolt at the other end; bushes take a few degrees")
    return tuple(found)
