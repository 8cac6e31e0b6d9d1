"""Pages are true to size when another library reads them, and tell what they cannot draw."""

import io
import math
import os
import subprocess
import sys

import pypdfium2
import pytest
from reportlab.pdfgen.canvas import Canvas

from fixturegen.errors import GeometryFault, MachineFault
from fixturegen.pages import (
    A4,
    LETTER,
    PAPERS,
    Book,
    Figure,
    Paper,
    TitleBlock,
    Words,
    drawable,
    fonts,
    read_pdf,
    scale_bars,
    svg,
    table,
    text_width,
    write_in,
)
from fixturegen.pages.figure import broken
from fixturegen.plate.profile import Vertex, circle, perimeter, rectangle

NEAR = 0.05  # [mm] what a page may be off, as asked for


def _book(paper: Paper = LETTER) -> Book:
    return Book("Test", TitleBlock("An invented job", "B", "3f9ac01d22aa"), paper)


def _shrunk(content: bytes, factor: float) -> bytes:
    """The first page drawn smaller inside a page of the same size, as a printer that fits to the page does."""
    source = pypdfium2.PdfDocument(content)
    target = pypdfium2.PdfDocument.new()
    size = source[0].get_size()
    page = target.new_page(*size)
    thing = source.page_as_xobject(0, target).as_pageobject()
    thing.set_matrix(pypdfium2.PdfMatrix().scale(factor, factor).translate(10.0, 10.0))
    page.insert_obj(thing)
    page.gen_content()
    out = io.BytesIO()
    target.save(out)
    return out.getvalue()


@pytest.mark.parametrize("paper", list(PAPERS.values()), ids=list(PAPERS))
def test_the_scale_bar_of_every_page_is_four_inches_and_a_hundred_millimetres(paper: Paper) -> None:
    book = _book(paper)
    book.page("Upright")
    book.page("Lying", lying=True)
    read = read_pdf(book.pdf())
    for page, size in zip(read.pages, ((paper.width, paper.height), (paper.height, paper.width)), strict=True):
        assert (page.width, page.height) == pytest.approx(size, abs=NEAR)
        inch, metric = scale_bars(page)
        assert inch == pytest.approx(4.0 * 25.4, abs=NEAR)  # the international inch, exact
        assert metric == pytest.approx(100.0, abs=NEAR)


def test_the_sizes_of_paper_are_those_of_the_standards() -> None:
    # ASME Y14.1 size A: 8.5 x 11 in; ISO 216 A4: 210 x 297 mm
    assert (LETTER.width / 25.4, LETTER.height / 25.4) == pytest.approx((8.5, 11.0))
    assert (A4.width, A4.height) == (210.0, 297.0)


def test_a_page_that_was_fitted_to_the_paper_is_found_out() -> None:
    book = _book()
    book.page("Fitted")
    inch, metric = scale_bars(read_pdf(_shrunk(book.pdf(), 0.97)).pages[0])
    assert inch == pytest.approx(0.97 * 101.6, abs=NEAR)
    assert metric == pytest.approx(97.0, abs=NEAR)


def test_the_print_window_is_asked_not_to_scale() -> None:
    book = _book()
    book.page("One")
    content = book.pdf()
    assert content.startswith(b"%PDF-1.6")  # the first version that knows the setting: ISO 32000-1, table 150
    assert read_pdf(content).unscaled
    plain = io.BytesIO()
    canvas = Canvas(plain, invariant=1)
    canvas.showPage()
    canvas.save()
    assert not read_pdf(plain.getvalue()).unscaled


def test_lines_circles_and_arcs_come_back_at_their_closed_form_lengths() -> None:
    book = _book()
    page = book.page("Shapes")
    page.line(20.0, 100.0, 80.0, 180.0, role="x")
    page.circle(100.0, 150.0, 45.0)
    page.arc(100.0, 150.0, 60.0, 10.0, 250.0)
    slot = (Vertex(30.0, 200.0), Vertex(90.0, 200.0, 1.0), Vertex(90.0, 220.0), Vertex(30.0, 220.0, 1.0))
    page.loop(slot)
    paths = read_pdf(book.pdf()).pages[0].paths
    assert paths[0].length == pytest.approx(100.0, abs=1e-3)  # 3-4-5
    assert paths[1].length == pytest.approx(math.pi * 90.0, abs=1e-3)
    assert paths[2].length == pytest.approx(math.radians(250.0) * 60.0, abs=1e-3)
    assert paths[3].length == pytest.approx(120.0 + math.pi * 20.0, abs=1e-3)
    assert paths[3].closed and not paths[2].closed


