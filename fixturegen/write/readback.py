"""What a written DXF holds, read again from its bytes and measured against the part.

Contours are put together from the file's own entities alone, whatever their order or direction, and
measured by Green's theorem. Nothing the writer knew is used but the part itself.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

from fixturegen.findings import Finding, Level
from fixturegen.keeping import kept_json, key_of
from fixturegen.plate import Hole, Loop, Part, Profile
from fixturegen.plate.profile import Edge, bounds, circle, edges, perimeter, signed_area
from fixturegen.write import dxf
from fixturegen.write.dxf import Units

CODE = "CUT-01"
CLAIM = "the cut file holds exactly this part: closed, true to size, nothing cut twice"
GAP = 0.001  # largest gap in a contour [mm]; far below what a machine resolves, common practice
SIZE = 0.001  # deviation of a hole, a bound or the witness square [mm]; same reason
DOUBLE = 0.025  # closer than this for a stretch is the same line again [mm], 0.001 in
STRETCH = 4.0 * DOUBLE  # shorter than this is a corner, where lines meet anyway [mm]
SAMPLES = 16  # points along an entity at which a double is looked for
KINDS = frozenset({"LINE", "ARC", "CIRCLE"})  # what every controller cuts as it stands

Ring = tuple[float, float, float]


@dataclass(frozen=True)
class Content:
    """What a file holds, in mm.

    Attributes:
        scale: Millimetres per file unit, from the header; 0 when the header names no known unit.
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
    scale = scales.get(int(document.header.get("$INSUNITS", 0)), 0.0)
    kinds, pieces, rings = set(), {}, {}  # type: ignore[var-annotated]  # filled below
    for entity in document.modelspace():
        kind, layer = entity.dxftype(), entity.dxf.layer
        kinds.add(kind)
        if kind == "LINE":
            a, b = entity.dxf.start * scale, entity.dxf.end * scale
            pieces.setdefault(layer, []).append(Edge(a.x, a.y, b.x, b.y))
        elif kind == "ARC":
            pieces.setdefault(layer, []).append(_arc(entity, scale))
        elif kind == "CIRCLE":
            c, d = entity.dxf.center * scale, entity.dxf.radius * 2.0 * scale
            rings.setdefault(layer, []).append((c.x, c.y, d))
    return Content(scale, frozenset(kinds), pieces, rings, wrong)


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


def _measured(run: Sequence[Edge]) -> Contour:
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
            found.append(_measured(run))
    return found, faults


def _points_along(e: Edge) -> Iterator[tuple[float, float]]:
    for k in range(SAMPLES):
        t = (k + 0.5) / SAMPLES
        if e.centre is None:
            yield e.x0 + t * (e.x1 - e.x0), e.y0 + t * (e.y1 - e.y0)
        else:
            a = math.atan2(e.y0 - e.centre[1], e.x0 - e.centre[0]) + t * e.sweep_rad
            yield e.centre[0] + e.radius * math.cos(a), e.centre[1] + e.radius * math.sin(a)


