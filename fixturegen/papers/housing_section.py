"""The housing with and without its truss as a section of the report: what is assumed, pictures along the axle."""

from __future__ import annotations

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.checks.housing import NOT_COVERED
from fixturegen.checks.housing_judged import Housing, housing_approximate, housing_in
from fixturegen.checks.registry import Job
from fixturegen.checks.strength_words import KSI
from fixturegen.papers.axle_plots import AxleLine, AxleMap, axle_svg
from fixturegen.papers.housing_tables import FULL, cases_table, sections_table, steps_table, welds_table
from fixturegen.papers.report import Figure, Section
from fixturegen.papers.words import INCH
from fixturegen.studies.housing_section import CENTRE
from fixturegen.studies.housing_stations import SPREAD
from fixturegen.studies.housing_study import CaseBending
from fixturegen.studies.housing_welds import all_flows, nearest, seam_strengths
from fixturegen.studies.strength_records import steel_of

TITLE, BARE_TITLE = "Housing and truss", "Housing"
CAUTION = (
    "Setting-out aid, not certified: sums about forces at rest, to see where a housing is weak before a truss is cut. "
    "A housing that people drive on is judged by someone licensed to judge it; local rules come first."
)
AS_ONE = (
    "Tube and truss bend as one where the truss is welded on, sections stay plane. Beside the end of its weld a plate "
    f"carries in part only ({SPREAD}, l from the end of the weld; a plate welded along one edge taken as half of such "
    "a one). Torque is taken by the tube alone where stress is told, and by closed cells (Bredt) where twist and welds "
    "are. "
)
BOUND = (
    "The centre section is taken as rigid and is not judged. Torque of a brake goes through the tubes, that of a drive "
    "through the shafts; weight of axle and wheels is left at the centre section, so it relieves nothing."
)
TUBE_STYLE, TRUSS_STYLE = 1, 0


def housing_section(job: Job) -> tuple[Section, ...]:
    """The section; none where the sheet has no loads, or LOD-01 says that they cannot be told."""
    housing = housing_in(job)
    if housing is None:
        return ()
    units = job.sheet.job.units
    as_one = AS_ONE if housing.truss is not None else ""
    notes = [CAUTION, f"{as_one}{BOUND} Not covered: {NOT_COVERED}."]
    if housing_approximate(job):
        notes.append("Leaf springs are taken to share wind-up and side force alike, at their seats.")
    if housing.across is not None:
        notes.append(
            "The truss bridges the centre section without weld. Beside it the tubes are judged as if its plates shed "
            "their share there, which a rigid centre section makes them do; a second figure tells what the stress is "
            "if they carry on across."
        )
    tables = [
        sections_table(housing, units),
        cases_table(housing, units),
        welds_table(housing, units),
        steps_table(job, units),
    ]
    title = TITLE if housing.truss is not None else BARE_TITLE
    axle = _map(job, housing, units)
    views = _views(job, housing, axle, units)
    plots = (*_diagrams(housing, axle, units), *_flow(housing, axle))
    return (Section(title, tuple(notes), views, tuple(t for t in tables if t.rows), plots),)


def _map(job: Job, housing: Housing, units: str) -> AxleMap:
    half = job.axle.half_width
    return AxleMap((-half, half), job.axle.section, housing.study.beam.counted, units)


def _views(job: Job, housing: Housing, axle: AxleMap, units: str) -> tuple[Figure, ...]:
    """What is looked at first: stiffness, stress, shape from behind and from above."""
    figures = [
        _stiffness(housing, axle, units) if housing.truss is not None else None,
        _stress(housing, axle, units),
        _shape(job, housing, axle, units, "bump"),
        _shape(job, housing, axle, units, _most_toe(housing), in_plan=True),
    ]
    return tuple(f for f in figures if f is not None)


