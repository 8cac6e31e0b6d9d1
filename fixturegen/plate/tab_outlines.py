"""Outlines of tabs: discs of steel round the holes, joined by tangents to feet on a tube or a face."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from fixturegen.plate.nearness import edge_to_point, encloses, loop_to_point
from fixturegen.plate.profile import Edge, Loop, Vertex, edge_between, polyline, signed_area
from fixturegen.plate.saddles import Base
from fixturegen.plate.shadows import Point
from fixturegen.plate.widths import self_touch
from fixturegen.stock import EdgeDistance, table

INCH = 25.4
FOOT = INCH / 4.0  # the end of a foot stands square to the tube this far [mm] (common practice, no source)
TIP = 5.0  # outside radius at a foot [mm] (common practice, no source)
INSIDE = 8.0  # radius of an inside corner above a foot [mm] (common practice, no source)
LEAST_INSIDE = 3.0  # least radius of an inside corner of an outline [mm] (common practice, no source)
TO_TOE = INCH / 2.0  # least from a hole's edge to the toe of a weld [mm] (common practice, no source)
ALONG_LOAD = 2.0  # bolt diameters to an edge in the load's direction [1] (common practice, no source)
ACROSS_LOAD = 1.5  # bolt diameters to any other edge [1] (common practice, no source)
SQUARE = math.radians(3.0)  # a foot leaning by less is square to the tube and needs no arc
EXACT = 1e-6  # [mm] what a distance may be short by rounding
CHORD = 0.02  # arcs as chords within this to look for touching [mm]

Disc = tuple[float, float, float]


@dataclass(frozen=True)
class EdgeRules:
    """Least distances from a hole's centre.

    Attributes:
        across: To any free edge [mm].
        along: To a free edge in the load's direction, both ways [mm].
        base: To the welded edge [mm].
        way: Direction of the load from x in the part frame [deg]; None when it may come from anywhere.
    """

    across: float
    along: float
    base: float
    way: float | None = None


@dataclass(frozen=True)
class TabHole:
    """A hole of a tab: centre in the part frame [mm], its distances, and what a fault calls it."""

    x: float
    y: float
    rules: EdgeRules
    label: str = "hole"


def edge_rules(
    bolt_diameter: float, thickness: float, load_way: float | None = None, hole: float | None = None
) -> EdgeRules:
    """Least distances from a bolt's centre to the edges of its tab.

    2 d in the load's direction, 1.5 d elsewhere, and half an inch from the hole to the toe of a fillet
    whose leg is the plate's thickness: common practice, no source. Never below the published edge
    distance of the next larger listed bolt (table `edge-distances`).

    Args:
        bolt_diameter: Of the shank [mm].
        thickness: Of the plate, measured [mm].
        load_way: Direction of the load from x in the part frame [deg]; None for 2 d all round.
        hole: Finished diameter [mm]; the bolt's when not given.

    Raises:
        ValueError: When a measure is not above zero.
    """
    for value, words in ((bolt_diameter, "the bolt's diameter"), (thickness, "the plate's thickness")):
        if not (math.isfinite(value) and value > 0.0):
            raise ValueError(f"{words} is {value:g} mm: it must be above 0 mm")
    listed = [e for e in table("edge-distances").entries.values() if isinstance(e, EdgeDistance)]
    floors = sorted((float(e.bolt), float(e.edge)) for e in listed if e.bolt >= bolt_diameter - EXACT)
    floor = floors[0][1] if floors else 0.0
    along = max(ALONG_LOAD * bolt_diameter, floor)
    across = along if load_way is None else max(ACROSS_LOAD * bolt_diameter, floor)
    base = (hole or bolt_diameter) / 2.0 + TO_TOE + thickness
    return EdgeRules(across, along, base, load_way)


def tab_outline(
    holes: Sequence[TabHole], base: Base, *, foot: float = FOOT, tip: float = TIP, inside: float = INSIDE
) -> Loop:
    """The outline of a tab, counter-clockwise; its first vertices are those of the base's edge.

    The hull of the discs round all holes, joined to each foot by a tangent line. A foot leaves the
    tube squarely, so that the weld can go round its end, and its outside corner is rounded; where the
    holes overhang a foot, the inside corner above it is rounded.

    Args:
        holes: One or more, adjustment holes too.
        base: The edge on the tube or the face.
        foot: How far a foot's end stands square to the tube [mm].
        tip: Outside radius at a foot [mm].
        inside: Radius of an inside corner [mm].

    Raises:
        ValueError: When a hole is too near to the tube, behind a foot, or leaves too little steel.
    """
    if not holes:
        raise ValueError("a tab needs at least one hole")
    if inside < LEAST_INSIDE:
        raise ValueError(f"the inside radius is {inside:g} mm: it must be at least {LEAST_INSIDE:g} mm")
    if not (foot > 0.0 and tip > 0.0):
        raise ValueError(f"the foot is {foot:g} mm high with {tip:g} mm radius: both must be above 0 mm")
    for hole in holes:
        _demand_off_base(hole, base)
    discs = _discs(holes, base)
    up, end = _side(base.ends[1], base.normals[2], discs, (foot, tip, inside))
    down, start = _left_side(base, discs, (foot, tip, inside))
    hull = _hull(discs, end, (start[0], math.pi - start[1]))
    loop = (*base.edge[:-1], *up, *hull, *down[:-1])
    _demand_sound(loop, holes, base)
    _demand_steel(loop, len(base.edge) - 1, base, foot)
    return loop


@dataclass(frozen=True)
class Flank:
    """The side of a tab that goes on through a bend, to the tab's right.

    Attributes:
        x: Where the bend begins [mm].
        low: Where it begins, from the base [mm].
        high: Where it ends [mm].
        relief: (width, depth past `x`) of the cut that frees its lower end [mm].
    """

    x: float
    low: float
    high: float
    relief: Point


def top_of(holes: Sequence[TabHole], base: Base) -> float:
    """Height of the steel above the holes [mm]."""
    return max(y + r for _, y, r in _discs(holes, base))


def foot_top(base: Base, foot: float = FOOT, tip: float = TIP) -> float:
    """Height of the top of the foot at the base's last end, its rounding too [mm]."""
    return base.ends[1][1] + foot * base.normals[2][1] + tip * (1.0 + base.normals[2][0])


