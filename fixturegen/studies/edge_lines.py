"""Edges of lines and arcs as plans tell them: corners, each with the bulge of the line or arc that leaves it.

bulge = tan(included angle / 4), positive when the arc turns counter-clockwise; 0 for a line.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

STRAIGHT = 1e-9  # [mm] an edge that bows by less is a line


@dataclass(frozen=True)
class Corner:
    """A corner [mm] and the bulge of what leaves it [1]."""

    x: float
    y: float
    bulge: float = 0.0


Ring = tuple[Corner, ...]


def chords(edge: Ring, deviation: float, *, closed: bool) -> tuple[tuple[float, float], ...]:
    """Points along an edge (n, 2), arcs as chords within a deviation [mm]; the last corner of an open one is there.

    Args:
        edge: Its corners.
        deviation: Farthest a chord may lie off its arc [mm].
        closed: Whether the last corner is joined to the first.
    """
    found: list[tuple[float, float]] = []
    for a, b in zip(edge, (*edge[1:], edge[0]) if closed else edge[1:], strict=False):
        found += _chords(a, b, deviation)
    return tuple(found) if closed else (*found, (edge[-1].x, edge[-1].y))


def _chords(a: Corner, b: Corner, deviation: float) -> list[tuple[float, float]]:
    dx, dy = b.x - a.x, b.y - a.y
    chord = math.hypot(dx, dy)
    if abs(a.bulge) * chord / 2.0 <= STRAIGHT:
        return [(a.x, a.y)]
    sweep = 4.0 * math.atan(a.bulge)
    radius = chord / (2.0 * abs(math.sin(sweep / 2.0)))
    off = chord / (2.0 * math.tan(sweep / 2.0))
    cx, cy = (a.x + b.x) / 2.0 - off * dy / chord, (a.y + b.y) / 2.0 + off * dx / chord
    start = math.atan2(a.y - cy, a.x - cx)
    step = 2.0 * math.acos(max(-1.0, 1.0 - deviation / radius)) if radius > deviation else 1.0
    n = max(1, math.ceil(abs(sweep) / step))
    return [
        (a.x, a.y),
        *(
            (cx + radius * math.cos(start + sweep * i / n), cy + radius * math.sin(start + sweep * i / n))
            for i in range(1, n)
        ),
    ]


def ring_round(x: float, y: float, diameter: float) -> Ring:
    """A clockwise circle of two half arcs: an opening [mm]."""
    r = diameter / 2.0
    return Corner(x - r, y, -1.0), Corner(x + r, y, -1.0)
