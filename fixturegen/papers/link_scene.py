"""What the three views of an axle on its links show, in which range of the truck, at which scale, and where."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array, as_point
from fixturegen.papers.link_board import LETTER, Box
from fixturegen.papers.link_quantities import LinkCase
from fixturegen.papers.words import INCH

DOT = 96.0
"""Picture points in an inch of paper, as browsers print them."""
SCALES = (4, 5, 6, 8, 10, 12, 16, 20, 24, 32, 40, 50, 64, 80, 100)
"""1 : this; what a shop's rule and head can do."""
WIDEST = 1020.0
"""Of the picture [px]."""
BESIDE, LARGER = 760.0, 15.0
"""Width of pictures that stand side by side, and letters [px]: a page shows them at two thirds of their size."""
FARTHEST = 100.0 * 12.0 * INCH
"""An instant centre farther off than 100 ft is as good as none: its place changes by yards with every hair."""
PAD, GAP, TITLE, BELOW = 30.0, 30.0, 22.0, 16.0
"""Rim of a view, room between views, height of its title and of what is below the ground line [px]."""
NEAR = 0.6
"""An instant centre within this part of the picture's size beyond its edge still widens it."""
CROSSED = 3  # left wheel up among the named poses

SIDE, PLAN = "SIDE, from the left; FRONT <-", "PLAN, from above; FRONT <-, LEFT down"
FRONT, REAR = "FRONT VIEW, from the front; LEFT ->", "FROM BEHIND; LEFT <-"
"""Titles of the views; FRONT and LEFT are the truck's."""
NOTE = 46  # letters of the longest line in the free corner

Project = Callable[[Array], Array]


@dataclass(frozen=True, eq=False)
class Rod:
    """A straight thing between two points of V, with where they are when the axle is crossed up (or None)."""

    name: str
    frame: Array
    axle: Array
    crossed: tuple[Array, Array] | None
    steering: bool = False
    on_frame: bool = True


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
        ends = [stance.to_vehicle(as_point(stance.in_axle(j))) for j in (s.drag, s.left.tie, s.right.tie)]
        rods += [
            Rod("drag link", np.array(s.pitman), ends[0], None, True),
            Rod("tie rod", ends[1], ends[2], None, True, False),
        ]
    wheels = poses.points(stance.wheels)
    metrics = study.named.metrics
    centre = metrics.instant_centre[0]
    return Scene(
        tuple(rods),
        wheels[0],
        wheels[CROSSED] if there else None,
        stance.loaded_radius,
        centre if np.linalg.norm(centre - wheels[0, 0, [0, 2]]) < FARTHEST else None,
        (float(metrics.roll_centre[0]), float(metrics.roll_axis[0])),
        stance.front,
    )


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
    """How pictures are laid out: what is drawn, 1 : `scale`, letters [px]; the same for several side by side."""

    room: Room
    scale: int
    letters: float = LARGER

    @property
    def dots(self) -> float:
        """Picture points in a millimetre of the truck."""
        return DOT / INCH / self.scale


def views_scale(cases: Sequence[LinkCase]) -> Size:
    """One room and one scale for the pictures of all geometries."""
    room = room_of([scene_of(case) for case in cases])
    wide = room.x1 - room.x0 + 2.0 * room.y
    one = len(cases) == 1
    free = (WIDEST if one else BESIDE) - 4.0 * PAD - GAP
    scale = next((s for s in SCALES if wide * DOT / INCH / s <= free), math.ceil(wide * DOT / INCH / free))
    return Size(room, scale, LARGER)


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
    long, wide, high = k * (room.x1 - room.x0) + 2 * PAD, 2 * k * room.y + 2 * PAD, k * room.z1 + PAD + BELOW
    long = max(long, 8.0 + LETTER * size.letters * max(len(SIDE), len(PLAN)))  # a title is read whole
    column = max(wide, 8.0 + LETTER * size.letters * NOTE)
    side_x, end_x = (column + GAP, 0.0) if front else (0.0, long + GAP)
    low = TITLE + wide + GAP + TITLE
    ground = low + high - BELOW
    turn = 1.0 if front else -1.0

    def side(p: Array) -> Array:
        return np.stack([side_x + PAD + k * (room.x1 - p[..., 0]), ground - k * p[..., 2]], axis=-1)

    def plan(p: Array) -> Array:
        return np.stack([side_x + PAD + k * (room.x1 - p[..., 0]), TITLE + wide / 2.0 + k * p[..., 1]], axis=-1)

    def end(p: Array) -> Array:
        return np.stack([end_x + column / 2.0 + turn * k * p[..., 1], ground - k * p[..., 2]], axis=-1)

    boxes: tuple[Box, Box, Box] = (
        (side_x, low, side_x + long, low + high),
        (side_x, TITLE, side_x + long, TITLE + wide),
        (end_x, low, end_x + column, low + high),
    )
    return Views(side, plan, end, boxes, long + GAP + column, low + high)
