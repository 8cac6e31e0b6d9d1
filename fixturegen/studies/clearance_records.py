"""What must clear what, as numbers: movers over the poses, kinds of pairs, wanted gaps, results.

A body is drawn once, in the frame of what it rides on, and a `Motion` says where that frame stands in V at
every pose. So one search tree serves all poses, and what rides on one mover never moves against itself.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from fixturegen.axle.frames import Array
from fixturegen.axle.model import Point
from fixturegen.axle.poses import Bools

Picks = NDArray[np.intp]
"""Indices of poses."""
Kind = Literal["static", "moving", "tyre", "flex"]
KINDS: tuple[Kind, ...] = ("static", "moving", "tyre", "flex")
FIGURES = 5e-6
"""mm; what the figures of the mesh library (1e-6) and of the kernel (1e-7) may add to a difference of both."""
SMALL = 1e-3
"""mm; what is taken off an exact gap is told when it is more than this."""
FRAME, AXLE, LEFT, RIGHT = "frame", "axle", "left", "right"
"""Movers every axle has; links, struts and rods are movers of their own."""


@dataclass(frozen=True, eq=False)
class Motion:
    """Where the frame of a mover stands in V at each pose.

    Attributes:
        rotations: From its own frame to V, shape (m, 3, 3).
        origins: Of its own frame in V, shape (m, 3) [mm].
        known: Whether it is known at a pose, shape (m,).
        slack: What the mover's own length is off at the worst pose, since bushes give [mm].
    """

    rotations: Array
    origins: Array
    known: Bools
    slack: float = 0.0

    def against(self, other: Motion) -> Motion:
        """The other mover as seen from this one."""
        back = np.swapaxes(self.rotations, 1, 2)
        turned = back @ other.rotations
        shifted = np.einsum("mij,mj->mi", back, other.origins - self.origins)
        return Motion(turned, shifted, self.known & other.known, self.slack + other.slack)


@dataclass(frozen=True)
class Place:
    """One pose of the tour.

    Attributes:
        heave: Of the axle centre, up positive [mm].
        roll: Left wheel up positive [deg].
        steer: Heading of the wheel inside the bend, to the left positive [deg].
        name: ride, bump+lock-L, h+050r-03 ...
    """

    heave: float
    roll: float
    steer: float
    name: str


@dataclass(frozen=True, eq=False)
class Tour:
    """Every pose that is looked at, ride first, then the nearer to ride the earlier.

    Attributes:
        places: The poses.
        motions: By name of the mover.
        missed: Poses the linkage does not reach.
        notes: What is not in it, and why.
    """

    places: tuple[Place, ...]
    motions: dict[str, Motion]
    missed: int = 0
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Thing:
    """What is known of a body beside its shape.

    Attributes:
        name: Slug, one of its kind in the whole scene.
        label: What people call it.
        rides: Name of its mover.
        soft: tyre, flex, or none of them.
        own: Whether it belongs to the axle as drawn; these are not compared with one another.
        beside: Names of bodies it is welded or bolted to: not compared with them.
        gap: Wanted to it, instead of that of the kind of pair [mm].
        accuracy: Farthest its mesh lies off the true surface [mm]: deflection, or what a scan is good for.
        given: Of it, what its exact form is off the thing itself too: as the person states it, and as it was placed;
            0 for what is drawn, and for a mesh alone [mm].
        part_of: What it is a piece of, where people see one thing and it is drawn as several.
    """

    name: str
    label: str
    rides: str = FRAME
    soft: Literal["", "tyre", "flex"] = ""
    own: bool = False
    beside: frozenset[str] = field(default_factory=frozenset)
    gap: float | None = None
    accuracy: float = 0.0
    given: float = 0.0
    part_of: str = ""

    @property
    def whole(self) -> str:
        """Name of the thing people see."""
        return self.part_of or self.name


def compared(a: Thing, b: Thing) -> bool:
    """Whether two bodies are a pair that is looked at.

    The axle's own bodies are not compared with one another, nor what stands on the frame with the frame, nor
    what is joined to each other.
    """
    if {a.name, a.whole} & b.beside or {b.name, b.whole} & a.beside:
        return False
    if a.own and b.own:
        return False
    return not (a.rides == b.rides == FRAME)


def kind_of(a: Thing, b: Thing) -> Kind:
    """What kind of pair two bodies are."""
    soft = {a.soft, b.soft}
    if "tyre" in soft:
        return "tyre"
    if "flex" in soft:
        return "flex"
    return "static" if a.rides == b.rides else "moving"


@dataclass(frozen=True)
class Gaps:
    """The gaps wanted.

    Attributes:
        kinds: Of each kind of pair [mm].
        pairs: Of pairs that have one of their own, by both labels in lower case [mm].
    """

    kinds: dict[Kind, float]
    pairs: dict[frozenset[str], float] = field(default_factory=dict)

    def wanted(self, a: Thing, b: Thing) -> float:
        """Gap wanted between two bodies [mm]: of the pair, of one of them, or of their kind, in this order.

        A tyre beside what gives on its mounts needs the larger of both kinds.
        """
        named = self.pairs.get(frozenset((a.label.casefold(), b.label.casefold())))
        if named is not None:
            return named
        own = [g for g in (a.gap, b.gap) if g is not None]
        if own:
            return max(own)
        wanted = self.kinds[kind_of(a, b)]
        return max(wanted, self.kinds["flex"]) if {a.soft, b.soft} == {"tyre", "flex"} else wanted


@dataclass(frozen=True)
class PairGap:
    """The least gap of one pair over all poses.

    Attributes:
        first: Name of one body.
        second: Name of the other.
        labels: What people call them.
        kind: Kind of the pair.
        wanted: Gap wanted [mm].
        state: apart, overlap, or inside: one wholly within the other.
        gap: Least gap [mm]: exact at the worst pose, less `slack`; by mesh less `bound` where there is no exact one.
        measured: Distance of the meshes at the worst pose [mm].
        bound: Farthest the meshes' distance may be off the true one [mm]: both deflections, and what bushes give.
        exact: Distance of the true solids by the kernel at the worst pose [mm], 0 in contact; None where a body has
            no solid.
        place: The worst pose; of a contact the first one met from ride height.
        point: Nearest point of the first body in V at that pose [mm].
        other: Nearest point of the second body.
        looked: Poses at which the distance was measured; the others were shown to be farther by a bound.
        touching: Poses with contact, of all; 0 where they are apart.
        slack: Of `bound`, what the exact distance is off too: what bushes give, and how true parts are to what was
            given of them [mm].
        why: Why there is no exact distance, in words; empty where there is one.
    """

    first: str
    second: str
    labels: tuple[str, str]
    kind: Kind
    wanted: float
    state: str
    gap: float
    measured: float
    bound: float
    exact: float | None
    place: Place
    point: Point
    other: Point
    looked: int = 0
    touching: int = 0
    slack: float = 0.0
    why: str = ""

    @property
    def met(self) -> bool:
        """Whether the gap wanted is there."""
        return self.state == "apart" and self.gap >= self.wanted

    @property
    def mesh_bound(self) -> float:
        """Farthest the distance of the meshes may lie from that of the true surfaces, either way [mm]."""
        return self.bound - self.slack

    def resting(self, length: Callable[[float], str]) -> str:
        """What a gap rests on, in words: exact, or by mesh and why, and what is taken off.

        Args:
            length: A length [mm] in words.
        """
        if self.why:
            return f"by mesh, less {length(self.bound)}; {self.why}"
        return f"exact, less {length(self.slack)} as stated" if self.slack > SMALL else "exact"

    @property
    def off(self) -> float:
        """What exact distance and that of the meshes differ by [mm]; 0 where there is one only."""
        if self.exact is None:
            return 0.0
        if self.state == "inside" and self.measured >= 0.0:
            return self.exact  # the meshes' is that of two surfaces, and solids that share steel have none
        return abs(self.exact - self.measured)

    @property
    def agrees(self) -> bool:
        """Whether exact distance and that of the meshes differ by no more than is stated."""
        allowed = 0.0 if self.state == "inside" and self.measured >= 0.0 else self.mesh_bound
        return self.off <= allowed + FIGURES

    @property
    def told_by(self) -> Literal["exact", "mesh"]:
        """What the gap rests on."""
        return "mesh" if self.exact is None else "exact"


MOMENTS = (
    ("ride", "at ride height"),
    ("bump", "at full bump"),
    ("droop", "at full droop"),
    ("crossed", "crossed up"),
    ("lock", "at full lock, of what steers"),
)
"""Ends of the travel that are told by themselves, and their words."""


def picks_of(moment: str, places: tuple[Place, ...]) -> list[int]:
    """Numbers of the poses that belong to a moment: bump, droop and crossed with any steer, lock with any travel."""
    if moment == "lock":
        return [k for k, p in enumerate(places) if "+lock-" in p.name]
    if moment == "ride":
        return [k for k, p in enumerate(places) if p.name == "ride"]
    head = "cross-" if moment == "crossed" else moment
    return [k for k, p in enumerate(places) if p.name.startswith(head)]


@dataclass(frozen=True)
class Moment:
    """The smallest gap of what moves against each other, at one end of the travel.

    Attributes:
        name: ride, bump, droop, crossed or lock.
        words: For people.
        poses: That belong to it.
        pair: The pair that is nearest there; None where none comes within reach.
    """

    name: str
    words: str
    poses: int
    pair: PairGap | None


@dataclass(frozen=True)
class ClearanceStudy:
    """All pairs of a sheet.

    Attributes:
        pairs: Worst first: contacts, then what is left over the gap wanted, least first.
        far: Pairs that stay farther apart than `reach` over all poses.
        reach: Beyond it a pair is not measured [mm].
        poses: How many poses were looked at.
        missed: Poses the linkage does not reach.
        notes: What was not looked at, and why.
        moments: The smallest gap at each end of the travel.
    """

    pairs: tuple[PairGap, ...]
    far: int
    reach: float
    poses: int
    missed: int
    notes: tuple[str, ...]
    moments: tuple[Moment, ...] = ()

    @property
    def short(self) -> tuple[PairGap, ...]:
        """Pairs whose gap is missed."""
        return tuple(p for p in self.pairs if not p.met)

    @property
    def exact(self) -> tuple[PairGap, ...]:
        """Pairs told by the kernel."""
        return tuple(p for p in self.pairs if p.exact is not None)

    @property
    def doubtful(self) -> tuple[PairGap, ...]:
        """Pairs whose exact distance and meshes differ by more than is stated."""
        return tuple(p for p in self.pairs if not p.agrees)


def worst_first(pairs: list[PairGap]) -> tuple[PairGap, ...]:
    """Contacts first, then by what is left over the gap wanted."""
    return tuple(
        sorted(pairs, key=lambda p: (p.state == "apart", -p.touching, p.gap - p.wanted, p.first, p.second))
    )  # fmt: skip
