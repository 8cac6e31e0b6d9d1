"""Sizes as they stand on a drawing: decimal inch, mm beside it, and the fraction with what it leaves out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fixturegen.units import as_inch

Units = Literal["mm", "in"]
INCH = 25.4
RULE = 64  # finest fraction of a steel rule
TAPE = 32  # finest fraction read off a tape (common practice, no source)
ROUND_INCH = 0.0005  # [in] half the last place printed
ROUND_MM = 0.005  # [mm] half the last place printed


def inches(value: float, places: int = 3) -> str:
    """Decimal inch without its unit; value [mm]."""
    return f"{round(value / INCH, places) + 0.0:.{places}f}"


def millimetres(value: float, places: int = 2) -> str:
    """Millimetres without the unit; value [mm]."""
    return f"{round(value, places) + 0.0:.{places}f}"


def fraction(value: float, finest: int = RULE) -> str:
    """Inch and fraction with the rounding error in brackets, without the unit; value [mm]."""
    return as_inch(value, finest).replace(" in", "")


@dataclass(frozen=True)
class Writer:
    """How sizes are written: first in the unit of the job, the other one beside it.

    Attributes:
        units: Of the job.
    """

    units: Units

    def first(self, value: float) -> str:
        """In the unit of the job alone; value [mm]."""
        return inches(value) if self.units == "in" else millimetres(value)

    def pair(self, value: float) -> str:
        """The unit of the job, the other one in brackets; value [mm]."""
        if self.units == "in":
            return f"{inches(value)} [{millimetres(value)}]"
        return f"{millimetres(value)} [{inches(value)}]"

    def fine(self, value: float) -> str:
        """As `pair` with a ten-thousandth of an inch and a thousandth of a millimetre; value [mm]."""
        if self.units == "in":
            return f"{inches(value, 4)} [{millimetres(value, 3)}]"
        return f"{millimetres(value, 3)} [{inches(value, 4)}]"

    def full(self, value: float, finest: int = RULE) -> str:
        """Fraction with what it leaves out, decimal and mm, units said; value [mm]."""
        if self.units == "in":
            return f"{as_inch(value, finest)} = {inches(value)} in [{millimetres(value)} mm]"
        return f"{millimetres(value)} mm [{inches(value)} in]"

    def short(self, value: float, finest: int = RULE) -> str:
        """As `full` with the units left to the title block; value [mm]."""
        if self.units == "in":
            return f"{fraction(value, finest)} = {self.pair(value)}"
        return self.pair(value)

    def cells(self, value: float) -> tuple[str, ...]:
        """Decimal, fraction with what it leaves out, and mm, for a table; value [mm]."""
        if self.units == "in":
            return inches(value), fraction(value), millimetres(value)
        return millimetres(value), inches(value)

    def heads(self, name: str) -> tuple[str, ...]:
        """Heads of the columns of `cells`."""
        if self.units == "in":
            return f"{name} in", "fraction (and rest)", f"{name} mm"
        return f"{name} mm", f"{name} in"

    def limits(self, tolerance: tuple[float, float]) -> str:
        """Lower and upper limit of a size in the unit of the job; tolerance [mm]."""
        low, high = tolerance
        if self.units == "in":
            return f"{high / INCH:+.4f}/{low / INCH:+.4f}"
        return f"{high:+.3f}/{low:+.3f}"


def scale_words(scale: float) -> str:
    """1:4, 2:1; paper over steel."""
    return f"{scale:g}:1" if scale >= 1.0 else f"1:{round(1.0 / scale, 6):g}"
