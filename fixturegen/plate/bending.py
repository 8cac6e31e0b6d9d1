"""Flat blanks of bent parts from their outside sizes, and the limits, reliefs and marks of bends.

Sizes are outside sizes as a tape reads them on the bent part: up to 90 deg they run to the corner
where the outside faces meet, beyond it to the outermost point of the bend. Bend lines are the middle
lines of what the bends take up: there the tip of the punch comes down.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from fixturegen.calc._bends import setback
from fixturegen.errors import GeometryFault
from fixturegen.plate.bend_rules import BendRule
from fixturegen.plate.part import Bend, Profile
from fixturegen.plate.profile import Loop, Vertex, rectangle

Point = tuple[float, float]
Side = Literal["right", "left", "front", "back"]
ReliefKind = Literal["round", "v"]

BRIDGE = 0.5  # of the die opening: a flange of less falls into the die (geometry, derived)
FLANGE = 0.7  # of the die opening a flange should have (common practice, no source)
HOLE_THICKNESSES = 2.5  # hole edge to bend line, in thicknesses, and the inside radius (common practice, no source)
NATURAL = (0.16, 0.20)  # inside radius an air bend takes, of the die opening (common practice, no source)
SHARPEST = 1.0  # inside radius, in thicknesses, mild steel (common practice, no source)
ALONG_GRAIN = 2.0  # the same for a bend line along the grain (common practice, no source)

SAME = 1e-7  # [mm] corners nearer than this are one


@dataclass(frozen=True)
class Fold:
    """One bend as asked for: angle turned through [deg], inside radius [mm], towards the marked face or away."""

    angle: float
    radius: float
    up: bool = True


@dataclass(frozen=True)
class Unfolded:
    """A flat blank.

    Attributes:
        thickness: Of the plate [mm].
        profile: The blank.
        bends: Its bends, in the order they are bent.
        arrow: Middle of the room for the grain arrow [mm].
        grain: Direction the plate was rolled in, to lie across the bend lines [deg from x].
    """

    thickness: float
    profile: Profile
    bends: tuple[Bend, ...]
    arrow: Point
    grain: float


def least_flange(die_opening: float) -> tuple[float, float]:
    """(falls into the die under this, should have this) [mm], from bend line to edge on the flat.

    Args:
        die_opening: Of the lower die [mm].
    """
    return BRIDGE * die_opening, FLANGE * die_opening


def hole_distance(thickness: float, radius: float) -> float:
    """Least from the bend line to the edge of a hole [mm]: 2.5 thicknesses and the inside radius.

    Args:
        thickness: Of the plate [mm].
        radius: Inside [mm].
    """
    return HOLE_THICKNESSES * thickness + radius


def relief_size(thickness: float, radius: float) -> tuple[float, float]:
    """(width, depth past the bend line) of a relief where a bend stops short of an edge [mm].

    Args:
        thickness: Of the plate [mm].
        radius: Inside, of the bend [mm].
    """
    return thickness, thickness + radius


def relief(at: Point, depth: Point, beside: Point, size: tuple[float, float], kind: ReliefKind) -> tuple[Vertex, ...]:
    """The relief as corners to stand in an outline, from its foot at the bent flange to its far mouth.

    Args:
        at: Where the flange's edge meets the bend line [mm].
        depth: Unit vector into the plate that stays.
        beside: Unit vector away from the flange along the bend line.
        size: (width, depth) [mm].
        kind: Round bottom, or a V with its straight side along the flange.
    """
    width, deep = size
    foot = (at[0] + deep * depth[0], at[1] + deep * depth[1])
    if kind == "v":
        return (Vertex(*foot),)
    flat = deep - width / 2.0
    near = (at[0] + flat * depth[0], at[1] + flat * depth[1])
    far = (near[0] + width * beside[0], near[1] + width * beside[1])
    # half a turn round the bottom, the way the outline turns from depth to beside
    turn = depth[0] * beside[1] - depth[1] * beside[0]
    return (Vertex(*near, math.copysign(1.0, turn)), Vertex(*far))


def bent_strip(
    lengths: Sequence[float], folds: Sequence[Fold], width: float, thickness: float, rule: BendRule
) -> Unfolded:
    """The flat of a strip with parallel bends: angle, channel, Z, hat ...

    It starts at x = 0 and lies from y = 0 to the width; bend lines run along y. The first length stays put.
    Their order is outermost first, from both ends in turn, so that nothing bent lies behind the bar yet to bend.

    Args:
        lengths: Outside sizes in order, one more than folds [mm].
        folds: The bends between them.
        width: Of the strip [mm].
        thickness: Measured [mm].
        rule: For the flat lengths.

    Raises:
        GeometryFault: When the sizes reach past the bends.
    """
    if len(lengths) != len(folds) + 1 or not folds:
        raise GeometryFault("bent strip", f"{len(lengths)} lengths and {len(folds)} bends", "give one length more")
    backs = [setback(thickness, f.radius, f.angle) / 2.0 for f in folds]
    x = 0.0
    bends = []
    pairs = list(zip(lengths, [0.0, *backs], [*backs, 0.0], strict=True))
    for i, (size, before, after) in enumerate(pairs):
        straight = size - before - after
        if straight <= 0.0:
            words = f"the outside size {size:.2f} mm leaves no flat between its bends"
            raise GeometryFault("bent strip", words, f"make it more than {before + after:.2f} mm")
        x += straight
        if i == len(folds):
            break
        fold = folds[i]
        takes = rule.allowance(thickness, fold.radius, fold.angle)
        sizes = (size, lengths[i + 1])
        bends.append(_bend((x + takes / 2.0, 0.0), (x + takes / 2.0, width), fold, takes, rule, sizes))
        x += takes
    order = outside_in(len(bends))
    edges_at = [0.0, *(b.x0 for b in bends), x]
    widest = max(range(len(edges_at) - 1), key=lambda i: (round(edges_at[i + 1] - edges_at[i], 6), -i))
    arrow = ((edges_at[widest] + edges_at[widest + 1]) / 2.0, width / 2.0)
    return Unfolded(thickness, Profile(rectangle(0.0, 0.0, x, width)), tuple(bends[i] for i in order), arrow, 0.0)


def _bend(start: Point, end: Point, fold: Fold, takes: float, rule: BendRule, sizes: tuple[float, float]) -> Bend:
    return Bend(
        *start,
        *end,
        fold.angle,
        fold.radius,
        fold.up,
        takes,
        rule.words(fold.radius, fold.angle),
        rule.is_measured(fold.radius, fold.angle),
        sizes,
    )


def outside_in(count: int) -> tuple[int, ...]:
    """Order in which parallel bends are made: outermost first, from both ends in turn."""
    left = list(range(count))
    order = []
    while left:
        order.append(left.pop(0))
        if left:
            order.append(left.pop())
    return tuple(order)


def tray(
    size: Point,
    flanges: dict[Side, tuple[float, Fold]],
    thickness: float,
    rule: BendRule,
    *,
    inset: float = 0.0,
    kind: ReliefKind = "round",
) -> Unfolded:
    """The flat of a base with a flange on any of its four sides; its middle is the origin.

    Corners between two flanges are cut out with a round relief, so that the bends do not meet. With an
    inset a flange stops short of the base's ends, and a relief frees its bend there.

    Args:
        size: Outside sizes of the base along x and y [mm].
        flanges: (outside height [mm], bend) by side: right x+, left x-, back y+, front y-.
        thickness: Measured [mm].
        rule: For the flat lengths.
        inset: From the end of a flange to the end of the base's side [mm].
        kind: Of reliefs.

    Raises:
        GeometryFault: When sizes reach past the bends.
    """
    sides = {name: _Flange.of(*flanges[name], thickness, rule) for name in SIDES if name in flanges}
    reach = {name: _reach(size, name, sides) for name in SIDES}
    if min(reach["right"] + reach["left"], reach["back"] + reach["front"]) <= 2.0 * inset:
        raise GeometryFault("bent part", "the base leaves no flat between its bends", "make it larger")
    corners: list[Vertex] = []
    bends: dict[Side, Bend] = {}
    for name in SIDES:
        made, line = _side(name, size, sides, thickness, inset, kind)
        corners += made
        if line is not None:
            one = sides[name]
            bends[name] = _bend(*line, one.fold, one.takes, rule, (2.0 * _half(size, name), one.height))
    if not bends:
        raise GeometryFault("bent part", "it has no flange", "give at least one side a flange")
    order: list[Side] = [n for pair in (("right", "left"), ("back", "front")) for n in pair if n in bends]
    along_x = sum(n in ("right", "left") for n in bends)
    grain = 0.0 if along_x >= len(bends) - along_x else 90.0
    middle = ((reach["right"] - reach["left"]) / 2.0, (reach["back"] - reach["front"]) / 2.0)
    return Unfolded(thickness, Profile(_tidy(corners)), tuple(bends[n] for n in order), middle, grain)


SIDES: tuple[Side, ...] = ("right", "back", "left", "front")
WAYS: dict[Side, Point] = {"right": (1.0, 0.0), "back": (0.0, 1.0), "left": (-1.0, 0.0), "front": (0.0, -1.0)}


@dataclass(frozen=True)
class _Flange:
    """A flange of a base: as asked for, flat length in its bend, straight beyond it, setback [mm]."""

    height: float
    fold: Fold
    takes: float
    straight: float
    back: float

    @classmethod
    def of(cls, height: float, fold: Fold, thickness: float, rule: BendRule) -> _Flange:
        back = setback(thickness, fold.radius, fold.angle) / 2.0
        if height <= back:
            words = f"a flange of {height:.2f} mm outside ends within its bend"
            raise GeometryFault("bent part", words, f"make it more than {back:.2f} mm")
        return cls(height, fold, rule.allowance(thickness, fold.radius, fold.angle), height - back, back)


def _reach(size: Point, name: Side, sides: dict[Side, _Flange]) -> float:
    """From the origin to the base's tangent line, or to its edge where it has no flange [mm]."""
    return _half(size, name) - (sides[name].back if name in sides else 0.0)


