"""A station of the work as texts; how it is laid out on paper stands in `layout`."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fixturegen.checks.registry import Job
from fixturegen.units.written import MM_PER_INCH, as_inch

NUDGE = 1e-9  # far below what is printed: a half that binary writes a hair low is rounded up all the same
NO_SIZES = ("process.file_version",)  # has digits and is no size


@dataclass(frozen=True)
class Reading:
    """One value to set or to read.

    Attributes:
        what: In words.
        planned: The value, with its unit.
        within: How far off is still good, with its unit; empty where nothing is judged.
        tool: What to read it with.
        boxes: Names of the empty boxes beside it.
        beside: The same value in other words, small under it.
    """

    what: str
    planned: str
    within: str
    tool: str
    boxes: tuple[str, ...] = ("measured",)
    beside: str = ""


@dataclass(frozen=True)
class Listing:
    """A table of things to fetch, cut, or do; each row ends with an empty box.

    Attributes:
        title: In words.
        note: What to know first; may be empty.
        head: Of the columns.
        shares: Widths of the columns, as shares of the page.
        rows: Texts.
        box: What the box behind each row is for; none when empty.
        box_share: Width of that box, as a share of the page.
    """

    title: str
    note: str
    head: tuple[str, ...]
    shares: tuple[float, ...]
    rows: tuple[tuple[str, ...], ...]
    box: str = ""
    box_share: float = 0.1


@dataclass(frozen=True)
class Station:
    """One sheet of the bench.

    Attributes:
        slug: Of its file: `[a-z0-9-]`.
        title: What is done there.
        zero: Which surface all sizes of the sheet are taken from, and how it is reached.
        assumed: What was not measured and matters here, in words.
        readings: To set or to read, in the order of the work.
        steps: In the order of the work.
        lists: Tables.
        cautions: That belong to this work.
        parts: Names of the parts it tells of, where it is about some of them only.
    """

    slug: str
    title: str
    zero: str
    assumed: tuple[str, ...] = ()
    readings: tuple[Reading, ...] = ()
    steps: tuple[str, ...] = ()
    lists: tuple[Listing, ...] = ()
    cautions: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()


def steps_between(job: Job, first: int, last: int) -> tuple[str, ...]:
    """The steps of the jig whose order lies between two, both included; none where there is no jig."""
    jig = job.assemblies.get("jig")
    return (
        ()
        if jig is None
        else tuple(words for words, order in zip(jig.steps, jig.orders, strict=True) if first <= order <= last)
    )


def taped(value: float, units: str = "in", parts: int = 32) -> str:
    """A length [mm] for a tape: nearest fraction of an inch, mm beside it.

    Args:
        value: [mm].
        units: Of the job; mm stand first where it is mm.
        parts: Finest fraction of an inch a tape is read to.
    """
    bare, metric = fraction(value, parts), f"{fixed(value, 1)} mm"
    return f"{metric} ({bare})" if units == "mm" else f"{bare} ({metric})"


def fixed(value: float, decimals: int) -> str:
    """A number of mm with so many decimals; a half is rounded up: 6.35 is 6.4. Inches stay as the steel is marked."""
    return f"{value + math.copysign(NUDGE, value):.{decimals}f}"


def fraction(value: float, parts: int = 32) -> str:
    """A length [mm] as inch and nearest fraction, whatever that leaves out."""
    return as_inch(value, parts).partition(" (")[0]


def beside(value: float, units: str = "in") -> str:
    """A length [mm] as decimals of an inch and as mm: what the fraction leaves out can be seen there."""
    inch, metric = f"{value / MM_PER_INCH:.3f} in", f"{fixed(value, 1)} mm"
    return f"{metric}, {inch}" if units == "mm" else f"{inch}, {metric}"


def tape_reading(
    what: str,
    value: float,
    units: str,
    within: str,
    tool: str,
    boxes: tuple[str, ...] = ("measured",),
    words: tuple[str, str] = ("", ""),
) -> Reading:
    """A length to be read with a tape.

    Args:
        what: In words.
        value: Planned [mm].
        units: Of the job.
        within: How far off is still good.
        tool: What to read it with.
        boxes: Names of the empty boxes.
        words: Before and after the planned value.
    """
    shown = f"{fixed(value, 1)} mm" if units == "mm" else fraction(value)
    planned = " ".join(w for w in (words[0], shown, words[1]) if w)
    return Reading(what, planned, within, tool, boxes, beside(value, units))


def caliper(value: float, units: str = "in") -> str:
    """A length [mm] for a caliper: thousandths of an inch and hundredths of a mm."""
    inch, metric = f"{value / MM_PER_INCH:.3f} in", f"{fixed(value, 2)} mm"
    return f"{metric} ({inch})" if units == "mm" else f"{inch} ({metric})"


def within(value: float, units: str = "in") -> str:
    """A tolerance either way [mm], in thousandths of an inch or hundredths of a mm."""
    inch, metric = f"+/- {value / MM_PER_INCH:.3f} in", f"+/- {fixed(value, 2)} mm"
    return metric if units == "mm" else inch


def fine(value: float, units: str = "in") -> str:
    """A small length of a dial or a feeler [mm]: thousandths of an inch or hundredths of a mm."""
    return f"{fixed(value, 2)} mm" if units == "mm" else f"{value / MM_PER_INCH:.3f} in"


def tape_within(value: float, units: str = "in", reject: float = 0.0) -> str:
    """A tolerance either way [mm] that is read with a tape, and from where on the work is rejected [mm].

    Args:
        value: Good up to here.
        units: Of the job.
        reject: Bad from here; not told when 0.
    """
    good, bad = (f"{fixed(v, 1)} mm" if units == "mm" else fraction(v) for v in (value, reject))
    return f"+/- {good}" + (f"; reject {bad}" if reject else "")


def assumed_of(assumptions: tuple[tuple[str, str, str], ...], sections: tuple[str, ...]) -> tuple[str, ...]:
    """What is used for the sizes that these sections of the sheet did not give, in words with the key.

    Words are no sizes. Rows of one kind that have the same value are told together.

    Args:
        assumptions: (key, what is used, meaning) of every value the sheet did not give.
        sections: Names of sections.
    """
    rows: dict[tuple[str, str, str], list[str]] = {}
    for key, used, meaning in assumptions:
        section = key.split(".")[0].split("[")[0]
        if section not in sections or key in NO_SIZES or not any(c.isdigit() for c in used):
            continue
        number = key.partition("[")[2].partition("]")[0]
        name = key.replace(f"[{number}]", "", 1) if number else key
        rows.setdefault((name, used, meaning), []).extend([number] if number else [])
    return tuple(
        f"{_spelt(name)}{f' ({_listed(numbers)})' if numbers else ''} {used}: {meaning}"
        for (name, used, meaning), numbers in rows.items()
    )


def _spelt(key: str) -> str:
    """A key of the sheet as words: "truss end height"."""
    return key.replace(".", " ").replace("_", " ")


def _listed(numbers: list[str]) -> str:
    """Row 4, rows 1 to 6, or rows 1, 3 and 5."""
    if len(numbers) == 1:
        return f"row {numbers[0]}"
    if len(numbers) > 2 and [int(n) for n in numbers] == list(range(int(numbers[0]), int(numbers[-1]) + 1)):
        return f"rows {numbers[0]} to {numbers[-1]}"
    return f"rows {', '.join(numbers[:-1])} and {numbers[-1]}"
