"""The exact distance of two shapes that stand apart: the kernel asked only where the nearest points can be.

The nearest points of two surfaces lie on a face, an edge or a corner of each. Every one of them is held by boxes
(the long and the round ones cut into cells), and two that the boxes keep farther apart than a distance already met
cannot hold the nearest points. So the answer is that of asking the kernel for every face, edge and corner against
every other, and it does not hang on the mesh: `upper` only says where to begin. Where it was too small, and nothing
was met within it, the kernel is asked for the whole.

Source: derived; a box that holds a set is no farther from another than the set is.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import cadquery as cq
import numpy as np
from OCP.Bnd import Bnd_Box
from OCP.BndLib import BndLib_Add3dCurve, BndLib_AddSurface
from OCP.BRep import BRep_Tool
from OCP.BRepAdaptor import BRepAdaptor_Curve, BRepAdaptor_Surface
from OCP.BRepBndLib import BRepBndLib
from OCP.BRepExtrema import BRepExtrema_DistanceSS
from OCP.Extrema import Extrema_ExtFlag
from OCP.GeomAbs import GeomAbs_CurveType, GeomAbs_SurfaceType
from OCP.gp import gp_Trsf
from OCP.TopAbs import TopAbs_ShapeEnum
from OCP.TopExp import TopExp
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS
from OCP.TopTools import TopTools_IndexedMapOfShape

from fixturegen.plate.part import Matrix, Vector
from fixturegen.shapes.kernel import Shape, kernel_faults
from fixturegen.shapes.meshes import Floats, Ints, exact_distance

CELL = 40.0  # [mm] sides of the cells that long edges and faces are cut into; only the time hangs on it
MOST_CELLS = 48  # of one edge or face each way
FINE_CELLS = 64  # of an edge before the kernel is asked for it beside another
SPARE = 1e-3  # [mm] added to a distance before it is used as a limit: the kernel's own figures are far finer
SPARE_BOX = 1e-6  # [mm] each box is grown by
CORNER, EDGE, FACE = 0, 1, 2
SORTS = (TopAbs_ShapeEnum.TopAbs_VERTEX, TopAbs_ShapeEnum.TopAbs_EDGE, TopAbs_ShapeEnum.TopAbs_FACE)
CUT_UP = {
    GeomAbs_SurfaceType.GeomAbs_Plane,
    GeomAbs_SurfaceType.GeomAbs_Cylinder,
    GeomAbs_SurfaceType.GeomAbs_Cone,
    GeomAbs_SurfaceType.GeomAbs_Sphere,
    GeomAbs_SurfaceType.GeomAbs_Torus,
}
"""Surfaces whose cells have true boxes; those of others are held whole."""
SLOW = {(CORNER, FACE): 1, (FACE, CORNER): 1, (EDGE, FACE): 2, (FACE, EDGE): 2, (FACE, FACE): 3, (EDGE, EDGE): 4}
"""What the kernel takes longer for comes later, when fewer are left: two round edges take it ten times two faces."""
_WIDE = Bnd_Box()
_WIDE.Update(-1e6, -1e6, -1e6, 1e6, 1e6, 1e6)

Key = tuple[int, int]
"""Sort of a piece, and its number."""


@dataclass(frozen=True)
class Nearest:
    """The exact distance of two shapes.

    Attributes:
        distance: [mm]; 0 where they meet.
        point: Nearest point of the first, in its frame (3,) [mm].
        other: Of the second, in the first one's frame (3,) [mm].
        asked: How often the kernel was asked; 0 when it was asked for the whole.
    """

    distance: float
    point: Vector
    other: Vector
    asked: int = 0


class Skin:
    """Faces, edges and corners of a shape, with boxes that hold them, looked up when first asked for."""

    def __init__(self, shape: Shape) -> None:
        """A skin of a shape, in the frame the shape stands in.

        Args:
            shape: A solid, a compound of solids, or a face.
        """
        self.shape = shape
        # numbered all at once: what was asked for before must not change the order of asking, nor so the points
        self._maps = [_mapped(shape.wrapped, sort) for sort in SORTS]
        self._cells: dict[Key, Floats] = {}
        self._fine: dict[Key, Floats] = {}
        self._rims: dict[int, tuple[Key, ...]] = {}
        self.boxes: Floats = np.array([_box(self.piece((FACE, i))) for i in range(1, self._maps[FACE].Extent() + 1)])
        """Of every face, low corner beside high corner (n, 6) [mm]."""

    @property
    def bounds(self) -> Floats:
        """Low and high corner (2, 3) [mm] of a box that holds it all."""
        return np.stack([self.boxes[:, :3].min(axis=0), self.boxes[:, 3:].max(axis=0)])

    def piece(self, key: Key) -> Any:
        """A face, an edge or a corner."""
        return self._maps[key[0]].FindKey(key[1])

    def pieces(self, faces: Ints) -> list[Key]:
        """The faces of these numbers (from 0), with their edges and corners."""
        found: dict[Key, None] = {}
        for number in faces:
            face = int(number) + 1
            found[FACE, face] = None
            if face not in self._rims:
                self._rims[face] = self._rim(self.piece((FACE, face)))
            found.update(dict.fromkeys(self._rims[face]))
        return sorted(found)

    def _rim(self, face: Any) -> tuple[Key, ...]:
        keys: list[Key] = []
        for sort in (EDGE, CORNER):
            own = _mapped(face, SORTS[sort])
            pieces = [own.FindKey(i) for i in range(1, own.Extent() + 1)]
            # the tip of a cone is an edge without length: its corner stands for it
            pieces = [p for p in pieces if sort == CORNER or not BRep_Tool.Degenerated_s(TopoDS.Edge(p))]
            keys += [(sort, self._maps[sort].FindIndex(p)) for p in pieces]
        return tuple(keys)

    def cells(self, key: Key) -> Floats:
        """Boxes that hold a piece between them (k, 6) [mm]."""
        found = self._cells.get(key)
        if found is None:
            piece = self.piece(key)
            whole = _box(piece)
            long = key[0] != CORNER and float(np.linalg.norm(whole[3:] - whole[:3])) > CELL
            cut = (_edge_cells(piece) if key[0] == EDGE else _face_cells(piece)) if long else []
            found = np.array(cut) if cut else whole[None]
            self._cells[key] = found
        return found

    def is_straight(self, key: Key) -> bool:
        """Whether an edge is a straight line."""
        return bool(BRepAdaptor_Curve(TopoDS.Edge(self.piece(key))).GetType() == GeomAbs_CurveType.GeomAbs_Line)

    def fine_cells(self, key: Key) -> Floats:
        """Boxes that hold an edge between them, many more of them (k, 6) [mm]."""
        found = self._fine.get(key)
        if found is None:
            found = self._fine[key] = np.array(_edge_cells(self.piece(key), FINE_CELLS))
        return found


def _mapped(shape: Any, sort: Any) -> Any:
    """Every piece of a sort in a kernel shape once, numbered as the shape has them."""
    found = TopTools_IndexedMapOfShape()
    TopExp.MapShapes_s(shape, sort, found)
    return found


def _box(piece: Any) -> Floats:
    box = Bnd_Box()
    BRepBndLib.Add_s(piece, box, False)
    return _numbers(box)


def _numbers(box: Any) -> Floats:
    box.Enlarge(SPARE_BOX)
    return np.array(box.Get())


def _edge_cells(piece: Any, count: int = 0) -> list[Floats]:
    """Boxes of so many steps along an edge; as many as cells are long when no count is given."""
    curve = BRepAdaptor_Curve(TopoDS.Edge(piece))
    first, last = curve.FirstParameter(), curve.LastParameter()
    found = []
    for low, high in _steps(first, last, lambda u: curve.Value(u), count=count):
        box = Bnd_Box()
        BndLib_Add3dCurve.Add_s(curve, low, high, BRep_Tool.Tolerance_s(TopoDS.Edge(piece)), box)
        found.append(_numbers(box))
    return found


def _face_cells(piece: Any) -> list[Floats]:
    """Cells of the surface within the face's range; what the face leaves out of them makes them no smaller."""
    surface = BRepAdaptor_Surface(TopoDS.Face(piece), True)
    if surface.GetType() not in CUT_UP:
        return []
    u0, u1 = surface.FirstUParameter(), surface.LastUParameter()
    v0, v1 = surface.FirstVParameter(), surface.LastVParameter()
    along = _steps(u0, u1, lambda u: surface.Value(u, v0), lambda u: surface.Value(u, v1))
    across = _steps(v0, v1, lambda v: surface.Value((u0 + u1) / 2.0, v))
    found = []
    for a, b in along:
        for c, d in across:
            box = Bnd_Box()
            BndLib_AddSurface.Add_s(surface, a, b, c, d, BRep_Tool.Tolerance_s(TopoDS.Face(piece)), box)
            found.append(_numbers(box))
    return found


