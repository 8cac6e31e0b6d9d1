"""The centre section: face, studs, bearing bores, cover, and the third member in it.

Where it stands. The middle of the machined face stands at `pinion_offset`; the middle of the
bearing bores stands `lateral_offset` to the left of that. The centre section is as much to the left
as to the right of the middle of the bearing bores, `width` in all; each tube runs from there
outward by its own length.
"""

from typing import Annotated, Literal

from pydantic import Field

from fixturegen.sheet.specs.base import THREAD, Spec, usual
from fixturegen.units import Angle, Length, Mass, Measure


class Stud(Spec):
    """One stud or cover bolt, measured from the bore axis and the middle of the bearing bores."""

    y: Annotated[Measure, Length("-12 in", "12 in")] = Field(
        description="to the vehicle's left of the middle of the bearing bores"
    )
    z: Annotated[Measure, Length("-12 in", "12 in")] = Field(description="above the bore axis, face held vertical")


class Studs(Spec):
    """The measured stud (drop-out) or cover bolt (integral) pattern; never invented.

    Give `points`, or `circle_diameter` with `angles` about the middle of the face.
    """

    size: str = Field(max_length=20, pattern=THREAD, description='thread, like "3/8-24" or "M10x1.5"')
    length: Annotated[Measure, Length("0 in", "4 in")] = usual("1 1/8 in", "stud beyond the face; 0 for tapped holes")
    points: tuple[Stud, ...] = usual(
        (), "measured points, or circle_diameter with angles: keep one of the two", max_length=64
    )
    circle_diameter: Annotated[Measure, Length("4 in", "20 in")] | None = usual(
        None, "measured stud circle about the middle of the face"
    )
    angles: tuple[Annotated[Measure, Angle("-360 deg", "360 deg")], ...] = usual(
        (), "measured angles, 0 up, toward the vehicle's left positive", max_length=64
    )


class Face(Spec):
    """The machined face that the jig locates on: carrier face or cover face."""

    outside_diameter: Annotated[Measure, Length("5 in", "20 in")] = Field(description="across the machined face")
    opening_diameter: Annotated[Measure, Length("4 in", "18 in")] = Field(description="smallest width of the opening")
    flange_thickness: Annotated[Measure, Length("0.1 in", "2 in")] = usual("3/8 in", "thickness at the studs")
    angle: Annotated[Measure, Angle("-5 deg", "5 deg")] | None = usual(
        None, "pinion above the line square to the face, nose up positive; square if left out"
    )
    bore_distance: Annotated[Measure, Length("-3 in", "9 in")] = Field(
        description="face to bearing bore axis (drop-out: on the third member)"
    )
    vertical_offset: Annotated[Measure, Length("-2 in", "2 in")] = Field(
        description="bore axis above the middle of the face"
    )
    lateral_offset: Annotated[Measure, Length("-2 in", "2 in")] = Field(
        description="middle of the bearing bores left of the middle of the face"
    )
    studs: Studs


class CarrierBearings(Spec):
    """Carrier bearing bores: in the housing (integral) or in the third member (drop-out)."""

    bore_diameter: Annotated[Measure, Length("1.5 in", "6 in")] = Field(description="bearing cup bore")
    width_over: Annotated[Measure, Length("3 in", "14 in")] = Field(description="outside to outside over both bores")
    bore_width: Annotated[Measure, Length("0.3 in", "3 in")] = usual("7/8 in", "length of one bore")


class Cover(Spec):
    """The cover of an integral casting, or the closed back of a fabricated housing."""

    projection: Annotated[Measure, Length("1 in", "12 in")] = Field(
        description="bore axis to the outermost point of the cover or back"
    )
    bolt_head_height: Annotated[Measure, Length("0 in", "2 in")] = usual("0.35 in", "bolt head above the flange")


class Housing(Spec):
    """The centre section."""

    kind: Literal["drop-out", "integral"] = Field(
        description="drop-out: the third member unbolts; integral: a casting with a cover"
    )
    material: Literal["fabricated steel", "cast steel", "nodular iron", "grey iron", "unknown"] = Field(
        description="by file, drill and spark"
    )
    pinion_offset: Annotated[Measure, Length("-24 in", "24 in")] = Field(
        description="middle of the face left of the vehicle centreline (right negative)"
    )
    width: Annotated[Measure, Length("4 in", "24 in")] = Field(
        description="centre section along the axle, between the roots of the tubes"
    )
    height: Annotated[Measure, Length("5 in", "20 in")] = Field(description="top to bottom of the centre section")
    skin: Annotated[Measure, Length("0.08 in", "1 in")] = Field(description="wall thickness")
    face: Face
    bearings: CarrierBearings
    cover: Cover


class ThirdMember(Spec):
    """Ring, pinion and nose as envelopes."""

    ring_gear_diameter: Annotated[Measure, Length("5 in", "15 in")] = Field(description="outside of the ring gear")
    ring_gear_side: Literal["left", "right"] = Field(description="side of the pinion that the ring gear's back is on")
    pinion_below: Annotated[Measure, Length("-4 in", "4 in")] = Field(
        description="pinion axis below the bore axis (above negative)"
    )
    pinion_length: Annotated[Measure, Length("5 in", "24 in")] = Field(description="bore axis to the yoke face")
    nose_diameter: Annotated[Measure, Length("2 in", "10 in")] = Field(
        description="largest diameter round the pinion outside the housing"
    )
    mass: Annotated[Measure, Mass("5 lb", "250 lb")] = usual("60 lb", "weighed, with gears")
