"""What stands in the way of a geometry beside wishes: reach, hold, length, ground, planes, joints, keep-outs.

Each is a term with a name and an amount, 0 or less where nothing is wrong, for many geometries at once.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.linkage import Joint, Link
from fixturegen.axle.linkage_faults import SHORTEST, WEAK
from fixturegen.axle.model import Point
from fixturegen.studies.link_batch import Batch
from fixturegen.studies.link_joints import SHARED
from fixturegen.studies.link_wishes import Beyond, Box, KeepOut, Rail, Wanted

INCH = 25.4
LIMIT = 5.0
"""deg; beyond a joint's limit by this weighs 1: a third of what a plain rod end takes; common practice, no source."""
TOUCH = 0.1
"""Amount a link through a box has at least, so that a corner is not cut for a wish."""


@dataclass(frozen=True, eq=False)
class Bar:
    """One thing that may be in the way.

    Attributes:
        name: reach, hold, ends, plane.<point>, joint.<link>.<end>, clear.<box>; what is there left and right
            is one thing.
        words: What it is, as the subject of a sentence.
        amount: Shape (g,); above 0 it is in the way.
    """

    name: str
    words: str
    amount: Array


def bars_of(wanted: Wanted, batch: Batch, outside: Array, planes: tuple[str, ...]) -> list[Bar]:
    """Everything that may be in the way of each geometry, always in the same order.

    Args:
        wanted: What is asked for.
        batch: The geometries.
        outside: How far points solved for from a plane are outside their box, shape (g, planes) [mm].
        planes: Names of those points.
    """
    missed = 1.0 - batch.reached.mean(axis=1)
    length = np.linalg.norm(batch.ends[:, 1] - batch.ends[:, 0], axis=-1).min(axis=1)
    low = batch.ends[..., 2].min(axis=(1, 2))
    found = [
        Bar("reach", "the travel, which the links do not reach,", missed),
        Bar("hold", "holding the axle", np.maximum(0.0, 1.0 - batch.hold / WEAK)),
        Bar("ends", "the shortest link or the ground", np.maximum(SHORTEST - length, -low) / INCH),
    ]
    found += [Bar(f"plane.{n}", f"the face of {n} within its box", outside[:, i] / INCH) for i, n in enumerate(planes)]
    found += _joints(batch)
    found += [Bar(f"clear.{b.name}", f"the room of {b.name}", _inside(wanted, batch, b)) for b in wanted.keep_out]
    return _as_one(found)


def _as_one(bars: list[Bar]) -> list[Bar]:
    """Bars of one name joined, the worse of them each time: with one side's given up the other's would stay."""
    joined: dict[str, Bar] = {}
    for bar in bars:
        before = joined.get(bar.name)
        amount = bar.amount if before is None else np.maximum(before.amount, bar.amount)
        joined[bar.name] = Bar(bar.name, bar.words, amount)
    return list(joined.values())


def _inside(wanted: Wanted, batch: Batch, what: KeepOut) -> Array:
    """How far links are inside what must stay clear, worst pose, in inches; at least `TOUCH` when they are.

    Source: geometry.
    """
    a, b = batch.lines()
    if isinstance(what, Beyond):
        normal = _unit(np.array(what.normal, dtype=np.float64))
        off = np.maximum((a - what.through) @ normal, (b - what.through) @ normal) + wanted.link_radius
        worst = np.where(np.isfinite(off), off, 0.0).max(axis=(1, 2)) / INCH
    else:
        turn, origin, low, high = _frame_of(what)
        grown = np.array(low) - wanted.link_radius, np.array(high) + wanted.link_radius
        worst = _through((a - origin) @ turn.T, (b - origin) @ turn.T, *grown)
    return np.where(worst > 0.0, worst + TOUCH, 0.0)


def _frame_of(what: Box | Rail) -> tuple[Array, Array, Point, Point]:
    """Rotation from V, origin, and corners in that frame: along a rail, level across it, square to both."""
    if isinstance(what, Box):
        return np.eye(3), np.zeros(3), what.low, what.high
    way = np.array(what.end) - np.array(what.begin)
    along = _unit(way)
    across = _unit(np.cross([0.0, 0.0, 1.0], along))
    half, tall = what.width / 2.0, what.height / 2.0
    turn = np.stack([along, across, np.cross(along, across)])
    return turn, np.array(what.begin), (0.0, -half, -tall), (float(np.linalg.norm(way)), half, tall)


