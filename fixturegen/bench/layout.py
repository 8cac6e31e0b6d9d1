"""A station on paper: big type, planned value beside an empty box, and a page more wherever there is no room left."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from fixturegen.bench.records import Listing, Reading, Station
from fixturegen.pages import FINE, PLAIN, Book, Page, Paper, Pen, TitleBlock, write_in
from fixturegen.pages.figure import LEADING, broken

TITLE = 6.0  # [mm] height of capitals
SMALL = 2.7  # [mm] height of capitals of what is looked up, not worked by
TICK = 6.0  # [mm] side of a box to tick
APART = 1.2  # [mm] more between boxes to tick than the room of a row leaves
NAME = 1.9  # [mm] height of the small name in a box
UNITS = ("mm", "in", "deg")
BETWEEN = 5.0  # [mm] between the two columns of assumptions
LEAST_FILL = 0.33  # of a last page: with less on it the sheet is set closer
CAUTION = Pen(0.9, "#b3261e")
SHADE = Pen(0.0, fill="#e4e4e4")
ROWS_KEPT = 3  # of a list with its heading
BAND_ROOM = 2.0  # [mm] above and below the title in its band
BAND = Pen(0.0, fill="#1a1a1a")
SIGNED = (("Initials", 30.0), ("Date", 34.0), ("Local rule that applies", 62.0), ("Inspector", 0.0))
SIGN_HIGH = 14.0  # [mm] boxes to sign in


@dataclass(frozen=True)
class Spacing:
    """How close a sheet is set.

    Attributes:
        text: Height of capitals, read at arm's length through safety glasses [mm] (common practice, no source).
        room: From a rule to the lettering [mm].
        row: Least height of a row of a table [mm].
        write: Least height of a box to write in by hand with a marker [mm].
        blocks: Between blocks [mm].
    """

    text: float
    room: float
    row: float
    write: float
    blocks: float


# the widest that leaves no page with a lone line on it
SPACINGS = (Spacing(3.3, 2.0, 8.0, 11.0, 4.5), Spacing(3.2, 1.6, 7.2, 10.5, 4.0), Spacing(3.0, 1.3, 6.8, 10.0, 3.5))


def station_pdf(station: Station, number: str, block: TitleBlock, paper: Paper) -> tuple[bytes, int]:
    """The sheet of a station as PDF, and how many pages it has.

    Args:
        station: What it says.
        number: Which sheet of how many, like "2 of 7".
        block: Title block of the job.
        paper: Letter or A4.
    """
    tried = []
    for spacing in SPACINGS:
        book = Book(f"{station.title}: {block.job}", block, paper)
        flow = _Flow(book, station, number, spacing)
        flow.cautions()
        flow.assumed()
        flow.readings()
        flow.steps()
        for listing in station.lists:
            flow.listing(listing)
        tried.append(book)
        if len(book.pages) == 1 or flow.fill >= LEAST_FILL:
            break
    else:
        book = min(tried, key=lambda b: len(b.pages))
    return book.pdf(), len(book.pages)


def unbroken(text: str, width: float, size: float, bold: bool = False) -> str:
    """The text, with line feeds where a bracket would be broken inside or a unit part from its number.

    "1.001 in" stands over "(25.43 mm)"; where no line feed helps it is the text as it was.

    Args:
        text: Of a cell.
        width: Of the cell [mm].
        size: Height of capitals [mm].
        bold: In bold letters.
    """
    if _whole(broken(text, width, size, bold)):
        return text
    tries = (
        text.replace(" (", "\n("),
        text.replace(", ", ",\n"),
        text.replace("; ", ";\n"),
        _carried(broken(text, width, size, bold)),
    )
    return next((t for t in tries if _whole(broken(t, width, size, bold))), text)


def _carried(lines: Sequence[str]) -> str:
    """The lines, the number of a unit that begins one taken down to it."""
    found: list[str] = []
    for line in lines:
        if found and line.split(" ")[0].rstrip(".,;)") in UNITS:
            found[-1], _, number = found[-1].rpartition(" ")
            line = f"{number} {line}"
        found.append(line)
    return "\n".join(row for row in found if row)


def _whole(lines: Sequence[str]) -> bool:
    """Whether no line breaks a bracket or parts a number from its unit."""
    brackets = all(line.count("(") == line.count(")") for line in lines)
    return brackets and not any(line.split(" ")[0].rstrip(".,;)") in UNITS for line in lines[1:])


class _Flow:
    """Blocks one under the other; what finds no room goes onto a new page."""

    def __init__(self, book: Book, station: Station, number: str, spacing: Spacing) -> None:
        self.book, self.station, self.number, self.set = book, station, number, spacing
        self.page: Page
        self.y = 0.0
        self._turn()

    def _turn(self) -> None:
        """Begin a page, with the band of the station on top and what is zero under it."""
        more = " (continued)" if self.book.pages else ""
        self.page = self.book.page(f"{self.station.title}{more}", "not to scale", scale_bar=False)
        self.x0, self.low, self.x1, top = self.page.inside
        high = TITLE + 2.0 * BAND_ROOM + 1.0
        self.page.rect(self.x0, top - high, self.x1, top, BAND)
        white = "#ffffff"
        base = top - high + BAND_ROOM + 1.0
        self.page.fitted(self.x0 + 3.0, base, self.wide - 52.0, self.station.title.upper(), TITLE, "start", True, white)
        self.page.text(self.x1 - 3.0, base, f"Sheet {self.number}", 4.0, "end", 0.0, True, white)
        self.y = top - high - 3.0
        if more:
            return
        # who signs, signs the first page
        self._signed()
        self.low += SIGN_HIGH + 2.0
        self.y = self.page.paragraph(self.x0, self.y, self.wide, self.station.zero, self.set.text, bold=True) - 1.0

    @property
    def fill(self) -> float:
        """How much of the last page is filled, as a share of the room it has."""
        _, low, _, top = self.page.inside
        return (top - self.y) / (top - low)

    @property
    def wide(self) -> float:
        """Width there is [mm]."""
        return self.x1 - self.x0

    def _room(self, high: float, head: Callable[[], None] | None = None) -> None:
        """Turn the page when a block [mm] has no room; then draw its head again."""
        if self.y - high < self.low:
            self._turn()
            if head is not None:
                head()

    def _heading(self, words: str) -> None:
        self.y -= self.set.blocks + 4.2
        self.page.fitted(self.x0, self.y, self.wide, words, 4.2, bold=True)
        self.y -= 2.6

    def cautions(self) -> None:
        """What can hurt, framed."""
        if not self.station.cautions:
            return
        room = self.wide - 8.0
        lines = [broken(f"- {c}", room, SMALL, True) for c in self.station.cautions]
        high = sum(len(rows) for rows in lines) * LEADING * SMALL + 2.0 * self.set.room
        self._room(high)
        top = self.y
        self.page.rect(self.x0 + 0.5, top - high, self.x1 - 0.5, top, CAUTION)
        y = top - self.set.room
        for caution in self.station.cautions:
            y = self.page.paragraph(self.x0 + 4.0, y, room, f"- {caution}", SMALL, bold=True)
        self.y = top - high

    def assumed(self) -> None:
        """What was not measured and is used here."""
        if not self.station.assumed:
            return
        column = (self.wide - BETWEEN) / 2.0
        half = -(-len(self.station.assumed) // 2)
        sides = (self.station.assumed[:half], self.station.assumed[half:])
        lines = [sum(len(broken(f"- {words}", column, SMALL)) for words in side) for side in sides]
        high = self.set.blocks + 6.8 + max(lines) * LEADING * SMALL
        self._room(high)
        self._heading("Assumed, not measured: look at these first")
        top = self.y
        ends = []
        for k, side in enumerate(sides):
            y = top
            for words in side:
                y = self.page.paragraph(self.x0 + k * (column + BETWEEN), y, column, f"- {words}", SMALL)
            ends.append(y)
        self.y = min(ends)

    def readings(self) -> None:
        """Planned value, limit and tool, and a box for each value to be read."""
        readings = self.station.readings
        if not readings:
            return
        self._room(self.set.blocks + 30.0)
        self._heading("Set and read")
        self._reading_head()
        for reading in readings:
            high = self._reading_height(reading)
            self._room(high, self._reading_head)
            self._reading(reading, high)

    def _columns(self) -> tuple[float, float, float, float, float]:
        """Left edges of what, planned, within, tool and boxes [mm]."""
        shares = (0.0, 0.235, 0.45, 0.612, 0.785)
        a, b, c, d, e = (self.x0 + share * self.wide for share in shares)
        return a, b, c, d, e

    def _reading_head(self) -> None:
        high = SMALL + 2.0 * self.set.room
        self.page.rect(self.x0, self.y - high, self.x1, self.y, SHADE)
        for x, words in zip(self._columns(), ("What", "Planned", "Good within", "Tool", "Found"), strict=True):
            self.page.text(x + 1.2, self.y - high + self.set.room, words, SMALL, bold=True)
        self.y -= high

    def _cells(self, reading: Reading) -> list[tuple[float, float, str, float, bool]]:
        """(left, width, text, size, bold) of each cell [mm]."""
        edges = (*self._columns(), self.x1)
        texts = (reading.what, reading.planned, reading.within, reading.tool)
        sizes, bolds = (
            (self.set.text - 0.3, self.set.text, self.set.text - 0.3, SMALL - 0.2),
            (False, True, False, False),
        )
        rows = zip(edges, edges[1:], texts, sizes, bolds, strict=False)
        return [(a, b - a - 2.4, unbroken(t, b - a - 2.4, s, w), s, w) for a, b, t, s, w in rows]

    def _reading_height(self, reading: Reading) -> float:
        high = [len(broken(t, w, s, b)) * LEADING * s for _, w, t, s, b in self._cells(reading)]
        if reading.beside:
            width = self._cells(reading)[1][1]
            high[1] += len(broken(unbroken(reading.beside, width, SMALL), width, SMALL)) * LEADING * SMALL
        most = max(high)
        return max(most + self.set.room, self.set.write * -(-len(reading.boxes) // 2) + 1.0)

    def _reading(self, reading: Reading, high: float) -> None:
        for left, width, text, size, bold in self._cells(reading):
            low = self.page.paragraph(left + 1.2, self.y - 1.2, width, text, size, bold)
            if bold and reading.beside:
                self.page.paragraph(left + 1.2, low, width, unbroken(reading.beside, width, SMALL), SMALL)
        start = self._columns()[-1]
        side_by_side = 2 if len(reading.boxes) > 1 else 1
        rows = -(-len(reading.boxes) // side_by_side)
        each = (self.x1 - start) / side_by_side
        tall = high / rows
        for k, label in enumerate(reading.boxes):
            row, column = divmod(k, side_by_side)
            x, y = start + column * each, self.y - (row + 1) * tall
            write_in(self.page, x, y, each, tall, label, NAME)
        self.y -= high
        self.page.line(self.x0, self.y, self.x1, self.y, FINE)

    def steps(self) -> None:
        """What to do, in order, each with a box to tick."""
        if not self.station.steps:
            return
        self._room(self.set.blocks + 25.0)
        self._heading("In this order")
        left = self.x0 + TICK + 13.0
        for number, step in enumerate(self.station.steps, 1):
            high = (
                max(len(broken(step, self.x1 - left, self.set.text)) * LEADING * self.set.text, TICK + APART)
                + self.set.room
            )
            self._room(high)
            self.page.rect(self.x0, self.y - TICK - 0.8, self.x0 + TICK, self.y - 0.8, PLAIN)
            self.page.text(left - 2.0, self.y - 0.8 - self.set.text, f"{number}.", self.set.text, "end", bold=True)
            self.page.paragraph(left, self.y - 0.8, self.x1 - left, step, self.set.text)
            self.y -= high

    def listing(self, listing: Listing) -> None:
        """A table whose rows end with a box."""
        if not listing.rows:
            return
        note = len(broken(listing.note, self.wide, SMALL)) * LEADING * SMALL if listing.note else 0.0
        edges = self._edges(listing)
        # no heading with a lone row under it
        first = sum(self._row_height((*row, ""), edges, self.set.text - 0.4) for row in listing.rows[:ROWS_KEPT])
        self._room(self.set.blocks + note + 17.0 + first)
        self._heading(listing.title)
        if listing.note:
            self.y = self.page.paragraph(self.x0, self.y, self.wide, listing.note, SMALL) - 1.0

        def head() -> None:
            self._row((*listing.head, listing.box), edges, SMALL, True, 0.0)

        head()
        for row in listing.rows:
            cells = (*row, "")
            high = self._row_height(cells, edges, self.set.text - 0.4)
            self._room(high, head)
            self._row(cells, edges, self.set.text - 0.4, False, high)

    def _edges(self, listing: Listing) -> list[float]:
        box = listing.box_share * self.wide if listing.box else 0.0
        whole = sum(listing.shares)
        edges = [self.x0]
        for share in listing.shares:
            edges.append(edges[-1] + share / whole * (self.wide - box))
        return [*edges, self.x1]

    def _row_height(self, cells: Sequence[str], edges: list[float], size: float, bold: bool = False) -> float:
        widths = [max(b - a - 2.4, 1.0) for a, b in pairwise(edges)]
        most = max(len(broken(unbroken(c, w, size, bold), w, size, bold)) for c, w in zip(cells, widths, strict=False))
        return max(most * LEADING * size + self.set.room, self.set.row)

    def _row(self, cells: Sequence[str], edges: list[float], size: float, bold: bool, high: float) -> None:
        high = high or self._row_height(cells, edges, size, bold)
        if bold:
            self.page.rect(self.x0, self.y - high, self.x1, self.y, SHADE)
        for (a, b), text in zip(pairwise(edges), cells, strict=False):
            if b - a > 1.0:
                wide = b - a - 2.4
                self.page.paragraph(a + 1.2, self.y - 1.2, wide, unbroken(text, wide, size, bold), size, bold)
        for edge in edges:
            self.page.line(edge, self.y, edge, self.y - high, FINE)
        self.y -= high
        self.page.line(self.x0, self.y, self.x1, self.y, FINE)

    def _signed(self) -> None:
        """Boxes for initials, date, the local rule and the local inspector, at the foot of the page."""
        y, x = self.low + 1.0, self.x0
        for label, width in SIGNED:
            wide = width or self.x1 - x
            write_in(self.page, x, y, wide, SIGN_HIGH, label)
            x += wide