def flanked_outline(
    holes: Sequence[TabHole], base: Base, flank: Flank, *, foot: float = FOOT, tip: float = TIP, inside: float = INSIDE
) -> tuple[Vertex, ...]:
    """The outline of a tab that is bent off a web, counter-clockwise from the upper end of the bend to its lower one.

    As `tab_outline`, but on the right it ends at the bend; a round cut frees the bend's lower end, and
    the foot below it is rounded and drawn up to that cut.

    Args:
        holes: One or more, adjustment holes too.
        base: The edge on the tube or the face.
        flank: The bend; its upper end is at least as high as `top_of`.
        foot: How far a foot's end stands square to the tube [mm].
        tip: Outside radius at a foot [mm].
        inside: Radius of an inside corner at the left foot [mm].

    Raises:
        ValueError: When a hole is too near to the tube, behind a foot, or leaves too little steel.
    """
    for hole in holes:
        _demand_off_base(hole, base)
    discs = _discs(holes, base)
    corner = Vertex(flank.x, flank.high)
    end = _rightmost((corner.x, corner.y, 0.0), math.pi / 2.0, discs)
    down, start = _left_side(base, discs, (foot, tip, inside))
    hull = _hull(discs, end, (start[0], math.pi - start[1]))
    chain = (corner, *hull, *down, *base.edge[1:-1], *_below(base, flank, (foot, tip)), Vertex(flank.x, flank.low))
    _demand_flanked(chain, holes, base, foot)
    return chain


