"""Straight lines against meshes: what a torch, a drill or an eye can reach."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from fixturegen.shapes.meshes import Floats, Mesh

PARALLEL = 1e-12  # [1] of the triangle's size: a ray this near to its plane does not hit it
CHUNK = 2_000_000  # ray-triangle pairs at once, to bound the memory


def ray_lengths(mesh: Mesh, origins: Floats, directions: Floats) -> Floats:
    """Distance along each ray to the first facet it meets (n,) [mm]; infinite when it meets none.

    Source: Moller and Trumbore, Journal of Graphics Tools 2(1), 1997.

    Args:
        mesh: The obstacle.
        origins: Start of each ray (n, 3) [mm].
        directions: Direction of each ray (n, 3), of any length.
    """
    starts = np.atleast_2d(np.asarray(origins, dtype=float))
    ways = np.atleast_2d(np.asarray(directions, dtype=float))
    ways = ways / np.linalg.norm(ways, axis=1, keepdims=True)
    starts, ways = np.broadcast_arrays(starts, ways)
    triangles = mesh.triangles
    rows = max(1, CHUNK // max(1, len(triangles)))
    return np.concatenate(
        [_first(triangles, starts[i : i + rows], ways[i : i + rows]) for i in range(0, len(starts), rows)]
    )


def rays_hit(mesh: Mesh, origins: Floats, directions: Floats, max_distance: float = np.inf) -> npt.NDArray[np.bool_]:
    """Whether each ray meets the mesh within the distance (n,).

    Args:
        mesh: The obstacle.
        origins: Start of each ray (n, 3) [mm].
        directions: Direction of each ray (n, 3), of any length.
        max_distance: How far it looks [mm].
    """
    lengths = ray_lengths(mesh, origins, directions)
    return np.isfinite(lengths) & (lengths <= max_distance)


def _first(triangles: Floats, starts: Floats, ways: Floats) -> Floats:
    corner = triangles[:, 0]
    one, two = triangles[:, 1] - corner, triangles[:, 2] - corner
    size = np.linalg.norm(np.cross(one, two), axis=1)
    p = np.cross(ways[:, None, :], two[None, :, :])
    determinant = np.einsum("ijk,jk->ij", p, one)
    flat = np.abs(determinant) <= PARALLEL * size[None, :]
    inverse = 1.0 / np.where(flat, 1.0, determinant)
    s = starts[:, None, :] - corner[None, :, :]
    u = np.einsum("ijk,ijk->ij", s, p) * inverse
    q = np.cross(s, one[None, :, :])
    v = np.einsum("ijk,ik->ij", q, ways) * inverse
    t = np.einsum("ijk,jk->ij", q, two) * inverse
    # a ray through an edge shared by two facets must not slip between them
    edge = -1e-9
    hit = ~flat & (u >= edge) & (v >= edge) & (u + v <= 1.0 - edge) & (t >= 0.0)
    lengths: Floats = np.where(hit, t, np.inf).min(axis=1)
    return lengths
