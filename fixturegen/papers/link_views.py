"""An axle on its links from the side, from above and from its end as one SVG picture, all to one scale."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from xml.sax.saxutils import quoteattr

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.papers.link_board import Board, Box, Spot
from fixturegen.papers.link_quantities import LinkCase
from fixturegen.papers.words import INCH

INK, GHOST, CENTRE, STEER = "#14181c", "#8a949c", "#a1160c", "#0b57a4"
DOT = 96.0
"""Picture points in an inch of paper, as browsers print them."""
SCALES = (4, 5, 6, 8, 10, 12, 16, 20, 24, 32, 40, 50, 64, 80, 100)
"""1 : this; what a shop's rule and head can do."""
WIDEST = 1020.0
"""Of the picture [px]."""
PAD, GAP, TITLE = 30.0, 46.0, 22.0
NEAR = 0.6
"""An instant centre within this part of the picture's size beyond its edge still widens it."""
CROSSED = 3  # left wheel up among the named poses

Project = Callable[[Array], Array]


@dataclass(frozen=True, eq=False)
class Rod:
    """A straight thing between two points of V, with where they are when the axle is crossed up (or None)."""

    name: str
    frame: Array
    axle: Array
    crossed: tuple[Array, Array] | None
    steering: bool = False


@dataclass(frozen=True, eq=False)
class Scene:
    """What is drawn, in V [mm].

    Attributes:
        rods: Links, and the rods of the steering.
        wheels: Wheel centres at ride, (2, 3).
        crossed: Wheel centres crossed up, or None.
        radius: Loaded radius.
        centre: Side-view instant centre (x, z), or None where links are parallel.
        roll: Height of the roll centre and slope of the roll axis, climbing forward positive [mm, deg].
        front: Whether it is a front axle.
    """

    rods: tuple[Rod, ...]
    wheels: Array
    crossed: Array | None
    radius: float
    centre: Array | None
    roll: tuple[float, float]
    front: bool


def scene_of(case: LinkCase) -> Scene:
    """What is drawn of a geometry."""
    study, linkage = case.study, case.study.linkage
    stance, poses = linkage.stance, case.study.named.poses
    there = bool(poses.reached[CROSSED])
    axles = poses.points(linkage.axle_points())
    rods = [
        Rod(k.name, f, a[0], (f, a[CROSSED]) if there else None)
        for k, f, a in zip(linkage.links, linkage.frame_points(), np.moveaxis(axles, 1, 0), strict=True)
        if k.part != "guide"
    ]
    if study.steering is not None:
        s = study.steering
        ends = [stance.to_vehicle(_point(stance.in_axle(j))) for j in (s.drag, s.left.tie, s.right.tie)]
        rods += [
            Rod("drag link", np.array(s.pitman), ends[0], None, True),
            Rod("tie rod", ends[1], ends[2], None, True),
        ]
    wheels = poses.points(stance.wheels)
    metrics = study.named.metrics
    centre = metrics.instant_centre[0]
    return Scene(
        tuple(rods),
        wheels[0],
        wheels[CROSSED] if there else None,
        stance.loaded_radius,
        centre if np.isfinite(centre).all() else None,
        (float(metrics.roll_centre[0]), float(metrics.roll_axis[0])),
        stance.front,
    )


def _point(v: Array) -> tuple[float, float, float]:
    return float(v[0]), float(v[1]), float(v[2])


@dataclass(frozen=True)
class Room:
    """Range of V that is drawn [mm]: along x, across y (both ways alike), up z."""

    x0: float
    x1: float
    y: float
    z1: float


def room_of(scenes: Sequence[Scene]) -> Room:
    """The range that holds every geometry; instant centres that lie near the rest are in it."""
    points = [np.concatenate([[r.frame, r.axle] for r in s.rods]) for s in scenes]
    points += [s.crossed for s in scenes if s.crossed is not None]
    every = np.concatenate(points)
    wheel = scenes[0].wheels[:, 0].mean()
    radius = max(s.radius for s in scenes)
    x0, x1 = min(float(every[:, 0].min()), wheel - radius), max(float(every[:, 0].max()), wheel + radius)
    z1 = max(float(every[:, 2].max()), 2.0 * radius)
    across = max(float(np.abs(every[:, 1]).max()), max(float(np.abs(s.wheels[:, 1]).max()) for s in scenes))
    reach = NEAR * (x1 - x0)
    for s in scenes:
        if s.centre is not None and x0 - reach < s.centre[0] < x1 + reach and 0.0 < s.centre[1] < z1 + reach:
            x0, x1 = min(x0, float(s.centre[0])), max(x1, float(s.centre[0]))
            z1 = max(z1, float(s.centre[1]))
    return Room(x0, x1, across, z1)


@dataclass(frozen=True)
class Size:
    """How pictures are laid out: what is drawn, 1 : `scale`, so that several can be laid side by side."""

    room: Room
    scale: int

    @property
    def dots(self) -> float:
        """Picture points in a millimetre of the truck."""
        return DOT / INCH / self.scale


