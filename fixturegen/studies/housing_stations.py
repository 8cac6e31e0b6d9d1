"""The housing as a beam: lengths of its tubes with their sections, bare and with what of a truss takes its share.

A plate takes up its share along its weld and cannot carry at its very end: it counts with the part that shear lag
leaves it at its way from the end of the weld. A truss that is not welded to the centre section ends beside it as
well. The centre section itself is taken as rigid.
"""

from __future__ import annotations

import math
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
BESIDE = 1e-3
"""A length is looked at this far inside its ends, so that no force comes in where it is cut [mm]."""
SPREAD = "shear lag of a plate welded along its edges, AISC 360 table D3.1, from memory: 3 l^2 / (3 l^2 + w^2)"


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
        counted: Where the truss is welded to the tubes and counts, right and left; begin and end are one where it
            does not [mm].
        free: Whether right and left end of each of these are ends of the truss, not sides of the centre section.
        share: How much of the plates' area counts where it counts most, right and left [1].
    """

    lengths: tuple[Length, ...]
    bare: Section
    torsion: float
    roots: tuple[float, float]
    ends: tuple[float, float]
    counted: tuple[tuple[float, float], ...]
    free: tuple[tuple[bool, bool], ...]
    share: tuple[float, ...]

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
    counted = truss.spans(axle.section) if truss else tuple((r, r) for r in axle.section)
    held = truss is not None and truss.anchored()
    free = tuple(
        (not (held and begin == root), not (held and end == root))
        for (begin, end), root in zip(counted, axle.section, strict=True)
    )
    lengths = []
    for begin, end in ((axle.tube_ends[0], axle.section[0]), (axle.section[1], axle.tube_ends[1])):
        for low, high in _cut_up(begin, end, (*places, *(y for span in counted for y in span))):
            inside = next((k for k, (a, b) in enumerate(counted) if a - BESIDE <= low and high <= b + BESIDE), None)
            if truss is None or inside is None:
                lengths.append(Length(low, high, (bare,) * 3, (bare,) * 3, alone))
            else:
                lengths.append(_stiffened(truss, (low, high), counted[inside], free[inside], (diameter, wall)))
    share = tuple(_most([n for n in lengths if a <= n.stations[1] <= b]) for a, b in counted)
    return Beam(tuple(lengths), bare, alone.torsion, axle.section, axle.tube_ends, counted, free, share)


def _most(lengths: list[Length]) -> float:
    """Largest part of the plates' area that counts at any of the stations."""
    shares = [0.0]
    for section in (s for one in lengths for s in one.filled if not s.bare):
        whole = sum(t.width * t.thickness for t in section.cut.strips)
        shares.append(sum(t.width * t.carrying for t in section.cut.strips) / whole)
    return max(shares)


def inside_by(station: float, span: tuple[float, float], free: tuple[bool, bool]) -> float:
    """How far inside the ends of its weld a station lies [mm]; without end where the weld has none."""
    ways = (station - span[0] if free[0] else math.inf, span[1] - station if free[1] else math.inf)
    return max(0.0, min(ways))


def _stiffened(
    truss: Truss,
    length: tuple[float, float],
    span: tuple[float, float],
    free: tuple[bool, bool],
    tube: tuple[float, float],
) -> Length:
    low, high = length
    stations = (low + BESIDE, (low + high) / 2.0, high - BESIDE)
    ways = [inside_by(y, span, free) for y in stations]
    net = [section_of(*tube, truss.cut_at(y).lagged(w)) for y, w in zip(stations, ways, strict=True)]
    full = [section_of(*tube, truss.cut_at(y, filled=True).lagged(w)) for y, w in zip(stations, ways, strict=True)]
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
