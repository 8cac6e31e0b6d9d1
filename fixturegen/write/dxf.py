"""The as-cut profile of a plate part as DXF that a plasma controller runs at once.

Text in model space at 1:1, the unit in header and file name, nothing but LINE, ARC and CIRCLE, or
closed polylines where the sheet asks for them. Entities stand in travel order: marks, holes and
cut-outs, then the outside, each contour whole. The same part gives the same bytes.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from fixturegen.errors import GeometryFault
from fixturegen.keeping import kept, key_of
from fixturegen.plate import Hole, Loop, Part, Profile
from fixturegen.plate.cut_order import inside_order
from fixturegen.plate.profile import Operation, bounds, circle, reversed_loop
from fixturegen.write.drawing import (
    CUT_IN,
    CUT_OUT,
    INSUNITS,
    LAYERS,
    MARK,
    MM_PER_INCH,
    NOTE,
    Drawing,
    Units,
    as_circle,
)
from fixturegen.write.file_rules import FileRules
from fixturegen.write.leads import Free, begun, ring_lead

WITNESS = 25.4  # side of the witness square [mm]: 1.000 in
PILOT_ARM = 25.4 / 16.0  # half the length of a line of a pilot cross [mm]; 1/8 in cross, common practice
NOTE_GAP = 12.0  # clear of the part, so that no note reads as part of it [mm]
NOTE_HEIGHT = 5.0  # lettering on the note layer [mm]
PLAIN = FileRules()


def file_name(part: Part, units: Units) -> str:
    """Name of the part's DXF file; it carries the unit."""
    return f"{part.name}_{units}.dxf"


def cut_diameter(hole: Hole) -> float | None:
    """Diameter the cutter makes [mm]; None for a pilot mark."""
    if hole.operation is Operation.PILOT:
        return None
    return hole.finished if hole.cut is None else hole.cut


def in_travel_order(points: Sequence[tuple[float, float]], start: tuple[float, float]) -> list[int]:
    """Indices of the points (n, 2) [mm], each time the nearest one left; ties by index."""
    left, here, order = list(range(len(points))), start, []
    while left:
        nearest = min(left, key=lambda i: (round(math.dist(points[i], here), 6), i))
        left.remove(nearest)
        order.append(nearest)
        here = points[nearest]
    return order


def draw_marks(drawing: Drawing, part: Part, profile: Profile) -> None:
    """Pilot marks and everything else on the mark layer."""
    pilots = [h for h in profile.holes if cut_diameter(h) is None]
    order = in_travel_order([(h.x, h.y) for h in pilots], (0.0, 0.0))
    for hole in (pilots[i] for i in order):
        drawing.line(MARK, hole.x - PILOT_ARM, hole.y, hole.x + PILOT_ARM, hole.y)
        drawing.line(MARK, hole.x, hole.y - PILOT_ARM, hole.x, hole.y + PILOT_ARM)
    for mark in part.marks:
        if mark.to is not None:
            drawing.line(MARK, mark.x, mark.y, *mark.to)
        if mark.text:
            drawing.text(MARK, mark.text, mark.x, mark.y, mark.height, mark.angle)


def contours_of(profile: Profile, rules: FileRules) -> tuple[tuple[Loop, ...], Loop]:
    """Openings in the order and direction they are cut, and the outside.

    A clockwise swirl leaves the square edge on the torch's right: the outside is run clockwise,
    openings counter-clockwise, so that the part has it everywhere; the other swirl the other way
    (common practice, no source). Openings are ordered so that the torch does not come back over a
    slug that lies loose on the slats.
    """
    cut = ((h.x, h.y, cut_diameter(h)) for h in profile.holes)
    inside = [circle(x, y, diameter) for x, y, diameter in cut if diameter is not None]
    inside += [reversed_loop(loop) for loop in profile.inner]
    xmin, ymin, _, _ = bounds(profile.outer)
    order = inside_order(inside, (xmin, ymin), rules.slat_pitch, rules.kerf)
    if rules.swirl == "clockwise":
        return tuple(inside[i] for i in order), reversed_loop(profile.outer)
    return tuple(reversed_loop(inside[i]) for i in order), profile.outer


def draw_contour(drawing: Drawing, layer: str, loop: Loop, free: Free | None = None) -> bool:
    """A contour, with its lead before it where the file carries leads; whether it has what it must."""
    rules, outside = drawing.rules, layer == CUT_OUT
    if rules.lead is None:
        drawing.loop(layer, loop)
        return True
    ring = as_circle(loop)
    if ring is not None:
        lead = ring_lead(*ring, outside, rules.lead, free)
    else:
        loop, lead = begun(loop, outside, rules.lead, rules.kerf, free)
    if lead is not None:
        drawing.edge(layer, lead)
    drawing.loop(layer, loop)
    return lead is not None


