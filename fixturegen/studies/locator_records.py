"""Records of locators: what holds a dummy bolt at a hardpoint while a bracket is tacked. All in frame T."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fixturegen.axle.model import Point
from fixturegen.studies.bracket_records import Mount

Form = Literal["post", "arm"]
Place = tuple[float, float]
Matrix = tuple[Point, Point, Point]


@dataclass(frozen=True)
class ErrorItem:
    """One thing that puts the dummy bolt out of its place.

    Attributes:
        name: What it is.
        across: Most it moves the bolt sideways, square to the bolt [mm].
        up: Most it moves the bolt up or down [mm].
        source: Where the figure comes from.
    """

    name: str
    across: float
    up: float
    source: str

    @property
    def size(self) -> float:
        """Most it moves the bolt [mm]."""
        return float((self.across**2 + self.up**2) ** 0.5)


@dataclass(frozen=True)
class PlaceError:
    """How far a dummy bolt may stand from its hardpoint.

    Attributes:
        items: Every contributor, largest first.
        worst: All at their most, the same way [mm].
        likely: Root of the sum of squares [mm].
    """

    items: tuple[ErrorItem, ...]
    worst: float
    likely: float


@dataclass(frozen=True)
class Post:
    """How a table post is laid out.

    Its cheeks are drawn in a frame with its origin on the dummy bolt, z along the bolt, x level.

    Attributes:
        gap: From the ears' outer faces to the cheeks [mm].
        foot: x of the middle of the foot [mm].
        half: Half the length of the foot [mm].
        cross: Cross plate between the cheeks: x, y from, y to [mm].
        floors: y of the lower edge of the right and of the left cheek [mm].
        base: (x from, x to, y from, y to) of the base plate in T [mm].
        pins: Table pins (x, y) in T: the round hole first, then the slot [mm].
        bolts: Table bolts (x, y) in T [mm].
    """

    gap: float
    foot: float
    half: float
    cross: tuple[float, float, float]
    floors: tuple[float, float]
    base: tuple[float, float, float, float]
    pins: tuple[Place, Place]
    bolts: tuple[Place, ...]


@dataclass(frozen=True)
class Locator:
    """One dummy bolt and what holds it.

    Attributes:
        mount: The bracket that is tacked on it.
        form: post: from the table; arm: from the axle tube.
        point: Hardpoint in T [mm].
        bolt: Unit direction of the bolt in T, to the left.
        rotation: Rows of the cheeks' frame in T: columns x level, y up, z along the bolt.
        ears: Outer faces of the bracket's ears along the bolt (right, left) [mm].
        plates: Faces of the two plates that hold the bolt, along it: (from, to) each [mm].
        pull: +1 when the dummy bolt is drawn to the bolt's left end, -1 to its right.
        leave: Way the post goes once unbolted, unit, in T.
        post: Its layout; None for an arm.
        error: How far the dummy bolt may be out.
        parts: Names of its parts.
    """

    mount: Mount
    form: Form
    point: Point
    bolt: Point
    rotation: Matrix
    ears: tuple[float, float]
    plates: tuple[tuple[float, float], tuple[float, float]]
    pull: int
    leave: Point
    post: Post | None
    error: PlaceError
    parts: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """Name of its bracket."""
        return self.mount.name
