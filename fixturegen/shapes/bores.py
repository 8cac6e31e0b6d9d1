"""Round holes of a solid, measured on its own surfaces: where their lines run and how wide they are."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.TopAbs import TopAbs_Orientation

from fixturegen.axle.frames import as_point
from fixturegen.plate.part import Vector
from fixturegen.shapes.kernel import Solid

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Bore:
    """A round hole.

    Attributes:
        point: On its line, halfway along it (3,) [mm].
        axis: Unit direction of its line (3,).
        diameter: [mm].
    """

    point: Vector
    axis: Vector
    diameter: float

    def off(self, point: Vector) -> float:
        """Distance of a point (3,) [mm] from its line [mm]."""
        between = np.array(point) - np.array(self.point)
        axis = np.array(self.axis)
        return float(np.linalg.norm(between - (between @ axis) * axis))

    def leans(self, way: Vector) -> float:
        """Angle between its line and a unit direction (3,), either way [deg]."""
        across = float(np.linalg.norm(np.cross(self.axis, way)))
        return float(np.degrees(np.arctan2(across, abs(float(np.dot(self.axis, way))))))


def bores_of(solid: Solid) -> tuple[Bore, ...]:
    """Every round hole of a solid, sorted by place; a hole whose wall is cut in halves counts once."""
    found: dict[tuple[float, ...], Bore] = {}
    for face in solid.Faces():
        if face.geomType() != "CYLINDER" or not _hollow(face):
            continue
        cylinder = BRepAdaptor_Surface(face.wrapped).Cylinder()
        place, way = cylinder.Axis().Location(), cylinder.Axis().Direction()
        at, axis = np.array([place.X(), place.Y(), place.Z()]), np.array([way.X(), way.Y(), way.Z()])
        middle = face.Center()
        at = at + float((np.array([middle.x, middle.y, middle.z]) - at) @ axis) * axis
        one = Bore(as_point(at), as_point(axis), 2.0 * float(cylinder.Radius()))
        found.setdefault(tuple(round(v, 4) + 0.0 for v in (*one.point, *np.abs(axis), one.diameter)), one)
    return tuple(one for _, one in sorted(found.items()))


def _hollow(face: object) -> bool:
    """Whether a cylindrical face looks to its own line: the steel lies outside."""
    wrapped = face.wrapped  # type: ignore[attr-defined]  # a face of the kernel library
    turned = wrapped.Orientation() == TopAbs_Orientation.TopAbs_REVERSED
    direct = bool(BRepAdaptor_Surface(wrapped).Cylinder().Direct())
    return turned if direct else not turned
