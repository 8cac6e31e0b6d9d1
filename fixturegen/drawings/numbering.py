"""Numbers of holes and names of corners on a plan, where they cover least."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np

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
AWAY = (0.6, 2.5, 5.0, 8.0, 12.0)  # [mm] from a hole or corner its name is tried at

Spot = tuple[float, float, float]
"""x, y and radius of something drawn [mm of paper]."""


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
    drawn: list[Spot] = [sign, *_lines_of(board)]
    for mark in part.marks:
        if mark.to is not None:
            drawn += _along(view.at(mark.x, mark.y), view.at(*mark.to))
        for a, b, c, d in strokes(mark.text, mark.x, mark.y, mark.height, mark.angle) if mark.text else ():
            drawn += _along(view.at(a, b), view.at(c, d))
    for h in profile.holes:
        drawn.append((*view.at(h.x, h.y), view.scale * (h.finished + h.slot) / 2.0))
    for loop in (profile.outer, *profile.inner):
        drawn += [(*view.at(x, y), 0.0) for x, y in polyline(loop, 0.5 / view.scale)]
        for e in edges(loop):
            n = max(1, int(view.scale * e.length / 2.0)) if e.centre is None else 1
            drawn += [(*view.at(e.x0 + (e.x1 - e.x0) * i / n, e.y0 + (e.y1 - e.y0) * i / n), 0.0) for i in range(1, n)]
    taken = _Taken(drawn)
    for n, h in enumerate(profile.holes, 1):
        words, r = str(n), view.scale * (h.finished + h.slot) / 2.0
        half = max(words_width(words, NORMAL, True), NORMAL) / 2.0 + 0.3
        at = _free(view.at(h.x, h.y), r, half, taken)
        taken.add((*at, half))
        _point_at(board, at, view.at(h.x, h.y), half, r)
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


def _lines_of(board: Board) -> list[Spot]:
    """What was drawn so far and is not the part: leaders that cross the plan, centre lines of holes, figures."""
    found: list[Spot] = []
    for item in board.figure.items:
        if isinstance(item, Trace) and item.pen == PENS["thin"]:
            for a, b in pairwise(item.vertices):
                found += _along((a.x, a.y), (b.x, b.y))
        elif isinstance(item, Words):
            x0, y0, x1, y1 = item_box(item)
            # the middle line of the words, with half their height round it
            half = min(x1 - x0, y1 - y0) / 2.0
            found += [(x, y, half) for x, y, _ in _along((x0 + half, y0 + half), (x1 - half, y1 - half))]
    return found


def _along(a: Point, b: Point) -> list[Spot]:
    """Points of a line, both ends among them."""
    n = max(1, int(math.dist(a, b) / STEP))
    return [(a[0] + (b[0] - a[0]) * i / n, a[1] + (b[1] - a[1]) * i / n, 0.0) for i in range(n + 1)]


def _point_at(board: Board, at: Point, middle: Point, half: float, radius: float) -> None:
    """A thin line from a number to the rim of its hole, where it stands too far off to be told by its place."""
    far = math.dist(at, middle)
    if far - radius - half > BESIDE:
        x, y = (middle[0] - at[0]) / far, (middle[1] - at[1]) / far
        board.line((at[0] + half * x, at[1] + half * y), (middle[0] - radius * x, middle[1] - radius * y), "thin")


def _free(middle: Point, radius: float, half: float, taken: _Taken) -> Point:
    spots = []
    for far in AWAY:
        for k in (1, 3, 7, 5, 2, 6, 0, 4):
            a = math.pi / 4.0 * k
            off = radius + half + far
            spots.append((middle[0] + off * math.cos(a), middle[1] + off * math.sin(a)))
    room = taken.room(spots, half)
    free = next((spot for spot, left in zip(spots, room, strict=True) if left >= 0.0), None)
    return free if free is not None else max(zip(room, spots, strict=True))[1]
