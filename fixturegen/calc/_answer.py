"""What every topic answers with."""

from __future__ import annotations

from dataclasses import dataclass

from fixturegen.findings import Trust


@dataclass(frozen=True, kw_only=True)
class Answer:
    """Base of every result; a topic adds its own fields, annotated with unit and range.

    Attributes:
        formula: The formula in one line, in the names of inputs and results.
        source: Where it comes from, in words a person can look up.
        trust: How far to trust the numbers, the weakest of what went in.
        warnings: What else to know before using the answer.
        unused: Options that took no part in it, without the dashes; a default among them is not
            called assumed.
    """

    formula: str
    source: str
    trust: Trust
    warnings: tuple[str, ...] = ()
    unused: tuple[str, ...] = ()


@dataclass(frozen=True)
class Columns:
    """Marker of a result field that is a table: name and unit of each column.

    The field is a tuple of rows; each row is a tuple of numbers or texts.
    """

    columns: tuple[tuple[str, str], ...]
