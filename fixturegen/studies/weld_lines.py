"""Flow of a force through a group of straight welds, in a plane or in space, lines that give alike every way.

The parts are taken as stiff and the welds as lines, each as stiff as its throat. Force and moment then
give a flow that is the same everywhere plus a turn about the centroid; along a line it is linear, so
the worst point of the group stands at the end of a line. In one plane this is the usual elastic method
with direct shear, torsion and bending. A curved weld is given as short straight ones.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from fixturegen.calc._welds import E70, LENGTH_IN_LEGS, SIXTEENTH, THROAT_SHARE, fillet_strength
from fixturegen.errors import Fault, InputFault

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

Point = tuple[float, float, float]
_NO_LENGTH = 1e-12  # mm; a line shorter than this has no direction


@dataclass(frozen=True)
class WeldLine:
    """One straight fillet weld.

    Attributes:
        start: One end (3,) [mm].
        end: The other end (3,) [mm].
        leg: Of the fillet, both legs alike [mm].
        plate: Thickness of the plate that is welded on [mm].
        wall: Thickness of what the plate is welded to [mm].
        root_gap: Between plate and wall before welding [mm].
        name: Where it is, in words.
        sides: How many lines share the plate here: 2 where both its sides are welded.
    """

    start: Point
    end: Point
    leg: float
    plate: float
    wall: float
    root_gap: float = 0.0
    name: str = ""
    sides: int = 2

    @property
    def length(self) -> float:
        """Between the ends [mm]."""
        return math.dist(self.start, self.end)

    @property
    def counted_plate(self) -> float:
        """What of the plate's thickness this line alone may count [mm]."""
        return self.plate / self.sides

    @property
    def counted_leg(self) -> float:
        """What of the leg counts over a root gap [mm]; a gap over 1/16 in is taken off.

        Source: aws-d1.1, fit-up of fillet welds (from memory).
        """
        return self.leg if self.root_gap <= SIXTEENTH else max(0.0, self.leg - self.root_gap)

    @property
    def throat(self) -> float:
        """Of what counts of the leg [mm]."""
        return THROAT_SHARE * self.counted_leg


@dataclass(frozen=True)
class WorstPoint:
    """Where a group of welds is used most.

    Attributes:
        line: Index of the line.
        at: Place of the point [mm].
        flow: Force per length there (3,) [N/mm].
        angle: Between the flow and the line [deg].
        strength: Of the weld there, no factor in it [N/mm].
    """

    line: int
    at: Point
    flow: Point
    angle: float
    strength: float

    @property
    def size(self) -> float:
        """Size of the flow [N/mm]."""
        return math.hypot(*self.flow)


@dataclass(frozen=True)
class LineGroup:
    """What a group of lines is for its stress.

    Attributes:
        area: Of all throats [mm^2].
        length: Of all lines [mm].
        centroid: Of the throats [mm].
        spread: Integral of r r^T over the throats about the centroid, (3, 3) rows [mm^4].
    """

    area: float
    length: float
    centroid: Point
    spread: tuple[Point, Point, Point]


def line_group(lines: tuple[WeldLine, ...]) -> LineGroup:
    """Area, centroid and second moments of a group of welds.

    Args:
        lines: The welds.

    Raises:
        InputFault: When no weld has length and throat, or a number is not finite.

    Source: blodgett, weld treated as a line, in space.
    """
    import numpy as np

    _possible(lines)
    ends = np.array([(w.start, w.end) for w in lines])
    span = ends[:, 1] - ends[:, 0]
    lengths = np.linalg.norm(span, axis=1)
    areas = lengths * np.array([w.throat for w in lines])
    middles = ends.mean(axis=1)
    centre = areas @ middles / areas.sum()
    away = middles - centre
    spread = np.einsum("n,ni,nj->ij", areas, away, away) + np.einsum("n,ni,nj->ij", areas / 12, span, span)
    rows = [(float(a), float(b), float(c)) for a, b, c in spread]
    return LineGroup(
        float(areas.sum()),
        float(lengths.sum()),
        (float(centre[0]), float(centre[1]), float(centre[2])),
        (rows[0], rows[1], rows[2]),
    )


def flow_in_space(
    lines: tuple[WeldLine, ...], force: Point, at: Point, moment: Point = (0.0, 0.0, 0.0)
) -> npt.NDArray[np.float64]:
    """Force per length at both ends of every weld (n, 2, 3) [N/mm]; linear between them.

    Args:
        lines: The welds.
        force: On the group (3,) [N].
        at: Where the force acts (3,) [mm].
        moment: On the group besides (3,) [N*mm].

    Raises:
        InputFault: When no weld has a length, or all lie on one straight line that the load turns.

    Source: blodgett, weld treated as a line, in space: flow = throat (F / A + turn x r).
    """
    import numpy as np

    group = line_group(lines)
    centre, spread, push = np.array(group.centroid), np.array(group.spread), np.array(force)
    couple = np.cross(np.array(at) - centre, push) + np.array(moment)
    polar = np.trace(spread) * np.eye(3) - spread
    turn, *_ = np.linalg.lstsq(polar, couple, rcond=1e-12)
    arm = math.sqrt(np.trace(spread) / group.area)
    if np.abs(polar @ turn - couple).max() > 1e-9 * (np.abs(couple).max() + np.abs(push).max() * arm):
        remedy = "weld the other side or the ends as well"
        raise InputFault(Fault("welds", "one straight line", "lines that do not all lie on one", remedy))
    ends = np.array([(w.start, w.end) for w in lines]) - centre
    throat = np.array([w.throat for w in lines])[:, None, None]
    flow: npt.NDArray[np.float64] = throat * (push / group.area + np.cross(turn, ends))
    return flow


