"""Values of a sheet changed in place: everything else stays as the person wrote it.

Values that stand on the sheet are exchanged where they stand, by a library that keeps comments and
layout; keys that are not there yet get a line of their own below the last key of their section. The
result is read again before anything is written: nothing but what was asked for may have changed.
"""

from __future__ import annotations

import contextlib
import os
import re
import tempfile
from collections.abc import Mapping
from pathlib import Path as FilePath
from typing import Any

from fixturegen.errors import Fault, InputFault, MachineFault, ProgramFault, SheetFault
from fixturegen.sheet.keys import Path, dotted
from fixturegen.sheet.reading import read_text
from fixturegen.sheet.values import canonical

_BOM = "\ufeff"


def changed_text(text: str, values: Mapping[Path, str]) -> str:
    """The text of a sheet with some values changed or added; a list grows by the next number.

    Args:
        text: Of a sheet that reads.
        values: Text by path, like `("process", "kerf")` or `("brake", "tests", 0, "plate")`.

    Raises:
        InputFault: When the sheet would not read with them.
        ProgramFault: When something else would have changed.
    """
    import tomlkit

    bom, body = (_BOM, text[1:]) if text.startswith(_BOM) else ("", text)
    document = tomlkit.parse(body)
    missing: dict[Path, str] = {}
    for path, value in values.items():
        if not _exchange(document, path, value):
            missing[path] = value
    changed = document.as_string()
    for section in dict.fromkeys(path[:-1] for path in missing):
        keys = {str(path[-1]): value for path, value in missing.items() if path[:-1] == section}
        changed = _with_keys(changed, section, keys)
    changed = bom + changed
    _demand_only(text, changed, values)
    return changed


def _exchange(document: Any, path: Path, value: str) -> bool:
    """Whether the value stood on the sheet and was exchanged."""
    table = document
    for step in path[:-1]:
        try:
            table = table[step]
        except (KeyError, IndexError):
            return False
    if path[-1] not in table:
        return False
    table[path[-1]] = value
    return True


def _with_keys(text: str, section: Path, keys: Mapping[str, str]) -> str:
    """The text with lines for keys that a section does not have yet."""
    from fixturegen.sheet.lines import lines_of

    line_end = "\r\n" if "\r\n" in text else "\n"
    rows = text.splitlines(keepends=True)
    found = lines_of(text)
    inside = [line for path, line in found.items() if path[:-1] == section and isinstance(path[-1], str)]
    head = found.get(section)
    if head is None:
        return _with_section(rows, section, keys, line_end, found)
    if not re.match(r"\s*\[", rows[head - 1]):  # in braces, or with dots: the library knows how
        return _by_library(text, section, keys)
    last = max([head, *inside])
    indent = re.match(r"[ \t]*", rows[last - 1])
    if not rows[last - 1].endswith("\n"):
        rows[last - 1] += line_end
    added = [f'{indent.group() if indent else ""}{key} = "{value}"{line_end}' for key, value in keys.items()]
    return "".join(rows[:last] + added + rows[last:])


def _with_section(
    rows: list[str], section: Path, keys: Mapping[str, str], line_end: str, found: Mapping[Path, int]
) -> str:
    """The text with a new section: the next of its list below the last one, else at the end."""
    numbered = isinstance(section[-1], int)
    name = ".".join(str(step) for step in section if isinstance(step, str))
    head = f"[[{name}]]" if numbered else f"[{name}]"
    if any(path in found and not re.match(r"\s*\[", rows[found[path] - 1]) for path in (section[:1], section[:2])):
        return _by_library("".join(rows), section, keys)
    before = [line for path, line in found.items() if numbered and path[: len(section) - 1] == section[:-1]]
    last = max(before, default=len(rows))
    if rows and not rows[last - 1].endswith("\n"):
        rows[last - 1] += line_end
    added = [line_end, head + line_end, *(f'{key} = "{value}"{line_end}' for key, value in keys.items())]
    return "".join(rows[:last] + added + rows[last:])


def _by_library(text: str, section: Path, keys: Mapping[str, str]) -> str:
    """The text with keys added to a section in braces, or with dots."""
    import tomlkit

    document = tomlkit.parse(text)
    table: Any = document
    steps = section[:-1] if isinstance(section[-1], int) else section
    for n, step in enumerate(steps):
        if step not in table:
            table[step] = tomlkit.array() if steps != section and n + 1 == len(steps) else tomlkit.inline_table()
        table = table[step]
    if steps != section:
        entry = tomlkit.inline_table()
        entry.update(keys)
        table.append(entry)
    else:
        for key, value in keys.items():
            table[key] = value
    return document.as_string()


def _demand_only(before: str, after: str, values: Mapping[Path, str]) -> None:
    """Nothing, when the new text reads and differs in the given values only.

    Raises:
        InputFault: When the sheet would not read.
        ProgramFault: When something else changed.
    """
    old = canonical(read_text(before))
    try:
        new = canonical(read_text(after))
    except SheetFault as refused:
        faults = (Fault(f.key, f.given, f.allowed, f"nothing was written; {f.remedy}") for f in refused.faults)
        raise InputFault(*faults) from None
    asked = {dotted(path) for path in values}
    other = sorted(key for key in {*old, *new} - asked if old.get(key) != new.get(key))
    if other:
        raise ProgramFault(f"{', '.join(other)} would have changed as well")


def rewrite(path: FilePath, before: bytes, text: str) -> None:
    """Put the new text in the sheet's place, whole or not at all.

    Args:
        path: The sheet; a link is followed.
        before: What stood in it when it was read.
        text: The new text.

    Raises:
        MachineFault: When the sheet has changed meanwhile, or cannot be written.
    """
    place = path.resolve()
    try:
        if place.read_bytes() != before:
            remedy = "nothing was written: close the editor that has it open, then run the same command again"
            raise MachineFault(str(path), "a sheet that has changed meanwhile", remedy)
        if not os.access(place, os.W_OK):
            raise _refused(path, "it is write-protected")
        handle, name = tempfile.mkstemp(prefix=".", suffix=".part", dir=place.parent)
        part = FilePath(name)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(text.encode("utf-8"))
                file.flush()
                os.fsync(file.fileno())
            part.chmod(place.stat().st_mode & 0o777)
            part.replace(place)
        finally:
            with contextlib.suppress(OSError):
                part.unlink()
    except OSError as error:
        if isinstance(error, MachineFault):
            raise
        raise _refused(path, error.strerror or str(error)) from error


def _refused(path: FilePath, why: str) -> MachineFault:
    remedy = "nothing was written: look at the disk and at who may write there"
    return MachineFault(str(path), f"a sheet that cannot be written ({why[:1].lower()}{why[1:]})", remedy)
