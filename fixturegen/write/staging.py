"""Everything of a job folder but its papers: written into staging, read back, measured."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from tempfile import TemporaryDirectory

from fixturegen.bodies.axle import bodies_in, part_solid
from fixturegen.checks.brackets_welded import CODE as NO_WELD
from fixturegen.checks.registry import Job
from fixturegen.errors import GeometryFault, ProgramFault
from fixturegen.findings import Finding, Level
from fixturegen.plate import Assembly, Part, Placement
from fixturegen.progress import Progress
from fixturegen.sheet.specs import Sheet
from fixturegen.stock import Material, NotInTable, entry
from fixturegen.studies.bracket_places import places_of
from fixturegen.studies.link_inputs import stance_of
from fixturegen.studies.tube_cuts import shaft_readings, tube_cuts
from fixturegen.write import dxf, held, lists, readback, step, summary
from fixturegen.write.bracket_list import bracket_list
from fixturegen.write.file_rules import file_rules
from fixturegen.write.kerf import torch_part
from fixturegen.write.summary import Contents, Measured

FOLDERS = ("cut", "step", "held", "lists")
MADE = "GEO-01"
KERF = "CUT-02"
KERF_CLAIM = "every opening is wider than the kerf allowed for in the file"
MADE_CLAIM = "the part can be made as one sound solid"


def kerf_in_files(sheet: Sheet) -> float:
    """Kerf that the cut files allow for [mm]; 0 when the controller does."""
    return float(sheet.process.kerf) if sheet.process.kerf_allowed_by == "file" else 0.0


@dataclass(frozen=True)
class Order:
    """What is to be written, and where.

    Attributes:
        stage: The staging folder.
        job: Parts, assemblies, solids.
        made: Names of the parts to write.
        units: Unit of the cut files.
        progress: Told what is being done.
    """

    stage: Path
    job: Job
    made: tuple[str, ...]
    units: dxf.Units
    progress: Progress

    @property
    def kerf(self) -> float:
        """Kerf that the cut files allow for [mm]; 0 when the controller does."""
        return kerf_in_files(self.job.sheet)

    @property
    def assemblies(self) -> tuple[Assembly, ...]:
        """Assemblies all of whose parts are written."""
        there = set(self.made)
        return tuple(a for a in self.job.assemblies.values() if {p.part for p in a.placements} <= there)

    @property
    def parts(self) -> tuple[Part, ...]:
        """The parts to write."""
        return tuple(self.job.parts[name] for name in self.made)


@dataclass
class Draft:
    """What has been written so far.

    Attributes:
        files: Part name to kind of file to path in the folder.
        measured: Part name to mass and box.
        findings: Of making and of reading back.
    """

    files: dict[str, dict[str, str]] = field(default_factory=dict)
    measured: dict[str, Measured] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()

    @property
    def masses(self) -> dict[str, float]:
        """Part name to mass [kg]."""
        return {name: m.mass for name, m in self.measured.items()}


def density(material: str) -> float:
    """Density of a stock material [kg/mm3].

    Raises:
        NotInTable: When no table names it.
    """
    return float(entry("materials", material, Material).density) * 1e-9


def write_parts(order: Order, held_now: Mapping[str, str]) -> Draft:
    """Write DXF and STEP of every part not held yet; each file is read back from the disk.

    Args:
        order: What is to be written.
        held_now: Parts held by the checks; they are measured, not written.
    """
    draft = Draft()
    for folder in FOLDERS:
        (order.stage / folder).mkdir()
    for i, part in enumerate(order.parts):
        order.progress(f"write {part.name}", i, len(order.made))
        draft.findings += _measure(order.job, part, draft)
        if part.name in held_now or part.name not in draft.measured:
            continue
        draft.findings += _write_part(order, part, draft)
    draft.findings += _passes(order, draft)
    return draft


def _passes(order: Order, draft: Draft) -> tuple[Finding, ...]:
    """What went well, one finding for all parts it is true of."""
    sound = tuple(draft.measured)
    words = f"{len(sound)} of {len(order.made)} parts were made as one valid solid each, and weighed"
    found = [Finding(MADE, Level.PASS, MADE_CLAIM, words, parts=sound, frame="P")] if sound else []
    cut = tuple(name for name, files in draft.files.items() if "dxf" in files)
    if order.kerf and cut:
        words = f"in {len(cut)} cut files every opening is wider than the kerf of {order.kerf / dxf.MM_PER_INCH:.3f} in"
        found.append(Finding(KERF, Level.PASS, KERF_CLAIM, words, parts=cut, frame="P"))
    return tuple(found)


def _measure(job: Job, part: Part, draft: Draft) -> tuple[Finding, ...]:
    """Mass and box of a part's solid; a finding when it cannot be made."""
    from fixturegen.shapes.solids import bounding_box, volume

    try:
        solid = part_solid(job, part.name)
    except GeometryFault as fault:
        words = f"{fault.words}"
        return (Finding(MADE, Level.FAIL, MADE_CLAIM, words, fault.remedy, (part.name,), frame="P"),)
    try:
        mass = volume(solid) * density(part.material)
    except NotInTable:
        words = f"its material {part.material!r} is in no table, so it can be neither bought nor weighed"
        remedy = "name one that `fixturegen tables materials` lists"
        return (Finding(MADE, Level.FAIL, MADE_CLAIM, words, remedy, (part.name,), frame="P"),)
    box = bounding_box(solid)
    draft.measured[part.name] = Measured(mass, (box[:3], box[3:]))
    return ()


