"""What trips people who write TOML by hand, each with its own sentence.

Looked for only after the file could not be read as TOML, so a line that is fine is never blamed:
every suspect line is tried alone first.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from itertools import islice

from fixturegen.errors import Fault
from fixturegen.sheet.keys import shortened

_PAIR = re.compile(r"""^\s*((?:"[^"]*"|'[^']*'|[\w.-])+)\s*=\s*(.*?)\s*$""")
_COLON = re.compile(r"^\s*([A-Za-z_][\w.-]*)\s*:\s*(\S.*)$")
_HEAD = re.compile(r"^\s*\[\[?\s*([^\[\]#]*?)\s*\]?\]?\s*(?:#.*)?$")
_INCH_MARK = re.compile(r"""\d\s*""\s*(?=$|[,}\]#])|\d\s*'[^'"]*\d\s*''\s*(?=$|[,}\]#])""")
_BACKSLASH = re.compile(r'"[^"\n]*\\[^"\n]*"?')
_VALUE = re.compile(r"(?:^|[=,\[{])\s*([+-]?\.?\d[^,\]}#=]*)")
_COMMA = re.compile(r"[+-]?\d+,\d+[^,\]}]*")
_QUOTED = re.compile(r""""[^"]*"|'[^']*'""")
_OPEN_HEAD = re.compile(r"^\s*\[\[?[^\[\]=,]*\]?\s*(?:#.*)?$")
_YES_NO = ("true", "false", "yes", "no", "on", "off")
_WORD = re.compile(r"^([A-Za-z°][^\"'#\[{]*?)\s*(?:#.*)?$")
_CURLY_QUOTES = "“”„‟«»″"

MOST_LINES = 10_000
"""Lines looked at; a sheet has a few hundred."""

LONGEST_LINE = 1_000
"""Characters; a longer line was not written by hand, and patterns are slow on it."""

ONE_LINE = "braces opened and closed on one line"
ANY_TEXT = "text in quotes"
QUANTITY = 'a quantity in quotes, like "3 1/2 in"'


def traps(text: str) -> list[Fault]:
    """The known slips of a text that is no TOML, in the order of its lines."""
    found = []
    section = ""
    open_brace = False
    for number, line in islice(_single_lines(text), MOST_LINES):
        if open_brace:  # told once, where the brace opens
            open_brace = "}" not in line
            continue
        head = _HEAD.match(line)
        if head and not _PAIR.match(line):
            section = head.group(1)
        if _reads(line):
            continue
        fault = _slip(line, section, number)
        if fault is not None:
            found.append(fault)
            open_brace = fault.allowed == ONE_LINE and "{" in line
    return found


def broken(text: str, words: str) -> Fault:
    """The fault of a text that is no TOML, from the words of the TOML reader."""
    place = re.search(r"\(at line (\d+), column \d+\)", words)
    number = int(place.group(1)) if place else text.count("\n") + 1
    what = re.sub(r"\s*\(at .*\)$", "", words)
    lines = text.split("\n")
    line = lines[number - 1][:LONGEST_LINE] if number <= len(lines) else ""
    if re.search(r"overwrite|twice|redefine|already|mutate", what):
        # the reader stops behind the line: the value ends where the next one begins
        twice = _PAIR.match(line) or _HEAD.match(line)
        key = shortened(twice.group(1)) if twice else shortened(line)
        section = _section_before(lines, number) if twice and twice.re is _PAIR else ""
        key = f"{section}.{key}" if section else key
        return Fault(
            key=key,
            given=shortened(line),
            allowed="each key and each section once",
            remedy=f"{key} stands on the sheet twice, or as a value and as a section: keep one",
            line=number,
        )
    return Fault(
        key="sheet",
        given=shortened(line),
        allowed='lines like key = "value", sections like [section]',
        remedy=f"this line, or the one before it, cannot be read ({what}): write it again",
        line=number,
    )


def _section_before(lines: list[str], number: int) -> str:
    """The section that a line stands in."""
    short = (line for line in reversed(lines[:number]) if len(line) <= LONGEST_LINE)
    heads = (_HEAD.match(line) for line in short if not _PAIR.match(line))
    return next((head.group(1) for head in heads if head), "")


def _single_lines(text: str) -> Iterator[tuple[int, str]]:
    """Numbered lines outside texts of several lines."""
    inside = ""
    for number, line in enumerate(text.split("\n"), 1):
        was_inside = bool(inside)
        for mark in re.findall(r'"""|\'\'\'', line):
            if not inside:
                inside = mark
            elif inside == mark:
                inside = ""
        if not was_inside and not inside and len(line) <= LONGEST_LINE:
            yield number, line


def _reads(line: str) -> bool:
    try:
        tomllib.loads(line)
    except (ValueError, RecursionError):
        return False
    return True


