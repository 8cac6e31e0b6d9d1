"""Sheets as files: one DXF a sheet with every part where it lies, picture, remnant, and the list."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence

from fixturegen.findings import Finding, Level
from fixturegen.plate import Part, Profile
from fixturegen.plate.placed import CutSheet, SheetFigures, placed_part
from fixturegen.plate.profile import circle, perimeter
from fixturegen.sheet.specs import Sheet
from fixturegen.stock import CutProcess, entry
from fixturegen.studies.cut_costs import CutWork, Speeds, cost_of
from fixturegen.studies.cutting_rules import rules_for
from fixturegen.write import dxf, lists
from fixturegen.write.file_rules import file_rules
from fixturegen.write.sheet_dxf import remnant_dxf_bytes, sheet_dxf_bytes, sheet_faults
from fixturegen.write.staging import Order
from fixturegen.write.strokes import strokes
from fixturegen.write.summary import net_area

CODE = "CUT-10"
CLAIM = "the file of each sheet holds every part on it, in its place"
PILOT_LENGTH = 4.0 * dxf.PILOT_ARM  # a pilot mark is two crossed lines [mm]


def stem(kind: str, number: int, units: dxf.Units) -> str:
    """Name of a sheet's file without its ending: sheet-01_in, remnant-01_in."""
    return f"{kind}-{number:02d}_{units}"


def work_of(sheet: CutSheet) -> CutWork:
    """Pierces and lengths of cutting a sheet; travel is straight from contour to contour in the order of cutting."""
    pierces, cut, mark, travel = 0, 0.0, 0.0, 0.0
    here = (0.0, 0.0)
    for put in sheet.placed:
        part = placed_part(put)
        profile = part.profile
        if profile is None:
            continue
        mark += _mark_length(part, profile)
        for x, y, length in _contours(profile):
            travel += math.dist(here, (x, y))
            here = (x, y)
            pierces, cut = pierces + 1, cut + length
    return CutWork(pierces, cut, mark, travel)


def _contours(profile: Profile) -> list[tuple[float, float, float]]:
    """Start and length [mm] of each contour, insides first, in travel order."""
    diameters = ((h.x, h.y, dxf.cut_diameter(h)) for h in profile.holes)
    inside = [circle(x, y, d) for x, y, d in diameters if d is not None] + list(profile.inner)
    corner = (profile.outer[0].x, profile.outer[0].y)
    order = dxf.in_travel_order([(loop[0].x, loop[0].y) for loop in inside], corner)
    loops = [*(inside[i] for i in order), profile.outer]
    return [(loop[0].x, loop[0].y, perimeter(loop)) for loop in loops]


def _mark_length(part: Part, profile: Profile) -> float:
    total = PILOT_LENGTH * sum(dxf.cut_diameter(h) is None for h in profile.holes)
    for m in part.marks:
        if m.to is not None:
            total += math.dist((m.x, m.y), m.to)
        if m.text:
            total += sum(math.hypot(c - a, d - b) for a, b, c, d in strokes(m.text, m.x, m.y, m.height, m.angle))
    return total


def write_sheets(
    order: Order,
    sheets: Sequence[CutSheet],
    masses: Mapping[str, float],
    picture: Callable[[CutSheet], str],
) -> tuple[tuple[SheetFigures, ...], tuple[Finding, ...]]:
    """Write the files of every sheet, read them back, and tell what each comes to.

    A file that does not hold what it must is taken away again; the parts have files of their own.

    Args:
        order: Where to write and in which unit.
        sheets: The sheets to cut.
        masses: Part name to mass of one [kg].
        picture: Draws a sheet as SVG.
    """
    figures, found, read = [], [], []
    for sheet in sheets:
        rules = file_rules(order.job.sheet, sheet.thickness)
        files = {"dxf": f"cut/{stem('sheet', sheet.number, order.units)}.dxf"}
        path = order.stage / files["dxf"]
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(sheet_dxf_bytes(sheet, order.units, order.kerf, rules))
        faults = sheet_faults(sheet, order.units, order.kerf, path.read_bytes(), rules)
        if faults:
            path.unlink()
            remedy = "cut the parts from their own files. Report it with the sheet"
            found.append(Finding(CODE, Level.FAIL, CLAIM, f"{path.name}: {'; '.join(faults[:3])}", remedy))
            continue
        read.append(path.name)
        if sheet.remnant:
            files["remnant"] = f"cut/{stem('remnant', sheet.number, order.units)}.dxf"
            (order.stage / files["remnant"]).write_bytes(remnant_dxf_bytes(sheet, order.units, rules))
        files["picture"] = f"sheets/sheet-{sheet.number:02d}.svg"
        (order.stage / "sheets").mkdir(exist_ok=True)
        (order.stage / files["picture"]).write_bytes(picture(sheet).encode("utf-8"))
        figures.append(figures_of(sheet, files, speeds_on(order, sheet.thickness), masses))
    if read:
        words = f"{', '.join(read)}: every contour of every part is there once, closed, in its place"
        found.append(Finding(CODE, Level.PASS, CLAIM, words))
    if figures:
        (order.stage / "lists").mkdir(exist_ok=True)
        (order.stage / "lists" / "sheets.csv").write_bytes(sheet_list(figures))
    return tuple(figures), tuple(found)


