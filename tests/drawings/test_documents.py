"""What is handed out: drawings that were proved, of parts that are released, kept under what they hang on."""

from dataclasses import replace
from types import SimpleNamespace

import pytest

from fixturegen import keeping
from fixturegen.checks.registry import Job
from fixturegen.drawings import documents as room
from fixturegen.findings import Level
from fixturegen.pages import A4, read_pdf
from fixturegen.pages.documents import Contents
from fixturegen.pages.proving import findings_of
from tests.drawings.test_part_drawings import PARTS, pin, plate
from tests.sheet.altered import sheet as sheet_of


@pytest.fixture(scope="module")
def sheet():
    return sheet_of()


def contents(sheet, *parts, held=(), **more):
    job = Job(sheet, SimpleNamespace(), SimpleNamespace(), {p.name: p for p in parts})
    return Contents(job, "0" * 64, dict.fromkeys(held, "why"), masses={"ear": 0.5}, **more)


def test_drw_01_drawings_of_true_sizes_are_handed_out_and_a_spoilt_one_is_withheld(sheet, monkeypatch):
    """Spoilt by a thousandth of an inch, the last figure printed."""
    real = room.drawing_of

    def spoilt(part, subject):
        drawing = real(part, subject)
        if part.name != "ear":
            return drawing
        n = next(i for i, s in enumerate(drawing.sizes) if s.kind == "distance")
        one = drawing.sizes[n]
        off = replace(one, value=one.value + 0.0254)
        return replace(drawing, sizes=(*drawing.sizes[:n], off, *drawing.sizes[n + 1 :]))

    with keeping.cache_used(False):
        good = contents(sheet, plate(), pin())
        assert [d.path for d in room.documents(good)] == ["drawings/ear.pdf", "drawings/pin.pdf"]
        assert [(f.code, f.level, f.parts) for f in good.told] == [("DRW-01", Level.PASS, ("ear", "pin"))]
        monkeypatch.setattr(room, "drawing_of", spoilt)
        bad = contents(sheet, plate(), pin())
        assert [d.path for d in room.documents(bad)] == ["drawings/pin.pdf"]
    failed = [f for f in bad.told if f.level is Level.FAIL]
    assert [(f.code, f.parts, f.holds) for f in failed] == [("DRW-01", ("ear",), "nothing")]
    assert "hole" in failed[0].words
    assert failed[0].remedy


def test_a_held_part_has_no_drawing_and_every_form_has_one(sheet):
    with keeping.cache_used(False):
        made = room.documents(contents(sheet, *(p() for p in PARTS), held=("pin",), paper=A4))
    assert [d.path for d in made] == ["drawings/bracket.pdf", "drawings/ear.pdf", "drawings/tube.pdf"]
    for document in made:
        assert all(f.level is Level.PASS for f in findings_of(document))
        page = read_pdf(document.content).pages[0]
        assert sorted((page.width, page.height)) == pytest.approx([210.0, 297.0], abs=0.05)


def test_what_a_fabricator_looks_for_stands_on_the_paper(sheet):
    with keeping.cache_used(False):
        (made,) = room.documents(contents(sheet, plate()))
    text = " ".join(" ".join(w.text for w in p.words) for p in read_pdf(made.content).pages)
    for words in (
        "LEFT", "ZERO", "left edge and bottom edge", "ISO 9013", "Rev A", "pilot mark", "cut under, drill", "joint",
        "with its mate", "1.10 lb [0.500 kg]", "Work to the figures", "Setting-out aid, not certified",
    ):  # fmt: skip
        assert words in text, words


def test_a_part_keeps_its_drawing_when_another_changes_and_not_when_it_does(sheet, tmp_path, monkeypatch):
    made = []
    real = room.drawing_of
    monkeypatch.setattr(room, "drawing_of", lambda part, subject: made.append(part.name) or real(part, subject))
    with keeping.cache_in(tmp_path):
        first = room.documents(contents(sheet, plate(), pin()))
        again = room.documents(replace(contents(sheet, plate(), pin()), digest="1" * 64))
        changed = room.documents(contents(sheet, plate(dx=1.0), pin()))
    assert made == ["ear", "pin", "ear"]
    assert [d.content for d in first] == [d.content for d in again]
    assert changed[0].content != first[0].content
    assert changed[1].content == first[1].content


def test_three_hundred_parts_are_drawn(sheet, monkeypatch):
    """Each by its own name; the drawing itself is made once, since that is not what is tried here."""
    one = room._made(pin(), room.subject_of(pin(), contents(sheet)), contents(sheet).block)
    monkeypatch.setattr(room, "_made", lambda *_: one)
    with keeping.cache_used(False):
        given = contents(sheet, *(replace(pin(), name=f"pin-{n:03d}") for n in range(300)))
        assert len({d.path for d in room.documents(given)}) == 300
    assert len(given.told[0].parts) == 300
