"""The example sheets, altered for tests."""

from __future__ import annotations

import tomllib
from pathlib import Path

from fixturegen.errors import Fault, SheetFault
from fixturegen.sheet import read_text
from fixturegen.sheet.specs import Sheet

EXAMPLES = Path(__file__).parents[2] / "examples"
KINGPIN = (EXAMPLES / "front-dropout-kingpin.toml").read_text(encoding="utf-8")
BALLJOINT = (EXAMPLES / "front-integral-balljoint.toml").read_text(encoding="utf-8")
REAR = (EXAMPLES / "rear-dropout.toml").read_text(encoding="utf-8")


def put(text: str, *changes: tuple[str, str]) -> str:
    """The text with each first place of `old` changed to `new`; an `old` that is not there fails."""
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text


def faults(text: str) -> tuple[Fault, ...]:
    """The faults of a text; none when it reads."""
    try:
        read_text(text)
    except SheetFault as fault:
        assert str(fault) == "\n".join(f.sentence() for f in fault.faults)
        return fault.faults
    return ()


def only(text: str) -> Fault:
    """The one fault of a text."""
    found = faults(text)
    assert len(found) == 1, [f.sentence() for f in found]
    return found[0]


def by_key(text: str, key: str) -> Fault:
    """The fault of one key."""
    found = [f for f in faults(text) if f.key == key]
    assert len(found) == 1, (key, [f.sentence() for f in faults(text)])
    return found[0]


def line_with(text: str, piece: str) -> int:
    """Number of the first line that holds a piece of text."""
    return next(n for n, line in enumerate(text.split("\n"), 1) if piece in line)


def raw(text: str) -> dict[str, object]:
    """The values of a text, unread."""
    return tomllib.loads(text)


def sheet(text: str = KINGPIN, *changes: tuple[str, str]) -> Sheet:
    """A sheet from an altered example."""
    return read_text(put(text, *changes))
