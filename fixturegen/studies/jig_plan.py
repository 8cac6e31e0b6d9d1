"""The plan of the setup jig as numbers: every station, radius and hole, before any part is drawn.

How the angle travels. The machined face (drop-out: three pads on the index and puck plates;
integral: two equal gaps) turns the **index plate**, whose bar bore and index row were bored and
reamed in one stack with both **clock plates**. The **tie**, a ground bar, passes the same hole of
all three. Each clock plate hangs on the tie tangentially (the tie has flats at its ends, so the
radius is free) and on the bar vertically (its bush is 1/16 in larger than the bar, so X is free);
the two pairs of **finger bars** take the stub pins across the steering axis and leave the axis
direction and Y free. So no body is held twice: the knuckle has X and Z from its tube, its turn from
the fingers.

One index plate in the middle cannot hold the tie square to the bar in plan: that turn is the caster
split itself. It is set by the **steady** (two screws on the tie) until a level reads the same on
the level pins of both clock plates and of the index plate. The pins are part of the stack, so the
three readings agree only when the three plates stand alike; an unlevel table cancels.

Coordinates. `u` runs from the bar toward the datum face (x = face_sign * u); z is above the bar.
Clock angles: 0 up, + forward.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from fixturegen.axle.model import AxleModel, KnuckleModel, Side, sign_of, to_table
from fixturegen.errors import GeometryFault
from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.threads import thread_diameter

INCH = 25.4
BEAD_ROOM = 2.0 * INCH  # nothing stands nearer to a bead that is still to be welded [cp]
STAND_OFF = 0.25 * INCH  # pads stand proud of the face plate, so that a feeler reaches them [cp]
SOCKET_RADIUS = 0.45 * INCH  # room for a 9/16 socket round a 3/8 nut [cp]
HEAD_DIAMETER = 1.0 * INCH  # gauge head of a stub pin
ROW_WEB = 12.0  # least steel between two holes of the index row [mm]
BUSH_RELIEF = INCH / 16.0  # clock plate bush larger than the bar, so that X is free [mm]
PLATE_EDGE = 20.0  # steel left round a hole that sets an angle [mm]
KEEPER_PIN = 9.525  # 3/8 in keeper pin [mm]
KEEPER_HOLE = KEEPER_PIN + 3.0
ABOVE_FACE = 18.0  # face plate above the face: steel over the index plate's slot [mm]
STEADY_TIP = 40.0  # the steady's arm ends this far beyond the index plate's [mm]
KEEPER_OFFSET = 31.0  # keeper pin from the tie, inward and forward alike [mm]
LEVEL_PIN = 12.7  # 1/2 in dowels the level stands on [mm]
FINGER_FIT = 0.03  # finger gap over gauge head, middle of the fit [mm]


@dataclass(frozen=True)
class RowHole:
    """One position of the index row: its label and clock angle in the index and clock plates [deg]."""

    label: str
    index_angle: float
    clock_angle: float

    @property
    def caster_change(self) -> float:
        """Change of caster when the tie passes this hole of all three plates [deg]."""
        return self.clock_angle - self.index_angle


@dataclass(frozen=True)
class IndexPlan:
    """Index plate and, for a drop-out, the puck plate beside it.

    Attributes:
        station: Y of the index plate's middle plane [mm].
        puck_station: Y of the second (puck) plate's middle plane [mm]; None for an integral.
        bore: Bar bore of index, puck and clock plates, before bushes [mm].
        tongue: Half height of the tongue that enters the opening, about z = 0 [mm].
        face: u of the machined face [mm].
        gap: u from the face to the index plate's shoulders: 0 where pads touch, else the gap block [mm].
        pads: (z from, z to) of lower and upper pad or shoulder [mm].
        riser: (u from, u to) of the part that stands behind the face plate [mm].
        arm: (z from, z to) of the arm over the housing [mm]; (0, 0) on a rear axle.
        arm_tip: u of the arm's end (negative: beyond the bar) [mm].
        level_pins: Two (x, z) [mm] common to index and clock plates.
    """

    station: float
    puck_station: float | None
    bore: float
    tongue: float
    face: float
    gap: float
    pads: tuple[tuple[float, float], tuple[float, float]]
    riser: tuple[float, float]
    arm: tuple[float, float]
    arm_tip: float
    level_pins: tuple[tuple[float, float], tuple[float, float]]


@dataclass(frozen=True)
class StandPlan:
    """Face stand.

    Attributes:
        face_plate: u of the face plate's housing side and stand side [mm].
        width: Half width of the face plate about the face's middle [mm].
        top: z of its upper edge [mm].
        sides: Stations of the plates behind the face plate that stand on the base [mm].
        ribs: Stations of the outer ribs [mm].
        foot: u of the feet's far end [mm].
        base: (u from, u to, y from, y to) of the base plate [mm].
        pins: Two (x, y) of table pins: round hole first, slot second [mm].
        bolts: (x, y) of table bolts [mm].
        pad_buttons: (y, z) of pads of the face plate itself (integral) [mm].
        draw_back: How far the stand is drawn back while the axle is lowered [mm].
    """

    face_plate: tuple[float, float]
    width: float
    top: float
    sides: tuple[float, ...]
    ribs: tuple[float, float]
    foot: float
    base: tuple[float, float, float, float]
    pins: tuple[tuple[float, float], tuple[float, float]]
    bolts: tuple[tuple[float, float], ...]
    pad_buttons: tuple[tuple[float, float], ...]
    draw_back: float


@dataclass(frozen=True)
class Finger:
    """One pair of finger bars: the pivot it takes, its middle (x, z), head diameter, reach in Y [mm].

    Attributes:
        pivot: upper or lower.
        middle: (x, z) where the stub's axis crosses the finger bars [mm].
        bars: Centres (x, z) of the two bars [mm].
        head: Diameter of the stub's gauge head [mm].
        along: Distance from the steering axis' point at axle height, along the axis [mm].
        tip: |y| of the bars' inboard ends [mm].
    """

    pivot: Literal["upper", "lower"]
    middle: tuple[float, float]
    bars: tuple[tuple[float, float], tuple[float, float]]
    head: float
    along: float
    tip: float


@dataclass(frozen=True)
class ClockPlan:
    """Clock plates; left and right are cut alike, the fingers stand inboard.

    Attributes:
        caster: Angle the plate is cut for, from the vertical face [deg].
        inner: |y| of the inboard face [mm].
        fingers: Upper and lower pair.
        keepers: Keeper holes (x, z), one for each row hole [mm].
        discs: (x, z, radius) whose convex hull is the outline [mm].
        drop: How far the plate hangs below the axle line, its bush being larger than the bar [mm].
            Bore, tie row, keepers and level pins stand in the plate as told here and hang that much
            lower in T; the fingers' places are told in T, so their holes stand that much higher in
            the plate (`in_plate`). Left out, both casters would come out about 0.04 deg large.
    """

    caster: float
    inner: float
    fingers: tuple[Finger, Finger]
    keepers: tuple[tuple[float, float], ...]
    discs: tuple[tuple[float, float, float], ...]
    drop: float = 0.0

    def in_plate(self, place: tuple[float, float]) -> tuple[float, float]:
        """Where a point at (x, z) in T, from the bar [mm], stands in the hanging plate."""
        return place[0], place[1] + self.drop


@dataclass(frozen=True)
class TiePlan:
    """The tie: radius, diameter, row, length and where it is steadied [mm].

    Attributes:
        radius: From the bar to the tie [mm].
        diameter: Of the ground bar [mm].
        row: Positions; the first is the nominal one.
        length: Of the bar [mm].
        flat_depth: Taken off each side at the ends, square to the radius [mm].
        flat_length: From each end [mm].
        steady: Station of the steady, in the plane of the stand's outer rib [mm].
    """

    radius: float
    diameter: float
    row: tuple[RowHole, ...]
    length: float
    flat_depth: float
    flat_length: float
    steady: float


@dataclass(frozen=True)
class CradlePlan:
    """One cradle: what it carries and where.

    Attributes:
        side: Which side of the centre section.
        station: Y of its middle [mm].
        carries: tube or bar.
        radius: Radius of what it carries [mm].
        holes: Table holes (x, y) [mm].
        half_width: Half its width along Y [mm].
    """

    side: Side
    station: float
    carries: Literal["tube", "bar"]
    radius: float
    holes: tuple[tuple[float, float], ...]
    half_width: float


@dataclass(frozen=True)
class JigPlan:
    """The whole plan; `clock` and `tie` are None on a rear axle."""

    kind: Literal["drop-out", "integral"]
    height: float
    face_sign: int
    clock_thickness: float
    stand_thickness: float
    bar: float
    index: IndexPlan
    stand: StandPlan
    cradles: tuple[CradlePlan, CradlePlan]
    clock: ClockPlan | None
    tie: TiePlan | None
    grid: tuple[float, float, float]
    notes: tuple[str, ...]

    def x(self, u: float) -> float:
        """X in T of a point `u` [mm] from the bar toward the face."""
        return self.face_sign * u


def row_point(radius: float, angle: float) -> tuple[float, float]:
    """(x, z) at a clock angle [deg] on a radius [mm]."""
    a = math.radians(angle)
    return radius * math.sin(a), radius * math.cos(a)


def measured_plate(sheet: Sheet, nominal: float) -> float:
    """Measured thickness of the plate of a nominal thickness [mm].

    Raises:
        GeometryFault: When the rack has no such plate.
    """
    for plate in sheet.plates:
        if abs(plate.nominal - nominal) < 0.3:
            return float(plate.measured)
    raise GeometryFault("jig", f"no plate of {nominal / INCH:.3f} in in the rack", "add it to [[plates]]")


def _stations(sheet: Sheet, axle: AxleModel, thickness: float) -> tuple[float, float]:
    """Half spread of index and puck plate, and shift of the index plate, clear of studs [mm].

    A socket must pass beside the plate; where there is room, the face plate also keeps its own
    thickness between a stud hole and the plate's slot.
    """
    hole = (thread_diameter(sheet.housing.face.studs.size) + INCH / 8.0) / 2.0
    web = hole + measured_plate(sheet, sheet.jig.stand_plate) + INCH / 32.0
    want = thickness / 2.0 + max(SOCKET_RADIUS, web)
    # the plates are counted from the middle of the bearings
    ys = [y - axle.bearing_middle for y, _ in axle.studs]
    best, widest = None, 0.0
    for spread, shift in _stations_tried(sheet, thickness):
        room = min(abs(abs(y) - spread) if spread else abs(y - shift) for y in ys)
        if room > widest + 1e-9:
            best, widest = (spread, shift), room
        if widest >= want:
            break
    if best is None or widest < thickness / 2.0 + SOCKET_RADIUS:
        what = "studs" if sheet.housing.kind == "drop-out" else "cover bolts"
        raise GeometryFault("index-plate", f"no station clears the {what}", "measure them again")
    return best


def _stations_tried(sheet: Sheet, thickness: float) -> list[tuple[float, float]]:
    """(half spread, shift) in the order they are tried, the nearest to the middle first [mm]."""
    if sheet.housing.kind == "drop-out":
        return [(float(s), 0.0) for s in np.arange(58.0, 0.4 * sheet.housing.face.opening_diameter, 1.0)]
    limit = sheet.housing.bearings.width_over / 2.0 - sheet.housing.bearings.bore_width
    limit -= thickness / 2.0 + 6.0
    return [(0.0, float(way * step)) for step in np.arange(0.0, limit, 1.0) for way in (1.0, -1.0)]


def _index(sheet: Sheet, axle: AxleModel, thickness: float) -> IndexPlan:
    face = sheet.housing.face
    spread, shift = _stations(sheet, axle, thickness)
    opening, outside = face.opening_diameter / 2.0, face.outside_diameter / 2.0
    bore = math.ceil((sheet.bar.diameter + 0.75 * INCH) / (INCH / 8.0)) * INCH / 8.0
    tongue = bore / 2.0 + max(14.0, 1.5 * thickness)
    off = max(abs(spread), abs(shift))
    inner = math.sqrt(opening**2 - (off - thickness / 2.0) ** 2)
    outer = math.sqrt(outside**2 - (off + thickness / 2.0) ** 2)
    room = math.sqrt(opening**2 - (off + thickness / 2.0) ** 2) - abs(axle.face_middle[1])
    if room < tongue + 3.0:
        raise GeometryFault(
            "index-plate",
            f"the opening leaves {room:.1f} mm beside the bar, the tongue needs {tongue + 3.0:.1f} mm",
            "use a thinner bar or check the opening's width",
        )
    mid = axle.face_middle[1]
    pads = ((mid - outer + 2.0, mid - inner - 1.0), (mid + inner + 1.0, mid + outer - 2.0))
    gap = 0.0 if sheet.housing.kind == "drop-out" else 0.5 * INCH
    plate = measured_plate(sheet, sheet.jig.stand_plate)
    riser_from = axle.face_distance + _plate_offset(sheet) + plate
    top = mid + outside + ABOVE_FACE
    arm_from = max(sheet.housing.height / 2.0 + INCH, top + 12.0)
    front = axle.front
    sign = axle.face_sign
    level = arm_from + LEVEL_PIN / 2.0 + PLATE_EDGE
    return IndexPlan(
        station=axle.bearing_middle + (spread if spread else shift),
        puck_station=axle.bearing_middle - spread if spread else None,
        bore=bore,
        tongue=tongue,
        face=axle.face_distance,
        gap=gap,
        pads=pads,
        riser=(riser_from, riser_from + 110.0),
        arm=(arm_from, 0.0) if front else (0.0, 0.0),
        arm_tip=0.0,
        level_pins=((sign * -42.0, level), (sign * 108.0, level)),
    )


def _plate_offset(sheet: Sheet) -> float:
    """Gap along u from the machined face to the face plate [mm]: pads or pad buttons stand proud."""
    return STAND_OFF if sheet.housing.kind == "drop-out" else 0.75 * INCH


def _fingers(sheet: Sheet, axle: AxleModel, knuckle: KnuckleModel) -> tuple[Finger, Finger]:
    rotation, _ = to_table(axle, 0.0)
    point = rotation @ np.array(knuckle.axis_point)
    axis = rotation @ np.array(knuckle.axis)
    bar = float(sheet.jig.finger_diameter)
    tilt = math.sqrt(max(0.0, 1.0 - float(axis[0]) ** 2 - float(axis[2]) ** 2))
    across = np.array([axis[2], -axis[0]]) / math.hypot(axis[0], axis[2])
    spec = sheet.knuckles
    fingers = []
    names: tuple[Literal["upper", "lower"], ...] = ("upper", "lower")
    for name, place, way in zip(names, (knuckle.upper, knuckle.lower), (1.0, -1.0), strict=True):
        pivot = place.pivot
        head = HEAD_DIAMETER
        if pivot.kind == "pin":
            head = max(head, math.ceil((pivot.diameter + 12.0) / 3.175) * 3.175)
        rise = pivot.boss_diameter / 2.0 * tilt
        along = (spec.pivot_spread if spec else 0.0) / 2.0 + pivot.arm_thickness / 2.0
        along += 8.0 + rise + bar / 2.0
        p = point + way * along * axis
        reach = (head + bar + FINGER_FIT) / 2.0
        middle = (float(p[0]), float(p[2]))
        fingers.append(
            Finger(
                pivot=name,
                middle=middle,
                bars=(
                    (middle[0] + reach * float(across[0]), middle[1] + reach * float(across[1])),
                    (middle[0] - reach * float(across[0]), middle[1] - reach * float(across[1])),
                ),
                head=head,
                along=along,
                tip=abs(float(p[1])) - head / 2.0 - 10.0,
            )
        )
    return fingers[0], fingers[1]


def _clock(sheet: Sheet, axle: AxleModel, index: IndexPlan, tie: TiePlan) -> ClockPlan:
    knuckle = axle.knuckles[0]
    side = sign_of(knuckle.side)
    fingers = _fingers(sheet, axle, knuckle)
    inner = 0.0
    for place in (knuckle.upper, knuckle.lower):
        inner = max(inner, side * place.centre[1] + place.pivot.boss_diameter / 2.0 + 4.0)
    inner += 0.5 * INCH
    keepers = []
    discs = [(0.0, 0.0, index.bore / 2.0 + PLATE_EDGE)]
    for hole in tie.row:
        x, z = row_point(tie.radius, hole.clock_angle)
        discs.append((x, z, tie.diameter / 2.0 + PLATE_EDGE))
        a = math.radians(hole.clock_angle)
        radial, tangent = (math.sin(a), math.cos(a)), (math.cos(a), -math.sin(a))
        keepers.append(
            (
                x + KEEPER_OFFSET * (tangent[0] - radial[0]),
                z + KEEPER_OFFSET * (tangent[1] - radial[1]),
            )
        )
    discs += [(x, z, KEEPER_HOLE / 2.0 + 12.0) for x, z in keepers]
    discs += [(x, z, LEVEL_PIN / 2.0 + PLATE_EDGE) for x, z in index.level_pins]
    bar = sheet.jig.finger_diameter / 2.0
    discs += [(x, z, bar + PLATE_EDGE) for f in fingers for x, z in f.bars]
    return ClockPlan(
        axle.plate_caster, inner, fingers, tuple(keepers), tuple(discs), BUSH_RELIEF / 2.0
    )


def _tie(sheet: Sheet, axle: AxleModel, index: IndexPlan, inner: float, clock: float) -> TiePlan:
    diameter = float(sheet.jig.tie_diameter)
    radius = max(float(sheet.jig.tie_radius), index.arm[0] + 20.0 + diameter + 2.0 * PLATE_EDGE)
    pitch = math.degrees((diameter + ROW_WEB) / radius)
    pitch = math.ceil(pitch * 2.0) / 2.0
    step = float(sheet.jig.trim_step)
    row = (
        RowHole("0", 0.0, 0.0),
        RowHole("+", pitch, pitch + step),
        RowHole("-", -pitch, -(pitch + step)),
    )
    return TiePlan(
        radius=radius,
        diameter=diameter,
        row=row,
        length=2.0 * (inner + clock + 90.0),
        flat_depth=1.5,
        flat_length=clock + 90.0 + 40.0,
        steady=index.station,
    )


def _height(sheet: Sheet, axle: AxleModel, clock: ClockPlan | None) -> float:
    needs = [12.0 * INCH, sheet.housing.height / 2.0 + 3.0 * INCH]
    needs.append(sheet.tubes.outside_diameter / 2.0 + 6.0 * INCH)
    if clock is not None:
        needs.append(max(-f.middle[1] for f in clock.fingers) + 4.0 * INCH)
    wanted = sheet.jig.axle_height
    return float(wanted) if wanted is not None else math.ceil(max(needs) / 12.7) * 12.7


def _stand(sheet: Sheet, axle: AxleModel, index: IndexPlan, plate: float, height: float) -> StandPlan:
    face = sheet.housing.face
    grid = float(sheet.table.grid)
    first = axle.face_distance + _plate_offset(sheet)
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


def _cradle(sheet: Sheet, axle: AxleModel, side: Side, stand: StandPlan, outboard: float) -> CradlePlan:
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


def plan_of(sheet: Sheet, axle: AxleModel) -> JigPlan:
    """The plan of the jig for an axle.

    Raises:
        GeometryFault: When the jig cannot be laid out (no station clears the studs, no plate).
    """
    clock_t = measured_plate(sheet, sheet.jig.clock_plate)
    stand_t = measured_plate(sheet, sheet.jig.stand_plate)
    index = _index(sheet, axle, clock_t)
    notes: list[str] = []
    tie: TiePlan | None = None
    clock: ClockPlan | None = None
    if axle.front:
        tie = _tie(sheet, axle, index, 0.0, clock_t)
        clock = _clock(sheet, axle, index, tie)
        tie = _tie(sheet, axle, index, clock.inner, clock_t)
        if tie.radius > sheet.jig.tie_radius + 1e-6:
            notes.append(
                f"tie radius raised from {sheet.jig.tie_radius / INCH:.2f} to {tie.radius / INCH:.2f} in "
                "so that the tie and its arm clear the housing"
            )
        tip = max(row_point(tie.radius, abs(h.clock_angle))[0] for h in tie.row)
        index = _with_arm(index, tie, tip)
    height = _height(sheet, axle, clock)
    stand = _stand(sheet, axle, index, stand_t, height)
    if tie is not None:
        # the rib farther from the index plate carries the steady: in its own plane it is stiff
        rib = max(stand.ribs, key=lambda y: abs(y - index.station))
        tie = replace(tie, steady=rib)
    origin = stand.pins[0]
    outboard = (clock.inner + clock_t + 60.0) if clock else abs(axle.half_width) + 60.0
    cradles = (
        _cradle(sheet, axle, "left", stand, outboard),
        _cradle(sheet, axle, "right", stand, outboard),
    )
    return JigPlan(
        kind=sheet.housing.kind,
        height=height,
        face_sign=axle.face_sign,
        clock_thickness=clock_t,
        stand_thickness=stand_t,
        bar=float(sheet.bar.diameter),
        index=index,
        stand=stand,
        cradles=cradles,
        clock=clock,
        tie=tie,
        grid=(origin[0], origin[1], float(sheet.table.grid)),
        notes=tuple(notes),
    )


def _with_arm(index: IndexPlan, tie: TiePlan, tip: float) -> IndexPlan:
    edge = tie.diameter / 2.0 + PLATE_EDGE
    return replace(
        index,
        arm=(index.arm[0], tie.radius + edge),
        arm_tip=-(max(tip, 42.0) + edge),
    )
