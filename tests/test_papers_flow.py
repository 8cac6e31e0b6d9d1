"""Papers are written where they measure as they should, listed with their digests, and kept."""

import hashlib
import json
import re
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import ezdxf
import jsonschema
import pytest

from fixturegen import keeping, papers_flow
from fixturegen.checks import registry
from fixturegen.cli.main import main
from fixturegen.findings import Finding, Level
from fixturegen.pages import documents, read_pdf
from fixturegen.pages.documents import Proof
from fixturegen.plate.bracket_set import BracketSet
from fixturegen.sheet import digest
from fixturegen.templates.wraps import wraps_of
from fixturegen.write.summary import schema
from tests.few_brackets import few_brackets
from tests.sheet.altered import KINGPIN
from tests.templates.toys import contents, plate, tube_end

OUTPUT = {"$ref": "#/$defs/output", "$defs": schema()["$defs"]}
TUBE_END = '\n[[tube_ends]]\nname = "brace"\nbranch = "1 1/2 in"\nmain = "2 in"\n'


@pytest.fixture(autouse=True)
def _templates_alone(monkeypatch):
    # digests of toy sheets, which are no records
    monkeypatch.setattr(
        papers_flow, "digest", lambda sheet: "0" * 64 if isinstance(sheet, SimpleNamespace) else digest(sheet)
    )
    monkeypatch.setattr(papers_flow, "rooms", lambda: ("templates",))


def test_every_paper_is_written_and_told_with_the_digest_of_its_bytes(tmp_path):
    files, found = papers_flow.write_papers(tmp_path, contents(plate("a"), tube_ends=(tube_end(),)), "in")
    there = {p.relative_to(tmp_path).as_posix() for p in tmp_path.rglob("*") if p.is_file()}
    assert there == {f.path for f in files}
    assert "papers/templates/tube-end-1-brace-to-hoop_in.dxf" in there
    for one in files:
        assert one.sha256 == hashlib.sha256((tmp_path / one.path).read_bytes()).hexdigest()
        assert (one.pages is not None) is one.path.endswith(".pdf")
    assert [(f.code, f.level) for f in found] == [(f"PDF-0{n}", Level.PASS) for n in (3, 1, 2)]
    assert papers_flow.names_of(files) == {"a": "papers/templates/a.pdf"}


def test_a_pdf_that_does_not_measure_as_it_should_is_not_written_and_told(tmp_path, monkeypatch):
    good = contents(plate("a"), plate("b"))
    real = papers_flow.maker_of("templates")

    def spoilt(given):
        return [
            replace(d, proofs=(Proof(outlines=(99.0,)),)) if d.path == "templates/a.pdf" else d for d in real(given)
        ]

    monkeypatch.setattr(papers_flow, "maker_of", lambda _: spoilt)
    files, found = papers_flow.write_papers(tmp_path, good, "in")
    assert "papers/templates/a.pdf" not in {f.path for f in files}
    assert "papers/templates/b.pdf" in {f.path for f in files}
    assert not (tmp_path / "papers" / "templates" / "a.pdf").exists()
    (failed,) = [f for f in found if f.level is Level.FAIL]
    assert (failed.code, failed.parts, failed.holds) == ("PDF-02", ("a",), "nothing")


def test_a_second_run_finds_everything_kept_and_gives_the_same_bytes(tmp_path, monkeypatch):
    given = contents(plate("a"))
    with keeping.cache_in(tmp_path / "cache"):
        first, _ = papers_flow.write_papers(tmp_path / "one", given, "in")
        monkeypatch.setattr("fixturegen.pages.book.Book.pdf", lambda _: pytest.fail("made again"))
        monkeypatch.setattr("fixturegen.pages.proving.read_pdf", lambda _: pytest.fail("read again"))
        again, _ = papers_flow.write_papers(tmp_path / "two", contents(plate("a")), "in")
    assert first == again


def test_the_dxf_of_a_tube_end_is_its_outline_at_true_size_for_another_reader(tmp_path):
    papers_flow.write_papers(tmp_path, contents(tube_ends=(tube_end(50.8, 88.9, 90.0),)), "in")
    path = tmp_path / "papers" / "templates" / "tube-end-1-brace-to-hoop_in.dxf"
    space = ezdxf.readfile(path).modelspace()
    cut = [e for e in space if e.dxf.layer == "CUT_OUT"]
    assert {e.dxftype() for e in cut} == {"LINE", "ARC"}
    xs = [x for e in cut if e.dxftype() == "LINE" for x in (e.dxf.start.x, e.dxf.end.x)]
    assert max(xs) - min(xs) == pytest.approx(3.141592653589793 * 2.0, abs=0.002)  # pi D of a 2 in tube, in inches
    assert {e.dxf.layer for e in space} == {"CUT_OUT", "MARK", "NOTE"}


