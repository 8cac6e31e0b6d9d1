"""Simple solids, what is done with them, and what is measured on them."""

from __future__ import annotations

import math
from collections.abc import Sequence

import cadquery as cq
from OCP.Bnd import Bnd_Box
from OCP.BRepBndLib import BRepBndLib
from OCP.BRepBuilderAPI import BRepBuilderAPI_Copy
from OCP.BRepGProp import BRepGProp
from OCP.gp import gp_Trsf
from OCP.GProp import GProp_GProps
from OCP.TopLoc import TopLoc_Location

from fixturegen.errors import GeometryFault
from fixturegen.plate import Placement
from fixturegen.plate.part import Matrix, Vector
from fixturegen.shapes.kernel import (
    POINT_TOLERANCE,
    Shape,
    Solid,
    demand_finite,
    kernel_faults,
)

Box = tuple[float, float, float, float, float, float]
ROTATION_TOLERANCE = 1e-9  # [1] how far a matrix may be from a rotation


def box(x0: float, y0: float, z0: float, x1: float, y1: float, z1: float) -> Solid:
    """A box between two corners [mm]."""
    demand_finite("box", (x0, y0, z0, x1, y1, z1))
    if min(x1 - x0, y1 - y0, z1 - z0) <= 0.0:
        raise GeometryFault("box", "a side is not positive", "give the low corner first")
    return cq.Solid.makeBox(x1 - x0, y1 - y0, z1 - z0, cq.Vector(x0, y0, z0))


def cylinder(p0: Vector, p1: Vector, diameter: float) -> Solid:
    """A round bar from point to point.

    Args:
        p0: Centre of one end (3,) [mm].
        p1: Centre of the other end (3,) [mm].
        diameter: Outside [mm].
    """
    return cone(p0, p1, diameter, diameter)


def cone(p0: Vector, p1: Vector, diameter: float, end_diameter: float) -> Solid:
    """A cone, or a frustum of one, from point to point.

    Args:
        p0: Centre of one end (3,) [mm].
        p1: Centre of the other end (3,) [mm].
        diameter: At p0 [mm]; may be 0.
        end_diameter: At p1 [mm]; may be 0.
    """
    demand_finite("round bar", (*p0, *p1, diameter, end_diameter))
    length = math.dist(p0, p1)
    if length <= POINT_TOLERANCE or min(diameter, end_diameter) < 0.0 or diameter + end_diameter <= 0.0:
        raise GeometryFault(
            "round bar",
            f"length {length:g} mm with diameters {diameter:g} and {end_diameter:g} mm is no solid",
            "give a positive length and diameter",
        )
    start = cq.Vector(*p0)
    axis = cq.Vector(*p1) - start
    with kernel_faults("round bar", "the bar"):
        if diameter == end_diameter:
            return cq.Solid.makeCylinder(diameter / 2.0, length, start, axis)
        return cq.Solid.makeCone(diameter / 2.0, end_diameter / 2.0, length, start, axis)


def tube(p0: Vector, p1: Vector, diameter: float, bore: float) -> Solid:
    """A round tube from point to point.

    Args:
        p0: Centre of one end (3,) [mm].
        p1: Centre of the other end (3,) [mm].
        diameter: Outside [mm].
        bore: Inside [mm].
    """
    if not 0.0 < bore < diameter:
        raise GeometryFault(
            "tube",
            f"bore {bore:g} mm does not fit in diameter {diameter:g} mm",
            "give a bore smaller than the outside",
        )
    return cut(cylinder(p0, p1, diameter), cylinder(p0, p1, bore))


def sphere(centre: Vector, diameter: float) -> Solid:
    """A ball: centre (3,) [mm], diameter [mm]."""
    demand_finite("ball", (*centre, diameter))
    if diameter <= 0.0:
        raise GeometryFault("ball", f"diameter {diameter:g} mm", "give a positive diameter")
    ball = cq.Solid.makeSphere(diameter / 2.0, angleDegrees1=-90, angleDegrees2=90)
    return ball.translate(cq.Vector(*centre))


def revolve_xz(points: Sequence[tuple[float, float]]) -> Solid:
    """A solid of revolution about Z.

    Args:
        points: Corners (x, z) of a closed outline in the XZ plane, x >= 0, n >= 3 [mm].
    """
    demand_finite("turned shape", (c for point in points for c in point))
    if len(points) < 3 or min(p[0] for p in points) < -POINT_TOLERANCE:
        raise GeometryFault(
            "turned shape",
            "the outline needs three corners on one side of the axis",
            "give x of 0 or more",
        )
    with kernel_faults("turned shape", "the revolved outline"):
        wire = cq.Wire.makePolygon([cq.Vector(x, 0.0, z) for x, z in points], close=True)
        solid = cq.Solid.revolve(wire, [], 360.0, cq.Vector(0, 0, 0), cq.Vector(0, 0, 1))
        # an outline that runs the other way round makes a solid inside out
        if volume(solid) < 0.0:
            solid = cq.Solid(solid.wrapped.Reversed())
        return solid


