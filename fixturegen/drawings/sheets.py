"""The sheets of a drawing: paper, borders, the block with what the part is, and tables over several sheets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise, zip_longest
from typing import Literal

from fixturegen.drawings.boards import LEADING, NORMAL, SMALL, Board, Frame, words_width
from fixturegen.drawings.record import Page
from fixturegen.drawings.written import Units
from fixturegen.pages import PAPERS, Paper, free_room
from fixturegen.pages.figure import Figure, broken

PaperName = Literal["letter", "a4"]
BAND = 20.5  # [mm] height of the band with what the part is, over the title block of the page
SLIM = 6.0  # [mm] height of the same on pages that show no part: its name and what is counted from
GAP = 1.0  # [mm]
ROOM = 1.2  # [mm] round the words of a cell
LINE = 0.9  # [mm] between the rows of a table, rule included
TIGHT = 0.4  # [mm] the same where it saves a page
SPARE = 0.25  # of a page: a last page that is filled less is worth trying to save
HANDS = {"L": "LEFT", "R": "RIGHT"}
POUND = 0.45359237  # [kg] exact by definition


@dataclass(frozen=True)
class Subject:
    """What a drawing says of a part beside its shape.

    Attributes:
        name: Slug, as marked on the steel and as its files are called.
        label: In the words people use.
        job: Name of the job.
        revision: Of the sheet.
        units: Of the job.
        paper: Drawn for.
        material: In words, thickness included.
        quantity: To make; 0 for an assembly.
        mass: Of one [kg]; None when it was not weighed.
        hand: L, R or None.
        tolerance: General tolerance with its source.
        places: How true holes stand that set an angle or a place, with its source.
        zero: What is counted from.
        caution: Printed over the block.
    """

    name: str
    label: str
    job: str
    revision: str
    units: Units
    paper: PaperName
    material: str = ""
    quantity: int = 0
    mass: float | None = None
    hand: str | None = None
    tolerance: str = ""
    places: str = ""
    zero: str = ""
    caution: str = ""


def board_for(paper: PaperName, *, wide: bool) -> Board:
    """An empty page.

    Args:
        paper: Letter or A4.
        wide: Lying on its long side.
    """
    p = PAPERS[paper].lying if wide else PAPERS[paper]
    return Board(p.width, p.height)


def field_of(board: Board, *, slim: bool = False) -> Frame:
    """Room for drawing, over the title block and the band with what the part is [mm].

    Args:
        board: The page.
        slim: Whether it is a page of tables or an assembly: its band is a single line.
    """
    x0, y0, x1, y1 = free_room(Paper("", board.width, board.height), False)
    return Frame(x0, y0 + (SLIM if slim else BAND) + GAP, x1, y1)


def mass_words(mass: float | None) -> str:
    """Mass in lb and kg, or that it was not weighed; mass [kg]."""
    return "not weighed" if mass is None else f"{mass / POUND:.2f} lb [{mass:.3f} kg]"


def finished(pages: Sequence[Page], subject: Subject) -> tuple[Page, ...]:
    """The pages with the band that says what the part is.

    Args:
        pages: Without it.
        subject: What they show.
    """
    made = []
    for page in pages:
        board = Board(page.width, page.height)
        board.figure.items = list(page.items)
        if page.views and subject.quantity:
            _band(board, subject)
        else:
            _slim_band(board, subject)
        made.append(replace(page, items=tuple(board.figure.items)))
    return tuple(made)


def _band(board: Board, subject: Subject) -> None:
    field, s = field_of(board), subject
    x0, x1, top = field.x0, field.x1, field.y0 - GAP
    low, wide = top - BAND, x1 - x0
    middle = top - 8.0
    board.box(Frame(x0, low, x1, top))
    board.line((x0, middle), (x1, middle), "thin")
    cells = [
        ("material", s.material, 0.42),
        ("quantity", str(s.quantity), 0.10),
        ("mass of one", mass_words(s.mass), 0.24),
    ]
    cells += [("hand", HANDS.get(s.hand or "", "none"), 0.10), ("part", s.name, 0.24)]
    total, x = sum(share for _, _, share in cells), x0
    for k, (head, words, share) in enumerate(cells):
        room = share / total * wide
        if k:
            board.line((x, middle), (x, top), "thin")
        board.text(x + ROOM, top - 2.6, head, 1.7)
        board.figure.fitted(x + ROOM, middle + 1.4, room - 2.0 * ROOM, words, NORMAL, bold=head == "hand")
        x += room
    y = middle - SMALL * LEADING - 0.5
    board.figure.fitted(x0 + ROOM, y + 0.6, wide - 2.0 * ROOM, f"ZERO: {s.zero}" if s.zero else "", SMALL, bold=True)
    told = f"{s.tolerance} Work to the figures, never measure the drawing.".strip()
    for line in _lines(told, wide - 2.0 * ROOM, SMALL)[:2]:
        y -= SMALL * LEADING
        board.text(x0 + ROOM, y + 0.6, line, SMALL)


def _slim_band(board: Board, subject: Subject) -> None:
    """One line: what it is of, how many, which hand, and what its figures count from."""
    field, s = field_of(board, slim=True), subject
    top = field.y0 - GAP
    board.box(Frame(field.x0, top - SLIM, field.x1, top))
    if s.quantity:
        words = [s.name, f"make {s.quantity}", *((HANDS[s.hand],) if s.hand in HANDS else ()), f"ZERO: {s.zero}"]
    else:
        words = [s.name, f"ZERO: {s.zero}", "Work to the figures, never measure the drawing."]
    x, y = field.x0 + ROOM, top - SLIM / 2.0 - 0.5 * NORMAL
    board.figure.fitted(x, y, field.width - 2.0 * ROOM, "   \N{MIDDLE DOT}   ".join(words), NORMAL, bold=True)


@lru_cache(maxsize=4096)
def _lines(words: str, width: float, size: float) -> list[str]:
    if "\n" not in words and words_width(words, size) <= width:
        return [words]
    return broken(words, width, size)


@dataclass(frozen=True)
class Table:
    """A table to be set over as many sheets as it takes.

    Attributes:
        title: Over it.
        heads: Of its columns.
        rows: Words by row and column.
        shares: Width of the columns, of the whole.
        under: Words set under each row over the whole width, from the second column on; none where empty.
        name: In the heading of a page that has some of it; empty where the page is called otherwise.
    """

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    shares: tuple[float, ...]
    under: tuple[str, ...] = ()
    name: str = ""


@dataclass(frozen=True)
class Words:
    """A heading with paragraphs under it, each with a mark of its own.

    Attributes:
        title: Over them.
        lines: The paragraphs.
        size: Height of capitals [mm].
        mark: Before each; empty where the paragraphs carry numbers.
        name: In the heading of a page, as of a table.
    """

    title: str
    lines: tuple[str, ...]
    size: float = NORMAL
    mark: str = "\N{EN DASH}"
    name: str = ""


def flowed(blocks: Sequence[Table | Words], paper: PaperName, *, wide: bool, heading: str) -> list[Page]:
    """Pages with tables and words one under the other; a table's head stands on each of its pages.

    Args:
        blocks: In order; empty ones are left out.
        paper: Letter or A4.
        wide: Whether the pages lie on their long side.
        heading: Of the pages whose blocks have no name.
    """
    flow = _Flow(paper, wide, heading)
    flow.set(blocks)
    if flow.pages and flow.y > flow.frame.y1 - SPARE * flow.frame.height:
        tight = _Flow(paper, wide, heading, TIGHT)
        tight.set(blocks)
        flow = tight if len(tight.pages) < len(flow.pages) else flow
    return flow.done()


def set_alone(blocks: Sequence[Table | Words], paper: PaperName, *, tight: bool = False) -> tuple[Figure, float] | None:
    """Tables and words as one drawing, its upper edge at 0, and its height [mm]; none where they fill a page.

    Args:
        blocks: In order; empty ones are left out.
        paper: Letter or A4; they are as wide as its upright page.
        tight: With rows as close as can be read.
    """
    flow = _Flow(paper, False, "", TIGHT if tight else LINE)
    top = flow.y
    flow.set(blocks)
    if flow.pages:
        return None
    moved = Figure()
    moved.place(flow.board.figure, 0.0, -top)
    return moved, top - flow.y


def listed(names: Sequence[str]) -> str:
    """Names in words: "notes", "holes and notes", "holes, outline and notes"."""
    return " and ".join(part for part in (", ".join(names[:-1]), *names[-1:]) if part)


class _Flow:
    """Pages being filled from the top."""

    def __init__(self, paper: PaperName, wide: bool, heading: str, line: float = LINE) -> None:
        self.paper, self.wide, self.heading, self.line = paper, wide, heading, line
        self.pages: list[Page] = []
        self.shown: list[str] = []
        self.board = board_for(paper, wide=wide)
        self.frame = field_of(self.board, slim=True)
        self.y = self.frame.y1 - 2.0

    def set(self, blocks: Sequence[Table | Words]) -> None:
        for block in blocks:
            if isinstance(block, Table):
                self.table(block)
            else:
                self.words(block)

    def done(self) -> list[Page]:
        if self.board.figure.items:
            self._turn()
        return self.pages

    def _turn(self) -> None:
        # a page is called by what is on it, where its blocks have names for that
        self.pages.append(self.board.page(listed(self.shown) or self.heading, "no scale"))
        self.shown = []
        self.board = board_for(self.paper, wide=self.wide)
        self.frame = field_of(self.board, slim=True)
        self.y = self.frame.y1 - 2.0

    def _need(self, height: float) -> bool:
        """Whether a page was turned, since that much was not left."""
        if self.y - height >= self.frame.y0 + 1.0:
            return False
        self._turn()
        return True

    def words(self, block: Words) -> None:
        if not block.lines:
            return
        self._need(12.0)
        x0, x1 = self.frame.x0 + 2.0, self.frame.x1 - 2.0
        self._title(block.title, x0)
        for line in block.lines:
            for k, row in enumerate(_lines(line, x1 - x0 - 5.0, block.size)):
                step = block.size * LEADING
                self._need(step)
                self._show(block.name)
                self.y -= step
                if k == 0:
                    self.board.text(x0, self.y + 0.8, block.mark, block.size)
                self.board.text(x0 + (4.0 if block.mark else 0.0), self.y + 0.8, row, block.size)
            self.y -= min(0.8, self.line)
        self.y -= 3.0

    def _title(self, title: str, x0: float) -> None:
        self.y -= 5.0
        self.board.figure.fitted(x0, self.y + 0.5, self.frame.x1 - x0, title, 3.2, bold=True)
        self.y -= 2.0

    def table(self, table: Table) -> None:
        if not table.rows:
            return
        x0, x1 = self.frame.x0 + 2.0, self.frame.x1 - 2.0
        edges = [x0]
        for share in table.shares:
            edges.append(edges[-1] + share / sum(table.shares) * (x1 - x0))
        self._need(22.0)
        self._title(table.title, x0)
        self._row(table.heads, edges, bold=True)
        for row, under in zip_longest(table.rows, table.under, fillvalue=""):
            more = _lines(under, edges[-1] - edges[1] - 2.0 * ROOM, SMALL) if under else []
            if self._need(self._height(self._cells(row, edges)) + len(more) * SMALL * LEADING):
                self._title(f"{table.title}, continued", x0)
                self._row(table.heads, edges, bold=True)
            self._row(row, edges, under=more)
            self._show(table.name)
        self.y -= 4.0

    def _show(self, name: str) -> None:
        if name and name not in self.shown:
            self.shown.append(name)

    def _height(self, cells: Sequence[Sequence[str]]) -> float:
        return max(len(lines) for lines in cells) * SMALL * LEADING + self.line

    @staticmethod
    def _cells(row: Sequence[str], edges: Sequence[float]) -> list[list[str]]:
        rooms = [b - a - 2.0 * ROOM for a, b in pairwise(edges)]
        return [_lines(words, room, SMALL) for words, room in zip(row, rooms, strict=True)]

    def _row(
        self, row: Sequence[str], edges: Sequence[float], *, bold: bool = False, under: Sequence[str] = ()
    ) -> None:
        cells = self._cells(row, edges)
        top, self.y = self.y, self.y - self._height(cells)
        for line in under:
            self.y -= SMALL * LEADING
            self.board.text(edges[1] + ROOM, self.y + LINE, line, SMALL)
        for x, lines in zip(edges, cells, strict=False):
            at = top
            for line in lines:
                at -= SMALL * LEADING
                self.board.text(x + ROOM, at + 0.5, line, SMALL, bold=bold)
        self.board.line((edges[0], self.y), (edges[-1], self.y), "thin")
        if bold:
            self.board.line((edges[0], top), (edges[-1], top), "frame")
            self.board.line((edges[0], self.y), (edges[-1], self.y), "frame")
