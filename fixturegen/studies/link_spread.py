"""How much each number of the linkage changes with each measured point, and how far measuring may have it off.

A point that was measured elsewhere is another geometry that stands at the same ride height: links are as
long as their points are apart, and a pinion angle at ride that was read with a level stays. What the
changes tell is therefore what the axle will do, for points a little elsewhere.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.linkage import Linkage
from fixturegen.errors import Fault, InputFault
from fixturegen.studies.link_batch import POSES, Batch, Stroke, batch_of, readings_of
from fixturegen.studies.link_metrics import Vehicle
from fixturegen.studies.link_points import AXES, LinkPoint, both_ends, counterpart, points_of, refuse_stiff

STEP = 0.5
"""mm; of the differences: some thousandth of a link, so that the fourth-order rule is exact to rounding."""
EQUAL = 1.0 / 3.0
"""Variance of a value anywhere within +-1 with equal chance."""

WATCHED = (
    "anti_squat.ride",
    "anti_dive.ride",
    "instant_centre_x.ride",
    "instant_centre_z.ride",
    "roll_centre.ride",
    "roll_axis.ride",
    "roll_steer.ride",
    "anti_squat.bump",
    "anti_squat.droop",
    "roll_centre.bump",
    "roll_centre.droop",
    "roll_steer.bump",
    "roll_steer.droop",
    "pinion_angle.bump",
    "pinion_angle.droop",
    "sideways.bump",
    "sideways.droop",
)
"""Readings told where none are named: metric and pose."""


@dataclass(frozen=True, eq=False)
class Sensitivity:
    """Change of readings with points.

    Attributes:
        linkage: As measured.
        readings: Metric and pose, r of them.
        points: k of them.
        value: Of each reading as measured, shape (r,).
        change: Of each reading per mm of each point forward, left and up, shape (r, k, 3) [unit/mm]; not a
            number where the reading has none (an instant centre of parallel links).
    """

    linkage: Linkage
    readings: tuple[str, ...]
    points: tuple[LinkPoint, ...]
    value: Array
    change: Array

    def tolerances(self) -> Array:
        """Tolerance of each coordinate, shape (k, 3) [mm]."""
        return np.repeat(np.array([[p.tolerance] for p in self.points]), 3, axis=1)

    def both_sides(self) -> tuple[tuple[str, ...], Array]:
        """Names of left and middle points, and change when a point and its mirror image move together.

        Returns:
            The names, and the change, shape (r, names, 3) [unit/mm].
        """
        names, columns = [], []
        flip = np.array([1.0, -1.0, 1.0])
        index = {p.name: i for i, p in enumerate(self.points)}
        done: set[str] = set()
        for i, point in enumerate(self.points):
            if point.name in done:
                continue
            other = counterpart(self.linkage, self.points, point)
            column = self.change[:, i]
            if other is not None:
                done.add(other.name)
                column = column + flip * self.change[:, index[other.name]]
            names.append(point.name)
            columns.append(column)
        return tuple(names), np.stack(columns, axis=1)


@dataclass(frozen=True)
class Share:
    """What one coordinate of one point does to a reading.

    Attributes:
        point: Its name.
        key: Its sheet key.
        axis: x, y or z.
        change: Of the reading per mm [unit/mm].
        tolerance: Of the coordinate, either way [mm].
        part: Of the variance of the reading, 0 to 1.
    """

    point: str
    key: str
    axis: str
    change: float
    tolerance: float
    part: float


@dataclass(frozen=True)
class Spread:
    """How far measuring may have one reading off, to first order.

    Attributes:
        reading: Metric and pose.
        value: As measured.
        worst: All coordinates off by their tolerance, each the worse way, either way.
        rss: Root of the sum of squares, either way.
        deviation: Standard deviation when every value within a tolerance is as likely as any other.
        shares: The dimension that matters most first; those with no tolerance are left out.
    """

    reading: str
    value: float
    worst: float
    rss: float
    deviation: float
    shares: tuple[Share, ...]


@dataclass(frozen=True)
class Drawn:
    """How one reading came out over many drawn measurements.

    Attributes:
        reading: Metric and pose.
        mean: Of those drawn.
        deviation: Standard deviation.
        error: Standard error of that deviation.
        low: 2.5 % lie below.
        high: 2.5 % lie above.
        missed: Drawn geometries that do not reach the pose, or have no such number.
    """

    reading: str
    mean: float
    deviation: float
    error: float
    low: float
    high: float
    missed: int


def values_of(batch: Batch, vehicle: Vehicle, readings: Sequence[str]) -> Array:
    """Readings by metric and pose, shape (g, r).

    Raises:
        InputFault: When a reading is not known.
    """
    found = readings_of(batch, vehicle)
    columns = []
    for reading in readings:
        metric, _, pose = reading.partition(".")
        if metric not in found or pose not in POSES:
            allowed = f"a metric ({', '.join(found)}), a dot and a pose ({', '.join(POSES)})"
            raise InputFault(Fault("links.spread", reading, allowed, "write it so: anti_squat.ride"))
        columns.append(found[metric][:, POSES.index(pose)])
    return np.stack(columns, axis=1)


def shifted(ends: Array, points: Sequence[LinkPoint], shift: Array) -> Array:
    """Geometries with points moved, shape (g, 2, n, 3) [mm].

    Args:
        ends: Frame ends and axle ends as measured, shape (2, n, 3) [mm].
        points: k points.
        shift: Of each point in each geometry, shape (g, k, 3) [mm].
    """
    out = np.repeat(ends[None], len(shift), axis=0)
    for j, point in enumerate(points):
        for i, e in point.members:
            out[:, e, i] += shift[:, j]
    return out


def sensitivity_of(
    linkage: Linkage, vehicle: Vehicle, stroke: Stroke, readings: Sequence[str] = WATCHED
) -> Sensitivity:
    """Change of each reading per mm of each coordinate of each point.

    Args:
        linkage: As measured.
        vehicle: Height of the centre of gravity, shares of drive and brake.
        stroke: Travel that bump, droop and the crossed poses stand for.
        readings: Metric and pose.

    Formula: f' = (8 (f(h) - f(-h)) - (f(2h) - f(-2h))) / 12 h on the exact model, all coordinates at once.
    Source: geometry; central differences of fourth order (any textbook of numerical analysis).

    Raises:
        InputFault: For leaf springs, for more than four lengths without bush rates, and for an unknown reading.
    """
    points, ends = points_of(linkage), both_ends(linkage)
    refuse_stiff(linkage)
    k = len(points)
    unit = np.eye(3 * k).reshape(3 * k, k, 3) * STEP
    shift = np.concatenate([np.zeros((1, k, 3)), unit, -unit, 2.0 * unit, -2.0 * unit])
    batch = batch_of(linkage, shifted(ends, points, shift), *stroke.poses(linkage.stance.half_track))
    found = values_of(batch, vehicle, readings)
    up, down, far_up, far_down = found[1:].reshape(4, 3 * k, len(readings))
    change = (8.0 * (up - down) - (far_up - far_down)) / (12.0 * STEP)
    return Sensitivity(linkage, tuple(readings), points, found[0], change.T.reshape(len(readings), k, 3))


def linear_spreads(sensitivity: Sensitivity) -> tuple[Spread, ...]:
    """How far measuring may have each reading off, to first order.

    Formula: worst = sum |a| t; rss = sqrt(sum a^2 t^2); deviation = rss / sqrt(3).
    Source: tolerance stack, derived; JCGM 100:2008 (guide to uncertainty), 4.3.7, equal chance within +-t,
        from memory.
    """
    tolerance = sensitivity.tolerances()
    out = []
    for reading, value, change in zip(sensitivity.readings, sensitivity.value, sensitivity.change, strict=True):
        moved = np.abs(change * tolerance)
        square = float((moved**2).sum())
        shares = [
            Share(
                point.name,
                point.key,
                axis,
                float(change[i, j]),
                point.tolerance,
                float(moved[i, j] ** 2) / square if square > 0.0 else 0.0,
            )
            for i, point in enumerate(sensitivity.points)
            for j, axis in enumerate(AXES)
            if point.tolerance > 0.0
        ]
        # to nine digits, so that mirrored coordinates rank by name and not by rounding
        shares.sort(key=lambda s: (-round(s.part, 9), s.point, s.axis))
        rss = math.sqrt(square)
        out.append(Spread(reading, float(value), float(moved.sum()), rss, rss * math.sqrt(EQUAL), tuple(shares)))
    return tuple(out)


def drawn_spreads(
    linkage: Linkage,
    vehicle: Vehicle,
    stroke: Stroke,
    seed: int,
    samples: int = 4000,
    readings: Sequence[str] = WATCHED,
) -> tuple[Drawn, ...]:
    """How each reading comes out when every coordinate is drawn within its tolerance with equal chance.

    Args:
        linkage: As measured, with tolerances.
        vehicle: Height of the centre of gravity, shares of drive and brake.
        stroke: Travel that bump, droop and the crossed poses stand for.
        seed: Of the draw; the same seed gives the same numbers.
        samples: Geometries drawn.
        readings: Metric and pose.

    Source: JCGM 101:2008 (Monte Carlo), from memory; standard error of a deviation s from the fourth moment m4:
        sqrt((m4 - s^4) / n) / 2s.
    """
    points = points_of(linkage)
    refuse_stiff(linkage)
    width = np.repeat(np.array([[p.tolerance] for p in points]), 3, axis=1)
    shift = np.random.default_rng(seed).uniform(-1.0, 1.0, (samples, len(points), 3)) * width
    batch = batch_of(linkage, shifted(both_ends(linkage), points, shift), *stroke.poses(linkage.stance.half_track))
    found = values_of(batch, vehicle, readings)
    out = []
    for reading, column in zip(readings, found.T, strict=True):
        good = column[np.isfinite(column)]
        missed = int(column.size - good.size)
        if good.size < 2:
            nothing = math.nan
            out.append(Drawn(reading, nothing, nothing, nothing, nothing, nothing, missed))
            continue
        off = good - good.mean()
        deviation = float(np.sqrt((off**2).sum() / (good.size - 1)))
        spare = max(float((off**4).mean()) - deviation**4, 0.0)
        error = math.sqrt(spare / good.size) / (2.0 * deviation) if deviation > 0.0 else 0.0
        low, high = (float(q) for q in np.quantile(good, [0.025, 0.975]))
        out.append(Drawn(reading, float(good.mean()), deviation, error, low, high, missed))
    return tuple(out)


def which_matters(spread: Spread) -> str:
    """One sentence: which dimension makes most of a spread."""
    if not spread.shares or spread.rss <= 0.0:
        return f"{spread.reading}: no point has a tolerance that moves it"
    first = spread.shares[0]
    words = {"x": "fore and aft", "y": "sideways", "z": "in height"}[first.axis]
    return (
        f"{spread.reading}: {first.key} {words} makes {100.0 * first.part:.0f} % of the spread; "
        "measure that one again first"
    )


@dataclass(frozen=True)
class Rank:
    """How much one coordinate of one point matters to all readings together.

    Attributes:
        key: Sheet key of the point.
        axis: x, y or z.
        tolerance: Of the coordinate, either way [mm].
        part: Of the variance, averaged over the readings that have a spread, 0 to 1.
        most: The reading it has the largest part of.
        most_part: That part.
    """

    key: str
    axis: str
    tolerance: float
    part: float
    most: str
    most_part: float


def ranked(spreads: Sequence[Spread]) -> tuple[Rank, ...]:
    """Every coordinate with a tolerance, the one that matters most first."""
    known = [s for s in spreads if math.isfinite(s.rss) and s.rss > 0.0]
    parts: dict[tuple[str, str], list[tuple[Share, str]]] = {}
    for spread in known:
        for share in spread.shares:
            parts.setdefault((share.key, share.axis), []).append((share, spread.reading))
    out = []
    for (key, axis), shares in parts.items():
        top, reading = max(shares, key=lambda s: s[0].part)
        part = sum(s.part for s, _ in shares) / len(known)
        out.append(Rank(key, axis, top.tolerance, part, reading, top.part))
    return tuple(sorted(out, key=lambda r: (-round(r.part, 9), r.key, r.axis)))
