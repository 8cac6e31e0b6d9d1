"""Flat and turned parts as SVG text, drawn from the canonical data and nothing else.

Small numbers name holes, steps and bores; they are the row numbers of `part_tables`.
"""

from __future__ import annotations

import math
from xml.sax.saxutils import escape, quoteattr

import numpy as np

from fixturegen.papers.bend_tables import bend_lines
from fixturegen.papers.part_tables import axial_of, cross_of, flats_of
from fixturegen.plate import Hole, Mark, Part, Turned
from fixturegen.plate.free_steel import mark_box
from fixturegen.plate.lettering import strokes
from fixturegen.plate.profile import Loop, Operation, bounds, edge_between, hole_loop, polyline

INK = "#1a1a1a"
PILOT = "#b3261e"
MARK = "#0b57a4"
NUMBER = "#444444"
SMALL = 12.0  # height of a number, in 1/420 of the picture
ROWS = 3  # rows of numbers above and below a turned part


def _n(value: float) -> str:
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def loop_path(loop: Loop) -> str:
    """SVG path of a loop, y up turned to y down; arcs as arcs."""
    parts = [f"M{_n(loop[0].x)} {_n(-loop[0].y)}"]
    for i, a in enumerate(loop):
        b = loop[(i + 1) % len(loop)]
        e = edge_between(a, b)
        if e.centre is None:
            parts.append(f"L{_n(b.x)} {_n(-b.y)}")
        else:
            large = 1 if abs(e.sweep_rad) > math.pi else 0
            sweep = 0 if e.sweep_rad > 0 else 1
            parts.append(f"A{_n(e.radius)} {_n(e.radius)} 0 {large} {sweep} {_n(b.x)} {_n(-b.y)}")
    return " ".join(parts) + " Z"


def _hole(hole: Hole, scale: float) -> str:
    x, y, r = _n(hole.x), _n(-hole.y), hole.finished / 2.0
    if hole.operation is Operation.PILOT:
        s = _n(max(1.35 * r, r + 3.0 * scale))  # the cross reaches beyond the hole, as a centre line does
        return (
            f'<path d="{loop_path(hole_loop(hole))}" fill="none" stroke="{PILOT}" '
            f'stroke-width="{_n(scale)}"/>'
            f'<path d="M{x} {y}m-{s} 0h{_n(2 * float(s))}M{x} {y}m0 -{s}v{_n(2 * float(s))}" '
            f'stroke="{PILOT}" stroke-width="{_n(scale * 0.6)}"/>'
        )
    cut = (hole.cut or hole.finished) / 2.0
    return f'<circle cx="{x}" cy="{y}" r="{_n(cut)}" fill="#fff" stroke="{INK}" stroke-width="{_n(scale)}"/>'


def _lettering(mark: Mark, scale: float) -> str:
    """Lettering as the torch draws it, so that the picture shows the room it takes; its words as a title."""
    drawn = strokes(mark.text, mark.x, mark.y, mark.height, mark.angle)
    path = "".join(f"M{_n(a)} {_n(-b)}L{_n(c)} {_n(-d)}" for a, b, c, d in drawn)
    return (
        f'<path d="{path}" fill="none" stroke="{MARK}" stroke-width="{_n(0.8 * scale)}" stroke-linecap="round">'
        f"<title>{escape(mark.text)}</title></path>"
    )


def flat_svg(part: Part, width: int = 360) -> str:
    """A plate part as an SVG picture: outline, cut-outs, holes, pilot marks (red), marks (blue), bend lines (dashed).

    Args:
        part: A plate part.
        width: Width of the picture [px].

    Raises:
        ValueError: When the part has no flat profile.
    """
    if part.profile is None:
        raise ValueError(f"{part.name} has no flat profile")
    x0, y0, x1, y1 = bounds(part.profile.outer)
    pad = 0.03 * max(x1 - x0, y1 - y0) + 4.0
    box = (x0 - pad, -y1 - pad, x1 - x0 + 2 * pad, y1 - y0 + 2 * pad)
    scale = max(box[2], box[3]) / 420.0
    path = " ".join(loop_path(loop) for loop in (part.profile.outer, *part.profile.inner))
    body = [f'<path d="{path}" fill="#dfe6ec" fill-rule="evenodd" stroke="{INK}" stroke-width="{_n(scale * 1.2)}"/>']
    body += bend_lines(part, scale)
    body += [_hole(h, scale) for h in part.profile.holes]
    body += _hole_numbers(part, scale)
    for mark in part.marks:
        if mark.to is not None:
            body.append(
                f'<path d="M{_n(mark.x)} {_n(-mark.y)}L{_n(mark.to[0])} {_n(-mark.to[1])}" '
                f'stroke="{MARK}" stroke-width="{_n(scale)}"/>'
            )
        if mark.text:
            body.append(_lettering(mark, scale))
    height = round(width * box[3] / box[2])
    if height > 1.6 * width:
        height, width = round(1.6 * width), round(1.6 * width * box[2] / box[3])
    view = " ".join(_n(v) for v in box)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{view}" width="{width}" height="{height}" '
        f'role="img" aria-label={quoteattr(part.label)}>' + "".join(body) + "</svg>"
    )


