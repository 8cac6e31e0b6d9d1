"""The build sheet as frozen values: every key, its dimension, its range, its meaning.

Inside the program lengths are mm, angles deg, masses kg, forces N. A `Measure` is a float that
remembers the person's own text and tolerance and whether it was given, derived or assumed. Keys
without a default must be on the sheet: they are measured, never guessed.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from fixturegen.units import Angle, Force, Length, Mass, Measure

__all__ = [
    "Axle", "Bar", "CarrierBearings", "Cover", "Face", "Housing", "Jig", "Job", "Knuckles", "Measure",
    "Pivot", "Plate", "Process", "Readings", "Revision", "Sheet", "Stud", "Studs", "Table",
    "ThirdMember", "Tools", "Tube", "Tubes", "Vehicle", "Welded", "WheelEnds",
]


class Spec(BaseModel):
    """Base of every section: frozen, no unknown keys, defaults read like given values."""

    model_config = ConfigDict(frozen=True, extra="forbid", validate_default=True)


class Job(Spec):
    """What the job is called."""

    name: str = Field(max_length=60, description="what the shop calls this job")
    notes: str = Field("", max_length=2000, description="anything worth remembering")
    units: Literal["in", "mm"] = Field("in", description="unit of cut files and papers")


class Revision(Spec):
    """Which revision of the sheet this is, and since which one changes are listed."""

    id: str = Field("A", pattern=r"^[A-Za-z0-9.-]{1,8}$", description="letter or number of this revision")
    since: str = Field("", max_length=8, description="list what changed since this revision")


class Vehicle(Spec):
    """The truck on stands."""

    wheelbase: Annotated[Measure, Length("60 in", "220 in")] = Field(description="axle centre to axle centre")
    rake: Annotated[Measure, Angle("-5 deg", "5 deg")] = Field("0 deg", description="frame nose up positive")  # type: ignore[assignment]
    tyre_diameter: Annotated[Measure, Length("20 in", "60 in")] = Field(description="true, inflated, measured")
    tyre_loaded_radius: Annotated[Measure, Length("9 in", "30 in")] = Field(description="ground to hub centre, loaded")
    tyre_section_width: Annotated[Measure, Length("5 in", "25 in")] = Field(description="widest point of the tyre")
    wheel_width: Annotated[Measure, Length("4 in", "20 in")] = Field(description="bead to bead")
    wheel_diameter: Annotated[Measure, Length("12 in", "26 in")] = Field(description="bead seat, nominal")
    wheel_backspacing: Annotated[Measure, Length("0 in", "12 in")] = Field(description="wheel mount face to inner flange edge")


class Axle(Spec):
    """What the finished axle must come to."""

    position: Literal["front", "rear"] = Field(description="front (steered) or rear")
    wheel_mount_width: Annotated[Measure, Length("40 in", "100 in")] = Field(description="wheel mount surface to wheel mount surface")
    pinion_angle: Annotated[Measure, Angle("-10 deg", "25 deg")] = Field(description="nose above level at ride height")
    caster: Annotated[Measure, Angle("-5 deg", "15 deg")] | None = Field(None, description="wanted in the vehicle; front only")


class Stud(Spec):
    """One stud or cover bolt, measured from the bore axis: y to the vehicle's left, z up."""

    y: Annotated[Measure, Length("-12 in", "12 in")]
    z: Annotated[Measure, Length("-12 in", "12 in")]


class Studs(Spec):
    """The measured stud (drop-out) or cover bolt (integral) pattern; never invented."""

    size: str = Field(description='thread, "3/8-24" or "M10x1.5"')
    length: Annotated[Measure, Length("0 in", "4 in")] = Field("1 1/8 in", description="stud beyond the face; 0 for tapped holes")  # type: ignore[assignment]
    points: tuple[Stud, ...] = Field((), max_length=64, description="measured points, or ...")
    circle_diameter: Annotated[Measure, Length("4 in", "20 in")] | None = Field(None, description="... measured circle with")
    angles: tuple[Annotated[Measure, Angle("-360 deg", "360 deg")], ...] = Field((), max_length=64, description="measured angles, 0 up, toward the vehicle's left positive")


