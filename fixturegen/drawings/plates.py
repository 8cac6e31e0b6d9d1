"""Drawings of plates: plan from the profile itself, edge view, ordinates, holes and outline as tables."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from fixturegen.drawings.boards import NORMAL, SMALL, Board, Frame, Line, words_width
from fixturegen.drawings.features import EDGE, edge_ordinates, hole_ordinates
from fixturegen.drawings.numbering import number
from fixturegen.drawings.ordinates import PITCH, Ordinate, Side, band_of, draw_ordinates, merged
from fixturegen.drawings.plate_tables import plate_tables
from fixturegen.drawings.record import Drawing, Page, Point, Size, View
from fixturegen.drawings.scales import SCALES
from fixturegen.drawings.sheets import Subject, board_for, field_of, finished, flowed
from fixturegen.drawings.written import Writer, scale_words
from fixturegen.drawings.zeros import Zero, zero_of
from fixturegen.plate.lettering import strokes
from fixturegen.plate.part import Part, Profile
from fixturegen.plate.profile import Hole, Operation, bounds, hole_loop, polyline

EDGE_ROOM = 24.0  # [mm] for the edge view and its thickness, at least
EDGE_LEFT = 8.0  # [mm] of it to the left of the edge view
EDGE_RIGHT = 6.0  # [mm] and to the right, for the arrow of the thickness
OVER = 13.0  # [mm] over the plan at least: the thickness stands over the edge view, under the title
SIGN = 1.8  # [mm] radius of the sign of the zero
BESIDE = 18.0  # [mm] figures may stand beyond an end of the view they belong to
FAR = 45.0  # [mm] the same where there are many
CORNER = 6.0  # [mm] the same where figures round the corner need the room
TITLE = 13.5  # [mm] for the title of the view
SQUARE = 1e-6  # [mm] a bend line that leaves the direction of an axis by less runs along it
LEVEL = ("bottom", "top")
Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class Layout:
    """How the views of a plate lie on the page.

    Attributes:
        wide: Whether the page lies on its long side.
        scale: Of the views.
        room: Of the plan [mm].
        edge: Where the room for the edge view begins [mm].
    """

    wide: bool
    scale: float
    room: Frame
    edge: float


def layout_of(subject: Subject, box: Box, bands: Mapping[Side, float], thickness: float) -> Layout:
    """The way round and the largest standard scale in which plan and edge view fit.

    Args:
        subject: Carries the paper.
        box: Least and most x and y of the plan [mm].
        bands: Room for the ordinates of each side [mm].
        thickness: [mm].
    """
    found = []
    for wide in (True, False):
        field = field_of(board_for(subject.paper, wide=wide))
        for scale in SCALES:
            edge = max(EDGE_ROOM, EDGE_LEFT + scale * thickness + EDGE_RIGHT)
            right, high = field.x1 - bands["right"] - edge, field.y1 - bands["top"] - TITLE
            room = Frame(field.x0 + bands["left"], field.y0 + bands["bottom"], right, high)
            if scale * (box[2] - box[0]) <= room.width and scale * (box[3] - box[1]) <= room.height:
                break
        found.append(Layout(wide, scale, room, field.x1 - edge))
    return max(found, key=lambda one: one.scale)


def plate_drawing(part: Part, subject: Subject) -> Drawing:
    """The drawing of a plate: plan with ordinates on the first sheet, tables and notes on those after it.

    Args:
        part: A plate, or the flat of a bent part.
        subject: What is said of it.

    Raises:
        ValueError: When the part has no profile.
    """
    if part.profile is None:
        raise ValueError(f"{part.name} has no profile")
    zero, writer = zero_of(part), Writer(subject.units)
    first, sizes = plan_page(part, subject, zero, writer)
    blocks, more = plate_tables(part, subject, zero, writer)
    pages = [first, *flowed(blocks, subject.paper, wide=False, heading="tables")]
    return Drawing(part.name, part.label, finished(pages, subject), (*sizes, *more))


def plan_page(part: Part, subject: Subject, zero: Zero, writer: Writer) -> tuple[Page, tuple[Size, ...]]:
    """The page with plan and edge view, and the sizes on it."""
    profile = _profile(part)
    box = bounds(profile.outer)
    sides = _sides(part)
    bands = {side: band_of(found, writer, zero.x if side in LEVEL else zero.y) for side, found in sides.items()}
    layout = layout_of(subject, box, {**bands, "top": max(bands["top"], OVER)}, part.thickness)
    board, room, k = board_for(subject.paper, wide=layout.wide), layout.room, layout.scale
    x = room.x0 + (room.width - k * (box[2] - box[0])) / 2.0 - k * box[0]
    y = room.y0 + (room.height - k * (box[3] - box[1])) / 2.0 - k * box[1]
    view = View("plan, marked face up", k, x, y)
    board.views.append(view)
    for loop in (profile.outer, *profile.inner):
        board.loop(loop, view)
    for hole in profile.holes:
        draw_hole(board, hole, view)
    _marks(board, part, view)
    for bend in part.bends:
        board.line(view.at(bend.x0, bend.y0), view.at(bend.x1, bend.y1), "bend")
    sizes, dropped = plan_ordinates(board, box, view, zero, writer, sides, layout.edge)
    number(board, part, view, (*view.at(zero.x, zero.y), SIGN))
    _zero_sign(board, view, zero)
    sizes += _edge_view(board, part, view, layout, writer)
    left_out = f"; {dropped} more place{'s' if dropped != 1 else ''} in the table" if dropped else ""
    _title(board, f"{view.name}{left_out}", writer, box, part.thickness)
    heading = "flat before bending" if part.bends else "plan and edge"
    return board.page(heading, scale_words(k)), sizes


def _profile(part: Part) -> Profile:
    if part.profile is None:
        raise ValueError(f"{part.name} has no profile")
    return part.profile


def _sides(part: Part) -> dict[Side, list[Ordinate]]:
    """Holes over and to the right of the plan, edges and corners under and to the left of it; bends with the holes."""
    profile = _profile(part)
    bends = [(n, (b.x0 + b.x1) / 2.0, (b.y0 + b.y1) / 2.0, b) for n, b in enumerate(part.bends, 1)]
    along = [Ordinate(x, y, f"bend {n}", EDGE, f"bend {n}") for n, x, y, b in bends if abs(b.x0 - b.x1) < SQUARE]
    across = [Ordinate(y, x, f"bend {n}", EDGE, f"bend {n}") for n, x, y, b in bends if abs(b.y0 - b.y1) < SQUARE]
    return {
        "bottom": edge_ordinates(profile, 0),
        "left": edge_ordinates(profile, 1),
        "top": hole_ordinates(profile, 0) + along,
        "right": hole_ordinates(profile, 1) + across,
    }


def plan_ordinates(
    board: Board, box: Box, view: View, zero: Zero, writer: Writer, sides: Mapping[Side, list[Ordinate]], edge: float
) -> tuple[tuple[Size, ...], int]:
    """Ordinates round a plan; the sizes drawn, and how many had no room.

    Args:
        board: The page.
        box: Least and most x and y of the plan [mm].
        view: Where it lies.
        zero: What is counted from.
        writer: Writes the figures.
        sides: What is dimensioned on each side.
        edge: Where the room for the edge view begins [mm].
    """
    (left, low), (right, high) = view.at(box[0], box[1]), view.at(box[2], box[3])
    field = field_of(board)
    # only the edge next to the view tells where a band lies, and its ends how far figures may be spread: beside a
    # low plate they go far up and down, and those over and under it then keep out of the corners
    many = {side: len(merged(sides[side], low=True)) * PITCH for side in sides}
    tall = {side: many[side] > high - low + 2.0 * CORNER for side in ("left", "right")}
    x0 = max(field.x0, left - (CORNER if tall["left"] else BESIDE))
    x1 = min(right + (CORNER if tall["right"] else BESIDE), edge)
    reach = {side: FAR if far else BESIDE for side, far in tall.items()}
    y = {side: (max(field.y0, low - far), min(field.y1 - TITLE, high + far)) for side, far in reach.items()}
    frames: dict[Side, Frame] = {
        "bottom": Frame(x0, low - 1.0, x1, low - 1.0),
        "left": Frame(left - 1.0, y["left"][0], left - 1.0, y["left"][1]),
        "top": Frame(x0, high + 1.0, x1, high + 1.0),
        "right": Frame(right + 1.0, y["right"][0], right + 1.0, y["right"][1]),
    }
    sizes: tuple[Size, ...] = ()
    dropped = 0
    for side, ordinates in sides.items():
        counted = zero.x if side in LEVEL else zero.y
        made, left_out = draw_ordinates(board, view, side, frames[side], ordinates, writer, counted)
        sizes, dropped = sizes + made, dropped + left_out
    return sizes, dropped


def draw_hole(board: Board, hole: Hole, view: View) -> None:
    """Draw a hole as finished with its centre lines; red when only marked, dashed as cut when cut under."""
    at, r = view.at(hole.x, hole.y), view.scale * hole.finished / 2.0
    pen: Line = "pilot" if hole.operation is Operation.PILOT else "outline"
    if hole.slot:
        board.loop(hole_loop(hole), view, pen)
    else:
        board.circle(at, r, pen)
    if hole.operation is Operation.UNDERCUT and hole.cut:
        board.circle(at, view.scale * hole.cut / 2.0, "hidden")
    reach = r + 1.2
    board.line((at[0] - reach, at[1]), (at[0] + reach, at[1]), "thin")
    board.line((at[0], at[1] - reach), (at[0], at[1] + reach), "thin")


def _marks(board: Board, part: Part, view: View) -> None:
    for mark in part.marks:
        if mark.to is not None:
            board.line(view.at(mark.x, mark.y), view.at(*mark.to), "mark")
        for a, b, c, d in strokes(mark.text, mark.x, mark.y, mark.height, mark.angle) if mark.text else ():
            board.line(view.at(a, b), view.at(c, d), "mark")


def _zero_sign(board: Board, view: View, zero: Zero) -> None:
    """The sign of the zero: a circle with two quarters filled, a cross through it."""
    x, y = view.at(zero.x, zero.y)
    r, n = SIGN, 8
    for start in (0.0, math.pi):
        fan = [
            (x + r * math.cos(start + i * math.pi / 2 / n), y + r * math.sin(start + i * math.pi / 2 / n))
            for i in range(n + 1)
        ]
        board.filled(((x, y), *fan))
    board.circle((x, y), r, "frame")


def _edge_view(board: Board, part: Part, view: View, layout: Layout, writer: Writer) -> tuple[Size, ...]:
    """The plate seen from its right edge, and its thickness."""
    profile = _profile(part)
    box = bounds(profile.outer)
    k = layout.scale
    (_, low), (_, high) = view.at(0.0, box[1]), view.at(0.0, box[3])
    thick = k * part.thickness
    x0 = layout.edge + EDGE_LEFT
    x1 = x0 + max(thick, 0.6)
    board.path([(x0, low), (x1, low), (x1, high), (x0, high)], "outline", closed=True)
    for y in _seen_corners(profile):
        at = view.at(0.0, y)[1]
        board.line((x0, at), (x1, at), "outline")
    above = high + 4.0
    board.line((x0, high + 1.0), (x0, above + 1.5), "thin")
    board.line((x1, high + 1.0), (x1, above + 1.5), "thin")
    board.arrow((x0, above), (x0 - 5.0, above))
    board.arrow((x1, above), (x1 + 5.0, above))
    text = writer.pair(part.thickness)
    middle = (x0 + x1) / 2.0
    big, small = text.split(" ", 1)
    board.text(middle, above + 6.5, big, NORMAL, "middle")
    board.text(middle, above + 3.0, small, SMALL, "middle")
    if high - low > words_width("marked face", SMALL):
        board.text(x0 - 2.5, (low + high) / 2.0, "marked face", SMALL, "middle", 90.0)
    else:
        board.text(x0 - 1.0, low - 4.0, "marked face", SMALL, "end")
    return (Size("thickness", "thickness, measured", part.thickness, text),)


def _seen_corners(profile: Profile) -> list[float]:
    """Places along y of sharp corners seen from the right [mm]."""
    points = polyline(profile.outer, 0.05)
    found = []
    box = bounds(profile.outer)
    for one in edge_ordinates(profile, 1):
        y = one.value
        if not box[1] + 1e-3 < y < box[3] - 1e-3:
            continue
        # how far right the steel reaches just over and just under: a step that is seen
        reach = [_rightmost(points, y + d) for d in (0.02, -0.02)]
        if abs(reach[0] - reach[1]) > 0.5:
            found.append(y)
    return sorted(set(found))


def _rightmost(points: tuple[Point, ...], y: float) -> float:
    best = -math.inf
    for (ax, ay), (bx, by) in zip(points, (*points[1:], points[0]), strict=True):
        if (ay > y) != (by > y):
            best = max(best, ax + (y - ay) / (by - ay) * (bx - ax))
    return best


def _title(board: Board, words: str, writer: Writer, box: Box, thickness: float) -> None:
    """Title of the plan and the stock it is cut from, at the top of the page."""
    field = field_of(board)
    board.text(field.x0 + 2.0, field.y1 - 3.0, words.upper(), NORMAL, bold=True)
    sizes = f"overall {writer.full(box[2] - box[0])} by {writer.full(box[3] - box[1])}"
    board.figure.fitted(field.x0 + 2.0, field.y1 - 7.5, field.width - 4.0, sizes, NORMAL)
    board.text(field.x0 + 2.0, field.y1 - 12.0, f"thick {writer.full(thickness)}, measured", NORMAL)
