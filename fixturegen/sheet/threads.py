"""Threads as people write them."""

from __future__ import annotations

import re
from fractions import Fraction

INCH = 25.4  # mm; exact by definition


def thread_diameter(text: str) -> float:
    """Nominal diameter of a thread [mm]: 3/8-24, 1 1/2-12, #10-32, M10x1.5.

    Source: ASME B1.1, numbered sizes 0.060 in + 0.013 in a number (from memory).

    Raises:
        ValueError: When the text is no thread.
    """
    size = re.match(r"(?:M(\d+(?:\.\d+)?)|#(\d+)|(?:(\d+) )?(\d+)/(\d+)|(\d+))(?=$|-| ?x)", text)
    if size is None:
        raise ValueError(f"{text} is no thread")
    metric, number, whole, top, bottom, plain = size.groups()
    if metric:
        return float(metric)
    if number:
        return (0.060 + 0.013 * int(number)) * INCH
    if plain:
        return int(plain) * INCH
    if int(bottom) == 0:
        raise ValueError(f"{text} is no thread")
    return float(int(whole or 0) + Fraction(int(top), int(bottom))) * INCH
