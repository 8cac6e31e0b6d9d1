"""The flow of a job on one screen: sheet, axle, plan, parts, checks, release, files, papers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from fixturegen.axle.model import axle_of
from fixturegen.checks import registry
from fixturegen.checks.job_numbers import had, linked, loaded
from fixturegen.checks.registry import FOLDER, TRUSS_PLAN, Job
from fixturegen.checks.release import held_only, release
from fixturegen.errors import EXIT_HELD, EXIT_OK, Fault, InputFault, MachineFault
from fixturegen.findings import Finding, Level, Number
from fixturegen.progress import Progress, silent
from fixturegen.sheet import Sheet, assumptions, digest, history
from fixturegen.sheet import read as read_sheet
from fixturegen.sheet.component_files import demand_files, files_of
from fixturegen.sources import params_folder
from fixturegen.studies.jig_plan import plan_of
from fixturegen.studies.numbers import numbers_of

if TYPE_CHECKING:
    from fixturegen import aside
    from fixturegen.plate.placed import SheetFigures
    from fixturegen.write.staging import Draft, Order
    from fixturegen.write.summary import Contents, PaperFile

Units = Literal["mm", "in"]
# kinds that are of no use without each other
FELLOWS: dict[str, tuple[str, ...]] = {"brackets": ("locators",)}
# loaded by the second process while the first one draws up the parts and has nothing for it yet
LOADED = ("fixturegen.write.staging", "fixturegen.papers.jig_pictures", "fixturegen.write.sheet_files", "scipy.fft")
NO_TRAVEL = (
    "links, their loads and strength over the travel, truss and gauges are not in this: see `fixturegen links`, or "
    "leave out --sheet"
)
# steps of the second process after which these are kept
ASSEMBLIES, PICTURES, SHEETS, VIEW, PAPERS = (len(LOADED) + n for n in (1, 2, 3, 4, 5))


@dataclass(frozen=True)
class Outcome:
    """What a check or a build came to.

    Attributes:
        sheet_path: The sheet.
        job: Axle, plan, parts and assemblies.
        findings: Every finding.
        numbers: Dotted name to number.
        assumptions: (key, what is used, meaning) of every value the sheet did not give.
        changes: (key, before, after) since the revision the sheet names.
        held: Part name to reason.
        made: Names of the parts the result is about, released and held.
        out: The job folder; None for a check.
        warnings: What else the person should know.
        sheets: Sheets to cut, with what each comes to.
        papers: What is printed, with digests.
    """

    sheet_path: Path
    job: Job
    findings: tuple[Finding, ...]
    numbers: dict[str, Number]
    assumptions: tuple[tuple[str, str, str], ...]
    changes: tuple[tuple[str, str, str], ...]
    held: dict[str, str]
    made: tuple[str, ...]
    out: Path | None = None
    warnings: tuple[str, ...] = ()
    sheets: tuple[SheetFigures, ...] = ()
    papers: tuple[PaperFile, ...] = ()

    @property
    def exit_code(self) -> int:
        """0 when everything asked for is released, else 1."""
        failed = any(f.level is Level.FAIL for f in self.findings)
        return EXIT_HELD if failed or any(name in self.held for name in self.made) else EXIT_OK


def read(sheet_path: Path) -> Sheet:
    """The build sheet, or every fault in it at once.

    Raises:
        SheetFault: When anything is wrong with it.
        MachineFault: When it cannot be read.
    """
    sheet = read_sheet(sheet_path)
    demand_files(sheet, sheet_path)
    return sheet


def check(sheet_path: Path, *, sheet_only: bool = False, progress: Progress = silent) -> Outcome:
    """Every finding but those of reading files back; writes nothing.

    Args:
        sheet_path: The build sheet.
        sheet_only: Stop at sheet and numbers, at rest; the kernel is not loaded.
        progress: Told what is being done.
    """
    sheet = read(sheet_path)
    axle = axle_of(sheet)
    plan = plan_of(sheet, axle)
    job = Job(sheet, axle, plan, store={FOLDER: sheet_path.parent})
    if not sheet_only:
        _add_parts(job)
    if not sheet_only:
        return _outcome(sheet_path, job, registry.run(job, None, progress))
    more = (sheet.links, sheet.truss, sheet.gauges)
    told = (NO_TRAVEL,) if any(section is not None for section in more) else ()
    return replace(_outcome(sheet_path, job, registry.run(job, "numbers", progress), travel=False), warnings=told)


def build(
    sheet_path: Path,
    out: Path | None = None,
    only: str | None = None,
    units: Units | None = None,
    progress: Progress = silent,
) -> Outcome:
    """The job folder: released parts as STEP and DXF, papers, lists, and what is held and why.

    Args:
        sheet_path: The build sheet.
        out: The job folder; `output/<sheet name>` in the current folder when not given.
        only: A kind of part; only those parts are written, into `<out>-<kind>`.
        units: Unit of the cut files; the sheet's when not given.
        progress: Told what is being done.
    """
    from fixturegen import aside, keeping, view_flow

    sheet = read(sheet_path)
    # what is only kept for later cannot be handed over when nothing is kept
    with aside.second_process(keeping.cache_in_use()) as second:
        for module in LOADED:
            second.give(import_module, module)
        outcome = _built(sheet_path, sheet, out, only, units, progress, second)
    return replace(outcome, warnings=(*second.told, *view_flow.told(), *_remembered(sheet_path)))


def _built(
    sheet_path: Path,
    sheet: Sheet,
    out: Path | None,
    only: str | None,
    units: Units | None,
    progress: Progress,
    second: aside.Aside,
) -> Outcome:
    from fixturegen import keeping

    axle = axle_of(sheet)
    plan = plan_of(sheet, axle)
    job = Job(sheet, axle, plan, store={FOLDER: sheet_path.parent})
    _add_parts(job)
    made = _wanted(job, only)
    place = _place(sheet_path, out, only)
    drawn = {TRUSS_PLAN: job.store[TRUSS_PLAN]} if TRUSS_PLAN in job.store else {}
    bare = Job(sheet, axle, plan, job.parts, job.assemblies, brackets=job.brackets, store=drawn)
    second.give(_ahead, bare, keeping.cache_folder(), None if only else sheet_path, units or sheet.job.units)
    # the kernel is loaded here: what is drawn ahead need not wait for that
    from fixturegen import papers_flow
    from fixturegen.papers.contents import pictures_ahead
    from fixturegen.papers.flat_pictures import part_svg
    from fixturegen.write import folder, staging

    before = _outcome(sheet_path, job, (), made)  # a revision that is not kept is told at once
    with folder.staged(place) as stage:
        order = staging.Order(stage, job, made, units or sheet.job.units, progress)
        findings = registry.run(job, None, progress)
        draft = staging.write_parts(order, _held(job, findings))
        second.wait(ASSEMBLIES)
        staging.write_assemblies(order, draft, _held(job, findings + draft.findings))
        findings += draft.findings
        numbers = before.numbers | had(job)
        outcome = replace(before, findings=findings, numbers=numbers, held=_held(job, findings), out=place)
        staging.settle(order, draft, outcome.held, findings, part_svg)
        # sheets it has not begun by now are made here
        if only is None and second.reached(PICTURES):
            second.wait(SHEETS)
        if only is None:
            outcome = _with_sheets(order, outcome, draft)
            if second.reached(VIEW):
                if not second.reached(PAPERS):
                    pictures_ahead(job)  # instead of waiting
                second.wait(PAPERS)
            told = (outcome.findings, outcome.numbers, outcome.assumptions)
            files, found = papers_flow.built_papers(order, draft, outcome.held, told)
            outcome = replace(outcome, findings=outcome.findings + found, papers=files)
        contents = _contents(outcome, order.units, draft)
        _write_papers(stage, outcome, contents, progress, second)
        findings = (*outcome.findings, staging.write_summary(order, contents))
    return replace(outcome, findings=findings)


def _ahead(job: Job, cache: Path, whole: Path | None, units: Units) -> Iterator[None]:
    """What the second process keeps for the first: files of assemblies, pictures, files of sheets, meshes; a step each.

    It takes it that no part will be held. Where one is, what hangs on it is made again without it.

    Args:
        job: Parts and assemblies; nothing drawn yet.
        cache: Where results are kept.
        whole: The build sheet, or None when one kind of part is written and nothing is put together.
        units: Unit of the cut files.
    """
    from fixturegen import keeping, nest_flow, papers_flow, view_flow
    from fixturegen.papers.jig_pictures import jig_pictures
    from fixturegen.papers.pixels import few_colours
    from fixturegen.write import sheet_files, staging

    with keeping.cache_in(cache):
        if whole:
            staging.assemblies_ahead(job)
        yield
        for picture in jig_pictures(job):
            few_colours(picture.data)
        yield
        if whole:
            sheets = nest_flow.cut_sheets(job.sheet, nest_flow.nests_of(whole, job.sheet, job.parts.values()))
            sheet_files.sheets_ahead(job.sheet, sheets, units, staging.kerf_in_files(job.sheet))
        yield
        view_flow.view_ahead(job)
        yield
        if whole:
            papers_flow.papers_ahead(job)
        yield


def _with_sheets(order: Order, outcome: Outcome, draft: Draft) -> Outcome:
    """The outcome with the released parts nested, their sheets written and read back."""
    from fixturegen import nest_flow
    from fixturegen.papers.sheet_pictures import sheet_svg
    from fixturegen.write.sheet_files import write_sheets

    sheet = outcome.job.sheet
    released = [p for p in order.parts if p.name not in outcome.held]
    nests = nest_flow.nests_of(outcome.sheet_path, sheet, released, order.progress)
    order.progress("write sheets", 0, 0)
    figures, found = write_sheets(
        order, nest_flow.cut_sheets(sheet, nests), draft.masses, lambda s: sheet_svg(s, order.units)
    )
    return replace(
        outcome,
        findings=outcome.findings + nest_flow.findings_of(nests) + found,
        numbers=outcome.numbers | nest_flow.numbers_of(nests),
        sheets=figures,
    )


def _place(sheet_path: Path, out: Path | None, only: str | None) -> Path:
    """The job folder; of one kind of part, `<out>-<kind>`, so that the whole job stays as it is."""
    place = Path("output") / sheet_path.stem if out is None else out
    return place.with_name(f"{place.name}-{only}") if only and place.name else place


def _write_papers(stage: Path, outcome: Outcome, contents: Contents, progress: Progress, second: aside.Aside) -> None:
    """The report, from what is released and what is held."""
    from fixturegen import view_flow
    from fixturegen.papers.contents import Facts, report_of
    from fixturegen.papers.jig_pictures import jig_pictures
    from fixturegen.papers.report import write_report
    from fixturegen.studies.error_budget import budget_of

    job = outcome.job
    progress("write report", 0, 0)
    facts = Facts(
        sheet_name=outcome.sheet_path.name,
        digest=digest(job.sheet),
        assumptions=outcome.assumptions,
        changes=outcome.changes,
        findings=outcome.findings,
        numbers=outcome.numbers,
        held=outcome.held,
        masses={name: m.mass for name, m in contents.measured.items()},
        pictures=(),
        budget=budget_of(job.sheet, job.axle, job.plan) if job.axle.front else None,
        sheets=outcome.sheets,
        papers=tuple((p.path, p.title, p.pages) for p in outcome.papers),
    )
    report = report_of(job, facts)
    if second.reached(SHEETS):
        second.wait(VIEW)
    report = view_flow.with_view(report, job, contents)
    # pictures take longest of all that is made ahead: they are asked for when nothing else is left to do
    second.wait(PICTURES)
    write_report(stage / "report.html", replace(report, pictures=jig_pictures(job)))


def _contents(outcome: Outcome, units: Units, draft: Draft) -> Contents:
    """What the summary is made from."""
    from fixturegen import nest_flow
    from fixturegen.write.summary import Contents, inputs_of

    sheet, path = outcome.job.sheet, outcome.sheet_path
    since = history.folder_of(path) / f"{sheet.revision.since}.toml"
    return Contents(
        job=sheet.job.name,
        revision=sheet.revision.id,
        units=units,
        inputs=inputs_of(
            path,
            params_folder().glob("*.toml"),
            [since] if sheet.revision.since else [],
            [layout] if (layout := nest_flow.layout_path(path)).is_file() else [],
            [path.parent / name for _, name in files_of(sheet)],
        ),
        parts=tuple(outcome.job.parts[name] for name in outcome.made),
        held={n: r for n, r in outcome.held.items() if n in outcome.made},
        measured=draft.measured,
        files=draft.files,
        findings=outcome.findings,
        numbers=outcome.numbers,
        assumptions=outcome.assumptions,
        sheets=outcome.sheets,
        papers=outcome.papers,
    )


def _add_parts(job: Job) -> None:
    # a check of the sheet alone draws nothing and should not pay for these
    from fixturegen.brackets.registry import make_brackets
    from fixturegen.parts.registry import make_jig
    from fixturegen.studies.bracket_plan import bracket_plan
    from fixturegen.truss.registry import make_truss

    brackets = bracket_plan(job.sheet, job.axle)
    parts, assemblies = make_jig(job.sheet, job.axle, job.plan)
    job.brackets = make_brackets(job.sheet, job.axle, job.plan, brackets)
    truss = make_truss(job.sheet, job.axle, brackets)
    if truss.plan is not None:
        job.store[TRUSS_PLAN] = truss.plan
    job.parts.update({p.name: p for p in (*parts, *job.brackets.parts, *truss.parts)})
    job.assemblies.update({a.name: a for a in (*assemblies, *job.brackets.assemblies, *truss.assemblies)})
    if job.sheet.gauges is not None:
        from fixturegen.gauges.registry import STORE, make_gauges

        job.store[STORE] = gauges = make_gauges(job.sheet, job.axle, job.plan, brackets)
        job.store["numbers"] = gauges.numbers
        job.parts.update({p.name: p for p in gauges.parts})
        job.assemblies.update({a.name: a for a in gauges.assemblies})


def _held(job: Job, findings: tuple[Finding, ...]) -> dict[str, str]:
    return held_only(release(job.parts.values(), job.assemblies.values(), findings))


def _outcome(
    sheet_path: Path,
    job: Job,
    findings: tuple[Finding, ...],
    made: tuple[str, ...] | None = None,
    *,
    travel: bool = True,
) -> Outcome:
    over_travel = linked(job) | loaded(job) if travel else {}
    return Outcome(
        sheet_path=sheet_path,
        job=job,
        findings=findings,
        numbers=numbers_of(job.sheet, job.axle, job.plan, job.store.get("study.budget"))
        | job.store.get("numbers", {})
        | had(job)
        | over_travel,
        assumptions=tuple(assumptions(job.sheet)),
        changes=tuple(history.changes_since(sheet_path, job.sheet)),
        held=_held(job, findings),
        made=tuple(job.parts) if made is None else made,
    )


def _wanted(job: Job, only: str | None) -> tuple[str, ...]:
    """Names of the parts of one kind, or of all.

    Raises:
        InputFault: When there is no such kind.
    """
    if only is None:
        return tuple(job.parts)
    wanted = (only, *FELLOWS.get(only, ()))
    found = tuple(p.name for p in job.parts.values() if p.kind.replace("_", "-") in wanted)
    if not found:
        kinds = sorted({p.kind.replace("_", "-") for p in job.parts.values()})
        raise InputFault(Fault("--only", only, ", ".join(kinds), "name one kind of part of this job"))
    return found


def _remembered(sheet_path: Path) -> tuple[str, ...]:
    """What to tell about keeping this revision; the folder stands already, whatever the disk says."""
    try:
        told = history.remember(sheet_path)
    except MachineFault as refused:
        told = f"the revision was not kept beside the sheet: {refused}"
    return (told,) if told else ()
