"""What a contradiction is, and how the rules that find them are kept."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from fixturegen.errors import Fault
from fixturegen.sheet.keys import Path, dotted
from fixturegen.sheet.specs import Sheet
from fixturegen.units import Measure

INCH = 25.4
"""mm; exact by definition."""


@dataclass(frozen=True)
class Clash:
    """Two or more values that cannot both be right.

    Attributes:
        path: The key that is most likely wrong.
        given: Both values, as the person wrote them.
        allowed: What would agree.
        remedy: What to do.
    """

    path: Path
    given: str
    allowed: str
    remedy: str

    def fault(self, lines: dict[Path, int]) -> Fault:
        """The clash with its line."""
        from fixturegen.sheet.lines import line_of

        line = line_of(lines, self.path)
        return Fault(dotted(self.path), self.given, self.allowed, self.remedy, line)


Rule = Callable[[Sheet], Iterator[Clash]]

RULES: list[Rule] = []
"""Filled by the modules of this room on import, in the order of the sheet."""


def rule(function: Rule) -> Rule:
    """The function itself, kept among the rules."""
    RULES.append(function)
    return function


def said(length: float) -> str:
    """A length [mm] worked out by the program, in both units."""
    return f"{length / INCH:.3f} in ({length:.1f} mm)"


def beside(value: Measure, path: Path, other: Measure) -> str:
    """Both values, as the person wrote them."""
    return f"{value.text}, with {dotted(path)} = {other.text}"
