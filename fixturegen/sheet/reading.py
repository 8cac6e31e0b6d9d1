"""From the file to the frozen sheet, or to all of its faults at once."""

from __future__ import annotations

import difflib
import re
import stat
import tomllib
from pathlib import Path as FilePath
from typing import Any

from pydantic import ValidationError

from fixturegen.errors import Fault, MachineFault, SheetFault
from fixturegen.sheet import migrations
from fixturegen.sheet.contradictions import contradictions
from fixturegen.sheet.draft import draft_of
from fixturegen.sheet.faults import capped, faults_of, shown
from fixturegen.sheet.keys import Path, dotted
from fixturegen.sheet.nesting import too_deep
from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.values import with_assumed

MOST_BYTES = 1024 * 1024
"""A sheet is a few thousand bytes; a larger file is something else."""

MOST_ENTRIES = 200
"""Entries of one list."""

MOST_LEVELS = 20
"""Sections within sections, lists within lists."""

_LOST_BACKSLASH = re.compile(r"(?:^|[\s\"'(])[A-Za-z]:[\t\x08\f\r]")
"""What is left of a path like C:\\table, its backslash taken for a tab."""

_START = "start one with: fixturegen new front-axle.toml"


def read(path: FilePath | str) -> Sheet:
    """The sheet in a file.

    Raises:
        SheetFault: With every fault of the sheet.
        MachineFault: When the file is there and cannot be read.
    """
    path = FilePath(path)
    try:
        content = _content(path)
    except (FileNotFoundError, NotADirectoryError):
        raise SheetFault(_no_file(path)) from None
    except OSError as error:
        why = error.strerror or "it cannot be read"
        remedy = "look at who may read the file, and whether the disk is there"
        raise MachineFault(str(path), f"an unreadable file ({why})", remedy) from error
    return read_text(_decoded(content, str(path)), str(path))


def _content(path: FilePath) -> bytes:
    """The bytes of an ordinary file, its size looked at before it is opened."""
    if "\0" in str(path):
        raise SheetFault(Fault("sheet", shown(str(path)), "a file name", "write the name again"))
    found = path.stat()
    if not stat.S_ISREG(found.st_mode):
        kind = "a folder" if stat.S_ISDIR(found.st_mode) else "no ordinary file"
        raise SheetFault(Fault(str(path), kind, "a sheet", "name the sheet's own file"))
    if found.st_size > MOST_BYTES:
        raise SheetFault(_too_large(str(path), found.st_size))
    with path.open("rb") as file:
        return file.read(MOST_BYTES + 1)


def read_text(text: str, name: str = "sheet") -> Sheet:
    """The sheet in a text.

    Args:
        text: TOML.
        name: What messages about the whole text call it.

    Raises:
        SheetFault: With every fault of the sheet.
    """
    if len(text) > MOST_BYTES:
        raise SheetFault(_too_large(name, len(text)))
    text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    if "\0" in text:
        raise SheetFault(_binary(name))
    values = _parsed(text, name)
    _within_limits(values, text)
    values = _migrated(values, text)
    try:
        sheet = with_assumed(Sheet.model_validate(values))
    except ValidationError as error:
        raise SheetFault(*_all_faults(values, text, error)) from None
    clashes = contradictions(sheet)
    if clashes:
        lines = _lines(text)
        raise SheetFault(*capped([c.fault(lines) for c in clashes]))
    return sheet


def _all_faults(values: dict[str, Any], text: str, error: ValidationError) -> list[Fault]:
    """What the validator found, and what contradicts among the values that can be read."""
    lines = _lines(text)
    found = faults_of(error.errors(include_url=False), lines)
    said = {fault.key for fault in found}
    clashes = [c.fault(lines) for c in contradictions(draft_of(values))]
    found += [c for c in clashes if c.key not in said]
    return capped(sorted(found, key=lambda fault: fault.line or 0))


def _lines(text: str) -> dict[Path, int]:
    """Line of every key; the reader of lines is loaded only here."""
    from fixturegen.sheet.lines import lines_of

    return lines_of(text)


def _decoded(content: bytes, name: str) -> str:
    """The bytes of a file as text."""
    if len(content) > MOST_BYTES:
        raise SheetFault(_too_large(name, len(content)))
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise SheetFault(Fault(name, "a file saved as UTF-16", "a text saved as UTF-8", "save it as UTF-8"))
    if b"\0" in content:
        raise SheetFault(_binary(name))
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        odd = sum(b < 32 and b not in b"\t\n\r\f" for b in content)
        if odd:
            raise SheetFault(_binary(name)) from None
        given = f"a character that is not UTF-8 (byte {content[error.start]:02X} hex)"
        remedy = "save the sheet as UTF-8, or write deg for the degree sign"
        raise SheetFault(Fault(name, given, "a text saved as UTF-8", remedy, line)) from None