class Face(Spec):
    """The machined face that the jig locates on: carrier face or cover face."""

    outside_diameter: Annotated[Measure, Length("5 in", "20 in")] = Field(description="across the machined face")
    opening_diameter: Annotated[Measure, Length("4 in", "18 in")] = Field(description="smallest width of the opening")
    flange_thickness: Annotated[Measure, Length("0.1 in", "2 in")] = Field("3/8 in", description="thickness at the studs")  # type: ignore[assignment]
    angle: Annotated[Measure, Angle("-5 deg", "5 deg")] | None = Field(None, description="pinion above the line square to the face, nose up positive; assumed square when not given")
    bore_distance: Annotated[Measure, Length("-3 in", "9 in")] = Field(description="face to bearing bore axis, measured (drop-out: on the third member)")
    vertical_offset: Annotated[Measure, Length("-2 in", "2 in")] = Field(description="bore axis above the middle of the face, measured")
    lateral_offset: Annotated[Measure, Length("-2 in", "2 in")] = Field(description="middle of the bearing bores left of the middle of the face, measured")
    studs: Studs


class CarrierBearings(Spec):
    """Carrier bearing bores: in the housing (integral) or in the third member (drop-out)."""

    bore_diameter: Annotated[Measure, Length("1.5 in", "6 in")] = Field(description="bearing cup bore, measured")
    width_over: Annotated[Measure, Length("3 in", "14 in")] = Field(description="outside to outside over both bores")
    bore_width: Annotated[Measure, Length("0.3 in", "3 in")] = Field("7/8 in", description="length of one bore")  # type: ignore[assignment]


class Cover(Spec):
    """The cover of an integral casting, or the closed back of a fabricated housing."""

    projection: Annotated[Measure, Length("1 in", "12 in")] = Field(description="bore axis to the outermost point of the cover or back")
    bolt_head_height: Annotated[Measure, Length("0 in", "2 in")] = Field("0.35 in", description="bolt head above the flange")  # type: ignore[assignment]


class Housing(Spec):
    """The centre section."""

    kind: Literal["drop-out", "integral"] = Field(description="drop-out carrier (fabricated) or integral casting with cover")
    material: Literal["fabricated steel", "cast steel", "nodular iron", "grey iron", "unknown"] = Field(description="by file, drill and spark")
    pinion_offset: Annotated[Measure, Length("-24 in", "24 in")] = Field(description="pinion left of the vehicle centreline (right negative)")
    width: Annotated[Measure, Length("4 in", "24 in")] = Field(description="centre section along the axle, between the tubes' roots")
    height: Annotated[Measure, Length("5 in", "20 in")] = Field(description="top to bottom of the centre section")
    skin: Annotated[Measure, Length("0.08 in", "1 in")] = Field(description="wall thickness")
    face: Face
    bearings: CarrierBearings
    cover: Cover


class Tube(Spec):
    """One tube of the housing."""

    length: Annotated[Measure, Length("1 in", "48 in")] = Field(description="centre section to tube end (inside the knuckle)")
    insertion: Annotated[Measure, Length("0 in", "8 in")] = Field("2 in", description="how far the tube goes into the centre section")  # type: ignore[assignment]


class Tubes(Spec):
    """Both tubes; left and right are the vehicle's."""

    outside_diameter: Annotated[Measure, Length("1.5 in", "6 in")] = Field(description="measured, not nominal")
    wall: Annotated[Measure, Length("0.08 in", "1.5 in")]
    material: str = Field("dom-1020", description="a material of `fixturegen tables materials`")
    left: Tube
    right: Tube


class Pivot(Spec):
    """One pivot of an inner knuckle, upper or lower.

    kind `straight`: bore right through, `diameter`. `taper`: `diameter` at the large end,
    `taper_per_foot` and `large_end`. `thread`: `thread`, `diameter` its major diameter. `cup`:
    bearing cup bore, `diameter`, `depth`, open to the `large_end` side, `through` diameter or 0 for
    blind. `pin`: a male pin left in place, `diameter` and `length` beyond the arm.
    """

    kind: Literal["straight", "taper", "thread", "cup", "pin"]
    diameter: Annotated[Measure, Length("0.4 in", "4 in")]
    taper_per_foot: Annotated[Measure, Length("0.25 in", "4 in")] | None = None
    large_end: Literal["outside", "inside"] = Field("outside", description="outside: away from the axle line")
    thread: str = ""
    depth: Annotated[Measure, Length("0.2 in", "3 in")] | None = None
    through: Annotated[Measure, Length("0 in", "4 in")] = Field("0 in", description="through hole of a cup bore; 0 for blind")  # type: ignore[assignment]
    length: Annotated[Measure, Length("0.3 in", "4 in")] | None = None
    arm_thickness: Annotated[Measure, Length("0.4 in", "4 in")] = Field(description="arm at the pivot, along the axis")
    boss_diameter: Annotated[Measure, Length("0.8 in", "6 in")] = Field(description="outside of the boss round the pivot")


