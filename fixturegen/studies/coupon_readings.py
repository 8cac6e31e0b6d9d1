"""What a coupon tells about the cutter: pure formulas, from what is measured to what the sheet should say.

How the kerf enters. The torch runs half a kerf beside the line, as far as it was told (`allowed`,
by the controller or by the file), and takes half of its true kerf to each side of its path. So a
window drawn `s` wide opens to

    window = s - allowed + kerf         (each side: - allowed / 2 + kerf / 2)

and the block that falls out of it, cut by the far side of the same pass, is left with

    block = s - allowed - kerf.

Their difference is twice the kerf and their sum twice (s - allowed): window and block together give
the kerf, and the kerf the cut allowed for, whatever the sheet has said since. That is why a reading
given twice gives the same answer twice. With one of the two alone `allowed` must be known; it is
lettered on the coupon (K). All openings come out wider than drawn by the same `window - s`; what a
slot, a saddle or a hole shows is cleared of it, since parts are cut with the corrected kerf.
Source: geometry, derived.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

INCH = 25.4
ROUND = 0.5  # largest less smallest diameter of a hole that is called round [mm] (common practice, no source)
FAR_LOW, FAR_HIGH = 0.5, 1.6  # of the table's spread of kerfs: beyond, it is a misreading [cp]
MISREAD = INCH / 8.0  # a reading farther than this from what is drawn is a misreading [mm] [cp]


@dataclass(frozen=True)
class KerfReading:
    """What window and block tell.

    Attributes:
        kerf: True width of the cut [mm].
        allowed: The kerf the cut allowed for [mm].
    """

    kerf: float
    allowed: float

    @property
    def wide(self) -> float:
        """How much wider than drawn every opening came out [mm]."""
        return self.kerf - self.allowed


def kerf_of_both(drawn: float, window: float, block: float) -> KerfReading:
    """Kerf and what the cut allowed for, from the window and the block that fell out of it.

    Args:
        drawn: Side of the window as drawn [mm].
        window: Measured [mm].
        block: Measured the same way [mm].

    Source: geometry, derived.
    """
    return KerfReading(kerf=(window - block) / 2.0, allowed=drawn - (window + block) / 2.0)


def kerf_of_window(drawn: float, window: float, allowed: float) -> KerfReading:
    """Kerf from the window alone.

    Args:
        drawn: Side of the window as drawn [mm].
        window: Measured [mm].
        allowed: The kerf the cut allowed for [mm].

    Source: geometry, derived.
    """
    return KerfReading(kerf=allowed + window - drawn, allowed=allowed)


def kerf_of_block(drawn: float, block: float, allowed: float) -> KerfReading:
    """Kerf from the block alone.

    Args:
        drawn: Side of the window as drawn [mm].
        block: Measured [mm].
        allowed: The kerf the cut allowed for [mm].

    Source: geometry, derived.
    """
    return KerfReading(kerf=drawn - allowed - block, allowed=allowed)


def room_of(drawn: float, wide: float) -> float:
    """Room on each side of a slot or a saddle that fitted [mm], when cut with the right kerf.

    Args:
        drawn: Room it was drawn with, on each side or on the radius [mm].
        wide: How much wider than drawn openings came out [mm].

    Source: geometry, derived.
    """
    return drawn + wide / 2.0


@dataclass(frozen=True)
class HoleReading:
    """One hole of the coupon.

    Attributes:
        drawn: Diameter [mm].
        across: One or more measured diameters, square to one another [mm].
    """

    drawn: float
    across: tuple[float, ...]

    @property
    def measured(self) -> float:
        """Mean of the diameters measured [mm]."""
        return sum(self.across) / len(self.across)

    def error(self, wide: float) -> float:
        """Measured less drawn, cleared of what the kerf alone does [mm].

        Args:
            wide: How much wider than drawn openings came out [mm].

        Source: geometry, derived.
        """
        return self.measured - self.drawn - wide

    def is_round(self, wide: float, tolerance: float) -> bool:
        """Whether every diameter keeps the class, and all are alike; False when measured one way only.

        Args:
            wide: How much wider than drawn openings came out [mm].
            tolerance: Plus and minus of the class [mm].
        """
        alike = len(self.across) > 1 and max(self.across) - min(self.across) <= ROUND
        return alike and all(abs(d - wide - self.drawn) <= tolerance for d in self.across)


def hole_error(holes: Sequence[HoleReading], wide: float) -> float:
    """Mean error of the holes [mm]: what a cut hole is larger than drawn once the kerf is right.

    Args:
        holes: At least one.
        wide: How much wider than drawn openings came out [mm].

    Source: geometry, derived.
    """
    return sum(h.error(wide) for h in holes) / len(holes)


def smallest_round(holes: Sequence[HoleReading], wide: float, tolerances: Sequence[float]) -> float | None:
    """Drawn diameter of the smallest hole that is round, every larger one being so too [mm].

    Args:
        holes: As measured, in any order.
        wide: How much wider than drawn openings came out [mm].
        tolerances: Plus and minus of the class for each of them [mm].

    Source: iso-9013, limit deviations; out of round by common practice, no source.
    """
    found = None
    for hole, tolerance in sorted(zip(holes, tolerances, strict=True), key=lambda h: -h[0].drawn):
        if not hole.is_round(wide, tolerance):
            break
        found = hole.drawn
    return found


def bend_deduction(flange_a: float, flange_b: float, flat: float) -> float:
    """What a bend takes off the sum of both outside flanges [mm].

    Args:
        flange_a: Outside, from the end to the corner of the outside faces [mm].
        flange_b: The other [mm].
        flat: Length of the strip before it was bent [mm].

    Source: machinerys-31, length of bends: flat length = outside flanges - deduction.
    """
    return flange_a + flange_b - flat


def believable_kerf(lowest: float, highest: float) -> tuple[float, float]:
    """Smallest and largest kerf that is no misreading [mm].

    Args:
        lowest: Of the table's spread [mm].
        highest: Of the table's spread [mm].
    """
    return FAR_LOW * lowest, FAR_HIGH * highest
