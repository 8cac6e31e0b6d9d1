"""What the axle does over its travel on the links of the sheet."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from fixturegen.cli import console
from fixturegen.cli._links_words import (
    letters,
    links_text,
    search_fields,
    search_text,
    taken_text,
)
from fixturegen.cli._spread_words import spread_fields, spread_text
from fixturegen.errors import EXIT_OK, Fault, InputFault

if TYPE_CHECKING:
    from fixturegen.side_flows import LinksOutcome


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
@click.option("--search", is_flag=True, help="Look for better points, as [links.search] of the sheet asks.")
@click.option("--take", metavar="LETTER", help="With --search: print this geometry's points as tables for the sheet.")
@click.option("--spread", is_flag=True, help="How far the tolerances of the measured points have the numbers off.")
@click.option(
    "--seed",
    type=click.IntRange(0, 2**31 - 1),
    default=1,
    show_default=True,
    help="With --search or --spread: the same seed gives the same result.",
)
@click.option("--json", "as_json", is_flag=True, help="One JSON object on standard output.")
def command(
    sheet: Path,
    points: tuple[Path, ...],
    out: Path | None,
    png: bool,
    search: bool,
    take: str | None,
    spread: bool,
    seed: int,
    as_json: bool,
) -> int:
    """Show what the axle of SHEET does at ride, bump, droop and crossed up. Writes nothing without --out.

    Exit code 1 when the linkage binds or a joint, strut or shaft is past its limit, or when a search finds no
    geometry that meets all wishes.
    """
    _refuse(points, out, png, search, take, spread)
    if spread:
        return _spread(sheet, seed, as_json)
    if search:
        return _search(sheet, out, png, take, seed, as_json)
    from fixturegen import side_flows

    outcome = side_flows.links(sheet, points)
    drawn = () if out is None else side_flows.draw_links(outcome, out, png)
    if as_json:
        console.say_json(console.envelope("links", outcome.exit_code, outcome.findings, **_fields(outcome, out)))
    else:
        console.say(links_text(outcome, console.findings_text(outcome.findings)))
        _say_drawn(drawn, out)
    return outcome.exit_code


def _refuse(
    points: tuple[Path, ...], out: Path | None, png: bool, search: bool, take: str | None, spread: bool
) -> None:
    """Nothing, when the options go together.

    Raises:
        InputFault: When they do not.
    """
    if png and out is None:
        raise InputFault(Fault("--png", "no --out", "--png beside --out FOLDER", "say where the pictures go"))
    if search and spread:
        raise InputFault(Fault("--spread", "--search as well", "one of the two", "run the command twice"))
    if points and (search or spread):
        other = "--search" if search else "--spread"
        raise InputFault(Fault("--points", f"{other} as well", "one of the two", "run the command twice"))
    if spread and out is not None:
        raise InputFault(Fault("--out", "--spread as well", "no --out: a spread has no picture", "leave --out away"))
    if take is not None and not search:
        raise InputFault(Fault("--take", "no --search", "--take beside --search", "add --search"))


def _say_drawn(drawn: tuple[str, ...], out: Path | None) -> None:
    if out is not None:
        console.say(f"{len(drawn)} files in {out}: about.txt says what each picture shows, views.svg first.")


def _spread(sheet: Path, seed: int, as_json: bool) -> int:
    """How far measuring may have the numbers off."""
    from fixturegen import side_flows

    outcome = side_flows.link_spread(sheet, seed)
    if as_json:
        console.say_json(console.envelope("links", EXIT_OK, (), **spread_fields(outcome)))
    else:
        console.say(spread_text(outcome))
    return EXIT_OK


def _search(sheet: Path, out: Path | None, png: bool, take: str | None, seed: int, as_json: bool) -> int:
    """Better points: a table of those found, or the tables of one for the sheet."""
    from fixturegen import side_flows

    with console.progress_on_terminal(quiet=as_json) as progress:
        outcome = side_flows.link_search(sheet, seed, progress)
    one = next((f for f in outcome.found if take is not None and f.letter == take.upper()), None)
    if take is not None and one is None:
        remedy = "run the search without --take to see them"
        raise InputFault(Fault("--take", take, letters(outcome.found), remedy))
    drawn = () if out is None else side_flows.draw_links(outcome.links, out, png)
    if as_json:
        fields = search_fields(outcome) | ({} if out is None else {"out": out.as_posix()})
        console.say_json(console.envelope("links", outcome.exit_code, (), **fields))
    elif one is not None:
        console.say(taken_text(outcome, one))
    else:
        console.say(search_text(outcome))
        _say_drawn(drawn, out)
        if out is not None and len(outcome.found) >= len(outcome.links.cases):
            shown = outcome.found[: len(outcome.links.cases) - 1]
            console.say(f"They show the sheet's own points and {letters(shown)}.")
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
