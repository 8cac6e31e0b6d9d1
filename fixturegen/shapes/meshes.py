"""Triangle meshes of solids: absolute deflection, distance, containment, clearance, rays."""

from __future__ import annotations

import hashlib
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property
from typing import Any

import cadquery as cq
import fcl
import numpy as np
import numpy.typing as npt
from OCP.BRep import BRep_Tool
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.BRepMesh import BRepMesh_IncrementalMesh
from OCP.BRepTools import BRepTools
from OCP.TopAbs import TopAbs_Orientation
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS

from fixturegen import keeping
from fixturegen.errors import GeometryFault
from fixturegen.keeping import key_of
from fixturegen.plate.part import Matrix, Vector
from fixturegen.shapes.cache import shape_key
from fixturegen.shapes.kernel import Shape, Solid
from fixturegen.shapes.primitives import bounding_box, common, volume

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Pose = tuple[Matrix, Vector]

DEFLECTION = 0.1  # [mm] sag of the mesh unless told: ninety times faster than the exact kernel
MESH_ANGLE_RAD = 0.5  # [rad] between neighbouring facets; only the deflection is a promise
CONTACT = 1e-6  # [mm] distances are told no finer than this


@dataclass(frozen=True, eq=False)
class Mesh:
    """A closed triangle mesh.

    Attributes:
        vertices: (n, 3) [mm].
        faces: Indices into `vertices` (m, 3), counter-clockwise seen from outside.
        deflection: Farthest the mesh lies from the true surface [mm].
    """

    vertices: Floats
    faces: Ints
    deflection: float

    @cached_property
    def triangles(self) -> Floats:
        """Corners of every facet (m, 3, 3) [mm]."""
        return self.vertices[self.faces]

    @cached_property
    def bounds(self) -> Floats:
        """Low and high corner (2, 3) [mm]."""
        return np.stack([self.vertices.min(axis=0), self.vertices.max(axis=0)])

    @cached_property
    def tree(self) -> Any:
        """The search tree of the distance library, built when first asked for and once for all poses."""
        tree = fcl.BVHModel()
        tree.beginModel(len(self.vertices), len(self.faces))
        tree.addSubModel(self.vertices, self.faces)
        tree.endModel()
        return tree

    @cached_property
    def digest(self) -> str:
        """Digest of all it is made of (hex)."""
        found = hashlib.sha256(np.ascontiguousarray(self.vertices).tobytes())
        found.update(np.ascontiguousarray(self.faces).tobytes())
        found.update(repr(float(self.deflection)).encode())
        return found.hexdigest()

    @property
    def volume(self) -> float:
        """Volume inside the mesh [mm3], by the divergence theorem."""
        a, b, c = self.triangles[:, 0], self.triangles[:, 1], self.triangles[:, 2]
        return float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6.0)


def mesh_of(solid: Shape, deflection: float = DEFLECTION) -> Mesh:
    """The surface of a solid as triangles that never lie farther off it than the deflection.

    Args:
        solid: A solid or a compound of solids.
        deflection: Absolute [mm].
    """
    digest, location = shape_key(solid)
    own = solid.wrapped.Located(TopLoc_Location())
    raw = keeping.kept("mesh", key_of(("mesh", digest, deflection)), lambda: _packed(_own_mesh(own, deflection)))
    count = int.from_bytes(raw[:8], "little")
    vertices = np.frombuffer(raw, np.float64, 3 * count, 8).reshape(-1, 3)
    faces = np.frombuffer(raw, np.int64, offset=8 + 24 * count).reshape(-1, 3)
    place = np.array(location).reshape(3, 4)
    return Mesh(vertices @ place[:, :3].T + place[:, 3], faces, deflection)


def _packed(mesh: tuple[Floats, Ints]) -> bytes:
    vertices, faces = mesh
    return len(vertices).to_bytes(8, "little") + vertices.tobytes() + faces.tobytes()


