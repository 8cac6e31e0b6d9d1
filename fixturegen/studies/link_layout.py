"""How numbers of 0 to 1, one for each searched coordinate, become points of a linkage."""

from __future__ import annotations

import math

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.linkage import Linkage, Stance
from fixturegen.studies.link_points import AXES, LinkPoint, both_ends, counterpart, points_of
from fixturegen.studies.link_wishes import Room, Row, Wanted

NEAR = 0.5
"""mm; a point this near to an end of its range is told as standing there."""


class Layout:
    """How numbers of 0 to 1, one for each searched coordinate, become geometries.

    Attributes:
        count: Searched coordinates.
        planes: Names of points that must lie in a plane and are solved for.
    """

    def __init__(self, wanted: Wanted) -> None:
        points = points_of(wanted.linkage)
        self.stance = wanted.linkage.stance
        at = {p.name: p for p in points}
        own = {r.point for r in wanted.rooms}
        self.ends = both_ends(wanted.linkage)
        self._rooms: list[tuple[Room | Row, LinkPoint, LinkPoint | None]] = []
        for room in wanted.rooms:
            other = counterpart(wanted.linkage, points, at[room.point])
            self._rooms.append((room, at[room.point], None if other is None or other.name in own else other))
        self._free = [_free(r) for r, _, _ in self._rooms]
        self.count = sum(len(f) for f in self._free)
        self.planes = tuple(r.point for r, _, _ in self._rooms if isinstance(r, Room) and r.plane is not None)

    def made(self, share: Array, tape: float = 0.0) -> tuple[Array, Array, Array]:
        """Geometries of shares of the room.

        Args:
            share: Shape (g, count).
            tape: Coordinates without a hole pitch are whole multiples of it, as far as the room allows; 0 for
                any value [mm].

        Returns:
            Frame ends and axle ends in V at ride, shape (g, 2, n, 3) [mm]; the shares after snapping to
            holes, shape (g, count); how far each point solved for from its plane is outside its box,
            shape (g, planes) [mm].
        """
        ends = np.repeat(self.ends[None], len(share), axis=0)
        snapped = np.array(share, dtype=np.float64)
        outside = []
        start = 0
        for (room, point, other), free in zip(self._rooms, self._free, strict=True):
            part = snapped[:, start : start + len(free)]
            place, over = _in_row(room, part) if isinstance(room, Row) else _in_box(room, free, part, tape)
            if over is not None:
                outside.append(over)
            start += len(free)
            place = _in_vehicle(self.stance, room, place)
            for i, e in point.members:
                ends[:, e, i] = place
            for i, e in () if other is None else other.members:
                ends[:, e, i] = place * [1.0, -1.0, 1.0]
        return ends, snapped, np.stack(outside, axis=1) if outside else np.zeros((len(share), 0))

    def share_of(self, ends: Array) -> Array:
        """Shares that come nearest to a geometry, shape (count,)."""
        out: list[float] = []
        for (room, point, _), free in zip(self._rooms, self._free, strict=True):
            i, e = point.members[0]
            place = _in_room(self.stance, room, ends[e, i])
            if isinstance(room, Row):
                step = np.array(room.step)
                hole = float((place - np.array(room.first)) @ step / (step @ step))
                out += [(hole + 0.5) / room.holes for _ in free]
            else:
                out += [float((place[k] - room.low[k]) / (room.high[k] - room.low[k])) for k in free]
        return np.clip(np.array(out, dtype=np.float64), 0.0, 1.0)


def ends_of_room(wanted: Wanted, linkage: Linkage, name: str, axis: str) -> bool:
    """Whether a coordinate of a point stands at an end of its range, or its point at the last hole of a row.

    Args:
        wanted: With the room.
        linkage: With the point.
        name: Of the point.
        axis: x, y or z.
    """
    room = next((r for r in wanted.rooms if r.point == name), None)
    if room is None:
        return False
    i, e = next(p for p in points_of(linkage) if p.name == name).members[0]
    place = _in_room(linkage.stance, room, both_ends(linkage)[e, i])
    k = AXES.index(axis)
    if isinstance(room, Row):
        last = room.first[k] + (room.holes - 1) * room.step[k]
        return room.step[k] != 0.0 and min(abs(place[k] - room.first[k]), abs(place[k] - last)) < NEAR
    return room.low[k] < room.high[k] and min(place[k] - room.low[k], room.high[k] - place[k]) < NEAR


def _in_vehicle(stance: Stance, room: Room | Row, place: Array) -> Array:
    """Places of a room in V, shape (g, 3) [mm]."""
    return place if room.at == "vehicle" else np.asarray(place @ stance.rotation.T + stance.origin, dtype=np.float64)


def _in_room(stance: Stance, room: Room | Row, place: Array) -> Array:
    """A place of V in the frame of a room, shape (3,) [mm]."""
    if room.at == "vehicle":
        return place
    return np.asarray((place - stance.origin) @ stance.rotation, dtype=np.float64)


def _free(room: Room | Row) -> tuple[int, ...]:
    """Coordinates that are searched; one for a row of more than one hole."""
    if isinstance(room, Row):
        return (0,) if room.holes > 1 else ()
    solved = None if room.plane is None else int(np.abs(room.plane.normal).argmax())
    return tuple(k for k in range(3) if room.high[k] > room.low[k] and k != solved)


def _in_row(row: Row, share: Array) -> tuple[Array, Array | None]:
    if not share.shape[1]:
        return np.repeat(np.array([row.first]), len(share), axis=0), None
    hole = np.clip(np.floor(share[:, 0] * row.holes), 0, row.holes - 1)
    share[:, 0] = (hole + 0.5) / row.holes
    return np.array(row.first) + hole[:, None] * np.array(row.step), None


def _in_box(room: Room, free: tuple[int, ...], share: Array, tape: float) -> tuple[Array, Array | None]:
    place = np.repeat(np.array([room.low], dtype=np.float64), len(share), axis=0)
    for column, k in enumerate(free):
        width = room.high[k] - room.low[k]
        if room.pitch[k] > 0.0:
            holes = math.floor(width / room.pitch[k] + 1e-9)
            hole = np.clip(np.floor(share[:, column] * (holes + 1)), 0, holes)
            share[:, column] = hole * room.pitch[k] / width
            place[:, k] += hole * room.pitch[k]
        else:
            place[:, k] += share[:, column] * width
            if tape:
                place[:, k] = np.clip(np.round(place[:, k] / tape) * tape, room.low[k], room.high[k])
    if room.plane is None:
        return place, None
    normal, through = np.array(room.plane.normal), np.array(room.plane.through)
    k = int(np.abs(normal).argmax())
    place[:, k] = through[k] - np.delete(place - through, k, axis=1) @ np.delete(normal, k) / normal[k]
    return place, np.maximum(0.0, np.maximum(room.low[k] - place[:, k], place[:, k] - room.high[k]))
