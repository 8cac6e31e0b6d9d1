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
        pivot: Middle of the points in their own frame (3,) [mm].
        residuals: Distance of each point from its place after the fit (n,) [mm].
        reach: Root mean square distance of the points from the line through their middle that they tell
            the turn about worst [mm].
        spread: Sum of squares of the places about their middle over that of the points, rooted [1].
    """

    rotation: Array
    origin: Array
    pivot: Array
    residuals: Array
    reach: float
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
    return RigidFit(rotation, origin, pivot, left, _reach(own), float(spread))


def _reach(own: Array) -> float:
    """Root of the least moment of the points about a line through their middle, over their number [mm]."""
    moments = np.eye(3) * float((own**2).sum()) - own.T @ own
    return float(np.sqrt(max(0.0, np.linalg.eigvalsh(moments)[0]) / len(own)))


def error_at(error: float, reach: float, distance: float) -> float:
    """Farthest a point at a distance from the pivot stands out of place when no named point errs by more [mm].

    The shift of the middle is no more than `error`. The small turn w that fits errors e_i of points r_i
    solves H w = sum(r_i x e_i) with H = sum(|r_i|^2 I - r_i r_i^T), so |w| <= error / reach.
    Source: geometry, least squares to first order in the errors; derived.

    Args:
        error: Of each named point, its place counted with it [mm].
        reach: Of the named points (`RigidFit.reach`) [mm].
        distance: Of the point from the middle of the named points [mm].
    """
    return error * (1.0 + distance / reach) if reach > 0.0 else float("inf")