def views_scale(cases: Sequence[LinkCase]) -> Size:
    """One room and one scale for the pictures of all geometries."""
    room = room_of([scene_of(case) for case in cases])
    wide = room.x1 - room.x0 + 2.0 * room.y
    free = WIDEST - 4.0 * PAD - GAP
    scale = next((s for s in SCALES if wide * DOT / INCH / s <= free), math.ceil(wide * DOT / INCH / free))
    return Size(room, scale)


@dataclass(frozen=True)
class Views:
    """Where the three views stand: what takes a point of V, shape (.., 3), to the picture, shape (.., 2) [px]."""

    side: Project
    plan: Project
    end: Project
    boxes: tuple[Box, Box, Box]
    width: float
    height: float


def views_of(size: Size, front: bool) -> Views:
    """Side view from the left (front of the truck to the left), plan above it, end view beside it.

    Third-angle: each view stands on the side it is seen from. A front axle is seen from the front, a rear
    axle from behind.
    """
    k, room = size.dots, size.room
    long, wide, high = k * (room.x1 - room.x0) + 2 * PAD, 2 * k * room.y + 2 * PAD, k * room.z1 + 2 * PAD
    side_x, end_x = (wide + GAP, 0.0) if front else (0.0, long + GAP)
    low = TITLE + wide + GAP + TITLE
    ground = low + high - PAD
    turn = 1.0 if front else -1.0

    def side(p: Array) -> Array:
        return np.stack([side_x + PAD + k * (room.x1 - p[..., 0]), ground - k * p[..., 2]], axis=-1)

    def plan(p: Array) -> Array:
        return np.stack([side_x + PAD + k * (room.x1 - p[..., 0]), TITLE + wide / 2.0 + k * p[..., 1]], axis=-1)

    def end(p: Array) -> Array:
        return np.stack([end_x + wide / 2.0 + turn * k * p[..., 1], ground - k * p[..., 2]], axis=-1)

    boxes: tuple[Box, Box, Box] = (
        (side_x, low, side_x + long, low + high),
        (side_x, TITLE, side_x + long, TITLE + wide),
        (end_x, low, end_x + wide, low + high),
    )
    return Views(side, plan, end, boxes, long + GAP + wide, low + high + 44.0)


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
    for title, project, box in zip(_titles(scene.front), (views.side, views.plan, views.end), views.boxes, strict=True):
        board = Board(box)
        board.fixed(box[0] + 4.0, box[1] - 6.0, title)
        body += _ground(scene, project, box, title)
        body += _axle(scene, project, board, title)
        body += _rods(scene, project, board)
        body += _marks(scene, project, board, title, units)
        _names(scene, project, board)
        body += board.body
    body += _bar(views, size, units)
    label = f"{case.name}: side view, plan and end view"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_n(views.width)} {_n(views.height)}" '
        f'width="{_n(views.width)}" height="{_n(views.height)}" role="img" aria-label={quoteattr(label)} '
        f'font-family="sans-serif" fill="none">' + "".join(body) + "</svg>"
    )


SIDE, PLAN = "SIDE VIEW, from the left; FRONT of truck <-", "PLAN, from above; FRONT of truck <-, LEFT down"


def _titles(front: bool) -> tuple[str, str, str]:
    end = "FRONT VIEW, from the front; LEFT ->" if front else "FROM BEHIND; LEFT <-"
    return SIDE, PLAN, end


def _ground(scene: Scene, project: Project, box: Box, title: str) -> list[str]:
    """Ground line at ride height, or the middle line of the truck in plan."""
    y = float(project(np.zeros(3))[1])
    a, b = np.array([box[0] + 4.0, y]), np.array([box[2] - 4.0, y])
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
    if title == SIDE:
        r = float(np.linalg.norm(project(scene.wheels[0] + np.array([scene.radius, 0.0, 0.0])) - spots[0]))
        x, y = _n(spots[0][0]), _n(spots[0][1])
        body.append(f'<circle class="tyre" cx="{x}" cy="{y}" r="{_n(r)}" stroke="{INK}" stroke-width="1.4"/>')
        body.append(f'<path d="M{x} {y}m-9 0h18m-9 -9v18" stroke="{INK}" stroke-width="1.2"/>')
        return body
    body.append(_path(spots[0], spots[1], INK, 5.0, kind="axle"))
    board.lines.append((_spot(spots[0]), _spot(spots[1])))
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
            body.append(_path(*project(np.array(rod.crossed)), GHOST, 1.4, "6 4", "ghost"))
    for rod in scene.rods:
        a, b = project(np.array([rod.frame, rod.axle]))
        ink = STEER if rod.steering else INK
        body.append(_path(a, b, ink, 1.8 if rod.steering else 2.8, "12 3" if rod.steering else "", f"rod {rod.name}"))
        board.lines.append((_spot(a), _spot(b)))
        body.append(
            f'<rect x="{_n(a[0] - 3.5)}" y="{_n(a[1] - 3.5)}" width="7" height="7" fill="#fff" stroke="{ink}" '
            'stroke-width="1.6"/>'
        )
        body.append(f'<circle cx="{_n(b[0])}" cy="{_n(b[1])}" r="3.8" fill="{ink}"/>')
    return body


