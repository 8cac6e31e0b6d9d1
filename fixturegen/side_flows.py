"""Flows beside the build: a better layout on the sheets, and what the axle does on its links."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, get_args

from fixturegen import nest_flow
from fixturegen.axle.model import axle_of
from fixturegen.checks import registry
from fixturegen.checks.registry import Job
from fixturegen.errors import EXIT_HELD, EXIT_OK, Fault, InputFault, SheetFault
from fixturegen.findings import Finding, Level, Number
from fixturegen.pipeline import check, read
from fixturegen.plate.placed import CutSheet
from fixturegen.progress import Progress, silent
from fixturegen.studies.jig_plan import plan_of
from fixturegen.studies.link_study import LinkStudy, link_numbers, study_of

if TYPE_CHECKING:
    from fixturegen.axle.model import AxleModel
    from fixturegen.sheet.specs import Sheet
    from fixturegen.studies.link_search import Geometry, Search
    from fixturegen.studies.link_spread import Drawn, Rank, Spread
    from fixturegen.studies.link_trades import Trade
    from fixturegen.studies.link_wishes import Wanted

SAMPLES = 4000
"""Measurements drawn for a spread: the 95 % ends are then known within some twentieth of the spread."""
LETTERS = "ABCDEFGHI"
DRAWN = 5
"""Geometries in one picture at most, the sheet's own among them."""


@dataclass(frozen=True)
class NestOutcome:
    """What nesting came to.

    Attributes:
        sheets: Sheets with their parts.
        compared: What was used and what rectangles would use, one line a plate.
        findings: Of the checks and of the layouts.
        numbers: Dotted name to number.
        held: Part name to reason; held parts are not nested.
        kept: Where the layout is kept.
    """

    sheets: tuple[CutSheet, ...]
    compared: tuple[str, ...]
    findings: tuple[Finding, ...]
    numbers: dict[str, Number]
    held: dict[str, str]
    kept: Path

    @property
    def exit_code(self) -> int:
        """0 when every plate part is released and has its place, else 1."""
        bad = any(f.level is Level.FAIL or (f.code == nest_flow.LAYOUT and f.remedy) for f in self.findings)
        return EXIT_HELD if bad or self.held else EXIT_OK


def nest(sheet_path: Path, seconds: float, progress: Progress = silent) -> NestOutcome:
    """Look for a layout of the parts that pass every check, and keep it beside the sheet.

    Args:
        sheet_path: The build sheet.
        seconds: How long to look, for all plates together.
        progress: Told what is being done.

    Raises:
        SheetFault: When the sheet lists no sheets.
        MachineFault: When the layout cannot be written.
    """
    checked = check(sheet_path, progress=progress)
    sheet = checked.job.sheet
    if not sheet.sheets:
        remedy = "list what stands in the rack under [[sheets]]: name, plate, length, width, count"
        raise SheetFault(Fault("sheets", "none", "at least one sheet or remnant", remedy))
    released = [p for p in checked.job.parts.values() if p.name not in checked.held]
    nests = nest_flow.improved(sheet_path, sheet, released, seconds, progress)
    kept = nest_flow.kept_beside(sheet_path, nests)
    return NestOutcome(
        sheets=nest_flow.cut_sheets(sheet, nests),
        compared=tuple(nest_flow.compared_words(n) for n in nests),
        findings=checked.findings + nest_flow.findings_of(nests),
        numbers=nest_flow.numbers_of(nests),
        held={n: r for n, r in checked.held.items() if checked.job.parts[n].profile is not None},
        kept=kept,
    )


@dataclass(frozen=True)
class LinksOutcome:
    """What the links of one sheet, and of others beside it, come to.

    Attributes:
        cases: (name of the sheet, dotted name to number), the sheet itself first.
        findings: Of the claims about links.
        studies: Of each sheet, in the same order.
        units: in or mm, as the first sheet has it.
    """

    cases: tuple[tuple[str, dict[str, Number]], ...]
    findings: tuple[Finding, ...]
    studies: tuple[LinkStudy, ...] = ()
    units: str = "in"

    @property
    def exit_code(self) -> int:
        """0 when nothing fails, else 1."""
        return EXIT_HELD if any(f.level is Level.FAIL for f in self.findings) else EXIT_OK


