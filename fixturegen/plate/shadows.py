"""What a flat plate must clear where it stands on a tube or a face: shadows on the plate's plane.

A torch cuts square to the plate, so an edge must clear the tube over the whole thickness. What it must
clear is the tube, grown by the gap at the root, between the planes of both faces, seen along the plate's
normal: the ellipse of the section drawn along its long axis, two half ellipses and two lines.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from fixturegen.plate.part import Matrix, Vector

Point = tuple[float, float]

ALONG = 1e-6  # [1] cosine of the plate's normal with the tube below which the plate lies along the tube
STEEPEST = 85.0  # [deg] a plate leaning more, yet not along the tube, is no bracket on it
HALVINGS = 60  # of the interval that holds the foot on an ellipse, at most: down to the last digit
SETTLED = 1e-15  # [rad] a step toward that foot that changes nothing any more


@dataclass(frozen=True)
class Stand:
    """Where a plate stands in the frame of its tube or rail: p = rotation @ p_part + origin.

    Attributes:
        origin: Of the part frame; the tube runs along +Y through its own origin (3,) [mm].
        rotation: Rows of the rotation matrix (3, 3).
        thickness: Measured; the material lies from z = 0 to here in the part frame [mm].
    """

    origin: Vector
    rotation: Matrix
    thickness: float


@dataclass(frozen=True)
class Foot:
    """The nearest place of a shadow's edge: where, the normal that leaves the tube, and its station."""

    x: float
    y: float
    normal: Point
    station: float


