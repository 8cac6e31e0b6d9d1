"""Housing, bar and index plate, put where their contacts hold them (steps 1 to 4 of `jig_pose`)."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.model import AxleModel
from fixturegen.errors import GeometryFault
from fixturegen.studies.jig_deviations import SIDES, Ground, Pair, Triple
from fixturegen.studies.jig_records import JigPlan

Bar = tuple[Array, Array]
AS_DRAWN = Ground()


def solved(residual: Callable[[Array], Array], guess: Array, step: float = 1e-6) -> Array:
    """Root (n,) of a small smooth system (n,) by Newton's method with a measured Jacobian.

    Source: derived; Newton's method, forward differences.

    Raises:
        GeometryFault: When the contacts cannot all be met.
    """
    x = np.array(guess, dtype=np.float64)
    n = len(x)
    f = residual(x)
    for _ in range(30):
        if float(np.max(np.abs(f))) < 1e-11:
            return x
        jacobian = np.empty((n, n))
        for i in range(n):
            moved = x.copy()
            moved[i] += step
            jacobian[:, i] = (residual(moved) - f) / step
        try:
            x = x - np.linalg.solve(jacobian, f)
        except np.linalg.LinAlgError:
            break
        f = residual(x)
    if float(np.max(np.abs(f))) < 1e-8:
        return x
    raise GeometryFault(
        "jig",
        "the contacts of the jig cannot all be met",
        "straighten the tube ends or check the readings",
    )


def rotation(roll: float, pitch: float, yaw: float) -> Array:
    """Rotation matrix (3, 3): roll about X, then pitch about Y, then yaw about Z [rad].

    Source: derived.
    """
    cr, sr = math.cos(roll), math.sin(roll)
    cp, sp = math.cos(pitch), math.sin(pitch)
    cy, sy = math.cos(yaw), math.sin(yaw)
    return np.array(
        [
            [cy * cp, cy * sp * sr - sy * cr, cy * sp * cr + sy * sr],
            [sy * cp, sy * sp * sr + cy * cr, sy * sp * cr - cy * sr],
            [-sp, cp * sr, cp * cr],
        ]
    )


@dataclass(frozen=True)
class Settled:
    """Housing, bar and index hole where their contacts hold them, frame T.

    Attributes:
        housing: Rotation of the housing (3, 3).
        origin: Where its bore axis' origin stands (3,) [mm].
        bar: Two points of the bar's line [mm].
        index: Middle of the tie hole of the index plate (3,) [mm].
        index_turn_rad: Turn of the index plate about +Y.
    """

    housing: Array
    origin: Array
    bar: Bar
    index: Array
    index_turn_rad: float

    @property
    def pitch_rad(self) -> float:
        """Turn of the housing about +Y."""
        return math.atan2(float(self.housing[0, 2]), float(self.housing[2, 2]))

    def bar_at(self, y: float) -> Pair:
        """(x, z) of the bar's line at a station [mm]."""
        return line_at(self.bar, y)

    def tube_at(self, x: float, y: float, z: float) -> Triple:
        """A point of the housing in frame T [mm]."""
        p = self.housing @ np.array([x, y, z]) + self.origin
        return float(p[0]), float(p[1]), float(p[2])


def line_at(bar: Bar, y: float) -> Pair:
    """(x, z) of a line through two points, at a station [mm]."""
    a, b = bar
    t = (y - float(a[1])) / float(b[1] - a[1])
    return float(a[0] + t * (b[0] - a[0])), float(a[2] + t * (b[2] - a[2]))


