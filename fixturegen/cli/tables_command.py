"""`fixturegen tables`: the shipped tables, each with source and trust."""

from __future__ import annotations

from dataclasses import fields
from typing import Annotated, Any, get_args, get_origin, get_type_hints

import click

from fixturegen import stock
from fixturegen.cli.console import envelope, say, say_json
from fixturegen.errors import EXIT_OK, Fault, InputFault
from fixturegen.sources import cite
from fixturegen.stock import Entry, StockTable
from fixturegen.units import Dimension, Measure

_MOST_COLUMNS = 9
"""A table of more columns is printed entry by entry: it would not fit a screen."""


@click.command(name="tables")
@click.argument("name", required=False)
@click.option("--json", "as_json", is_flag=True, help="one JSON object")
def command(name: str | None, as_json: bool) -> None:
    """The shipped tables: without NAME their list, with NAME one table with source and trust."""
    if name is None:
        found = [stock.table(n) for n in stock.table_names()]
        if as_json:
            listed = [{"name": t.name, "title": t.title, "count": len(t.entries)} for t in found]
            say_json(envelope("tables", EXIT_OK, tables=listed))
            return
        wide = max(len(t.name) for t in found)
        say("Shipped tables; `fixturegen tables NAME` prints one with source and trust.\n")
        for t in found:
            say(f"  {t.name:{wide}}  {t.title} ({len(t.entries)})")
        return
    try:
        table = stock.table(name)
    except stock.NotInTable as wrong:
        fault = Fault("tables", wrong.given, wrong.allowed, wrong.remedy)
        raise InputFault(fault) from None
    if as_json:
        say_json(table_json(table))
    else:
        say(table_text(table))


def table_json(table: StockTable) -> dict[str, Any]:
    """A table as the one object of `--json`."""
    entries = list(table.entries.values())
    return envelope(
        "tables",
        EXIT_OK,
        table=table.name,
        title=table.title,
        note=table.note,
        entries=[_entry_json(entry) for entry in entries],
        sources={s: cite(s) for s in _sources(entries)},
    )


def _sources(entries: list[Entry]) -> list[str]:
    """Ids of the sources of the entries, in order of first use."""
    return list(dict.fromkeys(entry.source for entry in entries))


def _unit_of(hint: Any) -> str:
    """The unit of a field, found in its annotation; empty for a text."""
    if get_origin(hint) is Annotated and isinstance(get_args(hint)[1], Dimension):
        return str(get_args(hint)[1].unit)
    return next((unit for part in get_args(hint) if (unit := _unit_of(part))), "")


def _entry_json(entry: Entry) -> dict[str, Any]:
    """An entry as JSON: numbers with unit and with the text they were written as."""
    hints = get_type_hints(type(entry), include_extras=True)
    body: dict[str, Any] = {}
    for field in fields(entry):
        value, unit = getattr(entry, field.name), _unit_of(hints[field.name])
        if value is None or value == () or (field.name == "remark" and not value):
            continue
        if isinstance(value, Measure):
            body[field.name] = {"value": float(value), "unit": unit, "text": value.text}
        elif isinstance(value, tuple) and all(isinstance(v, str) for v in value):
            body[field.name] = [str(v) for v in value]
        elif isinstance(value, tuple):
            numbers = [float(v) for v in value]
            body[field.name] = {"value": numbers, "unit": unit, "text": _cell(value)}
        else:
            body[field.name] = str(value)
    return body


def _cell(value: object) -> str:
    """A value of an entry as it was written."""
    if isinstance(value, tuple):
        return ", ".join(_cell(v) for v in value)
    return value.text if isinstance(value, Measure) else str(value)


def table_text(table: StockTable) -> str:
    """A table for people: note, entries, sources."""
    entries = list(table.entries.values())
    own = [f.name for f in fields(entries[0]) if f.name not in ("id", "source", "trust", "remark")]
    used = [n for n in own if any(getattr(e, n) is not None for e in entries)]
    names = ["id", *used, "source", "trust"]
    lines = [f"{table.title}.", table.note, ""]
    rows = [[_cell(v) if (v := getattr(e, n)) is not None else "-" for n in names] for e in entries]
    heads = [n.replace("_", " ") for n in names]
    if len(names) > _MOST_COLUMNS or any(e.remark for e in entries):
        wide = max(len(h) for h in heads)
        for entry, row in zip(entries, rows, strict=True):
            lines += [f"  {h:{wide}}  {cell}" for h, cell in zip(heads, row, strict=True)]
            lines += [f"  {'remark':{wide}}  {entry.remark}"] if entry.remark else []
            lines.append("")
    else:
        widths = [max(len(r[i]) for r in [heads, *rows]) for i in range(len(heads))]
        for row in [heads, *rows]:
            cells = (f"{c:{w}}" for c, w in zip(row, widths, strict=True))
            lines.append(("  " + "  ".join(cells)).rstrip())
        lines.append("")
    lines += [f"  {s}: {cite(s)}" for s in _sources(entries)]
    return "\n".join(lines)
