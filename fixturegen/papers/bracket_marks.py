"""Pieces of the brackets' picture: plates seen from any side, and marks as SVG."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from xml.sax.saxutils import escape

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.plate import Part, Placement
from fixturegen.plate.folds import folded
from fixturegen.plate.profile import polyline

INK, GHOST, CENTRE, STEEL = "#14181c", "#8a949c", "#a1160c", "#dfe6ec"
LETTERS = 13.0  # height of letters [px]
FACING = 0.5  # [1] cosine of the lean at which a plate still shows its face
ROUGH = 0.5  # [mm] outlines are drawn to this
Spot = tuple[float, float]


def corners(part: Part, place: Placement) -> Array:
    """Points of both faces of a placed plate in turn, frame A, shape (n, 3) [mm]."""
    if part.profile is None:
        return np.zeros((0, 3))
    flat = polyline(part.profile.outer, ROUGH)
    own = [(x, y, z) for x, y in flat for z in (0.0, part.thickness)]
    if part.bends:
        bent = folded(part)
        own = [bent.point(*p) for p in own]
    return np.asarray(np.array(own) @ np.array(place.rotation).T + np.array(place.origin), dtype=np.float64)


def seen_from(points: Array, project: Callable[[Array], Array], along: Array) -> list[list[Spot]]:
    """Outlines of a plate in a picture: both faces where they are seen, one round everything where it stands on edge.

    Args:
        points: As `corners` gives them.
        project: From A to the picture.
        along: Unit direction of sight, in A.
    """
    one, other = points[0::2], points[1::2]
    thick = other - one
    flat = float(np.abs(thick - thick[0]).max()) < ROUGH
    normal = thick[0] / np.linalg.norm(thick[0])
    if not flat or abs(float(normal @ along)) < FACING:
        return [hull(project(points))]
    return [[spot_of(p) for p in project(face)] for face in (one, other)]


def hull(spots: Array) -> list[Spot]:
    """Convex outline round points of a picture, shape (n, 2).

    Source: geometry, Andrew's monotone chain.
    """
    points = sorted({(float(x), float(y)) for x, y in np.round(spots, 3)})
    if len(points) < 3:
        return points

    def half(ordered: Iterable[Spot]) -> list[Spot]:
        found: list[Spot] = []
        for p in ordered:
            while len(found) > 1 and _turn(found[-2], found[-1], p) <= 0.0:
                found.pop()
            found.append(p)
        return found[:-1]

    return half(points) + half(reversed(points))


def _turn(a: Spot, b: Spot, c: Spot) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def spread(wanted: list[float], least: float, low: float, high: float) -> list[float]:
    """Places at least so far apart, in order, between two ends, near where they are wanted.

    Args:
        wanted: Rising [px].
        least: From one to the next [px].
        low: First allowed [px].
        high: Last allowed [px].
    """
    up: list[float] = []
    for value in wanted:
        up.append(max(value, low if not up else up[-1] + least))
    down: list[float] = []
    for value in reversed(wanted):
        down.append(min(value, high if not down else down[-1] - least))
    # pushed apart to the right, and to the left: halfway between both lies in the middle of where it is wanted
    found = [(a + b) / 2.0 for a, b in zip(up, reversed(down), strict=True)]
    limit = high
    for i in range(len(found) - 1, -1, -1):
        found[i] = min(found[i], limit)
        limit = found[i] - least
    return found


def spot_of(p: Array) -> Spot:
    """A place of the picture as two numbers [px]."""
    return float(p[0]), float(p[1])


def outline(spots: list[Spot], fill: str, ink: str, wide: float, kind: str) -> str:
    """A closed outline."""
    path = "L".join(f"{n(x)} {n(y)}" for x, y in spots)
    return f'<path class="{kind}" d="M{path}Z" fill="{fill}" stroke="{ink}" stroke-width="{n(wide)}"/>'


def stroke(a: Array, b: Array, ink: str, wide: float, dash: str = "", kind: str = "") -> str:
    """A straight line."""
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    named = f' class="{kind}"' if kind else ""
    return (
        f'<path{named} d="M{n(a[0])} {n(a[1])}L{n(b[0])} {n(b[1])}" stroke="{ink}" stroke-width="{n(wide)}"{dashes}/>'
    )


def dot(at: Array) -> str:
    """A joint's hole."""
    return f'<circle class="hole" cx="{n(at[0])}" cy="{n(at[1])}" r="3.4" fill="{CENTRE}"/>'


def word(x: float, y: float, text: str, *, bold: bool = False) -> str:
    """A line of words."""
    weight = ' font-weight="bold"' if bold else ""
    return f'<text x="{n(x)}" y="{n(y)}" font-size="{n(LETTERS)}" fill="{INK}"{weight}>{escape(text)}</text>'


def n(value: float) -> str:
    """A number for a picture, without needless zeros."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
