"""What a DXF file holds, read from its bytes alone: contours put together from entities in any order.

Nothing of the writer is used but the names of layers and units.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

from fixturegen.plate.profile import Edge
from fixturegen.write import dxf
from fixturegen.write.dxf import PLAIN, Units
from fixturegen.write.file_rules import FileRules

GAP = 0.001  # largest gap in a contour [mm]; far below what a machine resolves, common practice
SIZE = 0.001  # deviation of a hole, a bound or the witness square [mm]; same reason
DOUBLE = 0.025  # closer than this for a stretch is the same line again [mm], 0.001 in
STRETCH = 4.0 * DOUBLE  # shorter than this is a corner, where lines meet anyway [mm]
SAMPLES = 16  # points along an entity at which a double is looked for
KINDS = {  # what may stand in a file: every controller cuts the first as they stand
    ("plain", "R2000"): frozenset({"LINE", "ARC", "CIRCLE"}),
    ("plain", "R12"): frozenset({"LINE", "ARC", "CIRCLE"}),
    ("polyline", "R2000"): frozenset({"LINE", "CIRCLE", "LWPOLYLINE"}),
    ("polyline", "R12"): frozenset({"LINE", "CIRCLE", "POLYLINE"}),
}

Ring = tuple[float, float, float]


@dataclass(frozen=True)
class Content:
    """What a file holds, in mm.

    Attributes:
        scale: Millimetres per file unit, from the header, in R12 from the witness square; 0 when none tells it.
        version: R2000 or R12, or the file's own code.
        kinds: Entity kinds found.
        pieces: Lines and arcs, by layer.
        rings: Circles (x, y, diameter), by layer.
        faults: What is wrong with the file itself, in words.
    """

    scale: float
    kinds: frozenset[str]
    pieces: dict[str, list[Edge]] = field(default_factory=dict)
    rings: dict[str, list[Ring]] = field(default_factory=dict)
    faults: tuple[str, ...] = ()
    version: str = "R2000"


@dataclass(frozen=True)
class Contour:
    """A closed run of entities: its area [mm2] and its box (xmin, ymin, xmax, ymax) [mm]."""

    area: float
    box: tuple[float, float, float, float]


def _document(data: bytes) -> tuple[Any, tuple[str, ...]]:
    import ezdxf

    document = ezdxf.read(io.StringIO(data.decode("ascii")))
    audit = document.audit()
    wrong = tuple(f"entity fault: {e.message}" for e in (*audit.errors, *audit.fixes))
    return document, wrong


def _arc(entity: Any, scale: float) -> Edge:
    cx, cy, r = entity.dxf.center.x * scale, entity.dxf.center.y * scale, entity.dxf.radius * scale
    a = math.radians(entity.dxf.start_angle)
    sweep = math.radians((entity.dxf.end_angle - entity.dxf.start_angle) % 360.0) or 2.0 * math.pi
    start = (cx + r * math.cos(a), cy + r * math.sin(a))
    end = (cx + r * math.cos(a + sweep), cy + r * math.sin(a + sweep))
    return Edge(*start, *end, (cx, cy), r, sweep)


def read_dxf(data: bytes) -> Content:
    """What the bytes of a DXF file hold.

    Raises:
        ValueError: When the bytes are no DXF file.
    """
    import ezdxf

    try:
        document, wrong = _document(data)
    except (ezdxf.DXFError, UnicodeDecodeError, OSError) as error:
        raise ValueError(f"cannot be read again: {error}") from error
    scales = {dxf.INSUNITS["mm"]: 1.0, dxf.INSUNITS["in"]: dxf.MM_PER_INCH}
    version = {"AC1015": "R2000", "AC1009": "R12"}.get(document.dxfversion, document.dxfversion)
    scale = scales.get(int(document.header.get("$INSUNITS", 0)), 0.0)
    if version == "R12":  # it knows no unit: the square of 1.000 in tells it
        told = (s for s in scales.values() if not witness_faults(_content(document, s, wrong, version)))
        scale = next(told, 0.0)
    return _content(document, scale, wrong, version)


def _content(document: Any, scale: float, wrong: tuple[str, ...], version: str) -> Content:
    kinds: set[str] = set()
    pieces: dict[str, list[Edge]] = {}
    rings: dict[str, list[Ring]] = {}
    faults = list(wrong)
    for entity in document.modelspace():
        kind, layer = entity.dxftype(), entity.dxf.layer
        kinds.add(kind)
        if kind in ("LWPOLYLINE", "POLYLINE"):
            closed = entity.closed if kind == "LWPOLYLINE" else entity.is_closed
            faults += [] if closed else [f"a polyline on {layer} is open"]
            for part in entity.virtual_entities():
                _take(part, layer, scale, pieces, rings)
        else:
            _take(entity, layer, scale, pieces, rings)
    return Content(scale, frozenset(kinds), pieces, rings, tuple(faults), version)


def _take(entity: Any, layer: str, scale: float, pieces: dict[str, list[Edge]], rings: dict[str, list[Ring]]) -> None:
    """Put one line, arc or circle to its layer; anything else is told by its kind."""
    kind = entity.dxftype()
    if kind == "LINE":
        a, b = entity.dxf.start * scale, entity.dxf.end * scale
        pieces.setdefault(layer, []).append(Edge(a.x, a.y, b.x, b.y))
    elif kind == "ARC":
        pieces.setdefault(layer, []).append(_arc(entity, scale))
    elif kind == "CIRCLE":
        c, d = entity.dxf.center * scale, entity.dxf.radius * 2.0 * scale
        rings.setdefault(layer, []).append((c.x, c.y, d))


def _turned_round(e: Edge) -> Edge:
    return Edge(e.x1, e.y1, e.x0, e.y0, e.centre, e.radius, -e.sweep_rad)


def _piece_box(e: Edge) -> tuple[float, float, float, float]:
    xs, ys = [e.x0, e.x1], [e.y0, e.y1]
    if e.centre is not None:
        start = math.atan2(e.y0 - e.centre[1], e.x0 - e.centre[0])
        for k in range(4):
            reach = (k * math.pi / 2.0 - start) * math.copysign(1.0, e.sweep_rad) % (2.0 * math.pi)
            if reach < abs(e.sweep_rad):
                xs.append(e.centre[0] + e.radius * (1, 0, -1, 0)[k])
                ys.append(e.centre[1] + e.radius * (0, 1, 0, -1)[k])
    return min(xs), min(ys), max(xs), max(ys)


def measured(run: Sequence[Edge]) -> Contour:
    """Area and box of a closed run."""
    area = 0.0
    for e in run:
        area += (e.x0 * e.y1 - e.x1 * e.y0) / 2.0
        if e.centre is not None:
            area += e.radius**2 * (e.sweep_rad - math.sin(e.sweep_rad)) / 2.0
    boxes = [_piece_box(e) for e in run]
    low = min(b[0] for b in boxes), min(b[1] for b in boxes)
    return Contour(abs(area), (*low, max(b[2] for b in boxes), max(b[3] for b in boxes)))


def contours(pieces: Sequence[Edge]) -> tuple[list[Contour], list[str]]:
    """Closed contours put together from lines and arcs, and what kept others open, in words."""
    left, found, faults = list(pieces), [], []
    while left:
        run = [left.pop(0)]
        while math.dist((run[-1].x1, run[-1].y1), (run[0].x0, run[0].y0)) > GAP or len(run) == 1:
            here = (run[-1].x1, run[-1].y1)
            after = [e for e in left if math.dist((e.x0, e.y0), here) <= GAP]
            before = [e for e in left if math.dist((e.x1, e.y1), here) <= GAP]
            if len(after) + len(before) != 1:
                what = "open" if not after and not before else "branching"
                faults.append(f"contour {what} at {here[0]:.3f}, {here[1]:.3f} mm")
                break
            chosen = (after or before)[0]
            left.remove(chosen)
            run.append(chosen if after else _turned_round(chosen))
        else:
            found.append(measured(run))
    return found, faults


def _points_along(e: Edge) -> Iterator[tuple[float, float]]:
    for k in range(SAMPLES):
        t = (k + 0.5) / SAMPLES
        if e.centre is None:
            yield e.x0 + t * (e.x1 - e.x0), e.y0 + t * (e.y1 - e.y0)
        else:
            a = math.atan2(e.y0 - e.centre[1], e.x0 - e.centre[0]) + t * e.sweep_rad
            yield e.centre[0] + e.radius * math.cos(a), e.centre[1] + e.radius * math.sin(a)


def away(point: tuple[float, float], e: Edge) -> float:
    """Distance of a point from a line or an arc [mm]."""
    x, y = point
    ends = min(math.hypot(x - e.x0, y - e.y0), math.hypot(x - e.x1, y - e.y1))
    if e.centre is None:
        dx, dy = e.x1 - e.x0, e.y1 - e.y0
        length = math.hypot(dx, dy)
        along = ((x - e.x0) * dx + (y - e.y0) * dy) / length if length else -1.0
        if not 0.0 <= along <= length:
            return ends
        return abs((x - e.x0) * dy - (y - e.y0) * dx) / length
    start = math.atan2(e.y0 - e.centre[1], e.x0 - e.centre[0])
    angle = math.atan2(y - e.centre[1], x - e.centre[0])
    turn = (angle - start) * math.copysign(1.0, e.sweep_rad) % (2.0 * math.pi)
    if turn > abs(e.sweep_rad):
        return ends
    return abs(math.hypot(x - e.centre[0], y - e.centre[1]) - e.radius)


def doubles(pieces: Sequence[Edge], rings: Sequence[Ring]) -> list[str]:
    """Stretches that would be cut twice, in words; entities that merely meet at ends are none."""
    halves = [e for x, y, d in rings for e in half_arcs(x, y, d)]
    every = [*pieces, *halves]
    boxes = [_piece_box(e) for e in every]
    found = []
    for i, one in enumerate(every):
        if one.length < STRETCH:  # all of it lies near its neighbours' ends
            continue
        points = list(_points_along(one))
        for j, other in enumerate(every):
            if j == i or not _near(boxes[i], boxes[j]) or other.length < STRETCH:
                continue
            near = sum(away(p, other) <= DOUBLE for p in points)
            if near >= 2 and near * one.length / SAMPLES >= STRETCH:
                x, y = points[SAMPLES // 2]
                found.append(f"cut twice near {x:.3f}, {y:.3f} mm")
                break
    return found


def half_arcs(x: float, y: float, d: float) -> tuple[Edge, Edge]:
    """A circle as two half arcs."""
    r = d / 2.0
    return (
        Edge(x - r, y, x + r, y, (x, y), r, math.pi),
        Edge(x + r, y, x - r, y, (x, y), r, math.pi),
    )


def _near(a: tuple[float, ...], b: tuple[float, ...]) -> bool:
    return a[0] <= b[2] + DOUBLE and b[0] <= a[2] + DOUBLE and a[1] <= b[3] + DOUBLE and b[1] <= a[3] + DOUBLE


def without_leads(pieces: Sequence[Edge], rings: Sequence[Ring]) -> tuple[list[Edge], list[Edge]]:
    """Contours, and the lines that hang on one by an end: leads, their free end first."""
    kept, leads = [], []
    for i, e in enumerate(pieces):
        ends = [(e.x0, e.y0), (e.x1, e.y1)]
        met = [
            any(
                min(math.dist(end, (o.x0, o.y0)), math.dist(end, (o.x1, o.y1))) <= GAP
                for k, o in enumerate(pieces)
                if k != i
            )
            or any(abs(math.dist(end, (x, y)) - d / 2.0) <= GAP for x, y, d in rings)
            for end in ends
        ]
        if e.centre is None and met.count(True) == 1:
            leads.append(e if not met[0] else _turned_round(e))
        else:
            kept.append(e)
    return kept, leads


def witness_faults(content: Content) -> list[str]:
    """Whether the witness square is there and true, in words."""
    notes = content.pieces.get(dxf.NOTE, [])
    sides = [e for e in notes if abs(e.length - dxf.WITNESS) <= SIZE]
    closed = [c for c in contours(sides)[0] if abs(c.area - dxf.WITNESS**2) <= SIZE * dxf.WITNESS]
    return [] if closed else ["the 1.000 in (25.4 mm) witness square is missing or not true"]


def file_faults(content: Content, units: Units, rules: FileRules = PLAIN) -> list[str]:
    """What is wrong with a file whatever it holds: unit, version, kinds of entities, layers; in words."""
    faults = list(content.faults)
    if content.version != rules.version:
        faults.append(f"is of version {content.version}, not {rules.version}")
    if content.scale != (1.0 if units == "mm" else dxf.MM_PER_INCH):
        faults.append(f"the {'witness square' if rules.version == 'R12' else 'header'} does not say {units}")
    strange = sorted(content.kinds - KINDS[rules.entities, rules.version])
    if strange:
        faults.append(f"holds {', '.join(strange)}, which controllers read differently")
    layers = {*content.pieces, *content.rings}
    unknown = sorted(layers - {name for name, _ in dxf.LAYERS})
    if unknown:
        faults.append(f"has entities on layer {', '.join(unknown)}")
    return faults
