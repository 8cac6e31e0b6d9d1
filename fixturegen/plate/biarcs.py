"""Curves of any kind as chains of tangent arcs within a stated deviation."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise

from fixturegen.errors import GeometryFault
from fixturegen.plate.nearness import edge_to_point
from fixturegen.plate.profile import Vertex, edge_between

Point = tuple[float, float]
Curve = Callable[[float], tuple[Point, Point]]

SAMPLES = 12  # points of the curve compared with each pair of arcs
DEEPEST = 16  # halvings before a curve is given up
STRAIGHT = 1e-9  # [1] a turn smaller than this is a line


def biarc_chain(curve: Curve, start: float, end: float, deviation: float) -> list[Vertex]:
    """Vertices of a chain of tangent arcs that follows the curve, its last point left out.

    Each stretch takes the biarc with equal tangent lengths and is halved until it fits.
    Source: K. M. Bolton, Biarc curves, Computer-Aided Design 7(2), 1975 (from memory).

    Args:
        curve: Parameter to (point [mm], tangent of any length), smooth between its ends.
        start: Parameter where the chain starts.
        end: Parameter where it ends; smaller than `start` to run backward.
        deviation: Farthest the chain may lie off the curve [mm].
    """
    middle = (start + end) / 2.0
    # a stretch that begins and ends alike (a closed curve, an S) tells nothing by its ends
    return _stretch(curve, start, middle, deviation, 0) + _stretch(curve, middle, end, deviation, 0)


def _stretch(curve: Curve, start: float, end: float, deviation: float, depth: int) -> list[Vertex]:
    way = 1.0 if end > start else -1.0
    (p0, t0), (p1, t1) = curve(start), curve(end)
    arcs = _biarc(p0, _unit(t0, way), p1, _unit(t1, way))
    if arcs is not None:
        chain = [*arcs, Vertex(p1[0], p1[1])]
        pair = [edge_between(a, b) for a, b in pairwise(chain)]
        steps = [start + (end - start) * k / SAMPLES for k in range(1, SAMPLES)]
        points = [curve(step)[0] for step in steps]
        if all(min(edge_to_point(e, x, y) for e in pair) <= deviation for x, y in points):
            return arcs
    if depth >= DEEPEST:
        raise GeometryFault("curve", f"it has no arcs within {deviation:g} mm", "draw it of lines and arcs")
    middle = (start + end) / 2.0
    first = _stretch(curve, start, middle, deviation, depth + 1)
    return first + _stretch(curve, middle, end, deviation, depth + 1)


def _biarc(p0: Point, t0: Point, p1: Point, t1: Point) -> list[Vertex] | None:
    vx, vy = p1[0] - p0[0], p1[1] - p0[1]
    squared = vx * vx + vy * vy
    if squared == 0.0:
        return None
    sx, sy = t0[0] + t1[0], t0[1] + t1[1]
    # d of |v - d (t0 + t1)| = 2 d, the equal tangent length of both arcs
    along = vx * sx + vy * sy
    a = 4.0 - (sx * sx + sy * sy)
    if a < STRAIGHT:
        if along <= 0.0:
            return None
        d = squared / (2.0 * along)
    else:
        d = (-along + math.sqrt(along * along + a * squared)) / a
    joint = (p0[0] + (vx + d * (t0[0] - t1[0])) / 2.0, p0[1] + (vy + d * (t0[1] - t1[1])) / 2.0)
    first = _bulge(p0, t0, joint)
    second = -_bulge(p1, (-t1[0], -t1[1]), joint)
    if max(abs(first), abs(second)) > 1.0:
        return None
    return [Vertex(p0[0], p0[1], first), Vertex(joint[0], joint[1], second)]


def _bulge(start: Point, tangent: Point, end: Point) -> float:
    """Bulge of the arc that leaves the start along the tangent and ends at the end."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    chord = math.hypot(dx, dy)
    turn = math.atan2(tangent[0] * dy - tangent[1] * dx, tangent[0] * dx + tangent[1] * dy)
    return 0.0 if chord == 0.0 or abs(turn) < STRAIGHT else math.tan(turn / 2.0)


def _unit(tangent: Point, way: float) -> Point:
    length = math.hypot(*tangent)
    if length == 0.0:
        raise GeometryFault("curve", "it stands still at a point", "draw it of lines and arcs")
    return (way * tangent[0] / length, way * tangent[1] / length)
