"""Middles of the round edges of a shape: what people measure from when they measure to a hole."""

from __future__ import annotations

import cadquery as cq
import numpy as np
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.GeomAbs import GeomAbs_CurveType
from OCP.TopAbs import TopAbs_ShapeEnum
from OCP.TopExp import TopExp
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS
from OCP.TopTools import TopTools_IndexedMapOfShape

from fixturegen.shapes.kernel import Shape
from fixturegen.shapes.meshes import Floats

PLACES = 6  # decimals [mm] to which two middles are one; the kernel's own tolerance is finer


def as_drawn(shape: Shape) -> Shape:
    """The same shape where it was drawn: without its location, which `cache.shape_key` tells."""
    return cq.Shape.cast(shape.wrapped.Located(TopLoc_Location()))


def rims_of(shape: Shape) -> Floats:
    """Round edges as rows of middle (3,) [mm], unit axis (3,) and radius [mm], where the shape was drawn; (n, 7).

    Arcs count as well as whole circles; of edges that share middle, axis and radius one is given.

    Args:
        shape: A solid or a compound of solids; its location does not enter.
    """
    edges = TopTools_IndexedMapOfShape()
    TopExp.MapShapes_s(as_drawn(shape).wrapped, TopAbs_ShapeEnum.TopAbs_EDGE, edges)
    rows: set[tuple[float, ...]] = set()
    for number in range(1, edges.Extent() + 1):
        curve = BRepAdaptor_Curve(TopoDS.Edge(edges.FindKey(number)))
        if curve.GetType() != GeomAbs_CurveType.GeomAbs_Circle:
            continue
        circle = curve.Circle()
        middle, axis = circle.Location(), circle.Axis().Direction()
        way = np.array((axis.X(), axis.Y(), axis.Z()))
        # the two edges of a slit or a seam run opposite ways round the same axis
        first = way[np.argmax(np.abs(way) > 0.5)]
        way = way if first > 0.0 else -way
        row = (middle.X(), middle.Y(), middle.Z(), *way.tolist(), circle.Radius())
        rows.add(tuple(round(float(n), PLACES) + 0.0 for n in row))
    return np.array(sorted(rows), dtype=np.float64).reshape(-1, 7)
