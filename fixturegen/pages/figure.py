"""What is drawn, as records in mm: traces of lines and arcs, and words. A figure is drawn on a page, as SVG, as DXF.

x to the right, y up. The height of lettering is that of its capitals, as drawings have it (ISO 3098).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from fixturegen.pages.fonts import text_width
from fixturegen.plate.profile import Loop, Vertex, circle, edge_between

Anchor = Literal["start", "middle", "end"]
Box = tuple[float, float, float, float]

INK = "#1a1a1a"
GREY = "#6b6b6b"
LEADING = 1.75  # line to line, in heights of capitals (common practice, no source)
PIECE = math.pi / 4.0  # [rad] longest piece of an arc: as a cubic it is off by 4.2e-6 of the radius there


@dataclass(frozen=True)
class Pen:
    """How a trace is drawn.

    Attributes:
        width: Of the line [mm]; 0 draws none.
        colour: `#rrggbb`.
        dash: Lengths of dash and gap, in turn [mm]; none for a whole line.
        fill: `#rrggbb`, or "" for none.
    """

    width: float = 0.35
    colour: str = INK
    dash: tuple[float, ...] = ()
    fill: str = ""


# line widths after ISO 128-2: wide 0.7 and 0.5, narrow half of it
WIDE = Pen(0.5)
PLAIN = Pen(0.35)
FINE = Pen(0.18)
DASHED = Pen(0.25, dash=(3.0, 1.5))
CENTRE = Pen(0.18, dash=(6.0, 1.5, 1.0, 1.5))


@dataclass(frozen=True)
class Trace:
    """A line of lines and arcs.

    Attributes:
        vertices: Corners [mm], each with the bulge of the edge that leaves it.
        closed: Whether the last corner is joined to the first.
        pen: How it is drawn.
        role: What it is ("outline", "hole", "bend" ...): class in SVG, layer in DXF.
    """

    vertices: Loop
    closed: bool = False
    pen: Pen = PLAIN
    role: str = ""


@dataclass(frozen=True)
class Words:
    """One line of lettering.

    Attributes:
        x: Of its anchor on the base line [mm].
        y: [mm].
        text: Any text.
        size: Height of its capitals [mm].
        anchor: Which end, or the middle, stands at x.
        angle: Direction it runs in [deg].
        bold: In bold letters.
        colour: `#rrggbb`.
        role: What it is; class in SVG.
    """

    x: float
    y: float
    text: str
    size: float = 3.5
    anchor: Anchor = "start"
    angle: float = 0.0
    bold: bool = False
    colour: str = INK
    role: str = ""


@dataclass(frozen=True)
class Window:
    """Items of which only what lies in a box is seen.

    Attributes:
        items: What is drawn.
        box: (x0, y0, x1, y1) [mm].
    """

    items: tuple[Trace | Words, ...]
    box: Box


Item = Trace | Words | Window


class Figure:
    """A drawing in mm that is added to; `items` are the records drawn so far, in order."""

    def __init__(self) -> None:
        self.items: list[Item] = []

    def trace(self, vertices: Iterable[Vertex], closed: bool = False, pen: Pen = PLAIN, role: str = "") -> None:
        """Add a trace of corners with bulges [mm]; a profile's loop as it is with `closed`."""
        self.items.append(Trace(tuple(vertices), closed, pen, role))

    def loop(self, loop: Loop, pen: Pen = PLAIN, role: str = "") -> None:
        """Add a closed loop of a profile [mm]."""
        self.trace(loop, True, pen, role)

    def line(self, x0: float, y0: float, x1: float, y1: float, pen: Pen = PLAIN, role: str = "") -> None:
        """Add a line between two points [mm]."""
        self.trace((Vertex(x0, y0), Vertex(x1, y1)), False, pen, role)

    def polyline(
        self, points: Iterable[Sequence[float]], closed: bool = False, pen: Pen = PLAIN, role: str = ""
    ) -> None:
        """Add lines from point to point (n, 2) [mm]."""
        self.trace((Vertex(p[0], p[1]) for p in points), closed, pen, role)

    def rect(self, x0: float, y0: float, x1: float, y1: float, pen: Pen = PLAIN, role: str = "") -> None:
        """Add a rectangle between two corners [mm]."""
        self.polyline(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), True, pen, role)

    def circle(self, x: float, y: float, radius: float, pen: Pen = PLAIN, role: str = "") -> None:
        """Add a circle [mm]."""
        self.loop(circle(x, y, 2.0 * radius), pen, role)

    def arc(
        self, x: float, y: float, radius: float, start: float, sweep: float, pen: Pen = PLAIN, role: str = ""
    ) -> None:
        """Add an arc about a centre [mm] from an angle on, counter-clockwise for a positive sweep [deg]."""
        n = max(1, math.ceil(abs(sweep) / 90.0))
        bulge = math.tan(math.radians(sweep) / n / 4.0)
        corners = []
        for k in range(n + 1):
            a = math.radians(start + sweep * k / n)
            corners.append(Vertex(x + radius * math.cos(a), y + radius * math.sin(a), bulge if k < n else 0.0))
        self.trace(corners, False, pen, role)

    def cross(self, x: float, y: float, arm: float, pen: Pen = FINE, role: str = "centre") -> None:
        """Add a centre mark: two lines of half length `arm` [mm]."""
        self.line(x - arm, y, x + arm, y, pen, role)
        self.line(x, y - arm, x, y + arm, pen, role)

    def arrow(
        self, x0: float, y0: float, x1: float, y1: float, pen: Pen = FINE, head: float = 2.5, role: str = ""
    ) -> None:
        """Add a line whose end (x1, y1) [mm] carries a filled head of a length [mm]."""
        self.line(x0, y0, x1, y1, pen, role)
        a = math.atan2(y1 - y0, x1 - x0)
        wings = [(x1 - head * math.cos(a + s), y1 - head * math.sin(a + s)) for s in (-0.26, 0.26)]
        self.polyline(((x1, y1), *wings), True, replace(pen, dash=(), fill=pen.colour), role)

    def text(
        self,
        x: float,
        y: float,
        text: str,
        size: float = 3.5,
        anchor: Anchor = "start",
        angle: float = 0.0,
        bold: bool = False,
        colour: str = INK,
        role: str = "",
    ) -> None:
        """Add one line of lettering at a point of its base line [mm]; `size` is the height of capitals [mm]."""
        self.items.append(Words(x, y, text, size, anchor, angle, bold, colour, role))

    def fitted(
        self,
        x: float,
        y: float,
        width: float,
        text: str,
        size: float = 3.5,
        anchor: Anchor = "start",
        bold: bool = False,
        colour: str = INK,
    ) -> None:
        """Add one line of lettering made smaller, down to half, to stay within a width [mm]; then it ends in dots."""
        wide = text_width(text, size, bold)
        if wide > width:
            size *= max(width / wide, 0.5)
            shown = text
            while len(shown) > 1 and text_width(text, size, bold) > width * (1.0 + 1e-9):
                shown = shown[: min(len(shown) - 1, int(len(shown) * width / text_width(text, size, bold)))]
                text = shown.rstrip() + "…"
        self.text(x, y, text, size, anchor, 0.0, bold, colour)

    def paragraph(
        self, x: float, y: float, width: float, text: str, size: float = 3.5, bold: bool = False, colour: str = INK
    ) -> float:
        """Add text broken into lines below a height y [mm]; gives back the height below it [mm]."""
        for line in broken(text, width, size, bold):
            y -= size
            self.text(x, y, line, size, "start", 0.0, bold, colour)
            y -= (LEADING - 1.0) * size
        return y

    def place(self, other: Figure, dx: float, dy: float, angle: float = 0.0, window: Box | None = None) -> None:
        """Add another figure turned by an angle [deg] and then moved [mm], seen in a box [mm] only if one is given.

        What lies wholly outside the box is left out; what crosses it stays whole and is hidden there.
        """
        if window is None:
            self.items += [_moved(item, dx, dy, angle) for item in other.items]
            return
        if angle != 0.0:
            turned = Figure()
            turned.place(other, 0.0, 0.0, angle)
            other = turned
        # what lies outside is not even moved
        seen = (window[0] - dx, window[1] - dy, window[2] - dx, window[3] - dy)
        plain = (i for m in other.items for i in (m.items if isinstance(m, Window) else (m,)))
        near = (_moved(i, dx, dy, 0.0) for i in plain if _meet(item_box(i), seen))
        self.items.append(Window(tuple(i for i in near if not isinstance(i, Window)), window))

    def box(self) -> Box:
        """(x0, y0, x1, y1) of all that is drawn [mm]; lettering by its width.

        Raises:
            ValueError: When nothing is drawn.
        """
        boxes = [item_box(i) for i in self.items]
        if not boxes:
            raise ValueError("nothing is drawn in this figure")
        return min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)


