"""Numbers of holes and names of corners on a plan, where they cover least."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from fixturegen.drawings.boards import NORMAL, PENS, SMALL, Board, Trace, words_width
from fixturegen.drawings.record import Point, View
from fixturegen.pages import Words
from fixturegen.pages.figure import item_box
from fixturegen.plate.lettering import strokes
from fixturegen.plate.part import Part
from fixturegen.plate.profile import edges, polyline

BESIDE = 1.0  # [mm] a number so near to its hole needs no line to it
EVERY = 5  # corner of the outline that is named on the plan
LETTERS = 26  # of the alphabet
STEP = 1.5  # [mm] between the points a line is told by
AWAY = (0.6, 2.5, 5.0, 8.0, 12.0, 17.0, 23.0, 30.0)  # [mm] from a hole or corner its name is tried at
NEAR = 5  # of these, those a corner is tried at
LIKED = (4, 12, 28, 20, 8, 24, 0, 16)  # parts of a turn a name is tried at first, in this order
TURN = 32  # such parts
TURNS = (*LIKED, *(k for k in range(TURN) if k % 4))
SQUARE = 8  # such parts: a line along the centre lines of its hole is told from none of them
CLEAR = 0.4  # [mm] between the line to a number and another hole, number or lettering
APART = 1.2  # [mm] between a number that has no line to it and another hole: twice as far as its own
THICK = 0.6  # [mm] round the points a line to a number is told by: none slips between two of them
THROUGH = 1000.0  # [mm] a line through another hole is worse than any place that is crowded
OVER = 20.0  # [mm] a line over lettering or another line is worse than a place that is crowded by less

Spot = tuple[float, float, float]
"""x, y and radius of something drawn [mm of paper]."""
Spots = npt.NDArray[np.float64]
"""Many of them (n, 3)."""


def number(board: Board, part: Part, view: View, sign: tuple[float, float, float]) -> None:
    """Write a number beside each hole and names of corners to the outline, where they cover least.

    Args:
        board: The page.
        part: A plate part.
        view: Where its plan lies.
        sign: (x, y, radius) of the sign of the zero, which is kept clear [mm].
    """
    profile = part.profile
    if profile is None:
        return
    lines, letters = _lines_of(board)
    drawn: list[Spot] = [sign, *lines, *letters]
    for mark in part.marks:
        if mark.to is not None:
            letters += _along(view.at(mark.x, mark.y), view.at(*mark.to))
        for a, b, c, d in strokes(mark.text, mark.x, mark.y, mark.height, mark.angle) if mark.text else ():
            letters += _along(view.at(a, b), view.at(c, d))
    drawn += letters
    holes = [(*view.at(h.x, h.y), view.scale * (h.finished + h.slot) / 2.0) for h in profile.holes]
    drawn += holes
    for loop in (profile.outer, *profile.inner):
        drawn += [(*view.at(x, y), 0.0) for x, y in polyline(loop, 0.5 / view.scale)]
        for e in edges(loop):
            n = max(1, int(view.scale * e.length / 2.0)) if e.centre is None else 1
            drawn += [(*view.at(e.x0 + (e.x1 - e.x0) * i / n, e.y0 + (e.y1 - e.y0) * i / n), 0.0) for i in range(1, n)]
    taken, solid, figures = _Taken(drawn), [*holes], np.array(letters)
    for n, (x, y, r) in enumerate(holes, 1):
        words = str(n)
        half = max(words_width(words, NORMAL, True), NORMAL) / 2.0 + 0.3
        others = np.array([spot for spot in solid if spot != (x, y, r)])
        at = _led((x, y), r, half, taken, (others, figures))
        taken.add((*at, half))
        solid.append((*at, half))
        line = _point_at(board, at, (x, y), half, r)
        solid += [(u, v, THICK) for u, v, _ in line]
        for spot in line:
            taken.add(spot)
        board.text(at[0], at[1] - 0.5 * NORMAL, words, NORMAL, "middle", bold=True)
    for k, loop in enumerate((profile.outer, *profile.inner)):
        for n, vertex in enumerate(loop, 1):
            if n == 1 or (k == 0 and n % EVERY == 0):
                _name_corner(board, corner_name(k, n), view.at(vertex.x, vertex.y), taken)


def corner_name(loop: int, n: int) -> str:
    """Name of a corner in table and plan: P1, P2 ... of the outline, A1, B1 ... of the openings.

    Args:
        loop: 0 for the outline, then the openings.
        n: From 1.
    """
    if loop == 0:
        return f"P{n}"
    more, letter = divmod(loop - 1, LETTERS)
    return f"{chr(ord('A') + letter)}{'' if more == 0 else more}-{n}"


def _name_corner(board: Board, name: str, at: Point, taken: _Taken) -> None:
    half = words_width(name, SMALL) / 2.0 + 0.2
    spot = _free(at, 0.0, half, taken)
    if name != "P1" and taken.room([spot], half)[0] < 0.0:
        return
    taken.add((*spot, half))
    board.text(spot[0], spot[1] - 0.5 * SMALL, name, SMALL, "middle")
    _point_at(board, spot, at, half, 0.0)


class _Taken:
    """What is drawn already, as circles; asked often, so it is held as one array."""

    def __init__(self, drawn: list[Spot]) -> None:
        self.circles = np.array(drawn)

    def add(self, spot: Spot) -> None:
        self.circles = np.vstack((self.circles, spot))

    def room(self, spots: list[Point], half: float) -> list[float]:
        """From the rim of a name at each spot to the nearest of what is drawn [mm]; negative where it covers some."""
        at = np.array(spots)
        x, y, r = self.circles.T
        off = np.hypot(at[:, :1] - x, at[:, 1:] - y) - r
        return [float(v) for v in off.min(axis=1) - half]


def _lines_of(board: Board) -> tuple[list[Spot], list[Spot]]:
    """What was drawn so far and is not the part: leaders over the plan and centre lines of holes; figures."""
    found: list[Spot] = []
    figures: list[Spot] = []
    for item in board.figure.items:
        if isinstance(item, Trace) and item.pen == PENS["thin"]:
            for a, b in pairwise(item.vertices):
                found += _along((a.x, a.y), (b.x, b.y))
        elif isinstance(item, Words):
            x0, y0, x1, y1 = item_box(item)
            # the middle line of the words, with half their height round it
            half = min(x1 - x0, y1 - y0) / 2.0
            figures += [(x, y, half) for x, y, _ in _along((x0 + half, y0 + half), (x1 - half, y1 - half))]
    return found, figures


def _along(a: Point, b: Point) -> list[Spot]:
    """Points of a line, both ends among them."""
    n = max(1, int(math.dist(a, b) / STEP))
    return [(a[0] + (b[0] - a[0]) * i / n, a[1] + (b[1] - a[1]) * i / n, 0.0) for i in range(n + 1)]


def _point_at(board: Board, at: Point, middle: Point, half: float, radius: float) -> list[Spot]:
    """A thin line from a number to the rim of its hole, where it stands too far off to be told by its place.

    Args:
        board: The page.
        at: Middle of the number [mm of paper].
        middle: Of its hole.
        half: Of the number.
        radius: Of the hole.
    """
    ends = _line(at, middle, half, radius)
    if ends is None:
        return []
    board.line(*ends, "thin")
    return _along(*ends)


def _line(at: Point, middle: Point, half: float, radius: float) -> tuple[Point, Point] | None:
    """Ends of the line from a number to its hole; None where they stand side by side."""
    far = math.dist(at, middle)
    if far - radius - half <= BESIDE:
        return None
    x, y = (middle[0] - at[0]) / far, (middle[1] - at[1]) / far
    return (at[0] + half * x, at[1] + half * y), (middle[0] - radius * x, middle[1] - radius * y)


def _led(middle: Point, radius: float, half: float, taken: _Taken, kept_off: tuple[Spots, Spots]) -> Point:
    """Where a number stands: the first free place whose line runs clear, else the one that does least harm.

    Args:
        middle: Of the hole [mm of paper].
        radius: Of the hole.
        half: Of the number.
        taken: What is drawn already.
        kept_off: (other holes, numbers and their lines; lettering): never over the first, nor a line through it.
    """
    spots = _spots(middle, radius, half, AWAY, TURNS)
    best = (math.inf, middle)
    for n, (spot, left) in enumerate(zip(spots, taken.room(spots, half), strict=True)):
        ends = _line(spot, middle, half, radius)
        harm = max(0.0, -left)
        harm += THROUGH * _crossed((spot, spot), kept_off[0], half + (APART if ends is None else 0.0))
        harm += OVER * _crossed((spot, spot), kept_off[1], half)
        if ends is not None:
            harm += THROUGH * _crossed(ends, kept_off[0]) + OVER * _crossed(ends, kept_off[1])
            harm += OVER * (TURNS[n % len(TURNS)] % SQUARE == 0)
        if harm <= 0.0:
            return spot
        best = min(best, (harm, spot))
    return best[1]


def _crossed(ends: tuple[Point, Point], spots: Spots, clear: float = CLEAR) -> bool:
    """Whether a line runs through one of the spots, or nearer than is clear."""
    if not len(spots):
        return False
    x, y, r = spots.T
    (ax, ay), (bx, by) = ends
    long = max(1e-9, (bx - ax) ** 2 + (by - ay) ** 2)
    share = np.clip(((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / long, 0.0, 1.0)
    return bool((np.hypot(ax + share * (bx - ax) - x, ay + share * (by - ay) - y) < r + clear).any())


def _spots(middle: Point, radius: float, half: float, away: tuple[float, ...], turns: tuple[int, ...]) -> list[Point]:
    spots = []
    for far in away:
        for k in turns:
            a = math.tau / TURN * k
            off = radius + half + far
            spots.append((middle[0] + off * math.cos(a), middle[1] + off * math.sin(a)))
    return spots


def _free(middle: Point, radius: float, half: float, taken: _Taken) -> Point:
    spots = _spots(middle, radius, half, AWAY[:NEAR], LIKED)
    room = taken.room(spots, half)
    free = next((spot for spot, left in zip(spots, room, strict=True) if left >= 0.0), None)
    return free if free is not None else max(zip(room, spots, strict=True))[1]
