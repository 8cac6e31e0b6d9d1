"""True angle of a joint."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import Angle


@dataclass(frozen=True, kw_only=True)
class JointAngle(Answer):
    """The angle the joint works at."""

    angle: Annotated[float, Angle("0 deg", "180 deg")]


def joint_angle(
    plan: Annotated[float, Angle("-60 deg", "60 deg")],
    side: Annotated[float, Angle("-60 deg", "60 deg")],
    plan_2: Annotated[float, Angle("-60 deg", "60 deg")] = 0.0,
    side_2: Annotated[float, Angle("-60 deg", "60 deg")] = 0.0,
) -> JointAngle:
    """True angle between two shafts, from their angles in plan and side view.

    Args:
        plan: Of one shaft, seen from above, off the line fore and aft, to the left positive [deg].
        side: Of the same shaft, seen from the side, off level, climbing forward positive [deg].
        plan_2: Of the other shaft, seen from above [deg].
        side_2: Of the other shaft, seen from the side [deg].

    Returns:
        True angle between the two shafts [deg].

    Formula: angle between the vectors (1, tan plan, tan side) of the two shafts; with the other
        shaft level and straight, tan(angle)^2 = tan(plan)^2 + tan(side)^2.
    Holds: for angles as they appear in the two views; a level laid on a shaft that runs askew in
        plan reads less than the side view shows.
    Source: geometry, angle between two vectors.
    Example: --plan "3 deg" --side "4 deg" --plan-2 "0 deg" --side-2 "0 deg"
    """
    one, two = _direction(plan, side), _direction(plan_2, side_2)
    along = sum(a * b for a, b in zip(one, two, strict=True))
    across = math.hypot(
        one[1] * two[2] - one[2] * two[1], one[2] * two[0] - one[0] * two[2], one[0] * two[1] - one[1] * two[0]
    )
    return JointAngle(
        angle=math.degrees(math.atan2(across, along)),
        formula="angle between (1, tan plan, tan side) and (1, tan plan-2, tan side-2)",
        source=cite("geometry", "angle between two vectors"),
        trust=Trust.DERIVED,
        warnings=("plan and side angles do not simply add: 3 deg and 4 deg come to 5 deg, not to 7",),
    )


def _direction(plan: float, side: float) -> tuple[float, float, float]:
    """A vector along the shaft."""
    return (1.0, math.tan(math.radians(plan)), math.tan(math.radians(side)))
