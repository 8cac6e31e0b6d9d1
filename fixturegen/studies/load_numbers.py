"""Numbers of the load cases for the papers: force in each link and spring, with source, trust and what is left out."""

from __future__ import annotations

from fixturegen.axle.linkage import HELD
from fixturegen.axle.model import AxleModel
from fixturegen.findings import Number, Trust, weakest
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.axle_loads import AxleLoads, CaseLoads, loads_of
from fixturegen.studies.load_cases import loads_on
from fixturegen.studies.load_factors import LoadFactor
from fixturegen.studies.load_springs import PLAIN
from fixturegen.units import as_text

MODEL = "equilibrium of the axle, six equations; links carry along their line only"
SHARED = "more than four lengths share by least work of their bushes"


def said(factor: LoadFactor) -> str:
    """A factor in words: its key and value."""
    value = as_text(factor.value, "force", "lbf", 0) if factor.unit == "N" else f"{factor.value:g}"
    return f"{factor.name} {value} ({factor.words})"


def trust_of(sheet: Sheet, made: AxleLoads, one: CaseLoads) -> Trust:
    """The weakest of what went into one case: weights, factors, springs, bushes, leaf springs."""
    loads = loads_on(sheet)
    weighed = (loads.axle_load, loads.truck_load, loads.unsprung)
    trusts = [Trust.MEASURED, one.case.trust]
    trusts += [Trust.ASSUMED for w in weighed if w is None or w.assumed]
    if made.linkage.approximate:
        trusts.append(Trust.PRACTICE)
    if any(s.how != PLAIN for s in made.springs):
        trusts.append(Trust.PRACTICE)
    return weakest(*trusts)


def load_numbers(sheet: Sheet, axle: AxleModel, made: AxleLoads | None = None) -> dict[str, Number]:
    """`loads.<case>.<link>` and `loads.<case>.spring-<side>` [N], `loads.<case>.residual` [1].

    Links: tension positive; springs: pushing apart positive. Empty for a sheet without loads or links.
    Cases that cannot be carried give no number.

    Raises:
        InputFault: When loads are on the sheet, and are not enough to tell the forces.
    """
    if sheet.loads is None or sheet.links is None:
        return {}
    result = made or loads_of(sheet, axle)
    model = MODEL if len(result.linkage.links) == HELD else f"{MODEL}; {SHARED}"
    notes = sorted({s.how for s in result.springs if s.how != PLAIN})
    found: dict[str, Number] = {}
    for one in result.cases:
        trust = trust_of(sheet, result, one)
        why = "; ".join([model, one.case.words, *(said(f) for f in one.case.factors), *notes])
        why = f"{why}; not covered: {one.case.not_covered}"
        head = f"loads.{one.case.name}"
        for link, force in one.links.items():
            found[f"{head}.{link}"] = Number(force, "N", f"tension positive; {why}", trust)
        for side, force in one.springs.items():
            found[f"{head}.spring-{side}"] = Number(force, "N", f"pushing apart positive; {why}", trust)
        left = "what does not close of forces and moments, over the load"
        found[f"{head}.residual"] = Number(one.residual.share, "1", left, Trust.DERIVED)
    return found
