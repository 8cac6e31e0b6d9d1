"""The axle, its wheels and its links as they move against the frame: poses for claims about brackets."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array, as_point
from fixturegen.axle.linkage import Link, Stance
from fixturegen.axle.poses import Poses, wheel_travel
from fixturegen.axle.travel import poses_at
from fixturegen.checks.registry import Job
from fixturegen.checks.scene import Thing
from fixturegen.errors import InputFault
from fixturegen.plate.part import Matrix, Vector
from fixturegen.studies.link_inputs import linkage_on

BETWEEN = 4  # poses between ride height and each end of the travel, both alike and crossed
LOCKS = (0.0, -1.0, -0.5, 0.5, 1.0)  # of the lock; straight ahead first
Pose = tuple[Matrix, Vector]


@dataclass(frozen=True, eq=False)
class Motion:
    """The axle over its travel, against the frame.

    Attributes:
        ids: Name of each pose.
        turns: Rotation from the axle's frame to the same frame at ride height, shape (m, 3, 3).
        shifts: Shape (m, 3) [mm].
        links: The links, their ends in A and in the axle's frame at ride height.
    """

    ids: tuple[str, ...]
    turns: Array
    shifts: Array
    links: tuple[Link, ...]
    stance: Stance

    def pose(self, i: int) -> Pose:
        """Rotation and shift of one pose."""
        return _rows(self.turns[i]), as_point(self.shifts[i])

    def point(self, i: int, point: Array) -> Array:
        """A point of the axle at a pose, shape (3,) [mm]."""
        return np.asarray(self.turns[i] @ point + self.shifts[i])


def motion_of(job: Job) -> Motion | None:
    """The axle over its travel; None without links, or where they are no linkage (LNK-01 says so)."""
    if job.sheet.links is None:
        return None
    if "brackets.motion" not in job.store:
        try:
            job.store["brackets.motion"] = _motion(job)
        except InputFault:
            job.store["brackets.motion"] = None
    found = job.store["brackets.motion"]
    return found if isinstance(found, Motion) else None


def _motion(job: Job) -> Motion | None:
    links = job.sheet.links
    if links is None:
        return None
    linkage = linkage_on(job.sheet, job.axle)
    bump, droop = float(links.bump), float(links.droop)
    shares = np.arange(1, BETWEEN + 1) / BETWEEN
    ups, downs = bump * shares, -droop * shares
    left = np.concatenate([[0.0], ups, downs, ups, downs])
    right = np.concatenate([[0.0], ups, downs, downs, ups])
    names = ["ride"]
    for word in ("bump", "droop", "cross-L", "cross-R"):
        names += [word if s == 1.0 else f"{100.0 * s:.0f} % of {word}" for s in shares]
    heave, roll = wheel_travel(left, right, linkage.stance.half_track)
    poses: Poses = poses_at(linkage, heave, roll)
    stance = linkage.stance
    back = stance.rotation.T
    turns = np.einsum("ij,mjk->mik", back, poses.rotations())
    shifts = (poses.origins() - stance.origin) @ back.T
    there = poses.reached
    return Motion(
        tuple(n for n, ok in zip(names, there, strict=True) if ok),
        turns[there],
        shifts[there],
        tuple(k for k in linkage.links if k.part != "guide") if not linkage.approximate else (),
        stance,
    )


def wheel_things(job: Job) -> tuple[Thing, ...]:
    """Wheels with their tyres and brakes as solids, frame A, straight ahead; drawn once."""
    from fixturegen.bodies.ends import outer_bodies

    kept: tuple[Thing, ...] | None = job.store.get("wheels in A")
    if kept is None:
        made = outer_bodies(job.sheet, job.axle)
        kept = tuple(Thing(n, "wheels", "", s) for n, s in made.items() if n.startswith(("wheel", "brake")))
        job.store["wheels in A"] = kept
    return kept


def steered(job: Job, name: str) -> Iterator[tuple[str, Pose]]:
    """(words, pose in A) of a wheel or brake straight ahead and turned to its stops; both wheels as far as the inner.

    Source: geometry, turn about a line (Rodrigues).
    """
    side = "left" if name.endswith("left") else "right"
    knuckle = next((k for k in job.axle.knuckles if k.side == side), None)
    lock = job.sheet.links.steering.lock if job.sheet.links is not None and job.sheet.links.steering else None
    for share in LOCKS:
        if share and (knuckle is None or lock is None):
            return
        a = math.radians(share * float(lock)) if knuckle is not None and lock is not None else 0.0
        k = np.array(knuckle.axis if knuckle is not None else (0.0, 0.0, 1.0))
        point = np.array(knuckle.axis_point if knuckle is not None else (0.0, 0.0, 0.0))
        cross = np.array([[0.0, -k[2], k[1]], [k[2], 0.0, -k[0]], [-k[1], k[0], 0.0]])
        turn = np.eye(3) + math.sin(a) * cross + (1.0 - math.cos(a)) * (cross @ cross)
        words = (
            ""
            if not share
            else f", steered {abs(share) * float(lock or 0.0):.0f} deg to the " + ("left" if share > 0.0 else "right")
        )
        yield words, (_rows(turn), as_point(point - turn @ point))


def pointing(start: Array, stop: Array) -> Pose:
    """Pose that lays local Z from one point to another, shape (3,) [mm] each."""
    z = (stop - start) / np.linalg.norm(stop - start)
    x = np.cross([0.0, 1.0, 0.0] if abs(z[1]) < 0.9 else [1.0, 0.0, 0.0], z)
    x = x / np.linalg.norm(x)
    return _rows(np.stack([x, np.cross(z, x), z], axis=1)), as_point(start)


def after(second: Pose, first: Pose) -> Pose:
    """One pose, then another."""
    turn, base = np.array(second[0]), np.array(first[0])
    return _rows(turn @ base), as_point(turn @ np.array(first[1]) + np.array(second[1]))


def _rows(m: Array) -> Matrix:
    a, b, c = (as_point(r) for r in m)
    return a, b, c
