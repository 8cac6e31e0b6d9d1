"""What hangs on the ends of the axle, and the gears in its middle: envelopes, for pictures."""

from __future__ import annotations

import math

from fixturegen.axle.model import AxleModel, sign_of
from fixturegen.bodies.drawing import along, hull, turned_about_y
from fixturegen.plate.part import Vector
from fixturegen.shapes import solids
from fixturegen.sheet.specs import Sheet

INCH = 25.4
RING_GEAR_WIDTH = 1.25 * INCH  # an envelope [cp]


def end_flange(sheet: Sheet, axle: AxleModel, side: int) -> solids.Solid:
    """The bearing end flange of a rear tube: a square flange with round corners on a sleeve."""
    tube = sheet.tubes.outside_diameter / 2.0
    end = abs(axle.tube_ends[1 if side > 0 else 0])
    thick = float(sheet.wheel_ends.end_flange_thickness)
    reach = max(tube + 8.0, 0.26 * sheet.wheel_ends.brake_diameter)
    corner = 0.25 * reach
    low, high = sorted((side * (end - thick), side * end))
    square = hull(
        tuple((z * (reach - corner), x * (reach - corner), corner) for z in (-1.0, 1.0) for x in (-1.0, 1.0)),
        "zx",
        low,
        high,
    )
    sleeve = solids.cylinder((0.0, side * (end - 3.0 * thick), 0.0), (0.0, side * end, 0.0), 2.0 * tube + 10.0)
    hole = solids.cylinder((0.0, side * (end - 4.0 * thick), 0.0), (0.0, side * (end + 1.0), 0.0), 2.0 * tube)
    bolts = [
        solids.cylinder(
            (x * 0.75 * reach, side * (end - 2.0 * thick), z * 0.75 * reach),
            (x * 0.75 * reach, side * (end + 1.0), z * 0.75 * reach),
            10.0,
        )
        for x in (-1.0, 1.0)
        for z in (-1.0, 1.0)
    ]
    return solids.cut(solids.fuse(square, sleeve), hole, *bolts)


def outer_bodies(sheet: Sheet, axle: AxleModel) -> dict[str, solids.Shape]:
    """Outer knuckle and spindle, brake and wheel of both sides, by name, frame A."""
    made: dict[str, solids.Shape] = {}
    for name in ("left", "right"):
        side = sign_of("left" if name == "left" else "right")
        made[f"brake-{name}"] = _brake(sheet, axle, side)
        made[f"wheel-{name}"] = _wheel(sheet, axle, side)
    for knuckle in axle.knuckles:
        made[f"outer-{knuckle.side}"] = _outer_knuckle(sheet, axle, sign_of(knuckle.side))
    return made


def _at(side: int, y: float) -> Vector:
    return 0.0, side * y, 0.0


def _brake(sheet: Sheet, axle: AxleModel, side: int) -> solids.Shape:
    """Hub flange with wheel studs, rotor or drum."""
    ends, mount = sheet.wheel_ends, axle.half_width
    flange = solids.cylinder(_at(side, mount - 12.0), _at(side, mount), float(ends.flange_diameter))
    drum = solids.tube(
        _at(side, mount - ends.brake_width),
        _at(side, mount - 6.0),
        float(ends.brake_diameter),
        min(0.55 * ends.brake_diameter, ends.flange_diameter - 6.0),
    )
    radius = ends.wheel_pattern_diameter / 2.0
    studs = []
    for i in range(ends.wheel_stud_count):
        a = 2.0 * math.pi * i / ends.wheel_stud_count
        x, z = radius * math.sin(a), radius * math.cos(a)
        studs.append(solids.cylinder((x, side * (mount - 2.0), z), (x, side * (mount + 45.0), z), 14.0))
    hub = solids.cylinder(_at(side, mount - ends.brake_width), _at(side, mount + 35.0), 75.0)
    return solids.compound([solids.fuse(flange, drum, hub), *studs])


