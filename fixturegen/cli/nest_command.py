"""Lay the released plate parts out on the sheets there are, and keep the layout beside the sheet."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from fixturegen.cli import console
from fixturegen.findings import Level

if TYPE_CHECKING:
    from fixturegen.side_flows import NestOutcome


@click.command(name="nest")
@click.argument("sheet", type=click.Path(path_type=Path))
@click.option(
    "--seconds",
    type=click.IntRange(1, 3600),
    default=60,
    show_default=True,
    help="How long to look for a better layout, for all plates together.",
)
@click.option("--no-cache", is_flag=True, help="Work everything out anew; keep nothing for the next run.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object on standard output.")
def command(sheet: Path, seconds: int, no_cache: bool, as_json: bool) -> int:
    """Lay the parts of SHEET out on its sheets, and keep the layout as <sheet>.layout.json.

    The next build cuts by that layout while nothing that bears on it has changed. Ctrl-C ends the
    search early and keeps the best so far. Exit code 1 when a part is held or has no place.
    """
    from fixturegen import keeping, side_flows

    with keeping.cache_used(not no_cache), console.progress_on_terminal(quiet=as_json) as progress:
        outcome = side_flows.nest(sheet, seconds, progress)
    if as_json:
        console.say_json(console.envelope("nest", outcome.exit_code, outcome.findings, **_fields(outcome)))
    else:
        console.say(_text(outcome))
    return outcome.exit_code


def _fields(outcome: NestOutcome) -> dict[str, Any]:
    return {
        "numbers": {name: n.as_json() for name, n in sorted(outcome.numbers.items())},
        "held": [{"name": n, "reason": r} for n, r in outcome.held.items()],
        "layout": outcome.kept.name,
    }


def _text(outcome: NestOutcome) -> str:
    lines = []
    for s in outcome.sheets:
        used = f"{s.cut_to / 25.4:.1f} of {s.length / 25.4:.1f} in used up"
        lines.append(f"Sheet {s.number}  {s.name}: {len(s.placed)} parts, {used}")
    lines += [f"  {words}" for words in outcome.compared]
    for finding in outcome.findings:  # what else was found is told by check and build
        if finding.level is Level.FAIL or (finding.level is not Level.PASS and finding.code.startswith("NST")):
            lines += console.finding_lines(finding)
    reasons: dict[str, list[str]] = {}
    for name, reason in outcome.held.items():
        reasons.setdefault(reason, []).append(name)
    for reason, names in reasons.items():
        lines += [f"  HELD {', '.join(names)}", f"       {reason}"]
    lines.append(f"Kept: {outcome.kept}")
    return "\n".join(lines)