def turned_svg(part: Part, width: int = 360) -> str:
    """A turned part as an SVG half section, axis across the picture.

    Raises:
        ValueError: When the part is not turned.
    """
    if part.turned is None:
        raise ValueError(f"{part.name} is not turned")
    turned: Turned = part.turned
    length = sum(s.length for s in turned.steps)
    radius = max(max(s.diameter, s.end_diameter or 0.0) for s in turned.steps) / 2.0
    shrink = min(1.0, 8.0 * radius / length) if length else 1.0
    scale = max(length * shrink, 2 * radius) / 420.0
    top, body, z = [], [], 0.0
    for step in turned.steps:
        a, b = step.diameter / 2.0, (step.end_diameter or step.diameter) / 2.0
        top += [(z * shrink, a), ((z + step.length) * shrink, b)]
        z += step.length
    outline = [(0.0, 0.0), *top, (z * shrink, 0.0)]
    both = [*top, *((x, -y) for x, y in reversed(top))]
    body.append(_polygon(both, "#eef2f5", scale))
    body.append(_polygon(outline, "#c9d3dc", scale))
    for z0, z1, d0, d1, _ in turned.bores:
        a, b = d0 / 2.0, (d1 or d0) / 2.0
        x0, x1 = z0 * shrink, z1 * shrink
        body.append(_polygon([(x0, 0.0), (x0, a), (x1, b), (x1, 0.0)], "#ffffff", scale))
    for at, diameter, _, _ in turned.cross_holes:
        x, r = at * shrink, diameter / 2.0
        body.append(
            f'<ellipse cx="{_n(x)}" cy="0" rx="{_n(r * shrink)}" ry="{_n(r)}" fill="none" stroke="{PILOT}" '
            f'stroke-width="{_n(scale)}"/>'
        )
    body += _numbers(turned, shrink, radius, scale)
    body += _dashed(turned, shrink, scale)
    pad = 0.04 * max(length * shrink, 2 * radius) + 3.0
    body.append(
        f'<path d="M{_n(-pad)} 0H{_n(length * shrink + pad)}" stroke="{MARK}" stroke-width="{_n(scale * 0.8)}" '
        f'stroke-dasharray="{_n(12 * scale)} {_n(3 * scale)} {_n(3 * scale)} {_n(3 * scale)}"/>'
    )
    rim = pad + ROWS * SMALL * scale
    box = (-pad, -radius - rim, length * shrink + 2 * pad, 2 * (radius + rim))
    height = round(width * box[3] / box[2])
    if height > 1.2 * width:
        height, width = round(1.2 * width), round(1.2 * width * box[2] / box[3])
    view = " ".join(_n(v) for v in box)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{view}" width="{width}" height="{height}" '
        f'role="img" aria-label={quoteattr(part.label)}>' + "".join(body) + "</svg>"
    )


def _number(n: int, x: float, y: float, scale: float, anchor: str = "middle") -> str:
    return (
        f'<text x="{_n(x)}" y="{_n(y)}" font-size="{_n(SMALL * scale)}" fill="{NUMBER}" '
        f'font-family="sans-serif" text-anchor="{anchor}">{n}</text>'
    )


def _hole_numbers(part: Part, scale: float) -> list[str]:
    """A number beside each hole, off edges, other holes, lettering and other numbers where there is room."""
    if part.profile is None:
        return []
    holes, wide, high = part.profile.holes, SMALL * scale, 0.8 * SMALL * scale
    discs = [(h.x, h.y, (h.finished + h.slot) / 2.0) for h in holes]
    for loop in (part.profile.outer, *part.profile.inner):
        discs += [(x, y, 0.0) for x, y in _along(loop, wide / 2.0)]
    for m in part.marks:
        x0, y0, x1, y1 = mark_box(m)
        rim = min(x1 - x0, y1 - y0) / 2.0 if m.text else 0.0
        low, end = (x0 + rim, y0 + rim), (x1 - rim, y1 - rim)
        if m.to is not None:
            low, end = (m.x, m.y), m.to
        n = max(8, math.ceil(math.dist(low, end) / 6.0))
        discs += [
            (low[0] + (end[0] - low[0]) * k / n, low[1] + (end[1] - low[1]) * k / n, max(3.0, rim))
            for k in range(n + 1)
        ]
    body = []
    for n, h in enumerate(holes, 1):
        middle = _beside(h, discs, wide if n > 9 else 0.6 * wide, high)
        discs.append((*middle, wide / 2.0))
        body.append(_number(n, middle[0], -middle[1] + high / 2.0, scale))
    return body