@dataclass(frozen=True)
class TubeShadow:
    """The shadow of a grown tube: half ellipses about the ends of a line of `2 slide`, and two lines.

    A station runs counter-clockwise round it [rad]: a half turn for each half ellipse, and between
    them the length of the line over `long`.

    Attributes:
        x: Centre [mm].
        y: Centre [mm].
        way: Unit vector of the long axis (2,).
        long: Half the long axis of the ellipse [mm].
        short: Half the short one [mm].
        slide: Half the way the ellipse moves through the thickness [mm]; infinite for a plate along the tube.
        reach: Radius of the tube [mm].
        thickness: Of the plate [mm].
        axis: A point of the tube's axis and its direction in the part frame (2, 3) [mm, 1].
        round_: Tube-frame directions of the long and the short axis, square to the tube (2, 3); of a
            plate along the tube its normal stands for the long axis.
    """

    x: float
    y: float
    way: Point
    long: float
    short: float
    slide: float
    reach: float
    thickness: float
    axis: tuple[Vector, Vector]
    round_: tuple[Vector, Vector]

    @property
    def line(self) -> float:
        """What one of the two lines takes of the station [rad]."""
        return 2.0 * self.slide / self.long if self.slide > 0.0 else 0.0

    @property
    def turn(self) -> float:
        """The station once round [rad]."""
        return 2.0 * math.pi + 2.0 * self.line

    def at(self, station: float) -> Foot:
        """The place of the edge at a station [rad], and the normal there."""
        (x, y), (tx, ty) = self.curve()(station)
        return Foot(x, y, (ty, -tx), station % self.turn)

    def curve(self, off: float = 0.0) -> Callable[[float], tuple[Point, Point]]:
        """Station [rad] to the place there and the unit vector along the edge, as stations grow.

        Args:
            off: How far the place stands off the edge, along its normal [mm].
        """
        half, line, slide, long, short = math.pi, self.line, self.slide, self.long, self.short
        turn, (ux, uy), x0, y0 = self.turn, self.way, self.x, self.y
        cos, sin, hypot = math.cos, math.sin, math.hypot

        def place(station: float) -> tuple[Point, Point]:
            q = station % turn
            if q < half or half + line <= q < 2.0 * half + line:
                angle, middle = (q - half / 2.0, slide) if q < half else (q - line - half / 2.0, -slide)
                c, s = cos(angle), sin(angle)
                n, m = c / long, s / short
                size = hypot(n, m)
                n, m = n / size, m / size
                along, across = middle + long * c, short * s
            elif q < half + line:
                along, across, n, m = slide - (q - half) * long, short, 0.0, 1.0
            else:
                along, across, n, m = (q - 2.0 * half - line) * long - slide, -short, 0.0, -1.0
            nx, ny = n * ux - m * uy, n * uy + m * ux
            x, y = x0 + along * ux - across * uy + off * nx, y0 + along * uy + across * ux + off * ny
            return (x, y), (-ny, nx)

        return place

    def _foot(self, along: float, across: float, n: float, m: float, station: float) -> Foot:
        ux, uy = self.way
        return Foot(
            self.x + along * ux - across * uy,
            self.y + along * uy + across * ux,
            (n * ux - m * uy, n * uy + m * ux),
            station,
        )

    def _local(self, x: float, y: float) -> Point:
        dx, dy = x - self.x, y - self.y
        return dx * self.way[0] + dy * self.way[1], dy * self.way[0] - dx * self.way[1]

    def foot(self, x: float, y: float) -> Foot:
        """The place of the edge nearest to a point outside [mm]; of a point inside, one beside it."""
        along, across = self._local(x, y)
        if math.isinf(self.slide):
            side = math.copysign(1.0, across)
            return self._foot(along, side * self.short, 0.0, side, side)
        if abs(along) <= self.slide:
            top = math.pi + (self.slide - along) / self.long
            bottom = 2.0 * math.pi + self.line + (self.slide + along) / self.long
            return self.at(top if across >= 0.0 else bottom)
        angle = self._ellipse_angle(abs(along) - self.slide, abs(across))
        angle = math.copysign(angle, across)
        return self.at(angle + math.pi / 2.0 if along > 0.0 else 1.5 * math.pi + self.line - angle)

    def _ellipse_angle(self, x: float, y: float) -> float:
        """Parameter of the foot on the quarter ellipse: where the way to the point is square to it."""
        low, high, angle = 0.0, math.pi / 2.0, math.atan2(self.long * y, self.short * x)
        for _ in range(HALVINGS):
            c, s = math.cos(angle), math.sin(angle)
            right, up = x - self.long * c, y - self.short * s
            # derivative of half the squared distance, and its own
            slope = self.long * s * right - self.short * c * up
            bend = self.long * (c * right + self.long * s * s) + self.short * (s * up + self.short * c * c)
            low, high = (low, angle) if slope > 0.0 else (angle, high)
            following = angle - slope / bend if bend > 0.0 else low
            if not low < following < high:
                following = (low + high) / 2.0
            if abs(following - angle) < SETTLED:
                return following
            angle = following
        return angle

    def clearance(self, x: float, y: float) -> float:
        """Distance from the shadow to a point [mm], negative within it."""
        foot = self.foot(x, y)
        return (x - foot.x) * foot.normal[0] + (y - foot.y) * foot.normal[1]

    def openings(self, x: float, y: float) -> Point:
        """Distance from the tube's surface to a point, on the face z = 0 and on the other [mm]."""
        return self._opening(x, y, 0.0), self._opening(x, y, self.thickness)

    def _opening(self, x: float, y: float, z: float) -> float:
        (cx, cy, cz), (ax, ay, az) = self.axis
        px, py, pz = x - cx, y - cy, z - cz
        return math.hypot(py * az - pz * ay, pz * ax - px * az, px * ay - py * ax) - self.reach

    def clock(self, station: float) -> float:
        """Clock angle round the tube of what stands there, 0 at +Z and 90 at +X [deg], -180 to 180."""
        q = station % self.turn
        if math.isinf(self.slide):
            # the face nearer to the axis touches first when the axis lies beside the plate
            off = max(0.0, -self.axis[0][2]) - max(0.0, self.axis[0][2] - self.thickness)
            angle = math.copysign(math.atan2(self.short, off), station)
        elif q <= math.pi:
            angle = q - math.pi / 2.0
        else:
            angle = max(math.pi / 2.0, min(1.5 * math.pi, q - self.line - math.pi / 2.0))
        (lx, _, lz), (mx, _, mz) = self.round_
        c, s = math.cos(angle), math.sin(angle)
        return math.degrees(math.atan2(c * lx + s * mx, c * lz + s * mz))

    def station(self, clock: float) -> float:
        """Station [rad] of a clock angle [deg]; the middle of the line where the line has it.

        Raises:
            ValueError: When the plate lies along the tube.
        """
        if math.isinf(self.slide):
            raise ValueError("the plate lies along the tube, so a clock angle tells no place on it: give points")
        sx, sz = math.sin(math.radians(clock)), math.cos(math.radians(clock))
        (lx, _, lz), (mx, _, mz) = self.round_
        angle = math.atan2(sx * mx + sz * mz, sx * lx + sz * lz)
        if abs(abs(angle) - math.pi / 2.0) < 1e-9:
            return math.pi + self.line / 2.0 if angle > 0.0 else 2.0 * math.pi + 1.5 * self.line
        if abs(angle) < math.pi / 2.0:
            return angle + math.pi / 2.0
        return angle % (2.0 * math.pi) + math.pi / 2.0 + self.line

    @property
    def handed(self) -> float:
        """1 when the clock angle grows counter-clockwise in the part frame, else -1."""
        (lx, _, lz), (mx, _, mz) = self.round_
        return math.copysign(1.0, mx * lz - mz * lx)


