"""Paper wrapped round an axle tube that shows where the plates of a bracket or a truss stand on it.

As seen from outside: outboard is up, so forward is to the right on the left tube and to the left on the
right one. The strip's seam lies opposite.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from fixturegen.axle.model import Point
from fixturegen.pages import CENTRE, FINE, Figure, Pen, text_width
from fixturegen.pages.paper import LETTER, Paper
from fixturegen.plate import Placement
from fixturegen.plate.profile import perimeter, rectangle
from fixturegen.studies.bracket_places import chains, clock_of
from fixturegen.studies.bracket_records import BracketFacts, TubeBase
from fixturegen.studies.truss_records import TrussPlan
from fixturegen.templates.template import Template, lap_words, on_white
from fixturegen.templates.tiling import Tiling, tiling_of
from fixturegen.templates.words import size, tape

LAP = 12.7  # [mm] of paper beyond the ends, to glue
BESIDE = 19.0  # [mm] of paper beyond the lines, inboard and outboard
EDGE_STEP = 25.4 / 4.0  # [mm] the outboard edge stands at a whole quarter of an inch, easy to tape
SHORTEST = 1.5  # plate thicknesses: a bead that is shorter is turned round the end of a plate
LEAST = 12.7  # [mm] a bead of a truss that is shorter is not one to scribe for
TICK = 2.5  # [mm] length of a tick on the side the plate stands on
TICKS_APART = 6.0  # [mm]
LETTERS = 2.4  # [mm] height of the names of plates
LINE = Pen(0.5)
STRIP = Pen(0.35)
SIDES = tuple((turn + clock, words) for turn in (-720, -360, 0, 360, 720)  # beads may lie past the bottom
              for clock, words in ((0, "TOP"), (90, "FORWARD"), (180, "BOTTOM"), (270, "REAR")))  # fmt: skip
EDGE_LETTERS = (2.6, 2.2, 1.8)  # [mm] of what is said along an edge, the largest that fits a sheet
EDGE_OFF = 3.0  # [mm] from an end of an edge to words along it
EDGE_RIM = 1.2  # [mm] from an edge to words along it
OUTBOARD = "THIS EDGE OUTBOARD"
INBOARD = "THIS EDGE INBOARD, towards the middle of the axle"
EDGE_STEPS = 8  # places along an edge that are tried on a sheet

Point2 = tuple[float, float]


@dataclass(frozen=True)
class Standing:
    """What stands on one axle tube.

    Attributes:
        name: Slug.
        label: In words.
        on: What it stands on, in words.
        radius: Outside of the tube [mm].
        beads: (part, points along the root (n, 3), frame A [mm]) of each bead to scribe for.
    """

    name: str
    label: str
    on: str
    radius: float
    beads: tuple[tuple[str, tuple[Point, ...]], ...]

    @property
    def parts(self) -> tuple[str, ...]:
        """Names of the parts that stand there."""
        return tuple(dict.fromkeys(part for part, _ in self.beads))


def bracket_standing(facts: BracketFacts) -> Standing | None:
    """A bracket as it stands on the axle's own tube; None where it stands on something else.

    Args:
        facts: Of the bracket.
    """
    mount, base = facts.mount, facts.mount.base
    if not isinstance(base, TubeBase) or abs(base.along[1]) != 1.0 or mount.spec.end != "axle":
        return None
    # not beads that are turned round the end of a plate
    least = SHORTEST * mount.thickness
    beads = [(c[0].part, (c[0].begin, *(s.end for s in c))) for c in chains(facts.seams)]
    kept = tuple((part, points) for part, points in beads if _length(points) > least)
    return Standing(mount.name, mount.label, base.words, base.radius, kept) if kept else None


def truss_standings(plan: TrussPlan, radius: float) -> tuple[Standing, ...]:
    """A truss as it stands on the left and on the right tube.

    Args:
        plan: Of the truss.
        radius: Outside of the tubes [mm].
    """
    found = []
    for side in ("left", "right"):
        beads = tuple((w.part, w.points) for w in plan.welds if w.onto == f"tube-{side}" and _length(w.points) > LEAST)
        if beads:
            found.append(Standing(f"truss-{side}", f"truss, {side}", f"{side} axle tube", radius, beads))
    return tuple(found)


def _length(points: Sequence[Point]) -> float:
    return sum(math.dist(a, b) for a, b in pairwise(points))


def placing_wrap(
    standing: Standing, placements: Iterable[Placement], half_width: float, units: str, paper: Paper = LETTER
) -> Template:
    """The wrap that shows where plates stand on an axle tube.

    Args:
        standing: What stands there.
        placements: Where the plates stand, frame A.
        half_width: From the centreline to a wheel mount surface [mm].
        units: in or mm.
        paper: It will be printed on, upright: words are kept off the laps.
    """
    radius = standing.radius
    left = sum(y for _, points in standing.beads for _, y, _ in points) >= 0.0
    laid = {p.part: p for p in placements}
    beads = [
        (part, _unrolled(points, radius, half_width, left), _side(part, points, laid, left))
        for part, points in standing.beads
    ]
    xs = [x for _, line, _ in beads for x, _ in line]
    ys = [y for _, line, _ in beads for _, y in line]
    around, middle = 2.0 * math.pi * radius, (min(xs) + max(xs)) / 2.0
    # y is minus the distance from the wheel mount surface, so that outboard is up
    edge = math.floor((-max(ys) - BESIDE) / EDGE_STEP) * EDGE_STEP
    top, foot = -edge, min(ys) - BESIDE
    x0, x1 = middle - around / 2.0, middle + around / 2.0
    figure, strip = Figure(), rectangle(x0, foot, x1, top)
    figure.loop(strip, STRIP, "outline")
    figure.polyline(((x1, foot), (x1 + LAP, foot), (x1 + LAP, top), (x1, top)), False, FINE, "lap")
    lap_words(figure, x1 + LAP / 2.0, foot, top)
    area = ((x0, foot), (x1 + LAP, foot), (x1 + LAP, top), (x0, top))
    tiling = tiling_of(area, paper)
    _quarters(figure, radius, left, (x0, foot, x1, top), tiling)
    for part, line, side in beads:
        _bead(figure, part.removeprefix(f"{standing.name}-").removeprefix("truss-"), line, side)
    surface = "left" if left else "right"
    far = tape(edge, units)
    _along_edge(figure, tiling, (x0, x1), top, -1.0, (f"{OUTBOARD}: {far}", f"from the {surface} wheel mount surface"))
    _along_edge(figure, tiling, (x0, x1), foot + 6.0, 1.0, (INBOARD,))
    return Template(
        name=f"place-{standing.name}"[:40].strip("-"),
        title=f"{standing.label}: where it stands on the {standing.on}",
        figure=figure,
        area=area,
        lines=(
            f"Print outwards. Edge OUTBOARD: {far} from the {surface} wheel mount surface, square all round.",
            "TOP on the tube's top line, pinion level. Scribe the thick lines: welded faces, ticks into the steel.",
            f"Tube {size(2 * radius, units)}: where the ends of the paper do not meet, measure it again.",
        ),
        outlines=(perimeter(strip),),
        start=(strip[0].x, strip[0].y),
        parts=standing.parts,
    )


def _unrolled(points: Sequence[Point], radius: float, half_width: float, left: bool) -> list[Point2]:
    """A bead on the paper: over the round, and minus the distance from its side's wheel mount surface (n, 2) [mm]."""
    turns = np.unwrap([math.radians(clock_of(x, z)) for x, _, z in points])
    hand = 1.0 if left else -1.0
    return [(hand * radius * float(t), hand * y - half_width) for t, (_, y, _) in zip(turns, points, strict=True)]