def worst_point(
    lines: tuple[WeldLine, ...],
    force: Point,
    at: Point,
    moment: Point = (0.0, 0.0, 0.0),
    *,
    filler: float = E70,
    by_direction: bool = False,
) -> WorstPoint:
    """The point of a group where the weld metal is used most.

    Args:
        lines: The welds.
        force: On the group (3,) [N].
        at: Where the force acts (3,) [mm].
        moment: On the group besides (3,) [N*mm].
        filler: Tensile strength of the weld metal [MPa].
        by_direction: Whether a weld loaded across its line counts for more, 1 + 0.5 sin^1.5. The code
            means it for a line loaded through its middle; at a point of an elastic group it is bold.

    Source: aisc-360, J2.4.
    """
    import numpy as np

    flow = flow_in_space(lines, force, at, moment)
    span = np.array([w.end for w in lines]) - np.array([w.start for w in lines])
    along = span / np.maximum(np.linalg.norm(span, axis=1), _NO_LENGTH)[:, None]
    run = np.einsum("nej,nj->ne", flow, along)
    size = np.linalg.norm(flow, axis=2)
    square = np.linalg.norm(flow - run[:, :, None] * along[:, None, :], axis=2)
    angle = np.degrees(np.arctan2(square, np.abs(run)))
    legs = np.array([[w.counted_leg] for w in lines])
    counted = angle if by_direction else np.zeros_like(angle)
    with np.errstate(divide="ignore", invalid="ignore"):  # a gap may leave nothing of a leg
        strength = np.broadcast_to(fillet_strength(legs, 1.0, counted, filler), size.shape)
        used = np.where(strength > 0, size / strength, -1.0)
    line, end = (int(i) for i in np.unravel_index(int(np.argmax(used)), used.shape))
    x, y, z = (float(f) for f in flow[line, end])
    place = (lines[line].start, lines[line].end)[end]
    return WorstPoint(line, place, (x, y, z), float(angle[line, end]), float(strength[line, end]))


def counted_lines(lines: tuple[WeldLine, ...]) -> tuple[WeldLine, ...]:
    """The welds with the leg that counts: of a short run a quarter of its length at most.

    Args:
        lines: The welds.

    Source: aisc-360, J2.2b.
    """
    found = []
    for run in _runs(lines):
        length = sum(w.length for w in run)
        found += [(w, replace(w, leg=min(w.leg, length / LENGTH_IN_LEGS))) for w in run]
    return tuple(next(new for old, new in found if old is w) for w in lines)


def run_lengths(lines: tuple[WeldLine, ...]) -> tuple[tuple[float, float], ...]:
    """Length and largest leg of each run, lines that share an end taken together [mm].

    Args:
        lines: The welds.

    Source: geometry.
    """
    return tuple((sum(w.length for w in r), max(w.leg for w in r)) for r in _runs(lines))


def _runs(lines: tuple[WeldLine, ...]) -> list[list[WeldLine]]:
    """Lines that go on into one another, taken together."""
    runs: list[list[WeldLine]] = []
    for line in lines:
        joined = [r for r in runs if any(_touch(line, other) for other in r)]
        runs = [r for r in runs if r not in joined]
        runs.append([line, *(w for r in joined for w in r)])
    return runs


def _touch(one: WeldLine, other: WeldLine) -> bool:
    """Whether two lines share an end."""
    return any(math.dist(a, b) < 1e-6 for a in (one.start, one.end) for b in (other.start, other.end))


def _possible(lines: tuple[WeldLine, ...]) -> None:
    """Refuse welds that are none.

    Raises:
        InputFault: With what is wrong.
    """
    numbers = [n for w in lines for n in (*w.start, *w.end, w.leg, w.plate, w.wall, w.root_gap)]
    if not all(math.isfinite(n) for n in numbers):
        raise InputFault(Fault("welds", "a number that is not finite", "finite places and sizes", "mend the plan"))
    if any(w.leg <= 0 or w.plate <= 0 or w.wall <= 0 or w.root_gap < 0 or w.sides < 1 for w in lines):
        allowed = "leg, plate and wall over zero, gap of zero or more, one side or more"
        raise InputFault(Fault("welds", "a size of zero or less", allowed, "measure it and give it"))
    if not any(w.length * w.throat > 0 for w in lines):
        allowed = "one line or more that has a length, its root gap less than its leg"
        raise InputFault(Fault("welds", "no weld that carries", allowed, "give the welds of the bracket"))
