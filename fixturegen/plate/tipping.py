"""Whether a loose piece of plate lies safely on the slats of a cutting table.

Slats are parallel lines a pitch apart; a piece may come to lie anywhere on them and turned any way.
A stretch as long as the pitch always has a slat under it, a shorter one may have none. So:

- a piece shorter than the pitch every way may find no slat at all: it *falls* between them, or hangs
  on a single one and tips;
- a piece whose edge is nearer to its middle (of mass) than the pitch, in any direction, may have no
  slat under that side: it *tips* over the next slat, its light end up into the torch's way;
- any other piece has a slat on either side of its middle, wherever it lies: it stays *flat*.

Source: equilibrium on parallel supports, derived. Widths are those of the convex hull.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from fixturegen.plate.part import Part
from fixturegen.plate.profile import Loop, Operation, circle, polyline

Point = tuple[float, float]
Way = Literal["falls", "tips", "flat"]

DEVIATION = 0.01  # of the chords that stand for arcs [mm]


@dataclass(frozen=True)
class Tipping:
    """A piece that may fall or tip.

    Attributes:
        piece: "part", or what its cut-out is called.
        way: falls or tips.
        least: Least width [mm].
        length: Greatest width [mm].
        reach: From its middle to the nearest edge of its hull [mm].
        place: Its middle in the part frame [mm].
    """

    piece: str
    way: Way
    least: float
    length: float
    reach: float
    place: Point


def hull_of(points: tuple[Point, ...]) -> tuple[Point, ...]:
    """Corners of the convex hull of points (n, 2) [mm], counter-clockwise (monotone chain)."""
    ordered = sorted(set(points))
    chains = []
    for way in (ordered, ordered[::-1]):
        chain: list[Point] = []
        for p in way:
            while len(chain) > 1 and _turn(chain[-2], chain[-1], p) <= 0.0:
                chain.pop()
            chain.append(p)
        chains.append(chain[:-1])
    return tuple(chains[0] + chains[1])


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def least_width(hull: tuple[Point, ...]) -> float:
    """Least distance of two parallel lines with the hull (n, 2) [mm] between them [mm].

    One of the lines lies on an edge. Source: rotating calipers, Shamos 1978, from memory.
    """
    corners = np.array(hull)
    along = np.roll(corners, -1, axis=0) - corners
    off = corners[None, :, :] - corners[:, None, :]
    across = along[:, None, 0] * off[:, :, 1] - along[:, None, 1] * off[:, :, 0]
    return float((across.max(axis=1) / np.hypot(along[:, 0], along[:, 1])).min())


def greatest_width(hull: tuple[Point, ...]) -> float:
    """Greatest distance of two corners of the hull (n, 2) [mm]."""
    corners = np.array(hull)
    apart = corners[None, :, :] - corners[:, None, :]
    return float(np.hypot(apart[:, :, 0], apart[:, :, 1]).max())


def middle_of(points: tuple[Point, ...]) -> Point:
    """Middle of the area inside points round a loop (n, 2) [mm]."""
    area = x = y = 0.0
    ox, oy = points[0]
    for (ax, ay), (bx, by) in zip(points, points[1:] + points[:1], strict=True):
        cross = (ax - ox) * (by - oy) - (bx - ox) * (ay - oy)
        area += cross
        x += cross * (ax + bx - 2.0 * ox)
        y += cross * (ay + by - 2.0 * oy)
    return ox + x / (3.0 * area), oy + y / (3.0 * area)


def reach_of(hull: tuple[Point, ...], middle: Point) -> float:
    """Distance from a point inside the hull (n, 2) [mm] to its nearest edge [mm]."""
    return min(_turn(a, b, middle) / math.dist(a, b) for a, b in zip(hull, hull[1:] + hull[:1], strict=True))


def lies(loop: Loop, slat_pitch: float, piece: str = "part", narrower: float = 0.0) -> Tipping:
    """How a piece of this outline lies on slats.

    Args:
        loop: Its outline, run either way.
        slat_pitch: From slat to slat [mm].
        piece: What it is called.
        narrower: How much the cut takes off it on each side [mm].
    """
    points = polyline(loop, DEVIATION)
    hull, middle = hull_of(points), middle_of(points)
    least = max(0.0, least_width(hull) - 2.0 * narrower)
    length = max(0.0, greatest_width(hull) - 2.0 * narrower)
    reach = max(0.0, reach_of(hull, middle) - narrower)
    way: Way = "falls" if length < slat_pitch else "tips" if reach < slat_pitch else "flat"
    return Tipping(piece, way, least, length, reach, middle)


def cut_outs(part: Part, kerf: float = 0.0) -> tuple[tuple[str, Loop], ...]:
    """Every piece the cutter takes out of a part, by name; holes that are only marked leave none.

    Args:
        part: A plate part.
        kerf: A hole narrower than both its kerfs leaves no slug [mm].
    """
    if part.profile is None:
        return ()
    found = [(f"opening {n}", loop) for n, loop in enumerate(part.profile.inner, 1)]
    for hole in part.profile.holes:
        size = hole.finished if hole.cut is None else hole.cut
        if hole.operation is not Operation.PILOT and size > 2.0 * kerf:
            found.append((hole.label or "hole", circle(hole.x, hole.y, size)))
    return tuple(found)


def tipping(part: Part, slat_pitch: float, kerf: float = 0.0) -> tuple[Tipping, ...]:
    """What of a part may fall or tip at the torch: its cut-outs, then the part itself.

    Args:
        part: A plate part; none other can tip.
        slat_pitch: From slat to slat [mm].
        kerf: It lies in the cut-out, so a slug is narrower by it on each side [mm].
    """
    if part.profile is None:
        return ()
    found = [lies(loop, slat_pitch, name, kerf) for name, loop in cut_outs(part, kerf)]
    found.append(lies(part.profile.outer, slat_pitch))
    return tuple(t for t in found if t.way != "flat")
