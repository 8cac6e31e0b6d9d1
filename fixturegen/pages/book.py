"""A PDF of pages with one title block: true to size, the same bytes for the same pages, not to be fitted to paper."""

from __future__ import annotations

import io
from typing import Any

from fixturegen.pages.figure import Box, Figure, Item, Pen, Trace, Window, Words, cubics
from fixturegen.pages.fonts import CAPITAL, POINTS, drawable, registered
from fixturegen.pages.furniture import BAR_ROOM, BLOCK, TitleBlock, draw_block, draw_scale_bar
from fixturegen.pages.paper import LETTER, MARGIN, Paper

GAP = 2.0  # [mm] between furniture and what is drawn


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
        from reportlab.pdfgen.canvas import Canvas

        out = io.BytesIO()
        canvas = Canvas(out, pageCompression=1, invariant=1, initialFontName=registered())
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
        for item in items:
            if isinstance(item, Window):
                self._window(item)
            elif isinstance(item, Trace):
                self._trace(item)
            else:
                self._words(item)

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

    def _trace(self, trace: Trace) -> None:
        pen = trace.pen
        if pen != self.pen:
            self._take(pen)
        path = self.canvas.beginPath()
        path.moveTo(trace.vertices[0].x * POINTS, trace.vertices[0].y * POINTS)
        last = len(trace.vertices) - 1
        for k, a in enumerate(trace.vertices if trace.closed else trace.vertices[:-1]):
            b = trace.vertices[k + 1] if k < last else trace.vertices[0]
            curves = cubics(a, b) if a.bulge else []
            for (ux, uy), (vx, vy), (x, y) in curves:
                path.curveTo(ux * POINTS, uy * POINTS, vx * POINTS, vy * POINTS, x * POINTS, y * POINTS)
            if not curves and k < last:  # the last line is drawn by closing
                path.lineTo(b.x * POINTS, b.y * POINTS)
        if trace.closed:
            path.close()
        self.canvas.drawPath(path, stroke=int(pen.width > 0.0), fill=int(bool(pen.fill)), fillMode=0)

    def _take(self, pen: Pen) -> None:
        self.pen = pen
        if pen.width > 0.0:
            self.canvas.setLineWidth(pen.width * POINTS)
            self.canvas.setStrokeColorRGB(*_rgb(pen.colour))
            self.canvas.setDash([d * POINTS for d in pen.dash])
            self.canvas.setLineCap(0)
            self.canvas.setLineJoin(1)
        if pen.fill:
            self.canvas.setFillColorRGB(*_rgb(pen.fill))

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
