"""Triangles as they come out of a file, made fit for distances: what was wrong is counted, nothing is closed up.

Points of one place become one point; triangles of no area, written twice or with a corner that is no
number are left out; triangles that look the other way than their neighbours are turned. A hole stays
a hole. Every step works on whole arrays, so that a million triangles take seconds.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components

from fixturegen.errors import GeometryFault

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]

FLAT = 1e-6
"""[mm] height of a triangle that counts as none: far below the rounding of any file."""

SMOOTH = 0.8
"""[1] of its triangles' areas added up, what their directions leave at a point of a smooth surface."""

FEWEST = 500
"""Smooth points that noise is read from: the median of fewer wanders by more than a tenth."""

ROBUST = 1.4826
"""[1] standard deviation over median distance from the middle, normal distribution (closed form)."""

SECOND = (7.0 / 6.0) ** 2 + 6.0 * (5.0 / 18.0) ** 2 + 6.0 * (1.0 + 4.0) / 36.0**2
"""[1] sum of squared weights of a point, its six neighbours and the twelve beyond, every point having six."""

MOST_OUTER = 32
"""Closed pieces that are asked whether they hold another: the largest of them."""

MOST_INNER = 256
"""Pieces that are asked whether they lie in another; a scan may have thousands of specks."""


@dataclass(frozen=True, eq=False)
class Healed:
    """Triangles fit for use, and what was found on the way.

    Attributes:
        vertices: (n, 3) [mm].
        faces: (m, 3), counter-clockwise seen from outside where the surface is closed.
        area: [mm2].
        volume: [mm3]; voids taken off, steel inside steel counted once; None where any piece is open.
        pieces: Surfaces that hang together by their edges.
        inner: Pieces wholly inside another.
        open_edges: Edges with a triangle on one side only.
        holes: Runs of open edges.
        largest_hole: Length of the longest run [mm].
        crowded: Edges with more than two triangles.
        turned: Triangles turned round.
        twisted: Whether a piece has one side only, so that no turning puts it right.
        flat: Triangles of no area left out.
        doubled: Triangles left out for being there twice.
        broken: Triangles left out for a corner that is no number.
        roughness: Standard deviation of the noise [mm], or None.
    """

    vertices: Floats
    faces: Ints
    area: float
    volume: float | None
    pieces: int
    inner: int
    open_edges: int
    holes: int
    largest_hole: float
    crowded: int
    turned: int
    twisted: bool
    flat: int
    doubled: int
    broken: int
    roughness: float | None


@dataclass(frozen=True, eq=False)
class _Edges:
    """Edges of a mesh: their ends, how many triangles each has, and the pairs across those that have two or more."""

    ends: Ints
    counts: Ints
    first: Ints
    second: Ints
    against: Bools  # whether both triangles of a pair run along the edge the same way, which they must not


def healed(name: str, points: npt.NDArray[np.floating], faces: Ints, scale: float) -> Healed:
    """The triangles fit for use.

    Args:
        name: What findings call it.
        points: (n, 3) in the unit of the file.
        faces: (m, 3).
        scale: Of that unit [mm].

    Raises:
        GeometryFault: When nothing is left.
    """
    good = np.isfinite(points).all(axis=1)
    whole = good[faces].all(axis=1)
    broken = int(len(faces) - whole.sum())
    if broken:
        faces = faces[whole]
    if not len(faces):
        raise GeometryFault(name, "no triangle has three corners that are numbers", "export it again")
    vertices, faces = _welded(points, faces)
    vertices = vertices * scale
    faces, same = _without_same(faces)
    faces, doubled = _without_doubles(faces, len(vertices))
    flat_here = _heights(vertices, faces) <= FLAT
    if flat_here.all():
        raise GeometryFault(name, "all its triangles are of no area", "export it again as a surface")
    edges = _edges(faces, len(vertices))
    labels, pieces = _pieces(edges, len(faces))
    turn, twisted = _turns(edges, len(faces), labels)
    faces = np.where(turn[:, None], faces[:, ::-1], faces)
    tight = _closed_pieces(edges, labels, pieces) if not twisted else np.zeros(pieces, bool)
    volumes = _volumes(vertices, faces, labels, pieces)
    outer, inner = _nesting(vertices, faces, labels, tight, volumes)
    flip = (tight & (volumes[outer] < 0.0))[labels]
    faces = np.where(flip[:, None], faces[:, ::-1], faces)
    lone, length = _holes(vertices, edges)
    kept = faces[~flat_here]
    used, at = np.unique(kept, return_inverse=True)
    return Healed(
        vertices=np.ascontiguousarray(vertices[used]),
        faces=np.ascontiguousarray(at.reshape(-1, 3).astype(np.int64)),
        area=float(_twice_areas(vertices, kept).sum() / 2.0),
        volume=_whole(volumes, outer) if tight.all() else None,
        pieces=pieces,
        inner=inner,
        open_edges=int((edges.counts == 1).sum()),
        holes=lone,
        largest_hole=length,
        crowded=int((edges.counts > 2).sum()),
        turned=int((turn ^ flip).sum()),
        twisted=twisted,
        flat=same + int(flat_here.sum()),
        doubled=doubled,
        broken=broken,
        roughness=_roughness(vertices, faces, edges),
    )


