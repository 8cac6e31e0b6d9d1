"""Where a truss ends: as given, short of what is at the tube's end, or of what stands on the tube already."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fixturegen.axle.model import AxleModel
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.bracket_records import Mount, TubeBase

LEAN = 45.0
"""Of the tube's skin under the outer face of a side plate [deg]: the angle between both is then 135 deg, the
largest at which a skewed T-joint is a common fillet (AWS D1.1, from memory)."""
BESIDE_WELDED = 12.7  # from what is on the tube already to the end of a truss [mm] (common practice, no source)
UPRIGHT = 75.0  # what stands nearer to the top of the tube than this is in the truss's way [deg]
SLEEVE = 3.0  # length of a bearing end's sleeve, in thicknesses of its flange, as it is drawn [1]
PAD = 60.0  # of a bracket along the tube where its sheet does not say [mm]


@dataclass(frozen=True)
class Ends:
    """Right and left end of a truss [mm], and why they stand there."""

    right: float
    left: float
    notes: tuple[str, ...]


def ends_of(sheet: Sheet, axle: AxleModel, mounts: tuple[Mount, ...]) -> Ends:
    """Where the truss ends: as given, else short of the knuckle's weld or end flange, or of what is on the tube."""
    truss = sheet.truss
    if truss is None:
        raise ValueError("no truss on the sheet")
    found, notes = [], []
    for side, given in ((-1, truss.right_end), (1, truss.left_end)):
        if given is not None:
            found.append(float(given))
            continue
        weld = end_weld(sheet, axle, side)
        at, cause = weld - side * float(truss.short), ""
        for low, high, name in _on_top(sheet, axle, mounts):
            inner = low if side > 0 else -high
            if inner > side * axle.section[1 if side > 0 else 0] and inner - BESIDE_WELDED < side * at:
                at, cause = side * (inner - BESIDE_WELDED), name
        if cause:
            notes.append(f"its {'left' if side > 0 else 'right'} end stops short of the {cause}")
        found.append(at)
    return Ends(found[0], found[1], tuple(notes))


def end_weld(sheet: Sheet, axle: AxleModel, side: int) -> float:
    """Station of the weld at a tube's end [mm]: of its knuckle, or where the sleeve of its bearing end begins.

    Args:
        sheet: The build sheet.
        axle: The axle.
        side: 1 left, -1 right.
    """
    if axle.knuckles:
        return next(k.weld_station for k in axle.knuckles if k.weld_station * side > 0.0)
    sleeve = SLEEVE * float(sheet.wheel_ends.end_flange_thickness)
    return axle.tube_ends[1 if side > 0 else 0] - side * sleeve


def _aside(clock: float, looks: float) -> float:
    """Angle about the tube between two clock angles [deg]."""
    return abs((clock - looks + 180.0) % 360.0 - 180.0)


def _on_top(sheet: Sheet, axle: AxleModel, mounts: tuple[Mount, ...]) -> list[tuple[float, float, str]]:
    """Stretches of the tubes where something stands already on the side of the truss: (from, to, name) [mm]."""
    brace = sheet.truss is not None and sheet.truss.form == "back-brace"
    looks = -90.0 * axle.face_sign if brace else 0.0
    found = []
    for item in sheet.welded:
        if _aside(float(item.clock), looks) < UPRIGHT:
            low, high = sorted((float(item.station_from), float(item.station_to)))
            found.append((low, high, item.name))
    for mount in mounts:
        x, y, z = mount.point
        reach = LEAN + float(mount.spec.wrap) / 2.0
        if not isinstance(mount.base, TubeBase) or _aside(math.degrees(math.atan2(x, z)), looks) > reach:
            continue
        half = max(
            mount.inside / 2.0 + mount.thickness if mount.joint else 0.0,
            *(PAD / 2.0 if v is None else float(v) / 2.0 for v in (mount.spec.length, mount.spec.width)),
        )
        found.append((y - half, y + half, f"{mount.label} bracket"))
    return found
