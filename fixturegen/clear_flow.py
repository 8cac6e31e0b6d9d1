"""The flow of one question: what clears what, at ride and over the travel, and pictures of what does not."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from fixturegen.axle.model import axle_of
from fixturegen.brackets.registry import make_brackets
from fixturegen.checks.registry import FOLDER, Job
from fixturegen.errors import EXIT_HELD, EXIT_OK, Fault, InputFault
from fixturegen.findings import Finding
from fixturegen.pipeline import read
from fixturegen.progress import Progress, silent
from fixturegen.studies.bracket_plan import bracket_plan
from fixturegen.studies.clearance_records import ClearanceStudy
from fixturegen.studies.jig_plan import plan_of
from fixturegen.truss.registry import make_truss

if TYPE_CHECKING:
    from fixturegen.bodies.clearing import Scene


@dataclass(frozen=True, eq=False)
class ClearOutcome:
    """What clears what.

    Attributes:
        name: Of the sheet.
        units: in or mm, as the sheet has it.
        scene: The bodies and poses.
        study: Every pair, worst first.
        findings: The claims about clearance.
    """

    name: str
    units: str
    scene: Scene
    study: ClearanceStudy
    findings: tuple[Finding, ...]

    @property
    def exit_code(self) -> int:
        """0 when every gap wanted is there and none is in doubt, else 1."""
        return EXIT_HELD if self.study.short or self.study.doubtful else EXIT_OK


def clear(sheet_path: Path, progress: Progress = silent) -> ClearOutcome:
    """Every gap of a sheet; nothing is written.

    Args:
        sheet_path: The build sheet, with [clearance].
        progress: Told which pair is being looked at.

    Raises:
        SheetFault: When the sheet is wrong.
        InputFault: When it has no [clearance], or its links are no linkage.
    """
    sheet = read(sheet_path)
    if sheet.clearance is None:
        remedy = "add [clearance] with boxes, rails or planes of what may be in the way: see the examples"
        raise InputFault(Fault("clearance", "nothing", "a [clearance] section", remedy))
    axle = axle_of(sheet)
    job = Job(sheet, axle, plan_of(sheet, axle), store={FOLDER: sheet_path.parent})
    brackets = bracket_plan(sheet, axle)
    job.brackets = make_brackets(sheet, axle, job.plan, brackets)
    truss = make_truss(sheet, axle, brackets)
    job.parts.update({p.name: p for p in (*job.brackets.parts, *truss.parts)})
    job.assemblies.update({a.name: a for a in (*job.brackets.assemblies, *truss.assemblies)})

    from fixturegen.checks import clearance as claims

    scene = claims.scene_in(job)
    study = claims.study_in(job, progress)
    return ClearOutcome(sheet_path.name, sheet.job.units, scene, study, claims.findings_of(job))


def refuse_out(out: Path) -> None:
    """Nothing, when pictures of gaps may be written there; asked before anything is worked out.

    Raises:
        InputFault: When the folder is a build's, or holds something else.
    """
    from fixturegen.write.folder import refuse_foreign
    from fixturegen.write.summary import NAME

    if (out / NAME).exists():
        remedy = "a build's folder would be replaced by the pictures; give another --out"
        raise InputFault(Fault("--out", str(out), "a new or empty folder, or one with pictures of gaps", remedy))
    refuse_foreign(out)


def draw_gaps(outcome: ClearOutcome, out: Path, progress: Progress = silent) -> tuple[str, ...]:
    """Names of the files written: the list in colours, and each pair whose gap is missed at its worst pose.

    Args:
        outcome: What clears what.
        out: The folder; a new or empty one, or one with such pictures.
        progress: Told which pair is drawn.

    Raises:
        InputFault: When the folder holds something else.
        MachineFault: When the machine refuses to write or to draw.
    """
    from fixturegen.papers.gap_list import gap_list
    from fixturegen.papers.gap_pictures import gap_pictures
    from fixturegen.papers.pixels import png_bytes
    from fixturegen.write.folder import staged

    refuse_out(out)
    drawn = gap_list(outcome.study, outcome.name, outcome.units)
    files = {"gaps.svg": drawn.encode("utf-8"), "gaps.png": png_bytes(drawn)}
    files |= gap_pictures(outcome.scene, outcome.study, outcome.units, progress)
    with staged(out) as stage:
        for name, content in files.items():
            (stage / name).write_bytes(content)
    return tuple(files)
