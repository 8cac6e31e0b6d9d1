"""Lower edges of a truss's plates: what they must keep off, by how much, and where along them they are welded."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.model import AxleModel
from fixturegen.errors import GeometryFault
from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.specs.truss import Fitting
from fixturegen.studies.arc_chains import arc_chain
from fixturegen.studies.centre_shape import (
    FLOOR,
    Neck,
    Outline,
    Round,
    across_axle,
    along_axle,
    behind_axle,
    centre_bodies,
    first_pairs,
    taken_off,
    tube_bodies,
)
from fixturegen.studies.edge_lines import Ring, chords

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

DEVIATION = 0.02
"""Farthest a cut edge may lie from the edge worked out, always on the steel's side [mm]."""
QUADRANT = 96  # chords of a quarter circle where gaps are laid round corners
JOINT_ROOM = 25.4
"""A bead keeps off the line where a cast centre section ends and the tube begins by an inch: across it, it would
carry what the press fit should, and crack at its end [mm] (common practice, no source)."""
WELDED = 0.15  # mm; an edge that is nearer than this over its gap to what it is welded to, is welded
FINE = 0.0005  # arcs of an edge as chords within this [mm]: turns at their ends are no corners
SAMPLE = 1.0  # along an edge between places that are asked [mm]


@dataclass(frozen=True)
class Obstacle:
    """What an edge keeps off.

    Attributes:
        name: tube-left, housing, cover, or the name of a weld-on.
        outline: Filled downward, in the plane of the plate.
        gap: Wanted to it [mm].
        welded: Whether the edge is welded to it.
    """

    name: str
    outline: Outline
    gap: float
    welded: bool


def obstacles_along(sheet: Sheet, axle: AxleModel, low: float, high: float, *, bridged: bool) -> tuple[Obstacle, ...]:
    """What a plate along the axle keeps off.

    Args:
        sheet: The build sheet; it has [truss].
        axle: The axle.
        low: Rear face of the plate ahead of the axle line [mm].
        high: Its front face [mm].
        bridged: Whether it stands over the centre section with air.
    """
    found = []
    for body, gap, welded in _kept_off(sheet, axle, bridged=bridged):
        # what is not welded keeps off all round, before and behind the plate as well
        more = 0.0 if welded else gap
        for outline in along_axle(body, low - more, high + more):
            if outline:
                found.append(Obstacle(body.name, outline, gap, welded))
    found += _welded_on(sheet, low, high)
    return (*found, *_fittings(sheet, low, high))


def obstacles_behind(sheet: Sheet, axle: AxleModel, way: int, thick: float, *, bridged: bool) -> tuple[Obstacle, ...]:
    """What a level plate behind the housing keeps off, in (station, distance from the axle line that way).

    Args:
        sheet: The build sheet; it has [truss].
        axle: The axle.
        way: +1 where the plate stands ahead of the axle line, -1 behind it.
        thick: Of the plate, half of it above the axle line [mm].
        bridged: Whether it stands over the centre section with air.
    """
    found = []
    for body, gap, welded in _kept_off(sheet, axle, bridged=bridged):
        outlines = along_axle(body, 0.0, 0.0) if isinstance(body, Neck) else behind_axle(body, way, thick / 2.0)
        found += [Obstacle(body.name, o, gap, welded) for o in outlines if o]
    return tuple(found)


def _kept_off(sheet: Sheet, axle: AxleModel, *, bridged: bool) -> list[tuple[Round | Neck, float, bool]]:
    """Bodies, the gap to each, and whether it is welded to."""
    truss = sheet.truss
    if truss is None:
        return []
    gap, air, beside = float(truss.gap), float(truss.air), float(truss.beside)
    found: list[tuple[Round | Neck, float, bool]] = [(b, gap, True) for b in tube_bodies(sheet, axle)]
    found += [(b, air if bridged else gap, not bridged) for b in centre_bodies(sheet, axle)]
    found += [(b, beside, False) for b in taken_off(sheet, axle)]
    if bridged:
        radius = sheet.tubes.outside_diameter / 2.0
        low, high = axle.section
        # the joint of casting and tube stays free of weld
        found += [
            (Neck("joint", (low - JOINT_ROOM, low), (radius, radius)), air, False),
            (Neck("joint", (high, high + JOINT_ROOM), (radius, radius)), air, False),
        ]
    return found


