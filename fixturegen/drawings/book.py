"""A drawing on pages: one PDF a part."""

from __future__ import annotations

from fixturegen.drawings.record import Drawing
from fixturegen.drawings.sheets import PaperName
from fixturegen.pages import PAPERS, Book, TitleBlock


def drawing_pdf(drawing: Drawing, block: TitleBlock, paper: PaperName) -> bytes:
    """The PDF of a drawing.

    Args:
        drawing: What is drawn.
        block: What the title block of each page says.
        paper: Letter or A4.
    """
    book = Book(drawing.label, block, PAPERS[paper])
    for sheet in drawing.pages:
        lying = sheet.width > sheet.height
        page = book.page(f"{drawing.label}: {sheet.heading}", sheet.scale, scale_bar=False, lying=lying)
        page.items += sheet.items
    return book.pdf()
