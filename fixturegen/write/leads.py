"""Lead-ins drawn in the file: where each contour is begun, and the short cut that leads to it from scrap.

The outside is begun at a sharp corner, along the line of the edge that is cut first, so that the pierce
and the end of the cut mark no edge; without one, at the middle of its longest straight edge, at 45 deg.
An opening is begun square to one of its edges, where the pierce lies farthest from all of them: a slot
at its end and along it, since its long sides carry the fit. A lead never comes nearer to an edge of the
part than half the kerf; where the scrap is too small for its length, or another part lies in the way,
another start is taken or the lead shortened.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from typing import Any

from fixturegen.plate import Loop, Vertex
from fixturegen.plate.profile import Edge, edges, polyline, signed_area

Point = tuple[float, float]
Free = Callable[[Point, Point], bool]  # whether nothing else lies on the way from the pierce to the start
LEAN_RAD = math.pi / 4.0  # of a lead to an outside edge it meets within (common practice, no source)
SHORTER = 0.8  # a lead without room is tried this much shorter
LEAST = 0.5  # [mm] a shorter lead is none
NEAR = 0.5  # from the pierce to the part, beyond half the kerf [mm]
CHORDS = 0.02  # arcs of the part as chords within this [mm]
SHARP_RAD = math.radians(60.0)  # a corner that turns by more is sharp enough to begin at


def begun(loop: Loop, outside: bool, lead: float, kerf: float, free: Free | None = None) -> tuple[Loop, Edge | None]:
    """The loop as it is cut, begun where the lead meets it, and the lead; None where the scrap has no room.

    Args:
        loop: A contour in the direction it is cut.
        outside: Whether it is the part's outline; scrap lies outside it then.
        lead: Length wanted [mm].
        kerf: Width of the cut [mm].
        free: Whether a way is clear of what else lies on the sheet; None when nothing does.
    """
    from shapely.geometry import Polygon

    own = Polygon(polyline(loop, CHORDS))
    for turned, way in _choices(loop, outside, lead, own):
        pierce, here = (way.x0, way.y0), (way.x1, way.y1)
        if _clear(pierce, here, own, outside, room_of(kerf)) and (free is None or free(pierce, here)):
            return turned, way
    return loop, None


def room_of(kerf: float) -> float:
    """How far a pierce stays from steel that is kept [mm]."""
    return kerf / 2.0 + NEAR


def _lengths(lead: float) -> list[float]:
    """The length wanted, then shorter ones [mm]."""
    found = []
    while lead >= LEAST:
        found.append(lead)
        lead *= SHORTER
    return found


def _choices(loop: Loop, outside: bool, lead: float, own: Any) -> Iterator[tuple[Loop, Edge]]:
    """The loop begun here or there with its lead, those first whose pierce lies farthest from the contour."""
    import shapely

    ways: list[tuple[Loop, Edge]] = []
    for start in _starts(loop, outside):
        turned = _from(loop, start)
        first = edges(turned)[0]
        lean = (0.0 if start[1] == 0.0 else LEAN_RAD) if outside else math.pi / 2.0
        for length in _lengths(lead):
            pierce = _pierce(turned, first, outside, length, lean)
            ways.append((turned, Edge(*pierce, first.x0, first.y0)))
    away = shapely.distance(own.exterior, shapely.points([(way.x0, way.y0) for _, way in ways])) if ways else []
    # among equals the longest, then the first start
    ranks = [(-round(float(d), 1), -way.length, k) for k, (d, (_, way)) in enumerate(zip(away, ways, strict=True))]
    yield from (ways[k] for _, _, k in sorted(ranks))


def ring_lead(x: float, y: float, diameter: float, outside: bool, lead: float, free: Free | None = None) -> Edge | None:
    """The lead to a circle, which every controller begins at its right-hand point; None without room."""
    r = diameter / 2.0
    start = (x + r, y)
    for length in _lengths(lead if outside else min(lead, r)):
        pierce = (x + r + (length if outside else -length), y)
        if free is None or free(pierce, start):
            return Edge(*pierce, *start)
    return None


def _starts(loop: Loop, outside: bool) -> list[tuple[int, float]]:
    """Where to begin: (edge, share along it), best first.

    Of the outside sharp corners, then long straight edges; of an opening short straight edges.
    """
    ring = edges(loop)
    found: list[tuple[float, int, float]] = []
    for i, e in enumerate(ring):
        before = ring[i - 1]
        if outside and e.centre is None and before.centre is None and _turns_to_part(before, e, loop):
            found.append((-min(e.length, before.length) - 1e6, i, 0.0))
        if e.centre is None:
            found.append((-e.length if outside else e.length, i, 0.5))
    if not found:
        found = [(-e.length, i, 0.5) for i, e in enumerate(ring)]
    return [(i, share) for _, i, share in sorted(found)]


def _turns_to_part(before: Edge, after: Edge, loop: Loop) -> bool:
    """Whether the corner between two straight edges is a sharp one that sticks out."""
    a = math.atan2(before.y1 - before.y0, before.x1 - before.x0)
    b = math.atan2(after.y1 - after.y0, after.x1 - after.x0)
    turn = (b - a + math.pi) % (2.0 * math.pi) - math.pi
    return turn * math.copysign(1.0, signed_area(loop)) > SHARP_RAD


def _from(loop: Loop, start: tuple[int, float]) -> Loop:
    """The loop begun at a share of one of its edges; an edge begun within is cut in two there."""
    i, share = start
    if share == 0.0:
        return loop[i:] + loop[:i]
    e, bulge = edges(loop)[i], loop[i].bulge
    if e.centre is None:
        x, y, half = e.x0 + share * (e.x1 - e.x0), e.y0 + share * (e.y1 - e.y0), 0.0
    else:
        at = math.atan2(e.y0 - e.centre[1], e.x0 - e.centre[0]) + share * e.sweep_rad
        x, y = e.centre[0] + e.radius * math.cos(at), e.centre[1] + e.radius * math.sin(at)
        half = math.tan(math.atan(bulge) * share)
    rest = loop[i + 1 :] + loop[:i]
    return (Vertex(x, y, half), *rest, Vertex(loop[i].x, loop[i].y, half))


def _pierce(loop: Loop, first: Edge, outside: bool, length: float, lean_rad: float) -> Point:
    """Where the torch pierces: behind the start, leaning from the edge towards the scrap."""
    if first.centre is None:
        along = math.atan2(first.y1 - first.y0, first.x1 - first.x0)
    else:
        radial = math.atan2(first.y0 - first.centre[1], first.x0 - first.centre[0])
        along = radial + math.copysign(math.pi / 2.0, first.sweep_rad)
    # scrap lies outside the outline and inside an opening
    part_on_left = (signed_area(loop) > 0.0) == outside
    back = along + math.pi + (lean_rad if part_on_left else -lean_rad)
    return first.x0 + length * math.cos(back), first.y0 + length * math.sin(back)


def _clear(pierce: Point, start: Point, own: Any, outside: bool, room: float) -> bool:
    """Whether the pierce lies in the scrap of this contour, far enough from it, and the lead crosses nothing."""
    from shapely.geometry import LineString
    from shapely.geometry import Point as Place

    place = Place(pierce)
    if own.exterior.distance(place) < min(room, 0.7 * math.dist(pierce, start)):
        return False
    if own.contains(place) == outside:
        return False
    # the first hair of the lead lies on the contour itself
    dx, dy = (pierce[0] - start[0]), (pierce[1] - start[1])
    off = LineString([(start[0] + 0.05 * dx, start[1] + 0.05 * dy), pierce])
    return bool(own.disjoint(off) if outside else own.contains(off))


def lead_faults(outer: Loop, openings: Sequence[Loop], leads: Sequence[Edge], size: float) -> list[str]:
    """What is wrong with the leads of a file, in words.

    Args:
        outer: Outline of the part as cut.
        openings: Openings and holes as cut.
        leads: Lines of the cut layers that hang on a contour by one end; (x0, y0) is the free one.
        size: How far a lead may reach into the part by rounding [mm].
    """
    from shapely.geometry import LineString, Polygon

    steel = Polygon(polyline(outer, CHORDS), [polyline(loop, CHORDS) for loop in openings]).buffer(-2.0 * CHORDS)
    found = []
    if len(leads) > 1 + len(openings):
        found.append(f"{len(leads)} leads for {1 + len(openings)} contours")
    for e in leads:
        if steel.intersection(LineString([(e.x0, e.y0), (e.x1, e.y1)])).length > size:
            found.append(f"the lead from {e.x0:.3f}, {e.y0:.3f} mm cuts into the part")
    return found