def _away(point: tuple[float, float], e: Edge) -> float:
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
    halves = [e for x, y, d in rings for e in _half_arcs(x, y, d)]
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
            near = sum(_away(p, other) <= DOUBLE for p in points)
            if near >= 2 and near * one.length / SAMPLES >= STRETCH:
                x, y = points[SAMPLES // 2]
                found.append(f"cut twice near {x:.3f}, {y:.3f} mm")
                break
    return found


def _half_arcs(x: float, y: float, d: float) -> tuple[Edge, Edge]:
    r = d / 2.0
    return (
        Edge(x - r, y, x + r, y, (x, y), r, math.pi),
        Edge(x + r, y, x - r, y, (x, y), r, math.pi),
    )


def _near(a: tuple[float, ...], b: tuple[float, ...]) -> bool:
    return a[0] <= b[2] + DOUBLE and b[0] <= a[2] + DOUBLE and a[1] <= b[3] + DOUBLE and b[1] <= a[3] + DOUBLE


def _has_cross(hole: Hole, lines: Sequence[Edge]) -> bool:
    through = [
        e
        for e in lines
        if math.dist(((e.x0 + e.x1) / 2.0, (e.y0 + e.y1) / 2.0), (hole.x, hole.y)) <= SIZE
        and abs(e.length - 2.0 * dxf.PILOT_ARM) <= SIZE
    ]
    return any(
        abs((a.x1 - a.x0) * (b.x1 - b.x0) + (a.y1 - a.y0) * (b.y1 - b.y0)) <= SIZE for a in through for b in through
    )


def _unmatched(wanted: Sequence[Ring], found: Sequence[Ring]) -> list[str]:
    left, faults = list(found), []
    for ring in wanted:
        same = [f for f in left if max(abs(a - b) for a, b in zip(ring, f, strict=True)) <= SIZE]
        if same:
            left.remove(same[0])
        else:
            faults.append(f"hole {ring[2]:.3f} mm at {ring[0]:.3f}, {ring[1]:.3f} mm is missing")
    faults += [f"hole {d:.3f} mm at {x:.3f}, {y:.3f} mm is not the part's" for x, y, d in left]
    return faults


def _witness_faults(content: Content) -> list[str]:
    notes = content.pieces.get(dxf.NOTE, [])
    sides = [e for e in notes if abs(e.length - dxf.WITNESS) <= SIZE]
    closed = [c for c in contours(sides)[0] if abs(c.area - dxf.WITNESS**2) <= SIZE * dxf.WITNESS]
    return [] if closed else ["the 1.000 in (25.4 mm) witness square is missing or not true"]


def _file_faults(content: Content, units: Units) -> list[str]:
    faults = list(content.faults)
    if content.scale != (1.0 if units == "mm" else dxf.MM_PER_INCH):
        faults.append(f"the header does not say {units}")
    strange = sorted(content.kinds - KINDS)
    if strange:
        faults.append(f"holds {', '.join(strange)}, which controllers read differently")
    layers = {*content.pieces, *content.rings}
    unknown = sorted(layers - {name for name, _ in dxf.LAYERS})
    if unknown:
        faults.append(f"has entities on layer {', '.join(unknown)}")
    return faults


def _inside_faults(profile: Profile, content: Content, found: Sequence[Contour]) -> list[str]:
    wanted: list[Ring] = [(h.x, h.y, d) for h in profile.holes if (d := dxf.cut_diameter(h)) is not None]
    areas = []
    for loop in profile.inner:
        ring = dxf.as_circle(loop)
        if ring is None:
            areas.append((abs(signed_area(loop)), perimeter(loop)))
        else:
            wanted.append(ring)
    faults = _unmatched(wanted, content.rings.get(dxf.CUT_IN, []))
    if len(found) != len(areas):
        faults.append(f"{len(found)} cut-outs in the file, {len(areas)} in the part")
    pairs = zip(sorted(areas), sorted(c.area for c in found), strict=False)
    faults += [
        f"a cut-out measures {got:.3f} mm2, not {want:.3f}"
        for (want, around), got in pairs
        if abs(want - got) > SIZE * around
    ]
    marks = content.pieces.get(dxf.MARK, [])
    faults += [
        f"pilot mark of {h.label or 'a hole'} at {h.x:.3f}, {h.y:.3f} mm is missing"
        for h in profile.holes
        if dxf.cut_diameter(h) is None and not _has_cross(h, marks)
    ]
    return faults


def _elsewhere(loop: Loop, pieces: Sequence[Edge]) -> list[str]:
    """Corners and middles of edges of the part that lie on no line of the file."""
    points = [p for e in edges(loop) for p in ((e.x0, e.y0), _middle(e))]
    lost = [p for p in points if not any(_away(p, e) <= SIZE for e in pieces)]
    return [f"the contour does not pass {x:.3f}, {y:.3f} mm" for x, y in lost[:1]]


def _middle(e: Edge) -> tuple[float, float]:
    if e.centre is None:
        return (e.x0 + e.x1) / 2.0, (e.y0 + e.y1) / 2.0
    a = math.atan2(e.y0 - e.centre[1], e.x0 - e.centre[0]) + e.sweep_rad / 2.0
    return e.centre[0] + e.radius * math.cos(a), e.centre[1] + e.radius * math.sin(a)


def _outside_faults(profile: Profile, found: Sequence[Contour]) -> list[str]:
    if len(found) != 1:
        return [f"{len(found)} outside contours in the file, 1 in the part"]
    faults = []
    want, got = signed_area(profile.outer), found[0].area
    if abs(want - got) > SIZE * perimeter(profile.outer):
        faults.append(f"the outside measures {got:.3f} mm2, not {want:.3f}")
    box = bounds(profile.outer)
    if max(abs(a - b) for a, b in zip(box, found[0].box, strict=True)) > SIZE:
        faults.append("the outside stands elsewhere or has other overall sizes")
    return faults


def dxf_faults(part: Part, units: Units, data: bytes) -> list[str]:
    """What is wrong with a part's DXF file, in words; empty when all is as it must be."""
    if part.profile is None:
        return ["the part has no flat profile"]
    try:
        content = read_dxf(data)
    except ValueError as error:
        return [str(error)]
    faults = _file_faults(content, units)
    if not content.scale:
        return faults
    outer_rings = [_measured(_half_arcs(*r)) for r in content.rings.get(dxf.CUT_OUT, [])]
    outside, open_out = contours(content.pieces.get(dxf.CUT_OUT, []))
    inside, open_in = contours(content.pieces.get(dxf.CUT_IN, []))
    faults += open_out + open_in
    faults += _outside_faults(part.profile, outside + outer_rings)
    faults += _inside_faults(part.profile, content, inside)
    cut = (dxf.CUT_OUT, dxf.CUT_IN)
    pieces = [e for layer in cut for e in content.pieces.get(layer, [])]
    rings = [r for layer in cut for r in content.rings.get(layer, [])]
    every = pieces + [e for r in rings for e in _half_arcs(*r)]
    for loop in (part.profile.outer, *part.profile.inner):
        faults += _elsewhere(loop, every)
    faults += doubles(pieces, rings)
    return faults + _witness_faults(content)


def check_dxf(part: Part, units: Units, data: bytes) -> Finding:
    """The finding of reading a part's DXF file back (CUT-01); a fail holds the part."""
    # the same part and a file of the very same bytes have been compared before
    key = key_of(("read back", part, units, data))
    faults: list[str] = kept_json("faults", key, lambda: dxf_faults(part, units, data))
    name = dxf.file_name(part, units)
    if faults:
        more = f" and {len(faults) - 3} more" if len(faults) > 3 else ""
        return Finding(
            code=CODE,
            level=Level.FAIL,
            claim=CLAIM,
            words=f"{name}: {'; '.join(faults[:3])}{more}",
            remedy="do not cut this file; the part is held. Report it with the sheet",
            parts=(part.name,),
            frame="P",
        )
    return Finding(
        code=CODE, level=Level.PASS, claim=CLAIM, words=_as_read(part, name), parts=(part.name,),
        frame="P",
    )  # fmt: skip


def _as_read(part: Part, name: str) -> str:
    profile = part.profile or Profile(circle(0.0, 0.0, 1.0))
    x0, y0, x1, y1 = bounds(profile.outer)
    cut = [h for h in profile.holes if dxf.cut_diameter(h) is not None]
    return (
        f"{name}: {x1 - x0:.2f} x {y1 - y0:.2f} mm overall, {len(cut)} holes cut, "
        f"{len(profile.holes) - len(cut)} pilot marks, {len(profile.inner)} cut-outs, "
        f"{1 + len(profile.inner) + len(cut)} pierces"
    )
