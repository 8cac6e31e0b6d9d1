"""What each of several geometries does best and worst beside the wishes: what is paid for what."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from fixturegen.studies.link_search import Geometry
from fixturegen.studies.link_wishes import SCALES, Wish

NOTICED = 0.1
"""Part of the scale of a metric below which a difference between two geometries is not told."""


@dataclass(frozen=True)
class Trade:
    """What one geometry does best and worst of those it is shown with.

    Attributes:
        best: In words.
        worst: In words.
    """

    best: tuple[str, ...]
    worst: tuple[str, ...]


def _apart(metric: str, *poses: str) -> Callable[[Geometry], float]:
    """How far a metric goes over poses, in its scale."""

    def value(geometry: Geometry) -> float:
        values = [geometry.values.get(f"{metric}.{p}", math.nan) for p in poses]
        return (max(values) - min(values)) / SCALES[metric][0] if all(map(math.isfinite, values)) else math.nan

    return value


def _steer(geometry: Geometry) -> float:
    return abs(geometry.values.get("roll_steer.ride", math.nan)) / SCALES["roll_steer"][0]


def _shift(geometry: Geometry) -> float:
    """The farthest any point moves, by 25 mm."""
    return max((math.hypot(*m[1:]) for m in geometry.moved), default=0.0) / SCALES["roll_centre"][0]


GOODS: tuple[tuple[str, str, Callable[[Geometry], float]], ...] = (
    ("pinion turns least over the travel", "pinion turns most", _apart("pinion_angle", "bump", "droop")),
    ("{squat} stays most alike", "{squat} changes most", _apart("anti_squat", "bump", "droop")),
    ("roll steer nearest to none", "most roll steer", _steer),
    ("wheelbase changes least", "wheelbase changes most", _apart("fore_aft", "ride", "bump", "droop")),
    ("roll centre moves least", "roll centre moves most", _apart("roll_centre", "bump", "droop")),
    ("points move least from where they are", "a point moves farthest", _shift),
)


def trades_of(geometries: tuple[Geometry, ...], wishes: tuple[Wish, ...]) -> tuple[Trade, ...]:
    """What each geometry does best and worst of them, in the same order; nothing for one alone.

    Args:
        geometries: Shown beside each other.
        wishes: What was wanted: room within the ranges is one of the goods.
    """
    front = any(g.linkage.stance.front for g in geometries)
    squat = "anti-lift under drive" if front else "anti-squat"
    best: list[list[str]] = [[] for _ in geometries]
    worst: list[list[str]] = [[] for _ in geometries]
    tight = ("most room within the wanted ranges", "least room within the wanted ranges", _tightness(wishes))
    for good, bad, value in (*GOODS, tight):
        values = [value(g) for g in geometries]
        if not all(map(math.isfinite, values)) or max(values) - min(values) < NOTICED:
            continue
        best[values.index(min(values))].append(good.format(squat=squat))
        worst[values.index(max(values))].append(bad.format(squat=squat))
    return tuple(Trade(tuple(b), tuple(w)) for b, w in zip(best, worst, strict=True))


def _tightness(wishes: tuple[Wish, ...]) -> Callable[[Geometry], float]:
    """How little room is left to the nearest end of a range, less room more, in scales."""

    def value(geometry: Geometry) -> float:
        room = math.inf
        for wish in wishes:
            found = geometry.values.get(wish.reading, math.nan)
            room = min(room, (found - wish.low) / wish.scale, (wish.high - found) / wish.scale)
        return -room

    return value