def _left_side(
    base: Base, discs: list[Disc], sizes: tuple[float, float, float]
) -> tuple[list[Vertex], tuple[int, float]]:
    """Vertices from the hull to the first end of the edge; disc and direction, mirrored, where the hull is left."""
    first, normal = base.ends[0], base.normals[0]
    flipped = [(-x, y, r) for x, y, r in discs]
    down, start = _side((-first[0], first[1]), (-normal[0], normal[1]), flipped, sizes)
    # run backward and mirrored an arc keeps its bulge, which its other end then carries
    back = [Vertex(-v.x, v.y, before.bulge) for v, before in zip(down[::-1], [*down[-2::-1], down[0]], strict=True)]
    return [*back[:-1], Vertex(*first, base.edge[0].bulge)], start


def _below(base: Base, flank: Flank, sizes: Point) -> list[Vertex]:
    """From the last end of the edge up its foot and round the cut at the lower end of the bend."""
    foot, tip = sizes
    (x, y), (nx, ny), (width, deep) = base.ends[1], base.normals[2], flank.relief
    r, right = width / 2.0, (ny, -nx)
    top = (x + foot * nx, y + foot * ny)
    tip_disc = (top[0] - tip * right[0], top[1] - tip * right[1], tip)
    cut = (flank.x - deep + r, flank.low - r, -r)
    steel = base.shadow.clearance(cut[0], cut[1]) - r
    if steel < foot - EXACT or math.dist(cut[:2], tip_disc[:2]) <= r + tip + EXACT:
        raise ValueError(
            f"only {max(0.0, steel):.1f} mm of steel are left under the cut at the lower end of the bend and "
            f"{foot:.1f} mm must be: end the bend higher"
        )
    way = _tangent(tip_disc, cut)
    turn = (way - math.atan2(-nx, ny)) % (2.0 * math.pi)
    sweep = (way + math.pi / 2.0) % (2.0 * math.pi)
    bulge = -math.tan(sweep / 8.0)
    angles = (way, way - sweep / 2.0, -math.pi / 2.0)
    rounds = [
        Vertex(cut[0] - r * math.cos(a), cut[1] - r * math.sin(a), b)
        for a, b in zip(angles, (bulge, bulge, 0.0), strict=True)
    ]
    leave = Vertex(tip_disc[0] + tip * math.cos(way), tip_disc[1] + tip * math.sin(way))
    return [Vertex(x, y), Vertex(*top, math.tan(turn / 4.0)), leave, *rounds]


def _demand_flanked(chain: tuple[Vertex, ...], holes: Sequence[TabHole], base: Base, foot: float) -> None:
    """As `_demand_sound` and `_demand_steel`; the bend itself is no free edge."""
    crossing = self_touch(np.array(polyline(chain, CHORD), dtype=np.float64))
    if crossing is not None or signed_area(chain) <= 0.0:
        x, y = crossing or base.middle
        raise ValueError(f"the outline of the tab crosses itself near ({x:.1f}, {y:.1f}) mm: a hole lies behind a foot")
    free = [edge_between(a, b) for a, b in pairwise(chain)]
    for hole in holes:
        least = min(edge_to_point(e, hole.x, hole.y) for e in free)
        if not encloses(chain, hole.x, hole.y) or least < hole.rules.across - EXACT:
            raise ValueError(
                f"{hole.label} has less steel than {hole.rules.across:.1f} mm: its edge lies behind the feet"
            )
    edge = {(v.x, v.y) for v in base.edge}
    for e in free:
        ends = [(e.x0, e.y0), (e.x1, e.y1)]
        if not any(p in edge for p in ends) and min(base.shadow.clearance(*p) for p in _along(e)) < foot - 10.0 * EXACT:
            raise ValueError(f"less than {foot:.1f} mm of steel are left above a foot: move the holes out")


