"""What stands in a PDF, read by another library than the one that wrote it, and measured in mm."""

from __future__ import annotations

import ctypes
import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from fixturegen.errors import GeometryFault
from fixturegen.pages.fonts import POINTS
from fixturegen.pages.furniture import INCH_LABEL, MM_LABEL

Point = tuple[float, float]
LEVEL = 1e-3  # [mm] ends of a line this near in height are level
BESIDE = 30.0  # [mm] a bar ends no farther than this from its label
POINTS_A_CURVE = 8  # of the quadrature; exact to 1e-9 of the length for pieces of an arc up to 45 deg


@dataclass(frozen=True)
class Piece:
    """One line (two points) or one cubic curve (four points) of a path [mm]."""

    points: tuple[Point, ...]

    @property
    def length(self) -> float:
        """Length along it [mm]."""
        if len(self.points) == 2:
            return math.dist(*self.points)
        return _curve_length(self.points)


@dataclass(frozen=True)
class ReadPath:
    """One path as drawn: its pieces in order, and whether it was closed.

    Attributes:
        pieces: Lines and curves, the closing line included.
        closed: Whether it ends where it began.
        stroked: Whether its line is drawn.
        filled: Whether it is filled.
        width: Of its line [mm].
    """

    pieces: tuple[Piece, ...]
    closed: bool
    stroked: bool
    filled: bool
    width: float

    @property
    def length(self) -> float:
        """Length along all pieces [mm]."""
        return sum(p.length for p in self.pieces)

    @property
    def box(self) -> tuple[float, float, float, float]:
        """(x0, y0, x1, y1) of points and control points [mm]; of arcs drawn in short pieces a hair too large."""
        xs, ys = zip(*(p for piece in self.pieces for p in piece.points), strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    @property
    def middle(self) -> Point:
        """Middle of the box [mm]: the centre of a circle."""
        x0, y0, x1, y1 = self.box
        return (x0 + x1) / 2.0, (y0 + y1) / 2.0


@dataclass(frozen=True)
class ReadWords:
    """A run of lettering and the box its ink fills [mm]."""

    text: str
    box: tuple[float, float, float, float]


@dataclass(frozen=True)
class ReadPage:
    """One page [mm], measured from its lower left corner.

    Attributes:
        width: [mm].
        height: [mm].
        paths: In the order drawn.
        words: In the order drawn.
        text: All lettering of the page, lines as the reader joins them.
    """

    width: float
    height: float
    paths: tuple[ReadPath, ...]
    words: tuple[ReadWords, ...]
    text: str = field(repr=False)

    @property
    def lines(self) -> tuple[Piece, ...]:
        """Every straight piece of every stroked path."""
        return tuple(p for path in self.paths if path.stroked for p in path.pieces if len(p.points) == 2)

    def circles(self) -> tuple[tuple[float, float, float], ...]:
        """(x, y, diameter) [mm] of every closed path all of whose ends are as far from its middle."""
        found = []
        for path in self.paths:
            if not path.closed or any(len(p.points) != 4 for p in path.pieces):
                continue
            ends = [p.points[0] for p in path.pieces]
            x, y = sum(e[0] for e in ends) / len(ends), sum(e[1] for e in ends) / len(ends)
            radii = [math.dist(e, (x, y)) for e in ends]
            if max(radii) - min(radii) < 0.01:
                found.append((x, y, 2.0 * sum(radii) / len(radii)))
        return tuple(found)


@dataclass(frozen=True)
class ReadFile:
    """A PDF file as read.

    Attributes:
        pages: In order.
        unscaled: Whether the file asks the print window to start without scaling.
    """

    pages: tuple[ReadPage, ...]
    unscaled: bool


def read_pdf(content: bytes) -> ReadFile:
    """The pages of a PDF, measured.

    Args:
        content: The file.

    Raises:
        GeometryFault: When it is not a PDF that can be read.
    """
    import pypdfium2 as pdfium
    import pypdfium2.raw as raw

    try:
        document = pdfium.PdfDocument(content)
    except pdfium.PdfiumError as fault:
        raise GeometryFault(
            "the PDF", f"cannot be read back ({fault})", "build again; if it stays, report it"
        ) from fault
    try:
        pages = tuple(_page(document, raw, i) for i in range(len(document)))
        return ReadFile(pages, not raw.FPDF_VIEWERREF_GetPrintScaling(document.raw))
    finally:
        document.close()


def scale_bars(page: ReadPage) -> tuple[float | None, float | None]:
    """Lengths of the inch bar and of the metric bar of a page [mm]; None where there is none.

    A bar is the longest level line that ends beside its label, at the label's foot.
    """
    found: list[float | None] = []
    for label in (INCH_LABEL, MM_LABEL):
        boxes = [w.box for w in page.words if w.text.strip() == label]
        bars = [
            line.length
            for x, y, _, _ in boxes
            for line in page.lines
            if abs(line.points[0][1] - line.points[1][1]) < LEVEL
            and abs(line.points[0][1] - y) < 1.0
            and 0.0 < x - max(line.points[0][0], line.points[1][0]) < BESIDE
        ]
        found.append(max(bars, default=None))
    return found[0], found[1]


def _page(document: Any, raw: Any, index: int) -> ReadPage:
    page = document[index]
    x0, y0, x1, y1 = page.get_mediabox()
    shift = (1.0, 0.0, 0.0, 1.0, -x0, -y0)
    paths: list[ReadPath] = []
    words: list[ReadWords] = []
    textpage = page.get_textpage()
    try:
        for thing, matrix in _things(raw, page.raw, shift, raw.FPDFPage_CountObjects, raw.FPDFPage_GetObject):
            kind = raw.FPDFPageObj_GetType(thing)
            if kind == raw.FPDF_PAGEOBJ_PATH:
                paths += _paths(raw, thing, matrix)
            elif kind == raw.FPDF_PAGEOBJ_TEXT:
                words.append(_words(raw, thing, textpage.raw, matrix))
        text = textpage.get_text_range()
    finally:
        textpage.close()
        page.close()
    return ReadPage((x1 - x0) / POINTS, (y1 - y0) / POINTS, tuple(paths), tuple(words), text)


def _things(
    raw: Any, holder: Any, outer: tuple[float, ...], count: Any, get: Any
) -> Iterator[tuple[Any, tuple[float, ...]]]:
    """Every object of a page or form with the matrix from its frame to the page [pt]; forms are opened."""
    for k in range(count(holder)):
        thing = get(holder, k)
        if raw.FPDFPageObj_GetType(thing) == raw.FPDF_PAGEOBJ_FORM:
            inner = _times(_matrix(raw, thing), outer)
            yield from _things(raw, thing, inner, raw.FPDFFormObj_CountObjects, raw.FPDFFormObj_GetObject)
        else:
            yield thing, outer


def _matrix(raw: Any, thing: Any) -> tuple[float, ...]:
    m = raw.FS_MATRIX()
    raw.FPDFPageObj_GetMatrix(thing, m)
    return m.a, m.b, m.c, m.d, m.e, m.f


def _times(first: tuple[float, ...], then: tuple[float, ...]) -> tuple[float, ...]:
    a, b, c, d, e, f = first
    g, h, i, j, k, m = then
    return a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + m


def _at(matrix: tuple[float, ...], x: float, y: float) -> Point:
    a, b, c, d, e, f = matrix
    return (a * x + c * y + e) / POINTS, (b * x + d * y + f) / POINTS


def _paths(raw: Any, thing: Any, outer: tuple[float, ...]) -> list[ReadPath]:
    """The path object as one path for each time the pen is set down."""
    matrix = _times(_matrix(raw, thing), outer)
    fill, stroke, width = ctypes.c_int(), ctypes.c_int(), ctypes.c_float()
    raw.FPDFPath_GetDrawMode(thing, fill, stroke)
    raw.FPDFPageObj_GetStrokeWidth(thing, width)
    scale = math.sqrt(abs(matrix[0] * matrix[3] - matrix[1] * matrix[2]))
    drawn = (bool(stroke.value), bool(fill.value), width.value * scale / POINTS)
    found: list[ReadPath] = []
    pieces: list[Piece] = []
    start = here = (0.0, 0.0)
    curve: list[Point] = []
    x, y = ctypes.c_float(), ctypes.c_float()
    for k in range(raw.FPDFPath_CountSegments(thing)):
        segment = raw.FPDFPath_GetPathSegment(thing, k)
        raw.FPDFPathSegment_GetPoint(segment, x, y)
        point = _at(matrix, x.value, y.value)
        kind = raw.FPDFPathSegment_GetType(segment)
        if kind == raw.FPDF_SEGMENT_MOVETO:
            if pieces:
                found.append(ReadPath(tuple(pieces), False, *drawn))
            pieces, curve, start = [], [], point
        elif kind == raw.FPDF_SEGMENT_LINETO:
            pieces.append(Piece((here, point)))
        else:
            curve.append(point)
            if len(curve) < 3:
                continue
            pieces.append(Piece((here, *curve)))
            curve = []
        here = point
        if raw.FPDFPathSegment_GetClose(segment):
            if math.dist(here, start) > LEVEL:
                pieces.append(Piece((here, start)))
            found.append(ReadPath(tuple(pieces), True, *drawn))
            pieces, here = [], start
    if pieces:
        found.append(ReadPath(tuple(pieces), False, *drawn))
    return found


def _words(raw: Any, thing: Any, textpage: Any, outer: tuple[float, ...]) -> ReadWords:
    n = raw.FPDFTextObj_GetText(thing, textpage, None, 0)
    buffer = (ctypes.c_ushort * max(1, n // 2))()
    raw.FPDFTextObj_GetText(thing, textpage, buffer, n)
    text = bytes(buffer).decode("utf-16-le", "replace").rstrip("\0")
    left, low, right, high = (ctypes.c_float() for _ in range(4))
    raw.FPDFPageObj_GetBounds(thing, left, low, right, high)
    a, b = _at(outer, left.value, low.value), _at(outer, right.value, high.value)
    return ReadWords(text, (min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1])))


@cache
def _quadrature() -> tuple[tuple[float, float], ...]:
    import numpy as np

    at, weight = np.polynomial.legendre.leggauss(POINTS_A_CURVE)
    return tuple((float(0.5 * (t + 1.0)), float(0.5 * w)) for t, w in zip(at, weight, strict=True))


def _curve_length(points: tuple[Point, ...]) -> float:
    """Length of a cubic curve [mm], by Gauss's quadrature of its speed."""
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = points
    total = 0.0
    for t, weight in _quadrature():
        s = 1.0 - t
        u = 3.0 * (s * s * (bx - ax) + 2.0 * s * t * (cx - bx) + t * t * (dx - cx))
        v = 3.0 * (s * s * (by - ay) + 2.0 * s * t * (cy - by) + t * t * (dy - cy))
        total += weight * math.hypot(u, v)
    return total
