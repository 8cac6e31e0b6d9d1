"""What is marked on a blank for the brake, and the bent part put together.

Ticks stand at the edges on the middle line of each bend, never across it: a mark across the
stretched side is where a crack begins.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from fixturegen.plate.bending import Unfolded
from fixturegen.plate.lettering import text_box
from fixturegen.plate.part import Bend, Mark, Part

Point = tuple[float, float]

TICK = 8.0  # length of a tick at the edge [mm]
EDGE = 1.5  # from the edge of the part to its tick [mm]: kerf and slope of the cut take some of the edge
LETTERS = 6.0  # height of the words beside a bend line [mm]
FLAT = 1e-9  # [1] a direction that leans by less runs straight up
ARROW = 40.0  # length of the grain arrow [mm]
GRAIN = "GRAIN"

CLAIMS = ("BND-01", "BND-02", "BND-03", "BND-05")
OUTER_FIRST = "outer bends before inner ones: what is bent last must not stand where the beam comes down"
SHORT_PUNCH = "bends that run across earlier ones need a punch no longer than the room between the flanges that stand"
DOWN_SAYS = "DOWN: turn the plate over for the bend, after carrying the ticks round the edge with a square"
GRAIN_SAYS = "lay the part on the sheet with the arrow GRAIN along the way the plate was rolled"
TICKS_SAY = "ticks at the edges mark the middle of each bend: bring the tip of the punch down on them"


def ticks(bend: Bend, length: float = TICK) -> tuple[Mark, ...]:
    """Two short marks on the bend line, from its ends inward; the middle stays clear, where the steel stretches.

    Args:
        bend: The bend.
        length: Of a tick, at most a sixth of the line [mm].
    """
    long = math.hypot(bend.x1 - bend.x0, bend.y1 - bend.y0)
    near, far = EDGE / long, (EDGE + min(length, long / 6.0)) / long
    ux, uy = bend.x1 - bend.x0, bend.y1 - bend.y0
    return (
        Mark(bend.x0 + near * ux, bend.y0 + near * uy, to=(bend.x0 + far * ux, bend.y0 + far * uy)),
        Mark(bend.x1 - near * ux, bend.y1 - near * uy, to=(bend.x1 - far * ux, bend.y1 - far * uy)),
    )


def bend_words(number: int, bend: Bend) -> str:
    """What is lettered beside a bend line: its number in the order of bending, way and angle."""
    return f"{number} {'UP' if bend.up else 'DOWN'} {bend.angle:g}"


def lettered(number: int, bend: Bend, height: float = LETTERS) -> Mark | None:
    """The words beside the bend line, clear of what the bend takes up; None where the line is too short.

    Args:
        number: In the order of bending, 1 first.
        bend: The bend.
        height: Of the lettering [mm].
    """
    long = math.hypot(bend.x1 - bend.x0, bend.y1 - bend.y0)
    text = bend_words(number, bend)
    x0, y0, x1, y1 = text_box(text, height)
    if x1 - x0 > long - 4.0 * EDGE:
        return None
    ux, uy = (bend.x1 - bend.x0) / long, (bend.y1 - bend.y0) / long
    # on the side of the line's right hand, which is the bent side of `bent_strip` and `tray`
    off = bend.allowance / 2.0 + height / 2.0 + (y1 - y0) / 2.0
    x, y = (bend.x0 + bend.x1) / 2.0 + off * uy, (bend.y0 + bend.y1) / 2.0 - off * ux
    if ux < -FLAT or (abs(ux) <= FLAT and uy < 0.0):  # turned, so that it is not read upside down
        ux, uy = -ux, -uy
    middle = (x0 + x1) / 2.0, (y0 + y1) / 2.0
    start = x - middle[0] * ux + middle[1] * uy, y - middle[0] * uy - middle[1] * ux
    return Mark(*start, text, height, angle=math.degrees(math.atan2(uy, ux)))


def grain_arrow(x: float, y: float, angle: float, length: float = ARROW, height: float = LETTERS) -> tuple[Mark, ...]:
    """A double arrow the way the plate was rolled, and the word beside it.

    Args:
        x: Middle [mm].
        y: Middle [mm].
        angle: Way of the grain, from x [deg].
        length: Of the arrow [mm].
        height: Of the word [mm].
    """
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    half, barb = length / 2.0, min(length / 6.0, 5.0)

    def at(along: float, across: float) -> Point:
        return x + along * c - across * s, y + along * s + across * c

    marks = [Mark(*at(-half, 0.0), to=at(half, 0.0))]
    for end in (1.0, -1.0):
        marks += [Mark(*at(end * half, 0.0), to=at(end * (half - barb), k * barb / 2.0)) for k in (1.0, -1.0)]
    x0, _, x1, _ = text_box(GRAIN, height)
    marks.append(Mark(*at(-(x0 + x1) / 2.0, height / 2.0), GRAIN, height, angle=angle))
    return tuple(marks)


def grain_of(part: Part) -> float | None:
    """Way of the grain its arrow asks for, from x of the part frame [deg, 0 to 180); None without an arrow."""
    return next((m.angle % 180.0 for m in part.marks if m.text == GRAIN), None)


def bend_part(
    name: str,
    label: str,
    kind: str,
    flat: Unfolded,
    *,
    height: float = LETTERS,
    material: str = "a36",
    needs: tuple[str, ...] = (),
    datum: str = "corner of the flat at the end that stays put; marked face up before bending",
    notes: tuple[str, ...] = (),
) -> Part:
    """The bent part with ticks, words beside the bend lines, grain arrow and the order of bends in its notes.

    Args:
        name: Slug.
        label: What people call it.
        kind: Which maker made it.
        flat: Its blank.
        height: Of the lettering [mm].
        material: Id in the table of materials.
        needs: Codes of claims it needs beside those of bends.
        datum: What its origin is.
        notes: What the maker must know besides.
    """
    marks: list[Mark] = []
    for i, bend in enumerate(flat.bends, 1):
        marks += ticks(bend)
        word = lettered(i, bend, height)
        marks += [word] if word is not None else []
    marks += grain_arrow(*flat.arrow, flat.grain, height=height)
    return Part(
        name,
        label,
        kind,
        "bent",
        thickness=flat.thickness,
        material=material,
        profile=flat.profile,
        marks=tuple(marks),
        bends=flat.bends,
        needs=(*needs, *CLAIMS),
        datum=datum,
        notes=(*notes, TICKS_SAY, *order_words(flat.bends), *_turned_over(flat.bends), GRAIN_SAYS),
    )


def order_words(bends: Sequence[Bend]) -> tuple[str, ...]:
    """The order of bends as notes; nothing for a single bend."""
    if len(bends) < 2:
        return ()
    said = ", ".join(bend_words(i, b) for i, b in enumerate(bends, 1))
    level = all(abs(_cross(bends[0], b)) < FLAT for b in bends)
    return (f"bend in the order of the numbers: {said}", OUTER_FIRST if level else SHORT_PUNCH)


def _cross(a: Bend, b: Bend) -> float:
    """Sine of the angle between two bend lines [1]."""
    ax, ay, bx, by = a.x1 - a.x0, a.y1 - a.y0, b.x1 - b.x0, b.y1 - b.y0
    return (ax * by - ay * bx) / (math.hypot(ax, ay) * math.hypot(bx, by))


def _turned_over(bends: Sequence[Bend]) -> tuple[str, ...]:
    return () if all(b.up for b in bends) else (DOWN_SAYS,)
