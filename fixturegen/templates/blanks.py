"""A flat blank at 1:1: outline, openings, holes with centre marks and what they are for, bend lines, marks."""

from __future__ import annotations

import math
import re

import numpy as np

from fixturegen.errors import GeometryFault
from fixturegen.pages import CENTRE, FINE, Figure, Pen, text_width
from fixturegen.pages.paper import LETTER, Paper
from fixturegen.plate import Bend, Hole, Part, Profile
from fixturegen.plate.free_steel import mark_box
from fixturegen.plate.lettering import strokes
from fixturegen.plate.profile import bounds, hole_loop, perimeter, polyline
from fixturegen.templates.template import Template
from fixturegen.templates.tiling import Tiling, tiling_of
from fixturegen.templates.words import PURPOSES, at, finished, made, purpose, size, tape, tape_both

OUTLINE = Pen(0.5)
OPENING = Pen(0.35)
HOLE = Pen(0.25)
BEND = Pen(0.3, dash=(5.0, 2.0))
MARK = Pen(0.25, "#4a4a4a")
LABEL = 2.2  # [mm] height of capitals beside a hole
SMALL = 1.7  # [mm] of what it is for
REACH = 2.5  # [mm] a centre mark reaches beyond its hole
SHORTEST = 3.0  # [mm] least half length of a centre mark
ZERO = 4.0  # [mm] half length of the cross at the part's zero
INSIDE = 9.0  # [mm] least diameter of a hole that has room for its number beside the centre mark
SIDE_BY_SIDE = 2.5  # [mm] farther from its hole a number has a line to it
FAR = (0.8, 4.0, 9.0, 16.0)  # [mm] from the rim of a hole to its number
OFF_SHEET = 100.0  # [mm] a place that a sheet cuts is worse than any that is merely crowded
STEP = 2.0  # [mm] between points that lettering is kept off
EDGE_WORK = re.compile(r"\b(mill|file) (the|both)\b")  # a note of a part on edges that are worked after cutting

HOLES = ("No", "What for", "Finished", "How it is made", "From zero: x, y")
FROM_FIRST = "From hole 1: x, y"
NOT_HERE = "It is not on this plate: holes are counted from hole 1."
Discs = list[tuple[float, float, float]]
Box = tuple[float, float, float, float]


def blank_of(part: Part, units: str, paper: Paper = LETTER) -> Template:
    """The template of a flat or bent part's blank, marked face up.

    Args:
        part: A part with a flat profile.
        units: in or mm, as the job has it.
        paper: It will be printed on, upright: numbers of holes are kept off the laps.

    Raises:
        GeometryFault: When the part has no flat profile.
    """
    profile = part.profile
    if profile is None:
        raise GeometryFault(part.name, "has no flat blank", "turn or saw it from its drawing")
    # no rule reaches a zero that is not on the paper
    off = bool(profile.holes) and not _zero_near(profile)
    x, y = (profile.holes[0].x, profile.holes[0].y) if off else (0.0, 0.0)
    figure, area = Figure(), polyline(profile.outer, 0.2)
    tiling = tiling_of(area, paper)
    figure.loop(profile.outer, OUTLINE, "outline")
    for loop in profile.inner:
        figure.loop(loop, OPENING, "opening")
    _marks(figure, part)
    for n, bend in enumerate(part.bends, 1):
        _bend(figure, n, bend)
    busy = _busy(part)
    for n, hole in enumerate(profile.holes, 1):
        others = [(h.x, h.y, (h.finished + h.slot) / 2.0) for h in profile.holes if h is not hole]
        _hole(figure, n, hole, (busy, others), units, tiling)
    _zero(figure, part, busy)
    return Template(
        name=part.name,
        title=part.label,
        figure=figure,
        area=area,
        lines=_lines(part, units),
        head=((*HOLES[:-1], FROM_FIRST) if off else HOLES) if profile.holes else (),
        rows=tuple(
            (str(n), purpose(h), finished(h, units), made(h, units), at(h.x - x, h.y - y, units))
            for n, h in enumerate(profile.holes, 1)
        ),
        outlines=(perimeter(profile.outer), *(perimeter(loop) for loop in profile.inner)),
        start=(profile.outer[0].x, profile.outer[0].y),
        holes=tuple((h.x, h.y, h.finished) for h in profile.holes if h.slot <= 0.0),
        parts=(part.name,),
    )


