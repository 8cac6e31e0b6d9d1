"""Shear flow in the walls of tube and truss, and their torsion constant: walls as lines, cells open or closed.

Every wall is a line with a thickness; the flow is q = t d(warp)/ds, so that closed cells share it as their walls
give, and a box and a single plate come out of the same equations. Flows at the ends of a wall are exact for
straight walls; the tube is a polygon of `SIDES` walls and more.

Source: thin walls under shear and torsion (Bredt for closed cells, V Q / I where a cut leaves no other way), as in
texts on strength of materials; equilibrium along a wall, dq/ds = -t d(stress)/dy.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from fixturegen.studies.housing_section import TUBE, Seam, Section, Spot, Strip, along

Array = npt.NDArray[np.float64]

SIDES = 72
"""Walls that stand for the round of the tube."""
THIN = 1e-6
"""A plate that carries next to nothing is this thick [mm]."""
SAME = 1e-6
"""Places nearer than this along a wall are one [1, or rad]."""


@dataclass(frozen=True)
class Flows:
    """What a section's walls make of shear and torque.

    Attributes:
        torsion: Torsion constant [mm^4].
        closed: Whether truss and tube make a closed cell beside the tube's own.
        seams: Flow through each seam of the section's cut per shear forward, shear upward and torque about the
            shear centre, shape (n, 3) [1/mm, 1/mm, 1/mm^2].
        centre: Shear centre [mm].
    """

    torsion: float
    closed: bool
    seams: Array
    centre: Spot

    def through(self, forward: Array, upward: Array, torque: Array) -> Array:
        """Flow through each seam, shape (n, ...) [N/mm].

        Args:
            forward: Shear forward, any shape [N].
            upward: Shear upward [N].
            torque: About the tube's axis [N*mm].
        """
        x, z = self.centre
        # a shear at the tube's axis turns about the shear centre, as (0, shear) x (axis - centre) says
        about = torque + (x * upward - z * forward)
        parts = np.stack(np.broadcast_arrays(forward, upward, about))
        return np.asarray(np.tensordot(self.seams, parts, axes=1), dtype=np.float64)


@dataclass
class _Walls:
    """Walls as a graph while they are put together.

    Attributes:
        nodes: Places [mm].
        walls: First node, second node, thickness [mm], whether its area counts.
    """

    nodes: list[Spot] = field(default_factory=list)
    walls: list[tuple[int, int, float, bool]] = field(default_factory=list)

    def node(self, at: Spot) -> int:
        """A new node."""
        self.nodes.append(at)
        return len(self.nodes) - 1

    def wall(self, first: int, second: int, thick: float, counted: bool = True) -> int:
        """A new wall; its number."""
        self.walls.append((first, second, thick, counted))
        return len(self.walls) - 1


def flows_of(section: Section) -> Flows:
    """Torsion constant and flows through the seams of a section.

    Args:
        section: With what of the truss acts.
    """
    graph, links = _graph(section)
    places = np.array(graph.nodes)
    first, second = (np.array([w[k] for w in graph.walls]) for k in (0, 1))
    thick = np.array([w[2] for w in graph.walls])
    counted = np.array([w[3] for w in graph.walls])
    run = places[second] - places[first]
    long = np.hypot(run[:, 0], run[:, 1])
    # a link of no length is as stiff as one a hundredth of a thickness long
    long = np.maximum(long, 0.01 * thick)
    matrix = _stiffness(len(places), first, second, thick / long)
    arms = places[first, 1] * run[:, 0] - places[first, 0] * run[:, 1]  # arm about the axis x length
    sides = [_pull(places, first, second, thick * long * counted, way) for way in np.eye(2)]
    loads, steps = (np.stack([s[k] for s in sides], axis=-1) for k in (0, 1))
    twist = np.zeros(len(places))
    np.add.at(twist, first, thick / long * arms)
    np.add.at(twist, second, -thick / long * arms)
    warps = np.zeros((len(places), 3))
    warps[1:] = np.linalg.solve(matrix[1:, 1:], np.column_stack([loads, twist])[1:])
    change = (thick / long)[:, None] * (warps[second] - warps[first])
    flow = change.copy()
    flow[:, :2] += steps
    flow[:, 2] += thick / long * arms
    # wall by wall the mean flow is thickness x change of warp / length, its torque that x arm x length
    turn = arms @ change[:, :2]
    thin = float(arms @ flow[:, 2])
    whole = thin + _open(section, graph)
    per_torque = flow[:, 2] / whole
    ways = np.column_stack([flow[links, :2], per_torque[links]]) if links else np.zeros((0, 3))
    cells = len(graph.walls) - len(graph.nodes) + 1  # of a graph in one piece
    # torque about y of a shear at (x, z) is z Vx - x Vz
    return Flows(whole, cells > 1, ways, (float(-turn[1]), float(turn[0])))


def _stiffness(count: int, first: npt.NDArray[np.int_], second: npt.NDArray[np.int_], stiff: Array) -> Array:
    """Of the warping, shape (n, n): each wall holds its ends together by thickness / length."""
    matrix = np.zeros((count, count))
    np.add.at(matrix, (first, first), stiff)
    np.add.at(matrix, (second, second), stiff)
    np.add.at(matrix, (first, second), -stiff)
    np.add.at(matrix, (second, first), -stiff)
    return matrix


def _pull(
    places: Array, first: npt.NDArray[np.int_], second: npt.NDArray[np.int_], areas: Array, shear: Array
) -> tuple[Array, Array]:
    """What a unit shear asks of the nodes (n,), and the flow at the first end of each wall beyond its mean (w,).

    The section's own middle and second moments are those of its lines, so that the flows close at free ends.
    """
    a, b = places[first], places[second]
    middle = (areas[:, None] * (a + b) / 2.0).sum(axis=0) / areas.sum()
    a, b = a - middle, b - middle
    tensor = np.einsum("w,wi,wj->ij", areas / 3.0, a, a) + np.einsum("w,wi,wj->ij", areas / 3.0, b, b)
    mixed = np.einsum("w,wi,wj->ij", areas / 6.0, a, b)
    slope = np.linalg.solve(tensor + mixed + mixed.T, shear)
    at_a, at_b = a @ slope, b @ slope
    loads = np.zeros(len(places))
    np.add.at(loads, first, areas * (2.0 * at_a + at_b) / 6.0)
    np.add.at(loads, second, areas * (at_a + 2.0 * at_b) / 6.0)
    return loads, areas * (2.0 * at_a + at_b) / 6.0


def _open(section: Section, graph: _Walls) -> float:
    """What walls carry each by itself, a third of length x thickness^3, and the rest of the tube's own [mm^4]."""
    alone = sum(s.width * s.carrying**3 / 3.0 for s in section.cut.strips)
    outer, inner = section.diameter / 2.0, section.diameter / 2.0 - section.wall
    exact = math.pi / 2.0 * (outer**4 - inner**4)
    round_ = [w for w in graph.walls if w[3]][: _sides(graph)]
    area = length = 0.0
    for i, j, _, _ in round_:
        (x0, z0), (x1, z1) = graph.nodes[i], graph.nodes[j]
        area += abs(x0 * z1 - x1 * z0) / 2.0
        length += math.dist(graph.nodes[i], graph.nodes[j])
    return alone + exact - 4.0 * area**2 * section.wall / length


