"""Where the axle stands over its travel: all poses at once, each reached from ride height.

Heave and roll are asked for; x, y, yaw and pitch follow from the lengths of the links (Newton's method on
all poses together). Every pose is approached from ride height in steps, so that none lands on the mirror
solution; the sign of the determinant, which changes only through a pose where the linkage binds, is
watched. Many poses are started from a polynomial through poses approached that way, and are then solved
and watched as the others.

Source: geometry, distance of two points; Newton's method. Frames: iso-8855.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.linkage import HELD, Linkage
from fixturegen.axle.linkage_equations import (
    ARC,
    UNKNOWNS,
    System,
    Values,
    cosines,
    determinant,
    solve_four,
    unturned,
    values,
)

CLOSE = 1e-10
"""mm; a length this near is held: far below what any gauge reads, well above rounding (1e-12)."""
ROUNDS = 12
"""Newton rounds; from a near start three do."""
HEAVE_STEP, ROLL_STEP = 12.0, math.radians(2.0)
"""mm, rad; steps from ride height: some hundredths of a link's length, so that cubic extrapolation stays near."""
JUMP = 15.0
"""mm; a step that ends farther from where it was aimed is taken again, finer: it may have changed branches."""
FINER = 8
"""Division of the steps for poses that were not reached at first."""
MANY = 1500
"""Poses from which the polynomial pays."""
NODES = 14
"""Nodes of the polynomial in each direction; with fewer a round of Newton more is needed, which costs more."""
CHUNK = 4096
"""Poses in one go: arrays of four links times these fit the processor's cache."""
TRACED = 64
"""Poses out of reach whose binding is looked for; the nearest to ride height first."""
EDGE = 1e-6
"""Part of the way to a pose to which the binding is found."""

Bools = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]


@dataclass(frozen=True)
class Binding:
    """Where the axle's way to a pose ends.

    Attributes:
        heave: The last pose in reach [mm].
        roll: The last pose in reach [deg].
        asked_heave: The pose that was asked for [mm].
        asked_roll: The pose that was asked for [deg].
        links: Links that carry one another there and let nothing move on.
    """

    heave: float
    roll: float
    asked_heave: float
    asked_roll: float
    links: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Poses:
    """The axle in V at each pose asked for; not a number where a pose is out of reach.

    Attributes:
        linkage: What holds it.
        heave: Travel of the axle centre, up positive, shape (m,) [mm].
        roll: Climb of the axle line toward the left, left wheel up positive, shape (m,) [deg].
        unknowns: x and y of the axle centre from ride height, arcs of yaw and pitch, shape (4, m) [mm].
        reached: Whether the pose is in reach, shape (m,).
        off: Length less the length at ride height, shape (m, n) [mm]: what bushes must give.
        margin: Determinant over that at ride height, shape (m,): 0 where the linkage binds.
        bindings: Where the way to the poses out of reach ends.
    """

    linkage: Linkage
    heave: Array
    roll: Array
    unknowns: Array
    reached: Bools
    off: Array
    margin: Array
    bindings: tuple[Binding, ...] = ()

    @property
    def ids(self) -> tuple[str, ...]:
        """What findings call the poses: `ride`, or h+050r-03 (heave mm, roll deg)."""
        pairs = zip(self.heave, self.roll, strict=True)
        return tuple("ride" if not (h or r) else f"h{h:+04.0f}r{r:+03.0f}" for h, r in pairs)

    @property
    def yaw(self) -> Array:
        """Turn of the axle line in plan, left wheel to the rear positive (to the left), shape (m,) [deg]."""
        return np.asarray(np.degrees(self.unknowns[2] / ARC), dtype=np.float64)

    @property
    def turn(self) -> Array:
        """Turn of the housing about its own line since ride height, top forward positive, shape (m,) [deg]."""
        return np.asarray(np.degrees(self.unknowns[3] / ARC), dtype=np.float64)

    def origins(self) -> Array:
        """Axle centre in V, shape (m, 3) [mm]."""
        moved = np.stack([self.unknowns[0], self.unknowns[1], self.heave], axis=1)
        return np.asarray(moved + self.linkage.stance.origin, dtype=np.float64)

    def rotations(self) -> Array:
        """Rotation that takes A to V, shape (m, 3, 3).

        Source: geometry, Rz(yaw) Rx(roll) Ry(pitch) times the rotation at ride height.
        """
        yaw, pitch, roll = self.unknowns[2] / ARC, self.unknowns[3] / ARC, np.radians(self.roll)
        cy, sy, cp, sp, cr, sr = np.cos(yaw), np.sin(yaw), np.cos(pitch), np.sin(pitch), np.cos(roll), np.sin(roll)
        rows = [
            [cy * cp - sy * sr * sp, -sy * cr, cy * sp + sy * sr * cp],
            [sy * cp + cy * sr * sp, cy * cr, sy * sp - cy * sr * cp],
            [-cr * sp, sr, cr * cp],
        ]
        turned = np.moveaxis(np.array(rows), 2, 0)
        return np.asarray(turned @ self.linkage.stance.rotation, dtype=np.float64)

    def points(self, points: Array) -> Array:
        """Points of A in V at each pose.

        Args:
            points: Shape (k, 3) [mm].

        Returns:
            Shape (m, k, 3) [mm].
        """
        turned = np.einsum("mij,kj->mki", self.rotations(), np.asarray(points, dtype=np.float64))
        return np.asarray(turned + self.origins()[:, None, :], dtype=np.float64)

    def directions(self, directions: Array) -> Array:
        """Directions of A, shape (k, 3), in V at each pose, shape (m, k, 3)."""
        turned = np.einsum("mij,kj->mki", self.rotations(), np.asarray(directions, dtype=np.float64))
        return np.asarray(turned, dtype=np.float64)


