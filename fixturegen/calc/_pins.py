"""Strength of a plate around a pin or a bolt; floats or arrays in and out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fixturegen.calc._numbers import Numbers

AISC_ADDED = 0.63 * 25.4
"""mm; effective width is 2 t + 0.63 in (AISC 360 D5.1)."""

AISC_SAFETY = {"tension": 2.0, "shear": 2.0, "bearing": 2.0, "yielding": 1.67}
"""Safety factors of allowable strength design (AISC 360 D5.1, J7, D2)."""

BTH_FRACTURE = 1.20
"""Factor on the design factor for fracture (ASME BTH-1 3-3.3)."""


@dataclass(frozen=True)
class AiscPlate:
    """Nominal strengths of a plate with a pin by AISC 360.

    Attributes:
        effective_width: On each side of the hole [mm].
        tension: Rupture beside the hole [N].
        shear: Rupture beyond the hole, along two planes [N].
        bearing: Yield under the pin [N].
        yielding: Yield of the whole section away from the hole [N].
    """

    effective_width: Numbers
    tension: Numbers
    shear: Numbers
    bearing: Numbers
    yielding: Numbers


@dataclass(frozen=True)
class BthPlate:
    """Allowable loads of a plate with a pin by ASME BTH-1.

    Attributes:
        effective_width: On each side of the hole [mm].
        shear_area: Of the two planes beyond the pin [mm^2].
        tension: Rupture beside the hole [N].
        splitting: Fracture along one plane beyond the hole [N].
        shear: Rupture along two planes beyond the pin [N].
        bearing: Under the pin [N].
    """

    effective_width: Numbers
    shear_area: Numbers
    tension: Numbers
    splitting: Numbers
    shear: Numbers
    bearing: Numbers


def aisc_plate(
    thickness: Numbers,
    width: Numbers,
    hole: Numbers,
    pin: Numbers,
    edge: Numbers,
    yield_strength: Numbers,
    tensile: Numbers,
) -> AiscPlate:
    """Nominal strengths of a pin-connected plate; no factor is in them.

    Args:
        thickness: Of the plate [mm].
        width: Of the plate across the load [mm].
        hole: Diameter of the hole [mm].
        pin: Diameter of the pin [mm].
        edge: From the edge of the hole to the end of the plate, along the load [mm].
        yield_strength: Of the plate [MPa].
        tensile: Strength of the plate [MPa].

    Source: aisc-360, D5.1 and J7.
    """
    import numpy as np

    effective = np.minimum(2 * thickness + AISC_ADDED, (width - hole) / 2)
    return AiscPlate(
        effective_width=effective,
        tension=tensile * 2 * thickness * effective,
        shear=0.6 * tensile * 2 * thickness * (edge + pin / 2),
        bearing=1.8 * yield_strength * pin * thickness,
        yielding=yield_strength * width * thickness,
    )


def bth_plate(
    thickness: Numbers,
    width: Numbers,
    hole: Numbers,
    pin: Numbers,
    edge: Numbers,
    yield_strength: Numbers,
    tensile: Numbers,
    design_factor: Numbers,
    end_radius: Numbers = math.inf,
) -> BthPlate:
    """Allowable loads of a pinned plate, the design factor in them.

    Args:
        thickness: Of the plate [mm].
        width: Of the plate across the load [mm].
        hole: Diameter of the hole [mm].
        pin: Diameter of the pin [mm].
        edge: From the edge of the hole to the end of the plate, along the load [mm].
        yield_strength: Of the plate [MPa].
        tensile: Strength of the plate [MPa].
        design_factor: Of the device's design category [1].
        end_radius: Of the plate's round end; infinite when it is straight [mm].

    Source: asme-bth-1, 3-3.3, with the shorter shear planes of a round end of its commentary.
    """
    import numpy as np

    beside = (width - hole) / 2
    loose = 1 - 0.275 * np.sqrt(np.maximum(0.0, 1 - (pin / hole) ** 2))
    effective = np.minimum(
        np.minimum(4 * thickness, beside), beside * 0.6 * tensile / yield_strength * (hole / beside) ** 0.5
    )
    angle = np.radians(55 * pin / hole)
    area = (
        2 * thickness * (edge + pin / 2 * (1 - np.cos(angle)) - lost_at_round_end(pin / 2 * np.sin(angle), end_radius))
    )
    fracture = tensile / (BTH_FRACTURE * design_factor)
    return BthPlate(
        effective_width=effective,
        shear_area=area,
        tension=loose * fracture * 2 * thickness * effective,
        splitting=loose * fracture * thickness * (1.13 * edge + 0.92 * beside / (1 + beside / hole)),
        shear=0.70 * fracture * area,
        bearing=1.25 * yield_strength / design_factor * pin * thickness,
    )


def lost_at_round_end(beside: Numbers, radius: Numbers) -> Numbers:
    """What a plane beside the centreline is shorter at a round end than at a straight one [mm].

    Args:
        beside: Distance of the plane from the centreline [mm].
        radius: Of the end; infinite when it is straight [mm].

    Source: geometry, rise of an arc.
    """
    import numpy as np

    # rise without the difference of two large numbers, which an infinite radius would make of it
    curve = 1 / np.asarray(radius, dtype=float)
    rise: Numbers = beside**2 * curve / (1 + np.sqrt(1 - (beside * curve) ** 2))
    return rise


def tear_out(clear: Numbers, thickness: Numbers, tensile: Numbers) -> Numbers:
    """Nominal load at which a bolt tears out to the edge [N]; no factor is in it.

    Args:
        clear: From the edge of the hole to the edge of the plate or of the next hole, along the load [mm].
        thickness: Of the plate [mm].
        tensile: Strength of the plate [MPa].

    Source: aisc-360, J3.10, deformation at the hole counts.
    """
    return 1.2 * clear * thickness * tensile


def bolt_bearing(clear: Numbers, bolt: Numbers, thickness: Numbers, tensile: Numbers) -> Numbers:
    """Nominal load of one bolt on a plate: bearing or tear-out, the smaller [N]; no factor is in it.

    Args:
        clear: From the edge of the hole to the edge of the plate or of the next hole, along the load [mm].
        bolt: Diameter [mm].
        thickness: Of the plate [mm].
        tensile: Strength of the plate [MPa].

    Source: aisc-360, J3.10, min(1.2 lc t Fu, 2.4 d t Fu).
    """
    import numpy as np

    load: Numbers = np.minimum(tear_out(clear, thickness, tensile), 2.4 * bolt * thickness * tensile)
    return load


def net_section(width: Numbers, hole: Numbers, thickness: Numbers, tensile: Numbers) -> Numbers:
    """Nominal load at which a plate parts beside its hole [N]; no factor is in it.

    Args:
        width: Of the plate across the load [mm].
        hole: Diameter of the hole [mm].
        thickness: Of the plate [mm].
        tensile: Strength of the plate [MPa].

    Source: aisc-360, D2, rupture of the net section.
    """
    return tensile * (width - hole) * thickness


def bent_tab(load: Numbers, height: Numbers, width: Numbers, thickness: Numbers) -> Numbers:
    """Bending stress at the root of a tab pushed sideways and held by nothing else [MPa].

    Args:
        load: On the tab, square to its face [N].
        height: From the root to the load [mm].
        width: Of the root [mm].
        thickness: Of the plate [mm].

    Source: geometry, cantilever of rectangular section, 6 F h / (w t^2).
    """
    return 6 * load * height / (width * thickness**2)
