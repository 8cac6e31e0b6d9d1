"""Better points for the links: what may move, what must stay clear, what is wanted.

Nothing of it changes a part: it is a question, asked with `fixturegen links SHEET --search`.
"""

from typing import Annotated, Literal

from pydantic import Field

from fixturegen.sheet.specs.base import NAME, Spec, usual
from fixturegen.units import Angle, Length, Measure, Plain

Place = tuple[Annotated[Measure, Length("-300 in", "300 in")], ...]
Toward = tuple[Annotated[Measure, Plain("-1", "1")], ...]
At = Literal["ride", "bump", "droop", "cross-L", "cross-R"]


class HoleRow(Spec):
    """The row of holes of an adjustable bracket; the joint's bolt goes through one of them."""

    first: Place = Field(min_length=3, max_length=3, description="centre of the first hole: forward, left, up")
    step: Place = Field(min_length=3, max_length=3, description="from one hole to the next: forward, left, up")
    count: int = Field(ge=1, le=40, strict=True, description="holes in the row")


class FlatFace(Spec):
    """A flat face the joint centre must lie in: parallel to a crossmember, a rail's side, a plate."""

    through: Place = Field(min_length=3, max_length=3, description="a point of it: forward, left, up")
    normal: Toward = Field(min_length=3, max_length=3, description="direction square to it")


class MovingPoint(Spec):
    """A joint centre that may go elsewhere; a coordinate that is left out stays as [links] has it.

    In the frame its point is given in. A point on one side takes its fellow on the other side along as its
    mirror image, unless that one is listed too.
    """

    point: str = Field(max_length=40, pattern=NAME, description="link and end, like lower-left.frame or upper.axle")
    x: Place = usual((), "rearmost and foremost it may be", max_length=2)
    y: Place = usual((), "from farthest right to farthest left", max_length=2)
    z: Place = usual((), "lowest and highest", max_length=2)
    pitch_x: Annotated[Measure, Length("0.05 in", "12 in")] | None = usual(None, "hole pitch, from the rearmost on")
    pitch_y: Annotated[Measure, Length("0.05 in", "12 in")] | None = usual(None, "hole pitch, from the right on")
    pitch_z: Annotated[Measure, Length("0.05 in", "12 in")] | None = usual(None, "hole pitch, from the lowest up")
    face: FlatFace | None = usual(None, "a flat face it must lie in as well")
    holes: HoleRow | None = usual(None, "the row of holes it is one of, instead of x, y and z")


class ClearBox(Spec):
    """A box that no joint and no link may enter: tank, exhaust, seat riser. In the vehicle's frame."""

    name: str = Field(max_length=40, pattern=NAME, description="what it is called")
    x: Place = Field(min_length=2, max_length=2, description="its rear and its front end")
    y: Place = Field(min_length=2, max_length=2, description="its right and its left side")
    z: Place = Field(min_length=2, max_length=2, description="its underside and its top")
    both_sides: bool = usual(False, "whether its mirror image is there too", strict=True)


class ClearRail(Spec):
    """A stretch of frame rail that no joint and no link may enter: a straight box beam. In the vehicle's frame."""

    name: str = Field(max_length=40, pattern=NAME, description="what it is called")
    begin: Place = Field(min_length=3, max_length=3, description="middle of its section at one end: forward, left, up")
    end: Place = Field(min_length=3, max_length=3, description="middle of its section at the other end")
    width: Annotated[Measure, Length("0.5 in", "12 in")] = Field(description="of the section, side to side")
    height: Annotated[Measure, Length("0.5 in", "24 in")] = Field(description="of the section, under to top")
    both_sides: bool = usual(True, "whether the rail on the other side is its mirror image", strict=True)


class ClearPlane(Spec):
    """A plane that no joint and no link may pass: the lowest a link may hang, a floor, a wheel's inside."""

    name: str = Field(max_length=40, pattern=NAME, description="what it is called")
    through: Place = Field(min_length=3, max_length=3, description="a point of it: forward, left, up")
    beyond: Toward = Field(min_length=3, max_length=3, description="direction square to it, into what stays clear")
    both_sides: bool = usual(False, "whether its mirror image is there too", strict=True)


