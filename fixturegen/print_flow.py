"""The flow of paper alone: every check, then templates, drawings and sheets for the bench in a folder of their own."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from fixturegen.checks.release import held_only, release
from fixturegen.errors import EXIT_HELD, EXIT_OK, Fault, InputFault
from fixturegen.findings import Finding, Level
from fixturegen.pipeline import Outcome, Units, check
from fixturegen.progress import Progress, silent

if TYPE_CHECKING:
    from fixturegen.write.summary import PaperFile


@dataclass(frozen=True)
class PapersOutcome:
    """What printing came to.

    Attributes:
        checked: Job, findings and what is held.
        findings: Of the papers themselves.
        files: What was written.
        out: The folder.
    """

    checked: Outcome
    findings: tuple[Finding, ...]
    files: tuple[PaperFile, ...]
    out: Path

    @property
    def exit_code(self) -> int:
        """0 when every part is released and every paper measures as it should, else 1."""
        bad = any(f.level is Level.FAIL for f in (*self.checked.findings, *self.findings))
        return EXIT_HELD if bad or self.checked.held else EXIT_OK

    @property
    def pages(self) -> int:
        """How many pages there are to print."""
        return sum(f.pages or 0 for f in self.files)


def papers(
    sheet_path: Path,
    out: Path | None = None,
    paper: str | None = None,
    units: Units | None = None,
    progress: Progress = silent,
) -> PapersOutcome:
    """Every paper of a sheet in a folder of its own; parts that are held have none.

    Args:
        sheet_path: The build sheet.
        out: The folder; `output/<sheet name>-papers` when not given.
        paper: letter or a4; the sheet's when not given.
        units: Unit of the DXF files; the sheet's when not given.
        progress: Told what is being done.

    Raises:
        SheetFault: When anything is wrong with the sheet.
        InputFault: When the folder holds something else.
        MachineFault: When the machine refuses to write.
    """
    place = Path("output") / f"{sheet_path.stem}-papers" if out is None else out
    refuse_out(place)
    checked = check(sheet_path, progress=progress)
    # the kernel is loaded by now
    from fixturegen.papers_flow import contents_of, masses_of, write_cut_files, write_papers
    from fixturegen.write.folder import staged

    job = checked.job
    given = (checked.findings, checked.numbers, checked.assumptions)
    contents = contents_of(job, checked.held, given, masses_of(job), paper)
    with staged(place) as stage:
        chosen = units or job.sheet.job.units
        files, findings = write_papers(stage, contents, chosen, progress)
        cut, read = write_cut_files(stage, contents, chosen)
    held = held_only(release(job.parts.values(), job.assemblies.values(), (*checked.findings, *read)))
    return PapersOutcome(replace(checked, held=held), (*findings, *read), (*files, *cut), place)


def refuse_out(out: Path) -> None:
    """Nothing, when papers may be written there; asked before anything is worked out.

    Raises:
        InputFault: When the folder is a build's, or holds something else.
    """
    from fixturegen.write.folder import refuse_foreign
    from fixturegen.write.summary import NAME

    if (out / NAME).exists():
        remedy = "a build's folder would be replaced by papers alone; give another --out, or build with [papers]"
        raise InputFault(Fault("--out", str(out), "a new or empty folder, or one with papers", remedy))
    refuse_foreign(out)
