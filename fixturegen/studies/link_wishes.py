"""What a person asks of a search for link points: room for points, wishes, keep-outs; and points from shares of it.

Room is given in V at ride height, or for axle ends in A; what must stay clear in V.
"""

from __future__ import annotations

import difflib
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np

from fixturegen.axle.linkage import Linkage
from fixturegen.axle.model import Point
from fixturegen.errors import Fault, InputFault
from fixturegen.studies.link_batch import POSES, Stroke
from fixturegen.studies.link_metrics import Vehicle
from fixturegen.studies.link_points import AXES, points_of, refuse_stiff
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
LEVEL = 1.0
"""mm; two ends of a rail nearer than this in plan are a slip of the tape."""
PLACES = {"in": 2, "mm": 1}
"""Places behind the point at which a length is told."""
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
        unit: in or mm, in which lengths are told.
    """

    reading: str
    low: float = -math.inf
    high: float = math.inf
    weight: float = 1.0
    unit: str = "in"

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
            return as_text(value, "length", self.unit, PLACES[self.unit])
        return f"{value:.3f} {unit}" if unit == "deg/deg" else f"{value:.1f} {unit}"

    def said_off(self, by: float) -> str:
        """How far outside the range a value is, with two digits that count."""
        unit = SCALES[self.metric][1]
        if unit == "mm":
            places = PLACES[self.unit] + (1 if by < 1.0 else 0)
            return as_text(by, "length", self.unit, places)
        return f"{float(f'{by:.2g}'):g} {unit}"

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
        normal: Any length, in the frame of the room.
        through: A point of it, in the same frame [mm].
    """

    normal: Point
    through: Point


@dataclass(frozen=True)
class Room:
    """A box in which a point may lie.

    Attributes:
        point: Name as `LinkPoint.name`: lower-left.frame.
        low: Least x, y, z [mm]; equal to `high` where a coordinate is fixed.
        high: Most x, y, z [mm].
        pitch: Hole pitch in each direction, counted from `low` [mm]; 0 for any value.
        plane: It must also lie in this plane.
        at: Frame all of it is given in: vehicle (V, at ride height) or axle (A).
    """

    point: str
    low: Point
    high: Point
    pitch: Point = (0.0, 0.0, 0.0)
    plane: Plane | None = None
    at: Literal["vehicle", "axle"] = "vehicle"


@dataclass(frozen=True)
class Row:
    """A row of holes, one of which the point is.

    Attributes:
        point: Name as `LinkPoint.name`.
        first: The first hole [mm].
        step: From hole to hole [mm].
        holes: How many.
        at: Frame both are given in: vehicle (V, at ride height) or axle (A).
    """

    point: str
    first: Point
    step: Point
    holes: int
    at: Literal["vehicle", "axle"] = "vehicle"


@dataclass(frozen=True)
class Box:
    """Where nothing may be: a tank, an exhaust. What has the same name counts as one thing, left and right.

    Attributes:
        name: What it is called.
        low: Least x, y, z in V [mm].
        high: Most x, y, z in V [mm].
    """

    name: str
    low: Point
    high: Point


@dataclass(frozen=True)
class Rail:
    """A straight stretch of frame rail, where nothing may be.

    Attributes:
        name: What it is called.
        begin: Middle of its section at one end, in V [mm].
        end: Middle of its section at the other end, in V [mm].
        width: Of the section, level, square to the stretch [mm].
        height: Of the section [mm].
    """

    name: str
    begin: Point
    end: Point
    width: float
    height: float


@dataclass(frozen=True)
class Beyond:
    """All that lies beyond a plane, where nothing may be.

    Attributes:
        name: What it is called.
        through: A point of the plane, in V [mm].
        normal: Any length, into what stays clear, in V.
    """

    name: str
    through: Point
    normal: Point


