"""Drawings of tubes cut square: side view with the bore hidden, end view, and three sizes."""

from __future__ import annotations

from fixturegen.drawings.boards import NORMAL, Frame
from fixturegen.drawings.ordinates import BAND, Ordinate, draw_along
from fixturegen.drawings.record import Drawing, Size, View
from fixturegen.drawings.scales import SCALES
from fixturegen.drawings.sheets import Subject, Words, board_for, field_of, finished, flowed
from fixturegen.drawings.written import Writer, scale_words
from fixturegen.plate.part import Part

TALLEST = 60.0  # [mm] of paper for the outside of the tube
SIDE = 12.0  # [mm] free at both ends


def tube_drawing(part: Part, subject: Subject) -> Drawing:
    """The drawing of a tube.

    Args:
        part: A tube.
        subject: What is said of it.

    Raises:
        ValueError: When the part is no tube.
    """
    if part.tube is None:
        raise ValueError(f"{part.name} is no tube")
    size, wall, length, square = part.tube
    writer, board = Writer(subject.units), board_for(subject.paper, wide=True)
    field = field_of(board)
    scale = next((s for s in SCALES if s * size <= TALLEST), SCALES[-1])
    room = field.width - 2.0 * SIDE - scale * size - 10.0
    drawn = min(room, scale * length)
    x0, x1, y = field.x0 + SIDE, field.x0 + SIDE + drawn, field.y0 + BAND + 5.0 + scale * size / 2.0
    half, bore = scale * size / 2.0, scale * (size / 2.0 - wall)
    view = View("side", scale, x0, y, drawn >= scale * length)
    board.views.append(view)
    board.box(Frame(x0, y - half, x1, y + half), "outline")
    for way in (-bore, bore):
        board.line((x0, y + way), (x1, y + way), "hidden")
    board.line((x0 - 4.0, y), (x1 + 4.0, y), "centre")
    if not view.true:
        middle = (x0 + x1) / 2.0
        for off in (-1.2, 1.2):
            board.path([(middle + off - 0.6, y - half - 1.0), (middle + off + 0.6, y + half + 1.0)], "frame")
    at = field.x1 - 4.0 - half, y
    for reach in (half, bore):
        if square:
            board.box(Frame(at[0] - reach, y - reach, at[0] + reach, y + reach), "outline")
        else:
            board.circle(at, reach)
    ends = [(x0, Ordinate(0.0, -size / 2.0, "end", 0)), (x1, Ordinate(length, -size / 2.0, "other end", 0))]
    sizes = draw_along(board, ends, Frame(field.x0, y - half - BAND - 1.0, field.x1, y - half - 1.0), y, writer)
    shape = "square" if square else "round"
    over, walls, long = writer.full(size), writer.full(wall), writer.full(length)
    board.text(field.x0 + 2.0, field.y1 - 3.0, f"TUBE, {shape}: outside {over}, wall {walls}", NORMAL, bold=True)
    board.figure.fitted(field.x0 + 2.0, field.y1 - 7.5, field.width, f"length {long}, both ends square", NORMAL)
    first = board.page("side and end", scale_words(scale) + ("" if view.true else ", broken"))
    notes = Words("Notes", (f"Cut both ends square, length {long}.", *part.notes))
    pages = [first, *flowed([notes], subject.paper, wide=True, heading="notes")]
    more = (Size("length", "tube", length, long, (0.0, length)),)
    return Drawing(part.name, part.label, finished(pages, subject), (*sizes, *more))
