"""Steering-axis offset at ground."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import Angle, Length


@dataclass(frozen=True, kw_only=True)
class Scrub(Answer):
    """How far inboard of the contact point the steering axis meets the ground."""

    scrub: Annotated[float, Length("-60 in", "60 in")]


def scrub(
    radius: Annotated[float, Length("4 in", "60 in")],
    inclination: Annotated[float, Angle("0 deg", "20 deg")],
    offset: Annotated[float, Length("-6 in", "24 in")],
) -> Scrub:
    """Distance on the ground from the contact point inboard to the steering axis.

    Args:
        radius: Loaded radius of the tyre, hub centre to ground [mm].
        inclination: Steering-axis (kingpin) inclination, top inboard positive [deg].
        offset: Of the steering axis inboard of the tyre's middle plane, level, at hub height [mm].

    Returns:
        Scrub radius, positive when the steering axis meets the ground inboard of the contact
        point [mm].

    Formula: scrub = offset - radius x tan(inclination).
    Holds: in the front view, no camber, level ground.
    Source: iso-8855, steering-axis offset at ground; geometry, right triangle.
    Example: --radius "18.5 in" --inclination "9 deg" --offset "5 in"
    """
    return Scrub(
        scrub=offset - radius * math.tan(math.radians(inclination)),
        formula="scrub = offset - radius x tan(inclination)",
        source=f"{cite('iso-8855', 'steering-axis offset at ground')}; {cite('geometry', 'right triangle')}",
        trust=Trust.DERIVED,
        warnings=("a wheel set further out adds to the offset, and to the scrub, by the same amount",),
    )
