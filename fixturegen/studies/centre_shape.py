"""The centre section as bodies of revolution: numbers that its solid is drawn from, and its silhouettes.

Two kinds: about lines along the pinion (drum or bowl, ring, snout, bosses, cover, bolts) and about the axle line
(necks, tubes). What is bolted to the face is drawn with the face vertical and turned by the face angle.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.model import AxleModel
from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.threads import thread_diameter

CAST_SOCKET = 12.0  # steel of a cast tube socket round the tube [mm]
GEAR_ROOM = 10.0  # between ring gear and casting [mm]
RIB = 7.0  # what the ribs of a casting stand proud [mm]
RIB_HALF = 6.0  # half the width of such a rib [mm]
BOSS = 12.0  # radius of the steel behind the flange for each cover bolt [mm]
BOSS_DEEP = 14.0  # how far it reaches behind the flange [mm]
LIP = 10.0  # from the face to where a cover's dome begins [mm]
COVER_THICK = 4.0  # of a cover [mm]
KNOTS = 160  # of the curved part of a bowl: chords within 0.01 mm of it
ACROSS = 33  # places through the thickness of a plate that are looked at
EPS = 1e-6  # mm; on either side of a step in a profile


@dataclass(frozen=True)
class Round:
    """A body of revolution about a line along X.

    Attributes:
        name: housing, ring, cover ...
        knots: (u, radius) in growing u [mm]; u = sign * x.
        sign: Direction u runs in along X.
        y: Of its axis [mm].
        z: Of its axis [mm].
        turn: About +Y from frame A to the frame it is drawn in [deg].
        between: Stations it is cut off at (right, left) [mm]; None where it is whole.
    """

    name: str
    knots: tuple[tuple[float, float], ...]
    sign: int
    y: float
    z: float
    turn: float
    between: tuple[float, float] | None = None

    def radius(self, u: Array) -> Array:
        """At places along its axis [mm]; -1 where there is none of it."""
        us, rs = (np.array(v) for v in zip(*self.knots, strict=True))
        return np.where((u < us[0]) | (u > us[-1]), -1.0, np.interp(u, us, rs))

    @property
    def largest(self) -> float:
        """Radius [mm]."""
        return max(r for _, r in self.knots)

    def turned(self, x: Array, z: Array) -> tuple[Array, Array]:
        """Points of A in the frame it is drawn in: u along its axis, height over it [mm]."""
        c, s = math.cos(math.radians(self.turn)), math.sin(math.radians(self.turn))
        return self.sign * (x * c + z * s), z * c - x * s - self.z

    def sampled(self, low: float, high: float, height: float) -> Array:
        """Places across a plate from `low` to `high` ahead of the axle line; steps of the profile included."""
        c, s = math.cos(math.radians(self.turn)), math.sin(math.radians(self.turn))
        steps = [u + d for u, _ in self.knots if len(self.knots) < ACROSS for d in (-EPS, EPS)]
        steps += [self.knots[0][0] + EPS, self.knots[-1][0] - EPS]
        at = np.array([(self.sign * u - height * s) / c for u in steps])
        return np.sort(np.concatenate((np.linspace(low, high, ACROSS), at[(at > low) & (at < high)])))


@dataclass(frozen=True)
class Neck:
    """A body of revolution about the axle line: tube, neck or cast socket.

    Attributes:
        name: tube-left, housing ...
        ends: Right and left end [mm].
        radii: At those [mm].
    """

    name: str
    ends: tuple[float, float]
    radii: tuple[float, float]

    def radius(self, y: Array) -> Array:
        """At stations [mm]."""
        return np.interp(y, self.ends, self.radii)


def bowl_arcs(radius: float, knee: float, bottom: float) -> tuple[float, float, float, float]:
    """(depth, radius of the corner, radius of the crown, half angle of the crown [rad]) of a dished bottom [mm].

    Args:
        radius: Of the drum.
        knee: Where the bottom starts.
        bottom: Its pole.

    Source: derived; the corner is tangent to crown and drum.
    """
    depth = abs(knee - bottom)
    corner = 0.55 * min(depth, radius)
    crown = ((radius - corner) ** 2 + depth**2 - corner**2) / (2.0 * (depth - corner))
    return depth, corner, crown, math.atan2(radius - corner, crown - depth)


def bowl_knots(radius: float, front: float, knee: float, bottom: float) -> tuple[tuple[float, float], ...]:
    """(u, radius) of a drum with a dished bottom, in growing u [mm].

    A crown arc about the axis and a corner arc tangent to it and to the drum.

    Args:
        radius: Of the drum.
        front: u of its open end.
        knee: u where the bottom starts.
        bottom: u of its pole.
    """
    way = 1.0 if front > bottom else -1.0
    depth, corner, crown, a = bowl_arcs(radius, knee, bottom)
    meet = crown - crown * math.cos(a)
    down = np.unique(np.concatenate((depth * (1.0 - np.cos(np.linspace(0.0, math.pi, KNOTS))) / 2.0, [meet])))
    on_crown = np.sqrt(np.maximum(0.0, crown**2 - (crown - down) ** 2))
    on_corner = radius - corner + np.sqrt(np.maximum(0.0, corner**2 - (depth - down) ** 2))
    rho = np.where(down <= meet, on_crown, on_corner)
    found = [(bottom + way * float(d), float(r)) for d, r in zip(down, rho, strict=True)] + [(front, radius)]
    return tuple(sorted(found))


@dataclass(frozen=True)
class CentreShape:
    """Numbers of a centre section, u = sign * x with the face vertical [mm].

    Attributes:
        front: Back of the flange.
        knee: Where the dished bottom starts.
        bottom: Its pole.
        drum: Radius of drum or bowl.
        waist: Radius of the necks in the middle.
        end: Radius of the necks where the tubes begin.
    """

    front: float
    knee: float
    bottom: float
    drum: float
    waist: float
    end: float


def bowl_depth(sheet: Sheet) -> float:
    """U of a casting's pinion side, below the bore axis line [mm]."""
    return -(sheet.third_member.ring_gear_diameter / 2.0 + GEAR_ROOM)