def wheel_travel(left: Array, right: Array, half_track: float) -> tuple[Array, Array]:
    """Heave [mm] and roll [deg] at which the wheel centres have travelled so far.

    Args:
        left: Travel of the left wheel centre, up positive, shape (m,) [mm].
        right: Travel of the right wheel centre, shape (m,) [mm].
        half_track: Middle of the axle to the middle of a tyre [mm].

    Source: geometry, the axle line climbs by the difference over the track.
    """
    climb = (np.asarray(left, dtype=np.float64) - right) / (2.0 * half_track)
    mean = (np.asarray(left, dtype=np.float64) + right) / 2.0
    return mean, np.asarray(np.degrees(np.arcsin(climb)), dtype=np.float64)


def _four(v: Values) -> tuple[Array, Array]:
    step, det = solve_four(v.matrix, v.off)
    return unturned(step, v), det


def step_of(linkage: Linkage) -> Callable[[Values], tuple[Array, Array]]:
    """The Newton step of a linkage: from the equations to (step (4, m), determinant (m,)).

    Four lengths: the four equations are solved. More: the bushes share what does not fit, least squares
    weighed with their rates, stiff links kept exactly (Lagrange's multipliers); without any rate all weigh
    alike, which is right only where the lengths fit after all.

    Source: geometry; least work of springs with conditions kept.
    """
    if len(linkage.links) == HELD:
        return _four
    rates = linkage.rates()
    weights = np.ones(len(linkage.links)) if rates is None else rates
    soft = np.isfinite(weights)
    share = weights[soft] / weights[soft].max()
    stiff = int((~soft).sum())

    def least(v: Values) -> tuple[Array, Array]:
        matrix = np.stack(v.matrix)  # (4, n, m)
        give, keep = matrix[:, soft], matrix[:, ~soft]
        m = v.off.shape[1]
        whole = np.zeros((m, UNKNOWNS + stiff, UNKNOWNS + stiff))
        whole[:, :UNKNOWNS, :UNKNOWNS] = np.einsum("anm,n,bnm->mab", give, share, give)
        whole[:, :UNKNOWNS, UNKNOWNS:] = np.moveaxis(keep, 2, 0)
        whole[:, UNKNOWNS:, :UNKNOWNS] = np.moveaxis(keep, 2, 0).transpose(0, 2, 1)
        right = np.zeros((m, UNKNOWNS + stiff))
        right[:, :UNKNOWNS] = np.einsum("anm,n,nm->ma", give, share, v.off[soft])
        right[:, UNKNOWNS:] = v.off[~soft].T
        det = np.asarray(np.linalg.det(whole), dtype=np.float64)
        whole[~(np.abs(det) > 0.0)] = np.eye(UNKNOWNS + stiff)  # bound: no step is right, the pose will not close
        step = np.linalg.solve(whole, right[..., None])[:, :UNKNOWNS, 0].T
        return unturned(np.array(step, dtype=np.float64), v), det

    return least


