"""Contradictions about the search for better link points."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from fixturegen.sheet.contradictions.rule import Clash, rule
from fixturegen.sheet.keys import Path, keys_of
from fixturegen.sheet.specs import Sheet
from fixturegen.sheet.specs.link_search import Wants

HERE = ("links", "search")
AXES = ("x", "y", "z")
METRICS = tuple(k.name for k in keys_of(Wants))


def _reversed(values: Any, path: Path) -> Iterator[Clash]:
    """A range whose ends are the wrong way round."""
    if len(values) == 2 and values[0] > values[1]:
        given = f"from {values[0].text} to {values[1].text}"
        yield Clash(path, given, "the lower value first", "swap the two")


@rule
def ranges_of_points(sheet: Sheet) -> Iterator[Clash]:
    """Ranges of points, and boxes to keep clear, that are the wrong way round or empty."""
    search = sheet.links.search if sheet.links is not None else None
    if search is None:
        return
    for n, point in enumerate(search.points):
        for axis in AXES:
            yield from _reversed(getattr(point, axis), (*HERE, "points", n, axis))
    for n, box in enumerate(search.boxes):
        for axis in AXES:
            values = getattr(box, axis)
            yield from _reversed(values, (*HERE, "boxes", n, axis))
            if values[0] == values[1]:
                given = f"from {values[0].text} to {values[1].text}"
                yield Clash((*HERE, "boxes", n, axis), given, "two values apart", "measure both ends of the box")


@rule
def points_listed_once(sheet: Sheet) -> Iterator[Clash]:
    """One point in two entries of the list."""
    search = sheet.links.search if sheet.links is not None else None
    names: list[str] = []
    for n, point in enumerate(() if search is None else search.points):
        if point.point in names:
            given = f"{point.point} a second time"
            yield Clash((*HERE, "points", n, "point"), given, "one entry a point", "leave one of the two out")
        names.append(point.point)


@rule
def wishes_with_a_range(sheet: Sheet) -> Iterator[Clash]:
    """Wishes that say nothing or want the impossible; a search without any."""
    search = sheet.links.search if sheet.links is not None else None
    if search is None:
        return
    found = 0
    for metric in METRICS:
        for n, wish in enumerate(getattr(search.want, metric)):
            found += 1
            path: Path = (*HERE, "want", metric, n)
            if wish.least is None and wish.most is None:
                yield Clash(path, "neither least nor most", "least, most or both", "say what is wanted")
            elif wish.least is not None and wish.most is not None and wish.least > wish.most:
                given = f"least {wish.least.text} and most {wish.most.text}"
                yield Clash(path, given, "least not above most", "swap the two")
    if not found:
        remedy = 'write what is wanted, like anti_squat = [{ pose = "ride", least = "50", most = "90" }]'
        yield Clash((*HERE, "want"), "no wish", "at least one metric with a range", remedy)