def _welded(points: npt.NDArray[np.floating], faces: Ints) -> tuple[Floats, Ints]:
    """Points of one place made one, bit by bit; those no triangle names left out."""
    named = np.zeros(len(points), dtype=bool)
    named[faces.reshape(-1)] = True
    if not named.all():
        points, faces = points[named], (np.cumsum(named) - 1)[faces]
    points = np.ascontiguousarray(points) + points.dtype.type(0.0)  # a negative zero becomes a plain one
    word = np.uint32 if points.dtype == np.float32 else np.uint64
    bits = points.view(word).astype(np.uint64)
    # a mixed number of three is sorted faster than the three; that no two places share one is looked at
    mixed = bits[:, 0] * np.uint64(0x9E3779B97F4A7C15)
    for k, factor in ((1, 0xC2B2AE3D27D4EB4F), (2, 0x165667B19E3779F9)):
        mixed = (mixed ^ (mixed >> np.uint64(29))) + bits[:, k] * np.uint64(factor)
        mixed ^= mixed >> np.uint64(32)
    del bits
    _, first, inverse = np.unique(mixed, return_index=True, return_inverse=True)
    inverse = inverse.reshape(-1)
    if not np.array_equal(points[first][inverse], points):
        _, first, inverse = np.unique(points, axis=0, return_index=True, return_inverse=True)
        inverse = inverse.reshape(-1)
    # in the order they were met, so that the same file gives the same mesh whatever the mixing
    order = np.argsort(first, kind="stable")
    rank = np.empty(len(order), dtype=np.int64)
    rank[order] = np.arange(len(order))
    return points[first[order]].astype(np.float64), rank[inverse][faces]


def _without_same(faces: Ints) -> tuple[Ints, int]:
    """Triangles with three corners, and how many had fewer."""
    keep = (faces[:, 0] != faces[:, 1]) & (faces[:, 1] != faces[:, 2]) & (faces[:, 2] != faces[:, 0])
    return faces[keep], int(len(faces) - keep.sum())


def _without_doubles(faces: Ints, count: int) -> tuple[Ints, int]:
    """Triangles on three corners each, once, and how many were there again."""
    ordered = np.sort(faces, axis=1)
    low = ordered[:, 0] * count + ordered[:, 1]
    order = np.lexsort((ordered[:, 2], low))
    again = np.zeros(len(faces), dtype=bool)
    again[order[1:]] = (np.diff(low[order]) == 0) & (np.diff(ordered[order, 2]) == 0)
    return (faces[~again], int(again.sum())) if again.any() else (faces, 0)


def _normals(vertices: Floats, faces: Ints) -> Floats:
    """Vectors square to the triangles, as long as twice their areas (m, 3) [mm2]."""
    a = vertices[faces[:, 0]]
    return np.asarray(np.cross(vertices[faces[:, 1]] - a, vertices[faces[:, 2]] - a), dtype=np.float64)


def _twice_areas(vertices: Floats, faces: Ints) -> Floats:
    return np.asarray(np.linalg.norm(_normals(vertices, faces), axis=1), dtype=np.float64)


def _heights(vertices: Floats, faces: Ints) -> Floats:
    """Least height of each triangle (m,) [mm]."""
    longest = np.zeros(len(faces))
    for i, j in ((0, 1), (1, 2), (2, 0)):
        side = np.linalg.norm(vertices[faces[:, i]] - vertices[faces[:, j]], axis=1)
        np.maximum(longest, side, out=longest)
    return _twice_areas(vertices, faces) / np.maximum(longest, 1e-300)


