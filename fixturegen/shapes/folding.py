"""The bent solid from the flat of a part, exactly; and what is measured on a bent solid."""

from __future__ import annotations

import math
from dataclasses import dataclass

import cadquery as cq
from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.TopAbs import TopAbs_ShapeEnum
from OCP.TopExp import TopExp
from OCP.TopoDS import TopoDS
from OCP.TopTools import TopTools_IndexedDataMapOfShapeListOfShape

from fixturegen.calc._bends import SQUARE
from fixturegen.errors import GeometryFault
from fixturegen.plate import Part
from fixturegen.plate.folds import Zone, folded
from fixturegen.plate.part import Vector
from fixturegen.plate.profile import Vertex
from fixturegen.shapes.faces import face_of, wire_of
from fixturegen.shapes.kernel import Solid, kernel_faults
from fixturegen.shapes.primitives import bounding_box, checked, cut, fuse, solids_in, surface, transformed, volume

VOLUME_TOLERANCE = 1e-6  # [1] of the closed form: the solid is exact, this is the kernel's integration


def folded_solid(part: Part, *, as_cut: bool = False) -> Solid:
    """The bent part as one valid solid: its fixed face in place, marked face up before bending.

    Args:
        part: A flat with bends.
        as_cut: Holes at the size they have at the cutter, else finished.

    Raises:
        GeometryFault: When a bend cannot be made as drawn, or the volume is not the closed form's.
    """
    plan = folded(part)
    if part.profile is None:
        raise GeometryFault(part.name, "it has no flat profile", "give it one")
    flat = face_of(part.profile, part.name, as_cut=as_cut)
    with kernel_faults(part.name, "the bent part"):
        blank = cq.Solid.extrudeLinear(flat, cq.Vector(0.0, 0.0, part.thickness))
        pieces = solids_in(cut(blank, *(_strip(z, part) for z in plan.zones)))
        flats = [transformed(_holding(pieces, f.inner, part), f.pose.rotation, f.pose.origin) for f in plan.faces]
        rings = [
            transformed(_ring(z, part.thickness), p.rotation, p.origin)
            for z, p in zip(plan.zones, plan.poses, strict=True)
        ]
        solid = checked(fuse(flats[0], *flats[1:], *rings, clean=False), part.name)
    wanted = plan.closed_volume(surface(flat))
    if abs(volume(solid) - wanted) > VOLUME_TOLERANCE * wanted:
        words = f"bent it has {volume(solid):.1f} mm3 where its faces and bends come to {wanted:.1f} mm3"
        raise GeometryFault(part.name, words, "look for flanges that run through one another when bent")
    return solid


def _strip(zone: Zone, part: Part) -> Solid:
    """The zone as a block of the blank."""
    loop = tuple(Vertex(x, y) for x, y in zone.corners())
    return cq.Solid.extrudeLinear(wire_of(loop, part.name), [], cq.Vector(0.0, 0.0, part.thickness))


def _holding(pieces: list[Solid], at: tuple[float, float], part: Part) -> Solid:
    middle = cq.Vector(at[0], at[1], part.thickness / 2.0)
    found = [p for p in pieces if p.isInside(middle)]
    if len(found) != 1:
        raise GeometryFault(part.name, "a face between bends is lost", "check its bend lines and openings")
    return found[0]


def _ring(zone: Zone, thickness: float) -> Solid:
    """The bend as a piece of a ring, its fixed side flat."""
    bend, h = zone.bend, zone.half
    corners = [(-h, 0.0), (h, 0.0), (h, thickness), (-h, thickness)]
    wire = cq.Wire.makePolygon([cq.Vector(*zone.at(0.0, a), z) for a, z in corners], close=True)
    height = thickness + bend.radius if bend.up else -bend.radius
    # turning about the left of `way` takes it down, so up bends turn about the right
    near, far = (h, -h) if bend.up else (-h, h)
    axis = cq.Vector(*zone.at(0.0, near), height), cq.Vector(*zone.at(0.0, far), height)
    solid = cq.Solid.revolve(wire, [], bend.angle, *axis)
    return cq.Solid(solid.wrapped.Reversed()) if volume(solid) < 0.0 else solid


@dataclass(frozen=True)
class BendMeasure:
    """One bend as measured on the solid's surfaces, whatever it was made from.

    Attributes:
        radius: Inside [mm].
        thickness: Outside radius less inside radius [mm].
        angle: Between the flat faces beside it [deg].
        middle: A point of its axis, level with the middle of the bend line (3,) [mm].
        outside: Both outside sizes [mm]: from the corner where the outside faces meet (from the outermost
            point of the bend beyond 90 deg) to the end of the flat beside it, or to the next bend's corner.
    """

    radius: float
    thickness: float
    angle: float
    middle: Vector
    outside: tuple[float, float]


@dataclass(frozen=True)
class _Round:
    """A cylindrical face with straight edges to flat faces: one side of a bend, or a rounded corner."""

    radius: float
    place: cq.Vector
    axis: cq.Vector
    beside: tuple[cq.Face, ...]


