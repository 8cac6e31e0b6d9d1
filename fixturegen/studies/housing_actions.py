"""Forces and moments inside the axle's housing along its length, case by case: pull, shears, bending, torque.

The housing is cut at a station and everything outboard of it is added up. What turns the wheels of a driven
axle goes through the shafts and not through the tubes, so a drive force is taken at the hub where torque is
asked for; a brake's torque goes through the tubes. Weight of axle and wheels stays at the centre section, where
the cases put it, so it relieves nothing. A link or spring that ends within half a bracket's foot of the centre
section hangs on that and not on the little of tube between. Where lines stand for leaf springs, what a line in
the middle takes, wind-up and side force, goes into both seats alike.

Source: statics, a beam cut at a station.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.model import AxleModel
from fixturegen.studies.axle_bending import pushes_on
from fixturegen.studies.axle_loads import AxleLoads, CaseLoads

HALF_FOOT = 25.4
"""Half of what a small bracket covers along the axle [mm] (common practice, no source)."""
SHAFT = "pinion"
"""The couple of a case in which the wheels are turned by their shafts."""


@dataclass(frozen=True, eq=False)
class Actions:
    """What the part of the axle to the left of a station puts on the part to its right, at the axle line, in A.

    Attributes:
        axial: Pull along the axle, shape (n,) [N].
        forward: Shear forward [N].
        upward: Shear upward [N].
        about_x: Bending in the upright plane [N*mm].
        torque: About the axle line [N*mm].
        about_z: Bending in plan [N*mm].
    """

    axial: Array
    forward: Array
    upward: Array
    about_x: Array
    torque: Array
    about_z: Array

    @property
    def bending(self) -> Array:
        """Of both planes together [N*mm]."""
        return np.asarray(np.hypot(self.about_x, self.about_z), dtype=np.float64)

    @property
    def shear(self) -> Array:
        """Of both planes together [N]."""
        return np.asarray(np.hypot(self.forward, self.upward), dtype=np.float64)

    def bent_about(self, x: Array, z: Array) -> tuple[Array, Array]:
        """Bending about x and about z through another middle than the axle line [N*mm].

        Args:
            x: Of that middle [mm].
            z: Of that middle [mm].

        Source: statics, a pull along the axle has an arm about it.
        """
        return self.about_x + z * self.axial, self.about_z - x * self.axial


def actions_on(axle: AxleModel, loads: AxleLoads, one: CaseLoads, stations: Array) -> Actions:
    """Forces and moments inside the housing in one case.

    Args:
        axle: For the middle of its centre section, which parts left from right.
        loads: For links and springs.
        one: The case.
        stations: Left of the middle of the axle, shape (n,) [mm]; none of them where a force comes in.
    """
    points, forces, couples = _brought_in(axle, loads, one)
    at_line = points * np.array([1.0, 0.0, 1.0])
    turned = np.cross(at_line, forces)
    shafts = _through_shafts(one)
    turned[: len(shafts), 1] -= shafts  # the case's own pushes come first
    middle = sum(axle.section) / 2.0
    left = stations >= middle
    # a row for each station: which forces lie outboard of it, and their side's sign
    out = np.where(left[:, None], points[:, 1] > stations[:, None], points[:, 1] < stations[:, None])
    sign = np.where(left, 1.0, -1.0)[:, None]
    force = sign * (out @ forces)
    along = np.where(out, points[:, 1] - stations[:, None], 0.0)
    moment = out @ turned
    moment[:, 0] += along @ forces[:, 2]
    moment[:, 2] -= along @ forces[:, 0]
    ends = np.where(left[:, None], couples["left"], couples["right"])
    moment = sign * (moment + ends)
    return Actions(force[:, 1], force[:, 0], force[:, 2], moment[:, 0], moment[:, 1], moment[:, 2])


def _brought_in(axle: AxleModel, loads: AxleLoads, one: CaseLoads) -> tuple[Array, Array, dict[str, Array]]:
    """Places and forces, those beside the centre section brought to its side."""
    points, forces, couples = _at_seats(loads, one)
    right, left = axle.section
    points[:, 1] = np.where((points[:, 1] < right) & (points[:, 1] >= right - HALF_FOOT), right, points[:, 1])
    points[:, 1] = np.where((points[:, 1] > left) & (points[:, 1] <= left + HALF_FOOT), left, points[:, 1])
    return points, forces, couples


def _at_seats(loads: AxleLoads, one: CaseLoads) -> tuple[Array, Array, dict[str, Array]]:
    """As `pushes_on`; of leaf springs the lines in the middle as halves at the stations of both seats."""
    points, forces, couples = pushes_on(loads, one)
    if not loads.linkage.approximate:
        return points, forces, couples
    first = len(points) - len(loads.springs) - len(one.lines)
    lines = np.arange(first, first + len(one.lines))
    seats = {spring.side: spring.axle[1] for spring in loads.springs}
    inside = [i for i in lines if seats["right"] < points[i, 1] < seats["left"]]
    halves = []
    for station in seats.values():
        moved = points[inside]
        moved[:, 1] = station
        halves.append(moved)
    forces[inside] /= 2.0
    points[inside] = halves[0]
    return np.vstack([points, halves[1]]), np.vstack([forces, forces[inside]]), couples


def _through_shafts(one: CaseLoads) -> Array:
    """Torque about the axle line of each push that a shaft carries and no tube, shape (forces,) [N*mm]."""
    driven = any(c.what == SHAFT for c in one.case.couples)
    turn = np.array(one.turn)
    found = [
        float(np.cross(turn.T @ np.array(p.below), turn.T @ np.array(p.force))[1])
        if driven and p.what.startswith("tyre")
        else 0.0
        for p in one.case.pushes
        if p.what != "unsprung"
    ]
    return np.array(found, dtype=np.float64)


def places_of(axle: AxleModel, loads: AxleLoads, one: CaseLoads) -> tuple[float, ...]:
    """Stations at which forces come in [mm], from right to left."""
    points, _, _ = _brought_in(axle, loads, one)
    return tuple(sorted({float(y) for y in points[:, 1]}))
