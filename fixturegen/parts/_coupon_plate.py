"""The drawing of one coupon plate: window and block, slots, holes, saddles, lettering to be read.

From below: slots with their numbers and the lettering to be read; window and holes; saddles in the
upper edge. Name, revision and tape check are put on with those of every part. The origin is the
lower left corner.
"""

from __future__ import annotations

import math

from fixturegen.parts.joinery import INCH, relief_radius
from fixturegen.plate import Hole, Loop, Mark, Profile, Purpose, Vertex
from fixturegen.plate.lettering import text_box
from fixturegen.plate.outlines import filleted
from fixturegen.plate.profile import reversed_loop
from fixturegen.studies.coupon_plan import CouponPlan

WINDOW_ROUND = 2.0  # corners of window and slots' ends, what a torch turns in [mm]
CORNER = 5.0  # corners of the plate [mm]
AROUND = 3.0  # between lettering and a cut [mm]
EDGE = 8.0  # between lettering and the plate's edge [mm]
PILLAR = 0.5 * INCH  # plate between two saddles [mm]
HALF_WRAP = math.radians(55.0)  # of a saddle to each side; what fits on a scrap
LONGEST = 10.25 * INCH  # of a coupon, where the slots need no more [mm]


def plate_of_coupon(plan: CouponPlan, web: float, letter: float) -> tuple[Profile, tuple[Mark, ...]]:
    """Outline with cut-outs and holes, and what is marked.

    Args:
        plan: The coupon's sizes.
        web: Plate left between two cuts [mm].
        letter: Height of numbers and words [mm].
    """
    sheet = _Plate(plan, web, letter)
    return sheet.profile(), sheet.marks()


def saddle_half_chord(plan: CouponPlan, length: float) -> float:
    """Half the width of each saddle's mouth [mm].

    Args:
        plan: The coupon's sizes.
        length: Of the plate [mm].
    """
    n = len(plan.saddles)
    room = (length - (n + 1) * PILLAR) / n / 2.0
    return min(room, (plan.tube / 2.0 + plan.saddles[-1]) * math.sin(HALF_WRAP))


