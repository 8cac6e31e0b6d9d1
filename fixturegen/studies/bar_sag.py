"""How the alignment bar hangs between and beyond its pucks, and whether it is long enough."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fixturegen.axle.model import AxleModel, Side, sign_of
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.jig_records import INCH, JigPlan
from fixturegen.studies.masses import STEEL, Body, bodies_of

MODULUS = 205_000.0  # carbon steel [MPa]; 29.7e6 psi
GRAVITY = 9.80665
JACK_ABOVE = 0.010 * INCH  # more sag than this at a clock plate: a screw jack; common practice [mm]
JACK_LEAVES = 0.004 * INCH  # a jack set by the dial leaves twice the reading's uncertainty [mm] [cp]
END_ROOM = 1.5 * INCH  # bar beyond the clock plate: collar and a hand's grip [mm] [cp]


@dataclass(frozen=True)
class Overhang:
    """One end of a beam on two supports.

    Attributes:
        length: Beam beyond the support [mm].
        load: Point load on it [N].
        at: Distance of that load from the support [mm].
    """

    length: float
    load: float
    at: float


@dataclass(frozen=True)
class Sag:
    """How far the bar hangs at one clock plate.

    Attributes:
        side: left or right.
        station: Y [mm].
        sag: Below the line through the two pucks [mm].
        slope: Of the bar there [deg].
        jack: Whether a screw jack is needed under the bar there.
        left_over: What is left with the jack set, or the sag itself without one [mm].
    """

    side: Side
    station: float
    sag: float
    slope: float
    jack: bool
    left_over: float


def overhang_sag(
    span: float, near: Overhang, far: Overhang, weight: float, stiffness: float, at: float
) -> tuple[float, float]:
    """Sag [mm] and slope [rad] of a beam on two supports, at a point of one overhang.

    Superposed: slope at the near support from both overhang moments and the span's own weight, then
    a cantilever from there.

    Args:
        span: Between the supports [mm].
        near: The overhang asked about.
        far: The other one.
        weight: Of the beam per length [N/mm].
        stiffness: E I [N*mm^2].
        at: Distance of the point from the near support, within the overhang [mm].

    Source: Machinery's Handbook, beams overhanging both supports; superposition, derived.
    """
    near_moment = weight * near.length**2 / 2.0 + near.load * near.at
    far_moment = weight * far.length**2 / 2.0 + far.load * far.at
    root = near_moment * span / 3.0 + far_moment * span / 6.0 - weight * span**3 / 24.0
    c = near.length
    own = weight * at**2 * (6.0 * c**2 - 4.0 * c * at + at**2) / 24.0
    own_slope = weight * at * (3.0 * c**2 - 3.0 * c * at + at**2) / 6.0
    a = near.at
    if at <= a:
        point, point_slope = near.load * at**2 * (3.0 * a - at) / 6.0, near.load * at * (a - at / 2)
    else:
        point, point_slope = near.load * a**2 * (3.0 * at - a) / 6.0, near.load * a**2 / 2.0
    sag = (root * at + own + point) / stiffness
    return sag, (root + own_slope + point_slope) / stiffness


def round_stiffness(diameter: float) -> float:
    """Bending stiffness E I [N*mm^2] of a round steel bar of a diameter [mm].

    Source: Machinery's Handbook, pi d^4 / 64.
    """
    return MODULUS * math.pi * diameter**4 / 64.0


def supports_of(sheet: Sheet, axle: AxleModel, plan: JigPlan) -> tuple[float, float]:
    """Stations of the two pucks the bar lies in, right one first [mm]."""
    index = plan.index
    if index.puck_station is not None:
        low, high = sorted((index.station, index.puck_station))
        return low, high
    bearings = sheet.housing.bearings
    half = (bearings.width_over - bearings.bore_width) / 2.0
    return axle.bearing_middle - half, axle.bearing_middle + half


def sag_of(sheet: Sheet, axle: AxleModel, plan: JigPlan, bodies: dict[str, Body] | None = None) -> tuple[Sag, ...]:
    """Sag of the bar at both clock plates, left one first; empty on a rear axle.

    The bar lies in its pucks alone, its middle on the vehicle's centreline, each clock plate with
    its fingers hanging on it; a cradle that carries the bar takes the sag of its side.
    """
    if plan.clock is None:
        return ()
    masses = bodies or bodies_of(sheet, axle, plan)
    low, high = supports_of(sheet, axle, plan)
    station = plan.clock.inner + plan.clock_thickness / 2.0
    half = sheet.bar.length / 2.0
    load = masses["clock-l"].mass * GRAVITY
    ends = {
        "left": Overhang(max(half - high, station - high), load, station - high),
        "right": Overhang(max(half + low, station + low), load, station + low),
    }
    weight = math.pi / 4.0 * sheet.bar.diameter**2 * STEEL * GRAVITY
    stiffness = round_stiffness(float(sheet.bar.diameter))
    found = []
    sides: tuple[tuple[Side, Side], ...] = (("left", "right"), ("right", "left"))
    for (side, other), cradle in zip(sides, plan.cradles, strict=True):
        near = ends[side]
        sag, slope = overhang_sag(high - low, near, ends[other], weight, stiffness, near.at)
        carried = cradle.carries == "bar"
        jack = sag > JACK_ABOVE and not carried
        left_over = JACK_LEAVES if jack or carried else sag
        found.append(Sag(side, sign_of(side) * station, sag, math.degrees(slope), jack, left_over))
    return tuple(found)


def needed_length(axle: AxleModel, plan: JigPlan) -> float:
    """Shortest bar that reaches past both clock plates, or both tube ends of a rear axle [mm]."""
    if plan.clock is not None:
        return 2.0 * (plan.clock.inner + plan.clock_thickness + END_ROOM)
    return axle.tube_ends[1] - axle.tube_ends[0] + 2.0 * END_ROOM
