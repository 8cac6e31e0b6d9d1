"""How much flat plate a bend takes up: by a rule, or as measured on a strip bent on this brake."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from fixturegen.calc._bends import Material, Rules, setback
from fixturegen.findings import Trust
from fixturegen.sources import cite

Kind = Literal["handbook", "din", "k-factor", "measured"]

SAME_ANGLE = 0.5  # [deg] a strip bent to within this counts as bent to the same angle: an angle finder reads no finer
SAME_RADIUS = 0.4  # [mm] radius gauges go in steps of 1/64 in: the next one is another radius
NAMES = {"handbook": "handbook, soft steel", "din": "DIN 6935", "k-factor": "K factor"}


@dataclass(frozen=True)
class BendTested:
    """One strip bent and measured.

    Attributes:
        thickness: Measured, of the strip [mm].
        radius: Inside radius [mm].
        angle: Turned through [deg].
        deduction: Both outside flanges added, less the flat length [mm].
    """

    thickness: float
    radius: float
    angle: float
    deduction: float

    @property
    def k_factor(self) -> float:
        """Depth of the neutral line over thickness that the strip shows.

        Source: geometry, arc at the depth of the neutral line; derived.
        """
        allowance = setback(self.thickness, self.radius, self.angle) - self.deduction
        return (allowance / math.radians(self.angle) - self.radius) / self.thickness


@dataclass(frozen=True)
class BendRule:
    """A rule for the flat length of bends.

    Attributes:
        kind: Which rule; measured needs `test`.
        k_factor: For the rule of that name.
        material: For the handbook's rule.
        test: The strip a measured rule rests on.
    """

    kind: Kind = "handbook"
    k_factor: float = 0.42
    material: Material = "soft-steel-aluminium"
    test: BendTested | None = None

    def allowance(self, thickness: float, radius: float, angle: float) -> float:
        """Flat length of one bend [mm].

        A measured strip gives back its own deduction at its own angle; at another angle its neutral
        line is taken to lie as deep, so that the length goes with the angle.

        Args:
            thickness: Of the plate [mm].
            radius: Inside radius [mm].
            angle: Turned through [deg].

        Source: machinerys-31, length of bends, p. 1421; din-6935; geometry, arc at the depth of the
        neutral line.
        """
        if self.test is not None:
            return (radius + self.test.k_factor * thickness) * math.radians(angle)
        return self._rules.allowance(thickness, radius, angle)

    def deduction(self, thickness: float, radius: float, angle: float) -> float:
        """Both outside sizes added, less the flat length [mm]; beyond 90 deg to the outermost points.

        Args:
            thickness: Of the plate [mm].
            radius: Inside radius [mm].
            angle: Turned through [deg].
        """
        return setback(thickness, radius, angle) - self.allowance(thickness, radius, angle)

    def is_measured(self, angle: float) -> bool:
        """Whether a strip was bent at this angle [deg]."""
        return self.test is not None and abs(self.test.angle - angle) <= SAME_ANGLE

    def trust(self, angle: float) -> Trust:
        """How far to trust a length at this angle [deg]."""
        if self.test is None:
            return self._rules.trust
        return Trust.MEASURED if self.is_measured(angle) else Trust.DERIVED

    def source(self, angle: float) -> str:
        """Where a length at this angle [deg] comes from."""
        if self.test is None:
            return self._rules.source
        if self.is_measured(angle):
            return "strip bent on this brake and measured"
        return cite("geometry", f"neutral line of a strip measured at {self.test.angle:g} deg")

    def words(self, angle: float) -> str:
        """The rule in a few words, for the table of bends, at this angle [deg]."""
        if self.test is None:
            return f"K factor {self.k_factor:g}" if self.kind == "k-factor" else NAMES[self.kind]
        if self.is_measured(angle):
            return "measured on a strip"
        return f"strip measured at {self.test.angle:g} deg, in proportion to the angle"

    @property
    def _rules(self) -> Rules:
        return Rules("handbook" if self.kind == "measured" else self.kind, self.material, self.k_factor)


def measured_rule(thickness: float, radius: float, angle: float, deduction: float) -> BendRule:
    """The rule a bent and measured strip gives.

    Args:
        thickness: Measured, of the strip [mm].
        radius: Inside radius [mm].
        angle: Turned through [deg].
        deduction: Both outside flanges added, less the flat length [mm].
    """
    return BendRule("measured", test=BendTested(thickness, radius, angle, deduction))


def best_rule(rule: BendRule, tests: Iterable[BendTested], radius: float, angle: float) -> BendRule:
    """The strip of this radius bent nearest to this angle, else the rule.

    Args:
        rule: What holds without a strip.
        tests: Strips of this plate; of equals the first is taken.
        radius: Inside radius [mm]; strips of another one say nothing.
        angle: Turned through [deg].
    """
    fitting = [t for t in tests if abs(t.radius - radius) <= SAME_RADIUS]
    if not fitting:
        return rule
    return BendRule("measured", test=min(fitting, key=lambda t: abs(t.angle - angle)))