def broken(text: str, width: float, size: float = 3.5, bold: bool = False) -> list[str]:
    """The text in lines that fit a width [mm]; a word longer than the width is broken where it must be.

    Args:
        text: Any text; its line feeds are kept.
        width: [mm].
        size: Height of capitals [mm].
        bold: In bold letters.
    """
    lines: list[str] = []
    for row in text.split("\n"):
        line = ""
        for word in row.split():
            if text_width(f"{line} {word}".strip(), size, bold) <= width:
                line = f"{line} {word}".strip()
                continue
            lines += [line] if line else []
            line = word
            while text_width(line, size, bold) > width and len(line) > 1:
                fits = next((n for n in range(len(line) - 1, 0, -1) if text_width(line[:n], size, bold) <= width), 1)
                # behind a hyphen that is there already, else wherever it must be
                fits = line.rfind("-", 1, fits) + 1 or fits
                lines.append(line[:fits])
                line = line[fits:]
        lines.append(line)
    return lines


def item_box(item: Item) -> Box:
    """(x0, y0, x1, y1) an item lies in [mm]; of arcs a box that may be a little larger."""
    if isinstance(item, Window):
        return item.box
    if isinstance(item, Words):
        wide = text_width(item.text, item.size, item.bold)
        x = {"start": 0.0, "middle": -wide / 2.0, "end": -wide}[item.anchor]
        corners = [(u, v) for u in (x, x + wide) for v in (-0.35 * item.size, 1.2 * item.size)]
        c, s = math.cos(math.radians(item.angle)), math.sin(math.radians(item.angle))
        xs = [item.x + u * c - v * s for u, v in corners]
        ys = [item.y + u * s + v * c for u, v in corners]
        return min(xs), min(ys), max(xs), max(ys)
    if len(item.vertices) == 2 and not item.vertices[0].bulge:
        (a, b) = item.vertices
        return min(a.x, b.x), min(a.y, b.y), max(a.x, b.x), max(a.y, b.y)
    xs, ys = [v.x for v in item.vertices], [v.y for v in item.vertices]
    for a, b in zip(item.vertices, (*item.vertices[1:], item.vertices[0]), strict=True):
        bow = abs(a.bulge) * math.hypot(b.x - a.x, b.y - a.y) / 2.0
        if bow:
            half = max(bow, math.hypot(b.x - a.x, b.y - a.y) / 2.0)
            xs += [(a.x + b.x) / 2.0 - half, (a.x + b.x) / 2.0 + half]
            ys += [(a.y + b.y) / 2.0 - half, (a.y + b.y) / 2.0 + half]
    return min(xs), min(ys), max(xs), max(ys)


