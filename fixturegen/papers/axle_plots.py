"""Curves along the axle as SVG text, seen from behind: the vehicle's left on the left, the centre section shaded.

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
from fixturegen.papers.link_board import Board
from fixturegen.papers.link_plots import GRID, INK, STEPS_OF_TEN, STYLES, wrapped

WIDTH, HEIGHT = 660.0, 346.0
LEFT, RIGHT, TOP, BOTTOM = 74.0, 150.0, 46.0, 66.0
SIZE, SMALL = 12.0, 11.0  # height of letters [px]
TITLE = 15.0  # of the title [px]
SHADE, TRUSS_INK = "#eef1f4", "#7a8794"
LIMIT_INK = "#a1160c"
GAP, ROW = 18.0, 14.0  # between names beside the frame, between two lines of one name [px]
BAR = 9.0  # from the bottom of the frame up to the bar of the truss [px]
LEAST = 0.005  # of the picture's height: a largest value below that is not written
FINE = 8.0  # of a curve as words see it [px]
MOST = 6  # ticks up the picture
ALONG = 9  # ticks along it


@dataclass(frozen=True, eq=False)
class AxleLine:
    """One curve.

    Attributes:
        name: In words.
        stations: Left of the middle, shape (n,) [mm].
        values: In the unit of the picture, shape (n,); not a number where there is none.
        style: Which of the styles: ink and dashes.
    """

    name: str
    stations: Array
    values: Array
    style: int


@dataclass(frozen=True)
class AxleMap:
    """What of the axle stands in every picture.

    Attributes:
        wheels: Right and left wheel mount surface [mm].
        section: Sides of the centre section, right and left [mm].
        truss: Where it counts, right and left, (begin, end) each; empty without one [mm].
        unit: Of the stations: in or mm.
    """

    wheels: tuple[float, float]
    section: tuple[float, float]
    truss: tuple[tuple[float, float], ...]
    unit: str

    @property
    def scale(self) -> float:
        """Millimetres in the unit."""
        return 25.4 if self.unit == "in" else 1.0


@dataclass(frozen=True)
class _Frame:
    """Where values stand in the picture."""

    low: float
    high: float
    step: float
    wheels: tuple[float, float]

    def x(self, station: float) -> float:
        right, left = self.wheels
        return LEFT + (left - station) / (left - right) * (WIDTH - LEFT - RIGHT)

    def y(self, value: float) -> float:
        return HEIGHT - BOTTOM - (value - self.low) / (self.high - self.low) * (HEIGHT - TOP - BOTTOM)


def axle_svg(
    title: str,
    unit: str,
    lines: Sequence[AxleLine],
    axle: AxleMap,
    limits: Sequence[tuple[float, str]] = (),
    most: bool = False,
) -> str:
    """Curves along the axle as an SVG picture.

    Args:
        title: What is drawn.
        unit: Of the values, in words.
        lines: The curves.
        axle: What of the axle stands behind them.
        limits: Values drawn across with their words.
        most: Whether the largest value of each curve is written at it.
    """
    frame = _frame(lines, axle, limits)
    board = Board((LEFT + 2.0, TOP + 2.0, WIDTH - RIGHT - 2.0, HEIGHT - BOTTOM - 2.0), size=SMALL)
    body = [
        *_behind(axle, frame, board),
        *_scales(axle, frame),
        _word(8.0, 18.0, f"{title} [{unit}]", size=TITLE, bold=True),
    ]
    for value, _ in limits:
        y = frame.y(value)
        body.append(
            f'<path class="mark" d="M{_n(LEFT)} {_n(y)}H{_n(WIDTH - RIGHT)}" stroke="{LIMIT_INK}" stroke-width="1.2"/>'
        )
        board.lines.append(((LEFT, y), (WIDTH - RIGHT, y)))
    for line in lines:
        body += _curve(line, frame, board)
    for value, words in limits:
        y, wide = frame.y(value), WIDTH - RIGHT - LEFT
        board.name([(LEFT + t * wide, y) for t in (0.15, 0.85, 0.5, 0.35, 0.65)], words, LIMIT_INK, SMALL)
    if most:
        for line in lines:
            _peak(line, frame, board)
    body += board.body + _names(lines, frame)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_n(WIDTH)} {_n(HEIGHT)}" width="{_n(WIDTH)}" '
        f'height="{_n(HEIGHT)}" role="img" aria-label={quoteattr(f"{title} along the axle")} '
        'font-family="sans-serif" fill="none">' + "".join(body) + "</svg>"
    )


def _frame(lines: Sequence[AxleLine], axle: AxleMap, limits: Sequence[tuple[float, str]]) -> _Frame:
    values = np.concatenate([line.values[np.isfinite(line.values)] for line in lines])
    low, high = (min(0.0, float(values.min())), max(0.0, float(values.max()))) if values.size else (0.0, 1.0)
    low, high = min((low, *(v for v, _ in limits))), max((high, *(v for v, _ in limits)))
    if high - low < 1e-9:
        high = low + 1.0
    step = _step(high - low, MOST)
    # room for the bar of the truss under what is drawn
    foot, top = step * math.floor(low / step + 1e-9), step * math.ceil(high / step - 1e-9)
    return _Frame(foot, top, step, axle.wheels)


def _step(span: float, most: int) -> float:
    shown = span / most
    ten = 10.0 ** math.floor(math.log10(shown))
    return next(s for s in STEPS_OF_TEN if s * ten >= shown * (1.0 - 1e-9)) * ten


def _n(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _word(
    x: float, y: float, text: str, anchor: str = "start", size: float = SIZE, ink: str = INK, bold: bool = False
) -> str:
    weight = ' font-weight="bold"' if bold else ""
    return (
        f'<text x="{_n(x)}" y="{_n(y)}" font-size="{_n(size)}" fill="{ink}" text-anchor="{anchor}"{weight}>'
        f"{escape(text)}</text>"
    )


def _behind(axle: AxleMap, frame: _Frame, board: Board) -> list[str]:
    """Centre section shaded, where the truss counts as a bar at the foot."""
    left, right = frame.x(axle.section[1]), frame.x(axle.section[0])
    low = HEIGHT - BOTTOM
    body = [
        f'<path class="section" d="M{_n(left)} {_n(TOP)}H{_n(right)}V{_n(low)}H{_n(left)}Z" fill="{SHADE}"/>',
        _word((left + right) / 2.0, TOP - 5.0, "CENTRE SECTION", "middle", 10.0),
    ]
    for begin, end in axle.truss:
        if end > begin:
            body.append(
                f'<path class="truss" d="M{_n(frame.x(end))} {_n(low - BAR)}H{_n(frame.x(begin))}" '
                f'stroke="{TRUSS_INK}" stroke-width="6"/>'
            )
            board.boxes.append((frame.x(end), low - BAR - 4.0, frame.x(begin), low - BAR + 4.0))
    return body


def _scales(axle: AxleMap, frame: _Frame) -> list[str]:
    right, low = WIDTH - RIGHT, HEIGHT - BOTTOM
    body, zero = [], []
    places = next((p for p in range(6) if abs(round(frame.step, p) - frame.step) < 1e-6 * frame.step), 6)
    for k in range(math.ceil(frame.low / frame.step - 1e-9), math.floor(frame.high / frame.step + 1e-9) + 1):
        value = k * frame.step
        across = f"M{_n(LEFT)} {_n(frame.y(value))}H{_n(right)}"
        if k == 0:
            zero = [f'<path class="zero" d="{across}" stroke="{INK}" stroke-width="1.4"/>']
        else:
            body.append(f'<path class="grid" d="{across}" stroke="{GRID}" stroke-width="1"/>')
        body.append(_word(LEFT - 7.0, frame.y(value) + 4.0, f"{value:.{places}f}", "end"))
    step = _step((axle.wheels[1] - axle.wheels[0]) / axle.scale, ALONG) * axle.scale
    for k in range(math.ceil(axle.wheels[0] / step - 1e-9), math.floor(axle.wheels[1] / step + 1e-9) + 1):
        x = frame.x(k * step)
        body.append(f'<path d="M{_n(x)} {_n(low)}v5" stroke="{INK}"/>')
        body.append(_word(x, low + 18.0, f"{abs(k) * step / axle.scale:g}", "middle"))
    middle = frame.x(0.0)
    body.append(f'<path class="middle" d="M{_n(middle)} {_n(TOP)}V{_n(low)}" stroke="{INK}" stroke-dasharray="2 4"/>')
    y = HEIGHT - 26.0
    body += [
        _word(LEFT, y, "<- LEFT WHEEL"),
        _word(right, y, "RIGHT WHEEL ->", "end"),
        _word((LEFT + right) / 2.0, y, f"from the middle [{axle.unit}]", "middle"),
    ]
    if any(end > begin for begin, end in axle.truss):
        body.append(f'<path d="M{_n(LEFT)} {_n(HEIGHT - 12.0)}h26" stroke="{TRUSS_INK}" stroke-width="6"/>')
        body.append(_word(LEFT + 34.0, HEIGHT - 8.0, "where the truss counts", size=SMALL))
    rim = f"M{_n(LEFT)} {_n(TOP)}H{_n(right)}V{_n(low)}H{_n(LEFT)}Z"
    return [*body, *zero, f'<path d="{rim}" stroke="{INK}" stroke-width="1"/>']


def _runs(line: AxleLine) -> list[Array]:
    """Stretches of a line without a gap, shape (k, 2)."""
    seen = np.isfinite(line.values)
    cuts = np.flatnonzero(np.diff(seen.astype(int))) + 1
    parts = np.split(np.arange(line.stations.size), cuts)
    return [np.stack([line.stations[p], line.values[p]], axis=1) for p in parts if p.size and seen[p[0]]]


def _curve(line: AxleLine, frame: _Frame, board: Board) -> list[str]:
    ink, dash = STYLES[line.style % len(STYLES)]
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    body = []
    for run in _runs(line):
        spots = [(frame.x(float(y)), frame.y(float(v))) for y, v in run]
        board.lines += list(pairwise(_thinned(spots)))
        path = "L".join(f"{_n(x)} {_n(y)}" for x, y in spots)
        body.append(
            f'<path class="curve" d="M{path}" stroke="{ink}" stroke-width="2.2" stroke-linejoin="round"{dashes}>'
            f"<title>{escape(line.name)}</title></path>"
        )
    return body


def _thinned(spots: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Spots `FINE` apart and more, both ends kept: near enough to keep words off the curve."""
    kept = [spots[0]]
    for spot in spots[1:-1]:
        if math.dist(spot, kept[-1]) >= FINE:
            kept.append(spot)
    return [*kept, spots[-1]]


