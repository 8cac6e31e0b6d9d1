"""The flow of paper: each room that makes papers is asked, each PDF is measured, what holds is written.

A PDF that does not measure as it should is not written and told. What a page is made from and what was
measured is kept, so that a change of one part makes the pages of that part anew.
"""

from __future__ import annotations

import hashlib
import math
from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path

from fixturegen.bodies.axle import part_solid
from fixturegen.checks.registry import Job
from fixturegen.errors import GeometryFault
from fixturegen.findings import Finding, Level, Number
from fixturegen.pages import LETTER, PAPERS, Figure, Trace, Words
from fixturegen.pages.documents import Contents, Document, maker_of, rooms, tells_findings
from fixturegen.pages.proving import NEAR, PLACES, PLACES_CLAIM, findings_of
from fixturegen.plate import Part
from fixturegen.plate.lettering import text_box
from fixturegen.plate.profile import edges, perimeter, signed_area
from fixturegen.progress import Progress, silent
from fixturegen.sheet import Sheet, digest
from fixturegen.stock import NotInTable
from fixturegen.write import dxf, readback
from fixturegen.write.content import contours, file_faults, read_dxf
from fixturegen.write.drawing import CUT_OUT, MARK, Drawing
from fixturegen.write.file_rules import file_rules
from fixturegen.write.kerf import torch_part
from fixturegen.write.staging import Draft, Order, density, kerf_in_files
from fixturegen.write.summary import PaperFile

Findings = tuple[Finding, ...]
Told = tuple[Findings, Mapping[str, Number], tuple[tuple[str, str, str], ...]]
Written = tuple[PaperFile, ...]

FOLDER = "papers"
OUTLINE = "outline"


def contents_of(
    job: Job,
    held: Mapping[str, str],
    told: Told,
    masses: Mapping[str, float],
    paper: str | None = None,
) -> Contents:
    """What papers are made from.

    Args:
        job: Sheet, axle, plan, parts, assemblies.
        held: Part name to reason.
        told: Findings so far, numbers by dotted name, and what the sheet did not give.
        masses: Part name to mass [kg].
        paper: letter or a4; the sheet's when not given, and letter where it says nothing.
    """
    section = job.sheet.papers
    size = paper or (section.paper if section is not None else LETTER.name)
    findings, numbers, assumptions = told
    return Contents(job, digest(job.sheet), held, findings, numbers, assumptions, masses, PAPERS[size])


def with_build(sheet: Sheet) -> bool:
    """Whether a build makes papers: yes, where the sheet does not say otherwise.

    Args:
        sheet: The build sheet.
    """
    return sheet.papers is None or sheet.papers.with_build


def built_papers(order: Order, draft: Draft, held: Mapping[str, str], told: Told) -> tuple[Written, Findings]:
    """The papers of a build, unless the sheet leaves them to `papers`; each template is named among its part's files.

    Args:
        order: Where to write and in which unit.
        draft: What has been written; takes the names.
        held: Part name to reason.
        told: Findings so far, numbers, and what the sheet did not give.
    """
    if not with_build(order.job.sheet):
        return (), ()
    contents = contents_of(order.job, held, told, draft.masses)
    written, found = write_papers(order.stage, contents, order.units, order.progress)
    for part, path in names_of(written).items():
        draft.files[part]["template"] = path
    return written, found


def write_papers(
    stage: Path, contents: Contents, units: dxf.Units, progress: Progress = silent
) -> tuple[Written, Findings]:
    """Every paper of a job written below `papers/`, and what measuring them found.

    Args:
        stage: The staging folder.
        contents: What papers are made from.
        units: Unit of the DXF files of tube ends.
        progress: Told which room is at work.
    """
    written: list[PaperFile] = []
    findings: list[Finding] = []
    for room in rooms():
        progress(f"papers: {room}", 0, 0)
        for document in maker_of(room)(contents):
            found = _proved(document)
            findings += found
            if any(f.level is Level.FAIL for f in found):
                continue
            written.append(_write(stage, document))
            for drawn, read in _as_dxf(document, units):
                findings.append(read)
                if read.level is not Level.FAIL:
                    written.append(_write(stage, drawn))
    return tuple(written), (*contents.told, *_summed(findings))


def papers_ahead(job: Job) -> None:
    """Have the papers of a build that tell no findings made and measured, so that `built_papers` finds them kept.

    It takes it that no part will be held.

    Args:
        job: Sheet, axle, plan, parts, assemblies.
    """
    if not with_build(job.sheet):
        return
    contents = contents_of(job, {}, ((), {}, ()), masses_of(job))
    for room in rooms():
        for document in () if tells_findings(room) else maker_of(room)(contents):
            _proved(document)


def masses_of(job: Job) -> dict[str, float]:
    """Part name to mass [kg] of every part that can be made."""
    from fixturegen.shapes.solids import volume

    masses = {}
    for name, part in job.parts.items():
        try:
            masses[name] = volume(part_solid(job, name)) * density(part.material)
        except (GeometryFault, NotInTable):
            continue
    return masses


def write_cut_files(stage: Path, contents: Contents, units: dxf.Units) -> tuple[list[PaperFile], list[Finding]]:
    """The as-cut DXF of each flat part beside its template, for those who make papers alone; each read back.

    Args:
        stage: The staging folder.
        contents: What papers are made from.
        units: Unit of the files.
    """
    written, findings = [], []
    for part in (p for p in contents.released if p.profile is not None):
        made, found = _cut_file(part, contents, units)
        findings.append(found)
        if made is not None and found.level is not Level.FAIL:
            written.append(_write(stage, made))
    return written, list(_summed(findings))


