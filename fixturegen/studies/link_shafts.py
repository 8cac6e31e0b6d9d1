"""The drive shaft over travel: length, joint angles, and how unevenly it turns."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.model import Point
from fixturegen.axle.poses import Poses


@dataclass(frozen=True)
class DriveShaft:
    """A shaft from the case to the pinion.

    Attributes:
        case: Centre of the joint at the case, in V [mm].
        case_axis: Direction of the output shaft there, in V, toward the axle.
        pinion: Centre of the joint at the pinion yoke, in A [mm].
        joints: single: a cross joint at each end; double: a double joint at the case that turns evenly,
            a cross joint at the pinion.
        yokes: In-line or crossed: the yokes at the two ends of the shaft.
        plunge: Travel of the slip yoke either way [mm], or None.
        case_limit: Largest angle of the joint at the case [deg], or None.
        pinion_limit: Largest angle of the joint at the pinion [deg], or None.
    """

    case: Point
    case_axis: Point
    pinion: Point
    joints: Literal["single", "double"] = "single"
    yokes: Literal["in-line", "crossed"] = "in-line"
    plunge: float | None = None
    case_limit: float | None = None
    pinion_limit: float | None = None


@dataclass(frozen=True, eq=False)
class ShaftMotion:
    """The shaft at each pose; arrays of shape (m,).

    Attributes:
        length: Between the joint centres [mm].
        plunge: Length less that at ride height; longer positive [mm].
        case_angle: True angle of the joint at the case [deg].
        pinion_angle: True angle of the joint at the pinion [deg].
        fluctuation: Fastest less slowest of the pinion over the mean, in one turn at even speed of the case.
        equivalent_angle: Of the one cross joint that is as uneven [deg].
    """

    length: Array
    plunge: Array
    case_angle: Array
    pinion_angle: Array
    fluctuation: Array
    equivalent_angle: Array


def shaft_motion(poses: Poses, shaft: DriveShaft) -> ShaftMotion:
    """The drive shaft at each pose.

    The two joints need not bend in one plane: the planes of both are followed round the shaft.

    Formula: w2/w1 = f2/f1, f = cos b / (1 - sin(b)^2 cos(t)^2), t the yoke of the shaft from the plane of
        bend; a fraction of two harmonics of 2t, whose extremes are the roots of a quadratic.
    Holds: for cross joints without play; a double joint is taken as even.
    Source: geometry, speed ratio of a cross joint; sae-ae-7 for the pair.
    """
    stance = poses.linkage.stance
    pinion = poses.points(np.array([shaft.pinion]))[:, 0]
    line = pinion - np.array(shaft.case)
    ride = stance.to_vehicle(shaft.pinion) - np.array(shaft.case)
    length = np.asarray(np.linalg.norm(line, axis=1), dtype=np.float64)
    way = line / length[:, None]
    out = np.broadcast_to(np.array(shaft.case_axis) / np.linalg.norm(shaft.case_axis), way.shape)
    # from the yoke into the housing, so that a straight shaft has no angle
    into = poses.directions(np.array([[-float(stance.pinion_sign), 0.0, 0.0]]))[:, 0]
    case, end = _angle(out, way), _angle(way, into)
    first = np.zeros_like(case) if shaft.joints == "double" else case
    swing = _plane_between(way, out, into) + (np.pi / 2.0 if shaft.yokes == "crossed" else 0.0)
    uneven = _fluctuation(first, end, swing)
    return ShaftMotion(
        length=length,
        plunge=length - float(np.linalg.norm(ride)),
        case_angle=np.degrees(case),
        pinion_angle=np.degrees(end),
        fluctuation=uneven,
        equivalent_angle=np.degrees(_equivalent(uneven)),
    )


def _angle(a: Array, b: Array) -> Array:
    """Angle between unit vectors [rad]."""
    across = np.linalg.norm(np.cross(a, b), axis=1)
    return np.asarray(np.arctan2(across, (a * b).sum(axis=1)), dtype=np.float64)


def _plane_between(way: Array, out: Array, into: Array) -> Array:
    """Angle about the shaft from the plane of bend at the case to that at the pinion [rad]."""
    one, other = np.cross(out, way), np.cross(way, into)
    across = (np.cross(one, other) * way).sum(axis=1)
    return np.asarray(np.arctan2(across, (one * other).sum(axis=1)), dtype=np.float64)


def _fluctuation(first: Array, second: Array, swing: Array) -> Array:
    """Fastest less slowest of the driven end in one turn, over the mean.

    Args:
        first: Angle of the joint at the driving end, shape (m,) [rad].
        second: Angle of the joint at the driven end, shape (m,) [rad].
        swing: From the plane of bend of the first to that of the second, about the shaft [rad].

    The shaft between is taken as the driver of both ends: ratio = (cos b2 / cos b1)
    (1 - s1 - s1 cos x) / (1 - s2 - s2 cos(x - 2 swing)), s = sin(b)^2 / 2, x twice the yoke's angle. A value y
    is taken only where (p + q cos x + r sin x) = 0 has a root, that is p^2 <= q^2 + r^2.
    """
    s1, s2 = np.sin(first) ** 2 / 2.0, np.sin(second) ** 2 / 2.0
    c, d = np.cos(2.0 * swing), np.sin(2.0 * swing)
    # p = (1 - s1) - y (1 - s2), q = -s1 + y s2 c, r = y s2 d
    a2 = (1.0 - s2) ** 2 - s2 * s2 * (c * c + d * d)
    a1 = -2.0 * (1.0 - s1) * (1.0 - s2) + 2.0 * s1 * s2 * c
    a0 = (1.0 - s1) ** 2 - s1 * s1
    root = np.sqrt(np.maximum(a1 * a1 - 4.0 * a2 * a0, 0.0))
    return np.asarray(root / a2 * np.cos(second) / np.cos(first), dtype=np.float64)


def _equivalent(uneven: Array) -> Array:
    """Angle whose tan x sin is the unevenness [rad].

    Source: geometry, 1/cos b - cos b = tan b sin b solved for cos b.
    """
    cosine = -uneven / 2.0 + np.sqrt(uneven * uneven / 4.0 + 1.0)
    return np.asarray(np.arccos(np.clip(cosine, -1.0, 1.0)), dtype=np.float64)
