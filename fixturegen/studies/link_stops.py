"""Where bump stops and straps end the travel, and what shocks and coils have left there, on both sides.

Each side is followed twice: both wheels alike, and with the other wheel held at the other end of its travel.
The right side has the mirror image of the left one's struts; the axle itself need not move as a mirror image.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.linkage import Joint, Linkage
from fixturegen.axle.model import Side
from fixturegen.axle.poses import Poses, wheel_travel
from fixturegen.axle.travel import poses_at
from fixturegen.studies.link_struts import Strut, strut_motion

Way = Literal["alike", "crossed"]
Ends = Literal["bump", "droop"]
SIDES: tuple[Side, ...] = ("left", "right")
WAYS: tuple[Way, ...] = ("alike", "crossed")

BEYOND = 1.5
"""Part of the travel asked for to which a stop or strap is looked for."""
LOOKS = 17
"""Poses of one look along the travel."""
FINER = 4
"""Looks, each between two poses of the one before: the last are some thousandths of a millimetre apart."""
HOLDERS: dict[str, Ends] = {"bump stop": "bump", "strap": "droop"}


@dataclass(frozen=True)
class Left:
    """What a shock or coil has left where a stop or strap holds.

    Attributes:
        name: Of the strut.
        kind: shock or spring.
        room: Before it is closed or coil-bound (bump), or open or loose (droop) [mm].
    """

    name: str
    kind: str
    room: float


@dataclass(frozen=True)
class Hold:
    """A bump stop or strap of one side that ends the travel.

    Attributes:
        name: Of the strut.
        end: bump or droop.
        side: Of the truck.
        way: Both wheels alike, or the other wheel at the other end of its travel.
        touches: Travel of the wheel at which a bump stop begins to push [mm]; None where it is not known.
        holds: Travel of the wheel at which it is solid or taut [mm]; None where that is not reached.
        searched: Travel to which it was looked for [mm].
        left: Of the shocks and coils of that side, there.
    """

    name: str
    end: Ends
    side: Side
    way: Way
    touches: float | None
    holds: float | None
    searched: float
    left: tuple[Left, ...]


def holds_of(linkage: Linkage, struts: Sequence[tuple[str, Strut]], bump: float, droop: float) -> tuple[Hold, ...]:
    """Where each bump stop and strap ends the travel; none for leaf springs' approximate axle without struts.

    Args:
        linkage: What holds the axle.
        struts: (kind, strut) of the left side.
        bump: Travel of a wheel up [mm].
        droop: Travel of a wheel down [mm].

    Source: geometry, lengths over exact poses.
    """
    found = []
    for kind, holder in struts:
        end = HOLDERS.get(kind)
        if end is None:
            continue
        for side in SIDES:
            mine = tuple((k, s if side == "left" else _mirrored(s)) for k, s in struts)
            own = next(s for _, s in mine if s.name == holder.name)
            for way in WAYS:
                found.append(_hold(linkage, own, mine, end, side, way, bump, droop))
    return tuple(found)


def _mirrored(strut: Strut) -> Strut:
    def over(joint: Joint) -> Joint:
        x, y, z = joint.point
        return replace(joint, point=(x, -y, z))

    return replace(strut, frame=over(strut.frame), axle=over(strut.axle))


def _hold(
    linkage: Linkage,
    own: Strut,
    mine: Sequence[tuple[str, Strut]],
    end: Ends,
    side: Side,
    way: Way,
    bump: float,
    droop: float,
) -> Hold:
    up = end == "bump"
    far = BEYOND * (bump if up else -droop)
    rest = -droop if up else bump

    def at(travel: Array) -> Poses:
        other = travel if way == "alike" else np.full_like(travel, rest)
        wheels = (travel, other) if side == "left" else (other, travel)
        return poses_at(linkage, *wheel_travel(*wheels, linkage.stance.half_track), traced=False)

    goal, begins = (own.shortest, own.longest) if up else (own.longest, None)
    holds = None if goal is None else _reached(at, own, goal, up, far)
    left: tuple[Left, ...] = ()
    if holds is not None:
        there = at(np.array([holds]))
        left = tuple(x for k, s in mine if (x := _left(there, k, s, up)) is not None)
    touches = None if begins is None else _reached(at, own, begins, up, far)
    return Hold(own.name, end, side, way, touches, holds, far, left)


def _left(there: Poses, kind: str, strut: Strut, up: bool) -> Left | None:
    if kind not in ("shock", "spring"):
        return None
    motion = strut_motion(there, strut)
    room = motion.room_in if up else motion.room_out
    return None if room is None else Left(strut.name, kind, float(room[0]))


def _reached(at: Callable[[Array], Poses], strut: Strut, goal: float, shorter: bool, far: float) -> float | None:
    """First travel from ride height at which a strut comes to a length [mm]; None where it does not."""
    low, high = 0.0, far
    for _ in range(FINER):
        travel = np.linspace(low, high, LOOKS)
        off = strut_motion(at(travel), strut).length - goal
        past = np.flatnonzero((off <= 0.0) if shorter else (off >= 0.0))
        if not past.size or not np.isfinite(off[: past[0] + 1]).all():
            return None
        k = int(past[0])
        if k == 0:
            return float(travel[0])
        low, high = float(travel[k - 1]), float(travel[k])
        share = off[k - 1] / (off[k - 1] - off[k])
    return float(low + share * (high - low))
