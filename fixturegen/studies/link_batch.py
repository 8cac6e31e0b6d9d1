"""Many geometries of one linkage over its travel at once, on the same equations as `axle.poses`.

A column of the arrays is one geometry at one pose. Every column is approached from ride height in steps,
and the sign of its determinant is watched, as for a single linkage. Each geometry stands at ride height as
the sheet says: its links are as long as its points are apart there.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.linkage import HELD, Linkage
from fixturegen.axle.linkage_equations import ARC, UNKNOWNS, System, Values, cosines, values
from fixturegen.axle.motion import Motions
from fixturegen.axle.poses import CLOSE, HEAVE_STEP, JUMP, ROLL_STEP, ROUNDS, Bools, Poses, step_of, wheel_travel
from fixturegen.studies import link_metrics
from fixturegen.studies.link_metrics import Vehicle

FITS = 1e-7
"""mm; more lengths than needed fit this well, or need bushes."""
ON_THE_WAY = 1e-3
"""mm; a pose on the way need only be near enough to aim the next step from."""
SHORT = 1e-6
"""mm; by a length is divided: ends drawn into one point hold nothing, and are no fault of arithmetic."""
COLUMNS = 4096
"""Columns in one go: the arrays stay in the processor's cache."""

POSES = ("ride", "bump", "droop", "cross-L", "cross-R")


@dataclass(frozen=True)
class Stroke:
    """How far the wheels travel.

    Attributes:
        bump: Up from ride [mm].
        droop: Down from ride [mm].
    """

    bump: float
    droop: float

    def poses(self, half_track: float) -> tuple[Array, Array]:
        """Heave [mm] and roll [deg] of the poses of `POSES`, each shape (5,).

        Args:
            half_track: Middle of the axle to the middle of a tyre [mm].
        """
        left = np.array([0.0, self.bump, -self.droop, self.bump, -self.droop])
        right = np.array([0.0, self.bump, -self.droop, -self.droop, self.bump])
        return wheel_travel(left, right, half_track)


@dataclass(frozen=True, eq=False)
class Batch:
    """Geometries g at poses p; not a number where a pose is out of reach.

    Attributes:
        linkage: Whose kind, stance and rates all share.
        ends: Frame ends and axle ends in V at ride height, shape (g, 2, n, 3) [mm].
        poses: All columns, those of the first geometry first, shape (g * p,) and so on. Its linkage
            stands for the stance alone.
        free: The two free motions of each column.
        reached: Whether a geometry reaches a pose, shape (g, p).
        hold: Smallest singular value of the constraint matrix at ride, shape (g,).
    """

    linkage: Linkage
    ends: Array
    poses: Poses
    free: Motions
    reached: Bools
    hold: Array

    def by_pose(self, column: Array) -> Array:
        """Values of the columns, shape (g * p, ...), by geometry and pose, shape (g, p, ...)."""
        return np.asarray(column.reshape(*self.reached.shape, *column.shape[1:]), dtype=np.float64)

    def lines(self) -> tuple[Array, Array]:
        """Frame end and axle end of each line in V at each pose, each shape (g, p, n, 3) [mm]."""
        stance = self.linkage.stance
        turns = self.by_pose(self.poses.rotations() @ stance.rotation.T)
        origins = self.by_pose(self.poses.origins())
        tips = np.einsum("gpij,gnj->gpni", turns, self.ends[:, 1] - stance.origin) + origins[:, :, None, :]
        return np.broadcast_to(self.ends[:, None, 0], tips.shape), np.asarray(tips, dtype=np.float64)


