"""How far a plate may be bowed, and what that does to an angle it sets.

A plate on the bench is bowed by what it was rolled with and by the heat of the cut. Out of its plane
that leaves an angle measured *in* the plate alone, but for the chord's shortening, which is second
order; it tilts what stands square on the plate: the finger bars.
"""

from __future__ import annotations

import math

# Flatness of plate as rolled, class N, common steels, over 1 m of length, by thickness up to [mm].
# Source: EN 10029, flatness tolerances; from memory.
ROLLED = ((5.0, 9.0), (8.0, 8.0), (25.0, 7.0), (40.0, 6.0), (math.inf, 5.0))
SHARE = 0.01  # the same over lengths of less than 1 m, of the length [1]; from memory
SHORT = 1000.0  # [mm]


def rolled_bow(thickness: float, length: float) -> float:
    """Bow a plate may be delivered with over a length [mm].

    Args:
        thickness: Nominal [mm].
        length: Of the straightedge [mm].
    """
    limit = next(bow for up_to, bow in ROLLED if thickness < up_to)
    return limit if length >= SHORT else min(limit, SHARE * length)


def end_tilt(bow: float, length: float) -> float:
    """Angle [deg] between the chord and the end of an arc that stands off its chord by `bow`.

    The half angle of the arc is 2 atan(2 f / L); about 4 f / L while flat. Source: circle, derived.

    Args:
        bow: In the middle, f [mm].
        length: Of the chord, L [mm].
    """
    return math.degrees(2.0 * math.atan(2.0 * bow / length))


def bow_of(tilt: float, length: float) -> float:
    """Bow [mm] at which the ends of a chord of `length` [mm] tilt by `tilt` [deg]; `end_tilt` turned round."""
    return length / 2.0 * math.tan(math.radians(tilt) / 2.0)


def shortening(bow: float, length: float) -> float:
    """How much shorter than its arc a chord is, 8 f^2 / (3 L) [mm], while f is small against L.

    Source: length of a flat arc, Machinery's Handbook, circular segments, from memory.

    Args:
        bow: In the middle, f [mm].
        length: Of the chord, L [mm].
    """
    return 8.0 * bow**2 / (3.0 * length)


def in_plane_turn(bow: float, length: float) -> float:
    """Most that a direction in the plate turns when one way is shortened and the other is not [deg].

    A strain e along one axis turns a line at 45 deg to it by e / 2. Source: plane strain, derived.

    Args:
        bow: In the middle [mm].
        length: Of the chord [mm].
    """
    return math.degrees(shortening(bow, length) / length / 2.0)


def caster_from_tilt(tilt: float, reach: float, stand: float) -> float:
    """Caster [deg] when the bars of both finger pairs lean by `tilt` [deg] in opposite ways.

    Each tip moves by reach tan(tilt); the axis between them turns by both over their distance.
    Source: geometry, derived.

    Args:
        tilt: Of the plate under the bars [deg].
        reach: From the plate to the gauge head [mm].
        stand: From gauge head to gauge head along the steering axis [mm].
    """
    return math.degrees(math.atan(2.0 * reach * math.tan(math.radians(tilt)) / stand))


def tilt_for_caster(caster: float, reach: float, stand: float) -> float:
    """Tilt [deg] that turns the caster by so much [deg]; `caster_from_tilt` turned round."""
    return math.degrees(math.atan(stand * math.tan(math.radians(caster)) / (2.0 * reach)))
