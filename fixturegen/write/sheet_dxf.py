"""A whole sheet as one DXF: every part where it lies, in the order it is cut, and the file read back.

First the marks of all parts, while the plate lies still; then part by part its openings and its
outside, a part that lies in another's opening before that opening. The sheet's own outline stands on
the note layer.
"""

from __future__ import annotations

from collections.abc import Sequence

from fixturegen.keeping import kept, kept_json, key_of
from fixturegen.plate import Loop, Part
from fixturegen.plate.placed import CutSheet, Placed, placed_part
from fixturegen.plate.profile import Edge, bounds, edges, perimeter, signed_area
from fixturegen.write import dxf
from fixturegen.write.content import (
    SIZE,
    Content,
    Contour,
    Ring,
    contours,
    doubles,
    file_faults,
    half_arcs,
    measured,
    read_dxf,
    without_leads,
    witness_faults,
)
from fixturegen.write.drawing import Drawing, Units
from fixturegen.write.file_rules import FileRules
from fixturegen.write.kerf import torch_part
from fixturegen.write.neighbours import Neighbours
from fixturegen.write.readback import elsewhere, has_cross
from fixturegen.write.sequence import order_faults

LETTERS = 12.0  # of the note beside a sheet: it is looked at from farther off [mm]


def as_cut_on(sheet: CutSheet, kerf: float) -> tuple[Part, ...]:
    """The parts where they lie, each moved off the line by half the kerf [mm] when the file allows for it."""
    return tuple(
        placed_part(Placed(torch_part(p.part, kerf), p.x, p.y, p.angle, p.copy, p.inside)) for p in sheet.placed
    )


def sheet_lines(sheet: CutSheet, units: Units, kerf: float, rules: FileRules, bare: int = 0) -> tuple[str, ...]:
    """What the note layer says beside the sheet; `bare` contours had no room for their lead."""
    allowed = f"KERF {kerf / dxf.MM_PER_INCH:.3f} IN IS ALLOWED FOR" if kerf else "KERF IS NOT ALLOWED FOR"
    thick = sheet.thickness / dxf.MM_PER_INCH
    parts = as_cut_on(sheet, 0.0)
    pierces = sum(len(dxf.contours_of(p.profile, rules)[0]) + 1 for p in parts if p.profile is not None)
    return (
        f"SHEET {sheet.number}  {sheet.name.upper()}",
        dxf.overall(sheet.length, sheet.width),
        f"PLATE {thick:.3f} IN ({sheet.thickness:.2f} MM)  {sheet.material.upper()}",
        f"FILE IN {'MILLIMETRES' if units == 'mm' else 'INCHES'}. ZERO IS THE LOWER LEFT CORNER OF THE SHEET",
        f"{len(sheet.placed)} PARTS  PIERCES {pierces}",
        f"SQUARE IS 1.000 IN = 25.4 MM. {allowed}.",
        f"{dxf.leads_said(rules, bare)}. MARKED FACES UP.",
        "DO NOT CUT THIS LAYER",
    )


def sheet_dxf_bytes(sheet: CutSheet, units: Units, kerf: float, rules: FileRules) -> bytes:
    """The DXF file of a sheet.

    Args:
        sheet: The sheet, its parts in the order they are cut.
        units: Unit of the file.
        kerf: What the contours allow for [mm]; 0 when the controller does that.
        rules: How the file is written.
    """
    return kept("dxf", key_of(("sheet", sheet, units, kerf, rules)), lambda: _drawn(sheet, units, kerf, rules))


def _drawn(sheet: CutSheet, units: Units, kerf: float, rules: FileRules) -> bytes:
    drawing = Drawing(units, rules)
    parts = as_cut_on(sheet, kerf)
    for part in parts:
        if part.profile is not None:
            dxf.draw_marks(drawing, part, part.profile)
    profiles = [part.profile for part in parts if part.profile is not None]
    around = Neighbours(profiles, sheet.border)
    bare = 0
    for k, profile in enumerate(profiles):
        bare += dxf.draw_cuts(drawing, profile, around.free_for(k, rules.kerf))
    for e in edges(sheet.border):
        drawing.edge(dxf.NOTE, e)
    dxf.draw_notes(drawing, sheet_lines(sheet, units, kerf, rules, bare), (0.0, 0.0), LETTERS)
    return drawing.bytes()


def remnant_dxf_bytes(sheet: CutSheet, units: Units, rules: FileRules) -> bytes:
    """The DXF file of what is left of a sheet: its outline, to cut it off or to draw the next job on."""
    return kept("dxf", key_of(("remnant", sheet, units, rules)), lambda: _remnant(sheet, units, rules))


