"""What stands beside the picture of a sheet: its figures in one line, and where each part lies."""

from __future__ import annotations

from fixturegen.papers.report import SheetCard
from fixturegen.papers.sheet_pictures import sheet_svg
from fixturegen.papers.words import fraction, length
from fixturegen.plate.placed import CutSheet, SheetFigures, placed_part
from fixturegen.plate.profile import bounds

NOTE = (
    "Marked faces up; ZERO is the corner where the torch is set. The number before a name is the order of cutting; "
    "yellow parts lie in the opening of another and are cut before it. Green is left over: its lines for the build "
    "sheet stand below, so that the next job can use it. Times are estimates of the torch's movement alone."
)
HEAD = ("Order", "Part", "From zero along", "From zero up", "Turned", "Size on the sheet")


def minutes(seconds: float) -> str:
    """A time as people say it at a machine."""
    whole = max(1, round(seconds / 60.0))
    return f"{whole} min" if whole < 60 else f"{whole // 60} h {whole % 60:02d} min"


def _size(x: float, y: float, units: str) -> str:
    """Two sides of a rectangle in the unit of the job."""
    if units == "mm":
        return f"{x:.0f} x {y:.0f} mm"
    return f"{x / 25.4:.2f} x {y / 25.4:.2f} in"


def sheet_card(figures: SheetFigures, units: str) -> SheetCard:
    """The sheet as the page shows it."""
    rows = []
    for i, put in enumerate(figures.sheet.placed, 1):
        profile = placed_part(put).profile
        if profile is None:
            continue
        x0, y0, x1, y1 = bounds(profile.outer)
        name = put.part.name + (f", copy {put.copy} of {put.part.quantity}" if put.part.quantity > 1 else "")
        name += f" (in the opening of {put.inside})" if put.inside else ""
        turned = f"{put.angle:g} deg"
        rows.append((str(i), name, fraction(x0, 16), fraction(y0, 16), turned, _size(x1 - x0, y1 - y0, units)))
    return SheetCard(
        sheet_svg(figures.sheet, units), _caption(figures, units), HEAD, tuple(rows), remnant_text(figures.sheet, units)
    )


def _caption(f: SheetFigures, units: str) -> str:
    s = f.sheet
    texts = [
        f"Sheet {s.number}, {s.name}: {_size(s.length, s.width, units)}, plate {length(s.thickness, units)}",
        f"file {f.files.get('dxf', '')}",
        f"{len(s.placed)} parts, {f.work.pierces} pierces, {f.work.cut_length / 304.8:.0f} ft of cut",
        f"about {minutes(f.time)} at the torch",
        f"parts weigh {f.mass / 0.45359237:.0f} lb",
        f"{100.0 * f.share:.0f} % of what is used up becomes parts",
    ]
    if f.cost is not None:
        texts.append(f"{f.cost:.0f} of its price of {s.price:g}")
    if s.remnant:
        texts.append(f"left: {_size(s.length - s.cut_to, s.width, units)}")
    return "; ".join(texts) + "."


def remnant_text(sheet: CutSheet, units: str) -> str:
    """The remnant as the lines of a build sheet; empty when nothing worth keeping is left.

    Args:
        sheet: The sheet.
        units: in or mm.
    """
    if not sheet.remnant:
        return ""
    scale, unit = (25.4, "in") if units == "in" else (1.0, "mm")
    # rounded down: a sheet is never said to be larger than it is
    long, wide = ((v / scale * 10.0 + 1e-6) // 1.0 / 10.0 for v in (sheet.length - sheet.cut_to, sheet.width))
    name = f"rest of {sheet.name.removeprefix('rest of ')}"[:40].replace('"', "'").replace("\\", "/")
    return (
        f'[[sheets]]\nname = "{name}"\nplate = "{sheet.plate}"\nlength = "{long:g} {unit}"\nwidth = "{wide:g} {unit}"\n'
        f'grain = "{sheet.grain}"\n'
    )
