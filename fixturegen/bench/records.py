"""A station of the work as texts; how it is laid out on paper stands in `layout`."""

from __future__ import annotations

from dataclasses import dataclass

from fixturegen.units.written import MM_PER_INCH, as_inch


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
        assumed: (key, what was used) that was not measured and matters here.
        readings: To set or to read, in the order of the work.
        steps: In the order of the work.
        lists: Tables.
        cautions: That belong to this work.
        parts: Names of the parts it tells of, where it is about some of them only.
    """

    slug: str
    title: str
    zero: str
    assumed: tuple[tuple[str, str], ...] = ()
    readings: tuple[Reading, ...] = ()
    steps: tuple[str, ...] = ()
    lists: tuple[Listing, ...] = ()
    cautions: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()


def taped(value: float, units: str = "in", parts: int = 32) -> str:
    """A length [mm] for a tape: nearest fraction of an inch, mm beside it.

    Args:
        value: [mm].
        units: Of the job; mm stand first where it is mm.
        parts: Finest fraction of an inch a tape is read to.
    """
    bare = fraction(value, parts)
    return f"{value:.1f} mm ({bare})" if units == "mm" else f"{bare} ({value:.1f} mm)"


def fraction(value: float, parts: int = 32) -> str:
    """A length [mm] as inch and nearest fraction, whatever that leaves out."""
    return as_inch(value, parts).partition(" (")[0]


def beside(value: float, units: str = "in") -> str:
    """A length [mm] as decimals of an inch and as mm: what the fraction leaves out can be seen there."""
    inch, metric = f"{value / MM_PER_INCH:.3f} in", f"{value:.1f} mm"
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
    shown = f"{value:.1f} mm" if units == "mm" else fraction(value)
    planned = " ".join(w for w in (words[0], shown, words[1]) if w)
    return Reading(what, planned, within, tool, boxes, beside(value, units))


def caliper(value: float, units: str = "in") -> str:
    """A length [mm] for a caliper: thousandths of an inch and hundredths of a mm."""
    inch, metric = f"{value / MM_PER_INCH:.3f} in", f"{value:.2f} mm"
    return f"{metric} ({inch})" if units == "mm" else f"{inch} ({metric})"


def within(value: float, units: str = "in", decimals: int = 3) -> str:
    """A tolerance either way [mm]."""
    inch, metric = f"+/- {value / MM_PER_INCH:.{decimals}f} in", f"+/- {value:.2f} mm"
    return metric if units == "mm" else inch


def assumed_of(assumptions: tuple[tuple[str, str, str], ...], sections: tuple[str, ...]) -> tuple[tuple[str, str], ...]:
    """(key, what is used) of the assumed sizes that lie in these sections of the sheet; words are no sizes.

    Args:
        assumptions: (key, what is used, meaning) of every value the sheet did not give.
        sections: Names of sections.
    """
    return tuple(
        (key, used)
        for key, used, _ in assumptions
        if key.split(".")[0].split("[")[0] in sections and any(c.isdigit() for c in used)
    )
