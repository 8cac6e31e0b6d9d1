"""From released plate parts to sheets to cut: which layout is used, and what is said about it.

A build uses the layout kept beside the sheet while its digest fits; where it does not, parts are laid
out by the steady method, which knows neither clock nor chance, and the person is told. `improved`
works for a time; the command keeps what it found. Coupons are cut before everything else and by
themselves, from any off-cut: they are not nested.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

from fixturegen.findings import Finding, Level, Number, Trust
from fixturegen.keeping import kept as kept_bytes
from fixturegen.keeping import kept_json, key_of
from fixturegen.nesting import beside, measure
from fixturegen.nesting.blanks import blanks_of
from fixturegen.nesting.records import Blank, Layout, StockSheet
from fixturegen.nesting.rectangles import by_rectangles
from fixturegen.plate import Part
from fixturegen.plate.bend_marks import grain_of
from fixturegen.plate.placed import CutSheet, Placed
from fixturegen.plate.tipping import lies
from fixturegen.progress import Progress, silent
from fixturegen.sheet.specs import Plate, Sheet
from fixturegen.studies.nesting_rules import NestingRules, nesting_rules, plate_of, sheets_of

LAYOUT = "NST-02"
LAYOUT_CLAIM = "parts on the sheets keep their distances, and every released plate part has its place"
KEPT = "NST-03"
KEPT_CLAIM = "the sheets are cut by the layout that was looked for and kept"
APART = "coupons"  # kind of parts that are cut first and by themselves
GRAIN: dict[str, Literal["x", "y", ""]] = {"length": "x", "width": "y", "unknown": ""}
SAME_TURN = 1e-6  # [deg]


@dataclass(frozen=True)
class PlateJob:
    """What is to be nested from one plate of the rack.

    Attributes:
        plate: The plate.
        rules: Distances and turns.
        parts: Part name to part.
        blanks: Their outlines.
        sheets: What there is to cut them from.
    """

    plate: Plate
    rules: NestingRules
    parts: Mapping[str, Part]
    blanks: tuple[Blank, ...]
    sheets: tuple[StockSheet, ...]

    @property
    def name(self) -> str:
        """The plate as the sheet says it."""
        return str(self.plate.nominal.text)

    @property
    def digest(self) -> str:
        """SHA-256 of what a layout of it is made for."""
        return beside.digest_of((self.blanks, self.sheets, self.rules.spacing, self.rules.edge))

    def steady(self) -> Layout:
        """The layout that is always the same."""
        from fixturegen.nesting.steady import nested

        def text() -> bytes:
            found = nested(self.blanks, self.sheets, self.rules.spacing, self.rules.edge)
            return beside.text_of({self.name: (self.digest, found)}).encode()

        key = key_of(("layout", self.digest, self.name))
        return beside.read_text(kept_bytes("layout", key, text).decode())[self.name][1]

    def faults(self, layout: Layout) -> tuple[str, ...]:
        """What is wrong with a layout of this job."""
        return measure.faults_of(layout, self.blanks, self.sheets)


@dataclass(frozen=True)
class PlateNest:
    """A plate's job with a layout, and where that came from."""

    job: PlateJob
    layout: Layout
    how: Literal["kept", "steady", "improved"]
    stale: bool = False


def plate_jobs(sheet: Sheet, parts: Iterable[Part]) -> tuple[PlateJob, ...]:
    """What is to be nested, plate by plate in the order of the rack; plates without a sheet are left out."""
    flat = [p for p in parts if p.profile is not None and p.kind != APART]
    jobs = []
    for plate in sheet.plates:
        here = {p.name: p for p in flat if plate_of(sheet, p.thickness) is plate}
        stock = tuple(
            StockSheet(s.name, float(s.length), float(s.width), s.count, GRAIN[s.grain])
            for s in sheets_of(sheet, plate)
        )
        if here and stock:
            rules = nesting_rules(sheet, plate)
            blanks = blanks_of(here.values(), rules.turns, in_holes=rules.in_holes)
            turned = tuple(replace(b, turns=_turns(here[b.name], b.turns)) for b in blanks)
            jobs.append(PlateJob(plate, rules, here, turned, stock))
    return tuple(jobs)


def _turns(part: Part, turns: tuple[float, ...]) -> tuple[float, ...]:
    """Turns that lay the part's own grain arrow along the grain; all of them for a part without one."""
    wanted = grain_of(part)
    if wanted is None:
        return turns
    along = tuple(t for t in turns if abs((wanted + t + 90.0) % 180.0 - 90.0) <= SAME_TURN)
    return along or turns


