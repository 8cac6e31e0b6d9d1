"""How high a roller sits in a V."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import Angle, Length


@dataclass(frozen=True, kw_only=True)
class VeeRoller(Answer):
    """Height of the roller's centre above the root of the V."""

    height: Annotated[float, Length("0 in", "200 in")]


def vee_roller(
    angle: Annotated[float, Angle("20 deg", "170 deg")],
    diameter: Annotated[float, Length("1/16 in", "24 in")],
) -> VeeRoller:
    """Height of a roller's or tube's centre above the sharp root of a V.

    Args:
        angle: Included angle of the V [deg].
        diameter: Of the roller or tube, measured [mm].

    Returns:
        Height of the centre above the root, the point where the flanks would meet [mm].

    Formula: height = diameter / (2 sin(angle / 2)).
    Holds: while the roller touches both flanks; a flat or a relief at the root changes nothing.
    Source: geometry, circle tangent to two lines.
    Example: --angle "90 deg" --diameter "3 1/2 in"
    """
    return VeeRoller(
        height=diameter / (2 * math.sin(math.radians(angle) / 2)),
        formula="height = diameter / (2 sin(angle / 2)), root to centre",
        source=cite("geometry", "circle tangent to two lines"),
        trust=Trust.DERIVED,
        warnings=("check that the flanks are long enough to be touched",),
    )
