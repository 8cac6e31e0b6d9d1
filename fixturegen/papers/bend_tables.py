"""The table of bends beside the picture of a bent part, and the bend lines in the picture."""

from __future__ import annotations

from fixturegen.calc._bends import setback
from fixturegen.papers.words import INCH, fraction
from fixturegen.plate import Bend, Part

BEND_HEAD = ("Bend", "Line on the flat", "Way", "Angle", "Inside radius", "Outside sizes to come to", "Deduction", "By")
BEND_COLOUR = "#5b5f66"
LEVEL = 1e-6  # [mm] a line that leans by less runs along x or y

Row = tuple[str, ...]


def bend_rows(part: Part) -> tuple[Row, ...]:
    """One row for each bend in the order of bending, in inches."""
    return tuple(_row(n, bend, part.thickness) for n, bend in enumerate(part.bends, 1))


def _row(number: int, bend: Bend, thickness: float) -> Row:
    deduction = setback(thickness, bend.radius, bend.angle) - bend.allowance
    sizes = "" if bend.outside is None else " and ".join(fraction(size, 32) for size in bend.outside)
    return (
        str(number),
        _line(bend),
        "up" if bend.up else "down, plate turned over",
        f"{bend.angle:g} deg",
        f"{bend.radius / INCH:.3f} in",
        sizes,
        f"{deduction / INCH:.3f} in",
        bend.rule if bend.measured else f"{bend.rule}; not measured on this brake",
    )


def _line(bend: Bend) -> str:
    x0, y0, x1, y1 = (f"{round(v / INCH, 3) + 0.0:.3f}" for v in (bend.x0, bend.y0, bend.x1, bend.y1))
    if abs(bend.x1 - bend.x0) <= LEVEL:
        return f"x {x0}"
    if abs(bend.y1 - bend.y0) <= LEVEL:
        return f"y {y0}"
    return f"x {x0}, y {y0} to x {x1}, y {y1}"


def bend_lines(part: Part, scale: float) -> list[str]:
    """SVG of the bend lines, dashed; on paper only, the steel has ticks.

    Args:
        part: A part with bends, or none.
        scale: Width of a line [mm].
    """
    return [
        f'<path d="M{b.x0:.3f} {-b.y0:.3f}L{b.x1:.3f} {-b.y1:.3f}" fill="none" stroke="{BEND_COLOUR}" '
        f'stroke-width="{0.7 * scale:.3f}" stroke-dasharray="{9 * scale:.3f} {4 * scale:.3f}"/>'
        for b in part.bends
    ]
