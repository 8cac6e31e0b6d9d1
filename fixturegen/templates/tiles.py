"""A template laid over sheets of paper that lap, and the pages of it.

Rows are lettered from the top, columns numbered from the left: B2 is the second row's second sheet.
Neighbours share a band; in its middle both carry the same line and the same two crosses. A sheet that
no steel would lie under is left out; the map shows it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from fixturegen.pages import FINE, Book, Figure, Page, Paper, Pen, TitleBlock, free_room, table
from fixturegen.pages.documents import Proof
from fixturegen.pages.figure import Anchor
from fixturegen.pages.tables import row_height
from fixturegen.templates.template import Template

LAP = 12.7  # [mm] shared by neighbours: room for tape and for a trim that is not straight
HEAD = 19.0  # [mm] words and map above the drawing
RIM = 4.0  # [mm] of paper round the template
SMALL = Pen(0.15)
MATCH = Pen(0.25, dash=(4.0, 2.0))
CROSS = 4.0  # [mm] half length of a match mark
MAP = (34.0, 16.0)  # [mm] room of the map
HERE = Pen(0.3, fill="#b0b0b0")
TABLE = (0.045, 0.255, 0.19, 0.33, 0.18)  # columns of the table of holes, shares of the room
TABLE_LETTERS = 2.4
HEAD_LETTERS = 2.3  # [mm]
HEAD_LINE = 4.2  # [mm] line to line
BELOW = 12.0  # [mm] between drawing and table

Box = tuple[float, float, float, float]
Points = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Tile:
    """One sheet of a tiling.

    Attributes:
        row: From the top, from 0.
        column: From the left, from 0.
        box: What it shows of the template as it lies (x0, y0, x1, y1) [mm].
    """

    row: int
    column: int
    box: Box

    @property
    def name(self) -> str:
        """B2: second row, second column."""
        return f"{row_letters(self.row)}{self.column + 1}"


@dataclass(frozen=True)
class Tiling:
    """How a template lies on paper.

    Attributes:
        turned: Whether it is turned by a quarter.
        rows: How many.
        columns: How many.
        tiles: The sheets that carry something, by row and column.
    """

    turned: bool
    rows: int
    columns: int
    tiles: tuple[Tile, ...]

    def tile(self, row: int, column: int) -> Tile | None:
        """The sheet of a place; None where none is needed."""
        return next((t for t in self.tiles if (t.row, t.column) == (row, column)), None)


def row_letters(row: int) -> str:
    """A, B ... Z, AA, AB ..."""
    text = ""
    row += 1
    while row:
        row, rest = divmod(row - 1, 26)
        text = chr(65 + rest) + text
    return text


def window_of(paper: Paper) -> Box:
    """Where a page shows its piece of the template (x0, y0, x1, y1) [mm]."""
    x0, y0, x1, y1 = free_room(paper)
    return x0, y0, x1, y1 - HEAD


def turned_points(points: Points, turned: bool) -> Points:
    """The points as they lie: turned by a quarter counter-clockwise, or as they are (n, 2) [mm]."""
    return tuple((-y, x) for x, y in points) if turned else points


def tiling_of(area: Points, paper: Paper) -> Tiling:
    """The tiling with the fewest sheets, lying as drawn or turned by a quarter.

    Args:
        area: Points round the template (n, 2) [mm].
        paper: Letter or A4, upright.
    """
    both = [_tiling(turned_points(area, turned), paper, turned) for turned in (False, True)]
    return min(both, key=lambda t: (len(t.tiles), t.turned))


def _tiling(area: Points, paper: Paper, turned: bool) -> Tiling:
    import shapely

    x0, y0, x1, y1 = window_of(paper)
    wide, high = x1 - x0, y1 - y0
    left, low = min(p[0] for p in area) - RIM, min(p[1] for p in area) - RIM
    right, top = max(p[0] for p in area) + RIM, max(p[1] for p in area) + RIM
    columns = max(1, math.ceil((right - left - LAP) / (wide - LAP) - 1e-9))
    rows = max(1, math.ceil((top - low - LAP) / (high - LAP) - 1e-9))
    # what is left over stands half on either side
    start = (left + right) / 2.0 - (columns * (wide - LAP) + LAP) / 2.0
    ceiling = (low + top) / 2.0 + (rows * (high - LAP) + LAP) / 2.0
    steel = shapely.make_valid(shapely.Polygon(area)).buffer(RIM)
    shapely.prepare(steel)
    tiles = []
    for row in range(rows):
        for column in range(columns):
            x, y = start + column * (wide - LAP), ceiling - row * (high - LAP)
            box = (x, y - high, x + wide, y)
            # the lap's outer half is on the neighbour too
            inner = shapely.box(box[0], box[1], box[2], box[3]).buffer(-LAP / 2.0, join_style="mitre")
            if rows * columns == 1 or steel.intersects(inner):
                tiles.append(Tile(row, column, box))
    return Tiling(turned, rows, columns, tuple(tiles))


def book_of(template: Template, tiling: Tiling, block: TitleBlock, paper: Paper) -> tuple[Book, tuple[Proof, ...]]:
    """The pages of a template, and what each must measure.

    Args:
        template: What is drawn.
        tiling: How it lies.
        block: What the title block says.
        paper: Letter or A4, upright.
    """
    book = Book(f"{template.title}, template 1:1", block, paper)
    lying = Figure()
    lying.place(template.figure, 0.0, 0.0, 90.0 if tiling.turned else 0.0)
    proofs = []
    for tile in tiling.tiles:
        single = len(tiling.tiles) == 1
        page = book.page(template.title if single else f"{template.title}: sheet {tile.name}")
        window = window_of(paper)
        dx, dy = window[0] - tile.box[0], window[1] - tile.box[1]
        if single:  # at the top, so that the table may stand below
            dy = window[3] - RIM - max(y for _, y in turned_points(template.area, tiling.turned))
        page.place(lying, dx, dy, window=window)
        if not single:
            page.rect(*window, SMALL)
        _laps(page, tiling, tile, (dx, dy))
        _head(page, template, tiling, tile)
        proofs.append(_proof(template, tiling, tile, (dx, dy)))
    if not _table_below(book.pages[-1], template, tiling):
        proofs += _table_pages(book, template, tiling)
    return book, tuple(proofs)


def _proof(template: Template, tiling: Tiling, tile: Tile, shift: tuple[float, float]) -> Proof:
    holes = []
    for (x, y), (_, _, d) in zip(
        turned_points(tuple(h[:2] for h in template.holes), tiling.turned), template.holes, strict=True
    ):
        x0, y0, x1, y1 = tile.box
        if x0 + d / 2.0 < x < x1 - d / 2.0 and y0 + d / 2.0 < y < y1 - d / 2.0:
            holes.append((x + shift[0], y + shift[1], d))
    start = None
    if template.start is not None:
        ((x, y),) = turned_points((template.start,), tiling.turned)
        start = (x + shift[0], y + shift[1])
    # openings that a sheet does not touch are not drawn on it
    outlines = template.outlines if len(tiling.tiles) == 1 else template.outlines[:1]
    return Proof(True, outlines, tuple(holes), start)


def _laps(page: Page, tiling: Tiling, tile: Tile, shift: tuple[float, float]) -> None:
    """On each side with a neighbour: the line in the middle of the lap and two named crosses."""
    x0, y0, x1, y1 = (v + shift[i % 2] for i, v in enumerate(tile.box))
    half = LAP / 2.0
    for row, column in ((0, 1), (0, -1), (1, 0), (-1, 0)):
        other = tiling.tile(tile.row + row, tile.column + column)
        if other is None:
            continue
        first, second = sorted((tile, other), key=lambda t: (t.row, t.column))
        if column:
            x = x1 - half if column > 0 else x0 + half
            page.line(x, y0, x, y1, MATCH, "lap")
            places = [(x, y0 + f * (y1 - y0)) for f in (0.2, 0.8)]
        else:
            y = y0 + half if row > 0 else y1 - half
            page.line(x0, y, x1, y, MATCH, "lap")
            places = [(x0 + f * (x1 - x0), y) for f in (0.2, 0.8)]
        for (x, y), letter in zip(places, "ab", strict=True):
            page.cross(x, y, CROSS, Pen(0.3), "match")
            page.circle(x, y, 1.5, Pen(0.3), "match")
            # towards the middle of the sheet, off the rim
            side: Anchor = "end" if x > page.paper.width / 2.0 else "start"
            off = -1.8 if side == "end" else 1.8
            page.text(x + off, y + 1.8, f"{first.name}-{second.name} {letter}", 1.8, side, role="match")


def _head(page: Page, template: Template, tiling: Tiling, tile: Tile) -> None:
    """Words above the drawing, as many as find room, and the map; all of the words are told on the last page."""
    x0, _, x1, top = page.inside
    several = len(tiling.tiles) > 1
    room = x1 - x0 - (MAP[0] + 3.0 if several else 0.0)
    words = list(template.lines[: _told(template, tiling)])
    if several:
        how = "Lap the sheets: crosses of one name lie on each other. Tape."
        words.insert(0, f"Sheet {tile.name} of {len(tiling.tiles)}. {how}")
    for n, line in enumerate(words):
        page.fitted(x0, top - HEAD_LETTERS - n * HEAD_LINE, room, line, HEAD_LETTERS)
    if several:
        _map(page, tiling, tile, (x1 - MAP[0], top - MAP[1]))


def _told(template: Template, tiling: Tiling) -> int:
    """How many of a template's lines stand on each sheet."""
    return min(len(template.lines), int(HEAD / HEAD_LINE) - (len(tiling.tiles) > 1))


