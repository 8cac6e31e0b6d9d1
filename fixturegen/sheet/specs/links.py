"""Where the links, the steering, the struts and the shaft are joined, at ride height.

Points are written as three quantities, ["forward", "left", "up"]. In the vehicle's frame (`at =
"vehicle"`) forward is from the front axle's line, left from the middle of the truck, up from the
ground; in the axle's (`at = "axle"`) from the middle of the axle line, the pinion held level.
"""

from typing import Annotated, Any, Literal

from pydantic import Field

from fixturegen.sheet.specs.base import NAME, Spec, usual
from fixturegen.sheet.specs.link_search import LinkSearch
from fixturegen.units import Angle, Length, Measure, Plain, Stiffness

Spot = tuple[Annotated[Measure, Length("-300 in", "300 in")], ...]
Way = tuple[Annotated[Measure, Plain("-1", "1")], ...]
Frame = Literal["vehicle", "axle"]


def spot(doc: str) -> Any:
    """A point that must be measured."""
    return Field(min_length=3, max_length=3, description=doc)


def way(doc: str) -> Any:
    """A direction that may be left out: empty then."""
    return usual((), doc, max_length=3)


class LinkEnds(Spec):
    """One link: a straight line between two joint centres; bends of the bar between them do not matter."""

    frame: Spot = spot("joint centre on the frame: forward, left, up, in the vehicle's frame")
    axle: Spot = spot("joint centre on the axle")
    at: Frame = usual("vehicle", "frame the axle's end is given in")
    frame_bolt: Way = way("direction of the bolt on the frame; misalignment is told where it is given")
    axle_bolt: Way = way("direction of the bolt on the axle")
    limit: Annotated[Measure, Angle("0 deg", "60 deg")] | None = usual(None, "misalignment its joints take either way")
    rate: Annotated[Measure, Stiffness("1 lbf/in", "1000000 lbf/in")] | None = usual(
        None, "of its bushes along the link; stiff when left out"
    )
    tolerance: Annotated[Measure, Length("0 in", "1 in")] = usual("1/8 in", "of each coordinate as measured")


class LinkPair(Spec):
    """Left and right; the right one is the left one mirrored when it is left out."""

    left: LinkEnds | None = usual(None, "left link")
    right: LinkEnds | None = usual(None, "right link")


class UpperLinks(Spec):
    """Upper links: left and right, or the one in the middle of a three-link."""

    left: LinkEnds | None = usual(None, "left link")
    right: LinkEnds | None = usual(None, "right link; the left one mirrored when left out")
    middle: LinkEnds | None = usual(None, "the single upper link")


class ArmLines(Spec):
    """One arm: its pivot on the frame to each of the two points it holds the axle at."""

    front: LinkEnds | None = usual(None, "to the front point")
    rear: LinkEnds | None = usual(None, "to the rear point")


class Arms(Spec):
    """Radius or truck arms; the right one is the left one mirrored when it is left out."""

    left: ArmLines | None = usual(None, "left arm")
    right: ArmLines | None = usual(None, "right arm")


class LeafSpring(Spec):
    """One leaf spring."""

    fixed_eye: Spot = spot("eye that is bolted to the frame")
    shackle_eye: Spot = spot("other eye, at ride height")
    seat: Spot = spot("middle of the clamped stretch")
    clamped: Annotated[Measure, Length("0 in", "20 in")] = usual("5 in", "length the clamps keep from bending")


class Leaves(Spec):
    """Leaf springs; the right one is the left one mirrored when it is left out."""

    left: LeafSpring | None = usual(None, "left spring")
    right: LeafSpring | None = usual(None, "right spring")


class StrutEnds(Spec):
    """A spring, shock, bump stop or strap of the left side; the right side is its mirror image."""

    name: str = Field(max_length=40, pattern=NAME, description="what it is called")
    kind: Literal["spring", "shock", "bump stop", "strap"] = Field(description="what it is")
    frame: Spot = spot("end on the frame")
    axle: Spot = spot("end on the axle")
    at: Frame = usual("vehicle", "frame the axle's end is given in")
    shortest: Annotated[Measure, Length("0 in", "60 in")] | None = usual(
        None, "between its ends: shock closed, coil on coil, bump stop crushed solid"
    )
    longest: Annotated[Measure, Length("0 in", "80 in")] | None = usual(
        None, "between its ends: shock open, coil free, bump stop as it begins to touch, strap taut"
    )


