"""Tubes, inner knuckles with their pivots, and wheel ends."""

from typing import Annotated, Literal

from pydantic import Field

from fixturegen.sheet.specs.base import THREAD, Spec, usual
from fixturegen.units import Angle, Length, Mass, Measure


class Tube(Spec):
    """One tube of the housing."""

    length: Annotated[Measure, Length("1 in", "48 in")] = Field(
        description="side of the centre section to tube end (inside the knuckle)"
    )
    insertion: Annotated[Measure, Length("0 in", "8 in")] = usual(
        "1 1/2 in", "how far the tube goes into the centre section"
    )


class Tubes(Spec):
    """Both tubes; left and right are the vehicle's."""

    outside_diameter: Annotated[Measure, Length("1.5 in", "6 in")] = Field(description="measured, not nominal")
    wall: Annotated[Measure, Length("0.08 in", "1.5 in")] = Field(description="measured at a cut end")
    material: str = usual("dom-1020", "a material of `fixturegen tables materials`", max_length=40)
    left: Tube
    right: Tube


class Pivot(Spec):
    """One pivot of an inner knuckle.

    straight: bore right through. taper: `diameter` at the large end, `taper_per_foot`,
    `large_end`. thread: `thread`, `diameter` its major diameter. cup: bearing cup bore, `depth`,
    open to the `large_end` side, `through` diameter or 0 for blind. pin: a male pin left in place,
    `length` beyond the arm.
    """

    kind: Literal["straight", "taper", "thread", "cup", "pin"] = Field(description="what the pivot is, see above")
    diameter: Annotated[Measure, Length("0.4 in", "4 in")] = Field(
        description="bore, large end of a taper, major diameter of a thread, or pin"
    )
    taper_per_foot: Annotated[Measure, Length("0.25 in", "4 in")] | None = usual(
        None, "taper: change of diameter in 12 in"
    )
    large_end: Literal["outside", "inside"] = usual("outside", "taper and cup: outside is away from the axle line")
    thread: str = usual("", 'thread: like "1 1/2-12" or "M36x1.5"', max_length=20, pattern=f"{THREAD}|^$")
    depth: Annotated[Measure, Length("0.2 in", "3 in")] | None = usual(None, "cup: depth of the cup bore")
    through: Annotated[Measure, Length("0 in", "4 in")] = usual("0 in", "cup: through hole; 0 for blind")
    length: Annotated[Measure, Length("0.3 in", "4 in")] | None = usual(None, "pin: length beyond the arm")
    arm_thickness: Annotated[Measure, Length("0.4 in", "4 in")] = Field(description="arm at the pivot, along the axis")
    boss_diameter: Annotated[Measure, Length("0.8 in", "6 in")] = Field(
        description="outside of the boss round the pivot"
    )


class Knuckles(Spec):
    """Inner knuckles (C); both sides alike, mirrored. Front axles only.

    The steering axis crosses axle height at half the wheel mount width less `axis_to_wheel_mount`;
    the inboard weld stands `weld_to_axis` inboard of that, and the sleeve (neck) runs `neck_length`
    outboard from the weld. The tube ends between the weld and the steering axis.
    """

    kind: Literal["kingpin", "ball-joint"] = Field(description="what joins them to the outer knuckles")
    material: Literal["cast steel", "forged steel", "nodular iron", "unknown"] = usual(
        "unknown", "by file, drill and spark"
    )
    axis_to_wheel_mount: Annotated[Measure, Length("2 in", "12 in")] = Field(
        description="steering axis to wheel mount surface at axle height"
    )
    pivot_spread: Annotated[Measure, Length("4 in", "12 in")] = Field(
        description="middle of upper arm to middle of lower arm along the steering axis"
    )
    inclination: Annotated[Measure, Angle("0 deg", "20 deg")] = Field(
        description="steering-axis (kingpin) inclination, measured at zero caster"
    )
    axis_offset: Annotated[Measure, Length("-2 in", "2 in")] = usual(
        "0 in", "steering axis ahead of the axle line at axle height"
    )
    bore: Annotated[Measure, Length("1.5 in", "6 in")] = Field(description="bore for the tube")
    neck_length: Annotated[Measure, Length("0.5 in", "6 in")] = Field(description="sleeve on the tube, along the axle")
    neck_diameter: Annotated[Measure, Length("2 in", "8 in")] = Field(
        description="outside of the sleeve; the weld toe runs round it"
    )
    weld_to_axis: Annotated[Measure, Length("0.5 in", "8 in")] = Field(
        description="inboard weld to steering axis at axle height"
    )
    mass: Annotated[Measure, Mass("2 lb", "80 lb")] = Field(description="one knuckle, weighed")
    camber: Annotated[Measure, Angle("-3 deg", "3 deg")] = usual(
        "0 deg", "camber built into the spindle at the bench caster it was made for"
    )
    made_for_caster: Annotated[Measure, Angle("-10 deg", "25 deg")] = usual(
        "0 deg", "bench caster the knuckle was made for"
    )
    upper: Pivot
    lower: Pivot


class WheelEnds(Spec):
    """Wheel ends and brakes, as envelopes."""

    wheel_pattern_diameter: Annotated[Measure, Length("3 in", "12 in")] = Field(description="circle of the wheel studs")
    wheel_stud_count: Annotated[int, Field(strict=True, ge=3, le=12)] = Field(description="wheel studs on one hub")
    flange_diameter: Annotated[Measure, Length("4 in", "14 in")] = Field(description="hub flange across")
    brake_diameter: Annotated[Measure, Length("6 in", "20 in")] = Field(description="rotor or drum, caliper included")
    brake_width: Annotated[Measure, Length("1 in", "10 in")] = Field(
        description="brake along the axle, inboard of the wheel mount surface"
    )
    end_flange_thickness: Annotated[Measure, Length("0.2 in", "2 in")] = usual("1/2 in", "rear: bearing end flange")