def _map(page: Page, tiling: Tiling, here: Tile, corner: tuple[float, float]) -> None:
    x, y = corner
    wide, high = here.box[2] - here.box[0], here.box[3] - here.box[1]
    unit = min(MAP[0] / (tiling.columns * wide), MAP[1] / (tiling.rows * high))
    w, h = wide * unit, high * unit
    left = x + MAP[0] - tiling.columns * w
    for tile in tiling.tiles:
        u, v = left + tile.column * w, y + MAP[1] - (tile.row + 1) * h
        page.rect(u, v, u + w, v + h, HERE if tile == here else FINE)
        size = min(2.2, 0.45 * h, 0.4 * w)
        page.text(u + w / 2.0, v + h / 2.0 - size / 2.0, tile.name, size, "middle", bold=tile == here)


def _columns(page: Page) -> tuple[float, ...]:
    """Widths of the columns of the table of holes [mm]."""
    return tuple(share * (page.inside[2] - page.inside[0]) for share in TABLE)


def _table_below(page: Page, template: Template, tiling: Tiling) -> bool:
    """Whether all that is left to be told stood below the drawing of a single sheet; it is drawn there then."""
    if len(tiling.tiles) > 1 or _told(template, tiling) < len(template.lines):
        return False
    if not template.rows:
        return True
    ys = [y for _, y in turned_points(template.area, tiling.turned)]
    top = window_of(page.paper)[3] - RIM - (max(ys) - min(ys)) - BELOW
    high = sum(row_height(row, _columns(page), TABLE_LETTERS) for row in (template.head, *template.rows))
    if high > top - page.inside[1]:
        return False
    table(
        page, page.inside[0], page.inside[1] + high + 0.5, _columns(page), template.head, template.rows, TABLE_LETTERS
    )
    return True


def _table_pages(book: Book, template: Template, tiling: Tiling) -> list[Proof]:
    """What did not find room on the sheets: all lines, and the table of holes, on pages of their own."""
    rows, proofs = list(template.rows), []
    lines = template.lines if _told(template, tiling) < len(template.lines) else ()
    while rows or lines:
        page = book.page(f"{template.title}: {'holes' if template.rows else 'notes'}", "not to scale", scale_bar=False)
        proofs.append(Proof(scale_bar=False))
        x0, y0, x1, y = page.inside
        for line in lines:
            y = page.paragraph(x0, y, x1 - x0, line, 3.0) - 1.0
        lines = ()
        if not rows:
            break
        _, drawn = table(page, x0, y - 1.0, _columns(page), template.head, rows, TABLE_LETTERS, y0)
        if not drawn and y == page.inside[3]:
            break  # a row higher than a page is cut off by no page
        rows = rows[drawn:]
    return proofs
