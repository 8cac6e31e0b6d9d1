"""The templates of a job as documents: a PDF and an SVG each."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache, cached_property, partial

from fixturegen.findings import Finding, Level
from fixturegen.keeping import digest_of, kept, kept_json, key_of
from fixturegen.pages import Book, svg
from fixturegen.pages.documents import Contents, Document, Proof
from fixturegen.plate import Part
from fixturegen.templates.blanks import blank_of
from fixturegen.templates.places import bracket_standing, placing_wrap, truss_standings
from fixturegen.templates.template import Template
from fixturegen.templates.tiles import book_of
from fixturegen.templates.tiling import Tiling, tiling_of
from fixturegen.templates.wraps import wraps_of

FOLDER = "templates"
CODE = "PDF-03"
CLAIM = "every flat blank and tube end that is released has its template 1:1 on paper"
MOST = 30  # sheets of paper for one template where the sheet does not say; a plate of 4 ft by 2 ft


def documents(contents: Contents) -> list[Document]:
    """A PDF and an SVG for each flat blank that is released, each tube end of the sheet, each bracket on a tube.

    One that would take more sheets of paper than asked for is told (PDF-03) and has its SVG alone.

    Args:
        contents: What papers are made from.
    """
    papers = contents.job.sheet.papers
    most = MOST if papers is None else papers.most_sheets
    units = contents.units
    makers = [
        _Making(p.name, p.label, p, partial(blank_of, p, units, contents.paper)) for p in contents.released if p.profile
    ]
    for number, end in enumerate(contents.job.sheet.tube_ends, 1):
        makers += [_Making(t.name, t.title, (number, end), partial(_same, t)) for t in wraps_of(end, number, units)]
    makers += _placing(contents)
    made: list[Document] = []
    large: list[tuple[_Making, int]] = []
    for making in makers:
        found, sheets = _documents(making, contents, most)
        made += found
        if sheets > most:
            large.append((making, sheets))
    contents.told.append(_finding(large, len(makers), most, contents.paper.name))
    return made


@dataclass(frozen=True, eq=False)
class _Making:
    """A template that need not be drawn when all of it is kept: its name, title, what it hangs on, how it is made."""

    name: str
    title: str
    of: object
    make: Callable[[], Template]

    @cached_property
    def template(self) -> Template:
        return self.make()


def _placing(contents: Contents) -> list[_Making]:
    """Wraps that show where brackets and truss stand on the tubes; none for one with a part that is held."""
    from fixturegen.checks.truss import plan_in
    from fixturegen.studies.truss_records import TrussPlan

    job = contents.job
    laid = [p for a in job.assemblies.values() if a.frame == "A" for p in a.placements]
    standings = [bracket_standing(facts) for facts in job.brackets.facts.values()]
    plan = plan_in(job)
    if isinstance(plan, TrussPlan):
        standings += truss_standings(plan, float(job.sheet.tubes.outside_diameter) / 2.0)
    found = []
    for one in standings:
        if one is None or any(part in contents.held for part in one.parts):
            continue
        own = tuple(p for p in laid if p.part in one.parts)
        make = partial(placing_wrap, one, own, job.axle.half_width, contents.units, contents.paper)
        title = f"{one.label}: where it stands on the {one.on}"
        found.append(_Making(f"place-{one.name}"[:40].strip("-"), title, (one, own, job.axle.half_width), make))
    return found


def _same(template: Template) -> Template:
    return template


def _documents(making: _Making, contents: Contents, most: int) -> tuple[list[Document], int]:
    """PDF and SVG of a template, and how many sheets of paper it takes; the SVG alone when they are too many."""
    paper, units = contents.paper, contents.units
    # not of the sheet: a part that did not change keeps its paper, and a print of it stays good
    kind = "Part" if isinstance(making.of, Part) else "End" if making.name.startswith("tube-end") else "Place"
    block = replace(contents.block, digest=digest_of((making.of, units)), of=kind)
    key = key_of(("template", making.name, making.of, block, paper, units))

    @cache
    def tiling() -> Tiling:
        return tiling_of(making.template.area, paper)

    @cache
    def book() -> tuple[Book, tuple[Proof, ...]]:
        return book_of(making.template, tiling(), block, paper)

    sheets = int(kept_json("tiles", key, lambda: len(tiling().tiles)))
    picture = kept("svg", key, lambda: svg(making.template.figure, making.title).encode("utf-8"))
    parts = (making.of.name,) if isinstance(making.of, Part) else ()
    path, title = f"{FOLDER}/{making.name}", f"{making.title}: template 1:1"
    figure = making.template.figure if kind == "End" and making.template.dxf else None
    made = [Document(f"{path}.svg", title, picture, parts, figure=figure)]
    if sheets > most:
        return made, sheets
    proofs = kept_json("proofs", key, lambda: [_told(p) for p in book()[1]])
    content = kept("pdf", key, lambda: book()[0].pdf())
    return [Document(f"{path}.pdf", title, content, parts, tuple(_proof(*p) for p in proofs)), *made], sheets


def _told(proof: Proof) -> list[object]:
    return [proof.scale_bar, proof.outlines, proof.holes, proof.start]


def _proof(
    bar: bool, outlines: list[float], holes: list[tuple[float, float, float]], start: tuple[float, float] | None
) -> Proof:
    found = tuple((x, y, d) for x, y, d in holes)
    return Proof(bar, tuple(outlines), found, None if start is None else (start[0], start[1]))


def _finding(large: list[tuple[_Making, int]], count: int, most: int, paper: str) -> Finding:
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
        tuple(t.of.name for t, _ in large if isinstance(t.of, Part)),
        value=float(max(n for _, n in large)),
        limit=float(most),
        unit="1",
        frame="P",
        holds="nothing",
    )
