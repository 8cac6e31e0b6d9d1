"""What the shop has: bar, table, plates, tools; what was read; wishes about the jig."""

from typing import Annotated, Literal

from pydantic import Field

from fixturegen.sheet.specs.base import BOLT, NAME, Spec, usual
from fixturegen.units import Angle, Force, Length, Measure


class Bar(Spec):
    """The alignment bar: the axle line made of steel."""

    diameter: Annotated[Measure, Length("0.75 in", "3 in")] = Field(description="ground bar, measured")
    length: Annotated[Measure, Length("40 in", "140 in")] = Field(description="end to end")
    free_length: Annotated[Measure, Length("0 in", "300 in")] = Field(
        description="free floor beyond one tube end, to slide the bar in"
    )
    free_side: Literal["left", "right"] = usual("left", "side the bar is slid in from")


class Readings(Spec):
    """Bar to tube end, read all round: at 0 (up), 90 (forward), 180 and 270 deg."""

    left: tuple[Annotated[Measure, Length("-0.5 in", "0.5 in")], ...] = Field(
        min_length=4, max_length=4, description="left tube end: up, forward, down, rearward"
    )
    right: tuple[Annotated[Measure, Length("-0.5 in", "0.5 in")], ...] = Field(
        min_length=4, max_length=4, description="right tube end: up, forward, down, rearward"
    )
    uncertainty: Annotated[Measure, Length("0 in", "0.05 in")] = usual("0.002 in", "of one reading")


class Welded(Spec):
    """Something already welded on that the jig must keep away from."""

    name: str = Field(max_length=40, pattern=NAME, description="spring pad, truss foot ...")
    station_from: Annotated[Measure, Length("-60 in", "60 in")] = Field(description="left of the centreline positive")
    station_to: Annotated[Measure, Length("-60 in", "60 in")] = Field(description="its other end")
    clock: Annotated[Measure, Angle("-360 deg", "360 deg")] = Field(description="0 up, 90 forward")
    width: Annotated[Measure, Length("0.1 in", "20 in")] = Field(description="across, square to the clock direction")
    height: Annotated[Measure, Length("0.1 in", "20 in")] = Field(description="out from the tube's surface")


class Table(Spec):
    """The fab table."""

    length: Annotated[Measure, Length("24 in", "300 in")] = Field(description="along the axle")
    width: Annotated[Measure, Length("12 in", "120 in")] = Field(description="across the axle")
    grid: Annotated[Measure, Length("0.5 in", "12 in")] = Field(description="hole pitch, both ways")
    hole: Annotated[Measure, Length("0.2 in", "2 in")] = Field(description="hole diameter, measured")
    pin: Annotated[Measure, Length("0.2 in", "2 in")] = Field(description="table pin diameter, measured")
    bolt: str = Field(
        max_length=20, pattern=BOLT, description='bolt that goes through the holes, like "1/2-13" or "M12"'
    )
    edge: Annotated[Measure, Length("0 in", "24 in")] = usual("2 in", "first row of holes from the table edge")
    thickness: Annotated[Measure, Length("0.1 in", "4 in")] = usual("3/8 in", "of the top")


class Plate(Spec):
    """One plate in the rack."""

    nominal: Annotated[Measure, Length("0.05 in", "3 in")] = Field(description="what it is sold as")
    measured: Annotated[Measure, Length("0.05 in", "3 in")] = Field(description="by micrometer, at an edge")
    material: str = usual("a36", "a material of `fixturegen tables materials`", max_length=40)


class Tools(Spec):
    """What readings are taken with."""

    level_repeatability: Annotated[Measure, Angle("0.001 deg", "0.5 deg")] = Field(
        description="largest spread of ten readings, lifted and put back"
    )
    feeler: Annotated[Measure, Length("0.0005 in", "0.02 in")] = usual(
        "0.002 in", "difference of two gaps that can be felt"
    )
    hoist: Annotated[Measure, Force("0 lbf", "20000 lbf")] = usual("0 lbf", "safe load of the hoist; 0 for none")


class Jig(Spec):
    """Wishes about the caster-setting jig; each has a default that works on most axles."""

    axle_height: Annotated[Measure, Length("8 in", "30 in")] | None = usual(
        None, "axle line above the table; worked out when left out"
    )
    tie_radius: Annotated[Measure, Length("8 in", "24 in")] = usual("12 in", "tie above the axle line")
    tie_diameter: Annotated[Measure, Length("0.75 in", "2.5 in")] = usual("1 1/4 in", "ground bar")
    finger_diameter: Annotated[Measure, Length("0.5 in", "1.5 in")] = usual("3/4 in", "ground bar of the fingers")
    clock_plate: Annotated[Measure, Length("0.25 in", "1.5 in")] = usual(
        "1/2 in", "nominal thickness of index and clock plates"
    )
    stand_plate: Annotated[Measure, Length("0.25 in", "1.5 in")] = usual(
        "3/8 in", "nominal thickness of stand and cradles"
    )
    trim_step: Annotated[Measure, Angle("0.1 deg", "3 deg")] = usual(
        "0.5 deg", "step of the side holes of the index row"
    )