def settle(axle: AxleModel, plan: JigPlan, g: Ground, ends: tuple[Pair, Pair], hole: Pair) -> Settled:
    """Housing, bar and index hole under deviations of the ground.

    Args:
        axle: The axle.
        plan: The plan of the jig.
        g: Deviations.
        ends: (x, z) of left and right tube end from the bar [mm].
        hole: (x, z) of the tie hole in the index plate, from the bar [mm].

    Raises:
        GeometryFault: When the contacts cannot all be met.
    """
    index = plan.index
    stand = rotation(math.radians(g.table_roll), math.radians(g.table_pitch), 0.0)

    def on_stand(x: float, y: float, z: float) -> Array:
        p = stand @ np.array([x, y, z + plan.height + g.stand_height])
        p[2] += g.table_height
        return np.asarray(p, dtype=np.float64)

    dropout = index.puck_station is not None
    far = index.puck_station if index.puck_station is not None else index.station - 100.0
    own_bar = (on_stand(g.index_bore, index.station, 0.0), on_stand(g.puck_bore, far, 0.0))
    touching = [on_stand(*p) for p in pad_points(plan, g)]
    face = plan.face_sign * (axle.face_distance + (g.bore_distance if dropout else 0.0))
    stop_y = axle.face_middle[0]
    screws = _screws(axle, plan, g, ends, own_bar)

    def contacts(q: Array) -> Array:
        r, o = rotation(q[3], q[4], q[5]), q[:3]
        out = [float(r[:, 0] @ (p - o)) - face for p in touching]
        out.append(float(r[1, 1]) * stop_y + float(o[1]) - stop_y)
        out += [float(r[2] @ np.array(p) + o[2]) - z for p, z in screws]
        return np.array(out)

    guess = np.array([0.0, 0.0, plan.height, 0.0, math.radians(g.table_pitch), 0.0])
    q = solved(contacts, guess)
    housing, origin = rotation(q[3], q[4], q[5]), q[:3]
    if dropout:
        pitch = math.atan2(float(stand[0, 2]), float(stand[2, 2]))
        place = on_stand(hole[0], index.station, hole[1])
        return Settled(housing, origin, own_bar, place, pitch)
    a = axle.bearing_middle
    bar = (
        housing @ np.array([0.0, a + 50.0, 0.0]) + origin,
        housing @ np.array([0.0, a - 50.0, 0.0]) + origin,
    )
    return _hung_index(plan, Settled(housing, origin, bar, origin, 0.0), g, hole)


def pad_span(plan: JigPlan) -> float:
    """Middle of the lower pad or shoulder to middle of the upper one [mm]."""
    low, high = (sum(p) / 2.0 for p in plan.index.pads)
    return high - low


def _hung_index(plan: JigPlan, settled: Settled, g: Ground, hole: Pair) -> Settled:
    """The same with an integral's index plate: on the bar, its gaps to the face alike."""
    index = plan.index
    turn = settled.pitch_rad
    turn += math.atan(plan.face_sign * (g.pad_upper - g.pad_lower) / pad_span(plan))
    bx, bz = settled.bar_at(index.station)
    c, s = math.cos(turn), math.sin(turn)
    x, z = hole[0] - g.index_bore, hole[1]
    place = np.array([bx + c * x + s * z, index.station, bz - s * x + c * z])
    return replace(settled, index=place, index_turn_rad=turn)


def pad_points(plan: JigPlan, g: Ground = AS_DRAWN) -> tuple[Triple, Triple, Triple]:
    """The three pads of the stand, from the bore axis [mm]."""
    index, fs = plan.index, float(plan.face_sign)
    if index.puck_station is None:
        a, b, c = ((fs * index.face, y, z) for y, z in plan.stand.pad_buttons[:3])
        return a, b, c
    low, high = (sum(p) / 2.0 for p in index.pads)
    return (
        (fs * (index.face - g.pad_upper), index.station, high),
        (fs * (index.face - g.pad_lower), index.station, low),
        (fs * (index.face - g.pad_side), index.puck_station, low),
    )


def _screws(axle: AxleModel, plan: JigPlan, g: Ground, ends: tuple[Pair, Pair], bar: Bar) -> list[tuple[Triple, float]]:
    """Points of the housing whose height the two cradle screws set, and that height [mm]."""
    out: list[tuple[Triple, float]] = []
    slope = math.tan(math.radians(g.table_roll))
    for side, cradle, (ex, ez) in zip(SIDES, plan.cradles, ends, strict=True):
        left = side == "left"
        if g.screws_reset:
            y = axle.tube_ends[1 if left else 0]
            target = line_at(bar, y)[1] + (g.screw_left if left else g.screw_right)
            dropout = plan.index.puck_station is not None
            # A drop-out's tube ends are brought to the bar as read; an integral's bar goes with
            # its housing, so its height is brought to the stand.
            out.append(((ex, y, ez), target + ez) if dropout else ((0.0, y, 0.0), target))
            continue
        taller = g.cradle_left + g.rise_left if left else g.cradle_right + g.rise_right
        top = plan.height + g.table_height + slope * cradle.station + taller
        out.append(((0.0, cradle.station, 0.0), top + g.tube_diameter / 2.0))
    return out