@dataclass(frozen=True, eq=False)
class Closed:
    """Poses after Newton's rounds: unknowns (4, m), lengths off (n, m), determinant (m,), whether closed (m,)."""

    unknowns: Array
    off: Array
    det: Array
    good: Bools


def close(
    linkage: Linkage, s: System, start: Array, heave: Array, roll: Array, sign: float, jump: float = JUMP
) -> Closed:
    """The poses nearest to a start, by Newton's method.

    Args:
        linkage: What holds the axle.
        s: Its arrays.
        start: Unknowns, shape (4, m) [mm].
        heave: Shape (m,) [mm].
        roll: Shape (m,) [rad].
        sign: Of the determinant at ride height.
        jump: Farthest the unknowns may end from the start [mm].
    """
    step = step_of(linkage)
    exact = len(linkage.links) == HELD
    q, tilt = start.copy(), cosines(roll)
    with np.errstate(all="ignore"):
        for _ in range(ROUNDS if exact else 4 * ROUNDS):
            v = values(s, q, heave, tilt)
            error = np.abs(v.off)
            if exact and not (error > CLOSE / 4.0).any():
                det = determinant(v.matrix)
                break
            move, det = step(v)
            if not exact:
                error = np.abs(move)
                if not (error > CLOSE / 4.0).any():
                    break
            q -= move
        good = (error.max(axis=0) <= CLOSE) & (det * sign > 0.0) & (np.abs(q - start).max(axis=0) <= jump)
    return Closed(q, v.off, det, good)


def approach(
    linkage: Linkage, s: System, heave: Array, roll: Array, sign: float, finer: int = 1
) -> tuple[Closed, Array]:
    """The poses, each approached from ride height on a straight line in heave and roll.

    Returns:
        The poses, and the part of the way that was reached, shape (m,).
    """
    way = max(float(np.max(np.abs(heave))) / HEAVE_STEP, float(np.max(np.abs(roll))) / ROLL_STEP)
    steps = max(2, math.ceil(way)) * finer
    m = heave.size
    past = [np.zeros((UNKNOWNS, m))]
    alive = np.ones(m, dtype=np.bool_)
    part = np.zeros(m)
    state = close(linkage, s, past[0], 0.0 * heave, 0.0 * roll, sign)
    for k in range(1, steps + 1):
        p = past[-4:]
        if len(p) >= 4:
            aim = 4.0 * p[-1] - 6.0 * p[-2] + 4.0 * p[-3] - p[-4]
        elif len(p) == 3:
            aim = 3.0 * p[-1] - 3.0 * p[-2] + p[-3]
        else:
            aim = 2.0 * p[-1] - p[-2] if len(p) == 2 else p[-1]
        state = close(linkage, s, aim, heave * (k / steps), roll * (k / steps), sign)
        alive &= state.good
        part[alive] = k / steps
        past = [*p, np.where(alive, state.unknowns, p[-1])]
    return Closed(past[-1], state.off, state.det, alive), part


def start_sign(s: System, linkage: Linkage) -> float:
    """Sign of the determinant at ride height."""
    zero = np.zeros(1)
    _, det = step_of(linkage)(values(s, np.zeros((UNKNOWNS, 1)), zero, cosines(zero)))
    return float(np.sign(det[0]))
