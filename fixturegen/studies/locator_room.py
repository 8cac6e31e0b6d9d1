"""What stands round a locator on the table, told roughly, so that a place for it can be searched in numbers.

Claims look at the true solids afterwards; here a body is a cylinder or a box round it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.model import AxleModel
from fixturegen.errors import GeometryFault, InputFault
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.jig_records import BEAD_ROOM, JigPlan
from fixturegen.studies.table_room import FOOT_EDGE

ROOM = 6.0  # kept from everything that stands on the table or the axle [mm] (common practice, no source)
END_OVER = 16.0  # end check disc or flange over the tube, in radius [mm]
FLANGE_SHARE = 0.26  # half a bearing flange over the brake's diameter, as it is drawn [1]
END_CHECK = 70.0  # an end check and its hub stand so far beyond the tube [mm]
HORN = 0.25 * 25.4  # a cradle's horns end so far below the axle line [mm]
CRADLE_HALF = 24.0  # a cradle's sides stand this far from its middle, on the inside [mm]
FOOT = 0.7  # a truss begins so far off the axle line, in radii of the tube [1]
SLICES = 4  # boxes to a length of it that slopes
Flat = tuple[float, float, float, float]


@dataclass(frozen=True)
class Bulk:
    """A box, or a cylinder along Y, that steel must keep out of, frame T.

    Attributes:
        name: What it is.
        low: Least x, y, z [mm].
        high: Most x, y, z [mm].
        radius: Of a cylinder about the axle line [mm]; 0 for a box.
    """

    name: str
    low: tuple[float, float, float]
    high: tuple[float, float, float]
    radius: float = 0.0

    def meets(self, points: Array, room: float = ROOM) -> bool:
        """Whether any of the points, shape (n, 3) [mm], stands in it or nearer than `room` [mm]."""
        low, high = np.array(self.low) - room, np.array(self.high) + room
        if self.radius:
            middle = (np.array(self.low) + np.array(self.high)) / 2.0
            along = (points[:, 1] >= low[1]) & (points[:, 1] <= high[1])
            far = np.hypot(points[:, 0] - middle[0], points[:, 2] - middle[2])
            return bool(np.any(along & (far < self.radius + room)))
        return bool(np.any(np.all((points >= low) & (points <= high), axis=1)))


def bulks_of(sheet: Sheet, axle: AxleModel, plan: JigPlan) -> tuple[Bulk, ...]:
    """Everything that stands on the table with the axle in its jig."""
    h = plan.height
    found = [_tube(sheet, axle, h, side) for side in (0, 1)]
    found.append(_housing(sheet, axle, plan))
    stand, *feet = bases_of(plan)
    found.append(Bulk("face stand", (stand[0], stand[2], 0.0), (stand[1], stand[3], plan.stand_thickness)))
    x0, x1 = sorted((plan.x(plan.stand.face_plate[0]), plan.x(plan.stand.foot)))
    middle, wide = axle.face_middle[0], plan.stand.width
    found.append(Bulk("face stand", (x0, middle - wide, 0.0), (x1, middle + wide, h + plan.stand.top)))
    for (x0, x1, y0, y1), cradle in zip(feet, plan.cradles, strict=True):
        half = CRADLE_HALF + plan.stand_thickness
        found.append(Bulk(f"{cradle.side} cradle", (x0, y0, 0.0), (x1, y1, plan.stand_thickness)))
        found.append(
            Bulk(f"{cradle.side} cradle", (x0, cradle.station - half, 0.0), (x1, cradle.station + half, h - HORN))
        )
    found += _truss(sheet, axle, h)
    if not axle.front:
        found += [_end(sheet, axle, h, side) for side in (0, 1)]
    if plan.clock is not None and plan.tie is not None:
        far = plan.tie.radius + 60.0
        for knuckle in axle.knuckles:
            inner = abs(knuckle.weld_station) - BEAD_ROOM
            ends = sorted((np.sign(knuckle.weld_station) * inner, np.sign(knuckle.weld_station) * 2000.0))
            found.append(Bulk(f"{knuckle.side} knuckle", (-far, ends[0], 0.0), (far, ends[1], h + far)))
        r = plan.tie.diameter
        found.append(Bulk("tie", (-r, -2000.0, h + plan.tie.radius - r), (r, 2000.0, h + plan.tie.radius + r)))
    return tuple(found)


def _tube(sheet: Sheet, axle: AxleModel, height: float, side: int) -> Bulk:
    radius = float(sheet.tubes.outside_diameter) / 2.0
    y0, y1 = sorted((axle.section[side], axle.tube_ends[side]))
    name = f"{'left' if side else 'right'} axle tube"
    return Bulk(name, (-radius, y0, height - radius), (radius, y1, height + radius), radius)


def _truss(sheet: Sheet, axle: AxleModel, height: float) -> list[Bulk]:
    """Boxes round the truss, as high as it is there: it is on the axle before brackets are; none that it cannot be."""
    if sheet.truss is None:
        return []
    from fixturegen.studies.truss_plan import outer_faces, roof_of

    try:
        roof = roof_of(sheet, axle)
    except (GeometryFault, InputFault):
        return []  # TRS-01 says why
    brace, (rear, front) = sheet.truss.form == "back-brace", outer_faces(sheet)
    foot = float(sheet.tubes.outside_diameter) / 2.0 * FOOT
    found = []
    for (y0, z0), (y1, z1) in pairwise(roof):
        count = 1 if z0 == z1 else SLICES
        for k in range(count):
            low, high = (y0 + (y1 - y0) * j / count for j in (k, k + 1))
            up = max(z0 + (z1 - z0) * j / count for j in (k, k + 1))
            if brace:
                x0, x1 = sorted((-axle.face_sign * foot, -axle.face_sign * up))
                half = float(sheet.truss.plate) / 2.0
                found.append(Bulk("back brace", (x0, low, height - half), (x1, high, height + half)))
            else:
                found.append(Bulk("truss", (rear, low, height + foot), (front, high, height + up)))
    return found


def _end(sheet: Sheet, axle: AxleModel, height: float, side: int) -> Bulk:
    """Flange and check disc at the end of a rear tube; as wide as the axle's solids have it."""
    tube = float(sheet.tubes.outside_diameter) / 2.0
    reach = max(tube + END_OVER, FLANGE_SHARE * float(sheet.wheel_ends.brake_diameter))
    end, thick = axle.tube_ends[side], float(sheet.wheel_ends.end_flange_thickness)
    way = 1.0 if side else -1.0
    y0, y1 = sorted((end - way * thick, end + way * END_CHECK))
    return Bulk(f"{'left' if side else 'right'} end flange", (-reach, y0, height - reach), (reach, y1, height + reach))


