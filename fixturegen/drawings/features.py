"""What of a plate is dimensioned: holes, edges and corners, as ordinates along x and y."""

from __future__ import annotations

import math
from collections.abc import Iterator

from fixturegen.drawings.ordinates import Ordinate
from fixturegen.plate.part import Profile
from fixturegen.plate.profile import Edge, bounds, edges

SQUARE = 1e-4  # [mm] an edge that leaves the direction of an axis by less runs along it
TURN = math.radians(2.0)  # a corner that turns by less is a smooth one

LEAST = 3.0  # [mm] edges shorter than this, eased corners and reliefs, stand in the table alone
NARROW = 1.0  # [mm] the same of an opening
EASED = 4.0  # [mm] arcs of smaller radius ease a corner or free one

OVERALL, HOLE, EDGE, CORNER, SMOOTH = range(5)
"""Ranks: where there is no room for all, the later ones are told in the table alone."""


def hole_ordinates(profile: Profile, axis: int) -> list[Ordinate]:
    """Middles of holes along x (axis 0) or y (axis 1)."""
    found = []
    for n, h in enumerate(profile.holes, 1):
        value, across = (h.x, h.y) if axis == 0 else (h.y, h.x)
        found.append(Ordinate(value, across, f"hole {n} {h.label}".strip(), HOLE))
    return found


def edge_ordinates(profile: Profile, axis: int) -> list[Ordinate]:
    """Outermost places, edges square to the axis and sharp corners along x (axis 0) or y (axis 1)."""
    found: list[Ordinate] = []
    box = bounds(profile.outer)
    for k, name in ((axis, "least"), (axis + 2, "most")):
        found.append(
            Ordinate(box[k], _across_at(profile, axis, box[k]), f"{name} {'xy'[axis]} of the outline", OVERALL)
        )
    for k, loop in enumerate((profile.outer, *profile.inner)):
        # the ends of a slot are short, and what goes in is told by them
        least = LEAST if k == 0 else NARROW
        around = edges(loop)
        for before, here in zip((around[-1], *around[:-1]), around, strict=True):
            a, b = ((here.x0, here.x1), (here.y0, here.y1))[axis]
            low = min((here.y0, here.y1) if axis == 0 else (here.x0, here.x1))
            if _small(here, least):
                continue
            if here.centre is None and abs(a - b) <= SQUARE:
                found.append(Ordinate(a, low, f"edge at {'xy'[axis]}", EDGE))
                continue
            sharp = _turn(before, here) > TURN
            across = here.y0 if axis == 0 else here.x0
            # a corner whose edge before it runs square to the axis has its ordinate already
            if sharp and not _small(before, least) and not _along(before, axis):
                found.append(Ordinate(a, across, "corner", CORNER))
    return found


def _small(edge: Edge, least: float) -> bool:
    """Whether an edge eases a corner or frees one: it stands in the table alone."""
    return edge.length < least if edge.centre is None else edge.radius < EASED


def _along(edge: Edge, axis: int) -> bool:
    a, b = ((edge.x0, edge.x1), (edge.y0, edge.y1))[axis]
    return edge.centre is None and abs(a - b) <= SQUARE


def _turn(before: Edge, here: Edge) -> float:
    """By how much the outline turns where one edge follows another [rad]."""
    a, b = _way(before, end=True), _way(here, end=False)
    return abs(math.remainder(b - a, 2.0 * math.pi))


def _way(edge: Edge, *, end: bool) -> float:
    """Direction of travel at an end of an edge [rad]."""
    if edge.centre is None:
        return math.atan2(edge.y1 - edge.y0, edge.x1 - edge.x0)
    x, y = (edge.x1, edge.y1) if end else (edge.x0, edge.y0)
    out = math.atan2(y - edge.centre[1], x - edge.centre[0])
    return out + math.copysign(math.pi / 2.0, edge.sweep_rad)


def _across_at(profile: Profile, axis: int, value: float) -> float:
    """Where the outline reaches an outermost place, in the other direction [mm]."""
    best: tuple[float, float] = (math.inf, 0.0)
    for x, y in _points(profile):
        along, across = (x, y) if axis == 0 else (y, x)
        best = min(best, (round(abs(along - value), 6), across))
    return best[1]


def _points(profile: Profile) -> Iterator[tuple[float, float]]:
    for e in edges(profile.outer):
        yield e.x0, e.y0
        if e.centre is not None:
            for k in range(4):
                a = k * math.pi / 2.0
                yield e.centre[0] + e.radius * math.cos(a), e.centre[1] + e.radius * math.sin(a)
