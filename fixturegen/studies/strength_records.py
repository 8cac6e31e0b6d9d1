"""Records of every strength that is worked out: what carries, how much, by which formula, how far to trust it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fixturegen.calc._pins import AISC_SAFETY
from fixturegen.calc._welds import SAFETY
from fixturegen.errors import Fault, InputFault
from fixturegen.findings import Trust, weakest
from fixturegen.sources import cite
from fixturegen.stock import Bolt, Grade, Material, entry

FATIGUE = "fatigue"
HEAT = "the heat-affected zone beside a weld"
IMPACT = "impact beyond the factor in the load"
_BEYOND = 1e-6  # mm; a size at the end of a grade's range is in it
RANGE = 1e-9
"""Share of a limit by which rounding alone may pass it."""


@dataclass(frozen=True)
class Given:
    """One number that went into a strength.

    Attributes:
        name: What it is, in words.
        value: In `unit`.
        unit: mm, mm^2, N, N*mm, MPa, deg, 1.
    """

    name: str
    value: float
    unit: str


@dataclass(frozen=True)
class Factor:
    """What a strength must exceed its load by, and who asks for it.

    Attributes:
        value: Strength over load [1].
        why: In words.
        source: Id of the source.
        trust: How far to trust it.
    """

    value: float
    why: str
    source: str
    trust: Trust


@dataclass(frozen=True)
class Factors:
    """The factors asked for; every one may be set by the person who answers for the part.

    Attributes:
        bolt_shear: On the load at which the bolt shears.
        bolt_bending: On the yield strength of the bolt.
        tab_rupture: On rupture, bearing and tear-out at the hole.
        tab_yield: On the yield strength of the tab.
        lifting: On BTH-1 strengths instead, where that code is chosen.
        closing: On the yield strength of a tab that is drawn in once by its bolt.
        weld: On the strength of weld metal.
        base_yield: On yield of the plate beside the weld.
        base_rupture: On rupture of the plate beside the weld.
        wall: On the strength of the tube's wall under the bracket.
        column: On the load at which a link buckles.
        thread: On the load at which a rod end's thread parts.
        rod_end: On the load its maker gives.
    """

    bolt_shear: Factor = Factor(2.0, "static, allowable strength design", "aisc-360", Trust.SECONDARY_COPY)
    bolt_bending: Factor = Factor(AISC_SAFETY["yielding"], "static, yield in bending", "aisc-360", Trust.SECONDARY_COPY)
    tab_rupture: Factor = Factor(
        AISC_SAFETY["tension"], "static, allowable strength design", "aisc-360", Trust.SECONDARY_COPY
    )
    tab_yield: Factor = Factor(AISC_SAFETY["yielding"], "static, yield", "aisc-360", Trust.SECONDARY_COPY)
    lifting: Factor = Factor(3.0, "loads that are not predictable", "asme-bth-1", Trust.SECONDARY_COPY)
    closing: Factor = Factor(1.0, "done once and seen", "practice", Trust.PRACTICE)
    weld: Factor = Factor(SAFETY, "static, weld metal", "aisc-360", Trust.SECONDARY_COPY)
    base_yield: Factor = Factor(1.5, "static, yield in shear", "aisc-360", Trust.MEMORY)
    base_rupture: Factor = Factor(2.0, "static, rupture in shear", "aisc-360", Trust.MEMORY)
    wall: Factor = Factor(1.67, "static, wall of a round tube", "aisc-360", Trust.MEMORY)
    column: Factor = Factor(23 / 12, "slender column, older allowable stress design", "column-formulas", Trust.MEMORY)
    thread: Factor = Factor(2.0, "static, thread in tension", "aisc-360", Trust.SECONDARY_COPY)
    rod_end: Factor = Factor(2.0, "on a static rating", "practice", Trust.PRACTICE)


STANDARD = Factors()
"""The factors when nobody asks for others."""


@dataclass(frozen=True)
class Strength:
    """One way in which something may give out under a load.

    Attributes:
        what: What gives out and how, in words.
        demand: Load or stress it sees, in `unit`.
        capacity: Load or stress at which it gives out, no factor in it, in `unit`.
        unit: N, N/mm, MPa, mm, 1.
        factor: What capacity over demand must be, and who asks for it.
        given: The numbers that went in.
        formula: In one line, in the names of what was given.
        source: Id of the source of the formula.
        section: Where in it, and what was taken as read.
        trust: The weakest of formula, factor and material.
        not_covered: What this number says nothing about.
        judged: Whether it is held against the factor; False for what is told to be known only.
        note: What else to know, empty when nothing.
    """

    what: str
    demand: float
    capacity: float
    unit: str
    factor: Factor
    given: tuple[Given, ...]
    formula: str
    source: str
    section: str
    trust: Trust
    not_covered: tuple[str, ...] = (FATIGUE, HEAT, IMPACT)
    judged: bool = True
    note: str = ""

    @property
    def used(self) -> float:
        """Demand over capacity; infinite where nothing is left to carry it."""
        if self.demand == 0:
            return 0.0
        return self.demand / self.capacity if self.capacity > 0 else math.inf

    @property
    def reserve(self) -> float:
        """Capacity over demand, to be held beside the factor asked for; infinite without a load."""
        used = self.used
        return math.inf if used == 0 else 1 / used

    @property
    def holds(self) -> bool:
        """Whether the capacity is the demand times the factor asked for, or more; True if not judged."""
        return not self.judged or self.used * self.factor.value <= 1 + RANGE

    def as_json(self) -> dict[str, object]:
        """The strength as a JSON object; null for a number without end."""
        return {
            "what": self.what,
            "demand": _ended(self.demand),
            "capacity": self.capacity,
            "unit": self.unit,
            "used": _ended(self.used),
            "reserve": _ended(self.reserve),
            "factor_asked": self.factor.value,
            "factor_why": self.factor.why,
            "factor_source": self.factor.source,
            "given": [{"name": g.name, "value": g.value, "unit": g.unit} for g in self.given],
            "formula": self.formula,
            "source": self.cited(),
            "trust": self.trust.value,
            "not_covered": list(self.not_covered),
            "judged": self.judged,
            "holds": self.holds,
            "note": self.note,
        }

    def cited(self) -> str:
        """The source of the formula in words."""
        return cite(self.source, self.section)


def _ended(value: float) -> float | None:
    """The number, or None where it has no end."""
    return value if math.isfinite(value) else None


@dataclass(frozen=True)
class Steel:
    """A material as the strengths take it.

    Attributes:
        name: In words.
        yield_strength: Smallest [MPa].
        tensile: Smallest tensile strength [MPa].
        modulus: Of elasticity [MPa].
        trust: How far to trust it.
    """

    name: str
    yield_strength: float
    tensile: float
    modulus: float
    trust: Trust


def steel_of(id_: str) -> Steel:
    """A material of the shipped table.

    Args:
        id_: Its id there, `a36` for instance.

    Raises:
        NotInTable: When the table has no such material.
    """
    found = entry("materials", id_, Material)
    return Steel(found.name, float(found.yield_strength), float(found.tensile), float(found.modulus), found.trust)


@dataclass(frozen=True)
class BoltSteel:
    """A bolt as the strengths take it.

    Attributes:
        name: Thread and grade in words.
        diameter: Of the shank [mm].
        stress_area: Of the thread [mm^2].
        proof: Strength [MPa].
        yield_strength: Of the grade [MPa].
        tensile: Strength of the grade [MPa].
        trust: How far to trust it.
    """

    name: str
    diameter: float
    stress_area: float
    proof: float
    yield_strength: float
    tensile: float
    trust: Trust

    @property
    def root(self) -> float:
        """Diameter of a round of the stress area, for bending where thread lies [mm]."""
        return math.sqrt(4 * self.stress_area / math.pi)


def bolt_of(thread: str, grade: str) -> BoltSteel:
    """A bolt of the shipped tables.

    Args:
        thread: Its id there, `1/2-13` or `M12x1.75`.
        grade: Id of the grade, `grade-8` or `10.9`.

    Raises:
        NotInTable: When a table has no such entry.
        InputFault: When the grade does not cover that bolt.
    """
    bolt, strength = entry("bolts", thread, Bolt), entry("bolt-grades", grade, Grade)
    if (bolt.pitch is not None) != (strength.source == "iso-898-1"):
        allowed = "grade-2, grade-5 or grade-8 for an inch bolt; 8.8, 10.9 or 12.9 for a metric one"
        raise InputFault(Fault("bolt grade", f"{grade} on {thread}", allowed, "read the marks on the head"))
    if not strength.smallest - _BEYOND <= bolt.diameter <= strength.largest + _BEYOND:
        allowed = f"bolts of {strength.smallest.text} to {strength.largest.text} in {grade}"
        raise InputFault(Fault("bolt", thread, allowed, "choose another size or grade"))
    return BoltSteel(
        f"{thread}, {grade}",
        float(bolt.diameter),
        float(bolt.stress_area),
        float(strength.proof),
        float(strength.yield_strength),
        float(strength.tensile),
        weakest(bolt.trust, strength.trust),
    )
