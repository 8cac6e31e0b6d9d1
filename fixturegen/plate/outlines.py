"""Outlines made of exact lines and arcs, without the kernel."""

from __future__ import annotations

import math

from fixturegen.plate.profile import Loop, Vertex

Disc = tuple[float, float, float]


def hull_of_discs(discs: tuple[Disc, ...]) -> Loop:
    """The convex hull of discs (x, y, radius) [mm] as a counter-clockwise loop of lines and arcs.

    Walks the hull by the supporting line: at each direction the disc that reaches farthest; exact
    tangent points between neighbours. Source: rotating supporting lines, derived.

    Raises:
        ValueError: When fewer than one disc is given.
    """
    order = _supporting(discs)
    if len(order) == 1:
        x, y, r = order[0]
        return (Vertex(x - r, y, 1.0), Vertex(x + r, y, 1.0))
    n = len(order)
    normals = [_tangent_normal(order[i], order[(i + 1) % n]) for i in range(n)]
    loop: list[Vertex] = []
    for i, (x, y, r) in enumerate(order):
        start, end = normals[i - 1], normals[i]
        sweep = (end - start) % (2.0 * math.pi)
        loop.append(Vertex(x + r * math.cos(start), y + r * math.sin(start), math.tan(sweep / 4.0)))
        loop.append(Vertex(x + r * math.cos(end), y + r * math.sin(end), 0.0))
    return tuple(loop)


def _tangent_normal(a: Disc, b: Disc) -> float:
    """Direction [rad] of the outward normal of the common tangent from `a` to `b`, hull on the left."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    distance = math.hypot(dx, dy)
    return math.atan2(dy, dx) - math.pi / 2.0 + math.asin((a[2] - b[2]) / distance)


def _supporting(discs: tuple[Disc, ...]) -> list[Disc]:
    """Discs on the hull, counter-clockwise, a disc twice where the hull visits it twice."""
    if not discs:
        raise ValueError("a hull needs at least one disc")
    unique = sorted(set(discs))
    current = min(unique, key=lambda d: (d[1] - d[2], d[0]))
    angle = -math.pi / 2.0
    order = [current]
    limit = angle + 2.0 * math.pi
    for _ in range(4 * len(unique) + 4):
        best, turn = None, 2.0 * math.pi
        for other in unique:
            distance = math.hypot(other[0] - current[0], other[1] - current[1])
            if other == current or distance <= abs(other[2] - current[2]):
                continue
            step = (_tangent_normal(current, other) - angle) % (2.0 * math.pi)
            if step < turn - 1e-12:
                best, turn = other, step
        if best is None or angle + turn >= limit - 1e-12:
            break
        angle += turn
        current = best
        order.append(current)
    if len(order) > 1 and order[-1] == order[0]:
        order.pop()
    return order
