"""Engine speed from road speed."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import Length, Plain, Speed, TurningSpeed


@dataclass(frozen=True, kw_only=True)
class EngineSpeed(Answer):
    """Turns of the engine in a minute."""

    engine_speed: Annotated[float, TurningSpeed("0 rpm", "100000 rpm")]


def engine_speed(
    road_speed: Annotated[float, Speed("1 mph", "200 mph")],
    ratio: Annotated[float, Plain("0.3", "400")],
    tyre_diameter: Annotated[float, Length("10 in", "120 in")],
) -> EngineSpeed:
    """Engine speed at a road speed.

    Args:
        road_speed: Of the vehicle [mm/s].
        ratio: Engine turns for one turn of the wheel: axle x transfer case x gear.
        tyre_diameter: Rolling diameter, twice the loaded radius [mm].

    Returns:
        Engine speed [rpm].

    Formula: engine_speed = road_speed x ratio / (pi x tyre_diameter), that is rpm = mph x ratio x
        336.135 / diameter in inches.
    Holds: without slip of tyre, clutch or converter.
    Source: geometry, rolling circle.
    Example: --road-speed "60 mph" --ratio 4.10 --tyre-diameter "37 in"
    """
    return EngineSpeed(
        engine_speed=road_speed * ratio * 60 / (math.pi * tyre_diameter),
        formula="engine_speed = road_speed x ratio / (pi x tyre_diameter); rpm = mph x ratio x 336.135 / inches",
        source=cite("geometry", "rolling circle"),
        trust=Trust.DERIVED,
        warnings=("the ratio is that of the whole line: axle x transfer case x gear",),
    )