def _gapped(housing: Housing, values: Array, *, bowl: float = np.nan) -> tuple[Array, Array]:
    """Stations and values with the centre section between them."""
    stations, roots = housing.study.beam.stations, housing.study.beam.roots
    cut = int(np.searchsorted(stations, sum(roots) / 2.0))
    return (
        np.insert(stations, cut, roots),
        np.insert(values.astype(np.float64), cut, (bowl, bowl)),
    )


def _stiffness(housing: Housing, axle: AxleMap, units: str) -> Figure:
    unit = INCH**4 if units == "in" else 1e6
    sections = housing.study.beam.sections
    lines = []
    for name, field, style in (("upright plane", "upright", 0), ("in plan", "level", 2)):
        values = np.array([getattr(s, field) for s in sections]) / unit
        lines.append(AxleLine(f"with truss, {name}", *_gapped(housing, values), style))
    alone = np.full(len(sections), housing.study.beam.bare.upright / unit)
    lines.append(AxleLine("tube alone", *_gapped(housing, alone), TUBE_STYLE))
    words = "in^4" if units == "in" else "10^6 mm^4"
    caption = "Second moment of tube and truss: how stiff the housing is in bending, place by place."
    return Figure(axle_svg("Stiffness along the axle, second moment", words, lines, axle, most=True), caption)


def _stress(housing: Housing, axle: AxleMap, units: str) -> Figure:
    unit = KSI if units == "in" else 1.0
    cases, lines = housing.study.cases, []
    if housing.study.beam.trussed:
        most = np.max([c.best.equivalent for c in cases], axis=0) / unit
        lines.append(AxleLine("tube, with truss", *_gapped(housing, most), TRUSS_STYLE))
        plates = np.max([c.best.plates for c in cases], axis=0) / unit
        lines.append(AxleLine("plates of the truss", *_gapped(housing, np.where(plates > 0.0, plates, np.nan)), 3))
    most = np.max([c.bare.equivalent for c in cases], axis=0) / unit
    lines.append(AxleLine("tube alone", *_gapped(housing, most), TUBE_STYLE))
    limits = [(housing.limit / unit, f"tube allowed {housing.limit / unit:.0f}")]
    if housing.plate_limit and abs(housing.plate_limit - housing.limit) > 1.0:
        limits.append((housing.plate_limit / unit, f"plates allowed {housing.plate_limit / unit:.0f}"))
    words = "ksi" if units == "in" else "MPa"
    caption = (
        "Largest stress of all load cases at each place, bending, pull and torque together, beside what is allowed."
    )
    return Figure(axle_svg("Stress along the axle, worst of all cases", words, lines, axle, limits, most=True), caption)


def _most_toe(housing: Housing) -> str:
    """The case that turns the wheels most in plan."""
    sizes = [float(np.abs(c.bare.ends.toe).max()) for c in housing.study.cases]
    return housing.study.cases[int(np.argmax(np.round(sizes, 6)))].name


def _shape(job: Job, housing: Housing, axle: AxleMap, units: str, name: str, in_plan: bool = False) -> Figure | None:
    if all(c.name != name for c in housing.study.cases):
        return None
    one, unit = housing.study.case(name), INCH if units == "in" else 1.0
    made = [(one.bare, "tube alone", TUBE_STYLE)]
    made = [(one.truss, "with truss", TRUSS_STYLE), *made] if one.truss is not None else made
    lines = []
    for response, words, style in made:
        along, ends = (response.forward, response.ends.ahead) if in_plan else (response.up, response.ends.rise)
        lines.append(_bent(job, housing, along, ends, words, style, unit))
    what, unsaid = ("toe", "in plan, forward positive, ") if in_plan else ("camber", "")
    (right, left), (bare_right, bare_left) = (getattr(r.ends, what) for r in (one.best, one.bare))
    caption = (
        f"How the axle line bends {unsaid}at {name}, the centre section held. {what.capitalize()} changes by "
        f"{left:+.2f} deg at the left and {right:+.2f} deg at the right wheel"
    )
    caption += f"; without the truss {bare_left:+.2f} and {bare_right:+.2f} deg." if one.truss is not None else "."
    title = f"Shape of the axle line{' in plan' if in_plan else ''} at {name}"
    return Figure(axle_svg(title, "in" if units == "in" else "mm", lines, axle, most=True), caption)


