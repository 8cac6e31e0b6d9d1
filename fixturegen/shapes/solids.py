"""The solid of a part from its frozen data, in the part frame; and the primitives others use."""

from __future__ import annotations

import math

import cadquery as cq

from fixturegen.errors import GeometryFault
from fixturegen.plate import Part, Turned
from fixturegen.plate.profile import Vertex
from fixturegen.shapes.faces import face_of, wire_of
from fixturegen.shapes.folding import folded_solid
from fixturegen.shapes.kernel import Face, Shape, Solid, Wire, kernel_faults
from fixturegen.shapes.primitives import (
    bounding_box,
    box,
    centre_of_mass,
    checked,
    common,
    compound,
    cone,
    cut,
    cylinder,
    fuse,
    moved,
    placed,
    revolve_xz,
    solids_in,
    sphere,
    surface,
    transformed,
    tube,
    volume,
)

__all__ = [
    "Face",
    "Shape",
    "Solid",
    "Wire",
    "bounding_box",
    "box",
    "centre_of_mass",
    "checked",
    "common",
    "compound",
    "cone",
    "cut",
    "cylinder",
    "face_of",
    "fuse",
    "moved",
    "placed",
    "revolve_xz",
    "solid_of",
    "solids_in",
    "sphere",
    "surface",
    "transformed",
    "tube",
    "turned_solid",
    "volume",
    "wire_of",
]

# Corner radii of cold formed square tube with a wall of up to 6 mm, in walls.
# Source: EN 10219-2, from memory (its section properties are worked out with these two).
SQUARE_OUTER_RADIUS = 2.0
SQUARE_INNER_RADIUS = 1.0
CHECK_STEPS = "check its steps, bores and holes against one another"


def solid_of(part: Part, *, as_cut: bool = False) -> Solid:
    """The part as one valid solid of positive volume, in the part frame.

    A plate lies in XY from Z = 0 to its thickness; of a bent part the face that stays put does; a
    turned part and a tube lie along Z from 0.

    Args:
        part: What is made.
        as_cut: Holes of a plate at the size they have at the cutter, else finished.
    """
    if part.form == "plate" and part.profile is not None:
        if part.thickness <= 0.0:
            raise GeometryFault(part.name, f"thickness {part.thickness:g} mm", "give the measured thickness")
        face = face_of(part.profile, part.name, as_cut=as_cut)
        with kernel_faults(part.name, "the plate"):
            raw = cq.Solid.extrudeLinear(face, cq.Vector(0.0, 0.0, part.thickness))
    elif part.form == "bent" and part.profile is not None:
        return folded_solid(part, as_cut=as_cut)
    elif part.form == "turned" and part.turned is not None:
        raw = turned_solid(part.turned, part.name)
    elif part.form == "tube" and part.tube is not None:
        raw = _tube_solid(part.tube, part.name)
    else:
        raise GeometryFault(
            part.name,
            f"form {part.form!r} carries no data a solid can be made of",
            "give a plate its profile, a turned part its steps, a tube its section",
        )
    return checked(raw, part.name)


def turned_solid(turned: Turned, part: str = "turned part") -> Solid:
    """The lathe part along Z from 0, not yet checked for being one piece.

    Args:
        turned: Steps, bores, flats, holes and saw cut.
        part: Name the fault will give.
    """
    length = sum(step.length for step in turned.steps)
    widest = max((max(s.diameter, s.end_diameter or 0.0) for s in turned.steps), default=0.0)
    if length <= 0.0 or widest <= 0.0 or any(s.length <= 0.0 for s in turned.steps):
        raise GeometryFault(part, "a step has no length or no diameter", CHECK_STEPS)
    with kernel_faults(part, "the turned part"):
        outside = revolve_xz(_outline(turned))
        away = _removed(turned, part, length, widest)
        return cut(outside, *away) if away else outside


def _outline(turned: Turned) -> list[tuple[float, float]]:
    z = 0.0
    points = [(0.0, 0.0)]
    for step in turned.steps:
        low, z = z, z + step.length
        end = step.diameter if step.end_diameter is None else step.end_diameter
        points += [(step.diameter / 2.0, low), (end / 2.0, z)]
    points.append((0.0, z))
    # equal steps would leave two corners in one place
    return [p for i, p in enumerate(points) if i == 0 or math.dist(p, points[i - 1]) > 0.0]


def _removed(turned: Turned, part: str, length: float, widest: float) -> list[Solid]:
    away: list[Solid] = []
    for low, high, diameter, end, _ in turned.bores:
        if not 0.0 <= low < high <= length + 1e-9:
            raise GeometryFault(
                part,
                f"a bore from {low:g} to {high:g} mm lies outside its length of {length:g} mm",
                CHECK_STEPS,
            )
        away.append(cone((0.0, 0.0, low), (0.0, 0.0, high), diameter, diameter if end is None else end))
    reach = widest + 1.0
    for low, high, distance, direction in turned.flats:
        block = box(distance, -reach, low, distance + reach, reach, high)
        away.append(block.rotate(cq.Vector(), cq.Vector(0, 0, 1), direction))
    for z, diameter, direction, _ in turned.cross_holes:
        a = math.radians(direction)
        tip = (reach * math.cos(a), reach * math.sin(a), z)
        away.append(cylinder((0.0, 0.0, z), tip, diameter))
    for x, y, diameter, _ in turned.axial_holes:
        away.append(cylinder((x, y, -1.0), (x, y, length + 1.0), diameter))
    if turned.saw_cut > 0.0:
        half = turned.saw_cut / 2.0
        away.append(box(0.0, -half, -1.0, reach, half, length + 1.0))
    return away


def _tube_solid(section: tuple[float, float, float, bool], part: str) -> Solid:
    size, wall, length, square = section
    if not (0.0 < 2.0 * wall < size and length > 0.0):
        raise GeometryFault(
            part,
            f"a wall of {wall:g} mm in a tube of {size:g} mm, length {length:g} mm, is no tube",
            "give wall, outside and length as measured",
        )
    if not square:
        return tube((0.0, 0.0, 0.0), (0.0, 0.0, length), size, size - 2.0 * wall)
    inner_half = size / 2.0 - wall
    outside = _rounded_bar(size / 2.0, SQUARE_OUTER_RADIUS * wall, length, part)
    return cut(outside, _rounded_bar(inner_half, SQUARE_INNER_RADIUS * wall, length, part))


def _rounded_bar(half: float, radius: float, length: float, part: str) -> Solid:
    if radius >= half:
        raise GeometryFault(part, "its wall is too thick for square corners", "give a round tube")
    s, quarter = half - radius, math.tan(math.pi / 8.0)
    corners = ((s, -half), (half, -s), (half, s), (s, half), (-s, half), (-half, s), (-half, -s), (-s, -half))
    loop = tuple(Vertex(x, y, quarter if i % 2 == 0 else 0.0) for i, (x, y) in enumerate(corners))
    return cq.Solid.extrudeLinear(wire_of(loop, part), [], cq.Vector(0.0, 0.0, length))
