"""Lettering as single strokes, the way a marking torch or a scribe draws it."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Any

Stroke = tuple[float, float, float, float]

_SPOKEN = {
    "\N{DEGREE SIGN}": " DEG",
    "\N{LATIN CAPITAL LETTER O WITH STROKE}": "DIA ",
    "\N{PLUS-MINUS SIGN}": "+/-",
    "\N{MULTIPLICATION SIGN}": "X",
    "\N{EN DASH}": "-",
    "\N{MINUS SIGN}": "-",
}  # fmt: skip - pairs read better side by side


@lru_cache(maxsize=1)
def _font() -> Any:
    from HersheyFonts import HersheyFonts

    font = HersheyFonts()
    font.load_default_font("futural")
    font.normalize_rendering(1.0)
    return font


def plain(text: str) -> str:
    """The text in letters the stroke font has: `°` becomes ` DEG`, unknown ones become `?`."""
    for sign, words in _SPOKEN.items():
        text = text.replace(sign, words)
    return text.encode("ascii", "replace").decode("ascii")


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
    drawn = []
    for (ax, ay), (bx, by) in _font().lines_for_text(plain(text)):
        if (ax, ay) == (bx, by):
            continue
        drawn.append((x + c * ax - s * ay, y + s * ax + c * ay, x + c * bx - s * by, y + s * bx + c * by))
    return tuple(drawn)
