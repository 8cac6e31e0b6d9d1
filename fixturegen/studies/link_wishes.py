"""What a person asks of a search for link points: room for points, wishes, keep-outs; and points from shares of it.

All room is given in V at ride height, for frame ends and axle ends alike.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.linkage import Linkage
from fixturegen.axle.model import Point
from fixturegen.errors import Fault, InputFault
from fixturegen.studies.link_batch import POSES, Stroke
from fixturegen.studies.link_metrics import Vehicle
from fixturegen.studies.link_points import AXES, LinkPoint, both_ends, counterpart, points_of, refuse_stiff
from fixturegen.units import as_text

SCALES: dict[str, tuple[float, str, str]] = {
    "anti_squat": (10.0, "%", "anti-squat"),
    "anti_dive": (10.0, "%", "anti-dive"),
    "force_line": (1.0, "deg", "the slope of the force line"),
    "instant_centre_x": (250.0, "mm", "the instant centre's place fore and aft"),
    "instant_centre_z": (50.0, "mm", "the instant centre's height"),
    "roll_centre": (25.0, "mm", "the roll centre's height"),
    "roll_axis": (1.0, "deg", "the slope of the roll axis"),
    "roll_steer": (0.02, "deg/deg", "roll steer"),
    "pinion_angle": (1.0, "deg", "the pinion angle"),
    "fore_aft": (5.0, "mm", "the axle's way fore and aft"),
    "sideways": (2.5, "mm", "the axle's way sideways"),
    "wheelbase_change": (5.0, "mm", "the change of wheelbase"),
    "axle_steer": (0.2, "deg", "the turn of the axle in plan"),
}
"""By how much a wish may be short of each metric to weigh 1 (a step a driver or a tape notices; common practice, no
source), its unit, and its name in words."""
NARROW = 0.04
"""Of the scale; a range narrower than this is a wish for one value, met within `NARROW / 4`."""


@dataclass(frozen=True)
class Wish:
    """A range wanted of a metric at a pose.

    Attributes:
        reading: Metric and pose: anti_squat.ride.
        low: Least wanted, in the metric's unit; minus infinity for none.
        high: Most wanted; infinity for none.
        weight: How much it counts against other wishes.
    """

    reading: str
    low: float = -math.inf
    high: float = math.inf
    weight: float = 1.0

    @property
    def metric(self) -> str:
        """The metric without its pose."""
        return self.reading.partition(".")[0]

    @property
    def scale(self) -> float:
        """Shortness that weighs 1, in the metric's unit."""
        return SCALES[self.metric][0]

    @property
    def slack(self) -> float:
        """How far inside the range the search aims, in scales."""
        width = (self.high - self.low) / self.scale
        return min(0.02, width / 10.0) if width > NARROW else 0.0

    @property
    def close(self) -> float:
        """How far outside still counts as met, in scales."""
        return 0.0 if (self.high - self.low) / self.scale > NARROW else NARROW / 4.0

    def said(self, value: float) -> str:
        """A value of the metric as a person reads it."""
        unit = SCALES[self.metric][1]
        if unit == "mm":
            return as_text(value, "length", "in", 2)
        return f"{value:.3f} {unit}" if unit == "deg/deg" else f"{value:.1f} {unit}"

    @property
    def words(self) -> str:
        """The wish in words: anti-squat at ride from 50.0 % to 80.0 %."""
        metric, _, pose = self.reading.partition(".")
        head = f"{SCALES[metric][2]} at {pose}"
        if math.isinf(self.low):
            return f"{head} of at most {self.said(self.high)}"
        if math.isinf(self.high):
            return f"{head} of at least {self.said(self.low)}"
        if self.low == self.high:
            return f"{head} of {self.said(self.low)}"
        return f"{head} from {self.said(self.low)} to {self.said(self.high)}"


@dataclass(frozen=True)
class Plane:
    """A plane a point must lie in.

    Attributes:
        normal: Any length, in V.
        through: A point of it, in V [mm].
    """

    normal: Point
    through: Point


@dataclass(frozen=True)
class Room:
    """A box in which a point may lie.

    Attributes:
        point: Name as `LinkPoint.name`: lower-left.frame.
        low: Least x, y, z in V [mm]; equal to `high` where a coordinate is fixed.
        high: Most x, y, z in V [mm].
        pitch: Hole pitch in each direction, counted from `low` [mm]; 0 for any value.
        plane: It must also lie in this plane.
    """

    point: str
    low: Point
    high: Point
    pitch: Point = (0.0, 0.0, 0.0)
    plane: Plane | None = None


@dataclass(frozen=True)
class Row:
    """A row of holes, one of which the point is.

    Attributes:
        point: Name as `LinkPoint.name`.
        first: The first hole, in V [mm].
        step: From hole to hole [mm].
        holes: How many.
    """

    point: str
    first: Point
    step: Point
    holes: int


@dataclass(frozen=True)
class Box:
    """Where nothing may be: a frame rail, a tank, an exhaust.

    Attributes:
        name: What it is called.
        low: Least x, y, z in V [mm].
        high: Most x, y, z in V [mm].
    """

    name: str
    low: Point
    high: Point


