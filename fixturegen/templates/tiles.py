"""The pages of a template: its sheets with their laps, words and map, and what stands beside the drawing."""

from __future__ import annotations

from dataclasses import replace

from fixturegen.pages import FINE, Book, Figure, Page, Paper, Pen, TitleBlock, table
from fixturegen.pages.documents import Proof
from fixturegen.pages.figure import LEADING, Anchor, Words, broken, item_box
from fixturegen.pages.tables import row_height
from fixturegen.templates.template import Template
from fixturegen.templates.tiling import HEAD, PLACES, RIM, Box, Tile, Tiling, turned_points, window_of

SMALL = Pen(0.15)
MATCH = Pen(0.25, dash=(4.0, 2.0))
CROSS = 4.0  # [mm] half length of a match mark
LAPPED = "Lay crosses of one name on each other and tape."
MARK_ROOM = 22.0  # [mm] from the rim of a sheet that a lap takes, with the names of its crosses
MAP = (34.0, 16.0)  # [mm] room of the map
HERE = Pen(0.3, fill="#b0b0b0")
TABLE = (0.045, 0.255, 0.19, 0.33, 0.18)  # columns of the table of holes, shares of the room
TABLE_LETTERS = 2.4
HEAD_LETTERS = 2.3  # [mm]
HEAD_LINE = 4.2  # [mm] line to line
REST_LETTERS = 2.6  # [mm] of lines that found no room above the drawing
WHOLE = ("number", "edge")  # roles of words that are shown whole or not at all
CLEAR = 6.0  # [mm] between drawing and what stands beside it
LEAST_TABLE = 120.0  # [mm] narrower no table of holes can be read


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
    lying.items = [_readable(item) if isinstance(item, Words) else item for item in lying.items]
    title = template.title[:1].upper() + template.title[1:]
    single = len(tiling.tiles) == 1
    window = window_of(paper.lying if tiling.lying else paper)
    proofs, shifts = [], []
    for tile in tiling.tiles:
        page = book.page(title if single else f"{title}: sheet {tile.name}", lying=tiling.lying)
        dx, dy = window[0] - tile.box[0], window[1] - tile.box[1]
        if single:  # at the top, so that the table may stand below
            dy = window[3] - RIM - max(y for _, y in turned_points(template.area, tiling.turned))
        page.place(_whole_words(lying, _moved(window, -dx, -dy)), dx, dy, window=window)
        if not single:
            page.rect(*window, SMALL)
        _laps(page, tiling, tile, (dx, dy))
        proofs.append(_proof(template, tiling, tile, (dx, dy)))
        shifts.append((dx, dy))
    told = min(_told(page, template, not single) for page in book.pages)
    rest = _Rest(template, told)
    place = rest.place(book.pages, tiling, lying, shifts)
    for page, tile in zip(tuple(book.pages), tiling.tiles, strict=True):
        where = f"sheet {tiling.tiles[place[0]].name}" if place else "the last page"
        more = "" if rest.empty else f" {'More' if rest.lines else 'Holes'}: {where}."
        _head(page, template, tiling, tile, told, more)
    if place:
        rest.draw(book.pages[place[0]], place[1])
    elif not rest.empty:
        proofs += rest.pages(book, title)
    return book, tuple(proofs)


def _moved(box: Box, dx: float, dy: float) -> Box:
    return box[0] + dx, box[1] + dy, box[2] + dx, box[3] + dy


def _readable(words: Words) -> Words:
    """Lettering that stands on its head when the drawing is turned, the right way up in the same place."""
    if not 170.0 < words.angle % 360.0 < 190.0:
        return words
    swapped: dict[Anchor, Anchor] = {"start": "end", "middle": "middle", "end": "start"}
    return replace(words, y=words.y - words.size, angle=words.angle - 180.0, anchor=swapped[words.anchor])