def _peak(line: AxleLine, frame: _Frame, board: Board) -> None:
    """The largest value of a curve, written beside it."""
    if not np.isfinite(line.values).any():
        return
    at = int(np.nanargmax(np.round(np.abs(line.values), 9)))
    value = float(line.values[at])
    if abs(value) < LEAST * (frame.high - frame.low):
        return
    places = 0 if abs(value) >= 10.0 else 2
    spot = (frame.x(float(line.stations[at])), frame.y(value))
    board.name([spot], f"{value:.{places}f}", STYLES[line.style % len(STYLES)][0], SMALL)


def _names(lines: Sequence[AxleLine], frame: _Frame) -> list[str]:
    """The name of each curve beside the frame, at the height at which it ends, one under the other."""
    ends = []
    for line in lines:
        seen = np.flatnonzero(np.isfinite(line.values))
        if seen.size:
            first = seen[int(np.argmin(line.stations[seen]))]
            ends.append((frame.y(float(line.values[first])), frame.x(float(line.stations[first])), line))
    ends.sort(key=lambda e: e[0])
    body, edge = [], WIDTH - RIGHT
    room = [GAP + ROW * (len(wrapped(e[2].name)) - 1) for e in ends]
    for (y, x, line), at in zip(ends, _spread([e[0] for e in ends], room), strict=True):
        ink, dash = STYLES[line.style % len(STYLES)]
        dashes = f' stroke-dasharray="{dash}"' if dash else ""
        body.append(f'<path d="M{_n(x)} {_n(y)}L{_n(edge + 8)} {_n(at)}" stroke="{ink}" stroke-width="0.6"/>')
        body.append(f'<path class="key" d="M{_n(edge + 8)} {_n(at)}h26" stroke="{ink}" stroke-width="2.2"{dashes}/>')
        words = wrapped(line.name)
        for k, word in enumerate(words):
            body.append(_word(edge + 38.0, at + 4.0 + ROW * (k - (len(words) - 1) / 2.0), word, ink=ink))
    return body


def _spread(places: Sequence[float], room: Sequence[float]) -> list[float]:
    """Places down the picture moved apart so that each has its room, in their order, inside the frame."""
    out: list[float] = []
    for k, y in enumerate(places):
        out.append(max(y, out[-1] + (room[k - 1] + room[k]) / 2.0) if out else max(y, TOP + room[k] / 2.0))
    low = HEIGHT - BOTTOM
    for k in range(len(out) - 1, -1, -1):
        out[k] = min(out[k], low)
        low = out[k] - (room[k - 1] + room[k]) / 2.0 if k else low
    return out