@dataclass(frozen=True)
class Wanted:
    """All a search is asked for.

    Attributes:
        linkage: As measured or sketched: points without room stay where it has them.
        vehicle: Height of the centre of gravity, shares of drive and brake.
        stroke: How far the wheels travel.
        rooms: Where points may lie. A point on one side takes its fellow along as its mirror image,
            unless that one has room of its own.
        wishes: Ranges of metrics.
        keep_out: Boxes that neither a joint nor a link may enter, at ride, bump, droop or crossed.
        link_radius: Half the thickness of a link, by which boxes are grown [mm].
        apart: Distance of two geometries that are called different: root mean square over the searched
            coordinates, each as a share of its room.
    """

    linkage: Linkage
    vehicle: Vehicle
    stroke: Stroke
    rooms: tuple[Room | Row, ...]
    wishes: tuple[Wish, ...]
    keep_out: tuple[Box, ...] = ()
    link_radius: float = 25.4
    apart: float = 0.15


def refuse_wanted(wanted: Wanted) -> None:
    """Nothing, when a search can be made of it.

    Raises:
        InputFault: With every fault found.
    """
    refuse_stiff(wanted.linkage)
    faults = [*_room_faults(wanted), *_wish_faults(wanted), *_box_faults(wanted)]
    if faults:
        raise InputFault(*faults)


def _room_faults(wanted: Wanted) -> Iterator[Fault]:
    known = [p.name for p in points_of(wanted.linkage)]
    if not wanted.rooms:
        yield Fault("links.search.room", "no room", "a box or a row of holes for at least one point", "state one")
    seen: set[str] = set()
    for room in wanted.rooms:
        key = f"links.search.room.{room.point}"
        if room.point not in known:
            yield Fault(key, room.point, ", ".join(known), "name a point of this linkage")
        if room.point in seen:
            yield Fault(key, "room twice for one point", "one box or one row a point", "leave one out")
        seen.add(room.point)
        if isinstance(room, Row):
            if room.holes < 1 or not any(room.step):
                yield Fault(key, f"{room.holes} holes", "at least one hole and a step", "count the holes of the row")
            continue
        for axis, low, high in zip(AXES, room.low, room.high, strict=True):
            if not low <= high:
                given = f"{axis} from {as_text(low, 'length', 'in', 3)} to {as_text(high, 'length', 'in', 3)}"
                yield Fault(key, given, "low not above high", "swap the two")
        if min(room.pitch) < 0.0:
            yield Fault(key, "a pitch below 0", "0 or the hole pitch", "measure from hole to hole")
        if room.plane is not None and not _meets(room, room.plane):
            yield Fault(key, "a plane that misses the box", "a plane through the box", "move either")


def _meets(room: Room, plane: Plane) -> bool:
    normal = np.array(plane.normal)
    corners = np.stack(np.meshgrid(*zip(room.low, room.high, strict=True), indexing="ij"), axis=-1).reshape(-1, 3)
    off = (corners - np.array(plane.through)) @ normal
    return bool(np.linalg.norm(normal) > 0.0 and off.min() <= 0.0 <= off.max())


def _wish_faults(wanted: Wanted) -> Iterator[Fault]:
    if not wanted.wishes:
        yield Fault("links.search.want", "no wish", "a range for at least one metric", "state what is wanted")
    for wish in wanted.wishes:
        key = f"links.search.want.{wish.reading}"
        metric, _, pose = wish.reading.partition(".")
        if metric not in SCALES or pose not in POSES:
            allowed = f"a metric ({', '.join(SCALES)}), a dot and a pose ({', '.join(POSES)})"
            yield Fault(key, wish.reading, allowed, "write it so: anti_squat.ride")
        elif not wish.low <= wish.high:
            yield Fault(key, f"{wish.said(wish.low)} to {wish.said(wish.high)}", "low not above high", "swap the two")
        if not wish.weight > 0.0:
            yield Fault(key, f"weight {wish.weight:g}", "above 0", "leave a wish out that counts nothing")


def _box_faults(wanted: Wanted) -> Iterator[Fault]:
    for box in wanted.keep_out:
        if not all(a < b for a, b in zip(box.low, box.high, strict=True)):
            key = f"links.search.keep_out.{box.name}"
            yield Fault(key, "a box without room", "low below high in x, y and z", "swap or measure again")


class Layout:
    """How numbers of 0 to 1, one for each searched coordinate, become geometries.

    Attributes:
        count: Searched coordinates.
        planes: Names of points that must lie in a plane and are solved for.
    """

    def __init__(self, wanted: Wanted) -> None:
        points = points_of(wanted.linkage)
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

    def made(self, share: Array) -> tuple[Array, Array, Array]:
        """Geometries of shares of the room.

        Args:
            share: Shape (g, count).

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
            place, over = _in_row(room, part) if isinstance(room, Row) else _in_box(room, free, part)
            if over is not None:
                outside.append(over)
            start += len(free)
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
            place = ends[e, i]
            if isinstance(room, Row):
                step = np.array(room.step)
                hole = float((place - np.array(room.first)) @ step / (step @ step))
                out += [(hole + 0.5) / room.holes for _ in free]
            else:
                out += [float((place[k] - room.low[k]) / (room.high[k] - room.low[k])) for k in free]
        return np.clip(np.array(out, dtype=np.float64), 0.0, 1.0)


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


def _in_box(room: Room, free: tuple[int, ...], share: Array) -> tuple[Array, Array | None]:
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
    if room.plane is None:
        return place, None
    normal, through = np.array(room.plane.normal), np.array(room.plane.through)
    k = int(np.abs(normal).argmax())
    place[:, k] = through[k] - np.delete(place - through, k, axis=1) @ np.delete(normal, k) / normal[k]
    return place, np.maximum(0.0, np.maximum(room.low[k] - place[:, k], place[:, k] - room.high[k]))
