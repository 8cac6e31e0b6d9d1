"""Distance between neighbouring holes of a bolt circle."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import Count, Length


@dataclass(frozen=True, kw_only=True)
class Chord(Answer):
    """Straight distance, centre to centre."""

    chord: Annotated[float, Length("0 in", "200 in")]


def chord(
    diameter: Annotated[float, Length("1/4 in", "200 in")],
    count: Annotated[float, Count("2", "360")],
) -> Chord:
    """Straight distance between neighbouring holes of an evenly spaced bolt circle.

    Args:
        diameter: Of the bolt circle [mm].
        count: How many holes.

    Returns:
        Centre to centre distance of two neighbours [mm].

    Formula: chord = diameter x sin(180 deg / count).
    Holds: for evenly spaced holes only; an uneven pattern is measured point by point.
    Source: geometry, chord of a circle.
    Example: --diameter "8 in" --count 5
    """
    return Chord(
        chord=diameter * math.sin(math.pi / count),
        formula="chord = diameter x sin(180 deg / count)",
        source=cite("geometry", "chord of a circle"),
        trust=Trust.DERIVED,
        warnings=("for evenly spaced holes only: housing and cover patterns often are not",),
    )
