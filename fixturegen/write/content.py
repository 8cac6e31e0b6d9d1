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
        sequence: Layer and lines and arcs of every entity, in the order of the file.
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
    sequence: tuple[tuple[str, tuple[Edge, ...]], ...] = ()


@dataclass(frozen=True)
class Contour:
    """A closed run of lines and arcs: its area [mm2], its box (xmin, ymin, xmax, ymax) [mm], and the run."""

    area: float
    box: tuple[float, float, float, float]
    run: tuple[Edge, ...] = ()


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
    pieces: dict[str, list[Edge]] = {}
    rings: dict[str, list[Ring]] = {}
    faults = [*wrong, *_elsewhere_drawn(document)]
    kinds, sequence = set(), []
    for entity in document.modelspace():
        kind, layer = entity.dxftype(), entity.dxf.layer
        kinds.add(kind)
        parts = [entity]
        if kind in ("LWPOLYLINE", "POLYLINE"):
            closed = entity.closed if kind == "LWPOLYLINE" else entity.is_closed
            faults += [] if closed else [f"a polyline on {layer} is open"]
            parts = list(entity.virtual_entities())
        faults += [f"a {kind} on {layer} does not lie flat on the sheet"] if any(map(_off_plane, parts)) else []
        taken = [e for part in parts for e in _take(part, layer, scale, pieces, rings)]
        sequence.append((layer, _as_run(entity, taken)))
    return Content(scale, frozenset(kinds), pieces, rings, tuple(faults), version, tuple(sequence))


def _as_run(entity: Any, taken: Sequence[Edge]) -> tuple[Edge, ...]:
    """Lines and arcs in the way of their polyline; by itself an arc always stands counter-clockwise."""
    kind = entity.dxftype()
    if kind == "LWPOLYLINE":
        bulges = [bulge for (bulge,) in entity.get_points("b")]
    else:
        bulges = [v.dxf.bulge for v in entity.vertices] if kind == "POLYLINE" else [0.0] * len(taken)
    if len(bulges) != len(taken):
        return tuple(taken)
    return tuple(turned_round(e) if bulge < 0.0 else e for e, bulge in zip(taken, bulges, strict=True))


def _elsewhere_drawn(document: Any) -> list[str]:
    """Blocks, and anything on paper; controllers scale them, mirror them or leave them out."""
    blocks = sorted(b.name for b in document.blocks if not b.is_any_layout)
    papers = sorted(p.name for p in document.layouts if p.is_any_paperspace and len(p))
    return [f"has a block {name}" for name in blocks] + [f"has something drawn on the paper {name}" for name in papers]


def _off_plane(entity: Any) -> bool:
    """Whether a line, arc or circle stands above the plane or looks at it from behind, which mirrors it."""
    names = {"LINE": ("start", "end"), "ARC": ("center",), "CIRCLE": ("center",)}.get(entity.dxftype(), ())
    turned = entity.dxf.hasattr("extrusion") and not entity.dxf.extrusion.isclose((0.0, 0.0, 1.0))
    return bool(names) and (turned or any(abs(entity.dxf.get(name).z) > 0.0 for name in names))


def _take(
    entity: Any, layer: str, scale: float, pieces: dict[str, list[Edge]], rings: dict[str, list[Ring]]
) -> tuple[Edge, ...]:
    """The lines and arcs of one line, arc or circle, put to its layer; anything else is told by its kind."""
    kind = entity.dxftype()
    if kind == "CIRCLE":
        c, d = entity.dxf.center * scale, entity.dxf.radius * 2.0 * scale
        rings.setdefault(layer, []).append((c.x, c.y, d))
        return half_arcs(c.x, c.y, d)
    if kind not in ("LINE", "ARC"):
        return ()
    if kind == "LINE":
        a, b = entity.dxf.start * scale, entity.dxf.end * scale
        one = Edge(a.x, a.y, b.x, b.y)
    else:
        one = _arc(entity, scale)
    pieces.setdefault(layer, []).append(one)
    return (one,)


def turned_round(e: Edge) -> Edge:
    """The same line or arc from its other end."""
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
    return Contour(abs(area), (*low, max(b[2] for b in boxes), max(b[3] for b in boxes)), tuple(run))


class Ends:
    """Which lines and arcs end at a place; found without looking at all of them."""

    def __init__(self, pieces: Sequence[Edge]) -> None:
        self._pieces = pieces
        self._cells: dict[tuple[int, int], list[int]] = {}
        for i, e in enumerate(pieces):
            for cell in {_cell(e.x0, e.y0), _cell(e.x1, e.y1)}:
                self._cells.setdefault(cell, []).append(i)

    def take(self, i: int) -> None:
        """Look at this piece no more."""
        e = self._pieces[i]
        for cell in {_cell(e.x0, e.y0), _cell(e.x1, e.y1)}:
            self._cells[cell].remove(i)

    def at(self, x: float, y: float) -> list[int]:
        """Pieces that begin or end within a gap of (x, y) [mm], by number."""
        near = {_cell(x + dx, y + dy) for dx in (-GAP, GAP) for dy in (-GAP, GAP)}
        found = {i for cell in near for i in self._cells.get(cell, ())}
        return sorted(i for i in found if _ends_at(self._pieces[i], x, y))


