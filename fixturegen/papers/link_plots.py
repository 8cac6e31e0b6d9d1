"""Curves over the travel of an axle as SVG text: axes in shop units, ride and zero marked, each line named.

Lines differ by their dashes and carry their names, so that they are told apart on a black-and-white print.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from xml.sax.saxutils import escape, quoteattr

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.papers.link_board import LETTER, Board
from fixturegen.papers.link_quantities import Kind, LinkCase, Over, Quantity
from fixturegen.papers.words import INCH

INK = "#14181c"
GRID = "#d5dbe0"
STYLES = (
    ("#14181c", ""),
    ("#0b57a4", "9 5"),
    ("#a1160c", "2.5 4"),
    ("#0b5d3b", "14 4 3 4"),
    ("#6b3fa0", "5 2 2 2 2 2"),
)
"""Ink and dashes of each geometry: no two dashes alike."""
WIDTH, HEIGHT = 660.0, 346.0
LEFT, RIGHT, TOP, BOTTOM = 104.0, 150.0, 46.0, 62.0
SIZE = 13.0  # height of letters [px]
STEPS_OF_TEN = (1.0, 2.0, 2.5, 5.0, 10.0)
LEAST = {"length": 5.0, "deg": 0.5, "%": 10.0, "deg/deg": 0.05, "1": 0.1}
"""Least height of a picture in the unit of the kind: rounding is not blown up to a curve."""
NAMES: dict[Over, str] = {"heave": "wheel travel", "roll": "roll", "lock": "steer"}
ENDS: dict[Over, tuple[str, str]] = {
    "heave": ("DROOP", "BUMP"),
    "roll": ("RIGHT UP", "LEFT UP"),
    "lock": ("FULL RIGHT", "FULL LEFT"),
}
WILD = 8.0  # a few values this many times beyond the spread of the others run off the picture


@dataclass(frozen=True, eq=False)
class Line:
    """One geometry's curve: x over poses, y at each; y is not a number where the pose is out of reach."""

    name: str
    x: Array
    y: Array


@dataclass(frozen=True)
class Axes:
    """Where values stand in the picture.

    Attributes:
        x0: Value at the left edge.
        x1: Value at the right edge.
        y0: Value at the bottom edge.
        y1: Value at the top edge.
        step: Distance of the lines across the picture.
    """

    x0: float
    x1: float
    y0: float
    y1: float
    step: float

    def x(self, value: float) -> float:
        """Place of a value across the picture [px]."""
        return LEFT + (value - self.x0) / (self.x1 - self.x0) * (WIDTH - LEFT - RIGHT)

    def y(self, value: float) -> float:
        """Place of a value down the picture [px]."""
        return HEIGHT - BOTTOM - (value - self.y0) / (self.y1 - self.y0) * (HEIGHT - TOP - BOTTOM)


def lines_of(quantity: Quantity, cases: Sequence[LinkCase], over: Over) -> tuple[Line, ...]:
    """The curves of a quantity, one for each geometry that has it; x in mm of heave, deg of roll or of steer."""
    found = []
    for case in cases:
        if over == "lock":
            turned, steer = case.study.turned, quantity.steered and quantity.steered(case.study)
            if turned is not None and steer is not None:
                found.append(Line(case.name, turned.inner, steer))
            continue
        travel = case.study.heave if over == "heave" else case.study.roll
        y = quantity.read(case.study, travel)
        if y is not None:
            x = travel.poses.heave if over == "heave" else travel.poses.roll
            found.append(Line(case.name, x, np.where(travel.poses.reached, y, np.nan)))
    return tuple(found)


