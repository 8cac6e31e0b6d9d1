"""Pierces, lengths, time, mass and money of cutting a sheet: estimates, and what they rest on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Speeds:
    """How fast the torch goes over one plate.

    Attributes:
        cut: While it cuts [mm/s].
        mark: While it marks [mm/s].
        travel: Between cuts [mm/s].
        pierce: Time of one pierce [s].
    """

    cut: float
    mark: float
    travel: float
    pierce: float


@dataclass(frozen=True)
class CutWork:
    """What is cut from one sheet.

    Attributes:
        pierces: How many.
        cut_length: Of all contours [mm].
        mark_length: Of all marks [mm].
        travel_length: Straight from contour to contour [mm].
    """

    pierces: int
    cut_length: float
    mark_length: float
    travel_length: float

    def time(self, speeds: Speeds) -> float:
        """Time at the torch [s]: cutting, marking, travelling and piercing, nothing else.

        Formula: cut length / cut speed + mark length / mark speed + travel / travel speed + pierces
            x pierce time. Derived; loading, dross, and slowing down in corners come on top.
        """
        moving = self.cut_length / speeds.cut + self.mark_length / speeds.mark + self.travel_length / speeds.travel
        return moving + self.pierces * speeds.pierce


def together(works: Iterable[CutWork]) -> CutWork:
    """The sum of several."""
    kept = tuple(works)
    return CutWork(
        sum(w.pierces for w in kept),
        sum(w.cut_length for w in kept),
        sum(w.mark_length for w in kept),
        sum(w.travel_length for w in kept),
    )


def cost_of(price: float | None, used: float, whole: float) -> float | None:
    """Money for the share of a sheet that is used up; the remnant keeps its share. None without a price.

    Args:
        price: Of the whole sheet, in the person's money.
        used: Area that is used up, off-cuts counted [mm2].
        whole: Area of the sheet [mm2].
    """
    return None if price is None else price * used / whole
