"""Marks of every plate part in one place: name, revision, hand, ways, tape check, station.

Makers leave only the marks that belong to a place of theirs; `completed` adds the rest where steel is
free, the most needed first, and says in the part's notes what found no room.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import astuple, dataclass, field, replace
from itertools import product
from typing import Any

from fixturegen import keeping
from fixturegen.plate.free_steel import Box, FreeSteel, Point, mark_box
from fixturegen.plate.lettering import text_box
from fixturegen.plate.part import Mark, Part, Placement, Vector
from fixturegen.plate.profile import bounds
from fixturegen.plate.tape import Span, overall, spans, tape_text
from fixturegen.sheet.specs import Process, Sheet

LIKED = 8.0  # height lettering has where there is room [mm]
ETCHED = 6.0  # a marking torch draws nothing smaller that can be read [mm] (common practice, no source)
DRAWN = 3.0  # the same for a scribe or a pen [mm] (common practice, no source)
PITCH = 1.6  # from line to line, over the height
PAIR_PITCH = 1.3  # the same of words that only say something together: nearer than any other word may stand
BESIDE = 0.5  # more room before and after lettering than above it, over the height: two words side by side read as one
ROOMS = (6.0, 3.0, 2.0)  # kept all round lettering, the first where it can be [mm]; the kerf and a bead take some
ARROW = 16.0  # length [mm]
HEAD = (5.0, 3.0)  # of an arrow: length and half width [mm]
TICK = 8.0  # length of the ticks of a tape check or a station [mm]
TICK_IN = 4.0  # from the edge to its tick [mm]
TICK_ROOM = 2.0  # kept round a tick [mm]
TAPE = "TAPE"
STATION = "STA"
LEFT_OUT = "no room to mark"
BY_HAND = "marks are put on by hand, from this picture: the mark layer of the cut file is not run"
PLANE = 0.9  # a way that lies this much in the plate's plane is shown on it [1]
WAYS: tuple[tuple[str, Vector], ...] = (("FWD", (1.0, 0.0, 0.0)), ("UP", (0.0, 0.0, 1.0)))


def letter_height(process: Process) -> float:
    """Least height of lettering [mm]: what the sheet says, and what its way of marking can draw."""
    return max(float(process.mark_height), ETCHED if process.marking == "plasma" else DRAWN)


def lie(process: Process) -> str:
    """How a plate lies on the table and which way its contours run, so that the square edge is the part's."""
    ways = ("clockwise", "counter-clockwise") if process.swirl == "clockwise" else ("counter-clockwise", "clockwise")
    return (
        f"cut with the marked face up; torch swirl {process.swirl}: outside {ways[0]}, openings {ways[1]}, "
        "so the square edge is on the part"
    )


@dataclass
class _Plate:
    """A part while its marks are put on."""

    part: Part
    height: float
    steel: FreeSteel
    near: Point
    last: Point = (0.0, 0.0)
    marks: list[Mark] = field(default_factory=list)
    missing: list[tuple[int, str]] = field(default_factory=list)

    def add(self, marks: Iterable[Mark]) -> None:
        for mark in marks:
            self.marks.append(mark)
            self.steel.take(mark)
            if mark.text:
                self.steel.take_box(_read_room(mark))

    def put(self, item: tuple[Mark, ...], near: Sequence[Point]) -> bool:
        """Puts marks drawn about any origin at the nearest free place; False without room."""
        boxes = [mark_box(m) for one in (item, _other_hand(item, self.part.hand)) for m in one]
        x0, y0 = min(b[0] for b in boxes), min(b[1] for b in boxes)
        x1, y1 = max(b[2] for b in boxes), max(b[3] for b in boxes)
        for room in ROOMS:
            at = self.steel.place(x1 - x0, y1 - y0, room, near, self.part.hand == "R")
            if at is not None:
                self.add(_moved(m, at[0] - x0, at[1] - y0) for m in item)
                self.last = (at[0] + (x1 - x0) / 2.0, at[1] + (y1 - y0) / 2.0)
                return True
        return False


