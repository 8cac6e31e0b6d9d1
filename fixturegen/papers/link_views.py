"""An axle on its links from the side, from above and from its end as one SVG picture, all to one scale."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from xml.sax.saxutils import quoteattr

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.papers.link_board import Board, Box, Spot
from fixturegen.papers.link_quantities import LinkCase
from fixturegen.papers.link_scene import (
    BELOW,
    FRONT,
    PLAN,
    REAR,
    SIDE,
    Project,
    Rod,
    Scene,
    Size,
    Views,
    scene_of,
    views_of,
    views_scale,
)
from fixturegen.papers.words import INCH

INK, GHOST, CENTRE, STEER = "#14181c", "#8a949c", "#a1160c", "#0b57a4"


def _n(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _path(a: Array, b: Array, ink: str, wide: float, dash: str = "", kind: str = "") -> str:
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    named = f" class={quoteattr(kind)}" if kind else ""
    return (
        f'<path{named} d="M{_n(a[0])} {_n(a[1])}L{_n(b[0])} {_n(b[1])}" stroke="{ink}" '
        f'stroke-width="{_n(wide)}"{dashes}/>'
    )


def views_svg(case: LinkCase, size: Size | None = None, units: str = "in") -> str:
    """A geometry at ride height in three views, crossed up as a ghost, with instant centre and roll axis.

    Args:
        case: The geometry.
        size: Room and scale, where several are compared; its own by default.
        units: in or mm, of the words.
    """
    size = size or views_scale((case,))
    scene = scene_of(case)
    views = views_of(size, scene.front)
    body: list[str] = []
    notes: list[str] = []
    for title, project, box in zip(_titles(scene.front), (views.side, views.plan, views.end), views.boxes, strict=True):
        board = Board(box, size=size.letters)
        board.fixed(box[0] + 4.0, box[1] - 6.0, title)
        body += _ground(scene, project, board, title)
        body += _axle(scene, project, board, title)
        body += _rods(scene, project, board)
        body += _marks(scene, project, board, title, units)
        _names(scene, project, board)
        body += board.body
        notes += board.notes
    if scene.crossed is not None:
        notes.append("grey dashes: crossed, left wheel up")
    if case.study.linkage.approximate:
        notes += ["APPROXIMATE: the lines stand for the leaf", "  springs, none of them is a part to make"]
    body += _corner(views, notes, size, units)
    label = f"{case.name}: side view, plan and end view"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_n(views.width)} {_n(views.height)}" '
        f'width="{_n(views.width)}" height="{_n(views.height)}" role="img" aria-label={quoteattr(label)} '
        f'font-family="sans-serif" fill="none">' + "".join(body) + "</svg>"
    )


def _titles(front: bool) -> tuple[str, str, str]:
    return SIDE, PLAN, FRONT if front else REAR


def _ground(scene: Scene, project: Project, board: Board, title: str) -> list[str]:
    """Ground line at ride height, or the middle line of the truck in plan."""
    y = float(project(np.zeros(3))[1])
    a, b = np.array([board.edge[0] + 4.0, y]), np.array([board.edge[2] - 4.0, y])
    board.lines.append((_spot(a), _spot(b)))
    if title == PLAN:
        return [_path(a, b, GHOST, 0.8, "14 4 3 4", "middle")]
    return [_path(a, b, INK, 2.0, kind="ground")]


def _axle(scene: Scene, project: Project, board: Board, title: str) -> list[str]:
    """Axle line and tyres: circle of the loaded radius in the side view, middle planes elsewhere."""
    body = []
    spots = project(scene.wheels)
    if scene.crossed is not None:
        ghost = project(scene.crossed)
        body.append(_path(ghost[0], ghost[1], GHOST, 3.0, "6 4", "ghost"))
        board.lines.append((_spot(ghost[0]), _spot(ghost[1])))
    if title == SIDE:
        r = float(np.linalg.norm(project(scene.wheels[0] + np.array([scene.radius, 0.0, 0.0])) - spots[0]))
        turns = [2.0 * math.pi * k / 24.0 for k in range(25)]
        rim = [(float(spots[0][0]) + r * math.cos(t), float(spots[0][1]) + r * math.sin(t)) for t in turns]
        board.lines += list(pairwise(rim))
        x, y = _n(spots[0][0]), _n(spots[0][1])
        body.append(f'<circle class="tyre" cx="{x}" cy="{y}" r="{_n(r)}" stroke="{INK}" stroke-width="1.4"/>')
        body.append(f'<path d="M{x} {y}m-9 0h18m-9 -9v18" stroke="{INK}" stroke-width="1.2"/>')
        return body
    body.append(_path(spots[0], spots[1], INK, 5.0, kind="axle"))
    across = np.array([2.5, 0.0]) if title == PLAN else np.array([0.0, 2.5])
    board.lines += [(_spot(spots[0] + d), _spot(spots[1] + d)) for d in (across, -across)]  # it is a thick one
    way = np.array([scene.radius, 0.0, 0.0]) if title == PLAN else np.array([0.0, 0.0, scene.radius])
    for wheel in scene.wheels:
        a, b = project(wheel - way), project(wheel + way)
        body.append(_path(a, b, INK, 1.4, "16 3 4 3", "tyre"))
        board.lines.append((_spot(a), _spot(b)))
    return body


def _spot(p: Array) -> Spot:
    return float(p[0]), float(p[1])


def _rods(scene: Scene, project: Project, board: Board) -> list[str]:
    """Links and steering rods with their joint centres: square at the frame, round at the axle."""
    body = []
    for rod in scene.rods:
        if rod.crossed is not None:
            start, stop = project(np.array(rod.crossed))
            board.lines.append((_spot(start), _spot(stop)))
            body.append(_path(start, stop, GHOST, 1.4, "6 4", "ghost"))
    for rod in scene.rods:
        a, b = project(np.array([rod.frame, rod.axle]))
        ink = STEER if rod.steering else INK
        body.append(_path(a, b, ink, 1.8 if rod.steering else 2.8, "12 3" if rod.steering else "", f"rod {rod.name}"))
        board.lines += [(_spot(a), _spot(b))] * 2  # dearer than a ghost: a word on a rod cuts it in two
        body += [_joint(a, ink, rod.on_frame), _joint(b, ink, False)]
        for spot in (a, b):
            board.keep_off(*_spot(spot), 4.5)
    return body


def _joint(at: Array, ink: str, on_frame: bool) -> str:
    """A joint centre: an open square on the frame, a dot on the axle."""
    x, y = _n(at[0]), _n(at[1])
    if on_frame:
        return f'<path d="M{x} {y}m-3.5 -3.5h7v7h-7Z" fill="#fff" stroke="{ink}" stroke-width="1.6"/>'
    return f'<circle class="joint" cx="{x}" cy="{y}" r="3.8" fill="{ink}"/>'


def _names(scene: Scene, project: Project, board: Board) -> None:
    """One name for each line; lines that cover one another in this view share it."""
    seen: dict[tuple[float, ...], list[Rod]] = {}
    for rod in scene.rods:
        key = tuple(np.round(project(np.array([rod.frame, rod.axle])), 0).ravel() + 0.0)
        seen.setdefault(key, []).append(rod)
    for rods in seen.values():
        a, b = project(np.array([rods[0].frame, rods[0].axle]))
        if float(np.linalg.norm(b - a)) < 1.0:
            b = a  # seen end on
        spots = [_spot(a + t * (b - a)) for t in (0.5, 0.35, 0.65, 0.2, 0.8)]
        board.name(spots, joined([r.name for r in rods]), STEER if rods[0].steering else INK)


def joined(names: Sequence[str]) -> str:
    """Names of lines that cover one another: lower-left and lower-right are lower L+R, in arms as well."""
    heads = {n.replace("-left", "").replace("-right", "") for n in names}
    sides = {side for n in names for side in ("left", "right") if side in n.split("-")}
    if len(names) == 2 and len(heads) == 1 and len(sides) == 2:
        return f"{heads.pop()} L+R"
    return " + ".join(names)


def length_words(value: float, units: str) -> str:
    """A length for a picture, where the numbers of the tables stand beside it."""
    return f"{value / INCH:.1f} in ({value:.0f} mm)" if units == "in" else f"{value:.0f} mm ({value / INCH:.1f} in)"


def _marks(scene: Scene, project: Project, board: Board, title: str, units: str) -> list[str]:
    """Roll centre in the end view; roll axis and instant centre in the side view."""
    if title == PLAN:
        return []
    height, slope = scene.roll
    at = np.array([float(scene.wheels[:, 0].mean()), 0.0, height])
    spot = project(at)
    x, y = _spot(spot)
    body = [f'<path class="roll" d="M{_n(x - 7)} {_n(y)}h14m-7 -7v14" stroke="{CENTRE}" stroke-width="2"/>']
    if title != SIDE:
        board.lines += [((x - 7.0, y), (x + 7.0, y)), ((x, y - 7.0), (x, y + 7.0))]
        board.name([(x, y)], "RC", CENTRE)
        words = f"RC: roll centre, {length_words(height, units)} up"
        board.notes.append(words)
        return body
    x0, top, x1, low = board.edge
    inside = (x0, top, x1, low - BELOW + 4.0)
    k = math.tan(math.radians(slope))  # forward is to the left: climbing forward climbs to the left
    line = _clipped((x0 + 4.0, y + k * (x0 + 4.0 - x)), (x1 - 4.0, y + k * (x1 - 4.0 - x)), inside)
    body.append(_path(np.array(line[0]), np.array(line[1]), CENTRE, 1.2, "14 4 3 4", "rollaxis"))
    board.lines.append(line)
    far = line[0] if abs(line[0][0] - x) > abs(line[1][0] - x) else line[1]
    spots = [(x + t * (far[0] - x), y + t * (far[1] - y)) for t in (0.75, 0.6, 0.9, 0.4)]
    body += _centre(scene, project, board, units)
    board.name(spots, "roll axis", CENTRE)
    climbs = "level" if abs(slope) < 0.05 else f"{'climbs' if slope > 0.0 else 'falls'} {abs(slope):.1f} deg"
    board.notes.append(f"Roll axis: {climbs} toward the front")
    return body


def _clipped(a: Spot, b: Spot, box: Box) -> tuple[Spot, Spot]:
    """The part of a slanting line between the top and bottom of a box."""
    low, high = 0.0, 1.0
    rise = b[1] - a[1]
    if abs(rise) > 1e-9:
        ends = sorted(((box[1] + 4.0 - a[1]) / rise, (box[3] - 4.0 - a[1]) / rise))
        low, high = max(low, ends[0]), min(high, ends[1])
    return (a[0] + low * (b[0] - a[0]), a[1] + low * rise), (a[0] + high * (b[0] - a[0]), a[1] + high * rise)


def _centre(scene: Scene, project: Project, board: Board, units: str) -> list[str]:
    """The instant centre, or an arrow to it where it is off the picture."""
    x0, y0, x1, y1 = board.edge
    axle = project(scene.wheels.mean(axis=0))
    if scene.centre is None:
        board.notes.append("IC: none within 100 ft, links all but parallel")
        return []
    place = np.array([scene.centre[0], 0.0, scene.centre[1]])
    spot = project(place)
    off = float(scene.centre[0] - scene.wheels[:, 0].mean())
    way = "ahead of" if off >= 0.0 else "behind"
    high = float(scene.centre[1])
    level = "above" if high >= 0.0 else "BELOW"
    board.notes.append(f"IC: {length_words(abs(off), units)} {way} the axle,")
    board.notes.append(f"  {length_words(abs(high), units)} {level} ground")
    if x0 <= spot[0] <= x1 and y0 <= spot[1] <= y1 - BELOW:
        x, y = _spot(spot)
        board.name([(x, y)], "IC", CENTRE)
        return [
            f'<circle class="centre" cx="{_n(x)}" cy="{_n(y)}" r="6" stroke="{CENTRE}" stroke-width="2"/>'
            f'<path d="M{_n(x - 10)} {_n(y)}h20m-10 -10v20" stroke="{CENTRE}" stroke-width="1"/>'
        ]
    line = spot - axle
    line = line / np.linalg.norm(line)
    low = y1 - BELOW
    reach = min(
        ((x1 - 12.0 if w > 0.0 else x0 + 12.0) - p) / w if i == 0 else ((low - 12.0 if w > 0.0 else y0 + 12.0) - p) / w
        for i, (p, w) in enumerate(zip(axle, line, strict=True))
        if abs(w) > 1e-9
    )
    tip = axle + reach * line
    tail = tip - 46.0 * line
    wing = np.array([-line[1], line[0]])
    board.lines.append((_spot(tail), _spot(tip)))
    board.name([_spot(tail)], "to IC", CENTRE)
    return [
        _path(tail, tip, CENTRE, 2.0, kind="tocentre"),
        _path(tip, tip - 10.0 * line + 5.0 * wing, CENTRE, 2.0),
        _path(tip, tip - 10.0 * line - 5.0 * wing, CENTRE, 2.0),
    ]


def _corner(views: Views, notes: Sequence[str], size: Size, units: str) -> list[str]:
    """Scale bar of a foot (or 300 mm), the scale in words, and the notes, in the corner that no view takes."""
    long = 12.0 * INCH if units == "in" else 300.0
    x, y = views.boxes[2][0] + 4.0, views.boxes[1][1] + 24.0
    wide = long * size.dots
    board = Board((0.0, 0.0, views.width, views.height), size=size.letters)
    board.fixed(x + wide + 12.0, y + 4.0, "12 in (304.8 mm)" if units == "in" else "300 mm (11.81 in)")
    inch, mm = f"{long / INCH / size.scale:.3f} in", f"{long / size.scale:.2f} mm"
    bar = f"{inch} ({mm})" if units == "in" else f"{mm} ({inch})"
    scale = (f"1 : {size.scale} where this bar", f"  measures {bar}")
    for k, words in enumerate((*scale, "square: joint on the frame; dot: on the axle", *notes)):
        board.fixed(x, y + 28.0 + 1.5 * size.letters * k, words)
    drawn = f"M{_n(x)} {_n(y - 6)}v12m0 -6h{_n(wide)}m0 -6v12"
    return [f'<path class="bar" d="{drawn}" stroke="{INK}" stroke-width="2"/>', *board.body]
