"""The plan of the gauges as numbers: what is made, what it proves and how true it is, before anything is drawn."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from fixturegen.axle.model import AxleModel
from fixturegen.findings import Number, Trust
from fixturegen.sheet.specs import Sheet
from fixturegen.studies import gauge_angles, gauge_sine, gauge_sizes
from fixturegen.studies.bracket_records import BracketPlan
from fixturegen.studies.budget_inputs import PAD, PLACE
from fixturegen.studies.gauge_records import Gauge, GaugePlan, NotMade, Ways
from fixturegen.studies.jig_records import JigPlan

HOLE_WORDS = {
    "mill": "bored and reamed from coordinates on a mill, common practice, no source",
    "marked": "drilled from a punched mark and reamed, common practice, no source",
}
NO_BRACKET = ("no bracket on the sheet has what it measures", "add [[joints]] and [[brackets]]")
NO_MATTER = ("spread",)  # what a rear axle has no use for is only told when it was asked for by name
NOTHING = {
    "spread": ("a rear axle has no knuckles", "take it out of [gauges] wanted"),
    "pucks": ("the jig's own pucks are for this housing's bores", "list further bores under [gauges] bores"),
}
EDGE_WORDS = {
    "mill": "milled to size, common practice, no source",
    "filed": "filed to the scribed line, common practice, no source",
}


def ways_of(sheet: Sheet, *, best: bool = False) -> Ways:
    """How the sheet's shop makes holes and edges that measure; `best` when all of it went to a mill."""
    holes, edges = ("mill", "mill") if best else (sheet.process.angle_holes, sheet.process.pads)
    return Ways(PLACE[holes], PAD[edges], HOLE_WORDS[holes], EDGE_WORDS[edges])


def gauge_plan(
    sheet: Sheet, axle: AxleModel, plan: JigPlan, brackets: BracketPlan, ways: Ways | None = None
) -> GaugePlan:
    """Every gauge the sheet asks for and can make, and why others are not made; none without [gauges].

    Args:
        sheet: The build sheet.
        axle: The axle.
        plan: The jig's plan.
        brackets: The brackets' plan.
        ways: How features are made; as the sheet says when not given.
    """
    if sheet.gauges is None:
        return GaugePlan()
    way = ways or ways_of(sheet)
    makers: dict[str, Callable[[], Iterator[Gauge | NotMade]]] = {
        "sine": lambda: gauge_sine.sine(sheet, axle, plan, way),
        "clock": lambda: gauge_angles.clocks(sheet, brackets, way),
        "hole-bar": lambda: gauge_angles.hole_bars(sheet, brackets, way),
        "plugs": lambda: iter(gauge_sizes.plugs(brackets, sheet.job.units)),
        "widths": lambda: iter(gauge_sizes.widths(brackets, way, sheet.job.units)),
        "end-disc": lambda: iter((gauge_angles.end_disc(sheet, plan),)),
        "toe-bars": lambda: iter((gauge_angles.toe_bars(sheet),)),
        "pucks": lambda: gauge_sizes.pucks(sheet, plan),
        "spread": lambda: gauge_sizes.spread(sheet, way),
        "fillets": lambda: iter((gauge_sizes.fillets(brackets, sheet.job.units),)),
        "saddle": lambda: iter((gauge_angles.saddle(sheet, axle, brackets),)),
        "depth": lambda: iter((gauge_sizes.depth(sheet),)),
    }
    wanted: tuple[str, ...] = sheet.gauges.wanted or tuple(makers)
    found: list[Gauge | NotMade] = []
    for kind, make in makers.items():
        if kind not in wanted:
            continue
        made = list(make())
        if not made and (sheet.gauges.wanted or kind not in NO_MATTER):
            made = [NotMade(kind, kind.replace("-", " "), *NOTHING.get(kind, NO_BRACKET))]
        found += made
    return GaugePlan(tuple(g for g in found if isinstance(g, Gauge)), tuple(n for n in found if isinstance(n, NotMade)))


def gauge_numbers(plan: GaugePlan) -> dict[str, Number]:
    """Dotted name to number: what each gauge must tell, its own error, what it is set to."""
    found: dict[str, Number] = {}
    for g in plan.gauges:
        name = f"gauges.{g.name.replace('-', '_')}"
        own = f"root of the sum of squares over {len(g.terms)} features, largest {g.largest.name}"
        found[f"{name}.must_tell"] = Number(g.tolerance, g.unit, g.limit_source, Trust.PRACTICE)
        found[f"{name}.own_error"] = Number(g.usual, g.unit, own, Trust.PRACTICE)
        for n, s in enumerate(g.settings, 1):
            formula = s.what if s.angle is None else f"{s.what}, {s.angle:.3f} deg"
            found[f"{name}.setting_{n}"] = Number(s.value, "mm", formula, Trust.DERIVED)
    return found
