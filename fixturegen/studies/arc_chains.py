"""Dense points along an edge as a chain of few lines and arcs within a stated deviation."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from fixturegen.studies.edge_lines import Corner

Array = NDArray[np.float64]
Point = tuple[float, float]

CORNER = 6.0  # [deg] a turn at one point larger than this is a corner of the edge
SAME = 1e-6  # [mm] points nearer than this are one
STRAIGHT = 1e6  # [mm] an arc of a larger radius is cut as a line
WHOLE = 170.0  # [deg] an arc of a chain turns by no more than this


def arc_chain(points: Sequence[Point], deviation: float) -> tuple[Corner, ...]:
    """Vertices of lines and arcs through some of the points, near to all of them; the last bulge is 0.

    From each point the longest line or arc that fits is taken, up to the next corner.

    Args:
        points: Along the edge, nearer to each other than the edge's detail (n, 2) [mm].
        deviation: Farthest a point may lie off the chain [mm].
    """
    line = _without_doubles(np.asarray(points, dtype=np.float64))
    cuts = [0, *_corners(line), len(line) - 1]
    found: list[Corner] = []
    for a, b in pairwise(cuts):
        start = a
        while start < b:
            end, bulge = _longest(line, start, b, deviation)
            found.append(Corner(float(line[start, 0]), float(line[start, 1]), bulge))
            start = end
    return (*found, Corner(float(line[-1, 0]), float(line[-1, 1])))


def _without_doubles(line: Array) -> Array:
    steps = np.hypot(*np.diff(line, axis=0).T)
    return line[np.concatenate(([True], steps > SAME))]


def _corners(line: Array) -> list[int]:
    """Numbers of the points at which the edge turns sharply."""
    way = np.diff(line, axis=0)
    cross = way[:-1, 0] * way[1:, 1] - way[:-1, 1] * way[1:, 0]
    turn = np.degrees(np.abs(np.arctan2(cross, (way[:-1] * way[1:]).sum(axis=1))))
    return [int(i) + 1 for i in np.flatnonzero(turn > CORNER)]


def _longest(line: Array, start: int, last: int, deviation: float) -> tuple[int, float]:
    """The farthest point a single line or arc reaches from `start`, and its bulge."""
    good, bulge, step = start + 1, 0.0, 1
    while good < last:
        end = min(last, good + step)
        fit = _fits(line, start, end, deviation)
        if fit is not None:
            good, bulge, step = end, fit, 2 * step
        elif step > 1:
            step = max(1, step // 4)
        else:
            break
    return good, bulge


def _fits(line: Array, start: int, end: int, deviation: float) -> float | None:
    """Bulge of the line or arc from one point to another that keeps to those between; None when none does."""
    inner = line[start + 1 : end]
    a, b = line[start], line[end]
    chord = b - a
    long = float(np.hypot(*chord))
    if long < SAME:
        return None
    off = (chord[0] * (inner[:, 1] - a[1]) - chord[1] * (inner[:, 0] - a[0])) / long
    if float(np.abs(off).max(initial=0.0)) <= deviation / 2.0:
        return 0.0
    along = ((inner - a) @ chord) / long
    if along.min() < -deviation or along.max() > long + deviation:
        return None
    # the circle through both ends and the point nearest to the middle of the chord
    k = int(np.abs(along - long / 2.0).argmin())
    h, t = float(off[k]), float(along[k])
    if abs(h) < SAME:
        return None
    # centre on the chord's middle line, `up` from it: (t - c/2)^2 + (h - up)^2 = (c/2)^2 + up^2
    up = ((t - long / 2.0) ** 2 + h**2 - (long / 2.0) ** 2) / (2.0 * h)
    radius = math.hypot(long / 2.0, up)
    if radius > STRAIGHT or float(np.abs(np.hypot(along - long / 2.0, off - up) - radius).max()) > deviation:
        return None
    sagitta = radius - abs(up) if up * h <= 0.0 else radius + abs(up)
    bulge = 2.0 * sagitta / long
    if 4.0 * math.degrees(math.atan(bulge)) > WHOLE:
        return None
    # steel lies left of the chord's left side: an arc that bows to the left turns clockwise
    return -math.copysign(bulge, h)
