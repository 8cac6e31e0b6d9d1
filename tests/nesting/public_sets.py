"""Public sets of irregular outlines, as published, and the best strip lengths published for them.

Outlines: albano (Albano and Sapuppo 1980), fu (Fujita, Akagi and Hirokawa 1993), shapes1 (Oliveira,
Gomes and Ferreira 2000), trousers (the same), as collected by ESICUP, the EURO group on cutting and
packing. Best lengths and densities: Elkeran 2013, guided cuckoo search, from memory; lengths by the
brief of this work. Lengths are in the sets' own units and are taken as `SCALE` mm each.
"""

from dataclasses import dataclass

from fixturegen.nesting.records import Blank, StockSheet
from fixturegen.plate.profile import Vertex

HALVES = (0.0, 180.0)
QUARTERS = (0.0, 90.0, 180.0, 270.0)
Corners = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class PublicSet:
    """A set: strip height, best length, (quantity, corners) of each piece, and what is told about it."""

    height: float
    best: float
    density: float
    turns: tuple[float, ...]
    scale: float
    pieces: tuple[tuple[int, Corners], ...]

    @property
    def blanks(self) -> tuple[Blank, ...]:
        """The pieces as blanks [mm]."""
        k = self.scale
        return tuple(
            Blank(f"piece-{i:02}", tuple(Vertex(k * x, k * y, 0.0) for x, y in corners), (), n, self.turns)
            for i, (n, corners) in enumerate(self.pieces)
        )

    @property
    def strip(self) -> StockSheet:
        """A strip of the set's height, long enough for anything [mm]."""
        return StockSheet("strip", 2.0 * self.scale * self.best, self.scale * self.height)


def box(n: int, x: float, y: float) -> tuple[int, Corners]:
    return n, ((0, 0), (x, 0), (x, y), (0, y))


SETS = {
    "albano": PublicSet(
        4900,
        9718,
        0.8958,
        HALVES,
        0.1,
        (
            (
                2,
                (
                    (0, 86),
                    (966, 142),
                    (1983, 0),
                    (2185, 238),
                    (2734, 217),
                    (3000, 767),
                    (2819, 900),
                    (2819, 1360),
                    (3000, 1493),
                    (2734, 2043),
                    (2185, 2022),
                    (1983, 2260),
                    (966, 2118),
                    (0, 2174),
                ),
            ),
            box(2, 3034, 261),
            (4, ((0, 173), (1761, 0), (2183, 650), (2183, 1010), (1761, 1660), (0, 1487))),
            (4, ((74, 0), (870, 119), (1666, 0), (1740, 125), (870, 305), (0, 125))),
            (4, ((0, 0), (411, 65), (800, 0), (1189, 65), (1600, 0), (1500, 368), (800, 286), (100, 368))),
            box(4, 936, 659),
            (2, ((56, 73), (1066, 143), (1891, 0), (2186, 288), (2573, 241), (2676, 926), (2594, 1366), (0, 1366))),
            (2, ((0, 0), (2499, 0), (2705, 387), (2622, 934), (2148, 967), (1920, 1152), (1061, 1059), (0, 1125))),
        ),
    ),
    "fu": PublicSet(
        38,
        30.84,
        0.9241,
        QUARTERS,
        10,
        (
            box(2, 10, 10),
            box(1, 14, 9),
            (1, ((0, 0), (14, 0), (7, 7))),
            (1, ((0, 9), (0, 0), (14, 9))),
            box(1, 14, 14),
            (1, ((0, 0), (10, 4), (10, 9), (0, 9))),
            box(1, 5, 9),
            (1, ((0, 0), (14, 0), (14, 14))),
            (1, ((0, 0), (10, 0), (10, 10), (0, 14))),
            (1, ((0, 8), (4, 0), (8, 8))),
            (1, ((0, 0), (14, 0), (7, 12))),
        ),
    ),
    "shapes1": PublicSet(
        40,
        52.0,
        0.7673,
        HALVES,
        10,
        (
            (15, ((0, 0), (2, 0), (2, 3), (12, 3), (12, 0), (14, 0), (14, 5), (0, 5))),
            (7, ((0, 0), (6, -6), (12, 0), (6, 6))),
            (9, ((0, 0), (6, 0), (6, -2), (7, -2), (11, 2), (11, 4), (8, 4), (8, 1), (2, 1), (2, 4), (0, 4))),
            (12, ((0, 0), (2, 0), (2, -2), (4, -2), (4, 0), (6, 0), (6, 2), (4, 2), (4, 4), (2, 4), (2, 2), (0, 2))),
        ),
    ),
    "trousers": PublicSet(
        79,
        239.3,
        0.91,
        HALVES,
        10,
        (
            (8, ((0, 0), (12, -1), (14, -3), (24, 0), (33, 1), (59, 2), (59, 13), (4, 13), (4, 8), (2, 5), (0, 5))),
            (8, ((0, 0), (0, -14), (27, -17), (37, -20), (41, -22), (47, -19), (56, -16), (56, 0))),
            box(1, 57, 5),
            box(1, 52, 5),
            box(1, 44, 5),
            box(1, 42, 5),
            box(8, 21, 2),
            (8, ((0, 0), (15, 4), (13, 7), (0, 6))),
            (1, ((0, 0), (15, 1), (15, 4), (0, 4))),
            box(1, 14, 5),
            (1, ((0, 0), (14, 1), (14, 4), (0, 4))),
            box(1, 13, 5),
            (2, ((0, 0), (13, 1), (13, 4), (0, 4))),
            box(2, 12, 5),
            (8, ((0, 0), (4, 2), (6, 10), (4, 11), (-4, 11), (-6, 10), (-4, 2))),
            (8, ((0, 0), (3, -2), (8, 0), (8, 8), (2, 8))),
            (4, ((0, 0), (2, 1), (3, 6), (2, 7), (-2, 7), (-3, 6), (-2, 1))),
        ),
    ),
}