def _bent(job: Job, housing: Housing, along: Array, ends: Array, name: str, style: int, unit: float) -> AxleLine:
    stations, values = _gapped(housing, along, bowl=0.0)
    half = job.axle.half_width
    stations = np.concatenate([[-half], stations, [half]])
    return AxleLine(name, stations, np.concatenate([ends[:1], values, ends[1:]]) / unit, style)


def _diagrams(housing: Housing, axle: AxleMap, units: str) -> tuple[Figure, ...]:
    """Moments, shear and torque of the cases that ask most."""
    chosen = _chosen(housing)
    moment, force = (1355817.9483314, 4448.2216152605) if units == "in" else (1e6, 1e3)
    words = ("1000 lbf ft", "1000 lbf") if units == "in" else ("kN m", "kN")
    rows = (
        ("Bending moment, upright plane", "about_x", moment, words[0], "Positive: the tube's bottom is pulled."),
        ("Bending moment in plan", "about_z", moment, words[0], "Positive: the tube's front is pulled."),
        ("Shear, upright", "upward", force, words[1], "What is farther left pushes up on what is farther right."),
        ("Torque", "torque", moment, words[0], "In the tubes; what the axle shafts carry is not in it."),
    )
    figures = []
    for title, field, unit, unit_words, caption in rows:
        lines = [
            AxleLine(one.name, *_gapped(housing, getattr(one.actions, field) / unit), k) for k, one in enumerate(chosen)
        ]
        figures.append(Figure(axle_svg(title, unit_words, lines, axle, most=True), caption))
    return tuple(figures)


def _chosen(housing: Housing) -> list[CaseBending]:
    """The cases that bend most in either plane, twist most, and govern the tube; four at most."""
    study = housing.study
    names = [study.worst()[0].name]
    for field in ("about_x", "about_z", "torque"):
        sizes = [float(np.abs(getattr(c.actions, field)).max()) for c in study.cases]
        names.append(study.cases[int(np.argmax(np.round(sizes, 3)))].name)
    return [study.case(n) for n in dict.fromkeys(names)]


def _flow(housing: Housing, axle: AxleMap) -> tuple[Figure, ...]:
    """How much of what is allowed the seams onto the tube use along them."""
    plan = housing.plan
    if plan is None or not housing.welds:
        return ()
    steel = steel_of(plan.material)
    names = list(dict.fromkeys(f.seam.name for f, _ in housing.welds if f.seam.second != CENTRE))
    lines = []
    flows = all_flows(housing.study)
    for k, name in enumerate(names):
        mine = sorted((f for f in flows if f.seam.name == name), key=lambda f: f.station)
        used = [nearest(seam_strengths(f, steel)) for f in mine]
        stations = np.array([f.station for f in mine])
        values = FULL * np.array([s.used * s.factor.value for s in used])
        # the centre section lies between the seams of both tubes
        cut = int(np.searchsorted(stations, sum(housing.study.beam.roots) / 2.0))
        if 0 < cut < len(stations):
            stations, values = np.insert(stations, cut, sum(axle.section) / 2.0), np.insert(values, cut, np.nan)
        lines.append(AxleLine(name.replace(" of the truss", ""), stations, values, k))
    caption = (
        "Weld metal or the plate beside it, whichever is nearer to giving out, worst of all load cases; stitches "
        "counted, and what the plates take up beside the ends of the welds."
    )
    return (Figure(axle_svg("Welds of the truss, used", "%", lines, axle, [(FULL, "allowed")], most=True), caption),)
