"""Invented axles and single load cases for the tests of the loads, in pounds and inches."""

import numpy as np

from fixturegen.axle.linkage_kinds import linkage_of
from fixturegen.studies.load_records import LoadCase, Push
from fixturegen.studies.load_springs import SpringLine
from tests.axle.invented_linkages import INCH, front_stance, inches, rear_stance, rod

LBF = 4.4482216152605
"""N per lbf, exact by definition."""


def straight_up(half=16.0, ahead=0.0, up=0.0):
    """One spring a side that pushes straight up from the axle at ride, `half` [in] off the middle."""
    return tuple(
        SpringLine(side, "coil", (ahead * INCH, way * half * INCH, up * INCH), None)
        for side, way in (("left", 1), ("right", -1))
    )


def leaning(stance, seat=(0.0, 16.0, 2.0), top=(1.0, 14.0, 18.0)):
    """One leaning spring a side: seat on the axle in A, top above the axle centre in V [in]."""
    made = []
    for side, way in (("left", 1), ("right", -1)):
        end = tuple(INCH * c * (way if i == 1 else 1) for i, c in enumerate(seat))
        head = stance.origin + INCH * np.array([top[0], way * top[1], top[2]])
        made.append(SpringLine(side, "coil", end, tuple(float(c) for c in head)))
    return tuple(made)


def plane_axle(separation, radius=20.0, lower_up=0.0, front=False):
    """Level links in side view: two lower ones at axle height, one upper in the middle, a level track bar."""
    stance = rear_stance(radius=radius, pinion=0.0) if not front else front_stance(radius=radius, pinion=0.0)
    ahead = 0.0 if front else -110.0
    low = radius + lower_up
    links = (
        rod("lower-left", (0, 18, low), (36, 18, low), ahead),
        rod("lower-right", (0, -18, low), (36, -18, low), ahead),
        rod("upper", (0, 0, low + separation), (30, 0, low + separation), ahead),
        rod("track-bar", (0, -16, radius), (0, 16, radius), ahead),
    )
    return linkage_of("three-link", stance, links)


def at_patches(stance, left, right, name="tried"):
    """A case with one force at each contact patch [lbf]."""
    pushes = []
    for side, way, force in (("left", 1, left), ("right", -1, right)):
        at = (0.0, way * stance.half_track, 0.0)
        push = tuple(LBF * f for f in force)
        pushes.append(Push(f"tyre-{side}", at, push, (0.0, 0.0, -stance.loaded_radius)))
    return LoadCase(name, "forces at both contact patches", tuple(pushes))


__all__ = ["INCH", "LBF", "at_patches", "inches", "leaning", "plane_axle", "straight_up"]
