"""Slope of the frame."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import Angle, Length


@dataclass(frozen=True, kw_only=True)
class Rake(Answer):
    """Angle of the frame off level."""

    rake: Annotated[float, Angle("-30 deg", "30 deg")]


def rake(
    front: Annotated[float, Length("1 in", "100 in")],
    rear: Annotated[float, Length("1 in", "100 in")],
    distance: Annotated[float, Length("10 in", "400 in")],
) -> Rake:
    """Slope of the frame, from the height of two points of it above a level floor.

    Args:
        front: Height of the front point of the frame above the floor [mm].
        rear: Height of the rear point, on the same straight edge of the frame [mm].
        distance: Between the two points plumbed to the floor, taken along the floor [mm].

    Returns:
        Rake, nose up positive [deg].

    Formula: tan(rake) = (front - rear) / distance.
    Holds: for a level floor and two points that stand on one line when the frame is level.
    Source: geometry, right triangle.
    Example: --front "24 in" --rear "25 1/2 in" --distance "100 in"
    """
    return Rake(
        rake=math.degrees(math.atan((front - rear) / distance)),
        formula="tan(rake) = (front - rear) / distance",
        source=cite("geometry", "right triangle"),
        trust=Trust.DERIVED,
        warnings=(
            "nose up by an angle adds it to the caster of an axle that turns with the frame, nose "
            "down takes it off; what was measured off a level frame turns with it",
        ),
    )
