"""What every page carries: title block, caution line, scale bar in inches and millimetres."""

from __future__ import annotations

from dataclasses import dataclass

from fixturegen.pages.figure import FINE, PLAIN, Figure, Pen
from fixturegen.pages.paper import MM_PER_INCH

BLOCK = 22.0  # [mm] height of the title block
BAR_ROOM = 17.0  # [mm] height of the strip with the scale bar
INCHES = 4  # length of the inch bar
MILLIMETRES = 100  # length of the metric bar
INCH_LABEL = "4.000 in"
MM_LABEL = "100 mm"
MEASURE = (
    "Measure both bars with a steel rule before you use this page: 4.000 in and 100 mm. "
    "If they are not, print again at 100 % (actual size), not fit to page."
)
DARK = Pen(0.0, fill="#1a1a1a")


@dataclass(frozen=True)
class TitleBlock:
    """What the title block of every page of one book says.

    Attributes:
        job: Name of the job.
        revision: Of the job.
        digest: Of the sheet, or of what the paper hangs on; its first letters are shown. None when empty.
        units: Unit that sizes on the page are in, in words.
        caution: The caution line.
        of: What the digest is of: the sheet, or the one part on paper that hangs on nothing else.
    """

    job: str
    revision: str = ""
    digest: str = ""
    units: str = "inches, mm in brackets"
    caution: str = (
        "Setting-out aid, not certified. Measure before you cut or weld. Local rules and your inspector come first."
    )
    of: str = "Sheet"


def draw_block(
    figure: Figure, box: tuple[float, float, float], block: TitleBlock, title: str, scale: str, page: tuple[int, int]
) -> None:
    """Draw the title block.

    Args:
        figure: Takes it.
        box: (x0, y0, x1) of its lower corners [mm].
        block: What it says.
        title: What the page is.
        scale: "1:1", "not to scale" ...
        page: (number, of how many).
    """
    x0, y0, x1 = box
    top, cut, right = y0 + BLOCK, y0 + 6.0, x1 - 42.0
    middle = (cut + top) / 2.0
    figure.rect(x0, y0, x1, top, PLAIN)
    figure.line(x0, cut, x1, cut, FINE)
    figure.line(right, cut, right, top, FINE)
    figure.line(x0, middle, x1, middle, FINE)
    room = right - x0 - 4.0
    figure.fitted(x0 + 2.0, middle + 2.2, room, title, 3.6, bold=True)
    figure.fitted(x0 + 2.0, cut + 2.4, 0.62 * room, f"Job: {block.job}", 2.6)
    figure.fitted(x0 + 2.0 + 0.65 * room, cut + 2.4, 0.35 * room, f"Sizes in {block.units}", 2.6)
    figure.fitted(right + 2.0, middle + 2.2, 38.0, f"Page {page[0]} of {page[1]}   {scale}", 3.2, bold=True)
    named = f"Rev {block.revision or 'none'}" + (f"   {block.of} {block.digest[:8]}" if block.digest else "")
    figure.fitted(right + 2.0, cut + 2.4, 38.0, named, 2.6)
    figure.fitted(x0 + 2.0, y0 + 1.9, x1 - x0 - 4.0, block.caution, 2.4)


def draw_scale_bar(figure: Figure, x: float, y: float, width: float) -> None:
    """Draw the scale bar: 4 in above, 100 mm below, and what to do when they are not.

    Args:
        figure: Takes it.
        x: Left end of both bars [mm].
        y: Lower edge of the strip [mm].
        width: Of the strip; words stand to the right of the bars [mm].
    """
    for base, pitch, count, label in (
        (y + 9.5, MM_PER_INCH / 4.0, 4 * INCHES, INCH_LABEL),
        (y + 2.0, 10.0, MILLIMETRES // 10, MM_LABEL),
    ):
        group = 4 if base > y + 5.0 else 1
        length = pitch * count
        for k in range(0, count // group, 2):
            figure.rect(x + k * group * pitch, base, x + (k + 1) * group * pitch, base + 1.6, DARK)
        figure.line(x, base, x + length, base, FINE, "scale bar")
        figure.line(x, base + 1.6, x + length, base + 1.6, FINE)
        for k in range(count + 1):
            high = 3.6 if k % (5 if group == 1 else 4) == 0 else 2.4
            figure.line(x + k * pitch, base, x + k * pitch, base + high, FINE)
        figure.text(x + length + 2.0, base, label, 2.8, bold=True)
    words = x + MM_PER_INCH * INCHES + 22.0
    figure.paragraph(words, y + 14.0, x + width - words, MEASURE, 2.1)