def _write_part(order: Order, part: Part, draft: Draft) -> tuple[Finding, ...]:
    from fixturegen.shapes.solids import bounding_box, volume

    found, files = [], {}
    if part.profile is not None:
        path = order.stage / "cut" / dxf.file_name(part, order.units)
        try:
            torch = torch_part(part, order.kerf)
        except GeometryFault as fault:
            remedy = f"{fault.remedy}, or let the controller allow for the kerf"
            return (Finding(KERF, Level.FAIL, KERF_CLAIM, fault.words, remedy, (part.name,), frame="P"),)
        rules = file_rules(order.job.sheet, part.thickness)
        path.write_bytes(dxf.dxf_bytes(torch, order.units, order.kerf, rules))
        found.append(readback.check_dxf(torch, order.units, path.read_bytes(), rules))
        files["dxf"] = f"cut/{path.name}"
    solid = part_solid(order.job, part.name)
    path = order.stage / "step" / step.file_name(part.name)
    step.write_part(path, solid, part.name)
    by_hand = step.flat_volume(part)
    wanted = volume(solid) if by_hand is None else by_hand
    found.append(step.check_step(path, wanted, bounding_box(solid), (part.name,)))
    files["step"] = f"step/{path.name}"
    draft.files[part.name] = files
    return tuple(found)


def write_assemblies(order: Order, draft: Draft, held_now: Mapping[str, str]) -> None:
    """Write each assembly with the axle in it; held parts are left out.

    A folder of one kind of part gets those made of that kind alone; one in which every part is held, none.
    """
    for assembly in order.assemblies:
        order.progress(f"write assembly {assembly.name}", 0, 0)
        placements = [p for p in assembly.placements if p.part not in held_now]
        if not placements:
            continue
        path = order.stage / "step" / f"assembly-{assembly.name}.step"
        finding = _write_assembly(path, order.job, placements, assembly)
        draft.findings += (finding,)
        if finding.level is Level.FAIL:
            path.unlink()


def _write_assembly(path: Path, job: Job, placements: Sequence[Placement], assembly: Assembly) -> Finding:
    solids = {p.part: part_solid(job, p.part) for p in placements}
    count, total = step.write_assembly(path, solids, placements, bodies_in(job, assembly.frame), assembly.name)
    return step.check_step(path, total, None, (), count, assembly.name)


def assemblies_ahead(job: Job) -> None:
    """Have the files of whole assemblies made and read back, so that `write_assemblies` finds both kept.

    Args:
        job: Parts and assemblies; where a part is held later on, its assembly is made anew without it.
    """
    with TemporaryDirectory() as folder:
        for assembly in job.assemblies.values():
            if assembly.placements:
                _write_assembly(Path(folder) / "ahead.step", job, assembly.placements, assembly)


def settle(
    order: Order,
    draft: Draft,
    held_now: Mapping[str, str],
    findings: tuple[Finding, ...],
    picture: Callable[[Part], str],
) -> None:
    """Take the files of held parts away and put their reasons in place; then write the lists.

    Args:
        order: What is to be written.
        draft: What has been written.
        held_now: Part name to reason, read-back counted.
        findings: Every finding.
        picture: Draws a part as SVG; an empty text where it cannot.
    """
    for part in order.parts:
        reason = held_now.get(part.name)
        if reason is None:
            continue
        for path in draft.files.pop(part.name, {}).values():
            (order.stage / path).unlink()
        files = {"held": f"held/{part.name}.txt"}
        (order.stage / files["held"]).write_bytes(held.held_text(part, reason, findings))
        svg = picture(part)
        if svg:
            files["picture"] = f"held/{part.name}.svg"
            (order.stage / files["picture"]).write_bytes(held.marked_held(svg))
        draft.files[part.name] = files
    _write_lists(order, draft, held_now, findings)
    for folder in FOLDERS:
        if not any((order.stage / folder).iterdir()):
            (order.stage / folder).rmdir()


def _write_lists(order: Order, draft: Draft, held_now: Mapping[str, str], findings: tuple[Finding, ...]) -> None:
    released = [p for p in order.parts if p.name not in held_now]
    sheet, assemblies = order.job.sheet, order.assemblies
    tables = {
        "cut-list": lists.cut_list(released, draft.masses, draft.files),
        "tube-list": lists.tube_list(tube_cuts(sheet), released),
        "turned-parts": lists.turned_list(released, draft.masses),
        "hardware": lists.hardware_list(assemblies),
        "weld-list": lists.weld_list(assemblies, held_now),
        "axle-shafts": lists.shaft_list(shaft_readings(sheet, order.job.axle)),
        "held-parts": lists.held_list(order.parts, held_now),
    }
    if order.job.brackets.facts:
        places = places_of(order.job.axle, stance_of(sheet, order.job.axle), order.job.brackets.facts.values())
        tables["brackets"] = bracket_list(places)
    forbidden = [f for f in findings if f.code == NO_WELD and f.level is Level.FAIL]
    if forbidden:
        # a list a welder would work from: it is not handed out while a steering part stands in it
        del tables["weld-list"]
        (order.stage / "lists" / "weld-list-HELD.txt").write_bytes(held.list_text("the weld list", forbidden))
    for name, data in tables.items():
        (order.stage / "lists" / f"{name}.csv").write_bytes(data)


def write_summary(order: Order, contents: Contents) -> Finding:
    """Write `summary.json` last of all and read it back; its own finding stands in it.

    Raises:
        ProgramFault: When it does not say what the folder holds; the folder is then not released.
    """
    path = order.stage / summary.NAME
    # a pass stands in it before it is known: any other finding ends the build, and no such file is handed out
    hoped = summary.passed(contents)
    whole = replace(contents, findings=(*contents.findings, hoped))
    path.write_bytes(summary.canonical(summary.summary_of(whole)))
    found = summary.check_summary(path.read_bytes(), whole, order.stage)
    if found != hoped:
        raise ProgramFault(found.words)
    return found
