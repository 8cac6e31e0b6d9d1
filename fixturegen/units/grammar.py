"""Shop text to number: the grammar, and the sentences for what is outside it."""

from __future__ import annotations

import math
import re
from fractions import Fraction
from functools import cache

from fixturegen.units.kinds import Count, Dimension, Plain
from fixturegen.units.listed import ANY_CASE, BY_NAME, EXACT, UNITS, Unit
from fixturegen.units.measure import BadQuantity, Measure

LONGEST_TEXT = 80
"""Characters; longer text is no quantity, and long digits are only slow to read."""

_MIL = "a mil is a thousandth of an inch to some and a millimetre to others: write thou, in or mm"

_REFUSED = {
    "mil": _MIL,
    "mils": _MIL,
    "min": "minutes of arc are written behind degrees (12 deg 30 min) or as arcmin",
    "%": "a percentage is no quantity here: work it out and write the number with its unit",
}

_NUMBER = r"(?:(?:(\d+)[ -])?(\d+) ?/ ?(\d+)|(\d+\.?\d*|\.\d+))"
_ONE = re.compile(rf"([+-]? ?){_NUMBER} ?(.*)", re.ASCII)
_FEET = re.compile(
    rf"([+-]? ?)(\d+) ?(?:ft\.?|feet|foot|') ?-? ?{_NUMBER} ?(?:in\.?|inch|inches|\")",
    re.ASCII | re.IGNORECASE,
)
_ARC = re.compile(
    rf"([+-]? ?)(\d+) ?(?:deg\.?|degrees?|°) ?{_NUMBER} ?(?:min\.?|')"
    rf"(?: ?{_NUMBER} ?(?:s|sec\.?|\"))?",
    re.ASCII | re.IGNORECASE,
)

_VULGAR = {
    "½": "1/2",
    "⅓": "1/3",
    "⅔": "2/3",
    "¼": "1/4",
    "¾": "3/4",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
}
_SAME = str.maketrans(
    {
        **dict.fromkeys("\u2212\u2010\u2011\u2012\u2013\u2014", "-"),
        **dict.fromkeys("\u2033\u201c\u201d\u201e", '"'),
        **dict.fromkeys("\u2032\u2018\u2019\u00b4", "'"),
        **dict.fromkeys("\u00ba\u02da", "°"),
        **dict.fromkeys("\u2044\u2215", "/"),
        **dict.fromkeys("\u00b7\u22c5\u2219\u2022", "*"),
        "\u00b2": "^2",
        "\u00b3": "^3",
        "\u2074": "^4",
    }
)


def _plain_text(text: str) -> str:
    """The text with typographic variants made plain and blanks single."""
    for sign, words in _VULGAR.items():
        text = text.replace(sign, f" {words}")
    text = text.translate(_SAME).replace("''", '"')
    text = re.sub(r"\+ ?/ ?-|\+-", "±", text)
    return " ".join(text.split())


def _fraction(whole: str | None, top: str | None, bottom: str | None, decimal: str | None) -> Fraction:
    """The value of one number.

    Raises:
        ValueError: In words, for a fraction that is none.
    """
    if decimal is not None:
        return Fraction(decimal)
    numerator, denominator = int(top or 0), int(bottom or 0)
    if denominator == 0:
        raise ValueError("nothing can be divided by 0: write the fraction again")
    if whole is not None and numerator >= denominator:
        raise ValueError("the fraction behind a whole number must be less than 1: write it again")
    return int(whole or 0) + Fraction(numerator, denominator)


def _unit(word: str, dimension: Dimension) -> Unit | None:
    """The unit a word means, None for no word.

    Raises:
        ValueError: In words, when the word is no unit of the list.
    """
    word = re.sub(r"\s*[*-]\s*|\s+", "-", word.strip().removesuffix(".").strip())
    if not word:
        return None
    if word.casefold() in _REFUSED:
        raise ValueError(_REFUSED[word.casefold()])
    folded = ANY_CASE.get(word.casefold())
    found = EXACT.get(word) or (folded if folded and folded.any_case else None)
    if found is None and folded is not None:
        raise ValueError(f"{word} is not a unit: capitals matter here, write {folded.name}")
    if found is None:
        if re.match(r"[eE][+-]?\d", word):
            raise ValueError("write the number out, without a power of ten")
        if re.search(r"\d", word):
            raise ValueError(_help(dimension))
        raise ValueError(f"{word} is not a unit known here: write {_units_of(dimension)}")
    if dimension.kind == "force" and found.name == "lb":
        return BY_NAME["lbf"]  # a hoist or a spring is spoken of in lb, and only a force is asked
    return found


def _help(dimension: Dimension) -> str:
    """What to write instead."""
    if dimension.kind == "length":
        return "write one number and one unit, like 2 5/8 in, 66.7 mm or 5 ft 6-1/2 in"
    if isinstance(dimension, Plain):
        return f"write one {dimension.kind} without a unit, like {dimension.example}"
    return f"write one number and one unit, like {dimension.example}"


def _units_of(dimension: Dimension) -> str:
    """The units a dimension may be given in, in words."""
    names = [u.name for u in UNITS if u.kind == dimension.kind]
    return " or ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names) or "no unit"


def _a(kind: str) -> str:
    """The kind with its article."""
    return f"an {kind}" if kind[0] in "aeiou" else f"a {kind}"


