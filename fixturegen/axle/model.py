"""The idealized axle in frame A: where everything on it is, as numbers."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from fixturegen.axle import frames
from fixturegen.axle.frames import Array, as_point
from fixturegen.sheet.specs import Pivot, Sheet

Point = tuple[float, float, float]
Side = Literal["left", "right"]


def sign_of(side: Side) -> int:
    """+1 for the vehicle's left, -1 for its right."""
    return 1 if side == "left" else -1


@dataclass(frozen=True)
class PivotPlace:
    """One pivot: middle of its arm, direction away from the axle line, its data."""

    centre: Point
    outward: Point
    pivot: Pivot


@dataclass(frozen=True)
class KnuckleModel:
    """One inner knuckle at its bench angle, in frame A.

    Attributes:
        side: left or right.
        axis_point: Steering axis at axle height [mm].
        axis: Unit vector from the lower to the upper pivot.
        weld_station: Y of the inboard weld toe [mm].
        upper: Upper pivot.
        lower: Lower pivot.
    """

    side: Side
    axis_point: Point
    axis: Point
    weld_station: float
    upper: PivotPlace
    lower: PivotPlace


@dataclass(frozen=True)
class AxleModel:
    """The axle in frame A.

    Attributes:
        front: Whether the axle is steered.
        pinion_sign: +1 where the pinion points to +X (rear axle), -1 for a front axle.
        face_sign: +1 where the datum face looks to +X.
        face_angle: Pinion above the line square to the face [deg], 0 when assumed.
        face_distance: Face to bore axis [mm].
        face_middle: Middle of the machined face (y, z) [mm] (z in the frame turned by the face angle).
        bearing_middle: Station of the middle of the bearing bores [mm].
        studs: Studs or cover bolts (n, 2): station y and z from the bore axis, face vertical [mm].
        section: Stations of the sides of the centre section (right, left) [mm].
        tube_ends: Stations of the tube ends (right, left) [mm].
        half_width: Half the wheel mount width [mm].
        bench_caster: Caster with the pinion level [deg]; None for a rear axle.
        knuckles: Left and right; empty for a rear axle.
    """

    front: bool
    pinion_sign: int
    face_sign: int
    face_angle: float
    face_distance: float
    face_middle: tuple[float, float]
    bearing_middle: float
    studs: tuple[tuple[float, float], ...]
    section: tuple[float, float]
    tube_ends: tuple[float, float]
    half_width: float
    bench_caster: float | None
    knuckles: tuple[KnuckleModel, ...]

    @property
    def table_turn(self) -> float:
        """Rotation about +Y that takes A to T with the face vertical [deg]."""
        return -self.pinion_sign * self.face_angle

    @property
    def plate_caster(self) -> float:
        """Caster in the table frame, face vertical: what the clock plates are cut for [deg]."""
        return (self.bench_caster or 0.0) - self.table_turn

    def vehicle_turn(self, pinion_angle: float) -> float:
        """Rotation about +Y that takes A to V at a pinion angle [deg]."""
        return -self.pinion_sign * pinion_angle


def to_table(axle: AxleModel, height: float) -> tuple[Array, Array]:
    """Rotation (3, 3) and origin (3,) [mm] that take frame A to T, axle line `height` [mm] up."""
    import numpy as np

    return frames.turn_about_y(axle.table_turn), np.array([0.0, 0.0, height])


def stud_points(sheet: Sheet, middle: tuple[float, float]) -> tuple[tuple[float, float], ...]:
    """Measured studs as (station, z) [mm], face vertical, z from the bore axis."""
    studs = sheet.housing.face.studs
    if studs.points:
        station = middle[0] + float(sheet.housing.face.lateral_offset)
        return tuple((station + float(p.y), float(p.z)) for p in studs.points)
    radius = float(studs.circle_diameter or 0.0) / 2.0
    return tuple(
        (
            middle[0] + radius * math.sin(math.radians(a)),
            middle[1] + radius * math.cos(math.radians(a)),
        )
        for a in studs.angles
    )


def _knuckle(sheet: Sheet, side: Side, bench_caster: float) -> KnuckleModel:
    import numpy as np

    spec = sheet.knuckles
    if spec is None:  # pragma: no cover - a front axle without knuckles is refused by the reader
        raise ValueError("a front axle needs knuckles")
    s = sign_of(side)
    station = sheet.axle.wheel_mount_width / 2.0 - spec.axis_to_wheel_mount
    axis = frames.steering_axis(s, bench_caster, spec.inclination)
    # The C's offset turns with it about the axle line.
    point = frames.turn_about_y(-bench_caster) @ np.array([spec.axis_offset, s * station, 0.0])
    places = []
    for pivot, way in ((spec.upper, 1.0), (spec.lower, -1.0)):
        centre = point + way * spec.pivot_spread / 2.0 * axis
        places.append(PivotPlace(as_point(centre), as_point(way * axis), pivot))
    return KnuckleModel(
        side=side,
        axis_point=as_point(point),
        axis=as_point(axis),
        weld_station=s * (station - spec.weld_to_axis),
        upper=places[0],
        lower=places[1],
    )


def axle_of(sheet: Sheet) -> AxleModel:
    """The idealized axle of a sheet.

    The centre section stands on the middle of the bearing bores; each tube runs from its side
    outward. The pinion's station is the middle of the face.
    """
    front = sheet.axle.position == "front"
    pinion_sign = -1 if front else 1
    face = sheet.housing.face
    face_sign = pinion_sign if sheet.housing.kind == "drop-out" else -pinion_sign
    middle = (float(sheet.housing.pinion_offset), -float(face.vertical_offset))
    bearing = middle[0] + float(face.lateral_offset)
    section = (bearing - sheet.housing.width / 2.0, bearing + sheet.housing.width / 2.0)
    caster = None
    if front:
        caster = float(sheet.axle.caster or 0.0) + float(sheet.axle.pinion_angle)
    sides: tuple[Side, Side] = ("left", "right")
    return AxleModel(
        front=front,
        pinion_sign=pinion_sign,
        face_sign=face_sign,
        face_angle=float(face.angle) if face.angle is not None else 0.0,
        face_distance=float(face.bore_distance),
        face_middle=middle,
        bearing_middle=bearing,
        studs=stud_points(sheet, middle),
        section=section,
        tube_ends=(section[0] - sheet.tubes.right.length, section[1] + sheet.tubes.left.length),
        half_width=sheet.axle.wheel_mount_width / 2.0,
        bench_caster=caster,
        knuckles=tuple(_knuckle(sheet, s, caster) for s in sides) if caster is not None else (),
    )