def _half(size: Point, name: Side) -> float:
    return (size[0] if name in ("right", "left") else size[1]) / 2.0


def _side(
    name: Side, size: Point, sides: dict[Side, _Flange], thickness: float, inset: float, kind: ReliefKind
) -> tuple[list[Vertex], tuple[Point, Point] | None]:
    """Corners of one side of the flat, run counter-clockwise, and its bend line."""
    n = WAYS[name]

    def at(across: float, along: float) -> Point:
        return across * n[0] - along * n[1], across * n[1] + along * n[0]

    i = SIDES.index(name)
    before, after = SIDES[i - 1], SIDES[(i + 1) % 4]
    low, high = (_half(size, k) if inset > 0.0 else _reach(size, k, sides) for k in (before, after))
    if name not in sides:
        edge = _half(size, name)
        return [Vertex(*at(edge, -low)), Vertex(*at(edge, high))], None
    one, base = sides[name], _reach(size, name, sides)
    line, tip = base + one.takes / 2.0, base + one.takes + one.straight
    if inset > 0.0:
        cut = relief_size(thickness, one.fold.radius)
        if inset <= cut[0]:
            words = f"{inset:.2f} mm beside a flange leave no room for its relief of {cut[0]:.2f} mm"
            raise GeometryFault("bent part", words, "make the inset larger, or 0")
        s0, s1, edge = inset - low, high - inset, _half(size, name)
        start = relief(at(line, s0), (-n[0], -n[1]), (n[1], -n[0]), cut, kind)
        end = relief(at(line, s1), (-n[0], -n[1]), (-n[1], n[0]), cut, kind)
        made = [Vertex(*at(edge, -low)), Vertex(*at(edge, s0 - cut[0])), *_backwards(start), Vertex(*at(tip, s0))]
        made += [Vertex(*at(tip, s1)), *end, Vertex(*at(edge, s1 + cut[0])), Vertex(*at(edge, high))]
        return made, (at(line, s0), at(line, s1))
    d0, d1 = (_notch(sides[k], thickness) if k in sides else 0.0 for k in (before, after))
    s0, s1 = d0 - low, high - d1
    made = [Vertex(*at(tip, s0)), Vertex(*at(tip, s1))]
    if after in sides:
        made += _corner(at, base - _notch(one, thickness), s1, min(thickness / 2.0, _notch(one, thickness), d1))
    return made, (at(line, s0), at(line, s1))


