"""Whether everything clears everything, at ride and over the travel."""

from __future__ import annotations

from pathlib import Path

import click

from fixturegen.cli import console
from fixturegen.cli._clear_words import clear_fields, clear_text


@click.command(name="clear")
@click.argument("sheet", type=click.Path(path_type=Path))
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    help="Write the list in colours, and a picture of each pair that misses its gap, into this folder.",
)
@click.option("--no-cache", is_flag=True, help="Work everything out anew; keep nothing for the next run.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object on standard output.")
def command(sheet: Path, out: Path | None, no_cache: bool, as_json: bool) -> int:
    """Show the least gap of every pair of SHEET over its travel, worst first. Writes nothing without --out.

    Heave, roll, one wheel, crossed wheels, lock to lock. Exit code 1 when a gap is less than [clearance] wants.
    """
    from fixturegen import clear_flow, keeping

    if out is not None:
        clear_flow.refuse_out(out)
    with keeping.cache_used(not no_cache), console.progress_on_terminal(quiet=as_json) as progress:
        outcome = clear_flow.clear(sheet, progress)
        drawn = () if out is None else clear_flow.draw_gaps(outcome, out, progress)
    if as_json:
        fields = clear_fields(outcome) | ({} if out is None else {"out": str(out), "files": list(drawn)})
        console.say_json(console.envelope("clear", outcome.exit_code, outcome.findings, **fields))
        return outcome.exit_code
    console.say(clear_text(outcome))
    if out is not None:
        console.say(f"Written: {len(drawn)} files in {out}")
    return outcome.exit_code
