"""A mesh as few bytes: corners on a grid, differences, deflate. `viewer_js/src/unpack.js` reads it back."""

from __future__ import annotations

import zlib
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from fixturegen import keeping
from fixturegen.keeping import key_of
from fixturegen.shapes.cache import shape_key
from fixturegen.shapes.kernel import Shape
from fixturegen.shapes.meshes import Floats, Ints, Mesh, mesh_of
from fixturegen.shapes.rims import as_drawn, rims_of

STEPS = 65535
"""[1] steps of the grid along the longest side of a mesh: 0.03 mm on an axle of two metres."""
DEFLECTION = 0.1  # [mm] of the meshes shown: that of the pictures, so that both ask for one mesh
CREASE = 35.0  # [deg] facets that meet at less belong to one surface; that of the pictures too
LEVEL = 9  # of deflate; a blob is made once and kept
GRID_BYTES = 32  # [byte] low corner and step in front of a kept blob


@dataclass(frozen=True)
class Packed:
    """A mesh ready for the page.

    Attributes:
        blob: Deflated: four counts, corners, facets and edges as differences in planes of bytes, rims.
        low: Corner of the grid (3,) [mm].
        step: Of the grid [mm].
    """

    blob: bytes
    low: tuple[float, float, float]
    step: float


def packed_shape(shape: Shape, deflection: float = DEFLECTION) -> Packed:
    """The mesh of a shape where it was drawn, with its round edges; kept between runs.

    Args:
        shape: A solid or a compound of solids; its location does not enter.
        deflection: Of the mesh, absolute [mm].
    """
    own = as_drawn(shape)

    def made() -> bytes:
        packed = packed_mesh(mesh_of(own, deflection), rims_of(own))
        return np.array([*packed.low, packed.step], dtype="<f8").tobytes() + packed.blob

    raw = keeping.kept("packed", key_of(("packed mesh", shape_key(own)[0], deflection)), made)
    x, y, z, step = (float(n) for n in np.frombuffer(raw, "<f8", 4))
    return Packed(raw[GRID_BYTES:], (x, y, z), step)


def packed_mesh(mesh: Mesh, rims: Floats) -> Packed:
    """A mesh with its sharp edges and round edges.

    Args:
        mesh: Closed or not.
        rims: Round edges as `rims_of` gives them, (n, 7) [mm].
    """
    low = mesh.vertices.min(axis=0)
    step = max(float((mesh.vertices.max(axis=0) - low).max()) / STEPS, 1e-9)
    corners = np.rint((mesh.vertices - low) / step).astype(np.int64)
    edges = sharp_edges(mesh)
    counts = np.array([len(corners), len(mesh.faces), len(edges), len(rims)], dtype="<u4")
    planes = (_planes(corners.T.ravel()), _planes(mesh.faces.ravel()), _planes(edges.ravel()))
    body = counts.tobytes() + b"".join(planes) + rims.astype("<f4").tobytes()
    return Packed(zlib.compress(body, LEVEL), (float(low[0]), float(low[1]), float(low[2])), step)


def _planes(numbers: ArrayLike) -> bytes:
    """Whole numbers as differences, signs folded in, lowest bytes of all first."""
    steps = np.diff(np.asarray(numbers, dtype=np.int64), prepend=0)
    folded = np.where(steps < 0, -2 * steps - 1, 2 * steps).astype("<u4")
    return folded.view(np.uint8).reshape(-1, 4).T.tobytes()


def sharp_edges(mesh: Mesh) -> Ints:
    """Edges at which two facets meet at more than `CREASE`, or that bound one only: corner numbers (n, 2).

    Args:
        mesh: Closed or not.
    """
    a, b, c = (mesh.triangles[:, k] for k in range(3))
    normals = np.cross(b - a, c - a)
    normals /= np.maximum(np.linalg.norm(normals, axis=1, keepdims=True), 1e-30)
    pairs = np.sort(mesh.faces[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2), axis=1)
    owners = np.repeat(np.arange(len(mesh.faces)), 3)
    order = np.lexsort((pairs[:, 1], pairs[:, 0]))
    pairs, owners = pairs[order], owners[order]
    fresh = np.concatenate([[True], (pairs[1:] != pairs[:-1]).any(axis=1)])
    start = np.flatnonzero(fresh)
    many = np.diff(np.append(start, len(pairs)))
    other = np.minimum(start + 1, len(pairs) - 1)
    agree = np.einsum("ij,ij->i", normals[owners[start]], normals[owners[other]])
    sharp = (many != 2) | (agree < np.cos(np.radians(CREASE)))
    return np.asarray(pairs[start[sharp]], dtype=np.int64)
