"""Parts the person has, against which clearance is told: scans, drawings, boxes, planes, traced outlines.

Nothing is guessed of a file: its unit and how far it may lie from the part are stated. Where a part
stands is told by named points: three or more, each measured on the part (`own`, in the frame of its
file) and where it stands, as a `place`, on a `stud` of [housing.face], or at an `angle` of a bolt circle.
"""

from typing import Annotated, Literal

from pydantic import Field

from fixturegen.sheet.specs.base import NAME, Spec, usual
from fixturegen.sheet.specs.link_search import Place, Toward
from fixturegen.sheet.specs.links import Frame, Spot, spot
from fixturegen.units import Angle, Length, Measure

ComponentKind = Literal[
    "cover",
    "housing",
    "third-member",
    "oil-pan",
    "engine",
    "gearbox",
    "frame",
    "tank",
    "exhaust",
    "brake",
    "wheel",
    "spring",
    "shock",
    "shaft",
    "other",
]
FILES = (".step", ".stp", ".stl", ".obj", ".ply")
"""Endings of files of a whole part."""

TRACINGS = (".dxf",)
"""Endings of files of an outline."""


class NamedPoint(Spec):
    """One point that can be found on the part and where it stands: a bolt hole's middle, a corner."""

    name: str = Field(max_length=40, pattern=NAME, description="what it is: bolt 1, top left corner, ...")
    own: Spot = spot("on the part, in the frame of its file, box or tracing")
    place: Spot = usual((), "where it stands: forward, left, up, in the frame of `at`", max_length=3)
    stud: int | None = usual(
        None,
        "instead of place: the stud or cover bolt of [housing.face] it sits on, counted from 1; own lies on the face",
        ge=1,
        le=64,
        strict=True,
    )
    angle: Annotated[Measure, Angle("-360 deg", "360 deg")] | None = usual(
        None, "instead of place: angle of its bolt on the circle, from zero, right-handed about the axis"
    )


class BoltCircle(Spec):
    """A circle of bolts the part is held by, where it stands."""

    centre: Spot = spot("its middle: forward, left, up, in the frame of `at`")
    axis: Toward = Field(min_length=3, max_length=3, description="direction of its axis")
    zero: Toward = Field(min_length=3, max_length=3, description="direction from the middle to angle 0")
    diameter: Annotated[Measure, Length("1 in", "30 in")] = Field(description="through the middles of the bolts")


class BoxSides(Spec):
    """A box, its sides along the axes of the frame of `at`, or of its own where named points place it."""

    x: Place = Field(min_length=2, max_length=2, description="its rear and its front end")
    y: Place = Field(min_length=2, max_length=2, description="its right and its left side")
    z: Place = Field(min_length=2, max_length=2, description="its underside and its top")


class PlaneSide(Spec):
    """A flat side without end; the part lies behind it."""

    through: Spot = spot("a point of it: forward, left, up, in the frame of `at`")
    beyond: Toward = Field(min_length=3, max_length=3, description="direction square to it, into the part")


class Corner(Spec):
    """One corner of a traced outline."""

    x: Annotated[Measure, Length("-60 in", "60 in")] = Field(description="across the paper")
    y: Annotated[Measure, Length("-60 in", "60 in")] = Field(description="up the paper")


class Tracing(Spec):
    """An outline traced on paper, and how far the part stands up from it."""

    depth: Annotated[Measure, Length("0.02 in", "60 in")] = Field(
        description="square to the paper, toward the eye that traced it"
    )
    corners: tuple[Corner, ...] = usual((), "in order round it, or file: keep one of the two", max_length=200)
    file: str | None = usual(None, "DXF with one closed polyline, beside the sheet", max_length=200, pattern=NAME)


class Component(Spec):
    """One part the person has: `file` with `unit`, or `box`, `plane` or `outline`."""

    name: str = Field(max_length=40, pattern=NAME, description="what findings call it: diff cover, oil pan, ...")
    kind: ComponentKind = Field(description="what it is; its size is held against the axle")
    moves_with: Literal["axle", "frame", "left", "right"] = Field(
        description="what it is bolted to, or to what on it; left, right: that knuckle, placed with the wheels straight"
    )
    at: Frame = Field(description="frame its places are given in: vehicle at ride height, or axle, pinion level")
    accuracy: Annotated[Measure, Length("0 in", "2 in")] = Field(
        description="farthest the part itself may lie from this: of the scanner as its maker states, of the tape"
    )
    file: str | None = usual(None, "STEP, STL, OBJ or PLY, beside the sheet", max_length=200, pattern=NAME)
    unit: Literal["mm", "in"] | None = usual(None, "of the numbers in its file; never guessed")
    box: BoxSides | None = usual(None, "for a part that a box holds")
    plane: PlaneSide | None = usual(None, "for a part known by one flat side")
    outline: Tracing | None = usual(None, "for a part traced on paper")
    points: tuple[NamedPoint, ...] = usual((), "three or more that tell where it stands", max_length=64)
    circle: BoltCircle | None = usual(None, "bolt circle that the angles of points are on")
    as_it_stands: bool = usual(False, "true: its file is drawn in the frame of `at` already", strict=True)
    tolerance: Annotated[Measure, Length("0 in", "1 in")] = usual("1/8 in", "of each coordinate of a place")
