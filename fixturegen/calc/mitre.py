"""Mitre of two tubes of one size."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import Angle, Length


@dataclass(frozen=True, kw_only=True)
class Mitre(Answer):
    """How far the cut runs along the tube, and the saw's setting."""

    height: Annotated[float, Length("0 in", "200 in")]
    saw_angle: Annotated[float, Angle("0 deg", "90 deg")]


def mitre(
    diameter: Annotated[float, Length("1/4 in", "24 in")],
    angle: Annotated[float, Angle("15 deg", "180 deg")],
) -> Mitre:
    """Mitre of two tubes of one size that meet in a corner.

    Args:
        diameter: Outside diameter of both tubes, measured [mm].
        angle: Between the two tubes, inside the corner: 90 for a square corner, 180 for straight on [deg].

    Returns:
        How far the cut runs along the tube from its long to its short side [mm], and the saw's setting,
        0 for a square cut [deg].

    Formula: saw_angle = 90 - angle / 2, height = diameter x tan(saw_angle).
    Holds: for two straight tubes of one diameter, cut in the plane that halves the corner.
    Source: geometry, plane section of a cylinder.
    Example: --diameter "1 3/4 in" --angle "90 deg"
    """
    saw = 90.0 - angle / 2.0
    return Mitre(
        height=diameter * math.tan(math.radians(saw)),
        saw_angle=saw,
        formula="saw_angle = 90 - angle / 2; height = diameter x tan(saw_angle)",
        source=cite("geometry", "plane section of a cylinder"),
        trust=Trust.DERIVED,
        warnings=("both ends are cut alike; no root gap is in it",),
    )
