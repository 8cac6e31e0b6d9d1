"""What the dial says about a tube end: eccentricity from four readings all round."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from fixturegen.axle.model import Side
from fixturegen.sheet.specs import Sheet

INCH = 25.4
WARN_ABOVE = 0.010 * INCH  # build target for a housing end, radial [mm]; common practice, no source
FAIL_ABOVE = 0.030 * INCH  # reject: straighten first [mm]; common practice, no source


@dataclass(frozen=True)
class Eccentricity:
    """Where a tube end stands from the bar.

    Attributes:
        x: Tube ahead of the bar [mm].
        z: Tube above the bar [mm].
        uncertainty: Worst case of x and of z [mm].
        residual: What the four readings disagree by once x and z are taken out [mm]: an oval tube
            end, or a reading gone wrong.
    """

    x: float
    z: float
    uncertainty: float
    residual: float

    @property
    def size(self) -> float:
        """Distance of the tube's middle from the bar's [mm]."""
        return math.hypot(self.x, self.z)


def eccentricity(gaps: Sequence[float], uncertainty: float) -> Eccentricity:
    """Place of a tube end from the radial gap bar to tube.

    The gap is large where the tube has moved away from the bar: a tube that stands high has the
    larger gap on top. So z = (up - down) / 2 and x = (forward - rearward) / 2. The two pairs have
    the same mean on a round tube; half of what they differ by is the residual.

    Args:
        gaps: Radial gap at 0 (up), 90 (forward), 180 and 270 deg [mm], shape (4,); any common zero.
        uncertainty: Of one reading [mm].

    Source: derived; first harmonic of four equally spaced readings.
    """
    up, forward, down, rearward = (float(g) for g in gaps)
    return Eccentricity(
        x=(forward - rearward) / 2.0,
        z=(up - down) / 2.0,
        uncertainty=uncertainty,
        residual=abs(up + down - forward - rearward) / 4.0,
    )


def eccentricity_of(sheet: Sheet, side: Side) -> Eccentricity:
    """Place of a sheet's tube end on one side."""
    gaps = sheet.readings.left if side == "left" else sheet.readings.right
    return eccentricity(gaps, float(sheet.readings.uncertainty))