def sheets_ahead(sheet: Sheet, sheets: Sequence[CutSheet], units: dxf.Units, kerf: float) -> None:
    """Have the files of sheets made and read back, so that `write_sheets` finds both kept.

    Args:
        sheet: The build sheet.
        sheets: The sheets to cut.
        units: Unit of the files.
        kerf: What the contours allow for [mm].
    """
    for one in sheets:
        rules = file_rules(sheet, one.thickness)
        sheet_faults(one, units, kerf, sheet_dxf_bytes(one, units, kerf, rules), rules)
        if one.remnant:
            remnant_dxf_bytes(one, units, rules)


def speeds_on(order: Order, thickness: float) -> Speeds:
    """How fast the torch goes over one plate; what the sheet gives wins over the table."""
    rules = rules_for(order.job.sheet, thickness)
    process = entry("processes", rules.process, CutProcess)
    return Speeds(
        rules.cut_speed.value, float(process.mark_speed), float(process.travel_speed), rules.pierce_time.value
    )


def figures_of(sheet: CutSheet, files: Mapping[str, str], speeds: Speeds, masses: Mapping[str, float]) -> SheetFigures:
    """What a sheet comes to.

    Args:
        sheet: The sheet with its parts.
        files: Kind of file to path in the job folder.
        speeds: Of the torch over this plate.
        masses: Part name to mass of one [kg].
    """
    work = work_of(sheet)
    used, whole = sheet.cut_to * sheet.width, sheet.length * sheet.width
    if not sheet.remnant:
        used = whole
    steel = sum(net_area(put.part) or 0.0 for put in sheet.placed)
    mass = sum(masses.get(put.part.name, 0.0) for put in sheet.placed)
    return SheetFigures(sheet, files, work, work.time(speeds), steel / used, mass, cost_of(sheet.price, used, whole))


def sheet_list(figures: Sequence[SheetFigures]) -> bytes:
    """Sheets to cut: size, what is used up, pierces, lengths, time, mass and money."""
    head = (
        "sheet",
        "name",
        "thickness_in",
        "thickness_mm",
        "length_in",
        "width_in",
        "length_mm",
        "width_mm",
        "parts",
        "used_to_in",
        "used_to_mm",
        "parts_share_percent",
        "pierces",
        "cut_ft",
        "mark_ft",
        "torch_minutes_estimate",
        "parts_lb",
        "cost",
        "file",
    )  # fmt: skip - the columns in reading order
    rows: list[lists.Row] = []
    for f in figures:
        s = f.sheet
        rows.append(
            (
                s.number,
                s.name,
                lists.inch(s.thickness),
                round(s.thickness, 3),
                lists.inch(s.length),
                lists.inch(s.width),
                round(s.length, 1),
                round(s.width, 1),
                len(s.placed),
                lists.inch(s.cut_to),
                round(s.cut_to, 1),
                round(100.0 * f.share, 1),
                f.work.pierces,
                round(f.work.cut_length / 304.8, 1),
                round(f.work.mark_length / 304.8, 1),
                round(f.time / 60.0, 1),
                round(f.mass / 0.45359237, 1),
                "" if f.cost is None else round(f.cost, 2),
                f.files.get("dxf", ""),
            )
        )  # fmt: skip - the columns in reading order
    return lists.csv_bytes(head, rows)
