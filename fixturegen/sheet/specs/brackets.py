"""Joints as they lie on the bench, and the brackets that hold them.

A bracket stands where its link, spring or shock ends: the points of [links] say where. What it stands
on is measured: the axle tube from [tubes], a plate or rail by one coordinate of its surface.
"""

from typing import Annotated, Literal

from pydantic import Field

from fixturegen.sheet.specs.base import BOLT, NAME, Spec, usual
from fixturegen.sheet.specs.links import Spot, Way, spot, way
from fixturegen.units import Angle, Force, Length, Measure

BracketKind = Literal[
    "two-tab",
    "folded",
    "tower",
    "track-bar",
    "coil-seat",
    "shock-tab",
    "hoop-tab",
    "bump-pad",
    "strap-tab",
    "spring-pad",
    "stabilizer-tab",
]
Surface = Literal["tube", "truss", "housing", "plate", "rail", "hoop"]
SAFE: tuple[str, ...] = ("tube", "truss", "housing", "plate", "rail", "hoop")
NEVER_WELDED: tuple[str, ...] = (
    "outer-knuckle",
    "steering-arm",
    "pitman-arm",
    "tie-rod",
    "drag-link",
    "spindle",
    "ball-joint",
    "caliper",
)
"""Parts a weld may break in the driver's hands; they are bolted, or bought with the mount on them."""
OnWhat = Literal[
    "tube",
    "truss",
    "housing",
    "plate",
    "rail",
    "hoop",
    "outer-knuckle",
    "steering-arm",
    "pitman-arm",
    "tie-rod",
    "drag-link",
    "spindle",
    "ball-joint",
    "caliper",
]
Facing = Literal["up", "down", "forward", "rearward", "left", "right"]


class BoltedJoint(Spec):
    """One kind of joint, measured on the bench before a bracket is drawn."""

    name: str = Field(max_length=40, pattern=NAME, description="what brackets call it")
    width: Annotated[Measure, Length("0.4 in", "6 in")] = Field(
        description="across the sleeve, spacers on, where the tabs touch"
    )
    body: Annotated[Measure, Length("0.4 in", "6 in")] = Field(description="largest diameter of its body")
    bolt: str = Field(max_length=20, pattern=BOLT, description='bolt through it, like "3/4-10" or "M18"')
    shank: Annotated[Measure, Length("0.2 in", "2 in")] = Field(description="of that bolt, by micrometer")
    grade: str = usual("SAE 8", "of the bolt: SAE 5, SAE 8, 8.8, 10.9", max_length=12)
    limit: Annotated[Measure, Angle("0 deg", "60 deg")] | None = usual(None, "misalignment it takes either way")
    rating: Annotated[Measure, Force("100 lbf", "500000 lbf")] | None = usual(
        None, "radial strength its maker states, divided by nothing"
    )
    thread_in_plane: bool = usual(False, "thread lies where tab and joint meet", strict=True)


class Hoop(Spec):
    """A straight tube other than the axle's: the legs of a shock hoop."""

    diameter: Annotated[Measure, Length("0.5 in", "6 in")] = Field(description="outside, measured")
    wall: Annotated[Measure, Length("0.05 in", "1 in")] = Field(description="measured at a cut end")
    begin: Spot = spot("a point on its middle line, in the vehicle's frame")
    end: Spot = spot("another point on its middle line, a foot away or more")


class Bracket(Spec):
    """One bracket; of a left one the right one is made too, as its mirror image."""

    holds: str = Field(max_length=40, pattern=NAME, description="link or strut it holds: lower-left, track-bar, ...")
    kind: BracketKind = Field(description="what is made")
    end: Literal["axle", "frame"] = usual("axle", "which end of it")
    point: Spot = usual((), "where it ends there, when [links] does not say: forward, left, up", max_length=3)
    toward: Spot = usual((), "its other end, when [links] does not say, in the vehicle's frame", max_length=3)
    joint: str = usual("", "name of one of [[joints]]; pads have none", max_length=40)
    plate: Annotated[Measure, Length("0.05 in", "2 in")] = Field(description="nominal thickness, one of [[plates]]")
    on: OnWhat = usual("tube", "what it is welded to")
    facing: Facing | None = usual(None, "way the surface looks, where it is not a tube")
    surface: Annotated[Measure, Length("-300 in", "300 in")] | None = usual(
        None, "how far forward, left or up that surface is: on the axle from its middle, on the frame as in [links]"
    )
    hoop: Hoop | None = usual(None, "the tube, where it is not the axle's")
    gap: Annotated[Measure, Length("0 in", "1/8 in")] = usual("1/64 in", "at the root, before it is welded")
    wrap: Annotated[Measure, Angle("40 deg", "180 deg")] = usual("110 deg", "of the tube that its edge covers")
    bolt_way: Way = way("direction of the bolt, in the vehicle's frame; square to the link at ride when left out")
    ears: Literal["both", "inner", "outer"] | None = usual(
        None,
        "tabs: both sides of the joint, or one: inner, nearer to the middle of the axle, or to the tube where the "
        "bolt runs fore and aft; a stabilizer has the inner one when left out, all others both",
    )
    room: Annotated[Measure, Length("0 in", "1/8 in")] = usual("1/64 in", "between the tabs, over the joint's width")
    extra_holes: int = usual(0, "above the first, to choose from", ge=0, le=4, strict=True)
    hole_pitch: Annotated[Measure, Length("0.5 in", "4 in")] = usual("1 1/4 in", "from hole to hole")
    gussets: bool = usual(False, "two-tab: a triangle outside each ear as well, against side force", strict=True)
    inside_radius: Annotated[Measure, Length("0.05 in", "2 in")] | None = usual(
        None, "folded: of the bends; the plate's thickness when left out"
    )
    leg: Annotated[Measure, Length("1/8 in", "3/4 in")] = usual("1/4 in", "of its welds")
    wall: Annotated[Measure, Length("0.05 in", "2 in")] | None = usual(
        None, "measured, of what it is welded to, where that is a truss, plate or rail"
    )
    rail_width: Annotated[Measure, Length("1 in", "16 in")] | None = usual(
        None, "of that side of a rectangular rail, measured"
    )
    length: Annotated[Measure, Length("0.5 in", "16 in")] | None = usual(None, "pads and seats: along the axle")
    width: Annotated[Measure, Length("0.5 in", "16 in")] | None = usual(
        None, "pads, seats, feet of towers and track bars: across"
    )
    coil_inside: Annotated[Measure, Length("1 in", "10 in")] | None = usual(None, "coil seat: inside of the coil")
    coil_outside: Annotated[Measure, Length("1 in", "12 in")] | None = usual(None, "coil seat: outside of the coil")
    retainer: str = usual("", "coil seat: bolt in its middle that clamps the coil down; none when empty", max_length=20)
    pin: Annotated[Measure, Length("0.2 in", "2 in")] | None = usual(None, "spring pad: head of the centre bolt")