def _lines(part: Part, units: str) -> tuple[str, ...]:
    x0, y0, x1, y1 = bounds(part.profile.outer) if part.profile else (0.0, 0.0, 0.0, 0.0)
    hand = {"L": "LEFT part, ", "R": "RIGHT part, "}.get(part.hand or "", "")
    told = [
        f"{part.name}: {hand}make {part.quantity}. Marked face up. Plate {size(part.thickness, units)}, "
        f"{part.material.upper()}.",
        f"Thick line: the edge as cut, {tape_both(x1 - x0, y1 - y0, units)}.",
    ]
    # an edge that is cut over its size is not what the part measures when it is done
    told += [f"{note[:1].upper()}{note[1:].rstrip('.')}." for note in part.notes if EDGE_WORK.search(note)]
    if part.datum:
        off = part.profile is not None and part.profile.holes and not _zero_near(part.profile)
        told.append(f"Zero: {part.datum}. {NOT_HERE if off else ''}".strip())
    for n, bend in enumerate(part.bends, 1):
        sides = (
            ""
            if bend.outside is None
            else f", outside {tape(bend.outside[0], units)} and {tape(bend.outside[1], units)}"
        )
        told.append(f"Bend {n}: {_way(bend)} {bend.angle:g} deg, inside radius {size(bend.radius, units)}{sides}.")
    return tuple(told)


def _way(bend: Bend) -> str:
    return "up" if bend.up else "down, plate turned over,"


def _marks(figure: Figure, part: Part) -> None:
    """What the steel carries: lines, and lettering as the torch draws it."""
    for mark in part.marks:
        if mark.to is not None:
            figure.line(mark.x, mark.y, *mark.to, MARK, "mark")
        if mark.text:
            for x0, y0, x1, y1 in strokes(mark.text, mark.x, mark.y, mark.height, mark.angle):
                figure.line(x0, y0, x1, y1, MARK, "mark")


def _bend(figure: Figure, number: int, bend: Bend) -> None:
    """The bend line, and along it what is bent there."""
    figure.line(bend.x0, bend.y0, bend.x1, bend.y1, BEND, "bend")
    a = math.atan2(bend.y1 - bend.y0, bend.x1 - bend.x0)
    if math.cos(a) < -1e-9 or (abs(math.cos(a)) <= 1e-9 and math.sin(a) < 0.0):
        a += math.pi  # read from below or from the right
    long = math.hypot(bend.x1 - bend.x0, bend.y1 - bend.y0)
    words = f"BEND {number} {'UP' if bend.up else 'DOWN'} {bend.angle:g} deg"
    high = min(3.0, 3.0 * 0.8 * long / max(1e-6, text_width(words, 3.0)))
    x, y = (bend.x0 + bend.x1) / 2.0 - 1.2 * math.sin(a), (bend.y0 + bend.y1) / 2.0 + 1.2 * math.cos(a)
    figure.text(x, y, words, high, "middle", math.degrees(a), role="bend")


