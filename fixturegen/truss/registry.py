"""The truss of a job: its parts, where they stand in frame A, and what is welded to what.

Each kind of plate stands in a file of its own; all of them draw what the plan of `studies` says.
"""

from __future__ import annotations

from dataclasses import dataclass

from fixturegen.axle.model import AxleModel
from fixturegen.errors import GeometryFault
from fixturegen.parts.marking import completed
from fixturegen.plate import Assembly, Part, Placement, Weld
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.bracket_records import BracketPlan
from fixturegen.studies.truss_plan import truss_plan
from fixturegen.studies.truss_records import TrussPlan
from fixturegen.truss.pads import make_pads
from fixturegen.truss.ribs import make_ribs
from fixturegen.truss.shared import ASSEMBLY, Drawn
from fixturegen.truss.side_plates import make_side_plates
from fixturegen.truss.tops import make_top

FIRST = {
    "drop-out": "Bolt a dummy carrier or the third member's flange to the housing; breather out, oil and cleaner off.",
    "integral": "Carrier caps on and torqued, cover on; breather out, oil and cleaner off.",
}
OFF = {"drop-out": "third member and fill plug", "integral": "cover and fill plug"}


def steps_of(kind: str) -> tuple[str, ...]:
    """What is done in which order where a truss is fitted to a housing of this kind."""
    return (
        FIRST[kind],
        "Scribe both ends on the tubes from the wheel mount surfaces. Stand the rear plate on its marks, ribs in its "
        "slots, front plate over their tabs; clamp, check the gap all along with a feeler, tack every 6 in, "
        "alternating ends and plates.",
        f"Fit the top over all tabs and tack it; take {OFF[kind]} off and on again before any finish weld.",
        "Weld over the rib tabs from outside, then top to side plates, then side plates to the axle: from the middle "
        "out, left and right in turn, 1 to 2 in beads, skipping; leave the ends and the drains free. Turn the bar by "
        "hand after every bead; where it binds, stop and let it cool.",
        "Expect the tube ends to come up; bar, dial and tape again, cold and unclamped.",
    )


@dataclass(frozen=True)
class TrussSet:
    """The truss of a job.

    Attributes:
        parts: Its parts; none without a truss, or where it cannot be drawn.
        assemblies: "truss" in frame A; none likewise.
        plan: What it was drawn from.
        fault: Why it cannot be drawn.
    """

    parts: tuple[Part, ...] = ()
    assemblies: tuple[Assembly, ...] = ()
    plan: TrussPlan | None = None
    fault: GeometryFault | None = None


def make_truss(sheet: Sheet, axle: AxleModel, brackets: BracketPlan) -> TrussSet:
    """The truss of a sheet; one that cannot be drawn is told and leaves everything else alone."""
    try:
        plan = truss_plan(sheet, axle, brackets.mounts)
        if plan is None:
            return TrussSet()
        drawn = drawn_of(sheet, plan)
    except GeometryFault as fault:
        return TrussSet(fault=fault)
    except ValueError as fault:
        words = f"cannot be drawn at these sizes ({fault})"
        return TrussSet(fault=GeometryFault("truss", words, "make it higher, or its plates thinner"))
    parts = tuple(completed(p, sheet, [q for q in drawn.placements if q.part == p.name]) for p in drawn.parts)
    assembly = Assembly(
        ASSEMBLY, "A", drawn.placements, drawn.welds, (), steps_of(sheet.housing.kind) if plan.runs else ()
    )
    return TrussSet(parts, (assembly,), plan)


def drawn_of(sheet: Sheet, plan: TrussPlan) -> Drawn:
    """Every part of a plan, marks not yet complete.

    Raises:
        GeometryFault: When one cannot be drawn.
    """
    made = [make_side_plates(sheet, plan), make_top(sheet, plan), make_ribs(sheet, plan), make_pads(sheet, plan)]
    parts: list[Part] = [p for m in made for p in m.parts]
    places: list[Placement] = [p for m in made for p in m.placements]
    welds: list[Weld] = [w for m in made for w in m.welds]
    return Drawn(tuple(parts), tuple(places), tuple(welds))
