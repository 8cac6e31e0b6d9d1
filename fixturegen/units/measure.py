"""The measured number, and the refusal of a text that is none."""

from __future__ import annotations

from typing import Self

from fixturegen.errors import EXIT_INPUT, Fault, FixturegenError


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

    def __new__(cls, value: float, text: str = "", tolerance: float | None = None, assumed: bool = False) -> Self:
        """A measure of `value`."""
        self = super().__new__(cls, value)
        self.text, self.tolerance, self.assumed = text or f"{value:g}", tolerance, assumed
        return self

    def as_assumed(self) -> Measure:
        """The same measure, marked as coming from a default."""
        return Measure(float(self), self.text, self.tolerance, assumed=True)


class BadQuantity(FixturegenError, ValueError):
    """A text that is no quantity of the kind asked for; exit 2.

    Attributes:
        given: What was given, as the person wrote it.
        allowed: What is allowed there.
        remedy: What to do.
        faults: The same as a fault, for whoever does not know the key.
    """

    exit_code = EXIT_INPUT

    def __init__(self, given: str, allowed: str, remedy: str) -> None:
        self.given, self.allowed, self.remedy = given, allowed, remedy
        self.faults = (Fault("quantity", given, allowed, remedy),)
        super().__init__(f"given {given}; allowed: {allowed}; {remedy}.")