def _hole(figure: Figure, number: int, hole: Hole, kept: tuple[Discs, Discs], units: str, tiling: Tiling) -> None:
    """The finished hole, a centre mark to punch through, and beside it its number and what it is for.

    Args:
        figure: Of the blank.
        number: Of the hole.
        hole: What is drawn.
        kept: (what labels are kept off, the other holes, which no line to a label may cross).
        units: in or mm.
        tiling: How the blank lies on paper.
    """
    busy, _ = kept
    figure.loop(hole_loop(hole), HOLE, "hole")
    figure.cross(hole.x, hole.y, _arm(hole), FINE, "centre")
    for words in ((f"{number}  {finished(hole, units).partition(' (')[0]}", PURPOSES[hole.purpose]), (str(number), "")):
        wide = max(text_width(words[0], LABEL, True), text_width(words[1], SMALL))
        high = LABEL + (1.3 * SMALL + 1.0 if words[1] else 0.0)
        (x, y), free = _beside(hole, kept, wide, high, tiling)
        if not free and words[1]:
            continue
        top = y + high / 2.0
        figure.text(x, top - LABEL, words[0], LABEL, "middle", bold=True, role="number")
        busy += _leader(figure, hole, (x - wide / 2.0, y - high / 2.0, x + wide / 2.0, y + high / 2.0))
        if words[1]:
            figure.text(x, y - high / 2.0, words[1], SMALL, "middle", role="number")
        busy += _along(x - wide / 2.0, y, x + wide / 2.0, y, high / 2.0)
        break
    # inside the hole as well: where holes crowd, a number beside one might be its neighbour's
    if hole.finished >= INSIDE:
        figure.text(hole.x - 0.8, hole.y - 0.8 - LABEL, str(number), LABEL, "end", bold=True, role="number")


def _leader(figure: Figure, hole: Hole, box: Box) -> Discs:
    """A line from a hole to its number, where they are not side by side; what later numbers are kept off."""
    line = _line(hole, box)
    if line is None:
        return []
    figure.line(*line, FINE, "leader")
    return _along(*line, 0.5)


def _line(hole: Hole, box: Box) -> Box | None:
    """From the rim of a hole to the words of its label (x0, y0, x1, y1) [mm]; None where they are side by side."""
    x, y = min(max(hole.x, box[0]), box[2]), min(max(hole.y, box[1]), box[3])
    far, rim = math.hypot(x - hole.x, y - hole.y), (hole.finished + hole.slot) / 2.0
    if far - rim <= SIDE_BY_SIDE:
        return None
    share = rim / far
    return hole.x + share * (x - hole.x), hole.y + share * (y - hole.y), x, y


def _zero(figure: Figure, part: Part, busy: Discs) -> None:
    """A cross and a 0 at the part's zero, where it lies on the blank or near it."""
    if part.profile is None:
        return
    boxes = [mark_box(mark) for mark in part.marks if mark.to is None]
    lettered = any(a - ZERO < 0.0 < c + ZERO and b - ZERO < 0.0 < d + ZERO for a, b, c, d in boxes)
    if lettered and not part.profile.holes:
        return  # nothing is counted from it here, and it would run through a numeral
    if _zero_near(part.profile):
        figure.cross(0.0, 0.0, ZERO, CENTRE, "zero")
        # in the quarter with the most room
        us, vs, rs = np.array(busy).T
        places = ((0.8, 0.8), (-2.8, 0.8), (-2.8, -3.4), (0.8, -3.4))

        def free(place: tuple[float, float]) -> float:
            return round(float((np.hypot(place[0] + 1.0 - us, place[1] + 1.3 - vs) - rs).min()), 3)

        x, y = max(places, key=free)
        if free((x, y)) > 0.0:  # not over lettering: where zero is stands in words above the drawing too
            figure.text(x, y, "0", 2.6, role="zero")


def _zero_near(profile: Profile) -> bool:
    """Whether the part's zero lies on the blank or so near that its cross is drawn."""
    x0, y0, x1, y1 = bounds(profile.outer)
    return x0 - ZERO <= 0.0 <= x1 + ZERO and y0 - ZERO <= 0.0 <= y1 + ZERO


