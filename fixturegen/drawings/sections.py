"""A turned part as lines: half section along the axis, and the view of its end."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from fixturegen.drawings.boards import SMALL, Board
from fixturegen.plate.part import Turned

THREAD = re.compile(r"\b(UNC|UNF|UNEF|UNS|M\d+)\b")
THREAD_FOOT = 0.85  # [1] of the diameter, where the foot of a thread is drawn; a sign, not a size
OFF = 1e-6  # [mm] places along the axis nearer than this are one


@dataclass(frozen=True)
class Axis:
    """Places along the axis on paper; long plain lengths may be broken out.

    Attributes:
        knots: (place along the axis [mm], place on paper [mm]) in rising order.
        broken: (from, to) of the lengths that are drawn short [mm].
    """

    knots: tuple[tuple[float, float], ...]
    broken: tuple[tuple[float, float], ...] = ()

    def at(self, z: float) -> float:
        """Place on paper [mm] of a place along the axis [mm]."""
        for (a, u), (b, v) in pairwise(self.knots):
            if z <= b + OFF:
                return u + (v - u) * (z - a) / (b - a)
        return self.knots[-1][1]


def length_of(turned: Turned) -> float:
    """Length along the axis [mm]."""
    return sum(s.length for s in turned.steps)


def widest_of(turned: Turned) -> float:
    """Largest diameter [mm]."""
    return max(max(s.diameter, s.end_diameter or 0.0) for s in turned.steps)


def outside(turned: Turned) -> Iterator[tuple[float, float, float, float]]:
    """(from, to, diameter, end diameter) of each step along the axis [mm]."""
    z = 0.0
    for s in turned.steps:
        yield z, z + s.length, s.diameter, s.diameter if s.end_diameter is None else s.end_diameter
        z += s.length


def _cuts(turned: Turned) -> list[float]:
    """Every place along the axis at which something begins or ends, in rising order [mm]."""
    found = [0.0]
    for _, z, _, _ in outside(turned):
        found.append(z)
    found += [z for b in turned.bores for z in b[:2]]
    found += [z for f in turned.flats for z in f[:2]]
    for z, d, _, _ in turned.cross_holes:
        found += [z - d / 2.0, z + d / 2.0]
    kept: list[float] = []
    for z in sorted(min(max(z, 0.0), length_of(turned)) for z in found):
        if not kept or z - kept[-1] > OFF:
            kept.append(z)
    return kept


def axis_of(turned: Turned, scale: float, start: float, room: float) -> Axis:
    """Places along the axis on paper: to scale where that fits, else with long lengths broken out.

    Args:
        turned: The part.
        scale: Of the view.
        start: Paper place of Z = 0 [mm].
        room: Length of paper there is [mm].
    """
    cuts = _cuts(turned)
    spans = [(b - a) * scale for a, b in pairwise(cuts)]
    cap = max(spans)
    if sum(spans) > room:
        low, high = 0.0, cap
        for _ in range(60):
            cap = (low + high) / 2.0
            low, high = (cap, high) if sum(min(s, cap) for s in spans) <= room else (low, cap)
        cap = low
    knots, at = [(cuts[0], start)], start
    broken = []
    for a, b, span in zip(cuts, cuts[1:], spans, strict=False):
        at += min(span, cap)
        knots.append((b, at))
        if span > cap + OFF:
            broken.append((a, b))
    return Axis(tuple(knots), tuple(broken))


def _bore_at(turned: Turned, z: float) -> float:
    """Radius that is bored out at a place along the axis [mm]; 0 where there is none."""
    best = 0.0
    for a, b, d, e, _ in turned.bores:
        if a - OFF <= z <= b + OFF:
            end = d if e is None else e
            best = max(best, (d + (end - d) * (z - a) / (b - a)) / 2.0)
    return best


def _outer_at(turned: Turned, z: float) -> float:
    """Outside radius at a place along the axis inside a step [mm]."""
    for a, b, d, e in outside(turned):
        if a - OFF <= z <= b + OFF:
            return (d + (e - d) * (z - a) / (b - a)) / 2.0
    return 0.0


def draw_section(board: Board, turned: Turned, axis: Axis, middle: float, scale: float) -> None:
    """Upper half cut open, lower half as seen from outside, axis across."""
    cuts = _cuts(turned)
    open_at = [
        (z - d / 2.0, z + d / 2.0) for z, d, way, _ in turned.cross_holes if abs(math.remainder(way, 360.0)) < 1.0
    ]
    quads = []
    for a, b in pairwise(cuts):
        if any(p - OFF <= a and b <= q + OFF for p, q in open_at):
            continue
        u, v, e = axis.at(a), axis.at(b), (b - a) * 1e-6
        inner, outer = (
            (_bore_at(turned, a + e), _bore_at(turned, b - e)),
            (
                _outer_at(turned, a + e),
                _outer_at(turned, b - e),
            ),
        )
        quads.append([(u, inner[0]), (u, outer[0]), (v, outer[1]), (v, inner[1])])
    for quad in quads:
        board.hatch([[(x, middle + scale * r) for x, r in quad]], 1.8)
    last = 0.0
    for a, b, d, e in outside(turned):
        u, v, r, q = axis.at(a), axis.at(b), scale * d / 2.0, scale * e / 2.0
        for way in (1.0, -1.0):
            board.line((u, middle + way * r), (v, middle + way * q))
        board.line((u, middle - max(r, last)), (u, middle - 0.0))
        top = (scale * _bore_at(turned, a), max(r, last)) if a <= OFF else (min(r, last), max(r, last))
        board.line((u, middle + top[0]), (u, middle + top[1]))
        last = q
    end = axis.at(length_of(turned))
    board.line((end, middle - last), (end, middle))
    board.line((end, middle + scale * _bore_at(turned, length_of(turned))), (end, middle + last))
    for a, b, d, bored, _ in turned.bores:
        u, v, far = axis.at(a), axis.at(b), d if bored is None else bored
        board.line((u, middle + scale * d / 2.0), (v, middle + scale * far / 2.0))
        for x, z, r in ((u, a, d), (v, b, far)):
            low = 0.0 if OFF < z < length_of(turned) - OFF else scale * r / 2.0
            board.line((x, middle + low), (x, middle + scale * r / 2.0))
    _threads(board, turned, axis, middle, scale)
    _cross_and_flats(board, turned, axis, middle, scale)
    for a, b in axis.broken:
        _break_sign(board, (axis.at(a) + axis.at(b)) / 2.0, middle, scale * _outer_at(turned, (a + b) / 2.0))
    board.line((axis.knots[0][1] - 4.0, middle), (end + 4.0, middle), "centre")


def _threads(board: Board, turned: Turned, axis: Axis, middle: float, scale: float) -> None:
    """A thin line for the foot of each outside thread, as threads are drawn (iso-6410-1, from memory)."""
    for (a, b, d, e), step in zip(outside(turned), turned.steps, strict=True):
        if THREAD.search(step.note) and abs(e - d) <= OFF:
            for way in (1.0, -1.0):
                y = middle + way * scale * THREAD_FOOT * d / 2.0
                board.line((axis.at(a), y), (axis.at(b), y), "thread")


def _cross_and_flats(board: Board, turned: Turned, axis: Axis, middle: float, scale: float) -> None:
    for z, d, way, _ in turned.cross_holes:
        turn = math.remainder(way, 360.0)
        r = scale * _outer_at(turned, z)
        inner = scale * _bore_at(turned, z)
        if abs(turn) < 1.0 or abs(abs(turn) - 180.0) < 1.0:
            sign = 1.0 if abs(turn) < 1.0 else -1.0
            for edge in (z - d / 2.0, z + d / 2.0):
                x = axis.at(edge)
                board.line((x, middle + sign * inner), (x, middle + sign * r), "outline" if sign > 0.0 else "hidden")
        else:
            board.circle((axis.at(z), middle), scale * d / 2.0, "hidden")
    for x, _, d, _ in turned.axial_holes:
        for edge in (x - d / 2.0, x + d / 2.0):
            ends = (axis.knots[0][1], axis.knots[-1][1])
            board.line((ends[0], middle + scale * edge), (ends[1], middle + scale * edge), "hidden")
    for a, b, distance, way in turned.flats:
        turn = math.remainder(way, 360.0)
        if abs(turn) < 1.0 or abs(abs(turn) - 180.0) < 1.0:
            y = middle + scale * distance * (1.0 if abs(turn) < 1.0 else -1.0)
            board.line((axis.at(a), y), (axis.at(b), y), "outline")


def _break_sign(board: Board, x: float, middle: float, reach: float) -> None:
    """Two zigzag lines across the bar, the room between them white."""
    n = 4
    left, right = [], []
    for i in range(n + 1):
        y = middle - reach - 1.0 + (2.0 * reach + 2.0) * i / n
        off = 0.8 if i % 2 else -0.8
        left.append((x - 1.2 + off, y))
        right.append((x + 1.2 + off, y))
    board.filled([*left, *reversed(right)], "#ffffff")
    board.path(left, "frame")
    board.path(right, "frame")


def end_view(board: Board, turned: Turned, at: tuple[float, float], scale: float) -> None:
    """The part seen from the face at zero, local X up and Y to the right."""
    x, y = at
    flat = bool(turned.flats)
    radii = {round(max(d, e) / 2.0, 6) for _, _, d, e in outside(turned)}
    for r in sorted(radii):
        board.circle(at, scale * r, "thin" if flat or r < max(radii) - OFF else "outline")
    for a, b, d, far, _ in turned.bores:
        if a <= OFF or b >= length_of(turned) - OFF:
            board.circle(at, scale * d / 2.0, "outline" if far is None else "thin")

    def spot(along: float, across: float, turn: float) -> tuple[float, float]:
        c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
        # part X is up on paper, part Y to the right
        px, py = along * c - across * s, along * s + across * c
        return x + scale * py, y + scale * px

    for a, b, distance, way in turned.flats:
        r = _outer_at(turned, (a + b) / 2.0)
        half = math.sqrt(max(0.0, r * r - distance * distance))
        board.line(spot(distance, -half, way), spot(distance, half, way), "outline")
    for z, d, way, _ in turned.cross_holes:
        r = _outer_at(turned, z)
        for side in (-d / 2.0, d / 2.0):
            board.line(spot(_bore_at(turned, z), side, way), spot(r, side, way), "hidden")
    for px, py, d, _ in turned.axial_holes:
        board.circle((x + scale * py, y + scale * px), scale * d / 2.0, "outline")
    if turned.saw_cut:
        r, half = widest_of(turned) / 2.0, turned.saw_cut / 2.0
        for side in (-half, half):
            board.line(spot(_bore_at(turned, length_of(turned) / 2.0), side, 0.0), spot(r, side, 0.0), "outline")
    reach = scale * max(radii) + 3.0
    board.line((x - reach, y), (x + reach, y), "centre")
    board.line((x, y - reach), (x, y + reach), "centre")
    board.text(x, y + reach + 1.0, "0\N{DEGREE SIGN} (X)", SMALL, "middle")
    board.text(x, y - reach - 4.0, "end at zero,", SMALL, "middle")
    board.text(x, y - reach - 7.5, "angles clockwise", SMALL, "middle")