def _other_hand(item: tuple[Mark, ...], hand: str | None) -> tuple[Mark, ...]:
    """The same marks as the part of the other hand has them: both take the same room, so both stand alike."""
    other = {"L": "R", "R": "L"}.get(hand or "")
    if other is None:
        return ()
    return tuple(replace(m, text=" ".join(other if w == hand else w for w in m.text.split(" "))) for m in item)


def _moved(mark: Mark, dx: float, dy: float) -> Mark:
    to = None if mark.to is None else (mark.to[0] + dx, mark.to[1] + dy)
    return replace(mark, x=mark.x + dx, y=mark.y + dy, to=to)


def _read_room(mark: Mark) -> Box:
    """The box of lettering, longer at both ends: what stands there would be read with it."""
    x0, y0, x1, y1 = mark_box(mark)
    a, more = math.radians(mark.angle), BESIDE * mark.height
    dx, dy = more * abs(math.cos(a)), more * abs(math.sin(a))
    return x0 - dx, y0 - dy, x1 + dx, y1 + dy


def _block(lines: Sequence[str], height: float, upright: bool = False, pitch: float = PITCH) -> tuple[Mark, ...]:
    """Lines of lettering below one another; upright they read from below."""
    flat = [Mark(-text_box(t, height)[0], -k * pitch * height, t, height) for k, t in enumerate(lines)]
    return tuple(replace(m, x=-m.y, y=m.x, angle=90.0) for m in flat) if upright else tuple(flat)


def _put_lines(plate: _Plate, variants: Sequence[Sequence[str]], near: Sequence[Point]) -> bool:
    """Writes one of the variants near a place: in one block, level before upright; else line by line."""
    for upright in (False, True):
        for lines in variants:
            if plate.put(_block(lines, plate.height, upright), near):
                return True
    return any(len(lines) > 1 and _put_apart(plate, lines, near) for lines in variants)


def _put_pair(plate: _Plate, word: str, figure: str, near: Sequence[Point]) -> bool:
    """Writes a word and its figure beside or right below one another; False rather than apart."""
    return any(
        plate.put(_block(lines, plate.height, upright, PAIR_PITCH), near)
        for upright in (False, True)
        for lines in ((f"{word} {figure}",), (word, figure))
    )


def _put_apart(plate: _Plate, lines: Sequence[str], near: Sequence[Point]) -> bool:
    """Writes lines one by one, each as near to the one before as it goes; all of them or none."""
    taken, marks = plate.steel.taken.copy(), list(plate.marks)
    for line in lines:
        if not any(plate.put(_block([line], plate.height, up), near) for up in (False, True)):
            plate.marks = marks
            plate.steel.back_to(taken)
            return False
        near = [plate.last]
    return True


def part_words(part: Part) -> tuple[str, ...]:
    """Words of the part's name as they are marked; a part with a hand says L or R.

    A coupon is named by its plate: the two figures its name ends with are a fraction.
    """
    name = re.sub(r"-(\d+)-(\d+)$", r"-\1/\2", part.name) if part.kind == "coupons" else part.name
    words = tuple(name.upper().split("-"))
    return words if part.hand is None or part.hand in words else (*words, part.hand)


def revision_words(sheet: Sheet) -> str:
    """What stands beside the name of every plate: "REV A"."""
    return f"REV {sheet.revision.id}"


def _splits(words: Sequence[str]) -> list[tuple[str, ...]]:
    """Words in one line, in two of about the same length, one a line."""
    n = len(words)
    lines: list[tuple[str, ...]] = [(" ".join(words),)]
    if n > 1:
        halves = [(" ".join(words[:k]), " ".join(words[k:])) for k in range(1, n)]
        lines.append(min(halves, key=lambda h: max(map(len, h))))
    if n > 2:
        lines.append(tuple(words))
    return lines


def _name(plate: _Plate, revision: str) -> None:
    """Name with revision in one block, or each for itself; what follows stands near to it."""
    names = _splits(part_words(plate.part))
    if any(plate.put(_block((*n, revision), plate.height, up), [plate.near]) for up in (False, True) for n in names):
        plate.near = plate.last
        return
    if not _put_lines(plate, names, [plate.near]):
        plate.missing.append((0, " ".join(part_words(plate.part))))
    else:
        plate.near = plate.last
    lines = ((revision,), revision.split(" "))
    if not any(plate.put(_block(n, plate.height, up), [plate.near]) for n in lines for up in (False, True)):
        plate.missing.append((1, revision))