def _side(part: str, points: Sequence[Point], laid: dict[str, Placement], left: bool) -> Point2 | None:
    """Direction on the paper, at the bead's middle, towards the steel of its plate; None where it is not told."""
    placement = laid.get(part)
    if placement is None:
        return None
    rotation, origin = np.array(placement.rotation), np.array(placement.origin)
    half = (len(points) - 1) // 2
    spot = (np.array(points[half]) + np.array(points[half + 1])) / 2.0
    # the plate's steel lies from z = 0 up: a line at its foot has it on the side its normal points to
    depth = float((rotation.T @ (spot - origin))[2])
    normal = rotation[:, 2] * (1.0 if abs(depth) < 1.0 else -1.0)
    turn, hand = math.radians(clock_of(float(spot[0]), float(spot[2]))), 1.0 if left else -1.0
    forward = np.array([math.cos(turn), 0.0, -math.sin(turn)])
    across, along = hand * float(normal @ forward), hand * float(normal[1])
    far = math.hypot(across, along)
    return (across / far, along / far) if far > 0.3 else None  # a plate that leans flat on the tube has no side


def _quarters(
    figure: Figure, radius: float, left: bool, box: tuple[float, float, float, float], tiling: Tiling
) -> None:
    x0, foot, x1, top = box
    for clock, words in SIDES:
        x = math.radians(clock) * radius * (1.0 if left else -1.0)
        if x0 <= x <= x1:
            figure.line(x, foot, x, top, CENTRE, "quarter")
            wide, low = text_width(words, 3.0, True), foot + 2.0
            after = x + 1.5 + wide <= x1 and tiling.clear(x + 1.5, low, x + 1.5 + wide, low + 3.0)
            before = x - 1.5 - wide >= x0 and tiling.clear(x - 1.5 - wide, low, x - 1.5, low + 3.0)
            last = (before and not after) or x + 1.5 + wide > x1  # over no lap
            figure.text(x - 1.5 if last else x + 1.5, low, words, 3.0, "end" if last else "start", bold=True)


