"""Closed loops of exact lines and arcs, and the holes kept apart from them.

A loop is a tuple of vertices; each vertex carries the bulge of the edge that leaves it, as DXF has
it: bulge = tan(included angle / 4), positive when the arc turns counter-clockwise, 0 for a line.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from typing import Literal

STRAIGHT = 1e-9  # [mm] an edge that bows by less is a line: its centre would lie beyond reckoning
LOOPS_KEPT = 2048  # a job has some hundred; every check asks for their edges again


class Purpose(StrEnum):
    """What a hole is for; finished size and operation follow from it (see `operation`)."""

    ANGLE = "angle"  # sets an angle: pilot mark, then stack-drilled and reamed
    DOWEL = "dowel"  # locates: pilot mark, then drilled with its mate and reamed
    BORE = "bore"  # bored on a mill or lathe
    BOLT = "bolt"  # clearance for a bolt
    JOINT = "joint"  # bolt of a link, track bar, drag link or shock: drilled and reamed to its shank
    TABLE = "table"  # clearance for a table pin or table bolt
    TAP = "tap"  # tapped; pilot mark
    ACCESS = "access"  # a hand, a torch, a wrench, water
    LIGHTENING = "lightening"
    RELIEF = "relief"  # corner relief of a slot


Fit = Literal["", "close", "normal", "loose", "reamed"]
"""Class of a bolt's hole: a clearance class of the standard, reamed to the shank, or none said."""


class Operation(StrEnum):
    """What is done at the cutter for a hole."""

    CUT = "cut"
    UNDERCUT = "cut_under_and_drill"
    PILOT = "pilot_mark"


@dataclass(frozen=True)
class Vertex:
    """A corner [mm] and the bulge of the edge that leaves it [1]."""

    x: float
    y: float
    bulge: float = 0.0


Loop = tuple[Vertex, ...]


@dataclass(frozen=True)
class Hole:
    """A round hole.

    Attributes:
        x: Centre in the part frame [mm].
        y: Centre in the part frame [mm].
        finished: Finished diameter [mm].
        purpose: What it is for.
        label: What the drawing calls it ("index 1", "bar bore"); also what a check looks it up by.
        operation: What is done at the cutter.
        cut: Diameter at the cutter [mm]; None for a pilot mark.
        note: What the drill does afterwards, in words.
        slot: How much longer than round it is made afterwards, in all [mm]; 0 for a round hole.
        slot_angle: Direction it is lengthened along, from x [deg].
        through: Diameter of what goes through, nominal for a bolt's clearance, measured for a joint's
            shank [mm]; None when it is not told.
        fit: Class of the hole, where it has one.
    """

    x: float
    y: float
    finished: float
    purpose: Purpose
    label: str = ""
    operation: Operation = Operation.CUT
    cut: float | None = None
    note: str = ""
    slot: float = 0.0
    slot_angle: float = 0.0
    through: float | None = None
    fit: Fit = ""


@dataclass(frozen=True)
class Edge:
    """One edge of a loop: start, end and, for an arc, centre, radius and sweep (signed, rad)."""

    x0: float
    y0: float
    x1: float
    y1: float
    centre: tuple[float, float] | None = None
    radius: float = 0.0
    sweep_rad: float = 0.0

    @property
    def length(self) -> float:
        """Length along the edge [mm]."""
        if self.centre is None:
            return math.hypot(self.x1 - self.x0, self.y1 - self.y0)
        return abs(self.sweep_rad) * self.radius


def edge_between(a: Vertex, b: Vertex) -> Edge:
    """The edge that leaves `a` and ends at `b`."""
    dx, dy = b.x - a.x, b.y - a.y
    chord = math.hypot(dx, dy)
    if not abs(a.bulge) * chord / 2.0 > STRAIGHT:  # so that a number that is none passes too
        return Edge(a.x, a.y, b.x, b.y)
    sweep = 4.0 * math.atan(a.bulge)
    radius = chord / (2.0 * abs(math.sin(sweep / 2.0)))
    # signed distance from the chord's middle to the centre, along the chord's left normal
    offset = chord / (2.0 * math.tan(sweep / 2.0))
    cx = (a.x + b.x) / 2.0 - offset * dy / chord
    cy = (a.y + b.y) / 2.0 + offset * dx / chord
    return Edge(a.x, a.y, b.x, b.y, (cx, cy), radius, sweep)


