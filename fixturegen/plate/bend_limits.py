"""How long the flanges of a flat are, how near openings lie to bends, and what stands in the punch's way."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from fixturegen.plate.folds import Folded, Zone
from fixturegen.plate.nearness import edge_to_point
from fixturegen.plate.part import Part
from fixturegen.plate.profile import Edge, Hole, Loop, Vertex, hole_loop, polyline
from fixturegen.plate.tape import crossings

PUNCH_HALF = 6.0  # half the width of a straight punch above its tip [mm] (common practice, no source)
SAMPLES = 21  # lines across a flange
SHARE = 0.8  # of the bend line that is looked at: rounded corners at a flange's tip take nothing from its hold
BEYOND = 1e-4  # [mm] past the tangent line, so that the line itself is not met


@dataclass(frozen=True)
class Opening:
    """A hole or cut-out near a bend.

    Attributes:
        label: What it is called.
        hole: The hole, or None for a cut-out.
        distance: From the bend line to its edge, on the flat [mm].
        x: Where it is [mm].
        y: Where it is [mm].
    """

    label: str
    hole: Hole | None
    distance: float
    x: float
    y: float


def flanges(part: Part, plan: Folded, number: int) -> tuple[float, float]:
    """Least flat from the bend line to what ends it, on the fixed and on the bent side [mm].

    It ends at the outline or at another bend. Looked at along the middle four fifths of the line.

    Args:
        part: A bent part.
        plan: Its folding.
        number: Of the bend, 0 first.
    """
    zone = plan.zones[number]
    stops: list[Loop] = [part.profile.outer] if part.profile is not None else []
    for i, other in enumerate(plan.zones):
        if i != number:
            stops.append(tuple(Vertex(x, y) for x, y in other.corners()))
    lengths = []
    for side in (-1.0, 1.0):
        least = math.inf
        for k in range(SAMPLES):
            along = SHARE * zone.half * (2.0 * k / (SAMPLES - 1) - 1.0)
            across = -BEYOND if side < 0.0 else zone.bend.allowance + BEYOND
            start, end = zone.at(across, along), zone.at(across + side, along)
            ahead = [d for loop in stops for d in crossings(loop, start, end) if d > 0.0]
            least = min(least, min(ahead, default=math.inf) + BEYOND)
        lengths.append(least + zone.bend.allowance / 2.0)
    return lengths[0], lengths[1]


def openings(part: Part, number: int) -> tuple[Opening, ...]:
    """Every hole and cut-out of the flat with its distance from the bend line, nearest first.

    Args:
        part: A bent part.
        number: Of the bend, 0 first.
    """
    bend = part.bends[number]
    line = Edge(bend.x0, bend.y0, bend.x1, bend.y1)
    found = []
    if part.profile is None:
        return ()
    for h in part.profile.holes:
        exact = edge_to_point(line, h.x, h.y) - h.finished / 2.0
        away = _nearest(line, hole_loop(h)) if h.slot > 0.0 else exact
        found.append(Opening(h.label or f"{h.purpose.value} hole", h, away, h.x, h.y))
    for loop in part.profile.inner:
        found.append(Opening("cut-out", None, _nearest(line, loop), loop[0].x, loop[0].y))
    return tuple(sorted(found, key=lambda o: (o.distance, o.x, o.y)))


def _nearest(line: Edge, loop: Loop) -> float:
    ends = ((line.x0, line.y0), (line.x1, line.y1))
    corners = min(edge_to_point(line, x, y) for x, y in polyline(loop))
    edges = [Edge(*a, *b) for a, b in _sides(loop)]
    return min(corners, *(edge_to_point(e, x, y) for e in edges for x, y in ends))


def _sides(loop: Loop) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    points = polyline(loop)
    return zip(points, (*points[1:], points[0]), strict=True)


def fouled(part: Part, plan: Folded) -> tuple[tuple[int, int, float], ...]:
    """Bends a straight punch has no room for: (bend, earlier bend, room left [mm]), numbers 1 first.

    Both flanges rise half the angle as the later bend is made; the edge of the earlier one then has
    to stay clear of the punch that stands on the line. Only parallel bends of one face, bent the
    same way, are looked at. Source: geometry, derived.
    """
    found = []
    for later in range(len(plan.zones)):
        for earlier in range(later):
            room = _room(part, plan, later, earlier)
            if room is not None and room < PUNCH_HALF:
                found.append((later + 1, earlier + 1, room))
    return tuple(found)


def _room(part: Part, plan: Folded, later: int, earlier: int) -> float | None:
    a, b = plan.zones[later], plan.zones[earlier]
    shared = set(plan.sides[later]) & set(plan.sides[earlier])
    level = abs(a.way[0] * b.way[1] - a.way[1] * b.way[0]) < 1e-6
    if not shared or not level or a.bend.up != b.bend.up:
        return None
    side = plan.sides[earlier].index(next(iter(shared)))
    # middle line to middle line, then to the corners of the inside faces
    apart = _between_lines(a, b)
    web = apart - sum(z.bend.allowance / 2.0 - _inside_back(z) for z in (a, b))
    high = flanges(part, plan, earlier)[1 - side] - b.bend.allowance / 2.0 + _inside_back(b)
    turn, half = math.radians(b.bend.angle), math.radians(a.bend.angle / 2.0)
    x, y = web + high * math.cos(turn), high * math.sin(turn)
    return x * math.cos(half) - y * math.sin(half)


def _between_lines(a: Zone, b: Zone) -> float:
    p, q = a.at(a.bend.allowance / 2.0, 0.0), b.at(b.bend.allowance / 2.0, 0.0)
    return abs((q[0] - p[0]) * a.way[0] + (q[1] - p[1]) * a.way[1])


def _inside_back(zone: Zone) -> float:
    return zone.bend.radius * math.tan(math.radians(min(zone.bend.angle, 90.0)) / 2.0)