def links(sheet_path: Path, others: tuple[Path, ...] = ()) -> LinksOutcome:
    """What the axle does over its travel on the links of a sheet, and of others to compare; no kernel.

    Args:
        sheet_path: The build sheet.
        others: Sheets whose links are shown beside it.

    Raises:
        SheetFault: When a sheet is wrong.
        InputFault: When one has no links, or they are no linkage.
    """
    cases: list[tuple[str, dict[str, Number]]] = []
    findings: tuple[Finding, ...] = ()
    studies: list[LinkStudy] = []
    units = "in"
    for path in (sheet_path, *others):
        sheet = read(path)
        axle = axle_of(sheet)
        study = study_of(sheet, axle)
        cases.append((path.name, link_numbers(sheet, axle, study)))
        studies.append(study)
        if path == sheet_path:
            units = sheet.job.units
            findings = _link_findings(sheet, axle, study)
    return LinksOutcome(tuple(cases), findings, tuple(studies), units)


def _link_findings(sheet: Sheet, axle: AxleModel, study: LinkStudy) -> tuple[Finding, ...]:
    """What the claims about links say of a study."""
    job = Job(sheet, axle, plan_of(sheet, axle), store={"link.study": study})
    light = [s for s in get_args(registry.Stage) if s != "solids"]  # the others would load the kernel
    claims = sorted((c for s in light for c in registry.claims(s)), key=lambda c: c.code)
    return tuple(f for c in claims if c.code.startswith("LNK") for f in c.check(job))


@dataclass(frozen=True)
class Found:
    """One geometry a search found.

    Attributes:
        letter: What it is called beside the others.
        geometry: Its points and what it does.
        text: Its tables for the sheet.
        trade: What it does best and worst of those found.
        findings: Of the claims about links, on the sheet with its tables.
    """

    letter: str
    geometry: Geometry
    text: str
    trade: Trade
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class SearchOutcome:
    """What a search for link points came to.

    Attributes:
        name: Of the sheet.
        seed: Of the search.
        wanted: What was asked for.
        result: What was found.
        found: Each geometry, the best first.
        links: The sheet's own points and the best of those found, to be drawn beside each other.
    """

    name: str
    seed: int
    wanted: Wanted
    result: Search
    found: tuple[Found, ...]
    links: LinksOutcome

    @property
    def exit_code(self) -> int:
        """0 when some geometry meets all wishes, else 1."""
        return EXIT_OK if self.result.met else EXIT_HELD


def link_search(sheet_path: Path, seed: int, progress: Progress = silent) -> SearchOutcome:
    """Better points for the links of a sheet; no kernel, nothing is written.

    Args:
        sheet_path: The build sheet, with [links.search].
        seed: The same seed gives the same result.
        progress: Told how many geometries were looked at.

    Raises:
        SheetFault: When the sheet is wrong.
        InputFault: When it asks for no search, or for what makes no sense.
    """
    from fixturegen.studies.link_asked import search_on, wanted_on
    from fixturegen.studies.link_search import search
    from fixturegen.studies.link_trades import trades_of
    from fixturegen.studies.link_written import sheet_text, taken

    sheet = read(sheet_path)
    axle = axle_of(sheet)
    wanted, asked = wanted_on(sheet, axle), search_on(sheet)
    result = search(wanted, seed, asked.looked_at, asked.show, progress=progress)
    study = study_of(sheet, axle)
    cases, studies, found = [(sheet_path.name, link_numbers(sheet, axle, study))], [study], []
    links_given = sheet.links
    trades = trades_of(result.geometries, wanted.wishes)
    for letter, geometry, trade in zip(LETTERS, result.geometries, trades, strict=False):
        if links_given is None:
            continue
        text = sheet_text(links_given, geometry.linkage, wanted.linkage, wanted.unit)
        other = sheet.model_copy(update={"links": taken(links_given, text)})
        studied = study_of(other, axle)
        cases.append((letter, link_numbers(other, axle, studied)))
        studies.append(studied)
        found.append(Found(letter, geometry, text, trade, _link_findings(other, axle, studied)))
    findings = _link_findings(sheet, axle, study)
    own = LinksOutcome(tuple(cases[:DRAWN]), findings, tuple(studies[:DRAWN]), wanted.unit)
    return SearchOutcome(sheet_path.name, seed, wanted, result, tuple(found), own)