def _slip(line: str, section: str, number: int) -> Fault | None:
    """The slip on a line that is no TOML by itself; None where none is known."""
    pair = _PAIR.match(line)
    if pair is None:
        return _loose(line, section, number)
    key = pair.group(1) if not section else f"{section}.{pair.group(1)}"
    value = pair.group(2)
    said = _in_value(value)
    if said is None:
        return None
    allowed, remedy = said
    return Fault(shortened(key), shortened(value), allowed, remedy, number)


def _loose(line: str, section: str, number: int) -> Fault | None:
    """A line that is no `key = value`: an entry of a list, or a colon where = is meant."""
    colon = _COLON.match(line)
    if colon:
        key = f"{section}.{colon.group(1)}" if section else colon.group(1)
        remedy = f"write = between key and value: {colon.group(1)} = {shortened(colon.group(2))}"
        return Fault(shortened(key), shortened(line), 'key = "value"', remedy, number)
    if _OPEN_HEAD.match(line) and line.count("[") > line.count("]"):
        head = line.strip()
        remedy = f"close the brackets: {head.split('#')[0].strip()}{']' * head.count('[')}"
        return Fault(shortened(head.lstrip("[ ")), shortened(head), "[section]", remedy, number)
    entry = line.strip().rstrip(",")
    if not entry or entry.startswith(("[", "{", "]", "}", "#")) or _reads(f"a = [{line}]"):
        return None
    said = _in_value(line.strip())
    if said is None:
        return None
    return Fault(section or "sheet", shortened(entry), said[0], said[1], number)


def _in_value(value: str) -> tuple[str, str] | None:
    """What is allowed and what to do, for a value with a slip in it."""
    outside = _outside_quotes(value)
    if any(c in outside for c in _CURLY_QUOTES):
        return ANY_TEXT, 'use the straight quotes of the keyboard ("), not printed ones'
    if _INCH_MARK.search(value):
        return QUANTITY, ("the inch mark ends the text: write in for it inside the quotes, as in " + _with_in(value))
    if _bad_backslash(value):
        return ANY_TEXT, (
            "a backslash means something else inside double quotes: write / instead, or put the text in single quotes"
        )
    if outside.count("{") != outside.count("}"):
        return ONE_LINE, (
            "a line break stands inside the braces: write all that is in them on one line, "
            "or open a [section] of its own"
        )
    marked = _QUOTED.sub("\0", value)
    if re.search(r"\0\s*\0", marked):
        return ANY_TEXT, "a comma is missing between two texts, or a quote is one too many"
    if re.search(r"""\0\s*[^\s\0"',}\]#]""", marked):
        return QUANTITY, "something stands behind the closing quote: put all of it inside the quotes"
    if _COMMA.fullmatch(outside.strip()):
        return QUANTITY, "write a decimal point, not a comma, and put quotes round it"
    bare = _unquoted(value)
    if bare is not None:
        unit = "" if re.search(r"[^\W\d_]|°", bare) else " with a unit behind the number"
        return QUANTITY, f'put quotes round it{unit}: "{bare}{" in" if unit else ""}"'
    word = _WORD.match(value)
    if word and word.group(1).lower() in _YES_NO:
        return "true or false", "write true or false, in small letters and without quotes"
    if word and word.group(1):
        return ANY_TEXT, f'put quotes round it: "{shortened(word.group(1))}"'
    if not outside.strip() and not value.startswith(('"', "'")):
        return ANY_TEXT, "there is no value behind the =: write one, or take the line out"
    if value.count('"') % 2 or value.count("'") % 2:
        return ANY_TEXT, "the closing quote is missing: write it"
    return None


def _outside_quotes(value: str) -> str:
    """A value without its quoted texts and its comment."""
    bare = re.sub(r'"(?:\\.|[^"\\])*"|\'[^\']*\'', "", value)
    return bare.split("#", 1)[0]


def _bad_backslash(value: str) -> bool:
    """Whether a text in double quotes has a backslash that TOML does not know."""
    return any(not _reads(f"a = {text}") for text in _BACKSLASH.findall(value))


def _unquoted(value: str) -> str | None:
    """The first quantity of a value that stands without quotes; None when there is none."""
    for match in _VALUE.finditer(_QUOTED.sub("", value)):
        bare = match.group(1).strip()
        if not _reads(f"a = {bare}"):
            return shortened(bare.replace('"', " in").replace("'", " ft").replace("  ", " "))
    return None


def _with_in(value: str) -> str:
    """The quoted quantity of a value with its inch mark spelled out."""
    found = re.search(r"""["']([^"'=]*\d)\s*(?:""|'')""", value)
    return f'"{found.group(1).strip()} in"' if found else '"3 1/2 in"'
