"""The edge of a flat plate that is welded to a round tube or a flat face, of exact lines and arcs.

The edge runs with the plate on its left and the tube on its right: from the first end to the second
clockwise round the tube as the part frame sees it. Its error lies on the steel's side: it stands
between 0 and `deviation` farther from the tube than asked, never nearer.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from fixturegen.plate.biarcs import biarc_chain
from fixturegen.plate.part import Vector
from fixturegen.plate.profile import Edge, Vertex, edge_between
from fixturegen.plate.shadows import FlatShadow, Foot, Point, Stand, TubeShadow, flat_shadow, tube_shadow

DEVIATION = 0.005  # [mm] a twentieth of what a torch holds at best
FIT = 0.9  # share of half the deviation the arcs may use: they are compared at points only
LINE = 1.0  # [mm] lines of the edge shorter than this go into the arcs
ALIKE = 0.002  # [mm] an ellipse that is a circle to within this is cut as one
SHORTEST = 1.0  # [mm] an edge that is shorter cannot be welded to
LARGEST_GAP = 25.4 / 16.0  # [mm] root opening over which a fillet must grow by it (AWS D1.1, from memory)

End = float | Point


@dataclass(frozen=True)
class Base:
    """The edge by which a plate stands on a tube or a face.

    Attributes:
        edge: Its vertices, first to last, with the plate on the left; the last bulge is 0.
        length: Along the edge, of the weld on one side [mm].
        middle: Half way along it [mm].
        normals: Unit vectors away from the tube, into the plate: at the first end, middle, last end (3, 2).
        gap: Least opening to the tube, asked for [mm].
        largest_gaps: Greatest opening at the root along the edge, on the face z = 0 and on the other [mm].
        clocks: Clock angles round the tube of both ends [deg]; None on a flat face.
        shadow: What the plate must clear.
    """

    edge: tuple[Vertex, ...]
    length: float
    middle: Point
    normals: tuple[Point, Point, Point]
    gap: float
    largest_gaps: Point
    clocks: Point | None
    shadow: TubeShadow | FlatShadow

    @property
    def largest_gap(self) -> float:
        """Greatest opening at the root anywhere, both faces [mm]: over 1/16 in the fillet must grow by it."""
        return max(self.largest_gaps)

    @property
    def ends(self) -> tuple[Point, Point]:
        """The first and the last point of the edge [mm]."""
        return (self.edge[0].x, self.edge[0].y), (self.edge[-1].x, self.edge[-1].y)

    @property
    def wrap(self) -> float:
        """How far the edge goes round the tube [deg]; 0 on a flat face."""
        if self.clocks is None or not isinstance(self.shadow, TubeShadow):
            return 0.0
        return self.shadow.handed * (self.clocks[0] - self.clocks[1]) % 360.0


def saddle_base(stand: Stand, radius: float, gap: float, ends: tuple[End, End], deviation: float = DEVIATION) -> Base:
    """The edge of a plate on a round tube, between two ends.

    Args:
        stand: Where the plate stands in the tube's frame: tube along +Y through the origin.
        radius: Of the tube, measured [mm].
        gap: Least opening at the root [mm].
        ends: Each a clock angle round the tube, 0 at +Z and 90 at +X [deg], or a point of the part
            frame outside the tube, whose nearest place on the edge is the end [mm]. The edge runs
            clockwise from the first to the second; `wrap_ends` orders them.
        deviation: Farthest the edge may stand from the true curve, on the steel's side [mm].

    Raises:
        ValueError: When a measure is not above zero, an end lies in the tube, or the ends make no edge.
    """
    _demand_measures(stand, radius, gap, deviation)
    shadow = tube_shadow(stand, radius, gap)
    first, last = (_station(shadow, end) for end in ends)
    if math.isinf(shadow.slide):
        return _along(shadow, gap, ends)
    sweep = (first - last) % shadow.turn
    half = deviation / 2.0
    if shadow.long + shadow.slide - shadow.short <= min(ALIKE, half):
        edge = _round_edge(shadow, first, sweep)
    else:
        edge = _curved_edge(shadow, first, sweep, half)
    corners = [k * math.pi / 2.0 for k in (1, 2)] + [math.pi + shadow.line]
    corners += [c + math.pi + shadow.line for c in corners]
    within = [first - d for c in corners if 0.0 < (d := (first - c) % shadow.turn) < sweep]
    stations = [first, *within, first - sweep]
    clocks = (shadow.clock(first), shadow.clock(last))
    return _base(edge, gap, clocks, shadow, [shadow.at(s) for s in stations])


def saddle_edge(
    stand: Stand, radius: float, gap: float, ends: tuple[End, End], deviation: float = DEVIATION
) -> tuple[Vertex, ...]:
    """The vertices of the edge alone; arguments and faults as of `saddle_base`."""
    return saddle_base(stand, radius, gap, ends, deviation).edge


def flat_base(stand: Stand, normal: Vector, height: float, gap: float, ends: tuple[Point, Point]) -> Base:
    """The straight edge of a plate on a flat face: of a rail, or another plate.

    Args:
        stand: Where the plate stands in the frame of the rail or plate.
        normal: Unit vector out of the face in that frame (3,).
        height: Of the face along its normal from that frame's origin [mm].
        gap: Least opening at the root [mm].
        ends: Points of the part frame; the nearest places on the edge are its ends [mm].

    Raises:
        ValueError: When a measure is not above zero, or the ends make no edge.
    """
    _demand_measures(stand, 1.0, gap, 1.0)
    shadow = flat_shadow(stand, normal, height, gap)
    feet = [shadow.foot(*end) for end in ends]
    return _straight(shadow, gap, feet, None)


def wrap_ends(stand: Stand, clock: float, before: float, after: float) -> tuple[float, float]:
    """Both ends of an edge as clock angles [deg], in the order in which an edge runs.

    Args:
        stand: Where the plate stands in the tube's frame.
        clock: A clock angle between the ends [deg].
        before: How far the edge goes from there to smaller clock angles [deg].
        after: How far it goes to larger ones [deg].
    """
    low, high = clock - before, clock + after
    # the radius does not matter for the sense of the clock
    return (high, low) if tube_shadow(stand, 1e3, 0.0).handed > 0.0 else (low, high)


def _demand_measures(stand: Stand, radius: float, gap: float, deviation: float) -> None:
    for value, words, least in (
        (radius, "the tube's radius", True),
        (stand.thickness, "the plate's thickness", True),
        (deviation, "the deviation", True),
        (gap, "the gap at the root", False),
    ):
        if not math.isfinite(value) or value < 0.0 or (least and value == 0.0):
            raise ValueError(f"{words} is {value:g} mm: it must be {'above' if least else 'at least'} 0 mm")


def _station(shadow: TubeShadow, end: End) -> float:
    if not isinstance(end, tuple):
        return shadow.station(end)
    if shadow.clearance(*end) < 0.0:
        raise ValueError(f"the end of the edge at ({end[0]:.1f}, {end[1]:.1f}) mm lies within the tube: move it out")
    return shadow.foot(*end).station


def _round_edge(shadow: TubeShadow, first: float, sweep: float) -> list[Vertex]:
    """One circle about the whole shadow, as one arc or two."""
    radius, pieces = shadow.long + shadow.slide, 1 if sweep <= math.pi else 2
    vertices = []
    for k in range(pieces + 1):
        angle = first - sweep * k / pieces - math.pi / 2.0
        c, s = math.cos(angle), math.sin(angle)
        x = shadow.x + radius * (c * shadow.way[0] - s * shadow.way[1])
        y = shadow.y + radius * (c * shadow.way[1] + s * shadow.way[0])
        vertices.append(Vertex(x, y, -math.tan(sweep / pieces / 4.0) if k < pieces else 0.0))
    return vertices


def _curved_edge(shadow: TubeShadow, first: float, sweep: float, half: float) -> list[Vertex]:
    """Arcs about a curve that stands off by half the deviation, so that none comes too near."""
    curve = shadow.curve(half)

    def is_line(station: float) -> bool:
        q = station % shadow.turn
        return math.pi < q < math.pi + shadow.line or q > 2.0 * math.pi + shadow.line

    cuts = {0.0, sweep}
    if shadow.slide > 0.0:
        # short lines are halved, so that no arc spans one: it would stand off most in a place that is soon missed
        shares: tuple[tuple[int, float], ...] = (0, 0.0), (1, 0.0), (1, 1.0), (2, 1.0)
        if 2.0 * shadow.slide <= LINE:
            shares = (1, 0.5), (2, 1.5)
        borders = [k * math.pi + m * shadow.line for k, m in shares]
        cuts |= {(first - b) % shadow.turn for b in borders if 0.0 < (first - b) % shadow.turn < sweep}
    vertices: list[Vertex] = []
    for a, b in pairwise(sorted(cuts)):
        start, end = first - a, first - b
        if 2.0 * shadow.slide > LINE and is_line((start + end) / 2.0):
            (x, y), _ = curve(start)
            vertices.append(Vertex(x, y))
        else:
            vertices += biarc_chain(curve, start, end, half * FIT)
    (x, y), _ = curve(first - sweep)
    return [*vertices, Vertex(x, y)]


def _along(shadow: TubeShadow, gap: float, ends: tuple[End, End]) -> Base:
    feet = [shadow.foot(*end) for end in ends if isinstance(end, tuple)]
    if feet[0].station != feet[1].station:
        raise ValueError("the ends of the edge lie on both sides of the tube: give both on one side")
    clock = shadow.clock(feet[0].station)
    return _straight(shadow, gap, feet, (clock, clock))


def _straight(shadow: TubeShadow | FlatShadow, gap: float, feet: list[Foot], clocks: Point | None) -> Base:
    a, b = feet
    nx, ny = a.normal
    # clockwise round the steel: from left to right with the normal up
    if (b.x - a.x) * ny - (b.y - a.y) * nx <= 0.0:
        raise ValueError(
            "the ends of the edge stand the wrong way round: give the left one first, seen with the tube below"
        )
    edge = [Vertex(a.x, a.y), Vertex(b.x, b.y)]
    return _base(edge, gap, clocks, shadow, feet)


def _base(
    edge: list[Vertex], gap: float, clocks: Point | None, shadow: TubeShadow | FlatShadow, feet: list[Foot]
) -> Base:
    pieces = [edge_between(a, b) for a, b in pairwise(edge)]
    length = sum(p.length for p in pieces)
    if length < SHORTEST:
        raise ValueError(f"the edge on the tube is {length:.2f} mm long: at least {SHORTEST:g} mm")
    middle = _middle(pieces, length / 2.0)
    # the opening on a face is largest at an end, on an axis of the ellipse, or where its lines begin
    open_ = [shadow.openings(f.x, f.y) for f in feet]
    ends = (feet[0].normal, shadow.foot(*middle).normal, feet[-1].normal)
    largest = (max(o[0] for o in open_), max(o[1] for o in open_))
    return Base(tuple(edge), length, middle, ends, gap, largest, clocks, shadow)


def _middle(pieces: list[Edge], left: float) -> Point:
    """The point at a length along a chain of edges."""
    for piece in pieces:
        if left <= piece.length:
            share = left / piece.length
            if piece.centre is None:
                return piece.x0 + share * (piece.x1 - piece.x0), piece.y0 + share * (piece.y1 - piece.y0)
            (cx, cy), turn = piece.centre, share * piece.sweep_rad
            c, s = math.cos(turn), math.sin(turn)
            dx, dy = piece.x0 - cx, piece.y0 - cy
            return cx + dx * c - dy * s, cy + dx * s + dy * c
        left -= piece.length
    return pieces[-1].x1, pieces[-1].y1
