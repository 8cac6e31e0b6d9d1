"""What a quantity of an axle on its links is on paper: its values, its unit, and the words for its signs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from fixturegen.axle.frames import Array
from fixturegen.findings import Trust
from fixturegen.studies.link_numbers import trust_of
from fixturegen.studies.link_records import LinkStudy, Travel

Kind = Literal["length", "deg", "%", "deg/deg", "1"]
Over = Literal["heave", "roll", "lock"]
Read = Callable[[LinkStudy, Travel], Array | None]
Steered = Callable[[LinkStudy], Array | None]

ISO, GILLESPIE, GEOMETRY = "iso-8855", "gillespie, chapter 7", "geometry, rigid links"
JOINTS, SHAFTS = "geometry, joints carried by the axle", "geometry; sae-ae-7"


RIGHT: dict[Over, str] = {
    "heave": "Right = bump, both wheels up alike; left = droop.",
    "roll": "Right = left wheel up and right wheel down, as in a right-hand bend; left = the other way.",
    "lock": "Right = wheels steered to the left as far as the knuckle stop; left = to the right.",
}
"""Which way the travel runs in each picture."""


@dataclass(frozen=True)
class LinkCase:
    """One geometry on paper.

    Attributes:
        name: What people call it; stands beside its lines.
        study: The axle over its travel on it.
    """

    name: str
    study: LinkStudy

    @property
    def trust(self) -> Trust:
        """How far its numbers can be trusted: as far as the points, less where links stand for leaf springs."""
        return trust_of(self.study)


@dataclass(frozen=True)
class Quantity:
    """One thing told of an axle.

    Attributes:
        key: Its name among the quantities.
        title: Heading of its picture and row.
        kind: Unit: length [mm], deg, %, deg/deg or none.
        read: Its values over poses; None where the geometry has none.
        up: What is up in the picture.
        climb: What a line that climbs to the right means over heave; empty: no plot over heave.
        roll_climb: The same over roll; empty: no plot over roll.
        source: Source id or formula.
        mark: A value that is drawn as a line of its own, with the words beside it.
        shown: Values that are always in the picture, so that it does not look worse than it is.
        lock_climb: What a line that climbs to the right means from full right to full left lock; empty: no plot.
        steered: Its values from full right to full left lock; None where it has none there.
    """

    key: str
    title: str
    kind: Kind
    read: Read
    up: str
    climb: str
    roll_climb: str
    source: str
    mark: tuple[float, str] | None = None
    shown: tuple[float, ...] = ()
    lock_climb: str = ""
    steered: Steered | None = None

    def sign_words(self, over: Over) -> str:
        """How to read the picture's signs, as it stands under the plot."""
        return f"Up = {self.up}. {RIGHT[over]} A line that climbs to the right means: {self.climbs(over)}."

    def climbs(self, over: Over) -> str:
        """What a line that climbs to the right means; empty where there is no such plot."""
        return {"heave": self.climb, "roll": self.roll_climb, "lock": self.lock_climb}[over]
