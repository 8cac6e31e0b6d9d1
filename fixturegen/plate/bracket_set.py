"""All brackets of a job: their parts, where they stand, and what checks need to know of each."""

from __future__ import annotations

from dataclasses import dataclass, field

from fixturegen.plate.part import Assembly, Part
from fixturegen.studies.bracket_records import BracketFacts


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
        assemblies: One, "brackets", in frame A; none without brackets.
        facts: Of every bracket that was drawn, by name.
        unmade: Brackets that cannot be drawn.
    """

    parts: tuple[Part, ...] = ()
    assemblies: tuple[Assembly, ...] = ()
    facts: dict[str, BracketFacts] = field(default_factory=dict)
    unmade: tuple[Unmade, ...] = ()
