"""Whether a PDF is what was meant: read back by another library and measured to 0.05 mm."""

from __future__ import annotations

import math
from itertools import combinations

from fixturegen.errors import GeometryFault
from fixturegen.findings import Finding, Level
from fixturegen.keeping import kept_json, key_of
from fixturegen.pages.documents import Document, Proof
from fixturegen.pages.furniture import INCHES, MILLIMETRES
from fixturegen.pages.paper import MM_PER_INCH, PAPERS
from fixturegen.pages.readback import ReadFile, ReadPage, read_pdf, scale_bars

NEAR = 0.05  # [mm] what a line on paper may be off; half of what a sharp pencil line is wide
LOST = 1.0  # [mm] a circle farther from where a hole should stand is another one
SCALE = "PDF-01"
SCALE_CLAIM = "every page to be laid on steel has a scale bar of 4.000 in and of 100 mm and asks to be printed unscaled"
PLACES = "PDF-02"
PLACES_CLAIM = "outlines on paper have their lengths and holes their distances, to 0.05 mm"


def findings_of(document: Document) -> tuple[Finding, ...]:
    """What reading a PDF back found: PDF-01 and, where something stands on it 1:1, PDF-02.

    What was measured is kept, since reading a file takes as long as writing it.

    Args:
        document: A PDF with its proofs.
    """
    key = key_of(("proof", document.content, document.proofs))
    told = kept_json("proof", key, lambda: measured(document.content, document.proofs))
    claims = {SCALE: SCALE_CLAIM, PLACES: PLACES_CLAIM}
    return tuple(_finding(code, claims[code], document, faults) for code, faults in told.items())


def measured(content: bytes, proofs: tuple[Proof, ...]) -> dict[str, list[str]]:
    """Code of each claim that is asked of a PDF, and what is wrong, in words.

    Args:
        content: The file.
        proofs: One for each page.
    """
    try:
        read = read_pdf(content)
    except GeometryFault as fault:
        return {SCALE: [fault.words]}
    found = {SCALE: scale_faults(read, proofs)}
    if any(p.outlines or p.holes for p in proofs):
        found[PLACES] = [
            f"page {n}: {words}"
            for n, (page, proof) in enumerate(zip(read.pages, proofs, strict=False), 1)
            for words in place_faults(page, proof)
        ]
    return found


def scale_faults(read: ReadFile, proofs: tuple[Proof, ...]) -> list[str]:
    """What is wrong with size, scale bars and print setting of a file, in words.

    Args:
        read: The file.
        proofs: One for each page.
    """
    faults = [] if read.unscaled else ["the file does not ask to be printed unscaled"]
    if len(read.pages) != len(proofs):
        faults.append(f"{len(read.pages)} pages in the file, {len(proofs)} were meant")
    sizes = [s for p in PAPERS.values() for s in ((p.width, p.height), (p.height, p.width))]
    for n, (page, proof) in enumerate(zip(read.pages, proofs, strict=False), 1):
        if all(math.dist((page.width, page.height), size) > NEAR for size in sizes):
            faults.append(f"page {n} is {page.width:.1f} x {page.height:.1f} mm, which is neither Letter nor A4")
        if not proof.scale_bar:
            continue
        wanted = (INCHES * MM_PER_INCH, float(MILLIMETRES))
        for bar, want, name in zip(scale_bars(page), wanted, ("inch", "metric"), strict=True):
            if bar is None:
                faults.append(f"page {n} has no {name} scale bar")
            elif abs(bar - want) > NEAR:
                faults.append(f"page {n}: the {name} bar measures {bar:.3f} mm, not {want:.3f}")
    return faults


def place_faults(page: ReadPage, proof: Proof) -> list[str]:
    """What is wrong with outlines and holes of a page, in words.

    Args:
        page: As read.
        proof: What was meant.
    """
    rings = [p for p in page.paths if p.closed and p.stroked]
    faults = []
    for want in proof.outlines:
        near = min((p.length for p in rings), key=lambda one: abs(one - want), default=0.0)
        if abs(near - want) > NEAR:
            faults.append(f"no outline of {want:.3f} mm round; the nearest has {near:.3f}")
    if proof.start is not None and not faults:
        starts = [p.pieces[0].points[0] for p in rings if abs(p.length - proof.outlines[0]) <= NEAR]
        off = min(math.dist(s, proof.start) for s in starts)
        if off > NEAR:
            faults.append(f"the outline stands {off:.3f} mm from its place on the page")
    return faults + _hole_faults(page, proof)


def _hole_faults(page: ReadPage, proof: Proof) -> list[str]:
    """Each hole is looked for by its size and by how it stands to the first one; then all distances are measured."""
    if not proof.holes:
        return []
    rings, (x0, y0, first) = page.circles(), proof.holes[0]
    found = [f"no hole of {first:.3f} mm stands on the page"]
    for sx, sy, _ in (r for r in rings if abs(r[2] - first) <= NEAR):
        pairs = []
        for x, y, d in proof.holes:
            at = (sx + x - x0, sy + y - y0)
            same = (r for r in rings if abs(r[2] - d) <= NEAR and math.dist(r[:2], at) <= LOST)
            pairs.append(((x, y, d), min(same, key=lambda r: math.dist(r[:2], at), default=None)))
        found = [f"the hole of {w[2]:.3f} mm at {w[0]:.3f}, {w[1]:.3f} mm is missing" for w, r in pairs if r is None]
        there = [(w, r) for w, r in pairs if r is not None]
        for (a, p), (b, q) in combinations(there, 2):
            want, got = math.dist(a[:2], b[:2]), math.dist(p[:2], q[:2])
            if abs(want - got) > NEAR:
                found.append(f"two holes stand {got:.3f} mm apart, not {want:.3f}")
        if not found:
            return []
    return found


def _finding(code: str, claim: str, document: Document, faults: list[str]) -> Finding:
    if not faults:
        pages = len(document.proofs)
        words = f"{document.title}: {pages} page{'s' if pages != 1 else ''} measured"
        return Finding(code, Level.PASS, claim, words, parts=document.parts, limit=NEAR, unit="mm", frame="P")
    words = f"{document.title}: {'; '.join(faults[:3])}"
    remedy = "the paper is not written. Use the DXF, and report it with the sheet"
    return Finding(
        code, Level.FAIL, claim, words, remedy, document.parts, limit=NEAR, unit="mm", frame="P", holds="nothing"
    )