def _own_mesh(shape: Any, deflection: float) -> tuple[Floats, Ints]:
    """Vertices (n, 3) [mm] and facets (m, 3) of a kernel shape where it was drawn."""
    # an older, coarser mesh on the shape would be taken over
    BRepTools.Clean_s(shape)
    BRepMesh_IncrementalMesh(shape, deflection, False, MESH_ANGLE_RAD, True)
    points: list[Floats] = []
    facets: list[Ints] = []
    count = 0
    for face in cq.Shape.cast(shape).Faces():
        place = TopLoc_Location()
        mesh = BRep_Tool.Triangulation_s(TopoDS.Face(face.wrapped), place)
        if mesh is None:
            raise GeometryFault("mesh", "a face has no triangles", "check the shape for a flaw")
        trsf = place.Transformation()
        nodes = [mesh.Node(i).Transformed(trsf) for i in range(1, mesh.NbNodes() + 1)]
        points.append(np.array([(p.X(), p.Y(), p.Z()) for p in nodes]))
        corners = np.array([mesh.Triangle(i).Get() for i in range(1, mesh.NbTriangles() + 1)])
        if face.wrapped.Orientation() == TopAbs_Orientation.TopAbs_REVERSED:
            corners = corners[:, ::-1]
        facets.append(corners - 1 + count)
        count += len(nodes)
    return _welded(np.concatenate(points), np.concatenate(facets))


def _welded(points: Floats, facets: Ints) -> tuple[Floats, Ints]:
    # faces mesh their shared edges alike, so equal points are one point; slivers of none area go
    rounded = np.round(points, 7) + 0.0
    _, first, inverse = np.unique(rounded, axis=0, return_index=True, return_inverse=True)
    faces = inverse.reshape(-1)[facets]
    keep = (faces[:, 0] != faces[:, 1]) & (faces[:, 1] != faces[:, 2]) & (faces[:, 2] != faces[:, 0])
    return points[first], faces[keep].astype(np.int64)


