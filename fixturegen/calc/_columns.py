"""Columns and beams of round tube; floats or arrays in and out."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fixturegen.calc._numbers import Numbers

STEEL_MODULUS = 29_000 * 6.894757293168
"""MPa; 29 000 ksi, as AISC 360 takes it for steel."""

END_FACTORS = {"pinned": 1.0, "fixed": 0.65, "fixed-pinned": 0.8, "free": 2.1}
"""Effective length over length, as recommended for ends that are never ideal (AISC 360, commentary
to appendix 7; from memory). A link with a joint at each end is pinned."""


def tube_area(diameter: Numbers, wall: Numbers) -> Numbers:
    """Area of a ring section [mm^2].

    Args:
        diameter: Outside [mm].
        wall: Thickness [mm].

    Source: geometry, ring.
    """
    return math.pi * (diameter - wall) * wall


def tube_second_moment(diameter: Numbers, wall: Numbers) -> Numbers:
    """Second moment of a ring section [mm^4].

    Args:
        diameter: Outside [mm].
        wall: Thickness [mm].

    Source: geometry, ring.
    """
    return math.pi / 64 * (diameter**4 - (diameter - 2 * wall) ** 4)


def slenderness_where_they_meet(yield_strength: Numbers, modulus: Numbers = STEEL_MODULUS) -> Numbers:
    """Slenderness at which the formulas of Euler and Johnson meet [1].

    Args:
        yield_strength: Of the column [MPa].
        modulus: Of elasticity [MPa].

    Source: column-formulas, stress is half the yield strength there.
    """
    meet: Numbers = (2 * math.pi**2 * modulus / yield_strength) ** 0.5
    return meet


def euler_stress(slenderness: Numbers, modulus: Numbers = STEEL_MODULUS) -> Numbers:
    """Stress at which a slender column buckles [MPa].

    Args:
        slenderness: Effective length over radius of gyration [1].
        modulus: Of elasticity [MPa].

    Source: column-formulas, Euler.
    """
    return math.pi**2 * modulus / slenderness**2


def johnson_stress(slenderness: Numbers, yield_strength: Numbers, modulus: Numbers = STEEL_MODULUS) -> Numbers:
    """Stress at which a short column buckles [MPa].

    Args:
        slenderness: Effective length over radius of gyration [1].
        yield_strength: Of the column [MPa].
        modulus: Of elasticity [MPa].

    Source: column-formulas, Johnson.
    """
    return yield_strength - (yield_strength * slenderness / (2 * math.pi)) ** 2 / modulus


def critical_stress(slenderness: Numbers, yield_strength: Numbers, modulus: Numbers = STEEL_MODULUS) -> Numbers:
    """Stress at which a straight column buckles: Johnson where it is short, Euler where slender [MPa].

    Args:
        slenderness: Effective length over radius of gyration [1].
        yield_strength: Of the column [MPa].
        modulus: Of elasticity [MPa].

    Source: column-formulas, Euler and Johnson.
    """
    import numpy as np

    # beyond the meeting Johnson runs below zero and Euler is finite; before it Euler may be infinite
    meet = slenderness_where_they_meet(yield_strength, modulus)
    stress: Numbers = np.where(
        np.less(slenderness, meet),
        johnson_stress(slenderness, yield_strength, modulus),
        euler_stress(np.maximum(slenderness, meet), modulus),
    )[()]
    return stress


def tube_slenderness(diameter: Numbers, wall: Numbers, length: Numbers, end_factor: Numbers = 1.0) -> Numbers:
    """Effective length of a tube over its radius of gyration [1].

    Args:
        diameter: Outside [mm].
        wall: Thickness [mm].
        length: Between the ends [mm].
        end_factor: Effective length over length [1].

    Source: column-formulas, slenderness.
    """
    gyration = (tube_second_moment(diameter, wall) / tube_area(diameter, wall)) ** 0.5
    slender: Numbers = end_factor * length / gyration
    return slender


def tube_critical_load(
    diameter: Numbers,
    wall: Numbers,
    length: Numbers,
    yield_strength: Numbers,
    end_factor: Numbers = 1.0,
    modulus: Numbers = STEEL_MODULUS,
) -> Numbers:
    """Load at which a straight tube buckles [N]; no factor is in it.

    Args:
        diameter: Outside [mm].
        wall: Thickness [mm].
        length: Between the ends [mm].
        yield_strength: Of the tube [MPa].
        end_factor: Effective length over length [1].
        modulus: Of elasticity [MPa].

    Source: column-formulas, Euler and Johnson.
    """
    slender = tube_slenderness(diameter, wall, length, end_factor)
    return tube_area(diameter, wall) * critical_stress(slender, yield_strength, modulus)


def overhang_moment(load: Numbers, overhang: Numbers) -> Numbers:
    """Moment between the supports of a beam with an equal load beyond each [N*mm].

    Args:
        load: At each end [N].
        overhang: From support to load [mm].

    Source: machinerys-27, p. 264, W a.
    """
    return load * overhang


def overhang_slope_rad(load: Numbers, overhang: Numbers, spacing: Numbers, stiffness: Numbers) -> Numbers:
    """Slope at each end of a beam with an equal load beyond each support [rad].

    Args:
        load: At each end [N].
        overhang: From support to load [mm].
        spacing: Between the supports [mm].
        stiffness: Modulus times second moment [N*mm^2].

    Source: machinerys-27, p. 264, W a (L + a) / (2 E I).
    """
    return load * overhang * (spacing + overhang) / (2 * stiffness)


def overhang_deflection(load: Numbers, overhang: Numbers, spacing: Numbers, stiffness: Numbers) -> Numbers:
    """How far each loaded end moves against the supports [mm].

    Args:
        load: At each end [N].
        overhang: From support to load [mm].
        spacing: Between the supports [mm].
        stiffness: Modulus times second moment [N*mm^2].

    Source: machinerys-27, p. 264, W a^2 (2 a + 3 L) / (6 E I).
    """
    return load * overhang**2 * (2 * overhang + 3 * spacing) / (6 * stiffness)