def ways_of(placements: Iterable[Placement]) -> tuple[tuple[str, Point], ...]:
    """FWD and UP as unit directions on the marked face, where all places of a part agree on them.

    Args:
        placements: Where the part stands in T.
    """
    found = []
    turns = {p.rotation for p in placements}
    for word, way in WAYS:
        on_plate = {
            (round(sum(r[i][0] * way[i] for i in range(3)), 6), round(sum(r[i][1] * way[i] for i in range(3)), 6))
            for r in turns
        }
        if len(on_plate) == 1:
            ((x, y),) = on_plate
            long = math.hypot(x, y)
            if long >= PLANE:
                found.append((word, (x / long + 0.0, y / long + 0.0)))
    return tuple(found)


def _arrow(word: str, way: Point, height: float) -> tuple[Mark, ...]:
    """An arrow with its word to the right of it."""
    (ux, uy), half = way, ARROW / 2.0
    tip, wide = (half * ux, half * uy), HEAD[1]
    back = (tip[0] - HEAD[0] * ux, tip[1] - HEAD[0] * uy)
    start = half * abs(ux) + wide * abs(uy) + 3.0
    return (
        Mark(-tip[0], -tip[1], to=tip),
        Mark(*tip, to=(back[0] - wide * uy, back[1] + wide * ux)),
        Mark(*tip, to=(back[0] + wide * uy, back[1] - wide * ux)),
        Mark(start - text_box(word, height)[0], -height / 2.0, word, height),
    )


def _free(plate: _Plate, tick: Mark) -> bool:
    return tick.to is not None and plate.steel.is_free(tick.x, tick.y, *tick.to, TICK_ROOM)


def _ticks(span: Span) -> tuple[Mark, Mark]:
    """Ticks along a span, each a little in from its edge."""
    (a, b), (c, d) = span.inside(TICK_IN), span.inside(TICK_IN + TICK)
    return Mark(*a, to=c), Mark(*b, to=d)


def _tape(plate: _Plate, units: str) -> None:
    """The longest span whose ticks and number find room."""
    if plate.part.profile is None:
        return
    found = spans(plate.part.profile.outer)
    for span in found:
        ticks = _ticks(span)
        if span.length < 2.0 * (TICK_IN + TICK) or not all(_free(plate, t) for t in ticks):
            continue
        kept = plate.steel.taken.copy()
        for tick in ticks:
            plate.steel.take(tick)
        near = [t.to or (t.x, t.y) for t in ticks]
        if _put_pair(plate, TAPE, tape_text(span.length, units), near):
            plate.marks += ticks
            return
        plate.steel.back_to(kept)
    x0, y0, x1, y1 = bounds(plate.part.profile.outer)
    overall_words = f"{TAPE} {tape_text(max(x1 - x0, y1 - y0), units)} over all"
    plate.missing.append((2, f"{TAPE} {tape_text(found[0].length, units)}" if found else overall_words))


def station_line(placements: Sequence[Placement]) -> tuple[Point, Point] | None:
    """Two points of the line across a plate that stands at its station; None for a plate across the axle.

    Args:
        placements: Where the part stands in T.
    """
    turns = {p.rotation for p in placements}
    if len(turns) != 1:
        return None
    (r,) = turns
    x, y = r[1][0], r[1][1]  # T's Y as the part sees it
    return ((0.0, 0.0), (-y, x)) if math.hypot(x, y) >= PLANE else None


def _station_ticks(plate: _Plate, placements: Sequence[Placement]) -> list[Mark]:
    """Puts ticks at the edges on the station of the part's origin."""
    line = station_line(placements)
    if line is None or plate.part.profile is None:
        return []
    span = overall(plate.part.profile.outer, *line)
    if span is None or span.length < 2.0 * (TICK_IN + TICK):
        return []
    ticks = [t for t in _ticks(span) if _free(plate, t)]
    plate.add(ticks)
    return ticks


