"""What is laid on steel: one drawing at 1:1, what its lines must measure, and the words beside it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from fixturegen.pages import Figure, Pen, text_width
from fixturegen.pages.figure import Anchor, Words, item_box

WHITE = Pen(0.0, fill="#ffffff")
LAP_WORDS = "LAP: under the other end"
LAP_LETTERS = 2.6  # [mm]


def on_white(
    figure: Figure,
    x: float,
    y: float,
    width: float,
    text: str,
    size: float,
    anchor: Anchor = "start",
    bold: bool = False,
    role: str = "text",
) -> None:
    """Add lettering fitted to a width [mm] on white, so that no line already drawn runs through it."""
    words = Figure()
    words.fitted(x, y, width, text, size, anchor, bold)
    for item in words.items:
        if isinstance(item, Words):
            x0, y0, x1, y1 = item_box(item)
            figure.rect(x0 - 0.4, y0, x1 + 0.4, y1, WHITE, "white")
            figure.items.append(replace(item, role=role))


def lap_words(figure: Figure, middle: float, low: float, high: float) -> None:
    """Add what is done with the lap of a wrap, upright in it between two heights [mm]."""
    size = LAP_LETTERS * min(1.0, 0.92 * (high - low) / text_width(LAP_WORDS, LAP_LETTERS))
    figure.text(middle + size / 2.0, (low + high) / 2.0, LAP_WORDS, size, "middle", 90.0)


@dataclass(frozen=True, eq=False)
class Template:
    """One template.

    Attributes:
        name: Slug of its files.
        title: What it is, in words.
        figure: The drawing [mm].
        area: Points (n, 2) round all that must be on paper [mm].
        lines: What the person must know, one sentence each.
        head: Columns of its table; none without one.
        rows: Its rows.
        outlines: Lengths of its closed outlines [mm].
        start: First corner of its outline [mm].
        holes: (x, y, finished diameter) of its round holes [mm].
        parts: Parts it is of.
        dxf: Whether it is written as DXF too; a blank's own cut file is its DXF.
    """

    name: str
    title: str
    figure: Figure
    area: tuple[tuple[float, float], ...]
    lines: tuple[str, ...]
    head: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    outlines: tuple[float, ...] = ()
    start: tuple[float, float] | None = None
    holes: tuple[tuple[float, float, float], ...] = ()
    parts: tuple[str, ...] = ()
    dxf: bool = False
