"""Where each point of a flat blank lies once it is bent: faces, bend zones, and the way back.

A face of the blank stays flat; a bend zone, the strip a bend takes up, becomes part of a cylinder.
The face that the origin of the part frame touches stays where it is, else the largest.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from fixturegen.errors import GeometryFault
from fixturegen.plate.part import IDENTITY, Bend, Matrix, Part, Profile, Vector
from fixturegen.plate.profile import hole_loop, polyline

if TYPE_CHECKING:
    from shapely.geometry import Polygon

Point = tuple[float, float]

CHORD = 0.005  # [mm] arcs are told apart from zones to this; faces themselves stay exact
BESIDE = 0.02  # [mm] how far beyond the end of a zone there must be no steel
SLIVER = 1e-6  # [mm2] an area no larger is none
ON = 1e-6  # [mm] a point so near a zone or face belongs to it


@dataclass(frozen=True)
class Zone:
    """The strip of the blank a bend takes up, seen from the face that stays put.

    Attributes:
        bend: The bend.
        start: Middle of the tangent line on the fixed side [mm].
        way: Unit vector in the flat from there to the bent side.
        half: Half the length of the bend line [mm].
    """

    bend: Bend
    start: Point
    way: Point
    half: float

    @property
    def along(self) -> Point:
        """Unit vector along the bend line, square to `way`, to its left."""
        return -self.way[1], self.way[0]

    def at(self, across: float, along: float) -> Point:
        """The point of the flat so far beyond the tangent line and along it [mm]."""
        (x, y), (a, b) = self.start, self.way
        return x + across * a - along * b, y + across * b + along * a

    def within(self, x: float, y: float) -> tuple[float, float] | None:
        """(across, along) [mm] of a point of the flat that lies in the zone, else None."""
        dx, dy = x - self.start[0], y - self.start[1]
        across = dx * self.way[0] + dy * self.way[1]
        along = dy * self.way[0] - dx * self.way[1]
        inside = -ON <= across <= self.bend.allowance + ON and abs(along) <= self.half + ON
        return (across, along) if inside else None

    def corners(self) -> tuple[Point, Point, Point, Point]:
        """The zone's corners in the flat, counter-clockwise [mm]."""
        a, h = self.bend.allowance, self.half
        return self.at(0.0, -h), self.at(a, -h), self.at(a, h), self.at(0.0, h)


@dataclass(frozen=True)
class Pose:
    """Where a face goes: p_bent = rotation @ p_flat + origin [mm]."""

    rotation: Matrix = IDENTITY
    origin: Vector = (0.0, 0.0, 0.0)

    def point(self, p: Vector) -> Vector:
        """Where a point goes (3,) [mm]."""
        x, y, z = (sum(r[i] * p[i] for i in range(3)) + o for r, o in zip(self.rotation, self.origin, strict=True))
        return x, y, z

    def back(self, p: Vector) -> Vector:
        """Where a point comes from (3,) [mm]."""
        d = [p[i] - self.origin[i] for i in range(3)]
        x, y, z = (sum(self.rotation[i][k] * d[i] for i in range(3)) for k in range(3))
        return x, y, z

    def after(self, first: Pose) -> Pose:
        """The pose that comes of `first` and then this one."""
        columns = [tuple(row[k] for row in first.rotation) for k in range(3)]
        a, b, c = ((_dot(row, columns[0]), _dot(row, columns[1]), _dot(row, columns[2])) for row in self.rotation)
        return Pose((a, b, c), self.point(first.origin))


@dataclass(frozen=True)
class Face:
    """A face between bends.

    Attributes:
        pose: Where it goes.
        inner: A point of it that lies in no opening [mm].
        area: Of the finished face, arcs taken as chords [mm2].
        outline: Points round it [mm], for telling what lies on it.
    """

    pose: Pose
    inner: Point
    area: float
    outline: tuple[Point, ...]


