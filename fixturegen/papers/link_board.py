"""Where words go in a picture: beside what they name, on no other word, on as few lines as there is room for."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from xml.sax.saxutils import escape

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
        tried: list[tuple[float, int, Box, Spot, float]] = []
        for rank, (x, y) in enumerate(spots):
            for ring in RINGS:
                for way in WAYS:
                    # the near side of the box stands at the ring, so that wide words do not lie on their spot
                    cx = x + math.cos(way) * (ring + wide / 2.0 * abs(math.cos(way)))
                    cy = y + math.sin(way) * (ring + high / 2.0 * abs(math.sin(way)) - high / 2.0)
                    box = (cx - wide / 2.0, cy - high / 2.0, cx + wide / 2.0, cy + high / 2.0)
                    price = self._price(box) + AWAY * ring + 2.0 * rank
                    if ring > FAR:
                        price += self._way(_lead((x, y), box))
                    tried.append((price, len(tried), box, (x, y), ring))
        _, _, box, spot, ring = min(tried)
        self.boxes.append(box)
        middle, base = (box[0] + box[2]) / 2.0, box[3] - 0.27 * size
        if ring > FAR:
            lead = _lead(spot, box)
            self.leads.append(lead)
            tx, ty = lead[1]
            self.body.append(
                f'<path class="lead" d="M{_n(spot[0])} {_n(spot[1])}L{_n(tx)} {_n(ty)}" stroke="{ink}" '
                'stroke-width="0.6"/>'
            )
        self.body.append(_text(middle, base, text, "middle", size, ink))

    def _way(self, lead: tuple[Spot, Spot]) -> float:
        """Price of a lead: words and lines it goes through; what it starts on is not counted."""
        (x, y), (tx, ty) = lead
        words = sum(crosses(b, *lead) for b in self.boxes if not _holds(b, x, y))
        near = (x + OFF * (tx - x), y + OFF * (ty - y))
        return LEADS * words + PASSES * sum(meets(near, (tx, ty), a, b) for a, b in self.lines)

    def _price(self, box: Box) -> float:
        x0, y0, x1, y1 = box
        price = sum(LAPS for a in self.boxes if a[0] < x1 + 2 and x0 - 2 < a[2] and a[1] < y1 + 1 and y0 - 1 < a[3])
        ex0, ey0, ex1, ey1 = self.edge
        if x0 < ex0 or y0 < ey0 or x1 > ex1 or y1 > ey1:
            price += LAPS
        price += LEADS * sum(crosses(box, a, b) for a, b in self.leads)
        wider = (x0 - CLEAR, y0 - CLEAR, x1 + CLEAR, y1 + CLEAR)
        return price + CROSSES * sum(crosses(wider, a, b) for a, b in self.lines)


def _lead(spot: Spot, box: Box) -> tuple[Spot, Spot]:
    """From what is named to the nearest place of the word."""
    return spot, (min(max(spot[0], box[0]), box[2]), min(max(spot[1], box[1]), box[3]))


def _holds(box: Box, x: float, y: float) -> bool:
    return box[0] <= x <= box[2] and box[1] <= y <= box[3]


def crosses(box: Box, a: Spot, b: Spot) -> bool:
    """Whether a stretch passes through a box.

    Source: geometry, clipping a stretch against the four sides (Liang and Barsky).
    """
    low, high = 0.0, 1.0
    for p, q in (
        (a[0] - b[0], a[0] - box[0]),
        (b[0] - a[0], box[2] - a[0]),
        (a[1] - b[1], a[1] - box[1]),
        (b[1] - a[1], box[3] - a[1]),
    ):
        if p == 0.0:
            if q < 0.0:
                return False
        elif p < 0.0:
            low = max(low, q / p)
        else:
            high = min(high, q / p)
    return low <= high


def meets(a: Spot, b: Spot, c: Spot, d: Spot) -> bool:
    """Whether two stretches cross.

    Source: geometry, the ends of each lie on different sides of the other.
    """
    return _side(a, b, c) * _side(a, b, d) < 0.0 and _side(c, d, a) * _side(c, d, b) < 0.0


def _side(a: Spot, b: Spot, p: Spot) -> float:
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])


def _text(x: float, y: float, text: str, anchor: str, size: float, ink: str) -> str:
    return (
        f'<text x="{_n(x)}" y="{_n(y)}" font-size="{_n(size)}" text-anchor="{anchor}" fill="{ink}" '
        f'stroke="#fff" stroke-width="3" paint-order="stroke">{escape(text)}</text>'
    )
