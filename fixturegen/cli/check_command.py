"""Check a build sheet: every finding but read-back, no files."""

from __future__ import annotations

from pathlib import Path

import click

from fixturegen.cli import console
from fixturegen.cli.outcome_words import assumed_text, changed_text, fields_of, verdict_text


@click.command(name="check")
@click.argument("sheet", type=click.Path(path_type=Path))
@click.option("--sheet", "sheet_only", is_flag=True, help="Stop at sheet and numbers: quick, no solids.")
@click.option("--no-cache", is_flag=True, help="Work everything out anew; keep nothing for the next run.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object on standard output.")
def command(sheet: Path, sheet_only: bool, no_cache: bool, as_json: bool) -> int:
    """Check SHEET: what is assumed, what fails, what to do about it. Writes nothing.

    Exit code 0 when nothing fails, 1 when something fails or a needed claim was not checked, 2 when
    the sheet is wrong.
    """
    from fixturegen import keeping, pipeline

    with keeping.cache_used(not no_cache), console.progress_on_terminal(quiet=as_json) as progress:
        outcome = pipeline.check(sheet, sheet_only=sheet_only, progress=progress)
    if as_json:
        console.say_json(console.envelope("check", outcome.exit_code, outcome.findings, **fields_of(outcome)))
        return outcome.exit_code
    blocks = (
        f"{outcome.job.sheet.job.name}, revision {outcome.job.sheet.revision.id} ({sheet.name})",
        assumed_text(outcome),
        changed_text(outcome),
        console.findings_text(outcome.findings),
        verdict_text(outcome),
    )
    console.say("\n\n".join(b for b in blocks if b))
    return outcome.exit_code
