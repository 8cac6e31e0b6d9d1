"""Bending of an axle tube between its springs."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer
from fixturegen.calc._columns import (
    STEEL_MODULUS,
    overhang_deflection,
    overhang_moment,
    overhang_slope_rad,
    tube_second_moment,
)
from fixturegen.calc._numbers import NOT_COVERED
from fixturegen.errors import Fault, InputFault
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import Angle, Force, Length, Stress, Torque, as_text


@dataclass(frozen=True, kw_only=True)
class TubeBending(Answer):
    """Moment and stress between the springs, slope and deflection at the wheels."""

    moment: Annotated[float, Torque("0 ft-lb", "10000000 ft-lb")]
    stress: Annotated[float, Stress("0 ksi", "10000 ksi")]
    slope: Annotated[float, Angle("0 deg", "10 deg")]
    deflection: Annotated[float, Length("0 in", "20 in")]


def tube_bending(
    diameter: Annotated[float, Length("1 in", "12 in")],
    wall: Annotated[float, Length("0.05 in", "6 in")],
    load: Annotated[float, Force("1 lbf", "100000 lbf")],
    overhang: Annotated[float, Length("1/4 in", "60 in")],
    spacing: Annotated[float, Length("1 in", "120 in")],
    modulus: Annotated[float, Stress("1000 ksi", "40000 ksi")] = STEEL_MODULUS,
) -> TubeBending:
    """Moment, stress, slope and deflection of an axle tube with an equal load beyond each spring.

    Args:
        diameter: Outside diameter of the tube [mm].
        wall: Thickness of the wall [mm].
        load: On each wheel [N].
        overhang: From spring pad to the line of the wheel load [mm].
        spacing: Between the spring pads [mm].
        modulus: Of elasticity; 29 000 ksi for steel [MPa].

    Returns:
        Moment between the pads [N*mm], stress at its outer fibre [MPa], slope at each end, which is
        camber a side [deg], and movement of each end against the pads [mm].

    Formula: moment = W a, stress = moment (D / 2) / I, slope = W a (L + a) / (2 E I),
        deflection = W a^2 (2 a + 3 L) / (6 E I).
    Holds: for one tube all the way and small slopes; the centre section is stiffer.
    Source: machinerys-27, p. 264, beam with two overhangs and equal end loads.
    Example: --diameter "3 1/2 in" --wall "1/4 in" --load "3000 lbf" --overhang "12 in"
        --spacing "36 in" --modulus "30000 ksi"

    Raises:
        InputFault: When the wall is more than half the diameter.
    """
    if wall > diameter / 2:
        allowed = f"up to half the diameter, {as_text(diameter / 2, 'length', 'in')}"
        remedy = "check which of the two is the wall"
        raise InputFault(Fault("--wall", as_text(wall, "length", "in"), allowed, remedy))
    second = tube_second_moment(diameter, wall)
    moment = float(overhang_moment(load, overhang))
    stiffness = modulus * second
    return TubeBending(
        moment=moment,
        stress=moment * diameter / 2 / float(second),
        slope=math.degrees(float(overhang_slope_rad(load, overhang, spacing, stiffness))),
        deflection=float(overhang_deflection(load, overhang, spacing, stiffness)),
        formula=(
            "moment = W a; stress = moment (D / 2) / I; slope = W a (L + a) / (2 E I); "
            "deflection = W a^2 (2 a + 3 L) / (6 E I); W load, a overhang, L spacing, I = pi (D^4 - d^4) / 64"
        ),
        source=cite("machinerys-27", "p. 264, beam with two overhangs and equal end loads"),
        trust=Trust.SECONDARY_COPY,
        warnings=(
            "W is the static load: on the road 2.5 to 3 times, off it 4 times is what a text book asks of a live "
            "axle (Pawlowski and Erz, quoted in Happian-Smith)",
            "one tube with its full wall all the way; brackets, plugs and necks are not in it",
            NOT_COVERED,
        ),
    )
