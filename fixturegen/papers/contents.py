"""What the report says, gathered from the job; no text is made up anywhere else."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from fixturegen import __version__
from fixturegen.checks.registry import Job
from fixturegen.findings import Finding, Level, Number
from fixturegen.papers import cautions
from fixturegen.papers.access_section import access_sections
from fixturegen.papers.bend_tables import BEND_HEAD, bend_rows
from fixturegen.papers.bracket_pages import bracket_sections
from fixturegen.papers.budget_table import budget_table
from fixturegen.papers.component_section import component_sections
from fixturegen.papers.flat_pictures import flat_svg, turned_svg
from fixturegen.papers.gap_section import gap_sections
from fixturegen.papers.gauge_section import gauge_sections
from fixturegen.papers.housing_section import housing_section
from fixturegen.papers.link_quantities import LinkCase
from fixturegen.papers.link_section import link_section
from fixturegen.papers.paper_section import Paper, paper_sections
from fixturegen.papers.part_tables import PLATE_HEAD, TURNED_HEAD, plate_rows, turned_rows
from fixturegen.papers.pixels import few_colours
from fixturegen.papers.process_table import process_tables
from fixturegen.papers.report import (
    FindingRow,
    PartCard,
    Picture,
    Report,
    Section,
    Table,
    quantity_text,
)
from fixturegen.papers.sheet_tables import NOTE, sheet_card
from fixturegen.papers.strength_section import strength_section
from fixturegen.papers.words import INCH, TRUST_WORDS, fraction, length, shown
from fixturegen.plate import Part
from fixturegen.plate.placed import SheetFigures
from fixturegen.plate.profile import bounds
from fixturegen.studies.error_budget import TRIM, Budget
from fixturegen.studies.link_study import LinkStudy
from fixturegen.studies.proofs import proofs_of

SENSIBLE = (-5.0, 15.0)  # caster in the vehicle worth listing [deg], the range the sheet takes
PICTURED = "report.pictured"  # key of `Job.store`: sections made ahead
_LEVELS = (Level.FAIL, Level.WARN, Level.NOT_CHECKED, Level.PASS)


@dataclass(frozen=True)
class Facts:
    """What the report needs beside the job.

    Attributes:
        sheet_name: Name of the sheet file.
        digest: SHA-256 of the sheet's values.
        assumptions: (key, text, meaning) of every default used.
        changes: (key, before, after) since the revision the sheet names.
        findings: Of every claim.
        numbers: Dotted name to number.
        held: Part name to reason.
        masses: Part name to mass [kg].
        pictures: Pictures of the jig.
        budget: The error budget, or None on a rear axle.
        sheets: Sheets with what is cut from them, and what that comes to.
        papers: Path, title and pages of what was made to be printed.
    """

    sheet_name: str
    digest: str
    assumptions: tuple[tuple[str, str, str], ...]
    changes: tuple[tuple[str, str, str], ...]
    findings: tuple[Finding, ...]
    numbers: Mapping[str, Number]
    held: Mapping[str, str]
    masses: Mapping[str, float]
    pictures: tuple[Picture, ...]
    budget: Budget | None
    sheets: tuple[SheetFigures, ...] = ()
    papers: tuple[Paper, ...] = ()


def pictures_ahead(job: Job) -> None:
    """Make the sections that hang on the checks alone, with their pictures, so that `report_of` finds them made.

    Args:
        job: All checks were made.
    """
    job.store[PICTURED] = _pictured(job)
    for section in job.store[PICTURED]:
        for shot in section.shots:
            few_colours(shot.data)


def _pictured(job: Job) -> tuple[Section, ...]:
    """Sections that hang on the checks alone."""
    made: tuple[Section, ...] | None = job.store.get(PICTURED)
    if made is None:
        makers = (gap_sections, access_sections, component_sections, gauge_sections)
        made = tuple(section for maker in makers for section in maker(job))
    return made


def report_of(job: Job, facts: Facts) -> Report:
    """The report of a job as texts."""
    sheet = job.sheet
    units = sheet.job.units
    jig = job.assemblies.get("jig")
    released = sum(1 for name in job.parts if name not in facts.held)
    verdict = f"{released} of {len(job.parts)} parts released for making"
    verdict += "." if not facts.held else f"; {len(facts.held)} held, named below."
    budget = budget_table(facts.budget) if facts.budget is not None else None
    tables = [_settings(job), _proofs(job, units), budget, _stations(job), _readings(job), *process_tables(job)]
    return Report(
        title=sheet.job.name,
        revision=sheet.revision.id,
        since=sheet.revision.since,
        sheet_name=facts.sheet_name,
        digest=facts.digest,
        version=__version__,
        cautions_top=cautions.TOP,
        verdict=verdict,
        held=_held(facts.held),
        assumptions=facts.assumptions,
        changes=facts.changes,
        pictures=facts.pictures,
        tables=tuple(t for t in tables if t is not None),
        steps=jig.steps if jig else (),
        attention=tuple(_finding(f) for f in _ordered(facts.findings) if f.level is not Level.PASS),
        passes=_passes(facts.findings),
        counts=tuple((lv.value, sum(f.level is lv for f in facts.findings)) for lv in _LEVELS),
        parts=tuple(_card(p, facts) for p in job.parts.values()),
        hardware=tuple((w, s, str(q), where) for w, s, q, where in (jig.hardware if jig else ())),
        welds=tuple(
            (" to ".join(w.parts), fraction(w.leg, 16), fraction(w.length, 8), w.words)
            for w in (jig.welds if jig else ())
        ),
        cautions=cautions.WORK,
        numbers=tuple(
            (name, shown(n, units), n.source, TRUST_WORDS[n.trust])
            for name, n in sorted(facts.numbers.items())
            if not name.startswith("loads.")  # they stand in a table of their own
        ),
        sheets=tuple(sheet_card(s, units) for s in facts.sheets),
        sheets_note=NOTE,
        sections=(
            *_links(job),
            *bracket_sections(job, facts.held, facts.findings),
            *strength_section(job),
            *housing_section(job),
            *_pictured(job),
            *paper_sections(facts.papers),
        ),
    )


def _links(job: Job) -> tuple[Section, ...]:
    """The section of the links; none where the sheet has none, or where they are no linkage."""
    study = job.store.get("link.study")
    if not isinstance(study, LinkStudy):
        return ()
    return (link_section((LinkCase("as measured", study),), job.sheet.job.units),)


def _held(held: Mapping[str, str]) -> tuple[tuple[str, str], ...]:
    """Held parts by reason, so that one fault is read once."""
    by_reason: dict[str, list[str]] = {}
    for name, reason in sorted(held.items()):
        by_reason.setdefault(reason, []).append(name)
    return tuple((", ".join(names), reason) for reason, names in sorted(by_reason.items(), key=lambda r: r[1]))


def _ordered(findings: tuple[Finding, ...]) -> list[Finding]:
    return sorted(findings, key=lambda f: (_LEVELS.index(f.level), f.code))


def _passes(findings: tuple[Finding, ...]) -> tuple[FindingRow, ...]:
    """What passed, by code; claims about one file each are told once for all of them."""
    rows: list[FindingRow] = []
    files: dict[str, list[Finding]] = {}
    for f in _ordered(findings):
        if f.level is not Level.PASS:
            continue
        if f.value is None and f.parts and not f.limit:
            files.setdefault(f.code, []).append(f)
        else:
            rows.append(_finding(f))
    for same in files.values():
        names = ", ".join(dict.fromkeys(p for f in same for p in f.parts))
        words = same[0].words if len(same) == 1 else f"{len(same)} looked at, each good: {names}"
        rows.append(replace(_finding(same[0]), words=words, parts=()))
    return tuple(sorted(rows, key=lambda r: r.code))


def _finding(f: Finding) -> FindingRow:
    return FindingRow(
        f.code,
        f.level.value,
        f.claim.rstrip("."),
        f.words,
        f.remedy,
        f.parts,
        f.source,
        quantity_text(f.value, f.unit),
        quantity_text(f.limit, f.unit),
    )


def _settings(job: Job) -> Table | None:
    plan, axle, sheet = job.plan, job.axle, job.sheet
    if plan.tie is None or axle.bench_caster is None:
        return None
    rows = []
    for index in plan.tie.row:
        for clock in plan.tie.row:
            change = clock.clock_angle - index.index_angle
            bench = axle.bench_caster + change
            vehicle = bench - sheet.axle.pinion_angle
            if not SENSIBLE[0] <= vehicle <= SENSIBLE[1]:
                continue
            meant = "THIS JOB" if (index.label, clock.label) == ("0", "0") else ""
            rows.append((abs(change), (index.label, clock.label, f"{bench:.2f}", f"{vehicle:.2f}", meant)))
    return Table(
        "Settings of the index row",
        "The tie goes through one hole of the index plate and the same-named hole of both clock plates. "
        f"The plates are cut for {axle.plate_caster:.2f} deg from the face set vertical: bench caster "
        f"{axle.bench_caster:.2f} deg, face angle {axle.face_angle:+.2f} deg allowed for.",
        (
            "Index hole",
            "Clock hole",
            "Caster on the bench, pinion level [deg]",
            f"Caster in the vehicle, pinion {float(sheet.axle.pinion_angle):.1f} deg up [deg]",
            "",
        ),
        tuple(r for _, r in sorted(rows)),
        (2, 3),
    )


def _proofs(job: Job, units: str) -> Table:
    rows = []
    for p in proofs_of(job.sheet, job.axle, job.plan):
        tell = f"{p.per_tenth / INCH:.4f} in" if p.per_tenth else ""
        rows.append((p.name, length(p.value, units), f"+/- {p.tolerance / INCH:.3f} in", p.tool, tell, "[box]"))
    note = "Measure each and write it in the box. The last column but one says what 0.1 deg looks like there."
    if job.plan.tie is not None:
        note += (
            " Then stand a level on the two level pins of the index plate, the left and the right clock plate, "
            f"same way round each time. {TRIM} An unlevel table cancels."
        )
    return Table(
        "Prove the jig before striking an arc",
        note,
        ("What", "Planned", "Good within", "Tool", "0.1 deg is", "Measured"),
        tuple(rows),
        (1, 2, 4),
    )


def _stations(job: Job) -> Table:
    axle = job.axle
    rows = [
        ("wheel mount surface, left", axle.half_width),
        ("wheel mount surface, right", -axle.half_width),
        ("tube end, left", axle.tube_ends[1]),
        ("tube end, right", axle.tube_ends[0]),
        ("centre section, left side", axle.section[1]),
        ("centre section, right side", axle.section[0]),
        ("middle of the bearing bores", axle.bearing_middle),
        ("index plate, middle of its thickness", job.plan.index.station),
    ]
    for k in axle.knuckles:
        rows.append((f"steering axis at axle height, {k.side}", k.axis_point[1]))
        rows.append((f"inboard weld of the knuckle, {k.side}", k.weld_station))
    rows += [(f"cradle {c.side} (carries the {c.carries})", c.station) for c in job.plan.cradles]
    rows.sort(key=lambda r: -r[1])
    texts = tuple(
        (
            name,
            f"{'left' if y >= 0 else 'right'} {fraction(abs(y))}",
            fraction(axle.half_width - y),
            fraction(axle.half_width + y),
            "[box]",
        )
        for name, y in rows
    )
    return Table(
        "Stations along the axle",
        "From the vehicle's centreline and from each wheel mount surface, so that a tape has something to "
        "hook on. Rounding error in brackets, in inches.",
        (
            "What",
            "From the centreline",
            "From the left wheel mount surface",
            "From the right wheel mount surface",
            "Measured",
        ),
        texts,
        (1, 2, 3),
    )


def _readings(job: Job) -> Table | None:
    if not job.axle.knuckles:
        return None
    what = ("caster (level on the plate)", "pivot bores, finder across, camber")
    rows = [(k.side, w, "[box]", "[box]", "[box]") for k in job.axle.knuckles for w in what]
    return Table(
        "Readings to take",
        "Before the tacks, after the tacks, and cold with the jig off.",
        ("Side", "What", "Before", "Tacked", "Cold, jig off"),
        tuple(rows),
    )


def _card(part: Part, facts: Facts) -> PartCard:
    mass = facts.masses.get(part.name)
    head: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    svg, size = "", ""
    if part.profile is not None:
        x0, y0, x1, y1 = bounds(part.profile.outer)
        kind = "bent plate, flat" if part.bends else "plate"
        size = f"{kind} {part.thickness / INCH:.3f} in, {(x1 - x0) / INCH:.2f} x {(y1 - y0) / INCH:.2f} in"
        svg = flat_svg(part)
        head, rows = PLATE_HEAD, plate_rows(part.profile)
    elif part.turned is not None:
        total = sum(s.length for s in part.turned.steps)
        size = f"turned, {total / INCH:.3f} in long"
        svg = turned_svg(part)
        head, rows = TURNED_HEAD, turned_rows(part.turned)
    elif part.tube is not None:
        od, wall, long, square = part.tube
        kind = "square tube" if square else "tube"
        size = f"{kind} {od / INCH:.3f} x {wall / INCH:.3f} in, {fraction(long)} long"
    return PartCard(
        part.name,
        part.label,
        part.quantity,
        part.hand or "",
        size,
        f"{mass / 0.45359237:.1f} lb" if mass is not None else "",
        part.datum,
        svg,
        head,
        rows,
        part.notes,
        part.name in facts.held,
        BEND_HEAD,
        bend_rows(part),
    )
