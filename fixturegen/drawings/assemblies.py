"""Drawings of assemblies: plan, elevation and end, what is behind left out, item numbers, lists and order."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fixturegen.drawings.balloons import anchor_of, draw_balloons, length_of
from fixturegen.drawings.boards import NORMAL, PENS, SMALL, Board, Frame, words_width
from fixturegen.drawings.ordinates import Ordinate, band_of, draw_ordinates, spread
from fixturegen.drawings.projected import Looking, joined
from fixturegen.drawings.record import Page, Size, View
from fixturegen.drawings.scales import SCALES
from fixturegen.drawings.sheets import Subject, Table, Words, board_for, field_of
from fixturegen.drawings.written import Writer, scale_words
from fixturegen.pages.figure import Anchor
from fixturegen.plate import Assembly, Part
from fixturegen.plate.profile import Vertex
from fixturegen.shapes.hidden_lines import Chain, seen_parts
from fixturegen.shapes.primitives import compound

TITLE = {True: 10.0, False: 14.0}  # [mm] for the title of a view, one line of words on a lying page, two on an upright
PLUS = "forward, left and up count plus, as in the tables"
ROW = 8.5  # [mm] for a row of balloons
SIGN = 6.0  # [mm] length of the arrows that tell directions
SIGNS = 32.0  # [mm] width of both arrows with their words
RIM = 6.0  # [mm] to the right of a view
LABEL = 6.0  # [mm] from one clock angle's words to the next
ASIDE = 14.0  # [mm] from a view to the words of its clock angles


def lookings(*, front: bool) -> tuple[Looking, Looking, Looking]:
    """Plan, elevation and end: a front axle seen from the front, a rear one from behind, both from the left.

    Args:
        front: Whether it is a front axle.
    """
    way = 1.0 if front else -1.0
    plan = Looking("plan", (0.0, 0.0, 1.0), (0.0, way, 0.0))
    elevation = Looking("front" if front else "rear", (way, 0.0, 0.0), (0.0, way, 0.0))
    return plan, elevation, Looking("end, from the vehicle's left", (0.0, 1.0, 0.0), (-1.0, 0.0, 0.0))


@dataclass(frozen=True, eq=False)
class Scene:
    """What stands in an assembly drawing.

    Attributes:
        solids: (part name, solid where it stands) of what is made.
        ghosts: Solids of the axle, drawn pale.
    """

    solids: tuple[tuple[str, Any], ...]
    ghosts: tuple[Any, ...]


@dataclass(frozen=True)
class Marks:
    """What is dimensioned in a view, in its plane [mm].

    Attributes:
        across: Along the view's x, with what they are.
        upward: Along the view's y.
        zero: (x, y) counted from.
        ways: (along x, along y): -1 where the view's axis runs rearward, right or down.
        frames: (x0, y0, x1, y1) of outlines drawn under it.
        dots: (x, y, diameter) of grid holes.
        used: (x, y, diameter, word) of grid holes the assembly uses.
        centre: Places along x of centre lines.
        clocks: (x, y, words) of places seen from the zero under an angle, told to the right of the view.
        words: What is counted from, in words.
    """

    across: tuple[Ordinate, ...] = ()
    upward: tuple[Ordinate, ...] = ()
    zero: tuple[float, float] = (0.0, 0.0)
    ways: tuple[float, float] = (1.0, 1.0)
    frames: tuple[tuple[float, float, float, float], ...] = ()
    dots: tuple[tuple[float, float, float], ...] = ()
    used: tuple[tuple[float, float, float, str], ...] = ()
    centre: tuple[float, ...] = ()
    clocks: tuple[tuple[float, float, str], ...] = ()
    words: str = ""


@dataclass(frozen=True, eq=False)
class Seen:
    """What is seen from one side: lines by part name, and those of the axle, in the view's plane [mm]."""

    looking: Looking
    parts: Mapping[str, Sequence[Chain]]
    ghosts: Sequence[Chain]


def seen_from(scene: Scene, looks: Sequence[Looking]) -> tuple[Seen, ...]:
    """What is seen from each side, parts and axle in each other's way.

    Args:
        scene: What is drawn.
        looks: From where.
    """
    by_name: dict[str, list[Any]] = {}
    for name, solid in scene.solids:
        by_name.setdefault(name, []).append(solid)
    # one shape a name: asking for the lines of each takes as long as drawing them all
    shapes = [compound(solids) for solids in by_name.values()] + ([compound(scene.ghosts)] if scene.ghosts else [])
    found = []
    for looking in looks:
        chains = seen_parts(shapes, looking.eye, looking.right)
        found.append(Seen(looking, dict(zip(by_name, chains, strict=False)), chains[-1] if scene.ghosts else ()))
    return tuple(found)


