"""What is seen of solids from one side, and what is hidden behind: lines and arcs in the plane of the picture."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import pairwise

from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.BRepLib import BRepLib
from OCP.BRepMesh import BRepMesh_IncrementalMesh
from OCP.GCPnts import GCPnts_QuasiUniformDeflection
from OCP.GeomAbs import GeomAbs_CurveType
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
from OCP.HLRAlgo import HLRAlgo_Projector
from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape, HLRBRep_PolyAlgo, HLRBRep_PolyHLRToShape
from OCP.TopAbs import TopAbs_ShapeEnum
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS

from fixturegen import keeping
from fixturegen.keeping import key_of
from fixturegen.plate.part import Vector
from fixturegen.shapes.cache import shape_key
from fixturegen.shapes.kernel import Shape, kernel_faults

CHORD = 0.05  # [mm] curves that are no lines are drawn as chords within this
COARSE = 0.5  # [mm] deflection of the meshes of a quick view
COARSE_TURN = 0.35  # [rad] the same round a bend of small radius
SHORT = 1e-4  # [mm] a shorter line is none


Chain = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Strokes:
    """Lines of a view in its plane: x to the right, y up [mm].

    Attributes:
        seen: Chains of points (x, y) of edges and outlines that are seen.
        hidden: The same of those behind steel.
    """

    seen: tuple[Chain, ...]
    hidden: tuple[Chain, ...]


def view_of(
    shapes: Sequence[Shape], eye: Vector, right: Vector, *, quick: bool = False, hidden: bool = True
) -> Strokes:
    """What is seen of solids from afar, kept between runs.

    The plane's x is `right`, its y is `eye` x `right`; the frame's origin is its origin.

    Args:
        shapes: Solids where they stand.
        eye: Direction from the solids to the eye (3,).
        right: Direction that lies to the right in the view, square to it (3,).
        quick: By meshes of `COARSE` and not by the exact surfaces: for many solids.
        hidden: Whether hidden lines are wanted.
    """
    key = key_of(("view", [shape_key(s) for s in shapes], eye, right, quick, hidden))
    found = keeping.kept_json("view", key, lambda: _view(shapes, eye, right, quick=quick, hidden=hidden))
    seen, behind = (tuple(tuple((x, y) for x, y in chain) for chain in chains) for chains in found)
    return Strokes(seen, behind)


def seen_parts(shapes: Sequence[Shape], eye: Vector, right: Vector) -> tuple[tuple[Chain, ...], ...]:
    """What is seen of each of many solids that stand in each other's way, kept between runs.

    Args:
        shapes: Solids where they stand.
        eye: Direction from the solids to the eye (3,).
        right: Direction that lies to the right in the view, square to it (3,).
    """
    key = key_of(("seen parts", [shape_key(s) for s in shapes], eye, right))
    found = keeping.kept_json("view", key, lambda: _seen_parts(shapes, eye, right))
    return tuple(tuple(tuple((x, y) for x, y in chain) for chain in chains) for chains in found)


def _seen_parts(shapes: Sequence[Shape], eye: Vector, right: Vector) -> list[list[list[tuple[float, float]]]]:
    with kernel_faults("view", "the view with hidden lines"):
        out = _meshed(shapes, _plane(eye, right))
        return [_chains([partial(out.VCompound, s.wrapped), partial(out.OutLineVCompound, s.wrapped)]) for s in shapes]


def _plane(eye: Vector, right: Vector) -> HLRAlgo_Projector:
    return HLRAlgo_Projector(gp_Ax2(gp_Pnt(0.0, 0.0, 0.0), gp_Dir(*eye), gp_Dir(*right)))


def _view(
    shapes: Sequence[Shape], eye: Vector, right: Vector, *, quick: bool, hidden: bool
) -> list[list[list[tuple[float, float]]]]:
    plane = _plane(eye, right)
    with kernel_faults("view", "the view with hidden lines"):
        out = _meshed(shapes, plane) if quick else _exact(shapes, plane)
        # smooth edges are where a face goes over into the next, and no lines of a drawing
        behind = [out.HCompound, out.OutLineHCompound] if hidden else []
        return [_chains([out.VCompound, out.OutLineVCompound]), _chains(behind)]


def _exact(shapes: Sequence[Shape], plane: HLRAlgo_Projector) -> HLRBRep_HLRToShape:
    algorithm = HLRBRep_Algo()
    for shape in shapes:
        algorithm.Add(shape.wrapped)
    algorithm.Projector(plane)
    algorithm.Update()
    algorithm.Hide()
    return HLRBRep_HLRToShape(algorithm)


def _meshed(shapes: Sequence[Shape], plane: HLRAlgo_Projector) -> HLRBRep_PolyHLRToShape:
    algorithm = HLRBRep_PolyAlgo()
    for shape in shapes:
        BRepMesh_IncrementalMesh(shape.wrapped, COARSE, False, COARSE_TURN, False)
        algorithm.Load(shape.wrapped)
    algorithm.Projector(plane)
    algorithm.Update()
    out = HLRBRep_PolyHLRToShape()
    out.Update(algorithm)
    return out


def _chains(compounds: Sequence[object]) -> list[list[tuple[float, float]]]:
    found = []
    for compound in compounds:
        shape = compound()  # type: ignore[operator]
        if shape is None or shape.IsNull():
            continue
        BRepLib.BuildCurves3d_s(shape)
        for edge in _edges(shape):
            points = _points(edge)
            if len(points) > 1 and sum(math.dist(a, b) for a, b in pairwise(points)) > SHORT:
                found.append(points)
    return sorted(found)


def _edges(shape: object) -> Iterator[object]:
    explorer = TopExp_Explorer(shape, TopAbs_ShapeEnum.TopAbs_EDGE)
    while explorer.More():
        yield TopoDS.Edge_s(explorer.Current())
        explorer.Next()


def _points(edge: object) -> list[tuple[float, float]]:
    curve = BRepAdaptor_Curve(edge)
    first, last = curve.FirstParameter(), curve.LastParameter()
    if curve.GetType() == GeomAbs_CurveType.GeomAbs_Line:
        ends = [curve.Value(first), curve.Value(last)]
    else:
        chords = GCPnts_QuasiUniformDeflection(curve, CHORD, first, last)
        ends = [chords.Value(i) for i in range(1, chords.NbPoints() + 1)]
    return [(round(p.X(), 4) + 0.0, round(p.Y(), 4) + 0.0) for p in ends]


__all__ = ["Chain", "Strokes", "seen_parts", "view_of"]
