"""Planar faces and wires of the kernel from loops and profiles of ours."""

from __future__ import annotations

import cadquery as cq
from OCP.BRepBuilderAPI import (
    BRepBuilderAPI_MakeEdge,
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakeWire,
)
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.gp import gp_Ax2, gp_Circ, gp_Dir, gp_Pln, gp_Pnt
from OCP.TopoDS import TopoDS

from fixturegen.errors import GeometryFault
from fixturegen.plate import Hole, Loop, Profile
from fixturegen.plate.nearness import encloses, loop_to_loop
from fixturegen.plate.profile import (
    Edge,
    edges,
    hole_loop,
    perimeter,
    polyline,
    reversed_loop,
    signed_area,
)
from fixturegen.plate.profile import circle as circle_loop
from fixturegen.shapes.kernel import (
    AREA_TOLERANCE,
    POINT_TOLERANCE,
    Face,
    Wire,
    demand_finite,
    kernel_faults,
)
from fixturegen.shapes.primitives import surface

TOUCH = 0.02  # [mm] openings nearer than this are told as running into each other
CHECK_LOOP = "check the dimensions that shape its outline"


def wire_of(loop: Loop, part: str = "outline") -> Wire:
    """The loop as a closed wire in the plane Z = 0: exact lines and arcs, run as the loop runs.

    Args:
        loop: At least two vertices, no edge of zero length.
        part: Name the fault will give.
    """
    if len(loop) < 2:
        raise GeometryFault(part, "a loop has fewer than two corners", CHECK_LOOP)
    demand_finite(part, (c for v in loop for c in (v.x, v.y, v.bulge)))
    for i, v in enumerate(loop):
        after = loop[(i + 1) % len(loop)]
        if abs(after.x - v.x) + abs(after.y - v.y) <= POINT_TOLERANCE:
            raise GeometryFault(part, f"two corners fall together at ({v.x:.3f}, {v.y:.3f}) mm", CHECK_LOOP)
    with kernel_faults(part, "its outline"):
        builder = BRepBuilderAPI_MakeWire()
        for edge in edges(loop):
            builder.Add(_kernel_edge(edge))
        return cq.Wire(builder.Wire())


def face_of(profile: Profile, part: str = "plate", *, as_cut: bool = False) -> Face:
    """The profile as one valid planar face in Z = 0, normal up.

    Args:
        profile: Outline, cut-outs and holes.
        part: Name the fault will give.
        as_cut: Holes at the size they have at the cutter (none for a pilot mark), else finished.
    """
    for loop in (profile.outer, *profile.inner):
        demand_finite(part, (c for v in loop for c in (v.x, v.y, v.bulge)))
    outline = _run(profile.outer, counter_clockwise=True)
    openings = [
        (_run(loop, counter_clockwise=False), f"a cut-out near ({loop[0].x:.2f}, {loop[0].y:.2f}) mm")
        for loop in profile.inner
    ]
    for hole in profile.holes:
        diameter = hole.cut if as_cut else hole.finished
        if diameter is None:
            continue
        demand_finite(part, (hole.x, hole.y, diameter))
        if diameter <= 0.0:
            raise GeometryFault(part, f"{_hole_words(hole)} has diameter {diameter:g} mm", "give a positive size")
        loop = circle_loop(hole.x, hole.y, diameter) if as_cut else hole_loop(hole)
        openings.append((reversed_loop(loop), _hole_words(hole)))
    with kernel_faults(part, "its flat face"):
        builder = BRepBuilderAPI_MakeFace(gp_Pln(), TopoDS.Wire(wire_of(outline, part).wrapped))
        for loop, _ in openings:
            builder.Add(TopoDS.Wire(wire_of(loop, part).wrapped))
        face = cq.Face(builder.Face())
    if not BRepCheck_Analyzer(face.wrapped).IsValid():
        raise GeometryFault(part, _crossing(outline, openings), CHECK_LOOP)
    _demand_area(face, outline, [loop for loop, _ in openings], part)
    return face


def _demand_area(face: Face, outline: Loop, openings: list[Loop], part: str) -> None:
    if not BRepCheck_Analyzer(face.wrapped).IsValid():
        raise GeometryFault(part, "its outline, cut-outs or holes cross one another or themselves", CHECK_LOOP)
    wanted = signed_area(outline) + sum(signed_area(loop) for loop in openings)
    allowed = AREA_TOLERANCE * (perimeter(outline) + sum(perimeter(loop) for loop in openings))
    if wanted <= 0.0 or abs(surface(face) - wanted) > allowed:
        raise GeometryFault(
            part,
            f"its face has {surface(face):.3f} mm2 where its loops enclose {wanted:.3f} mm2",
            CHECK_LOOP,
        )


def _crossing(outline: Loop, openings: list[tuple[Loop, str]]) -> str:
    """What crosses what, in words, as far as it can be told."""
    for i, (loop, words) in enumerate(openings):
        if not all(encloses(outline, v.x, v.y) for v in loop) or _cross(outline, loop):
            return f"{words} breaks out of its outline"
        for other, other_words in openings[:i]:
            if _cross(other, loop):
                return f"{words} runs into {other_words}"
            if encloses(other, loop[0].x, loop[0].y) or encloses(loop, other[0].x, other[0].y):
                return f"{words} and {other_words} lie in each other"
    return "its outline, cut-outs or holes cross one another or themselves"


def _cross(a: Loop, b: Loop) -> bool:
    inside = [encloses(a, x, y) for x, y in polyline(b)]
    return (any(inside) and not all(inside)) or loop_to_loop(a, b) <= TOUCH


def _run(loop: Loop, *, counter_clockwise: bool) -> Loop:
    return loop if (signed_area(loop) > 0.0) == counter_clockwise else reversed_loop(loop)


def _hole_words(hole: Hole) -> str:
    name = f"hole {hole.label!r}" if hole.label else f"{hole.purpose.value} hole"
    return f"{name} at ({hole.x:.2f}, {hole.y:.2f}) mm"


def _kernel_edge(edge: Edge) -> object:
    start, end = gp_Pnt(edge.x0, edge.y0, 0.0), gp_Pnt(edge.x1, edge.y1, 0.0)
    if edge.centre is None:
        return BRepBuilderAPI_MakeEdge(start, end).Edge()
    up = gp_Dir(0.0, 0.0, 1.0 if edge.sweep_rad > 0.0 else -1.0)
    axes = gp_Ax2(gp_Pnt(edge.centre[0], edge.centre[1], 0.0), up)
    return BRepBuilderAPI_MakeEdge(gp_Circ(axes, edge.radius), start, end).Edge()
