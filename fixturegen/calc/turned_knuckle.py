"""What else changes when a knuckle is turned about the axle line."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import Angle


@dataclass(frozen=True, kw_only=True)
class TurnedKnuckle(Answer):
    """Inclination and camber after turning, and the toe-in gained by each wheel."""

    inclination: Annotated[float, Angle("-30 deg", "30 deg")]
    camber: Annotated[float, Angle("-10 deg", "10 deg")]
    toe_gain: Annotated[float, Angle("-10 deg", "10 deg")]


def turned_knuckle(
    caster_before: Annotated[float, Angle("-30 deg", "30 deg")],
    caster_after: Annotated[float, Angle("-30 deg", "30 deg")],
    inclination: Annotated[float, Angle("0 deg", "20 deg")],
    camber: Annotated[float, Angle("-5 deg", "5 deg")] = 0.0,
) -> TurnedKnuckle:
    """Inclination, camber and toe after a knuckle is turned to another caster.

    The steering axis and the spindle are turned about the axle line as one body, by
    d = caster_after - caster_before. Seen from the left wheel (x forward, y outboard, z up) the
    steering axis is along (-tan caster, -tan inclination, 1); turning keeps its y and its length
    in the side view, so tan(inclination) x cos(caster) stays. The spindle with camber g and no toe
    is (0, cos g, -sin g); turned, it is (sin g sin d, cos g, -sin g cos d), from which camber and
    toe are read again with the steering not moved. The tie rod takes the toe out again.

    Args:
        caster_before: Caster before turning [deg].
        caster_after: Caster after turning, in the same frame [deg].
        inclination: Steering-axis (kingpin) inclination before, top inboard positive [deg].
        camber: Camber before, top outboard positive, toe set to zero [deg].

    Returns:
        Inclination and camber after, and toe-in gained by each wheel [deg].

    Formula: inclination = atan(tan i0 cos c0 / cos c1), camber = asin(sin g cos d),
        toe_gain = atan(tan g sin d).
    Holds: for a turn about the axle line with the steer angle unchanged.
    Source: iso-8855, steering-axis and wheel angles; geometry, rotation of unit vectors.
    Example: --caster-before 0deg --caster-after 8deg --inclination 9deg --camber 0.5deg
    """
    c0, c1, i0, g = (math.radians(x) for x in (caster_before, caster_after, inclination, camber))
    d = c1 - c0
    return TurnedKnuckle(
        inclination=math.degrees(math.atan(math.tan(i0) * math.cos(c0) / math.cos(c1))),
        camber=math.degrees(math.asin(math.sin(g) * math.cos(d))),
        toe_gain=math.degrees(math.atan(math.tan(g) * math.sin(d))),
        formula=(
            "inclination = atan(tan i0 cos c0 / cos c1); camber = asin(sin g cos d); "
            "toe_gain = atan(tan g sin d), each wheel; d = caster_after - caster_before"
        ),
        source=f"{cite('iso-8855')}; {cite('geometry')}",
        trust=Trust.DERIVED,
        warnings=("set toe again with the tie rod after the knuckle is welded and cold",),
    )
