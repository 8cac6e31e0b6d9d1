"""Section of axle tube and truss at a station: area, middle, second moments in both planes, torsion, weld flow.

A section lies in the plane across the axle: x forward, z up from the axle line, both in A. The truss is a
set of strips, each as thick as its plate, joined by seams to the tube and to one another. Strips that no
seam joins to the tube carry nothing.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

from fixturegen.calc._columns import tube_area, tube_second_moment
from fixturegen.errors import ProgramFault

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Array = npt.NDArray[np.float64]

Spot = tuple[float, float]
"""x forward and z up from the axle line [mm]."""
TUBE = "tube"
"""What a seam calls the axle's tube."""
CENTRE = "centre section"
"""What a weld onto the centre section calls it; no section has one."""


@dataclass(frozen=True)
class Strip:
    """What a plane across the axle cuts of one plate: a rectangle about its middle line.

    Attributes:
        name: Of the plate, each once in a cut.
        start: One end of its middle line [mm].
        end: The other end [mm].
        thickness: Of the plate [mm].
        share: How much of it carries, beside the end of its weld [1].
    """

    name: str
    start: Spot
    end: Spot
    thickness: float
    share: float = 1.0

    @property
    def carrying(self) -> float:
        """Thickness that carries [mm]."""
        return self.thickness * self.share

    @property
    def width(self) -> float:
        """Along its middle line [mm]."""
        return math.dist(self.start, self.end)

    @property
    def corners(self) -> tuple[Spot, ...]:
        """Its four corners [mm]."""
        (x0, z0), (x1, z1) = self.start, self.end
        wide = self.width or 1.0
        across = (self.thickness / 2.0 * (z0 - z1) / wide, self.thickness / 2.0 * (x1 - x0) / wide)
        return tuple((x + way * across[0], z + way * across[1]) for x, z in (self.start, self.end) for way in (-1, 1))


@dataclass(frozen=True)
class Seam:
    """Where two pieces of a section are joined.

    Attributes:
        name: In words: which plate to what, front or rear.
        first: A strip.
        second: Another strip, or `TUBE`.
        at: Where, within a plate's thickness or so [mm].
        leg: Of its fillets; 0 where the plate is folded and not welded [mm].
        beads: Fillets at this place, on one side of the plate or both.
        welded: Weld over seam along the axle: 1 all along, 0.5 half of it in runs, 0 not joined here.
        run: Length of a run of weld; 0 where it goes on [mm].
    """

    name: str
    first: str
    second: str
    at: Spot
    leg: float
    beads: int = 1
    welded: float = 1.0
    run: float = 0.0

    @property
    def folded(self) -> bool:
        """Whether it is a bend of one plate and no weld."""
        return self.leg == 0.0


@dataclass(frozen=True)
class Cut:
    """All of a truss that a plane across the axle cuts at one station."""

    strips: tuple[Strip, ...] = ()
    seams: tuple[Seam, ...] = ()

    @property
    def joined(self) -> Cut:
        """The strips that seams join to the tube, and the seams that join them."""
        seams = [s for s in self.seams if s.welded > 0.0]
        reached, more = {TUBE}, True
        while more:
            found = {n for s in seams if s.first in reached or s.second in reached for n in (s.first, s.second)}
            more = not found <= reached
            reached |= found
        strips = tuple(s for s in self.strips if s.name in reached)
        names = {TUBE, *(s.name for s in strips)}
        return Cut(strips, tuple(s for s in seams if s.first in names and s.second in names))

    def height(self, diameter: float) -> float:
        """How far the strips stand out above, below, before or behind a tube of this diameter [mm]; 0 without any."""
        return max((max(abs(x), abs(z)) - diameter / 2.0 for s in self.strips for x, z in s.corners), default=0.0)

    @property
    def depths(self) -> dict[str, float]:
        """Of each strip the way along the plates from the welds on the tube to its farthest place [mm]."""
        strips, entries = {s.name: s for s in self.strips}, self._entries()
        found = {}
        for name, places in entries.items():
            wide = strips[name].width
            spots = [(p * wide, way) for p, way in places]
            ends = [0.0, wide, *((a + b) / 2.0 for (a, _), (b, _) in pairwise(sorted(spots)))]
            found[name] = max(min(way + abs(end - spot) for spot, way in spots) for end in ends)
        return found

    def lagged(self, away: float) -> Cut:
        """The cut with what of each plate has come to carry by a way from the end of its weld.

        Args:
            away: Along the axle from the end of the weld; infinite where the weld has none [mm].

        Source: aisc-360, table D3.1, shear lag of a plate welded along both edges, l long and w wide, from memory:
        3 l^2 / (3 l^2 + w^2); a plate welded along one edge is half of such a one.
        """
        acting = self.joined
        if math.isinf(away):
            return acting
        depths = acting.depths
        strips = []
        for strip in acting.strips:
            wide = 2.0 * depths.get(strip.name, 0.0)
            part = 3.0 * away**2 / (3.0 * away**2 + wide**2) if away > 0.0 else 0.0
            strips.append(replace(strip, share=part))
        return Cut(tuple(strips), acting.seams)

    def _entries(self) -> dict[str, list[tuple[float, float]]]:
        """Of each strip where a load comes in: place along it from 0 to 1, way from the tube [mm]."""
        strips = {s.name: s for s in self.strips}
        found: dict[str, list[tuple[float, float]]] = {}
        reached = [TUBE]
        for name in reached:
            for seam in self.seams:
                if name not in (seam.first, seam.second):
                    continue
                other = seam.second if seam.first == name else seam.first
                if other == TUBE or (other in reached and reached.index(other) < reached.index(name)):
                    continue
                place, way = along(strips[other], seam.at), 0.0
                if name != TUBE:
                    there = along(strips[name], seam.at)
                    wide = strips[name].width
                    way = min(w + abs(there - p) * wide for p, w in found[name])
                    way += math.dist(_between(strips[name], there), _between(strips[other], place))
                found.setdefault(other, []).append((place, way))
                if other not in reached:
                    reached.append(other)
        return found