def _meet(a: Box, b: Box) -> bool:
    return a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]


def _moved(item: Item, dx: float, dy: float, angle: float) -> Item:
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))

    def at(x: float, y: float) -> tuple[float, float]:
        return (x + dx, y + dy) if angle == 0.0 else (x * c - y * s + dx, x * s + y * c + dy)

    if isinstance(item, Trace):
        moved = tuple(Vertex(*at(v.x, v.y), v.bulge) for v in item.vertices)
        return Trace(moved, item.closed, item.pen, item.role)
    if isinstance(item, Words):
        x, y = at(item.x, item.y)
        return replace(item, x=x, y=y, angle=item.angle + angle)
    if angle != 0.0:
        raise ValueError("a figure with a window is moved, not turned")
    inner = tuple(m for i in item.items if isinstance(m := _moved(i, dx, dy, 0.0), Trace | Words))
    x0, y0, x1, y1 = item.box
    return Window(inner, (x0 + dx, y0 + dy, x1 + dx, y1 + dy))


def cubics(a: Vertex, b: Vertex) -> list[tuple[tuple[float, float], tuple[float, float], tuple[float, float]]]:
    """The arc from `a` to `b` as cubic curves: two control points and the end of each [mm].

    Control points at 4/3 tan(sweep/4) of the radius, the usual fit of a circle; pieces are short enough
    that it is off by less than 0.005 mm at a radius of 1 m.
    """
    e = edge_between(a, b)
    if e.centre is None:
        return []
    n = max(1, math.ceil(abs(e.sweep_rad) / PIECE))
    step, (cx, cy), r = e.sweep_rad / n, e.centre, e.radius
    k = 4.0 / 3.0 * math.tan(step / 4.0)
    start = math.atan2(e.y0 - cy, e.x0 - cx)
    found = []
    for i in range(n):
        p, q = start + i * step, start + (i + 1) * step
        c0, s0, c1, s1 = math.cos(p), math.sin(p), math.cos(q), math.sin(q)
        end = (b.x, b.y) if i == n - 1 else (cx + r * c1, cy + r * s1)
        found.append(
            ((cx + r * (c0 - k * s0), cy + r * (s0 + k * c0)), (cx + r * (c1 + k * s1), cy + r * (s1 - k * c1)), end)
        )
    return found
