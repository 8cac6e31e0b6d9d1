"""What one entry of each shipped table holds."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Annotated

from fixturegen.findings import Trust
from fixturegen.units import (
    Angle,
    Area,
    Count,
    Density,
    Length,
    Measure,
    Plain,
    Speed,
    Stress,
    Time,
)

Range = tuple[Annotated[Measure, Length("-60 in", "60 in")], ...]
"""Smallest and largest that is met."""


@dataclass(frozen=True, kw_only=True)
class Entry:
    """Base of every entry.

    Attributes:
        id: What a sheet or a command calls it.
        source: Id of the source.
        trust: How far to trust it.
        remark: What else to know; mostly empty.
    """

    id: str
    source: str
    trust: Trust
    remark: str = ""


@dataclass(frozen=True, kw_only=True)
class Tube(Entry):
    """A tube or a pipe, nominal [mm]."""

    form: str
    diameter: Annotated[Measure, Length("0.5 in", "12 in")]
    wall: Annotated[Measure, Length("0.02 in", "2 in")]
    material: str


@dataclass(frozen=True, kw_only=True)
class PlateName(Entry):
    """A plate by its name; its thickness [mm] is nominal."""

    thickness: Annotated[Measure, Length("0.02 in", "4 in")]
    material: str


@dataclass(frozen=True, kw_only=True)
class Bolt(Entry):
    """A thread: major diameter [mm], pitch [mm] or threads per inch, stress area [mm^2]."""

    series: str
    diameter: Annotated[Measure, Length("1 mm", "4 in")]
    threads_per_inch: Annotated[Measure, Count("1", "100")] | None = None
    pitch: Annotated[Measure, Length("0.1 mm", "10 mm")] | None = None
    stress_area: Annotated[Measure, Area("0.001 in^2", "20 in^2")]

    @property
    def lead(self) -> float:
        """The pitch [mm]."""
        return float(self.pitch) if self.pitch else 25.4 / float(self.threads_per_inch or 1)


@dataclass(frozen=True, kw_only=True)
class Head(Entry):
    """Hex head width [mm] and tap drill [mm] of a thread."""

    across_flats: Annotated[Measure, Length("2 mm", "4 in")]
    tap_drill: Annotated[Measure, Length("1 mm", "4 in")]


@dataclass(frozen=True, kw_only=True)
class Grade(Entry):
    """Strength of a bolt grade [MPa] over the diameters it covers [mm]."""

    proof: Annotated[Measure, Stress("10 ksi", "300 ksi")]
    yield_strength: Annotated[Measure, Stress("10 ksi", "300 ksi")]
    tensile: Annotated[Measure, Stress("10 ksi", "300 ksi")]
    smallest: Annotated[Measure, Length("1 mm", "4 in")]
    largest: Annotated[Measure, Length("1 mm", "4 in")]


@dataclass(frozen=True, kw_only=True)
class ClearanceHole(Entry):
    """Clearance holes for one bolt [mm]."""

    bolt: Annotated[Measure, Length("1 mm", "4 in")]
    close: Annotated[Measure, Length("1 mm", "4 in")]
    normal: Annotated[Measure, Length("1 mm", "4 in")]
    loose: Annotated[Measure, Length("1 mm", "4 in")]


@dataclass(frozen=True, kw_only=True)
class EdgeDistance(Entry):
    """Smallest distance from the centre of a structural hole to an edge, for one bolt [mm]."""

    bolt: Annotated[Measure, Length("1 mm", "4 in")]
    edge: Annotated[Measure, Length("1 mm", "6 in")]


@dataclass(frozen=True, kw_only=True)
class FilletSize(Entry):
    """Smallest leg of a fillet weld for a range of plate thickness [mm]."""

    thickness_over: Annotated[Measure, Length("0 in", "12 in")]
    thickness_to: Annotated[Measure, Length("0.1 in", "12 in")]
    leg: Annotated[Measure, Length("1/16 in", "1 in")]


@dataclass(frozen=True, kw_only=True)
class Dowel(Entry):
    """A dowel pin: nominal diameter and its limits [mm]."""

    diameter: Annotated[Measure, Length("1 mm", "2 in")]
    smallest: Annotated[Measure, Length("0.9 mm", "2 in")]
    largest: Annotated[Measure, Length("1 mm", "2.01 in")]
    tolerance: str


@dataclass(frozen=True, kw_only=True)
class Material(Entry):
    """Minimum yield and tensile strength, modulus [MPa], density [kg/m^3]."""

    name: str
    yield_strength: Annotated[Measure, Stress("10 ksi", "300 ksi")]
    tensile: Annotated[Measure, Stress("10 ksi", "300 ksi")]
    modulus: Annotated[Measure, Stress("1000 ksi", "40000 ksi")]
    density: Annotated[Measure, Density("1000 kg/m^3", "20000 kg/m^3")]


@dataclass(frozen=True, kw_only=True)
class CutProcess(Entry):
    """A way of cutting plate and its rules; current in ampere, lengths [mm].

    Attributes:
        thickness: Thicknesses with a kerf on file, rising [mm].
        kerf: Kerf at each of them [mm].
        cut_speed: Of the torch at each of them [mm/s].
        pierce_time: At each of them [s].
        possible_hole_per_thickness: Smallest hole that can be cut at all, to be drilled out, over thickness [1].
        pilot_cross: Length of each line of the cross that marks a hole's centre [mm].
        mark_speed: Of the torch while it marks [mm/s].
        travel_speed: Of the torch between cuts [mm/s].
    """

    name: str
    current: Annotated[Measure, Plain("5", "400")]
    thickness: tuple[Annotated[Measure, Length("0.02 in", "4 in")], ...]
    kerf: tuple[Annotated[Measure, Length("0.005 in", "0.25 in")], ...]
    kerf_lowest: Annotated[Measure, Length("0.005 in", "0.25 in")]
    kerf_highest: Annotated[Measure, Length("0.005 in", "0.25 in")]
    smallest_hole_per_thickness: Annotated[Measure, Plain("0.1", "5")]
    possible_hole_per_thickness: Annotated[Measure, Plain("0.1", "5")]
    smallest_web_per_thickness: Annotated[Measure, Plain("0.1", "5")]
    smallest_slot: Annotated[Measure, Length("0.1 mm", "1 in")]
    inside_corner_radius: Annotated[Measure, Length("0 mm", "1 in")]
    part_spacing: Annotated[Measure, Length("0 mm", "4 in")]
    sheet_edge: Annotated[Measure, Length("0 mm", "4 in")]
    lead_in: Annotated[Measure, Length("0 mm", "2 in")]
    bevel: Annotated[Measure, Angle("0 deg", "10 deg")]
    cut_under_for_drill: Annotated[Measure, Length("0 mm", "1 in")]
    pilot_cross: Annotated[Measure, Length("0.5 mm", "1 in")]
    letter_height: Annotated[Measure, Length("1 mm", "4 in")]
    cut_speed: tuple[Annotated[Measure, Speed("1 in/min", "1000 in/min")], ...]
    pierce_time: tuple[Annotated[Measure, Time("0 s", "10 s")], ...]
    mark_speed: Annotated[Measure, Speed("1 in/min", "1000 in/min")]
    travel_speed: Annotated[Measure, Speed("1 in/min", "3000 in/min")]

    def kerf_at(self, thickness: float) -> float:
        """Kerf at a plate thickness [mm], along straight lines, level beyond the ends.

        Args:
            thickness: Of the plate [mm].
        """
        return self._between(self.kerf, thickness)

    def cut_speed_at(self, thickness: float) -> float:
        """Speed of the torch at a plate thickness [mm], along straight lines, level beyond the ends [mm/s].

        Args:
            thickness: Of the plate [mm].
        """
        return self._between(self.cut_speed, thickness)

    def pierce_time_at(self, thickness: float) -> float:
        """Time of one pierce at a plate thickness [mm], along straight lines, level beyond the ends [s].

        Args:
            thickness: Of the plate [mm].
        """
        return self._between(self.pierce_time, thickness)

    def _between(self, values: tuple[Measure, ...], thickness: float) -> float:
        points = list(zip(self.thickness, values, strict=True))
        if thickness <= points[0][0]:
            return float(points[0][1])
        for (t0, k0), (t1, k1) in pairwise(points):
            if thickness <= t1:
                return float(k0 + (k1 - k0) * (thickness - t0) / (t1 - t0))
        return float(points[-1][1])


@dataclass(frozen=True, kw_only=True)
class CutTolerance(Entry):
    """Limit deviations of thermal cuts for one class and one range of nominal thickness [mm].

    Attributes:
        quality: The tolerance class, 1 or 2.
        sizes_from: Where each range of nominal sizes begins, rising [mm].
        sizes_under: Where the last range ends [mm].
        tolerance: Plus and minus, for each range of sizes [mm].
    """

    quality: str
    thickness_over: Annotated[Measure, Length("0 mm", "100 mm")]
    thickness_to: Annotated[Measure, Length("0 mm", "100 mm")]
    sizes_from: tuple[Annotated[Measure, Length("0 mm", "4000 mm")], ...]
    sizes_under: Annotated[Measure, Length("0 mm", "8000 mm")]
    tolerance: tuple[Annotated[Measure, Length("0.01 mm", "10 mm")], ...]


@dataclass(frozen=True, kw_only=True)
class DrillSeries(Entry):
    """Drills of one series, rising [mm]; `names` where a drill is not called by its size."""

    unit: str
    sizes: tuple[Annotated[Measure, Length("0.5 mm", "3 in")], ...]
    names: tuple[str, ...] = ()

    def named(self) -> tuple[tuple[str, float], ...]:
        """Each drill as people call it, and its diameter [mm]."""
        if self.names:
            return tuple((name, float(size)) for name, size in zip(self.names, self.sizes, strict=True))
        return tuple((size.text, float(size)) for size in self.sizes)


@dataclass(frozen=True, kw_only=True)
class FabTable(Entry):
    """A fab table's grid, hole and pin [mm]."""

    name: str
    grid: Annotated[Measure, Length("0.5 in", "12 in")]
    hole: Annotated[Measure, Length("0.2 in", "2 in")]
    pin: Annotated[Measure, Length("0.2 in", "2 in")]
    bolt: str
    length: Annotated[Measure, Length("24 in", "300 in")]
    width: Annotated[Measure, Length("12 in", "120 in")]
    pitch_tolerance: Annotated[Measure, Length("0 in", "0.25 in")]


