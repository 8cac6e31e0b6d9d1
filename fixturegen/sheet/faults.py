"""From what the validator says to what the person at the bench reads."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Mapping
from typing import Any

from fixturegen.errors import Fault
from fixturegen.sheet import migrations
from fixturegen.sheet.keys import (
    Key,
    Path,
    all_keys,
    dotted,
    key_at,
    keys_of,
    section_at,
    shortened,
)
from fixturegen.sheet.lines import line_of
from fixturegen.sheet.specs import Sheet, Spec

MOST_FAULTS = 100
"""Faults reported at once; a sheet with more is no sheet of ours."""

_LONGEST_NAME = 80  # characters compared with the known keys
_LIKENESS = 0.7  # of difflib, 0 to 1: one or two letters off in a short word


def faults_of(errors: Iterable[Mapping[str, Any]], lines: dict[Path, int]) -> list[Fault]:
    """The faults behind the errors of the validator, in the order of the sheet."""
    errors = [error for error in errors if not _miscounted(error)]
    missing = {_path(e) for e in errors if e["type"] == "missing"}
    meant: set[Path] = set()
    found: list[tuple[Path, Fault]] = []
    for error in errors:
        path = _path(error)
        if error["type"] == "extra_forbidden":
            near = nearest(path, missing) if len(found) < MOST_FAULTS else None
            if near is not None:
                meant.add(near)
            found.append((path, _unknown(path, error["input"], near, lines)))
    for error in errors:
        path = _path(error)
        if error["type"] != "extra_forbidden" and not (path in meant and path in missing):
            found.append((path, _known(path, error, lines)))
    found.sort(key=lambda f: f[1].line or 0)
    return [fault for _, fault in found]


def _miscounted(error: Mapping[str, Any]) -> bool:
    """Whether a list is called too short only because entries of it are wrong."""
    if error["type"] != "too_short":
        return False
    return bool(len(error["input"]) >= error["ctx"]["min_length"])


def capped(faults: list[Fault]) -> list[Fault]:
    """The first hundred faults, and a last one that says how many more there are."""
    if len(faults) <= MOST_FAULTS:
        return faults
    left = len(faults) - MOST_FAULTS
    more = Fault("sheet", f"{left} faults more", "", "mend these first, then check again")
    return [*faults[:MOST_FAULTS], more]


def nearest(path: Path, missing: Iterable[Path] = ()) -> Path | None:
    """Path of the known key that a misspelled one most likely means.

    Keys of the same section come first, and among them those that are missing; then keys of the
    whole sheet, when spelled the same.
    """
    name = str(path[-1])[:_LONGEST_NAME]
    section = section_at(Sheet, path[:-1])
    wanted = [str(m[-1]) for m in missing if m[:-1] == path[:-1]]
    for names in (wanted, [k.name for k in keys_of(section)] if section else []):
        close = difflib.get_close_matches(name.lower(), names, n=1, cutoff=_LIKENESS)
        if close:
            return (*path[:-1], close[0])
    for other, _ in all_keys(Sheet):
        if other[-1] == name:
            return other
    return None


def _path(error: Mapping[str, Any]) -> Path:
    """Where an error stands."""
    return tuple(error["loc"])


def _unknown(path: Path, value: object, near: Path | None, lines: dict[Path, int]) -> Fault:
    """A key that the sheet does not know."""
    section = section_at(Sheet, path[:-1]) or Sheet
    allowed = ", ".join(k.name for k in keys_of(section))
    if near is None:
        remedy = "there is no such key here: take it out, or write one of these"
    elif near[:-1] == path[:-1]:
        remedy = f"there is no such key: did you mean {near[-1]}?"
    else:
        remedy = f"there is no such key here: {dotted(near)} is the one there is; move it to there"
    return Fault(dotted(path), shown(value), allowed, remedy, line_of(lines, path))


def _known(path: Path, error: Mapping[str, Any], lines: dict[Path, int]) -> Fault:
    """A known key that is missing or has a wrong value."""
    key = key_at(Sheet, path)
    line = line_of(lines, path)
    kind, value = error["type"], error["input"]
    if path == ("schema",):
        given = "nothing" if kind == "missing" else _quoted(value)
        newest = str(migrations.newest())
        return Fault("schema", given, newest, f"write schema = {newest} on the first line", line or 1)
    if kind == "missing":
        return Fault(dotted(path), "nothing", key.allowed() if key else "", _add(path, key), line)
    if kind == "bad_quantity":
        facts = error["ctx"]
        return Fault(dotted(path), shortened(facts["given"]), facts["allowed"], facts["remedy"], line)
    allowed = key.allowed() if key else ""
    if key is not None and path and isinstance(path[-1], int):
        allowed = "a section" if key.section else allowed
    given = _quoted(value) if kind.startswith(("int", "bool")) else shown(value)
    return Fault(dotted(path), given, allowed, _remedy(path, kind, value, key), line)


def _quoted(value: object) -> str:
    """A value told back, a text in its quotes: 8 and "8" are not the same."""
    return f'"{shown(value)}"' if isinstance(value, str) else shown(value)


def _add(path: Path, key: Key | None) -> str:
    """What to write where a key is missing."""
    name, where = path[-1], dotted(path[:-1])
    if key is not None and key.section is not None:
        double = key.many
        head = f"[[{dotted(path)}]]" if double else f"[{dotted(path)}]"
        needed = [k.name for k in keys_of(key.section) if k.required]
        return f"add the section {head} with {', '.join(needed)}"
    place = f"[{where}]" if where else "the top of the sheet"
    if len(path) > 1 and isinstance(path[-2], int):
        place = f"{dotted(path[:-2])}, number {path[-2] + 1}"
    example = '"..."' if key is None or key.dimension or "text" in key.form else "..."
    if key is not None and key.many:
        example = f"[{', '.join([example] * (key.shortest or 1))}]"
    text = f"add {name} = {example} to {place}"
    return f"{text}: {key.doc}" if key is not None and key.doc else text


def _remedy(path: Path, kind: str, value: object, key: Key | None) -> str:
    """What to do about a value that is no quantity."""
    if kind in ("too_long", "too_short"):
        return f"count the entries again: {'too many' if kind == 'too_long' else 'too few'}"
    if key is not None and key.section is not None:
        return _section_remedy(path, key)
    if kind == "tuple_type":
        return "write a list in square brackets"
    if key is not None and key.choices:
        names = [str(c) for c in key.choices]
        close = difflib.get_close_matches(str(shown(value)).lower(), names, n=1, cutoff=_LIKENESS)
        return f"did you mean {close[0]}?" if close else "write one of these"
    if kind == "string_pattern_mismatch":
        return _form_remedy(key)
    if kind == "string_too_long":
        return "make it shorter"
    if kind == "string_type":
        return "put quotes round it"
    if kind.startswith("bool"):
        return "write true or false without quotes"
    if kind.startswith(("int", "greater", "less")):
        return "write a whole number of that range without quotes"
    return "write it again"


def _form_remedy(key: Key | None) -> str:
    """What to do about a text of the wrong form: its key's words say the right one last."""
    doc = key.doc if key is not None else ""
    if ", like " in doc:
        return f"write it {doc.split(', ', 1)[1]}"
    if ", " in doc and key is not None and "revision" in doc:
        return f"write {doc.split(', ', 1)[1]}"
    return "write one line of text that is not blank"


def _section_remedy(path: Path, key: Key) -> str:
    """What to do where a section is wanted and something else stands."""
    name = dotted(path)
    if key.many and not isinstance(path[-1], int):
        return f"write [[{name}]] with double brackets, once for each"
    if key.many:
        return "write it in braces, { key = ..., key = ... }"
    return f"this is a section: write [{name}] once, with single brackets, and its keys below"


def shown(value: object) -> str:
    """A value as it is told back."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list | tuple):
        return f"a list of {len(value)}"
    if isinstance(value, dict):
        return "a section"
    if isinstance(value, str) and not value.strip():
        return "an empty text"
    return shortened(value)


def section_name(section: type[Spec]) -> str:
    """First line of what a section is about."""
    return (section.__doc__ or "").split("\n", 1)[0]