def nests_of(
    sheet_path: Path, sheet: Sheet, parts: Iterable[Part], progress: Progress = silent
) -> tuple[PlateNest, ...]:
    """Every plate's layout for a build: the one kept beside the sheet while it fits, else the steady one.

    Raises:
        MachineFault: When there is a kept layout that cannot be read.
    """
    kept = beside.kept(sheet_path)
    found = []
    jobs = plate_jobs(sheet, parts)
    for i, job in enumerate(jobs):
        progress(f"nest {job.name}", i, len(jobs))
        there = kept.get(job.name)
        if there is not None and there[0] == job.digest and not job.faults(there[1]):
            found.append(PlateNest(job, there[1], "kept"))
        else:
            found.append(PlateNest(job, job.steady(), "steady", stale=there is not None))
    return tuple(found)


def improved(
    sheet_path: Path, sheet: Sheet, parts: Iterable[Part], seconds: float, progress: Progress = silent
) -> tuple[PlateNest, ...]:
    """Every plate's layout after looking for a better one; the time is shared out by the number of parts.

    What is kept beside the sheet and still fits is where the search begins. Ctrl-C ends the search of
    the plate at hand; the plates after it keep what they have.

    Args:
        sheet_path: The build sheet.
        sheet: As read.
        parts: The released parts.
        seconds: For all plates together.
        progress: Told what is being done.
    """
    from fixturegen.nesting.improver import improved as better

    start = nests_of(sheet_path, sheet, parts, progress)
    weight = {n.job.name: sum(b.quantity for b in n.job.blanks) - 1 for n in start}
    total = sum(weight.values())
    found = []
    for nest in start:
        share = seconds * weight[nest.job.name] / total if total else 0.0

        def told(done: float, best: Layout, nest: PlateNest = nest, share: float = share) -> None:
            used = measure.area_used(best, nest.job.blanks, nest.job.sheets) / 92903.04  # mm2 in a square foot
            progress(f"nest {nest.job.name}: {used:.2f} sq ft used", round(done * share), round(share))

        layout = better(nest.layout, nest.job.blanks, nest.job.sheets, share, told) if share >= 1.0 else nest.layout
        found.append(replace(nest, layout=layout, how="improved"))
    return tuple(found)


def kept_beside(sheet_path: Path, nests: Sequence[PlateNest]) -> Path:
    """Keep the layouts beside the sheet and give the file's path.

    Raises:
        MachineFault: When it cannot be written.
    """
    return beside.keep(sheet_path, {n.job.name: (n.job.digest, n.layout) for n in nests})


def layout_path(sheet_path: Path) -> Path:
    """Where the layout of a build sheet is kept; it need not exist."""
    return beside.path_of(sheet_path)


def compared_words(nest: PlateNest) -> str:
    """What the layout uses, and what rectangles around the parts would use, in words."""
    used, boxes = (area / 92903.04 for area in compared(nest))
    saved = 100.0 * (1.0 - used / boxes) if boxes else 0.0
    return f"plate {nest.job.name}: {used:.2f} sq ft used up, {saved:.0f} % less than rectangles around the parts"


def compared(nest: PlateNest) -> tuple[float, float]:
    """Area of sheet used up by the layout, and by rectangles around the parts [mm2]."""
    job = nest.job

    def of_boxes() -> float:
        small = sorted(job.sheets, key=lambda s: (s.width * s.height, s.name))
        boxes = by_rectangles(job.blanks, small, job.rules.spacing, job.rules.edge)
        return measure.area_used(boxes, job.blanks, job.sheets)

    key = key_of(("rectangles", job.digest))
    return measure.area_used(nest.layout, job.blanks, job.sheets), float(kept_json("rectangles", key, of_boxes))


def cut_sheets(sheet: Sheet, nests: Iterable[PlateNest]) -> tuple[CutSheet, ...]:
    """The sheets to cut, numbered through all plates, each with its parts in the order of cutting."""
    found: list[CutSheet] = []
    for nest in nests:
        job = nest.job
        stock = {s.name: s for s in job.sheets}
        listed = {s.name: s for s in sheets_of(sheet, job.plate)}
        blanks = {b.name: b for b in job.blanks}
        for (name, number), puts in measure.on_sheets(nest.layout).items():
            one = stock[name]
            told = name if one.count == 1 else f"{name} #{number}"
            price = listed[name].price
            found.append(
                CutSheet(
                    number=len(found) + 1,
                    name=told,
                    length=one.width,
                    width=one.height,
                    thickness=float(job.plate.measured),
                    material=job.plate.material,
                    grain=listed[name].grain,
                    placed=loose_last(
                        tuple(Placed(job.parts[p.blank], p.x, p.y, p.angle, p.copy, p.inside) for p in puts),
                        float(sheet.process.slat_pitch),
                    ),
                    spacing=nest.layout.spacing,
                    edge=nest.layout.edge,
                    cut_to=measure.cut_to(puts, blanks, one, nest.layout.spacing),
                    price=None if price is None else float(price),
                    plate=job.name,
                )
            )
    return tuple(found)


