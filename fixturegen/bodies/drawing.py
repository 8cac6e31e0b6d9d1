"""Shapes that several bodies of the axle are drawn from."""

from __future__ import annotations

import math
from typing import Literal

from fixturegen.axle import frames
from fixturegen.axle.frames import Array
from fixturegen.plate import Loop, Part, Profile, Vertex
from fixturegen.plate.outlines import Disc, hull_of_discs
from fixturegen.plate.part import Matrix, Vector
from fixturegen.shapes import solids
from fixturegen.shapes.turning import revolve_loop
from fixturegen.studies.centre_shape import bowl_arcs

# Rows that put an outline drawn in (p, q) into a plane of the axle, and its thickness square to it.
PLANES: dict[str, Matrix] = {
    "yz": ((0.0, 0.0, 1.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)),  # p = y, q = z, thickness along x
    "zx": ((0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0)),  # p = z, q = x, thickness along y
}


def rows(matrix: Array) -> Matrix:
    """A rotation matrix (3, 3) as the rows a placement takes."""
    a, b, c = ((float(r[0]), float(r[1]), float(r[2])) for r in matrix)
    return a, b, c


def turned_about_y(shape: solids.Shape, angle: float) -> solids.Shape:
    """The shape turned about the axle line by `angle` [deg]."""
    return solids.transformed(shape, rows(frames.turn_about_y(angle)))


def slab(loop: Loop, plane: Literal["yz", "zx"], low: float, high: float, name: str = "axle body") -> solids.Solid:
    """An outline drawn in a plane of the axle, thick from `low` to `high` [mm] square to it."""
    part = Part(name, name, "body", "plate", thickness=high - low, profile=Profile(loop))
    at = low if plane == "yz" else 0.0, low if plane == "zx" else 0.0, 0.0
    return solids.transformed(solids.solid_of(part), PLANES[plane], at)


def hull(discs: tuple[Disc, ...], plane: Literal["yz", "zx"], low: float, high: float) -> solids.Solid:
    """The hull of discs (p, q, radius) in a plane of the axle, thick from `low` to `high` [mm]."""
    return slab(hull_of_discs(discs), plane, low, high)


def revolved_about_x(loop: Loop, sign: int, y: float, z: float) -> solids.Solid:
    """A solid of revolution about a line along X.

    Args:
        loop: Outline in (radius, u), u = sign * x [mm].
        sign: +1 or -1, the direction u runs in.
        y: Of the line [mm].
        z: Of the line [mm].
    """
    solid = revolve_loop(loop)
    return solids.transformed(solid, rows(frames.turn_about_y(sign * 90.0)), (0.0, y, z))


def bowl(radius: float, front: float, knee: float, bottom: float) -> Loop:
    """Outline (radius, u) of a drum with a dished bottom, u from `front` to `bottom` [mm].

    The bottom is a crown arc about the axis and a corner arc tangent to it and to the drum. `front`
    may lie above or below `bottom`.

    Args:
        radius: Of the drum.
        front: u of its open end.
        knee: u where the bottom starts.
        bottom: u of its pole.
    """
    way = 1.0 if front > bottom else -1.0
    # crown and corner meet at the angle a, seen from the crown's centre on the axis
    _, _, crown, a = bowl_arcs(radius, knee, bottom)
    meet = Vertex(
        crown * math.sin(a),
        bottom + way * (crown - crown * math.cos(a)),
        way * math.tan((math.pi / 2.0 - a) / 4.0),
    )
    return (
        Vertex(0.0, bottom, way * math.tan(a / 4.0)),
        meet,
        Vertex(radius, knee),
        Vertex(radius, front),
        Vertex(0.0, front),
    )


def along(sign: int, u: float, y: float, z: float) -> Vector:
    """Point (3,) [mm] at u = sign * x."""
    return sign * u, y, z