@dataclass(frozen=True)
class FlatShadow:
    """The half plane a plate must clear that stands on a flat face: behind a line.

    Attributes:
        x: A point of the line [mm].
        y: A point of the line [mm].
        normal: Unit vector away from the face (2,).
        thickness: Of the plate [mm].
        face: Normal of the face in the part frame (3,).
        height: Of the face along that normal [mm].
    """

    x: float
    y: float
    normal: Point
    thickness: float
    face: Vector
    height: float

    def foot(self, x: float, y: float) -> Foot:
        """The place of the line nearest to a point [mm]; its station is the length along it [mm]."""
        nx, ny = self.normal
        high = self.clearance(x, y)
        # counter-clockwise round the face's steel is to the left of the normal
        return Foot(x - high * nx, y - high * ny, self.normal, (y - self.y) * nx - (x - self.x) * ny)

    def clearance(self, x: float, y: float) -> float:
        """Distance from the line to a point [mm], negative behind it."""
        return (x - self.x) * self.normal[0] + (y - self.y) * self.normal[1]

    def openings(self, x: float, y: float) -> Point:
        """Distance from the face to a point, on the plate's face z = 0 and on the other [mm]."""
        low = self.face[0] * x + self.face[1] * y - self.height
        return low, low + self.face[2] * self.thickness


def tube_shadow(stand: Stand, radius: float, gap: float) -> TubeShadow:
    """The shadow of a tube, grown by the gap, on the plane of a plate.

    Args:
        stand: Where the plate stands in the tube's frame.
        radius: Of the tube, measured [mm].
        gap: At the root [mm].

    Raises:
        ValueError: When the plate leans so far that it nearly lies along the tube, yet does not.

    Source: section of a cylinder by a plane, an ellipse with axes r and r / cos(tilt); its centre
    moves by tan(tilt) along the long axis for each millimetre of thickness (derived).
    """
    rows, t, grown = stand.rotation, stand.thickness, radius + gap
    ax, ay, az = rows[1]  # the tube's direction in the part frame
    o = stand.origin
    cx, cy, cz = (-sum(rows[i][k] * o[i] for i in range(3)) for k in range(3))
    across = math.hypot(ax, ay)
    ux, uy = (ax / across, ay / across) if across > ALONG else (1.0, 0.0)
    axis = ((cx, cy, cz), (ax, ay, az))
    # of the long and the short axis, square to the tube, in the tube's frame
    longer = tuple(rows[i][0] * ux + rows[i][1] * uy for i in range(3))
    shorter = tuple(rows[i][1] * ux - rows[i][0] * uy for i in range(3))
    length = math.hypot(longer[0], longer[2]) or 1.0
    round_ = ((longer[0] / length, 0.0, longer[2] / length), (shorter[0], 0.0, shorter[2]))
    if abs(az) < ALONG:
        round_ = ((rows[0][2], 0.0, rows[2][2]), round_[1])
        off = max(0.0, -cz, cz - t)
        if off >= grown:
            raise ValueError(f"the plate passes the tube by {off - grown:.2f} mm: it needs no saddle")
        half = math.sqrt(grown**2 - off**2)
        return TubeShadow(cx, cy, (ux, uy), math.inf, half, math.inf, radius, t, axis, round_)
    tilt = math.degrees(math.atan2(across, abs(az)))
    if tilt > STEEPEST:
        raise ValueError(
            f"the plate leans {tilt:.1f} deg on the tube: at most {STEEPEST:g} deg, or lay it along the tube"
        )
    middle = (t / 2.0 - cz) / az
    x, y = cx + middle * ax, cy + middle * ay
    slide = t / 2.0 * across / abs(az)
    return TubeShadow(x, y, (ux, uy), grown / abs(az), grown, slide, radius, t, axis, round_)


def flat_shadow(stand: Stand, normal: Vector, height: float, gap: float) -> FlatShadow:
    """The shadow of a flat face, grown by the gap, on the plane of a plate.

    Args:
        stand: Where the plate stands in the frame of the rail or plate it is welded to.
        normal: Unit vector out of the face in that frame (3,).
        height: Of the face along its normal from that frame's origin [mm].
        gap: At the root [mm].

    Raises:
        ValueError: When the plate lies flat on the face.

    Source: a plane's trace, moved by thickness times the sine of the lean (derived).
    """
    rows = stand.rotation
    nx, ny, nz = (sum(rows[i][k] * normal[i] for i in range(3)) for k in range(3))
    level = height - sum(normal[i] * stand.origin[i] for i in range(3))
    inside = math.hypot(nx, ny)
    lean = math.degrees(math.atan2(abs(nz), inside))
    if lean > STEEPEST:
        raise ValueError(f"the plate leans {lean:.1f} deg on the face: at most {STEEPEST:g} deg")
    # the lower of both faces touches first
    off = (level + gap - min(0.0, nz * stand.thickness)) / inside
    unit = (nx / inside, ny / inside)
    return FlatShadow(off * unit[0], off * unit[1], unit, stand.thickness, (nx, ny, nz), level)