def _along(loop: Loop, step: float) -> list[tuple[float, float]]:
    """Points on the chords of a loop, no farther apart than `step` [mm]."""
    points = polyline(loop, step / 4.0)
    found = []
    for (ax, ay), (bx, by) in zip(points, (*points[1:], points[0]), strict=True):
        n = max(1, math.ceil(math.hypot(bx - ax, by - ay) / step))
        found += [(ax + (bx - ax) * k / n, ay + (by - ay) * k / n) for k in range(n)]
    return found


def _beside(hole: Hole, discs: list[tuple[float, float, float]], wide: float, high: float) -> tuple[float, float]:
    """Middle of a number's place beside a hole: the first free one of sixteen directions, else the freest."""
    radius = (hole.finished + hole.slot) / 2.0
    best = (-math.inf, 0.0, 0.0)
    us, vs, rs = np.array(discs).T
    for far in (1.0, 1.8):
        for k in (1, 3, 7, 5, 0, 4, 2, 6):
            a = math.radians(45.0 * k)
            off = radius + far * (0.5 * math.hypot(wide * math.cos(a), high * math.sin(a)) + 0.15 * high)
            x, y = hole.x + off * math.cos(a), hole.y + off * math.sin(a)
            aside, over = np.abs(x - us) - wide / 2.0, np.abs(y - vs) - high / 2.0
            room = float((np.hypot(np.maximum(aside, 0.0), np.maximum(over, 0.0)) - rs).min())
            if room >= 0.0:
                return x, y
            best = max(best, (room, x, y))
    return best[1], best[2]


def _numbers(turned: Turned, shrink: float, radius: float, scale: float) -> list[str]:
    """Numbers of the outside above the part, of what is bored, drilled or milled below it, with leaders."""
    above, below, z = [], [], 0.0
    for step in turned.steps:
        above.append((z + step.length / 2.0, (step.diameter + (step.end_diameter or step.diameter)) / 4.0))
        z += step.length
    below += [((z0 + z1) / 2.0, 0.25 * d) for z0, z1, d, _, _ in turned.bores]
    below += [(at, 0.0) for at, _, _, _ in cross_of(turned)]
    below += [(0.7 * _reach(turned, r), -r) for r, _, _, _ in axial_of(turned)]
    below += [((z0 + z1) / 2.0, -distance) for z0, z1, distance, _ in flats_of(turned)]
    if turned.saw_cut > 0.0:
        below.append((0.3 * z, -0.8 * radius))
    body = _leaders(1, [(x * shrink, y) for x, y in above], radius, 1.0, scale)
    return body + _leaders(1 + len(above), [(x * shrink, y) for x, y in below], radius, -1.0, scale)


def _leaders(first: int, points: list[tuple[float, float]], radius: float, way: float, scale: float) -> list[str]:
    """A number and a thin line for each point; where numbers would meet, the next row takes one."""
    body, rows = [], [-math.inf] * ROWS
    for n, (x, y) in sorted(enumerate(points, first), key=lambda p: p[1][0]):
        row = next((r for r, last in enumerate(rows) if x - last >= 1.4 * SMALL * scale), ROWS - 1)
        rows[row] = x
        end = radius + (row + 0.3) * SMALL * scale
        body.append(
            f'<path d="M{_n(x)} {_n(-y)}V{_n(-way * end)}" stroke="{NUMBER}" stroke-width="{_n(scale * 0.5)}"/>'
        )
        base = -end if way > 0.0 else end + 0.8 * SMALL * scale
        body.append(_number(n, x, base, scale))
    return body


def part_svg(part: Part) -> str:
    """A flat or turned part as an SVG picture; an empty text for other forms."""
    if part.profile is not None:
        return flat_svg(part)
    return turned_svg(part) if part.turned is not None else ""


def _dashed(turned: Turned, shrink: float, scale: float) -> list[str]:
    """Holes along the axis and milled flats, dashed, in the lower half."""
    lines = []
    for r, d, _, _ in axial_of(turned):
        lines += [(0.0, _reach(turned, r), r - d / 2.0), (0.0, _reach(turned, r), r + d / 2.0)]
    lines += [(z0, z1, distance) for z0, z1, distance, _ in flats_of(turned)]
    return [
        f'<path d="M{_n(a * shrink)} {_n(y)}H{_n(b * shrink)}" fill="none" stroke="{PILOT}" '
        f'stroke-width="{_n(scale)}" stroke-dasharray="{_n(4 * scale)} {_n(2 * scale)}"/>'
        for a, b, y in lines
    ]


def _reach(turned: Turned, radius: float) -> float:
    """How far steel reaches at a distance from the axis [mm], from Z = 0 on."""
    z = 0.0
    for step in turned.steps:
        if max(step.diameter, step.end_diameter or 0.0) / 2.0 < radius:
            break
        z += step.length
    return z


def _polygon(points: list[tuple[float, float]], fill: str, scale: float) -> str:
    text = " ".join(f"{_n(x)},{_n(-y)}" for x, y in points)
    return f'<polygon points="{text}" fill="{fill}" stroke="{INK}" stroke-width="{_n(scale)}"/>'
