"""Plates between the ears of tall brackets: they set the room, and stand on what the bracket is welded to."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from fixturegen.brackets.ears import is_square
from fixturegen.brackets.flanks import DRAIN, clear_of
from fixturegen.brackets.frames import Stand
from fixturegen.brackets.gussets import BEAD, SNIPE, foot_line, stretches
from fixturegen.brackets.registry import BracketContext
from fixturegen.brackets.words import ends_of
from fixturegen.errors import GeometryFault
from fixturegen.parts.joinery import filleted, tab
from fixturegen.plate import Loop, Part, Placement, Profile, Weld
from fixturegen.plate.nearness import encloses
from fixturegen.studies.bracket_records import FlatBase, Mount, Seam

TAB = 20.0  # length of the plate's tabs [mm]
LEGS = 4.0  # of length over leg below which a run of fillet does not count [1] (AISC 360, J2.2b)
SHOULDER = 6.0  # above the upper tab, so that its relief stays within the plate [mm]
NARROWEST = 15.0  # of its lower edge between the snipes, to be welded [mm] (common practice, no source)
TWO_TABS = 100.0  # a plate this high has two tabs a side [mm]


def names_of(mount: Mount, what: str) -> list[str]:
    """Names of two plates: one name where they are alike."""
    if is_square(mount):
        return [f"{mount.name}-{what}"] * 2
    return [f"{mount.name}-{what}-{end}" for end in ends_of(mount)]


def tab_steps(low: float, top: float) -> tuple[float, ...]:
    """Middles of the plate's tabs along the ears [mm]; the upper one sets the place."""
    high = top - low
    upper = top - high * (0.25 if high >= TWO_TABS else 0.5)
    return (upper, low + 0.3 * high) if high >= TWO_TABS else (upper,)


def covered_top(outlines: Sequence[Loop], x: float, top: float, least: float) -> float:
    """Highest place, no higher than `top` and no lower than `least`, that an ear covers out to x [mm].

    Args:
        outlines: Of the ears.
        x: Of the plate's face away from the joint [mm].
        top: Wanted [mm].
        least: Needed [mm].
    """
    while top > least and not all(encloses(o, x, top) for o in outlines):
        top -= 1.0
    return max(top, least)


def back_place(stand: Stand, x: float, half: float, thick: float) -> Stand:
    """The frame of a plate between two ears: x along the bolt, y away from what it stands on, z away from the joint.

    Its middle plane is z = 0, its origin level with the bolt, half way between the ears.

    Args:
        stand: Of the ear at the bolt's beginning.
        x: Of the plate's middle plane in that frame [mm].
        half: Half the room between the ears [mm].
        thick: Of an ear [mm].
    """
    z, y = np.copysign(1.0, x) * stand.rotation[:, 0], stand.rotation[:, 1]
    return Stand(np.array(stand.outward(x, 0.0, half + thick)), np.stack([np.cross(y, z), y, z], axis=1))


def back_weld(mount: Mount, name: str, found: tuple[Seam, ...]) -> tuple[list[Weld], tuple[Seam, ...]]:
    """The weld of the plate on what the bracket stands on, and the seams of it that count.

    A run shorter than four legs is laid, but counts for nothing (AISC 360, J2.2b).

    Args:
        mount: The bracket.
        name: Of the plate.
        found: Its seams.
    """
    if not found:
        return [], ()
    leg, long = float(mount.spec.leg), sum(math.dist(s.begin, s.end) for s in found)
    counts = long >= LEGS * leg
    words = "outside of the back plate" + ("" if counts else "; too short to carry, it keeps the water out")
    return [Weld((name, mount.base.words), leg, long, words)], found if counts else ()


def _crown(mount: Mount, middle: Stand) -> float:
    """Height along y of the highest line of a tube [mm]."""
    base = mount.base
    if isinstance(base, FlatBase):
        return -clear_of(mount)
    off, along = np.array(base.point) - middle.origin, np.array(base.along)
    return float((off - (off @ along) * along) @ middle.rotation[:, 1]) + base.radius


def back_plate(
    context: BracketContext, mount: Mount, middle: Stand, steps: tuple[float, ...], top: float
) -> tuple[Part, Placement, tuple[Seam, ...]]:
    """The plate between the ears, marked face away from the joint; its seams, none on a round tube.

    On a flat face it is welded down, its corners sniped; over a tube it ends above the drain.

    Args:
        context: The job.
        mount: The bracket.
        middle: Where it stands, of `back_place`.
        steps: Middles of its tabs along y [mm].
        top: Its upper edge along y [mm].

    Raises:
        GeometryFault: When it has no room.
    """
    half, thick = mount.inside / 2.0, mount.thickness
    kerf, welded = float(context.sheet.process.kerf), isinstance(mount.base, FlatBase)
    snipe = max(SNIPE, float(mount.spec.leg) + BEAD)
    corners = (-half, -half + snipe, half - snipe, half)
    feet = [foot_line(mount, middle, x, thick) if welded else _crown(mount, middle) + DRAIN for x in corners]
    ends, sides = [(corners[k], feet[k]) for k in (1, 2)], [feet[0] + snipe, feet[3] + snipe]
    if min(steps) - TAB / 2.0 < max(sides):
        short = max(sides) - min(steps) + TAB / 2.0
        words = f"the plate between its ears is {short:.0f} mm too low for a tab over its cut-off corners"
        raise GeometryFault(mount.label, words, "move the point out by twice as much, or take the kind two-tab")
    if 2.0 * (half - snipe) < NARROWEST:
        words = f"the plate between its ears, {2.0 * half:.0f} mm wide, leaves no room between cut-off corners"
        raise GeometryFault(mount.label, words, "take a smaller leg, or the kind two-tab")
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
    part = context.plate(
        mount,
        name=f"{mount.name}-back",
        label=f"Back plate of the {mount.called('bracket')}",
        thickness=thick,
        profile=Profile(outer=outer),
        datum="middle of the plate, level with the bolt; y away from what it is welded to, marked face off the joint",
        notes=("its shoulders set the room between the ears; the cut-off corners stay open so that water leaves",),
    )
    place = Stand(np.array(middle.outward(0.0, 0.0, -thick / 2.0)), middle.rotation).placement(part.name, mount.name)
    a, b = (middle.outward(x, y, thick / 2.0) for x, y in ends)
    return part, place, stretches(part.name, a, b, float(mount.spec.leg)) if welded else ()
