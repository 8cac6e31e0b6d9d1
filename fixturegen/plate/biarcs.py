"""Curves of any kind as chains of tangent arcs within a stated deviation."""

from __future__ import annotations

import math
from collections.abc import Callable

from fixturegen.errors import GeometryFault
from fixturegen.plate.profile import Vertex

Point = tuple[float, float]
Curve = Callable[[float], tuple[Point, Point]]

SAMPLES = 8  # parts of the curve whose ends are compared with each pair of arcs
ORDER = (2, 6, 3, 5, 1, 7, 4)  # in the middle of each arc a pair is off most
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
    way = 1.0 if end > start else -1.0
    middle = (start + end) / 2.0
    # a stretch that begins and ends alike (a closed curve, an S) tells nothing by its ends
    found: list[Vertex] = []
    waiting = [(middle, end, curve(middle), curve(end), 0), (start, middle, curve(start), curve(middle), 0)]
    while waiting:
        a, b, from_, to, depth = waiting.pop()
        arcs = _biarc(from_[0], _unit(from_[1], way), to[0], _unit(to[1], way))
        if arcs is not None and _holds(arcs, to[0], curve, a, b, deviation):
            found += arcs
            continue
        if depth >= DEEPEST:
            raise GeometryFault("curve", f"it has no arcs within {deviation:g} mm", "draw it of lines and arcs")
        halfway = (a + b) / 2.0
        at = curve(halfway)
        waiting += [(halfway, b, at, to, depth + 1), (a, halfway, from_, at, depth + 1)]
    return found


def _holds(arcs: list[Vertex], last: Point, curve: Curve, start: float, end: float, deviation: float) -> bool:
    """Whether the curve keeps to a pair of arcs, seen at some of its points, the likeliest to be off first."""
    first, joint = arcs
    # a point before the cross line of the joint belongs to the first arc; both arcs are tangent there
    bearing = math.atan2(joint.y - first.y, joint.x - first.x) + 2.0 * math.atan(first.bulge)
    jx, jy = math.cos(bearing), math.sin(bearing)
    pair = _offness(first.x, first.y, first.bulge, joint.x, joint.y), _offness(joint.x, joint.y, joint.bulge, *last)
    step = (end - start) / SAMPLES
    for k in ORDER:
        x, y = curve(start + k * step)[0]
        if pair[(x - joint.x) * jx + (y - joint.y) * jy > 0.0](x, y) > deviation:
            return False
    return True


def _offness(x0: float, y0: float, bulge: float, x1: float, y1: float) -> Callable[[float, float], float]:
    """How far a point lies off the line or circle that an arc is part of [mm], as a function of the point."""
    dx, dy = x1 - x0, y1 - y0
    chord = math.hypot(dx, dy) or 1.0
    if abs(bulge) < STRAIGHT:
        nx, ny = -dy / chord, dx / chord
        return lambda x, y: abs((x - x0) * nx + (y - y0) * ny)
    # from the middle of the chord to the centre, over the chord: 1 / (2 tan(sweep / 2)), with bulge = tan(sweep / 4)
    off = (1.0 - bulge * bulge) / (4.0 * bulge)
    cx, cy = (x0 + x1) / 2.0 - off * dy, (y0 + y1) / 2.0 + off * dx
    radius, hypot = chord * (1.0 + bulge * bulge) / (4.0 * abs(bulge)), math.hypot
    return lambda x, y: abs(hypot(x - cx, y - cy) - radius)


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