def _steps(first: float, last: float, *lines: Any, count: int = 0) -> list[tuple[float, float]]:
    """The range in so many steps, or in steps that are about a cell long on the longest of these lines."""
    stops = [first + (last - first) * k / 8.0 for k in range(9)]
    long = 0.0
    for line in lines:
        points = [line(s) for s in stops]
        long = max(long, sum(p.Distance(q) for p, q in pairwise(points)))
    count = count or min(MOST_CELLS, max(1, math.ceil(long / CELL)))
    ends = [first + (last - first) * k / count for k in range(count + 1)]
    return list(pairwise(ends))


def nearest(a: Skin, b: Skin, rotation: Matrix, origin: Vector, upper: float) -> Nearest:
    """The distance of two shapes whose surfaces do not cross, by the kernel, and the nearest points.

    Args:
        a: Stands still.
        b: Moved: p_there = rotation @ p + origin.
        rotation: Rows of a rotation matrix (3, 3).
        origin: (3,) [mm].
        upper: What the distance is thought not to exceed [mm]; the answer is the same with any other.
    """
    trsf = gp_Trsf()
    trsf.SetValues(*rotation[0], origin[0], *rotation[1], origin[1], *rotation[2], origin[2])
    place = TopLoc_Location(trsf)
    turn, shift = np.array(rotation), np.array(origin)
    with kernel_faults("distance", "the nearest points"):
        found = _searched(a, b, turn, shift, place, upper + SPARE)
        if found is not None:
            return found
        distance, point, other = exact_distance(a.shape, cq.Shape.cast(b.shape.wrapped.Moved(place)))
    return Nearest(distance, point, other)


