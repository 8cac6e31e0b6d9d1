"""Tube cut list and axle-shaft measuring sheet as plain rows; what is bought last is measured last."""

from __future__ import annotations

from dataclasses import dataclass

from fixturegen.axle.model import AxleModel, Side, sign_of
from fixturegen.sheet.specs import Sheet

BEVEL = 30.0  # deg, groove side of the tube at the centre section [cp]
LAND = 1.6  # mm, unbevelled land at the root [cp]


@dataclass(frozen=True)
class TubeCut:
    """One tube to cut.

    Attributes:
        side: The vehicle's left or right.
        name: long, short or equal.
        exposed: From the centre section to the tube end [mm].
        insertion: Inside the centre section [mm].
        length: To cut [mm].
        outside_diameter: Measured [mm].
        wall: Measured [mm].
        bevel: Of the end at the centre section [deg].
        land: Left at the root [mm].
    """

    side: Side
    name: str
    exposed: float
    insertion: float
    length: float
    outside_diameter: float
    wall: float
    bevel: float
    land: float


@dataclass(frozen=True)
class ShaftReading:
    """One length to read on the finished housing before a shaft is ordered.

    Attributes:
        side: The vehicle's left or right.
        what: From where to where.
        expected: What the sheet comes to [mm]; a check on the reading, never a length to order by.
    """

    side: Side
    what: str
    expected: float


def tube_cuts(sheet: Sheet) -> tuple[TubeCut, TubeCut]:
    """Left and right tube; length = exposed + insertion."""
    tubes = sheet.tubes
    found = []
    other = {"left": tubes.right, "right": tubes.left}
    sides: tuple[Side, Side] = ("left", "right")
    for side in sides:
        tube = tubes.left if side == "left" else tubes.right
        difference = tube.length - other[side].length
        name = "equal" if abs(difference) < 0.1 else ("long" if difference > 0 else "short")
        found.append(
            TubeCut(
                side,
                name,
                float(tube.length),
                float(tube.insertion),
                tube.length + tube.insertion,
                float(tubes.outside_diameter),
                float(tubes.wall),
                BEVEL,
                LAND,
            )
        )
    return found[0], found[1]


def shaft_readings(sheet: Sheet, axle: AxleModel) -> tuple[ShaftReading, ...]:
    """What to read on the finished housing before ordering axle shafts.

    Source: common practice, shafts are ordered last; derived from the stations of the sheet.
    """
    found = []
    sides: tuple[Side, Side] = ("left", "right")
    for side in sides:
        s = sign_of(side)
        found.append(
            ShaftReading(
                side,
                "wheel mount surface to the middle of the carrier bearings",
                axle.half_width - s * axle.bearing_middle,
            )
        )
        half = sheet.housing.bearings.width_over / 2.0
        found.append(
            ShaftReading(
                side,
                "wheel mount surface to the outside of the carrier bearing bore",
                axle.half_width - s * axle.bearing_middle - half,
            )
        )
        found.append(
            ShaftReading(
                side,
                "tube end to the outside of the carrier bearing bore",
                s * axle.tube_ends[1 if s > 0 else 0] - s * axle.bearing_middle - half,
            )
        )
        if axle.knuckles:
            knuckle = axle.knuckles[0 if s > 0 else 1]
            found.append(
                ShaftReading(
                    side,
                    "steering axis at axle height to the outside of the carrier bearing bore "
                    "(middle of the axle joint to the inner spline's end)",
                    s * knuckle.axis_point[1] - s * axle.bearing_middle - half,
                )
            )
    return tuple(found)