def _sides(graph: _Walls) -> int:
    """Walls of the tube, which come first and close on the first node."""
    return next(k for k, w in enumerate(graph.walls, 1) if w[1] == 0)


def _graph(section: Section) -> tuple[_Walls, list[int]]:
    """Walls of a section, those of the tube first, and the number of each seam's link."""
    graph = _Walls()
    radius = (section.diameter - section.wall) / 2.0
    wanted: dict[str, list[float]] = {s.name: [0.0, 1.0] for s in section.cut.strips}
    strips = {s.name: s for s in section.cut.strips}
    angles = [2.0 * math.pi * k / SIDES for k in range(SIDES)]
    for seam in section.cut.seams:
        for name in (seam.first, seam.second):
            if name == TUBE:
                angles.append(_clock(seam.at))
            else:
                wanted[name].append(along(strips[name], seam.at))
    turns = _apart(angles, 2.0 * math.pi)
    ring = [graph.node((radius * math.sin(a), radius * math.cos(a))) for a in turns]
    for k, i in enumerate(ring):
        graph.wall(i, ring[(k + 1) % len(ring)], section.wall)
    made: dict[str, dict[float, int]] = {}
    for strip in section.cut.strips:
        parts = _apart(wanted[strip.name])
        made[strip.name] = {p: graph.node(_between(strip, p)) for p in parts}
        spots = list(made[strip.name].values())
        for i, j in pairwise(spots):
            graph.wall(i, j, max(strip.carrying, THIN))
    links = []
    for seam in section.cut.seams:
        ends = [
            ring[_nearest(turns, _clock(seam.at), 2.0 * math.pi)]
            if name == TUBE
            else list(made[name].values())[_nearest(list(made[name]), along(strips[name], seam.at))]
            for name in (seam.first, seam.second)
        ]
        links.append(graph.wall(ends[0], ends[1], _thinner(seam, strips, section.wall), counted=False))
    return graph, links


def _thinner(seam: Seam, strips: dict[str, Strip], wall: float) -> float:
    return min(wall if n == TUBE else max(strips[n].carrying, THIN) for n in (seam.first, seam.second))


def _clock(at: Spot) -> float:
    """Angle about the tube, 0 up and a quarter turn forward [rad]."""
    return math.atan2(at[0], at[1]) % (2.0 * math.pi)


def _between(strip: Strip, part: float) -> Spot:
    (x0, z0), (x1, z1) = strip.start, strip.end
    return x0 + part * (x1 - x0), z0 + part * (z1 - z0)


def _apart(places: list[float], round_: float = 0.0) -> list[float]:
    """The places in order, those that are the same once."""
    kept: list[float] = []
    for place in sorted(places):
        if not kept or place - kept[-1] > SAME:
            kept.append(place)
    if round_ and len(kept) > 1 and kept[0] + round_ - kept[-1] <= SAME:
        kept.pop()
    return kept


def _nearest(places: list[float], wanted: float, round_: float = 0.0) -> int:
    def away(k: int) -> float:
        gap = abs(places[k] - wanted)
        return min(gap, round_ - gap) if round_ else gap

    return min(range(len(places)), key=away)
