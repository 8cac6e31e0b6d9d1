"""Records of the jig's plan: what `jig_plan` works out and every later room reads.

Coordinates as in `jig_plan`: `u` from the bar toward the datum face, z above the bar, clock angles
0 up and + forward.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from fixturegen.axle.model import Side

INCH = 25.4
BEAD_ROOM = 2.0 * INCH  # nothing stands nearer to a bead that is still to be welded [cp]
STAND_OFF = 0.25 * INCH  # pads stand proud of the face plate, so that a feeler reaches them [cp]
SOCKET_RADIUS = 0.45 * INCH  # room for a 9/16 socket round a 3/8 nut [cp]
HEAD_DIAMETER = 1.0 * INCH  # gauge head of a stub pin
ROW_WEB = 12.0  # least steel between two holes of the index row [mm]
BUSH_RELIEF = INCH / 16.0  # clock plate bush larger than the bar, so that X is free [mm]
PLATE_EDGE = 20.0  # steel left round a hole that sets an angle [mm]
KEEPER_PIN = 9.525  # 3/8 in keeper pin [mm]
KEEPER_HOLE = KEEPER_PIN + 3.0
ABOVE_FACE = 18.0  # face plate above the face: steel over the index plate's slot [mm]
STEADY_TIP = 40.0  # the steady's arm ends this far beyond the index plate's [mm]
KEEPER_OFFSET = 31.0  # keeper pin from the tie, inward and forward alike [mm]
LEVEL_PIN = 12.7  # 1/2 in dowels the level stands on [mm]
LEVEL_OUT = 42.0  # level pins stand out at least this much, for the foot of a level [mm]
FINGER_FIT = 0.03  # finger gap over gauge head, middle of the fit [mm]


@dataclass(frozen=True)
class RowHole:
    """One position of the index row: its label and clock angle in the index and clock plates [deg]."""

    label: str
    index_angle: float
    clock_angle: float

    @property
    def caster_change(self) -> float:
        """Change of caster when the tie passes this hole of all three plates [deg]."""
        return self.clock_angle - self.index_angle


@dataclass(frozen=True)
class IndexPlan:
    """Index plate and, for a drop-out, the puck plate beside it.

    Attributes:
        station: Y of the index plate's middle plane [mm].
        puck_station: Y of the second (puck) plate's middle plane [mm]; None for an integral.
        bore: Bar bore of index, puck and clock plates, before bushes [mm].
        tongue: Half height of the tongue that enters the opening, about z = 0 [mm].
        face: u of the machined face [mm].
        gap: u from the face to the index plate's shoulders: 0 where pads touch, else the gap block [mm].
        pads: (z from, z to) of lower and upper pad or shoulder [mm].
        riser: (u from, u to) of the part that stands behind the face plate [mm].
        arm: (z from, z to) of the arm over the housing [mm]; (0, 0) on a rear axle.
        arm_tip: u of the arm's end (negative: beyond the bar) [mm].
        level_pins: Two (x, z) [mm] common to index and clock plates.
    """

    station: float
    puck_station: float | None
    bore: float
    tongue: float
    face: float
    gap: float
    pads: tuple[tuple[float, float], tuple[float, float]]
    riser: tuple[float, float]
    arm: tuple[float, float]
    arm_tip: float
    level_pins: tuple[tuple[float, float], tuple[float, float]]


@dataclass(frozen=True)
class StandPlan:
    """Face stand.

    Attributes:
        face_plate: u of the face plate's housing side and stand side [mm].
        width: Half width of the face plate about the face's middle [mm].
        top: z of its upper edge [mm].
        sides: Stations of the plates behind the face plate that stand on the base [mm].
        ribs: Stations of the outer ribs [mm].
        foot: u of the feet's far end [mm].
        base: (u from, u to, y from, y to) of the base plate [mm].
        pins: Two (x, y) of table pins: round hole first, slot second [mm].
        bolts: (x, y) of table bolts [mm].
        pad_buttons: (y, z) of pads of the face plate itself (integral) [mm].
        draw_back: How far the stand is drawn back while the axle is lowered [mm].
    """

    face_plate: tuple[float, float]
    width: float
    top: float
    sides: tuple[float, ...]
    ribs: tuple[float, float]
    foot: float
    base: tuple[float, float, float, float]
    pins: tuple[tuple[float, float], tuple[float, float]]
    bolts: tuple[tuple[float, float], ...]
    pad_buttons: tuple[tuple[float, float], ...]
    draw_back: float


@dataclass(frozen=True)
class Finger:
    """One pair of finger bars: the pivot it takes, its middle (x, z), head diameter, reach in Y [mm].

    Attributes:
        pivot: upper or lower.
        middle: (x, z) where the stub's axis crosses the finger bars [mm].
        bars: Centres (x, z) of the two bars [mm].
        head: Diameter of the stub's gauge head [mm].
        along: Distance from the steering axis' point at axle height, along the axis [mm].
        tip: |y| of the bars' inboard ends [mm].
    """

    pivot: Literal["upper", "lower"]
    middle: tuple[float, float]
    bars: tuple[tuple[float, float], tuple[float, float]]
    head: float
    along: float
    tip: float


@dataclass(frozen=True)
class ClockPlan:
    """Clock plates; left and right are cut alike, the fingers stand inboard.

    Attributes:
        caster: Angle the plate is cut for, from the vertical face [deg].
        inner: |y| of the inboard face [mm].
        fingers: Upper and lower pair.
        keepers: Keeper holes (x, z), one for each row hole [mm].
        discs: (x, z, radius) whose convex hull is the outline [mm].
        drop: How far the plate hangs below the axle line, its bush being larger than the bar [mm].
            Bore, tie row, keepers and level pins stand in the plate as told here and hang that much
            lower in T; the fingers' places are told in T, so their holes stand that much higher in
            the plate (`in_plate`). Left out, both casters would come out about 0.04 deg large.
    """

    caster: float
    inner: float
    fingers: tuple[Finger, Finger]
    keepers: tuple[tuple[float, float], ...]
    discs: tuple[tuple[float, float, float], ...]
    drop: float = 0.0

    def in_plate(self, place: tuple[float, float]) -> tuple[float, float]:
        """Where a point at (x, z) in T, from the bar [mm], stands in the hanging plate."""
        return place[0], place[1] + self.drop

    def row_place(self, radius: float, hole: RowHole) -> tuple[float, float]:
        """Where a hole of the row stands in the plate (x, z) [mm].

        The nominal hole is reamed with the index plate. The side holes are not; they stand as much
        higher as the plate hangs, since off the vertical the hang has a share along the row.
        """
        x, z = row_point(radius, hole.clock_angle)
        return (x, z) if hole.clock_angle == hole.index_angle else self.in_plate((x, z))


@dataclass(frozen=True)
class TiePlan:
    """The tie: radius, diameter, row, length and where it is steadied [mm].

    Attributes:
        radius: From the bar to the tie [mm].
        diameter: Of the ground bar [mm].
        row: Positions; the first is the nominal one.
        length: Of the bar [mm].
        flat_depth: Taken off each side at the ends, square to the radius [mm].
        flat_length: From each end [mm].
        steady: Station of the steady, in the plane of the stand's outer rib [mm].
    """

    radius: float
    diameter: float
    row: tuple[RowHole, ...]
    length: float
    flat_depth: float
    flat_length: float
    steady: float


@dataclass(frozen=True)
class CradlePlan:
    """One cradle: what it carries and where.

    Attributes:
        side: Which side of the centre section.
        station: Y of its middle [mm].
        carries: tube or bar.
        radius: Radius of what it carries [mm].
        holes: Table holes (x, y) [mm].
        half_width: Half its width along Y [mm].
    """

    side: Side
    station: float
    carries: Literal["tube", "bar"]
    radius: float
    holes: tuple[tuple[float, float], ...]
    half_width: float


@dataclass(frozen=True)
class JigPlan:
    """The whole plan; `clock` and `tie` are None on a rear axle."""

    kind: Literal["drop-out", "integral"]
    height: float
    face_sign: int
    clock_thickness: float
    stand_thickness: float
    bar: float
    index: IndexPlan
    stand: StandPlan
    cradles: tuple[CradlePlan, CradlePlan]
    clock: ClockPlan | None
    tie: TiePlan | None
    grid: tuple[float, float, float]
    notes: tuple[str, ...]

    def x(self, u: float) -> float:
        """X in T of a point `u` [mm] from the bar toward the face."""
        return self.face_sign * u


def level_pin_length(thickness: float) -> float:
    """Length of a level pin, flush on one side of a plate [mm], in quarter inches up.

    Args:
        thickness: Of the plate [mm].
    """
    return math.ceil((thickness + LEVEL_OUT) / (INCH / 4.0)) * INCH / 4.0


def row_point(radius: float, angle: float) -> tuple[float, float]:
    """(x, z) at a clock angle [deg] on a radius [mm]."""
    a = math.radians(angle)
    return radius * math.sin(a), radius * math.cos(a)
