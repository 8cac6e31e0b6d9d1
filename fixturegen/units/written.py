"""Numbers written back in the units of the shop."""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction
from functools import cache
from typing import Any

from fixturegen.units.listed import BY_NAME

MM_PER_INCH = 25.4
"""mm; exact by definition."""

EXACT_INCH = 0.00005
"""in; a fraction this close is called exact: no shop tool reads half a ten-thousandth."""


def as_inch(value: float, denominators: int = 64) -> str:
    """A length as inch and fraction, with what the fraction leaves out in brackets.

    `2 5/8 in` when exact; `2 5/8 in (+0.0031 in)` when the true length is 0.0031 in more.

    Args:
        value: Length [mm].
        denominators: Finest fraction, a power of two.
    """
    inches = value / MM_PER_INCH
    steps = round(abs(inches) * denominators)
    whole, rest = divmod(steps, denominators)
    part = Fraction(rest, denominators)
    number = f"{whole} {part}" if whole and part else f"{part or whole}"
    over = inches - math.copysign(steps / denominators, inches)
    sign = "-" if inches < 0 and steps else ""
    note = "" if abs(over) < EXACT_INCH else f" ({over:+.4f} in)"
    return f"{sign}{number} in{note}"


def as_text(value: float, kind: str, unit: str, decimals: int | None = None) -> str:
    """A number of the program's unit written in another unit, without needless zeros.

    Args:
        value: In the program's unit of `kind`.
        kind: length, angle, mass ...; number for no unit.
        unit: Name of a unit of the list, or "1".
        decimals: Places behind the point; six significant digits when not given.

    Raises:
        ValueError: When the unit is not one of that kind.
    """
    if unit == "1":
        shown, word = value, ""
    else:
        found = BY_NAME.get(unit)
        if found is None or found.kind != kind:
            raise ValueError(f"{unit} is no unit of {kind}")
        shown, word = value / float(found.factor), f" {unit}"
    number = f"{shown:.6g}" if decimals is None else f"{shown:.{decimals}f}"
    if "." in number and "e" not in number:
        number = number.rstrip("0").rstrip(".")
    return f"{'0' if number == '-0' else number}{word}"


def convert(value: float, unit: str, to: str) -> float:
    """The value in another unit, by the general unit library (loaded on first use)."""
    return float(_registry()(unit).to(to).magnitude * value)


@cache
def _registry() -> Callable[[str], Any]:
    """The unit library's reader of unit names."""
    import pint

    return pint.UnitRegistry(cache_folder=None).parse_expression