class Knuckles(Spec):
    """Inner knuckles (C); both sides alike, mirrored."""

    kind: Literal["kingpin", "ball-joint"]
    material: Literal["cast steel", "forged steel", "nodular iron", "unknown"] = "unknown"
    axis_to_wheel_mount: Annotated[Measure, Length("2 in", "12 in")] = Field(description="steering axis to wheel mount surface at axle height")
    pivot_spread: Annotated[Measure, Length("4 in", "12 in")] = Field(description="middle of upper arm to middle of lower arm along the steering axis")
    inclination: Annotated[Measure, Angle("0 deg", "20 deg")] = Field(description="steering-axis (kingpin) inclination, measured at zero caster")
    axis_offset: Annotated[Measure, Length("-2 in", "2 in")] = Field("0 in", description="steering axis ahead of the axle line at axle height")  # type: ignore[assignment]
    bore: Annotated[Measure, Length("1.5 in", "6 in")] = Field(description="bore for the tube")
    neck_length: Annotated[Measure, Length("0.5 in", "6 in")] = Field(description="sleeve on the tube, along the axle")
    neck_diameter: Annotated[Measure, Length("2 in", "8 in")] = Field(description="outside of the sleeve; the weld toe runs round it")
    weld_to_axis: Annotated[Measure, Length("0.5 in", "8 in")] = Field(description="inboard weld to steering axis at axle height")
    mass: Annotated[Measure, Mass("2 lb", "80 lb")] = Field(description="one inner knuckle, weighed")
    camber: Annotated[Measure, Angle("-3 deg", "3 deg")] = Field("0 deg", description="camber built into the spindle at the bench caster it was made for")  # type: ignore[assignment]
    made_for_caster: Annotated[Measure, Angle("-10 deg", "25 deg")] = Field("0 deg", description="bench caster the knuckle was made for")  # type: ignore[assignment]
    upper: Pivot
    lower: Pivot


class WheelEnds(Spec):
    """Wheel ends and brakes, as envelopes."""

    wheel_pattern_diameter: Annotated[Measure, Length("3 in", "12 in")]
    wheel_stud_count: Annotated[int, Field(ge=3, le=12)]
    flange_diameter: Annotated[Measure, Length("4 in", "14 in")] = Field(description="hub flange across")
    brake_diameter: Annotated[Measure, Length("6 in", "20 in")] = Field(description="rotor or drum, caliper included")
    brake_width: Annotated[Measure, Length("1 in", "10 in")]
    end_flange_thickness: Annotated[Measure, Length("0.2 in", "2 in")] = Field("1/2 in", description="rear: bearing end flange")  # type: ignore[assignment]


class ThirdMember(Spec):
    """Ring, pinion and nose as envelopes."""

    ring_gear_diameter: Annotated[Measure, Length("5 in", "15 in")]
    ring_gear_side: Literal["left", "right"] = Field(description="side of the pinion that the ring gear's back is on")
    pinion_below: Annotated[Measure, Length("-4 in", "4 in")] = Field(description="pinion axis below the bore axis (above negative)")
    pinion_length: Annotated[Measure, Length("5 in", "24 in")] = Field(description="bore axis to the yoke face")
    nose_diameter: Annotated[Measure, Length("2 in", "10 in")] = Field(description="largest diameter round the pinion outside the housing")
    mass: Annotated[Measure, Mass("5 lb", "250 lb")] = Field("60 lb", description="weighed, with gears")  # type: ignore[assignment]


class Bar(Spec):
    """The alignment bar: the axle line made of steel."""

    diameter: Annotated[Measure, Length("0.75 in", "3 in")] = Field(description="ground bar, measured")
    length: Annotated[Measure, Length("40 in", "140 in")]
    free_length: Annotated[Measure, Length("0 in", "300 in")] = Field(description="free floor beyond one tube end, to slide the bar in")
    free_side: Literal["left", "right"] = Field("left", description="side the bar is slid in from")


class Readings(Spec):
    """Tube end to bar, read all round: radial gap at 0 (up), 90 (forward), 180, 270 deg."""

    left: tuple[Annotated[Measure, Length("-0.5 in", "0.5 in")], ...] = Field(min_length=4, max_length=4)
    right: tuple[Annotated[Measure, Length("-0.5 in", "0.5 in")], ...] = Field(min_length=4, max_length=4)
    uncertainty: Annotated[Measure, Length("0 in", "0.05 in")] = Field("0.002 in", description="of one reading")  # type: ignore[assignment]


class Welded(Spec):
    """Something already welded on that the jig must keep away from."""

    name: str = Field(max_length=40)
    station_from: Annotated[Measure, Length("-60 in", "60 in")] = Field(description="left of the centreline positive")
    station_to: Annotated[Measure, Length("-60 in", "60 in")]
    clock: Annotated[Measure, Angle("-360 deg", "360 deg")] = Field(description="0 up, 90 forward")
    width: Annotated[Measure, Length("0.1 in", "20 in")] = Field(description="across, square to the clock direction")
    height: Annotated[Measure, Length("0.1 in", "20 in")] = Field(description="out from the tube's surface")


