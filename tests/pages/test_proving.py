"""A PDF that is not what was meant is found out, to a twentieth of a millimetre."""

import io
from dataclasses import replace
from types import SimpleNamespace

import pypdfium2
import pytest
from reportlab.pdfgen.canvas import Canvas

from fixturegen.findings import Level
from fixturegen.pages import Book, TitleBlock, documents
from fixturegen.pages.documents import Contents, Document, Proof
from fixturegen.pages.proving import findings_of, measured

MM = 72.0 / 25.4


def _page(inch=101.6, metric=100.0, unscaled=True, size=(215.9, 279.4)):
    """A page of another writer with two bars of any length."""
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(size[0] * MM, size[1] * MM), invariant=1)
    if unscaled:
        canvas.setViewerPreference("PrintScaling", "None")
    for y, length, label in ((60.0, inch, "4.000 in"), (50.0, metric, "100 mm")):
        canvas.line(20.0 * MM, y * MM, (20.0 + length) * MM, y * MM)
        canvas.drawString((22.0 + length) * MM, y * MM, label)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def _levels(content, *proofs):
    return {f.code: f.level for f in findings_of(Document("a.pdf", "A page", content, ("a",), proofs or (Proof(),)))}


@pytest.mark.parametrize("bar", [0, 1])
def test_pdf_01_a_bar_off_by_a_twentieth_of_a_millimetre_passes_and_a_hair_more_fails(bar):
    # 4 in is 101.6 mm exactly; 0.05 mm as asked for
    for off, level in ((0.045, Level.PASS), (-0.045, Level.PASS), (0.055, Level.FAIL), (-0.055, Level.FAIL)):
        lengths = [101.6, 100.0]
        lengths[bar] += off
        assert _levels(_page(*lengths)) == {"PDF-01": level}


def test_pdf_01_also_asks_for_the_print_setting_the_paper_and_the_count_of_pages():
    assert _levels(_page()) == {"PDF-01": Level.PASS}
    assert _levels(_page(unscaled=False)) == {"PDF-01": Level.FAIL}
    assert _levels(_page(size=(215.9, 279.0))) == {"PDF-01": Level.FAIL}
    assert _levels(_page(), Proof(), Proof()) == {"PDF-01": Level.FAIL}
    assert _levels(b"%PDF-1.4 cut off") == {"PDF-01": Level.FAIL}


def test_a_page_scaled_by_three_in_a_hundred_fails_both_claims_in_plain_words():
    book = Book("Toy", TitleBlock("job"))
    page = book.page("Holes")
    page.circle(60.0, 120.0, 10.0, role="outline")
    page.circle(150.0, 180.0, 5.0)
    proof = Proof(True, (62.8318530717958,), ((60.0, 120.0, 20.0), (150.0, 180.0, 10.0)), (50.0, 120.0))
    assert measured(book.pdf(), (proof,)) == {"PDF-01": [], "PDF-02": []}
    source = pypdfium2.PdfDocument(book.pdf())
    target = pypdfium2.PdfDocument.new()
    small = target.new_page(*source[0].get_size())
    thing = source.page_as_xobject(0, target).as_pageobject()
    thing.set_matrix(pypdfium2.PdfMatrix().scale(0.97, 0.97))
    small.insert_obj(thing)
    small.gen_content()
    out = io.BytesIO()
    target.save(out)
    found = measured(out.getvalue(), (proof,))
    assert any("98.552 mm, not 101.600" in words for words in found["PDF-01"])
    assert any("97.000 mm, not 100.000" in words for words in found["PDF-01"])
    assert any("no outline of 62.832 mm round" in words for words in found["PDF-02"])
    levels = {f.level for f in findings_of(Document("a.pdf", "A page", out.getvalue(), ("a",), (proof,)))}
    assert levels == {Level.FAIL}


def test_holes_moved_together_pass_and_one_moved_by_itself_fails():
    book = Book("Toy", TitleBlock("job"))
    page = book.page("Holes")
    holes = ((60.0, 120.0, 20.0), (150.0, 180.0, 10.0), (150.0, 100.0, 10.0))
    for x, y, d in holes:
        page.circle(x, y, d / 2.0)
    content = book.pdf()
    moved = tuple((x + 7.0, y - 3.0, d) for x, y, d in holes)
    assert measured(content, (Proof(holes=moved),))["PDF-02"] == []
    for off, fails in ((0.04, False), (0.06, True)):
        other = (*holes[:2], (150.0, 100.0 + off, 10.0))
        assert bool(measured(content, (Proof(holes=other),))["PDF-02"]) is fails


def test_rooms_that_make_papers_are_found_by_their_file(monkeypatch, tmp_path):
    assert "templates" in documents.rooms() and "pages" not in documents.rooms()
    (tmp_path / "toy").mkdir()
    (tmp_path / "toy" / "documents.py").write_text("", encoding="utf-8")
    (tmp_path / "other").mkdir()
    monkeypatch.setattr(documents.fixturegen, "__file__", str(tmp_path / "__init__.py"))
    assert documents.rooms() == ("toy",)


def test_contents_give_what_is_released_by_name_and_the_title_block_in_the_units_of_the_job():
    parts = {name: SimpleNamespace(name=name) for name in ("b", "a", "c")}
    sheet = SimpleNamespace(job=SimpleNamespace(name="Job", units="mm"), revision=SimpleNamespace(id="C"))
    made = Contents(SimpleNamespace(sheet=sheet, parts=parts), "0" * 64, {"c": "FIT-01: it does not fit"})
    assert [p.name for p in made.released] == ["a", "b"]
    assert made.block == replace(made.block, job="Job", revision="C", units="mm, inches in brackets")