def axes_of(
    lines: Sequence[Line], kind: Kind, mark: float | None = None, units: str = "in", shown: Sequence[float] = ()
) -> Axes:
    """The ranges of a picture: all of the travel asked for, the values rounded out to ticks.

    Args:
        lines: The curves.
        kind: Their unit.
        mark: A value that is shown where the curves come near it.
        units: in or mm, of the ticks.
        shown: Values that are always in the picture.
    """
    x = np.concatenate([line.x for line in lines])
    values = np.concatenate([line.y[np.isfinite(line.y)] for line in lines])
    if not values.size:
        values = np.zeros(1)
    low, high = float(values.min()), float(values.max())
    few, most = (float(v) for v in np.quantile(values, (0.05, 0.95)))
    spread = max(most - few, LEAST[kind])
    low, high = max(low, few - WILD * spread), min(high, most + WILD * spread)
    if mark is not None and low - spread <= mark <= high + spread:
        low, high = min(low, mark), max(high, mark)
    low, high = min((low, *shown)), max((high, *shown))
    if 0.0 < low < 0.6 * (high - low) or 0.0 < -high < 0.6 * (high - low):
        low, high = min(low, 0.0), max(high, 0.0)  # zero is near: shown
    short = LEAST[kind] - (high - low)
    if short > 0.0:
        # what is above zero is not shown below it
        below = short / 2.0 if float(values.min()) <= 0.0 else min(short / 2.0, low)
        low, high = low - below, high + short - below
    step = _step(high - low, _unit(kind, units))
    foot, top = step * math.floor(low / step + 1e-9), step * math.ceil(high / step - 1e-9)
    return Axes(float(x.min()), float(x.max()), foot, top, step)


def _unit(kind: str, units: str) -> float:
    return INCH if kind == "length" and units == "in" else 1.0


def _step(span: float, unit: float, most: int = 6) -> float:
    """Distance of ticks: 1, 2, 2.5 or 5 of a power of ten in the unit shown; at most so many fit in."""
    shown = span / unit / most
    ten = 10.0 ** math.floor(math.log10(shown))
    return next(s for s in STEPS_OF_TEN if s * ten >= shown * (1.0 - 1e-9)) * ten * unit


def _ticks(low: float, high: float, step: float) -> list[float]:
    return [k * step for k in range(math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9) + 1)]


def _n(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _word(
    x: float, y: float, text: str, anchor: str = "start", size: float = SIZE, ink: str = INK, more: str = ""
) -> str:
    return (
        f'<text x="{_n(x)}" y="{_n(y)}" font-size="{_n(size)}" fill="{ink}" text-anchor="{anchor}"{more}>'
        f"{escape(text)}</text>"
    )


def tick_text(value: float, step: float, kind: str, units: str) -> str:
    """A tick in shop units, the other unit of a length beside it."""
    shown, by = value / _unit(kind, units), step / _unit(kind, units)
    places = next((p for p in range(5) if abs(round(by, p) - by) < 1e-6 * by), 5)
    text = f"{shown:.{places}f}"
    text = text[1:] if text.startswith("-") and not text.strip("-0.") else text
    if kind != "length":
        return text
    other = f"{value:.2f}".rstrip("0").rstrip(".") if units == "in" else f"{value / INCH:.2f}"
    return f"{text} ({'0' if other == '-0' else other})"


def plot_svg(quantity: Quantity, cases: Sequence[LinkCase], over: Over, units: str = "in") -> str:
    """The curves of a quantity over heave, roll or steer as an SVG picture.

    Args:
        quantity: What is drawn.
        cases: Geometries, each with a line of its own; its style is that of its place in the row.
        over: heave, roll, or lock: from full right to full left.
        units: in or mm, of the scales.
    """
    lines = lines_of(quantity, cases, over)
    mark = quantity.mark[0] if quantity.mark else None
    axes = axes_of(lines, quantity.kind, mark, units, quantity.shown)
    body = [*_scales(axes, quantity.kind, over, units), _title(quantity, over, units)]
    board = _board(lines, axes)
    if quantity.mark and axes.y0 <= quantity.mark[0] <= axes.y1:
        y, right = axes.y(quantity.mark[0]), WIDTH - RIGHT
        body.append(f'<path class="mark" d="M{_n(LEFT)} {_n(y)}H{_n(right)}" stroke="{INK}" stroke-width="0.8"/>')
        board.lines.append(((LEFT, y), (right, y)))
        board.name([(LEFT + t * (right - LEFT), y) for t in (0.2, 0.8, 0.5, 0.35, 0.65)], quantity.mark[1], INK, 11.0)
    names = [case.name for case in cases]
    for line in lines:
        body += _curve(line, axes, board, *STYLES[names.index(line.name) % len(STYLES)])
    body += board.body + _labels(lines, axes, names)
    label = f"{quantity.title} over {NAMES[over]}"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_n(WIDTH)} {_n(HEIGHT)}" width="{_n(WIDTH)}" '
        f'height="{_n(HEIGHT)}" role="img" aria-label={quoteattr(label)} font-family="sans-serif" fill="none">'
        + "".join(body)
        + "</svg>"
    )


