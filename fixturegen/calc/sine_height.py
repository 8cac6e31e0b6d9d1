"""Height of the stack under a sine bar."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import Angle, Length

STEEP = 45.0
"""deg; above it a small fault of the stack turns into a growing fault of the angle."""


@dataclass(frozen=True, kw_only=True)
class SineHeight(Answer):
    """Height of one roll above the other."""

    height: Annotated[float, Length("0 in", "200 in")]


def sine_height(
    length: Annotated[float, Length("1/2 in", "200 in")],
    angle: Annotated[float, Angle("0 deg", "90 deg")],
) -> SineHeight:
    """Height difference that sets an angle over a known length (sine bar).

    Args:
        length: Between the centres of the rolls or dowels [mm].
        angle: Angle to set, from level [deg].

    Returns:
        Height of one roll or dowel above the other [mm].

    Formula: height = length x sin(angle).
    Holds: for rolls or dowels of the same diameter.
    Source: machinerys-31, Sine bar, p. 695.
    Example: --length "5 in" --angle "12 deg"
    """
    steep = angle > STEEP
    return SineHeight(
        height=length * math.sin(math.radians(angle)),
        formula="height = length x sin(angle)",
        source=cite("machinerys-31"),
        trust=Trust.DERIVED,
        warnings=("above 45 deg a sine bar magnifies errors: measure from square instead",) if steep else (),
    )
