"""Bend rules that more than one topic uses."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from fixturegen.findings import Trust
from fixturegen.sources import cite

Rule = Literal["handbook", "din", "k-factor"]
Material = Literal["soft-brass", "soft-steel-aluminium", "spring-steel"]

THICKNESS_FACTOR = {"soft-brass": 0.55, "soft-steel-aluminium": 0.64, "spring-steel": 0.71}
"""Share of the thickness in the length of a 90 deg bend (Machinery's Handbook)."""

RADIUS_FACTOR = 1.57
"""Share of the inside radius, as the handbook rounds pi / 2."""

SHARPEST_DIN = 0.65
"""Inside radius over thickness from which the rule of DIN 6935 is stated (from memory)."""

SQUARE = 90.0
"""deg; up to here sizes run to the corner of the outside faces, beyond it to the tangent."""


@dataclass(frozen=True)
class Rules:
    """How lengths of bends are worked out.

    Attributes:
        rule: Which rule.
        material: For the handbook's rule.
        k_factor: For the rule of that name: depth of the neutral line over thickness.
    """

    rule: Rule
    material: Material
    k_factor: float

    @property
    def unused(self) -> tuple[str, ...]:
        """Options that the rule does not look at."""
        used = {"handbook": "material", "k-factor": "k-factor"}.get(self.rule)
        return tuple(name for name in ("material", "k-factor") if name != used)

    @property
    def formula(self) -> str:
        """The rule in one line."""
        if self.rule == "handbook":
            factor = THICKNESS_FACTOR[self.material]
            return f"allowance = ({factor} thickness + {RADIUS_FACTOR} radius) x angle / 90 deg"
        if self.rule == "din":
            return (
                "allowance = (radius + k thickness / 2) x angle in radians, "
                "k = 0.65 + 0.5 log10(radius / thickness), at most 1"
            )
        return "allowance = (radius + k-factor x thickness) x angle in radians"

    @property
    def source(self) -> str:
        """Where the rule comes from."""
        return {
            "handbook": cite("machinerys-31", "length of bends, p. 1421"),
            "din": cite("din-6935"),
            "k-factor": cite("geometry", "arc at the depth of the neutral line"),
        }[self.rule]

    @property
    def trust(self) -> Trust:
        """How far to trust the rule; a measured bend is better than any of them."""
        return Trust.MEMORY if self.rule == "din" else Trust.DERIVED

    def allowance(self, thickness: float, radius: float, angle: float) -> float:
        """Length of flat plate that goes into one bend [mm].

        Args:
            thickness: Of the plate [mm].
            radius: Inside radius of the bend [mm].
            angle: Turned through [deg].
        """
        turn = math.radians(angle)
        if self.rule == "handbook":
            square = THICKNESS_FACTOR[self.material] * thickness + RADIUS_FACTOR * radius
            return square * angle / SQUARE
        if self.rule == "din":
            return (radius + din_k(radius / thickness) * thickness / 2) * turn
        return (radius + self.k_factor * thickness) * turn

    def warnings(self, sharpest: float) -> tuple[str, ...]:
        """What to know besides.

        Args:
            sharpest: Smallest inside radius over thickness there is.
        """
        said = ["a bend measured on a coupon of the same plate and tooling is better than any rule"]
        if self.rule == "din" and sharpest < SHARPEST_DIN:
            said.append(
                f"the rule is stated for an inside radius of {SHARPEST_DIN} thickness and more: "
                "this bend is sharper, so trust only a coupon"
            )
        return tuple(said)


def din_k(ratio: float) -> float:
    """Correction k of DIN 6935, twice the K factor; never under 0 nor over 1.

    Args:
        ratio: Inside radius over thickness.
    """
    return min(1.0, max(0.0, 0.65 + 0.5 * math.log10(ratio))) if ratio > 0 else 0.0


def setback(thickness: float, radius: float, angle: float) -> float:
    """Both sides of the corner that outside sizes count twice or beyond the plate [mm].

    Args:
        thickness: Of the plate [mm].
        radius: Inside radius of the bend [mm].
        angle: Turned through [deg].
    """
    half = math.radians(min(angle, SQUARE)) / 2
    return 2 * (radius + thickness) * math.tan(half)