def _cut_file(part: Part, contents: Contents, units: dxf.Units) -> tuple[Document | None, Finding]:
    sheet = contents.job.sheet
    kerf, rules = kerf_in_files(sheet), file_rules(sheet, part.thickness)
    try:
        torch = torch_part(part, kerf)
    except GeometryFault as fault:
        words = f"{part.name}: {fault.words}"
        return None, Finding(readback.CODE, Level.FAIL, readback.CLAIM, words, fault.remedy, (part.name,), frame="P")
    data = dxf.dxf_bytes(torch, units, kerf, rules)
    path = f"templates/{dxf.file_name(part, units)}"
    return Document(path, f"{part.label}, as cut", data, (part.name,)), readback.check_dxf(torch, units, data, rules)


def _write(stage: Path, document: Document) -> PaperFile:
    path = stage / FOLDER / document.path
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(document.content)
    digest = hashlib.sha256(document.content).hexdigest()
    pages = len(document.proofs) or None
    return PaperFile(f"{FOLDER}/{document.path}", document.title, digest, pages, document.parts)


def _proved(document: Document) -> tuple[Finding, ...]:
    return findings_of(document) if document.proofs else ()


def _summed(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Each failure by itself; what passed as one finding for each claim."""
    failed, passed = [], dict[str, list[Finding]]()
    for one in findings:
        if one.level is Level.PASS:
            passed.setdefault(one.code, []).append(one)
        else:
            failed.append(one)
    for found in passed.values():
        names = tuple(dict.fromkeys(name for f in found for name in f.parts))
        words = f"{len(found)} file{'s' if len(found) != 1 else ''} read back by another library and measured"
        failed.append(replace(found[0], words=words, parts=names))
    return tuple(sorted(failed, key=lambda f: f.code))


def _as_dxf(document: Document, units: dxf.Units) -> tuple[tuple[Document, Finding], ...]:
    """The drawing of a tube end as DXF too, outline to cut and all else as marks; and what reading it back found."""
    if document.figure is None:
        return ()
    path = str(Path(document.path).with_suffix("").as_posix()) + f"_{units}.dxf"
    drawn = Document(path, f"{document.title}, as DXF", figure_dxf(document.figure, units), document.parts)
    faults = dxf_faults(drawn.content, document.figure, units)
    level = Level.FAIL if faults else Level.PASS
    words = f"{drawn.title}: {'; '.join(faults[:3]) or 'read back and measured'}"
    remedy = "the file is not written. Use the PDF, and report it with the sheet" if faults else ""
    read = Finding(PLACES, level, PLACES_CLAIM, words, remedy, drawn.parts, limit=NEAR, unit="mm", frame="P")
    return ((drawn, replace(read, holds="nothing")),)


def dxf_faults(data: bytes, figure: Figure, units: dxf.Units) -> list[str]:
    """What is wrong with the DXF of a figure, in words: its unit and kinds, its outline's length and area.

    Args:
        data: The file.
        figure: What was drawn [mm].
        units: Unit it was written in.
    """
    content = read_dxf(data)
    found, faults = contours(content.pieces.get(CUT_OUT, []))
    wanted = [i.vertices for i in figure.items if isinstance(i, Trace) and i.role == OUTLINE]
    faults = [*file_faults(content, units), *faults]
    if len(found) != len(wanted):
        return [*faults, f"{len(found)} outlines in the file, {len(wanted)} drawn"]
    for loop, contour in zip(wanted, found, strict=True):
        length = sum(e.length for e in contour.run)
        if abs(length - perimeter(loop)) > NEAR or abs(contour.area - abs(signed_area(loop))) > NEAR * length:
            faults.append(f"the outline measures {length:.3f} mm round, not {perimeter(loop):.3f}")
    return faults


def figure_dxf(figure: Figure, units: dxf.Units) -> bytes:
    """A figure as DXF at true size: its outline on the layer that is cut, everything else as marks.

    Args:
        figure: What is drawn [mm].
        units: Unit of the file.
    """
    drawing = Drawing(units, dxf.PLAIN)
    for item in figure.items:
        if isinstance(item, Trace):
            layer = CUT_OUT if item.role == OUTLINE else MARK
            for edge in edges(item.vertices) if item.closed else edges(item.vertices)[:-1]:
                drawing.edge(layer, edge)
        elif isinstance(item, Words):
            shift = {"start": 0.0, "middle": -0.5, "end": -1.0}[item.anchor]
            wide = _stroke_width(item)
            drawing.text(MARK, item.text, *_shifted(item, shift * wide), item.size, item.angle)
    x0, y0, _, _ = figure.box()
    unit = "MILLIMETRES" if units == "mm" else "INCHES"
    dxf.draw_notes(drawing, (f"FILE IN {unit}", "SQUARE IS 1.000 IN = 25.4 MM", "DO NOT CUT THIS LAYER"), (x0, y0))
    return drawing.bytes()


def _stroke_width(words: Words) -> float:
    """Width of a line of lettering in single strokes [mm]."""
    x0, _, x1, _ = text_box(words.text, words.size)
    return x1 - x0


def _shifted(words: Words, along: float) -> tuple[float, float]:
    a = math.radians(words.angle)
    return words.x + along * math.cos(a), words.y + along * math.sin(a)


def names_of(papers: Iterable[PaperFile]) -> Mapping[str, str]:
    """Part name to the path of its template."""
    return {
        part: paper.path for paper in papers for part in paper.parts if paper.path == f"{FOLDER}/templates/{part}.pdf"
    }