def _title(quantity: Quantity, over: Over, units: str) -> str:
    unit = {"length": "in (mm)" if units == "in" else "mm (in)", "1": "in per in"}.get(quantity.kind, quantity.kind)
    return _word(
        8.0,
        18.0,
        f"{quantity.title}{',' * (',' in quantity.title)} over {'travel' if over == 'heave' else NAMES[over]} [{unit}]",
        size=15.0,
        more=' font-weight="bold"',
    )


def _scales(axes: Axes, kind: Kind, over: Over, units: str) -> list[str]:
    """Grid, ticks, ride, zero line and the words at the two ends of the travel."""
    right, low = WIDTH - RIGHT, HEIGHT - BOTTOM
    body, zero = [], []
    for value in _ticks(axes.y0, axes.y1, axes.step):
        y = _n(axes.y(value))
        if abs(value) < 1e-9 * axes.step:  # over the lines that go up
            zero = [f'<path class="zero" d="M{_n(LEFT)} {y}H{_n(right)}" stroke="{INK}" stroke-width="1.6"/>']
        else:
            body.append(f'<path class="grid" d="M{_n(LEFT)} {y}H{_n(right)}" stroke="{GRID}" stroke-width="1"/>')
        body.append(_word(LEFT - 7.0, axes.y(value) + 4.0, tick_text(value, axes.step, kind, units), "end", 12.0))
    along: Kind = "length" if over == "heave" else "deg"
    step = _step(axes.x1 - axes.x0, _unit(along, units), 8)
    for value in _ticks(axes.x0, axes.x1, step):
        x = axes.x(value)
        body.append(f'<path d="M{_n(x)} {_n(TOP)}V{_n(low)}" stroke="{GRID}"/>')
        first, _, rest = tick_text(value, step, along, units).partition(" ")
        body.append(_word(x, low + 18.0, first, "middle", 12.0))
        if rest:
            body.append(_word(x, low + 31.0, rest, "middle", 10.0))
    body += zero
    body.append(
        f'<path class="ride" d="M{_n(axes.x(0.0))} {_n(TOP - 6.0)}V{_n(low)}" stroke="{INK}" stroke-width="1.6"/>'
    )
    middle = "STRAIGHT AHEAD" if over == "lock" else "RIDE"
    body.append(_word(axes.x(0.0), TOP - 9.0, middle, "middle", 11.0))
    body += _ends(axes, over, units)
    frame = f"M{_n(LEFT)} {_n(TOP)}H{_n(right)}V{_n(low)}H{_n(LEFT)}Z"
    return [*body, f'<path d="{frame}" stroke="{INK}" stroke-width="1"/>']


def _ends(axes: Axes, over: Over, units: str) -> list[str]:
    """What is at the two ends of the travel, and how far they are: ticks seldom fall on them."""
    shown = _unit("length" if over == "heave" else "deg", units)
    unit = units if over == "heave" else "deg"
    far = [f"{round(abs(end) / shown, 2):g} {unit}" for end in (axes.x0, axes.x1)]
    ends = ENDS[over]
    what = {"heave": "both wheels", "roll": "roll", "lock": "inner wheel"}[over]
    other = ("in (mm)" if units == "in" else "mm (in)") if over == "heave" else "deg"
    y, right = HEIGHT - 10.0, WIDTH - RIGHT
    return [
        _word(LEFT, y, f"<- {ends[0]} {far[0]}", size=12.0),
        _word(right, y, f"{ends[1]} {far[1]} ->", "end", 12.0),
        _word((LEFT + right) / 2.0, y, f"{what} [{other}]", "middle", 12.0),
    ]


def runs_of(line: Line, axes: Axes) -> list[Array]:
    """Stretches of a line that can be drawn, each of shape (k, 2) in values: in reach and in the picture."""
    seen = np.isfinite(line.y) & (line.y >= axes.y0) & (line.y <= axes.y1)
    cuts = np.flatnonzero(np.diff(seen.astype(int))) + 1
    parts = np.split(np.arange(line.x.size), cuts)
    return [np.stack([line.x[p], line.y[p]], axis=1) for p in parts if seen[p[0]]]


