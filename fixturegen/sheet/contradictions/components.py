"""Contradictions about the parts a person has: what each is given by, and what places it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise
from math import dist
from typing import Any

from fixturegen.sheet.contradictions.rule import Clash, rule, said
from fixturegen.sheet.keys import Path
from fixturegen.sheet.slugs import slug
from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.specs.components import FILES, TRACINGS

HERE = "components"
GIVEN_BY = ("file", "box", "plane", "outline")
LEAST_POINTS = 3
"""Two points leave a part free to turn about the line through them."""

LEAST_HEIGHT = 25.4
"""[mm] of the flattest triangle that still tells a part's turn: a tape reads no finer than 1/16 in over less."""

SAME = 0.01
"""[mm] corners nearer than this are one."""


def _spread(points: Sequence[Sequence[float]]) -> float:
    """Height of the tallest triangle that any three of the points make on its longest side [mm]."""
    best = 0.0
    for a, b, c in combinations(points, 3):
        sides = sorted((dist(a, b), dist(b, c), dist(a, c)))
        half = sum(sides) / 2.0
        square = half * (half - sides[0]) * (half - sides[1]) * (half - sides[2])
        if sides[2] > 0.0:
            best = max(best, 2.0 * max(0.0, square) ** 0.5 / sides[2])
    return best


@rule
def components_called_once(sheet: Sheet) -> Iterator[Clash]:
    """Two parts under one name, or names that read alike in files."""
    seen: dict[str, str] = {}
    for n, part in enumerate(sheet.components):
        word = slug(part.name)
        if not word or word in seen:
            given = f"{part.name}, beside {seen[word]}" if word else f"{part.name}, of no letter or digit"
            yield Clash((HERE, n, "name"), given, "a name of its own", "call it by what tells it apart: left, rear, 2")
        seen[word] = part.name


@rule
def components_given_once(sheet: Sheet) -> Iterator[Clash]:
    """A part given by nothing, or in two ways; a file without its unit, or a unit without a file."""
    for n, part in enumerate(sheet.components):
        ways = [w for w in GIVEN_BY if getattr(part, w) is not None]
        if len(ways) != 1:
            given = f"{part.name} by {' and '.join(ways)}" if ways else f"{part.name} by nothing"
            yield Clash((HERE, n), given, "one of file, box, plane, outline", "keep the one that was measured best")
        filed = part.file or (part.outline.file if part.outline is not None else None)
        if filed and part.unit is None:
            remedy = "write the unit its numbers are in: look where it was exported; it is never guessed"
            yield Clash((HERE, n, "unit"), f"nothing, with {filed}", "mm or in", remedy)
        if part.unit is not None and not filed:
            remedy = "quantities of the sheet carry their own units: take unit away"
            yield Clash((HERE, n, "unit"), f"{part.unit}, without a file", "nothing", remedy)


@rule
def files_of_a_known_kind(sheet: Sheet) -> Iterator[Clash]:
    """A file of a kind nothing here reads."""
    for n, part in enumerate(sheet.components):
        named: list[tuple[Path, str | None, tuple[str, ...]]] = [((HERE, n, "file"), part.file, FILES)]
        if part.outline is not None:
            named.append(((HERE, n, "outline", "file"), part.outline.file, TRACINGS))
        for path, name, endings in named:
            if name and not name.lower().endswith(endings):
                remedy = "export it again as one of these, and state the unit it was exported in"
                yield Clash(path, name, f"a file ending in {', '.join(endings)}", remedy)


@rule
def components_of_some_size(sheet: Sheet) -> Iterator[Clash]:
    """Boxes the wrong way round or empty; planes without a direction."""
    for n, part in enumerate(sheet.components):
        for axis in ("x", "y", "z") if part.box is not None else ():
            values = getattr(part.box, axis)
            if len(values) == 2 and values[0] >= values[1]:
                given = f"from {values[0].text} to {values[1].text}"
                remedy = "swap the two" if values[0] > values[1] else "measure both ends of it"
                yield Clash((HERE, n, "box", axis), given, "the lower value first", remedy)
        if part.plane is not None and not any(part.plane.beyond):
            remedy = 'write the way into the part, like ["0", "0", "1"] for one above the plane'
            yield Clash((HERE, n, "plane", "beyond"), "a direction of no length", "a direction", remedy)


@rule
def outlines_that_close(sheet: Sheet) -> Iterator[Clash]:
    """A traced outline given twice, by too few corners, by one corner twice, or that crosses itself."""
    for n, part in enumerate(sheet.components):
        drawn = part.outline
        if drawn is None:
            continue
        path: Path = (HERE, n, "outline")
        if bool(drawn.corners) == (drawn.file is not None):
            given = "corners and a file" if drawn.corners else "neither corners nor a file"
            yield Clash(path, given, "corners, or file", "keep one of the two")
        elif drawn.corners:
            yield from _corners(path, [(float(c.x), float(c.y)) for c in drawn.corners])


def _corners(path: Path, corners: list[tuple[float, float]]) -> Iterator[Clash]:
    here = (*path, "corners")
    if len(corners) < LEAST_POINTS:
        yield Clash(here, f"{len(corners)} corners", "3 or more", "trace it again")
        return
    ring = [*corners, corners[0]]
    for k, (a, b) in enumerate(pairwise(ring)):
        if dist(a, b) < SAME:
            other = (k + 1) % len(corners) + 1
            given = f"corners {k + 1} and {other} in one place"
            yield Clash(here, given, "each corner once", "take one out; the last joins the first by itself")
            return
    sides = list(pairwise(ring))
    for i, j in combinations(range(len(sides)), 2):
        if j - i > 1 and not (i == 0 and j == len(sides) - 1) and _cross(*sides[i], *sides[j]):
            given = f"a line that crosses itself after corners {i + 1} and {j + 1}"
            yield Clash(here, given, "corners in order round it", "write the corners in the order of the line")
            return


