"""A page being drawn: the pens of a drawing, arrows, hatching, views; all in mm of paper."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Literal

from fixturegen.drawings.record import Page, Point, View
from fixturegen.pages import Figure, Pen, Trace, text_width
from fixturegen.pages.figure import Anchor
from fixturegen.plate.profile import Edge, Loop, Vertex

NORMAL = 2.5  # [mm] height of capitals of the figures one works to
SMALL = 2.0  # [mm] height of capitals beside them; the letters as a whole are 2.7 mm
HEAD = 3.2  # [mm]
LEADING = 1.75  # [1] from base line to base line, in heights of capitals
ARROW = 2.2  # [mm]
WHITE = "#ffffff"

Line = Literal["outline", "hidden", "centre", "thin", "mark", "bend", "pilot", "frame", "pale", "thread"]

PENS: dict[Line, Pen] = {
    "outline": Pen(0.50, "#000000"),
    "hidden": Pen(0.25, "#000000", (2.0, 1.0)),
    "centre": Pen(0.18, "#000000", (6.0, 1.0, 1.0, 1.0)),
    "thin": Pen(0.13, "#595959"),
    "mark": Pen(0.18, "#0b57a4"),
    "bend": Pen(0.30, "#000000", (5.0, 1.0, 1.0, 1.0, 1.0, 1.0)),
    "pilot": Pen(0.35, "#b3261e"),
    "frame": Pen(0.35, "#000000"),
    "thread": Pen(0.25, "#000000"),
    "pale": Pen(0.18, "#8a8a8a"),
}
"""Wide and narrow two to one. Source: iso-128-2, line widths, from memory."""


@dataclass(frozen=True)
class Frame:
    """A rectangle of paper [mm]."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def width(self) -> float:
        """[mm]."""
        return self.x1 - self.x0

    @property
    def height(self) -> float:
        """[mm]."""
        return self.y1 - self.y0


@lru_cache(maxsize=8192)
def words_width(words: str, size: float, bold: bool = False) -> float:
    """Length of words on paper [mm].

    Args:
        words: What is written.
        size: Height of capitals [mm].
        bold: Whether it is bold.
    """
    return text_width(words, size, bold)


@dataclass
class Board:
    """A page being drawn.

    Attributes:
        width: [mm].
        height: [mm].
        figure: What was drawn so far.
        views: Views on it.
    """

    width: float
    height: float
    figure: Figure = field(default_factory=Figure)
    views: list[View] = field(default_factory=list)

    def line(self, a: Point, b: Point, pen: Line = "outline") -> None:
        """Draw a line."""
        self.figure.line(*a, *b, PENS[pen])

    def path(self, points: Sequence[Point], pen: Line = "thin", *, closed: bool = False) -> None:
        """Draw lines from point to point."""
        self.figure.polyline(points, closed, PENS[pen])

    def box(self, frame: Frame, pen: Line = "frame") -> None:
        """Draw the border of a frame."""
        self.figure.rect(frame.x0, frame.y0, frame.x1, frame.y1, PENS[pen])

    def circle(self, at: Point, radius: float, pen: Line = "outline") -> None:
        """Draw a circle."""
        self.figure.circle(*at, radius, PENS[pen])

    def filled(self, points: Sequence[Point], colour: str = "#000000") -> None:
        """Fill a shape."""
        self.figure.polyline(points, True, Pen(0.0, fill=colour))

    def text(
        self,
        x: float,
        y: float,
        words: str,
        size: float = NORMAL,
        anchor: Anchor = "start",
        angle: float = 0.0,
        *,
        bold: bool = False,
    ) -> None:
        """Write words on a base line."""
        if words:
            self.figure.text(x, y, words, size, anchor, angle, bold)

    def plate(self, x: float, y: float, words: str, size: float = NORMAL, anchor: Anchor = "start") -> None:
        """Write bold words on a base line, on white that covers the lines below them."""
        wide = words_width(words, size, True)
        left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * wide
        low, high, right = y - 0.4, y + size + 0.4, left + wide
        self.filled(((left - 0.3, low), (right + 0.3, low), (right + 0.3, high), (left - 0.3, high)), WHITE)
        self.text(x, y, words, size, anchor, bold=True)

    def arrow(self, tip: Point, tail: Point, pen: Line = "thin") -> None:
        """Draw a line with an arrow head at its tip."""
        self.line(tail, tip, pen)
        self.head(tip, math.atan2(tip[1] - tail[1], tip[0] - tail[0]))

    def head(self, tip: Point, way_rad: float) -> None:
        """Draw an arrow head that points along `way_rad`."""
        c, s = math.cos(way_rad), math.sin(way_rad)
        back = [(tip[0] - ARROW * (c - side * s / 6.0), tip[1] - ARROW * (s + side * c / 6.0)) for side in (1.0, -1.0)]
        self.filled((tip, *back))

    def loop(self, loop: Loop, view: View, pen: Line = "outline") -> None:
        """Draw a loop as the view places it; arcs stay arcs."""
        self.figure.loop(tuple(Vertex(*view.at(v.x, v.y), v.bulge) for v in loop), PENS[pen])

    def edge(self, edge: Edge, view: View, pen: Line = "outline") -> None:
        """Draw one edge of a loop as the view places it."""
        bulge = math.tan(edge.sweep_rad / 4.0) if edge.centre is not None else 0.0
        ends = (Vertex(*view.at(edge.x0, edge.y0), bulge), Vertex(*view.at(edge.x1, edge.y1)))
        self.figure.trace(ends, False, PENS[pen])

    def paragraph(self, frame: Frame, words: str, size: float = NORMAL, *, bold: bool = False) -> float:
        """Write words in lines from the top of a frame; the height below them [mm]."""
        return self.figure.paragraph(frame.x0, frame.y1, frame.width, words, size, bold)

    def hatch(self, outlines: Iterable[Sequence[Point]], pitch: float = 2.0) -> None:
        """Draw thin lines at 45 deg inside closed outlines, where an odd number of them is round about."""
        loops = [list(o) for o in outlines]
        pairs = [(a, b) for loop in loops for a, b in zip(loop, [*loop[1:], loop[0]], strict=True)]
        offs = [p[1] - p[0] for loop in loops for p in loop]
        c = math.ceil(min(offs, default=0.0) / pitch) * pitch
        while c < max(offs, default=0.0):
            cuts = []
            for (ax, ay), (bx, by) in pairs:
                da, db = ay - ax - c, by - bx - c
                if (da > 0.0) != (db > 0.0):
                    cuts.append(ax + da / (da - db) * (bx - ax))
            cuts.sort()
            for x0, x1 in zip(cuts[::2], cuts[1::2], strict=False):
                self.line((x0, x0 + c), (x1, x1 + c), "thin")
            c += pitch

    def page(self, heading: str, scale: str) -> Page:
        """The page as it now stands."""
        return Page(self.width, self.height, heading, scale, tuple(self.figure.items), tuple(self.views))


__all__ = ["HEAD", "LEADING", "NORMAL", "PENS", "SMALL", "Board", "Frame", "Line", "Trace", "words_width"]