def _whole_words(figure: Figure, window: Box) -> Figure:
    """The figure without numbers of holes and names of edges a sheet would show a part of: another has them whole."""
    found = Figure()
    for item in figure.items:
        if isinstance(item, Words) and item.role in WHOLE:
            x0, y0, x1, y1 = item_box(item)
            if x0 < window[0] or y0 < window[1] or x1 > window[2] or y1 > window[3]:
                continue
        found.items.append(item)
    return found


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
    for seam in tiling.seams:
        if tile not in (seam.first, seam.second):
            continue
        x0, y0, x1, y1 = seam.x0 + shift[0], seam.y0 + shift[1], seam.x1 + shift[0], seam.y1 + shift[1]
        page.line(x0, y0, x1, y1, MATCH, "lap")
        for f, letter in zip(PLACES, "ab", strict=True):
            x, y = x0 + f * (x1 - x0), y0 + f * (y1 - y0)
            page.cross(x, y, CROSS, Pen(0.3), "match")
            page.circle(x, y, 1.5, Pen(0.3), "match")
            # towards the middle of the sheet, off the rim
            side: Anchor = "end" if x > page.paper.width / 2.0 else "start"
            off = -1.8 if side == "end" else 1.8
            name = f"{seam.first.name}-{seam.second.name} {letter}"
            page.text(x + off, y + 1.8, name, 1.8, side, role="match")


def _room(page: Page, several: bool) -> float:
    """Width of the words above the drawing [mm]."""
    return page.inside[2] - page.inside[0] - (MAP[0] + 3.0 if several else 0.0)


def _told(page: Page, template: Template, several: bool) -> int:
    """How many of a template's lines stand above the drawing, in letters of full size."""
    left = int(HEAD / HEAD_LINE) - (len(broken(LAPPED, _room(page, several), HEAD_LETTERS)) if several else 0)
    for n, line in enumerate(template.lines):
        left -= len(broken(line, _room(page, several), HEAD_LETTERS))
        if left < 0:
            return n
    return len(template.lines)


def _head(page: Page, template: Template, tiling: Tiling, tile: Tile, told: int, more: str) -> None:
    """Words above the drawing, as many as find room, and the map; the others stand with the table of holes."""
    x0, _, x1, top = page.inside
    several = len(tiling.tiles) > 1
    words = list(template.lines[:told])
    if several:
        words.insert(0, f"Sheet {tile.name} of {len(tiling.tiles)}. {LAPPED}{more}")
    rows = [row for line in words for row in broken(line, _room(page, several), HEAD_LETTERS)]
    for n, row in enumerate(rows):
        page.text(x0, top - HEAD_LETTERS - n * HEAD_LINE, row, HEAD_LETTERS)
    if several:
        _map(page, tiling, tile, (x1 - MAP[0], top - MAP[1]))


def _map(page: Page, tiling: Tiling, here: Tile, corner: tuple[float, float]) -> None:
    """All sheets as they lie, this one grey."""
    boxes = [t.box for t in tiling.tiles]
    left, low = min(b[0] for b in boxes), min(b[1] for b in boxes)
    right, top = max(b[2] for b in boxes), max(b[3] for b in boxes)
    unit = min(MAP[0] / (right - left), MAP[1] / (top - low))
    x, y = corner[0] + MAP[0] - (right - left) * unit, corner[1] + MAP[1] - (top - low) * unit
    for tile in (*(t for t in tiling.tiles if t != here), here):
        u0, v0, u1, v1 = ((v - o) * unit + at for v, o, at in zip(tile.box, (left, low) * 2, (x, y) * 2, strict=True))
        page.rect(u0, v0, u1, v1, HERE if tile == here else FINE)
        size = min(2.2, 0.4 * (v1 - v0), 0.35 * (u1 - u0))
        page.text((u0 + u1) / 2.0, (v0 + v1) / 2.0 - size / 2.0, tile.name, size, "middle", bold=tile == here)


