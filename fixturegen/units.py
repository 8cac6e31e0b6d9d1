"""Text to number and back, as people in a shop write it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Self


class Measure(float):
    """A float in the program's unit that remembers how it was given.

    Attributes:
        text: What the person wrote, or what the default is written as.
        tolerance: Half width of the tolerance given with it, in the same unit; None when none.
        assumed: Whether it comes from a default and not from the sheet.
    """

    text: str
    tolerance: float | None
    assumed: bool

    def __new__(
        cls, value: float, text: str = "", tolerance: float | None = None, assumed: bool = False
    ) -> Self:
        """A measure of `value`."""
        self = super().__new__(cls, value)
        self.text, self.tolerance, self.assumed = text or f"{value:g}", tolerance, assumed
        return self


@dataclass(frozen=True)
class Dimension:
    """What a key takes: a dimension and a range in shop text."""

    low: str
    high: str
    kind: str = ""


class Length(Dimension):
    """A length, mm inside."""


class Angle(Dimension):
    """An angle, deg inside."""


class Mass(Dimension):
    """A mass, kg inside."""


class Force(Dimension):
    """A force, N inside."""
