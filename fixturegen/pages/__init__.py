"""Pages of paper as PDF: true to size, fonts embedded, the same bytes each time, read back and measured in mm.

from fixturegen.pages import A4, Book, DASHED, Figure, TitleBlock, read_pdf, scale_bars, svg, table, write_in

block = TitleBlock(job="Long-wheelbase front", revision="B", digest="3f9ac01d22aa", units="inches (mm)")
book = Book("Drawings", block, paper=A4)              # LETTER when not given
page = book.page("Clock plate, left", scale="1:1")    # title block, page n of m, caution, scale bar by itself
x0, y0, x1, y1 = page.inside                          # the room that is left [mm], from the lower left corner
page.line(x0, y1 - 10, x0 + 80, y1 - 10)              # pens: PLAIN, WIDE, FINE, DASHED, CENTRE, Pen(0.5, "#b3261e")
page.circle(x0 + 40, y1 - 60, 12.7)
page.arc(x0 + 40, y1 - 60, 20.0, 0.0, 135.0, DASHED)  # from 0 deg, 135 deg counter-clockwise
page.text(x0, y1 - 5, "UP", size=5.0, bold=True)      # size is the height of capitals [mm]
y = page.paragraph(x0, y1 - 100, 90.0, "Lay on steel, punch through the crosses.", size=3.0)
y, drawn = table(page, x0, y - 4, (12, 30, 40), ("no", "size", "what for"), [("1", "0.531 in", "table bolt")])
write_in(page, x0, y - 20, 40, 14, label="measured")  # an empty box
blank = Figure()                                      # drawn once, in its own frame ...
blank.loop(part.profile.outer, role="outline")        # loops of a profile, arcs kept
page.place(blank, x0 + 60, y1 - 150, angle=90.0)      # ... and put where it belongs, window=(x0, y0, x1, y1) hides
content = book.pdf()                                  # bytes; "page n of m" is known now
read = read_pdf(content)                              # by another library than the one that wrote it
inch, metric = scale_bars(read.pages[0])              # 101.6, 100.0
longest = max(p.length for p in read.pages[0].paths)  # .paths, .lines, .circles(), .words, .text; all in mm
picture = svg(blank, "Clock plate, left")             # the same records as SVG, 1:1
"""

from fixturegen.pages.book import Book, Page, free_room
from fixturegen.pages.figure import CENTRE, DASHED, FINE, GREY, INK, PLAIN, WIDE, Figure, Pen, Trace, Window, Words
from fixturegen.pages.fonts import drawable, text_width
from fixturegen.pages.furniture import TitleBlock, draw_scale_bar
from fixturegen.pages.paper import A4, LETTER, MARGIN, PAPERS, Paper
from fixturegen.pages.readback import ReadFile, ReadPage, read_pdf, scale_bars
from fixturegen.pages.svg import svg
from fixturegen.pages.tables import table, write_in

__all__ = [
    "A4",
    "CENTRE",
    "DASHED",
    "FINE",
    "GREY",
    "INK",
    "LETTER",
    "MARGIN",
    "PAPERS",
    "PLAIN",
    "WIDE",
    "Book",
    "Figure",
    "Page",
    "Paper",
    "Pen",
    "ReadFile",
    "ReadPage",
    "TitleBlock",
    "Trace",
    "Window",
    "Words",
    "draw_scale_bar",
    "drawable",
    "free_room",
    "read_pdf",
    "scale_bars",
    "svg",
    "table",
    "text_width",
    "write_in",
]
