"""How deep brackets and dotted keys nest in a text, found before the TOML reader follows them."""

from __future__ import annotations

import re

_TOKEN = re.compile(
    r'"""(?:\\.|[^\\])*?"""|\'\'\'.*?\'\'\'|"(?:\\.|[^"\\\n])*"?|\'[^\'\n]*\'?|#[^\n]*|[\[\]{}\n]',
    re.DOTALL,
)


def too_deep(text: str, most: int) -> int:
    """The line, from 1, on which more than `most` levels nest; 0 when none does."""
    level, number = 0, 1
    for match in _TOKEN.finditer(text):
        token = match.group()
        if token in ("[", "{"):
            level += 1
            if level > most:
                return number
        elif token in ("]", "}"):
            level = max(0, level - 1)
        number += token.count("\n")
    for number, row in enumerate(text.split("\n"), 1):
        if row.split("=", 1)[0].count(".") >= most and "#" not in row.split("=", 1)[0]:
            return number
    return 0
