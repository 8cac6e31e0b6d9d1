"""Records of the gauges' plan: what each proves, its sizes, what may be off in it, how it is used."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

INCH = 25.4
AIM = 4.0
"""Tolerance to prove over the gauge's own usual error [1]; common practice, no source."""


def sized(value: float, units: str, places: int = 3) -> str:
    """A size [mm] in the unit of the job, for names and words."""
    return f"{value:.{places - 1}f} mm" if units == "mm" else f"{value / INCH:.{places}f} in"


@dataclass(frozen=True)
class Term:
    """One thing that may be off in a gauge or in its reading.

    Attributes:
        name: What it is.
        tolerance: Largest single deviation, in `unit`.
        unit: mm or deg.
        share: What one unit of it does to the result, in the result's unit.
        source: Where the tolerance comes from: how the feature is made.
        cure: What makes it smaller.
    """

    name: str
    tolerance: float
    unit: str
    share: float
    source: str
    cure: str = "measure it on the made gauge and stamp what it is"

    @property
    def off(self) -> float:
        """What it does to the result at most, in the result's unit."""
        return abs(self.tolerance * self.share)


@dataclass(frozen=True)
class Setting:
    """One value a gauge is set to, or one reading it must give.

    Attributes:
        what: In words.
        value: Stack, gap or reading [mm].
        low: The same at the lower end of the tolerance [mm].
        high: The same at the upper end [mm].
        angle: It stands for [deg]; None where it is no angle.
        blocks: Gauge blocks of the stack [mm], where one was asked for and can be made.
        told: Why the stack cannot be made from the blocks; empty otherwise.
    """

    what: str
    value: float
    low: float
    high: float
    angle: float | None = None
    blocks: tuple[float, ...] = ()
    told: str = ""


@dataclass(frozen=True)
class Gauge:
    """One gauge.

    Attributes:
        kind: Its maker.
        name: Slug; its parts are named by it.
        label: What people call it.
        proves: What it proves, in words.
        unit: Of what it proves: mm or deg.
        tolerance: Half width of what it must tell good from bad, in `unit`.
        limit_source: Where that tolerance comes from.
        terms: What may be off.
        sizes: Name to size, as the makers draw it [mm or deg].
        settings: What it is set to or must read.
        use: How to use it with a tape, a level or a feeler.
        caution: What spoils it.
        words: Further texts a maker needs, by name.
    """

    kind: str
    name: str
    label: str
    proves: str
    unit: str
    tolerance: float
    limit_source: str
    terms: tuple[Term, ...]
    sizes: Mapping[str, float]
    settings: tuple[Setting, ...]
    use: str
    caution: str
    words: Mapping[str, str]

    @property
    def worst(self) -> float:
        """Own error when everything is off the bad way, in `unit`. Source: tolerance stack, derived."""
        return sum(t.off for t in self.terms)

    @property
    def usual(self) -> float:
        """Own error as it usually comes out, root of the sum of squares. Source: tolerance stack, derived."""
        return math.sqrt(sum(t.off**2 for t in self.terms))

    @property
    def ratio(self) -> float:
        """Tolerance over the usual own error [1]."""
        return self.tolerance / self.usual if self.usual > 0.0 else math.inf

    @property
    def largest(self) -> Term:
        """What matters most."""
        return max(self.terms, key=lambda t: t.off)


@dataclass(frozen=True)
class NotMade:
    """A gauge the sheet cannot make: which, why, and what to do."""

    kind: str
    what: str
    why: str
    remedy: str


@dataclass(frozen=True)
class GaugePlan:
    """Every gauge of a job, and those it cannot make."""

    gauges: tuple[Gauge, ...] = ()
    not_made: tuple[NotMade, ...] = ()

    def of_kind(self, kind: str) -> tuple[Gauge, ...]:
        """The gauges of one kind."""
        return tuple(g for g in self.gauges if g.kind == kind)


@dataclass(frozen=True)
class Ways:
    """How features of a gauge are made, as place tolerances [mm].

    Attributes:
        place: Of a hole.
        edge: Of an edge that measures.
        hole_words: How holes are made.
        edge_words: How edges are made.
    """

    place: float
    edge: float
    hole_words: str
    edge_words: str
