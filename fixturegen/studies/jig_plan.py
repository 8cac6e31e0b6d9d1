"""The plan of the setup jig as numbers: every station, radius and hole, before any part is drawn.

How the angle travels. The machined face (drop-out: three pads on the index and puck plates;
integral: two equal gaps) turns the **index plate**, whose bar bore and index row were bored and
reamed in one stack with both **clock plates**. The **tie**, a ground bar, passes the same hole of
all three. Each clock plate hangs on the tie tangentially (its tie holes are lengthened along the
radius after reaming, so the radius is free; the tie's flats only key the keepers) and on the bar
vertically (its bush is 1/16 in larger than the bar, so X is free);
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
from dataclasses import replace
from typing import Literal

import numpy as np

from fixturegen.axle.model import AxleModel, KnuckleModel, sign_of, to_table
from fixturegen.errors import GeometryFault
from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.threads import thread_diameter
from fixturegen.studies.jig_records import (
    ABOVE_FACE,
    BUSH_RELIEF,
    FINGER_FIT,
    HEAD_DIAMETER,
    INCH,
    KEEPER_HOLE,
    KEEPER_OFFSET,
    LEVEL_PIN,
    PLATE_EDGE,
    ROW_WEB,
    SOCKET_RADIUS,
    ClockPlan,
    Finger,
    IndexPlan,
    JigPlan,
    RowHole,
    TiePlan,
    row_point,
)
from fixturegen.studies.jig_stand import cradle_of, face_plate_offset, measured_plate, stand_of


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
    riser_from = axle.face_distance + face_plate_offset(sheet) + plate
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
    return ClockPlan(axle.plate_caster, inner, fingers, tuple(keepers), tuple(discs), BUSH_RELIEF / 2.0)


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
    height = float(wanted) if wanted is not None else math.ceil(max(needs) / 12.7) * 12.7
    return round(height, 6)  # in half inches 12 in would else come out as 304.79999999999995


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
    stand = stand_of(sheet, axle, index, stand_t, height)
    if tie is not None:
        # the rib farther from the index plate carries the steady: in its own plane it is stiff
        rib = max(stand.ribs, key=lambda y: abs(y - index.station))
        tie = replace(tie, steady=rib)
    origin = stand.pins[0]
    outboard = (clock.inner + clock_t + 60.0) if clock else abs(axle.half_width) + 60.0
    cradles = (
        cradle_of(sheet, axle, "left", stand, outboard),
        cradle_of(sheet, axle, "right", stand, outboard),
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
