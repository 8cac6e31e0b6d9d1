"""Loads of a bolt; floats or arrays in and out."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fixturegen.calc._numbers import Numbers

SHEAR_SHARE = 0.6
"""Shear strength over tensile strength; common practice, no source."""

CLAMP_SHARE = 0.75
"""Clamp load over proof load of a bolt that may be taken out again; common practice, from memory."""


def stress_area_inch(diameter: Numbers, threads_per_inch: Numbers) -> Numbers:
    """Tensile stress area of an inch thread [mm^2].

    Args:
        diameter: Major [mm].
        threads_per_inch: Of the thread [1].

    Source: asme-b1.1, 0.7854 (D - 0.9743 / n)^2.
    """
    return 0.7854 * (diameter - 0.9743 * 25.4 / threads_per_inch) ** 2


def stress_area_metric(diameter: Numbers, pitch: Numbers) -> Numbers:
    """Tensile stress area of a metric thread [mm^2].

    Args:
        diameter: Major [mm].
        pitch: Of the thread [mm].

    Source: iso-898-1, (pi / 4)(d - 0.9382 P)^2.
    """
    return math.pi / 4 * (diameter - 0.9382 * pitch) ** 2


def shank_area(diameter: Numbers) -> Numbers:
    """Area of a round shank [mm^2].

    Args:
        diameter: Of the shank [mm].

    Source: geometry, circle.
    """
    return math.pi / 4 * diameter**2


def bolt_shear(area: Numbers, tensile: Numbers, planes: Numbers = 1) -> Numbers:
    """Load at which a bolt shears [N]; no factor is in it.

    Args:
        area: Of the bolt in the plane: of the shank, or the stress area where thread lies in it [mm^2].
        tensile: Strength of the bolt [MPa].
        planes: That must shear, 1 or 2 [1].

    Source: practice, 0.6 of the tensile strength.
    """
    return SHEAR_SHARE * tensile * area * planes


def pin_moment(load: Numbers, outer: Numbers, inner: Numbers, gap: Numbers) -> Numbers:
    """Largest bending moment in a bolt that stands free between two outer plates [N*mm].

    The load is taken as even over each plate and over the joint between them. A bolt that clamps
    the joint tight between its tabs bends less; one in a loose bracket bends as much.

    Args:
        load: On the joint, both shear planes together [N].
        outer: Thickness of each outer plate [mm].
        inner: Width of the joint between them [mm].
        gap: Between joint and plate, each side [mm].

    Source: pin-bending, M = P / 2 (t1 / 2 + t2 / 4 + gap).
    """
    return load / 2 * (outer / 2 + inner / 4 + gap)


def cantilever_moment(load: Numbers, plate: Numbers, joint: Numbers, gap: Numbers) -> Numbers:
    """Bending moment in a bolt held on one side only (single shear) [N*mm].

    Args:
        load: On the joint [N].
        plate: Thickness of the one plate [mm].
        joint: Width of the joint [mm].
        gap: Between joint and plate [mm].

    Source: geometry, arm between the middles of plate and joint.
    """
    return load * (plate / 2 + joint / 2 + gap)


def pin_stress(moment: Numbers, diameter: Numbers) -> Numbers:
    """Elastic bending stress in a round bolt [MPa].

    Args:
        moment: In the bolt [N*mm].
        diameter: Of the shank, or of the root where thread lies there [mm].

    Source: geometry, 32 M / (pi d^3).
    """
    return 32 * moment / (math.pi * diameter**3)
