"""Pads under the axle's tubes for a jack: where they stand, and what they must stand off."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from fixturegen.axle.model import AxleModel
from fixturegen.sheet.specs import Sheet

HALF = 32.0  # half the width of a pad across the tube [mm]: a jack's saddle is 2 to 3 in (common practice, no source)
LONG = 70.0  # of a pad along the tube [mm] (common practice, no source)
BELOW = 22.0  # from the bottom of the tube to the underside of a pad [mm] (common practice, no source)
CHEEKS = 44.0  # from cheek to cheek, middles [mm]
OFF_CENTRE = 25.4  # a pad keeps off the centre section by this, so that a jack does not tip under it [mm] [cp]
OFF_WELD = 25.4  # and off the bead of a knuckle or end flange [mm] [cp]
OFF_ROD = 12.7  # and off a tie rod, straight ahead [mm] (common practice, no source)


@dataclass(frozen=True)
class JackPad:
    """One pad.

    Attributes:
        station: Its middle [mm].
        low: Height of its underside, below the axle line negative [mm].
        off_centre: From the side of the centre section; negative beneath it [mm].
        off_weld: From the knuckle's weld or tube end [mm].
        off_rod: From the tie rod's skin; infinite without one [mm].
    """

    station: float
    low: float
    off_centre: float
    off_weld: float
    off_rod: float


def jack_pads(sheet: Sheet, axle: AxleModel) -> tuple[JackPad, ...]:
    """Every pad of [truss], with what it stands off."""
    truss = sheet.truss
    if truss is None:
        return ()
    radius = sheet.tubes.outside_diameter / 2.0
    found = []
    for given in truss.jack_pads:
        y = float(given)
        side = 1 if y > axle.bearing_middle else -1
        root, tube = (axle.section[1], axle.tube_ends[1]) if side > 0 else (axle.section[0], axle.tube_ends[0])
        weld = next((k.weld_station for k in axle.knuckles if k.weld_station * side > 0.0), tube)
        half = LONG / 2.0
        rod = _to_rod(sheet, axle, y, -radius - BELOW)
        found.append(JackPad(y, -radius - BELOW, side * (y - root) - half, side * (weld - y) - half, rod))
    return tuple(found)


def _to_rod(sheet: Sheet, axle: AxleModel, station: float, low: float) -> float:
    """From a pad's box to the tie rod, straight ahead [mm]."""
    from fixturegen.studies.link_inputs import point_of, stance_of

    if sheet.links is None or sheet.links.steering is None or not sheet.links.steering.tie_end:
        return math.inf
    stance = stance_of(sheet, axle)
    end = np.array(point_of(sheet.links.steering.tie_end))
    ends = [np.array(stance.to_axle(tuple(end * np.array([1.0, s, 1.0])))) for s in (1.0, -1.0)]
    rounds = () if sheet.clearance is None else sheet.clearance.rounds
    thick = next((float(r.diameter) for r in rounds if r.name == "tie-rod"), 0.0)
    line = ends[0] + np.linspace(0.0, 1.0, 401)[:, None] * (ends[1] - ends[0])
    box_low = np.array([-HALF, station - LONG / 2.0, low])
    box_high = np.array([HALF, station + LONG / 2.0, 0.0])
    off = np.maximum(np.maximum(box_low - line, line - box_high), 0.0)
    return float(np.linalg.norm(off, axis=1).min()) - thick / 2.0
