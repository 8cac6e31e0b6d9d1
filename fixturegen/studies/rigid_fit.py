"""The rigid motion that lays points on their places: best fit, what is left over, how far errors reach."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array


@dataclass(frozen=True, eq=False)
class RigidFit:
    """A rotation and a shift, never a scale: p_there = rotation @ p_own + origin.

    Attributes:
        rotation: Shape (3, 3), determinant +1.
        origin: Shape (3,) [mm].
        residuals: Distance of each point from its place after the fit (n,) [mm].
        spread: Sum of squares of the places about their middle over that of the points, rooted [1].
    """

    rotation: Array
    origin: Array
    residuals: Array
    spread: float

    @property
    def rms(self) -> float:
        """Root mean square of the residuals [mm]."""
        return float(np.sqrt(np.mean(self.residuals**2)))


def best_fit(points: Array, places: Array) -> RigidFit:
    """The rotation and shift with the least sum of squared distances between points and places.

    Source: Kabsch, Acta Cryst. A 32 (1976) 922 and A 34 (1978) 827; the sign of the determinant is
    taken care of, so that a part is never turned inside out.

    Args:
        points: In their own frame (n, 3) [mm], n >= 3, not in a line.
        places: Where they stand (n, 3) [mm].
    """
    points, places = np.asarray(points, dtype=float), np.asarray(places, dtype=float)
    pivot, middle = points.mean(axis=0), places.mean(axis=0)
    own, there = points - pivot, places - middle
    u, _, vt = np.linalg.svd(own.T @ there)
    sign = 1.0 if np.linalg.det(u @ vt) >= 0.0 else -1.0
    rotation = vt.T @ np.diag([1.0, 1.0, sign]) @ u.T
    origin = middle - rotation @ pivot
    left = np.linalg.norm(points @ rotation.T + origin - places, axis=1)
    spread = np.linalg.norm(there) / max(float(np.linalg.norm(own)), 1e-12)
    return RigidFit(rotation, origin, left, float(spread))


def error_at(points: Array, error: float, places: Array) -> Array:
    """Farthest each place stands out when no named point errs by more than `error` (k,) [mm].

    Errors e_i of points r_i about their middle shift it by mean(e_i) and turn the part by the small w that
    solves H w = sum(r_i x e_i), H = sum(|r_i|^2 I - r_i r_i^T). A place d from the middle moves by
    sum(G_i e_i), G_i = I/n - [d]x H^-1 [r_i]x, so by no more than error x sum(|G_i|), |.| the largest
    stretch of a matrix. Source: geometry, least squares to first order in the errors; derived.

    Args:
        points: Named points in their own frame (n, 3) [mm], not in a line.
        error: Of each, its place counted with it [mm].
        places: Points of the part in the same frame (k, 3) [mm].
    """
    points = np.asarray(points, dtype=float)
    middle = points.mean(axis=0)
    own = points - middle
    inverse = np.linalg.inv(np.eye(3) * float((own**2).sum()) - own.T @ own)
    across = np.asarray(places, dtype=float) - middle
    moved = [np.eye(3) / len(own) - _crossed(across) @ (inverse @ _crossed(r)) for r in own]
    return np.asarray(error * sum(np.linalg.norm(g, ord=2, axis=(-2, -1)) for g in moved), dtype=np.float64)


def _crossed(v: Array) -> Array:
    """Matrices [v]x with [v]x u = v x u, shape (..., 3, 3)."""
    out = np.zeros((*v.shape, 3))
    out[..., 0, 1], out[..., 0, 2], out[..., 1, 2] = -v[..., 2], v[..., 1], -v[..., 0]
    return out - np.swapaxes(out, -1, -2)