def _searched(a: Skin, b: Skin, turn: Floats, shift: Floats, place: Any, limit: float) -> Nearest | None:
    """The nearest points within the limit; None where nothing is within it."""
    first, second = _facing(a, b, turn, shift, limit)
    if not first or not second:
        return None
    best: Nearest | None = None
    moved: dict[Key, Any] = {}
    asked = 0
    for bound, one, two in _in_order(a, b, first, second, turn, shift, limit):
        if bound > limit or (one[0] == two[0] == EDGE and _edges_apart(a, b, one, two, turn, shift) > limit):
            continue
        if two not in moved:
            moved[two] = b.piece(two).Moved(place)
        asked += 1
        search = BRepExtrema_DistanceSS(
            a.piece(one), moved[two], _WIDE, _WIDE, limit, theExtFlag=Extrema_ExtFlag.Extrema_ExtFlag_MIN
        )
        if search.IsDone() and search.Seq1Value().Size() and (best is None or search.DistValue() < best.distance):
            p, q = search.Seq1Value().First().Point(), search.Seq2Value().First().Point()
            best = Nearest(float(search.DistValue()), (p.X(), p.Y(), p.Z()), (q.X(), q.Y(), q.Z()))
            limit = min(limit, best.distance)
    return None if best is None else Nearest(best.distance, best.point, best.other, asked)


def _facing(a: Skin, b: Skin, turn: Floats, shift: Floats, limit: float) -> tuple[list[Key], list[Key]]:
    """Faces with their edges and corners that can be within the limit of the other shape."""
    near = _lengths(a.boxes, _whole(b), turn, shift)[:, 0] <= limit
    own = np.flatnonzero(near)
    if not own.size:
        return [], []
    apart = _lengths(a.boxes[own], b.boxes, turn, shift)
    hits = apart <= limit
    return a.pieces(own[hits.any(axis=1)]), b.pieces(np.flatnonzero(hits.any(axis=0)))