@dataclass(frozen=True)
class Folded:
    """A blank with all its bends made.

    Attributes:
        thickness: Of the plate [mm].
        faces: Faces; the first stays where it is.
        zones: A zone for each bend, in the order of bending.
        poses: Of the fixed side of each zone.
        sides: (fixed face, bent face) of each zone, as numbers of `faces`.
    """

    thickness: float
    faces: tuple[Face, ...]
    zones: tuple[Zone, ...]
    poses: tuple[Pose, ...]
    sides: tuple[tuple[int, int], ...]

    def point(self, x: float, y: float, z: float) -> Vector:
        """Where a point of the flat lies when bent (3,) [mm].

        Args:
            x: In the flat [mm].
            y: In the flat [mm].
            z: Through the plate, 0 to its thickness (the marked face) [mm].

        Raises:
            GeometryFault: When the point lies on no face and in no bend.
        """
        for zone, pose in zip(self.zones, self.poses, strict=True):
            found = zone.within(x, y)
            if found is not None:
                return pose.point(rolled(zone, self.thickness, *found, z))
        for face in self.faces:
            if _on(face.outline, (x, y)):
                return face.pose.point((x, y, z))
        raise GeometryFault("bent part", f"({x:.2f}, {y:.2f}) mm lies beside the blank", "give a point of the blank")

    def flat(self, p: Vector) -> Vector:
        """Where a point of the bent part lay in the flat (3,) [mm].

        Raises:
            GeometryFault: When the point is not of the bent part.
        """
        t = self.thickness
        for zone, pose in zip(self.zones, self.poses, strict=True):
            found = unrolled(zone, t, pose.back(p))
            if found is not None:
                return found
        for face in self.faces:
            x, y, z = face.pose.back(p)
            if -ON <= z <= t + ON and _on(face.outline, (x, y)):
                return x, y, z
        words = f"({p[0]:.3f}, {p[1]:.3f}, {p[2]:.3f}) mm is no point of it"
        raise GeometryFault("bent part", words, "give a point of the bent steel")

    def closed_volume(self, area: float) -> float:
        """Volume by closed form [mm3]: faces times thickness, and a piece of a ring for each bend.

        Args:
            area: Of the finished flat, openings taken out, exactly [mm2].

        Source: geometry, sector of a ring; derived.
        """
        t = self.thickness
        strips = sum(z.bend.allowance * 2.0 * z.half for z in self.zones)
        rings = sum(
            math.radians(z.bend.angle) / 2.0 * ((z.bend.radius + t) ** 2 - z.bend.radius**2) * 2.0 * z.half
            for z in self.zones
        )
        return (area - strips) * t + rings


def rolled(zone: Zone, thickness: float, across: float, along: float, z: float) -> Vector:
    """Where a point of a zone goes when its fixed side lies flat (3,) [mm].

    The flat length is spread evenly over the angle; a line square to the plate stays square to it.
    """
    turn = across / zone.bend.allowance * math.radians(zone.bend.angle)
    r = zone.bend.radius
    if zone.bend.up:
        far, height = (thickness + r - z) * math.sin(turn), thickness + r - (thickness + r - z) * math.cos(turn)
    else:
        far, height = (r + z) * math.sin(turn), (r + z) * math.cos(turn) - r
    return (*zone.at(far, along), height)


def unrolled(zone: Zone, thickness: float, p: Vector) -> Vector | None:
    """The way back of `rolled`; None when the point lies outside the zone (3,) [mm]."""
    r = zone.bend.radius
    dx, dy = p[0] - zone.start[0], p[1] - zone.start[1]
    far, along = dx * zone.way[0] + dy * zone.way[1], dy * zone.way[0] - dx * zone.way[1]
    up = thickness + r - p[2] if zone.bend.up else p[2] + r
    out, turn = math.hypot(far, up), math.atan2(far, up)
    z = thickness + r - out if zone.bend.up else out - r
    across = turn / math.radians(zone.bend.angle) * zone.bend.allowance
    if not (-ON <= z <= thickness + ON and -ON <= across <= zone.bend.allowance + ON):
        return None
    return (*zone.at(across, along), z) if abs(along) <= zone.half + ON else None