class _Plate:
    """Places on one coupon; x along the slots' row, y up."""

    def __init__(self, plan: CouponPlan, web: float, letter: float) -> None:
        self.plan, self.web, self.letter = plan, web, letter
        self.names = self._names()
        self.column = max(_wide(w, h) for w, h in zip(plan.letter_words, plan.letters, strict=True))
        reach = relief_radius(plan.kerf) * (1.0 - math.sqrt(0.5))  # of the reliefs, beyond the sides of a slot
        pitch = plan.thickness + 2.0 * plan.rooms[-1] + web + 2.0 * reach
        slots = len(plan.rooms) * pitch + web
        middle = web + plan.block + 2.0 * AROUND + max(_wide(n, letter) for n in self.names)
        middle += sum(plan.holes) + web * (len(plan.holes) + 1)
        wrap = 2.0 * (plan.tube / 2.0 + plan.saddles[-1]) * math.sin(HALF_WRAP)
        saddles = len(plan.saddles) * (wrap + PILLAR) + PILLAR
        self.length = max(slots + self.column + EDGE, middle, min(saddles, LONGEST))
        spare = self.length - slots - self.column - EDGE
        self.pitch = pitch + spare / (len(plan.rooms) + 1.0)
        self.first = web + (self.pitch - web) / 2.0
        self.row = web + reach + plan.slot_length / 2.0
        self.shelf = web + 2.0 * reach + plan.slot_length + max(web, letter + 2.0 * AROUND)
        half = saddle_half_chord(plan, self.length)
        self.half = half
        deep = max(r - math.sqrt(r * r - half * half) for r in self._radii())
        self.low = self.shelf + plan.block + max(web, letter + 2.0 * AROUND)
        self.height = self.low + deep

    def _names(self) -> tuple[str, ...]:
        plan = self.plan
        kerf = f"{plan.kerf:.2f}" if plan.metric else f"{plan.kerf / INCH:.3f}".lstrip("0")
        return f"K {kerf}", "CUT FIRST"

    def _radii(self) -> tuple[float, ...]:
        return tuple(self.plan.tube / 2.0 + room for room in self.plan.saddles)

    def _slot_x(self, n: int) -> float:
        return self.first + n * self.pitch

    def _saddle_x(self, n: int) -> float:
        return (n + 0.5) * self.length / len(self.plan.saddles)

    def profile(self) -> Profile:
        """Outline, window, slots and holes."""
        plan = self.plan
        x, y, r = self.web, self.shelf, WINDOW_ROUND
        window = filleted(
            ((x, y, r), (x + plan.block, y, r), (x + plan.block, y + plan.block, r), (x, y + plan.block, r))
        )
        slots = tuple(
            _upright_slot(self._slot_x(n), self.row, plan.thickness + 2.0 * room, plan.slot_length, plan.kerf)
            for n, room in enumerate(plan.rooms)
        )
        return Profile(outer=self._outline(), inner=(reversed_loop(window), *slots), holes=self._holes())

    def _outline(self) -> Loop:
        items: list[Loop | tuple[float, float, float]] = [
            (0.0, 0.0, CORNER),
            (self.length, 0.0, CORNER),
            (self.length, self.height, CORNER),
        ]
        for n in reversed(range(len(self.plan.saddles))):
            radius, x = self._radii()[n], self._saddle_x(n)
            bulge = -math.tan(math.asin(self.half / radius) / 2.0)
            items.append((Vertex(x + self.half, self.height, bulge), Vertex(x - self.half, self.height)))
        items.append((0.0, self.height, CORNER))
        return filleted(tuple(items))

    def _hole_places(self) -> tuple[tuple[float, float], ...]:
        """Middles of the holes, from the right edge inward, the largest outermost."""
        x, places = self.length, []
        y = self.shelf + self.plan.block / 2.0
        for d in reversed(self.plan.holes):
            x -= self.web + d / 2.0
            places.append((x, y))
            x -= d / 2.0
        return tuple(reversed(places))

    def _holes(self) -> tuple[Hole, ...]:
        return tuple(
            Hole(x, y, d, Purpose.ACCESS, f"H{n}", cut=d, note="cut as drawn, to be measured")
            for n, (d, (x, y)) in enumerate(zip(self.plan.holes, self._hole_places(), strict=True), 1)
        )

    def marks(self) -> tuple[Mark, ...]:
        """Numbers of slots, holes and saddles, the names, and the lettering to be read."""
        plan, h = self.plan, self.letter
        found = [
            _middle(str(n + 1), self._slot_x(n), self.row + plan.slot_length / 2.0 + AROUND, h)
            for n in range(len(plan.rooms))
        ]
        for n, (d, (x, y)) in enumerate(zip(plan.holes, self._hole_places(), strict=True), 1):
            found.append(_middle(f"H{n}", x, y - d / 2.0 - AROUND - h, h))
        found += [_middle(f"S{n + 1}", self._saddle_x(n), self.low - AROUND - h, h) for n in range(len(plan.saddles))]
        x = self.web + plan.block + 2.0 * AROUND
        found += [Mark(x, self.shelf + n * 1.6 * h, words, h) for n, words in enumerate(reversed(self.names))]
        x, y = self.length - EDGE - self.column, self.web
        for words, high in zip(plan.letter_words, plan.letters, strict=True):
            _, low, _, top = text_box(words, high)  # the stroke of a fraction runs over its line on both sides
            found.append(Mark(x, y - low, words, high))
            y += top - low + AROUND * 0.8
        return tuple(found)


def _wide(words: str, height: float) -> float:
    """Room a line of lettering takes [mm]."""
    x0, _, x1, _ = text_box(words, height)
    return x1 - x0


def _middle(words: str, x: float, y: float, height: float) -> Mark:
    """Lettering with its middle at x, its base line at y [mm]."""
    x0, _, x1, _ = text_box(words, height)
    return Mark(x - (x0 + x1) / 2.0, y, words, height)


def _upright_slot(x: float, y: float, width: float, length: float, kerf: float) -> Loop:
    """A clockwise slot with relieved corners, its long side upright; like the slots of the joints."""
    w, h, r = width / 2.0, length / 2.0, relief_radius(kerf) * math.sqrt(2.0)
    local = (
        (-w + r, -h, 0.0),
        (w - r, -h, 1.0),
        (w, -h + r, 0.0),
        (w, h - r, 1.0),
        (w - r, h, 0.0),
        (-w + r, h, 1.0),
        (-w, h - r, 0.0),
        (-w, -h + r, 1.0),
    )
    return reversed_loop(tuple(Vertex(x + u, y + v, b) for u, v, b in local))
