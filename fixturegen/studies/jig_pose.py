"""What the jig does to the knuckles, simulated contact by contact.

Nothing here is a formula for the caster. Every body of the jig is put where its contacts hold it,
in the order in which the fabricator puts it there, and the turn of the knuckle is what is left:

1. the table lies at some height and pitch; the stand stands on it;
2. the bar lies in the bores of index and puck plate (drop-out) or of the housing (integral);
3. the housing touches three pads, its y stop, and two cradle screws; the screws are turned until
   the tube ends stand to the bar as the dial read them (or, left alone, stand where cradle and tube
   put them: the case that shows what the re-setting is good for);
4. the index plate is part of the stand (drop-out) or hangs on the bar with two equal gaps to the
   face (integral);
5. the tie passes the index plate's hole; its turn in plan is set by the steady, either to a given
   reading or until the level reads the same on both clock plates; what both then read more than
   the index plate is taken out by a shim under a pad, or by the gaps (`trimmed`);
6. each clock plate and its knuckle are solved together from their contacts: the bush's top on the
   bar, the tie along the tangent, and the two gauge heads between their fingers.

Frame T; planar in X and Z at each station, in space for housing, stand and bar. A turn is about +Y:
positive takes the top forward, so caster falls by it.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from fixturegen.axle import frames
from fixturegen.axle.model import AxleModel, Side, sign_of
from fixturegen.errors import GeometryFault, ProgramFault
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.jig_contacts import Settled, pad_span, settle, solved
from fixturegen.studies.jig_deviations import (
    SIDES,
    Chain,
    Deviations,
    Ground,
    JigPose,
    KnucklePose,
    Pair,
    actual,
    turned_knuckle,
)
from fixturegen.studies.jig_records import BUSH_RELIEF, JigPlan, RowHole, row_point

__all__ = ["SIDES", "Chain", "Deviations", "Ground", "JigPose", "Simulation", "actual"]

Residual = Callable[[frames.Array], frames.Array]
SIDEWAYS_RAD = math.radians(75.0)  # bush meets the bar nearly at its side: no height is left in it


@dataclass(frozen=True)
class _Hung:
    """A clock plate and its knuckle where their contacts hold them."""

    x: float
    z: float
    turn_rad: float
    knuckle_rad: float


class Simulation:
    """The jig of one axle, ready to be posed under any deviations."""

    def __init__(self, sheet: Sheet, axle: AxleModel, plan: JigPlan, hole: RowHole | None = None) -> None:
        """Take sheet, axle and plan; `hole` is the row hole the tie passes (the nominal one)."""
        if plan.clock is None or plan.tie is None or axle.bench_caster is None:
            raise ProgramFault("a rear axle has no clock plates to simulate")
        self.sheet, self.axle, self.plan = sheet, axle, plan
        self.clock, self.tie = plan.clock, plan.tie
        self.hole = hole or plan.tie.row[0]
        self.bench_caster = axle.bench_caster
        self._trimmed: dict[Deviations, tuple[JigPose, float]] = {}
        self._known: dict[tuple[Ground, Pair, Pair, float], Settled] = {}
        self._across = tuple(_across(f.bars) for f in self.clock.fingers)
        turn = frames.turn_about_y(axle.table_turn)
        self._heads: dict[Side, tuple[Pair, ...]] = {}
        for knuckle in axle.knuckles:
            point, axis = turn @ np.array(knuckle.axis_point), turn @ np.array(knuckle.axis)
            heads = (
                point + way * finger.along * axis for finger, way in zip(self.clock.fingers, (1.0, -1.0), strict=True)
            )
            self._heads[knuckle.side] = tuple((float(h[0]), float(h[2])) for h in heads)

    def pose(self, deviations: Deviations | None = None) -> JigPose:
        """How the knuckles come out under deviations (as drawn when none are given).

        Raises:
            GeometryFault: When the contacts cannot all be met.
        """
        d = deviations or Deviations()
        settled = self._settle(d)
        yaw = 0.0
        if d.levelled:
            yaw = self._level(settled, d)
        elif d.steady:
            yaw = math.atan(d.steady / (self.tie.steady - self.plan.index.station))
        left, right = (self._hang(side, settled, d, yaw) for side in SIDES)
        return JigPose(
            left=self._knuckle("left", left, settled, d),
            right=self._knuckle("right", right, settled, d),
            tie_yaw=math.degrees(yaw),
            level=(
                math.degrees(left.turn_rad) + d.left.level,
                math.degrees(right.turn_rad) + d.right.level,
                math.degrees(settled.index_turn_rad) + d.index_level,
            ),
        )

    def trimmed(self, deviations: Deviations | None = None) -> tuple[JigPose, float]:
        """How the knuckles come out after the whole trim, and the shim it took [mm].

        The steady is set until both clock plates read alike; what they read more than the index
        plate turns the housing by a shim under the upper pad (negative: under the lower one), or
        the index plate by as much difference of its gaps; then the level is read again.

        Raises:
            GeometryFault: When the contacts cannot all be met.
        """
        d = replace(deviations or Deviations(), levelled=True)
        if d not in self._trimmed:
            self._trimmed[d] = self._trim(d)
        return self._trimmed[d]

    def _trim(self, d: Deviations) -> tuple[JigPose, float]:
        """Secant on the shim: what it shows on the level must be what it was put in for."""

        def posed(shim: float) -> tuple[JigPose, float]:
            ground = replace(d.ground, pad_upper=d.ground.pad_upper + shim)
            pose = self.pose(replace(d, ground=ground))
            return pose, self.shim_per_degree * pose.apart - shim

        a, (pose, fa) = 0.0, posed(0.0)
        b = fa
        for _ in range(10):
            pose, fb = posed(b)
            if abs(fb) < 1e-9 or fb == fa:
                break
            a, b, fa = b, b - fb * (b - a) / (fb - fa), fb
        return pose, b

    @property
    def shim_per_degree(self) -> float:
        """Shim under the upper pad for each degree the clock plates read forward [mm]."""
        return -self.plan.face_sign * pad_span(self.plan) * math.radians(1.0)

    def _level(self, settled: Settled, d: Deviations) -> float:
        """Turn of the tie in plan at which the level reads alike on both clock plates [rad]."""

        def difference(yaw: float) -> float:
            left = self._hang("left", settled, d, yaw).turn_rad + math.radians(d.left.level)
            right = self._hang("right", settled, d, yaw).turn_rad + math.radians(d.right.level)
            return left - right

        a, b = 0.0, 1e-4
        fa, fb = difference(a), difference(b)
        for _ in range(20):
            if abs(fb) < 1e-11 or fb == fa:
                break
            a, b, fa = b, b - fb * (b - a) / (fb - fa), fb
            fb = difference(b)
        return b

    def _settle(self, d: Deviations) -> Settled:
        ends = ((d.left.tube_x, d.left.tube_z), (d.right.tube_x, d.right.tube_z))
        off = d.index_hole + d.index_fit
        key = (d.ground, ends[0], ends[1], off)
        if key not in self._known:
            x, z = row_point(self.tie.radius, self.hole.index_angle)
            t = math.radians(self.hole.index_angle)
            hole = (x + off * math.cos(t), z - off * math.sin(t))
            self._known[key] = settle(self.axle, self.plan, d.ground, ends, hole)
        return self._known[key]

    def _hang(self, side: Side, settled: Settled, d: Deviations, yaw: float) -> _Hung:
        """A clock plate on bar and tie, its fingers round the knuckle's gauge heads.

        Raises:
            GeometryFault: When the bush meets the bar sideways before the knuckle is home.
        """
        chain = d.left if side == "left" else d.right
        s = sign_of(side)
        y = s * (self.clock.inner + self.plan.clock_thickness / 2.0)
        bx, bz = settled.bar_at(y)
        along = y - float(settled.index[1])
        tie = (
            float(settled.index[0]) + math.tan(yaw) * along + chain.tie_x + chain.tie_fit,
            float(settled.index[2]) + bz - settled.bar_at(float(settled.index[1]))[1],
        )
        # The fingers stand square on the plate, so what counts is the knuckle against the bar.
        end = self.axle.tube_ends[1 if s > 0 else 0]
        kx, _, kz = settled.tube_at(chain.tube_x, end, chain.tube_z)
        ex, ez = settled.bar_at(end)
        knuckle = (kx - ex + bx, kz - ez + bz)
        q = solved(
            self._contacts(side, chain, (bx, bz - chain.bar_sag), tie, knuckle),
            np.array([0.0, settled.pitch_rad, settled.pitch_rad]),
        )
        if abs(float(q[0])) > SIDEWAYS_RAD:
            raise GeometryFault(
                "clock-plate",
                "the bush meets the bar sideways before the knuckle reaches its place",
                "straighten the tube end first",
            )
        drop = BUSH_RELIEF / 2.0
        lean = float(q[0])
        x, z = bx + drop * math.sin(lean), bz - chain.bar_sag - drop * math.cos(lean)
        return _Hung(x, z, float(q[1]), float(q[2]))

    def _contacts(self, side: Side, chain: Chain, bar: Pair, tie: Pair, knuckle: Pair) -> Residual:
        """Residuals of tie and fingers as a function of (lean on the bar, turn, knuckle's turn)."""
        a = math.radians(self.hole.clock_angle)
        tangent = (math.cos(a), -math.sin(a))
        drop = BUSH_RELIEF / 2.0
        place_x, place_z = self.clock.row_place(self.tie.radius, self.hole)
        aside = place_x * tangent[0] + place_z * tangent[1] + chain.tie_hole
        pairs = tuple(
            zip(
                self._heads[side],
                self._across,
                self.clock.fingers,
                (chain.stub_upper, chain.stub_lower),
                (chain.finger_upper, chain.finger_lower),
                strict=True,
            )
        )

        def contacts(q: frames.Array) -> frames.Array:
            lean, turn, knuckle_turn = float(q[0]), float(q[1]), float(q[2])
            px, pz = bar[0] + drop * math.sin(lean), bar[1] - drop * math.cos(lean)
            c, s = math.cos(turn), math.sin(turn)
            ck, sk = math.cos(knuckle_turn), math.sin(knuckle_turn)
            dx, dz = tie[0] - px, tie[1] - pz
            out = [(c * dx - s * dz) * tangent[0] + (s * dx + c * dz) * tangent[1] - aside]
            for (hx, hz), n, finger, stub, place in pairs:
                x, z = hx + stub * n[0], hz + stub * n[1]
                dx, dz = knuckle[0] + ck * x + sk * z - px, knuckle[1] - sk * x + ck * z - pz
                fx, fz = self.clock.in_plate(finger.middle)
                u, w = c * dx - s * dz - fx, s * dx + c * dz - fz
                out.append(u * n[0] + w * n[1] - place)
            return np.array(out)

        return contacts

    def _knuckle(self, side: Side, hung: _Hung, settled: Settled, d: Deviations) -> KnucklePose:
        spec = self.sheet.knuckles
        if spec is None:  # pragma: no cover - a front axle without knuckles is refused
            raise ProgramFault("a front axle needs knuckles")
        # Caster is told from the housing: what housing and knuckle turn together does not count.
        caster = self.bench_caster - math.degrees(hung.knuckle_rad - settled.pitch_rad)
        caster -= self.axle.pinion_sign * d.face_angle
        vehicle = caster - float(self.sheet.axle.pinion_angle)
        made_for = float(spec.made_for_caster)
        angles = turned_knuckle(sign_of(side), vehicle, float(spec.inclination), float(spec.camber), made_for)
        plate = (hung.x, hung.z, math.degrees(hung.turn_rad))
        return KnucklePose(side, caster, vehicle, *angles, plate)


def _across(bars: tuple[Pair, Pair]) -> Pair:
    """Unit vector (x, z) from the second finger bar to the first: the way a pair holds."""
    dx, dz = bars[0][0] - bars[1][0], bars[0][1] - bars[1][1]
    n = math.hypot(dx, dz)
    return dx / n, dz / n
