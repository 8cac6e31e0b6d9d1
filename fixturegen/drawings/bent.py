"""Drawings of bent parts: finished views first, then the flat with its bend lines, then the tables."""

from __future__ import annotations

from typing import Any

from fixturegen.drawings.boards import NORMAL, SMALL, Board, Frame
from fixturegen.drawings.plate_tables import plate_tables
from fixturegen.drawings.plates import plan_page
from fixturegen.drawings.projected import FRONT, SIDE, TOP, draw_strokes, extent, scale_in, third_angle
from fixturegen.drawings.record import Drawing, Page, Size, View
from fixturegen.drawings.sheets import Subject, Table, Words, board_for, field_of, finished, flowed
from fixturegen.drawings.written import Writer, scale_words
from fixturegen.drawings.zeros import Zero, zero_of
from fixturegen.plate.part import Part
from fixturegen.shapes.hidden_lines import view_of

PICTORIAL = ((1.0, -1.0, 0.8), (1.0, 1.0, 0.0))  # eye and right of the view that shows the whole


def bent_drawing(part: Part, solid: Any, subject: Subject) -> Drawing:
    """The drawing of a bent part.

    Args:
        part: A bent part.
        solid: The same, folded.
        subject: What is said of it.

    Raises:
        ValueError: When the part has no profile.
    """
    zero, writer = zero_of(part), Writer(subject.units)
    folded, sizes = _folded_page(part, solid, subject, writer)
    flat, flat_sizes = plan_page(part, subject, zero, writer)
    blocks, more = plate_tables(part, subject, zero, writer)
    bends, bend_sizes = _bend_table(part, zero, writer)
    pages = [
        folded,
        flat,
        *flowed([blocks[0], bends, *blocks[1:]], subject.paper, wide=False, heading="tables"),
    ]
    return Drawing(part.name, part.label, finished(pages, subject), (*sizes, *flat_sizes, *bend_sizes, *more))


def _folded_page(part: Part, solid: Any, subject: Subject, writer: Writer) -> tuple[Page, tuple[Size, ...]]:
    strokes = {one.name: view_of([solid], one.eye, one.right) for one in (TOP, FRONT, SIDE)}
    boards = [board_for(subject.paper, wide=wide) for wide in (True, False)]
    rooms = [Frame(f.x0, f.y0, f.x1, f.y1 - 6.0) for f in map(field_of, boards)]
    # the page lies, unless the views are larger on an upright one
    board, room = max(zip(boards, rooms, strict=True), key=lambda pair: scale_in(pair[1], strokes))
    field = field_of(board)
    scale, sizes = third_angle(board, room, strokes, writer)
    board.text(field.x0 + 2.0, field.y1 - 3.0, "BENT, third angle; sizes are outside sizes", NORMAL, bold=True)
    _pictorial(board, solid, field)
    return board.page("finished, bent", scale_words(scale)), sizes


def _pictorial(board: Board, solid: Any, field: Frame) -> None:
    """The part seen from one corner, in the corner of the page that third angle leaves free."""
    strokes = view_of([solid], *PICTORIAL, hidden=False)
    b = extent(strokes)
    right = max((v.at(0.0, 0.0)[0] for v in board.views), default=0.0)
    room = Frame(
        max(field.x0 + 0.62 * field.width, right), field.y1 - 0.48 * field.height, field.x1 - 4.0, field.y1 - 8.0
    )
    scale = min(room.width / max(b[2] - b[0], 1.0), room.height / max(b[3] - b[1], 1.0))
    view = View("pictorial", scale, room.x1 - scale * b[2], room.y1 - scale * b[3], False)
    draw_strokes(board, strokes, view, thin=True)
    board.text(room.x1, room.y1 + 1.0, "PICTORIAL, no scale", SMALL, "end", bold=True)


def _bend_table(part: Part, zero: Zero, writer: Writer) -> tuple[Table | Words, tuple[Size, ...]]:
    rows, sizes, under = [], [], []
    for n, b in enumerate(part.bends, 1):
        ends = [f"{writer.pair(x - zero.x)}, {writer.pair(y - zero.y)}" for x, y in ((b.x0, b.y0), (b.x1, b.y1))]
        outside = "-" if b.outside is None else f"{writer.short(b.outside[0])} by\n{writer.short(b.outside[1])}"
        way = f"{'up' if b.up else 'down'} {b.angle:g}\N{DEGREE SIGN}"
        rule = f"{b.rule}; {'measured on a strip' if b.measured else 'not measured on your brake: bend a strip first'}"
        rows.append((str(n), way, writer.pair(b.radius), *ends, outside, writer.pair(b.allowance)))
        under.append(f"rule: {rule}")
        sizes.append(Size("angle", f"bend {n}", b.angle, way))
        sizes.append(Size("radius", f"bend {n}", b.radius, rows[-1][2]))
        for k, size in enumerate(b.outside or (), 1):
            sizes.append(Size("length", f"outside size {k} of bend {n}", size, writer.short(size)))
    heads = ("order", "bend", "inside radius", "line from X, Y", "to X, Y", "outside sizes", "takes up")
    shares = (1.0, 1.1, 2.1, 2.6, 2.6, 5.4, 2.1)
    return Table("Bends, in the order they are made", heads, tuple(rows), shares, tuple(under), "bends"), tuple(sizes)