def _cross(a: Any, b: Any, c: Any, d: Any) -> bool:
    """Whether two straight sides cross or touch."""

    def turn(p: Any, q: Any, r: Any) -> float:
        return float((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]))

    return turn(a, b, c) * turn(a, b, d) <= 0.0 and turn(c, d, a) * turn(c, d, b) <= 0.0


@rule
def components_placed_once(sheet: Sheet) -> Iterator[Clash]:
    """A part that nothing places, or two things do; points too few or in a line."""
    for n, part in enumerate(sheet.components):
        path: Path = (HERE, n)
        needs = part.file is not None or part.outline is not None
        if part.points and (part.as_it_stands or part.plane is not None):
            what = "a plane" if part.plane is not None else "as_it_stands = true"
            remedy = "keep the points, or what stands where it is drawn"
            yield Clash((*path, "points"), f"{len(part.points)} points, with {what}", "one of the two", remedy)
        elif needs and not part.points and not part.as_it_stands:
            remedy = "measure three points on it and where each stands, or write as_it_stands = true"
            yield Clash((*path, "points"), "nothing", "three or more named points", remedy)
        elif part.points and len(part.points) < LEAST_POINTS:
            remedy = "measure a third point, well off the line through the others"
            yield Clash((*path, "points"), f"{len(part.points)} points", "3 or more", remedy)
        elif len(part.points) >= LEAST_POINTS and all(len(p.own) == 3 for p in part.points):
            height = _spread([[float(v) for v in p.own] for p in part.points])
            if height < LEAST_HEIGHT:
                given = f"points nearly in a line: {said(height)} off it at most"
                remedy = "take points farther apart: a part turns about a line"
                yield Clash((*path, "points"), given, f"{said(LEAST_HEIGHT)} or more off a line", remedy)


@rule
def named_points_with_one_place(sheet: Sheet) -> Iterator[Clash]:
    """A named point without a place, with two, on a stud that is not there, or named twice."""
    studs = sheet.housing.face.studs
    count = len(studs.points) or len(studs.angles)
    for n, part in enumerate(sheet.components):
        names: set[str] = set()
        for k, point in enumerate(part.points):
            path: Path = (HERE, n, "points", k)
            ways = [w for w in ("place", "stud", "angle") if getattr(point, w) not in (None, ())]
            if len(ways) != 1:
                given = f"{point.name} with {' and '.join(ways) or 'no place'}"
                yield Clash(path, given, "one of place, stud, angle", "say once where this point stands")
            if len(point.place) not in (0, 3):
                given, remedy = f"{len(point.place)} values", "write forward, left and up"
                yield Clash((*path, "place"), given, "three values", remedy)
            if point.stud is not None and point.stud > count:
                given = f"stud {point.stud}, with {count} on [housing.face]"
                yield Clash((*path, "stud"), given, f"1 to {count}", "count them in the order of [housing.face.studs]")
            if point.name in names:
                yield Clash((*path, "name"), f"{point.name} twice", "each point once", "take one out")
            names.add(point.name)
        if part.moves_with != "axle" and any(p.stud is not None for p in part.points):
            given = f"{part.moves_with}, with a point on a stud of the axle"
            yield Clash((HERE, n, "moves_with"), given, "axle", "what is bolted to the face moves with the axle")


@rule
def parts_of_knuckles_on_an_axle_with_knuckles(sheet: Sheet) -> Iterator[Clash]:
    """A part that goes with a knuckle, on an axle that has none."""
    for n, part in enumerate(sheet.components):
        if part.moves_with in ("left", "right") and sheet.axle.position != "front":
            given = f"{part.moves_with}, on a rear axle"
            yield Clash((HERE, n, "moves_with"), given, "axle or frame", "write axle: nothing is steered here")


@rule
def circles_with_their_angles(sheet: Sheet) -> Iterator[Clash]:
    """A bolt circle no point is on, points on a circle that is not there, or directions that say nothing."""
    for n, part in enumerate(sheet.components):
        path: Path = (HERE, n, "circle")
        on = [p.name for p in part.points if p.angle is not None]
        if on and part.circle is None:
            remedy = "measure the circle: centre, axis, direction of angle 0, diameter"
            yield Clash(path, f"nothing, with {on[0]} at an angle", "a bolt circle", remedy)
        if part.circle is None:
            continue
        if not on:
            yield Clash(path, "a circle no point is on", "points with an angle", "give angles, or take it away")
        axis, zero = [float(v) for v in part.circle.axis], [float(v) for v in part.circle.zero]
        if len(axis) == 3 and len(zero) == 3 and _slant(axis, zero) < SQUARE:
            given = "zero along the axis, or a direction of no length"
            yield Clash((*path, "zero"), given, "a direction square to the axis", "from the middle to where angle 0 is")


SQUARE = 0.5
"""Least sine between axis and zero: what is more than 60 deg off square was not meant."""


def _slant(a: list[float], b: list[float]) -> float:
    """Sine of the angle between two directions (3,); 0 where one has no length."""
    x, y, z = a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]
    sizes = dist(a, (0.0, 0.0, 0.0)) * dist(b, (0.0, 0.0, 0.0))
    return float((x * x + y * y + z * z) ** 0.5 / sizes) if sizes else 0.0
