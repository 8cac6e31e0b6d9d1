"""Gussets and braces: triangles that stand on what the bracket is welded to and against one of its plates.

Their inner corner is sniped, so that the plate's own weld runs on under them, and their toes are blunt:
a feather edge burns away and cracks first.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from fixturegen.axle.model import Point
from fixturegen.brackets.frames import Stand
from fixturegen.brackets.registry import BracketContext
from fixturegen.errors import GeometryFault
from fixturegen.parts.joinery import filleted
from fixturegen.plate import Part, Placement, Profile, Weld
from fixturegen.studies.bracket_records import FlatBase, Mount, Seam

SNIPE = 12.0  # least cut off an inner corner [mm] (common practice, no source)
BEAD = 4.0  # a snipe is larger than the leg of the weld that runs under it by this [mm] (common practice, no source)
NOSE = 8.0  # width of a toe [mm] (common practice, no source)
ROUND = 3.0  # radius of outside corners [mm]
SLOPE = 0.6  # of a gusset's height it reaches out at least [1] (common practice, no source)
LEAST = 25.0  # a gusset with less weld on a side holds nothing [mm] (common practice, no source)
STRETCH = 12.0  # of a straight seam in one piece [mm]
SIDE_LEG = 0.75  # leg of the welds between plates of a bracket, in plate thicknesses [1] (common practice, no source)


@dataclass(frozen=True)
class Gusset:
    """A gusset as made: the part, where it stands, its welds, and its seams on what the bracket stands on."""

    part: Part
    placement: Placement
    welds: tuple[Weld, ...]
    seams: tuple[Seam, ...]


def stretches(part: str, begin: Point, end: Point, leg: float) -> tuple[Seam, ...]:
    """A straight seam in short stretches; a check takes a long one for the chord of an arc.

    Args:
        part: What is welded.
        begin: Where the bead begins [mm].
        end: Where it ends [mm].
        leg: Of its fillet [mm].
    """
    a, b = np.array(begin), np.array(end)
    n = max(1, math.ceil(math.dist(begin, end) / STRETCH))
    at = [a + (b - a) * k / n for k in range(n + 1)]
    points = [(float(p[0]), float(p[1]), float(p[2])) for p in at]
    return tuple(Seam(part, p, q, leg) for p, q in pairwise(points))


def drop(mount: Mount, stand: Stand, x: float, z: float) -> float:
    """Height along y of a frame at which (x, y, z) is as far from what a bracket stands on as its root gap [mm].

    Args:
        mount: The bracket.
        stand: The frame; y away from what the bracket stands on.
        x: In that frame [mm].
        z: In that frame [mm].

    Raises:
        GeometryFault: When a line along y does not meet it.
    """
    gap, base = float(mount.spec.gap), mount.base
    start, way = np.array(stand.outward(x, 0.0, z)), stand.rotation[:, 1]
    off = start - np.array(base.point)
    if isinstance(base, FlatBase):
        normal = np.array(base.normal)
        return float((gap - off @ normal) / (way @ normal))
    along = np.array(base.along)
    off, way = off - (off @ along) * along, way - (way @ along) * along
    # |off + y way| = radius + gap, the outer of both places
    a, b, c = float(way @ way), float(off @ way), float(off @ off) - (base.radius + gap) ** 2
    room = b * b - a * c
    if room <= 0.0 or a == 0.0:
        words = f"a gusset would pass the {base.words} by {math.sqrt(max(0.0, -room)):.0f} mm"
        raise GeometryFault(mount.label, words, "check the point, or stand the bracket elsewhere")
    return (-b + math.sqrt(room)) / a


def foot_line(mount: Mount, stand: Stand, x: float, thick: float) -> float:
    """The same for a plate from z = -thick/2 to thick/2: the higher of both faces [mm]."""
    return max(drop(mount, stand, x, -thick / 2.0), drop(mount, stand, x, 0.0), drop(mount, stand, x, thick / 2.0))


def gusset(
    context: BracketContext, mount: Mount, name: str, against: str, stand: Stand, reach: float, top: float
) -> Gusset:
    """A gusset against a plate.

    Args:
        context: The job.
        mount: The bracket.
        name: Of its part.
        against: Name of the part it stands against.
        stand: x away from that part's face, y up along it, the gusset's middle plane at z = 0.
        reach: How far it goes out [mm].
        top: Where it ends along y [mm].

    Raises:
        GeometryFault: When too little of it is left to weld.
    """
    thick, leg = mount.thickness, float(mount.spec.leg)
    snipe = max(SNIPE, leg + BEAD)
    low, inner, toe = (foot_line(mount, stand, x, thick) for x in (0.0, snipe, reach))
    if top - low - snipe < LEAST or reach - snipe < LEAST:
        words = f"a gusset against {against} is left {min(top - low, reach) - snipe:.0f} mm to be welded along"
        raise GeometryFault(mount.label, words, f"{LEAST:.0f} mm are needed: move the point out")
    outer = filleted(
        (
            (snipe, inner, 0.0),
            (reach, toe, ROUND),
            (reach, toe + NOSE, ROUND),
            (NOSE, top, ROUND),
            (0.0, top, 0.0),
            (0.0, low + snipe, 0.0),
        )
    )
    part = context.plate(
        mount,
        name=name,
        label=f"Gusset of the {mount.called('bracket')}",
        thickness=thick,
        profile=Profile(outer=outer),
        datum="on the face of the plate it stands against; y away from what the bracket is welded to",
        notes=("the cut-off corner lets the weld below run on under it; weld round the toes, do not fill the corner",),
    )
    z = -thick / 2.0
    place = Stand(np.array(stand.outward(0.0, 0.0, z)), stand.rotation).placement(name, mount.name)
    found = stretches(name, stand.outward(snipe, inner), stand.outward(reach, toe), leg)
    welds = (
        Weld((name, mount.base.words), leg, math.hypot(reach - snipe, toe - inner), "both sides, round the toe"),
        Weld((name, against), SIDE_LEG * thick, top - low - snipe, "both sides, round the toe"),
    )
    return Gusset(part, place, welds, found)
