"""STR: links and axle tubes under every load case."""

from __future__ import annotations

from fixturegen.checks.housing_judged import LEAVES, Housing, housing_approximate, housing_in, place_words
from fixturegen.checks.loads import loads_in
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.strength_words import allowed, comparison, not_covered, quantity
from fixturegen.errors import InputFault
from fixturegen.findings import Finding, Level
from fixturegen.studies.axle_loads import AxleLoads
from fixturegen.studies.link_cases import LinkStrength, link_strengths_of, strange_tubes, without_tube
from fixturegen.studies.strength_records import STANDARD, Strength

LICENSED = "for a part people drive on or stand under, ask someone licensed to judge it"
BENT = (
    "beam cut at a station, statics: everything outboard of it; stress = moment / section modulus, torque by the tube "
    "alone, sqrt(s^2 + 3 t^2)"
)
NOT_IN_BENDING = (
    "fatigue, at the ends of a truss above all, the heat-affected zone beside a weld, impact beyond the factor, the "
    "joint of tube and centre section"
)


@claim("STR-09", "Links neither buckle, yield nor part in any load case.", holds="nothing", stage="travel")
def check_links(claim: Claim, job: Job) -> list[Finding]:
    """A fail for every link that gives out; else the one nearest to it; links whose tube nobody gave."""
    loads = loads_in(job)
    if not isinstance(loads, AxleLoads) or not loads.cases:
        return []
    try:
        made = link_strengths_of(job.sheet, job.axle, loads)
    except InputFault as fault:
        return [claim.finding(Level.FAIL, f.sentence(), remedy=f.remedy) for f in fault.faults]
    rows = [(one, s) for one in made for s in one.strengths]
    found = [_link(claim, job, Level.FAIL, *row) for row in rows if not row[1].holds]
    judged = [row for row in rows if row[1].judged]
    if judged and not found:
        found.append(_link(claim, job, Level.PASS, *max(judged, key=lambda r: r[1].used * r[1].factor.value)))
    found += [_link(claim, job, Level.WARN, *row) for row in rows if not row[1].judged and row[1].used > 1.0]
    for name in strange_tubes(job.sheet, loads):
        known = ", ".join(k.name for k in loads.linkage.links)
        words = f"loads.links names {name}, and the links are {known}"
        found.append(claim.finding(Level.WARN, words, remedy="name a link of this axle"))
    found += _unknown(claim, made, without_tube(job.sheet, loads))
    return found


def _unknown(claim: Claim, made: tuple[LinkStrength, ...], bare: tuple[str, ...]) -> list[Finding]:
    """What of links is not worked out for want of a value."""
    found = []
    if bare:
        words = f"{', '.join(bare)}: what it is made of is not on the sheet, so nobody knows whether it buckles"
        remedy = "add [[loads.links]] with link, diameter, wall and material"
        found.append(claim.finding(Level.NOT_CHECKED, words, remedy=remedy))
    for why in dict.fromkeys(one.missing for one in made if one.missing):
        names = ", ".join(one.name for one in made if one.missing == why)
        found.append(claim.finding(Level.NOT_CHECKED, f"{names}: {why}", remedy=why.partition(": ")[2]))
    return found


def _link(claim: Claim, job: Job, level: Level, link: LinkStrength, one: Strength) -> Finding:
    """What one way of giving out comes to."""
    units = job.sheet.job.units
    push, pull = quantity(abs(link.case.push), "N", units), quantity(link.case.pull, "N", units)
    words = (
        f"{one.what}: {comparison(one, units)}; pushed by {push} at most ({link.push}), pulled by {pull} ({link.pull})"
    )
    if one.note:
        words += f"; {one.note}"
    remedy = (
        "" if level is Level.PASS else "take a larger tube or a thicker wall, a shorter link, or joints farther apart"
    )
    return claim.finding(
        level,
        f"{words}. Not covered: {not_covered(one)}; {LICENSED}",
        remedy=remedy,
        value=one.demand,
        limit=allowed(one),
        unit=one.unit,
        source=one.cited(),
        data={"link": link.name, "strength": one.as_json()},
    )


@claim(
    "STR-10",
    "The axle's tubes are not bent and twisted beyond yield in any load case.",
    holds="nothing",
    stage="travel",
)
def check_tubes(claim: Claim, job: Job) -> list[Finding]:
    """The worst station of the worst case, truss counted; a warning, as the tube is not of our making."""
    housing = housing_in(job)
    if housing is None:
        return []
    one, at = housing.study.worst()
    value, station = float(one.best.equivalent[at]), float(housing.study.beam.stations[at])
    factor, units, limit = STANDARD.tab_yield, job.sheet.job.units, housing.limit
    good = value <= limit
    leaves = LEAVES if housing_approximate(job) else ""
    bent, twisted = (quantity(float(v[at]), "MPa", units) for v in (one.best.peak, one.best.sheared))
    asked, bound = quantity(limit, "MPa", units), quantity(limit * factor.value, "MPa", units)
    words = (
        f"{quantity(value, 'MPa', units)} in {one.name}, {place_words(station, units)} (bending and pull {bent}, "
        f"torque {twisted}), of {asked} allowed (yield {bound} over factor {factor.value:.3g}, {factor.why}); "
        f"{_with_truss(job, housing, units)}{leaves}. Not covered: {NOT_IN_BENDING}; {LICENSED}"
    )
    remedy = "take a thicker tube, or bring springs farther out"
    if housing.truss is None:
        remedy = f"put a truss on the housing, {remedy}"
        if any(b.on == "truss" for b in job.sheet.brackets):
            remedy = "a bracket stands on a truss that the sheet does not describe: add [truss], so that it is counted"
    elif not good:
        remedy = f"let the truss reach farther, {remedy}"
    return [
        claim.finding(
            Level.PASS if good else Level.WARN,
            words,
            remedy="" if good else remedy,
            value=value,
            limit=limit,
            unit="MPa",
            source=BENT,
            frame="A",
            point=(0.0, station, 0.0),
        )
    ]


def _with_truss(job: Job, housing: Housing, units: str) -> str:
    """What the truss changes, or that there is none."""
    if housing.truss is None:
        why = (
            "there is none on the sheet" if job.sheet.truss is None else "that on the sheet cannot be drawn, see TRS-01"
        )
        return f"no truss counted, {why}"
    if not housing.study.beam.trussed:
        return "the truss on the sheet counts nowhere, see HSG-05"
    bare, at = housing.study.worst(with_truss=False)
    words = (
        f"with the truss counted; without it {quantity(float(bare.bare.equivalent[at]), 'MPa', units)} in {bare.name}, "
        f"{place_words(float(housing.study.beam.stations[at]), units)}"
    )
    if housing.across is not None:
        over, k = housing.across.worst()
        words += (
            f"; the centre section is taken as rigid and the truss, which bridges it without weld, as shedding its "
            f"share beside it: if its plates carry on across, {quantity(float(over.best.equivalent[k]), 'MPa', units)}"
        )
    return words
