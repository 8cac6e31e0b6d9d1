"""Tables, and boxes to write in by hand."""

from __future__ import annotations

from collections.abc import Sequence

from fixturegen.pages.figure import FINE, LEADING, PLAIN, Figure, Pen, broken

PAD = 1.2  # [mm] from a rule to the lettering
SHADE = Pen(0.0, fill="#e4e4e4")


def row_height(cells: Sequence[str], widths: Sequence[float], size: float, bold: bool = False) -> float:
    """Height of a row whose cells are broken into lines [mm].

    Args:
        cells: Text of each.
        widths: Of the columns [mm].
        size: Height of capitals [mm].
        bold: In bold letters.
    """
    most = max(len(broken(c, w - 2.0 * PAD, size, bold)) for c, w in zip(cells, widths, strict=True))
    return most * LEADING * size + 2.0 * PAD


def table(
    figure: Figure,
    x: float,
    y: float,
    widths: Sequence[float],
    head: Sequence[str],
    rows: Sequence[Sequence[str]],
    size: float = 2.8,
    bottom: float = float("-inf"),
) -> tuple[float, int]:
    """Draw a ruled table down from a corner; its height below [mm], and how many rows found room.

    Rows that would pass below `bottom` are not drawn: put them on the next page.

    Args:
        figure: Takes the table.
        x: Left edge [mm].
        y: Upper edge [mm].
        widths: Of the columns [mm].
        head: Of the columns; none when empty.
        rows: Text of each cell; a cell is broken into lines.
        size: Height of capitals [mm].
        bottom: Lowest the table may reach [mm].
    """
    edges = [x]
    for width in widths:
        edges.append(edges[-1] + width)
    top, drawn = y, 0
    for k, cells in enumerate((head, *rows) if head else rows):
        bold = bool(head) and k == 0
        high = row_height(cells, widths, size, bold)
        if y - high < bottom:
            break
        if bold:
            figure.rect(x, y - high, edges[-1], y, SHADE)
        for left, width, cell in zip(edges, widths, cells, strict=False):
            figure.paragraph(left + PAD, y - PAD - 0.3 * size, width - 2.0 * PAD, cell, size, bold)
        y -= high
        figure.line(x, y, edges[-1], y, FINE)
        drawn += not bold
    for edge in edges:
        figure.line(edge, top, edge, y, FINE)
    figure.line(x, top, edges[-1], top, FINE)
    return y, drawn


def write_in(
    figure: Figure, x: float, y: float, width: float, height: float, label: str = "", size: float = 2.2
) -> None:
    """Draw an empty box to be filled in by hand, its name small inside the upper left corner.

    Args:
        figure: Takes the box.
        x: Left edge [mm].
        y: Lower edge [mm].
        width: [mm].
        height: [mm].
        label: What is written there; none when empty.
        size: Height of the label's capitals [mm].
    """
    figure.rect(x, y, x + width, y + height, PLAIN)
    if label:
        figure.fitted(x + PAD, y + height - size - PAD, width - 2.0 * PAD, label, size)