@dataclass(frozen=True)
class SpreadOutcome:
    """How far measuring may have the numbers of the links off.

    Attributes:
        name: Of the sheet.
        front: Whether it is a front axle.
        units: in or mm, as the sheet has it.
        seed: Of the draw.
        samples: Measurements drawn.
        linear: To first order, by reading.
        drawn: As drawn, by reading.
        ranking: Every coordinate of every point, the one that matters most first.
        assumed: Keys of points whose tolerance the sheet does not give.
    """

    name: str
    front: bool
    units: str
    seed: int
    samples: int
    linear: tuple[Spread, ...]
    drawn: tuple[Drawn, ...]
    ranking: tuple[Rank, ...]
    assumed: tuple[str, ...]


def link_spread(sheet_path: Path, seed: int, samples: int = SAMPLES) -> SpreadOutcome:
    """How far the tolerances of the measured points may have the numbers of the links off; no kernel.

    Args:
        sheet_path: The build sheet.
        seed: Of the draw; the same seed gives the same numbers.
        samples: Measurements drawn.

    Raises:
        SheetFault: When the sheet is wrong.
        InputFault: When it has no links, or links whose points cannot be moved.
    """
    from fixturegen.studies.link_asked import stroke_on
    from fixturegen.studies.link_inputs import linkage_on, links_on, vehicle_on
    from fixturegen.studies.link_spread import drawn_spreads, linear_spreads, ranked, sensitivity_of
    from fixturegen.studies.link_written import assumed_tolerances

    sheet = read(sheet_path)
    axle = axle_of(sheet)
    links_given = links_on(sheet)
    linkage, vehicle, stroke = linkage_on(sheet, axle), vehicle_on(sheet, axle), stroke_on(links_given)
    linear = linear_spreads(sensitivity_of(linkage, vehicle, stroke))
    drawn = drawn_spreads(linkage, vehicle, stroke, seed, samples)
    assumed = assumed_tolerances(links_given, linkage)
    return SpreadOutcome(
        sheet_path.name, axle.front, sheet.job.units, seed, samples, linear, drawn, ranked(linear), assumed
    )


def draw_links(outcome: LinksOutcome, out: Path, png: bool = False) -> tuple[str, ...]:
    """Names of the files written: views and plots of an outcome as SVG, with `png` as PNG too; swapped in whole.

    Args:
        outcome: What the links of the sheets come to.
        out: The folder; a new or empty one, or one with such pictures.
        png: Whether each picture is written as PNG as well.

    Raises:
        InputFault: When the folder holds something else, or the geometries cannot stand in one picture.
        MachineFault: When the machine refuses to write.
    """
    from fixturegen.papers.link_files import about_text, link_pictures
    from fixturegen.papers.link_quantities import LinkCase
    from fixturegen.papers.pixels import png_bytes
    from fixturegen.write.folder import staged
    from fixturegen.write.summary import NAME

    if (out / NAME).exists():
        remedy = "a build's folder would be replaced by the pictures; give another --out"
        raise InputFault(Fault("--out", str(out), "a new or empty folder, or one with pictures of links", remedy))
    cases = [LinkCase(Path(name).stem, study) for (name, _), study in zip(outcome.cases, outcome.studies, strict=True)]
    pictures = link_pictures(cases, outcome.units)
    files = {"about.txt": about_text(cases, pictures, outcome.units).encode("utf-8")}
    for picture in pictures:
        files[f"{picture.name}.svg"] = picture.svg.encode("utf-8")
        if png:
            files[f"{picture.name}.png"] = png_bytes(picture.svg)
    with staged(out) as stage:
        for name, content in files.items():
            (stage / name).write_bytes(content)
    return tuple(files)
