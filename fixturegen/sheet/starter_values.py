"""Invented values of a starter sheet, one consistent axle for each variant.

They are no one's axle and no default: they only fill a starter that asks for them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

Values = dict[str, Any]

Position = Literal["front", "rear"]
HousingKind = Literal["drop-out", "integral"]
KnuckleKind = Literal["kingpin", "ball-joint"]


@dataclass(frozen=True)
class Variant:
    """Which axle a starter is for.

    Attributes:
        position: front or rear.
        housing: drop-out or integral.
        knuckle: kingpin or ball-joint; of no meaning on a rear axle.
    """

    position: Position = "front"
    housing: HousingKind = "drop-out"
    knuckle: KnuckleKind = "kingpin"

    def choices(self) -> Values:
        """Keys that the variant answers by itself."""
        found: Values = {
            "schema": 1,
            "axle.position": self.position,
            "housing.kind": self.housing,
        }
        if self.position == "front":
            found["knuckles.kind"] = self.knuckle
        if self.housing == "integral":
            found["housing.face.studs.length"] = "0 in"  # cover bolts in tapped holes
        return found


_TRUCK: Values = {
    "vehicle.wheelbase": "112 in",
    "vehicle.tyre_diameter": "36 3/4 in",
    "vehicle.tyre_loaded_radius": "17 1/2 in",
    "vehicle.tyre_section_width": "12 1/2 in",
    "vehicle.wheel_width": "8 1/2 in",
    "vehicle.wheel_diameter": "17 in",
    "vehicle.wheel_backspacing": "3 3/4 in",
    "axle.wheel_mount_width": "66 in",
    "axle.pinion_angle": "8 deg",
    "axle.caster": "7 deg",
    "wheel_ends.wheel_pattern_diameter": "5 1/2 in",
    "wheel_ends.wheel_stud_count": 6,
    "wheel_ends.flange_diameter": "7 1/4 in",
    "wheel_ends.brake_diameter": "13 in",
    "wheel_ends.brake_width": "4 in",
}

_DROP_OUT: Values = {
    "housing.material": "fabricated steel",
    "housing.width": "11 in",
    "housing.height": "12 1/2 in",
    "housing.skin": "0.250 in",
    "housing.face.outside_diameter": "11 3/4 in",
    "housing.face.opening_diameter": "9 1/4 in",
    "housing.face.bore_distance": "2.372 in",
    "housing.face.vertical_offset": "0.015 in",
    "housing.face.lateral_offset": "0 in",
    "housing.face.studs.size": "3/8-24",
    "housing.face.studs.circle_diameter": "10 1/2 in",
    "housing.face.studs.angles": [
        *("14 deg", "46.5 deg", "82 deg", "117.5 deg", "163 deg"),
        *("195.5 deg", "226 deg", "262 deg", "298.5 deg", "341 deg"),
    ],
    "housing.bearings.bore_diameter": "3.062 in",
    "housing.bearings.width_over": "7 1/4 in",
    "housing.cover.projection": "5 5/8 in",
    "third_member.ring_gear_diameter": "9 in",
    "third_member.ring_gear_side": "left",
    "third_member.pinion_below": "2 1/4 in",
    "third_member.pinion_length": "11 in",
    "third_member.nose_diameter": "5 1/4 in",
}

_INTEGRAL: Values = {
    "housing.material": "cast steel",
    "housing.width": "11 in",
    "housing.height": "11 1/4 in",
    "housing.skin": "5/16 in",
    "housing.face.outside_diameter": "10 1/2 in",
    "housing.face.opening_diameter": "8 3/4 in",
    "housing.face.bore_distance": "1.125 in",
    "housing.face.vertical_offset": "0.030 in",
    "housing.face.lateral_offset": "0 in",
    "housing.face.studs.size": "3/8-16",
    "housing.face.studs.circle_diameter": "9 5/8 in",
    "housing.face.studs.angles": [
        *("17 deg", "53.5 deg", "90 deg", "127 deg", "162.5 deg"),
        *("198 deg", "233.5 deg", "270 deg", "306 deg", "342.5 deg"),
    ],
    "housing.bearings.bore_diameter": "3.150 in",
    "housing.bearings.width_over": "7 1/2 in",
    "housing.cover.projection": "5 1/4 in",
    "third_member.ring_gear_diameter": "8.6 in",
    "third_member.ring_gear_side": "left",
    "third_member.pinion_below": "1 3/8 in",
    "third_member.pinion_length": "11 3/4 in",
    "third_member.nose_diameter": "4 3/4 in",
}

_KNUCKLES: Values = {
    "knuckles.axis_to_wheel_mount": "5 1/4 in",
    "knuckles.pivot_spread": "7 in",
    "knuckles.inclination": "8.5 deg",
    "knuckles.bore": "3.503 in",
    "knuckles.neck_length": "2 in",
    "knuckles.neck_diameter": "4 1/4 in",
    "knuckles.weld_to_axis": "2 3/4 in",
    "knuckles.mass": "22 lb",
}

_KINGPIN: Values = {
    "knuckles.upper.kind": "straight",
    "knuckles.upper.diameter": "1.250 in",
    "knuckles.upper.arm_thickness": "1 1/2 in",
    "knuckles.upper.boss_diameter": "2 1/2 in",
    "knuckles.lower.kind": "cup",
    "knuckles.lower.diameter": "2.4375 in",
    "knuckles.lower.large_end": "outside",
    "knuckles.lower.depth": "0.750 in",
    "knuckles.lower.through": "1 1/4 in",
    "knuckles.lower.arm_thickness": "1 3/4 in",
    "knuckles.lower.boss_diameter": "3 1/4 in",
}

_BALL_JOINT: Values = {
    "knuckles.upper.kind": "taper",
    "knuckles.upper.diameter": "1.125 in",
    "knuckles.upper.taper_per_foot": "1 1/2 in",
    "knuckles.upper.large_end": "inside",
    "knuckles.upper.arm_thickness": "1 in",
    "knuckles.upper.boss_diameter": "2 in",
    "knuckles.lower.kind": "taper",
    "knuckles.lower.diameter": "1.000 in",
    "knuckles.lower.taper_per_foot": "1 1/2 in",
    "knuckles.lower.large_end": "outside",
    "knuckles.lower.arm_thickness": "1 1/8 in",
    "knuckles.lower.boss_diameter": "2 1/4 in",
}

_SHOP: Values = {
    "tubes.outside_diameter": "3.498 in",
    "tubes.wall": "0.375 in",
    "bar.diameter": "1.500 in",
    "bar.length": "90 in",
    "bar.free_length": "8 ft",
    "readings.left": ["0 in", "0.003 in", "0.004 in", "0.001 in"],
    "readings.right": ["0 in", "-0.002 in", "0.002 in", "0.003 in"],
    "table.length": "96 in",
    "table.width": "48 in",
    "table.grid": "2 in",
    "table.hole": "0.628 in",
    "table.pin": "0.623 in",
    "table.bolt": "1/2-13",
    "process.kerf": "0.085 in",
    "tools.level_repeatability": "0.02 deg",
    "tools.hoist": "1000 lbf",
}

PLATES = (("1/2 in", "0.503 in"), ("3/8 in", "0.378 in"))
"""Nominal and measured; the two that the jig asks for by itself."""

_FRONT_END, _REAR_END = 26.75, 29.25  # in; tube end from the centreline


def invented(variant: Variant) -> Values:
    """Values that read without a fault, by dotted key."""
    front = variant.position == "front"
    values = {**_TRUCK, **_SHOP, **(_DROP_OUT if variant.housing == "drop-out" else _INTEGRAL)}
    if front:
        pivots = _KINGPIN if variant.knuckle == "kingpin" else _BALL_JOINT
        values = {**values, **_KNUCKLES, **pivots}
    else:
        del values["axle.caster"]
    offset = (-6.0 if variant.housing == "drop-out" else -9.0) if front else 0.0
    end = _FRONT_END if front else _REAR_END
    half = 11.0 / 2.0  # in; half of housing.width above
    values["housing.pinion_offset"] = f"{offset:g} in"
    values["tubes.left.length"] = f"{end - half - offset:g} in"
    values["tubes.right.length"] = f"{end - half + offset:g} in"
    return values
