"""Build the job folder: cut files, models, papers and lists of every part that passes."""

from __future__ import annotations

from pathlib import Path
from typing import cast

import click

from fixturegen.cli import console
from fixturegen.cli.outcome_words import fields_of, summary_text


@click.command(name="build")
@click.argument("sheet", type=click.Path(path_type=Path))
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    help="Job folder, replaced whole by each build. Default: output/<sheet name>.",
)
@click.option("--only", metavar="KIND", help="Write one kind of part only, into <out>-KIND.")
@click.option("--units", type=click.Choice(["in", "mm"]), help="Unit of the cut files. Default: the sheet's.")
@click.option("--no-cache", is_flag=True, help="Work everything out anew; keep nothing for the next run.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object on standard output.")
def command(sheet: Path, out: Path | None, only: str | None, units: str | None, no_cache: bool, as_json: bool) -> int:
    """Build everything SHEET asks for into one folder.

    Exit code 0 when every part is released, 1 when any is held or a claim fails. When the sheet is
    wrong (2) or the machine refuses (3), the earlier folder stays as it was.
    """
    from fixturegen import keeping, pipeline

    chosen = cast("pipeline.Units | None", units)
    with keeping.cache_used(not no_cache), console.progress_on_terminal(quiet=as_json) as progress:
        outcome = pipeline.build(sheet, out, only, chosen, progress)
    if as_json:
        body = console.envelope("build", outcome.exit_code, outcome.findings, **fields_of(outcome))
        console.say_json(body)
    else:
        console.say(summary_text(outcome))
    return outcome.exit_code
