"""Numbers in the words of the shop: inches as people read them, millimetres small."""

from __future__ import annotations

from fractions import Fraction

from fixturegen.findings import Number, Trust

INCH = 25.4

TRUST_WORDS = {
    Trust.STANDARD_READ: "standard, read",
    Trust.MEASURED: "measured",
    Trust.SECONDARY_COPY: "standard, from a copy",
    Trust.DERIVED: "worked out",
    Trust.PRACTICE: "shop practice",
    Trust.MEMORY: "from memory",
    Trust.ASSUMED: "ASSUMED",
}


def fraction(value: float, denominator: int = 64) -> str:
    """A length [mm] as inches and a fraction, with the rounding error where there is one."""
    inches = value / INCH
    nearest = Fraction(round(abs(inches) * denominator), denominator)
    whole, rest = divmod(nearest, 1)
    text = f"{int(whole)} {rest}" if whole and rest else f"{rest if rest else int(whole)}"
    sign = "-" if inches < 0 and nearest else ""
    error = inches - (-1 if inches < 0 else 1) * float(nearest)
    tail = "" if abs(error) < 0.0005 else f" ({error:+.3f})"
    return f"{sign}{text} in{tail}"


def length(value: float, units: str = "in") -> str:
    """A length [mm] in the unit of the job, the other one beside it."""
    if units == "mm":
        return f"{value:.2f} mm ({value / INCH:.3f} in)"
    return f"{value / INCH:.3f} in ({value:.2f} mm)"


def shown(number: Number, units: str = "in") -> str:
    """A number in shop units, the metric one beside it."""
    value = number.value
    if number.unit == "mm":
        return length(value, units)
    if number.unit == "deg":
        return f"{value:.3f} deg"
    if number.unit == "kg":
        return f"{value / 0.45359237:.1f} lb ({value:.2f} kg)"
    if number.unit == "N":
        return f"{value / 4.4482216152605:.0f} lbf ({value:.0f} N)"
    if number.unit in ("1", ""):
        return f"{value:g}"
    return f"{value:.4g} {number.unit}"
