"""What cutting, bending and nesting need to know: process, brake, sheets in the rack, wishes."""

from typing import Annotated, Literal

from pydantic import Field

from fixturegen.sheet.specs.base import NAME, Spec, usual
from fixturegen.units import Angle, Length, Measure, Plain, Speed, Time

Grain = Literal["length", "width", "unknown"]


class Process(Spec):
    """How plates are cut, and how holes that set an angle are made.

    What `fixturegen coupon` measures stands here as well; it writes those keys by itself.
    """

    name: str = usual("plasma-air-65a", "one of `fixturegen tables processes`", max_length=40)
    kerf: Annotated[Measure, Length("0.005 in", "0.25 in")] = Field(description="measured on a coupon")
    kerf_allowed_by: Literal["controller", "file"] = usual(
        "controller", "who moves the cut off the line by half the kerf"
    )
    tolerance_class: Literal[1, 2] = usual(2, "ISO 9013")
    angle_holes: Literal["mill", "marked"] = usual(
        "mill", "mill: from coordinates; marked: drilled from a punched mark"
    )
    stacked: bool = usual(True, "index and clock plates drilled and reamed as one stack", strict=True)
    pads: Literal["mill", "filed"] = usual("mill", "edges that meet the datum face")
    smallest_hole: Annotated[Measure, Length("0.05 in", "4 in")] | None = usual(
        None, "smallest hole the torch cuts round; from the table of processes when left out"
    )
    smallest_slot: Annotated[Measure, Length("0.02 in", "2 in")] | None = usual(
        None, "narrowest slot the torch cuts clean; from the table when left out"
    )
    smallest_web: Annotated[Measure, Length("0.02 in", "4 in")] | None = usual(
        None, "least plate between two cuts; from the table when left out"
    )
    hole_error: Annotated[Measure, Length("-0.1 in", "0.1 in")] = usual(
        "0 in", "coupon hole as measured, less what was drawn"
    )
    slot_room: Annotated[Measure, Length("0 in", "0.06 in")] = usual("0.008 in", "room on each side of a locating tab")
    saddle_room: Annotated[Measure, Length("0 in", "0.1 in")] = usual(
        "0.015 in", "added to the radius of a saddle cut for a tube"
    )
    slat_pitch: Annotated[Measure, Length("0.5 in", "12 in")] = usual("4 in", "of the cutting table's slats")
    swirl: Literal["clockwise", "counter-clockwise"] = usual(
        "clockwise", "swirl of the torch; clockwise leaves the square edge on its right"
    )
    leads_by: Literal["controller", "file"] = usual("controller", "who draws the lead-in of each cut")
    lead_in: Annotated[Measure, Length("0 in", "2 in")] | None = usual(
        None, "length of a lead-in; from the table when left out"
    )
    marking: Literal["plasma", "scribe", "pen", "hand"] = usual("plasma", "how the mark layer is put on the plate")
    mark_height: Annotated[Measure, Length("1/8 in", "2 in")] = usual(
        "1/4 in", "smallest lettering that can be read on the cut part"
    )
    file_entities: Literal["plain", "polyline"] = usual(
        "plain", "plain: lines, arcs, circles; polyline: closed polylines with bulges"
    )
    file_version: Literal["R2000", "R12"] = usual("R2000", "version of the DXF files")
    cut_speed: Annotated[Measure, Speed("1 in/min", "1000 in/min")] | None = usual(
        None, "for estimates of time; from the table by thickness when left out"
    )
    pierce_time: Annotated[Measure, Time("0 s", "10 s")] | None = usual(
        None, "for estimates of time; from the table by thickness when left out"
    )


class BendTest(Spec):
    """One strip bent on this brake and measured: outside flanges added, less the length it was cut to."""

    plate: Annotated[Measure, Length("0.05 in", "3 in")] = Field(description="nominal thickness of the strip")
    inside_radius: Annotated[Measure, Length("0.01 in", "3 in")] = Field(description="of the bend, by radius gauge")
    angle: Annotated[Measure, Angle("5 deg", "175 deg")] = Field(description="turned through, 90 for a square corner")
    deduction: Annotated[Measure, Length("-1 in", "6 in")] = Field(
        description="both outside flanges added, less the length of the flat strip"
    )


class Brake(Spec):
    """The press brake, or who bends."""

    rule: Literal["handbook", "din", "k-factor"] = usual(
        "handbook", "how flat lengths are worked out where no strip was bent and measured"
    )
    k_factor: Annotated[Measure, Plain("0.2", "0.6")] = usual("0.42", "for the rule of that name")
    inside_radius: Annotated[Measure, Length("0.01 in", "3 in")] | None = usual(
        None, "of the bends; the plate's thickness when left out"
    )
    die_opening: Annotated[Measure, Length("0.1 in", "12 in")] | None = usual(
        None, "of the lower die; eight thicknesses when left out"
    )
    tests: tuple[BendTest, ...] = usual((), "strips bent and measured; each wins over the rule", max_length=32)


class StockSheet(Spec):
    """A full sheet or a remnant in the rack, of one of the [[plates]]; as many sections as there are sizes."""

    name: str = Field(max_length=40, pattern=NAME, description="what the shop calls it")
    plate: Annotated[Measure, Length("0.05 in", "3 in")] = Field(description="nominal thickness, of [[plates]]")
    length: Annotated[Measure, Length("0 in", "480 in")] = Field(description="usable, along the table's x")
    width: Annotated[Measure, Length("0 in", "240 in")] = Field(description="usable, along the table's y")
    count: int = usual(1, "how many there are", ge=0, le=100, strict=True)
    grain: Grain = usual("unknown", "way it was rolled")
    price: Annotated[Measure, Plain("0", "1000000")] | None = usual(None, "of one, in your money; no cost without it")


class Nesting(Spec):
    """How parts may lie on the sheets."""

    spacing: Annotated[Measure, Length("0 in", "4 in")] | None = usual(
        None, "least between parts; from the table of processes, or the thickness if that is more"
    )
    edge: Annotated[Measure, Length("0 in", "6 in")] | None = usual(
        None, "least to the sheet's edge; from the table when left out"
    )
    turn: Literal["right-angles", "half-turns", "none"] = usual("right-angles", "how parts may be turned")
    parts_in_holes: bool = usual(True, "small parts may lie in the openings of large ones", strict=True)
