"""Loads and strength as a section of the report: cases, factors, links, brackets, and what is not covered."""

from __future__ import annotations

from fixturegen.checks.bracket_judged import Evaluation, Judged, evaluated
from fixturegen.checks.loads import loads_in
from fixturegen.checks.registry import Job
from fixturegen.checks.strength_words import FACTOR_SOURCES, allowed, in_place, not_covered, quantity
from fixturegen.errors import InputFault
from fixturegen.findings import Trust
from fixturegen.papers.report import Section, Table
from fixturegen.papers.words import TRUST_WORDS
from fixturegen.sources import cite
from fixturegen.studies.axle_loads import AxleLoads
from fixturegen.studies.bracket_case import drawn_tight
from fixturegen.studies.bracket_strength import KINDS, Kind
from fixturegen.studies.link_cases import link_strengths_of
from fixturegen.studies.load_cases import loads_on, weights_of
from fixturegen.studies.load_factors import LoadFactor
from fixturegen.studies.strength_records import Strength

TITLE = "Loads and strength"
CAUTIONS = (
    "Setting-out aid, not certified. These are sums about forces at rest, to see which bracket is weak before it is "
    "cut; they are no proof that a truck is safe. Local rules and licensed practice come first: a part that people "
    "drive on, steer by or stand under is judged by someone licensed to judge it, and many places want a certificate.",
    "No number here covers fatigue, the heat-affected zone beside a weld, impact beyond the factor in its load case, "
    "rust, or a weld with lack of fusion. What else a factor does not cover stands beside it.",
)
KIND_WORDS: dict[Kind, str] = {
    "shear": "bolt, shear",
    "bending": "bolt, bending",
    "hole": "tab at its hole",
    "root": "tab at its root",
    "gap": "drawn in",
    "welds": "welds",
    "wall": "wall under it",
}
FULL = 100.0  # percent


def strength_section(job: Job) -> tuple[Section, ...]:
    """The section; none where the sheet has no loads, or LOD-01 says that they cannot be told."""
    loads = loads_in(job)
    if not isinstance(loads, AxleLoads) or not loads.cases:
        return ()
    units = job.sheet.job.units
    made = evaluated(job)
    tables = [_cases(job, loads, units), _factors(loads, units), _weights(job, units)]
    if made is not None and made.rows:
        tables += [_used(made), _worst(made, units), _told(made, units)]
    tables.append(_links(job, loads, units))
    return (Section(TITLE, CAUTIONS, (), tuple(t for t in tables if t.rows), ()),)


def _cases(job: Job, loads: AxleLoads, units: str) -> Table:
    """What each case puts on links and springs."""
    names = loads.linkage.names
    rows = []
    for one in loads.cases:
        forces = [quantity(one.links[n], "N", units) for n in names]
        springs = [quantity(one.springs[s], "N", units) for s in ("left", "right")]
        rows.append((one.case.name, one.case.words, *forces, *springs))
    steel = "Links: pull positive, push negative; springs: pushing apart positive. "
    return Table(
        "Loads: force in each link and spring",
        f"{steel}Six sums of forces and moments about the axle centre, at the height of the case; links carry along "
        f"their line only. They close within {max(c.residual.share for c in loads.cases):.0e} of the load. A spring "
        "that would have to pull is held by strap, shock or anti-roll bar.",
        ("Case", "What happens", *names, "spring left", "spring right"),
        tuple(rows),
        tuple(range(2, 4 + len(names))),
    )


def _factors(loads: AxleLoads, units: str) -> Table:
    """Each factor once, and what it does not cover."""
    known: dict[str, LoadFactor] = {}
    uses: dict[str, list[str]] = {}
    for one in loads.cases:
        for factor in one.case.factors:
            known[factor.name] = factor
            uses.setdefault(factor.name, []).append(one.case.name)
    rows = [
        (
            f.name,
            quantity(f.value, f.unit, units),
            f.words,
            ", ".join(uses[name]),
            FACTOR_SOURCES.get(f.source, cite(f.source)),
            TRUST_WORDS[f.trust],
            f.not_covered,
        )
        for name, f in known.items()
    ]
    return Table(
        "Factors in the loads",
        "A choice of the person who answers for the truck; change them under [loads].",
        ("Key", "Value", "On what", "Cases", "Source", "Trust", "Not covered"),
        tuple(rows),
        (1,),
    )


def _weights(job: Job, units: str) -> Table:
    """Weights behind the cases."""
    weights, given = weights_of(job.sheet, job.axle), loads_on(job.sheet)
    pairs = (
        ("on both tyres of this axle", weights.axle, given.axle_load),
        ("the whole truck", weights.truck, given.truck_load),
        ("axle, wheels and brakes", weights.unsprung, given.unsprung),
    )
    rows = []
    for what, force, value in pairs:
        trust = Trust.ASSUMED if value is None or value.assumed else Trust.MEASURED
        rows.append((what, quantity(force, "N", units), TRUST_WORDS[trust]))
    return Table("Weights", "", ("What", "Weight", "Trust"), tuple(rows), (1,))