class _Wanted(Spec):
    """Where a range is wanted and what it counts."""

    pose: At = Field(description="ride, bump, droop, or one wheel up: cross-L the left one, cross-R the right one")
    weight: Annotated[Measure, Plain("0.01", "100")] = usual("1", "how much it counts against other wishes")


class PercentWanted(_Wanted):
    """A range in per cent, written without the sign."""

    least: Annotated[Measure, Plain("-1000", "1000")] | None = usual(None, "per cent, without the sign")
    most: Annotated[Measure, Plain("-1000", "1000")] | None = usual(None, "per cent, without the sign")


class AngleWanted(_Wanted):
    """A range of an angle."""

    least: Annotated[Measure, Angle("-90 deg", "90 deg")] | None = usual(None, "least wanted")
    most: Annotated[Measure, Angle("-90 deg", "90 deg")] | None = usual(None, "most wanted")


class LengthWanted(_Wanted):
    """A range of a length."""

    least: Annotated[Measure, Length("-1000 in", "1000 in")] | None = usual(None, "least wanted")
    most: Annotated[Measure, Length("-1000 in", "1000 in")] | None = usual(None, "most wanted")


class RatioWanted(_Wanted):
    """A range of degrees per degree, written as a number."""

    least: Annotated[Measure, Plain("-2", "2")] | None = usual(None, "degrees per degree, as a number")
    most: Annotated[Measure, Plain("-2", "2")] | None = usual(None, "degrees per degree, as a number")


class Wants(Spec):
    """What is wanted of the links, each as a list of { pose, least, most, weight }; at least one."""

    anti_squat: tuple[PercentWanted, ...] = usual((), "of the drive force", max_length=5)
    anti_dive: tuple[PercentWanted, ...] = usual((), "of the brake force; of a rear axle its anti-lift", max_length=5)
    force_line: tuple[AngleWanted, ...] = usual((), "slope of the line a force at the tyres works along", max_length=5)
    instant_centre_x: tuple[LengthWanted, ...] = usual((), "forward of the front axle's line", max_length=5)
    instant_centre_z: tuple[LengthWanted, ...] = usual((), "above the ground", max_length=5)
    roll_centre: tuple[LengthWanted, ...] = usual((), "height above the ground", max_length=5)
    roll_axis: tuple[AngleWanted, ...] = usual((), "slope, climbing forward positive", max_length=5)
    roll_steer: tuple[RatioWanted, ...] = usual((), "to understeer positive", max_length=5)
    pinion_angle: tuple[AngleWanted, ...] = usual((), "nose above level", max_length=5)
    fore_aft: tuple[LengthWanted, ...] = usual((), "axle ahead of its place at ride", max_length=5)
    sideways: tuple[LengthWanted, ...] = usual((), "axle left of its place at ride", max_length=5)
    wheelbase_change: tuple[LengthWanted, ...] = usual((), "longer positive", max_length=5)
    axle_steer: tuple[AngleWanted, ...] = usual((), "turn in plan, to the left positive", max_length=5)


class LinkSearch(Spec):
    """A search for better points, by `fixturegen links SHEET --search`: a question, which changes no part."""

    looked_at: int = usual(8000, "geometries to look at; more take longer, find more", ge=100, le=200000, strict=True)
    show: int = usual(5, "geometries to show at most", ge=1, le=9, strict=True)
    apart: Annotated[Measure, Plain("0.02", "0.9")] = usual(
        "0.15", "how different two of them must be: on average over the coordinates, as a part of their ranges"
    )
    clearance: Annotated[Measure, Length("0 in", "12 in")] = usual(
        "1 1/2 in", "middle line of a link to what must stay clear: half its thickness and a gap"
    )
    points: tuple[MovingPoint, ...] = Field(min_length=1, max_length=24, description="what may move, and where to")
    want: Wants = Field(description="what is wanted")
    boxes: tuple[ClearBox, ...] = usual((), "what must stay clear", max_length=24)
    rails: tuple[ClearRail, ...] = usual((), "frame rails, a straight stretch each", max_length=24)
    planes: tuple[ClearPlane, ...] = usual((), "planes not to be passed", max_length=24)