def _demand_off_base(hole: TabHole, base: Base) -> None:
    room, need = base.shadow.clearance(hole.x, hole.y), max(hole.rules.base, hole.rules.across)
    if room < need - EXACT:
        raise ValueError(
            f"{hole.label} stands {max(0.0, room):.1f} mm from the welded edge and must stand {need:.1f} mm off it: "
            f"move it {need - room:.1f} mm out, or take a smaller bolt"
        )


def _discs(holes: Sequence[TabHole], base: Base) -> list[Disc]:
    """A disc round every hole and, where the load runs, two more; towards the weld there is no free edge."""
    discs: set[Disc] = set()
    for hole in holes:
        rules = hole.rules
        discs.add((hole.x, hole.y, rules.across))
        if rules.way is None or rules.along <= rules.across:
            continue
        a = math.radians(rules.way)
        dx, dy = (rules.along - rules.across) * math.cos(a), (rules.along - rules.across) * math.sin(a)
        for x, y in ((hole.x + dx, hole.y + dy), (hole.x - dx, hole.y - dy)):
            if base.shadow.clearance(x, y) >= rules.across:
                discs.add((x, y, rules.across))
    # one wholly within another has no part in the hull
    return sorted(d for d in discs if not any(o != d and math.dist(o[:2], d[:2]) <= o[2] - d[2] for o in discs))


def _tangent(a: Disc, b: Disc) -> float:
    """Direction [rad] of the right normal of the line that leaves disc `a` on its left and reaches `b`.

    A negative radius of `a` puts it on the line's right.
    """
    dx, dy = b[0] - a[0], b[1] - a[1]
    return math.atan2(dy, dx) - math.pi / 2.0 + math.asin((a[2] - b[2]) / math.hypot(dx, dy))


def _turn(angle: float) -> float:
    """The angle [rad] between half a turn to the right and half a turn to the left."""
    return math.remainder(angle, 2.0 * math.pi)


def _side(
    at: Point, normal: Point, discs: list[Disc], sizes: tuple[float, float, float]
) -> tuple[list[Vertex], tuple[int, float]]:
    """Vertices from the last end of the edge to where the foot's line leaves for a disc; that disc and direction."""
    foot, tip, inside = sizes
    nx, ny = normal
    right, square = (ny, -nx), math.atan2(-nx, ny)
    top = (at[0] + foot * nx, at[1] + foot * ny)
    corner, point = Vertex(*at), (*at, 0.0)
    outer = (top[0] - tip * right[0], top[1] - tip * right[1], tip)
    disc, way = _rightmost(outer, square, discs)
    if abs(_turn(way - square)) < SQUARE:
        disc, way = _rightmost(point, square, discs)
        return [corner], (disc, way)
    centre, radius = outer[:2], tip
    if _turn(way - square) < 0.0:
        inner = (top[0] + inside * right[0], top[1] + inside * right[1], -inside)
        disc, way = _rightmost(inner, square, discs)
        centre, radius = inner[:2], -inside
    turn = _turn(way - square)
    if turn < -math.pi / 2.0:
        raise ValueError(
            "a hole's edge lies behind a foot: bring the foot's end round to it, or the hole over the feet"
        )
    leave = Vertex(centre[0] + radius * math.cos(way), centre[1] + radius * math.sin(way))
    return [corner, Vertex(*top, math.tan(turn / 4.0)), leave], (disc, way)


def _rightmost(foot: Disc, square: float, discs: list[Disc]) -> tuple[int, float]:
    """The disc that a line from the foot reaches farthest to the right, and the line's right normal [rad]."""
    found = []
    for k, disc in enumerate(discs):
        apart = math.dist(foot[:2], disc[:2])
        if apart <= abs(foot[2] - disc[2]) + EXACT:
            raise ValueError(
                f"the edge of {disc[2]:.1f} mm about ({disc[0]:.1f}, {disc[1]:.1f}) mm reaches behind a foot: "
                "bring the foot's end farther round, or the hole over the feet"
            )
        found.append((_turn(_tangent(foot, disc) - square), k))
    turn, disc_number = min(found)
    return disc_number, square + turn