class HoseEnds(Spec):
    """A brake hose, one entry for each hose: left and right may differ."""

    name: str = Field(max_length=40, pattern=NAME, description="what it is called")
    frame: Spot = spot("end that stays, in the vehicle's frame, where the hose leaves its fitting")
    frame_on: Literal["frame", "axle"] = usual("frame", "what that end sits on")
    axle: Spot = spot("other end, wheels straight ahead, where the hose leaves its fitting")
    axle_on: Literal["axle", "left", "right"] = Field(
        description="what the other end goes with: the housing, or the left or right knuckle"
    )
    at: Frame = usual("vehicle", "frame the other end is given in")
    length: Annotated[Measure, Length("2 in", "60 in")] = Field(description="free hose between its two fittings")
    bend: Annotated[Measure, Length("0.25 in", "12 in")] | None = usual(
        None, "least bend radius, from whoever made the hose"
    )
    frame_way: Way = way("direction in which the hose leaves the first end")
    axle_way: Way = way("direction in which the hose leaves the other end")


class SteeringPoints(Spec):
    """Pitman arm to road wheels, straight ahead; the knuckles' axes follow from [knuckles]."""

    pitman: Spot = spot("drag link's joint on the pitman arm")
    drag_end: Spot = spot("drag link's other joint")
    drag_on: Literal["left", "right", "tie-rod"] = Field(description="what that joint sits on")
    tie_end: Spot = spot("tie-rod joint on the left knuckle; the right one is its mirror image")
    at: Frame = usual("vehicle", "frame drag_end and tie_end are given in")
    rod_roll: Annotated[Measure, Angle("0 deg", "45 deg")] = usual(
        "8 deg", "roll its ends allow the tie rod either way"
    )
    lock: Annotated[Measure, Angle("5 deg", "60 deg")] | None = usual(
        None, "inner wheel on its knuckle stop; what happens at lock is told with it"
    )
    sector_shaft: Spot = usual((), "a point on the centre line of the shaft the pitman arm sits on", max_length=3)
    sector_way: Way = usual(("0", "0", "1"), "direction of that shaft", max_length=3)
    box_sweep: Annotated[Measure, Angle("10 deg", "60 deg")] | None = usual(
        None, "swing of the pitman arm either way to the box's own stop, drag link off"
    )
    shaft_limit: Annotated[Measure, Angle("5 deg", "60 deg")] | None = usual(
        None, "largest angle of the axle shaft's joint"
    )


class ShaftEnds(Spec):
    """The drive shaft."""

    case: Spot = spot("centre of the joint at the case")
    case_slope: Annotated[Measure, Angle("-45 deg", "45 deg")] = Field(
        description="output at the case, falling toward the axle positive"
    )
    pinion: Spot = spot("centre of the joint at the pinion yoke")
    at: Frame = usual("vehicle", "frame the pinion's joint is given in")
    joints: Literal["single", "double"] = usual("single", "single: a cross joint each end; double: two at the case")
    plunge: Annotated[Measure, Length("0 in", "12 in")] | None = usual(None, "travel of the slip yoke either way")
    case_limit: Annotated[Measure, Angle("0 deg", "60 deg")] | None = usual(None, "largest angle at the case")
    pinion_limit: Annotated[Measure, Angle("0 deg", "60 deg")] | None = usual(None, "largest angle at the pinion")


class Links(Spec):
    """The links of this axle and its travel.

    Measured with the truck level at ride height: a plumb line and a tape to the floor, or taken off a drawing.
    """

    kind: Literal["four-link", "three-link", "five-link", "wishbone", "radius-arms", "truck-arms", "leaf-springs"] = (
        Field(description="what holds the axle")
    )
    bump: Annotated[Measure, Length("0.5 in", "20 in")] = Field(description="wheel travel up from ride height")
    droop: Annotated[Measure, Length("0.5 in", "24 in")] = Field(description="wheel travel down from ride height")
    gravity_height: Annotated[Measure, Length("10 in", "90 in")] = Field(
        description="centre of gravity of the sprung mass above the ground; the crankshaft's height is a start"
    )
    drive_share: Annotated[Measure, Plain("0", "1")] = usual("1", "of the drive force at this axle")
    brake_share: Annotated[Measure, Plain("0", "1")] | None = usual(
        None, "of the brake force at this axle; 0.65 for a front and 0.35 for a rear one when left out"
    )
    lower: LinkPair | None = usual(None, "lower links")
    upper: UpperLinks | None = usual(None, "upper links")
    arm: Arms | None = usual(None, "radius or truck arms")
    track_bar: LinkEnds | None = usual(None, "track bar")
    leaf: Leaves | None = usual(None, "leaf springs")
    struts: tuple[StrutEnds, ...] = usual((), "springs, shocks, stops and straps of the left side", max_length=16)
    hoses: tuple[HoseEnds, ...] = usual((), "brake hoses", max_length=12)
    steering: SteeringPoints | None = usual(None, "front axle")
    shaft: ShaftEnds | None = usual(None, "drive shaft")
    search: LinkSearch | None = usual(None, "better points, for `fixturegen links SHEET --search`")