def beyond(zone: Zone, thickness: float) -> Pose:
    """Where the bent side goes when the fixed side lies flat."""
    a, b = zone.way
    theta = math.radians(zone.bend.angle)
    c, s = math.cos(theta), math.sin(theta) * (1.0 if zone.bend.up else -1.0)
    # way goes to c way + s up, up to c up - s way, and the line along the bend stays
    rotation: Matrix = (
        (c * a * a + b * b, (c - 1.0) * a * b, -s * a),
        ((c - 1.0) * a * b, c * b * b + a * a, -s * b),
        (s * a, s * b, c),
    )
    height = thickness + zone.bend.radius if zone.bend.up else -zone.bend.radius
    moved = Pose(rotation).point((*zone.at(zone.bend.allowance, 0.0), height))
    axis = (*zone.start, height)
    return Pose(rotation, (axis[0] - moved[0], axis[1] - moved[1], axis[2] - moved[2]))


def folded(part: Part) -> Folded:
    """The part with all its bends made.

    Raises:
        GeometryFault: When a bend cannot be made as drawn: it crosses an opening, does not run to
            free edges, meets another bend, or has no length.
    """
    from shapely.geometry import Polygon
    from shapely.ops import unary_union

    profile = part.profile
    if profile is None or not part.bends or part.thickness <= 0.0:
        raise GeometryFault(part.name, "it has no flat, no bends or no thickness", "give all three")
    zones = [_bare_zone(part, i, b) for i, b in enumerate(part.bends, 1)]
    steel = _steel(profile)
    strips = [Polygon(z.corners()) for z in zones]
    for i, strip in enumerate(strips):
        _demand_free(part, i, zones[i], strip, steel, strips[:i])
    left = steel.difference(unary_union([s.buffer(ON, join_style="mitre") for s in strips]))
    pieces = sorted((g for g in getattr(left, "geoms", [left]) if g.area > SLIVER), key=lambda g: g.bounds)
    return _tree(part, zones, pieces)


def _steel(profile: Profile) -> Polygon:
    from shapely.geometry import Polygon

    openings = [*profile.inner, *(hole_loop(h) for h in profile.holes)]
    outline = Polygon(polyline(profile.outer, CHORD))
    for loop in openings:
        outline = outline.difference(Polygon(polyline(loop, CHORD)))
    return outline


def _bare_zone(part: Part, number: int, bend: Bend) -> Zone:
    long = math.hypot(bend.x1 - bend.x0, bend.y1 - bend.y0)
    numbers = (long, bend.allowance, bend.radius, bend.angle)
    if not all(math.isfinite(n) and n > 0.0 for n in numbers) or bend.angle >= 180.0:
        raise GeometryFault(
            part.name,
            f"bend {number} has length {long:g}, flat length {bend.allowance:g}, inside radius {bend.radius:g} mm "
            f"and angle {bend.angle:g} deg",
            "give positive ones, the angle under 180 deg",
        )
    ux, uy = (bend.x1 - bend.x0) / long, (bend.y1 - bend.y0) / long
    way = (uy, -ux)
    mid, half = ((bend.x0 + bend.x1) / 2.0, (bend.y0 + bend.y1) / 2.0), bend.allowance / 2.0
    return Zone(bend, (mid[0] - half * way[0], mid[1] - half * way[1]), way, long / 2.0)


def _demand_free(part: Part, i: int, zone: Zone, strip: Any, steel: Any, before: list[Any]) -> None:
    from shapely.geometry import Polygon

    width = zone.bend.allowance
    for k, other in enumerate(before, 1):
        if strip.intersection(other).area > SLIVER:
            words = f"bends {k} and {i + 1} run into each other: each takes up {width:.2f} mm of the flat"
            raise GeometryFault(part.name, words, "set them farther apart, or make the radius smaller")
    for hole in part.profile.holes if part.profile else ():
        if strip.intersects(Polygon(polyline(hole_loop(hole), CHORD))):
            words = (
                f"bend {i + 1} crosses the hole {hole.label or hole.purpose.value!r} at ({hole.x:.2f}, {hole.y:.2f})"
            )
            raise GeometryFault(part.name, f"{words} mm", "move the hole off the bend, or drill it after bending")
    missing = strip.difference(steel).area
    if missing > ON * (zone.half + width):
        words = f"bend {i + 1} crosses a cut-out or an edge: {missing:.2f} mm2 of what it takes up is no steel"
        raise GeometryFault(part.name, words, f"keep {width / 2.0:.2f} mm on each side of its line whole and square")
    for end in (-1.0, 1.0):
        h, far = end * zone.half, end * (zone.half + BESIDE)
        ring = [zone.at(0.0, h), zone.at(width, h), zone.at(width, far), zone.at(0.0, far)]
        if Polygon(ring).intersection(steel).area > ON * width:
            x, y = zone.at(width / 2.0, h)
            words = f"bend {i + 1} does not run to a free edge at ({x:.2f}, {y:.2f}) mm"
            t, r = part.thickness, zone.bend.radius
            remedy = f"cut a relief there, {t:.2f} mm wide and {t + r:.2f} mm past the bend line, or lengthen the line"
            raise GeometryFault(part.name, words, remedy)


