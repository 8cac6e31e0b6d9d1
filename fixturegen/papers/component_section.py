"""The section about the parts a person has: what was read, where each stands, how far to trust its surface."""

from __future__ import annotations

from collections.abc import Iterable

from fixturegen.checks.components import Read, mended
from fixturegen.checks.registry import Job
from fixturegen.papers.component_picture import CAPTION, component_svg
from fixturegen.papers.report import Figure, Section, Table
from fixturegen.papers.words import INCH, length
from fixturegen.studies.component_records import (
    MOVES,
    BoxShape,
    Component,
    FileShape,
    OutlineShape,
    PlaneShape,
    Reading,
)
from fixturegen.studies.link_inputs import stance_of

NOTE = (
    "What was read of each part you have, in its own frame. A part is moved and turned to its place, never made "
    "larger or smaller. What a clearance to it is worth hangs on its accuracy: see the second table."
)
KEYS = "components.read"


def component_sections(job: Job) -> tuple[Section, ...]:
    """The section of the parts the person has; none where none were read."""
    read: Iterable[Read] = job.store.get(KEYS, ())
    read = tuple(read)
    if not read:
        return ()
    units = job.sheet.job.units
    tables = (_found(read, units), _trusted(read, units), _points(read, units))
    svg = component_svg(read, job.sheet, stance_of(job.sheet, job.axle), units)
    return (Section("Parts you have", (NOTE,), (Figure(svg, CAPTION),), tuple(t for t in tables if t is not None), ()),)


def given_by(part: Component) -> str:
    """What a part is given by, in words."""
    shape = part.shape
    if isinstance(shape, FileShape):
        return f"{shape.path.name}, in {shape.unit}"
    if isinstance(shape, OutlineShape):
        return f"{shape.file.path.name}, in {shape.file.unit}" if shape.file else f"{len(shape.corners)} traced corners"
    return {BoxShape: "a box", PlaneShape: "a plane"}[type(shape)]


def _found(read: Iterable[Read], units: str) -> Table:
    rows = []
    for one in read:
        part, reading = one.component, one.reading
        if reading is None:
            why = one.fault.words if one.fault is not None else ""
            rows.append((part.label, part.kind, given_by(part), "NOT READ", "", "", why))
            continue
        rows.append(
            (
                part.label,
                part.kind,
                given_by(part),
                _size(part, reading, units),
                str(reading.triangles) if isinstance(part.shape, FileShape) else "",
                _volume(part, reading, units),
                "; ".join(mended(reading)) or "nothing to mend",
            )
        )
    note = "Sides of the box round it along x, y and z of its own frame."
    head = ("Part", "Kind", "Given by", "Size", "Triangles", "Volume", "What was found and done")
    return Table("What was read", note, head, tuple(rows), (4, 5))


def _size(part: Component, reading: Reading, units: str) -> str:
    if isinstance(part.shape, PlaneShape):
        return "without end"
    scale, word = (1.0, "mm") if units == "mm" else (INCH, "in")
    return " x ".join(f"{s / scale:.1f}" if units == "mm" else f"{s / scale:.2f}" for s in reading.size) + f" {word}"


def _volume(part: Component, reading: Reading, units: str) -> str:
    if isinstance(part.shape, PlaneShape):
        return ""
    if reading.volume is None:
        return "open"
    return f"{reading.volume / 1000.0:.1f} cm3" if units == "mm" else f"{reading.volume / INCH**3:.1f} cu in"


def _trusted(read: Iterable[Read], units: str) -> Table | None:
    rows = []
    for one in read:
        part, reading = one.component, one.reading
        if reading is None:
            continue
        fit = "" if part.residual is None else f"{length(part.residual, units)}, allowed {length(part.placing, units)}"
        rows.append(
            (
                part.label,
                MOVES[part.moves_with],
                fit or "as it is drawn or measured",
                length(reading.stated, units),
                length(reading.placing, units),
                length(reading.deflection, units),
                length(reading.accuracy, units),
            )
        )
    if not rows:
        return None
    note = (
        "Accuracy is the sum of what the sheet states, of the farthest errors of its named points put any of it out, "
        "of the sag of triangles under a round surface, and of the rounding of its file."
    )
    head = ("Part", "Moves with", "Left over at its points", "Stated", "Placing", "Sag", "Accuracy")
    return Table("Where it stands, and how far its surface may lie off", note, head, tuple(rows), (3, 4, 5, 6))


def _points(read: Iterable[Read], units: str) -> Table | None:
    rows = tuple(
        (one.component.label, name, length(off, units), "[box]")
        for one in read
        for name, off in one.component.residuals
    )
    if not rows:
        return None
    note = "How far each named point stands from the place it was measured at, once all are fitted together."
    return Table("Named points", note, ("Part", "Point", "Off its place", "Measured again"), rows, (2,))
