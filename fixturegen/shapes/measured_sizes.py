"""Places and diameters read off a solid's own corners and faces, for comparing a drawing with it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations

import numpy as np
import numpy.typing as npt

from fixturegen.plate.part import Vector
from fixturegen.shapes.bores import Bore, bores_of
from fixturegen.shapes.kernel import Solid
from fixturegen.shapes.primitives import bounding_box

Floats = npt.NDArray[np.float64]
SLOT = 30.0  # [mm] no round hole is made longer by more
LEANING = 1e-6  # [deg] lines that lean less to each other are parallel
ROUND = 1e-6  # [mm] a face whose circles stray more from the Z axis is not round about it


@dataclass(frozen=True)
class RoundFace:
    """A cylinder or cone about the Z axis: (from Z, to Z, diameter, end diameter) [mm], hollow or not."""

    begin: float
    end: float
    diameter: float
    end_diameter: float


@dataclass(frozen=True, eq=False)
class Measured:
    """What a solid measures.

    Attributes:
        corners: Its corners (n, 3) [mm].
        bores: Its round holes.
        lines: The same, and middle lines of slots.
        rounds: Cylinders and cones about the Z axis.
        flats: Distances of its flat faces along Z from the Z axis [mm].
        box: Its bounding box [mm].
    """

    corners: Floats
    bores: tuple[Bore, ...]
    lines: tuple[Bore, ...]
    rounds: tuple[RoundFace, ...]
    flats: tuple[float, ...]
    box: tuple[float, ...]

    @property
    def middles(self) -> tuple[tuple[Vector, float], ...]:
        """(middle (3,), diameter) of each hole, and of each pair of round ends that may be those of one slot [mm]."""
        return tuple((b.point, b.diameter) for b in self.lines)

    def levels(self, axis: int) -> Floats:
        """Places of corners, middles of holes and outermost places along an axis (n,) [mm]."""
        middles = [point[axis] for point, _ in self.middles]
        return np.array([*self.corners[:, axis], *middles, self.box[axis], self.box[axis + 3]])


def lines_of(solid: Solid) -> tuple[Bore, ...]:
    """Every round hole of a solid, and the middle line of every two round ends that may be those of one slot.

    Args:
        solid: From anywhere.
    """
    bores = bores_of(solid)
    found = list(bores)
    for a, b in combinations(bores, 2):
        apart = abs(a.diameter - b.diameter)
        if apart < ROUND and math.dist(a.point, b.point) <= SLOT and a.leans(b.axis) < LEANING:
            x, y, z = ((p + q) / 2.0 for p, q in zip(a.point, b.point, strict=True))
            found.append(Bore((x, y, z), a.axis, a.diameter))
    return tuple(found)


def measured(solid: Solid) -> Measured:
    """What a solid measures.

    Args:
        solid: In its part frame.
    """
    corners = np.array([v.toTuple() for v in solid.Vertices()], dtype=float).reshape(-1, 3)
    return Measured(
        corners, bores_of(solid), lines_of(solid), _rounds(solid), _flats(solid), tuple(bounding_box(solid))
    )


def _rounds(solid: Solid) -> tuple[RoundFace, ...]:
    found = []
    for face in solid.Faces():
        if face.geomType() not in ("CYLINDER", "CONE"):
            continue
        ends: list[tuple[float, float]] = []
        for edge in face.Edges():
            if edge.geomType() != "CIRCLE":
                continue
            centre: Vector = edge.arcCenter().toTuple()
            if math.hypot(centre[0], centre[1]) <= ROUND:
                ends.append((centre[2], 2.0 * float(edge.radius())))
        # a face between circles about the axis; what is milled off it may have cut one of them away
        if len(ends) >= 1:
            low, high = min(ends), max(ends)
            found.append(RoundFace(low[0], high[0], low[1], high[1]))
    return tuple(found)


def _flats(solid: Solid) -> tuple[float, ...]:
    found = []
    for face in solid.Faces():
        if face.geomType() == "PLANE":
            normal, at = face.normalAt(), face.Center()
            if abs(normal.z) <= ROUND:
                found.append(abs(normal.x * at.x + normal.y * at.y))
    return tuple(found)
