"""Contradictions about what must clear what: boxes without room, rails without length, names nobody has."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from fixturegen.sheet.contradictions.rule import Clash, rule
from fixturegen.sheet.specs import Sheet

AXES = ("x", "y", "z")


@rule
def boxes_in_the_way(sheet: Sheet) -> Iterator[Clash]:
    """Boxes whose ends are the wrong way round, or the same."""
    for n, box in enumerate(() if sheet.clearance is None else sheet.clearance.boxes):
        for axis in AXES:
            low, high = getattr(box, axis)
            if low >= high:
                given = f"from {low.text} to {high.text}"
                remedy = "measure both ends of the box, and write the lower value first"
                yield Clash(("clearance", "boxes", n, axis), given, "the lower value first, two values apart", remedy)


@rule
def rails_in_the_way(sheet: Sheet) -> Iterator[Clash]:
    """Rails that begin where they end, and planes without a direction."""
    if sheet.clearance is None:
        return
    for n, rail in enumerate(sheet.clearance.rails):
        if all(float(a) == float(b) for a, b in zip(rail.begin, rail.end, strict=True)):
            given = "begin and end in one place"
            yield Clash(("clearance", "rails", n, "end"), given, "two points apart", "measure both ends of the rail")
    for n, plane in enumerate(sheet.clearance.planes):
        if not any(float(v) for v in plane.beyond):
            given = f"[{', '.join(v.text for v in plane.beyond)}]"
            remedy = 'write a direction, like ["0", "0", "1"] for what lies above'
            yield Clash(("clearance", "planes", n, "beyond"), given, "a direction", remedy)


@rule
def rounds_listed_once(sheet: Sheet) -> Iterator[Clash]:
    """One link, strut or rod with two diameters."""
    rounds = () if sheet.clearance is None else sheet.clearance.rounds
    names = sorted((r.name.casefold(), n) for n, r in enumerate(rounds))
    for (one, _), (other, n) in pairwise(names):
        if one == other:
            given = f"{rounds[n].name} a second time"
            yield Clash(("clearance", "rounds", n, "name"), given, "one entry each", "leave one of the two out")


@rule
def knuckles_to_ride_on(sheet: Sheet) -> Iterator[Clash]:
    """What rides on a knuckle of an axle that has none."""
    if sheet.clearance is None or sheet.axle.position == "front":
        return
    for kind in ("boxes", "rails", "planes"):
        for n, one in enumerate(getattr(sheet.clearance, kind)):
            if one.rides in ("left", "right"):
                given = f'"{one.rides}", with axle.position = "rear"'
                remedy = 'a rear axle is not steered: write rides = "axle"'
                yield Clash(("clearance", kind, n, "rides"), given, "frame or axle", remedy)
