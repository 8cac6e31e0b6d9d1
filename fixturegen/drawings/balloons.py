"""Numbers in circles round a view, led to the parts they name."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise

from fixturegen.drawings.boards import PENS, SMALL, WHITE, Board, Frame
from fixturegen.drawings.ordinates import spread
from fixturegen.drawings.record import Point, View
from fixturegen.pages import Pen
from fixturegen.shapes.hidden_lines import Chain

RADIUS = 3.0  # [mm]
PITCH = 7.0  # [mm] from balloon to balloon


def length_of(chains: Sequence[Chain]) -> float:
    """Length of all lines of a part that are seen [mm]."""
    return sum(math.dist(a, b) for chain in chains for a, b in pairwise(chain))


def anchor_of(chains: Sequence[Chain]) -> tuple[float, float]:
    """A point of a part that is seen: the middle of its longest line, in the view's plane [mm]."""
    best = max(((math.dist(a, b), a, b) for chain in chains for a, b in pairwise(chain)))
    _, a, b = best
    return (a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0


def draw_balloons(board: Board, view: View, frame: Frame, anchors: Mapping[int, tuple[float, float]]) -> None:
    """Draw the balloons in two rows, over and under the view, so that leaders of a row do not cross.

    Args:
        board: The page.
        view: Where the view lies.
        frame: Its lower and upper edge carry the rows.
        anchors: Item number to a point of the part in the view's plane [mm].
    """
    placed = [(view.at(*at), number) for number, at in anchors.items()]
    middle = (frame.y0 + frame.y1) / 2.0
    over = [p for p in placed if p[0][1] >= middle]
    under = [p for p in placed if p[0][1] < middle]
    room = max(1, int((frame.width - PITCH) / PITCH) + 1)
    while len(over) > room and len(under) < room:
        under.append(over.pop(over.index(min(over, key=lambda p: p[0][1]))))
    while len(under) > room and len(over) < room:
        over.append(under.pop(under.index(max(under, key=lambda p: p[0][1]))))
    for row, y in ((over, frame.y1 - RADIUS), (under, frame.y0 + RADIUS)):
        row.sort()
        pitch = min(PITCH, (frame.width - PITCH) / max(1, len(row) - 1))
        spots = spread([at[0] for at, _ in row], pitch, frame.x0 + RADIUS, frame.x1 - RADIUS)
        for (at, number), x in zip(row, spots, strict=True):
            _balloon(board, (x, y), at, number)


def _balloon(board: Board, middle: Point, at: Point, number: int) -> None:
    turn = math.atan2(at[1] - middle[1], at[0] - middle[0])
    rim = middle[0] + RADIUS * math.cos(turn), middle[1] + RADIUS * math.sin(turn)
    board.line(rim, at, "thin")
    board.circle(at, 0.4, "frame")
    board.figure.circle(*middle, RADIUS, Pen(PENS["frame"].width, PENS["frame"].colour, fill=WHITE))
    board.text(middle[0], middle[1] - 0.5 * SMALL, str(number), SMALL, "middle", bold=True)
