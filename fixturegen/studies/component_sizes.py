"""How large a part of each kind can be on this axle, and which unit a file was written in when it is not."""

from __future__ import annotations

from dataclasses import dataclass

from fixturegen.sheet.specs import Sheet
from fixturegen.studies.component_records import Reading

INCH = 25.4
"""mm; exact by definition."""

FACTORS = {"mm": (INCH, 10.0, 1000.0), "in": (1.0 / INCH,)}
"""What a file may have to be taken by, by the unit it was taken in."""

NAMES = {
    INCH: "written in inches and taken for millimetres",
    1.0 / INCH: "written in millimetres and taken for inches",
    10.0: "written in centimetres and taken for millimetres",
    1000.0: "written in metres and taken for millimetres",
}


@dataclass(frozen=True)
class SizeRange:
    """Least and most of the longest side of a part [mm], and what on the axle says so."""

    low: float
    high: float
    why: str


@dataclass(frozen=True)
class Misread:
    """A size that is out of its range, and what would put it right.

    Attributes:
        longest: Side that was read [mm].
        allowed: What it can be.
        ratio: How many times it is too large, or too small as a fraction, to the nearer end of the range [1].
        factor: That the file must be taken by to fit [1]; None where no usual one does.
    """

    longest: float
    allowed: SizeRange
    ratio: float
    factor: float | None

    @property
    def unit(self) -> str:
        """The unit the file was most likely written in; empty where it cannot be told."""
        return {INCH: "in", 1.0 / INCH: "mm"}.get(self.factor or 0.0, "")


def range_of(sheet: Sheet, kind: str) -> SizeRange:
    """What the longest side of a part of this kind can be.

    The shares are wide on purpose, common practice, no source: they are there to find a unit taken for
    another, not to judge a part. A range spans less than an inch over a millimetre, 25.4, so that no part
    that is right in one unit passes in the other; "other" cannot promise that.
    """
    face, width = sheet.housing.face, float(sheet.axle.wheel_mount_width)
    base, tyre, rim = (float(v) for v in (sheet.vehicle.wheelbase, sheet.vehicle.tyre_diameter, _rim(sheet)))
    opening, outside = float(face.opening_diameter), float(face.outside_diameter)
    middle = max(float(sheet.housing.width), float(sheet.housing.height))
    gear, nose = float(sheet.third_member.ring_gear_diameter), float(sheet.third_member.pinion_length)
    ranges = {
        "cover": (0.8 * opening, 2.0 * outside, "opening and face of the housing"),
        "housing": (0.7 * middle, 1.3 * width, "width and height of the centre section, wheel mount width"),
        "third-member": (0.7 * gear, 3.0 * (nose + gear / 2.0), "ring gear and pinion length"),
        "wheel": (0.8 * rim, 1.15 * tyre, "wheel and tyre diameter"),
        "brake": (0.2 * rim, 1.2 * rim, "wheel diameter, which it turns in"),
        "oil-pan": (0.1 * width, width, "wheel mount width"),
        "engine": (0.2 * width, 1.5 * width, "wheel mount width"),
        "gearbox": (0.15 * width, 1.5 * width, "wheel mount width"),
        "tank": (0.1 * width, 1.2 * width, "wheel mount width"),
        "spring": (0.08 * width, 1.2 * width, "wheel mount width"),
        "shock": (0.08 * width, 0.8 * width, "wheel mount width"),
        "exhaust": (base / 20.0, 1.2 * base, "wheelbase"),
        "shaft": (base / 25.0, base, "wheelbase"),
        "frame": (base / 12.0, 2.0 * base, "wheelbase"),
    }
    low, high, why = ranges.get(kind, (base / 500.0, 2.0 * base, "wheelbase"))
    return SizeRange(low, high, why)


def _rim(sheet: Sheet) -> float:
    return float(sheet.vehicle.wheel_diameter)


def misread(reading: Reading, allowed: SizeRange, unit: str = "") -> Misread | None:
    """What is wrong with the size of what was read; None where it is one the axle can have.

    Args:
        reading: What was read.
        allowed: What its longest side can be.
        unit: The file was taken in; empty for a part that is no file.
    """
    longest = max(reading.size)
    if allowed.low <= longest <= allowed.high:
        return None
    ratio = longest / (allowed.low if longest < allowed.low else allowed.high)
    fits = [f for f in FACTORS.get(unit, ()) if allowed.low <= longest * f <= allowed.high]
    return Misread(longest, allowed, ratio, fits[0] if fits else None)
