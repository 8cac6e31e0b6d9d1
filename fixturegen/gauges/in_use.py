"""Where a sine gauge stands on the left knuckle, frame T: its plate, and the rods and rollers in it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fixturegen.gauges.sine import ROLLER, SIGHT
from fixturegen.plate import Part, Placement
from fixturegen.plate.part import Matrix, Vector
from fixturegen.studies.jig_records import JigPlan


@dataclass(frozen=True)
class Rod:
    """A ground rod along Y.

    Attributes:
        label: Of its hole.
        start: Its right end (3,) [mm].
        end: Its left end (3,) [mm].
    """

    label: str
    start: Vector
    end: Vector


def turned(caster: float) -> Matrix:
    """Rotation of a plate across the axle whose y lies along the steering axis as seen from the side.

    Args:
        caster: Of that axis in T [deg].
    """
    c, s = math.cos(math.radians(caster)), math.sin(math.radians(caster))
    return ((-c, -s, 0.0), (0.0, 0.0, 1.0), (-s, c, 0.0))


def on_knuckle(part: Part, plan: JigPlan, station: float) -> tuple[Placement, tuple[Rod, ...]] | None:
    """Plate and rods of the sine gauge against the gauge heads of the left stub pins; None on a rear axle.

    Args:
        part: The plate.
        plan: The jig's plan; it knows where the heads stand.
        station: Of the steering axis at axle height, left [mm].
    """
    if plan.clock is None or part.profile is None:
        return None
    upper, lower = plan.clock.fingers
    turn = turned(math.degrees(math.atan2(lower.middle[0] - upper.middle[0], upper.middle[1] - lower.middle[1])))
    x, z = ((a + b) / 2.0 for a, b in zip(upper.middle, lower.middle, strict=True))
    origin = (x, station - part.thickness / 2.0, z + plan.height)
    rods = []
    for h in part.profile.holes:
        # the yoke's holes stay empty: the long rods stand at the heads
        if h.label == "cord" or "yoke" in h.label:
            continue
        long = SIGHT if h.label.endswith("rod") else part.thickness + ROLLER
        ax, az = (turn[i][0] * h.x + turn[i][1] * h.y + origin[i] for i in (0, 2))
        rods.append(Rod(h.label, (ax, station - long / 2.0, az), (ax, station + long / 2.0, az)))
    return Placement(part.name, origin, turn), tuple(rods)