def best_views(views: Sequence[Seen]) -> dict[str, str]:
    """Part name to the view in which most of it is seen; parts that are never seen are left out.

    Args:
        views: What is seen from each side.
    """
    best: dict[str, tuple[float, str]] = {}
    for view in views:
        for name, lines in view.parts.items():
            long = length_of(lines)
            if long > best.get(name, (1.0, ""))[0]:
                best[name] = (long, view.looking.name)
    return {name: view for name, (_, view) in best.items()}


def view_page(
    seen: Seen, items: Mapping[str, int], named: Mapping[str, str], marks: Marks, subject: Subject
) -> tuple[Page, tuple[Size, ...]]:
    """A page with one view, its balloons and its ordinates.

    Args:
        seen: What is seen from this side.
        items: Part name to item number.
        named: Part name to the view that names it.
        marks: What is dimensioned.
        subject: Carries paper and units.
    """
    parts, ghosts, looking = seen.parts, seen.ghosts, seen.looking
    writer = Writer(subject.units)
    points = [p for lines in (*parts.values(), ghosts) for chain in lines for p in chain]
    points += [p for f in marks.frames for p in (f[:2], f[2:])]
    points += [(x, points[0][1]) for x in marks.centre]
    box = min(p[0] for p in points), min(p[1] for p in points), max(p[0] for p in points), max(p[1] for p in points)
    left = band_of(marks.upward, writer, marks.zero[1], marks.ways[1])
    low = band_of(marks.across, writer, marks.zero[0], marks.ways[0])
    right = RIM + max((ASIDE + words_width(words, NORMAL) for _, _, words in marks.clocks), default=0.0)
    board, room, scale = _laid(subject, box, (left, low, right))
    field_ = field_of(board, slim=True)
    x = room.x0 + (room.width - scale * (box[2] - box[0])) / 2.0 - scale * box[0]
    y = room.y0 + (room.height - scale * (box[3] - box[1])) / 2.0 - scale * box[1]
    view = View(looking.name, scale, x, y)
    board.views.append(view)
    (x0, y0), (_, y1) = view.at(*box[:2]), view.at(*box[2:])
    _under(board, view, marks, (y0 - ROW, y1 + 2.0))
    for chain in joined(ghosts):
        board.figure.trace([Vertex(*view.at(*p)) for p in chain], False, PENS["pale"])
    for lines in parts.values():
        for chain in joined(lines):
            board.figure.trace([Vertex(*view.at(*p)) for p in chain], False, PENS["frame"])
    sizes: tuple[Size, ...] = ()
    if marks.across:
        band = Frame(field_.x0 + 2.0, y0 - ROW - low, field_.x1 - 2.0, y0 - ROW)
        sizes += draw_ordinates(board, view, "bottom", band, marks.across, writer, marks.zero[0], marks.ways[0])[0]
    if marks.upward:
        band = Frame(x0 - left, max(field_.y0, y0 - 20.0), x0 - 1.0, min(field_.y1 - TITLE[True], y1 + 20.0))
        sizes += draw_ordinates(board, view, "left", band, marks.upward, writer, marks.zero[1], marks.ways[1])[0]
    # over the leaders of the ordinates, which run through their rows
    for at, word in ((view.at(x, y), word) for x, y, _, word in marks.used):
        board.plate(at[0] + 1.4, at[1] + 1.2, word, SMALL)
    anchors = {items[n]: anchor_of(lines) for n, lines in parts.items() if named.get(n) == looking.name}
    wide = Frame(room.x0, y0 - ROW, min(room.x1, field_.x1 - SIGNS), y1 + ROW)
    draw_balloons(board, view, wide, anchors)
    _clocks(board, view, marks, view.at(box[2], 0.0)[0] + ASIDE)
    _signs(board, looking, field_)
    board.text(field_.x0 + 2.0, field_.y1 - 3.0, looking.name.upper(), NORMAL, bold=True)
    told = "hidden edges left out; axle pale; numbers are items of the list"
    told = f"zero: {marks.words}; {PLUS}; {told}" if marks.words else told
    board.paragraph(Frame(field_.x0 + 2.0, field_.y0, field_.x1 - SIGNS, field_.y1 - 4.8), told, SMALL)
    return board.page(looking.name, scale_words(scale)), sizes


def _laid(subject: Subject, box: tuple[float, ...], bands: tuple[float, float, float]) -> tuple[Board, Frame, float]:
    """The page that way round that takes the view in the larger scale, lying where both do; room and scale."""
    found, (left, low, right) = [], bands
    for wide in (True, False):
        board = board_for(subject.paper, wide=wide)
        field = field_of(board, slim=True)
        room = Frame(field.x0 + left, field.y0 + low + ROW, field.x1 - right, field.y1 - TITLE[wide] - ROW)
        fits = (s for s in SCALES if s * (box[2] - box[0]) <= room.width and s * (box[3] - box[1]) <= room.height)
        found.append((board, room, next(fits, SCALES[-1])))
    return max(found, key=lambda one: one[2])


