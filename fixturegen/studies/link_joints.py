"""How far each joint of the links is turned out of line over travel, against what the joint takes.

A joint takes any turn about its bolt. What uses it up is tilt (the link leaves the plane square to the
bolt) and twist (the bolts at the two ends turn against one another about the link; a rod shares it
between its ends). At ride height joints are taken as made to their bolts in twist, not in tilt: a tab that
is not square to its link has used part of its joint before anything moves.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.linkage import Joint, Linkage
from fixturegen.axle.poses import Poses

SHARED = 0.5
"""Part of the twist of a rod that each end takes: common practice, half the crossed-up angle each."""


@dataclass(frozen=True, eq=False)
class Misalignment:
    """How far the joints of one link are out of line.

    Attributes:
        link: Name of the link.
        frame: At the frame end, shape (m,) [deg]; None where no bolt direction was given.
        axle: At the axle end, shape (m,) [deg]; None where no bolt direction was given.
        frame_limit: What the joint takes [deg], or None.
        axle_limit: What the joint takes [deg], or None.
    """

    link: str
    frame: Array | None
    axle: Array | None
    frame_limit: float | None
    axle_limit: float | None

    def beyond(self) -> dict[str, int]:
        """For each end that goes beyond its limit, the index of the worst pose."""
        out = {}
        for end, found, limit in (("frame", self.frame, self.frame_limit), ("axle", self.axle, self.axle_limit)):
            if found is not None and limit is not None and np.nanmax(found) > limit:
                out[end] = int(np.nanargmax(found))
        return out


def misalignments(poses: Poses) -> tuple[Misalignment, ...]:
    """How far the joints of every link are out of line at each pose, in the order of the links.

    Guides, which stand for something else, are left out.

    Formula: for a rod cos(total) = cos(tilt) cos(twist / 2); for an arm or a wishbone the angle between
        the bolt and the bore that the body carries along from ride height.
    Source: geometry, angles between directions carried by rigid bodies; sharing of twist: practice.
    """
    linkage = poses.linkage
    out = []
    for i, link in enumerate(linkage.links):
        if link.part == "guide":
            continue
        frame_bolt = None if link.frame.bolt is None else np.broadcast_to(_unit(link.frame.bolt), (poses.heave.size, 3))
        axle_ride = _axle_bolt(linkage, link.axle)
        axle_bolt = None if axle_ride is None else poses.directions(axle_ride[None, :])[:, 0]
        if link.part == "arm":
            frame, axle = _arm(poses, frame_bolt), None if axle_bolt is None else np.zeros(poses.heave.size)
        elif link.part == "wishbone":
            frame, axle = _wishbone(poses, link.body, frame_bolt, axle_bolt, axle_ride)
        else:
            frame, axle = _rod(poses, i, frame_bolt, axle_bolt)
        out.append(Misalignment(link.name, frame, axle, link.frame.limit, link.axle.limit))
    return tuple(out)


def _unit(v: tuple[float, float, float] | Array) -> Array:
    a = np.asarray(v, dtype=np.float64)
    return np.asarray(a / np.linalg.norm(a, axis=-1, keepdims=True), dtype=np.float64)


def _axle_bolt(linkage: Linkage, joint: Joint) -> Array | None:
    """Bolt direction at the axle in A, shape (3,)."""
    if joint.bolt is None:
        return None
    bolt = _unit(joint.bolt)
    return bolt if joint.at == "axle" else np.asarray(linkage.stance.rotation.T @ bolt, dtype=np.float64)


def _degrees(cosine: Array) -> Array:
    return np.asarray(np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0))), dtype=np.float64)


def _between(a: Array, b: Array) -> Array:
    """Angle between directions [deg], exact for small ones."""
    return np.asarray(
        np.degrees(np.arctan2(np.linalg.norm(np.cross(a, b), axis=-1), (a * b).sum(axis=-1))), dtype=np.float64
    )


def _rod(poses: Poses, i: int, frame_bolt: Array | None, axle_bolt: Array | None) -> tuple[Array | None, Array | None]:
    """Tilt at each end joined with half the twist between the ends."""
    linkage = poses.linkage
    line = _unit(poses.points(linkage.axle_points()[i : i + 1])[:, 0] - linkage.frame_points()[i])
    half = np.zeros(poses.heave.size)
    if frame_bolt is not None and axle_bolt is not None:
        half = SHARED * _twist(poses, i, line, frame_bolt, axle_bolt)
    found: list[Array | None] = []
    for bolt in (frame_bolt, axle_bolt):
        if bolt is None:
            found.append(None)
            continue
        sine = np.clip((bolt * line).sum(axis=1), -1.0, 1.0)
        found.append(_degrees(np.sqrt(1.0 - sine * sine) * np.cos(half)) if half.any() else _tilt(sine))
    return found[0], found[1]


def _tilt(sine: Array) -> Array:
    return np.asarray(np.degrees(np.abs(np.arcsin(sine))), dtype=np.float64)


def _twist(poses: Poses, i: int, line: Array, frame_bolt: Array, axle_bolt: Array) -> Array:
    """Turn of the bolt at the axle against that at the frame about the link, less that at ride, shape (m,) [rad]."""
    linkage = poses.linkage
    stance = linkage.stance
    ride_line = _unit(stance.rotation @ linkage.axle_points()[i] + stance.origin - linkage.frame_points()[i])
    axle_ride = _axle_bolt(linkage, linkage.links[i].axle)
    start = _turn_about(ride_line, frame_bolt[0], stance.rotation @ axle_ride)  # type: ignore[operator]  # given, or not asked
    turn = _turn_about(line, frame_bolt, axle_bolt) - start
    # bolts have no head in this: half a turn is none
    return np.asarray(np.mod(turn + np.pi / 2.0, np.pi) - np.pi / 2.0, dtype=np.float64)


def _turn_about(line: Array, one: Array, other: Array) -> Array:
    """Angle from one direction to the other as seen along a line [rad]."""
    a = one - (one * line).sum(axis=-1, keepdims=True) * line
    b = other - (other * line).sum(axis=-1, keepdims=True) * line
    across = (np.cross(a, b) * line).sum(axis=-1)
    return np.asarray(np.arctan2(across, (a * b).sum(axis=-1)), dtype=np.float64)


def _arm(poses: Poses, frame_bolt: Array | None) -> Array | None:
    """At the frame end of an arm that goes with the axle: its bore is carried along from ride height.

    Turning about the bolt is free, so it is the angle between bolt and carried bore.
    """
    if frame_bolt is None:
        return None
    bore = poses.directions((poses.linkage.stance.rotation.T @ frame_bolt[0])[None, :])[:, 0]
    return _between(bore, frame_bolt)


def _wishbone(
    poses: Poses, body: str, frame_bolt: Array | None, axle_bolt: Array | None, axle_ride: Array | None
) -> tuple[Array | None, Array | None]:
    """A wishbone swings about the line of its two frame joints and carries the bore of its joint at the axle."""
    linkage = poses.linkage
    at = [i for i, k in enumerate(linkage.links) if k.body == body]
    pivots = linkage.frame_points()[at]
    hinge = _unit(pivots[1] - pivots[0])
    frame = None if frame_bolt is None else np.minimum(*(_between(s * frame_bolt, hinge) for s in (1.0, -1.0)))
    if axle_bolt is None or axle_ride is None:
        return frame, None
    stance = linkage.stance
    tip = linkage.axle_points()[at[0]]
    now = poses.points(tip[None, :])[:, 0] - pivots[0]
    ride = stance.rotation @ tip + stance.origin - pivots[0]
    swing = _turn_about(hinge, ride, now)
    bore = _rotated(stance.rotation @ axle_ride, hinge, swing)
    return frame, _between(bore, axle_bolt)


def _rotated(v: Array, axis: Array, angle: Array) -> Array:
    """A direction turned about an axis, shape (m, 3).

    Source: geometry, Rodrigues' formula.
    """
    c, s = np.cos(angle)[:, None], np.sin(angle)[:, None]
    return np.asarray(c * v + s * np.cross(axis, v) + (1.0 - c) * (v @ axis) * axis, dtype=np.float64)