def centre_shape(sheet: Sheet, axle: AxleModel) -> CentreShape:
    """The numbers both kinds are drawn from."""
    spec = sheet.housing
    radius, tube = spec.height / 2.0, sheet.tubes.outside_diameter / 2.0
    front = axle.face_distance - float(spec.face.flange_thickness)
    if spec.kind == "drop-out":
        back, end = float(spec.cover.projection), tube + float(spec.skin)
        waist = max(end, min(front - 2.0, 0.8 * back, 0.85 * radius))
        return CentreShape(front, -0.25 * back, -back, radius, waist, end)
    bottom, end = bowl_depth(sheet), tube + CAST_SOCKET
    waist = min(0.8 * radius, max(end, 0.75 * abs(bottom)))
    return CentreShape(front, min(front - 5.0, 0.15 * bottom), bottom, radius - RIB, waist, end)


def centre_bodies(sheet: Sheet, axle: AxleModel) -> tuple[Round | Neck, ...]:
    """Steel of the centre section that a truss may come near to: outside only, named "housing"."""
    shape, face = centre_shape(sheet, axle), sheet.housing.face
    (y, z), (low, high) = axle.face_middle, axle.section
    sign, turn = axle.face_sign, axle.table_turn
    found: list[Round | Neck] = [
        Round("housing", bowl_knots(shape.drum, shape.front, shape.knee, shape.bottom), sign, y, z, turn, (low, high)),
        Round("housing", _disc(shape.front, axle.face_distance, face.outside_diameter / 2.0), sign, y, z, turn),
        Neck("housing", (axle.bearing_middle, high), (shape.waist, shape.end)),
        Neck("housing", (low, axle.bearing_middle), (shape.end, shape.waist)),
    ]
    if sheet.housing.kind == "integral":
        ribs = bowl_knots(shape.drum + RIB, shape.front, shape.knee, shape.bottom - RIB)
        found.append(Round("housing", ribs, sign, y, z, turn, (y - RIB_HALF, y + RIB_HALF)))
        found += [
            Round("housing", _disc(shape.front - BOSS_DEEP, axle.face_distance, BOSS), sign, sy, sz, turn)
            for sy, sz in axle.studs
        ]
        found.append(_snout(sheet, axle))
    return tuple(found)


