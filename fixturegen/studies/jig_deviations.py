"""What may differ from the plan, and how the knuckles come out: records of the simulation."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from fixturegen.axle import frames
from fixturegen.axle.model import Side
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.readings import eccentricity_of

Pair = tuple[float, float]
Triple = tuple[float, float, float]
SIDES: tuple[Side, Side] = ("left", "right")


@dataclass(frozen=True)
class Ground:
    """Deviations of what carries the housing; all zero is as drawn.

    Attributes:
        stand_height: Stand taller [mm].
        table_height: Whole table higher [mm].
        table_pitch: Table turned about Y, front edge down positive [deg].
        table_roll: Table turned about X, left side up positive [deg].
        rise_left: Table higher under the left cradle only [mm].
        rise_right: Table higher under the right cradle only [mm].
        cradle_left: Left cradle taller [mm].
        cradle_right: Right cradle taller [mm].
        tube_diameter: Tube larger than measured [mm].
        screws_reset: Whether the cradle screws are turned until the tube ends read as before.
        screw_left: What is left of that on the left, housing high positive [mm].
        screw_right: What is left of that on the right [mm].
        pad_upper: Upper pad of the index plate proud (drop-out), or its upper gap to the face larger
            than the lower one (integral) [mm]. A shim under the upper pad is the same thing.
        pad_lower: Lower pad proud, or lower gap larger [mm].
        pad_side: Third pad, on the puck plate, proud [mm].
        bore_distance: Face to bore axis larger than measured [mm].
        index_bore: Bar ahead of the index plate's bore [mm].
        puck_bore: Bar ahead of the puck plate's bore [mm].
    """

    stand_height: float = 0.0
    table_height: float = 0.0
    table_pitch: float = 0.0
    table_roll: float = 0.0
    rise_left: float = 0.0
    rise_right: float = 0.0
    cradle_left: float = 0.0
    cradle_right: float = 0.0
    tube_diameter: float = 0.0
    screws_reset: bool = True
    screw_left: float = 0.0
    screw_right: float = 0.0
    pad_upper: float = 0.0
    pad_lower: float = 0.0
    pad_side: float = 0.0
    bore_distance: float = 0.0
    index_bore: float = 0.0
    puck_bore: float = 0.0


@dataclass(frozen=True)
class Chain:
    """Deviations of one side between tie and knuckle; all zero is as drawn.

    Attributes:
        tube_x: Tube end ahead of the bar [mm].
        tube_z: Tube end above the bar [mm].
        bar_sag: Bar below its line at the clock plate [mm].
        tie_x: Tie ahead of a straight line from the index plate (bow, wind-up) [mm].
        tie_hole: Tie hole of the clock plate ahead of its place, along the tangent [mm].
        tie_fit: Tie ahead in its hole [mm].
        finger_upper: Upper finger pair ahead of its place, across [mm].
        finger_lower: Lower finger pair ahead of its place, across [mm].
        stub_upper: Upper gauge head ahead of the steering axis, across [mm].
        stub_lower: Lower gauge head ahead of the steering axis, across [mm].
        level: Level reads too far forward on this clock plate [deg].
    """

    tube_x: float = 0.0
    tube_z: float = 0.0
    bar_sag: float = 0.0
    tie_x: float = 0.0
    tie_hole: float = 0.0
    tie_fit: float = 0.0
    finger_upper: float = 0.0
    finger_lower: float = 0.0
    stub_upper: float = 0.0
    stub_lower: float = 0.0
    level: float = 0.0


@dataclass(frozen=True)
class Deviations:
    """Everything that may differ from the plan.

    Attributes:
        ground: What carries the housing.
        left: Left side.
        right: Right side.
        face_angle: Measured face angle less than the true one [deg].
        index_hole: Hole of the index plate ahead of its place [mm].
        index_fit: Tie ahead in the index plate's hole [mm].
        index_level: Level reads too far forward on the index plate [deg].
        steady: Steady ahead of its place [mm]; used when the level is not.
        levelled: Whether the steady is set until the level reads alike on both clock plates.
    """

    ground: Ground = Ground()
    left: Chain = Chain()
    right: Chain = Chain()
    face_angle: float = 0.0
    index_hole: float = 0.0
    index_fit: float = 0.0
    index_level: float = 0.0
    steady: float = 0.0
    levelled: bool = True


@dataclass(frozen=True)
class KnucklePose:
    """How one knuckle comes out.

    Attributes:
        side: left or right.
        caster_bench: Caster in frame A [deg].
        caster_vehicle: Caster in the vehicle [deg].
        inclination: Steering-axis inclination in the vehicle [deg].
        camber: In the vehicle, from the camber built into the knuckle [deg].
        toe: Toe-in gained by the turn [deg].
        plate: (x, z, turn) of the clock plate in frame T [mm, mm, deg].
    """

    side: Side
    caster_bench: float
    caster_vehicle: float
    inclination: float
    camber: float
    toe: float
    plate: Triple


@dataclass(frozen=True)
class JigPose:
    """How both knuckles come out.

    Attributes:
        left: Left knuckle.
        right: Right knuckle.
        tie_yaw: Turn of the tie in plan [deg].
        level: What the level reads on left plate, right plate and index plate, forward positive
            [deg].
    """

    left: KnucklePose
    right: KnucklePose
    tie_yaw: float
    level: Triple

    @property
    def split(self) -> float:
        """Left caster less right caster [deg]."""
        return self.left.caster_bench - self.right.caster_bench

    @property
    def apart(self) -> float:
        """What both clock plates read more forward than the index plate [deg]."""
        return (self.level[0] + self.level[1]) / 2.0 - self.level[2]


def actual(sheet: Sheet) -> Deviations:
    """Deviations known from the sheet: the eccentricity of both tube ends, all else as drawn."""
    chains = {}
    for side in SIDES:
        e = eccentricity_of(sheet, side)
        chains[side] = Chain(tube_x=e.x, tube_z=e.z)
    return Deviations(left=chains["left"], right=chains["right"])


def turned_knuckle(side: int, caster: float, inclination_at_zero: float, camber: float, made_for: float) -> Triple:
    """Inclination, camber and toe-in of a knuckle turned to a caster [deg].

    The spindle is turned as a vector about Y from the caster it was made for; at that caster it has
    the camber given and no toe.

    Args:
        side: +1 left, -1 right.
        caster: Caster now [deg].
        inclination_at_zero: Steering-axis inclination at zero caster [deg].
        camber: Camber at the caster it was made for [deg].
        made_for: Caster it was made for [deg].

    Source: ISO 8855 projections; plain rotation, derived.
    """
    axis = frames.steering_axis(side, caster, inclination_at_zero)
    g = math.radians(camber)
    spindle = np.array([0.0, side * math.cos(g), -math.sin(g)])
    spindle = frames.turn_about_y(-(caster - made_for)) @ spindle
    flat = abs(float(spindle[1]))
    return (
        frames.inclination_of(axis, side),
        math.degrees(math.atan2(-float(spindle[2]), flat)),
        math.degrees(math.atan2(float(spindle[0]), flat)),
    )
