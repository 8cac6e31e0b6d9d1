"""Bending of the bare tubes at a bracket under the load cases: everything outboard of its station, about that station.

Weight of axle and wheels is left where the cases put it, at the middle, so it relieves nothing. A truss is
not counted: the wall under a bracket is then never told stronger than it is. Source: statics, a beam cut at a
station; stress = moment / section modulus.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.model import sign_of
from fixturegen.calc._columns import tube_second_moment
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.axle_loads import AxleLoads, CaseLoads
from fixturegen.studies.bracket_forces import apart

BESIDE = 0.01
"""Either side of a station where a force comes in [mm]."""


@dataclass(frozen=True)
class Bending:
    """Bending of a tube at one station in one case.

    Attributes:
        case: Name of the case.
        station: Left of the middle [mm].
        moment: About both axes square to the tube [N*mm].
        stress: [MPa].
    """

    case: str
    station: float
    moment: float
    stress: float


def section_modulus(sheet: Sheet) -> float:
    """Of the axle's tubes [mm^3]."""
    diameter, wall = float(sheet.tubes.outside_diameter), float(sheet.tubes.wall)
    return float(tube_second_moment(diameter, wall)) / (diameter / 2.0)


def moment_at(loads: AxleLoads, one: CaseLoads, station: float) -> float:
    """Bending moment of the axle at a station, in the axle's own frame [N*mm].

    Args:
        loads: For links and springs.
        one: The case.
        station: Left of the middle [mm]; what is farther out on its side is counted.

    Source: statics, sum of (place - station) x force over all that is outboard.
    """
    points, forces, couples = pushes_on(loads, one)
    way = sign_of("left") if station >= 0.0 else sign_of("right")
    out = way * points[:, 1] > way * station
    cut = np.array([0.0, station, 0.0])
    total = np.cross(points[out] - cut, forces[out]).sum(axis=0)
    total += couples["left" if way > 0.0 else "right"]
    return float(np.hypot(total[0], total[2]))


def pushes_on(loads: AxleLoads, one: CaseLoads) -> tuple[Array, Array, dict[str, Array]]:
    """Places and forces on the axle in A, shapes (n, 3), and couples of either end [N*mm]."""
    turn, origin = np.array(one.turn), np.array(one.origin)
    points, forces = [], []
    for push in one.case.pushes:
        if push.what == "unsprung":
            continue
        points.append(np.array(push.at) + turn.T @ np.array(push.below))
        forces.append(turn.T @ np.array(push.force))
    for line in one.lines:
        points.append(np.array(line.at))
        forces.append(turn.T @ (line.force * np.array(line.toward)))
    for spring in loads.springs:
        count = sum(s.side == spring.side for s in loads.springs)
        points.append(np.array(spring.axle))
        forces.append(turn.T @ (one.springs[spring.side] / count * apart(spring, turn, origin)))
    couples = {"left": np.zeros(3), "right": np.zeros(3)}
    for couple in one.case.couples:
        for side in couples:
            if couple.what.endswith(side):
                moment = np.array(couple.moment)
                couples[side] += moment if couple.frame == "A" else turn.T @ moment
    return np.array(points), np.array(forces), couples


def bending_at(sheet: Sheet, loads: AxleLoads, one: CaseLoads, station: float) -> Bending:
    """Bending of the tube at a station, the larger of both sides of it."""
    moment = max(moment_at(loads, one, station + beside) for beside in (-BESIDE, BESIDE))
    return Bending(one.case.name, station, moment, moment / section_modulus(sheet))