def _sixty(value: Fraction, words: str, limit: int) -> Fraction:
    """The value, refused when it reaches the next larger unit."""
    if value >= limit:
        raise ValueError(f"{words} must be less than {limit}: write it again")
    return value


def _side(text: str, dimension: Dimension) -> tuple[Fraction, Unit | None]:
    """Number (in its own unit, sign included) and unit of one side of a +/-.

    Raises:
        ValueError: In words, when it cannot be read.
    """
    if feet := _FEET.fullmatch(text):
        sign, whole, *rest = feet.groups()
        inches = _sixty(_fraction(*rest), "inches behind feet", 12)
        return _signed(sign, 12 * int(whole) + inches), BY_NAME["in"]
    if arc := _ARC.fullmatch(text):
        sign, whole, *rest = arc.groups()
        minutes = _sixty(_fraction(*rest[:4]), "minutes", 60)
        seconds = _sixty(_fraction(*rest[4:]), "seconds", 60) if any(rest[4:]) else Fraction(0)
        return _signed(sign, int(whole) + minutes / 60 + seconds / 3600), BY_NAME["deg"]
    one = _ONE.fullmatch(text)
    if one is None:
        raise ValueError(_help(dimension))
    sign, *rest, word = one.groups()
    return _signed(sign, _fraction(*rest)), _unit(word, dimension)


def _signed(sign: str, value: Fraction) -> Fraction:
    """The value with its sign."""
    return -value if sign.strip() == "-" else value


def _sides(text: str, dimension: Dimension) -> tuple[Fraction | float, Fraction | float | None]:
    """Value and tolerance in the program's unit.

    Raises:
        ValueError: In words, when the text cannot be read.
    """
    plain = _plain_text(text)
    if re.search(r"\d ?, ?\d|,\d", plain, re.ASCII):
        raise ValueError("write a decimal point, not a comma, and no comma between thousands")
    first, mark, second = plain.partition("±")
    value, unit = _side(first.strip(), dimension)
    spread, spread_unit = _side(second.strip(), dimension) if mark else (None, None)
    if spread is not None and (spread < 0 or "+" in second):
        raise ValueError("a tolerance has no sign of its own: write 3.500 in +/- 0.005 in")
    if isinstance(dimension, Plain):
        if unit or spread_unit:
            raise ValueError(_help(dimension))
        if isinstance(dimension, Count) and value.denominator != 1:
            raise ValueError("this is counted: write a whole number")
        return value, spread
    unit = unit or spread_unit
    if unit is None:
        raise ValueError(f"a number alone does not say what it is: put a unit behind it, like {dimension.example}")
    spread_unit = spread_unit or unit
    for found in (unit, spread_unit):
        if found.kind != dimension.kind:
            raise ValueError(
                f"{found.name} is for {_a(found.kind)} and this takes {_a(dimension.kind)}: "
                f"write {_units_of(dimension)}"
            )
    return value * unit.factor, None if spread is None else spread * spread_unit.factor


@cache
def _bound(text: str, dimension: Dimension) -> float:
    """One end of a range in the program's unit."""
    return float(_sides(text, dimension)[0])


def limits(dimension: Dimension) -> tuple[float, float]:
    """Lowest and highest value allowed, in the program's unit; infinite where there is no bound."""
    low = _bound(dimension.low, dimension) if dimension.low else -math.inf
    high = _bound(dimension.high, dimension) if dimension.high else math.inf
    return low, high


def parse(text: str, dimension: Dimension) -> Measure:
    """The measure a text gives, in the program's unit, inside the range of the dimension.

    Raises:
        BadQuantity: When the text is no such quantity or lies outside the range.
    """
    given = text if len(text) <= LONGEST_TEXT else text[: LONGEST_TEXT - 3] + "..."
    given = " ".join(given.split()) or "an empty text"

    def bad(remedy: str) -> BadQuantity:
        return BadQuantity(given, dimension.allowed(), remedy)

    if len(text) > LONGEST_TEXT or not text.strip():
        raise bad(_help(dimension))
    try:
        value, spread = _sides(text, dimension)
    except ValueError as words:
        raise bad(str(words)) from None
    low, high = limits(dimension)
    if not low <= float(value) <= high:
        side = "small" if float(value) < low else "large"
        raise bad(f"this is too {side}: check the number and its unit")
    return Measure(float(value) + 0.0, text.strip(), None if spread is None else float(spread))


def take(value: object, dimension: Dimension) -> Measure:
    """The measure a sheet value gives: text is parsed, a `Measure` passes, the rest is refused.

    A number without quotes is taken only where no unit is wanted.

    Raises:
        BadQuantity: When the value is no such quantity.
    """
    if isinstance(value, Measure):
        return value
    if isinstance(value, str):
        return parse(value, dimension)
    shown = str(value).lower() if isinstance(value, bool) else str(value)[:LONGEST_TEXT]
    number = isinstance(value, int | float) and not isinstance(value, bool)
    if number and isinstance(dimension, Plain):
        return parse(shown, dimension)
    if number:
        remedy = f'put quotes round it and a unit behind it, like "{dimension.example}"'
    else:
        remedy = f'write it as a text in quotes, like "{dimension.example}"'
    raise BadQuantity(shown, dimension.allowed(), remedy)