def _names(scene: Scene, project: Project, board: Board) -> None:
    """One name for each line; lines that cover one another in this view share it."""
    seen: dict[tuple[float, ...], list[Rod]] = {}
    for rod in scene.rods:
        key = tuple(np.round(project(np.array([rod.frame, rod.axle])), 0).ravel() + 0.0)
        seen.setdefault(key, []).append(rod)
    for rods in seen.values():
        a, b = project(np.array([rods[0].frame, rods[0].axle]))
        spots = [_spot(a + t * (b - a)) for t in (0.5, 0.35, 0.65, 0.2, 0.8)]
        board.name(spots, joined([r.name for r in rods]), STEER if rods[0].steering else INK)


def joined(names: Sequence[str]) -> str:
    """Names of lines that cover one another: lower-left and lower-right are lower L+R."""
    heads = {n.removesuffix("-left").removesuffix("-right") for n in names}
    sides = {n.rpartition("-")[2] for n in names}
    if len(names) == 2 and len(heads) == 1 and sides == {"left", "right"}:
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
        board.name([(x, y)], f"roll centre {length_words(height, units)} up", CENTRE)
        return body
    x0, _, x1, _ = board.edge
    k = math.tan(math.radians(slope))  # forward is to the left: climbing forward climbs to the left
    line = _clipped((x0 + 4.0, y + k * (x0 + 4.0 - x)), (x1 - 4.0, y + k * (x1 - 4.0 - x)), board.edge)
    body.append(_path(np.array(line[0]), np.array(line[1]), CENTRE, 1.2, "14 4 3 4", "rollaxis"))
    board.lines.append(line)
    far = line[0] if abs(line[0][0] - x) > abs(line[1][0] - x) else line[1]
    spots = [(x + t * (far[0] - x), y + t * (far[1] - y)) for t in (0.75, 0.6, 0.9, 0.4)]
    body += _centre(scene, project, board, units)
    climbs = "climbs" if slope >= 0.0 else "falls"
    board.name(spots, f"roll axis, {climbs} {abs(slope):.1f} deg to the front", CENTRE)
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
        board.name([_spot(axle)], "IC: none, the links are parallel", CENTRE)
        return []
    place = np.array([scene.centre[0], 0.0, scene.centre[1]])
    spot = project(place)
    off = float(scene.centre[0] - scene.wheels[:, 0].mean())
    way = "ahead" if off >= 0.0 else "behind"
    words = f"{length_words(abs(off), units)} {way}, {length_words(float(scene.centre[1]), units)} up"
    if x0 <= spot[0] <= x1 and y0 <= spot[1] <= y1:
        x, y = _spot(spot)
        board.name([(x, y)], f"IC {words}", CENTRE)
        return [
            f'<circle class="centre" cx="{_n(x)}" cy="{_n(y)}" r="6" stroke="{CENTRE}" stroke-width="2"/>'
            f'<path d="M{_n(x - 10)} {_n(y)}h20m-10 -10v20" stroke="{CENTRE}" stroke-width="1"/>'
        ]
    line = spot - axle
    line = line / np.linalg.norm(line)
    reach = min(
        ((x1 - 12.0 if w > 0.0 else x0 + 12.0) - p) / w if i == 0 else ((y1 - 12.0 if w > 0.0 else y0 + 12.0) - p) / w
        for i, (p, w) in enumerate(zip(axle, line, strict=True))
        if abs(w) > 1e-9
    )
    tip = axle + reach * line
    tail = tip - 46.0 * line
    wing = np.array([-line[1], line[0]])
    board.lines.append((_spot(tail), _spot(tip)))
    board.name([_spot(tail)], f"to IC, {words}", CENTRE)
    return [
        _path(tail, tip, CENTRE, 2.0, kind="tocentre"),
        _path(tip, tip - 10.0 * line + 5.0 * wing, CENTRE, 2.0),
        _path(tip, tip - 10.0 * line - 5.0 * wing, CENTRE, 2.0),
    ]


def _bar(views: Views, size: Size, units: str) -> list[str]:
    """Scale bar of a foot (or 300 mm) with the scale in words."""
    long = 12.0 * INCH if units == "in" else 300.0
    x, y = PAD, views.height - 16.0
    words = "12 in (304.8 mm)" if units == "in" else "300 mm (11.81 in)"
    wide = long * size.dots
    board = Board((0.0, 0.0, views.width, views.height))
    board.fixed(x + wide + 12.0, y + 4.0, f"{words}; 1 : {size.scale} when printed at full size, all three views alike")
    bar = f"M{_n(x)} {_n(y - 6)}v12m0 -6h{_n(wide)}m0 -6v12"
    return [f'<path class="bar" d="{bar}" stroke="{INK}" stroke-width="2"/>', *board.body]