def draw_cuts(drawing: Drawing, profile: Profile, free: Free | None = None) -> int:
    """Openings, then the outside; how many of them had no room for their lead.

    Args:
        drawing: Takes the contours.
        profile: The part as cut.
        free: Whether a way is clear of what else lies on the sheet; None when nothing does.
    """
    inside, outside = contours_of(profile, drawing.rules)
    led = [draw_contour(drawing, CUT_IN, loop, free) for loop in inside]
    led.append(draw_contour(drawing, CUT_OUT, outside, free))
    return led.count(False)


def note_lines(part: Part, units: Units, kerf: float = 0.0, rules: FileRules = PLAIN, bare: int = 0) -> tuple[str, ...]:
    """What the note layer says beside the part.

    Args:
        part: The part.
        units: Unit of the file.
        kerf: Allowed for in the contours [mm]; 0 when the controller does that.
        rules: How the file is written.
        bare: How many contours had no room for their lead.
    """
    added = f"KERF {kerf / MM_PER_INCH:.3f} IN IS ALLOWED FOR" if kerf else "KERF IS NOT ALLOWED FOR"
    unit = "MILLIMETRES" if units == "mm" else "INCHES"
    return (
        f"{part.name.upper()}  MAKE {part.quantity}",
        f"PLATE {part.thickness / MM_PER_INCH:.3f} IN ({part.thickness:.2f} MM)  {part.material.upper()}",
        f"FILE IN {unit}",
        *_counted(part),
        f"SQUARE IS 1.000 IN = 25.4 MM. {added}.",
        f"{leads_said(rules, bare)}. MARKED FACE UP. OUTSIDE RUNS {rules.swirl.upper()}.",
        "DO NOT CUT THIS LAYER",
    )


def leads_said(rules: FileRules, bare: int = 0) -> str:
    """Who draws the leads, in the note's words, and how many contours had no room for one."""
    if rules.lead is None:
        return "LEADS ARE LEFT TO THE CONTROLLER"
    return "LEADS ARE IN THE FILE: ADD NONE" + (f". NO ROOM FOR A LEAD AT {bare}" if bare else "")


def _counted(part: Part) -> tuple[str, ...]:
    """Overall size and how many pierces and pilot marks, to be compared with what the controller shows."""
    profile = part.profile
    if profile is None:
        return ()
    x0, y0, x1, y1 = bounds(profile.outer)
    cut = sum(cut_diameter(h) is not None for h in profile.holes)
    return (
        f"{overall(x1 - x0, y1 - y0)} OVERALL",
        f"PIERCES {1 + cut + len(profile.inner)}  PILOT MARKS {len(profile.holes) - cut}",
    )


def overall(x: float, y: float) -> str:
    """Two sides [mm] in inches, and in mm beside them."""
    return f"{x / MM_PER_INCH:.3f} X {y / MM_PER_INCH:.3f} IN ({x:.1f} X {y:.1f} MM)"


def draw_notes(
    drawing: Drawing, lines: Iterable[str], corner: tuple[float, float], height: float = NOTE_HEIGHT
) -> None:
    """Witness square and words of a height [mm], below a corner [mm] of what is cut."""
    x, y = corner[0], corner[1] - NOTE_GAP - WITNESS
    ring = ((x, y), (x + WITNESS, y), (x + WITNESS, y + WITNESS), (x, y + WITNESS))
    for a, b in zip(ring, ring[1:] + ring[:1], strict=True):
        drawing.line(NOTE, *a, *b)
    for i, words in enumerate(lines):
        base = y + WITNESS - height - i * 1.35 * height
        drawing.text(NOTE, words, x + WITNESS + height, base, height, 0.0)


def dxf_bytes(part: Part, units: Units = "mm", kerf: float = 0.0, rules: FileRules = PLAIN) -> bytes:
    """The DXF file of a plate part, as cut.

    Args:
        part: A plate part; its holes carry what is done at the cutter.
        units: Unit of the file.
        kerf: What the contours allow for already [mm] (see `kerf.torch_part`); told in the note.
        rules: How the file is written.

    Raises:
        GeometryFault: When the part has no flat profile.
    """
    if part.profile is None:
        raise GeometryFault(part.name, "has no flat profile to cut", "make it on the lathe or saw")
    profile = part.profile
    return kept("dxf", key_of(("dxf", part, units, kerf, rules)), lambda: _drawn(part, profile, units, kerf, rules))


def _drawn(part: Part, profile: Profile, units: Units, kerf: float, rules: FileRules) -> bytes:
    xmin, ymin, _, _ = bounds(profile.outer)
    drawing = Drawing(units, rules)
    draw_marks(drawing, part, profile)
    bare = draw_cuts(drawing, profile)
    draw_notes(drawing, note_lines(part, units, kerf, rules, bare), (xmin, ymin))
    return drawing.bytes()


__all__ = [
    "CUT_IN",
    "CUT_OUT",
    "INSUNITS",
    "LAYERS",
    "MARK",
    "MM_PER_INCH",
    "NOTE",
    "PILOT_ARM",
    "WITNESS",
    "Units",
    "as_circle",
    "cut_diameter",
    "dxf_bytes",
    "file_name",
    "in_travel_order",
    "note_lines",
    "overall",
]
