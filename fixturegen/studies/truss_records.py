"""Records of a truss's plan: its plates as outlines in the axle's frame, its welds, its cross section anywhere.

Plates along the axle are told by outlines in (station, height), ribs by outlines in (forward, height). All in
frame A: X forward, Y left, Z up, pinion level.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Literal

from fixturegen.axle.model import Point
from fixturegen.studies.edge_lines import Corner, Ring, chords
from fixturegen.studies.jack_pads import JackPad

Spans = tuple[tuple[float, float], ...]
Onto = Literal["tube-left", "tube-right", "housing", "top", "plate"]
CHORD = 0.05
"""Arcs of outlines are chords within this where a section is asked for [mm]."""


@dataclass(frozen=True)
class Rect:
    """One plate of the truss cut by a plane across the axle.

    Attributes:
        part: Name of its part.
        x: Middle, ahead of the axle line [mm].
        z: Middle, above the axle line [mm].
        wide: Along X [mm].
        high: Along Z [mm].
    """

    part: str
    x: float
    z: float
    wide: float
    high: float


@dataclass(frozen=True)
class SidePlate:
    """A plate that stands along the axle.

    Attributes:
        name: Of its part.
        label: In words.
        way: +1 where its outer face looks forward, -1 rearward.
        x: Rear face and front face ahead of the axle line [mm].
        lower: Its lower edge from right to left, (station, height); lines and arcs, the last bulge 0.
        upper: Its upper edge from right to left, straight.
        openings: What is cut out of it: lightening, drains, vents, lift holes, as loops (station, height).
        lies: 0 where it stands up. +1 or -1 where it lies level: its heights are then measured forward or
            rearward of the axle line, and `x` are the heights of its faces.
    """

    name: str
    label: str
    way: int
    x: tuple[float, float]
    lower: Ring
    upper: tuple[tuple[float, float], ...]
    openings: tuple[Ring, ...] = ()
    lies: int = 0

    @property
    def thickness(self) -> float:
        """Measured [mm]."""
        return self.x[1] - self.x[0]

    @property
    def outline(self) -> Ring:
        """Its outline counter-clockwise in (station, height), without tabs."""
        return (*self.lower, *(Corner(y, z) for y, z in reversed(self.upper)))

    def spans(self, station: float) -> Spans:
        """Heights between which there is steel at a station (n, 2) [mm]; none beyond its ends."""
        crossings = sorted(z for loop in (self.outline, *self.openings) for z in _crossings(loop, station))
        return tuple((a, b) for a, b in zip(crossings[::2], crossings[1::2], strict=False))


def _crossings(loop: Ring, station: float) -> list[float]:
    points = chords(loop, CHORD, closed=True)
    found = []
    for (y0, z0), (y1, z1) in pairwise((*points, points[0])):
        if (y0 <= station) != (y1 <= station):
            found.append(z0 + (z1 - z0) * (station - y0) / (y1 - y0))
    return found


@dataclass(frozen=True)
class TopRun:
    """A flat length of the top plate.

    Attributes:
        name: Of its part.
        label: In words.
        x: Rear edge and front edge ahead of the axle line [mm].
        right: Right end of its underside, (station, height) [mm].
        left: Left end of its underside [mm].
        thickness: Measured [mm].
    """

    name: str
    label: str
    x: tuple[float, float]
    right: tuple[float, float]
    left: tuple[float, float]
    thickness: float

    @property
    def slope(self) -> float:
        """Of its underside toward the left, up positive [deg]."""
        return math.degrees(math.atan2(self.left[1] - self.right[1], self.left[0] - self.right[0]))

    @property
    def length(self) -> float:
        """Along itself [mm]."""
        return math.dist(self.right, self.left)

    def underside(self, station: float) -> float:
        """Height of its underside at a station [mm]."""
        share = (station - self.right[0]) / (self.left[0] - self.right[0])
        return self.right[1] + share * (self.left[1] - self.right[1])


@dataclass(frozen=True)
class Rib:
    """A plate across the axle, between the side plates.

    Attributes:
        name: Of its part.
        label: In words.
        y: Right face and left face [mm].
        x: Rear end and front end: inner faces of the side plates [mm].
        lower: Its lower edge from rear to front, (forward, height); over tube or housing.
        top: Height of its upper edge [mm]: underside of the top plate.
        under: What stands on it: name of a bracket, or empty.
        openings: Cut out of it, as loops (forward, height).
    """

    name: str
    label: str
    y: tuple[float, float]
    x: tuple[float, float]
    lower: Ring
    top: float
    under: str = ""
    openings: tuple[Ring, ...] = ()

    @property
    def station(self) -> float:
        """Of its middle plane [mm]."""
        return (self.y[0] + self.y[1]) / 2.0


@dataclass(frozen=True)
class WeldRun:
    """One bead along which a part of the truss is welded, at its root.

    Attributes:
        part: The part.
        onto: What it is welded to.
        points: Along the root (n, 3), frame A [mm].
        leg: Of its fillet [mm].
        sides: How many sides of the plate are welded: 1 from outside.
    """

    part: str
    onto: Onto
    points: tuple[Point, ...]
    leg: float
    sides: int = 1

    @property
    def length(self) -> float:
        """Along the root [mm]."""
        return sum(math.dist(a, b) for a, b in pairwise(self.points))

    @property
    def stations(self) -> tuple[float, float]:
        """From right to left [mm]."""
        ys = [p[1] for p in self.points]
        return min(ys), max(ys)


@dataclass(frozen=True)
class Cell:
    """A room between two ribs, a rib and an end, or the ends: what water and gas get in and out by.

    Attributes:
        right: Station where it begins [mm].
        left: Station where it ends [mm].
        drains: Stations of openings at its floor.
        vents: Stations of openings under its top.
        open_ends: How many of its ends are open to the outside.
    """

    right: float
    left: float
    drains: tuple[float, ...]
    vents: tuple[float, ...]
    open_ends: int = 0


@dataclass(frozen=True)
class TrussPlan:
    """Everything of a truss as numbers.

    Attributes:
        form: box or back-brace.
        bridged: Whether it stands over the centre section with air.
        ends: Right and left end [mm].
        knees: First and last place from the right where its top changes its slope [mm].
        height: Of its top above the axle line, where it is highest [mm].
        why: Where that height comes from, in words.
        taper: Slope of the right and the left end [deg].
        gap: Root opening asked for [mm].
        air: To what it is not welded to [mm].
        plates: Side plates.
        runs: Lengths of the top plate, right to left; none for a brace.
        ribs: Right to left.
        welds: Beads to tubes, housing and top plate.
        cells: Rooms inside; none for a brace.
        thickness: Of side plates and ribs, measured [mm].
        material: Of side plates and ribs, id in the table of materials.
        top_material: Of the top plate.
        bend_radius: Inside radius where the top is folded [mm]; 0 in runs.
        pads: Under the tubes, for a jack.
        notes: What the plan had to change, in words.
    """

    form: Literal["box", "back-brace"]
    bridged: bool
    ends: tuple[float, float]
    knees: tuple[float, float]
    height: float
    why: str
    taper: tuple[float, float]
    gap: float
    air: float
    plates: tuple[SidePlate, ...]
    runs: tuple[TopRun, ...]
    ribs: tuple[Rib, ...]
    welds: tuple[WeldRun, ...]
    cells: tuple[Cell, ...]
    thickness: float
    material: str
    top_material: str
    bend_radius: float = 0.0
    pads: tuple[JackPad, ...] = ()
    notes: tuple[str, ...] = field(default=())

    def section_at(self, station: float) -> tuple[Rect, ...]:
        """What a plane across the axle cuts of plates that run along it; ribs carry nothing along and are left out.

        Args:
            station: Left of the middle [mm].
        """
        found = []
        for p in self.plates:
            across, thick = sum(p.x) / 2.0, p.thickness
            for low, high in p.spans(station):
                far, tall = (low + high) / 2.0, high - low
                lying = Rect(p.name, p.lies * far, across, tall, thick)
                found.append(lying if p.lies else Rect(p.name, across, far, thick, tall))
        for run in self.runs:
            if run.right[0] <= station < run.left[0]:
                tall = run.thickness / math.cos(math.radians(run.slope))
                low = run.underside(station)
                found.append(Rect(run.name, sum(run.x) / 2.0, low + tall / 2.0, run.x[1] - run.x[0], tall))
        return tuple(found)

    def welded_at(self, station: float, onto: Onto) -> tuple[WeldRun, ...]:
        """Beads onto something that pass a station [mm]."""
        return tuple(w for w in self.welds if w.onto == onto and w.stations[0] <= station <= w.stations[1])

    def underside(self, station: float) -> float:
        """Height of the upper edge of the side plates at a station [mm]."""
        upper = self.plates[0].upper
        for (y0, z0), (y1, z1) in pairwise(upper):
            if y0 <= station <= y1:
                return z0 + (z1 - z0) * (station - y0) / (y1 - y0)
        return upper[0][1] if station < upper[0][0] else upper[-1][1]

    def run_at(self, station: float) -> TopRun | None:
        """The length of the top over a station; None for a brace."""
        inside = [r for r in self.runs if r.right[0] <= station <= r.left[0]]
        return inside[0] if inside else min(self.runs, key=lambda r: abs(r.right[0] - station), default=None)

    def top(self, station: float) -> float:
        """Height of the upper face of the top at a station [mm]."""
        run = self.run_at(station)
        thick = 0.0 if run is None else run.thickness / math.cos(math.radians(run.slope))
        return self.underside(station) + thick
