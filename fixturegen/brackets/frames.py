"""How plates of a bracket stand: part frames from a hardpoint, a bolt and what the bracket stands on."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.model import Point
from fixturegen.errors import GeometryFault
from fixturegen.plate import Placement
from fixturegen.plate.part import Matrix
from fixturegen.studies.bracket_records import FlatBase, Mount, TubeBase

ASKEW = 55.0
"""Most a plate stands askew to a tube it sits on [deg]: beyond it the edge grows long and thin (common practice)."""


ALONG = 1e-6  # [1] cosine of a plate's normal with its tube below which the plate runs along the tube


@dataclass(frozen=True, eq=False)
class Stand:
    """A part frame in A: p_A = rotation @ p_part + origin.

    Attributes:
        origin: Shape (3,) [mm].
        rotation: Columns are the part's x, y and z in A, shape (3, 3).
    """

    origin: Array
    rotation: Array

    def inward(self, point: Point | Array) -> Array:
        """A point of A in the part frame, shape (3,) [mm]."""
        return np.asarray(self.rotation.T @ (np.asarray(point) - self.origin), dtype=np.float64)

    def direction(self, way: Point | Array) -> Array:
        """A direction of A in the part frame, shape (3,)."""
        return np.asarray(self.rotation.T @ np.asarray(way), dtype=np.float64)

    def outward(self, x: float, y: float, z: float = 0.0) -> Point:
        """A point of the part frame in A [mm]."""
        p = self.rotation @ np.array([x, y, z]) + self.origin
        return float(p[0]), float(p[1]), float(p[2])

    def placement(self, part: str, group: str) -> Placement:
        """Where a part stands."""
        a, b, c = ((float(r[0]) + 0.0, float(r[1]) + 0.0, float(r[2]) + 0.0) for r in self.rotation)
        rows: Matrix = (a, b, c)
        x, y, z = (float(v) + 0.0 for v in self.origin)
        return Placement(part, (x, y, z), rows, group)


def away(mount: Mount, normal: Array) -> Array:
    """Unit direction in a plane, from what a bracket stands on to its hardpoint.

    Args:
        mount: The bracket.
        normal: Of the plane, unit, in A.

    Raises:
        GeometryFault: When the plane runs along the tube, or the hardpoint lies on the tube's middle line.
    """
    base, point = mount.base, np.array(mount.point)
    if isinstance(base, FlatBase):
        way = np.array(base.normal)
        way = way - (way @ normal) * normal
    else:
        along = np.array(base.along)
        slant = float(along @ normal)
        if abs(slant) < ALONG:
            return _beside(mount, normal, along)
        if abs(slant) < np.cos(np.radians(ASKEW)):
            turn = np.degrees(np.arccos(min(1.0, abs(slant))))
            words = f"its plates would stand {turn:.0f} deg askew to the {base.words}, more than {ASKEW:.0f} deg"
            raise GeometryFault(mount.label, words, "give bolt_way nearer to the tube, or stand it on a plate")
        start = np.array(base.point)
        on_axis = start + along * float((point - start) @ normal) / slant
        way = point - on_axis
    long = float(np.linalg.norm(way))
    if long < 1e-6:
        words = f"its hardpoint lies on the middle line of the {base.words}"
        raise GeometryFault(mount.label, words, "check the point: a joint stands outside what its bracket is welded to")
    return np.asarray(way / long, dtype=np.float64)


def _beside(mount: Mount, normal: Array, along: Array) -> Array:
    """Unit direction square to a tube in a plane that runs along it, toward the hardpoint."""
    way = np.cross(normal, along)
    high = float((np.array(mount.point) - np.array(mount.base.point)) @ way)
    if abs(high) < 1e-6:
        words = f"its plate would run along the {mount.base.words} beside the hardpoint, so it reaches it from no side"
        raise GeometryFault(mount.label, words, "give bolt_way, or check the point")
    return np.asarray(way * np.copysign(1.0, high), dtype=np.float64)


def upright(mount: Mount, offset: float, outward: int) -> Stand:
    """A plate square to the bolt: y away from what the bracket stands on, origin on the bolt's line.

    Args:
        mount: The bracket.
        offset: Of its face with z = 0, along the bolt from the joint's middle [mm].
        outward: +1: z along the bolt; -1: against it.

    Raises:
        GeometryFault: As `away`.
    """
    z = outward * np.array(mount.bolt)
    y = away(mount, np.array(mount.bolt))
    x = np.cross(y, z)
    return Stand(np.array(mount.point) + offset * np.array(mount.bolt), np.stack([x, y, z], axis=1))


def tube_in(stand: Stand, base: TubeBase) -> tuple[Array, Array]:
    """(point, unit direction) of a tube's middle line in a part frame, each of shape (3,)."""
    return stand.inward(base.point), stand.direction(base.along)
