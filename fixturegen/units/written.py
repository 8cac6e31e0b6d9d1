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


_SHOP = {
    "angle": (("deg", 3),),
    "mass": (("lb", 2), ("kg", 2)),
    "force": (("lbf", 0), ("N", 0)),
    "torque": (("lbf*ft", 1), ("N*m", 1)),
    "stress": (("ksi", 2), ("MPa", 0)),
    "area": (("in^2", 4), ("mm^2", 1)),
    "section modulus": (("in^3", 4), ("mm^3", 0)),
    "second moment": (("in^4", 4), ("mm^4", 0)),
    "mass per length": (("lb/ft", 2), ("kg/m", 2)),
    "density": (("lb/in^3", 4), ("kg/m^3", 0)),
    "speed": (("mph", 2), ("m/s", 2)),
    "turning speed": (("rpm", 1),),
}
"""Units of the shop and places behind the point, in the order they are read out."""


def as_shop(value: float, kind: str) -> str:
    """A number in the units of the shop, with the metric one behind it.

    A length is given in decimal inch, mm, and the nearest 1/64 with what that leaves out.

    Args:
        value: In the program's unit of `kind`.
        kind: length, angle, mass ...; number for no unit.
    """
    if kind == "length":
        decimal = as_text(value, kind, "in", 4)
        return f"{decimal} = {as_text(value, kind, 'mm', 3)}, {as_inch(value)}"
    if kind not in _SHOP:
        return as_text(value, kind, "1")
    return " = ".join(as_text(value, kind, unit, places) for unit, places in _SHOP[kind])


def convert(value: float, unit: str, to: str) -> float:
    """The value in another unit, by the general unit library (loaded on first use)."""
    return float(_registry()(unit).to(to).magnitude * value)


@cache
def _registry() -> Callable[[str], Any]:
    """The unit library's reader of unit names."""
    import pint

    return pint.UnitRegistry(cache_folder=None).parse_expression
