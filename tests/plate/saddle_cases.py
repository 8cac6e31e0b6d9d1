"""Plates standing on tubes at many angles, for the tests of saddles and tabs."""

import math

import numpy as np

from fixturegen.plate.shadows import Stand

ACROSS = np.array([[-1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, 1.0, 0.0]])  # XZ plate: rows of the rotation
ALONG = np.array([[0.0, 0.0, 1.0], [1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])  # YZ plate, lying along the tube


def turned(axis: str, angle: float) -> np.ndarray:
    """Rotation (3, 3) about x, y or z by an angle [deg]."""
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    rows = {
        "x": [[1, 0, 0], [0, c, -s], [0, s, c]],
        "y": [[c, 0, s], [0, 1, 0], [-s, 0, c]],
        "z": [[c, -s, 0], [s, c, 0], [0, 0, 1]],
    }
    return np.array(rows[axis], dtype=float)


def stand(yaw=0.0, lean=0.0, spin=0.0, thickness=6.35, origin=(0.0, 0.0, 0.0), base=ACROSS) -> Stand:
    """An upright plate across the tube, leaned about x, then yawed about z, drawn in a frame spun about its z."""
    rows = turned("z", yaw) @ turned("x", lean) @ base @ turned("z", spin)
    return Stand(tuple(origin), tuple(tuple(float(v) for v in row) for row in rows), thickness)


def in_tube_frame(where: Stand, points: np.ndarray) -> np.ndarray:
    """Points (n, 3) of the part frame [mm] in the tube's frame."""
    return points @ np.array(where.rotation).T + np.array(where.origin)


def off_axis(where: Stand, points: np.ndarray) -> np.ndarray:
    """Distance (n,) of points of the part frame from the tube's axis [mm]."""
    moved = in_tube_frame(where, points)
    return np.hypot(moved[:, 0], moved[:, 2])
