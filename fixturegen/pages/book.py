"""A PDF of pages with one title block: true to size, the same bytes for the same pages, not to be fitted to paper."""

from __future__ import annotations

import io
from typing import Any

from fixturegen.pages.figure import Box, Figure, Item, Pen, Trace, Window, Words, cubics
from fixturegen.pages.fonts import CAPITAL, POINTS, drawable, registered
from fixturegen.pages.furniture import BAR_ROOM, BLOCK, TitleBlock, draw_block, draw_scale_bar
from fixturegen.pages.paper import LETTER, MARGIN, Paper

GAP = 2.0  # [mm] between furniture and what is drawn
VERSION = (1, 6)  # of PDF: the first that knows PrintScaling (ISO 32000-1, table 150)


class Page(Figure):
    """One page, drawn on in mm from its lower left corner; `inside` is the room that is left.

    Attributes:
        paper: Its size as it lies.
        title: What the page is, in words.
        scale: As the title block tells it.
        inside: (x0, y0, x1, y1) clear of title block, scale bar and the rim no printer reaches [mm].
    """

    def __init__(self, paper: Paper, title: str, scale: str, scale_bar: bool) -> None:
        super().__init__()
        self.paper, self.title, self.scale, self.scale_bar = paper, title, scale, scale_bar
        self.inside: Box = free_room(paper, scale_bar)


def free_room(paper: Paper, scale_bar: bool = True) -> Box:
    """(x0, y0, x1, y1) a page leaves to be drawn on [mm].

    Args:
        paper: As it lies.
        scale_bar: Whether the page carries one.
    """
    low = MARGIN + BLOCK + GAP + (BAR_ROOM if scale_bar else 0.0)
    return MARGIN, low, paper.width - MARGIN, paper.height - MARGIN


class Book:
    """Pages that become one PDF."""

    def __init__(self, title: str, block: TitleBlock, paper: Paper = LETTER) -> None:
        """Begin a book.

        Args:
            title: Of the document, shown by the reader.
            block: What the title block of each page says.
            paper: Letter or A4.
        """
        self.title, self.block, self.paper = title, block, paper
        self.pages: list[Page] = []

    def page(self, title: str, scale: str = "1:1", scale_bar: bool = True, lying: bool = False) -> Page:
        """A new page at the end of the book.

        Args:
            title: What it is, in words.
            scale: "1:1", "1:5", "not to scale".
            scale_bar: Whether it carries the scale bar; each page that is laid on steel does.
            lying: Whether the long side lies across.
        """
        made = Page(self.paper.lying if lying else self.paper, title, scale, scale_bar)
        self.pages.append(made)
        return made

    def pdf(self) -> bytes:
        """The PDF file.

        Raises:
            ValueError: When the book has no page.
        """
        if not self.pages:
            raise ValueError("a book needs a page")
        from reportlab import rl_config
        from reportlab.pdfgen.canvas import Canvas

        rl_config.useA85 = 0  # text of seven bits is a quarter larger and slower, and no reader needs it
        out = io.BytesIO()
        canvas = Canvas(out, pageCompression=1, invariant=1, initialFontName=registered(), pdfVersion=VERSION)
        canvas.setTitle(drawable(self.title))
        canvas.setAuthor("fixturegen")
        canvas.setCreator("fixturegen")
        # the reader's print window then starts at 100 %; ISO 32000-1, table 150
        canvas.setViewerPreference("PrintScaling", "None")
        for number, page in enumerate(self.pages, 1):
            canvas.setPageSize((page.paper.width * POINTS, page.paper.height * POINTS))
            _Brush(canvas).draw(page.items + self._furniture(page, number))
            canvas.showPage()
        canvas.save()
        return out.getvalue()

    def _furniture(self, page: Page, number: int) -> list[Item]:
        figure = Figure()
        right = page.paper.width - MARGIN
        draw_block(figure, (MARGIN, MARGIN, right), self.block, page.title, page.scale, (number, len(self.pages)))
        if page.scale_bar:
            draw_scale_bar(figure, MARGIN + 2.0, MARGIN + BLOCK + 1.0, right - MARGIN - 4.0)
        return figure.items


