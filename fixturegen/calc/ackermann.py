"""Steer angle of the outer wheel."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import Angle, Length


@dataclass(frozen=True, kw_only=True)
class Ackermann(Answer):
    """Angle at which the outer wheel rolls without scrubbing."""

    outer: Annotated[float, Angle("0 deg", "90 deg")]


def ackermann(
    pivot_distance: Annotated[float, Length("10 in", "120 in")],
    wheelbase: Annotated[float, Length("20 in", "400 in")],
    inner: Annotated[float, Angle("0 deg", "70 deg")],
) -> Ackermann:
    """Steer angle of the outer wheel that lets both front wheels roll about one point.

    Args:
        pivot_distance: Between the steering axes, where they meet the ground [mm].
        wheelbase: Between the axle lines [mm].
        inner: Steer angle of the wheel on the inside of the turn [deg].

    Returns:
        Steer angle of the outer wheel [deg].

    Formula: cot(outer) - cot(inner) = pivot_distance / wheelbase.
    Holds: for a rear axle that does not steer, at a crawl, tyres without slip.
    Source: geometry, wheels that roll about one point.
    Example: --pivot-distance "56 in" --wheelbase "110 in" --inner "35 deg"
    """
    tangent = math.tan(math.radians(inner))
    return Ackermann(
        outer=math.degrees(math.atan(tangent / (1 + pivot_distance / wheelbase * tangent))),
        formula="cot(outer) - cot(inner) = pivot_distance / wheelbase",
        source=cite("geometry", "wheels that roll about one point"),
        trust=Trust.DERIVED,
        warnings=("a tie rod comes close to this at some angles only: measure both wheels at lock",),
    )
