"""Length of a bend."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer
from fixturegen.calc._bends import SQUARE, Material, Rule, Rules, setback
from fixturegen.units import Angle, Length, Plain


@dataclass(frozen=True, kw_only=True)
class Bend(Answer):
    """Flat length of the bend, and what the flat is shorter than the outside sizes."""

    allowance: Annotated[float, Length("0 in", "200 in")]
    deduction: Annotated[float, Length("-200 in", "200 in")]


def bend(
    rule: Rule,
    thickness: Annotated[float, Length("0.01 in", "2 in")],
    radius: Annotated[float, Length("0 in", "24 in")],
    angle: Annotated[float, Angle("1 deg", "180 deg")],
    material: Material = "soft-steel-aluminium",
    k_factor: Annotated[float, Plain("0.1", "0.6")] = 0.41,
) -> Bend:
    """Length of flat plate in a bend, and what to take off the sum of the outside sizes.

    Up to 90 deg outside sizes run to the corner where the outside faces meet. Beyond 90 deg they
    run to the outermost point of the bend, and the deduction may be negative: it is then added.

    Args:
        rule: Handbook, din or k-factor.
        thickness: Of the plate, measured [mm].
        radius: Inside radius of the bend, measured on a bent piece [mm].
        angle: The plate is turned through, a flat plate being 0 and a square corner 90 [deg].
        material: For the handbook's rule only.
        k_factor: For the k-factor rule only: depth of the neutral line from the inside, over
            thickness; 0.41 is what the handbook's 0.64 for soft steel comes to.

    Returns:
        Allowance, the length of flat plate inside the bend, and deduction, the sum of the two
        outside sizes less the flat length [mm].

    Formula: handbook: allowance = (f thickness + 1.57 radius) x angle / 90 deg, f = 0.55 soft
        brass, 0.64 soft steel and aluminium, 0.71 spring steel; din: allowance = (radius + k
        thickness / 2) x angle in radians, k = 0.65 + 0.5 log10(radius / thickness), at most 1;
        k-factor: allowance = (radius + k-factor x thickness) x angle in radians; deduction = 2
        (radius + thickness) x tan(angle / 2) - allowance, the tangent never over 1.
    Holds: for cold bends across the grain; din from a radius of 0.65 thickness.
    Source: machinerys-31, length of bends, p. 1421; din-6935, developed length; geometry, arc at
        the depth of the neutral line.
    Example: --rule handbook --thickness "1/8 in" --radius "3/8 in" --angle "90 deg"
        --material soft-steel-aluminium --k-factor 0.41
    """
    rules = Rules(rule, material, k_factor)
    allowance = rules.allowance(thickness, radius, angle)
    warnings = rules.warnings(radius / thickness)
    if angle > SQUARE:
        warnings = (*warnings, "beyond 90 deg: take the outside sizes to the outermost point of the bend")
    return Bend(
        allowance=allowance,
        deduction=setback(thickness, radius, angle) - allowance,
        formula=(
            f"{rules.formula}; deduction = 2 (radius + thickness) x tan(angle / 2) - allowance, "
            "the tangent never over 1"
        ),
        source=rules.source,
        trust=rules.trust,
        warnings=warnings,
        unused=rules.unused,
    )