def test_the_dxf_of_a_tube_end_is_measured_against_its_drawing():
    (cope,) = [t.figure for t in wraps_of(tube_end(50.8, 88.9, 90.0), 1, "in") if not t.name.endswith("landing")]
    (other,) = [t.figure for t in wraps_of(tube_end(50.9, 88.9, 90.0), 1, "in") if not t.name.endswith("landing")]
    data = papers_flow.figure_dxf(cope, "in")
    assert papers_flow.dxf_faults(data, cope, "in") == []
    assert any("mm round, not" in words for words in papers_flow.dxf_faults(data, other, "in"))
    assert papers_flow.dxf_faults(data, cope, "mm") != []


def _sheet(tmp_path, text, monkeypatch, parts=(), findings=()):
    path = tmp_path / "axle.toml"
    bare = re.sub(r"(?ms)^\[truss\].*?(?=^\[)", "", few_brackets(KINGPIN, 0))  # its plates would be drawn each time
    path.write_text(bare + text, encoding="utf-8")
    monkeypatch.setattr("fixturegen.parts.registry.make_jig", lambda *_: (parts, ()))
    monkeypatch.setattr("fixturegen.brackets.registry.make_brackets", lambda *_: BracketSet())
    monkeypatch.setattr(registry, "run", lambda *_: findings)
    return path


def test_papers_writes_templates_with_their_dxf_and_leaves_out_what_is_held(tmp_path, monkeypatch, capsys):
    parts = (plate("a", material="a36"), plate("b", material="a36"))
    held = Finding("FIT-01", Level.FAIL, "it fits", "0.2 mm over", "open it", parts=("b",), holds="part")
    sheet = _sheet(tmp_path, TUBE_END, monkeypatch, parts, (held,))
    out = tmp_path / "printed"
    assert main(["papers", str(sheet), "--out", str(out), "--paper", "a4", "--json"]) == 1
    body = json.loads(capsys.readouterr().out)
    jsonschema.validate(body, OUTPUT)
    names = {Path(f["path"]).name for f in body["papers"]}
    assert {"a.pdf", "a.svg", "a_in.dxf", "tube-end-1-brace.pdf"} <= names
    assert not any(n.startswith("b.") or n.startswith("b_") for n in names)
    page = read_pdf((out / "papers" / "templates" / "a.pdf").read_bytes()).pages[0]
    assert (page.width, page.height) == pytest.approx((210.0, 297.0), abs=0.05)
    assert main(["papers", str(sheet), "--out", str(out)]) == 1  # once more, over its own folder
    said = capsys.readouterr().out
    assert "HELD, no paper: b" in said and "100 %" in said


def test_papers_never_replaces_a_build_or_a_folder_of_the_persons(tmp_path, monkeypatch, capsys):
    sheet = _sheet(tmp_path, "", monkeypatch)
    (tmp_path / "built").mkdir()
    (tmp_path / "built" / "summary.json").write_text("{}", encoding="utf-8")
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "letter.txt").write_text("mine", encoding="utf-8")
    (tmp_path / "file").write_text("a file", encoding="utf-8")
    for name, words in (("built", "papers alone"), ("mine", "holds other files"), ("file/in", "file")):
        code = main(["papers", str(sheet), "--out", str(tmp_path / name)])
        told = capsys.readouterr().err
        assert code in (2, 3) and words in told and "Traceback" not in told
    assert (tmp_path / "mine" / "letter.txt").read_text(encoding="utf-8") == "mine"


def test_a_build_writes_papers_unless_the_sheet_leaves_them_to_the_command(tmp_path):
    job = contents(plate("a")).job
    order = SimpleNamespace(job=job, stage=tmp_path, units="in", progress=lambda *_: None)
    for with_build, wanted in ((None, True), (True, True), (False, False)):
        draft = SimpleNamespace(files={"a": {"dxf": "cut/a_in.dxf"}}, masses={})
        order.stage = tmp_path / str(with_build)
        section = SimpleNamespace(paper="a4", with_build=with_build, most_sheets=30)
        job.sheet.papers = None if with_build is None else section
        files, _ = papers_flow.built_papers(order, draft, {}, ((), {}, ()))
        assert bool(files) is wanted
        assert (draft.files["a"].get("template") == "papers/templates/a.pdf") is wanted
        assert (order.stage / "papers").exists() is wanted


def test_papers_that_tell_findings_are_not_made_before_there_are_any(monkeypatch):
    asked = []
    monkeypatch.setattr(papers_flow, "maker_of", lambda room: asked.append(room) or (lambda _: []))
    monkeypatch.setattr(papers_flow, "masses_of", lambda _: {})
    monkeypatch.setattr(papers_flow, "rooms", documents.rooms)
    job = contents(plate("a")).job
    job.sheet.papers = None
    papers_flow.papers_ahead(job)
    assert asked == ["drawings", "templates"]