def test_a_large_arc_keeps_its_radius_between_its_ends() -> None:
    book = _book()
    page = book.page("A plate edge of 900 mm radius")
    page.trace((Vertex(20.0, 100.0, math.tan(math.asin(80.0 / 900.0) / 2.0)), Vertex(180.0, 100.0)))
    (curve,) = (p for p in read_pdf(book.pdf()).pages[0].paths if len(p.pieces[0].points) == 4)
    centre = (100.0, 100.0 + math.sqrt(900.0**2 - 80.0**2))
    for piece in curve.pieces:
        (ax, ay), (bx, by), (cx, cy), (dx, dy) = piece.points
        middle = ((ax + 3 * bx + 3 * cx + dx) / 8.0, (ay + 3 * by + 3 * cy + dy) / 8.0)
        assert math.dist(middle, centre) == pytest.approx(900.0, abs=0.005)


def test_circles_are_found_with_their_centres_and_a_rounded_plate_is_none() -> None:
    book = _book()
    page = book.page("Holes")
    page.loop(circle(60.0, 120.0, 13.5))
    page.loop((Vertex(30.0, 200.0, 1.0), Vertex(90.0, 200.0, 0.3)))
    ((x, y, d),) = read_pdf(book.pdf()).pages[0].circles()
    assert (x, y, d) == pytest.approx((60.0, 120.0, 13.5), abs=1e-3)


def test_a_placed_figure_is_turned_and_moved_and_keeps_its_lengths() -> None:
    blank = Figure()
    blank.loop(rectangle(0.0, 0.0, 80.0, 30.0))
    book = _book()
    page = book.page("Placed")
    page.place(blank, 100.0, 120.0, angle=30.0)
    read = read_pdf(book.pdf()).pages[0].paths[0]
    corners = [p.points[0] for p in read.pieces]
    c, s = math.cos(math.radians(30.0)), math.sin(math.radians(30.0))
    assert read.length == pytest.approx(perimeter(rectangle(0.0, 0.0, 80.0, 30.0)), abs=1e-3)
    assert corners[1] == pytest.approx((100.0 + 80.0 * c, 120.0 + 80.0 * s), abs=1e-3)


def test_a_window_hides_what_lies_outside_it_and_leaves_out_what_never_comes_near() -> None:
    blank = Figure()
    blank.rect(0.0, 0.0, 200.0, 10.0)
    blank.circle(190.0, 5.0, 2.0)
    book = _book()
    book.page("Window").place(blank, 20.0, 100.0, window=(20.0, 90.0, 120.0, 120.0))
    content = book.pdf()
    page = read_pdf(content).pages[0]
    assert page.circles() == ()
    picture = pypdfium2.PdfDocument(content)[0].render(scale=1.0).to_pil().convert("L")
    dots = 72.0 / 25.4
    row = round(picture.height - 100.0 * dots)
    ink = [x / dots for x in range(picture.width) if min(picture.getpixel((x, row + k)) for k in (-1, 0, 1)) < 128]
    assert ink and min(ink) > 19.0 and max(ink) < 121.0


def test_what_the_font_cannot_draw_is_named_and_never_dropped() -> None:
    assert drawable("ok \U0001f527") == "ok [wrench]"
    assert drawable("\ud800") == "[U+D800]"
    assert drawable("漢") == "[U+6F22]"
    assert drawable("a\tb\x07c") == "a b c"
    assert drawable("1 ½ in ± 0.1° × Ø Ж ß") == "1 ½ in ± 0.1° × Ø Ж ß"


def test_lettering_from_right_to_left_is_put_in_the_order_it_is_seen() -> None:
    # UAX #9: Hebrew runs are turned round, numerals in them are not; the Latin text keeps its place
    assert drawable("abc שלום 12 עד") == "abc דע 12 םולש"
    assert drawable("(שלום)") == "(םולש)"
    # Unicode chapter 9.2: beh joined to beh takes initial and final shape
    assert drawable("بب") == "\ufe90\ufe91"


def test_odd_names_make_a_page_and_can_be_read_on_it() -> None:
    book = Book("Имя \U0001f600", TitleBlock("שם \ud800 漢字 <b>&", "б", "x" * 64))
    page = book.page("Ünïcode \U0001f527 " * 30)
    page.text(20.0, 150.0, "")
    words = read_pdf(book.pdf()).pages[0].text
    assert all(w in words for w in ("Ünïcode [wrench]", "U+D800", "[U+6F22][U+5B57]", "<b>&", "…"))