def _welded_on(sheet: Sheet, low: float, high: float) -> Iterable[Obstacle]:
    """What is on the axle already: boxes turned about the tube."""
    from shapely.geometry import Polygon, box

    radius = sheet.tubes.outside_diameter / 2.0
    for item in sheet.welded:
        c, s = math.cos(math.radians(item.clock)), math.sin(math.radians(item.clock))
        half, top = item.width / 2.0, radius + item.height
        corners = [(-half, 0.0), (half, 0.0), (half, top), (-half, top)]
        turned = Polygon([(p * c + q * s, q * c - p * s) for p, q in corners])
        cut = turned.intersection(box(low, FLOOR, high, -FLOOR))
        if cut.is_empty or cut.bounds[3] <= 0.0:
            continue
        right, left = sorted((float(item.station_from), float(item.station_to)))
        z = float(cut.bounds[3])
        outline = [(right, FLOOR), (right, z), (left, z), (left, FLOOR)]
        yield Obstacle(item.name, outline, float(sheet.truss.air) if sheet.truss else 0.0, False)


def fittings_of(sheet: Sheet) -> tuple[Fitting, ...]:
    """Plugs and breathers of the sheet, wherever it lists them."""
    of_truss = () if sheet.truss is None else sheet.truss.fittings
    return (*of_truss, *(() if sheet.access is None else sheet.access.fittings))


def _fittings(sheet: Sheet, low: float, high: float) -> Iterable[Obstacle]:
    """Plugs and breather with what goes on them, as boxes round their cylinders."""
    for one in fittings_of(sheet):
        x, y, z = fitting_box(one)
        if x[0] < high and low < x[1] and z[1] > 0.0:
            outline = [(y[0], FLOOR), (y[0], z[1]), (y[1], z[1]), (y[1], FLOOR)]
            yield Obstacle(one.name, outline, float(sheet.truss.beside) if sheet.truss else 0.0, False)


def fitting_box(one: Fitting) -> tuple[tuple[float, float], tuple[float, float], tuple[float, float]]:
    """Box round a fitting and what goes on it: (x, y, z), each from and to [mm]."""
    at = np.array([float(v) for v in one.at])
    out = np.array([float(v) for v in one.out])
    out = out / np.linalg.norm(out)
    far = at + out * float(one.pull)
    round_ = one.across / 2.0 * np.sqrt(np.maximum(0.0, 1.0 - out**2))
    low, high = np.minimum(at, far) - round_, np.maximum(at, far) + round_
    x, y, z = ((float(a), float(b)) for a, b in zip(low, high, strict=True))
    return x, y, z


def grown(obstacles: Sequence[Obstacle]) -> BaseGeometry:
    """What steel may not be in: every obstacle grown by its gap."""
    from shapely.geometry import Polygon
    from shapely.ops import unary_union

    parts = [Polygon(o.outline).buffer(o.gap + DEVIATION, quad_segs=QUADRANT) for o in obstacles]
    return unary_union(parts)


