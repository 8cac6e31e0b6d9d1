"""A length of a plate that a tape can read: from edge to edge, square to both."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fixturegen.plate.profile import Edge, Loop, edges
from fixturegen.units import as_inch

Point = tuple[float, float]

SHORTEST = 25.4  # a tape is not read over less [mm]: its hook has play (common practice, no source)
TAPE_HALF = 8.0  # half the width of a tape [mm]: so far it needs a straight edge to hook on
ALONG = (0.5, 0.3, 0.7, 0.15, 0.85)  # where along two parallel edges it may be read, best first
SQUARE = 1e-6  # [rad] edges that lean by less are parallel
MM_STEP = 0.5  # a tape in millimetres is read to this [mm]
INCH_PARTS = 32


@dataclass(frozen=True)
class Span:
    """A length from edge to edge: both ends [mm] on the outline."""

    start: Point
    end: Point

    @property
    def length(self) -> float:
        """[mm]."""
        return math.dist(self.start, self.end)

    def inside(self, far: float) -> tuple[Point, Point]:
        """Points on the span at a distance from its start and from its end [mm]."""
        share = far / self.length
        (ax, ay), (bx, by) = self.start, self.end
        dx, dy = share * (bx - ax), share * (by - ay)
        return (ax + dx, ay + dy), (bx - dx, by - dy)


def tape_text(length: float, units: str) -> str:
    """How a length [mm] is written for a tape: inch and 1/32, or millimetres to the half."""
    if units == "mm":
        number = f"{MM_STEP * round(length / MM_STEP):.1f}".removesuffix(".0")
        return f"{number} MM"
    return as_inch(length, INCH_PARTS).split(" in")[0]


def crossings(loop: Loop, start: Point, end: Point) -> list[float]:
    """Where the line through two points meets a loop, as distances from the first [mm], rising."""
    long = math.dist(start, end)
    ux, uy = (end[0] - start[0]) / long, (end[1] - start[1]) / long
    return sorted(t for edge in edges(loop) for t in _meets(edge, start, ux, uy))


def _meets(edge: Edge, start: Point, ux: float, uy: float) -> list[float]:
    ax, ay, bx, by = edge.x0 - start[0], edge.y0 - start[1], edge.x1 - start[0], edge.y1 - start[1]
    if edge.centre is None:
        p, q = ux * ay - uy * ax, ux * by - uy * bx  # which side of the line both ends lie on
        if (p > 0.0) == (q > 0.0):
            return []
        s = p / (p - q)
        return [(ax + s * (bx - ax)) * ux + (ay + s * (by - ay)) * uy]
    cx, cy = edge.centre[0] - start[0], edge.centre[1] - start[1]
    along, off = cx * ux + cy * uy, ux * cy - uy * cx
    if abs(off) >= edge.radius:
        return []
    half = math.sqrt(edge.radius**2 - off**2)
    found = []
    for t in (along - half, along + half):
        if _on_arc(edge, math.atan2(t * uy - cy, t * ux - cx)):
            found.append(t)
    return found


def _on_arc(edge: Edge, direction_rad: float) -> bool:
    """Whether the arc's radius of that direction meets it."""
    if edge.centre is None:
        return False
    first = math.atan2(edge.y0 - edge.centre[1], edge.x0 - edge.centre[0])
    turned = (direction_rad - first) * math.copysign(1.0, edge.sweep_rad) % (2.0 * math.pi)
    return turned <= abs(edge.sweep_rad)


def overall(loop: Loop, start: Point, end: Point) -> Span | None:
    """The span a tape along the line through two points reads: outermost edge to outermost edge."""
    at = crossings(loop, start, end)
    long = math.dist(start, end)
    if len(at) < 2 or long == 0.0:
        return None
    ux, uy = (end[0] - start[0]) / long, (end[1] - start[1]) / long
    ends = [(start[0] + t * ux, start[1] + t * uy) for t in (at[0], at[-1])]
    return Span(ends[0], ends[1])


def spans(outer: Loop) -> tuple[Span, ...]:
    """Every span square to the outline at both ends and outermost there: between parallel edges first, then longest.

    To an arc it runs through the arc's middle; a tape hooks less well there.

    Args:
        outer: The outline, counter-clockwise.
    """
    ring = edges(outer)
    found = []
    for i, a in enumerate(ring):
        for b in ring[i:]:
            curved = a.centre is not None or b.centre is not None
            found += [(curved, s) for s in _between(a, b) if s.length >= SHORTEST]
    found.sort(key=lambda f: (f[0], -round(f[1].length, 6)))
    return tuple(s for _, s in found if _outermost(outer, s))


def _outermost(outer: Loop, span: Span) -> bool:
    read = overall(outer, *span.inside(0.25 * span.length))
    return read is not None and abs(read.length - span.length) < 1e-6


def _between(a: Edge, b: Edge) -> list[Span]:
    if a.centre is None and b.centre is None:
        return _parallel(a, b)
    if a.centre is None:
        return _to_arc(a, b)
    if b.centre is None:
        return _to_arc(b, a)
    (ax, ay), (bx, by) = a.centre, b.centre or (0.0, 0.0)
    far = math.hypot(bx - ax, by - ay)
    if far < 1e-6 or a.sweep_rad < 0.0 or b.sweep_rad < 0.0:
        return []
    ux, uy = (bx - ax) / far, (by - ay) / far
    if not (_on_arc(a, math.atan2(-uy, -ux)) and _on_arc(b, math.atan2(uy, ux))):
        return []
    return [Span((ax - a.radius * ux, ay - a.radius * uy), (bx + b.radius * ux, by + b.radius * uy))]


def _parallel(a: Edge, b: Edge) -> list[Span]:
    ux, uy = (a.x1 - a.x0) / a.length, (a.y1 - a.y0) / a.length
    vx, vy = (b.x1 - b.x0) / b.length, (b.y1 - b.y0) / b.length
    across = (b.x0 - a.x0) * -uy + (b.y0 - a.y0) * ux
    # the steel lies left of a counter-clockwise edge: facing away, and with steel between
    if ux * vx + uy * vy > 0.0 or abs(ux * vy - uy * vx) > SQUARE or across <= 0.0:
        return []
    ends = sorted((x - a.x0) * ux + (y - a.y0) * uy for x, y in ((b.x0, b.y0), (b.x1, b.y1)))
    low, high = max(0.0, ends[0]) + TAPE_HALF, min(a.length, ends[1]) - TAPE_HALF
    if high < low:
        return []
    found = []
    for share in ALONG:
        t = low + share * (high - low)
        x, y = a.x0 + t * ux, a.y0 + t * uy
        found.append(Span((x, y), (x - across * uy, y + across * ux)))
    return found


def _to_arc(line: Edge, arc: Edge) -> list[Span]:
    if arc.centre is None or arc.sweep_rad < 0.0:
        return []
    ux, uy = (line.x1 - line.x0) / line.length, (line.y1 - line.y0) / line.length
    cx, cy = arc.centre[0] - line.x0, arc.centre[1] - line.y0
    along, off = cx * ux + cy * uy, ux * cy - uy * cx
    if not TAPE_HALF <= along <= line.length - TAPE_HALF or not _on_arc(arc, math.atan2(ux, -uy)):
        return []
    x, y = line.x0 + along * ux, line.y0 + along * uy
    far = off + arc.radius
    return [Span((x, y), (x - far * uy, y + far * ux))] if far > 0.0 else []
