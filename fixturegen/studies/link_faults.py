"""What is measured wrong beside the links: struts, hoses, steering and shaft, each named with its remedy."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from fixturegen.axle.linkage import Stance
from fixturegen.axle.linkage_faults import SHORTEST
from fixturegen.axle.model import AxleModel
from fixturegen.errors import Fault, InputFault
from fixturegen.sheet.specs import Links, Sheet
from fixturegen.studies.link_inputs import links_on, point_of, stance_of
from fixturegen.units import as_text

Placed = tuple[str, Sequence[float], str]
"""Dotted key, point, frame it is given in."""


def refuse_points(sheet: Sheet, axle: AxleModel) -> None:
    """Nothing, when points and directions of struts, hoses, steering and shaft can be what they are called.

    Raises:
        InputFault: With every fault found.
    """
    links, stance = links_on(sheet), stance_of(sheet, axle)
    faults = [*_ground(links, stance), *_apart(links, stance), *_sides(links), *_ways(links)]
    if faults:
        raise InputFault(*faults)


def _inch(value: float) -> str:
    return as_text(value, "length", "in", 3)


def _placed(links: Links) -> Iterator[Placed]:
    """Every point beside those of the links."""
    for i, strut in enumerate(links.struts, 1):
        yield f"links.struts[{i}].frame", strut.frame, "vehicle"
        yield f"links.struts[{i}].axle", strut.axle, strut.at
    for i, hose in enumerate(links.hoses, 1):
        yield f"links.hoses[{i}].frame", hose.frame, "vehicle"
        yield f"links.hoses[{i}].axle", hose.axle, hose.at
    if links.steering is not None:
        given = links.steering
        yield "links.steering.pitman", given.pitman, "vehicle"
        yield "links.steering.drag_end", given.drag_end, given.at
        yield "links.steering.tie_end", given.tie_end, given.at
        if len(given.sector_shaft) == 3:
            yield "links.steering.sector_shaft", given.sector_shaft, "vehicle"
    if links.shaft is not None:
        yield "links.shaft.case", links.shaft.case, "vehicle"
        yield "links.shaft.pinion", links.shaft.pinion, links.shaft.at


def _vehicle(stance: Stance, point: Sequence[float], at: str) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    return np.array(point_of(point)) if at == "vehicle" else stance.to_vehicle(point_of(point))


def _ground(links: Links, stance: Stance) -> Iterator[Fault]:
    for key, point, at in _placed(links):
        height = float(_vehicle(stance, point, at)[2])
        if height < 0.0:
            given = f"a point {_inch(-height)} under the ground"
            remedy = (
                "heights are measured up from the ground with the truck at ride height; in the axle frame from its line"
            )
            yield Fault(key, given, "0 in or more above the ground", remedy)


def _apart(links: Links, stance: Stance) -> Iterator[Fault]:
    """Two ends in one place: struts, hoses, shaft, pitman arm."""
    rows = [(f"links.struts[{i}]", s.frame, s.axle, s.at) for i, s in enumerate(links.struts, 1)]
    rows += [(f"links.hoses[{i}]", h.frame, h.axle, h.at) for i, h in enumerate(links.hoses, 1)]
    if links.shaft is not None:
        rows.append(("links.shaft", links.shaft.case, links.shaft.pinion, links.shaft.at))
    if links.steering is not None and len(links.steering.sector_shaft) == 3:
        given = links.steering
        way = np.array(point_of(given.sector_way) if len(given.sector_way) == 3 else (0.0, 0.0, 0.0))
        arm = np.array(point_of(given.pitman)) - np.array(point_of(given.sector_shaft))
        if way.any():
            long = float(np.linalg.norm(np.cross(arm, way / np.linalg.norm(way))))
            if long < SHORTEST:
                words = f"the pitman joint {_inch(long)} off the centre line of its shaft"
                remedy = "measure both; the shaft's centre line runs through the nut of the pitman arm"
                yield Fault("links.steering.sector_shaft", words, f"at least {_inch(SHORTEST)}", remedy)
    for key, one, other, at in rows:
        gap = float(np.linalg.norm(_vehicle(stance, other, at) - np.array(point_of(one))))
        if gap < SHORTEST:
            remedy = "measure both ends again; is one given in the axle frame and named as of the vehicle?"
            yield Fault(key, f"ends {_inch(gap)} apart", f"at least {_inch(SHORTEST)}", remedy)


def _sides(links: Links) -> Iterator[Fault]:
    """Struts of the left side, and hoses of a knuckle, that stand on the other side."""
    for i, strut in enumerate(links.struts, 1):
        across = max(float(strut.frame[1]), float(strut.axle[1]))
        if across < 0.0:
            given = f"both ends right of the middle, {_inch(-across)} at least"
            remedy = (
                "left is the vehicle's left and counts positive: give the left one, the right one is its mirror image"
            )
            yield Fault(f"links.struts[{i}]", given, "ends on the left", remedy)
    for i, hose in enumerate(links.hoses, 1):
        across = float(hose.axle[1])
        if hose.axle_on != "axle" and (across < 0.0) == (hose.axle_on == "left") and across:
            other = "right" if hose.axle_on == "left" else "left"
            given = f"{hose.axle_on}, with its end {_inch(abs(across))} to the {other}"
            remedy = "left is the vehicle's left and counts positive; mend axle_on or the sign"
            yield Fault(f"links.hoses[{i}].axle_on", given, f"the knuckle the end sits on, {other}", remedy)


def _ways(links: Links) -> Iterator[Fault]:
    """Directions that are none."""
    rows: list[tuple[str, Sequence[float]]] = []
    for i, hose in enumerate(links.hoses, 1):
        rows += [(f"links.hoses[{i}].frame_way", hose.frame_way), (f"links.hoses[{i}].axle_way", hose.axle_way)]
    if links.steering is not None:
        rows.append(("links.steering.sector_way", links.steering.sector_way))
        if len(links.steering.sector_shaft) not in (0, 3):
            given = f"{len(links.steering.sector_shaft)} lengths"
            remedy = 'write forward, left, up: ["12 in", "15 in", "26 in"]'
            yield Fault("links.steering.sector_shaft", given, "three lengths, or none", remedy)
    pairs = [("lower", links.lower), ("upper", links.upper)]
    for head, pair in pairs:
        for side in ("left", "right", "middle"):
            ends = getattr(pair, side, None)
            if ends is not None:
                rows.append((f"links.{head}.{side}.frame_bolt", ends.frame_bolt))
                rows.append((f"links.{head}.{side}.axle_bolt", ends.axle_bolt))
    if links.track_bar is not None:
        rows.append(("links.track_bar.frame_bolt", links.track_bar.frame_bolt))
        rows.append(("links.track_bar.axle_bolt", links.track_bar.axle_bolt))
    for key, values in rows:
        needed = key.endswith("sector_way")
        if (len(values) == 0 and not needed) or (len(values) == 3 and any(float(v) for v in values)):
            continue
        given = "[" + ", ".join(f"{float(v):g}" for v in values) + "]"
        remedy = 'write forward, left, up as three numbers, ["0", "1", "0"] for straight to the left'
        yield Fault(key, given, "three numbers that are not all 0", remedy)