@dataclass(eq=False)
class Body:
    """A mesh with the search tree that makes distances quick.

    Attributes:
        mesh: The mesh.
        name: What findings call it.
        pose: (rotation (3, 3), origin (3,) [mm]) it stands in: p_world = rotation @ p + origin.
    """

    mesh: Mesh
    name: str = ""
    pose: Pose = field(default=(((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), (0.0,) * 3))

    def at(self, pose: Pose) -> Body:
        """The same body (and tree) in another pose."""
        return Body(self.mesh, self.name, pose)

    def world(self, points: Floats) -> Floats:
        """Points (n, 3) [mm] of the body's own frame in the common frame."""
        rotation, origin = np.asarray(self.pose[0], float), np.asarray(self.pose[1], float)
        moved: Floats = np.asarray(points, float) @ rotation.T + origin
        return moved

    def own(self, points: Floats) -> Floats:
        """Points (n, 3) [mm] of the common frame in the body's own frame."""
        rotation, origin = np.asarray(self.pose[0], float), np.asarray(self.pose[1], float)
        moved: Floats = (np.asarray(points, float) - origin) @ rotation
        return moved

    @cached_property
    def box(self) -> Floats:
        """Low and high corner (2, 3) [mm] of a box in the common frame that holds the body."""
        low, high = self.mesh.bounds
        centre = self.world((low + high)[None, :] / 2.0)[0]
        half = np.abs(np.asarray(self.pose[0])) @ ((high - low) / 2.0)
        return np.stack([centre - half, centre + half])

    @cached_property
    def object(self) -> Any:
        """The body as the distance library takes it."""
        place = fcl.Transform(np.asarray(self.pose[0], dtype=float), np.asarray(self.pose[1]))
        return fcl.CollisionObject(self.mesh.tree, place)


def body_of(solid: Shape, name: str = "", deflection: float = DEFLECTION) -> Body:
    """The body of a solid: its mesh within the deflection [mm] and the search tree."""
    return Body(mesh_of(solid, deflection), name)


def mesh_distance(a: Body, b: Body) -> tuple[float, Vector, Vector]:
    """Distance between two mesh surfaces [mm], 0 when they cross, and the nearest point on each.

    A body wholly inside the other has a positive distance too: ask `clearance`, not this alone.
    """
    result = fcl.DistanceResult()
    request = fcl.DistanceRequest(enable_nearest_points=True)
    distance = float(fcl.distance(a.object, b.object, request, result))
    point_a, point_b = (np.asarray(p) for p in result.nearest_points)
    # releases differ in whether these points come in the common frame or in each body's own;
    # only in the right one do they stand as far apart as the answer says
    if abs(float(np.linalg.norm(point_a - point_b)) - max(0.0, distance)) > CONTACT:
        point_a, point_b = a.world(point_a[None, :])[0], b.world(point_b[None, :])[0]
    return max(0.0, distance), _vector(point_a), _vector(point_b)


def meshes_collide(a: Body, b: Body) -> bool:
    """Whether the two mesh surfaces cross."""
    return bool(fcl.collide(a.object, b.object, fcl.CollisionRequest(), fcl.CollisionResult()))


def contains(a: Body, point: Vector) -> bool:
    """Whether the point (3,) [mm] of the common frame lies inside the body (winding number)."""
    p = a.own(np.array([point]))[0]
    return abs(_winding(a.mesh, p)) > 0.5


def _winding(mesh: Mesh, point: Floats) -> float:
    # solid angle of every facet; Source: Van Oosterom and Strackee, IEEE Trans. Biomed. Eng. 1983
    corners = mesh.triangles - point
    lengths = np.linalg.norm(corners, axis=2)
    a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
    la, lb, lc = lengths[:, 0], lengths[:, 1], lengths[:, 2]
    triple = np.einsum("ij,ij->i", a, np.cross(b, c))
    below = (
        la * lb * lc
        + np.einsum("ij,ij->i", a, b) * lc
        + np.einsum("ij,ij->i", b, c) * la
        + np.einsum("ij,ij->i", c, a) * lb
    )
    return float(np.arctan2(triple, below).sum() / (2.0 * math.pi))


class State(StrEnum):
    """How two bodies stand to each other; bodies that touch count as overlapping."""

    APART = "apart"
    OVERLAP = "overlap"
    INSIDE = "inside"


@dataclass(frozen=True)
class Clearance:
    """The gap between two bodies.

    Attributes:
        state: Apart, overlapping, or one wholly inside the other's material.
        gap: Distance that is safe to rely on [mm]: mesh distance less both deflections; 0 unless
            apart, and 0 when the deflections eat it up.
        measured: Distance of the meshes [mm].
        point: Nearest point on the first body (3,) [mm], common frame.
        other: Nearest point on the second body (3,) [mm], common frame.
        pose: Index of the pose it was found in.
        names: Names of both bodies.
    """

    state: State
    gap: float
    measured: float
    point: Vector
    other: Vector
    pose: int = 0
    names: tuple[str, str] = ("", "")


def clearance(a: Body, b: Body) -> Clearance:
    """The gap between two bodies, overlap and containment told apart."""
    names = (a.name, b.name)
    measured, point, other = mesh_distance(a, b)
    if measured <= 0.0:
        return Clearance(State.OVERLAP, 0.0, 0.0, point, other, names=names)
    # surfaces that do not cross: one vertex tells where a whole body is; pieces of a compound too
    if any_inside(a, b) or any_inside(b, a):
        return Clearance(State.INSIDE, 0.0, measured, point, other, names=names)
    gap = max(0.0, measured - a.mesh.deflection - b.mesh.deflection)
    return Clearance(State.APART, gap, measured, point, other, names=names)


def any_inside(outer: Body, inner: Body) -> bool:
    """Whether a piece of a body lies wholly inside another, told by one vertex of it; surfaces do not cross."""
    low, high = outer.box
    for index in _one_vertex_each(inner.mesh):
        point = inner.world(inner.mesh.vertices[index][None, :])[0]
        if bool(np.all(point >= low) and np.all(point <= high)) and contains(outer, _vector(point)):
            return True
    return False


def _one_vertex_each(mesh: Mesh) -> list[int]:
    """One vertex of each connected piece of the mesh."""
    cached: list[int] | None = mesh.__dict__.get("_pieces")
    if cached is None:
        label = np.arange(len(mesh.vertices))
        while True:
            lowest = label[mesh.faces].min(axis=1)
            after = label.copy()
            for k in range(3):
                np.minimum.at(after, mesh.faces[:, k], lowest)
            # jump to the label's own label, so that long chains close in few rounds
            after = after[after]
            if np.array_equal(after, label):
                break
            label = after
        cached = [int(i) for i in np.unique(label[np.unique(mesh.faces)])]
        mesh.__dict__["_pieces"] = cached
    return cached


def swept_clearance(moving: Body, poses: Sequence[Pose], fixed: Iterable[Body]) -> tuple[Clearance, ...]:
    """The tightest clearance of the moving body to each fixed one over all poses, in their order.

    A contact at any pose (overlap, or inside) stands before every gap. Poses are samples: choose
    steps no longer than the gap that matters, since nothing is known of what lies between them.

    Args:
        moving: The body that moves; its own pose is not used.
        poses: Rotation (3, 3) and origin (3,) [mm] of each step.
        fixed: What stands still.
    """
    return tuple(_tightest(moving, poses, body) for body in fixed)


def _tightest(moving: Body, poses: Sequence[Pose], body: Body) -> Clearance:
    worst: Clearance | None = None
    low, high = body.box
    for index, pose in enumerate(poses):
        there = moving.at(pose)
        if worst is not None and worst.state is State.APART:
            here_low, here_high = there.box
            apart = np.maximum(0.0, np.maximum(here_low - high, low - here_high))
            # boxes already farther apart than the worst gap need no closer look
            if float(np.linalg.norm(apart)) > worst.measured:
                continue
        found = clearance(there, body)
        if worst is None or found.state is not State.APART or found.measured < worst.measured:
            worst = Clearance(found.state, found.gap, found.measured, found.point, found.other, index, found.names)
        if worst.state is not State.APART:
            return worst
    if worst is None:
        raise GeometryFault("motion", "it has no poses", "give at least one")
    return worst


def exact_distance(a: Solid, b: Solid) -> tuple[float, Vector, Vector]:
    """Distance of two solids [mm] by the kernel, 0 when they share material, and nearest points."""
    search = BRepExtrema_DistShapeShape(a.wrapped, b.wrapped)
    if not search.IsDone() or search.NbSolution() < 1:
        raise GeometryFault("distance", "the kernel gave none", "check both shapes for a flaw")
    p, q = search.PointOnShape1(1), search.PointOnShape2(1)
    return float(search.Value()), (p.X(), p.Y(), p.Z()), (q.X(), q.Y(), q.Z())


def boxes_apart(a: Solid, b: Solid, margin: float = 0.0) -> bool:
    """Whether the bounding boxes of two solids stand more than the margin [mm] apart."""
    p, q = bounding_box(a), bounding_box(b)
    return any(p[i] > q[i + 3] + margin or q[i] > p[i + 3] + margin for i in range(3))


def interferes(a: Solid, b: Solid) -> float:
    """Volume the two solids share [mm3]; 0 when they only touch."""
    return 0.0 if boxes_apart(a, b) else max(0.0, volume(common(a, b)))


def _vector(point: Floats) -> Vector:
    return (float(point[0]), float(point[1]), float(point[2]))