def _through(a: Array, b: Array, low: Array, high: Array) -> Array:
    """Length of lines inside a box, summed over lines, worst pose, shape (g,) [in].

    Args:
        a: One end of each line, shape (g, p, n, 3) [mm].
        b: The other end [mm].
        low: Least corner of the box, shape (3,) [mm].
        high: Most corner [mm].

    Source: geometry, a line against the three pairs of planes of a box.
    """
    way = b - a
    with np.errstate(all="ignore"):
        one, other = (low - a) / way, (high - a) / way
        enter, leave = np.minimum(one, other), np.maximum(one, other)
        # a line along a pair of planes is between them all the way, or not at all
        along = np.abs(way) < 1e-9
        inside = (a >= low) & (a <= high)
        enter = np.where(along, np.where(inside, -np.inf, np.inf), enter)
        leave = np.where(along, np.where(inside, np.inf, -np.inf), leave)
        part = np.minimum(leave.min(axis=-1), 1.0) - np.maximum(enter.max(axis=-1), 0.0)
        chord = np.where(part > 0.0, part * np.linalg.norm(way, axis=-1), 0.0)  # (g, p, n)
    return np.asarray(np.nan_to_num(chord).sum(axis=-1).max(axis=-1) / INCH, dtype=np.float64)


def _joints(batch: Batch) -> list[Bar]:
    """Joints of rods and arms against their limits; those of wishbones are looked at in what is returned only.

    Source: as `link_joints.misalignments`, for many geometries.
    """
    found = []
    a, b = batch.lines()
    for i, link in enumerate(batch.linkage.links):
        for end, joint in (("frame", link.frame), ("axle", link.axle)):
            if joint.limit is None or joint.bolt is None or link.part not in ("rod", "arm"):
                continue
            if link.part == "arm" and end == "axle":
                continue
            angle = _rod(batch, link, joint, b[:, :, i] - a[:, :, i]) if link.part == "rod" else _arm(batch, joint)
            worst = np.max(np.where(batch.reached, angle, 0.0), axis=1)
            pair = "-".join(p for p in link.name.split("-") if p not in ("left", "right"))
            words = f"the joint at the {end} end of {link.name}, which takes {joint.limit:g} deg,"
            if pair != link.name:
                words = f"the joints at the {end} end of {pair}, left and right, which take {joint.limit:g} deg,"
            found.append(Bar(f"joint.{pair}.{end}", words, (worst - joint.limit) / LIMIT))
    return found


def _unit(v: Array) -> Array:
    return np.asarray(v / np.linalg.norm(v, axis=-1, keepdims=True), dtype=np.float64)


def _bolt(batch: Batch, joint: Joint) -> Array:
    """Bolt in V at ride, shape (3,)."""
    bolt = _unit(np.array(joint.bolt, dtype=np.float64))
    return batch.linkage.stance.rotation @ bolt if joint.at == "axle" else bolt


def _turns(batch: Batch) -> Array:
    """Turn of the axle since ride at each pose, shape (g, p, 3, 3)."""
    return batch.by_pose(batch.poses.rotations() @ batch.linkage.stance.rotation.T)


def _arm(batch: Batch, joint: Joint) -> Array:
    """Between the bolt at the frame and the bore the arm carries along, shape (g, p) [deg]."""
    bolt = _bolt(batch, joint)
    return np.asarray(np.degrees(np.arccos(np.clip(_turns(batch) @ bolt @ bolt, -1.0, 1.0))), dtype=np.float64)


def _rod(batch: Batch, link: Link, joint: Joint, way: Array) -> Array:
    """Tilt at one end joined with half the twist between the ends, shape (g, p) [deg]."""
    line = _unit(way)
    turns = _turns(batch)
    bolt = _bolt(batch, joint)
    carried = turns @ bolt if joint is link.axle else np.broadcast_to(bolt, line.shape)
    sine = np.clip((carried * line).sum(axis=-1), -1.0, 1.0)
    half = np.zeros(sine.shape)
    if link.frame.bolt is not None and link.axle.bolt is not None:
        fixed, moving = _bolt(batch, link.frame), _bolt(batch, link.axle)
        twist = _about(line, np.broadcast_to(fixed, line.shape), turns @ moving)
        ride = _unit(batch.ends[:, 1] - batch.ends[:, 0])[:, batch.linkage.links.index(link)]
        start = _about(ride, np.broadcast_to(fixed, ride.shape), np.broadcast_to(moving, ride.shape))
        half = SHARED * (np.mod(twist - start[:, None] + np.pi / 2.0, np.pi) - np.pi / 2.0)
    return np.asarray(np.degrees(np.arccos(np.sqrt(1.0 - sine * sine) * np.cos(half))), dtype=np.float64)


def _about(line: Array, one: Array, other: Array) -> Array:
    """Angle from one direction to the other as seen along a line [rad]."""
    a = one - (one * line).sum(axis=-1, keepdims=True) * line
    b = other - (other * line).sum(axis=-1, keepdims=True) * line
    return np.asarray(np.arctan2((np.cross(a, b) * line).sum(axis=-1), (a * b).sum(axis=-1)), dtype=np.float64)