def _used(made: Evaluation) -> Table:
    """Percent of what is allowed, bracket by bracket."""
    rows = []
    for name in dict.fromkeys(r.facts.mount.name for r in made.rows):
        mine = [r for r in made.rows if r.facts.mount.name == name]
        worst = [_nearest(mine, kind) for kind in KINDS]
        cells = ["" if r is None else f"{FULL * r.share:.0f} %{', ' if r.when else ''}{r.when}" for r in worst]
        cells[KINDS.index("gap")] = _gap_words(worst[KINDS.index("gap")])
        rows.append((mine[0].facts.mount.label, *cells))
    return Table(
        "Strength: how much of what is allowed each bracket uses, and in which case",
        "Load over (strength / factor). Over 100 % the bracket is held. An empty box was not worked out: the findings "
        "say why.",
        ("Bracket", *(KIND_WORDS[k] for k in KINDS)),
        tuple(rows),
    )


def _gap_words(row: Judged | None) -> str:
    """How the bolt draws the tabs in."""
    if row is None or row.case is None:
        return ""
    if row.strength.holds:
        return "tight"
    return "tight, tabs yield a little" if drawn_tight(row.case) else "TOO WIDE"


def _nearest(rows: list[Judged], kind: Kind) -> Judged | None:
    return max((r for r in rows if r.kind == kind and r.strength.judged), key=lambda r: r.share, default=None)


HEAD = (
    "What",
    "Where, case",
    "Load",
    "Allowed",
    "Used",
    "Inputs",
    "Formula",
    "Source, trust",
    "Factor",
    "Not covered",
)


def _worst(made: Evaluation, units: str) -> Table:
    """Of each kind the bracket that is nearest to giving out, with everything that went in."""
    found = [_nearest(made.rows, kind) for kind in KINDS]
    return Table(
        "Strength: the worst bracket of each kind, with what went in",
        "Each sum can be done again by hand from its row; of welds the row gives the worst point of the group.",
        HEAD,
        tuple(_row(r, units) for r in found if r is not None),
        (2, 3, 4),
    )


def _told(made: Evaluation, units: str) -> Table:
    """What is told and not judged, where it is largest."""
    worst: dict[str, Judged] = {}
    for r in made.rows:
        key = r.strength.what.partition(",")[0].partition(" beside ")[0]
        if not r.strength.judged and (key not in worst or r.share > worst[key].share):
            worst[key] = r
    return Table(
        "Strength: told to be known, not judged",
        "A joint whose clamp does not hold by friction works in its hole: torque it, mark it, look at it.",
        HEAD,
        tuple(_row(r, units) for r in worst.values()),
        (2, 3, 4),
    )


def _row(r: Judged, units: str) -> tuple[str, ...]:
    mount = r.facts.mount
    when = f"{mount.label}, {r.force.case}, {quantity(r.force.size, 'N', units)}"
    if not r.when:
        when = mount.label
    return tuple(in_place(cell, mount) for cell in _cells(r.strength, when, units))


def _cells(one: Strength, when: str, units: str) -> tuple[str, ...]:
    inputs = "; ".join(f"{g.name} {quantity(g.value, g.unit, units)}" for g in one.given)
    note = f". {one.note[0].upper()}{one.note[1:]}" if one.note else ""
    return (
        one.what,
        when,
        quantity(one.demand, one.unit, units),
        quantity(allowed(one), one.unit, units),
        f"{FULL * one.used * one.factor.value:.0f} %",
        f"{inputs}{note}",
        one.formula,
        f"{one.cited()} ({TRUST_WORDS[one.trust]})",
        f"{one.factor.value:.3g}: {one.factor.why} ({FACTOR_SOURCES.get(one.factor.source, one.factor.source)})",
        not_covered(one),
    )


def _links(job: Job, loads: AxleLoads, units: str) -> Table:
    """Each link in the way that is nearest to giving out."""
    try:
        made = link_strengths_of(job.sheet, job.axle, loads)
    except InputFault:
        made = ()
    rows = []
    for link in made:
        one = max((s for s in link.strengths if s.judged), key=lambda s: s.used * s.factor.value)
        push, pull = quantity(-link.case.push, "N", units), quantity(link.case.pull, "N", units)
        rows.append(
            _cells(one, f"{link.name}: pushed by {push} in {link.push}, pulled by {pull} in {link.pull}", units)
        )
    return Table(
        "Strength: each link, in the way nearest to giving out",
        "Straight, pinned at both ends.",
        HEAD,
        tuple(rows),
        (2, 3, 4),
    )