def _disc(low: float, high: float, radius: float) -> tuple[tuple[float, float], ...]:
    return (low, radius), (high, radius)


def _snout(sheet: Sheet, axle: AxleModel) -> Round:
    """Round the pinion, along X of frame A."""
    third = sheet.third_member
    nose, reach = float(third.nose_diameter), third.pinion_length - 30.0
    root = 0.62 * abs(bowl_depth(sheet))
    waist = reach - 0.35 * (reach - root)
    knots = ((root, 0.75 * nose), (waist, nose / 2.0), (reach, nose / 2.0))
    return Round("housing", knots, axle.pinion_sign, axle.face_middle[0], -float(third.pinion_below), 0.0)


def taken_off(sheet: Sheet, axle: AxleModel) -> tuple[Round, ...]:
    """What comes off the face, where it comes off: cover with bolts and sockets, or third member, straight out."""
    truss, face = sheet.truss, sheet.housing.face
    (y, z), sign, turn = axle.face_middle, axle.face_sign, axle.table_turn
    if truss is None:
        return ()
    start, pull = axle.face_distance, float(truss.pull)
    name = "cover" if sheet.housing.kind == "integral" else "third member"
    found = [Round(name, _disc(start, start + pull, face.outside_diameter / 2.0), sign, y, z, turn)]
    # the thicker of socket and washer face; a bolt's head is drawn 1.7 diameters across
    size = max(float(truss.socket), 1.7 * thread_diameter(face.studs.size)) / 2.0
    found += [Round("cover bolts", _disc(start, start + pull, size), sign, sy, sz, turn) for sy, sz in axle.studs]
    return tuple(found)


def tube_bodies(sheet: Sheet, axle: AxleModel) -> tuple[Neck, ...]:
    """Both tubes, from the centre section to their ends."""
    radius = sheet.tubes.outside_diameter / 2.0
    (low, high), (right, left) = axle.section, axle.tube_ends
    return (
        Neck("tube-right", (right, low), (radius, radius)),
        Neck("tube-left", (high, left), (radius, radius)),
    )


Outline = list[tuple[float, float]]
FLOOR = -1000.0  # far below any axle: silhouettes are filled down to here [mm]
STEP = 0.5  # along the axle between points of a curved silhouette [mm]


def along_axle(body: Round | Neck, low: float, high: float) -> list[Outline]:
    """Silhouette of a body within a plate that stands along the axle, filled downward; (station, height) [mm].

    Args:
        body: The body.
        low: Rear face of the plate ahead of the axle line [mm].
        high: Its front face [mm].
    """
    if isinstance(body, Neck):
        return _neck_along(body, 0.0 if low <= 0.0 <= high else min(abs(low), abs(high)))
    top = body.z + body.largest
    # the axis may lean: heights are looked at in the frame the body is drawn in
    xs = body.sampled(low, high, top)
    heights = body.largest * np.cos(np.linspace(0.0, math.pi / 2.0, 181))
    u, _ = body.turned(xs[None, :], (heights + body.z)[:, None])
    reach = body.radius(u) ** 2 - (heights[:, None] - _lean(body, xs)[None, :]) ** 2
    reach[body.radius(u) < 0.0] = -1.0
    best = reach.max(axis=1)
    rows = [(float(h) + body.z, math.sqrt(float(b))) for h, b in zip(heights, best, strict=True) if b > 0.0]
    if not rows:
        return []
    crest = _crest(body, xs)
    right = [(body.y - w, h) for h, w in reversed(rows)]
    left = [(body.y + w, h) for h, w in rows]
    line = [*right, (body.y, crest), *left]
    return [_cut([(line[0][0], FLOOR), *line, (line[-1][0], FLOOR)], body.between)]


