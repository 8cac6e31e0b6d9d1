"""A picture of the parts a person has, where they stand about the axle at ride height: side view and front view."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.linkage import Stance
from fixturegen.checks.components import Read
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.component_records import PlaneShape

WIDTH, HEIGHT, EDGE, FOOT = 560.0, 380.0, 24.0, 16.0  # px of one view, its margin, and a line of words
COLOURS = ("#1f5f99", "#a3480c", "#3b7a3b", "#7a3b76", "#8a6d00", "#00717a")
AXLE = "#333333"
ASLANT = 0.02  # [1] a plane leaning more than a degree to the line of sight is not seen on edge
REACH = 10_000.0  # [mm] a plane is drawn to each side, cut off at the view
CAPTION = (
    "Where the parts you have stand at ride height, seen from the vehicle's left and from its front. Outlines are "
    "those of a rubber band round each part; the axle is its tubes and tyres, the grey line the ground. A plane is a "
    "line, dashed on the side of the part. Look whether each stands where yours does."
)


@dataclass(frozen=True)
class _View:
    """Two axes of V, the name of the view, and the signs that turn them to the right and up."""

    name: str
    across: int
    sign: float


VIEWS = (
    _View("From the left: the front is on the left here", 0, -1.0),
    _View("From the front: its left is on the right here", 1, 1.0),
)


def component_svg(read: Iterable[Read], sheet: Sheet, stance: Stance, units: str) -> str:
    """The picture as SVG text.

    Args:
        read: Components that were read.
        sheet: Tube and tyre are taken from it.
        stance: How the axle stands at ride height.
        units: in or mm, of the scale bar.
    """
    shown = [one for one in read if one.mesh is not None]
    total = 2.0 * WIDTH
    tall = HEIGHT + FOOT * (1 + (len(shown) + 3) // 4)
    body = [f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {total:g} {tall:g}" font-family="sans-serif">']
    for number, view in enumerate(VIEWS):
        body += _view(view, number * WIDTH, shown, sheet, stance, units)
    for k, one in enumerate(shown):
        x, y = EDGE + (k % 4) * (total - 2.0 * EDGE) / 4.0, HEIGHT + FOOT * (1 + k // 4)
        colour = COLOURS[k % len(COLOURS)]
        body.append(f'<rect x="{x:g}" y="{y - 9:g}" width="10" height="10" fill="{colour}"/>')
        body.append(f'<text x="{x + 14:g}" y="{y:g}" font-size="12">{escape(one.component.label)}</text>')
    return "\n".join([*body, "</svg>"])


def standing(one: Read, stance: Stance) -> Array:
    """Points of a component in V at ride height (n, 3) [mm]."""
    part = one.component
    own = one.mesh.vertices if one.mesh is not None else np.zeros((0, 3))
    there = own @ np.array(part.rotation).T + np.array(part.origin)
    return np.asarray(there if part.frame == "V" else there @ stance.rotation.T + stance.origin, dtype=np.float64)


@dataclass(frozen=True, eq=False)
class _Frame:
    """Where a view lies on the page: low and high corner of what it shows (2,) [mm], px for each mm, left edge [px]."""

    low: Array
    high: Array
    scale: float
    left: float

    def px(self, point: Array) -> tuple[float, float]:
        """A point of the view (2,) [mm] on the page [px]."""
        spare = (WIDTH - 2 * EDGE - self.scale * (self.high[0] - self.low[0])) / 2.0
        across, up = (np.asarray(point) - self.low) * self.scale
        return self.left + EDGE + spare + float(across), HEIGHT - 2.0 * EDGE - float(up)


def _frame(points: Sequence[Array], left: float) -> _Frame:
    every = np.vstack([np.atleast_2d(p) for p in points])
    low, high = every.min(axis=0), every.max(axis=0)
    scale = min((WIDTH - 2 * EDGE) / (high[0] - low[0]), (HEIGHT - 4 * EDGE) / (high[1] - low[1]))
    return _Frame(low, high, float(scale), left)


def _view(view: _View, left: float, shown: Sequence[Read], sheet: Sheet, stance: Stance, units: str) -> list[str]:
    """One view: axle, tyres, outlines, scale bar."""
    pick, turn = [view.across, 2], np.array([view.sign, 1.0])
    flat = {
        k: standing(one, stance)[:, pick] * turn
        for k, one in enumerate(shown)
        if not isinstance(one.component.shape, PlaneShape)
    }
    edges = {k: e for k, one in enumerate(shown) if (e := _on_edge(one, view, stance)) is not None}
    tyre, wide = float(sheet.vehicle.tyre_diameter) / 2.0, float(sheet.vehicle.tyre_section_width)
    middle = stance.origin[pick] * turn
    reach = tyre if view.across == 0 else stance.half_track + wide / 2.0
    ends = [middle - np.array([reach, middle[1]]), middle + np.array([reach, tyre])]
    # a plane far off to one side is drawn at its height, not at its point
    ends += [np.array([middle[0], e[0][1]]) for e in edges.values()]
    frame = _frame([*ends, *flat.values()], left)
    found = [f'<text x="{left + EDGE:g}" y="14" font-size="13" font-weight="bold">{view.name}</text>']
    (a, ground), (b, _) = (frame.px(np.array([x, 0.0])) for x in (frame.low[0], frame.high[0]))
    found.append(f'<path d="M{a:.1f} {ground:.1f}H{b:.1f}" stroke="#999"/>')
    found += _axle(view, frame, middle, sheet, stance)
    for k, cloud in flat.items():
        colour = COLOURS[k % len(COLOURS)]
        corners = " ".join("{:.1f},{:.1f}".format(*frame.px(p)) for p in _band(cloud))
        found.append(f'<polygon points="{corners}" fill="{colour}" fill-opacity="0.15" stroke="{colour}"/>')
    for k, (point, way) in edges.items():
        found += _line(point, way, frame, COLOURS[k % len(COLOURS)])
    bar, words = (304.8, "12 in") if units == "in" else (300.0, "300 mm")
    base, end = HEIGHT - EDGE / 2.0, left + EDGE + bar * frame.scale
    found.append(f'<path d="M{left + EDGE:g} {base:g}H{end:.1f}" stroke="#000" stroke-width="2"/>')
    found.append(f'<text x="{end + 6:.1f}" y="{base + 4:g}" font-size="11">{words}</text>')
    return found


def _axle(view: _View, frame: _Frame, middle: Array, sheet: Sheet, stance: Stance) -> list[str]:
    """Tubes and tyres of the axle."""
    x, y = frame.px(middle)
    tyre, tube = float(sheet.vehicle.tyre_diameter), float(sheet.tubes.outside_diameter)
    if view.across == 0:
        radii = [d / 2.0 * frame.scale for d in (tyre, tube)]
        return [f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{r:.1f}" fill="none" stroke="{AXLE}"/>' for r in radii]
    wide, half = float(sheet.vehicle.tyre_section_width), stance.half_track
    found = []
    for at, w, h in ((-half, wide, tyre), (half, wide, tyre), (0.0, 2 * half - wide, tube)):
        a, b, c, d = (v * frame.scale for v in (at - w / 2.0, h / 2.0, w, h))
        place = f'x="{x + a:.1f}" y="{y - b:.1f}" width="{c:.1f}" height="{d:.1f}"'
        found.append(f'<rect {place} fill="none" stroke="{AXLE}"/>')
    return found


def _on_edge(one: Read, view: _View, stance: Stance) -> tuple[Array, Array] | None:
    """A point of a plane and the way into its part, in the view; None where it is no plane or not seen on edge."""
    shape, part = one.component.shape, one.component
    if not isinstance(shape, PlaneShape):
        return None
    turn = np.array(part.rotation)
    point, way = turn @ np.array(shape.point) + np.array(part.origin), -turn @ np.array(shape.way)
    if part.frame == "A":
        point, way = stance.rotation @ point + stance.origin, stance.rotation @ way
    if abs(way[1 - view.across]) > ASLANT:
        return None
    pick, sign = [view.across, 2], np.array([view.sign, 1.0])
    return point[pick] * sign, way[pick] * sign / np.linalg.norm(way[pick])


def _line(point: Array, way: Array, frame: _Frame, colour: str) -> list[str]:
    """The edge of a plane across the view, and a dashed line on the side of the part."""
    along = np.array([-way[1], way[0]])
    steps = np.linspace(-1.0, 1.0, 2001)[:, None] * REACH
    found = []
    for off, dash in ((0.0, ""), (5.0 / frame.scale, ' stroke-dasharray="6 5"')):
        there = point + way * off + steps * along
        inside = there[((there >= frame.low - 1.0 - off) & (there <= frame.high + 1.0 + off)).all(axis=1)]
        if len(inside):
            (a, b), (c, d) = frame.px(inside[0]), frame.px(inside[-1])
            found.append(f'<path d="M{a:.1f} {b:.1f}L{c:.1f} {d:.1f}" stroke="{colour}"{dash}/>')
    return found


def _band(cloud: Array) -> Array:
    """Corners of the convex hull of points (n, 2), counter-clockwise."""
    from scipy.spatial import ConvexHull

    return np.asarray(cloud[ConvexHull(cloud).vertices], dtype=np.float64)