def _along_edge(
    figure: Figure, tiling: Tiling, ends: Point2, edge: float, inwards: float, rows: tuple[str, ...]
) -> None:
    """Whole words along an edge, on each sheet that has a piece of it long enough.

    Args:
        figure: Of the strip.
        tiling: How the strip lies on paper.
        ends: Of the edge, along x [mm].
        edge: Its y, or where the words begin [mm].
        inwards: +1 where the strip lies above it.
        rows: Of words, the upper one first.
    """
    found = False
    for tile in tiling.tiles:
        a, b, c, d = tile.box
        left, low, right, upper = (b, -c, d, -a) if tiling.turned else tile.box
        start, end = max(ends[0], left) + EDGE_OFF, min(ends[1], right) - EDGE_OFF
        if not low <= edge <= upper:
            continue
        for high in EDGE_LETTERS:
            wide, deep = max(text_width(row, high, True) for row in rows), 1.5 * high * len(rows)
            under = edge + EDGE_RIM if inwards > 0.0 else edge - EDGE_RIM - deep
            steps = [start + (end - wide - start) * k / EDGE_STEPS for k in range(EDGE_STEPS + 1)]
            x = next((x for x in steps if end - start >= wide and tiling.clear(x, under, x + wide, under + deep)), None)
            if x is not None:
                for n, row in enumerate(rows):
                    y = under + deep - 1.5 * high * (n + 1)
                    on_white(figure, x, y, wide + 1.0, row, high, bold=n == 0, role="edge")
                found = True
                break
    if not found:  # broken over sheets that are laid together rather than not said
        deep = 1.5 * EDGE_LETTERS[0]
        y = edge + EDGE_RIM if inwards > 0.0 else edge - EDGE_RIM - deep
        on_white(figure, ends[0] + EDGE_OFF, y, ends[1] - ends[0] - 2.0 * EDGE_OFF, " ".join(rows), EDGE_LETTERS[0])


def _bead(figure: Figure, name: str, line: list[Point2], side: Point2 | None) -> None:
    figure.polyline(line, False, LINE, "bead")
    length = sum(math.dist(a, b) for a, b in pairwise(line))
    if side is not None:
        for k in range(1, max(2, int(length / TICKS_APART))):
            x, y = _along(line, length * k / max(2, int(length / TICKS_APART)))
            figure.line(x, y, x + TICK * side[0], y + TICK * side[1], FINE, "side")
    # on the side without steel, clear of the line
    clear = 1.5 + abs((side or (1.0, 0.0))[0]) * text_width(name, LETTERS, True) / 2.0
    off = (-clear, 0.0) if side is None else (-side[0] * clear, -side[1] * max(clear, LETTERS))
    for share in (0.2, 0.8):  # twice: a lap of the sheets may hide one
        x, y = _along(line, share * length)
        figure.text(x + off[0], y + off[1] - LETTERS / 2.0, name, LETTERS, "middle", bold=True)


def _along(line: list[Point2], far: float) -> Point2:
    """The point of a line at a length along it [mm]."""
    for a, b in pairwise(line):
        step = math.dist(a, b)
        if step >= far > 0.0 or b == line[-1]:
            t = far / step if step else 0.0
            return a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])
        far -= step
    return line[0]
