"""A plate whose sizes are known by closed form."""

import dataclasses
import math
from typing import Any

from fixturegen.plate import Hole, Mark, Part, Profile, Purpose, Vertex
from fixturegen.plate.profile import Operation, rectangle, reversed_loop

QUARTER = math.tan(math.pi / 8.0)  # bulge of a quarter turn: tan(90 deg / 4)


def plate_part(name: str = "plate-a", **changes: Any) -> Part:
    """200 x 100 mm, 3/8 in; corner at (200, 100) rounded 20 mm; one 40 x 9.6 mm slot."""
    outer = (
        Vertex(0.0, 0.0),
        Vertex(200.0, 0.0),
        Vertex(200.0, 80.0, QUARTER),
        Vertex(180.0, 100.0),
        Vertex(0.0, 100.0),
    )
    holes = (
        Hole(100.0, 50.0, 20.0, Purpose.BORE, "bar bore", Operation.UNDERCUT, 17.0),
        Hole(150.0, 50.0, 12.0, Purpose.ANGLE, "index 1", Operation.PILOT, None),
        Hole(170.0, 20.0, 13.5, Purpose.BOLT, "bolt", Operation.CUT, 13.5),
    )
    inner = (reversed_loop(rectangle(20.0, 20.0, 60.0, 29.6)),)
    marks = (Mark(10.0, 80.0, "L UP 7.5°"), Mark(100.0, 0.0, to=(100.0, 6.0)))
    part = Part(name, "Plate A", "toy", "plate", 9.4, profile=Profile(outer, inner, holes), marks=marks)
    return dataclasses.replace(part, **changes)


OUTSIDE_AREA = 200.0 * 100.0 - (20.0**2 - math.pi * 20.0**2 / 4.0)
SLOT_AREA = 40.0 * 9.6
