"""Order of the inside contours of a part, so that the torch does not come back over a loose slug."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from fixturegen.plate.profile import Loop, polyline
from fixturegen.plate.tipping import hull_of, lies

Point = tuple[float, float]
Crossed = tuple[tuple[tuple[int, ...], ...], ...]

CHORDS = 0.2  # deviation of the chords a slug is looked at with [mm]
OVER = 6.0  # half the width of a torch's nozzle [mm]: so near it passes over (common practice, no source)


def inside_order(loops: Sequence[Loop], start: Point, slat_pitch: float, kerf: float = 0.0) -> tuple[int, ...]:
    """Indices of the loops in the order they are cut, outside contour after them.

    From every first contour the nearest is taken next whose way crosses the fewest slugs that are
    loose by then and may fall or tip; of all such orders the one with the fewest crossings, then the
    shortest way. The way runs from start point to start point; over the slug just cut the torch
    lifts. Ties by index.

    Args:
        loops: Contours of holes and openings as they are cut, each closed.
        start: Where the torch comes from [mm].
        slat_pitch: From slat to slat [mm].
        kerf: Taken off each side of a slug [mm].
    """
    if not loops:
        return ()
    places = [(loop[0].x, loop[0].y) for loop in loops]
    crossed = _crossings(loops, places, slat_pitch, kerf)
    orders = [_greedy(first, places, crossed) for first in range(len(loops))]
    return min(orders, key=lambda order: (_count(order, crossed), round(_way(order, places, start), 6), order))


def comes_back_over(order: Sequence[int], loops: Sequence[Loop], slat_pitch: float, kerf: float = 0.0) -> int:
    """How often the torch, in this order, travels over a slug that is loose and may fall or tip.

    Args:
        order: Indices of the loops as they are cut.
        loops: The contours.
        slat_pitch: From slat to slat [mm].
        kerf: Taken off each side of a slug [mm].
    """
    places = [(loop[0].x, loop[0].y) for loop in loops]
    return _count(tuple(order), _crossings(loops, places, slat_pitch, kerf))


def _way(order: Sequence[int], places: Sequence[Point], start: Point) -> float:
    stops = [start, *(places[i] for i in order)]
    return sum(math.dist(a, b) for a, b in pairwise(stops))


def _count(order: Sequence[int], crossed: Crossed) -> int:
    found = 0
    for n in range(len(order) - 1):
        loose = set(order[:n])
        found += sum(k in loose for k in crossed[order[n]][order[n + 1]])
    return found


def _greedy(first: int, places: Sequence[Point], crossed: Crossed) -> tuple[int, ...]:
    order, left = [first], [i for i in range(len(places)) if i != first]
    while left:
        here, loose = order[-1], set(order[:-1])
        nearest = min(
            left,
            key=lambda j: (sum(k in loose for k in crossed[here][j]), round(math.dist(places[here], places[j]), 6), j),
        )
        left.remove(nearest)
        order.append(nearest)
    return tuple(order)


def _crossings(loops: Sequence[Loop], places: Sequence[Point], slat_pitch: float, kerf: float) -> Crossed:
    """For every way from contour i to j, the other contours whose slugs it crosses and which may tip."""
    slugs = []
    for k, loop in enumerate(loops):
        if lies(loop, slat_pitch, narrower=kerf).way != "flat":
            hull = hull_of(polyline(loop, CHORDS))
            x = sum(p[0] for p in hull) / len(hull)
            y = sum(p[1] for p in hull) / len(hull)
            slugs.append((k, hull, (x, y), max(math.dist((x, y), p) for p in hull)))
    rows = []
    for i, a in enumerate(places):
        row = []
        for j, b in enumerate(places):
            met = []
            for k, hull, middle, radius in slugs:
                near = k not in (i, j) and i != j and _from_way(middle, a, b) < radius + OVER
                if near and _meets(a, b, hull):
                    met.append(k)
            row.append(tuple(met))
        rows.append(tuple(row))
    return tuple(rows)


def _from_way(p: Point, a: Point, b: Point) -> float:
    """Distance of a point from the way a to b [mm]."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    squared = dx * dx + dy * dy
    t = 0.0 if squared == 0.0 else max(0.0, min(1.0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / squared))
    return math.dist(p, (a[0] + t * dx, a[1] + t * dy))


def _meets(a: Point, b: Point, hull: Sequence[Point]) -> bool:
    """Whether the way a to b comes within the nozzle's half width of a convex piece."""
    if any(_from_way(p, a, b) < OVER for p in hull):
        return True
    sides = list(zip(hull, (*hull[1:], hull[0]), strict=True))
    if all(_side(p, q, a) >= 0.0 for p, q in sides):
        return True
    return any(
        _side(a, b, p) * _side(a, b, q) < 0.0 and _side(p, q, a) * _side(p, q, b) < 0.0 for p, q in sides
    )  # fmt: skip - one line each reads better


def _side(a: Point, b: Point, p: Point) -> float:
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
