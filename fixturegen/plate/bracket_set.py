"""All brackets of a job: their parts, where they stand, and what checks need to know of each."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fixturegen.plate.part import Assembly, Part
    from fixturegen.studies.bracket_records import BracketFacts
    from fixturegen.studies.locator_records import Locator


@dataclass(frozen=True)
class Unmade:
    """A bracket that cannot be drawn, and why.

    Attributes:
        mount: Name of the bracket.
        words: Why, naming what is in the way and by how much.
        remedy: What to do.
    """

    mount: str
    words: str
    remedy: str


@dataclass(frozen=True)
class BracketSet:
    """All brackets of a job.

    Attributes:
        parts: Every part.
        assemblies: "brackets" in frame A and "locators" in frame T; none without brackets.
        facts: Of every bracket that was drawn, by name.
        unmade: Brackets that cannot be drawn.
        locators: What holds each dummy bolt while its bracket is tacked.
        unlocated: Brackets that no locator goes to.
    """

    parts: tuple[Part, ...] = ()
    assemblies: tuple[Assembly, ...] = ()
    facts: dict[str, BracketFacts] = field(default_factory=dict)
    unmade: tuple[Unmade, ...] = ()
    locators: tuple[Locator, ...] = ()
    unlocated: tuple[Unmade, ...] = ()
