"""Records of the brackets' plan: what each bracket holds, how it stands, what it stands on. All in frame A.

Frame ends of links are turned into A as the axle stands at ride height, so that one frame does for all.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fixturegen.axle.model import Point
from fixturegen.sheet.specs import Bracket

BracketSide = Literal["left", "right", "middle"]


@dataclass(frozen=True)
class JointSize:
    """A joint as measured.

    Attributes:
        name: What the sheet calls it.
        width: Across the sleeve where the tabs touch [mm].
        body: Largest diameter of its body [mm].
        bolt: Size or thread.
        shank: Diameter of the bolt's shank [mm].
        grade: Of the bolt.
        limit: Misalignment it takes either way [deg]; None where not given.
        rating: Radial strength its maker states [N]; None where not given.
    """

    name: str
    width: float
    body: float
    bolt: str
    shank: float
    grade: str
    limit: float | None = None
    rating: float | None = None


@dataclass(frozen=True)
class TubeBase:
    """A round tube a bracket is welded to.

    Attributes:
        point: A point of its middle line [mm].
        along: Unit direction of its middle line.
        radius: Outside [mm].
        wall: Thickness of its wall [mm].
        reach: How far it reaches from `point` along `along`, back and forth [mm].
        words: axle tube left ...
    """

    point: Point
    along: Point
    radius: float
    wall: float
    reach: tuple[float, float]
    words: str


@dataclass(frozen=True)
class FlatBase:
    """A plane face a bracket is welded to.

    Attributes:
        point: A point of it [mm]; below the hardpoint.
        normal: Unit direction it looks along, away from its steel.
        words: top of the truss, side of the rail ...
    """

    point: Point
    normal: Point
    words: str


Base = TubeBase | FlatBase


@dataclass(frozen=True)
class Mount:
    """One bracket to make.

    Attributes:
        name: Slug its parts are named by: lower-left, track-bar-frame ...
        label: The same in words.
        side: Side of the vehicle.
        holds: Name of the link or strut.
        point: Joint centre, or where a spring or stop ends [mm].
        bolt: Unit direction of the bolt, to the left where it points to a side.
        along: Unit direction of the link or strut at ride, from this end toward the other.
        joint: The joint it holds; None for pads and seats.
        base: What it stands on.
        thickness: Of its plate, measured [mm].
        spec: The sheet's own row.
        row: Which row of [[brackets]] it comes from, from 0.
    """

    name: str
    label: str
    side: BracketSide
    holds: str
    point: Point
    bolt: Point
    along: Point
    joint: JointSize | None
    base: Base
    thickness: float
    spec: Bracket
    row: int

    @property
    def hand(self) -> Literal["L", "R"] | None:
        """L or R; None in the middle."""
        return {"left": "L", "right": "R"}.get(self.side)  # type: ignore[return-value]  # two of three keys

    def called(self, noun: str) -> str:
        """The bracket in words, its place last: "upper bracket on the frame".

        Args:
            noun: What it is: bracket, tower, tab.
        """
        words, comma, where = self.label.partition(", ")
        return f"{words} {noun}" + (f" {where}" if comma else "")

    @property
    def inside(self) -> float:
        """Between the tabs [mm]: joint and room."""
        return 0.0 if self.joint is None else self.joint.width + float(self.spec.room)


@dataclass(frozen=True)
class BracketPlan:
    """Every bracket of a job, in the order of the sheet; left before right."""

    mounts: tuple[Mount, ...] = ()

    def mount(self, name: str) -> Mount:
        """The bracket of a name.

        Raises:
            KeyError: When there is none.
        """
        for one in self.mounts:
            if one.name == name:
                return one
        raise KeyError(name)


@dataclass(frozen=True)
class Seam:
    """One weld of a bracket to what it stands on, as a line at its root, frame A.

    Attributes:
        part: The part that is welded.
        begin: Where the bead begins [mm].
        end: Where it ends [mm].
        leg: Of its fillet [mm].
        lengthwise: Whether it runs along the tube; beads across the most stressed fibre are kept short.
    """

    part: str
    begin: Point
    end: Point
    leg: float
    lengthwise: bool = True


@dataclass(frozen=True)
class Ear:
    """One plate of a bracket that a bolt goes through.

    Attributes:
        part: Its name.
        offset: Its inner face from the joint's middle along the bolt [mm].
        thickness: Measured [mm].
        hole: Finished diameter [mm].
        over: From the hole's middle to the nearest seam, along the plate [mm].
        edge: From the hole's middle to the nearest edge of steel that is not welded [mm].
        ahead: The same along the link, in the direction of its pull [mm].
        braced: Whether a cross plate or a fold keeps it from bending sideways.
    """

    part: str
    offset: float
    thickness: float
    hole: float
    over: float
    edge: float
    ahead: float
    braced: bool


@dataclass(frozen=True)
class BracketFacts:
    """What checks need to know of a bracket that was drawn.

    Attributes:
        mount: The bracket.
        parts: Names of its parts.
        seams: Its welds to what it stands on.
        ears: Plates the bolt goes through; none for pads.
        roots: Where ears are welded to another plate of the bracket instead.
    """

    mount: Mount
    parts: tuple[str, ...]
    seams: tuple[Seam, ...]
    ears: tuple[Ear, ...]
    roots: tuple[Seam, ...] = ()
