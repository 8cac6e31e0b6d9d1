"""Whether a drawing says what the part is: each printed size against the solid, and on the paper as read back."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from fixturegen.drawings.record import Drawing, Size
from fixturegen.drawings.written import INCH, Units

if TYPE_CHECKING:
    from fixturegen.plate import Part
    from fixturegen.plate.part import Vector
    from fixturegen.shapes.folding import BendMeasure
    from fixturegen.shapes.kernel import Solid
    from fixturegen.shapes.measured_sizes import Measured

CODE = "DRW-01"
CLAIM = "every size printed on a drawing is that of the solid, to the last figure printed"
NEAR = 2e-3  # [mm] the kernel's own corners against the model's; far under the last figure printed
NOUGHT = 5e-3  # [mm] half the last figure printed: what is written as 0
LEFT_OUT = 5.1e-5  # [in] half the last figure of what a fraction leaves out

_NUMBER = re.compile(r"-?\d+\.\d+")
_FRACTION = re.compile(r"^(-?)(?:(\d+) )?(\d+)(?:/(\d+))?(?: in)?(?: \(([+-]\d+\.\d+))?")


def printed_faults(sizes: Iterable[Size], units: Units) -> list[str]:
    """Sizes whose figures are not those of their value, in words.

    Args:
        sizes: Of a drawing.
        units: Of the job.
    """
    return [f"{s.name}: {s.text} for {s.value:.4f} mm" for s in sizes if s.kind != "angle" and not _says(s, units)]


def _says(size: Size, units: Units) -> bool:
    if size.text == "0":
        return abs(size.value) < NOUGHT
    other: Units = "mm" if units == "in" else "in"
    if " | " in size.text:
        first, *middle, last = size.text.split(" | ")
        fractions = all(_fraction_says(text, size.value) for text in middle)
        return fractions and _near(first, size.value, units) and _near(last, size.value, other)
    head, _, tail = size.text.rpartition(" [")
    numbers = _NUMBER.findall(head.split("=")[-1].split(" to ")[0])
    bracket = _NUMBER.findall(tail if " to " not in size.text else size.text.split(" [")[1])
    if "=" in head and not _fraction_says(head.split("=")[0].strip(), size.value):
        return False
    return bool(numbers and bracket) and _near(numbers[0], size.value, units) and _near(bracket[0], size.value, other)


def _near(text: str, value: float, units: Units) -> bool:
    found = _NUMBER.search(text)
    if found is None:
        return False
    places = len(found[0].split(".")[1])
    unit = INCH if units == "in" else 1.0
    return abs(float(found[0]) - value / unit) <= 0.5001 * 10.0**-places


def _fraction_says(text: str, value: float) -> bool:
    """Whether a fraction with what it leaves out is the value, to the last place of what it leaves out."""
    found = _FRACTION.match(text)
    if found is None:
        return False
    sign, whole, top, below, rest = found.groups()
    number = float(whole or 0) + (float(top) / float(below) if below else float(top))
    total = (-number if sign else number) + float(rest or 0.0)
    return abs(total - value / INCH) <= LEFT_OUT


def flat_faults(sizes: Iterable[Size], solid: Measured) -> list[str]:
    """Sizes of a plate or a flat that the solid does not have, in words.

    Args:
        sizes: Of its drawing.
        solid: The plate as made, bends not made.
    """
    import numpy as np

    levels, middles = (solid.levels(0), solid.levels(1)), solid.middles
    spots = np.array([*solid.corners[:, :2].tolist(), *(list(m[:2]) for m, _ in middles)])
    faults = []
    for s in sizes:
        off = math.inf
        if s.name.startswith("bend"):
            continue  # told by the bent solid
        if s.kind in ("x", "y"):
            axis = 0 if s.kind == "x" else 1
            if len(s.at) == 2:
                nearest = spots[int(np.hypot(spots[:, 0] - s.at[0], spots[:, 1] - s.at[1]).argmin())]
                off = abs(float(nearest[axis]) - s.zero - s.value)
            else:
                off = float(np.abs(levels[axis] - s.zero - s.value).min())
        elif s.kind == "diameter":
            off = min((abs(d - s.value) for m, d in middles if math.dist(m[:2], s.at) < NEAR), default=off)
        elif s.kind == "distance":
            ends = [min((m for m, _ in middles), key=lambda m: math.dist(m[:2], at)) for at in (s.at[:2], s.at[2:])]
            off = abs(math.dist(ends[0][:2], ends[1][:2]) - s.value)
        elif s.kind == "thickness":
            off = abs(solid.box[5] - solid.box[2] - s.value)
        elif s.kind == "length" and "along" in s.name:
            axis = 0 if s.name.endswith("x") else 1
            off = abs(solid.box[axis + 3] - solid.box[axis] - s.value)
        else:
            continue
        if off > NEAR:
            faults.append(f"{s.name}: {s.text} is off by {off:.4f} mm")
    return faults


def folded_faults(sizes: Iterable[Size], solid: Measured, part: Part, bends: Sequence[BendMeasure]) -> list[str]:
    """Overall sizes, bends and bend lines that the bent solid does not have, in words.

    Args:
        sizes: Of its drawing.
        solid: The part, bent.
        part: The same as records.
        bends: As measured on the solid's surfaces.
    """
    spans = [solid.box[k + 3] - solid.box[k] for k in range(3)]
    wanted = {"front": 0, "right side": 1, "height of front": 2, "height of plan": 1}
    faults = []
    for s in sizes:
        _, comma, which = s.name.partition("over all, ")
        off = abs(spans[wanted[which]] - s.value) - 4.0 * NEAR if comma else 0.0
        if s.kind == "radius":
            off = min((abs(b.radius - s.value) for b in bends), default=math.inf)
        elif s.kind == "angle":
            off = min((abs(b.angle - s.value) for b in bends), default=math.inf)
        elif s.kind in ("x", "y") and s.name.startswith("bend"):
            off = _line_off(s, part, bends)
        elif s.kind == "length" and s.name.startswith("outside"):
            off = min((abs(size - s.value) for b in bends for size in b.outside), default=math.inf)
        if off > NEAR:
            faults.append(f"{s.name}: {s.text} is off by {off:.4f}")
    return faults


def _line_off(size: Size, part: Part, bends: Sequence[BendMeasure]) -> float:
    """How far a bend line is from where the solid bends [mm], as far as that can be told.

    Beside the face that stays put the axis of a bend stands over its tangent line, half the allowance from the
    line. A bend farther out is told by the outside sizes alone.
    """
    from fixturegen.plate.folds import folded

    n = int(size.name.split()[-1]) - 1
    if 0 not in folded(part).sides[n]:
        return 0.0
    axis, line, half = (0 if size.kind == "x" else 1), size.value + size.zero, part.bends[n].allowance / 2.0
    return min((abs(abs(b.middle[axis] - line) - half) for b in bends), default=math.inf)


def turned_faults(sizes: Iterable[Size], solid: Measured) -> list[str]:
    """Sizes of a turned part that the solid does not have, in words.

    Args:
        sizes: Of its drawing.
        solid: The part as made.
    """
    levels = [*solid.levels(2), *(f.begin for f in solid.rounds), *(f.end for f in solid.rounds)]
    faults = []
    sizes = tuple(sizes)
    longest = 0.0
    for s in sizes:
        if s.kind == "length" and len(s.at) == 2:
            longest = max(longest, (s.at[1] - s.at[0]) / 2.0 + NEAR)
    for s in sizes:
        if s.kind == "z":
            off = min(abs(level - s.value) for level in levels)
        elif s.kind == "diameter":
            z = s.at[0]
            around = [f for f in solid.rounds if f.begin - NEAR <= z <= f.end + NEAR]
            # a head all of whose round is milled away has its corners there
            rims = [2.0 * math.hypot(x, y) for x, y, at in solid.corners.tolist() if abs(at - z) <= longest]
            found = (*(f.diameter for f in around), *rims, *(b.diameter for b in solid.bores))
            off = min((abs(d - s.value) for d in found), default=math.inf)
        elif s.kind == "distance":
            away = (*solid.flats, *(math.hypot(*b.point[:2]) for b in solid.bores))
            off = min((abs(d - s.value) for d in away), default=math.inf)
        elif s.kind == "length":
            off = max(min(abs(level - z) for level in levels) for z in s.at)
            off = max(off, abs(s.at[1] - s.at[0] - s.value))
        else:
            continue
        if off > NEAR:
            faults.append(f"{s.name}: {s.text} is off by {off:.4f} mm")
    return faults


def bolt_faults(points: Iterable[tuple[str, Vector]], solids: Iterable[Solid]) -> list[str]:
    """Places an assembly drawing tells at which no hole of the solids as placed is, in words.

    Args:
        points: (name, (3,) [mm]) of each place, in the assembly's frame.
        solids: As placed.
    """
    from fixturegen.shapes.measured_sizes import lines_of

    bores = [b for solid in solids for b in lines_of(solid)]
    faults = []
    for name, point in points:
        off = min((b.off(point) for b in bores), default=math.inf)
        if off > NEAR:
            faults.append(f"{name}: no hole's line passes nearer than {off:.3f} mm")
    return faults


def unread(drawing: Drawing, content: bytes) -> list[str]:
    """Figures that another reader does not find on the paper, in words.

    Args:
        drawing: What was drawn.
        content: The PDF.
    """
    import pypdfium2

    document = pypdfium2.PdfDocument(content)
    found: set[str] = set()
    try:
        for page in document:
            words = page.get_textpage()
            found.update(_NUMBER.findall(words.get_text_range()))
            words.close()
            page.close()
    finally:
        document.close()
    pieces: dict[str, Any] = {p: s for s in drawing.sizes for p in _NUMBER.findall(s.text)}
    return [f"{s.name}: {p} is not on the paper" for p, s in sorted(pieces.items()) if p not in found]
