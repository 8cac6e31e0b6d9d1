"""Outlines made of exact lines and arcs, without the kernel."""

from __future__ import annotations

import math
from itertools import pairwise

from fixturegen.plate.profile import Loop, Vertex, reversed_loop

Disc = tuple[float, float, float]
Corner = tuple[float, float, float]


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
    """Direction [rad] of the outward normal of the tangent from `a` to `b`, hull on the left."""
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


def filleted(items: tuple[Corner | Loop, ...]) -> Loop:
    """A closed loop through corners, each rounded by its own radius, and through ready pieces.

    A corner is (x, y, radius) [mm]; radius 0 leaves it sharp, a negative one relieves it: an arc of
    that radius through the corner, so that a square edge seats. A piece (a tab, an arc) is a tuple
    of vertices that is kept as it is; its last bulge must be 0: the edge that leaves it is a line.

    Raises:
        ValueError: When a radius does not fit between its neighbours.
    """
    ends = [_ends(i) for i in items]
    loop: list[Vertex] = []
    n = len(items)
    used: list[float] = []
    for k, item in enumerate(items):
        if isinstance(item[0], Vertex):
            loop += [v for v in item if isinstance(v, Vertex)]
            used.append(0.0)
            continue
        x, y, radius = (float(v) for v in item if not isinstance(v, Vertex))
        vertices, taken = _rounded(ends[k - 1][1], (x, y, radius), ends[(k + 1) % n][0])
        loop += vertices
        used.append(taken)
    for k in range(n):
        a, b = ends[k][1], ends[(k + 1) % n][0]
        need = used[k] + used[(k + 1) % n]
        if need > math.hypot(b[0] - a[0], b[1] - a[1]) + 1e-9:
            raise ValueError(f"rounding does not fit on the edge from {a} to {b}")
    return _without_doubles(loop)


def _ends(item: Corner | Loop) -> tuple[tuple[float, float], tuple[float, float]]:
    """First and last point of a piece; a corner is its own first and last."""
    first, second, last = item[0], item[1], item[-1]
    if isinstance(first, Vertex) and isinstance(last, Vertex):
        return (first.x, first.y), (last.x, last.y)
    if isinstance(first, Vertex) or isinstance(second, Vertex):
        raise ValueError("a corner holds numbers, a piece vertices")
    return (first, second), (first, second)


def _rounded(before: tuple[float, float], corner: Corner, after: tuple[float, float]) -> tuple[list[Vertex], float]:
    """The vertices of one rounded corner and the length it takes of both edges [mm]."""
    x, y, radius = corner
    ax, ay = x - before[0], y - before[1]
    bx, by = after[0] - x, after[1] - y
    turn = math.atan2(ax * by - ay * bx, ax * bx + ay * by)
    if radius == 0.0 or abs(turn) < 1e-9:
        return [Vertex(x, y)], 0.0
    la, lb = math.hypot(ax, ay), math.hypot(bx, by)
    if radius > 0.0:
        cut, bulge = radius * abs(math.tan(turn / 2.0)), math.tan(turn / 4.0)
    else:
        # centre on the bisector, corner on the circle: by the inscribed angle the arc sweeps 2 turn
        cut, bulge = -2.0 * radius * abs(math.sin(turn / 2.0)), math.tan(turn / 2.0)
    start = Vertex(x - cut * ax / la, y - cut * ay / la, bulge)
    return [start, Vertex(x + cut * bx / lb, y + cut * by / lb)], cut


def _without_doubles(loop: list[Vertex]) -> Loop:
    """The loop without edges of no length (two roundings that meet)."""
    kept: list[Vertex] = []
    for i, v in enumerate(loop):
        w = loop[(i + 1) % len(loop)]
        if math.hypot(w.x - v.x, w.y - v.y) > 1e-9:
            kept.append(v)
    return tuple(kept)


def mirrored(loop: Loop) -> Loop:
    """The loop with x turned to -x, run the same way round as before."""
    return reversed_loop(tuple(Vertex(-v.x, v.y, -v.bulge) for v in loop))


def opened(centre: tuple[float, float], radius: float, windows: tuple[tuple[float, ...], ...], round_: float) -> Loop:
    """A circle joined with upright windows that cross it, as a counter-clockwise loop.

    Args:
        centre: Of the circle [mm].
        radius: Of the circle [mm].
        windows: (x from, x to, y from, y to) of each, ends outside the circle [mm].
        round_: Radius of the windows' corners [mm].

    Raises:
        ValueError: When a window does not cross the circle or two windows meet.
    """
    cx, cy = centre
    ordered = sorted(windows)
    for x0, x1, y0, y1 in ordered:
        if max(abs(x0 - cx), abs(x1 - cx)) >= radius or not y0 < cy < y1:
            raise ValueError(f"window from {x0:g} to {x1:g} mm does not cross the opening")
    if any(a[1] >= b[0] for a, b in pairwise(ordered)):
        raise ValueError("two windows meet")
    bumps = [_bump(centre, radius, w, round_, 1.0) for w in reversed(ordered)]
    bumps += [_bump(centre, radius, w, round_, -1.0) for w in ordered]
    loop: list[Vertex] = []
    for k, bump in enumerate(bumps):
        after = bumps[(k + 1) % len(bumps)][0]
        last = bump[-1]
        sweep = math.atan2(after.y - cy, after.x - cx) - math.atan2(last.y - cy, last.x - cx)
        loop += bump[:-1]
        loop.append(Vertex(last.x, last.y, math.tan((sweep % (2.0 * math.pi)) / 4.0)))
    return tuple(loop)


def _bump(
    centre: tuple[float, float], radius: float, window: tuple[float, ...], round_: float, way: float
) -> list[Vertex]:
    """One end of a window beyond the circle: upper for way 1, lower for way -1."""
    x0, x1, y0, y1 = window
    near, far = (x1, x0) if way > 0.0 else (x0, x1)
    end = y1 if way > 0.0 else y0
    on = [centre[1] + way * math.sqrt(radius**2 - (x - centre[0]) ** 2) for x in (near, far)]
    if any(way * (end - y) < round_ for y in on):
        raise ValueError(f"window end at {end:g} mm does not stand out of the opening")
    quarter = math.tan(math.pi / 8.0)
    return [
        Vertex(near, on[0]),
        Vertex(near, end - way * round_, quarter),
        Vertex(near - way * round_, end),
        Vertex(far + way * round_, end, quarter),
        Vertex(far, end - way * round_),
        Vertex(far, on[1]),
    ]
