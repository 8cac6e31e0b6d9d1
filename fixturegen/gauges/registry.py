"""How the makers of gauges are found and what they give back.

A maker is a module of this package named by its kind (hole_bar for "hole-bar") with a function
`make_<module>(context, gauge) -> MadeGauge`. No maker imports another; what they share stands in `shared`.
"""

from __future__ import annotations

import importlib
from collections.abc import Callable
from dataclasses import dataclass

from fixturegen.axle.model import AxleModel
from fixturegen.errors import GeometryFault
from fixturegen.findings import Number
from fixturegen.gauges.shared import GaugeContext, MadeGauge
from fixturegen.parts.marking import completed
from fixturegen.plate import Assembly, Part
from fixturegen.plate.labels import told_apart
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.bracket_records import BracketPlan
from fixturegen.studies.gauge_plan import gauge_numbers, gauge_plan
from fixturegen.studies.gauge_records import Gauge, GaugePlan, NotMade
from fixturegen.studies.jig_records import JigPlan

NAME = "gauges"
STORE = "gauges"
"""Where the job keeps its gauges."""
NOTHING = GaugePlan()


@dataclass(frozen=True)
class GaugeSet:
    """All gauges of a job.

    Attributes:
        plan: What they prove and how true they are; those that cannot be drawn are among its `not_made`.
        parts: Every part, marks complete.
        assemblies: One that carries what is bought, nothing placed in it; none without gauges.
        parts_of: Name of a gauge to the names of its parts.
        checked: (part, hole label, hole label, distance) a solid must show [mm].
        edges: (part, x, finished): a width across the part at x that is milled or filed to size [mm].
    """

    plan: GaugePlan = NOTHING
    parts: tuple[Part, ...] = ()
    assemblies: tuple[Assembly, ...] = ()
    parts_of: tuple[tuple[str, tuple[str, ...]], ...] = ()
    checked: tuple[tuple[str, str, str, float], ...] = ()
    edges: tuple[tuple[str, float, float], ...] = ()

    @property
    def numbers(self) -> dict[str, Number]:
        """Dotted name to number, of all gauges."""
        return gauge_numbers(self.plan)


def maker_of(kind: str) -> Callable[[GaugeContext, Gauge], MadeGauge]:
    """The maker of a kind of gauge."""
    name = kind.replace("-", "_")
    module = importlib.import_module(f"fixturegen.gauges.{name}")
    made: Callable[[GaugeContext, Gauge], MadeGauge] = getattr(module, f"make_{name}")
    return made


def make_gauges(sheet: Sheet, axle: AxleModel, plan: JigPlan, brackets: BracketPlan) -> GaugeSet:
    """Every gauge of a job; one that cannot be drawn is told and leaves the others alone.

    Raises:
        ValueError: When two gauges give parts of the same name.
    """
    planned = gauge_plan(sheet, axle, plan, brackets)
    context = GaugeContext(sheet, axle, plan)
    made: list[tuple[Gauge, MadeGauge]] = []
    not_made = list(planned.not_made)
    for gauge in planned.gauges:
        try:
            made.append((gauge, maker_of(gauge.kind)(context, gauge)))
        except GeometryFault as fault:
            not_made.append(NotMade(gauge.kind, gauge.label, fault.words, fault.remedy))
        except ValueError as fault:
            why = f"it cannot be drawn at these sizes ({fault})"
            not_made.append(NotMade(gauge.kind, gauge.label, why, "check the sizes it follows from"))
    if not made:
        return GaugeSet(GaugePlan((), tuple(not_made)))
    parts = told_apart(
        [completed(p, sheet, [s for s in m.stands if s.part == p.name]) for _, m in made for p in m.parts]
    )
    names = [p.name for p in parts]
    if len(set(names)) != len(names):
        raise ValueError(f"part names are not unique: {sorted(names)}")
    hardware = tuple(row for _, m in made for row in m.hardware)
    return GaugeSet(
        plan=GaugePlan(tuple(g for g, _ in made), tuple(not_made)),
        parts=parts,
        assemblies=(Assembly(NAME, "P", (), hardware=hardware),),
        parts_of=tuple((g.name, (*(p.name for p in m.parts), *m.shares)) for g, m in made),
        checked=tuple(row for _, m in made for row in m.checked),
        edges=tuple(row for _, m in made for row in m.edges),
    )
