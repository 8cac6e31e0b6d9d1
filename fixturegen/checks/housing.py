"""HSG: the housing with its truss under the load cases: plates, welds, the ends of the truss, the wheels' angles."""

from __future__ import annotations

import numpy as np

from fixturegen.checks.housing_judged import (
    LEAVES,
    Housing,
    housing_approximate,
    housing_in,
    largest,
    place_words,
    plan_of_truss,
)
from fixturegen.checks.loads import loads_in
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.strength_words import allowed, comparison, quantity
from fixturegen.findings import Finding, Level, Number, weakest
from fixturegen.sources import cite
from fixturegen.studies.axle_loads import AxleLoads
from fixturegen.studies.housing_section import CENTRE, Section, section_of
from fixturegen.studies.housing_stations import SPREAD
from fixturegen.studies.housing_truss import ActingTruss, acting
from fixturegen.studies.load_numbers import trust_of
from fixturegen.studies.strength_records import STANDARD
from fixturegen.units import as_text

LICENSED = "for a part people drive on or stand under, ask someone licensed to judge it"
PRACTICE = "common practice, no source"
BEAM = "beam of tube and truss bending as one where the truss counts, sections stay plane; stress = moment / modulus"
NOT_COVERED = (
    "fatigue at the toes of the welds, a casting and its joint with the tubes, what welding leaves in the steel, "
    "buckling of thin plates, the heat-affected zone, impact beyond the factor"
)
STEP = 2.0
"""Second moment beside the end of the truss's weld over that of the tube alone [1]: more is a step at which the
stress of the tube jumps. Common practice, no source: side plates that taper off to an inch, without a top there, come
to 1.5 to 2."""
SHARE = 0.5
"""Of the area of its plates a truss should count with somewhere on either tube [1] (common practice, no source)."""
BESIDE_END = 0.1  # from the end of the weld, inside [mm]
TURN = 0.25
"""Camber and toe that bending may take as the truck stands [deg]: what a wheel may be off when built, common
practice, no source."""


def _truss_in(job: Job) -> tuple[Housing, ActingTruss] | None:
    housing = housing_in(job)
    return None if housing is None or housing.truss is None else (housing, housing.truss)


def _unloaded(claim: Claim, job: Job) -> list[Finding]:
    """What is said where there is a truss and nobody gave its loads."""
    if job.sheet.truss is None or (job.sheet.loads is not None and job.sheet.links is not None):
        return []  # LOD-01 tells why loads that are there cannot be told
    words = "there is a truss and nothing says what it must carry"
    remedy = "add [links] and [loads] with axle_load, both tyres of this axle on the scales"
    return [claim.finding(Level.NOT_CHECKED, words, remedy=remedy, source=BEAM)]


@claim(
    "HSG-01",
    "The plates of the truss are not stressed beyond yield in any load case.",
    holds="part",
    needed=False,
    stage="travel",
)
def check_plates(claim: Claim, job: Job) -> list[Finding]:
    """The plate at the worst station of the worst case; a warning where it has hardly begun to carry."""
    found = _truss_in(job)
    if found is None:
        return _unloaded(claim, job)
    housing, _ = found
    if not housing.study.beam.trussed:
        return []  # HSG-05 says so
    carries = np.array([_carries(s) for s in housing.study.beam.sections])
    told = []
    for mask, bad, where in (
        (carries, Level.FAIL, ""),
        (~carries, Level.WARN, ", beside the end of its weld, where a plate follows the tube more than it carries"),
    ):
        sizes = [float(c.best.plates[mask].max(initial=0.0)) for c in housing.study.cases]
        value = max(sizes)
        one = housing.study.cases[int(np.argmax(np.round(sizes, 9)))]
        at = int(np.argmax(np.where(mask, np.round(one.best.plates, 9), -1.0)))
        # where they carry nowhere, what they follow the tube by is all there is to tell
        if bool(mask.any()) and (bad is Level.FAIL or value > housing.plate_limit or not carries.any()):
            told.append(_plate_finding(claim, job, housing, (value, one.name, at), (bad, where)))
    return told


def _carries(section: Section) -> bool:
    """Whether half of the plates' area or more counts."""
    strips = section.cut.strips
    whole = sum(t.width * t.thickness for t in strips)
    return whole > 0.0 and sum(t.width * t.carrying for t in strips) >= SHARE * whole


