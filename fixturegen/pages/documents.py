"""Documents of a job, and how the rooms that make them are found.

A room that makes papers has a module `documents.py` with `documents(contents) -> list[Document]`. Nobody
keeps a list: a new file is a new kind of paper. What is made for a part that is held is left out by
its maker; `contents.released` has the others. Rooms keep what is slow by `keeping`.
"""

from __future__ import annotations

import importlib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import ModuleType

import fixturegen
from fixturegen.checks.registry import Job
from fixturegen.findings import Finding, Number
from fixturegen.pages.figure import Figure
from fixturegen.pages.furniture import TitleBlock
from fixturegen.pages.paper import LETTER, Paper
from fixturegen.plate import Part


@dataclass(frozen=True)
class Proof:
    """What one page of a PDF is measured against when it is read back; an empty one for pages of words.

    Attributes:
        scale_bar: Whether the page carries the scale bar.
        outlines: Lengths of closed outlines that stand whole on the page at 1:1 [mm].
        holes: (x, y, diameter) of circles on the page at 1:1, in any frame that is not turned to the page [mm]:
            their distances from each other are measured, not their places.
        start: Where the first corner of the first outline stands on the page [mm]; on tiles, so that they agree.
    """

    scale_bar: bool = True
    outlines: tuple[float, ...] = ()
    holes: tuple[tuple[float, float, float], ...] = ()
    start: tuple[float, float] | None = None


@dataclass(frozen=True)
class Document:
    """One file of paper.

    Attributes:
        path: Below `papers/`, like "templates/clock-l.pdf"; folders are made.
        title: What it is, in words.
        content: The file.
        parts: Names of the parts it is about; none for one about the job.
        proofs: One for each page of a PDF; none for other files.
        figure: What is written as DXF beside it, true to size; None where nothing is.
    """

    path: str
    title: str
    content: bytes = field(repr=False)
    parts: tuple[str, ...] = ()
    proofs: tuple[Proof, ...] = ()
    figure: Figure | None = field(default=None, repr=False, compare=False)


@dataclass(frozen=True, eq=False)
class Contents:
    """What papers are made from.

    Attributes:
        job: Sheet, axle, plan, parts, assemblies, brackets.
        digest: Of the sheet.
        held: Part name to reason.
        findings: So far.
        numbers: Dotted name to number.
        assumptions: (key, what is used, meaning) of every value the sheet did not give.
        masses: Part name to mass [kg], of those that were weighed.
        paper: Letter or A4.
        told: Findings of the makers themselves are put here (a part too large for paper).
    """

    job: Job
    digest: str
    held: Mapping[str, str] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()
    numbers: Mapping[str, Number] = field(default_factory=dict)
    assumptions: tuple[tuple[str, str, str], ...] = ()
    masses: Mapping[str, float] = field(default_factory=dict)
    paper: Paper = LETTER
    told: list[Finding] = field(default_factory=list)

    @property
    def units(self) -> str:
        """In or mm, as the sheet has it."""
        return str(self.job.sheet.job.units)

    @property
    def released(self) -> tuple[Part, ...]:
        """Every part that is not held, by name."""
        return tuple(p for name, p in sorted(self.job.parts.items()) if name not in self.held)

    @property
    def block(self) -> TitleBlock:
        """The title block of every book of the job."""
        words = "inches, mm in brackets" if self.units == "in" else "mm, inches in brackets"
        return TitleBlock(self.job.sheet.job.name, self.job.sheet.revision.id, self.digest, words)


Maker = Callable[[Contents], list[Document]]


def rooms() -> tuple[str, ...]:
    """Names of the rooms that make papers, told from their files."""
    root = Path(fixturegen.__file__).parent
    return tuple(sorted(f.parent.name for f in root.glob("*/documents.py") if f.parent.name != "pages"))


def maker_of(room: str) -> Maker:
    """What a room makes papers with.

    Args:
        room: One of `rooms()`.
    """
    made: Maker = _module(room).documents
    return made


def tells_findings(room: str) -> bool:
    """Whether pages of a room tell findings: made before anything was checked they would be others.

    Args:
        room: One of `rooms()`.
    """
    return bool(getattr(_module(room), "TELLS_FINDINGS", False))


def _module(room: str) -> ModuleType:
    return importlib.import_module(f"fixturegen.{room}.documents")