def _cell(x: float, y: float) -> tuple[int, int]:
    """A square of 1 mm; wider than a gap, so that no place near an edge of it is missed by its four neighbours."""
    return math.floor(x), math.floor(y)


def _ends_at(e: Edge, x: float, y: float) -> bool:
    return math.hypot(e.x0 - x, e.y0 - y) <= GAP or math.hypot(e.x1 - x, e.y1 - y) <= GAP


def contours(pieces: Sequence[Edge]) -> tuple[list[Contour], list[str]]:
    """Closed contours put together from lines and arcs, and what kept others open, in words."""
    ends, used = Ends(pieces), [False] * len(pieces)
    found, faults = [], []
    for i, first in enumerate(pieces):
        if used[i]:
            continue
        used[i] = True
        ends.take(i)
        run = [first]
        while math.dist((run[-1].x1, run[-1].y1), (run[0].x0, run[0].y0)) > GAP or len(run) == 1:
            here = (run[-1].x1, run[-1].y1)
            following = ends.at(*here)
            if len(following) != 1:
                what = "branching" if following else "open"
                faults.append(f"contour {what} at {here[0]:.3f}, {here[1]:.3f} mm")
                break
            used[following[0]] = True
            ends.take(following[0])
            e = pieces[following[0]]
            run.append(e if math.dist((e.x0, e.y0), here) <= GAP else turned_round(e))
        else:
            found.append(measured(run))
    return found, faults


def _points_along(e: Edge, start: float, end: float) -> Iterator[tuple[float, float]]:
    """Points spread evenly from one share of a line or an arc to another."""
    for k in range(SAMPLES):
        t = start + (end - start) * (k + 0.5) / SAMPLES
        if e.centre is None:
            yield e.x0 + t * (e.x1 - e.x0), e.y0 + t * (e.y1 - e.y0)
        else:
            a = math.atan2(e.y0 - e.centre[1], e.x0 - e.centre[0]) + t * e.sweep_rad
            yield e.centre[0] + e.radius * math.cos(a), e.centre[1] + e.radius * math.sin(a)


def _shares(e: Edge, box: tuple[float, float, float, float]) -> tuple[float, float]:
    """From which share of a line to which it may run through a box, a double wider; arcs all along."""
    start, end = 0.0, 1.0
    if e.centre is not None:
        return start, end
    for at, way, low, high in ((e.x0, e.x1 - e.x0, box[0], box[2]), (e.y0, e.y1 - e.y0, box[1], box[3])):
        if abs(way) > DOUBLE:
            a, b = sorted(((low - DOUBLE - at) / way, (high + DOUBLE - at) / way))
            start, end = max(start, a), min(end, b)
    return start, end


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
    import shapely

    halves = [e for x, y, d in rings for e in half_arcs(x, y, d)]
    # all of a shorter one lies near the ends of its neighbours
    every = [e for e in (*pieces, *halves) if e.length >= STRETCH]
    boxes = [_piece_box(e) for e in every]
    wide = [shapely.box(b[0] - DOUBLE, b[1] - DOUBLE, b[2], b[3]) for b in boxes]
    pairs = shapely.STRtree(wide).query(wide).T.tolist()
    found: dict[int, str] = {}
    for i, j in sorted(pairs):
        if i == j or i in found:
            continue
        start, end = _shares(every[i], boxes[j])
        stretch = (end - start) * every[i].length
        if stretch < STRETCH:
            continue
        near = [p for p in _points_along(every[i], start, end) if away(p, every[j]) <= DOUBLE]
        if len(near) >= 2 and len(near) * stretch / SAMPLES >= STRETCH:
            x, y = near[len(near) // 2]
            found[i] = f"cut twice near {x:.3f}, {y:.3f} mm"
    return list(found.values())


def half_arcs(x: float, y: float, d: float) -> tuple[Edge, Edge]:
    """A circle as two half arcs."""
    r = d / 2.0
    return (
        Edge(x - r, y, x + r, y, (x, y), r, math.pi),
        Edge(x + r, y, x - r, y, (x, y), r, math.pi),
    )


def without_leads(pieces: Sequence[Edge], rings: Sequence[Ring]) -> tuple[list[Edge], list[Edge]]:
    """Contours, and the lines that hang on one by an end: leads, their free end first."""
    kept, leads, ends = [], [], Ends(pieces)
    for i, e in enumerate(pieces):
        met = [
            any(k != i for k in ends.at(x, y))
            or any(abs(math.dist((x, y), (cx, cy)) - d / 2.0) <= GAP for cx, cy, d in rings)
            for x, y in ((e.x0, e.y0), (e.x1, e.y1))
        ]
        if e.centre is None and met.count(True) == 1:
            leads.append(e if not met[0] else turned_round(e))
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