@dataclass(frozen=True)
class _Corner:
    """A bend: its axis, and the flat faces beside it, outside and inside."""

    inside: _Round
    outside: _Round

    @property
    def normals(self) -> tuple[cq.Vector, cq.Vector]:
        a, b = (f.normalAt() for f in self.outside.beside)
        return a, b

    @property
    def angle(self) -> float:
        a, b = self.normals
        return math.degrees(math.atan2(a.cross(b).Length, a.dot(b)))

    def start(self, way: cq.Vector) -> float:
        """Where sizes begin that run along `way` [mm]: at the corner, or at the outermost point."""
        radius, axis = self.outside.radius, self.outside.place.dot(way)
        if self.angle > SQUARE + 1e-6:
            return float(axis - radius)
        (f, g), (a, b) = self.outside.beside, self.normals
        p, q = (f.Center() - self.outside.place).dot(a), (g.Center() - self.outside.place).dot(b)
        c = a.dot(b)
        # the corner as axis + s a + t b, on both planes: s + c t = p, c s + t = q
        s, t = (p - c * q) / (1.0 - c * c), (q - c * p) / (1.0 - c * c)
        return float(axis + (a * s + b * t).dot(way))


def measured(solid: Solid, thickness: float) -> tuple[BendMeasure, ...]:
    """Each bend of a bent solid, measured on its surfaces alone, sorted by place.

    Args:
        solid: Bent plate, from anywhere.
        thickness: By which the outside radius is the larger [mm].
    """
    corners = _corners(solid, thickness)
    found = []
    for corner in corners:
        a, b = corner.normals
        c = a.dot(b)
        ways = [(a * c - b).normalized(), (b * c - a).normalized()]
        sizes = [
            _far(corners, corner, face, way) - corner.start(way)
            for face, way in zip(corner.outside.beside, ways, strict=True)
        ]
        place, axis = corner.outside.place, corner.outside.axis
        middle = place + axis * (corner.outside.beside[0].Center() - place).dot(axis)
        found.append(
            BendMeasure(
                corner.inside.radius,
                corner.outside.radius - corner.inside.radius,
                corner.angle,
                (middle.x, middle.y, middle.z),
                (sizes[0], sizes[1]),
            )
        )
    return tuple(sorted(found, key=lambda m: tuple(round(v, 3) for v in m.middle)))


def _far(corners: list[_Corner], here: _Corner, face: cq.Face, way: cq.Vector) -> float:
    """Where the size of a flat face ends along `way` [mm]: at the next parallel bend, else at its edge."""
    ends = []
    for other in corners:
        if other is here or other.outside.axis.cross(way).Length < 1.0 - 1e-6:
            continue
        if here.outside.axis.cross(other.outside.axis).Length > 1e-6:
            continue
        if any(g.hashCode() == face.hashCode() for g in (*other.outside.beside, *other.inside.beside)):
            ends.append(-other.start(way * -1.0))
    if ends:
        return max(ends)
    y = here.outside.axis
    z = way.cross(y)
    rows = tuple((v.x, v.y, v.z) for v in (way, y, z))
    return bounding_box(transformed(face, (rows[0], rows[1], rows[2])))[3]


def _corners(solid: Solid, thickness: float) -> list[_Corner]:
    rounds = _rounds(solid)
    found = []
    for inside in rounds:
        for outside in rounds:
            if abs(outside.radius - inside.radius - thickness) > 1e-3 or not _coaxial(inside, outside):
                continue
            if all(any(_parallel(f, g) for g in inside.beside) for f in outside.beside):
                found.append(_Corner(inside, outside))
    return found


def _parallel(f: cq.Face, g: cq.Face) -> bool:
    return bool(f.normalAt().cross(g.normalAt()).Length < 1e-6)


def _coaxial(a: _Round, b: _Round) -> bool:
    between = b.place - a.place
    off = between - a.axis * between.dot(a.axis)
    level = abs((a.beside[0].Center() - b.beside[0].Center()).dot(a.axis))
    return bool(a.axis.cross(b.axis).Length < 1e-6 and off.Length < 1e-3 and level < 1e6)


def _rounds(solid: Solid) -> list[_Round]:
    """Cylindrical faces with straight edges to exactly two flat faces, in the kernel's order."""
    beside = TopTools_IndexedDataMapOfShapeListOfShape()
    TopExp.MapShapesAndAncestors_s(solid.wrapped, TopAbs_ShapeEnum.TopAbs_EDGE, TopAbs_ShapeEnum.TopAbs_FACE, beside)
    found = []
    for face in solid.Faces():
        if face.geomType() != "CYLINDER":
            continue
        cylinder = BRepAdaptor_Surface(face.wrapped).Cylinder()
        axis = cq.Vector(cylinder.Axis().Direction())
        flats = []
        for edge in face.Edges():
            if edge.geomType() != "LINE" or edge.tangentAt(0.5).cross(axis).Length > 1e-6:
                continue
            for shape in beside.FindFromKey(edge.wrapped):
                other = cq.Face(TopoDS.Face(shape))
                if other.geomType() == "PLANE":
                    flats.append(other)
        if len(flats) == 2:
            found.append(_Round(cylinder.Radius(), cq.Vector(cylinder.Location()), axis, (flats[0], flats[1])))
    return found
