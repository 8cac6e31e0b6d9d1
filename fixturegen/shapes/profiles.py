"""From the kernel's planar faces back to frozen profiles: walking, offsetting, joining, rounding."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Literal

import cadquery as cq
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.BRepTools import BRepTools_WireExplorer
from OCP.GeomAbs import GeomAbs_CurveType
from OCP.gp import gp_Pnt, gp_Vec
from OCP.TopAbs import TopAbs_Orientation
from OCP.TopoDS import TopoDS

from fixturegen.errors import GeometryFault
from fixturegen.plate import Hole, Loop, Profile, Purpose, Vertex
from fixturegen.plate.biarcs import Point, biarc_chain
from fixturegen.plate.offsets import offset_loop, offset_loops
from fixturegen.plate.profile import edges, reversed_loop, signed_area
from fixturegen.shapes.faces import face_of
from fixturegen.shapes.kernel import POINT_TOLERANCE, Face, Wire, kernel_faults

__all__ = [
    "CURVE_DEVIATION",
    "circle_in",
    "combine",
    "fillet_corners",
    "loop_of",
    "offset_loop",
    "offset_loops",
    "profile_of",
]

CURVE_DEVIATION = 0.02  # [mm] of other curves from their arcs: a tenth of what a torch repeats
FLATNESS = 1e-6  # [mm] how far a face may lie off a plane Z = constant
SAME_HOLE = 1e-5  # [mm] holes nearer in place and size than this are one hole
SMOOTH = 1e-4  # [rad] a corner flatter than this is none

_PLANES = {
    "union": lambda a, b: a.fuse(b),
    "cut": lambda a, b: a.cut(b),
    "intersect": lambda a, b: a.intersect(b),
}


def loop_of(wire: Wire, face: Face | None = None, deviation: float = CURVE_DEVIATION) -> Loop:
    """The closed wire as a loop: lines and arcs exactly, other curves as arcs within the deviation.

    A full circle becomes two half arcs. The loop starts at its lowest corner of least x.

    Args:
        wire: Closed, in a plane Z = constant.
        face: The face it bounds, which settles the order of edges.
        deviation: Of other curves from their arcs [mm].
    """
    explorer = BRepTools_WireExplorer()
    if face is None:
        explorer.Init(wire.wrapped)
    else:
        explorer.Init(wire.wrapped, TopoDS.Face(face.wrapped))
    vertices: list[Vertex] = []
    heights: list[float] = []
    count = 0
    while explorer.More():
        count += 1
        curve = BRepAdaptor_Curve(explorer.Current())
        backward = explorer.Current().Orientation() == TopAbs_Orientation.TopAbs_REVERSED
        heights += [curve.Value(curve.FirstParameter()).Z(), curve.Value(curve.LastParameter()).Z()]
        vertices += _walk(curve, backward, deviation)
        explorer.Next()
    if not vertices or count != len(wire.Edges()):
        raise GeometryFault("outline", "its edges do not form one chain", "draw it closed")
    if max(heights) - min(heights) > FLATNESS:
        raise GeometryFault("outline", "it does not lie flat", "draw it in a plane Z = constant")
    lowest = min(range(len(vertices)), key=lambda i: (vertices[i].x, vertices[i].y))
    return tuple(vertices[lowest:] + vertices[:lowest])


def _walk(curve: BRepAdaptor_Curve, backward: bool, deviation: float) -> list[Vertex]:
    first, last = curve.FirstParameter(), curve.LastParameter()
    start, end = (last, first) if backward else (first, last)
    point = curve.Value(start)
    kind = curve.GetType()
    if kind == GeomAbs_CurveType.GeomAbs_Line:
        return [Vertex(point.X(), point.Y())]
    if kind == GeomAbs_CurveType.GeomAbs_Circle:
        up = 1.0 if curve.Circle().Axis().Direction().Z() > 0.0 else -1.0
        sweep = (end - start) * up
        # halves keep the bulge of a long arc small and let a full circle be written at all
        parts = 2 if abs(sweep) > math.pi * (1.0 + 1e-9) else 1
        bulge = math.tan(sweep / parts / 4.0)
        starts = [curve.Value(start + (end - start) * k / parts) for k in range(parts)]
        return [Vertex(p.X(), p.Y(), bulge) for p in starts]

    def at(parameter: float) -> tuple[Point, Point]:
        p, v = gp_Pnt(), gp_Vec()
        curve.D1(parameter, p, v)
        return (p.X(), p.Y()), (v.X(), v.Y())

    return biarc_chain(at, start, end, deviation)


def circle_in(loop: Loop) -> tuple[float, float, float] | None:
    """(x, y, diameter) [mm] when the loop is one full circle, however many arcs it has; else None."""
    found = edges(loop)
    centre = found[0].centre
    if centre is None:
        return None
    radius = found[0].radius
    for edge in found:
        if edge.centre is None or math.dist(edge.centre, centre) > SAME_HOLE:
            return None
        if abs(edge.radius - radius) > SAME_HOLE:
            return None
    if abs(abs(sum(e.sweep_rad for e in found)) - 2.0 * math.pi) > 1e-6:
        return None
    x = math.fsum(e.centre[0] for e in found if e.centre) / len(found)
    y = math.fsum(e.centre[1] for e in found if e.centre) / len(found)
    return (x, y, 2.0 * math.fsum(e.radius for e in found) / len(found))


def profile_of(
    face: Face,
    *,
    known: Sequence[Hole] = (),
    purpose: Purpose = Purpose.ACCESS,
    deviation: float = CURVE_DEVIATION,
) -> Profile:
    """The planar face as a profile: full circles inside become holes, the rest cut-outs.

    Args:
        face: In a plane Z = constant of the part frame.
        known: Holes it may have, which keep their purpose, label and operation.
        purpose: What a round hole not known is for.
        deviation: Of curves that are neither lines nor arcs, from their arcs [mm].
    """
    outer = _run(loop_of(face.outerWire(), face, deviation), counter_clockwise=True)
    inner: list[Loop] = []
    holes: list[Hole] = []
    for wire in face.innerWires():
        loop = _run(loop_of(wire, face, deviation), counter_clockwise=False)
        round_ = circle_in(loop)
        if round_ is None:
            inner.append(loop)
            continue
        same = [h for h in known if math.dist((h.x, h.y, h.finished), round_) <= SAME_HOLE]
        holes.append(same[0] if same else Hole(*round_, purpose))
    # the kernel lists wires in the order it met them; ours follows the places
    inner.sort(key=lambda loop: (loop[0].x, loop[0].y))
    holes.sort(key=lambda hole: (hole.x, hole.y))
    return Profile(outer, tuple(inner), tuple(holes))


def combine(
    how: Literal["union", "cut", "intersect"], a: Profile, b: Profile, part: str = "plate"
) -> tuple[Profile, ...]:
    """The two profiles joined, the first less the second, or what both share: its pieces.

    Round holes that survive keep their purpose and label. Pieces come left to right.

    Args:
        how: The operation.
        a: First profile.
        b: Second profile.
        part: Name the fault will give.
    """
    operation: Callable[[Face, Face], Face] = _PLANES[how]
    with kernel_faults(part, f"the {how} of two outlines"):
        result = operation(face_of(a, part), face_of(b, part))
        faces = result.clean().Faces() if result.Faces() else []
        pieces = [profile_of(face, known=(*a.holes, *b.holes)) for face in faces]
    return tuple(sorted(pieces, key=lambda p: (p.outer[0].x, p.outer[0].y)))


def fillet_corners(loop: Loop, radius: float, at: Sequence[Point] | None = None, part: str = "outline") -> Loop:
    """The loop with its corners rounded.

    Args:
        loop: Counter-clockwise or clockwise; the result runs counter-clockwise.
        radius: Of the fillets [mm].
        at: Corners meant, each by a point (x, y) nearest to it [mm]; None for every corner.
        part: Name the fault will give.
    """
    source = _run(loop, counter_clockwise=True)
    corners = [(v.x, v.y) for v in _corners(source)]
    if at is not None:
        corners = [min(corners, key=lambda c: math.dist(c, p)) for p in at]
    if not corners:
        return source
    with kernel_faults(part, f"a fillet of {radius:g} mm"):
        face = face_of(Profile(source), part)
        chosen = [
            v for v in face.Vertices() if any(math.dist((v.X, v.Y), c) <= 10.0 * POINT_TOLERANCE for c in corners)
        ]
        rounded = face.fillet2D(radius, chosen)
        result = _run(loop_of(rounded.outerWire(), rounded), counter_clockwise=True)
    if len(result) != len(source) + len(set(corners)) or not cq.Face(rounded.wrapped).isValid():
        raise GeometryFault(part, f"a corner has no room for a fillet of {radius:g} mm", "take a smaller radius")
    return result


def _corners(loop: Loop) -> list[Vertex]:
    """Vertices where the direction jumps."""
    found = edges(loop)
    sharp: list[Vertex] = []
    for i, vertex in enumerate(loop):
        before, after = found[i - 1], found[i]
        into = math.atan2(before.y1 - before.y0, before.x1 - before.x0) + before.sweep_rad / 2.0
        out = math.atan2(after.y1 - after.y0, after.x1 - after.x0) - after.sweep_rad / 2.0
        turn = (out - into + math.pi) % (2.0 * math.pi) - math.pi
        if abs(turn) > SMOOTH:
            sharp.append(vertex)
    return sharp


def _run(loop: Loop, *, counter_clockwise: bool) -> Loop:
    if (signed_area(loop) > 0.0) == counter_clockwise:
        return loop
    turned = reversed_loop(loop)
    lowest = min(range(len(turned)), key=lambda i: (turned[i].x, turned[i].y))
    return turned[lowest:] + turned[:lowest]