def _remnant(sheet: CutSheet, units: Units, rules: FileRules) -> bytes:
    drawing = Drawing(units, rules)
    drawing.loop(dxf.CUT_OUT, sheet.remnant)
    x0, y0, x1, y1 = bounds(sheet.remnant)
    lines = (
        f"LEFT OF SHEET {sheet.number}  {sheet.name.upper()}",
        dxf.overall(x1 - x0, y1 - y0),
        f"PLATE {sheet.thickness / dxf.MM_PER_INCH:.3f} IN ({sheet.thickness:.2f} MM)  {sheet.material.upper()}",
        "CUT ITS LEFT SIDE ONLY: THE OTHERS ARE EDGES OF THE SHEET",
        "SQUARE IS 1.000 IN = 25.4 MM",
        "DO NOT CUT THIS LAYER",
    )
    dxf.draw_notes(drawing, lines, (x0, y0), LETTERS)
    return drawing.bytes()


def sheet_faults(sheet: CutSheet, units: Units, kerf: float, data: bytes, rules: FileRules) -> list[str]:
    """What is wrong with a sheet's file, in words: every contour of every part must be in it, in its place.

    Args:
        sheet: The sheet.
        units: Unit of the file.
        kerf: What the contours allow for [mm].
        data: The file.
        rules: How it was to be written.
    """
    # the same sheet and a file of the very same bytes have been compared before
    key = key_of(("sheet read back", sheet, units, kerf, data, rules))
    faults: list[str] = kept_json("faults", key, lambda: _faults(sheet, units, kerf, data, rules))
    return faults


def _faults(sheet: CutSheet, units: Units, kerf: float, data: bytes, rules: FileRules) -> list[str]:
    try:
        content = read_dxf(data)
    except ValueError as error:
        return [str(error)]
    faults = file_faults(content, units, rules)
    if not content.scale:
        return faults
    parts = [part for part in as_cut_on(sheet, kerf) if part.profile is not None]
    profiles = [part.profile for part in parts if part.profile is not None]
    wanted: dict[str, list[Loop]] = {dxf.CUT_OUT: [], dxf.CUT_IN: []}
    for profile in profiles:
        inside, outside = dxf.contours_of(profile, rules)
        wanted[dxf.CUT_IN] += inside
        wanted[dxf.CUT_OUT].append(outside)
    every: list[Edge] = []
    rings: list[Ring] = []
    leads: list[Edge] = []
    opened: list[str] = []
    for layer, loops in wanted.items():
        pieces, circles = content.pieces.get(layer, []), content.rings.get(layer, [])
        if rules.lead is not None:
            pieces, hanging = without_leads(pieces, circles)
            leads += hanging
        found, open_ones = contours(pieces)
        opened += open_ones
        faults += _missing(loops, [*found, *(measured(half_arcs(*r)) for r in circles)], layer)
        every += pieces
        rings += circles
    faults += opened + doubles(every, rings) + Neighbours(profiles, sheet.border).faults(leads, SIZE, rules.kerf)
    # order is looked at in whole contours alone; what is open has been told
    faults += [] if opened else order_faults(content, rules)
    return faults + _marks_missing(parts, content) + witness_faults(content)


def _marks_missing(parts: Sequence[Part], content: Content) -> list[str]:
    """Pilot marks that do not stand where their holes are to be drilled."""
    lines = content.pieces.get(dxf.MARK, [])
    pilots = [h for p in parts if p.profile is not None for h in p.profile.holes if dxf.cut_diameter(h) is None]
    # only lines of a cross are looked at: lettering has thousands
    arms = [e for e in lines if abs(e.length - 2.0 * dxf.PILOT_ARM) <= SIZE]
    return [f"a pilot mark at {h.x:.3f}, {h.y:.3f} mm is missing" for h in pilots if not has_cross(h, arms)]


def _missing(loops: Sequence[Loop], found: Sequence[Contour], layer: str) -> list[str]:
    """Contours that are wanted and not there, and those nobody wanted, by place, size, area and corners."""
    left = list(found)
    faults = []
    for loop in loops:
        box, area, around = bounds(loop), abs(signed_area(loop)), perimeter(loop)
        same = next(
            (
                c
                for c in left
                if max(abs(a - b) for a, b in zip(c.box, box, strict=True)) <= SIZE
                and abs(c.area - area) <= SIZE * around
                and not elsewhere(loop, c.run)
            ),
            None,
        )
        if same is None:
            faults.append(f"a contour at {box[0]:.3f}, {box[1]:.3f} mm is missing on {layer}")
        else:
            left.remove(same)
    return faults + [f"a contour at {c.box[0]:.3f}, {c.box[1]:.3f} mm on {layer} is no part's" for c in left]