def _board(lines: Sequence[Line], axes: Axes) -> Board:
    """The picture inside its frame, with all that loose words had better keep off."""
    right, low = WIDTH - RIGHT, HEIGHT - BOTTOM
    board = Board((LEFT + 2.0, TOP + 2.0, right - 2.0, low - 2.0))
    for line in lines:
        for run in runs_of(line, axes):
            spots = [(axes.x(float(x)), axes.y(float(y))) for x, y in run]
            board.lines += list(pairwise(spots))
    board.lines.append(((axes.x(0.0), TOP), (axes.x(0.0), low)))
    if axes.y0 <= 0.0 <= axes.y1:
        board.lines.append(((LEFT, axes.y(0.0)), (right, axes.y(0.0))))
    return board


def _curve(line: Line, axes: Axes, board: Board, ink: str, dash: str) -> list[str]:
    """The line, and a cross where its way ends before the travel does."""
    body = []
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    for run in runs_of(line, axes):
        path = "L".join(f"{_n(axes.x(x))} {_n(axes.y(y))}" for x, y in run)
        body.append(
            f'<path class="curve" d="M{path}" stroke="{ink}" stroke-width="2.4" stroke-linejoin="round"{dashes}>'
            f"<title>{escape(line.name)}</title></path>"
        )
    for x, y, binds in _stops(line, axes):
        px, py = axes.x(x), axes.y(y)
        body.append(
            f'<path class="stop" d="M{_n(px - 6)} {_n(py - 6)}l12 12m0 -12l-12 12" stroke="{ink}" stroke-width="2.4"/>'
        )
        board.name([(px, py)], "binds here" if binds else "runs off the picture", ink, 11.0)
    return body


def _stops(line: Line, axes: Axes) -> list[tuple[float, float, bool]]:
    """Ends of the line inside the travel: x, y, and whether it is out of reach beyond (else out of the picture)."""
    found = []
    for run in runs_of(line, axes):
        for x, y, step in ((*run[0], -1), (*run[-1], 1)):
            at = int(np.flatnonzero(line.x == x)[0]) + step
            if 0 <= at < line.x.size:
                found.append((float(x), float(y), not bool(np.isfinite(line.y[at]))))
    return found


def _labels(lines: Sequence[Line], axes: Axes, names: list[str]) -> list[str]:
    """The name of each geometry at the right end of its line, one under the other where they meet."""
    ends = []
    for line in lines:
        runs = runs_of(line, axes)
        if runs:
            x, y = runs[-1][-1]
            ends.append((axes.y(float(y)), axes.x(float(x)), line.name))
    ends.sort()
    words = {name: wrapped(name) for _, _, name in ends}
    gap = 30.0 if any(len(w) > 1 for w in words.values()) else 18.0
    body = []
    for (y, x, name), at in zip(ends, _spread([e[0] for e in ends], gap), strict=True):
        ink, dash = STYLES[names.index(name) % len(STYLES)]
        dashes = f' stroke-dasharray="{dash}"' if dash else ""
        edge = WIDTH - RIGHT
        body.append(f'<path d="M{_n(x)} {_n(y)}L{_n(edge + 8)} {_n(at)}" stroke="{ink}" stroke-width="0.8"/>')
        body.append(f'<path class="key" d="M{_n(edge + 8)} {_n(at)}h26" stroke="{ink}" stroke-width="2.4"{dashes}/>')
        for k, word in enumerate(words[name]):
            down = at + 4.0 + 14.0 * (k - (len(words[name]) - 1) / 2.0)
            body.append(_word(edge + 38.0, down, word, size=12.0, ink=ink, more=' class="name"'))
    return body


def _spread(places: Sequence[float], gap: float) -> list[float]:
    """Places down the picture moved apart by a gap at least, in their order, inside the picture."""
    out: list[float] = []
    for y in places:
        out.append(max(y, out[-1] + gap) if out else y)
    low = HEIGHT - BOTTOM
    for i in range(len(out) - 1, -1, -1):  # what is too low goes up again, and pushes those above it
        out[i] = min(out[i], low)
        low = out[i] - gap
    return out


def wrapped(name: str) -> tuple[str, ...]:
    """A name in the room beside the plot: one line or two, the rest cut off with two dots."""
    room = int((RIGHT - 40.0) / (12.0 * LETTER))
    if len(name) <= room:
        return (name,)
    cut = max(name.rfind(" ", 0, room + 1), name.rfind("-", 0, room) + 1)
    cut = cut if cut > 0 else room
    rest = name[cut:].strip()
    return name[:cut], rest if len(rest) <= room else rest[: room - 2] + ".."
