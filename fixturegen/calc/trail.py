"""Castor offset at ground."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import Angle, Length


@dataclass(frozen=True, kw_only=True)
class Trail(Answer):
    """How far ahead of the contact point the steering axis meets the ground."""

    trail: Annotated[float, Length("-60 in", "60 in")]


def trail(
    radius: Annotated[float, Length("4 in", "60 in")],
    caster: Annotated[float, Angle("-15 deg", "30 deg")],
    offset: Annotated[float, Length("-6 in", "6 in")] = 0.0,
) -> Trail:
    """Distance on the ground from the contact point forward to the steering axis.

    Args:
        radius: Loaded radius of the tyre, hub centre to ground [mm].
        caster: Top of the steering axis to the rear positive [deg].
        offset: Of the wheel centre ahead of the steering axis, level, at hub height [mm].

    Returns:
        Trail, positive when the steering axis meets the ground ahead of the contact point [mm].

    Formula: trail = radius x tan(caster) - offset.
    Holds: in the side view, wheels straight ahead, level ground.
    Source: iso-8855, castor offset at ground; geometry, right triangle.
    Example: --radius "18.5 in" --caster "7 deg" --offset "0 in"
    """
    return Trail(
        trail=radius * math.tan(math.radians(caster)) - offset,
        formula="trail = radius x tan(caster) - offset",
        source=f"{cite('iso-8855', 'castor offset at ground')}; {cite('geometry', 'right triangle')}",
        trust=Trust.DERIVED,
        warnings=("take the radius loaded, at the pressure the vehicle is driven with",),
    )