def _hull(discs: list[Disc], end: tuple[int, float], start: tuple[int, float]) -> list[Vertex]:
    """The hull of the discs, counter-clockwise from one (disc, direction [rad]) to the other."""
    vertices: list[Vertex] = []
    current, angle = end
    left = (start[1] - angle) % (2.0 * math.pi)
    for _ in range(2 * len(discs) + 2):
        steps = []
        for k, other in enumerate(discs):
            apart = math.dist(other[:2], discs[current][:2])
            if k != current and apart > abs(other[2] - discs[current][2]):
                # rounding must not make a step back of a hair into one all round
                step = (_tangent(discs[current], other) - angle + 1e-9) % (2.0 * math.pi) - 1e-9
                steps.append((max(0.0, step), k))
        step, following = min(steps, default=(math.inf, current))
        if step >= left - 1e-9:
            return vertices + _arc(discs[current], angle, left)
        vertices += _arc(discs[current], angle, step)
        current, angle, left = following, angle + step, left - step
    return vertices


def _arc(disc: Disc, angle: float, sweep: float) -> list[Vertex]:
    """An arc of a disc from a direction through a sweep [rad], in halves when it is long."""
    x, y, r = disc
    if r * sweep < EXACT:
        return [Vertex(x + r * math.cos(angle), y + r * math.sin(angle))]
    n = 1 if sweep <= math.pi else 2
    bulge = math.tan(sweep / n / 4.0)
    angles = [angle + sweep * k / n for k in range(n + 1)]
    return [Vertex(x + r * math.cos(a), y + r * math.sin(a), bulge if k < n else 0.0) for k, a in enumerate(angles)]


def _demand_sound(loop: Loop, holes: Sequence[TabHole], base: Base) -> None:
    """The outline runs round every hole at its distance and meets itself nowhere."""
    crossing = self_touch(np.array(polyline(loop, CHORD), dtype=np.float64))
    if crossing is not None or signed_area(loop) <= 0.0:
        raise ValueError(
            f"the outline of the tab crosses itself near ({(crossing or base.middle)[0]:.1f}, "
            f"{(crossing or base.middle)[1]:.1f}) mm: a hole lies behind the feet, or the feet go too far round"
        )
    for hole in holes:
        if not encloses(loop, hole.x, hole.y) or loop_to_point(loop, hole.x, hole.y) < hole.rules.across - EXACT:
            raise ValueError(
                f"{hole.label} has less steel than {hole.rules.across:.1f} mm: its edge lies behind the feet"
            )


def _demand_steel(loop: Loop, first: int, base: Base, foot: float) -> None:
    """Between the tube and the rest of the outline stands steel at least as high as a foot."""
    free = [edge_between(a, b) for a, b in zip(loop[first + 1 :], (*loop[first + 2 :], loop[0]), strict=True)]
    # the last edge comes down a foot's end to the tube
    for edge in free[:-1]:
        steel = min(base.shadow.clearance(x, y) for x, y in _along(edge))
        if steel < foot - 10.0 * EXACT and edge.length > EXACT:
            raise ValueError(
                f"only {max(0.0, steel):.1f} mm of steel are left between the tube and the outline above a foot and "
                f"{foot:.1f} mm must be: move the holes out, or bring the feet less far round"
            )


def _along(edge: Edge) -> list[Point]:
    if edge.centre is not None:
        return [(edge.x0, edge.y0), (edge.x1, edge.y1)]
    n = max(2, math.ceil(edge.length))
    return [(edge.x0 + (edge.x1 - edge.x0) * k / n, edge.y0 + (edge.y1 - edge.y0) * k / n) for k in range(n + 1)]