def fuse(first: Shape, *others: Shape, clean: bool = True) -> Shape:
    """All of them as one; faces that lie in one surface are joined when `clean`."""
    if not others:
        return first
    with kernel_faults("solids", "their union"):
        joined = first.fuse(*others)
        return _unwrapped(joined.clean() if clean else joined)


def cut(first: Shape, *others: Shape) -> Shape:
    """The first without the others."""
    if not others:
        return first
    with kernel_faults("solids", "their difference"):
        return _unwrapped(first.cut(*others))


def common(first: Shape, *others: Shape) -> Shape:
    """What the first and all others share; may be empty (volume 0)."""
    with kernel_faults("solids", "their common part"):
        result = _copied(first)
        for other in others:
            result = result.intersect(_copied(other))
        return _unwrapped(result)


def _copied(shape: Shape) -> Shape:
    # the kernel widens tolerances of what it is handed, which later files would show
    return cq.Shape.cast(BRepBuilderAPI_Copy(shape.wrapped, False, False).Shape())


def compound(shapes: Sequence[Shape]) -> Shape:
    """Several shapes held together as one, without joining them."""
    return cq.Compound.makeCompound(list(shapes))


def solids_in(shape: Shape) -> list[Solid]:
    """The solids of a shape, in the kernel's order."""
    return list(shape.Solids())


def volume(shape: Shape) -> float:
    """Volume [mm3]."""
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape.wrapped, properties)
    return float(properties.Mass())


def surface(shape: Shape) -> float:
    """Area of all faces [mm2]."""
    properties = GProp_GProps()
    BRepGProp.SurfaceProperties_s(shape.wrapped, properties)
    return float(properties.Mass())


def centre_of_mass(shape: Shape) -> Vector:
    """Centre of volume (3,) [mm]."""
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape.wrapped, properties)
    point = properties.CentreOfMass()
    return (point.X(), point.Y(), point.Z())


def bounding_box(shape: Shape) -> Box:
    """(xmin, ymin, zmin, xmax, ymax, zmax) [mm], tight to the geometry and not to a mesh."""
    box_ = Bnd_Box()
    box_.SetGap(0.0)
    BRepBndLib.AddOptimal_s(shape.wrapped, box_, False, False)
    if box_.IsVoid():
        return (0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    return tuple(box_.Get())


def transformed(shape: Shape, rotation: Matrix, origin: Vector = (0.0, 0.0, 0.0)) -> Shape:
    """The shape moved: p_new = rotation @ p + origin.

    Args:
        shape: What is moved; it is left as it was.
        rotation: Rows of a rotation matrix (3, 3).
        origin: (3,) [mm].
    """
    _demand_rotation(rotation)
    trsf = gp_Trsf()
    trsf.SetValues(*rotation[0], origin[0], *rotation[1], origin[1], *rotation[2], origin[2])
    return shape.moved(cq.Location(TopLoc_Location(trsf)))


def moved(shape: Shape, x: float = 0.0, y: float = 0.0, z: float = 0.0) -> Shape:
    """The shape shifted by (x, y, z) [mm]."""
    return shape.moved(cq.Location(cq.Vector(x, y, z)))


def placed(shape: Shape, placement: Placement) -> Shape:
    """The shape, drawn in its part frame, where the placement puts it."""
    return transformed(shape, placement.rotation, placement.origin)


def checked(shape: Shape, part: str) -> Solid:
    """The one valid solid of positive volume in the shape; else a `GeometryFault`.

    Args:
        shape: A solid, or a compound of exactly one.
        part: Name of the part the fault will name.
    """
    solids = solids_in(shape)
    if len(solids) != 1:
        words = "nothing is left of it" if not solids else f"it falls into {len(solids)} pieces"
        raise GeometryFault(part, words, "check holes, slots and steps against its outside")
    solid = solids[0]
    if not solid.isValid():
        raise GeometryFault(part, "its surface crosses itself", "check holes, slots and steps against its outside")
    if volume(solid) <= 0.0:
        raise GeometryFault(part, "its volume is not positive", "check its dimensions")
    return solid


def _demand_rotation(rotation: Matrix) -> None:
    demand_finite("placement", (c for row in rotation for c in row))
    a, b, c = rotation
    for i, row in enumerate(rotation):
        for j, other in enumerate(rotation):
            dot = sum(p * q for p, q in zip(row, other, strict=True))
            if abs(dot - (1.0 if i == j else 0.0)) > ROTATION_TOLERANCE:
                raise GeometryFault("placement", "its matrix is no rotation", "give unit rows")
    determinant = (
        a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0]) + a[2] * (b[0] * c[1] - b[1] * c[0])
    )
    if determinant < 0.0:
        raise GeometryFault("placement", "its matrix mirrors", "make the other hand as a part")


def _unwrapped(shape: Shape) -> Shape:
    # booleans answer with a compound even for one solid
    solids = shape.Solids()
    return solids[0] if len(solids) == 1 else shape