class _Rest:
    """What found no room above the drawing: further lines, and the table of holes."""

    def __init__(self, template: Template, told: int) -> None:
        self.template = template
        self.lines = template.lines[told:]
        self.heights: dict[float, float] = {}

    @property
    def empty(self) -> bool:
        """Whether all has been told."""
        return not self.lines and not self.template.rows

    def height(self, wide: float) -> float:
        """Height it takes at a width [mm]."""
        if wide not in self.heights:
            self.heights[wide] = self._height(wide)
        return self.heights[wide]

    def _height(self, wide: float) -> float:
        high = sum(len(broken(line, wide, REST_LETTERS)) * LEADING * REST_LETTERS + 1.0 for line in self.lines)
        rows = (self.template.head, *self.template.rows) if self.template.rows else ()
        return high + sum(row_height(row, _columns(wide), TABLE_LETTERS) for row in rows) + 1.0

    def place(
        self, pages: list[Page], tiling: Tiling, lying: Figure, shifts: list[tuple[float, float]]
    ) -> tuple[int, Box] | None:
        """Which page has room for it, and where (x0, y0, x1, y1) [mm]; None where none has, or nothing is left."""
        if self.empty:
            return None
        for n, (page, tile, shift) in enumerate(zip(pages, tiling.tiles, shifts, strict=True)):
            for x0, y0, x1, y1 in _free(page, self.template, tiling, tile, lying, shift):
                if x1 - x0 >= LEAST_TABLE and y1 - y0 >= self.height(x1 - x0):
                    return n, (x0, y0, x1, y1)
        return None

    def draw(self, page: Page, box: Box) -> None:
        """Draw it at the foot of a free place [mm]."""
        x0, y0, x1, _ = box
        y = y0 + self.height(x1 - x0)
        for line in self.lines:
            y = page.paragraph(x0, y, x1 - x0, line, REST_LETTERS) - 1.0
        if self.template.rows:
            columns = _columns(x1 - x0)
            table(page, x0, y0 + self._table_height(columns) + 0.5, columns, self.template.head, self.template.rows,
                  TABLE_LETTERS)  # fmt: skip

    def _table_height(self, columns: tuple[float, ...]) -> float:
        return sum(row_height(row, columns, TABLE_LETTERS) for row in (self.template.head, *self.template.rows))

    def pages(self, book: Book, title: str) -> list[Proof]:
        """It on pages of their own, all lines once more."""
        template, proofs = self.template, []
        rows, lines = list(template.rows), template.lines if self.lines else ()
        while rows or lines:
            page = book.page(f"{title}: {'holes' if template.rows else 'notes'}", "not to scale", scale_bar=False)
            proofs.append(Proof(scale_bar=False))
            x0, y0, x1, y = page.inside
            for line in lines:
                y = page.paragraph(x0, y, x1 - x0, line, 3.0) - 1.0
            lines = ()
            if not rows:
                break
            _, drawn = table(page, x0, y - 1.0, _columns(x1 - x0), template.head, rows, TABLE_LETTERS, y0)
            if not drawn and y == page.inside[3]:
                break  # a row higher than a page is cut off by no page
            rows = rows[drawn:]
        return proofs


def _columns(wide: float) -> tuple[float, ...]:
    """Widths of the columns of the table of holes [mm]."""
    return tuple(share * wide for share in TABLE)


def _free(
    page: Page, template: Template, tiling: Tiling, tile: Tile, lying: Figure, shift: tuple[float, float]
) -> list[Box]:
    """Bands below and above the drawing of a sheet that nothing lies in (x0, y0, x1, y1) [mm]."""
    import shapely

    window = window_of(page.paper)
    steel = shapely.make_valid(shapely.Polygon(turned_points(template.area, tiling.turned)))
    here = steel.intersection(shapely.box(*_moved(window, -shift[0], -shift[1])))
    if here.is_empty:
        return []
    spans = [(here.bounds[1] + shift[1], here.bounds[3] + shift[1])]
    for item in lying.items:  # numbers of holes and the zero may stand beside the steel
        if isinstance(item, Words) or getattr(item, "role", "") == "zero":
            x0, y0, x1, y1 = _moved(item_box(item), *shift)
            if x0 < window[2] and x1 > window[0] and y0 < window[3] and y1 > window[1]:
                spans.append((y0, y1))
    mine = [s for s in tiling.seams if tile in (s.first, s.second)]
    ahead = any(s.first == tile and s.y0 == s.y1 for s in mine)
    behind = any(s.second == tile and s.y0 == s.y1 for s in mine)
    single = len(tiling.tiles) == 1
    left = window[0] + (MARK_ROOM if any(s.second == tile and s.x0 == s.x1 for s in mine) else 0.0)
    right = window[2] - (MARK_ROOM if any(s.first == tile and s.x0 == s.x1 for s in mine) else 0.0)
    if not single:
        left, right = max(left, window[0] + 2.0), min(right, window[2] - 2.0)
    bands = []
    if not ahead:
        bands.append((left, window[1] + (0.0 if single else 2.0), right, min(a for a, _ in spans) - CLEAR))
    if not behind and not single:
        bands.append((left, max(b for _, b in spans) + CLEAR, right, window[3] - 2.0))
    return bands
