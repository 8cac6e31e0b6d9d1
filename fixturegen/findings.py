"""Findings and numbers: what was claimed, what was found, how far to trust it."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import Literal


class Level(StrEnum):
    """How a claim came out."""

    PASS = "pass"  # noqa: S105 - a level, not a password
    WARN = "warn"
    FAIL = "fail"
    NOT_CHECKED = "not_checked"


class Trust(StrEnum):
    """How far a number can be trusted, strongest first."""

    STANDARD_READ = "standard_read"
    MEASURED = "measured"
    SECONDARY_COPY = "secondary_copy"
    DERIVED = "derived"
    PRACTICE = "practice"
    MEMORY = "memory"
    ASSUMED = "assumed"


_ORDER = tuple(Trust)


def weakest(*trusts: Trust) -> Trust:
    """The weakest of the trusts given; DERIVED when none is given."""
    return max(trusts, key=_ORDER.index) if trusts else Trust.DERIVED


Holds = Literal["part", "assembly", "job", "nothing"]


@dataclass(frozen=True)
class Number:
    """A number that reaches paper.

    Attributes:
        value: In `unit`.
        unit: mm, deg, N, N*mm, MPa, kg, N/mm, 1 (no dimension) ...
        source: A source id or the formula with its inputs.
        trust: The weakest trust among its inputs.
    """

    value: float
    unit: str
    source: str
    trust: Trust

    def as_json(self) -> dict[str, object]:
        """The number as a JSON object."""
        return {
            "value": self.value,
            "unit": self.unit,
            "source": self.source,
            "trust": self.trust.value,
        }


@dataclass(frozen=True)
class Finding:
    """What one claim came to.

    Attributes:
        code: FIT-01, CUT-03, STR-02 ...; never reused.
        level: Pass, warn, fail or not checked.
        claim: The claim in plain words.
        words: What was found, with the numbers.
        remedy: What to do about it; empty on a pass.
        parts: Names of the parts it is about.
        assembly: Name of the assembly, or None.
        pose: Pose id (frames.md), or None.
        point: Where [mm], shape (3,), in `frame`, or None.
        frame: A, V, T or P.
        value: What was found, in `unit`.
        limit: What is allowed, in `unit`.
        unit: Unit of value and limit.
        source: Source of the limit.
        holds: What a fail holds back.
        needed: Whether "not checked" holds as well.
    """

    code: str
    level: Level
    claim: str
    words: str
    remedy: str = ""
    parts: tuple[str, ...] = ()
    assembly: str | None = None
    pose: str | None = None
    point: tuple[float, float, float] | None = None
    frame: str = "T"
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    source: str = ""
    holds: Holds = "part"
    needed: bool = True
    data: dict[str, object] = field(default_factory=dict, hash=False, compare=False)

    @property
    def holding(self) -> bool:
        """Whether this finding holds something back."""
        if self.holds == "nothing":
            return False
        return self.level is Level.FAIL or (self.needed and self.level is Level.NOT_CHECKED)

    def as_json(self) -> dict[str, object]:
        """The finding as a JSON object; the same in every `--json` and in summary.json."""
        return {
            "code": self.code,
            "level": self.level.value,
            "claim": self.claim,
            "words": self.words,
            "remedy": self.remedy,
            "parts": list(self.parts),
            "assembly": self.assembly,
            "pose": self.pose,
            "point": None if self.point is None else list(self.point),
            "frame": self.frame,
            "value": self.value,
            "limit": self.limit,
            "unit": self.unit,
            "source": self.source,
            "holds": self.holds,
            "needed": self.needed,
        }