KeepOut = Box | Rail | Beyond


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
        keep_out: What neither a joint nor a link may enter, at ride, bump, droop or crossed.
        link_radius: Half the thickness of a link and a gap, by which all that is grown [mm].
        apart: Distance of two geometries that are called different: root mean square over the searched
            coordinates, each as a share of its room.
        unit: in or mm, in which lengths are told and points are rounded.
    """

    linkage: Linkage
    vehicle: Vehicle
    stroke: Stroke
    rooms: tuple[Room | Row, ...]
    wishes: tuple[Wish, ...]
    keep_out: tuple[KeepOut, ...] = ()
    link_radius: float = 25.4
    apart: float = 0.15
    unit: str = "in"


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
        yield Fault("links.search.points", "no point", "a box or a row of holes for at least one", "state one")
    seen: set[str] = set()
    for room in wanted.rooms:
        key = f"links.search.points.{room.point}"
        if room.point not in known:
            yield Fault(
                key, f"a point that this {wanted.linkage.kind} does not have", ", ".join(known), near(room.point, known)
            )
        if room.point in seen:
            yield Fault(key, "the point twice", "one box or one row a point", "leave one out")
        seen.add(room.point)
        if isinstance(room, Row):
            if room.holes < 1 or not any(room.step):
                yield Fault(key, f"{room.holes} holes", "at least one hole and a step", "count the holes of the row")
        else:
            yield from _one_box_faults(wanted, room, key)


def near(name: str, known: Iterable[str]) -> str:
    """What to do about a name that is not known: the nearest that is."""
    close = difflib.get_close_matches(name, list(known), n=1)
    return f"did you mean {close[0]}?" if close else "write one of these"


def _one_box_faults(wanted: Wanted, room: Room, key: str) -> Iterator[Fault]:
    def told(value: float) -> str:
        return as_text(value, "length", wanted.unit, 3)

    for axis, low, high, pitch in zip(AXES, room.low, room.high, room.pitch, strict=True):
        if not low <= high:
            given = f"{axis} from {told(low)} to {told(high)}, which leaves no room"
            yield Fault(key, given, "the lower value first", "swap the two, or measure again")
        elif pitch < 0.0:
            yield Fault(key, f"a hole pitch of {told(pitch)}", "0 or more", "measure from hole to hole")
        elif pitch > high - low:
            given = f"a hole pitch of {told(pitch)} in a range of {told(high - low)} along {axis}"
            yield Fault(key, given, "a pitch shorter than the range", "widen the range, or leave the pitch out")
    if room.plane is not None and not _meets(room, room.plane):
        yield Fault(key, "a face that misses the box", "a face through the box", "move either")


def _meets(room: Room, plane: Plane) -> bool:
    normal = np.array(plane.normal)
    corners = np.stack(np.meshgrid(*zip(room.low, room.high, strict=True), indexing="ij"), axis=-1).reshape(-1, 3)
    off = (corners - np.array(plane.through)) @ normal
    return bool(np.linalg.norm(normal) > 0.0 and off.min() <= 0.0 <= off.max())


def _wish_faults(wanted: Wanted) -> Iterator[Fault]:
    if not wanted.wishes:
        remedy = 'state what is wanted, like anti_squat = [{ pose = "ride", least = "50", most = "90" }]'
        yield Fault("links.search.want", "no wish", "a range for at least one metric", remedy)
    for wish in wanted.wishes:
        key = f"links.search.want.{wish.reading}"
        metric, _, pose = wish.reading.partition(".")
        if metric not in SCALES:
            yield Fault(key, "a metric that is not known", ", ".join(SCALES), near(metric, SCALES))
        elif pose not in POSES:
            yield Fault(key, "a pose that is not known", ", ".join(POSES), near(pose, POSES))
        elif math.isinf(wish.low) and math.isinf(wish.high):
            yield Fault(key, "neither least nor most", "one of them or both", "say what is wanted, or leave it out")
        elif not wish.low <= wish.high:
            given = f"least {wish.said(wish.low)} and most {wish.said(wish.high)}"
            yield Fault(key, given, "least not above most", "swap the two")
        if not wish.weight > 0.0:
            yield Fault(key, f"weight {wish.weight:g}", "above 0", "leave a wish out that counts nothing")


def _box_faults(wanted: Wanted) -> Iterator[Fault]:
    for box in wanted.keep_out:
        key = f"links.search.{box.name}"
        if isinstance(box, Box) and not all(a < b for a, b in zip(box.low, box.high, strict=True)):
            yield Fault(key, "a box without room", "the lower value first in x, y and z", "swap or measure again")
        if isinstance(box, Rail) and math.hypot(box.end[0] - box.begin[0], box.end[1] - box.begin[1]) < LEVEL:
            yield Fault(key, "a rail that stands upright or has no length", "two ends apart in plan", "measure again")
        if isinstance(box, Beyond) and not any(box.normal):
            yield Fault(key, "a direction of no length", 'like ["0", "0", "-1"] for down', "write which way")
