"""How narrow steel and openings get along the cuts of a plate, and whether cuts touch; no kernel.

Arcs are taken as chords within `CHORD`, so a width is right to twice that.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from fixturegen.plate.part import Profile
from fixturegen.plate.profile import Edge, Loop, Operation, circle, edges, polyline, reversed_loop, signed_area

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

CHORD = 0.02  # arcs as chords within this [mm]
INSET = 0.01  # from the end of an edge to the first place a width is taken at [mm]
FACING = -0.9  # cosine between two walls that face each other: within 25 deg of parallel
TOUCH = 0.01  # cuts closer than this touch [mm]
NO_AREA = 0.01  # a contour that encloses less is none [mm2]
NO_LENGTH = 1e-6  # an edge that is shorter is none [mm]
SMOOTH = math.radians(5.0)  # a corner that turns by less is taken as smooth


@dataclass(frozen=True)
class Narrow:
    """A width and where it is: in mm, the part frame."""

    width: float
    x: float
    y: float


@dataclass(frozen=True)
class Contour:
    """One cut: what it is in words, its loop with the steel on the left, and its points (n, 2) [mm]."""

    words: str
    loop: Loop
    points: Array
    round: bool = False


def contours(profile: Profile) -> tuple[Contour, ...]:
    """Every cut of a profile: outline, openings, holes that are cut; marks are no cuts."""
    found = [_contour("the outline", profile.outer)]
    for loop in profile.inner:
        x, y = (sum(getattr(v, k) for v in loop) / max(1, len(loop)) for k in "xy")
        found.append(_contour(f"the opening at ({x:.0f}, {y:.0f}) mm", loop))
    for hole in profile.holes:
        if hole.operation is not Operation.PILOT:
            ring = reversed_loop(circle(hole.x, hole.y, hole.finished if hole.cut is None else hole.cut))
            found.append(_contour(f"the hole {hole.label or hole.purpose.value}", ring, True))
    return tuple(found)


def _contour(words: str, loop: Loop, is_round: bool = False) -> Contour:
    points = polyline(loop, CHORD) if _finite(loop) else ()
    return Contour(words, loop, np.array(points, dtype=np.float64).reshape(-1, 2), is_round)


def _finite(loop: Loop) -> bool:
    return all(math.isfinite(k) for v in loop for k in (v.x, v.y, v.bulge))


def narrowest(contour: Contour, *, steel: bool) -> Narrow | None:
    """The least width between two walls of one cut that face each other; None when none do.

    A ray is sent square from both ends and the middle of every edge; the first wall it meets counts
    when it stands within 25 deg of parallel, so that the tip of a corner is no narrow place.

    Args:
        contour: The cut.
        steel: Whether through the steel beside it, or through what is cut away.
    """
    a = contour.points
    b = np.roll(a, -1, axis=0)
    keep = np.linalg.norm(b - a, axis=1) > NO_LENGTH
    a, b = a[keep], b[keep]
    along = b - a
    length = np.linalg.norm(along, axis=1)
    way = along / length[:, None]
    normal = np.stack([-way[:, 1], way[:, 0]], axis=1) * (1.0 if steel else -1.0)
    inset = np.minimum(INSET, length / 4.0)
    steps = np.stack([inset, length / 2.0, length - inset], axis=1)
    start = (a[:, None, :] + steps[:, :, None] * way[:, None, :]).reshape(-1, 2)
    look = np.repeat(normal, 3, axis=0)
    # start + s look = a + t along, for every ray and every edge
    apart = a[None, :, :] - start[:, None, :]
    turn = look[:, None, 0] * along[None, :, 1] - look[:, None, 1] * along[None, :, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        s = (apart[..., 0] * along[None, :, 1] - apart[..., 1] * along[None, :, 0]) / turn
        t = (apart[..., 0] * look[:, None, 1] - apart[..., 1] * look[:, None, 0]) / turn
    s[~((s > TOUCH / 2.0) & (t > -1e-9) & (t < 1.0 + 1e-9))] = np.inf
    first = s.argmin(axis=1)
    rows = np.arange(len(start))
    facing = np.einsum("ij,ij->i", look, normal[first]) < FACING
    width = np.where(facing, s[rows, first], np.inf)
    best = int(width.argmin())
    if not np.isfinite(width[best]):
        return None
    x, y = start[best] + look[best] * width[best] / 2.0
    return Narrow(float(width[best]), float(x), float(y))


def between(a: Contour, b: Contour, within: float) -> Narrow | None:
    """The least distance of two cuts; None when their frames are farther apart than `within` [mm]."""
    gap = np.maximum(a.points.min(axis=0) - b.points.max(axis=0), b.points.min(axis=0) - a.points.max(axis=0))
    if float(np.hypot(*np.maximum(gap, 0.0))) > within:
        return None
    found = [_to_edges(a.points, b.points), _to_edges(b.points, a.points)]
    return min(found, key=lambda n: n.width)


def _to_edges(points: Array, ring: Array) -> Narrow:
    along = np.roll(ring, -1, axis=0) - ring
    squared = np.maximum((along**2).sum(axis=1), 1e-18)
    apart = points[:, None, :] - ring[None, :, :]
    t = np.clip((apart * along).sum(axis=2) / squared, 0.0, 1.0)
    off = apart - t[..., None] * along
    distance = np.hypot(off[..., 0], off[..., 1])
    i, j = np.unravel_index(int(distance.argmin()), distance.shape)
    x, y = points[i] - off[i, j] / 2.0
    return Narrow(float(distance[i, j]), float(x), float(y))


def webs(cuts: Sequence[Contour], within: float) -> list[tuple[Narrow, str]]:
    """Steel narrower than `within` [mm] between cuts and inside one, with words for where."""
    found = []
    for a, b in combinations(cuts, 2):
        near = between(a, b, within)
        if near is not None and near.width < within:
            found.append((near, f"between {a.words} and {b.words}"))
    for one in cuts:
        neck = None if one.round else narrowest(one, steel=True)
        if neck is not None and neck.width < within:
            found.append((neck, f"across {one.words}" if one is cuts[0] else f"in a tongue of {one.words}"))
    return sorted(found, key=lambda f: f[0].width)


@dataclass(frozen=True)
class Corner:
    """An inside corner: steel a torch leaves in it, its place [mm]; infinite where it cannot get in."""

    left: float
    x: float
    y: float


def inside_corners(loop: Loop, radius: float) -> list[Corner]:
    """Corners the steel goes round where a torch that turns in `radius` leaves steel, the worst first.

    Formula: left = (radius - r) (1 / sin(a / 2) - 1), with r the corner's own radius, 0 when sharp, and
    a the angle open between its sides: from the corner to the arc of the torch. Derived.

    Args:
        loop: Run with the steel on its left, so that such a corner turns to the right.
        radius: Half the kerf [mm].
    """
    found = []
    ring = [e for e in edges(loop) if e.length > NO_LENGTH]
    for before, edge in zip([ring[-1], *ring[:-1]] if ring else [], ring, strict=True):
        (ax, ay), (bx, by) = _heading(before, True), _heading(edge, False)
        turn = math.atan2(ax * by - ay * bx, ax * bx + ay * by)
        if turn < -SMOOTH:
            found.append(Corner(_left(radius, -turn), edge.x0, edge.y0))
        if edge.centre is not None and edge.sweep_rad < 0.0 and edge.radius < radius - NO_LENGTH:
            left = _left(radius - edge.radius, -edge.sweep_rad)
            found.append(Corner(left, (edge.x0 + edge.x1) / 2.0, (edge.y0 + edge.y1) / 2.0))
    return sorted(found, key=lambda c: -c.left)


def _left(radius: float, turn: float) -> float:
    """Steel left where the cut turns by an angle [rad]."""
    half = (math.pi - turn) / 2.0
    return radius * (1.0 / math.sin(half) - 1.0) if half > SMOOTH else math.inf


def _heading(edge: Edge, end: bool) -> tuple[float, float]:
    """Direction of an edge at its end or its start, as a unit vector."""
    if edge.centre is None:
        n = math.hypot(edge.x1 - edge.x0, edge.y1 - edge.y0)
        return (edge.x1 - edge.x0) / n, (edge.y1 - edge.y0) / n
    x, y = (edge.x1, edge.y1) if end else (edge.x0, edge.y0)
    rx, ry = (x - edge.centre[0]) / edge.radius, (y - edge.centre[1]) / edge.radius
    return (-ry, rx) if edge.sweep_rad > 0.0 else (ry, -rx)


def contour_fault(contour: Contour, outside: bool) -> tuple[str, float, float] | None:
    """What is wrong with one contour, and where [mm]; None when it can be cut.

    Args:
        contour: The cut.
        outside: Whether it is the outline, which runs counter-clockwise.
    """
    loop = contour.loop
    if not _finite(loop):
        return "has a corner that is no number", 0.0, 0.0
    x, y = (loop[0].x, loop[0].y) if loop else (0.0, 0.0)
    area = signed_area(loop) if len(loop) > 1 else 0.0
    if abs(area) < NO_AREA:
        return "encloses no area", x, y
    for edge in edges(loop):
        if edge.length < NO_LENGTH:
            return "has an edge of no length", edge.x0, edge.y0
    touch = self_touch(contour.points)
    if touch is not None:
        return ("touches or crosses itself", *touch)
    return None if bool(area > 0.0) is outside else ("runs the wrong way round", x, y)


def self_touch(points: Array) -> tuple[float, float] | None:
    """Where a closed ring of points (n, 2) [mm] comes within 0.01 mm of itself or crosses; None when nowhere."""
    n = len(points)
    a, b = points, np.roll(points, -1, axis=0)
    i, j = np.arange(n)[:, None], np.arange(n)[None, :]
    near = _crossing(a, b, a, b) & (i != j) & ((i + 1) % n != j) & ((j + 1) % n != i)
    if near.any():
        k = int(np.argwhere(near)[0][0])
        return float(points[k][0]), float(points[k][1])
    # a corner that stands on another edge does not cross it
    along = b - a
    squared = np.maximum((along**2).sum(axis=1), 1e-18)
    apart = points[:, None, :] - a[None, :, :]
    t = np.clip((apart * along).sum(axis=2) / squared, 0.0, 1.0)
    distance = np.linalg.norm(apart - t[..., None] * along, axis=2)
    # a corner near by along the line is no touch: what counts is how far it is to walk there
    walk = np.concatenate([[0.0], np.cumsum(np.sqrt(squared))])
    ahead = np.abs(walk[:n][:, None] - (walk[:n] + t * np.sqrt(squared)))
    ahead = np.minimum(ahead, walk[-1] - ahead)
    close = (distance < TOUCH) & (ahead > 4.0 * TOUCH + 2.0 * distance)
    # chords of one small arc lie close along the line and are told apart by the walk alone
    if not close.any():
        return None
    k = int(np.argwhere(close)[0][0])
    return float(points[k][0]), float(points[k][1])


def crosses(a: Contour, b: Contour) -> bool:
    """Whether two cuts cross."""
    gap = np.maximum(a.points.min(axis=0) - b.points.max(axis=0), b.points.min(axis=0) - a.points.max(axis=0))
    if (gap > 0.0).any():
        return False
    p, q = a.points, b.points
    return bool(_crossing(p, np.roll(p, -1, axis=0), q, np.roll(q, -1, axis=0)).any())


def _crossing(a: Array, b: Array, c: Array, d: Array) -> Bools:
    """Which edges a-b (n) cross which edges c-d (m), properly: (n, m)."""

    def side(p: Array, q: Array, r: Array) -> Array:
        sides: Array = (q[..., 0] - p[..., 0]) * (r[..., 1] - p[..., 1]) - (q[..., 1] - p[..., 1]) * (
            r[..., 0] - p[..., 0]
        )
        return sides

    a, b, c, d = a[:, None], b[:, None], c[None, :], d[None, :]
    cross: Bools = (side(a, b, c) * side(a, b, d) < 0.0) & (side(c, d, a) * side(c, d, b) < 0.0)
    return cross