@lru_cache(maxsize=LOOPS_KEPT)
def edges(loop: Loop) -> tuple[Edge, ...]:
    """The edges of a closed loop, in order."""
    return tuple(edge_between(v, loop[(i + 1) % len(loop)]) for i, v in enumerate(loop))


def signed_area(loop: Loop) -> float:
    """Area inside the loop [mm2], positive when it runs counter-clockwise; by Green's theorem."""
    total = 0.0
    for e in edges(loop):
        total += (e.x0 * e.y1 - e.x1 * e.y0) / 2.0
        if e.centre is not None:
            total += e.radius**2 * (e.sweep_rad - math.sin(e.sweep_rad)) / 2.0
    return total


def perimeter(loop: Loop) -> float:
    """Length round the loop [mm]."""
    return sum(e.length for e in edges(loop))


def reversed_loop(loop: Loop) -> Loop:
    """The same loop run the other way."""
    n = len(loop)
    # 0 less a bulge of 0 keeps its plus sign, which a minus in front would not
    return tuple(Vertex(loop[-i % n].x, loop[-i % n].y, 0.0 - loop[(-i - 1) % n].bulge) for i in range(n))


def bounds(loop: Loop) -> tuple[float, float, float, float]:
    """(xmin, ymin, xmax, ymax) of the loop [mm], arcs included."""
    xs, ys = [v.x for v in loop], [v.y for v in loop]
    for e in edges(loop):
        if e.centre is None:
            continue
        start = math.atan2(e.y0 - e.centre[1], e.x0 - e.centre[0])
        for k in range(-8, 9):
            a = k * math.pi / 2.0
            inside = 0.0 < (a - start) * math.copysign(1.0, e.sweep_rad) < abs(e.sweep_rad)
            if inside:
                xs.append(e.centre[0] + e.radius * math.cos(a))
                ys.append(e.centre[1] + e.radius * math.sin(a))
    return min(xs), min(ys), max(xs), max(ys)


def rectangle(x0: float, y0: float, x1: float, y1: float) -> Loop:
    """A counter-clockwise rectangle between two corners [mm]."""
    return (Vertex(x0, y0), Vertex(x1, y0), Vertex(x1, y1), Vertex(x0, y1))


def circle(x: float, y: float, diameter: float) -> Loop:
    """A counter-clockwise circle as two half arcs [mm]."""
    r = diameter / 2.0
    return (Vertex(x - r, y, 1.0), Vertex(x + r, y, 1.0))


def hole_loop(hole: Hole) -> Loop:
    """The finished hole as a counter-clockwise loop: a circle, or a round-ended slot."""
    if hole.slot <= 0.0:
        return circle(hole.x, hole.y, hole.finished)
    r, half = hole.finished / 2.0, hole.slot / 2.0
    c, s = math.cos(math.radians(hole.slot_angle)), math.sin(math.radians(hole.slot_angle))

    def at(along: float, across: float) -> tuple[float, float]:
        return hole.x + along * c - across * s, hole.y + along * s + across * c

    return (
        Vertex(*at(-half, -r)),
        Vertex(*at(half, -r), 1.0),
        Vertex(*at(half, r)),
        Vertex(*at(-half, r), 1.0),
    )


@lru_cache(maxsize=LOOPS_KEPT)
def polyline(loop: Loop, deviation: float = 0.02) -> tuple[tuple[float, float], ...]:
    """Points round the loop (n, 2), arcs as chords within `deviation` [mm]."""
    points: list[tuple[float, float]] = []
    for e in edges(loop):
        points.append((e.x0, e.y0))
        if e.centre is None:
            continue
        step = 2.0 * math.acos(max(-1.0, 1.0 - deviation / e.radius)) if e.radius > deviation else 1.0
        n = max(1, math.ceil(abs(e.sweep_rad) / step))
        start = math.atan2(e.y0 - e.centre[1], e.x0 - e.centre[0])
        for i in range(1, n):
            a = start + e.sweep_rad * i / n
            points.append((e.centre[0] + e.radius * math.cos(a), e.centre[1] + e.radius * math.sin(a)))
    return tuple(points)
