"""Flows beside the build: a better layout on the sheets, and what the axle does on its links."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from fixturegen import nest_flow
from fixturegen.axle.model import axle_of
from fixturegen.checks import registry
from fixturegen.checks.registry import Job
from fixturegen.errors import EXIT_HELD, EXIT_OK, Fault, InputFault, SheetFault
from fixturegen.findings import Finding, Level, Number
from fixturegen.pipeline import check, read
from fixturegen.plate.placed import CutSheet
from fixturegen.progress import Progress, silent
from fixturegen.studies.jig_plan import plan_of
from fixturegen.studies.link_study import LinkStudy, link_numbers, study_of


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
        studies: Of each sheet, in the same order.
        units: in or mm, as the first sheet has it.
    """

    cases: tuple[tuple[str, dict[str, Number]], ...]
    findings: tuple[Finding, ...]
    studies: tuple[LinkStudy, ...] = ()
    units: str = "in"

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
    studies: list[LinkStudy] = []
    units = "in"
    for path in (sheet_path, *others):
        sheet = read(path)
        axle = axle_of(sheet)
        study = study_of(sheet, axle)
        cases.append((path.name, link_numbers(sheet, axle, study)))
        studies.append(study)
        if path == sheet_path:
            units = sheet.job.units
            job = Job(sheet, axle, plan_of(sheet, axle), store={"link.study": study})
            findings = tuple(f for c in registry.claims("numbers") if c.code.startswith("LNK") for f in c.check(job))
    return LinksOutcome(tuple(cases), findings, tuple(studies), units)


def draw_links(outcome: LinksOutcome, out: Path, png: bool = False) -> tuple[str, ...]:
    """Names of the files written: views and plots of an outcome as SVG, with `png` as PNG too; swapped in whole.

    Args:
        outcome: What the links of the sheets come to.
        out: The folder; a new or empty one, or one with such pictures.
        png: Whether each picture is written as PNG as well.

    Raises:
        InputFault: When the folder holds something else, or the geometries cannot stand in one picture.
        MachineFault: When the machine refuses to write.
    """
    from fixturegen.papers.link_files import about_text, link_pictures
    from fixturegen.papers.link_quantities import LinkCase
    from fixturegen.papers.pixels import png_bytes
    from fixturegen.write.folder import staged
    from fixturegen.write.summary import NAME

    if (out / NAME).exists():
        remedy = "a build's folder would be replaced by the pictures; give another --out"
        raise InputFault(Fault("--out", str(out), "a new or empty folder, or one with pictures of links", remedy))
    cases = [LinkCase(Path(name).stem, study) for (name, _), study in zip(outcome.cases, outcome.studies, strict=True)]
    pictures = link_pictures(cases, outcome.units)
    files = {"about.txt": about_text(cases, pictures, outcome.units).encode("utf-8")}
    for picture in pictures:
        files[f"{picture.name}.svg"] = picture.svg.encode("utf-8")
        if png:
            files[f"{picture.name}.png"] = png_bytes(picture.svg)
    with staged(out) as stage:
        for name, content in files.items():
            (stage / name).write_bytes(content)
    return tuple(files)
