"""Stand and cradles of the plan: where they stand on the table and what they keep clear of."""

from __future__ import annotations

import math

import numpy as np

from fixturegen.axle.model import AxleModel, Side, sign_of
from fixturegen.errors import GeometryFault
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.jig_records import (
    ABOVE_FACE,
    BEAD_ROOM,
    INCH,
    STAND_OFF,
    STEADY_TIP,
    CradlePlan,
    IndexPlan,
    StandPlan,
)


def measured_plate(sheet: Sheet, nominal: float) -> float:
    """Measured thickness of the plate of a nominal thickness [mm].

    Raises:
        GeometryFault: When the rack has no such plate.
    """
    for plate in sheet.plates:
        if abs(plate.nominal - nominal) < 0.3:
            return float(plate.measured)
    raise GeometryFault("jig", f"no plate of {nominal / INCH:.3f} in in the rack", "add it to [[plates]]")


def face_plate_offset(sheet: Sheet) -> float:
    """Gap along u from the machined face to the face plate [mm]: pads or pad buttons stand proud."""
    return STAND_OFF if sheet.housing.kind == "drop-out" else 0.75 * INCH


def stand_of(sheet: Sheet, axle: AxleModel, index: IndexPlan, plate: float, height: float) -> StandPlan:
    """The face stand: face plate, sides, ribs, base and its table holes."""
    face = sheet.housing.face
    grid = float(sheet.table.grid)
    first = axle.face_distance + face_plate_offset(sheet)
    outside = face.outside_diameter / 2.0
    width = outside + 40.0
    middle = axle.face_middle[0]
    foot = first + plate + max(0.62 * height, 220.0)
    if index.puck_station is not None:
        sides: tuple[float, ...] = (index.station, index.puck_station)
    else:
        clock = measured_plate(sheet, sheet.jig.clock_plate)
        near = index.station + (clock + plate) / 2.0
        other = 2.0 * middle - near
        if abs(other - near) < 100.0:
            other = min(near - 100.0, near + 100.0, key=lambda y: (abs(y - middle), y))
        sides = (near, other)
    across = max(grid, math.ceil((max(abs(s - middle) for s in sides) + 45.0) / grid) * grid)
    row = first + plate + 45.0
    deep = math.ceil(150.0 / grid) * grid
    inset = 1.5 * plate + 4.0  # steel from a rib's slot to the face plate's edge
    ribs = (middle - width + inset, middle + width - inset)
    half = max(width + 20.0, across + 40.0)
    sign = axle.face_sign
    pins = ((sign * row, middle - across), (sign * row, middle + across))
    bolts = ((sign * (row + deep), middle - across), (sign * (row + deep), middle + across))
    foot = max(foot, row + deep + 45.0)
    # tongue and arms must come off the housing before it is lowered; the steady's arm is the longest
    reach = max(index.bore / 2.0, (STEADY_TIP - index.arm_tip) if axle.front else index.tongue)
    return StandPlan(
        face_plate=(first, first + plate),
        width=width,
        top=axle.face_middle[1] + outside + ABOVE_FACE,
        sides=sides,
        ribs=ribs,
        foot=foot,
        base=(first - 25.0, foot, middle - half, middle + half),
        pins=pins,
        bolts=bolts,
        pad_buttons=_buttons(sheet, axle, index) if index.puck_station is None else (),
        draw_back=math.ceil((axle.face_distance + reach + 40.0) / 25.4) * 25.4,
    )


def _buttons(sheet: Sheet, axle: AxleModel, index: IndexPlan) -> tuple[tuple[float, float], ...]:
    """Three pads on the face ring, as far apart and as clear of bolts and index plate as they come [mm]."""
    face = sheet.housing.face
    radius = (face.opening_diameter + face.outside_diameter) / 4.0
    slot = measured_plate(sheet, sheet.jig.clock_plate) / 2.0

    def place(a: float) -> tuple[float, float]:
        t = math.radians(a)
        return axle.face_middle[0] + radius * math.sin(t), axle.face_middle[1] + radius * math.cos(t)

    def room(a: float) -> float:
        y, z = place(a)
        return min(abs(y - index.station) - slot, *(math.hypot(y - by, z - bz) for by, bz in axle.studs))

    points = []
    for target in (140.0, 220.0, 35.0):
        angles = np.arange(target - 25.0, target + 25.5, 0.5)
        best = max(angles, key=lambda a: (round(room(float(a)), 6), -abs(a - target)))
        points.append(place(float(best)))
    return tuple(points)


def cradle_of(sheet: Sheet, axle: AxleModel, side: Side, stand: StandPlan, outboard: float) -> CradlePlan:
    """One cradle: a third of the way out on its tube, or outboard under the bar where the tube is too short."""
    s = sign_of(side)
    origin = stand.pins[0]
    grid = float(sheet.table.grid)
    # two sides with a 1-8 nut between them, and a plate thickness outside their slots
    half = 24.0 + 2.1 * measured_plate(sheet, sheet.jig.stand_plate)
    start = s * axle.section[1 if s > 0 else 0] + BEAD_ROOM + half
    # the stand is slid in and out between the cradles
    start = max(start, s * stand.base[3 if s > 0 else 2] + half + 10.0)
    # a third of the way out: an axle with a long side must not tip while the bar is half in
    root, end = (s * v[1 if s > 0 else 0] for v in (axle.section, axle.tube_ends))
    start = max(start, root + (end - root) / 3.0)
    if axle.knuckles:
        stop = s * axle.knuckles[0 if s > 0 else 1].weld_station - 2.0 * BEAD_ROOM - half
    else:
        stop = s * axle.tube_ends[1 if s > 0 else 0] - BEAD_ROOM - half
    station, carries = _free_station(sheet, s, start, stop, half), "tube"
    radius = sheet.tubes.outside_diameter / 2.0
    if station is None:
        station, carries, radius = outboard + half, "bar", sheet.bar.diameter / 2.0
    # the cradle stands with its middle on a line of holes where there is room to go out to it
    first = s * origin[1] + math.ceil((station - s * origin[1]) / grid - 1e-9) * grid
    if carries == "bar" or _free_station(sheet, s, first, stop, half) == first:
        station = first
    y = s * station
    line = origin[1] + round((y - origin[1]) / grid) * grid
    reach = sheet.tubes.outside_diameter / 2.0 + 55.0
    up = origin[0] + math.ceil((reach - origin[0]) / grid) * grid
    down = origin[0] + math.floor((-reach - origin[0]) / grid) * grid
    return CradlePlan(side, y, "tube" if carries == "tube" else "bar", float(radius), ((up, line), (down, line)), half)


def _free_station(sheet: Sheet, s: int, start: float, stop: float, half: float) -> float | None:
    """First station from the centre outward clear of what is welded on already [mm]."""
    station = start
    blocked = [
        sorted((s * float(w.station_from), s * float(w.station_to)))
        for w in sheet.welded
        if abs((float(w.clock) + 180.0) % 360.0 - 180.0) > 60.0
    ]
    for low, high in sorted(blocked):
        if low - half - 6.0 < station < high + half + 6.0:
            station = high + half + 6.0
    return station if station <= stop else None
