"""Ordinate dimensions: counted from one zero, spread so that none is written over another."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from fixturegen.drawings.boards import NORMAL, SMALL, Board, Frame, words_width
from fixturegen.drawings.record import Kind, Point, Size, View
from fixturegen.drawings.written import Writer

Side = Literal["bottom", "top", "left", "right"]

PITCH = 3.8  # [mm] from one row of figures to the next
JOG = 7.0  # [mm] over which a leader goes aside
GAP = 1.2  # [mm] between a leader and its figures
SAME = 0.004  # [mm] places nearer than this are one: half the last figure printed in mm
BAND = 37.0  # [mm] jog, and the longest figures that fit: 100.000 [2540.00]
BARE = 4.0  # [mm] left free where no ordinates stand


@dataclass(frozen=True)
class Ordinate:
    """One place to be dimensioned.

    Attributes:
        value: Along the direction that is dimensioned, part frame [mm].
        across: Where the leader starts in the other direction, part frame [mm].
        name: What it is.
        rank: The lowest are kept where there is no room for all.
        note: Written behind the figures.
    """

    value: float
    across: float
    name: str
    rank: int
    note: str = ""


def spread(places: Sequence[float], pitch: float, low: float, high: float) -> list[float]:
    """Places no nearer to each other than `pitch`, within the limits, as near as can be to those asked for.

    Args:
        places: In rising order [mm].
        pitch: Least distance [mm].
        low: No place is lower [mm].
        high: No place is higher, where there is room for that [mm].
    """
    # pool adjacent violators: least squares under p[i+1] - p[i] >= pitch
    blocks: list[tuple[float, int]] = []
    for i, place in enumerate(places):
        blocks.append((place - i * pitch, 1))
        while len(blocks) > 1 and blocks[-2][0] > blocks[-1][0]:
            (b, m), (a, n) = blocks.pop(), blocks.pop()
            blocks.append(((a * n + b * m) / (n + m), n + m))
    top = high - (len(places) - 1) * pitch
    flat = [max(low, min(mean, top)) for mean, count in blocks for _ in range(count)]
    return [place + i * pitch for i, place in enumerate(flat)]


def room_for(length: float) -> int:
    """How many figures fit along a band of that length [mm]."""
    return max(0, math.floor(length / PITCH) + 1)


def band_of(ordinates: Sequence[Ordinate], writer: Writer, zero: float, way: float = 1.0) -> float:
    """Room beside a view for leaders, figures and words of ordinates [mm].

    Args:
        ordinates: Of one side.
        writer: Writes the figures.
        zero: What is counted from, part frame [mm].
        way: -1 where the figures count against the direction of the view.
    """
    if not ordinates:
        return BARE
    longest = 0.0
    for one in ordinates:
        big, small, _ = figures_of(one, writer, zero, way)
        longest = max(longest, words_width(big, NORMAL) + 1.0 + words_width(small, SMALL))
    return JOG + 2.0 * GAP + longest


def figures_of(one: Ordinate, writer: Writer, zero: float, way: float = 1.0) -> tuple[str, str, str]:
    """Figures in the unit of the job, the others with the note beside them, and both as one text.

    Args:
        one: What is dimensioned.
        writer: Writes the figures.
        zero: What is counted from, part frame [mm].
        way: -1 where the figures count against the direction of the view.
    """
    if abs(one.value - zero) <= SAME:
        return "0", "", "0"
    pair = writer.pair(way * (one.value - zero))
    small = pair[pair.index("[") :] + (f" {one.note}" if one.note else "")
    big = writer.first(way * (one.value - zero))
    return big, small, f"{big} {small}"


def merged(ordinates: Sequence[Ordinate], *, low: bool) -> list[Ordinate]:
    """Each place once, in rising order: of several the lowest rank, led from the end nearest to the band.

    Args:
        ordinates: In any order.
        low: Whether the band lies on the low side.
    """
    found: list[Ordinate] = []
    for one in sorted(ordinates, key=lambda o: (o.value, o.rank, o.name)):
        if not found or one.value - found[-1].value > SAME:
            found.append(one)
            continue
        last = found[-1]
        across = min(last.across, one.across) if low else max(last.across, one.across)
        best = last if last.rank <= one.rank else one
        found[-1] = Ordinate(last.value, across, best.name, best.rank, last.note or one.note)
    return found


def draw_ordinates(
    board: Board,
    view: View,
    side: Side,
    band: Frame,
    ordinates: Sequence[Ordinate],
    writer: Writer,
    zero: float,
    way: float = 1.0,
) -> tuple[tuple[Size, ...], int]:
    """The sizes drawn, and how many had no room.

    Args:
        board: The page.
        view: Where the view lies.
        side: Of the view the band lies on.
        band: Room for leaders and figures.
        ordinates: What is dimensioned.
        writer: Writes the figures.
        zero: What is counted from, part frame [mm].
        way: -1 where the figures count against the direction of the view.
    """
    level = side in ("bottom", "top")
    places = merged(ordinates, low=side in ("bottom", "left"))
    length = band.width if level else band.height
    room = room_for(length - PITCH)
    dropped = max(0, len(places) - room)
    if dropped:
        keep = sorted(places, key=lambda o: (o.rank, o.value))[:room]
        places = sorted(keep, key=lambda o: o.value)
    origin = view.x if level else view.y
    wanted = [origin + view.scale * o.value for o in places]
    low, high = (band.x0, band.x1) if level else (band.y0, band.y1)
    spots = spread(wanted, PITCH, low + PITCH / 2.0, high - PITCH / 2.0)
    sizes = []
    for one, at, spot in zip(places, wanted, spots, strict=True):
        text = _leader(board, view, side, band, one, at, spot, writer, zero, way)
        kind: Kind = "x" if level else "y"
        sizes.append(Size(kind, one.name, way * (one.value - zero), text, (way * one.value,), way * zero))
    return tuple(sizes), dropped


def _leader(
    board: Board,
    view: View,
    side: Side,
    band: Frame,
    one: Ordinate,
    at: float,
    spot: float,
    writer: Writer,
    zero: float,
    way: float = 1.0,
) -> str:
    """Draw the leader and write the figures; the figures."""
    level = side in ("bottom", "top")
    cross = (view.y if level else view.x) + view.scale * one.across
    sign = 1.0 if side in ("top", "right") else -1.0
    inner, outer = {
        "bottom": (band.y1, band.y1 - JOG),
        "top": (band.y0, band.y0 + JOG),
        "left": (band.x1, band.x1 - JOG),
        "right": (band.x0, band.x0 + JOG),
    }[side]

    def point(along: float, over: float) -> Point:
        return (along, over) if level else (over, along)

    bend = inner + sign * 1.5
    board.path([point(at, cross + sign * 0.8), point(at, bend), point(spot, outer - sign * 0.5), point(spot, outer)])
    big, small, text = figures_of(one, writer, zero, way)
    start = outer + sign * GAP
    down = 0.5 * NORMAL
    angle = 90.0 if level else 0.0
    bold = big == "0"
    far = start + sign * (words_width(big, NORMAL, bold) + 1.0)
    if side in ("top", "right"):
        pieces = [(start, big, NORMAL, bold), (far, "" if bold else small, SMALL, False)]
    else:
        far = start + sign * (words_width(small, SMALL) + 1.0)
        pieces = [(start if bold else far, big, NORMAL, bold), (start, "" if bold else small, SMALL, False)]
    anchor: Literal["start", "end"] = "start" if sign > 0.0 else "end"
    for place, words, size, heavy in pieces:
        x, y = point(spot + (down if level else -down), place)
        board.text(x, y, words, size, anchor, angle, bold=heavy)
    return text


def draw_along(
    board: Board, places: Sequence[tuple[float, Ordinate]], band: Frame, middle: float, writer: Writer
) -> tuple[Size, ...]:
    """Places along an axis, counted from 0, written under the view; the sizes drawn.

    Args:
        board: The page.
        places: (place on paper [mm], ordinate; `across` is from the axis in mm of paper or less).
        band: Under the view.
        middle: Height of the axis on paper [mm].
        writer: Writes the figures.
    """
    kept: list[tuple[float, Ordinate]] = []
    for at, one in sorted(places, key=lambda p: (p[1].value, p[1].rank, p[1].name)):
        if not kept or one.value - kept[-1][1].value > SAME:
            kept.append((at, one))
    pitch = min(PITCH, (band.width - PITCH) / max(1, len(kept)))
    spots = spread([at for at, _ in kept], pitch, band.x0 + pitch / 2.0, band.x1 - pitch / 2.0)
    sizes = []
    flat = View("", 0.0, 0.0, middle)
    for (at, one), spot in zip(kept, spots, strict=True):
        text = _leader(board, flat, "bottom", band, one, at, spot, writer, 0.0)
        sizes.append(Size("z", one.name, one.value, text, (one.value,)))
    return tuple(sizes)