def _station(plate: _Plate, ticks: Sequence[Mark], placements: Sequence[Placement], units: str) -> None:
    """Says which station the ticks stand at, where all places of the part share one."""
    stations = {round(p.origin[1], 6) for p in placements}
    if not ticks or len(stations) != 1:
        return
    (y,) = stations
    side = "" if abs(y) < 1e-6 else " L" if y > 0.0 else " R"
    figure = f"{tape_text(abs(y), units)}{side}"
    if not _put_pair(plate, STATION, figure, [t.to or (t.x, t.y) for t in ticks]):
        plate.missing.append((4, f"{STATION} {figure}"))


def words_on(part: Part, lines: Sequence[str], least: float, near: Point) -> tuple[Mark, ...]:
    """Lines of words near a point of a part where steel is free; none without room.

    Args:
        part: The part with the marks it has.
        lines: What to write.
        least: Least height of the letters [mm].
        near: Where they belong [mm].
    """
    for height in _heights(least):
        plate = _Plate(part, height, FreeSteel(part), near)
        if plate.put(_block(lines, height), [near]):
            return tuple(plate.marks)
    return ()


def _heights(least: float) -> tuple[float, ...]:
    return (LIKED, least) if least < LIKED else (least,)


def completed(part: Part, sheet: Sheet, placements: Sequence[Placement] = ()) -> Part:
    """The part with all its marks, and in its notes what found no room; others than plates as they are.

    Args:
        part: A part as its maker leaves it.
        sheet: The build sheet: revision, units and process.
        placements: Where the part stands in T; without them it carries no ways and no station.
    """
    if part.profile is None:
        return part
    told = part, sheet.process, revision_words(sheet), sheet.job.units, tuple(placements)
    best = keeping.kept_json("marks", keeping.key_of(told), lambda: _best(part, sheet, placements))
    marks = (
        Mark(x, y, text, height, None if to is None else (to[0], to[1]), angle)
        for x, y, text, height, to, angle in best["marks"]
    )
    notes = [*part.notes, lie(sheet.process)]
    if best["missing"]:
        notes.append(f"{LEFT_OUT} {', '.join(best['missing'])}; write it on by hand")
    if sheet.process.marking == "hand":
        notes.append(BY_HAND)
    return replace(part, marks=(*part.marks, *marks), notes=tuple(notes))


def _best(part: Part, sheet: Sheet, placements: Sequence[Placement]) -> dict[str, list[Any]]:
    """Marks of a plate as rows of their fields, and what found no room; all tries made, the best kept."""
    x0, y0, x1, y1 = bounds(part.profile.outer) if part.profile else (0.0,) * 4
    # a small plate holds more when its name stands in a corner; of a mirrored plate in the mirrored one
    places = ((x0 + x1) / 2.0, (y0 + y1) / 2.0), (x1 if part.hand == "R" else x0, y1)
    steel = FreeSteel(part)
    for mark in part.marks:
        if mark.text:
            steel.take_box(_read_room(mark))
    empty, tries = steel.taken.copy(), []
    for height, near in product(_heights(letter_height(sheet.process)), places):
        steel.back_to(empty)
        tries.append(_marked(sheet, placements, _Plate(part, height, steel, near)))
        if not tries[-1].missing:
            break
    best = min(tries, key=_lack)
    return {"marks": [list(astuple(m)) for m in best.marks], "missing": [text for _, text in best.missing]}


def _lack(plate: _Plate) -> tuple[int, ...]:
    """How much is missing, the most needed first."""
    return tuple(sum(rank == k for rank, _ in plate.missing) for k in range(5))


def _marked(sheet: Sheet, placements: Sequence[Placement], plate: _Plate) -> _Plate:
    """All marks of a plate, the most needed first."""
    _name(plate, revision_words(sheet))
    ticks = _station_ticks(plate, placements)
    _tape(plate, sheet.job.units)
    for word, way in ways_of(placements):
        if not plate.put(_arrow(word, way, plate.height), [plate.near]):
            plate.missing.append((3, word))
    _station(plate, ticks, placements, sheet.job.units)
    return plate
