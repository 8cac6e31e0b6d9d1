"""The order a file is cut in, read from the file alone: marks first, contours whole, insides before their outsides."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from fixturegen.plate.profile import Edge
from fixturegen.write import dxf
from fixturegen.write.content import GAP, Content, measured, turned_round
from fixturegen.write.file_rules import FileRules

STEP_RAD = math.radians(2.0)  # of the chords a contour is looked at with
CUTS = (dxf.CUT_IN, dxf.CUT_OUT)

Point = tuple[float, float]
Cut = tuple[str, tuple[Edge, ...]]


@dataclass(frozen=True)
class Run:
    """One contour as the torch runs it.

    Attributes:
        layer: The layer it stands on.
        entities: How many entities it is put together from, its lead left out.
        edges: In the order and direction of the file.
        lead: The line before it that leads to it, its free end first.
        turns: Whether the file says which way it is run; a circle's way is the controller's.
    """

    layer: str
    entities: int
    edges: tuple[Edge, ...]
    lead: Edge | None = None
    turns: bool = True

    @property
    def start(self) -> Point:
        """Where the torch comes to it."""
        return self.edges[0].x0, self.edges[0].y0

    @property
    def area(self) -> float:
        """Area within [mm2], positive when run counter-clockwise."""
        return sum(
            (e.x0 * e.y1 - e.x1 * e.y0) / 2.0 + e.radius**2 * (e.sweep_rad - math.sin(e.sweep_rad)) / 2.0
            if e.centre is not None
            else (e.x0 * e.y1 - e.x1 * e.y0) / 2.0
            for e in self.edges
        )


def runs(content: Content) -> tuple[list[Run], list[str]]:
    """The contours of a file in its own order, and where one is broken off by another, in words."""
    cut = [(layer, taken) for layer, taken in content.sequence if layer in CUTS and taken]
    found: list[Run] = []
    at = 0
    while at < len(cut):
        run, after = _run_from(cut, at)
        if run is None:
            e = cut[at][1][0]
            return found, [f"the contour from {e.x0:.3f}, {e.y0:.3f} mm is not run in one go"]
        found.append(run)
        at = after
    return found, []


def _run_from(cut: Sequence[Cut], at: int) -> tuple[Run | None, int]:
    """The contour that begins at an entity, and the entity after it; none when it never closes."""
    layer, first = cut[at]
    if _meets(_end(first[-1]), _start(first[0])):
        return Run(layer, 1, first, turns=_told(first)), at + 1
    if len(first) > 1:
        return None, at
    if at + 1 < len(cut) and cut[at + 1][0] == layer and first[0].centre is None:
        lead = _lead_to(first[0], cut[at + 1][1])
        if lead is not None:
            return Run(layer, 1, cut[at + 1][1], lead, _told(cut[at + 1][1])), at + 2
    for one in (first[0], turned_round(first[0])):
        run, after = _chained(cut, at, one)
        if run is not None:
            return run, after
    return None, at


def _chained(cut: Sequence[Cut], at: int, first: Edge) -> tuple[Run | None, int]:
    """The contour put together from one entity after another, each going on from the one before."""
    layer, chain = cut[at][0], [first]
    for k in range(at + 1, len(cut)):
        on, taken = cut[k]
        if on != layer or len(taken) != 1:
            break
        here, e = _end(chain[-1]), taken[0]
        if not (_meets(_start(e), here) or _meets(_end(e), here)):
            break
        chain.append(e if _meets(_start(e), here) else turned_round(e))
        if _meets(_end(chain[-1]), _start(first)):
            return Run(layer, len(chain), tuple(chain), turns=_told(chain)), k + 1
        if k > at + 1 and first.centre is None and _meets(_end(chain[-1]), _end(first)):
            return Run(layer, len(chain) - 1, tuple(chain[1:]), first), k + 1
    return None, at


def _told(contour: Sequence[Edge]) -> bool:
    """Whether the file says which way it is run: not of a circle, nor of two arcs, which may stand either way."""
    return len(contour) > 2 or any(e.centre is None for e in contour)


def _lead_to(line: Edge, contour: Sequence[Edge]) -> Edge | None:
    """The line as the lead to a closed contour, its free end first; None when it leads to none."""
    if not _meets(_end(contour[-1]), _start(contour[0])):
        return None
    for one in (line, turned_round(line)):
        if any(_meets(_end(one), _start(e)) or _on_ring(_end(one), e) for e in contour):
            return one
    return None


def _on_ring(point: Point, e: Edge) -> bool:
    return e.centre is not None and abs(math.dist(point, e.centre) - e.radius) <= GAP


def _start(e: Edge) -> Point:
    return e.x0, e.y0


def _end(e: Edge) -> Point:
    return e.x1, e.y1


def _meets(a: Point, b: Point) -> bool:
    return math.dist(a, b) <= GAP


def order_faults(content: Content, rules: FileRules) -> list[str]:
    """What is wrong with the order of a file, in words.

    Args:
        content: The file.
        rules: How it was to be written.
    """
    layers = [layer for layer, _ in content.sequence]
    first_cut = min((layers.index(layer) for layer in CUTS if layer in layers), default=len(layers))
    faults = ["a mark stands after the first cut"] if dxf.MARK in layers[first_cut:] else []
    found, broken = runs(content)
    faults += broken
    if rules.entities == "polyline" and any(r.entities > 1 for r in found):
        faults.append("a contour is drawn in single lines, not as a polyline")
    for r in found:
        if r.turns and (r.area > 0.0) == ((r.layer == dxf.CUT_OUT) == (rules.swirl == "clockwise")):
            faults.append(f"the contour at {r.start[0]:.3f}, {r.start[1]:.3f} mm is run the wrong way round")
    return faults + _too_late(found)


def _too_late(found: Sequence[Run]) -> list[str]:
    """Contours that are cut after one that lies round them: the piece is loose by then."""
    import shapely

    steel = [shapely.Polygon(_corners(r)) for r in found]
    places = [shapely.Point(_corners(r)[1]) for r in found]
    boxes = [measured(r.edges).box for r in found]
    faults = []
    for later, earlier in shapely.STRtree(steel).query(places, predicate="within").T.tolist():
        smaller = all(o <= i + GAP for o, i in zip(boxes[earlier][:2], boxes[later][:2], strict=True)) and all(
            o >= i - GAP for o, i in zip(boxes[earlier][2:], boxes[later][2:], strict=True)
        )
        if earlier < later and smaller:
            x, y = found[later].start
            faults.append(f"the contour at {x:.3f}, {y:.3f} mm is cut after the one round it")
    return faults


def _corners(run: Run) -> list[Point]:
    """The contour as chords; (n, 2) [mm]."""
    points = []
    for e in run.edges:
        steps = 1 if e.centre is None else max(2, math.ceil(abs(e.sweep_rad) / STEP_RAD))
        for k in range(steps):
            if e.centre is None:
                points.append((e.x0, e.y0))
            else:
                a = math.atan2(e.y0 - e.centre[1], e.x0 - e.centre[0]) + e.sweep_rad * k / steps
                points.append((e.centre[0] + e.radius * math.cos(a), e.centre[1] + e.radius * math.sin(a)))
    return points
