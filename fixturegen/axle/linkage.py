"""What holds an axle: links between the frame and the axle, and how the axle stands on them at ride height.

Frame ends are given in V (ride height). Axle ends are given in V or in A; the program works with them in A.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from fixturegen.axle import frames
from fixturegen.axle.frames import Array, as_point
from fixturegen.axle.model import Point

Kind = Literal["four-link", "three-link", "five-link", "wishbone", "radius-arms", "truck-arms", "leaf-springs"]
Part = Literal["rod", "arm", "wishbone", "guide"]

HELD = 4
"""Independent lengths that leave an axle heave and roll, and nothing else."""


@dataclass(frozen=True)
class Joint:
    """One end of a link.

    Attributes:
        point: Joint centre [mm].
        at: Frame of `point` and `bolt`: vehicle (V, at ride height) or axle (A).
        bolt: Direction of the bolt through the joint, any length; None where it was not given.
        limit: Largest misalignment the joint takes either way [deg]; None where not given.
        rate: Of its bush along the link [N/mm]; None: taken as stiff.
        tolerance: Of the measured point, either way [mm].
    """

    point: Point
    at: Literal["vehicle", "axle"] = "vehicle"
    bolt: Point | None = None
    limit: float | None = None
    rate: float | None = None
    tolerance: float = 0.0


@dataclass(frozen=True)
class Link:
    """A straight line between two joint centres, of a length that stays.

    Attributes:
        name: lower-left, upper-right, track-bar ...; findings and the sheet call it so.
        frame: End on the frame, always in V.
        axle: End on the axle, in V or in A.
        part: What it is a line of: a rod with two joints; an arm held to the axle at two points; a
            wishbone with two frame points and one joint on the axle; a guide that holds the axle end
            in one direction only, as an endless link would.
        body: Name shared by the lines of one arm or one wishbone; the link's own name for a rod.
        direction: Of a guide, in V.
    """

    name: str
    frame: Joint
    axle: Joint
    part: Part = "rod"
    body: str = ""
    direction: Point | None = None

    @property
    def key(self) -> str:
        """Dotted sheet key of the link: lower-left is links.lower.left, upper links.upper.middle."""
        if self.name == "upper":
            return "links.upper.middle"
        head, _, side = self.name.rpartition("-")
        if side in ("left", "right", "front", "rear") and head:
            return f"links.{head.replace('-', '.')}.{side}"
        return f"links.{self.name.replace('-', '_')}"

    @property
    def rate(self) -> float | None:
        """Of both bushes in a row [N/mm]; None when both ends are stiff.

        Source: geometry, springs in a row: 1/k = 1/k1 + 1/k2.
        """
        soft = [1.0 / r for r in (self.frame.rate, self.axle.rate) if r is not None]
        return 1.0 / sum(soft) if soft else None


@dataclass(frozen=True)
class Stance:
    """How the axle stands in V at ride height, level from left to right.

    Attributes:
        front: Whether it is the front axle.
        wheelbase: Between the axle lines [mm].
        loaded_radius: Ground to axle centre [mm].
        pinion_angle: Nose above level [deg].
        half_track: From the middle of the axle to the middle of a tyre [mm].
    """

    front: bool
    wheelbase: float
    loaded_radius: float
    pinion_angle: float
    half_track: float

    @property
    def pinion_sign(self) -> int:
        """+1 where the pinion points to +X (rear axle), -1 for a front axle."""
        return -1 if self.front else 1

    @property
    def origin(self) -> Array:
        """Axle centre in V at ride height, shape (3,) [mm]."""
        return np.array([0.0 if self.front else -self.wheelbase, 0.0, self.loaded_radius])

    @property
    def rotation(self) -> Array:
        """Rotation that takes A to V at ride height, shape (3, 3).

        Source: iso-8855, axes; a front pinion points to -X, so that a raised nose is a turn by +p.
        """
        return frames.turn_about_y(-self.pinion_sign * self.pinion_angle)

    @property
    def patches(self) -> Array:
        """Contact points of the left and right tyre in A, at ride straight below the wheels, shape (2, 3) [mm]."""
        down = self.rotation.T @ np.array([0.0, 0.0, -self.loaded_radius])
        return np.asarray(self.wheels + down, dtype=np.float64)

    @property
    def wheels(self) -> Array:
        """Wheel centres in A, left and right, shape (2, 3) [mm]."""
        return np.array([[0.0, self.half_track, 0.0], [0.0, -self.half_track, 0.0]])

    def to_axle(self, point: Point) -> Array:
        """A point of V at ride height in A, shape (3,) [mm]."""
        return np.asarray(self.rotation.T @ (np.array(point) - self.origin), dtype=np.float64)

    def to_vehicle(self, point: Point) -> Array:
        """A point of A in V at ride height, shape (3,) [mm]."""
        return np.asarray(self.rotation @ np.array(point) + self.origin, dtype=np.float64)

    def in_axle(self, joint: Joint) -> Array:
        """A joint on the axle in A, shape (3,) [mm]."""
        return np.array(joint.point) if joint.at == "axle" else self.to_axle(joint.point)


@dataclass(frozen=True)
class Linkage:
    """The links of one axle.

    Attributes:
        kind: Which linkage it is called.
        stance: How the axle stands at ride height.
        links: In the order of the sheet.
        approximate: Whether it stands for something that is no linkage (leaf springs).
    """

    kind: Kind
    stance: Stance
    links: tuple[Link, ...]
    approximate: bool = False

    @property
    def names(self) -> tuple[str, ...]:
        """Names of the links in their order."""
        return tuple(k.name for k in self.links)

    def frame_points(self) -> Array:
        """Ends on the frame in V, shape (n, 3) [mm]."""
        return np.array([k.frame.point for k in self.links], dtype=np.float64)

    def axle_points(self) -> Array:
        """Ends on the axle in A, shape (n, 3) [mm]."""
        return np.array([self.stance.in_axle(k.axle) for k in self.links], dtype=np.float64)

    def lengths(self) -> Array:
        """Length of each link, shape (n,) [mm]; of a guide the distance at ride height, which is not held."""
        there = np.array([self.stance.to_vehicle(as_point(p)) for p in self.axle_points()])
        return np.asarray(np.linalg.norm(there - self.frame_points(), axis=1), dtype=np.float64)

    def rates(self) -> Array | None:
        """Rate of each link, shape (n,) [N/mm], stiff ones infinite; None when all are stiff."""
        rates = [k.rate for k in self.links]
        if all(r is None for r in rates):
            return None
        return np.array([math.inf if r is None else r for r in rates])