class _Brush:
    """Draws records on a canvas of the PDF writer; a pen is set only where it changes."""

    def __init__(self, canvas: Any) -> None:
        self.canvas = canvas
        self.pen: Pen | None = None

    def draw(self, items: list[Item] | tuple[Trace | Words, ...]) -> None:
        together: list[Trace] = []
        for item in items:
            if isinstance(item, Trace) and (not together or item.pen == together[0].pen):
                together.append(item)
                continue
            if together:
                self._traces(together)
            together = [item] if isinstance(item, Trace) else []
            if isinstance(item, Window):
                self._window(item)
            elif isinstance(item, Words):
                self._words(item)
        if together:
            self._traces(together)

    def _window(self, window: Window) -> None:
        x0, y0, x1, y1 = (v * POINTS for v in window.box)
        self.canvas.saveState()
        path = self.canvas.beginPath()
        path.rect(x0, y0, x1 - x0, y1 - y0)
        self.canvas.clipPath(path, stroke=0, fill=0)
        self.pen = None
        self.draw(window.items)
        self.canvas.restoreState()
        self.pen = None

    def _traces(self, traces: list[Trace]) -> None:
        """Draw traces of one pen; what is neither closed nor filled goes into one path with its neighbours."""
        pen = traces[0].pen
        code = [] if pen == self.pen else [_taken(pen)]
        self.pen = pen
        paint = ("B*" if pen.fill else "S") if pen.width > 0.0 else ("f*" if pen.fill else "n")
        for k, trace in enumerate(traces):
            code.append(_way(trace))
            if trace.closed or pen.fill or k == len(traces) - 1 or traces[k + 1].closed:
                code.append(paint)
        self.canvas.addLiteral(" ".join(code))

    def _words(self, words: Words) -> None:
        self.pen = None  # lettering has a fill of its own
        text, size = drawable(words.text, words.bold), words.size / CAPITAL * POINTS
        self.canvas.setFont(registered(words.bold), size)
        self.canvas.setFillColorRGB(*_rgb(words.colour))
        draw = {
            "start": self.canvas.drawString,
            "middle": self.canvas.drawCentredString,
            "end": self.canvas.drawRightString,
        }[words.anchor]
        if words.angle == 0.0:
            draw(words.x * POINTS, words.y * POINTS, text)
            return
        self.canvas.saveState()
        self.canvas.translate(words.x * POINTS, words.y * POINTS)
        self.canvas.rotate(words.angle)
        draw(0.0, 0.0, text)
        self.canvas.restoreState()


def _rgb(colour: str) -> tuple[float, float, float]:
    """Red, green and blue from 0 to 1."""
    r, g, b = (int(colour[i : i + 2], 16) / 255.0 for i in (1, 3, 5))
    return r, g, b


def _n(value: float) -> str:
    """A number of the page description [pt] of a length [mm]: to 4e-6 mm."""
    return f"{value * POINTS:.5f}"


def _taken(pen: Pen) -> str:
    """Operators that set the pen; ISO 32000-1, tables 57 and 74."""
    code = []
    if pen.width > 0.0:
        dash = " ".join(_n(d) for d in pen.dash)
        colour = " ".join(f"{c:.4f}" for c in _rgb(pen.colour))
        code.append(f"{_n(pen.width)} w {colour} RG [{dash}] 0 d 0 J 1 j")
    if pen.fill:
        code.append(" ".join(f"{c:.4f}" for c in _rgb(pen.fill)) + " rg")
    return " ".join(code)


def _way(trace: Trace) -> str:
    """Operators that draw the way of a trace; ISO 32000-1, table 59."""
    first, last = trace.vertices[0], len(trace.vertices) - 1
    code = [f"{_n(first.x)} {_n(first.y)} m"]
    for k, a in enumerate(trace.vertices if trace.closed else trace.vertices[:-1]):
        b = trace.vertices[k + 1] if k < last else first
        curves = cubics(a, b) if a.bulge else []
        for curve in curves:
            code.append(" ".join(_n(v) for point in curve for v in point) + " c")
        if not curves and k < last:  # the last line is drawn by closing
            code.append(f"{_n(b.x)} {_n(b.y)} l")
    return " ".join(code) + (" h" if trace.closed else "")
