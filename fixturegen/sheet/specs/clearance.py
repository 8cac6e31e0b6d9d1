"""Wanted gaps, and what of the truck may be in the way: boxes, rails and planes in the vehicle's frame.

The usual gaps are common practice and have no published source: a quarter of an inch of air round what is
bolted beside it, half an inch where one moves past the other, more at a tyre, since it squirms, and at
what hangs in rubber.
"""

from typing import Annotated, Literal

from pydantic import Field

from fixturegen.sheet.specs.base import NAME, Spec, usual
from fixturegen.sheet.specs.link_search import Place, Toward
from fixturegen.units import Length, Measure

Rides = Literal["frame", "axle", "left", "right"]
Gap = Annotated[Measure, Length("0 in", "12 in")]


class _InTheWay(Spec):
    """What every obstacle has: a name, what it goes with, whether it gives, and its own gap."""

    name: str = Field(max_length=40, pattern=NAME, description="what it is called")
    rides: Rides = usual("frame", "what it goes with: frame, axle, or the left or right knuckle")
    gives: bool = usual(False, "whether it moves on its mounts: exhaust, hose, flare", strict=True)
    gap: Gap | None = usual(None, "wanted to it, instead of the gap of its kind")


class BoxInTheWay(_InTheWay):
    """A box along the axes of the vehicle: oil pan, tank, exhaust, a length of level rail."""

    x: Place = Field(min_length=2, max_length=2, description="its rear and its front end, axle at ride height")
    y: Place = Field(min_length=2, max_length=2, description="its right and its left side")
    z: Place = Field(min_length=2, max_length=2, description="its underside and its top")
    both_sides: bool = usual(False, "whether its mirror image is there too", strict=True)


class RailInTheWay(_InTheWay):
    """A straight stretch of frame rail, or any other straight box beam."""

    begin: Place = Field(min_length=3, max_length=3, description="middle of its section at one end: forward, left, up")
    end: Place = Field(min_length=3, max_length=3, description="middle of its section at the other end")
    width: Annotated[Measure, Length("0.1 in", "24 in")] = Field(description="of the section, side to side")
    height: Annotated[Measure, Length("0.1 in", "24 in")] = Field(description="of the section, under to top")
    both_sides: bool = usual(True, "whether the rail on the other side is its mirror image", strict=True)


class PlaneInTheWay(_InTheWay):
    """A plane not to be passed: a bed floor, the underside of a cab."""

    through: Place = Field(min_length=3, max_length=3, description="a point of it: forward, left, up")
    beyond: Toward = Field(min_length=3, max_length=3, description="direction square to it, into what stays clear")


class Round(Spec):
    """How thick a link, strut, rod or shaft is: without it that one is not looked at."""

    name: str = Field(
        max_length=40, pattern=NAME, description="link or strut of [links], or tie-rod, drag-link, drive-shaft"
    )
    diameter: Annotated[Measure, Length("0.1 in", "16 in")] = Field(
        description="largest outside: of a coil over its wire, of a shock over its body"
    )


class PairInTheWay(Spec):
    """The gap wanted of one pair, whatever kind it is of; names as `fixturegen clear` shows them."""

    first: str = Field(max_length=60, pattern=NAME, description="one of the two, as the list shows it")
    second: str = Field(max_length=60, pattern=NAME, description="the other one")
    gap: Gap = Field(description="wanted between them")


class Clearance(Spec):
    """What must clear what, at ride and over the travel of [links]; for `fixturegen clear`."""

    static: Gap = usual("1/4 in", "wanted between what does not move against each other")
    moving: Gap = usual("1/2 in", "wanted where one moves past the other")
    tyre: Gap = usual("3/4 in", "wanted to a tyre, which squirms and bulges")
    flex: Gap = usual("1 in", "wanted to what gives on its mounts")
    steps: int = usual(
        4, "places looked at from ride to full bump, and to full droop, of each wheel", ge=1, le=24, strict=True
    )
    boxes: tuple[BoxInTheWay, ...] = usual((), "boxes in the way", max_length=64)
    rails: tuple[RailInTheWay, ...] = usual((), "rails in the way", max_length=64)
    planes: tuple[PlaneInTheWay, ...] = usual((), "planes in the way", max_length=24)
    rounds: tuple[Round, ...] = usual((), "diameters of links, struts, rods and shaft", max_length=48)
    pairs: tuple[PairInTheWay, ...] = usual((), "pairs with a gap of their own", max_length=64)
