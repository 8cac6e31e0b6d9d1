"""Flows beside the build: a better layout on the sheets, and what the axle does on its links."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from fixturegen import nest_flow
from fixturegen.axle.model import axle_of
from fixturegen.checks import registry
from fixturegen.checks.registry import Job
from fixturegen.errors import EXIT_HELD, EXIT_OK, Fault, SheetFault
from fixturegen.findings import Finding, Level, Number
from fixturegen.pipeline import check, read
from fixturegen.plate.placed import CutSheet
from fixturegen.progress import Progress, silent
from fixturegen.studies.jig_plan import plan_of
from fixturegen.studies.link_study import link_numbers, study_of


@dataclass(frozen=True)
class NestOutcome:
    """What nesting came to.

    Attributes:
        sheets: Sheets with their parts.
        compared: What was used and what rectangles would use, one line a plate.
        findings: Of the checks and of the layouts.
        numbers: Dotted name to number.
        held: Part name to reason; held parts are not nested.
        kept: Where the layout is kept.
    """

    sheets: tuple[CutSheet, ...]
    compared: tuple[str, ...]
    findings: tuple[Finding, ...]
    numbers: dict[str, Number]
    held: dict[str, str]
    kept: Path

    @property
    def exit_code(self) -> int:
        """0 when every plate part is released and has its place, else 1."""
        bad = any(f.level is Level.FAIL or (f.code == nest_flow.LAYOUT and f.remedy) for f in self.findings)
        return EXIT_HELD if bad or self.held else EXIT_OK


def nest(sheet_path: Path, seconds: float, progress: Progress = silent) -> NestOutcome:
    """Look for a layout of the parts that pass every check, and keep it beside the sheet.

    Args:
        sheet_path: The build sheet.
        seconds: How long to look, for all plates together.
        progress: Told what is being done.

    Raises:
        SheetFault: When the sheet lists no sheets.
        MachineFault: When the layout cannot be written.
    """
    checked = check(sheet_path, progress=progress)
    sheet = checked.job.sheet
    if not sheet.sheets:
        remedy = "list what stands in the rack under [[sheets]]: name, plate, length, width, count"
        raise SheetFault(Fault("sheets", "none", "at least one sheet or remnant", remedy))
    released = [p for p in checked.job.parts.values() if p.name not in checked.held]
    nests = nest_flow.improved(sheet_path, sheet, released, seconds, progress)
    kept = nest_flow.kept_beside(sheet_path, nests)
    return NestOutcome(
        sheets=nest_flow.cut_sheets(sheet, nests),
        compared=tuple(nest_flow.compared_words(n) for n in nests),
        findings=checked.findings + nest_flow.findings_of(nests),
        numbers=nest_flow.numbers_of(nests),
        held={n: r for n, r in checked.held.items() if checked.job.parts[n].profile is not None},
        kept=kept,
    )


@dataclass(frozen=True)
class LinksOutcome:
    """What the links of one sheet, and of others beside it, come to.

    Attributes:
        cases: (name of the sheet, dotted name to number), the sheet itself first.
        findings: Of the claims about links.
    """

    cases: tuple[tuple[str, dict[str, Number]], ...]
    findings: tuple[Finding, ...]

    @property
    def exit_code(self) -> int:
        """0 when nothing fails, else 1."""
        return EXIT_HELD if any(f.level is Level.FAIL for f in self.findings) else EXIT_OK


def links(sheet_path: Path, others: tuple[Path, ...] = ()) -> LinksOutcome:
    """What the axle does over its travel on the links of a sheet, and of others to compare; no kernel.

    Args:
        sheet_path: The build sheet.
        others: Sheets whose links are shown beside it.

    Raises:
        SheetFault: When a sheet is wrong.
        InputFault: When one has no links, or they are no linkage.
    """
    cases: list[tuple[str, dict[str, Number]]] = []
    findings: tuple[Finding, ...] = ()
    for path in (sheet_path, *others):
        sheet = read(path)
        axle = axle_of(sheet)
        study = study_of(sheet, axle)
        cases.append((path.name, link_numbers(sheet, axle, study)))
        if path == sheet_path:
            job = Job(sheet, axle, plan_of(sheet, axle), store={"link.study": study})
            findings = tuple(f for c in registry.claims("numbers") if c.code.startswith("LNK") for f in c.check(job))
    return LinksOutcome(tuple(cases), findings)