def _wheel(sheet: Sheet, axle: AxleModel, side: int) -> solids.Solid:
    """Wheel and tyre: the tyre with round shoulders, the wheel hollow, its disc at the mount."""
    car, mount = sheet.vehicle, axle.half_width
    # two bead flanges make a wheel 1 in wider than its name
    middle = mount - car.wheel_backspacing + (car.wheel_width + INCH) / 2.0
    radius, rim = car.tyre_diameter / 2.0, car.wheel_diameter / 2.0
    half = car.tyre_section_width / 2.0
    shoulder = min(0.3 * half, 0.5 * (radius - rim))
    profile = [(rim, -0.72 * half), (rim + 0.35 * (radius - rim), -half), (radius - shoulder, -0.94 * half)]
    for i in range(1, 6):
        a = math.pi / 2.0 * i / 5
        profile.append((radius - shoulder + shoulder * math.sin(a), -0.94 * half + shoulder * (1.0 - math.cos(a))))
    profile += [(r, -z) for r, z in reversed(profile)]
    tyre = solids.revolve_xz(profile)
    width = 0.72 * half
    barrel = solids.tube((0.0, 0.0, -width), (0.0, 0.0, width), 2.0 * rim + 0.5, 2.0 * rim - 14.0)
    plane = max(-width, min(width - 12.0, mount - middle))
    disc = solids.tube((0.0, 0.0, plane), (0.0, 0.0, plane + 12.0), 2.0 * rim - 13.0, 80.0)
    wheel = solids.fuse(tyre, barrel, disc)
    # local Z runs outboard: along +Y on the left, along -Y on the right
    s = float(side)
    out = ((1.0, 0.0, 0.0), (0.0, 0.0, s), (0.0, -s, 0.0))
    return solids.transformed(wheel, out, (0.0, side * middle, 0.0))


def _outer_knuckle(sheet: Sheet, axle: AxleModel, side: int) -> solids.Solid:
    """An outer knuckle that closes over both arms, with its spindle, turned with the C."""
    spec = sheet.knuckles
    if spec is None:  # pragma: no cover - a front axle without knuckles is refused by the reader
        raise ValueError("a front axle needs knuckles")
    tilt = math.radians(spec.inclination)
    station = axle.half_width - spec.axis_to_wheel_mount
    face = station + 0.62 * spec.axis_to_wheel_mount
    half = 14.0
    pieces = [
        solids.cylinder(_at(side, face - 2.0 * half), _at(side, face), 1.05 * spec.pivot_spread),
        solids.cylinder(_at(side, face - half), _at(side, axle.half_width - 10.0), 75.0),
    ]
    for way, pivot in ((1.0, spec.upper), (-1.0, spec.lower)):
        reach = spec.pivot_spread / 2.0 + pivot.arm_thickness / 2.0 + half + 3.0
        y = station - way * reach * math.sin(tilt)
        z = way * reach * math.cos(tilt)
        root = face - half
        pieces.append(
            hull(
                ((side * y, z, half), (side * root, z, half)),
                "yz",
                -0.4 * pivot.boss_diameter,
                0.4 * pivot.boss_diameter,
            )
        )
        pieces.append(
            hull(
                ((side * root, 0.0, half), (side * root, z, half)),
                "yz",
                -0.4 * pivot.boss_diameter,
                0.4 * pivot.boss_diameter,
            )
        )
    hole = solids.cylinder(_at(side, face - 200.0), _at(side, axle.half_width + 1.0), 42.0)
    body = solids.cut(solids.fuse(*pieces), hole)
    return turned_about_y(body, -float(axle.bench_caster or 0.0))


def third_member_bodies(sheet: Sheet, axle: AxleModel) -> dict[str, solids.Shape]:
    """Ring gear, pinion with yoke and, for a drop-out, the nose of the third member; frame A."""
    third, sign = sheet.third_member, axle.pinion_sign
    station, z = axle.face_middle[0], -float(third.pinion_below)
    way = 1.0 if third.ring_gear_side == "left" else -1.0
    back = axle.bearing_middle + way * 0.36 * sheet.housing.bearings.width_over
    gear = solids.tube(
        (0.0, back, 0.0),
        (0.0, back - way * RING_GEAR_WIDTH, 0.0),
        float(third.ring_gear_diameter),
        0.62 * third.ring_gear_diameter,
    )
    reach = float(third.pinion_length)
    head = 0.3 * third.ring_gear_diameter

    def at(u: float) -> Vector:
        return along(sign, u, station, z)

    pinion = solids.fuse(
        solids.cone(at(0.28 * reach), at(0.42 * reach), 0.7 * head, head),
        solids.cylinder(at(0.4 * reach), at(reach), 38.0),
        solids.cylinder(at(reach - 22.0), at(reach), 90.0),
    )
    made: dict[str, solids.Shape] = {"ring-gear": gear, "pinion": pinion}
    if sheet.housing.kind == "drop-out":
        nose = float(third.nose_diameter)
        face = axle.face_distance
        plate = solids.cylinder(
            along(sign, face + 1.0, station, axle.face_middle[1]),
            along(sign, face + 13.0, station, axle.face_middle[1]),
            float(sheet.housing.face.outside_diameter),
        )
        plate = turned_about_y(plate, -axle.table_turn)
        waist = face + 0.55 * (reach - face)
        case = solids.fuse(
            solids.cone(
                at(face + 4.0), at(waist), min(1.5 * nose, 1.4 * sheet.housing.face.opening_diameter / 2.0), nose
            ),
            solids.cylinder(at(waist), at(reach - 25.0), nose),
            plate,
        )
        made["nose"] = solids.cut(case, solids.cylinder(at(0.0), at(reach), 60.0))
    return made
