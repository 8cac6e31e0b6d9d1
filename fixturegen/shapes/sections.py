"""Where a plane cuts a shape: the lines of the section as dense points."""

from __future__ import annotations

import numpy as np
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.BRepAlgoAPI import BRepAlgoAPI_Section
from OCP.GCPnts import GCPnts_QuasiUniformDeflection
from OCP.gp import gp_Dir, gp_Pln, gp_Pnt
from OCP.TopAbs import TopAbs_EDGE
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS

from fixturegen.plate.part import Vector
from fixturegen.shapes.kernel import Shape, kernel_faults
from fixturegen.shapes.meshes import Floats

FINE = 0.005  # [mm] chords of a section lie this near to its curves


def section_lines(shape: Shape, point: Vector, normal: Vector, deflection: float = FINE) -> tuple[Floats, ...]:
    """Points (n, 3) along each edge of the section of a shape with a plane [mm]; none where they do not meet.

    Args:
        shape: Anything solid.
        point: Of the plane (3,) [mm].
        normal: Of the plane (3,).
        deflection: Farthest a chord may lie off its edge [mm].
    """
    found = []
    with kernel_faults("section", "the section with a plane"):
        cut = BRepAlgoAPI_Section(shape.wrapped, gp_Pln(gp_Pnt(*point), gp_Dir(*normal)), False)
        cut.Build()
        walk = TopExp_Explorer(cut.Shape(), TopAbs_EDGE)
        while walk.More():
            curve = BRepAdaptor_Curve(TopoDS.Edge_s(walk.Current()))
            points = GCPnts_QuasiUniformDeflection(curve, deflection)
            rows = [points.Value(i) for i in range(1, points.NbPoints() + 1)]
            found.append(np.array([(p.X(), p.Y(), p.Z()) for p in rows]))
            walk.Next()
    return tuple(sorted(found, key=lambda f: tuple(f[0])))