def _tree(part: Part, zones: list[Zone], pieces: list[Any]) -> Folded:
    """Faces in their places: from the fixed one outward, each bend carries what hangs on it."""
    beside = [(_facing(z, pieces, -1.0), _facing(z, pieces, 1.0)) for z in zones]
    if len(pieces) != len(zones) + 1 or any(a == b or a < 0 or b < 0 for a, b in beside):
        words = f"{len(zones)} bends part the flat into {len(pieces)} faces instead of {len(zones) + 1}"
        raise GeometryFault(part.name, words, "let each bend line run from free edge to free edge")
    first = _fixed(pieces)
    poses: dict[int, Pose] = {first: Pose()}
    turned: dict[int, tuple[Zone, Pose, tuple[int, int]]] = {}
    while len(turned) < len(zones):
        ready = [i for i, (a, b) in enumerate(beside) if i not in turned and (a in poses or b in poses)]
        if not ready:
            raise GeometryFault(part.name, "its faces do not all hang together", "check its bend lines")
        for i in ready:
            a, b = beside[i]
            zone = zones[i] if a in poses else _about(zones[i])
            fixed, bent = (a, b) if a in poses else (b, a)
            pose = poses[fixed]
            poses[bent] = pose.after(beyond(zone, part.thickness))
            turned[i] = (zone, pose, (fixed, bent))
    order = [first, *(n for n in range(len(pieces)) if n != first)]
    faces = tuple(_face(pieces[n], poses[n]) for n in order)
    sides = tuple((order.index(turned[i][2][0]), order.index(turned[i][2][1])) for i in range(len(zones)))
    in_order = [turned[i] for i in range(len(zones))]
    return Folded(part.thickness, faces, tuple(z for z, _, _ in in_order), tuple(p for _, p, _ in in_order), sides)


def _facing(zone: Zone, pieces: list[Any], side: float) -> int:
    """Number of the face along the zone on one side: -1 before its tangent line, 1 beyond."""
    from shapely.geometry import LineString

    across = -BESIDE if side < 0.0 else zone.bend.allowance + BESIDE
    line = LineString([zone.at(across, -zone.half), zone.at(across, zone.half)])
    shared = [line.intersection(piece).length for piece in pieces]
    return shared.index(max(shared)) if shared and max(shared) > BESIDE else -1


def _about(zone: Zone) -> Zone:
    """The zone seen from its other side."""
    return Zone(zone.bend, zone.at(zone.bend.allowance, 0.0), (-zone.way[0], -zone.way[1]), zone.half)


def _fixed(pieces: list[Any]) -> int:
    from shapely.geometry import Point as Dot
    from shapely.geometry import Polygon

    at = [i for i, p in enumerate(pieces) if Polygon(p.exterior).distance(Dot(0.0, 0.0)) <= BESIDE]
    return at[0] if at else max(range(len(pieces)), key=lambda i: (round(pieces[i].area, 3), -i))


def _face(piece: Any, pose: Pose) -> Face:
    inner = piece.representative_point()
    outline = tuple((float(x), float(y)) for x, y in piece.exterior.coords[:-1])
    return Face(pose, (float(inner.x), float(inner.y)), float(piece.area), outline)


def _on(outline: tuple[Point, ...], at: Point) -> bool:
    from shapely.geometry import Point as Dot
    from shapely.geometry import Polygon

    return bool(Polygon(outline).distance(Dot(at)) <= 2.0 * CHORD)


def _dot(a: tuple[float, ...], b: tuple[float, ...]) -> float:
    return sum(p * q for p, q in zip(a, b, strict=True))
