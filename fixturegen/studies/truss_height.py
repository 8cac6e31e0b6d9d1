"""How high a truss is: as given, as the space above allows at full bump, or as the loads ask."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from fixturegen.axle.model import AxleModel
from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.specs.clearance import BoxInTheWay, RailInTheWay
from fixturegen.studies.centre_shape import Neck, across_axle, centre_bodies

Faces = tuple[tuple[float, float], ...]
MIN_WEB = 3.0
"""Least height of a side plate over the housing, in its own thicknesses: less is no web (common practice)."""
FOOT = 1.0  # mm; boxes are taken larger by this
PLACES = 12.7  # along the axle between places that are looked at [mm]


def height_of(sheet: Sheet, axle: AxleModel, ends: tuple[float, float], faces: Faces, top: float) -> tuple[float, str]:
    """Height of the top above the axle line [mm], and where it comes from.

    Args:
        sheet: The build sheet; it has [truss].
        axle: The axle.
        ends: Right and left end of the truss [mm].
        faces: Rear and front face of both side plates [mm].
        top: Thickness of the top plate [mm].
    """
    truss = sheet.truss
    if truss is None:
        raise ValueError("no truss on the sheet")
    if truss.knees:
        return max(float(k.height) for k in truss.knees), "as given by truss.knees"
    if truss.height is not None:
        return float(truss.height), "as given by truss.height"
    crest, radius = crest_of(sheet, axle, ends, faces), sheet.tubes.outside_diameter / 2.0
    tallest = max(radius, crest) + float(truss.most)
    room, name, _ = min(space_above(boxes_above(sheet, axle), ends, faces), default=(math.inf, "", 0.0))
    words = "truss.most over tube and housing" if tallest <= room else f"the {name} above, at full bump"
    height = min(tallest, room)
    if truss.height_by == "strength":
        from fixturegen.studies.truss_strength_height import height_for_loads

        asked = height_for_loads(sheet, axle, faces, top, crest + MIN_WEB * (faces[0][1] - faces[0][0]) + top)
        if asked is not None and asked < height:
            return asked, "no taller than the loads of [loads] ask"
    return height, words


def crest_of(sheet: Sheet, axle: AxleModel, ends: tuple[float, float], faces: Faces) -> float:
    """Highest steel of the centre section under the truss, over the axle line [mm]."""
    import numpy as np

    xs = np.linspace(faces[0][0], faces[1][1], 65)
    low, high = max(ends[0], axle.section[0]), min(ends[1], axle.section[1])
    if low >= high:
        return 0.0
    found = [across_axle(b, low, high, xs).max() for b in centre_bodies(sheet, axle) if not isinstance(b, Neck)]
    found += [max(b.radii) for b in centre_bodies(sheet, axle) if isinstance(b, Neck)]
    return float(max(found, default=0.0))


@dataclass(frozen=True)
class Above:
    """The underside of a box of the frame at full bump, in the axle's frame.

    Attributes:
        name: Of the box.
        x: From and to, forward in the vehicle [mm].
        y: From and to, left [mm].
        low: Its underside in the vehicle, less bump and the gap wanted [mm].
        row: Third row of the rotation from A to V.
        rise: Height of the axle line in the vehicle [mm].
        ahead: First row of that rotation, and the axle line's place forward [mm].
    """

    name: str
    x: tuple[float, float]
    y: tuple[float, float]
    low: float
    row: tuple[float, float]
    rise: float
    ahead: tuple[float, float, float]

    def room(self, x: float, y: float) -> float:
        """Height above the axle line that is free at a place of the axle [mm]; infinite beside the box."""
        z = (self.low - self.rise - self.row[0] * x) / self.row[1]
        forward = self.ahead[2] + self.ahead[0] * x + self.ahead[1] * z
        inside = self.x[0] - FOOT <= forward <= self.x[1] + FOOT and self.y[0] - FOOT <= y <= self.y[1] + FOOT
        return z if inside else math.inf


def _sides(one: BoxInTheWay | RailInTheWay) -> tuple[tuple[float, float], tuple[float, float], float]:
    """(from, to) forward and left, and the underside, of a box, or of a box round a rail [mm]."""
    if isinstance(one, BoxInTheWay):
        (x0, x1), (y0, y1) = (sorted(float(v) for v in axis) for axis in (one.x, one.y))
        return (x0, x1), (y0, y1), min(float(v) for v in one.z)
    ends = list(zip(*((float(v) for v in p) for p in (one.begin, one.end)), strict=True))
    half = float(one.width) / 2.0
    low = min(ends[2]) - float(one.height) / 2.0
    return (min(ends[0]), max(ends[0])), (min(ends[1]) - half, max(ends[1]) + half), low


def boxes_above(sheet: Sheet, axle: AxleModel) -> tuple[Above, ...]:
    """Boxes and rails of [clearance] on the frame that stand above the axle's tubes at ride.

    The axle is lifted straight up by [links] bump with the pinion angle it has at ride; `clear` asks again with
    the true pose. Wanted gap: `clearance.moving`, of a box that gives `clearance.flex`, or its own.
    """
    from fixturegen.studies.link_inputs import stance_of

    given = sheet.clearance
    if given is None:
        return ()
    stance = stance_of(sheet, axle)
    turn, origin = stance.rotation, stance.origin
    bump = 0.0 if sheet.links is None else float(sheet.links.bump)
    over = float(origin[2]) + sheet.tubes.outside_diameter / 2.0
    found = []
    listed: list[BoxInTheWay | RailInTheWay] = [*given.boxes, *given.rails]
    for one in listed:
        (x0, x1), (y_low, y_high), under = _sides(one)
        if one.rides != "frame" or under < over:
            continue  # what stands beside the axle or below it is the matter of `clear`
        gap = float(one.gap) if one.gap is not None else float(given.flex if one.gives else given.moving)
        for side in (1.0, -1.0) if one.both_sides else (1.0,):
            y0, y1 = sorted((side * y_low, side * y_high))
            found.append(
                Above(
                    one.name,
                    (x0, x1),
                    (y0, y1),
                    under - bump - gap,
                    (float(turn[2, 0]), float(turn[2, 2])),
                    float(origin[2]),
                    (float(turn[0, 0]), float(turn[0, 2]), float(origin[0])),
                )
            )
    return tuple(found)


def space_above(boxes: Iterable[Above], ends: tuple[float, float], faces: Faces) -> Iterator[tuple[float, str, float]]:
    """(height that is free [mm], name of the box, station [mm]) over a stretch of the axle, places 1/2 in apart.

    Args:
        boxes: What stands above.
        ends: Right and left end of the stretch [mm].
        faces: Rear and front ends of what stands there [mm].
    """
    count = max(2, math.ceil((ends[1] - ends[0]) / PLACES) + 1)
    stations = [ends[0] + (ends[1] - ends[0]) * k / (count - 1) for k in range(count)]
    xs = [faces[0][0], (faces[0][0] + faces[-1][1]) / 2.0, faces[-1][1]]
    for box in boxes:
        for y in stations:
            free = min(box.room(x, y) for x in xs)
            if free < math.inf:
                yield free, box.name, y
