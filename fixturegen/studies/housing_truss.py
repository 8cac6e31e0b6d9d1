"""The truss of a plan as what its sections ask for: strips and seams at a station, and where it takes its share.

Openings are cut out of a section that is asked for its stress, and filled where the flow through the welds is
asked for, which then comes out too large. Ribs stand across and carry nothing along.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.studies.edge_lines import Ring, chords
from fixturegen.studies.housing_section import CENTRE, TUBE, Cut, Seam, Spot, Strip
from fixturegen.studies.truss_records import CHORD, Onto, SidePlate, TrussPlan, WeldRun

STITCH_THICKNESSES, STITCH_LIMIT = 24.0, 305.0
"""Farthest that runs of weld stand apart and still join along the whole: 24 thicknesses of the thinner plate, and
12 in (AISC 360 J3.5, from memory, for elements in continuous contact)."""
ON_TUBE: tuple[Onto, Onto] = ("tube-left", "tube-right")


@dataclass(frozen=True)
class WeldZone:
    """A length along which a plate is welded, in one run or in stitches.

    Attributes:
        part: The plate.
        onto: What it is welded to.
        begin: Right end [mm].
        end: Left end [mm].
        welded: Weld over length [1].
        run: Shortest run in it [mm]; of one run its length.
        leg: Smallest leg in it [mm].
        sides: Sides of the plate that are welded.
        root: Where the weld lies: station and height of the plate's edge, shape (k, 2) [mm].
    """

    part: str
    onto: Onto
    begin: float
    end: float
    welded: float
    run: float
    leg: float
    sides: int
    root: tuple[tuple[float, float], ...]

    @property
    def stitched(self) -> bool:
        """Whether it is broken up into runs."""
        return self.welded < 1.0 - 1e-9


def zones_of(plan: TrussPlan) -> tuple[WeldZone, ...]:
    """The welds of a truss, runs near one another put together, from right to left.

    Args:
        plan: The truss.
    """
    lies = {p.name: p.lies for p in plan.plates}
    apart = min(STITCH_THICKNESSES * plan.thickness, STITCH_LIMIT)
    found: list[WeldZone] = []
    for part, onto in sorted({(w.part, w.onto) for w in plan.welds if w.length > 0.0}):
        runs = sorted((w for w in plan.welds if (w.part, w.onto) == (part, onto)), key=lambda w: w.stations)
        group: list[WeldRun] = []
        for run in runs:
            if group and run.stations[0] - max(w.stations[1] for w in group) > apart:
                found.append(_zone(group, lies.get(part, 0)))
                group = []
            group.append(run)
        found.append(_zone(group, lies.get(part, 0)))
    return tuple(z for z in found if z.end > z.begin)


def _zone(runs: list[WeldRun], lies: int) -> WeldZone:
    begin, end = min(w.stations[0] for w in runs), max(w.stations[1] for w in runs)
    covered, reached = 0.0, begin
    for low, high in sorted(w.stations for w in runs):
        covered += max(0.0, high - max(low, reached))
        reached = max(reached, high)
    length = (end - begin) or 1.0
    return WeldZone(
        runs[0].part,
        runs[0].onto,
        begin,
        end,
        min(1.0, covered / length),
        min(w.length for w in runs),
        min(w.leg for w in runs),
        min(w.sides for w in runs),
        tuple(sorted((p[1], lies * p[0] if lies else p[2]) for w in runs for p in w.points)),
    )


@dataclass(frozen=True, eq=False)
class ActingTruss:
    """A truss with what its welds make of it.

    Attributes:
        plan: The truss.
        zones: Its welds.
        edges: Of each plate its outline and openings as stretches, (station, height) twice, shape (k, 4) [mm].
        across: Whether it is taken to carry on over a centre section that it is not welded to.
    """

    plan: TrussPlan
    zones: tuple[WeldZone, ...]
    edges: tuple[Array, ...]
    across: bool = False

    def cut_at(self, station: float, filled: bool = False) -> Cut:
        """What a plane cuts of the truss, with the seams that are welded there; empty beyond its ends.

        Args:
            station: Left of the middle of the axle [mm].
            filled: Openings taken as steel.
        """
        strips: list[Strip] = []
        seams: list[Seam] = []
        tops = self._tops(station)
        for plate, edges in zip(self.plan.plates, self.edges, strict=True):
            spans = _spans(edges, station)
            if not spans:
                continue
            foot, head = spans[0][0], spans[-1][1]
            if filled:
                # a drain in the edge is filled to the line of the weld on either side of it
                zone = self._zone_at(plate, station, ON_TUBE)
                foot = foot if zone is None else min(foot, float(np.interp(station, *np.array(zone.root).T)))
            pieces = [(foot, head)] if filled else spans
            names = [plate.name, *(f"{plate.name} {k}" for k in range(2, len(pieces) + 1))]
            strips += [
                Strip(n, _place(plate, low), _place(plate, high), plate.thickness)
                for n, (low, high) in zip(names, pieces, strict=True)
            ]
            # what an opening parts hangs together beyond it
            seams += [
                Seam("", a, b, _place(plate, high), 0.0)
                for (a, b), (_, high) in zip(pairwise(names), pieces, strict=False)
            ]
            seams += self._seams(plate, station, _place(plate, foot), names[0], TUBE, ON_TUBE)
            for top in tops:
                seams += self._seams(plate, station, _place(plate, head), names[-1], top.name, ("top",))
        return Cut((*strips, *tops), tuple(seams))

    def _tops(self, station: float) -> list[Strip]:
        run = next((r for r in self.plan.runs if r.right[0] <= station <= r.left[0]), None)
        if run is None:
            return []
        lean = math.cos(math.radians(run.slope))
        z = run.underside(station) + run.thickness / lean / 2.0
        # a plate that leans gives way more along the axle: strain along it cos^2, its pull along the axle cos
        return [Strip(run.name, (run.x[0], z), (run.x[1], z), run.thickness * lean**3)]

    def _seams(
        self, plate: SidePlate, station: float, at: Spot, first: str, second: str, onto: tuple[Onto, ...]
    ) -> list[Seam]:
        zone = self._zone_at(plate, station, onto)
        if zone is None:
            return []
        words = f"{plate.label} to {'the tube' if second == TUBE else 'the top plate'}"
        return [Seam(words, first, second, at, zone.leg, zone.sides, zone.welded, zone.run if zone.stitched else 0.0)]

    def _zone_at(self, plate: SidePlate, station: float, onto: tuple[Onto, ...]) -> WeldZone | None:
        return next((z for z in self._on(plate.name, onto) if z.begin <= station <= z.end), None)

    def _on(self, part: str, onto: tuple[Onto, ...]) -> list[WeldZone]:
        return [z for z in self.zones if z.part == part and z.onto in onto]

    def anchored(self) -> bool:
        """Whether it is welded to the centre section, or taken to carry on over it."""
        return self.across or _on_housing(self.plan)

    def onto_centre(self) -> tuple[tuple[Seam, float, float], ...]:
        """Each plate's weld onto the centre section: the seam, its length and the plate's thickness [mm]."""
        found = []
        for plate in self.plan.plates:
            zones = self._on(plate.name, ("housing",))
            if not zones:
                continue
            length = sum(z.end - z.begin for z in zones)
            share = sum((z.end - z.begin) * z.welded for z in zones) / length
            run = min(z.run for z in zones) if share < 1.0 - 1e-9 else 0.0
            at = _place(plate, zones[0].root[0][1])
            leg, sides = min(z.leg for z in zones), min(z.sides for z in zones)
            seam = Seam(f"{plate.label} to the centre section", plate.name, CENTRE, at, leg, sides, share, run)
            found.append((seam, length, plate.thickness))
        return tuple(found)

    def spans(self, roots: tuple[float, float]) -> tuple[tuple[float, float], ...]:
        """Lengths along which all side plates are welded to a tube, right and left; none where a tube has no weld.

        Args:
            roots: Sides of the centre section, right and left [mm]; a truss that is welded to it goes on there.
        """
        found = []
        for onto, root in zip(ON_TUBE[::-1], roots, strict=True):
            mine = [self._on(p.name, (onto,)) for p in self.plan.plates]
            if not mine or not all(mine):
                found.append((root, root))
                continue
            low, high = max(min(z.begin for z in m) for m in mine), min(max(z.end for z in m) for m in mine)
            if self.anchored():
                low, high = (low, root) if onto == "tube-right" else (root, high)
            found.append((min(low, high), max(low, high)))
        return tuple(found)


def acting(plan: TrussPlan, roots: tuple[float, float], *, across: bool = False) -> ActingTruss:
    """A truss with its welds put together.

    Args:
        plan: The truss.
        roots: Sides of the centre section, right and left [mm]: a weld that goes on onto it has no end there.
        across: Take it that plates which bridge the centre section share the load all the way over it.
    """
    zones = zones_of(plan)
    near = math.inf if across else min(STITCH_THICKNESSES * plan.thickness, STITCH_LIMIT)
    if across or _on_housing(plan):
        zones = tuple(_on_to(z, roots, near) for z in zones)
    edges = tuple(_edges((plate.outline, *plate.openings)) for plate in plan.plates)
    return ActingTruss(plan, zones, edges, across)


def _on_housing(plan: TrussPlan) -> bool:
    return any(w.onto == "housing" for w in plan.welds)


def _on_to(zone: WeldZone, roots: tuple[float, float], near: float) -> WeldZone:
    """A weld on a tube that ends beside the centre section as one that goes on to it."""
    if zone.onto == "tube-right" and 0.0 < roots[0] - zone.end <= near:
        return replace(zone, end=roots[0])
    if zone.onto == "tube-left" and 0.0 < zone.begin - roots[1] <= near:
        return replace(zone, begin=roots[1])
    return zone


def _edges(loops: tuple[Ring, ...]) -> Array:
    found = []
    for loop in loops:
        points = np.array(chords(loop, CHORD, closed=True))
        found.append(np.hstack([points, np.roll(points, -1, axis=0)]))
    return np.vstack(found)


def _spans(edges: Array, station: float) -> list[tuple[float, float]]:
    """Heights between which there is steel at a station [mm]."""
    y0, z0, y1, z1 = edges[(edges[:, 0] <= station) != (edges[:, 2] <= station)].T
    heights = sorted((z0 + (z1 - z0) * (station - y0) / (y1 - y0)).tolist())
    return list(zip(heights[::2], heights[1::2], strict=False))


def _place(plate: SidePlate, height: float) -> Spot:
    """A height of a plate in the plane across the axle."""
    across = sum(plate.x) / 2.0
    return (plate.lies * height, across) if plate.lies else (across, height)
