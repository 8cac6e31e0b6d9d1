"""Where each bracket is put: stations, clock angles, lines to scribe and lengths to tape; numbers only.

A tube is round, so a place on it is told twice: the tape laid over the round (arc) and the dividers set
straight across (chord), both from the line along its top, the pinion level.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from fixturegen.axle.linkage import Stance
from fixturegen.axle.model import AxleModel, Point
from fixturegen.studies.bracket_records import BracketFacts, FlatBase, Mount, Seam, TubeBase

APART = 3.0  # [mm] ends of a bead that differ by less are not told apart that way
TURNED = 1.5  # plate thicknesses; a bead that is shorter is turned round the end of a plate [1]
SAME_PLACE = 1e-6  # [mm] ends of two stretches of a bead in one place


@dataclass(frozen=True)
class OnRound:
    """A place on a tube, from the line along its top.

    Attributes:
        clock: About the tube: 0 up, 90 forward, 180 down, -90 rearward [deg].
        arc: Over the round, forward positive [mm].
        chord: Straight across, always positive [mm].
    """

    clock: float
    arc: float
    chord: float


@dataclass(frozen=True)
class ScribePoint:
    """A point of a line to scribe.

    Attributes:
        name: lower end, middle, upper end; rear and front end where both are as high.
        point: In A [mm].
        station: Left of the centreline positive [mm].
        from_left: From the left wheel mount surface [mm].
        from_right: From the right wheel mount surface [mm].
        forward: Ahead of the axle line [mm].
        round: Where round the tube; None on a plate.
    """

    name: str
    point: Point
    station: float
    from_left: float
    from_right: float
    forward: float
    round: OnRound | None


@dataclass(frozen=True)
class ScribeLine:
    """Where one plate's welded face meets what it stands on.

    Attributes:
        part: The plate.
        points: Along it, both ends and the middle.
    """

    part: str
    points: tuple[ScribePoint, ...]


@dataclass(frozen=True)
class BracketPlace:
    """Where one bracket stands.

    Attributes:
        mount: The bracket.
        station: Of its hole, left of the centreline positive [mm].
        from_left: From the left wheel mount surface [mm]; None on the frame.
        from_right: From the right wheel mount surface [mm]; None on the frame.
        clock: Of its hole about the axle line [deg]; None where it does not stand on the axle's tube.
        forward: Hole ahead of the axle line, on the frame ahead of the front axle [mm].
        up: Hole above the axle line, on the frame above the ground [mm].
        off: From the surface it stands on to the middle of the hole, the shortest way [mm].
        turn: Of the bolt in plan, off the line across, left end forward positive [deg].
        tilt: Of the bolt off level, left end up positive [deg].
        lines: To scribe.
    """

    mount: Mount
    station: float
    from_left: float | None
    from_right: float | None
    clock: float | None
    forward: float
    up: float
    off: float
    turn: float
    tilt: float
    lines: tuple[ScribeLine, ...]

    @property
    def on_axle(self) -> bool:
        """Whether it stands on the axle and not on the frame."""
        return self.mount.spec.end == "axle"


@dataclass(frozen=True)
class Across:
    """A length from hole to hole that proves the brackets.

    Attributes:
        first: Name of one bracket.
        second: Name of the other.
        words: What it is.
        length: From middle to middle [mm].
        mate: Name shared by the two diagonals of one figure, which read alike where left mirrors right; else empty.
    """

    first: str
    second: str
    words: str
    length: float
    mate: str = ""


def clock_of(x: float, z: float) -> float:
    """Angle about the axle line: 0 up, +90 forward, 180 down, -90 rearward [deg].

    Args:
        x: Forward [mm].
        z: Up [mm].
    """
    return math.degrees(math.atan2(x, z))


def on_round(x: float, z: float, radius: float) -> OnRound:
    """A place on a tube about the axle line, from the line along its top.

    Args:
        x: Forward [mm].
        z: Up [mm].
        radius: Outside of the tube [mm].

    Source: geometry, arc r a and chord 2 r sin(a/2).
    """
    turn = math.atan2(x, z)
    return OnRound(math.degrees(turn), radius * turn, 2.0 * radius * math.sin(abs(turn) / 2.0))


def places_of(axle: AxleModel, stance: Stance, facts: Iterable[BracketFacts]) -> tuple[BracketPlace, ...]:
    """The place of every bracket that was drawn, in their order.

    Args:
        axle: The axle.
        stance: How it stands at ride height; places on the frame are told in the vehicle's frame.
        facts: Of the brackets.
    """
    return tuple(_place(axle, stance, one) for one in facts)


def _place(axle: AxleModel, stance: Stance, facts: BracketFacts) -> BracketPlace:
    mount = facts.mount
    axle_side = mount.spec.end == "axle"
    x, y, z = mount.point if axle_side else (float(v) for v in stance.to_vehicle(mount.point))
    bolt = np.array(mount.bolt) if axle_side else stance.rotation @ np.array(mount.bolt)
    level = math.hypot(float(bolt[0]), float(bolt[1]))
    own = _axle_tube(mount)
    return BracketPlace(
        mount=mount,
        station=y,
        from_left=axle.half_width - y if axle_side else None,
        from_right=axle.half_width + y if axle_side else None,
        clock=clock_of(x, z) if own else None,
        forward=x,
        up=z,
        off=off_surface(mount),
        turn=math.degrees(math.atan2(float(bolt[0]), float(bolt[1]))),
        tilt=math.degrees(math.atan2(float(bolt[2]), level)),
        lines=tuple(_line(axle, mount, c) for c in chains(facts.seams) if _long(c, mount)) if axle_side else (),
    )


def _axle_tube(mount: Mount) -> bool:
    base = mount.base
    return isinstance(base, TubeBase) and mount.spec.end == "axle" and abs(base.along[1]) == 1.0


def off_surface(mount: Mount) -> float:
    """From what a bracket stands on to its hole, the shortest way [mm]."""
    base, point = mount.base, np.array(mount.point)
    if isinstance(base, FlatBase):
        return float((point - np.array(base.point)) @ np.array(base.normal))
    along, off = np.array(base.along), point - np.array(base.point)
    return float(np.linalg.norm(off - (off @ along) * along)) - base.radius


def chains(seams: Iterable[Seam]) -> Iterator[tuple[Seam, ...]]:
    """Stretches of beads joined to whole beads: each begins where the one before it ends."""
    run: list[Seam] = []
    for seam in seams:
        if run and (seam.part != run[-1].part or math.dist(seam.begin, run[-1].end) > SAME_PLACE):
            yield tuple(run)
            run = []
        run.append(seam)
    if run:
        yield tuple(run)


def _long(chain: tuple[Seam, ...], mount: Mount) -> bool:
    """Whether a bead is one to scribe for: not the end of a plate that the bead is turned round."""
    return sum(math.dist(s.begin, s.end) for s in chain) > TURNED * mount.thickness


def _line(axle: AxleModel, mount: Mount, chain: tuple[Seam, ...]) -> ScribeLine:
    points = [chain[0].begin, *(s.end for s in chain)]
    half = halfway(points, round_base=_axle_tube(mount))
    ends = (points[0], points[-1])
    names, ends = _ends(ends, round_base=isinstance(mount.base, TubeBase))
    rows = zip(names, (ends[0], half, ends[1]), strict=True)
    return ScribeLine(chain[0].part, tuple(_scribe(axle, mount, n, p) for n, p in rows))


def halfway(points: Sequence[Point], *, round_base: bool) -> Point:
    """Halfway along a line of stretches; on the axle's tube laid over the round, not cut across it [mm].

    Args:
        points: Its corners in order, frame A.
        round_base: Whether it lies on the axle's own tube.
    """
    if not round_base:
        return _half(points)
    # unrolled: turn over the mean radius, station, height over the middle line
    radius = sum(math.hypot(x, z) for x, _, z in points) / len(points)
    turns = np.unwrap([math.atan2(x, z) for x, _, z in points])
    flat = [(radius * float(t), y, math.hypot(x, z)) for t, (x, y, z) in zip(turns, points, strict=True)]
    arc, y, far = _half(flat)
    return far * math.sin(arc / radius), y, far * math.cos(arc / radius)


def _half(points: Sequence[Point]) -> Point:
    """Halfway along straight stretches [mm]."""
    lengths = [math.dist(a, b) for a, b in pairwise(points)]
    left, i = sum(lengths) / 2.0, 0
    while i < len(lengths) - 1 and left > lengths[i]:
        left -= lengths[i]
        i += 1
    t = left / lengths[i] if lengths[i] else 0.0
    x, y, z = (p + t * (q - p) for p, q in zip(points[i], points[i + 1], strict=True))
    return x, y, z


def _ends(ends: tuple[Point, Point], *, round_base: bool) -> tuple[tuple[str, str, str], tuple[Point, Point]]:
    """Names of both ends of a bead with the middle between, and the ends in that order."""
    for axis, low, high, wanted in ((2, "lower", "upper", round_base), (0, "rear", "front", True)):
        if wanted and abs(ends[0][axis] - ends[1][axis]) >= APART:
            first, last = sorted(ends, key=lambda p: p[axis])
            return (f"{low} end", "middle", f"{high} end"), (first, last)
    first, last = sorted(ends, key=lambda p: -p[1])
    return ("left end", "middle", "right end"), (first, last)


def _scribe(axle: AxleModel, mount: Mount, name: str, point: Point) -> ScribePoint:
    x, y, z = point
    base = mount.base
    turned = on_round(x, z, base.radius) if isinstance(base, TubeBase) and _axle_tube(mount) else None
    return ScribePoint(name, point, y, axle.half_width - y, axle.half_width + y, x, turned)


def across_of(places: Iterable[BracketPlace]) -> tuple[Across, ...]:
    """Hole to hole left to right, then the diagonals of each pair with the next; axle and frame each by itself."""
    found: list[Across] = []
    for axle_side in (True, False):
        pairs = _pairs([p for p in places if p.on_axle is axle_side])
        where = "across the axle" if axle_side else "across the frame"
        found += [Across(a.mount.name, b.mount.name, f"{_head(a)}, hole to hole {where}", _far(a, b)) for a, b in pairs]
        for (a, b), (c, d) in pairwise(pairs):
            for left, right in ((a, d), (c, b)):
                words = f"diagonal, {left.mount.label} to {right.mount.label}"
                found.append(
                    Across(left.mount.name, right.mount.name, words, _far(left, right), f"{_head(a)}/{_head(c)}")
                )
    return tuple(found)


def _head(place: BracketPlace) -> str:
    return place.mount.label.replace("left ", "").replace(" left", "")


def _pairs(places: list[BracketPlace]) -> list[tuple[BracketPlace, BracketPlace]]:
    by_name = {p.mount.name: p for p in places}
    found = []
    for one in places:
        other = by_name.get(one.mount.name.replace("left", "right"))
        if one.mount.side == "left" and other is not None and other is not one:
            found.append((one, other))
    return found


def _far(a: BracketPlace, b: BracketPlace) -> float:
    return math.dist(a.mount.point, b.mount.point)
