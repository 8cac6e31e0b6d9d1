"""Strengths in words: numbers as the shop reads them, what is allowed, and what is not covered beside them."""

from __future__ import annotations

from fixturegen.checks.wording import INCH
from fixturegen.studies.bracket_records import Mount
from fixturegen.studies.strength_records import Strength
from fixturegen.units import as_text

KSI = 6.894757293168  # MPa
FACTOR_SOURCES = {
    "aisc-360": "AISC 360",
    "asme-bth-1": "ASME BTH-1",
    "column-formulas": "older steel code, from memory",
    "practice": "common practice, no source",
}
"""Who asks for a factor, short enough to stand beside it; the report tells sources in full."""
LBF_PER_INCH = 4.4482216152605 / 25.4  # N/mm


def quantity(value: float, unit: str, units: str) -> str:
    """A number of a strength in the unit of the job.

    Args:
        value: In `unit`.
        unit: N, N/mm, MPa, N*mm, mm, mm^2, deg or 1.
        units: mm or in.
    """
    metric = units == "mm"
    if unit == "N":
        return f"{value / 1000.0:.1f} kN" if metric else f"{as_text(value, 'force', 'lbf', 0)}"
    if unit == "MPa":
        return f"{value:.0f} MPa" if metric else f"{value / KSI:.1f} ksi"
    if unit == "N/mm":
        return f"{value:.0f} N/mm" if metric else f"{value / LBF_PER_INCH:.0f} lbf/in"
    if unit == "N*mm":
        return f"{value / 1e6:.2f} kN m" if metric else f"{value / 1355.8179483314:.0f} lbf ft"
    if unit == "mm":
        return f"{value:.2f} mm" if metric else f"{value / INCH:.3f} in"
    if unit == "mm^2":
        return f"{value:.0f} mm^2" if metric else f"{value / INCH**2:.3f} in^2"
    if unit == "deg":
        return f"{value:.0f} deg"
    return f"{value:.3g}"


def allowed(one: Strength) -> float:
    """The strength over the factor asked for, in its unit."""
    return one.capacity / one.factor.value


def factor_text(one: Strength) -> str:
    """The factor, who asks for it and why."""
    return f"factor {one.factor.value:.3g}, {one.factor.why}, {FACTOR_SOURCES.get(one.factor.source, 'see sources')}"


def in_place(text: str, mount: Mount) -> str:
    """A text of a bracket's strength with tabs and wall called by what they are on the truck."""
    x, y, z = (abs(c) for c in mount.bolt)
    plus, minus = ("left", "right") if y >= max(x, z) else ("front", "rear") if x >= z else ("upper", "lower")
    way = mount.bolt[1] if y >= max(x, z) else mount.bolt[0] if x >= z else mount.bolt[2]
    if way < 0.0:
        plus, minus = minus, plus
    text = text.replace("flat wall of the rail", mount.base.words)
    return text.replace("tab at +z", f"{plus} tab").replace("tab at -z", f"{minus} tab")


def comparison(one: Strength, units: str) -> str:
    """Load beside what is allowed, with the factor in it."""
    load, limit = quantity(one.demand, one.unit, units), quantity(allowed(one), one.unit, units)
    if one.unit == "mm":
        return f"{limit} there, {load} asked for" if "weld" in one.what else f"{load}, without yielding {limit}"
    if one.factor.value == 1.0:
        return f"{load} of {limit}"
    return f"{load} of {limit} allowed ({quantity(one.capacity, one.unit, units)} over {factor_text(one)})"


def not_covered(one: Strength) -> str:
    """What the number says nothing about."""
    return ", ".join(one.not_covered)