def lower_edge(free: BaseGeometry, part: str, least: float) -> Ring:
    """The lower edge of a plate, from low to high along it, as lines and arcs.

    Args:
        free: The plate as a polygon: under its top, over what it keeps off.
        part: Name a fault gives.
        least: Height of the narrowest plate that is steel and no sliver [mm].

    Raises:
        GeometryFault: When the plate is cut in two.
    """
    pieces = sorted(getattr(free, "geoms", [free]), key=lambda g: -float(g.area))
    pieces = [p for p in pieces if p.area > least**2]
    if len(pieces) != 1:
        words = "nothing of it is left" if not pieces else f"it is cut into {len(pieces)} pieces by what it stands over"
        raise GeometryFault(part, words, "make the truss higher, or let it end before what is in its way")
    ring = np.array(pieces[0].exterior.coords[:-1])
    if not pieces[0].exterior.is_ccw:
        ring = ring[::-1]
    low, high = ring[:, 0].min(), ring[:, 0].max()
    start = min((i for i in range(len(ring)) if ring[i, 0] < low + 1e-6), key=lambda i: ring[i, 1])
    ring = np.roll(ring, -start, axis=0)
    end = min((i for i in range(len(ring)) if ring[i, 0] > high - 1e-6), key=lambda i: ring[i, 1])
    return arc_chain([(float(x), float(z)) for x, z in ring[: end + 1]], DEVIATION / 2.0)


def points_along(edge: Ring) -> Array:
    """Points along an edge, an eighth of a step apart at corners, `SAMPLE` apart elsewhere (n, 2) [mm]."""
    dense = np.array(chords(edge, FINE, closed=False))
    found = [dense[:1]]
    for a, b in pairwise(dense):
        n = max(1, math.ceil(math.dist(a, b) / SAMPLE))
        found.append(a + (b - a) * (np.arange(1, n + 1) / n)[:, None])
    return np.concatenate(found)


def welded_runs(edge: Ring, obstacles: Sequence[Obstacle], ends: tuple[float, float]) -> list[tuple[str, Array]]:
    """Stretches of an edge that are welded, and to what: (name, points (n, 2)).

    Args:
        edge: Low to high.
        obstacles: What it keeps off.
        ends: Between which it is welded at all, along it [mm].
    """
    import shapely
    from shapely.geometry import Polygon

    points = points_along(edge)
    places = shapely.points(points)
    welded = [o for o in obstacles if o.welded]
    over = np.array([shapely.distance(Polygon(o.outline), places) - o.gap for o in welded])
    if not len(over):
        return []
    nearest = over.argmin(axis=0)
    good = (over.min(axis=0) <= WELDED) & (points[:, 0] >= ends[0]) & (points[:, 0] <= ends[1])
    names = np.array([o.name for o in welded])[nearest]
    names[~good] = ""
    found, start = [], 0
    for i in range(1, len(names) + 1):
        if i == len(names) or names[i] != names[start]:
            if names[start] and i - start > 1:
                found.append((str(names[start]), points[start:i]))
            start = i
    return found


def thinned(points: Array, deviation: float = 0.2) -> Array:
    """Fewer points along the same line, within a deviation [mm]."""
    from shapely.geometry import LineString

    return np.array(LineString(points).simplify(deviation).coords)


def rib_floor(
    sheet: Sheet, axle: AxleModel, right: float, left: float, x: tuple[float, float], *, bridged: bool
) -> tuple[tuple[Obstacle, ...], bool]:
    """What a plate across the axle stands on, and whether that is welded to.

    Args:
        sheet: The build sheet; it has [truss].
        axle: The axle.
        right: Its right face [mm].
        left: Its left face [mm].
        x: Rear and front end ahead of the axle line [mm].
        bridged: Whether the truss stands over the centre section with air.
    """
    xs = np.linspace(x[0] - 30.0, x[1] + 30.0, 241)
    found, welded = [], False
    for body, gap, on in _kept_off(sheet, axle, bridged=bridged):
        more = 0.0 if on else gap
        heights = across_axle(body, right - more, left + more, xs)
        for a, b in first_pairs(heights):
            if b <= a:
                continue
            line = [(float(p), float(q)) for p, q in zip(xs[a : b + 1], heights[a : b + 1], strict=True)]
            found.append(Obstacle(body.name, [(line[0][0], FLOOR), *line, (line[-1][0], FLOOR)], gap, on))
    names = {o.name for o in found if o.outline}
    welded = bool(found) and not (bridged and names & {"housing", "joint"})
    return tuple(found), welded
