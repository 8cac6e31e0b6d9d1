"""Which feature of a plate a drawing counts from: something a square or a pin reaches."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fixturegen.plate.part import Part, Profile
from fixturegen.plate.profile import Purpose, bounds, edges

SET = (Purpose.ANGLE, Purpose.BORE, Purpose.DOWEL, Purpose.JOINT)
AT = 1e-4  # [mm] a hole this near to the origin of the part frame stands on it
SQUARE = 1e-4  # [mm] an edge that leaves the direction of an axis by less runs along it
LEAST = 8.0  # [mm] an edge shorter than this seats no square


@dataclass(frozen=True)
class Zero:
    """What a drawing counts from.

    Attributes:
        x: In the part frame [mm].
        y: In the part frame [mm].
        words: What it is.
    """

    x: float
    y: float
    words: str


def zero_of(part: Part) -> Zero:
    """The zero of a plate's drawing: a hole on the part's own origin, else straight edges, else a hole.

    Args:
        part: A plate or bent part.
    """
    profile = part.profile
    if profile is None:
        return Zero(0.0, 0.0, part.datum)
    for n, hole in enumerate(profile.holes, 1):
        if math.hypot(hole.x, hole.y) <= AT:
            return Zero(0.0, 0.0, f"middle of hole {n}, {hole.label or hole.purpose.value}")
    x, x_words = _edge(profile, 0)
    y, y_words = _edge(profile, 1)
    if x is not None and y is not None:
        return Zero(x, y, f"{x_words} and {y_words}")
    chosen = [(n, h) for n, h in enumerate(profile.holes, 1) if h.purpose in SET] or list(enumerate(profile.holes, 1))
    if chosen:
        n, hole = chosen[0]
        return Zero(hole.x, hole.y, f"middle of hole {n}, {hole.label or hole.purpose.value}")
    x0, y0, _, _ = bounds(profile.outer)
    return Zero(
        x0 if x is None else x,
        y0 if y is None else y,
        f"{x_words or 'outermost point to the left'} and {y_words or 'lowest point'}",
    )


def _edge(profile: Profile, axis: int) -> tuple[float | None, str]:
    """The straight edge square to an axis to count from, low side before high, else none."""
    box = bounds(profile.outer)
    low, high = box[axis], box[axis + 2]
    found: dict[float, float] = {}
    for e in edges(profile.outer):
        if e.centre is not None:
            continue
        a, b = ((e.x0, e.x1), (e.y0, e.y1))[axis]
        if abs(a - b) <= SQUARE:
            near = low if abs(a - low) <= SQUARE else high if abs(a - high) <= SQUARE else None
            if near is not None:
                found[near] = found.get(near, 0.0) + e.length
    words = {0: ("left edge", "right edge"), 1: ("bottom edge", "top edge")}[axis]
    for value, name in ((low, words[0]), (high, words[1])):
        if found.get(value, 0.0) >= LEAST:
            return value, name
    return None, ""
