"""How high a truss is: as given, as the space above allows at full bump, or as the loads ask."""

from __future__ import annotations

import math
from collections.abc import Iterator

from fixturegen.axle.model import AxleModel
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.centre_shape import Neck, across_axle, centre_bodies

Faces = tuple[tuple[float, float], ...]
MIN_WEB = 3.0
"""Least height of a side plate over the housing, in its own thicknesses: less is no web (common practice)."""
FOOT = 1.0  # mm; boxes are looked at between the ends and both faces, grown by this


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
    if truss.height is not None:
        return float(truss.height), "as given by truss.height"
    crest, radius = crest_of(sheet, axle, ends, faces), sheet.tubes.outside_diameter / 2.0
    tallest = max(radius, crest) + float(truss.most)
    room, name = min(space_above(sheet, axle, ends, faces), default=(math.inf, ""))
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


def space_above(sheet: Sheet, axle: AxleModel, ends: tuple[float, float], faces: Faces) -> Iterator[tuple[float, str]]:
    """Height the truss may have under each box of the frame at full bump [mm], and the name of the box.

    The axle is lifted straight up by [links] bump with the pinion angle it has at ride; `clear` asks again with
    the true pose. Wanted gap: `clearance.moving`, of a box that gives `clearance.flex`, or its own.
    """
    import numpy as np

    from fixturegen.studies.link_inputs import stance_of

    given = sheet.clearance
    if given is None:
        return
    stance = stance_of(sheet, axle)
    bump = 0.0 if sheet.links is None else float(sheet.links.bump)
    for one in given.boxes:
        if one.rides != "frame":
            continue
        gap = float(one.gap) if one.gap is not None else float(given.flex if one.gives else given.moving)
        low = min(float(v) for v in one.z) - bump - gap
        for side in (1.0, -1.0) if one.both_sides else (1.0,):
            ys = sorted(side * float(v) for v in one.y)
            xs = sorted(float(v) for v in one.x)
            corners = [stance.to_axle((x, y, low)) for x in xs for y in ys]
            front, left = (np.array([float(c[i]) for c in corners]) for i in (0, 1))
            if front.max() < faces[0][0] - FOOT or front.min() > faces[1][1] + FOOT:
                continue
            if left.max() < ends[0] - FOOT or left.min() > ends[1] + FOOT:
                continue
            height = float(min(c[2] for c in corners))
            if height > sheet.tubes.outside_diameter / 2.0:  # else it stands beside the axle: clearance tells
                yield height, one.name
