"""A rear axle whose side view is a plane construction with a known answer, for tests of the search.

Lower links from (0, 15) to (40, 20) in, upper link from (0, 25) to (30, z) in, ahead of the axle and above the ground;
wheelbase 120 in, centre of gravity 30 in up. With slope b = (z - 25) / 30 of the upper link the lines meet at
x = 10 / (1/8 - b), e = 25 + b x, and anti-squat is 100 (e / x) (120 / 30), which is 125 + 400 (-1.5) b:
Gillespie, Fundamentals of Vehicle Dynamics, chapter 7 (definition from memory), solved by hand.
"""

from fixturegen.axle.linkage import Linkage
from fixturegen.studies.link_batch import Stroke
from fixturegen.studies.link_metrics import Vehicle
from tests.axle import invented_linkages as made
from tests.axle.invented_linkages import INCH

WHEELBASE = 120.0
VEHICLE = Vehicle(30 * INCH, 1.0, 1.0)
STROKE = Stroke(90.0, 110.0)


def linkage(upper_z=27.0, lower_z=20.0) -> Linkage:
    """The case with the frame ends of its links at these heights [in]."""

    def rod(name, axle, frame):
        return made.rod(name, axle, frame, -WHEELBASE)

    links = (
        *made.both("lower", (0, 20, 15), (40, 20, lower_z), make=rod),
        rod("upper", (0, 0, 25), (30, 0, upper_z)),
        rod("track-bar", (0, -20, 16), (0, 20, 16)),
    )
    return Linkage("three-link", made.rear_stance(wheelbase=WHEELBASE), links)


def upper_height(anti_squat: float) -> float:
    """Height of the upper link's frame end that gives this anti-squat [in], by the plane construction."""
    return 25.0 + 30.0 * (125.0 - anti_squat) / 600.0


def spot(point, low, high, x=30.0, y=0.0):
    """Name, least and most corner of a room whose height alone is free [mm], from heights in inches."""
    ahead = (x - WHEELBASE) * INCH
    return point, (ahead, y * INCH, low * INCH), (ahead, y * INCH, high * INCH)
