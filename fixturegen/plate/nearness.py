"""How far points, holes and loops stand from one another; no kernel."""

from __future__ import annotations

import math
from collections.abc import Iterable

from fixturegen.plate.profile import Edge, Hole, Loop, edges, polyline

Point = tuple[float, float]


def edge_to_point(edge: Edge, x: float, y: float) -> float:
    """Distance [mm] from the point (x, y) [mm] to the nearest place of the edge."""
    ends = min(math.hypot(x - edge.x0, y - edge.y0), math.hypot(x - edge.x1, y - edge.y1))
    if edge.centre is None:
        dx, dy = edge.x1 - edge.x0, edge.y1 - edge.y0
        squared = dx * dx + dy * dy
        if squared == 0.0:
            return ends
        along = ((x - edge.x0) * dx + (y - edge.y0) * dy) / squared
        if not 0.0 < along < 1.0:
            return ends
        return abs((x - edge.x0) * dy - (y - edge.y0) * dx) / math.sqrt(squared)
    px, py = x - edge.centre[0], y - edge.centre[1]
    if px == py == 0.0:
        return edge.radius
    start = math.atan2(edge.y0 - edge.centre[1], edge.x0 - edge.centre[0])
    turned = (math.atan2(py, px) - start) * math.copysign(1.0, edge.sweep_rad) % (2.0 * math.pi)
    if turned > abs(edge.sweep_rad):
        return ends
    return min(ends, abs(math.hypot(px, py) - edge.radius))


def loop_to_point(loop: Loop, x: float, y: float) -> float:
    """Distance [mm] from the point (x, y) [mm] to the line of the loop, inside or outside."""
    return min(edge_to_point(edge, x, y) for edge in edges(loop))


def encloses(loop: Loop, x: float, y: float) -> bool:
    """Whether the loop runs round the point (x, y) [mm]; arcs are taken exactly."""
    turns = 0.0
    for edge in edges(loop):
        a = math.atan2(edge.y0 - y, edge.x0 - x)
        b = math.atan2(edge.y1 - y, edge.x1 - x)
        turn = (b - a + math.pi) % (2.0 * math.pi) - math.pi
        if edge.centre is not None and _in_segment(edge, x, y):
            # seen from between arc and chord, the arc runs round the other way
            turn += math.copysign(2.0 * math.pi, edge.sweep_rad)
        turns += turn
    return abs(turns) > math.pi


def _in_segment(edge: Edge, x: float, y: float) -> bool:
    if edge.centre is None or math.hypot(x - edge.centre[0], y - edge.centre[1]) > edge.radius:
        return False
    cross = (edge.x1 - edge.x0) * (y - edge.y0) - (edge.y1 - edge.y0) * (x - edge.x0)
    return cross * edge.sweep_rad < 0.0


def hole_to_loop(hole: Hole, loop: Loop) -> float:
    """Steel [mm] between the finished hole and the line of the loop; negative when it breaks out.

    A hole the outline does not enclose counts as broken out only if its circle meets the line.
    """
    return loop_to_point(loop, hole.x, hole.y) - hole.finished / 2.0


def hole_to_hole(a: Hole, b: Hole) -> float:
    """Steel [mm] between two finished holes; negative when they run into each other."""
    return math.hypot(a.x - b.x, a.y - b.y) - (a.finished + b.finished) / 2.0


def loop_to_loop(a: Loop, b: Loop, deviation: float = 0.02) -> float:
    """Distance [mm] between the lines of two loops that do not cross, to within the deviation [mm].

    Measured from points along each loop to the exact edges of the other.
    """
    return min(_least(polyline(a, deviation), b), _least(polyline(b, deviation), a))


def _least(points: Iterable[Point], loop: Loop) -> float:
    return min(loop_to_point(loop, x, y) for x, y in points)
