"""The templates of a job as documents: a PDF and an SVG for each flat blank and each tube end."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from fixturegen.findings import Finding, Level
from fixturegen.keeping import kept, key_of
from fixturegen.pages import svg
from fixturegen.pages.documents import Contents, Document
from fixturegen.plate import Part
from fixturegen.templates.blanks import blank_of
from fixturegen.templates.template import Template
from fixturegen.templates.tiles import book_of, tiling_of
from fixturegen.templates.wraps import wraps_of

FOLDER = "templates"
CODE = "PDF-03"
CLAIM = "every flat blank and tube end that is released has its template 1:1 on paper"
MOST = 30  # sheets of paper for one template where the sheet does not say; a plate of 4 ft by 2 ft


def documents(contents: Contents) -> list[Document]:
    """A PDF and an SVG for each flat blank that is released and each tube end of the sheet.

    One that would take more sheets of paper than asked for is told (PDF-03) and has its SVG alone.

    Args:
        contents: What papers are made from.
    """
    papers = contents.job.sheet.papers
    most = MOST if papers is None else papers.most_sheets
    units = contents.units
    flat = [p for p in contents.released if p.profile is not None]
    made: list[Document] = []
    large: list[tuple[Template, int]] = []
    makers: list[tuple[object, Callable[[], Template]]] = [(part, _blank(part, units)) for part in flat]
    for number, end in enumerate(contents.job.sheet.tube_ends, 1):
        makers += [((end, units), _ready(t)) for t in wraps_of(end, number, units)]
    for of, make in makers:
        found, too_many = _documents(of, make(), contents, most)
        made += found
        if too_many is not None:
            large.append(too_many)
    contents.told.append(_finding(large, len(makers), most, contents.paper.name))
    return made


def _blank(part: Part, units: str) -> Callable[[], Template]:
    return lambda: blank_of(part, units)


def _ready(template: Template) -> Callable[[], Template]:
    return lambda: template


def _documents(
    of: object, template: Template, contents: Contents, most: int
) -> tuple[list[Document], tuple[Template, int] | None]:
    tiling = tiling_of(template.area, contents.paper)
    name = f"{FOLDER}/{template.name}"
    picture = Document(f"{name}.svg", f"{template.title}, 1:1", svg(template.figure, template.title).encode("utf-8"))
    picture = replace(picture, parts=template.parts, figure=template.figure if template.dxf else None)
    if len(tiling.tiles) > most:
        return [picture], (template, len(tiling.tiles))
    book, proofs = book_of(template, tiling, contents.block, contents.paper)
    key = key_of(("template", template.name, of, contents.block, contents.paper, contents.units))
    content = kept("pdf", key, book.pdf)
    title = f"{template.title}: template 1:1"
    return [Document(f"{name}.pdf", title, content, template.parts, proofs), picture], None


def _finding(large: list[tuple[Template, int]], count: int, most: int, paper: str) -> Finding:
    """PDF-03: which templates are too large for the tiling asked for."""
    if not large:
        words = f"{count} templates, each on {most} sheets of {paper} paper or fewer"
        return Finding(CODE, Level.PASS, CLAIM, words, limit=float(most), unit="1", frame="P", holds="nothing")
    told = ", ".join(f"{t.title} would take {n} sheets" for t, n in large[:6])
    more = f" and {len(large) - 6} more" if len(large) > 6 else ""
    return Finding(
        CODE,
        Level.WARN,
        CLAIM,
        f"{told}{more} of {paper} paper, more than the {most} asked for: no PDF of it",
        "use its SVG or DXF on a plotter, or raise papers.most_sheets",
        tuple(p for t, _ in large for p in t.parts),
        value=float(max(n for _, n in large)),
        limit=float(most),
        unit="1",
        frame="P",
        holds="nothing",
    )
