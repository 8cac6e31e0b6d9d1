"""The housing as a beam: lengths of its tubes with their sections, bare and with what of a truss takes its share.

A plate takes up its share along its welds and cannot carry at its very end: it is counted from as far inside
its weld as it is high there. A taper of 45 deg or less so counts all along, a square end only from its height in;
and so at the centre section where the truss is not welded to it. The centre section itself is taken as rigid.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Protocol

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.model import AxleModel
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.housing_section import Cut, Section, section_of
from fixturegen.studies.wall_flow import Flows, flows_of

STEP = 40.0
"""Longest length that is looked at by its ends and its middle [mm]."""
SEARCH = 5.0
"""Step in which the place is sought from which the plates count [mm]; it is then narrowed down."""
BESIDE = 1e-3
"""A length is looked at this far inside its ends, so that no force comes in where it is cut [mm]."""
SPREAD = "load spreads into a plate at 45 deg from the end of its weld: common practice, no source"


class Truss(Protocol):
    """What a truss must tell."""

    def cut_at(self, station: float, filled: bool = False) -> Cut:
        """What a plane cuts of it, openings as they are or taken as steel."""

    def spans(self, roots: tuple[float, float]) -> tuple[tuple[float, float], ...]:
        """Where it is welded to the right and the left tube [mm]."""

    def anchored(self) -> bool:
        """Whether it is welded to the centre section."""


@dataclass(frozen=True)
class Length:
    """A short length of a tube.

    Attributes:
        begin: Right end [mm].
        end: Left end [mm].
        sections: At its right end, middle and left end; the tube alone where a truss does not count.
        filled: The same with openings taken as steel; the tube alone where it does not count.
        flows: Of the middle, openings taken as steel.
    """

    begin: float
    end: float
    sections: tuple[Section, Section, Section]
    filled: tuple[Section, Section, Section]
    flows: Flows

    @property
    def stations(self) -> tuple[float, float, float]:
        """Right end, middle, left end [mm], a hair inside."""
        return self.begin + BESIDE, (self.begin + self.end) / 2.0, self.end - BESIDE


@dataclass(frozen=True)
class Beam:
    """The housing as a beam.

    Attributes:
        lengths: Of the right tube from its end inward, then of the left tube outward.
        bare: Section of the tube alone.
        torsion: Torsion constant of the tube alone [mm^4].
        roots: Sides of the centre section, right and left [mm].
        ends: Tube ends, right and left [mm].
        counted: Where the truss counts, right and left; begin and end are one where it does not [mm].
        welded: Where it is welded to the tubes, right and left [mm].
    """

    lengths: tuple[Length, ...]
    bare: Section
    torsion: float
    roots: tuple[float, float]
    ends: tuple[float, float]
    counted: tuple[tuple[float, float], ...]
    welded: tuple[tuple[float, float], ...]

    @property
    def stations(self) -> Array:
        """All stations that are looked at, three a length, shape (3 n,) [mm]."""
        return np.array([y for one in self.lengths for y in one.stations])

    @property
    def sections(self) -> tuple[Section, ...]:
        """The section at every station."""
        return tuple(s for one in self.lengths for s in one.sections)

    @property
    def trussed(self) -> bool:
        """Whether a truss counts anywhere."""
        return any(end > begin for begin, end in self.counted)


def beam_of(sheet: Sheet, axle: AxleModel, truss: Truss | None = None, places: tuple[float, ...] = ()) -> Beam:
    """The housing of a sheet as a beam.

    Args:
        sheet: For the tubes.
        axle: For where they are.
        truss: What stiffens it.
        places: Stations at which forces come in [mm].
    """
    diameter, wall = float(sheet.tubes.outside_diameter), float(sheet.tubes.wall)
    bare = section_of(diameter, wall)
    alone = flows_of(bare)
    welded = truss.spans(axle.section) if truss else tuple((r, r) for r in axle.section)
    counted = tuple(
        _counted(truss, span, root, diameter) if truss else span
        for span, root in zip(welded, axle.section, strict=True)
    )
    lengths = []
    for begin, end in ((axle.tube_ends[0], axle.section[0]), (axle.section[1], axle.tube_ends[1])):
        for low, high in _cut_up(begin, end, (*places, *(y for span in (*counted, *welded) for y in span))):
            inside = truss is not None and any(a - BESIDE <= low and high <= b + BESIDE for a, b in counted)
            if truss is None or not inside:
                lengths.append(Length(low, high, (bare,) * 3, (bare,) * 3, alone))
            else:
                lengths.append(_stiffened(truss, low, high, diameter, wall))
    return Beam(tuple(lengths), bare, alone.torsion, axle.section, axle.tube_ends, counted, welded)


def _stiffened(truss: Truss, low: float, high: float, diameter: float, wall: float) -> Length:
    stations = (low + BESIDE, (low + high) / 2.0, high - BESIDE)
    net = [section_of(diameter, wall, truss.cut_at(y)) for y in stations]
    full = [section_of(diameter, wall, truss.cut_at(y, filled=True)) for y in stations]
    return Length(low, high, (net[0], net[1], net[2]), (full[0], full[1], full[2]), flows_of(full[1]))


def _cut_up(begin: float, end: float, places: tuple[float, ...]) -> list[tuple[float, float]]:
    """Lengths between two stations, cut at the places that lie between and not longer than `STEP`."""
    marks = sorted({begin, end, *(y for y in places if begin + 1.0 < y < end - 1.0)})
    kept = [marks[0]]
    for mark in marks[1:]:
        if mark - kept[-1] > 10.0 * BESIDE:
            kept.append(mark)
    kept[-1] = end
    found = []
    for low, high in pairwise(kept):
        parts = max(1, int(np.ceil((high - low) / STEP)))
        edges = [low + (high - low) * k / parts for k in range(parts + 1)]
        found += list(pairwise(edges))
    return found


def _counted(truss: Truss, span: tuple[float, float], root: float, diameter: float) -> tuple[float, float]:
    """Where the plates of a side have taken up their share, from right to left [mm]."""
    begin, end = span
    if not end > begin:
        return root, root
    free = (not (truss.anchored() and begin == root), not (truss.anchored() and end == root))
    low = _from(truss, begin, end, diameter) if free[0] else begin
    high = _from(truss, end, begin, diameter) if free[1] else end
    return (low, high) if high > low else (root, root)


def _from(truss: Truss, edge: float, beyond: float, diameter: float) -> float:
    """The station from which plates count, inward from the end of their weld; `beyond` where they never do [mm]."""
    way = 1.0 if beyond > edge else -1.0

    def counts(away: float) -> bool:
        high = truss.cut_at(edge + way * away).joined.height(diameter)
        return 0.0 < high <= away + BESIDE

    reach = abs(beyond - edge)
    steps = np.arange(SEARCH, reach, SEARCH)
    first = next((float(a) for a in steps if counts(float(a))), None)
    if first is None:
        return beyond
    low, high = first - SEARCH, first
    while high - low > BESIDE:
        half = (low + high) / 2.0
        low, high = (low, half) if counts(half) else (half, high)
    return edge + way * high