def _notch(one: _Flange, thickness: float) -> float:
    """How far a corner is cut out past the tangent line, so that it ends a relief's depth past the bend line [mm]."""
    return max(0.0, relief_size(thickness, one.fold.radius)[1] - one.takes / 2.0)


def _corner(at: Callable[[float, float], Point], across: float, along: float, radius: float) -> list[Vertex]:
    """The inner corner between two flanges, rounded: inward along one edge, outward along the next."""
    if radius <= 0.0:
        return [Vertex(*at(across, along))]
    quarter = math.tan(math.pi / 8.0)
    return [Vertex(*at(across + radius, along), -quarter), Vertex(*at(across, along + radius))]


def _backwards(chain: tuple[Vertex, ...]) -> list[Vertex]:
    bulges = [*(0.0 - v.bulge for v in chain[-2::-1]), 0.0]
    return [Vertex(v.x, v.y, b) for v, b in zip(reversed(chain), bulges, strict=True)]


def _tidy(corners: list[Vertex]) -> Loop:
    """The corners without doubles and without those in the middle of a straight line."""
    once: list[Vertex] = []
    for v in corners:
        if once and math.hypot(v.x - once[-1].x, v.y - once[-1].y) < SAME:
            once[-1] = v
        else:
            once.append(v)
    if math.hypot(once[0].x - once[-1].x, once[0].y - once[-1].y) < SAME:
        once.pop()
    kept = []
    for i, v in enumerate(once):
        a, b = once[i - 1], once[(i + 1) % len(once)]
        off = abs((v.x - a.x) * (b.y - v.y) - (v.y - a.y) * (b.x - v.x))
        if a.bulge or v.bulge or off > SAME * math.hypot(b.x - a.x, b.y - a.y):
            kept.append(v)
    return tuple(kept)
