"""The font of every page: DejaVu Sans as a package brings it along, so that no font of the machine is needed.

What the font cannot draw is named in brackets, never dropped and never a fault. Lettering that runs
from right to left is put in the order it is seen in, Arabic letters in the shapes they take.
"""

from __future__ import annotations

import importlib.util
import unicodedata
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from fixturegen.errors import MachineFault

FILES = {False: "DejaVuSans.ttf", True: "DejaVuSans-Bold.ttf"}
NAMES = {False: "Page", True: "PageBold"}
CAPITAL = 1493.0 / 2048.0  # height of the font's capitals to its size; OS/2 table, sCapHeight of DejaVu Sans
POINTS = 72.0 / 25.4  # PDF user units in a mm; ISO 32000-1, 8.3.2.3
LONGEST = 24  # letters of a name that is put for what cannot be drawn; longer ones become their number
RIGHT_TO_LEFT = ("R", "AL")  # Unicode bidirectional classes; UAX #9
NUMERALS = ("EN", "AN", "ES", "ET", "CS")
UNSEEN = ("Cf", "Mn", "Me")  # joiners, variation selectors and accents the font has not


@cache
def font_file(bold: bool = False) -> Path:
    """The font file a package brings along.

    Args:
        bold: Of the bold letters.

    Raises:
        MachineFault: When the package lies broken.
    """
    spec = importlib.util.find_spec("matplotlib")
    for root in (spec.submodule_search_locations if spec else None) or ():
        found = Path(root) / "mpl-data" / "fonts" / "ttf" / FILES[bold]
        if found.is_file():
            return found
    raise MachineFault(
        "the font", FILES[bold], "matplotlib brings it and it is gone; install it again as README.md says"
    )


@cache
def registered(bold: bool = False) -> str:
    """Name of the font in the PDF writer, made known to it once.

    Args:
        bold: Of the bold letters.
    """
    _font(bold)
    return NAMES[bold]


@cache
def _font(bold: bool) -> Any:
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    font = TTFont(NAMES[bold], str(font_file(bold)))
    pdfmetrics.registerFont(font)
    return font


def _has(letter: str, bold: bool) -> bool:
    return ord(letter) in _font(bold).face.charToGlyph


def text_width(text: str, size: float = 3.5, bold: bool = False) -> float:
    """Width of a line of lettering as drawn [mm].

    Args:
        text: Any text.
        size: Height of its capitals [mm].
        bold: In bold letters.
    """
    return float(_font(bold).stringWidth(drawable(text, bold), size / CAPITAL))


@lru_cache(maxsize=4096)
def drawable(text: str, bold: bool = False) -> str:
    """The text as it is drawn: every letter the font has, a name in brackets for any other, in the order seen.

    Args:
        text: Any text, lone surrogates and control characters included.
        bold: In bold letters.
    """
    if text.isascii() and text.isprintable():
        return text
    letters: list[str] = []
    for letter in unicodedata.normalize("NFC", text):
        letters.append(_drawn(letter, bold, after="".join(letters)))
    return _in_order_seen(_joined("".join(letters), bold))


def _drawn(letter: str, bold: bool, after: str) -> str:
    if letter.isspace() or unicodedata.category(letter) == "Cc":
        return " "
    kind = unicodedata.category(letter)
    # direction marks and joiners are never seen; an accent the font lacks is told, unless what bears it is told
    if kind == "Cf" or 0xFE00 <= ord(letter) <= 0xFE0F:
        return ""
    if _has(letter, bold):
        return letter
    if kind in UNSEEN and after.endswith("]"):
        return ""
    name = unicodedata.name(letter, "")
    return f"[{name.lower()}]" if 0 < len(name) <= LONGEST else f"[U+{ord(letter):04X}]"


@cache
def _shapes() -> dict[str, dict[str, str]]:
    """Arabic letter to its shapes by place ("isolated", "final", "initial", "medial"), from Unicode's own tables."""
    found: dict[str, dict[str, str]] = {}
    for code in range(0xFE80, 0xFEF5):
        words = unicodedata.decomposition(chr(code)).split()
        if len(words) == 2:
            found.setdefault(chr(int(words[1], 16)), {})[words[0].strip("<>")] = chr(code)
    return found


def _joined(text: str, bold: bool) -> str:
    """Arabic letters in the shapes they take beside each other."""
    shapes, drawn = _shapes(), []
    for i, letter in enumerate(text):
        own = shapes.get(letter)
        if own is None:
            drawn.append(letter)
            continue
        before = i > 0 and "initial" in shapes.get(text[i - 1], {})
        after = "initial" in own and i + 1 < len(text) and "final" in shapes.get(text[i + 1], {})
        place = ("isolated", "initial", "final", "medial")[2 * before + after]
        shape = own.get(place, letter)
        drawn.append(shape if _has(shape, bold) else letter)
    return "".join(drawn)


def _in_order_seen(text: str) -> str:
    """The text with each run from right to left turned round, numerals in it left as they are; after UAX #9."""
    ways = [unicodedata.bidirectional(letter) for letter in text]
    if not any(way in RIGHT_TO_LEFT for way in ways):
        return text
    seen, i = [], 0
    while i < len(text):
        if ways[i] not in RIGHT_TO_LEFT:
            seen.append(text[i])
            i += 1
            continue
        end = last = i
        while end < len(text) and ways[end] != "L":
            last = end if ways[end] in (*RIGHT_TO_LEFT, "NSM", "EN", "AN") else last
            end += 1
        seen.append(_turned(text[i : last + 1]))
        i = last + 1
    return "".join(seen)


def _turned(run: str) -> str:
    pieces: list[str] = []
    for letter in run:
        numeral = unicodedata.bidirectional(letter) in NUMERALS
        if numeral and pieces and unicodedata.bidirectional(pieces[-1][-1]) in NUMERALS:
            pieces[-1] += letter
        else:
            pieces.append(letter)
    mirror = str.maketrans("()[]<>{}", ")(][><}{")
    return "".join(p if len(p) > 1 else p.translate(mirror) for p in reversed(pieces))
