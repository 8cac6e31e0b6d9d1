"""How much flat plate a bend takes up: by a rule, or as measured on a strip bent on this brake."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fixturegen.calc._bends import Material, Rule, Rules, setback
from fixturegen.findings import Trust
from fixturegen.sheet.contradictions.shop import SAME_PLATE
from fixturegen.sheet.specs import Brake, Plate
from fixturegen.sources import cite

DIE_PER_THICKNESS = 8.0  # opening of the lower die, in thicknesses (common practice, no source)
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
    """How flat lengths of bends are worked out; a strip bent and measured wins over the rule.

    Attributes:
        kind: The rule where no strip speaks.
        k_factor: For the rule of that name.
        material: For the handbook's rule.
        tests: Strips of the same plate; one speaks for bends of its own inside radius.
    """

    kind: Rule = "handbook"
    k_factor: float = 0.42
    material: Material = "soft-steel-aluminium"
    tests: tuple[BendTested, ...] = ()

    def test(self, radius: float, angle: float) -> BendTested | None:
        """The strip of this radius [mm] bent nearest to this angle [deg]; of equals the first."""
        fitting = [t for t in self.tests if abs(t.radius - radius) <= SAME_RADIUS]
        return min(fitting, key=lambda t: abs(t.angle - angle)) if fitting else None

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
        test = self.test(radius, angle)
        if test is not None:
            # the strip's own radius settles its deduction; that of the drawing may be rounded
            shown = (test.radius + test.k_factor * thickness) * math.radians(angle)
            return shown + setback(thickness, radius, angle) - setback(thickness, test.radius, angle)
        return self._rules.allowance(thickness, radius, angle)

    def deduction(self, thickness: float, radius: float, angle: float) -> float:
        """Both outside sizes added, less the flat length [mm]; beyond 90 deg to the outermost points.

        Args:
            thickness: Of the plate [mm].
            radius: Inside radius [mm].
            angle: Turned through [deg].
        """
        return setback(thickness, radius, angle) - self.allowance(thickness, radius, angle)

    def is_measured(self, radius: float, angle: float) -> bool:
        """Whether a strip of this radius [mm] was bent to this angle [deg]."""
        test = self.test(radius, angle)
        return test is not None and abs(test.angle - angle) <= SAME_ANGLE

    def trust(self, radius: float, angle: float) -> Trust:
        """How far to trust a length at this radius [mm] and angle [deg]."""
        if self.test(radius, angle) is None:
            return self._rules.trust
        return Trust.MEASURED if self.is_measured(radius, angle) else Trust.DERIVED

    def source(self, radius: float, angle: float) -> str:
        """Where a length at this radius [mm] and angle [deg] comes from."""
        test = self.test(radius, angle)
        if test is None:
            return self._rules.source
        if self.is_measured(radius, angle):
            return "strip bent on this brake and measured"
        return cite("geometry", f"neutral line of a strip measured at {test.angle:g} deg")

    def words(self, radius: float, angle: float) -> str:
        """The rule in a few words, for the table of bends, at this radius [mm] and angle [deg]."""
        test = self.test(radius, angle)
        if test is None:
            return f"K factor {self.k_factor:g}" if self.kind == "k-factor" else NAMES[self.kind]
        if self.is_measured(radius, angle):
            return "measured on a strip"
        return f"strip measured at {test.angle:g} deg, in proportion to the angle"

    @property
    def _rules(self) -> Rules:
        return Rules(self.kind, self.material, self.k_factor)


def rule_for(brake: Brake, plate: Plate) -> BendRule:
    """The rule of the sheet's brake for a plate of its rack, with the strips of that plate.

    Args:
        brake: Of the sheet.
        plate: Of the sheet's rack.
    """
    tests = tuple(
        BendTested(float(plate.measured), float(t.inside_radius), float(t.angle), float(t.deduction))
        for t in brake.tests
        if abs(t.plate - plate.nominal) < SAME_PLATE
    )
    return BendRule(brake.rule, float(brake.k_factor), tests=tests)


def radius_for(brake: Brake, nominal: float) -> float:
    """Inside radius on this brake [mm]: the sheet's, or one thickness.

    Args:
        brake: Of the sheet.
        nominal: Thickness the plate is sold by [mm].
    """
    return float(brake.inside_radius) if brake.inside_radius is not None else nominal


def die_for(brake: Brake, nominal: float) -> float:
    """Opening of the lower die [mm]: the sheet's, or eight thicknesses.

    Args:
        brake: Of the sheet.
        nominal: Thickness the plate is sold by [mm].
    """
    return float(brake.die_opening) if brake.die_opening is not None else DIE_PER_THICKNESS * nominal
