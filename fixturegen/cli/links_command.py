"""What the axle does over its travel on the links of the sheet."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from fixturegen.cli import console
from fixturegen.errors import Fault, InputFault

if TYPE_CHECKING:
    from fixturegen.side_flows import LinksOutcome

ROWS = (
    ("links.anti_squat", "anti-squat [%]", 1.0, 1),
    ("links.anti_dive", "anti-dive [%]", 1.0, 1),
    ("links.roll_centre", "roll centre above ground [in]", 25.4, 2),
    ("links.roll_axis", "roll axis, climbing forward [deg]", 1.0, 2),
    ("links.roll_steer", "roll steer, to understeer [deg/deg]", 1.0, 3),
    ("links.pinion_angle", "pinion, nose up [deg]", 1.0, 2),
    ("links.sideways", "axle to the left [in]", 25.4, 3),
    ("links.wheelbase_change", "wheelbase longer [in]", 25.4, 3),
    ("steering.change", "wheels steer to the left [deg]", 1.0, 2),
    ("steering.toe", "toe-in, total [deg]", 1.0, 2),
    ("driveline.plunge", "shaft longer [in]", 25.4, 2),
    ("driveline.case_angle", "joint at the case [deg]", 1.0, 1),
    ("driveline.pinion_joint", "joint at the pinion [deg]", 1.0, 1),
)


@click.command(name="links")
@click.argument("sheet", type=click.Path(path_type=Path))
@click.option(
    "--points",
    type=click.Path(path_type=Path),
    multiple=True,
    help="Another sheet whose links are shown beside these; may be given several times.",
)
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    help="Write the views and every plot as SVG into this folder, replaced whole each time.",
)
@click.option("--png", is_flag=True, help="With --out: each picture as PNG too.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object on standard output.")
def command(sheet: Path, points: tuple[Path, ...], out: Path | None, png: bool, as_json: bool) -> int:
    """Show what the axle of SHEET does at ride, bump, droop and crossed up. Writes nothing without --out.

    Exit code 1 when the linkage binds or a joint, strut or shaft is past its limit.
    """
    from fixturegen import side_flows

    if png and out is None:
        raise InputFault(Fault("--png", "no --out", "--png beside --out FOLDER", "say where the pictures go"))
    outcome = side_flows.links(sheet, points)
    drawn = () if out is None else side_flows.draw_links(outcome, out, png)
    if as_json:
        console.say_json(console.envelope("links", outcome.exit_code, outcome.findings, **_fields(outcome, out)))
    else:
        console.say(_text(outcome))
        if out is not None:
            console.say(f"{len(drawn)} files in {out}: about.txt says what each picture shows, views.svg first.")
    return outcome.exit_code


def _fields(outcome: LinksOutcome, out: Path | None) -> dict[str, Any]:
    written = {} if out is None else {"out": out.as_posix()}
    return written | {
        "numbers": {name: n.as_json() for name, n in sorted(outcome.cases[0][1].items())},
        "compared": [
            {"sheet": name, "numbers": {k: n.as_json() for k, n in sorted(numbers.items())}}
            for name, numbers in outcome.cases[1:]
        ],
    }


def _text(outcome: LinksOutcome) -> str:
    poses = ("ride", "bump", "droop", "cross-L", "cross-R")
    lines = []
    for name, numbers in outcome.cases:
        lines += [name, "  " + " " * 36 + "".join(f"{p:>10}" for p in poses)]
        for key, words, scale, places in ROWS:
            values = [numbers.get(f"{key}.{p.lower()}") for p in poses]
            if any(v is not None for v in values):
                cells = "".join(f"{'-' if v is None else format(v.value / scale, f'.{places}f'):>10}" for v in values)
                lines.append(f"  {words:36}{cells}")
        lines.append("")
    lines.append("cross-L: left wheel at bump, right wheel at droop. Exact rigid links; trust: as far as the points.")
    lines += ["", console.findings_text(outcome.findings)]
    return "\n".join(lines)
