"""The drawings of a job: one PDF for each released part, kept under the part's own digest."""

from __future__ import annotations

import base64
from dataclasses import replace
from functools import partial
from typing import Any

from fixturegen import keeping
from fixturegen.drawings.record import Drawing
from fixturegen.drawings.sheets import Subject
from fixturegen.drawings.subjects import subject_of
from fixturegen.drawings.written import Units
from fixturegen.findings import Finding, Level
from fixturegen.pages import TitleBlock
from fixturegen.pages.documents import Contents, Document, Proof
from fixturegen.plate import Assembly, Part

FOLDER = "drawings"
NAMED = {
    "jig": "the jig on the table, axle in it",
    "brackets": "the axle with its brackets",
    "locators": "what holds the brackets while they are tacked",
}
LABELS = {"A": "the axle with its {}", "T": "on the table: {}"}
"""By frame; assemblies of other frames have no drawing."""

SHOWN = 3  # faults of one drawing that are told


def documents(contents: Contents) -> list[Document]:
    """Drawings of parts; one whose sizes are not those of the solid is not handed out and told.

    Args:
        contents: The job.
    """
    made, proved = [], []
    for part in contents.released:
        document, faults = _drawn(part, contents)
        if faults:
            contents.told.append(_fault(subject_of(part, contents), faults, (part.name,)))
        elif document is not None:
            made.append(document)
            proved.append(part.name)
    if proved:
        contents.told.append(_pass(tuple(proved)))
    return made + assembly_documents(contents)


def assembly_documents(contents: Contents) -> list[Document]:
    """Drawings of the jig on the table and of what is welded to the axle.

    Args:
        contents: The job.
    """
    made = []
    for name, assembly in sorted(contents.job.assemblies.items()):
        there = any(p.part not in contents.held for p in assembly.placements)
        if not there or assembly.frame not in LABELS:
            continue
        subject = Subject(
            name=f"assembly-{name}",
            label=NAMED.get(name, LABELS[assembly.frame].format(name.replace("-", " "))),
            job=contents.job.sheet.job.name,
            revision=contents.job.sheet.revision.id,
            units=contents.job.sheet.job.units,
            paper="a4" if contents.paper.name == "a4" else "letter",
            zero="told at the head of each view",
        )
        # the axle in it hangs on all of the sheet
        key = keeping.key_of(("assembly", assembly, contents.digest, tuple(sorted(contents.held)), subject))
        found = keeping.kept_json("drawing", key, partial(_made_assembly, contents, assembly, subject))
        if found is None:
            continue
        if found["faults"]:
            contents.told.append(_fault(subject, found["faults"], ()))
        else:
            made.append(_document(found, subject))
    return made


def _made_assembly(contents: Contents, assembly: Assembly, subject: Subject) -> dict[str, Any] | None:
    from fixturegen.drawings import jig, on_axle
    from fixturegen.drawings.book import drawing_pdf
    from fixturegen.drawings.proof import printed_faults, unread

    job, held = contents.job, contents.held
    if assembly.name == "jig":
        drawing: Drawing | None = jig.jig_drawing(job, subject, held)
        faults = jig.places_proved(job, held)
    else:
        drawing = on_axle.axle_drawing(job, assembly, subject, held)
        faults = on_axle.places_proved(job, assembly, held)
    if drawing is None:
        return None
    content = drawing_pdf(drawing, contents.block, subject.paper)
    faults += [*printed_faults(drawing.sizes, subject.units), *unread(drawing, content)]
    return {
        "pdf": base64.b64encode(content).decode("ascii"),
        "pages": len(drawing.pages),
        "faults": faults[:SHOWN],
    }


def _document(found: dict[str, Any], subject: Subject, parts: tuple[str, ...] = ()) -> Document:
    proofs = (Proof(scale_bar=False),) * int(found["pages"])
    content = base64.b64decode(found["pdf"])
    return Document(f"{FOLDER}/{subject.name}.pdf", f"drawing of {subject.label}", content, parts, proofs)


def _drawn(part: Part, contents: Contents) -> tuple[Document | None, list[str]]:
    subject = subject_of(part, contents)
    # without the digest of the sheet: a part that did not change keeps its drawing
    block = replace(contents.block, digest="")
    key = keeping.key_of(("drawing", part, subject, block))
    found = keeping.kept_json("drawing", key, lambda: _made(part, subject, block))
    if found is None or found["faults"]:
        return None, [] if found is None else list(found["faults"])
    return _document(found, subject, (part.name,)), []


def _made(part: Part, subject: Subject, block: TitleBlock) -> dict[str, Any] | None:
    """The PDF of a part's drawing, and what is wrong with it; none for a form that has no drawing."""
    from fixturegen.drawings.book import drawing_pdf
    from fixturegen.drawings.proof import unread

    drawing = drawing_of(part, subject)
    if drawing is None:
        return None
    content = drawing_pdf(drawing, block, subject.paper)
    faults = [*faults_of(part, drawing, subject.units), *unread(drawing, content)]
    return {"pdf": base64.b64encode(content).decode("ascii"), "pages": len(drawing.pages), "faults": faults[:SHOWN]}


def drawing_of(part: Part, subject: Subject) -> Drawing | None:
    """The drawing of a part; none for one of no shape.

    Args:
        part: Any part.
        subject: What is said of it.
    """
    if part.form == "bent" and part.profile is not None:
        from fixturegen.drawings.bent import bent_drawing
        from fixturegen.shapes.cache import cached_solid

        return bent_drawing(part, cached_solid(part), subject)
    if part.profile is not None:
        from fixturegen.drawings.plates import plate_drawing

        return plate_drawing(part, subject)
    if part.turned is not None:
        from fixturegen.drawings.turned import turned_drawing

        return turned_drawing(part, subject)
    if part.tube is not None:
        from fixturegen.drawings.tubes import tube_drawing

        return tube_drawing(part, subject)
    return None


def faults_of(part: Part, drawing: Drawing, units: Units) -> list[str]:
    """What a drawing says that the solid does not, in words.

    Args:
        part: The part.
        drawing: Its drawing.
        units: Of the job.
    """
    from fixturegen.drawings import proof
    from fixturegen.shapes.cache import cached_solid
    from fixturegen.shapes.folding import measured as measured_bends
    from fixturegen.shapes.measured_sizes import measured

    faults = proof.printed_faults(drawing.sizes, units)
    if part.profile is not None:
        flat = replace(part, form="plate", bends=())
        faults += proof.flat_faults(drawing.sizes, measured(cached_solid(flat)))
        if part.form == "bent":
            solid = cached_solid(part)
            bends = measured_bends(solid, part.thickness)
            faults += proof.folded_faults(drawing.sizes, measured(solid), part, bends)
    else:
        faults += proof.turned_faults(drawing.sizes, measured(cached_solid(part)))
    return faults


def _fault(subject: Subject, faults: list[str], parts: tuple[str, ...]) -> Finding:
    from fixturegen.drawings.proof import CLAIM, CODE

    words = f"drawing of {subject.label}: {'; '.join(faults)}"
    remedy = "the drawing is not written. Work from the cut file or the solid, and report it with the sheet"
    return Finding(CODE, Level.FAIL, CLAIM, words, remedy, parts, frame="P", holds="nothing", needed=False)


def _pass(parts: tuple[str, ...]) -> Finding:
    from fixturegen.drawings.proof import CLAIM, CODE

    words = (
        f"{len(parts)} drawings: every size compared with the solid as the kernel measures it, and read off the paper"
    )
    return Finding(CODE, Level.PASS, CLAIM, words, parts=parts, frame="P", holds="nothing", needed=False)
