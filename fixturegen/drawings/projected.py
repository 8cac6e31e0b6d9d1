"""Views of solids with hidden lines, in third angle: plan over the front, the side to the right of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fixturegen.drawings.boards import NORMAL, PENS, SMALL, Board, Frame
from fixturegen.drawings.record import Size, View
from fixturegen.drawings.scales import SCALES
from fixturegen.drawings.written import Writer
from fixturegen.plate.part import Vector
from fixturegen.plate.profile import Vertex
from fixturegen.shapes.hidden_lines import Strokes

DIMENSION = 9.0  # [mm] from a view to the line with its overall size
BETWEEN = 16.0  # [mm] from view to view: a size and a title


@dataclass(frozen=True)
class Looking:
    """From where a solid is looked at.

    Attributes:
        name: Of the view.
        eye: Direction from the solid to the eye (3,).
        right: Direction to the right in the view (3,).
    """

    name: str
    eye: Vector
    right: Vector


TOP = Looking("plan", (0.0, 0.0, 1.0), (1.0, 0.0, 0.0))
FRONT = Looking("front", (0.0, -1.0, 0.0), (1.0, 0.0, 0.0))
SIDE = Looking("right side", (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))


def extent(strokes: Strokes) -> tuple[float, float, float, float]:
    """Least x and y, most x and y of a view's lines [mm]; zeros where there are none."""
    points = [p for chain in (*strokes.seen, *strokes.hidden) for p in chain]
    if not points:
        return 0.0, 0.0, 0.0, 0.0
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def joined(chains: Sequence[Sequence[tuple[float, float]]]) -> list[list[tuple[float, float]]]:
    """The chains put end to end where one begins at another's end, so that fewer are drawn."""
    begins: dict[tuple[float, float], list[int]] = {}
    for i, chain in enumerate(chains):
        begins.setdefault(chain[0], []).append(i)
        begins.setdefault(chain[-1], []).append(i)
    used = [False] * len(chains)
    made = []
    for i, chain in enumerate(chains):
        if used[i]:
            continue
        used[i] = True
        line = list(chain)
        while True:
            nxt = next((k for k in begins.get(line[-1], ()) if not used[k]), None)
            if nxt is None:
                break
            used[nxt] = True
            more = list(chains[nxt])
            line += more[1:] if more[0] == line[-1] else more[-2::-1]
        made.append(line)
    return made


def draw_strokes(board: Board, strokes: Strokes, view: View, *, thin: bool = False) -> None:
    """Draw a view: what is seen over what is hidden.

    Args:
        board: The page.
        strokes: Lines of the view [mm].
        view: Where it lies.
        thin: With narrow lines, for many parts on one page.
    """
    for chains, pen in ((strokes.hidden, PENS["hidden"]), (strokes.seen, PENS["frame" if thin else "outline"])):
        for chain in joined(chains):
            board.figure.trace([Vertex(*view.at(x, y)) for x, y in chain], False, pen)


def scale_in(frame: Frame, strokes: dict[str, Strokes]) -> float:
    """Largest standard scale in which three views in third angle fit.

    Args:
        frame: Room for all three.
        strokes: Lines by name of `TOP`, `FRONT` and `SIDE`.
    """
    top, front, side = (extent(strokes[one.name]) for one in (TOP, FRONT, SIDE))
    across = front[2] - front[0] + side[2] - side[0]
    along = top[3] - top[1] + front[3] - front[1]
    room = frame.width - 2.0 * BETWEEN - DIMENSION, frame.height - 2.0 * BETWEEN - DIMENSION
    return next((s for s in SCALES if s * across <= room[0] and s * along <= room[1]), SCALES[-1])


def third_angle(
    board: Board, frame: Frame, strokes: dict[str, Strokes], writer: Writer
) -> tuple[float, tuple[Size, ...]]:
    """Scale of the three views, and their overall sizes.

    Args:
        board: The page.
        frame: Room for all three.
        strokes: Lines by name of `TOP`, `FRONT` and `SIDE`.
        writer: Writes the sizes.
    """
    box = {name: extent(s) for name, s in strokes.items()}
    wide, high = box[FRONT.name][2] - box[FRONT.name][0], box[FRONT.name][3] - box[FRONT.name][1]
    scale = scale_in(frame, strokes)
    x0 = frame.x0 + BETWEEN
    y0 = frame.y0 + DIMENSION + 4.0
    at = {
        FRONT.name: (x0, y0),
        TOP.name: (x0, y0 + scale * high + BETWEEN),
        SIDE.name: (x0 + scale * wide + BETWEEN + DIMENSION, y0),
    }
    sizes = []
    for name, (x, y) in at.items():
        b = box[name]
        view = View(name, scale, x - scale * b[0], y - scale * b[1])
        board.views.append(view)
        draw_strokes(board, strokes[name], view)
        board.text(x, y + scale * (b[3] - b[1]) + 2.5, name.upper(), SMALL, bold=True)
        if name in (FRONT.name, SIDE.name):
            sizes.append(_across(board, view, b, writer, f"over all, {name}"))
        if name in (FRONT.name, TOP.name):
            sizes.append(_up(board, view, b, writer, f"over all, height of {name}"))
    return scale, tuple(sizes)


def _across(board: Board, view: View, b: tuple[float, float, float, float], writer: Writer, name: str) -> Size:
    """The overall size under a view."""
    (x0, y), (x1, _) = view.at(b[0], b[1]), view.at(b[2], b[1])
    low = y - DIMENSION + 2.0
    text = writer.pair(b[2] - b[0])
    for x in (x0, x1):
        board.line((x, y - 1.0), (x, low - 1.5), "thin")
    board.arrow((x0, low), ((x0 + x1) / 2.0, low))
    board.arrow((x1, low), ((x0 + x1) / 2.0, low))
    board.text((x0 + x1) / 2.0, low - 3.6, text, NORMAL, "middle")
    return Size("length", name, b[2] - b[0], text)


def _up(board: Board, view: View, b: tuple[float, float, float, float], writer: Writer, name: str) -> Size:
    """The overall size to the left of a view."""
    (x, y0), (_, y1) = view.at(b[0], b[1]), view.at(b[0], b[3])
    left = x - DIMENSION + 2.0
    text = writer.pair(b[3] - b[1])
    for y in (y0, y1):
        board.line((x - 1.0, y), (left - 1.5, y), "thin")
    board.arrow((left, y0), (left, (y0 + y1) / 2.0))
    board.arrow((left, y1), (left, (y0 + y1) / 2.0))
    board.text(left - 1.4, (y0 + y1) / 2.0, text, NORMAL, "middle", 90.0)
    return Size("length", name, b[3] - b[1], text)