def _plate_finding(
    claim: Claim, job: Job, housing: Housing, worst: tuple[float, str, int], level: tuple[Level, str]
) -> Finding:
    value, case, at = worst
    bad, where = level
    station, units = float(housing.study.beam.stations[at]), job.sheet.job.units
    good = value <= housing.plate_limit
    words = (
        f"{quantity(value, 'MPa', units)} in {case}, {place_words(station, units)}{where}, of "
        f"{quantity(housing.plate_limit, 'MPa', units)} allowed (yield of the weaker of its plates over factor "
        f"{STANDARD.tab_yield.value:.3g}, {STANDARD.tab_yield.why})"
    )
    if housing.across is not None:
        over, k = housing.across.worst("plates")
        words += f"; if they carry on over the centre section {quantity(float(over.best.plates[k]), 'MPa', units)}"
    return claim.finding(
        Level.PASS if good else bad,
        f"{words}. Not covered: {NOT_COVERED}; {LICENSED}",
        remedy="" if good else "make the truss higher, its plates thicker, or of stronger steel",
        parts=() if housing.truss is None else _parts(housing.truss),
        value=value,
        limit=housing.plate_limit,
        unit="MPa",
        source=BEAM,
        frame="A",
        point=(0.0, station, 0.0),
    )


def _parts(truss: ActingTruss) -> tuple[str, ...]:
    return (*(p.name for p in truss.plan.plates), *(r.name for r in truss.plan.runs))


@claim(
    "HSG-02",
    "The welds of the truss hand over what it takes from the tubes, stitches and ends with them.",
    holds="part",
    needed=False,
    stage="travel",
)
def check_welds(claim: Claim, job: Job) -> list[Finding]:
    """Every seam that gives out at its worst place; else the one nearest to it.

    A warning where plates take up their share: how fast they do so is an estimate, and a weld that gives there
    hands on to the next.
    """
    found = _truss_in(job)
    if found is None or not found[0].welds:
        return []
    housing, _ = found
    failed = [row for row in housing.welds if not row[1].holds]
    shown = failed or [max(housing.welds, key=lambda r: r[1].used * r[1].factor.value)]
    units, findings = job.sheet.job.units, []
    for flow, one in shown:
        where = "where its plates take up their share" if flow.ending else "along it"
        if flow.seam.second == CENTRE:
            where = "what the plates of both tubes differ by and hand to it at least"
        run = (
            f"; {100.0 * flow.seam.welded:.0f} % of the length is weld, runs of "
            f"{quantity(flow.seam.run, 'mm', units)} and more"
            if flow.seam.run
            else ""
        )
        words = (
            f"{one.what}: {comparison(one, units)} in {flow.case}, {where}, {place_words(flow.station, units)}{run}. "
            f"Not covered: {', '.join(one.not_covered)}; {LICENSED}"
        )
        stronger = "take a thicker plate" if "plate beside" in one.what else "lay a larger leg"
        remedy = (
            f"let the truss taper off longer and lower, bring the weld nearer to its end, or {stronger}"
            if flow.ending
            else f"{stronger}, or weld more of the length"
        )
        findings.append(
            claim.finding(
                Level.PASS if one.holds else Level.WARN if flow.ending else Level.FAIL,
                words,
                remedy="" if one.holds else remedy,
                parts=(flow.seam.first,),
                value=one.demand,
                limit=allowed(one),
                unit=one.unit,
                source=one.cited(),
                frame="A",
                point=(flow.seam.at[0], flow.station, flow.seam.at[1]),
                data={"strength": one.as_json()},
            )
        )
    return findings


@claim(
    "HSG-03", "The housing does not step from stiff to soft at the ends of the truss.", holds="nothing", stage="travel"
)
def check_step(claim: Claim, job: Job) -> list[Finding]:
    """Second moment beside each end of the weld over the bare tube's; a warning."""
    found = steps_in(job)
    if not found:
        return []
    station, ratio, height = max(found, key=lambda s: s[1])
    good, units = ratio <= STEP, job.sheet.job.units
    words = "; ".join(
        f"{place_words(y, units)} the weld ends and tube and truss are {r:.1f} times as stiff as the tube beyond"
        for y, r, _ in found
    )
    remedy = (
        f"the truss stands {quantity(height, 'mm', units)} over the tube there: lower truss.end_height, or taper "
        "longer (a smaller truss.taper) and bring the weld nearer to its end, so that its stiffness dies away"
    )
    return [
        claim.finding(
            Level.PASS if good else Level.WARN,
            f"{words}. Not covered: the notch that the end of any weld is",
            remedy="" if good else remedy,
            value=ratio,
            limit=STEP,
            unit="1",
            source=PRACTICE,
            frame="A",
            point=(0.0, station, 0.0),
        )
    ]


