"""Numbers of the keepers: why a clock plate turned round is refused by the steel.

A keeper hangs on the tie's end and carries two pins into the clock plate. Mirrored, a plate offers
the same tie holes but other pin holes. Two things keep a keeper from following it:

- its pins stand on both sides of the radius at different distances from the tie, so that no turn of
  the keeper about the tie brings both into holes of a mirrored plate (straight inward the second pin
  would find the next hole of the row);
- the tie's end has a third, deeper flat at 45 deg beside its two radial ones, so that a keeper turned
  over, or the other side's keeper, does not go on.
"""

from __future__ import annotations

import math

from fixturegen.studies.jig_records import INCH, KEEPER_OFFSET, KEEPER_PIN, TiePlan, row_point

SECOND_PIN = 5.0 / 16.0 * INCH  # second pin of a keeper [mm]
SECOND_HOLE = SECOND_PIN + 3.0
SECOND_AWAY = 52.0 / math.sqrt(2.0)  # second pin from the tie, rearward and inward alike [mm]
THIRD_FLAT = 45.0  # third flat of the tie's ends, from up toward the front [deg]
THIRD_DEPTH = 4.0  # taken off there [mm]
BEYOND = 90.0  # tie beyond a clock plate's outboard face [mm]
INTO = 3.0  # third flat reaches this far into the plate, so that the keeper sits close [mm]


def local_pins() -> tuple[tuple[float, float, float], ...]:
    """Pins of a keeper: (forward, up from the tie, diameter) with the tie straight above the bar [mm]."""
    return ((KEEPER_OFFSET, -KEEPER_OFFSET, KEEPER_PIN), (-SECOND_AWAY, -SECOND_AWAY, SECOND_PIN))


def second_hole(radius: float, angle: float) -> tuple[float, float]:
    """(x, z) of the second keeper hole of a row hole [mm].

    Args:
        radius: Of the tie [mm].
        angle: Clock angle of the row hole [deg].
    """
    a = math.radians(angle)
    x, z = row_point(radius - SECOND_AWAY, angle)
    return x - SECOND_AWAY * math.cos(a), z + SECOND_AWAY * math.sin(a)


def tie_flats(tie: TiePlan) -> tuple[tuple[float, float], ...]:
    """Flats of the tie's ends: (direction from up toward the front [deg], distance from its axis [mm])."""
    half = tie.diameter / 2.0
    return (
        (0.0, half - tie.flat_depth),
        (THIRD_FLAT, half - THIRD_DEPTH),
        (180.0, half - tie.flat_depth),
    )


def flat_half_angle(distance: float, radius: float) -> float:
    """Half the angle a flat takes of a round bar [deg]."""
    return math.degrees(math.acos(distance / radius))