def behind_axle(body: Round, way: int, half: float) -> list[Outline]:
    """Silhouette of a body within a level plate about the axle line, filled toward the axle; (station, distance).

    Args:
        body: The body.
        way: +1 or -1: the side along X the plate stands on.
        half: Half the plate's thickness [mm].
    """
    toward = way * body.sign
    off = max(0.0, abs(body.z) - half)
    knots = [(toward * u, math.sqrt(r**2 - off**2)) for u, r in body.knots if r > off]
    # the axis leans with the face: within the plate's thickness that moves nothing by more than this
    knots = sorted((u + half * abs(math.sin(math.radians(body.turn))), w) for u, w in knots)
    if not knots or knots[-1][0] <= 0.0:
        return []
    widest, rows = 0.0, []
    for u, w in reversed(knots):  # from the pole inward: what is hidden behind wider steel does not count
        widest = max(widest, w)
        rows.append((u, widest))
    line = [(body.y - w, u) for u, w in reversed(rows)] + [(body.y + w, u) for u, w in rows]
    return [_cut([(line[0][0], FLOOR), *line, (line[-1][0], FLOOR)], body.between)]


def _lean(body: Round, xs: Array) -> Array:
    """Height of a leaning axis over that of its origin at places along X, in A [mm]."""
    return np.asarray(xs * math.tan(math.radians(body.turn)))


def _crest(body: Round, xs: Array) -> float:
    """Highest point of a body within a plate, over the axle line [mm]."""
    z = np.full_like(xs, body.z + body.largest)
    for _ in range(4):  # the axis leans by a degree or so: it settles at once
        u, _ = body.turned(xs, z)
        r = body.radius(u)
        z = np.where(r >= 0.0, body.z + _lean(body, xs) + np.maximum(r, 0.0), FLOOR)
        if not (r >= 0.0).any():
            return FLOOR
        z = np.where(z > FLOOR, z, body.z)
    return float(z.max())


def _cut(outline: Outline, between: tuple[float, float] | None) -> Outline:
    if between is None:
        return outline
    from shapely.geometry import Polygon, box

    cut = Polygon(outline).intersection(box(between[0], 2.0 * FLOOR, between[1], -FLOOR))
    return [(float(x), float(y)) for x, y in cut.exterior.coords[:-1]] if not cut.is_empty else []


def _neck_along(body: Neck, off: float) -> list[Outline]:
    y0, y1 = body.ends
    count = 2 if body.radii[0] == body.radii[1] else max(2, math.ceil((y1 - y0) / STEP))
    ys = np.linspace(y0, y1, count)
    left = body.radius(ys) ** 2 - off**2
    line = [(float(y), math.sqrt(float(v))) for y, v in zip(ys, left, strict=True) if v > 0.0]
    return [[(line[0][0], FLOOR), *line, (line[-1][0], FLOOR)]] if len(line) > 1 else []


def across_axle(body: Round | Neck, right: float, left: float, xs: Array) -> Array:
    """Heights of a body within a plate across the axle, over places ahead of the axle line; -inf beside it [mm].

    Args:
        body: The body.
        right: Right face of the plate [mm].
        left: Left face [mm].
        xs: Places ahead of the axle line [mm].
    """
    if isinstance(body, Neck):
        a, b = max(right, body.ends[0]), min(left, body.ends[1])
        if a >= b:
            return np.full_like(xs, -np.inf)
        radius = float(body.radius(np.array([a, b])).max())
        return np.where(np.abs(xs) < radius, np.sqrt(np.maximum(0.0, radius**2 - xs**2)), -np.inf)
    low, high = body.between or (-math.inf, math.inf)
    a, b = max(right, low), min(left, high)
    if a >= b:
        return np.full_like(xs, -np.inf)
    off = 0.0 if a <= body.y <= b else min(abs(a - body.y), abs(b - body.y))
    z = np.full_like(xs, body.z + body.largest)
    for _ in range(4):
        u, _ = body.turned(xs, z)
        r = body.radius(u)
        z = body.z + _lean(body, xs) + np.sqrt(np.maximum(0.0, np.maximum(r, 0.0) ** 2 - off**2))
    return np.where(r > off, z, -np.inf)


def first_pairs(values: Array) -> tuple[tuple[int, int], ...]:
    """Numbers (first, last) of stretches of finite values in a row."""
    good = np.isfinite(values)
    edges = np.flatnonzero(np.diff(np.concatenate(([False], good, [False])).astype(int)))
    return tuple((int(a), int(b) - 1) for a, b in pairwise(edges) if good[int(a)])
