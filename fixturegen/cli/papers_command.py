"""Print the papers: templates 1:1, drawings and sheets for the bench."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from fixturegen.cli import console
from fixturegen.findings import Level

if TYPE_CHECKING:
    from fixturegen.print_flow import PapersOutcome


@click.command(name="papers")
@click.argument("sheet", type=click.Path(path_type=Path))
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    help="Folder of the papers, replaced whole each time. Default: output/<sheet name>-papers.",
)
@click.option("--paper", type=click.Choice(["letter", "a4"]), help="Size of paper. Default: the sheet's, else letter.")
@click.option("--no-cache", is_flag=True, help="Work everything out anew; keep nothing for the next run.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object on standard output.")
def command(sheet: Path, out: Path | None, paper: str | None, no_cache: bool, as_json: bool) -> int:
    """Write the papers of SHEET alone: templates 1:1 as PDF, SVG and DXF, and what else goes to the bench.

    Every check is run first and a part that is held has no paper. Each PDF is read back and measured
    before it is let out. Print at 100 %, measure both scale bars, then use it. Exit code 1 when a part
    is held or a paper does not measure as it should.
    """
    from fixturegen import keeping, print_flow

    with keeping.cache_used(not no_cache), console.progress_on_terminal(quiet=as_json) as progress:
        outcome = print_flow.papers(sheet, out, paper, progress=progress)
    if as_json:
        findings = (*outcome.checked.findings, *outcome.findings)
        console.say_json(console.envelope("papers", outcome.exit_code, findings, **_fields(outcome)))
    else:
        console.say(_text(outcome))
    return outcome.exit_code


def _fields(outcome: PapersOutcome) -> dict[str, Any]:
    return {
        "held": [{"name": n, "reason": r} for n, r in outcome.checked.held.items()],
        "out": outcome.out.as_posix(),
        "papers": [vars(f) for f in outcome.files],
    }


def _text(outcome: PapersOutcome) -> str:
    lines = [f"{len(outcome.files)} files, {outcome.pages} pages to print at 100 %, in {outcome.out}"]
    for finding in outcome.findings:
        if finding.level is not Level.PASS:
            lines += console.finding_lines(finding)
    reasons: dict[str, list[str]] = {}
    for name, reason in outcome.checked.held.items():
        reasons.setdefault(reason, []).append(name)
    for reason, names in reasons.items():
        lines += [f"  HELD, no paper: {', '.join(names)}", f"       {reason}"]
    lines.append("Measure both scale bars on a page before you use it: 4.000 in and 100 mm.")
    lines.append("Setting-out aid, not certified: measure before you weld; local rules come first.")
    return "\n".join(lines)