def _housing(sheet: Sheet, axle: AxleModel, plan: JigPlan) -> Bulk:
    half = float(sheet.housing.height) / 2.0
    face = plan.x(axle.face_distance)
    other = -plan.face_sign * max(half, float(sheet.housing.cover.projection) if sheet.housing.cover else half)
    x0, x1 = sorted((face, other))
    return Bulk("centre section", (x0, axle.section[0], plan.height - half), (x1, axle.section[1], plan.height + half))


def bases_of(plan: JigPlan) -> tuple[Flat, Flat, Flat]:
    """(x from, x to, y from, y to) of the bases of stand, left and right cradle [mm]."""
    stand = plan.stand
    x0, x1 = sorted(plan.x(u) for u in stand.base[:2])
    found = [(x0, x1, stand.base[2], stand.base[3])]
    for cradle in plan.cradles:
        (a, y), (b, _) = cradle.holes
        low = min(cradle.station - cradle.half_width, y - FOOT_EDGE)
        high = max(cradle.station + cradle.half_width, y + FOOT_EDGE)
        found.append((min(a, b) - FOOT_EDGE, max(a, b) + FOOT_EDGE, low, high))
    return found[0], found[1], found[2]


def flats_meet(a: Flat, b: Flat, room: float = ROOM) -> bool:
    """Whether two rectangles on the table stand nearer than `room` [mm]."""
    return a[0] - room < b[1] and b[0] - room < a[1] and a[2] - room < b[3] and b[2] - room < a[3]


def met(points: Array, bulks: Iterable[Bulk], room: float = ROOM) -> str:
    """Name of the first body that any of the points, shape (n, 3) [mm], stands in; empty for none."""
    return next((b.name for b in bulks if b.meets(points, room)), "")


def swept(points: Array, way: Array, travel: float, step: float = 10.0) -> Array:
    """The points on their way, shape (n, 3) [mm]."""
    return np.concatenate([points + d * way for d in np.arange(0.0, travel + step, step)])


def filled(corners: tuple[tuple[float, float], ...], step: float = 8.0) -> Array:
    """Points (x, y) all over a convex polygon, edges included, shape (n, 2) [mm]."""
    c = np.array(corners)
    (x0, y0), (x1, y1) = c.min(axis=0).tolist(), c.max(axis=0).tolist()
    grid = np.stack(np.meshgrid(np.arange(x0, x1 + step, step), np.arange(y0, y1 + step, step)), axis=-1).reshape(-1, 2)
    inside = np.ones(len(grid), dtype=bool)
    rim = []
    for a, b in pairwise([*c, c[0]]):
        inside &= (b[0] - a[0]) * (grid[:, 1] - a[1]) - (b[1] - a[1]) * (grid[:, 0] - a[0]) >= -1e-9
        n = max(2, int(np.hypot(*(b - a)) / step) + 1)
        rim.append(a + np.linspace(0.0, 1.0, n)[:, None] * (b - a))
    return np.concatenate([grid[inside], *rim])
