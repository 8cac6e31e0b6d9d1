"""Drawings of turned parts: half section along the axis, end view, diameters and places along the axis."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any

from fixturegen.drawings.boards import NORMAL, SMALL, Board, Frame, words_width
from fixturegen.drawings.ordinates import Ordinate, band_of, draw_along, spread
from fixturegen.drawings.record import Drawing, Page, Size, View
from fixturegen.drawings.scales import SCALES
from fixturegen.drawings.sections import OFF, Axis, axis_of, draw_section, end_view, length_of, outside, widest_of
from fixturegen.drawings.sheets import Subject, Table, Words, board_for, field_of, finished, flowed, set_alone
from fixturegen.drawings.written import Writer, scale_words
from fixturegen.plate.part import Part, Turned

TALLEST = 78.0  # [mm] of paper for the largest diameter
THINNEST = 12.0  # [mm] of paper: a bar drawn thinner is broken instead
LABELS = 78.0  # [mm] over the view for diameters and what is said of them
WORDS = 40.0  # [mm] of it at most for words, which the table repeats
TITLE = 12.0  # [mm] at the top of the page
LEAD = 12.0  # [mm] from the view to the figures over it
APART = 2.0  # [mm] between the figures under the view and the notes
SMALLER = 2.1  # a view may be drawn that much smaller when all of the part then stands on one page
ROW = 7.6  # [mm] from one diameter to the next: figures, and words under them
CAPTION = 24.0  # [mm] for the words under the end view
SIDE = 8.0  # [mm] free at both ends of the view


def turned_drawing(part: Part, subject: Subject) -> Drawing:
    """The drawing of a lathe part: half section with its sizes, then the same as a table with notes.

    Args:
        part: A turned part.
        subject: What is said of it.

    Raises:
        ValueError: When the part is not turned.
    """
    if part.turned is None:
        raise ValueError(f"{part.name} is not turned")
    writer = Writer(subject.units)
    table, more = _table(part.turned, writer)
    length = writer.full(length_of(part.turned))
    notes = Words("Notes", (f"Length over all {length}; stock {writer.full(widest_of(part.turned))}.", *part.notes))
    high = None
    for tight in (False, True):
        below = set_alone([notes, table], subject.paper, tight=tight)
        high = None if below is None else _room_over(part.turned, subject, writer, below[1])
        if high is not None:
            break
    first, sizes = _section_page(part.turned, subject, writer, high)
    if below is not None and high is not None:
        board = Board(first.width, first.height)
        board.figure.items = list(first.items)
        board.figure.place(below[0], 0.0, field_of(board).y0 + below[1])
        pages = [replace(first, items=tuple(board.figure.items), heading="half section, sizes and notes")]
    else:
        pages = [first, *flowed([notes, table], subject.paper, wide=False, heading="sizes and notes")]
    return Drawing(part.name, part.label, finished(pages, subject), (*sizes, *more))


def _room_over(turned: Turned, subject: Subject, writer: Writer, below: float) -> float | None:
    """Height for the largest diameter [mm] where sizes and notes go under the view; none where it gets too small.

    Args:
        turned: The shape.
        subject: Carries the paper.
        writer: Writes the figures.
        below: Height of sizes and notes [mm].
    """
    field, wide = field_of(board_for(subject.paper, wide=False)), widest_of(turned)
    over = _height_of_labels(turned, writer)
    places = band_of(_places(turned), writer, 0.0)
    high = field.height - TITLE - over - LEAD - places - below - APART
    if high < THINNEST:
        return None
    ends = _from_end(turned)
    shared, _ = _scale(field, wide, length_of(turned), ends=ends, tallest=min(high, TALLEST))
    alone, _ = _scale(field, wide, length_of(turned), ends=ends, tallest=TALLEST)
    return high if shared * wide <= high and alone <= SMALLER * shared else None


def _from_end(turned: Turned) -> bool:
    """Whether it has to be seen from its end as well."""
    return bool(turned.flats or turned.cross_holes or turned.axial_holes or turned.saw_cut)


def _section_page(
    turned: Turned, subject: Subject, writer: Writer, high: float | None
) -> tuple[Page, tuple[Size, ...]]:
    """The page with the half section, its sizes as high up as can be where `high` [mm] is left for it."""
    board = board_for(subject.paper, wide=False)
    field = field_of(board)
    wide, length = widest_of(turned), length_of(turned)
    ends, places = _from_end(turned), band_of(_places(turned), writer, 0.0)
    scale, room = _scale(field, wide, length, ends=ends, tallest=TALLEST if high is None else min(high, TALLEST))
    if high is None:
        middle = field.y0 + places + 3.0 + scale * wide / 2.0 + max(0.0, (TALLEST - scale * wide) / 3.0)
    else:
        middle = field.y1 - TITLE - _height_of_labels(turned, writer) - LEAD - scale * wide / 2.0
    begin = field.x0 + SIDE + max(0.0, room - scale * length) / 2.0
    axis = axis_of(turned, scale, begin, room)
    view = View("half section", scale, axis.knots[0][1], middle, not axis.broken)
    board.views.append(view)
    draw_section(board, turned, axis, middle, scale)
    sizes = _diameters(board, turned, axis, middle, scale, writer)
    foot = middle - scale * wide / 2.0 - 1.0
    band = Frame(field.x0 + 1.0, foot - places, field.x0 + 2.0 * SIDE + room, foot)
    sizes += draw_along(board, [(axis.at(o.value), o) for o in _places(turned)], band, middle, writer)
    if ends:
        end_view(board, turned, (field.x1 - 4.0 - max(scale * wide, CAPTION) / 2.0, middle), scale)
    words = (
        "broken: lengths along the axis are not to scale" if axis.broken else "upper half cut open, lower half as seen"
    )
    board.text(field.x0 + 2.0, field.y1 - 3.0, f"HALF SECTION, {words}", NORMAL, bold=True)
    told = f"length {writer.full(length)}, largest diameter {writer.full(wide)}"
    board.figure.fitted(field.x0 + 2.0, field.y1 - 7.5, field.width - 4.0, told, NORMAL)
    name = scale_words(scale) + (", broken" if axis.broken else "")
    return board.page("half section", name), sizes


def _scale(field: Frame, wide: float, length: float, *, ends: bool, tallest: float) -> tuple[float, float]:
    """Largest standard scale in which the view fits, and the room along the axis [mm]."""

    def room(scale: float) -> float:
        return field.width - 2.0 * SIDE - (max(scale * wide, CAPTION) + 8.0 if ends else 0.0)

    high = [s for s in SCALES if s * wide <= tallest and room(s) > 0.5 * field.width]
    fits = next((s for s in high if s * length <= room(s)), None)
    if fits is not None and fits * wide >= THINNEST:
        return fits, room(fits)
    # a long thin bar: its diameter decides, and plain lengths are broken out
    scale = next((s for s in high if s * wide <= 3.0 * THINNEST), SCALES[-1])
    return scale, room(scale)


def _height_of_labels(turned: Turned, writer: Writer) -> float:
    """Room over the view for what is written there [mm]; long words may give way, they stand in the table too."""
    labels = _labels(turned, writer)
    figures = max(min(words_width(one[2], NORMAL), LABELS) for one in labels)
    return max(figures, *(min(words_width(one[3], SMALL), WORDS) for one in labels)) + 1.0


def _labels(turned: Turned, writer: Writer) -> list[tuple[float, float, str, str, str, float]]:
    """(place along the axis, radius, figures, words, name, diameter) of all that has a diameter."""
    found = []
    for n, (s, (a, b, d, e)) in enumerate(zip(turned.steps, outside(turned), strict=True), 1):
        figures = f"\N{LATIN CAPITAL LETTER O WITH STROKE}{writer.fine(d)}"
        if s.tolerance is not None:
            figures += f" {writer.limits(s.tolerance)}"
        found.append(((a + b) / 2.0, (d + e) / 4.0, figures, _beside(d, e, s.note, writer), f"step {n}", d))
    for n, (a, b, d, far, note) in enumerate(turned.bores, 1):
        e = d if far is None else far
        figures = f"bore \N{LATIN CAPITAL LETTER O WITH STROKE}{writer.fine(d)}"
        found.append(((a + b) / 2.0, (d + e) / 4.0, figures, _beside(d, e, note, writer), f"bore {n}", d))
    return found


def _beside(d: float, e: float, note: str, writer: Writer) -> str:
    """What stands beside a diameter: the one it tapers to, and what is said of it."""
    far = [] if abs(e - d) <= OFF else [f"to {writer.fine(e)}"]
    return ", ".join([*far, *([note] if note else [])])


def _diameters(
    board: Board, turned: Turned, axis: Axis, middle: float, scale: float, writer: Writer
) -> tuple[Size, ...]:
    """Diameters over the view, each led to its surface in the half that is cut open."""
    labels = sorted(_labels(turned, writer), key=lambda one: (one[0], one[1]))
    field = field_of(board)
    top = middle + scale * widest_of(turned) / 2.0
    foot, jog = top + 2.0, top + 9.0
    wanted = [axis.at(one[0]) for one in labels]
    # leaders of a bore and of the step over it start a little apart
    for i in range(1, len(wanted)):
        wanted[i] = max(wanted[i], wanted[i - 1] + 0.8)
    pitch = min(ROW, (field.width - 2.0) / max(1, len(labels)))
    spots = spread(wanted, pitch, field.x0 + 3.5, field.x1 - 3.5)
    sizes = []
    for (z, radius, figures, words, name, d), at, spot in zip(labels, wanted, spots, strict=True):
        start = middle + scale * radius
        board.path([(at, start), (at, foot), (spot, jog), (spot, jog + 1.5)])
        board.circle((at, start), 0.35, "frame")
        board.text(
            spot + 1.2, jog + 2.5, figures, NORMAL if words_width(figures, NORMAL) < LABELS else SMALL, "start", 90.0
        )
        room = field.y1 - 12.0 - jog - 2.5
        if words and pitch >= 6.0:
            size = SMALL * min(1.0, room / max(words_width(words, SMALL), 1e-9))
            if size >= 0.8 * SMALL:
                board.text(spot + 4.4, jog + 2.5, words, size, "start", 90.0)
            else:
                # where it tapers to is kept
                far, comma, _ = words.partition(", ") if words.startswith("to ") else ("", "", "")
                board.text(spot + 4.4, jog + 2.5, f"{far}{comma}see table", SMALL, "start", 90.0)
        sizes.append(Size("diameter", name, d, figures, (z,)))
    return tuple(sizes)


def _places(turned: Turned) -> list[Ordinate]:
    """Places along the axis: steps, bores, holes across and flats."""
    found = [Ordinate(0.0, 0.0, "face", 0)]
    for n, (_, b, d, e) in enumerate(outside(turned), 1):
        found.append(Ordinate(b, -min(d, e) / 2.0, f"end of step {n}", 0))
    for n, (a, b, d, _, _) in enumerate(turned.bores, 1):
        found += [Ordinate(a, d / 2.0, f"begin of bore {n}", 1), Ordinate(b, d / 2.0, f"end of bore {n}", 1)]
    found += [Ordinate(z, 0.0, "middle of hole across", 1) for z, _, _, _ in turned.cross_holes]
    for a, b, distance, _ in turned.flats:
        found += [Ordinate(a, -distance, "begin of flat", 2), Ordinate(b, -distance, "end of flat", 2)]
    return found


def _table(turned: Turned, writer: Writer) -> tuple[Table, tuple[Size, ...]]:
    """Everything to turn, bore, drill and mill, one row each."""
    rows: list[tuple[str, ...]] = []
    sizes: list[Size] = []
    for n, (s, (a, b, d, e)) in enumerate(zip(turned.steps, outside(turned), strict=True), 1):
        limits = writer.limits(s.tolerance) if s.tolerance is not None else ""
        rows.append((f"step {n}", *_span(a, b, writer), _tapered(d, e, writer), limits, s.note))
        sizes += _sized(f"step {n}", a, b, d, rows[-1], writer)
    for n, (a, b, d, far, note) in enumerate(turned.bores, 1):
        rows.append((f"bore {n}", *_span(a, b, writer), _tapered(d, d if far is None else far, writer), "", note))
        sizes += _sized(f"bore {n}", a, b, d, rows[-1], writer)
    for (z, d, note), ways in _grouped((h[0], h[1], h[3], h[2]) for h in turned.cross_holes):
        rows.append(("hole across", writer.pair(z), "", writer.fine(d), f"at {ways}", note))
        sizes.append(Size("z", "hole across", z, rows[-1][1], (z,)))
        sizes.append(Size("diameter", "hole across", d, rows[-1][3], (z,)))
    along = (
        (round(math.hypot(x, y), 6), d, note, math.degrees(math.atan2(y, x))) for x, y, d, note in turned.axial_holes
    )
    for (r, d, note), ways in _grouped(along):
        rows.append(("hole along", "", f"{writer.pair(r)} off the axis", writer.fine(d), f"at {ways}", note))
        sizes.append(Size("distance", "hole along", r, writer.pair(r)))
        sizes.append(Size("diameter", "hole along", d, rows[-1][3], (0.0,)))
    for (low, high, off), ways in _grouped(turned.flats):
        many = "flat" if "," not in ways else "flats"
        rows.append((many, *_span(low, high, writer), f"{writer.fine(off)} from the axis", f"at {ways}", "mill"))
        sizes.append(Size("distance", "flat", off, writer.fine(off)))
    if turned.saw_cut:
        rows.append(
            (
                "saw cut",
                "",
                "",
                f"{writer.fine(turned.saw_cut)} wide",
                "at 0\N{DEGREE SIGN}",
                "one slot through the wall, last of all",
            )
        )
    heads = ("", "from zero", "long", "diameter", "limits, angle", "note")
    return Table("To turn, bore, drill and mill", heads, tuple(rows), (1.6, 2.7, 5.6, 3.9, 3.0, 4.4)), tuple(sizes)


def _grouped(rows: Iterable[tuple[Any, ...]]) -> list[tuple[tuple[Any, ...], str]]:
    """Rows that differ in their last place alone, a direction [deg], as one, with their directions in words."""
    found: dict[tuple[Any, ...], list[float]] = {}
    for *same, way in rows:
        found.setdefault(tuple(same), []).append(way)
    return [(same, ", ".join(f"{way:g}" for way in ways) + "\N{DEGREE SIGN}") for same, ways in found.items()]


def _span(a: float, b: float, writer: Writer) -> tuple[str, str]:
    return writer.pair(a), writer.short(b - a)


def _tapered(d: float, e: float, writer: Writer) -> str:
    return writer.fine(d) if abs(e - d) <= OFF else f"{writer.fine(d)} to {writer.fine(e)}"


def _sized(name: str, a: float, b: float, d: float, row: Sequence[str], writer: Writer) -> list[Size]:
    return [
        Size("z", f"begin of {name}", a, row[1], (a,)),
        Size("length", name, b - a, row[2], (a, b)),
        Size("diameter", name, d, row[3], ((a + b) / 2.0,)),
    ]
