"""Lettering as single strokes, the way a marking torch or a scribe draws it, and the room it takes."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Any

Stroke = tuple[float, float, float, float]
Box = tuple[float, float, float, float]

_SPOKEN = {
    "\N{DEGREE SIGN}": " DEG",
    "\N{LATIN CAPITAL LETTER O WITH STROKE}": "DIA ",
    "\N{PLUS-MINUS SIGN}": "+/-",
    "\N{MULTIPLICATION SIGN}": "X",
    "\N{EN DASH}": "-",
    "\N{MINUS SIGN}": "-",
}  # fmt: skip - pairs read better side by side


@lru_cache(maxsize=1)
def _font() -> tuple[Any, float, float]:
    """The font, and the foot and height of its capitals in its own units."""
    from HersheyFonts import HersheyFonts

    font = HersheyFonts()
    font.load_default_font("futural")
    font.normalize_rendering(1.0)
    # the font's own height reaches from the deepest tail to the top: a capital is only part of it
    levels = [y for line in font.lines_for_text("H") for _, y in line]
    return font, min(levels), max(levels) - min(levels)


def plain(text: str) -> str:
    """The text in letters the stroke font has: `°` becomes ` DEG`, unknown ones become `?`."""
    for sign, words in _SPOKEN.items():
        text = text.replace(sign, words)
    return text.encode("ascii", "replace").decode("ascii")


@lru_cache(maxsize=512)
def _unit_strokes(text: str) -> tuple[Stroke, ...]:
    """Segments that draw the text with capitals 1 high on the base line 0."""
    font, foot, high = _font()
    drawn = []
    for (ax, ay), (bx, by) in font.lines_for_text(plain(text)):
        if (ax, ay) != (bx, by):
            drawn.append((ax / high, (ay - foot) / high, bx / high, (by - foot) / high))
    return tuple(drawn)


def strokes(text: str, x: float, y: float, height: float, angle: float = 0.0) -> tuple[Stroke, ...]:
    """Line segments (x0, y0, x1, y1) [mm] that draw the text.

    Args:
        text: What to write.
        x: Left end of the base line [mm].
        y: Base line [mm].
        height: Of a capital letter [mm].
        angle: Direction of the base line [deg].
    """
    a = math.radians(angle)
    c, s = height * math.cos(a), height * math.sin(a)
    return tuple(
        (x + c * ax - s * ay, y + s * ax + c * ay, x + c * bx - s * by, y + s * bx + c * by)
        for ax, ay, bx, by in _unit_strokes(text)
    )


def text_box(text: str, height: float) -> Box:
    """(xmin, ymin, xmax, ymax) [mm] of the strokes of a text written from (0, 0) along x.

    Args:
        text: What to write.
        height: Of a capital letter [mm].
    """
    drawn = _unit_strokes(text)
    if not drawn:
        return 0.0, 0.0, 0.0, 0.0
    xs = [v for s in drawn for v in (s[0], s[2])]
    ys = [v for s in drawn for v in (s[1], s[3])]
    return height * min(xs), height * min(ys), height * max(xs), height * max(ys)
