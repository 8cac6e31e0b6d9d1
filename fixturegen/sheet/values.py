"""The values of a sheet as flat text, what of them is assumed, and their digest."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from typing import Any

from fixturegen.sheet.keys import Key, Path, dotted, keys_of
from fixturegen.sheet.specs import Pivot, Sheet, Spec
from fixturegen.units import Measure


def with_assumed(sheet: Sheet) -> Sheet:
    """The same sheet, every measure that comes from a default marked as assumed."""
    marked: Sheet = _marked(sheet, False)
    return marked


def _marked(value: Any, assumed: bool) -> Any:
    if isinstance(value, Spec):
        fields = type(value).model_fields
        given = value.model_fields_set
        inner = {
            (fields[name].alias or name): _marked(getattr(value, name), assumed or name not in given) for name in fields
        }
        return type(value).model_construct(_fields_set=set(given), **inner)
    if isinstance(value, tuple):
        return tuple(_marked(entry, assumed) for entry in value)
    return value.as_assumed() if assumed and isinstance(value, Measure) else value


def _walk(value: Spec, path: Path, given: bool) -> Iterator[tuple[Path, Key, Any, bool]]:
    """Every value with its path, its key and whether it was given."""
    for key in keys_of(type(value)):
        inner = getattr(value, key.field)
        here = (*path, key.name)
        was_given = given and key.field in value.model_fields_set
        entries = [((*here, n), v) for n, v in enumerate(inner)] if key.many else [(here, inner)]
        for at, entry in entries:
            if isinstance(entry, Spec):
                yield from _walk(entry, at, was_given)
            else:
                yield at, key, entry, was_given


def canonical(sheet: Sheet) -> dict[str, tuple[Any, Any]]:
    """Dotted key to (value in the program's unit, tolerance); keys left out are not in it."""
    found: dict[str, tuple[Any, Any]] = {}
    for path, _, value, _given in _walk(sheet, (), True):
        if isinstance(value, Measure):
            found[dotted(path)] = (float(value), value.tolerance)
        elif value is not None:
            found[dotted(path)] = (value, None)
    return found


def flat(sheet: Sheet) -> dict[str, str]:
    """Dotted key to text, as the person wrote it; keys left out show what is used instead."""
    found: dict[str, str] = {}
    for path, _, value, _given in _walk(sheet, (), True):
        if isinstance(value, Measure):
            found[dotted(path)] = value.text
        elif isinstance(value, bool):
            found[dotted(path)] = str(value).lower()
        elif value is not None:
            found[dotted(path)] = str(value)
    return found


def digest(sheet: Sheet) -> str:
    """SHA-256 of the values (hex): 2 1/2 in, 2.500 in and 63.5 mm give the same."""
    text = json.dumps(canonical(sheet), sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode("ascii")).hexdigest()


def assumptions(sheet: Sheet) -> tuple[tuple[str, str, str], ...]:
    """What the sheet did not say and this axle's numbers rest on: (key, what is used, meaning)."""
    found = []
    for path, key, value, given in _walk(sheet, (), True):
        if given or not _matters(sheet, path):
            continue
        if path == ("housing", "face", "angle") and value is None:
            found.append((dotted(path), "assumed square", key.doc))
        elif isinstance(value, Measure):
            found.append((dotted(path), value.text, key.doc))
        elif value not in (None, "") and path[0] not in ("job", "revision"):
            shown = ("yes" if value else "no") if isinstance(value, bool) else str(value)
            found.append((dotted(path), shown, key.doc))
    return tuple(found)


def _matters(sheet: Sheet, path: Path) -> bool:
    """Whether a key plays a part on this axle."""
    front = sheet.axle.position == "front"
    if path == ("wheel_ends", "end_flange_thickness"):
        return not front
    if path == ("housing", "cover", "bolt_head_height"):
        return sheet.housing.kind == "integral"
    if path[:2] == ("links", "search"):
        return False  # a question: no number of this axle rests on it
    if path[0] == "components" and path[-1] in ("as_it_stands", "tolerance"):
        # a tolerance is that of places, and what is placed by points does not stand as it is drawn
        part = sheet.components[int(path[1])]
        return path[-1] == "tolerance" and bool(part.points)
    if path[0] == "jig" and not front:
        return path[-1] in ("stand_plate", "clock_plate")
    if sheet.knuckles is not None and path[:1] == ("knuckles",) and len(path) == 3:
        pivot: Pivot = getattr(sheet.knuckles, str(path[1]))
        if path[2] == "through":
            return pivot.kind == "cup"
        if path[2] == "large_end":
            return pivot.kind in ("taper", "cup")
    return True
