"""Paper wrapped round a tube: the line of a cope or a mitre, and where a coped tube lands on the other one.

x runs round the tube, from quarter line to quarter line; y along it, from the longest point of the cut
towards the tube's far end.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from fixturegen.calc._saddles import saddle_extremes, saddle_height
from fixturegen.calc.mitre import mitre
from fixturegen.pages import CENTRE, FINE, Figure, Pen
from fixturegen.pages.figure import Anchor
from fixturegen.plate.biarcs import biarc_chain
from fixturegen.plate.profile import Loop, Vertex, perimeter
from fixturegen.sheet.slugs import slug
from fixturegen.sheet.specs import TubeEnd
from fixturegen.templates.template import Template, lap_words, on_white
from fixturegen.templates.words import size, tape

LAP = 12.7  # [mm] of paper beyond the ends, to glue
ABOVE = 45.0  # [mm] of paper above the highest point of the cut: a hand's hold on the tube
DEVIATION = 0.01  # [mm] the arcs may lie off the true curve; far less than a pencil line
STEP = 1e-5  # [rad] for the direction of a curve
EDGE = Pen(0.5)
SQUARE = Pen(0.35)
QUARTERS = (0, 90, 180, 270, 360)
SQUARE_LINE = 8.0  # [mm] above the highest point of the cut
LETTERS = 3.0  # [mm]
DIVISIONS = 32

Height = Callable[[float], float]


def wraps_of(end: TubeEnd, number: int, units: str) -> tuple[Template, ...]:
    """Templates of one tube end: its wrap, and for a cope the landing on the main tube.

    Args:
        end: As the sheet has it.
        number: Its row on the sheet, from 1.
        units: in or mm, as the job has it.
    """
    # a name may be in letters no file can have, or stand twice
    name = f"tube-end-{number}-{slug(end.name)}"[:40].strip("-")
    if end.cut == "mitre" or end.main is None:
        return (replace(mitre_wrap(end, units), name=name),)
    return replace(cope_wrap(end, units), name=name), replace(
        landing(end, units), name=f"{name[:32].strip('-')}-landing"
    )


def cope_wrap(end: TubeEnd, units: str) -> Template:
    """The wrap of a tube that is coped onto another.

    Args:
        end: With its main tube.
        units: in or mm.
    """
    r, big, lean, aside = _sizes(end)
    low, high = saddle_extremes(r, big, lean, aside)
    template = _wrap(end, lambda t: float(saddle_height(math.degrees(t), r, big, lean, aside)) - low, high - low, units)
    offset = (
        f", whose axis lies {tape(abs(aside), units)} off on the side of line {90 if aside > 0.0 else 270}"
        if aside
        else ""
    )
    line = f"Tube {size(2 * r, units)} onto {size(2 * big, units)} at {lean:g} deg{offset}."
    corner = "in the sharp corner" if lean < 90.0 else "in the blunt corner" if lean > 90.0 else "along the main tube"
    where = f"Line 0 goes {corner}. Depth of cut {tape(high - low, units)}, outside of the wall: then bevel inwards."
    return _with(template, (line, where))


def mitre_wrap(end: TubeEnd, units: str) -> Template:
    """The wrap of a mitre: both tubes of the corner are cut by it.

    Args:
        end: Tube and angle.
        units: in or mm.
    """
    r, _, lean, _ = _sizes(end)
    answer = mitre(diameter=2.0 * r, angle=lean)
    template = _wrap(end, lambda t: answer.height * (1.0 + math.cos(t)) / 2.0, answer.height, units)
    line = f"Two tubes {size(2 * r, units)}, corner of {lean:g} deg: saw at {answer.saw_angle:g} deg."
    long = f"Line 0 goes inside the corner. Length of cut {tape(answer.height, units)}. Make two: both are cut alike."
    return _with(template, (line, long))


def landing(end: TubeEnd, units: str) -> Template:
    """Where a coped tube lands on its main tube, unrolled from the main tube.

    As seen from outside the main tube: x runs round it from the line that faces the branch, y along it,
    line 0 of the wrap up, and so line 90 to the left.

    Args:
        end: With its main tube.
        units: in or mm.
    """
    r, big, lean, aside = _sizes(end)
    a = math.radians(lean)

    def at(t: float) -> tuple[float, float]:
        z = float(saddle_height(math.degrees(t), r, big, lean, aside))
        # along and beside the main tube; see `calc.saddle` for the frame
        along = z * math.cos(a) + r * math.cos(t) * math.sin(a)
        return -big * math.asin(max(-1.0, min(1.0, (r * math.sin(t) - aside) / big))), along

    loop = _chain(at)
    figure = Figure()
    figure.loop(loop, EDGE, "outline")
    xs, ys = [v.x for v in loop], [v.y for v in loop]
    x0, x1, y0, y1 = min(xs) - 25.0, max(xs) + 25.0, min(ys) - 25.0, max(ys) + 25.0
    figure.line(0.0, y0, 0.0, y1, CENTRE, "centre")
    # the branch's axis meets the main tube's outside here
    x, y = big * math.asin(aside / big), math.sqrt(big**2 - aside**2) / math.tan(a)
    figure.line(x0, y, x1, y, CENTRE, "centre")
    figure.cross(x, y, 5.0, SQUARE, "centre")
    figure.text(x0 + 1.0, y + 1.5, "line 90", 2.6)
    figure.text(x1 - 1.0, y + 1.5, "line 270", 2.6, "end")
    figure.text(1.5, y0 + 1.5, "TOP LINE of the main tube", LETTERS)
    corner = ", sharp corner" if lean < 90.0 else ", blunt corner" if lean > 90.0 else ""
    figure.text(1.5, y1 - LETTERS - 1.5, f"line 0{corner}", LETTERS, bold=True)
    line = f"Landing of {size(2 * r, units)} on {size(2 * big, units)} at {lean:g} deg, outside of the walls."
    how = (
        "Lay it on the main tube print outwards, its top line on the line that faces the branch; lines 0 to 270 lie as "
        "on the wrap. Scribe round."
    )
    return Template(
        name="landing",
        title=f"{end.name}: landing on the main tube",
        figure=figure,
        area=((x0, y0), (x1, y0), (x1, y1), (x0, y1)),
        lines=(line, how),
        outlines=(perimeter(loop),),
        start=(loop[0].x, loop[0].y),
        dxf=True,
    )


def _sizes(end: TubeEnd) -> tuple[float, float, float, float]:
    """Radius of branch and main tube [mm], angle [deg], offset [mm]."""
    return float(end.branch) / 2.0, float(end.main or 0.0) / 2.0, float(end.angle), float(end.offset)


def _with(template: Template, lines: tuple[str, ...]) -> Template:
    return replace(template, lines=(*lines, *template.lines))


def _wrap(end: TubeEnd, height: Height, depth: float, units: str) -> Template:
    """A strip whose lower edge is the cut, with quarter lines, a lap and a square line."""
    r = float(end.branch) / 2.0
    around, top = 2.0 * math.pi * r, depth + ABOVE
    chain = _chain(lambda t: (r * t, height(t)))
    loop: Loop = (*chain, Vertex(around, height(2.0 * math.pi)), Vertex(around, top), Vertex(0.0, top))
    figure = Figure()
    figure.loop(loop, EDGE, "outline")
    figure.polyline(
        ((around, height(0.0)), (around + LAP, height(0.0)), (around + LAP, top), (around, top)), False, FINE, "lap"
    )
    lap_words(figure, around + LAP / 2.0, height(0.0), top)
    for turn in QUARTERS:
        x = around * turn / 360.0
        figure.line(x, height(math.radians(turn)), x, top, CENTRE, "quarter")
        side: Anchor = "end" if turn == QUARTERS[-1] else "start"
        figure.text(x + (-1.2 if side == "end" else 1.2), top - 13.0, str(turn % 360), 4.0, side, bold=True)
    for k in range(DIVISIONS):
        x = around * k / DIVISIONS
        figure.line(x, top, x, top - (4.0 if k % 4 else 7.0), FINE, "division")
    square = depth + SQUARE_LINE
    figure.line(0.0, square, around, square, SQUARE, "square")
    quarter = around / 4.0
    for k, words in enumerate(("square line:", "must meet itself", "TO THE", "FAR END")):
        figure.fitted((k + 0.5) * quarter, square + (2.0 if k < 2 else 8.0), quarter - 2.5, words, 2.6, "middle")
    on_white(figure, 1.0 * quarter, square + 8.0, 2.0 * quarter - 2.5, end.name, 3.2, "middle", True)
    return Template(
        name="wrap",
        title=f"{end.name}: {end.cut}, wrap",
        figure=figure,
        area=((-2.0, 0.0), (around + LAP, 0.0), (around + LAP, top), (-2.0, top)),
        lines=(
            "Cut the paper along the thick line and wrap it print outwards; its seam is line 0.",
            f"Round the tube: {tape(around, units)}. Where the ends do not meet, measure the tube again.",
            f"Lines 0, 90, 180, 270 are quarters; ticks every {size(around / DIVISIONS, units)}, 1/32 of the round.",
        ),
        outlines=(perimeter(loop),),
        start=(loop[0].x, loop[0].y),
        dxf=True,
    )


def _chain(at: Callable[[float], tuple[float, float]]) -> Loop:
    """A curve once round the branch as tangent arcs, its last point left out.

    Tubes of one size make a corner at 90 and 270 deg, and one that just meets the side of the other as well:
    each quarter is a chain of its own.
    """
    found: list[Vertex] = []
    for k in range(4):
        first, last = k * math.pi / 2.0, (k + 1) * math.pi / 2.0

        def curve(
            t: float, first: float = first, last: float = last
        ) -> tuple[tuple[float, float], tuple[float, float]]:
            (ax, ay), (bx, by) = at(max(first, t - STEP)), at(min(last, t + STEP))
            return at(t), (bx - ax, by - ay)

        found += biarc_chain(curve, first, last, DEVIATION)
    return tuple(found)