def _under(board: Board, view: View, marks: Marks, span: tuple[float, float]) -> None:
    for x0, y0, x1, y1 in marks.frames:
        board.box(Frame(*view.at(x0, y0), *view.at(x1, y1)), "thin")
    for x, y, d in marks.dots:
        board.circle(view.at(x, y), view.scale * d / 2.0, "pale")
    for x, y, d, _ in marks.used:
        at = view.at(x, y)
        board.circle(at, max(view.scale * d / 2.0, 0.9), "pilot")
        board.line((at[0] - 2.2, at[1]), (at[0] + 2.2, at[1]), "pilot")
        board.line((at[0], at[1] - 2.2), (at[0], at[1] + 2.2), "pilot")
    for x in marks.centre:
        across = view.at(x, 0.0)[0]
        board.line((across, span[0]), (across, span[1]), "centre")


def _signs(board: Board, looking: Looking, frame: Frame) -> None:
    """Arrows that tell which way is up, forward and left."""
    e, r = looking.eye, looking.right
    up = (e[1] * r[2] - e[2] * r[1], e[2] * r[0] - e[0] * r[2], e[0] * r[1] - e[1] * r[0])
    way = 1.0 if abs(up[2]) > 0.5 or up[0] + up[1] > 0.0 else -1.0
    x, y = frame.x1 - SIGNS / 2.0, frame.y1 - (SIGN + 5.0 if way > 0.0 else 3.0)
    for axis, (dx, dy) in ((r, (SIGN, 0.0)), (up, (0.0, SIGN))):
        if abs(axis[2]) > 0.5:
            word, sign = "UP", 1.0
        else:
            # the arrow points forward or to the left, whichever of both ways the axis runs
            sign = 1.0 if axis[0] + axis[1] > 0.0 else -1.0
            word = "FWD" if abs(axis[0]) > 0.5 else "LEFT"
        tip = x + sign * dx, y + sign * dy
        board.arrow(tip, (x, y), "frame")
        if dy:
            board.text(tip[0], tip[1] + (1.0 if sign > 0.0 else -3.2), word, SMALL, "middle", bold=True)
        else:
            anchor: Anchor = "start" if sign > 0.0 else "end"
            board.text(tip[0] + sign, tip[1] - 1.0, word, SMALL, anchor, bold=True)


def _clocks(board: Board, view: View, marks: Marks, right: float) -> None:
    """A line from the zero to each place told by an angle, and the angle to the right of the view."""
    rows = sorted((view.at(x, y), words) for x, y, words in marks.clocks)
    rows.sort(key=lambda row: row[0][1])
    middle = view.at(*marks.zero)
    reach = LABEL * len(rows)
    spots = spread([at[1] for at, _ in rows], LABEL, middle[1] - reach - 60.0, middle[1] + reach + 60.0)
    for (at, words), y in zip(rows, spots, strict=True):
        board.line(middle, at, "centre")
        board.circle(at, 0.8, "pilot")
        board.path([at, (right - 4.0, y), (right - 1.0, y)], "thin")
        board.text(right, y - 0.5 * NORMAL, words, NORMAL)


def items_of(assembly: Assembly, held: Mapping[str, str]) -> dict[str, int]:
    """Part name to item number, in the order the parts stand in the assembly."""
    names: dict[str, None] = {p.part: None for p in assembly.placements if p.part not in held}
    return {name: n for n, name in enumerate(names, 1)}


def lists_of(
    assembly: Assembly, parts: Mapping[str, Part], items: Mapping[str, int], where: Mapping[str, str]
) -> list[Table | Words]:
    """List of parts, hardware, welds and the order of assembly.

    Args:
        assembly: What is drawn.
        parts: By name.
        items: Part name to item number.
        where: Part name to the view that names it.
    """
    counts = Counter(p.part for p in assembly.placements)
    groups: dict[str, list[str]] = {}
    for p in assembly.placements:
        if p.group not in groups.setdefault(p.part, []):
            groups[p.part].append(p.group)
    rows = tuple(
        (
            str(n),
            name,
            parts[name].label,
            str(counts[name]),
            parts[name].form,
            {"L": "LEFT", "R": "RIGHT"}.get(parts[name].hand or "", ""),
            ", ".join(groups[name]),
            where.get(name, "none: hidden").partition(",")[0],
        )
        for name, n in items.items()
    )
    heads = ("item", "part and its drawing", "what it is", "how many", "form", "hand", "group", "numbered in view")
    blocks: list[Table | Words] = [Table("Parts", heads, rows, (0.8, 3.6, 5.2, 1.5, 1.2, 1.0, 3.4, 2.4))]
    bought = tuple((what, size, str(many), place) for what, size, many, place in assembly.hardware)
    blocks.append(Table("Bought", ("what", "size", "how many", "where"), bought, (3.3, 5.0, 1.2, 3.7)))
    steps = tuple(f"{n}. {words}" for n, words in enumerate(assembly.steps, 1))
    blocks.append(Words("Order of assembly", steps, mark=""))
    return blocks
