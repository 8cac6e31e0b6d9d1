"""Parts as straight segments that hold all their steel: turning, distance, and free travel.

Arcs are bounded from outside: where the steel bulges by tangents, where it is hollow by chords. So
what keeps clear of the segments keeps clear of the steel, and the segments are nowhere farther from
it than the deviation asked for.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from fixturegen.nesting.records import Blank
from fixturegen.plate.profile import Loop, Vertex, edges, reversed_loop, signed_area

Floats = NDArray[np.float64]
Point = tuple[float, float]
WIDEST_RAD = math.pi / 3.0  # one tangent or chord never stands for more of an arc
BACK = 1e-4  # [mm] left free after a slide, so that the next one does not graze
GRAZE = 1e-6  # [mm] nearer than the spacing by less is rounding
CHUNK = 400_000  # pairs looked at in one go: a few tens of megabytes


def cosine_and_sine(angle: float) -> tuple[float, float]:
    """Cosine and sine of an angle [deg], quarter turns without rounding."""
    quarter = angle / 90.0
    if quarter == round(quarter):
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter) % 4]
    return math.cos(math.radians(angle)), math.sin(math.radians(angle))


def turned_loop(loop: Loop, angle: float) -> Loop:
    """The loop turned about the origin by `angle` [deg]; arcs stay arcs."""
    c, s = cosine_and_sine(angle)
    return tuple(Vertex(c * v.x - s * v.y, s * v.x + c * v.y, v.bulge) for v in loop)


def rings(blank: Blank) -> list[Loop]:
    """Outline and openings with the steel on their left: a positive bulge is then steel that bulges."""
    outer = blank.outer if signed_area(blank.outer) > 0.0 else reversed_loop(blank.outer)
    return [outer, *(o if signed_area(o) < 0.0 else reversed_loop(o) for o in blank.openings)]


def segments(blank: Blank, deviation: float) -> Floats:
    """Segments (n, 4) as x0, y0, x1, y1 [mm] round all steel of a part, arcs within `deviation` [mm]."""
    rows = []
    for ring in rings(blank):
        points = np.array(outside_points(ring, deviation))
        rows.append(np.hstack([points, np.roll(points, -1, axis=0)]))
    return np.vstack(rows)


def outside_points(ring: Loop, deviation: float) -> list[Point]:
    """Corners [mm] of straight segments that hold all steel of a ring with its steel on the left."""
    points: list[Point] = []
    for e in edges(ring):
        points.append((e.x0, e.y0))
        if e.centre is None:
            continue
        (cx, cy), r, sweep = e.centre, e.radius, e.sweep_rad
        start = math.atan2(e.y0 - cy, e.x0 - cx)
        # tangents reach r / cos(half) - r beyond the arc, chords stay r - r cos(half) within it
        share = r / (r + deviation) if sweep > 0.0 else max(0.0, 1.0 - deviation / r)
        n = max(1, math.ceil(abs(sweep) / min(2.0 * math.acos(share), WIDEST_RAD)))
        step = sweep / n
        if sweep > 0.0:
            reach = r / math.cos(step / 2.0)
            turns = [start + (k + 0.5) * step for k in range(n)]
        else:
            reach = r
            turns = [start + k * step for k in range(1, n)]
        points += [(cx + reach * math.cos(a), cy + reach * math.sin(a)) for a in turns]
    return points


def turned(pieces: Floats, angle: float) -> Floats:
    """Segments (n, 4) turned about the origin by `angle` [deg]."""
    c, s = cosine_and_sine(angle)
    matrix = np.array([[c, s], [-s, c]])
    return np.asarray(np.hstack([pieces[:, :2] @ matrix, pieces[:, 2:] @ matrix]), dtype=np.float64)


def moved(pieces: Floats, x: float, y: float) -> Floats:
    """Segments (n, 4) moved by (x, y) [mm]."""
    return np.asarray(pieces + np.array([x, y, x, y]), dtype=np.float64)


def box_of(pieces: Floats) -> tuple[float, float, float, float]:
    """(xmin, ymin, xmax, ymax) of segments (n, 4) [mm]."""
    x, y = pieces[:, 0::2], pieces[:, 1::2]
    return float(x.min()), float(y.min()), float(x.max()), float(y.max())


def distance(a: Floats, b: Floats) -> float:
    """Least distance [mm] between two sets of segments (n, 4) that do not cross."""
    return min(_points_to(a[:, :2], b), _points_to(b[:, :2], a))


def _points_to(points: Floats, pieces: Floats) -> float:
    best = math.inf
    size = max(1, CHUNK // len(pieces))
    along = pieces[:, 2:] - pieces[:, :2]
    squared = np.maximum((along**2).sum(axis=1), 1e-300)
    for k in range(0, len(points), size):
        off = points[k : k + size, None, :] - pieces[None, :, :2]
        share = np.clip((off * along).sum(axis=2) / squared, 0.0, 1.0)
        best = min(best, float(((off - share[:, :, None] * along) ** 2).sum(axis=2).min()))
    return math.sqrt(best)


def cross(a: Floats, b: Floats) -> bool:
    """Whether a segment of one set (n, 4) runs through one of the other."""

    def side(pieces: Floats, x: Floats, y: Floats) -> Floats:
        p = pieces[:, None, :]
        return np.sign((p[..., 2] - p[..., 0]) * (y - p[..., 1]) - (p[..., 3] - p[..., 1]) * (x - p[..., 0]))

    def split(pieces: Floats, by: Floats) -> NDArray[np.bool_]:
        opposite = side(by, pieces[:, 0], pieces[:, 1]) * side(by, pieces[:, 2], pieces[:, 3]) < 0.0
        return np.asarray(opposite, dtype=np.bool_)

    return bool((split(b, a) & split(a, b).T).any())


def in_steel(pieces: Floats, x: float, y: float) -> bool:
    """Whether (x, y) [mm] lies in the steel that the segments (n, 4) bound: odd crossings to the right."""
    x0, y0, x1, y1 = pieces.T
    over = (y0 > y) != (y1 > y)
    where = x0[over] + (y - y0[over]) * (x1[over] - x0[over]) / (y1[over] - y0[over])
    return bool(np.count_nonzero(where > x) % 2)


def free_travel(moving: Floats, fixed: Floats, limit: float, spacing: float) -> float:
    """How far segments (n, 4) may move towards -x, up to `limit`, keeping `spacing` from `fixed` (m, 4) [mm].

    Two outlines of straight segments first come within the spacing where a corner of one meets a
    segment of the other, or its end; each such pair is a ray against a line or a circle. Derived.
    """
    x0, y0, x1, y1 = box_of(moving)
    fx, fy = fixed[:, 0::2], fixed[:, 1::2]
    near = (
        (fy.max(axis=1) >= y0 - spacing)
        & (fy.min(axis=1) <= y1 + spacing)
        & (fx.min(axis=1) <= x1 + spacing)
        & (fx.max(axis=1) >= x0 - limit - spacing)
    )
    left = fixed[near]
    if limit <= BACK or not len(left):
        return max(0.0, limit)
    ends = np.vstack([left[:, :2], left[:, 2:]])
    mirror2, mirror4 = np.array([-1.0, 1.0]), np.array([-1.0, 1.0, -1.0, 1.0])
    least = min(
        limit + BACK,
        _first_corner(moving[:, :2], ends, spacing),
        _first_line(moving[:, :2], left, spacing),
        _first_line(ends * mirror2, moving * mirror4, spacing),
    )
    return max(0.0, least - BACK)


def _first_corner(points: Floats, ends: Floats, spacing: float) -> float:
    dx = points[:, None, 0] - ends[None, :, 0]
    dy = points[:, None, 1] - ends[None, :, 1]
    root = np.sqrt(np.maximum(spacing**2 - dy**2, 0.0))
    met = (np.abs(dy) < spacing) & (dx + root > GRAZE)
    return float(np.where(met, np.maximum(dx - root, 0.0), math.inf).min())


def _first_line(points: Floats, pieces: Floats, spacing: float) -> float:
    along = pieces[:, 2:] - pieces[:, :2]
    length = np.hypot(along[:, 0], along[:, 1])
    kept = length > GRAZE
    a, along, length = pieces[kept, :2], along[kept] / length[kept, None], length[kept]
    nx, ny = -along[:, 1], along[:, 0]
    off = points[:, None, :] - a[None, :, :]
    height = off[..., 0] * nx + off[..., 1] * ny
    nearing = (height * nx > 0.0) & (np.abs(nx) > 1e-12) & (np.abs(height) >= spacing - GRAZE)
    t = np.maximum(np.abs(height) - spacing, 0.0) / np.maximum(np.abs(nx), 1e-12)
    foot = (off[..., 0] - t) * along[:, 0] + off[..., 1] * along[:, 1]
    met = nearing & (foot >= 0.0) & (foot <= length)
    return float(np.where(met, t, math.inf).min(initial=math.inf))
