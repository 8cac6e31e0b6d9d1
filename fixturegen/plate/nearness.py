"""How far points, holes and loops stand from one another; no kernel."""

from __future__ import annotations

import math
from collections.abc import Iterable

from fixturegen.plate.profile import Edge, Hole, Loop, edges, polyline

Point = tuple[float, float]

ON_CHORD = 1e-9  # [1] a point that sees a chord's ends in line to this is taken to lie on it


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
    return abs(sum(_turn(edge, x, y) for edge in edges(loop))) > math.pi


def _turn(edge: Edge, x: float, y: float) -> float:
    """Angle [rad] through which one at (x, y) turns to follow the edge from end to end."""
    ax, ay, bx, by = edge.x0 - x, edge.y0 - y, edge.x1 - x, edge.y1 - y
    cross, dot = ax * by - ay * bx, ax * bx + ay * by
    turn = math.atan2(cross, dot)
    if edge.centre is None:
        return turn
    if abs(cross) <= ON_CHORD * (abs(dot) + 1.0):
        # on the chord's line its sides cannot be told apart: ask both halves of the arc
        return sum(_turn(half, x, y) for half in halves(edge))
    within = math.hypot(x - edge.centre[0], y - edge.centre[1]) < edge.radius
    # one between chord and arc turns the other way round than the chord would have it
    if within and cross * edge.sweep_rad < 0.0:
        turn += math.copysign(2.0 * math.pi, edge.sweep_rad)
    return turn


def halves(edge: Edge) -> tuple[Edge, Edge]:
    """Both halves of an edge."""
    x, y = (edge.x0 + edge.x1) / 2.0, (edge.y0 + edge.y1) / 2.0
    if edge.centre is not None:
        a = math.atan2(edge.y0 - edge.centre[1], edge.x0 - edge.centre[0]) + edge.sweep_rad / 2.0
        x = edge.centre[0] + edge.radius * math.cos(a)
        y = edge.centre[1] + edge.radius * math.sin(a)
    half = edge.sweep_rad / 2.0
    return (
        Edge(edge.x0, edge.y0, x, y, edge.centre, edge.radius, half),
        Edge(x, y, edge.x1, edge.y1, edge.centre, edge.radius, half),
    )


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