def steps_in(job: Job) -> tuple[tuple[float, float, float], ...]:
    """(station, ratio, height of the truss over the tube [mm]) at the outer ends of its welds, right and left.

    The larger of the two ratios, bending in the upright plane and in plan.
    """
    plan = plan_of_truss(job)
    if plan is None:
        return ()
    truss, tubes = acting(plan, job.axle.section), job.sheet.tubes
    diameter, wall = float(tubes.outside_diameter), float(tubes.wall)
    bare, made = section_of(diameter, wall), []
    right, left = truss.spans(job.axle.section)
    for span, edge, way in ((right, right[0], 1.0), (left, left[1], -1.0)):
        if span[1] <= span[0]:
            continue
        whole = section_of(diameter, wall, truss.cut_at(edge + way * BESIDE_END, filled=True))
        ratio = max(whole.upright / bare.upright, whole.level / bare.level)
        made.append((edge, ratio, whole.cut.height(diameter)))
    return tuple(made)


@claim(
    "HSG-04",
    "Bending under the standing truck leaves camber and toe of the wheels alone.",
    holds="nothing",
    stage="travel",
)
def check_wheels(claim: Claim, job: Job) -> list[Finding]:
    """Camber and toe of both wheels as the truck stands, and at full bump beside; a warning."""
    housing = housing_in(job)
    if housing is None or all(c.name != "static" for c in housing.study.cases):
        return []
    one = housing.study.case("static")
    turns = [(*largest(one.best.ends.camber), "camber"), (*largest(one.best.ends.toe), "toe")]
    value, side, what = max(turns, key=lambda t: abs(t[0]))
    words = [f"standing: {_wheel_words(housing, 'static')}"]
    if any(c.name == "bump" for c in housing.study.cases):
        words.append(f"at full bump {_wheel_words(housing, 'bump')}")
    good = abs(value) <= TURN
    remedy = (
        f"{what} of the {side} wheel turns by {abs(value):.2f} deg: stiffen the housing, or set the ends by that much "
        "the other way when they are welded"
    )
    note = LEAVES if housing_approximate(job) else ""
    return [
        claim.finding(
            Level.PASS if good else Level.WARN,
            f"{'; '.join(words)}. Against the line through both wheels, the centre section taken as rigid{note}",
            remedy="" if good else remedy,
            value=abs(value),
            limit=TURN,
            unit="deg",
            source=f"{PRACTICE}; {cite('geometry', 'moment-area theorem')}",
        )
    ]


def numbers_in(job: Job) -> dict[str, Number]:
    """Numbers of the housing; none without loads, or where they cannot be told."""
    from fixturegen.studies.housing_numbers import housing_numbers

    housing, loads = housing_in(job), loads_in(job)
    if housing is None or not isinstance(loads, AxleLoads):
        return {}
    trust = weakest(*(trust_of(job.sheet, loads, one) for one in loads.cases))
    return housing_numbers(housing.study, housing.welds, steps_in(job), trust)


def _wheel_words(housing: Housing, name: str) -> str:
    one = housing.study.case(name)
    ends = one.best.ends
    (cr, cl), (tr, tl) = ends.camber, ends.toe
    words = f"camber {cl:+.2f} deg left, {cr:+.2f} right, toe {tl:+.2f} left, {tr:+.2f} right (toe-in positive)"
    if one.truss is not None:
        (br, bl) = one.bare.ends.camber
        words += f"; without the truss camber {bl:+.2f} and {br:+.2f}"
    if housing.across is not None:
        (ar, al) = housing.across.case(name).best.ends.camber
        words += f"; if its plates carry on over the centre section {al:+.2f} and {ar:+.2f}"
    return words


@claim("HSG-05", "The truss takes its share on both tubes.", holds="nothing", stage="travel")
def check_share(claim: Claim, job: Job) -> list[Finding]:
    """How much of the plates counts on either tube where it counts most; a warning where it is less than half."""
    found = _truss_in(job)
    if found is None:
        return []
    housing, truss = found
    beam, units = housing.study.beam, job.sheet.job.units
    words, short = [], []
    for side, span, share in zip(("right", "left"), beam.counted, beam.share, strict=True):
        words.append(f"{100.0 * share:.0f} % on the {side} tube, welded over {_long(span[1] - span[0], units)}")
        if share < SHARE:
            short.append(side)
    how = "it is welded to the centre section" if truss.anchored() else "it bridges the centre section without weld"
    remedy = (
        f"the weld on the {' and the '.join(short)} tube is short for a truss as high as it is there: weld it farther "
        "out, make it lower, or weld it to a centre section of steel"
    )
    return [
        claim.finding(
            Level.WARN if short else Level.PASS,
            f"of its plates counts where it counts most: {'; '.join(words)}; {how}. Beside the end of its weld a plate "
            "carries in part only",
            remedy=remedy if short else "",
            value=min(beam.share),
            limit=SHARE,
            unit="1",
            source=f"{SPREAD}; limit {PRACTICE}",
        )
    ]


def _long(value: float, units: str) -> str:
    return as_text(value, "length", "mm" if units == "mm" else "in", 0 if units == "mm" else 1)