def _parsed(text: str, name: str) -> dict[str, Any]:
    """The values of a text, before any is looked at."""
    if not text.strip():
        raise SheetFault(Fault(name, "an empty file", "a build sheet", _START))
    deep = too_deep(text, MOST_LEVELS)
    if deep:
        raise SheetFault(_levels(deep))
    try:
        values = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        from fixturegen.sheet.traps import broken, traps

        raise SheetFault(*(capped(traps(text)) or [broken(text, str(error))])) from None
    except (ValueError, RecursionError):
        raise SheetFault(_endless_number(text, name)) from None
    if not values:
        raise SheetFault(Fault(name, "a file of comments only", "a build sheet", _START))
    return values


def _endless_number(text: str, name: str) -> Fault:
    """The fault of a number that no reader takes."""
    long = re.search(r"[\d_]{1000,}", text)
    line = text.count("\n", 0, long.start()) + 1 if long else None
    given = "a number of thousands of digits" if long else "a text that cannot be read"
    return Fault(name, given, "numbers as they are measured", "take it out", line)


def _within_limits(values: dict[str, Any], text: str) -> None:
    """Nothing, when no list is too long and no section too deep.

    Raises:
        SheetFault: Otherwise.
    """
    found: list[Fault] = []
    todo: list[tuple[Path, Any]] = [((), values)]
    while todo:
        path, value = todo.pop()
        if len(path) > MOST_LEVELS:
            raise SheetFault(_levels(_lines(text).get(path[:1], 0)))
        if isinstance(value, dict):
            todo += [((*path, key), inner) for key, inner in value.items()]
        elif isinstance(value, list):
            if len(value) > MOST_ENTRIES:
                given, allowed = f"{len(value)} entries", f"up to {_longest(path)} entries"
                found.append(Fault(dotted(path), given, allowed, "count them again", _at(text, path)))
            else:
                todo += [((*path, place), inner) for place, inner in enumerate(value)]
        elif isinstance(value, str) and _LOST_BACKSLASH.search(value):
            found.append(
                Fault(
                    dotted(path),
                    shown(value),
                    "text in quotes",
                    "a backslash means something else inside double quotes: write / instead, or "
                    "put the text in single quotes",
                    _at(text, path),
                )
            )
    if found:
        raise SheetFault(*capped(found))


def _longest(path: Path) -> int:
    """Most entries of the list at a path."""
    from fixturegen.sheet.keys import key_at

    key = key_at(Sheet, path)
    return key.longest if key is not None and key.longest else MOST_ENTRIES


def _at(text: str, path: Path) -> int | None:
    return _lines(text).get(path)


def _migrated(values: dict[str, Any], text: str) -> dict[str, Any]:
    """The values in the keys of today.

    Raises:
        SheetFault: When the sheet is of a newer program.
    """
    schema = values.get("schema")
    if not isinstance(schema, int) or isinstance(schema, bool):
        return values  # missing or no number: told among the other faults
    newest = migrations.newest()
    if 1 <= schema <= newest:
        return migrations.migrated(values)
    from fixturegen import __version__

    if schema < 1:
        remedy = f"write schema = {newest}"
    else:
        remedy = f"it needs a fixturegen that reads schema {shown(schema)}, newer than {__version__}: install that one"
    allowed = f"1 to {newest}" if newest > 1 else "1"
    raise SheetFault(Fault("schema", shown(schema), allowed, remedy, _at(text, ("schema",))))


def _too_large(name: str, size: int) -> Fault:
    given = f"{size / 2**20:.1f} MiB" if size >= 2**20 else f"{size} bytes"
    return Fault(name, given, "up to 1 MiB", "this is no build sheet: name the right file")


def _binary(name: str) -> Fault:
    return Fault(name, "a file that is no text", "a text saved as UTF-8", "name the right file")


def _levels(line: int) -> Fault:
    allowed = f"up to {MOST_LEVELS} levels"
    return Fault("sheet", "brackets within brackets", allowed, "write it flatter", line or None)


def _no_file(path: FilePath) -> Fault:
    """The fault of a file that is not there, with the nearest that is."""
    try:
        names = sorted(p.name for p in path.parent.glob("*.toml"))
    except OSError:
        names = []
    close = difflib.get_close_matches(path.name, names, n=1)
    remedy = (
        f"there is no such file: did you mean {close[0]}?"
        if close
        else (f"there is no such file: write the name again, or {_START}")
    )
    return Fault(str(path), "the name of a file", "a build sheet that is there", remedy)