@dataclass(frozen=True, kw_only=True)
class Fit(Entry):
    """What is added to the male size [mm]."""

    use: str
    smallest: Annotated[Measure, Length("-0.1 in", "0.25 in")]
    largest: Annotated[Measure, Length("-0.1 in", "0.25 in")]


@dataclass(frozen=True, kw_only=True)
class AxleFamily(Entry):
    """The spread of sizes met in a family of axles [mm]; no bolt pattern, those are measured."""

    name: str
    housing: str
    ring_gear_diameter: Range
    pinion_below: Range
    pinion_length: Range
    tube_diameter: Range
    tube_wall: Range
    skin: Range
    face_across: Range
    projection: Range
    bearing_bore: Range
    width_over_bearings: Range
    face_bolt: str


@dataclass(frozen=True, kw_only=True)
class GaugeSet(Entry):
    """A box of gauge blocks: first size and step [mm] and number of blocks of each series in it."""

    first: tuple[Annotated[Measure, Length("0.1 mm", "8 in")], ...]
    step: tuple[Annotated[Measure, Length("0 mm", "4 in")], ...]
    count: tuple[Annotated[Measure, Count("1", "200")], ...]

    @property
    def sizes(self) -> tuple[float, ...]:
        """Every block of the box [mm], series after series."""
        series = zip(self.first, self.step, self.count, strict=True)
        return tuple(first + step * i for first, step, count in series for i in range(int(count)))


@dataclass(frozen=True, kw_only=True)
class Socket(Entry):
    """A socket by the hex it fits: outside and length [mm], and the square it takes."""

    across_flats: Annotated[Measure, Length("1/8 in", "4 in")]
    outside: Annotated[Measure, Length("1/8 in", "6 in")]
    length: Annotated[Measure, Length("1/2 in", "12 in")]
    square: str


@dataclass(frozen=True, kw_only=True)
class Ratchet(Entry):
    """A ratchet by its square: its head, handle and extension bar [mm]."""

    head: Annotated[Measure, Length("1/4 in", "6 in")]
    width: Annotated[Measure, Length("1/2 in", "6 in")]
    handle: Annotated[Measure, Length("3 in", "40 in")]
    thickness: Annotated[Measure, Length("1/4 in", "3 in")]
    extension: Annotated[Measure, Length("1/4 in", "3 in")]