def _edges(faces: Ints, count: int) -> _Edges:
    """The edges, and which triangles meet at them."""
    tails, heads = faces.reshape(-1), np.roll(faces, -1, axis=1).reshape(-1)
    key = np.minimum(tails, heads) * count + np.maximum(tails, heads)
    order = np.argsort(key, kind="stable")
    key = key[order]
    new = np.empty(len(key), dtype=bool)
    new[0], new[1:] = True, key[1:] != key[:-1]
    starts = np.flatnonzero(new)
    counts = np.diff(np.append(starts, len(key)))
    upward = (tails < heads)[order]
    follows = np.flatnonzero(~new)
    return _Edges(
        ends=np.stack([key[starts] // count, key[starts] % count], axis=1),
        counts=counts,
        first=order[follows - 1] // 3,
        second=order[follows] // 3,
        against=upward[follows - 1] == upward[follows],
    )


def _joined(first: Ints, second: Ints, count: int) -> tuple[int, Ints]:
    """How many groups the pairs make of so many things, and the group of each."""
    pairs = coo_matrix((np.ones(len(first), dtype=np.int8), (first, second)), shape=(count, count))
    groups, labels = connected_components(pairs, directed=False)
    return int(groups), labels.astype(np.int64)


def _pieces(edges: _Edges, count: int) -> tuple[Ints, int]:
    pieces, labels = _joined(edges.first, edges.second, count)
    return labels, pieces


def _turns(edges: _Edges, count: int, labels: Ints) -> tuple[Bools, bool]:
    """Which triangles look the other way than most of their piece, and whether some piece has one side only."""
    turn = np.zeros(count, dtype=bool)
    if not edges.against.any():
        return turn, False
    # every triangle twice, as it is and turned: pairs that agree join like with like, others crosswise
    two = edges.second + np.where(edges.against, count, 0)
    other = edges.second + np.where(edges.against, 0, count)
    _, sides = _joined(np.concatenate([edges.first, edges.first + count]), np.concatenate([two, other]), 2 * count)
    twisted = bool((sides[:count] == sides[count:]).any())
    # of the two ways to lay a piece, the one the larger part of it lies in already
    lower = np.full(labels.max() + 1, np.iinfo(np.int64).max)
    np.minimum.at(lower, labels, np.minimum(sides[:count], sides[count:]))
    turn = sides[:count] != lower[labels]
    many = np.bincount(labels, weights=turn) * 2 > np.bincount(labels)
    turn ^= many[labels]
    return turn, twisted


def _closed_pieces(edges: _Edges, labels: Ints, pieces: int) -> Bools:
    """Which pieces have two triangles at every edge."""
    tight = np.ones(pieces, dtype=bool)
    if (edges.counts == 1).any() or (edges.counts > 2).any():
        # an edge of two triangles makes one pair: a closed piece has three halves of pairs for each triangle
        halves = np.bincount(labels[edges.first], minlength=pieces) * 2
        tight = halves == 3 * np.bincount(labels, minlength=pieces)
    if (edges.counts > 2).any():
        at = np.repeat(edges.counts, np.maximum(edges.counts - 1, 0)) > 2
        tight[labels[edges.first[at]]] = False
        tight[labels[edges.second[at]]] = False
    return tight


def _volumes(vertices: Floats, faces: Ints, labels: Ints, pieces: int) -> Floats:
    """Volume of each piece by the divergence theorem, negative where it looks inward (k,) [mm3]."""
    middle = vertices.mean(axis=0)
    a = vertices[faces[:, 0]] - middle
    six = np.einsum("ij,ij->i", a, _normals(vertices, faces))
    return np.asarray(np.bincount(labels, weights=six, minlength=pieces) / 6.0, dtype=np.float64)


def _whole(volumes: Floats, outer: Ints) -> float:
    """Volume of all pieces [mm3], each as it looks once its outermost holder looks outward."""
    right = np.where(volumes[outer] < 0.0, -volumes, volumes)
    lone = outer == np.arange(len(outer))
    return float(right[lone | (right < 0.0)].sum())


def _nesting(vertices: Floats, faces: Ints, labels: Ints, tight: Bools, volumes: Floats) -> tuple[Ints, int]:
    """For each piece the closed piece that holds it, or itself (k,), and how many are held."""
    outer = np.arange(len(tight))
    if len(tight) < 2 or not tight.any():
        return outer, 0
    low, high = _boxes(vertices, faces, labels, len(tight))
    large = np.argsort(-np.abs(np.where(tight, volumes, 0.0)), kind="stable")
    holders = [int(k) for k in large[:MOST_OUTER] if tight[k]]
    first = np.full(len(tight), len(faces), dtype=np.int64)
    np.minimum.at(first, labels, np.arange(len(faces)))
    for k in [int(k) for k in large[: MOST_INNER + MOST_OUTER]]:
        point = vertices[faces[first[k], 0]]
        for holder in holders:
            roomy = holder != k and bool(np.all(low[holder] <= low[k]) and np.all(high[holder] >= high[k]))
            if roomy and abs(_winding(vertices[faces[labels == holder]], point)) > 0.5:
                outer[k] = outer[holder]
                break
    return outer, int((outer != np.arange(len(tight))).sum())


def _boxes(vertices: Floats, faces: Ints, labels: Ints, pieces: int) -> tuple[Floats, Floats]:
    low, high = np.full((pieces, 3), np.inf), np.full((pieces, 3), -np.inf)
    corners = vertices[faces]
    np.minimum.at(low, labels, corners.min(axis=1))
    np.maximum.at(high, labels, corners.max(axis=1))
    return low, high


def _winding(triangles: Floats, point: Floats) -> float:
    """How often a closed surface (m, 3, 3) goes round a point (3,).

    Source: Van Oosterom and Strackee, IEEE Trans. Biomed. Eng. 1983, solid angle of a triangle.
    """
    corners = triangles - point
    a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
    la, lb, lc = np.linalg.norm(a, axis=1), np.linalg.norm(b, axis=1), np.linalg.norm(c, axis=1)
    over = np.einsum("ij,ij->i", a, np.cross(b, c))
    dots = [np.einsum("ij,ij->i", p, q) for p, q in ((a, b), (b, c), (c, a))]
    below = la * lb * lc + dots[0] * lc + dots[1] * la + dots[2] * lb
    return float(np.arctan2(over, below).sum() / (2.0 * np.pi))


def _holes(vertices: Floats, edges: _Edges) -> tuple[int, float]:
    """How many runs the open edges make, and the length of the longest [mm]."""
    ends = edges.ends[edges.counts == 1]
    if not len(ends):
        return 0, 0.0
    _, at = np.unique(ends, return_inverse=True)
    at = at.reshape(-1, 2)
    count, labels = _joined(at[:, 0], at[:, 1], int(at.max()) + 1)
    lengths = np.linalg.norm(vertices[ends[:, 0]] - vertices[ends[:, 1]], axis=1)
    return count, float(np.bincount(labels[at[:, 0]], weights=lengths).max())


def _roughness(vertices: Floats, faces: Ints, edges: _Edges) -> float | None:
    """Standard deviation of the noise across the surface [mm]; None where too few points are smooth.

    How far a point stands above the middle of its neighbours, less the mean of the same for them: a surface
    that bends evenly leaves nothing. Where each point is out by s on its own this has the variance
    `SECOND` s^2; the median does not mind edges and corners. Source: variance of a sum; derived.
    """
    count = len(vertices)
    normals, total = _normals(vertices, faces), np.zeros(count)
    sizes = np.linalg.norm(normals, axis=1)
    near = _around(edges, np.ones(count))
    summed, off = np.empty((count, 3)), np.empty((count, 3))
    for k in range(3):
        total += np.bincount(faces[:, k], weights=sizes, minlength=count)
        off[:, k] = vertices[:, k] - _around(edges, vertices[:, k]) / np.maximum(near, 1.0)
        summed[:, k] = sum(np.bincount(faces[:, c], weights=normals[:, k], minlength=count) for c in range(3))
    long = np.linalg.norm(summed, axis=1)
    smooth = (long >= SMOOTH * total) & (near > 0) & (total > 0.0)
    smooth[edges.ends[edges.counts != 2].reshape(-1)] = False
    above = np.einsum("ij,ij->i", off, summed) / np.maximum(long, 1e-300)
    inside = smooth & (_around(edges, smooth.astype(float)) == near)
    if int(inside.sum()) < FEWEST:
        return None
    left = (above - _around(edges, above) / np.maximum(near, 1.0))[inside]
    return float(ROBUST * np.median(np.abs(left)) / np.sqrt(SECOND))


def _around(edges: _Edges, values: Floats) -> Floats:
    """Sum of the values of each point's neighbours (n,)."""
    a, b = edges.ends[:, 0], edges.ends[:, 1]
    total = np.bincount(a, weights=values[b], minlength=len(values))
    return np.asarray(total + np.bincount(b, weights=values[a], minlength=len(values)), dtype=np.float64)
