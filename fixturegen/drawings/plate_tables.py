"""Tables and notes of plates: holes and what is done at them, lengths from hole to hole, corners of the outline."""

from __future__ import annotations

import math
from collections import Counter
from itertools import pairwise

from fixturegen.drawings.numbering import corner_name
from fixturegen.drawings.record import Size
from fixturegen.drawings.sheets import Subject, Table, Words
from fixturegen.drawings.written import Writer
from fixturegen.drawings.zeros import SET, Zero
from fixturegen.plate.part import Part, Profile
from fixturegen.plate.profile import Edge, Hole, Operation, bounds, edges

AT = 1e-6  # [mm] a zero that differs by less is the same
SWUNG = 1000.0  # [mm] a larger radius is not swung with a trammel (common practice, no source)
PAIRS = 14  # lengths from hole to hole that are told
OPERATIONS = {Operation.CUT: "cut", Operation.UNDERCUT: "cut under, drill", Operation.PILOT: "pilot mark"}


def plate_tables(
    part: Part, subject: Subject, zero: Zero, writer: Writer
) -> tuple[list[Table | Words], tuple[Size, ...]]:
    """Tables and notes of a plate, and the sizes in them."""
    profile = part.profile
    if profile is None:
        raise ValueError(f"{part.name} has no profile")
    box = bounds(profile.outer)
    sizes = [
        Size("length", "overall along x", box[2] - box[0], writer.full(box[2] - box[0])),
        Size("length", "overall along y", box[3] - box[1], writer.full(box[3] - box[1])),
    ]
    if abs(zero.x) < AT and abs(zero.y) < AT:
        shift = f"The cut file and the solid count from the same zero: {part.datum}."
    else:
        shift = (
            f"The zero of the cut file and of the solid is {part.datum}: "
            f"x {writer.pair(-zero.x)}, y {writer.pair(-zero.y)} from the zero of this drawing."
        )
    holes, hole_sizes = _hole_table(profile, zero, writer)
    pairs, pair_sizes = _pair_table(profile, writer)
    outline, outline_sizes = _outline_table(profile, zero, writer)
    totals = Counter(f"{writer.fine(h.finished)}, {OPERATIONS[h.operation]}, {h.purpose.value}" for h in profile.holes)
    told = "; ".join(f"{n} off {words}" for words, n in totals.items())
    counted = (f"Holes of one part: {told}.",) if told else ()
    marks = ", ".join(m.text for m in part.marks if m.text)
    hand = () if part.hand is None else (f"This is the {'LEFT' if part.hand == 'L' else 'RIGHT'} hand part.",)
    marked = (f"Marked on the face that is up here: {marks}.",) if marks else ()
    places = (subject.places,) if subject.places else ()
    notes = Words("Notes", (shift, *places, *hand, *counted, *marked, *part.notes), name="notes")
    blocks: list[Table | Words] = [notes, holes, pairs, outline]
    return blocks, (*sizes, *hole_sizes, *pair_sizes, *outline_sizes)


def _hole_table(profile: Profile, zero: Zero, writer: Writer) -> tuple[Table, tuple[Size, ...]]:
    rows, sizes, under = [], [], []
    for n, h in enumerate(profile.holes, 1):
        x, y = writer.cells(h.x - zero.x), writer.cells(h.y - zero.y)
        finished_size = writer.fine(h.finished)
        rows.append((str(n), h.label, finished_size, *x, *y))
        under.append(_made(h, writer))
        sizes.append(Size("x", f"hole {n}", h.x - zero.x, " | ".join(x), (h.x, h.y), zero.x))
        sizes.append(Size("y", f"hole {n}", h.y - zero.y, " | ".join(y), (h.x, h.y), zero.y))
        sizes.append(Size("diameter", f"hole {n}", h.finished, finished_size, (h.x, h.y)))
    heads = ("no.", "hole", "finished", *writer.heads("X"), *writer.heads("Y"))
    places = (1.5, 3.4, 1.8) * 2 if writer.units == "in" else (2.0, 2.0) * 2
    shares = (0.9, 4.2, 3.3, *places)
    return Table("Holes, from the zero", heads, tuple(rows), shares, tuple(_told_once(under)), "holes"), tuple(sizes)


