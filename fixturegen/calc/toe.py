"""Toe as an angle and as a difference of two tape readings."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Literal

from fixturegen.calc._answer import Answer
from fixturegen.errors import Fault, InputFault
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import Angle, BadQuantity, Length, parse

_ANGLE = Angle("-10 deg", "10 deg")
_READING = Length("-12 in", "12 in")


@dataclass(frozen=True, kw_only=True)
class Toe(Answer):
    """Toe of one wheel and of both, each as an angle and as a reading at the diameter."""

    wheel_angle: Annotated[float, Angle("-10 deg", "10 deg")]
    total_angle: Annotated[float, Angle("-20 deg", "20 deg")]
    wheel_reading: Annotated[float, Length("-20 in", "20 in")]
    total_reading: Annotated[float, Length("-40 in", "40 in")]


def toe(
    toe: str,
    diameter: Annotated[float, Length("1 in", "72 in")],
    of: Literal["total", "wheel"] = "total",
) -> Toe:
    """Toe turned from degrees into tape readings at a diameter, or back.

    Args:
        toe: An angle ("0.2 deg") or a tape reading ("1/8 in"): distance between the wheels behind
            less the distance in front; toe-in is positive.
        diameter: Where it is read: over the tyres, or over the toe bars at the wheel mount
            surfaces [mm].
        of: Total of both wheels, or of one wheel against the centreline.

    Returns:
        Toe of one wheel and of both: angles [deg] and readings [mm].

    Formula: reading of one wheel = diameter x sin(toe of the wheel); total = 2 x wheel.
    Holds: for equal toe left and right, read at axle height, half the diameter before and behind
        the axle; a tape at another height reads less.
    Source: iso-8855, toe angle; geometry, sine of an angle.
    Example: --toe "1/8 in" --diameter "37 in" --of total

    Raises:
        InputFault: When the toe is neither an angle nor a length, or does not fit the diameter.
    """
    share = 2.0 if of == "total" else 1.0
    angle, reading = _read(toe)
    if angle is not None:
        wheel = angle / share
    else:
        sine = reading / share / diameter
        most = math.sin(math.radians(float(parse(_ANGLE.high, _ANGLE))))
        if abs(sine) > most:
            allowed = f"a reading that comes to {_ANGLE.high} a wheel at most at this diameter"
            raise InputFault(Fault("--toe", toe, allowed, "check reading and diameter"))
        wheel = math.degrees(math.asin(sine))
    one = diameter * math.sin(math.radians(wheel))
    return Toe(
        wheel_angle=wheel,
        total_angle=2 * wheel,
        wheel_reading=one,
        total_reading=2 * one,
        formula="reading of one wheel = diameter x sin(toe of the wheel); total = 2 x wheel",
        source="; ".join((cite("iso-8855", "toe angle"), cite("geometry", "sine of an angle"))),
        trust=Trust.DERIVED,
        warnings=("a total says nothing of how it is shared: read each side against the centreline as well",),
    )


def _read(text: str) -> tuple[float | None, float]:
    """The toe as an angle [deg], or None and the reading [mm].

    Raises:
        InputFault: When it is neither.
    """
    try:
        return float(parse(text, _ANGLE)), 0.0
    except BadQuantity as angle:
        try:
            return None, float(parse(text, _READING))
        except BadQuantity as length:
            # the sentence that fits the unit that was written
            meant = angle if any(mark in text.lower() for mark in ("deg", "min", "sec", "°")) else length
            allowed = f'an angle ({_ANGLE.allowed()}) or a reading ({_READING.allowed()}), like "1/8 in"'
            raise InputFault(Fault("--toe", meant.given, allowed, meant.remedy)) from None
