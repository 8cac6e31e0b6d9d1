"""The report: one self-contained page that opens without a network."""

from __future__ import annotations

import base64
from dataclasses import dataclass
from pathlib import Path

from fixturegen.papers.pixels import few_colours
from fixturegen.papers.words import INCH


@dataclass(frozen=True)
class Picture:
    """A PNG as base64 text and its caption."""

    data: str
    caption: str


@dataclass(frozen=True)
class Table:
    """A table of texts; a cell '[box]' is an empty box for a measured value; `right` columns align right.

    `tints` are colours of ground and letters of the first cell of each row, as a page writes them.
    """

    title: str
    note: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: tuple[int, ...] = ()
    tints: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class PartCard:
    """One part as the page shows it."""

    name: str
    label: str
    quantity: int
    hand: str
    size: str
    mass: str
    datum: str
    svg: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    notes: tuple[str, ...]
    held: bool
    bend_head: tuple[str, ...] = ()
    bends: tuple[tuple[str, ...], ...] = ()


@dataclass(frozen=True)
class SheetCard:
    """One sheet as the page shows it: picture (SVG), caption, table of the parts, lines for a build sheet."""

    svg: str
    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    left: str = ""


@dataclass(frozen=True)
class Figure:
    """A picture of our own as SVG text, and the words under it."""

    svg: str
    caption: str


@dataclass(frozen=True)
class Section:
    """A section of its own: notes, large pictures, shaded pictures, tables, and small pictures in two columns."""

    title: str
    notes: tuple[str, ...]
    views: tuple[Figure, ...]
    tables: tuple[Table, ...]
    plots: tuple[Figure, ...]
    shots: tuple[Picture, ...] = ()


@dataclass(frozen=True)
class FindingRow:
    """One finding as the page shows it."""

    code: str
    level: str
    claim: str
    words: str
    remedy: str
    parts: tuple[str, ...]
    source: str
    value_text: str
    limit_text: str


@dataclass(frozen=True)
class Report:
    """Everything the page shows, as texts; `view` and `view_code` are HTML of our own: the 3-D view and its script."""

    title: str
    revision: str
    since: str
    sheet_name: str
    digest: str
    version: str
    cautions_top: tuple[str, ...]
    verdict: str
    held: tuple[tuple[str, str], ...]
    assumptions: tuple[tuple[str, str, str], ...]
    changes: tuple[tuple[str, str, str], ...]
    pictures: tuple[Picture, ...]
    tables: tuple[Table, ...]
    steps: tuple[str, ...]
    attention: tuple[FindingRow, ...]
    passes: tuple[FindingRow, ...]
    counts: tuple[tuple[str, int], ...]
    parts: tuple[PartCard, ...]
    hardware: tuple[tuple[str, ...], ...]
    welds: tuple[tuple[str, ...], ...]
    cautions: tuple[str, ...]
    numbers: tuple[tuple[str, str, str, str], ...]
    sheets: tuple[SheetCard, ...] = ()
    sheets_note: str = ""
    sections: tuple[Section, ...] = ()
    view: str = ""
    view_code: str = ""


def picture_of(path: Path, caption: str) -> Picture:
    """A PNG file as a picture that travels inside the page."""
    return Picture(base64.b64encode(path.read_bytes()).decode("ascii"), caption)


def rendered(report: Report) -> str:
    """The page as HTML text; every text is escaped, pictures are our own SVG and PNG."""
    import jinja2

    environment = jinja2.Environment(
        loader=jinja2.FileSystemLoader(Path(__file__).parent),
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        undefined=jinja2.StrictUndefined,
    )
    environment.filters["light"] = few_colours
    return environment.get_template("report.html.j2").render(r=report)


def write_report(path: Path, report: Report) -> None:
    """Write the page as UTF-8 with line feeds.

    Raises:
        OSError: When the file cannot be written.
    """
    path.write_bytes(rendered(report).encode("utf-8"))


def quantity_text(value: float | None, unit: str) -> str:
    """A finding's value or limit as text: lengths in inches and mm, others as they are."""
    if value is None:
        return ""
    if unit == "mm":
        return f"{value / INCH:.3f} in ({value:.2f} mm)"
    if unit == "N":
        return f"{value / 4.4482216152605:.0f} lbf"
    if unit == "kg":
        return f"{value / 0.45359237:.0f} lb"
    if unit == "N*mm":
        return f"{value / 1355.8179483314:.1f} lbf ft"
    if unit == "1":
        return f"{value:g}"
    return f"{value:.4g} {unit}".strip()