def batch_of(linkage: Linkage, ends: Array, heave: Array, roll: Array) -> Batch:
    """Every geometry at every pose.

    Args:
        linkage: Whose kind, stance and rates all share.
        ends: Frame ends and axle ends in V at ride height, shape (g, 2, n, 3) [mm].
        heave: Up positive, shape (p,) [mm].
        roll: Left wheel up positive, shape (p,) [deg].

    Source: geometry, distance of two points; Newton's method.
    """
    many = max(1, COLUMNS // heave.size)
    lots = [ends[i : i + many] for i in range(0, len(ends), many)]
    solved = [_solved(linkage, _system(linkage, lot, heave.size), *_columns(lot, heave, roll)) for lot in lots]
    unknowns, off, margin, reached = (np.concatenate([getattr(s, k) for s in solved], axis=-1) for k in _Solved.FIELDS)
    z, r = np.tile(heave, len(ends)), np.tile(roll, len(ends))
    unknowns[:, ~reached] = np.nan
    poses = Poses(linkage, z, r, unknowns, reached, off.T, np.where(reached, margin, np.nan))
    free = _free(linkage, _system(linkage, ends, heave.size), poses)
    return Batch(linkage, ends, poses, free, reached.reshape(len(ends), heave.size), _hold(linkage, ends))


@dataclass(frozen=True, eq=False)
class _Solved:
    """Columns after Newton's rounds: unknowns (4, m), off (n, m), margin (m,), reached (m,)."""

    FIELDS: ClassVar = ("unknowns", "off", "margin", "reached")

    unknowns: Array
    off: Array
    margin: Array
    reached: Bools


def _columns(ends: Array, heave: Array, roll: Array) -> tuple[Array, Array]:
    return np.tile(heave, len(ends)), np.radians(np.tile(roll, len(ends)))


def _system(linkage: Linkage, ends: Array, poses: int) -> System:
    """The arrays of all columns: as those of one linkage, with a last axis for the columns."""
    whole = np.moveaxis(np.repeat(ends - linkage.stance.origin, poses, axis=0), 0, -1)
    frame, axle = np.ascontiguousarray(whole[0]), np.ascontiguousarray(whole[1])
    length = np.maximum(np.sqrt(((axle - frame) ** 2).sum(axis=1)), SHORT)
    return System(axle, frame, length, (), np.zeros((0, 3)), len(linkage.links) > HELD)


def _values(s: System, q: Array, heave: Array, roll: Array, with_roll: bool = False) -> Values:
    """The equations at the columns, as for one linkage: the axis that stood for one geometry is taken out."""
    v = values(s, q[:, None, :], heave, cosines(roll), with_roll)
    a, b, c, d = (m[:, 0] for m in v.matrix)
    lever = None if v.lever is None else v.lever[:, 0]
    return Values(v.off[:, 0], (a, b, c, d), v.climb[:, 0], lever, (v.yaw[0][0], v.yaw[1][0]))


def _solved(linkage: Linkage, s: System, heave: Array, roll: Array) -> _Solved:
    """Every column approached from ride height; those that are lost on the way stay where they were lost."""
    step = step_of(linkage)
    exact = len(linkage.links) == HELD
    rounds = ROUNDS if exact else 4 * ROUNDS
    way = max(float(np.max(np.abs(heave))) / HEAVE_STEP, float(np.max(np.abs(roll))) / ROLL_STEP)
    steps = max(2, int(np.ceil(way)))
    with np.errstate(all="ignore"):
        q = np.zeros((UNKNOWNS, heave.size))
        at_ride = step(_values(s, q, 0.0 * heave, 0.0 * roll))[1]
        past, alive = [q], np.abs(at_ride) > 0.0
        v, det = _values(s, q, 0.0 * heave, 0.0 * roll), at_ride
        for k in range(1, steps + 1):
            aim = _aim(past)
            q, near = aim.copy(), CLOSE if k == steps else ON_THE_WAY
            for turn in range(rounds):
                v = _values(s, q, heave * (k / steps), roll * (k / steps))
                move, det = step(v)
                error = (np.abs(v.off) if exact else np.abs(move)).max(axis=0)
                if turn and not (error[alive] > near / 4.0).any():
                    break
                q -= np.where(alive, move, 0.0)
            alive &= (error <= near) & (det * at_ride > 0.0) & (np.abs(q - aim).max(axis=0) <= JUMP)
            past = [*past[-3:], np.where(alive, q, past[-1])]
        if not exact and linkage.rates() is None:
            alive &= np.abs(v.off).max(axis=0) <= FITS
        return _Solved(past[-1], v.off, det / at_ride, alive)


def _aim(past: list[Array]) -> Array:
    """Where the next step is likely to end: a polynomial through the last ones."""
    if len(past) >= 4:
        return np.asarray(4.0 * past[-1] - 6.0 * past[-2] + 4.0 * past[-3] - past[-4], dtype=np.float64)
    if len(past) == 3:
        return np.asarray(3.0 * past[-1] - 3.0 * past[-2] + past[-3], dtype=np.float64)
    return 2.0 * past[-1] - past[-2] if len(past) == 2 else past[-1]


def _free(linkage: Linkage, s: System, poses: Poses) -> Motions:
    """The two free motions of every column, as `axle.motion.motions` has them for one linkage.

    Source: geometry; the rates of the unknowns solve the derived equations of `linkage_equations`.
    """
    roll = np.radians(poses.roll)
    with np.errstate(all="ignore"):
        v = _values(s, poses.unknowns, poses.heave, roll, with_roll=True)
        step = step_of(linkage)
        lever = v.climb if v.lever is None else v.lever * ARC
        known = np.isfinite(v.climb).all(axis=0)
        # columns out of reach are solved for as if at ride: a least-squares step takes no columns without numbers
        matrix = tuple(
            np.where(known, m, m[:, known].mean(axis=1, keepdims=True) if known.any() else 0.0) for m in v.matrix
        )
        a, b, c, d = matrix
        rates = [
            np.where(known, -step(Values(np.where(known, asked, 0.0), (a, b, c, d), v.climb, None, v.yaw))[0], np.nan)
            for asked in (v.climb, lever)
        ]
    yaw = poses.unknowns[2] / ARC
    line = np.stack([-np.sin(yaw) * np.cos(roll), np.cos(yaw) * np.cos(roll), np.sin(roll)], axis=1)
    ahead = np.stack([np.cos(yaw), np.sin(yaw), np.zeros_like(yaw)], axis=1)
    twists = []
    for rate, up, over in zip(rates, (1.0, 0.0), (0.0, 1.0), strict=True):
        velocity = np.stack([rate[0], rate[1], np.full_like(yaw, up)], axis=1)
        turning = np.array([0.0, 0.0, 1.0]) * (rate[2] / ARC)[:, None] + line * (rate[3] / ARC)[:, None] + over * ahead
        twists.append(np.concatenate([velocity, turning], axis=1))
    return Motions(*twists)


def _hold(linkage: Linkage, ends: Array) -> Array:
    """Smallest singular value of the constraint matrix at ride, shape (g,)."""
    zero = np.zeros(len(ends))
    v = _values(_system(linkage, ends, 1), np.zeros((UNKNOWNS, len(ends))), zero, zero)
    matrix = np.moveaxis(np.stack(v.matrix), -1, 0)
    return np.asarray(np.linalg.svd(matrix, compute_uv=False)[:, -1], dtype=np.float64)


def readings_of(batch: Batch, vehicle: Vehicle) -> dict[str, Array]:
    """What the links do, by name of the metric, each shape (g, p); names as in `link_metrics.Metrics`.

    The instant centre has two names, `instant_centre_x` and `instant_centre_z`.

    Source: see `link_metrics.metrics_of`, whose functions these are.
    """
    poses, free = batch.poses, batch.free
    stance = batch.linkage.stance
    with np.errstate(all="ignore"):
        slope = link_metrics.force_slope(poses, free)
        anti = 100.0 * slope * stance.wheelbase / vehicle.gravity_height
        centre, axis = link_metrics.roll_line(poses, free)
        instant = link_metrics.instant_centre(poses, free)
        moved = poses.origins() - stance.origin
        found = {
            "anti_squat": anti * vehicle.drive_share,
            "anti_dive": anti * vehicle.brake_share,
            "force_line": np.degrees(np.arctan(slope)),
            "instant_centre_x": instant[:, 0],
            "instant_centre_z": instant[:, 1],
            "roll_centre": centre,
            "roll_axis": axis,
            "roll_steer": link_metrics.roll_steer(poses, free),
            "pinion_angle": link_metrics.pinion_angle(poses),
            "fore_aft": moved[:, 0],
            "sideways": moved[:, 1],
            "wheelbase_change": -stance.pinion_sign * moved[:, 0],
            "axle_steer": poses.yaw,
        }
    return {name: batch.by_pose(column) for name, column in found.items()}
