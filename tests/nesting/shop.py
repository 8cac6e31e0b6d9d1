"""Invented parts and sheets for the tests of nesting, and their layout as polygons of another library."""

import math

from shapely.geometry import Polygon
from shapely.ops import unary_union

from fixturegen.nesting.records import Blank, Layout, Put, StockSheet
from fixturegen.plate.profile import Loop, Vertex, circle, polyline, rectangle

HALF = (0.0, 180.0)


def corners(*points: tuple[float, float]) -> Loop:
    return tuple(Vertex(x, y, 0.0) for x, y in points)


WEDGE = corners((0.0, 0.0), (180.0, 0.0), (0.0, 120.0))
BRACKET = corners((0.0, 0.0), (220.0, 0.0), (220.0, 50.0), (60.0, 50.0), (60.0, 160.0), (0.0, 160.0))
EYE = (Vertex(0.0, -30.0), Vertex(120.0, -30.0, 1.0), Vertex(120.0, 30.0), Vertex(0.0, 30.0, 1.0))
HOLLOW = (Vertex(0.0, 0.0), Vertex(140.0, 0.0), Vertex(140.0, 90.0, -0.5), Vertex(0.0, 90.0))  # arc cut into the steel
STAND = Blank("stand", rectangle(0.0, 0.0, 400.0, 300.0), (rectangle(60.0, 60.0, 340.0, 240.0),), 2)
PARTS = (
    STAND,
    Blank("wedge", WEDGE, (), 6),
    Blank("bracket", BRACKET, (circle(30.0, 30.0, 20.0),), 4, HALF),
    Blank("eye", EYE, (circle(0.0, 0.0, 30.0),), 5),
    Blank("hollow", HOLLOW, (), 3),
    Blank("tab", rectangle(0.0, 0.0, 45.0, 25.0), (), 8),
)
SHEETS = (StockSheet("full", 2400.0, 800.0, 2, "x"), StockSheet("remnant", 700.0, 450.0, 1, "x"))
SPACING, EDGE = 8.0, 12.0


def polygon(put: Put, blank: Blank, deviation: float = 0.001) -> Polygon:
    """The copy where it lies, arcs as chords within a deviation [mm], turned and moved by formulas of our own."""
    a = math.radians(put.angle)

    def there(loop: Loop) -> list[tuple[float, float]]:
        return [
            (put.x + x * math.cos(a) - y * math.sin(a), put.y + x * math.sin(a) + y * math.cos(a))
            for x, y in polyline(loop, deviation)
        ]

    return Polygon(there(blank.outer), [there(opening) for opening in blank.openings])


def short_distances(layout: Layout, blanks: tuple[Blank, ...], less: float) -> list[str]:
    """Pairs nearer than the spacing less `less` [mm], by shapely."""
    by_name = {b.name: b for b in blanks}
    found = []
    placed: list[tuple[Put, Polygon]] = []
    for put in layout.puts:
        here = polygon(put, by_name[put.blank])
        for other, there in placed:
            same = (put.sheet, put.number) == (other.sheet, other.number)
            if same and (here.distance(there) < layout.spacing - less or here.intersection(there).area > 1e-3):
                found.append(f"{put.blank} #{put.copy}, {other.blank} #{other.copy}: {here.distance(there)}")
        placed.append((put, here))
    return found


def steel_on(layout: Layout, blanks: tuple[Blank, ...], sheet: str, number: int) -> float:
    """Area of the union of what lies on one sheet [mm2], by shapely."""
    by_name = {b.name: b for b in blanks}
    here = [polygon(p, by_name[p.blank]) for p in layout.puts if (p.sheet, p.number) == (sheet, number)]
    return float(unary_union(here).area)
