"""A starter sheet, written from the specs: their order, words, ranges and defaults.

What must be measured is left out behind `# measure:`, so that `check` names every blank; or it is
filled with invented values of one consistent axle.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from fixturegen.sheet.keys import Key, keys_of
from fixturegen.sheet.specs import Sheet, Spec
from fixturegen.sheet.starter_values import PLATES, Values, Variant, invented

BLANK = "# measure: "

LATER = ("links", "loads", "joints", "brackets", "truss", "components", "access", "gauges")
"""Sections of jobs of their own, longer than all the rest: `starter_sections` writes each out by itself."""

_TAIL = """

# Jobs of their own have sections that are not in here ({names}):
# `fixturegen new links.toml --section links` writes one out with every key explained, to paste in here.
"""

_HEAD = """\
# Build sheet: {what}.
#
# Quantities stand in quotes with a unit, as you say them: "2 5/8 in", "66.7 mm", "8.5 deg",
# "5 ft 6-1/2 in". A tolerance may follow: "3.500 in +/- 0.005 in". Left and right are the vehicle's.
{rules}"""

_BLANK_RULES = """\
# A line with "# measure:" waits for your own reading: write the value between the quotes and take
# "# measure:" away. Other lines behind a # are used as they stand when left out, and every paper
# lists them as assumed: take the # away and change them where you know better.
"""

_FILLED_RULES = """\
# EVERY NUMBER BELOW IS INVENTED, so that you can try the program. Measure your own axle and write
# your own numbers before you cut anything. Lines behind a # are used as they stand when left out,
# and every paper lists them as assumed.
"""


def starter(variant: Variant, name: str = "My axle", filled: bool = False) -> str:
    """The text of a starter sheet.

    Args:
        variant: Which axle it is for.
        name: What the job is called.
        filled: Whether measured values are invented and not left blank.
    """
    values: Values = {**variant.choices(), "job.name": name[:60] or "My axle"}
    values = {**(invented(variant) if filled else {}), **values}
    what = f"{variant.position} axle, {variant.housing} housing"
    if variant.position == "front":
        what += f", {variant.knuckle} knuckles"
    head = _HEAD.format(what=what, rules=_FILLED_RULES if filled else _BLANK_RULES)
    lines = [head.rstrip("\n"), "", "schema = 1"]
    for key in keys_of(Sheet):
        if key.section is not None and _wanted(key, variant):
            lines += _section(key, (key.name,), variant, values, filled)
    return "\n".join(lines) + "\n" + _TAIL.format(names=", ".join(LATER))


def _wanted(key: Key, variant: Variant) -> bool:
    """Whether a section belongs to this axle."""
    if key.name in LATER:
        return False
    return key.name != "knuckles" or variant.position == "front"


def _section(key: Key, path: tuple[str, ...], variant: Variant, values: Values, filled: bool) -> Iterator[str]:
    """The lines of one section and of those in it."""
    section = key.section
    if section is None:
        return
    if key.name == "plates":
        yield from _plates(section, filled)
        return
    mark = "# " if key.many else ""  # nothing is welded on until the person says so
    dotted = ".".join(path)
    yield ""
    yield ""
    yield from (f"# {line}" for line in section_words(section))
    yield f"{mark}[[{dotted}]]" if key.many else f"[{dotted}]"
    for inner in keys_of(section):
        if inner.section is None and _plays(inner, path, variant):
            yield from _line(inner, path, variant, values, mark)
    for inner in keys_of(section):
        if inner.section is not None and inner.many:
            yield from _in_braces(inner, inner.section)
    for inner in keys_of(section):
        if inner.section is not None and not inner.many:
            yield from _section(inner, (*path, inner.name), variant, values, filled)


def _in_braces(key: Key, section: type[Spec]) -> Iterator[str]:
    """A list of small sections inside another, as it may be written instead of the keys above."""
    entry = ", ".join(f'{inner.name} = ""' for inner in keys_of(section))
    yield f"# {key.doc}"
    yield from (f"#   {inner.name}: {inner.doc}; {inner.allowed()}" for inner in keys_of(section))
    yield f"# {key.name} = [{{ {entry} }}, {{ {entry} }}]"


def section_words(section: type[Spec]) -> list[str]:
    """What a section is about, as its text says it."""
    lines = [line.strip() for line in (section.__doc__ or "").strip().split("\n")]
    return [line for line in lines if line]


def _plays(key: Key, path: tuple[str, ...], variant: Variant) -> bool:
    """Whether a key means anything on this axle."""
    front = variant.position == "front"
    if key.name == "caster" and path == ("axle",):
        return front
    if key.name == "end_flange_thickness":
        return not front
    return True


def _line(key: Key, path: tuple[str, ...], variant: Variant, values: Values, mark: str) -> Iterator[str]:
    """One key: a comment of what it is, and the key with its value, blank or default."""
    dotted = ".".join((*path, key.name))
    doc = f"{key.doc}; {key.allowed()}" if key.doc else key.allowed()
    if dotted in values:
        yield f"# {doc}"
        yield f"{key.name} = {value_text(values[dotted])}"
        return
    if mark:
        yield f"{mark}{key.name} = {empty_text(key)}  # {doc}"
        return
    yield f"# {doc}"
    must = key.required or (path == ("axle",) and key.name == "caster")
    if must or dotted in ("housing.face.studs.circle_diameter", "housing.face.studs.angles"):
        yield f"{BLANK}{key.name} = {empty_text(key)}"
    elif key.default is None:
        yield f"# {key.name} = {empty_text(key)}"
    else:
        yield f"# {key.name} = {value_text(key.default)}"


def empty_text(key: Key) -> str:
    """What stands for a value not yet known."""
    if key.many:
        return "[" + ", ".join(['""'] * (key.shortest or 2)) + "]"
    return '""' if key.dimension is not None or key.choices or "text" in key.form else "0"


def value_text(value: Any) -> str:
    """A value as TOML."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list | tuple):
        return "[" + ", ".join(value_text(entry) for entry in value) + "]"
    # a JSON text is a TOML basic string
    return json.dumps(value, ensure_ascii=False) if isinstance(value, str) else str(value)


def _plates(section: type[Spec], filled: bool) -> Iterator[str]:
    """The plates that the jig asks for by itself."""
    keys = {key.name: key for key in keys_of(section)}
    measured, material = keys["measured"], keys["material"]
    yield ""
    yield ""
    yield f"# {section_words(section)[0]} The jig is cut from these two unless [jig] names others."
    for nominal, thickness in PLATES:
        yield "[[plates]]"
        yield f'nominal = "{nominal}"'
        yield f"# {measured.doc}; {measured.allowed()}"
        yield f'measured = "{thickness}"' if filled else f'{BLANK}measured = ""'
        yield f"# material = {value_text(material.default)}"
        yield ""
