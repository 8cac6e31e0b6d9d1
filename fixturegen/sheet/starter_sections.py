"""Sections that a fresh sheet leaves out, written out with every key explained, to be pasted into it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from fixturegen.sheet.keys import Key, keys_of
from fixturegen.sheet.specs import Sheet, Spec
from fixturegen.sheet.starter import BLANK, LATER, empty_text, section_words, value_text

THREE = 3

_HEAD = """\
# The section [{name}], to be pasted into a build sheet.
#
# A line with "# measure:" waits for your own reading: write the value between the quotes and take
# "# measure:" away. Everything else behind a # is used as it stands, or not at all, when left out: take
# the # away from the headings your axle has and from the lines below them. Left and right are the
# vehicle's. Keys that were explained once are not explained again."""


def section_starter(name: str) -> str:
    """The text of a section that a fresh sheet leaves out.

    Args:
        name: One of `LATER`.
    """
    key = next(k for k in keys_of(Sheet) if k.name == name and name in LATER)
    lines = [_HEAD.format(name=name), *_section(key, (key.name,), key.many, {})]
    return "\n".join(lines) + "\n"


def _section(key: Key, path: tuple[str, ...], marked: bool, told: dict[type[Spec], str]) -> Iterator[str]:
    """The lines of a section and of those in it; behind a # where it may be left out."""
    section = key.section
    if section is None:
        return
    dotted = ".".join(path)
    heading = f"[[{dotted}]]" if key.many else f"[{dotted}]"
    mark = "# " if marked else ""
    yield ""
    first = told.setdefault(section, heading)
    if first != heading:
        yield f"# {key.doc or 'the same'}: keys as in {first}"
        yield f"{mark}{heading}"
    else:
        yield from (f"# {line}" for line in section_words(section))
        yield f"{mark}{heading}" + (f"  # {key.doc}" if key.doc and len(path) > 1 else "")
        for inner in keys_of(section):
            if inner.section is None:
                yield from _line(inner, marked)
    for inner in keys_of(section):
        if inner.section is not None:
            yield from _section(inner, (*path, inner.name), marked or inner.many or not inner.required, told)


def _line(key: Key, marked: bool) -> Iterator[str]:
    """One key: what it is, and the key blank or with what is used when it is left out."""
    must = "; must be there" if marked and key.required else ""
    yield f"# {key.doc}; {key.allowed()}{must}"
    # a point or a direction that may be left out is three numbers or none
    empty = empty_text(replace(key, shortest=THREE) if key.longest == THREE else key)
    if key.required and not marked:
        yield f"{BLANK}{key.name} = {empty}"
    else:
        bare = key.required or key.default is None or (key.many and not key.default)
        yield f"# {key.name} = {empty if bare else value_text(key.default)}"
