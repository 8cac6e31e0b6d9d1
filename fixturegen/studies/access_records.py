"""Taking things off the finished axle, as numbers: what moves, on which ways, and what it met.

Everything is told in frame A. A removal is tried on several ways, the usual one first; each has the room its
tools want as round bars that stand still, the swing of a handle, and the steps on which the thing itself moves.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from fixturegen.axle.model import Point

Group = Literal["bolts", "cover", "plugs", "third-member", "shafts", "springs", "joints"]
GROUPS: tuple[Group, ...] = ("bolts", "cover", "plugs", "third-member", "shafts", "springs", "joints")
PoseName = Literal["ride", "droop"]


@dataclass(frozen=True)
class Shift:
    """A straight step.

    Attributes:
        way: Unit direction (3,).
        length: How far [mm].
    """

    way: Point
    length: float


@dataclass(frozen=True)
class Turn:
    """A step that turns about a line which moves with what was shifted before.

    Attributes:
        axis: Unit direction of the line (3,).
        through: A point of it before the first step (3,) [mm].
        angle: How far, by the right hand [deg].
    """

    axis: Point
    through: Point
    angle: float


Step = Shift | Turn


@dataclass(frozen=True)
class Rod:
    """A round bar of room.

    Attributes:
        begin: Middle of one end (3,) [mm].
        end: Middle of the other (3,) [mm].
        diameter: Outside [mm].
        tool: Whether it is a tool's room; else it is what comes out.
    """

    begin: Point
    end: Point
    diameter: float
    tool: bool = True


@dataclass(frozen=True)
class Swing:
    """The room a handle sweeps, somewhere round its axis.

    Attributes:
        foot: Where the handle's underside crosses the axis (3,) [mm].
        axis: Unit direction away from the bolt (3,).
        height: Of the handle along the axis [mm].
        reach: From the axis to the end of the handle [mm].
        arc: Least arc the handle's middle must be free over [deg].
        width: Of the handle [mm].
    """

    foot: Point
    axis: Point
    height: float
    reach: float
    arc: float
    width: float


@dataclass(frozen=True)
class Try:
    """One way of getting a thing out.

    Attributes:
        words: How it is done; empty for the usual way.
        rods: Room that must be there; they do not move.
        swing: Of the tool's handle; None for none.
        steps: On which the removal's bodies move.
        moving: Bars that move with them.
        second: Whether it is only second best: what bars the others is told.
    """

    words: str
    rods: tuple[Rod, ...] = ()
    swing: Swing | None = None
    steps: tuple[Step, ...] = ()
    moving: tuple[Rod, ...] = ()
    second: bool = False


@dataclass(frozen=True)
class Removal:
    """One thing to get out.

    Attributes:
        name: Slug, one of its kind.
        label: What people call it, with its number.
        group: What it belongs to.
        tries: Ways, the usual one first.
        bodies: Names of the drawn bodies that move.
        leave: Names of bodies that are off, or that it sits in: they are not looked at.
        wanted: Gap wanted all round [mm].
        pose: Where the axle stands.
        notes: What was taken for granted: what is off already.
    """

    name: str
    label: str
    group: Group
    tries: tuple[Try, ...]
    bodies: tuple[str, ...] = ()
    leave: frozenset[str] = field(default_factory=frozenset)
    wanted: float = 0.0
    pose: PoseName = "ride"
    notes: str = ""


@dataclass(frozen=True)
class Met:
    """What stands near the way of a thing.

    Attributes:
        name: Name of the body.
        label: What people call it.
        gap: Least distance that is safe to rely on [mm]; 0 where they meet.
        point: Where on that body, frame A (3,) [mm].
        travel: How far the thing had moved [mm]; 0 for a tool's room.
        handle: Whether it stops the handle's swing.
    """

    name: str
    label: str
    gap: float
    point: Point
    travel: float = 0.0
    handle: bool = False

    @property
    def meets(self) -> bool:
        """Whether it is run into."""
        return self.gap <= 0.0


Verdict = Literal["free", "tight", "after", "shut"]
"""Free; free with less than wanted; after something that unbolts is off; shut by what is welded on."""


@dataclass(frozen=True)
class Result:
    """How a removal came out on its best way.

    Attributes:
        removal: What was to be got out.
        taken: The way that was best.
        met: What is nearer than wanted, nearest first.
        nearest: The nearest body of all within reach; None where nothing is.
        fixed: Names of bodies within reach that do not unbolt.
        barred: What bars the best of the ways that were not taken, where the one taken is second best.
    """

    removal: Removal
    taken: Try
    met: tuple[Met, ...]
    nearest: Met | None
    fixed: frozenset[str] = field(default_factory=frozenset)
    barred: tuple[Met, ...] = ()

    @property
    def shutting(self) -> tuple[Met, ...]:
        """What is run into and does not unbolt."""
        return tuple(m for m in self.met if m.meets and m.name in self.fixed)

    @property
    def first_off(self) -> tuple[Met, ...]:
        """What is run into and unbolts."""
        return tuple(m for m in self.met if m.meets and m.name not in self.fixed)

    @property
    def verdict(self) -> Verdict:
        """How it came out."""
        if self.shutting:
            return "shut"
        if self.first_off:
            return "after"
        return "tight" if self.met else "free"


@dataclass(frozen=True)
class AccessStudy:
    """Every removal of a sheet.

    Attributes:
        results: In the order of `GROUPS`.
        missing: (what, why and what to do) of what could not be looked at.
    """

    results: tuple[Result, ...]
    missing: tuple[tuple[Group, str, str], ...] = ()

    def of(self, *groups: Group) -> tuple[Result, ...]:
        """Results of some groups."""
        return tuple(r for r in self.results if r.removal.group in groups)