class Table(Spec):
    """The fab table."""

    length: Annotated[Measure, Length("24 in", "300 in")] = Field(description="along the axle")
    width: Annotated[Measure, Length("12 in", "120 in")]
    grid: Annotated[Measure, Length("0.5 in", "12 in")] = Field(description="hole pitch, both ways")
    hole: Annotated[Measure, Length("0.2 in", "2 in")] = Field(description="hole diameter, measured")
    pin: Annotated[Measure, Length("0.2 in", "2 in")] = Field(description="table pin diameter, measured")
    bolt: str = Field(description="bolt that goes through the holes")
    edge: Annotated[Measure, Length("0 in", "24 in")] = Field("2 in", description="first row of holes from the table edge")  # type: ignore[assignment]
    thickness: Annotated[Measure, Length("0.1 in", "4 in")] = Field("3/8 in", description="of the top")  # type: ignore[assignment]


class Plate(Spec):
    """One plate in the rack."""

    nominal: Annotated[Measure, Length("0.05 in", "3 in")]
    measured: Annotated[Measure, Length("0.05 in", "3 in")] = Field(description="by micrometer, at an edge")
    material: str = "a36"


class Process(Spec):
    """How plates are cut, and how holes that set an angle are made."""

    name: str = Field("plasma-air-65a", description="a process of `fixturegen tables processes`")
    kerf: Annotated[Measure, Length("0.005 in", "0.25 in")] = Field(description="measured on a coupon")
    kerf_allowed_by: Literal["controller", "file"] = "controller"
    tolerance_class: Literal[1, 2] = Field(2, description="ISO 9013")
    angle_holes: Literal["mill", "marked"] = Field("mill", description="mill: from coordinates; marked: drilled from a punched mark")
    stacked: bool = Field(True, description="index and clock plates drilled and reamed as one stack")
    pads: Literal["mill", "filed"] = Field("mill", description="edges that meet the datum face")


class Tools(Spec):
    """What readings are taken with."""

    level_repeatability: Annotated[Measure, Angle("0.001 deg", "0.5 deg")] = Field(description="largest spread of ten readings, lifted and put back")
    feeler: Annotated[Measure, Length("0.0005 in", "0.02 in")] = Field("0.002 in", description="difference of two gaps that can be felt")  # type: ignore[assignment]
    hoist: Annotated[Measure, Force("0 lbf", "20000 lbf")] = Field("0 lbf", description="safe load of the hoist; 0 for none")  # type: ignore[assignment]


class Jig(Spec):
    """Wishes about the caster-setting jig; each has a default that works on most axles."""

    axle_height: Annotated[Measure, Length("8 in", "30 in")] | None = Field(None, description="axle line above the table; worked out when not given")
    tie_radius: Annotated[Measure, Length("8 in", "24 in")] = Field("12 in", description="tie above the axle line")  # type: ignore[assignment]
    tie_diameter: Annotated[Measure, Length("0.75 in", "2.5 in")] = Field("1 1/4 in", description="ground bar")  # type: ignore[assignment]
    finger_diameter: Annotated[Measure, Length("0.5 in", "1.5 in")] = Field("3/4 in", description="ground bar of the fingers")  # type: ignore[assignment]
    clock_plate: Annotated[Measure, Length("0.25 in", "1.5 in")] = Field("1/2 in", description="nominal thickness of index and clock plates")  # type: ignore[assignment]
    stand_plate: Annotated[Measure, Length("0.25 in", "1.5 in")] = Field("3/8 in", description="nominal thickness of stand and cradles")  # type: ignore[assignment]
    trim_step: Annotated[Measure, Angle("0.1 deg", "3 deg")] = Field("0.5 deg", description="step of the side holes of the index row")  # type: ignore[assignment]


class Sheet(Spec):
    """The whole build sheet."""

    schema_: Annotated[int, Field(alias="schema")]
    job: Job
    revision: Revision = Revision()
    vehicle: Vehicle
    axle: Axle
    housing: Housing
    tubes: Tubes
    knuckles: Knuckles | None = Field(None, description="front only")
    wheel_ends: WheelEnds
    third_member: ThirdMember
    bar: Bar
    readings: Readings
    welded: tuple[Welded, ...] = Field((), max_length=64)
    table: Table
    plates: tuple[Plate, ...] = Field(min_length=1, max_length=64)
    process: Process
    tools: Tools
    jig: Jig = Jig()