def _made(hole: Hole, writer: Writer) -> str:
    """What a hole is for, what the cutter does of it, and what is done then."""
    operation = OPERATIONS[hole.operation]
    cut = "" if hole.cut is None else f"{'' if operation == 'cut' else ', cut'} to {writer.fine(hole.cut)}"
    slot = f"slotted {writer.full(hole.slot)} longer, along {hole.slot_angle:g} deg" if hole.slot else ""
    # the words of the hole begin with what the cutter does, which is said already
    _, said, rest = hole.note.partition({"cut": "\n", "pilot mark": "only marked: "}.get(operation, " under, "))
    after = "; ".join(words for words in (rest if said else hole.note, slot) if words)
    told = f"for {hole.purpose.value}; at the cutter: {operation}{cut}"
    return f"{told}; then: {after}" if after else told


def _told_once(under: list[str]) -> list[str]:
    """Words under the rows: those of several rows stand under the last of them, with their numbers."""
    rows: dict[str, list[int]] = {}
    for n, words in enumerate(under, 1):
        rows.setdefault(words, []).append(n)
    told = [""] * len(under)
    for words, numbers in rows.items():
        alone = len(numbers) == 1
        told[numbers[-1] - 1] = words if alone else f"nos. {_ranges(numbers)}: {words}"
    return told


def _ranges(numbers: list[int]) -> str:
    """Numbers in words, those in turn as a range."""
    found: list[list[int]] = []
    for n in numbers:
        if found and n == found[-1][-1] + 1:
            found[-1].append(n)
        else:
            found.append([n])
    return ", ".join(f"{r[0]} to {r[-1]}" if len(r) > 2 else ", ".join(map(str, r)) for r in found)


def _pair_table(profile: Profile, writer: Writer) -> tuple[Table, tuple[Size, ...]]:
    """From hole to hole, where holes set an angle, a place or a joint."""
    set_holes = [(n, h) for n, h in enumerate(profile.holes, 1) if h.purpose in SET]
    pairs = [(set_holes[0], other) for other in set_holes[1:]] if set_holes else []
    pairs += list(pairwise(set_holes[1:]))
    rows, sizes = [], []
    for (n, a), (m, b) in pairs[:PAIRS]:
        apart = math.hypot(a.x - b.x, a.y - b.y)
        name = f"hole {n} to hole {m}"
        cells = writer.cells(apart)
        rows.append((name, f"{a.label} to {b.label}", *cells))
        sizes.append(Size("distance", name, apart, " | ".join(cells), (a.x, a.y, b.x, b.y)))
    shares = (2.9, 6.0, 1.8, 3.5, 1.8) if writer.units == "in" else (2.5, 6.0, 2.0, 2.0)
    heads = ("", "", *writer.heads("length"))
    return Table("From middle to middle", heads, tuple(rows), shares, name="lengths"), tuple(sizes)


def _outline_table(profile: Profile, zero: Zero, writer: Writer) -> tuple[Table, tuple[Size, ...]]:
    """Every corner of outline and openings in order, so that the plate can be laid out by hand."""
    rows, sizes = [], []
    for k, loop in enumerate((profile.outer, *profile.inner)):
        for n, e in enumerate(edges(loop), 1):
            name = corner_name(k, n)
            x, y = writer.cells(e.x0 - zero.x), writer.cells(e.y0 - zero.y)
            way = "line" if e.centre is None else _arc(e, out=(e.sweep_rad > 0.0) == (k == 0), writer=writer)
            rows.append((name, *x, *y, way))
            sizes.append(Size("x", f"corner {name}", e.x0 - zero.x, " | ".join(x), (e.x0, e.y0), zero.x))
            sizes.append(Size("y", f"corner {name}", e.y0 - zero.y, " | ".join(y), (e.x0, e.y0), zero.y))
    heads = ("point", *writer.heads("X"), *writer.heads("Y"), "to the next")
    places = (1.7, 3.4, 1.8) * 2 if writer.units == "in" else (2.0, 2.0) * 2
    title = "Outline, counter-clockwise from P1; openings clockwise"
    return Table(title, heads, tuple(rows), (1.2, *places, 4.4), name="outline"), tuple(sizes)


def _arc(edge: Edge, *, out: bool, writer: Writer) -> str:
    """Radius and which way an arc bulges; how far it leaves the straight line where no shop swings its radius."""
    words = f"R {writer.pair(edge.radius)} {'bulging out' if out else 'hollow'}"
    bow = edge.radius * (1.0 - math.cos(edge.sweep_rad / 2.0))
    return f"{words}, bow {writer.pair(bow)}" if edge.radius > SWUNG else words
