"""Templates of 50 parts, measured, against matplotlib writing the very same lines and words; printed, never judged.

Not collected by default: `python -m pytest tests/benchmarks/test_paper_ratio.py -o addopts="" -s
--import-mode=importlib`. Aim: at most 1, read-back included. Time of the processor, nothing from
the cache. Parts are invented.
"""

import io
import time
from types import SimpleNamespace

import pytest

from fixturegen.keeping import cache_used
from fixturegen.pages import LETTER, TitleBlock, Words
from fixturegen.pages.documents import Contents
from fixturegen.pages.figure import Trace, Window
from fixturegen.pages.proving import findings_of
from fixturegen.templates.blanks import blank_of
from fixturegen.templates.documents import documents
from fixturegen.templates.tiles import book_of, tiling_of
from tests.benchmarks.test_dxf_ratio import bracket

COUNT, MANY = 50, 300
INCH = 25.4


def contents(count: int) -> Contents:
    """A job of brackets that each take one or two sheets of paper."""
    sheet = SimpleNamespace(
        job=SimpleNamespace(name="toy", units="in"),
        revision=SimpleNamespace(id="A"),
        papers=None,
        tube_ends=(),
        truss=None,
    )
    parts = {p.name: p for p in (bracket(n) for n in range(count))}
    brackets = SimpleNamespace(facts={})
    job = SimpleNamespace(sheet=sheet, parts=parts, assemblies={}, brackets=brackets, axle=None)
    return Contents(job, "0" * 64)  # type: ignore[arg-type]  # a job in all that templates ask of it


def peer(pages: list[list[Trace | Words]]) -> bytes:
    """The same lines and words by matplotlib, one page each, its font embedded as ours is."""
    from matplotlib.backends.backend_pdf import FigureCanvasPdf, PdfPages
    from matplotlib.figure import Figure
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path

    out = io.BytesIO()
    with PdfPages(out, metadata={"CreationDate": None}) as pdf:
        for items in pages:
            figure = Figure(figsize=(LETTER.width / INCH, LETTER.height / INCH))
            FigureCanvasPdf(figure)
            axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
            axes.set_axis_off()
            axes.set_xlim(0.0, LETTER.width)
            axes.set_ylim(0.0, LETTER.height)
            for item in items:
                if isinstance(item, Words):
                    axes.text(item.x, item.y, item.text, fontsize=item.size / 0.729 * 72.0 / INCH, rotation=item.angle)
                else:
                    points = [(v.x, v.y) for v in item.vertices]
                    path = Path([*points, points[0]] if item.closed else points, closed=item.closed)
                    width = item.pen.width * 72.0 / INCH
                    axes.add_patch(PathPatch(path, fill=False, linewidth=width, edgecolor=item.pen.colour))
            pdf.savefig(figure)
    return out.getvalue()


def drawn(count: int) -> list[list[Trace | Words]]:
    """What stands on each page of the templates, furniture included."""
    pages = []
    for n in range(count):
        template = blank_of(bracket(n), "in")
        book, _ = book_of(template, tiling_of(template.area, LETTER), TitleBlock("toy"), LETTER)
        for number, page in enumerate(book.pages, 1):
            items = [*page.items, *book._furniture(page, number)]
            flat = [i for item in items for i in (item.items if isinstance(item, Window) else (item,))]
            pages.append(flat)
    return pages


def test_templates_of_fifty_parts_against_matplotlib(capsys: pytest.CaptureFixture[str]) -> None:
    with cache_used(False):
        documents(contents(2))
        peer(drawn(1))
        start = time.process_time()
        made = documents(contents(COUNT))
        ours = time.process_time() - start
        start = time.process_time()
        for one in made:
            if one.proofs:
                findings_of(one)
        proved = time.process_time() - start
        pages = drawn(COUNT)
        start = time.process_time()
        peer(pages)
        theirs = time.process_time() - start
        start = time.process_time()
        many = documents(contents(MANY))
        all_of = time.process_time() - start
    size = sum(len(d.content) for d in made if d.proofs) / 1e6
    with capsys.disabled():
        print(
            f"\n{COUNT} parts, {len(pages)} pages, {size:.1f} MB: drawn {ours:.2f} s, read back {proved:.2f} s, "
            f"matplotlib {theirs:.2f} s; ratio {ours / theirs:.2f}, with read-back {(ours + proved) / theirs:.2f}; "
            f"{MANY} parts {all_of:.2f} s, {len(many)} files"
        )
