"""Where words go in a picture: beside what they name, on no other word, on as few lines as there is room for."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from xml.sax.saxutils import escape

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

Box = tuple[float, float, float, float]
Spot = tuple[float, float]

LETTER = 0.58
"""Width of a letter over its height, on the safe side for the sans letters of any browser."""
SIZE = 12.0
"""Height of letters [px]."""
FAR = 16.0
"""A word farther than this from what it names gets a thin line to it [px]."""
RINGS = (11.0, 20.0, 30.0, 42.0, 56.0, 74.0, 96.0)
"""Distances at which places are tried [px]."""
WAYS = tuple(math.radians(a) for a in (-90, 90, -45, -135, 45, 135, 0, 180, -65, -115, 65, 115))
LAPS, LEADS, CROSSES, PASSES, AWAY = 1000.0, 60.0, 14.0, 4.0, 0.35
"""Price of lying on a word, of a lead through a word, of lying on a line, of a lead over one, of each pixel away."""
OFF = 0.2
"""Part of a lead that still lies on what it comes from."""
CLEAR = 2.0
"""A word keeps this far off a line [px]."""


def _n(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


@dataclass
class Board:
    """A picture while words are put on it.

    Attributes:
        edge: Words stay inside [px].
        lines: Stretches that words had better not cover.
        boxes: Words that are there.
        leads: Thin lines from words to what they name.
        body: SVG text of the words.
        size: Height of letters where none is told [px].
        notes: Words too long to stand beside what they tell of; they go to the picture's free corner.
    """

    edge: Box
    lines: list[tuple[Spot, Spot]] = field(default_factory=list)
    boxes: list[Box] = field(default_factory=list)
    leads: list[tuple[Spot, Spot]] = field(default_factory=list)
    body: list[str] = field(default_factory=list)
    size: float = SIZE
    notes: list[str] = field(default_factory=list)

    def keep_off(self, x: float, y: float, reach: float) -> None:
        """No word on a mark that is there.

        Args:
            x: Middle of the mark [px].
            y: Middle of the mark [px].
            reach: How far it goes from there [px].
        """
        self.boxes.append((x - reach, y - reach, x + reach, y + reach))

    def fixed(self, x: float, y: float, text: str, anchor: str = "start", size: float = 0.0) -> None:
        """Put a word where it must stand."""
        size = size or self.size
        wide = LETTER * size * len(text)
        left = x - {"start": 0.0, "middle": wide / 2.0, "end": wide}[anchor]
        self.boxes.append((left, y - 0.8 * size, left + wide, y + 0.25 * size))
        self.body.append(_text(x, y, text, anchor, size, "#14181c"))

    def name(self, spots: list[Spot], text: str, ink: str = "#14181c", size: float = 0.0) -> None:
        """Put a word beside one of the spots, where it disturbs least.

        Args:
            spots: Places on what the word names [px], the best first.
            text: The word.
            ink: Its colour.
            size: Height of its letters [px]; 0: as on the rest of the board.
        """
        size = size or self.size
        wide, high = LETTER * size * len(text), 1.05 * size
        # every spot with every ring and way, in the order in which they are preferred
        at, rings, ways = (v.ravel() for v in np.meshgrid(np.arange(len(spots)), RINGS, WAYS, indexing="ij"))
        cos, sin = np.cos(ways), np.sin(ways)
        froms = np.array(spots, dtype=float)[at]
        # the near side of the box stands at the ring, so that wide words do not lie on their spot
        cx = froms[:, 0] + cos * (rings + wide / 2.0 * np.abs(cos))
        cy = froms[:, 1] + sin * (rings + high / 2.0 * np.abs(sin) - high / 2.0)
        tried = np.stack([cx - wide / 2.0, cy - high / 2.0, cx + wide / 2.0, cy + high / 2.0], axis=1)
        price = self._prices(tried) + AWAY * rings + 2.0 * at
        led = rings > FAR
        price[led] += self._ways(froms[led], _toward(froms[led], tried[led]))
        best = int(np.argmin(np.round(price, 6)))
        x0, y0, x1, y1 = tried[best].tolist()
        box, spot = (x0, y0, x1, y1), spots[int(at[best])]
        self.boxes.append(box)
        middle, base = (box[0] + box[2]) / 2.0, box[3] - 0.27 * size
        if led[best]:
            tx, ty = _toward(np.array(spot), tried[best]).tolist()
            self.leads.append((spot, (tx, ty)))
            self.body.append(
                f'<path class="lead" d="M{_n(spot[0])} {_n(spot[1])}L{_n(tx)} {_n(ty)}" stroke="{ink}" '
                'stroke-width="0.6"/>'
            )
        self.body.append(_text(middle, base, text, "middle", size, ink))

    def _ways(self, froms: Array, tos: Array) -> Array:
        """Prices (n,) of leads: words and lines they go through; what one starts on is not counted."""
        boxes, starts, stops = _rows(self.boxes, 4), *_ends(self.lines)
        a, b = froms[:, None], tos[:, None]
        held = np.all((boxes[:, :2] <= a) & (a <= boxes[:, 2:]), axis=-1)
        words = (crosses(boxes, a, b) & ~held).sum(axis=1)
        near = a + OFF * (b - a)
        return np.asarray(LEADS * words + PASSES * meets(near, b, starts, stops).sum(axis=1))

    def _prices(self, tried: Array) -> Array:
        """Prices (n,) of words in boxes (n, 4): what lies under them."""
        boxes, edge = _rows(self.boxes, 4), np.array(self.edge)
        words = tried[:, None] + np.array((-2.0, -1.0, 2.0, 1.0))
        laps = np.all((boxes[:, :2] < words[..., 2:]) & (words[..., :2] < boxes[:, 2:]), axis=-1).sum(axis=1)
        outside = np.any(tried[:, :2] < edge[:2], axis=1) | np.any(tried[:, 2:] > edge[2:], axis=1)
        wider = tried[:, None] + CLEAR * np.array((-1.0, -1.0, 1.0, 1.0))
        leads = crosses(tried[:, None], *_ends(self.leads)).sum(axis=1)
        lines = crosses(wider, *_ends(self.lines)).sum(axis=1)
        return np.asarray(LAPS * (laps + outside) + LEADS * leads + CROSSES * lines)


def _rows(values: Sequence[object], wide: int) -> Array:
    return np.array(values, dtype=float).reshape(-1, wide)


def _ends(stretches: Sequence[tuple[Spot, Spot]]) -> tuple[Array, Array]:
    ends = np.array(stretches, dtype=float).reshape(-1, 2, 2)
    return ends[:, 0], ends[:, 1]


def _toward(spots: Array, boxes: Array) -> Array:
    """The place (..., 2) of each box (..., 4) nearest to its spot (..., 2)."""
    return np.clip(spots, boxes[..., :2], boxes[..., 2:])


def crosses(box: ArrayLike, a: ArrayLike, b: ArrayLike) -> NDArray[np.bool_]:
    """Whether a stretch passes through a box.

    Args:
        box: Left, top, right, bottom (..., 4) [px].
        a: One end (..., 2) [px].
        b: The other end (..., 2) [px].

    Source: geometry, clipping a stretch against the four sides (Liang and Barsky).
    """
    box, a, b = (np.asarray(v, dtype=float) for v in (box, a, b))
    run = np.concatenate([a - b, b - a], axis=-1)
    room = np.concatenate([a - box[..., :2], box[..., 2:] - a], axis=-1)
    with np.errstate(divide="ignore", invalid="ignore"):
        part = room / run
    low = np.max(np.where(run < 0.0, part, 0.0), axis=-1, initial=0.0)
    high = np.min(np.where(run > 0.0, part, 1.0), axis=-1, initial=1.0)
    past = np.any((run == 0.0) & (room < 0.0), axis=-1)
    return np.asarray(~past & (low <= high))


def meets(a: ArrayLike, b: ArrayLike, c: ArrayLike, d: ArrayLike) -> NDArray[np.bool_]:
    """Whether two stretches, from a to b and from c to d (..., 2) [px], cross.

    Source: geometry, the ends of each lie on different sides of the other.
    """
    a, b, c, d = (np.asarray(v, dtype=float) for v in (a, b, c, d))
    return np.asarray((_side(a, b, c) * _side(a, b, d) < 0.0) & (_side(c, d, a) * _side(c, d, b) < 0.0))


def _side(a: Array, b: Array, p: Array) -> Array:
    return (b[..., 0] - a[..., 0]) * (p[..., 1] - a[..., 1]) - (b[..., 1] - a[..., 1]) * (p[..., 0] - a[..., 0])


def _text(x: float, y: float, text: str, anchor: str, size: float, ink: str) -> str:
    return (
        f'<text x="{_n(x)}" y="{_n(y)}" font-size="{_n(size)}" text-anchor="{anchor}" fill="{ink}" '
        f'stroke="#fff" stroke-width="3" paint-order="stroke">{escape(text)}</text>'
    )