def test_a_line_that_is_too_long_is_made_smaller_and_then_ends_in_dots() -> None:
    figure = Figure()
    figure.fitted(0.0, 0.0, 50.0, "a name that needs to be a little smaller", 3.0)
    figure.fitted(0.0, 0.0, 50.0, "a name " * 60, 3.0)
    smaller, cut = (i for i in figure.items if isinstance(i, Words))
    assert smaller.text.endswith("smaller") and 1.5 <= smaller.size < 3.0
    assert cut.text.endswith("…") and cut.size == 1.5
    assert all(text_width(w.text, w.size) <= 50.0 + 1e-6 for w in (smaller, cut))


def test_text_is_broken_to_its_width_even_a_single_long_word() -> None:
    lines = broken("Lay on steel " + "x" * 200, 40.0, 3.0)
    assert "".join(lines).replace(" ", "") == "Layonsteel" + "x" * 200
    assert all(text_width(line, 3.0) <= 40.0 for line in lines)


def test_a_table_stops_at_its_bottom_and_says_how_many_rows_found_room() -> None:
    figure = Figure()
    rows = [(str(k), "a cell with more words than one line of it can take") for k in range(40)]
    low, drawn = table(figure, 10.0, 200.0, (12.0, 40.0), ("no", "what"), rows, bottom=100.0)
    assert low >= 100.0 and 0 < drawn < len(rows)
    assert min(i.y for i in figure.items if hasattr(i, "y")) > 100.0
    write_in(figure, 10.0, 20.0, 40.0, 12.0, "measured")


def test_lettering_is_as_high_as_its_size_says() -> None:
    book = _book()
    book.page("Letters").text(30.0, 150.0, "H", size=20.0)
    (word,) = (w for w in read_pdf(book.pdf()).pages[0].words if w.text.strip() == "H")
    # the box of the reader holds the ink and a hair more
    assert word.box[3] - word.box[1] == pytest.approx(20.0, rel=0.02)


def test_the_same_pages_are_the_same_bytes_in_another_process() -> None:
    code = (
        "import sys; from fixturegen.pages import Book, TitleBlock; b = Book('T', TitleBlock('Job ✓ é'));"
        "p = b.page('One'); p.text(20, 150, 'é Ж ½'); p.circle(60, 150, 10); sys.stdout.buffer.write(b.pdf())"
    )
    made = {
        subprocess.run(
            [sys.executable, "-c", code], check=True, capture_output=True, env={**os.environ, "PYTHONHASHSEED": seed}
        ).stdout
        for seed in ("1", "2")
    }
    assert len(made) == 1


def test_what_is_no_pdf_is_refused_in_one_sentence() -> None:
    with pytest.raises(GeometryFault, match="cannot be read back"):
        read_pdf(b"not a PDF at all")


def test_a_figure_as_svg_has_its_true_size_and_escapes_what_people_write() -> None:
    figure = Figure()
    figure.loop(circle(0.0, 0.0, 50.0), role="outline")
    figure.text(0.0, 0.0, "<script>&", role='a"b')
    text = svg(figure, "plate", (-30.0, -30.0, 30.0, 30.0))
    assert 'width="60mm" height="60mm" viewBox="-30 -30 60 60"' in text
    assert "A25 25 0" in text and "&lt;script&gt;&amp;" in text and "<script>" not in text


def test_a_font_that_is_gone_is_said_in_one_sentence(monkeypatch) -> None:
    fonts.font_file.cache_clear()
    monkeypatch.setattr(fonts.importlib.util, "find_spec", lambda _: None)
    with pytest.raises(MachineFault, match=r"DejaVuSans.ttf.*install it again"):
        fonts.font_file()
    monkeypatch.undo()
    fonts.font_file.cache_clear()
    assert fonts.font_file().is_file()


def test_a_book_without_a_page_is_refused() -> None:
    with pytest.raises(ValueError, match="needs a page"):
        _book().pdf()


def test_a_name_that_is_too_long_for_its_column_is_broken_behind_a_hyphen() -> None:
    rows = broken("lower-left-tab-right", 20.0, 3.0)
    assert len(rows) > 1 and "".join(rows) == "lower-left-tab-right"
    assert all(row.endswith("-") for row in rows[:-1])
    assert all(text_width(row, 3.0) <= 20.0 for row in rows)
    assert "".join(broken("x" * 60, 20.0, 3.0)) == "x" * 60