def along(strip: Strip, at: Spot) -> float:
    """Where on its middle line a strip is nearest to a place, 0 at its start and 1 at its end."""
    (x0, z0), (x1, z1) = strip.start, strip.end
    span = (x1 - x0) ** 2 + (z1 - z0) ** 2
    return min(1.0, max(0.0, ((at[0] - x0) * (x1 - x0) + (at[1] - z0) * (z1 - z0)) / span)) if span else 0.0


def _between(strip: Strip, part: float) -> Spot:
    (x0, z0), (x1, z1) = strip.start, strip.end
    return x0 + part * (x1 - x0), z0 + part * (z1 - z0)


@dataclass(frozen=True)
class Section:
    """A section of tube and truss, bending as one.

    Attributes:
        diameter: Of the tube, outside [mm].
        wall: Of the tube [mm].
        cut: Strips and seams that act.
        area: [mm^2].
        middle: Centroid [mm].
        upright: Integral of (z - middle)^2: bending in the upright plane [mm^4].
        level: Integral of (x - middle)^2: bending in plan [mm^4].
        mixed: Integral of both [mm^4].
    """

    diameter: float
    wall: float
    cut: Cut
    area: float
    middle: Spot
    upright: float
    level: float
    mixed: float

    @property
    def bare(self) -> bool:
        """Whether it is the tube alone."""
        return not self.cut.strips

    def slopes(self, about_level: float, about_upright: float) -> Spot:
        """Change of stress forward and upward [MPa/mm] under bending moments about x and z [N*mm].

        The moments are those of what is outboard to the left, about the section's own middle. Source:
        statics of an unsymmetric section: -Mx = int(stress z), Mz = int(stress x).
        """
        whole = self.upright * self.level - self.mixed**2
        forward = (about_upright * self.upright + about_level * self.mixed) / whole
        upward = (-about_level * self.level - about_upright * self.mixed) / whole
        return forward, upward

    def extreme(self) -> tuple[float, float, float, float]:
        """Second moments and moduli of the four sides of the tube: top, bottom, front, rear [mm^3]."""
        radius, (x, z) = self.diameter / 2.0, self.middle
        return (
            _modulus(self.upright, radius - z),
            _modulus(self.upright, radius + z),
            _modulus(self.level, radius - x),
            _modulus(self.level, radius + x),
        )


def _modulus(second: float, away: float) -> float:
    """Second moment over the way to a fibre; without end where the fibre lies in the middle [mm^3]."""
    return second / abs(away) if away else math.inf


def section_of(diameter: float, wall: float, cut: Cut | None = None) -> Section:
    """The section of a tube, with what of a truss is joined to it.

    Args:
        diameter: Outside of the tube [mm].
        wall: Of the tube [mm].
        cut: What the plane cuts of the truss; None or empty without one.

    Raises:
        ProgramFault: When a seam names a strip that is not there.

    Source: geometry, parallel axis theorem.
    """
    acting = (cut or Cut()).joined
    known = {TUBE, *(s.name for s in (cut or Cut()).strips)}
    for seam in (cut or Cut()).seams:
        if not {seam.first, seam.second} <= known:
            raise ProgramFault(f"seam {seam.name} joins {seam.first} to {seam.second}, and one of them is not cut")
    ring, second = float(tube_area(diameter, wall)), float(tube_second_moment(diameter, wall))
    pieces = [(ring, 0.0, 0.0, second, second, 0.0), *(_piece(s) for s in acting.strips)]
    area = sum(p[0] for p in pieces)
    x, z = (sum(p[0] * p[k] for p in pieces) / area for k in (1, 2))
    return Section(
        diameter=diameter,
        wall=wall,
        cut=acting,
        area=area,
        middle=(x, z),
        upright=sum(p[3] + p[0] * (p[2] - z) ** 2 for p in pieces),
        level=sum(p[4] + p[0] * (p[1] - x) ** 2 for p in pieces),
        mixed=sum(p[5] + p[0] * (p[1] - x) * (p[2] - z) for p in pieces),
    )


def _piece(strip: Strip) -> tuple[float, float, float, float, float, float]:
    """Area, middle x and z, own second moments upright, level and mixed of a rectangle that leans."""
    (x0, z0), (x1, z1), thick, wide = strip.start, strip.end, strip.carrying, strip.width
    if not wide:
        return 0.0, x0, z0, 0.0, 0.0, 0.0
    ux, uz = (x1 - x0) / wide, (z1 - z0) / wide
    along, across = thick * wide**3 / 12.0, wide * thick**3 / 12.0
    return (
        thick * wide,
        (x0 + x1) / 2.0,
        (z0 + z1) / 2.0,
        along * uz**2 + across * ux**2,
        along * ux**2 + across * uz**2,
        (along - across) * ux * uz,
    )