def loose_last(placed: Sequence[Placed], slat_pitch: float) -> tuple[Placed, ...]:
    """The same parts, those last that may tip on the slats, and after them those that may fall through.

    The torch does not come back over them then. What lies in an opening stays before its host.

    Args:
        placed: In an order in which what lies in an opening stands before its host.
        slat_pitch: From slat to slat [mm].
    """
    blocks: list[list[Placed]] = [[]]
    for put in placed:
        blocks[-1].append(put)
        if not put.inside:
            blocks.append([])

    def rank(block: Sequence[Placed]) -> int:
        profile = block[-1].part.profile
        return ("flat", "tips", "falls").index(lies(profile.outer, slat_pitch).way) if profile is not None else 0

    return tuple(put for block in sorted((b for b in blocks if b), key=rank) for put in block)


def findings_of(nests: Sequence[PlateNest]) -> tuple[Finding, ...]:
    """Whether the layouts are true and complete (NST-02), and where they come from (NST-03)."""
    found: list[Finding] = []
    for nest in nests:
        found += _of_layout(nest)
    kept = [n.job.name for n in nests if n.how != "steady"]
    steady = [n for n in nests if n.how == "steady"]
    if kept:
        words = f"plate {', '.join(kept)}: the layout beside the build sheet was measured again and fits"
        found.append(Finding(KEPT, Level.PASS, KEPT_CLAIM, words))
    if steady:
        names = ", ".join(n.job.name for n in steady)
        stale = ", ".join(n.job.name for n in steady if n.stale)
        words = f"plate {names}: laid out by the steady method, since none is kept"
        if stale:
            words = f"plate {names}: laid out anew by the steady method; the layout kept for {stale} was made for "
            words += "other parts or sheets"
        remedy = "run `fixturegen nest` with the sheet to look for a layout that uses less, and build again"
        found.append(Finding(KEPT, Level.WARN, KEPT_CLAIM, words, remedy))
    return tuple(found)


def _of_layout(nest: PlateNest) -> list[Finding]:
    job = nest.job
    faults = job.faults(nest.layout)
    if faults:
        return [Finding(LAYOUT, Level.FAIL, LAYOUT_CLAIM, f"plate {job.name}: {'; '.join(faults[:3])}")]
    placed = tuple(dict.fromkeys(sorted(p.blank for p in nest.layout.puts)))
    words = (
        f"plate {job.name}: {len(nest.layout.puts)} pieces on {len(measure.on_sheets(nest.layout))} sheets, "
        f"{job.rules.spacing / 25.4:.3f} in apart at least ({job.rules.spacing_words}), "
        f"{job.rules.edge / 25.4:.3f} in from the edges ({job.rules.edge_words})"
    )
    found = [Finding(LAYOUT, Level.PASS, LAYOUT_CLAIM, words, parts=placed)] if placed else []
    if nest.layout.unplaced:
        left = [f"{name} #{copy}" for name, copy in nest.layout.unplaced]
        area = sum(_box(job, name) for name, _ in nest.layout.unplaced) / 645.16
        words = f"plate {job.name}: no room on the sheets that are there for {', '.join(left)}"
        remedy = f"get a sheet of {job.name} with {area:.0f} sq in more, list it under [[sheets]] and nest again"
        names = tuple(dict.fromkeys(name for name, _ in nest.layout.unplaced))
        found.append(Finding(LAYOUT, Level.WARN, LAYOUT_CLAIM, words, remedy, names))
    return found


def _box(job: PlateJob, name: str) -> float:
    """Area of the rectangle around a part, spacing added [mm2]."""
    from fixturegen.plate.placed import turned_size

    profile = job.parts[name].profile
    x, y = turned_size(profile.outer, 0.0) if profile is not None else (0.0, 0.0)
    return (x + job.rules.spacing) * (y + job.rules.spacing)


def numbers_of(nests: Sequence[PlateNest]) -> dict[str, Number]:
    """Area used, share of it that becomes parts, and what rectangles would use, for all plates together."""
    if not nests:
        return {}
    used, boxes = (sum(pair) for pair in zip(*(compared(n) for n in nests), strict=True))
    steel = sum(measure.steel_area(n.layout, n.job.blanks) for n in nests)
    return {
        "nest.area_used": Number(used, "mm^2", "sum over sheets: (last part and its spacing) x width", Trust.DERIVED),
        "nest.share": Number(steel / used, "1", "outlines of the parts less openings / area used", Trust.DERIVED),
        "nest.saved": Number(
            1.0 - used / boxes, "1", "1 - area used / area used by rectangles around the parts", Trust.DERIVED
        ),
    }