def _whole(skin: Skin) -> Floats:
    return skin.bounds.reshape(1, 6)


def _in_order(
    a: Skin, b: Skin, first: Sequence[Key], second: Sequence[Key], turn: Floats, shift: Floats, limit: float
) -> list[tuple[float, Key, Key]]:
    """Pairs of pieces that can be within the limit, with the distance their cells leave; quick ones first."""
    ours, theirs = [a.cells(k) for k in first], [b.cells(k) for k in second]
    own, far = (np.repeat(np.arange(len(c)), [len(x) for x in c]) for c in (ours, theirs))
    cells, others = np.concatenate(ours), np.concatenate(theirs)
    keep = _lengths(cells, _hull(others), turn, shift)[:, 0] <= limit
    cells, own = cells[keep], own[keep]
    if not len(cells):
        return []
    keep = _lengths(_hull(cells), others, turn, shift)[0] <= limit
    others, far = others[keep], far[keep]
    apart = _lengths(cells, others, turn, shift)
    least = np.full((len(first), len(second)), np.inf)
    i, j = np.nonzero(apart <= limit)
    np.minimum.at(least, (own[i], far[j]), apart[i, j])
    pairs = [(float(least[i, j]), first[i], second[j]) for i, j in zip(*np.nonzero(least <= limit), strict=True)]
    return sorted(pairs, key=lambda p: (SLOW.get((p[1][0], p[2][0]), 0), p))


def _edges_apart(a: Skin, b: Skin, one: Key, two: Key, turn: Floats, shift: Floats) -> float:
    """Distance that short cells of two edges leave [mm]; 0 for straight ones, which the kernel is quick with."""
    if a.is_straight(one) and b.is_straight(two):
        return 0.0
    return float(_lengths(a.fine_cells(one), b.fine_cells(two), turn, shift).min())


def _hull(boxes: Floats) -> Floats:
    return np.concatenate([boxes[:, :3].min(axis=0), boxes[:, 3:].max(axis=0)])[None]


def _lengths(a: Floats, b: Floats, turn: Floats, shift: Floats) -> Floats:
    """Distance that boxes leave, the better of a's axes and b's, shape (n, m) [mm]."""
    back = turn.T
    return np.maximum(_one_way(a, b, turn, shift), _one_way(b, a, back, -back @ shift).T)


def _one_way(a: Floats, b: Floats, turn: Floats, shift: Floats) -> Floats:
    """In a's axes; b's boxes are turned and held by larger ones."""
    middle = (b[:, :3] + b[:, 3:]) / 2.0 @ turn.T + shift
    half = (b[:, 3:] - b[:, :3]) / 2.0 @ np.abs(turn).T
    total = np.zeros((len(a), len(b)))
    for k in range(3):
        gap = np.maximum(a[:, None, k] - (middle + half)[None, :, k], (middle - half)[None, :, k] - a[:, None, k + 3])
        total += np.maximum(gap, 0.0) ** 2
    return np.asarray(np.sqrt(total), dtype=np.float64)


def farthest_along(skin: Skin, way: Vector, thought: float) -> tuple[float, Vector]:
    """How far a shape reaches in a direction from the origin of its frame [mm], by the kernel, and the point there.

    Args:
        skin: Of the shape.
        way: Unit direction (3,).
        thought: What it reaches at least [mm]: that of any points of it.
    """
    low, high = skin.bounds
    way_, middle = np.array(way), (low + high) / 2.0
    side = float(np.linalg.norm(high - low)) + 1.0
    # a square beyond all of it: nothing reaches farther than the corners of the box
    beyond = float(middle @ way_ + np.abs(way_) @ (high - low) / 2.0) + 1.0
    foot = middle + (beyond - float(middle @ way_)) * way_
    with kernel_faults("distance", "the plane beyond"):
        square = cq.Face.makePlane(side, side, cq.Vector(*foot.tolist()), cq.Vector(*way))
    upright = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    found = nearest(skin, Skin(square), upright, (0.0, 0.0, 0.0), beyond - thought)
    return beyond - found.distance, found.point
