"""Section properties of a round tube."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer
from fixturegen.errors import Fault, InputFault
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import (
    Area,
    Length,
    MassPerLength,
    SecondMoment,
    SectionModulus,
    as_text,
)

STEEL = 7850.0
"""kg/m^3; the density in the pipe weight formula 10.69 (D - t) t lb/ft of ASME B36.10."""


@dataclass(frozen=True, kw_only=True)
class Tube(Answer):
    """Area, stiffness and weight of a steel tube."""

    area: Annotated[float, Area("0 in^2", "500 in^2")]
    second_moment: Annotated[float, SecondMoment("0 in^4", "20000 in^4")]
    section_modulus: Annotated[float, SectionModulus("0 in^3", "2000 in^3")]
    torsion_constant: Annotated[float, SecondMoment("0 in^4", "40000 in^4")]
    mass_per_length: Annotated[float, MassPerLength("0 lb/ft", "2000 lb/ft")]


def tube(
    diameter: Annotated[float, Length("1/8 in", "24 in")],
    wall: Annotated[float, Length("0.005 in", "12 in")],
) -> Tube:
    """Area, second moment, section modulus, torsion constant and weight of a steel tube.

    The full wall is used, as for drawn-over-mandrel tube.

    Args:
        diameter: Outside diameter, measured [mm].
        wall: Wall thickness, measured [mm].

    Returns:
        Area [mm^2], second moment [mm^4], section modulus [mm^3], torsion constant [mm^4], mass
        per length [kg/m].

    Formula: area = pi (D^2 - d^2) / 4, second_moment = pi (D^4 - d^4) / 64,
        section_modulus = second_moment / (D / 2), torsion_constant = 2 second_moment,
        mass_per_length = area x 7850 kg/m^3, with d = D - 2 wall.
    Holds: for a round, concentric tube of steel; a wall of half the diameter is a solid bar.
    Source: geometry, ring section; asme-b36.10, weight of pipe.
    Example: --diameter "3 1/2 in" --wall "1/4 in"

    Raises:
        InputFault: When the wall is more than half the diameter.
    """
    if wall > diameter / 2:
        unit = "in"
        raise InputFault(
            Fault(
                "--wall",
                as_text(wall, "length", unit),
                f"up to half the diameter, {as_text(diameter / 2, 'length', unit)}",
                "check which of the two is the wall",
            )
        )
    bore = diameter - 2 * wall
    area = math.pi / 4 * (diameter**2 - bore**2)
    second = math.pi / 64 * (diameter**4 - bore**4)
    return Tube(
        area=area,
        second_moment=second,
        section_modulus=second / (diameter / 2),
        torsion_constant=2 * second,
        mass_per_length=area * STEEL * 1e-6,
        formula=(
            "area = pi (D^2 - d^2) / 4; second_moment = pi (D^4 - d^4) / 64; section_modulus = "
            "second_moment / (D / 2); torsion_constant = 2 second_moment; mass_per_length = area "
            "x 7850 kg/m^3; d = D - 2 wall"
        ),
        source=f"{cite('geometry', 'ring section')}; {cite('asme-b36.10', 'weight of pipe')}",
        trust=Trust.DERIVED,
        warnings=(
            "full wall used: tables of structural tube (HSS) use 0.93 of the nominal wall and "
            "come out about 5 to 7 percent lower",
        ),
    )