def _busy(part: Part) -> Discs:
    """Discs that numbers are kept off: edges, marks, bend lines."""
    if part.profile is None:
        return []
    discs: Discs = []
    for loop in (part.profile.outer, *part.profile.inner):
        points = polyline(loop, 0.2)
        for (ax, ay), (bx, by) in zip(points, (*points[1:], points[0]), strict=True):
            discs += _along(ax, ay, bx, by, 0.3)
    for mark in part.marks:
        if mark.to is not None:
            discs += _along(mark.x, mark.y, *mark.to, 0.3)
        else:
            x0, y0, x1, y1 = mark_box(mark)
            # discs that cover the corners of the lettering too
            rim = min(x1 - x0, y1 - y0) / 2.0
            discs += (
                _along(x0 + rim / 2.0, y0 + rim, x1 - rim / 2.0, y1 - rim, 1.1 * rim)
                if x1 - x0 > y1 - y0
                else (_along(x0 + rim, y0 + rim / 2.0, x1 - rim, y1 - rim / 2.0, 1.1 * rim))
            )
    for bend in part.bends:
        discs += _along(bend.x0, bend.y0, bend.x1, bend.y1, 3.0)
    for hole in part.profile.holes:
        arm = _arm(hole)
        discs.append((hole.x, hole.y, (hole.finished + hole.slot) / 2.0 + 0.5))
        discs += _along(hole.x - arm, hole.y, hole.x + arm, hole.y, 0.3)
        discs += _along(hole.x, hole.y - arm, hole.x, hole.y + arm, 0.3)
    return discs


def _arm(hole: Hole) -> float:
    """Half length of a hole's centre mark [mm]."""
    return max(SHORTEST, (hole.finished + hole.slot) / 2.0 + REACH)


def _along(ax: float, ay: float, bx: float, by: float, radius: float) -> Discs:
    n = max(1, math.ceil(math.hypot(bx - ax, by - ay) / STEP))
    return [(ax + (bx - ax) * k / n, ay + (by - ay) * k / n, radius) for k in range(n + 1)]


def _beside(
    hole: Hole, kept: tuple[Discs, Discs], wide: float, high: float, tiling: Tiling
) -> tuple[tuple[float, float], bool]:
    """Middle of a label's place beside a hole, and whether it is free: the first free one of some, else the freest.

    A place that lies on a lap, or not on one sheet, or whose line would run through another hole, is not free.
    """
    busy, others = kept
    us, vs, rs = np.array(busy).T
    radius = (hole.finished + hole.slot) / 2.0
    best = (-math.inf, hole.x, hole.y)
    for far in FAR:
        for k in (1, 7, 3, 5, 0, 4, 2, 6):
            a = math.radians(45.0 * k)
            off = radius + far
            x = (
                hole.x
                + off * math.cos(a)
                + wide / 2.0 * (round(math.cos(a), 6) > 0)
                - wide / 2.0 * (round(math.cos(a), 6) < 0)
            )
            y = (
                hole.y
                + off * math.sin(a)
                + high / 2.0 * (round(math.sin(a), 6) > 0)
                - high / 2.0 * (round(math.sin(a), 6) < 0)
            )
            aside, over = np.abs(x - us) - wide / 2.0, np.abs(y - vs) - high / 2.0
            room = float((np.hypot(np.maximum(aside, 0.0), np.maximum(over, 0.0)) - rs).min())
            half = wide / 2.0 + 0.5, high / 2.0 + 0.8
            if not tiling.clear(x - half[0], y - half[1], x + half[0], y + half[1]):
                room -= OFF_SHEET
            line = _line(hole, (x - wide / 2.0, y - high / 2.0, x + wide / 2.0, y + high / 2.0))
            if line is not None and any(
                math.hypot(u - v, w - z) < r for u, w, _ in _along(*line, 0.0) for v, z, r in others
            ):
                room -= OFF_SHEET
            if room >= 0.0:
                return (x, y), True
            best = max(best, (room, x, y))
    return best[1:], False
