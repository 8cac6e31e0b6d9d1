"""From the sheet's [links.search] to what a search is asked for."""

from __future__ import annotations

import math
from collections.abc import Iterator

from fixturegen.axle.linkage import Linkage
from fixturegen.axle.model import AxleModel, Point
from fixturegen.errors import Fault, InputFault
from fixturegen.sheet.specs import Links, LinkSearch, Sheet
from fixturegen.sheet.specs.link_search import ClearBox, ClearPlane, ClearRail, MovingPoint
from fixturegen.studies.link_batch import Stroke
from fixturegen.studies.link_inputs import linkage_on, links_on, point_of, vehicle_on
from fixturegen.studies.link_points import points_of
from fixturegen.studies.link_wishes import SCALES, Beyond, Box, KeepOut, Plane, Rail, Room, Row, Wanted, Wish, near


def search_on(sheet: Sheet) -> LinkSearch:
    """The sheet's [links.search].

    Raises:
        InputFault: When it has none.
    """
    search = links_on(sheet).search
    if search is None:
        remedy = (
            "add [[links.search.points]] with point and the ranges x, y, z it may be in, and [links.search.want] "
            "with what is wanted: see examples/rear-dropout.toml"
        )
        raise InputFault(Fault("links.search", "nothing", "a [links.search] section", remedy))
    return search


def stroke_on(links: Links) -> Stroke:
    """How far the wheels travel."""
    return Stroke(float(links.bump), float(links.droop))


def wanted_on(sheet: Sheet, axle: AxleModel) -> Wanted:
    """What a search is asked for.

    Raises:
        InputFault: When the sheet has no links or asks for no search, or asks for points that are not there.
    """
    links, search = links_on(sheet), search_on(sheet)
    linkage = linkage_on(sheet, axle)
    unit = sheet.job.units
    faults = list(_unknown_points(linkage, search)) + list(_two_ways(search))
    if faults:
        raise InputFault(*faults)
    return Wanted(
        linkage=linkage,
        vehicle=vehicle_on(sheet, axle),
        stroke=stroke_on(links),
        rooms=tuple(_room(linkage, p) for p in search.points),
        wishes=tuple(_wishes(search, unit)),
        keep_out=tuple(_kept_clear(search)),
        link_radius=float(search.clearance),
        apart=float(search.apart),
        unit=unit,
    )


def _unknown_points(linkage: Linkage, search: LinkSearch) -> Iterator[Fault]:
    known = [p.name for p in points_of(linkage)]
    for n, moving in enumerate(search.points, 1):
        if moving.point not in known:
            given = f"{moving.point}, a point that this {linkage.kind} does not have"
            yield Fault(f"links.search.points[{n}].point", given, ", ".join(known), near(moving.point, known))


def _two_ways(search: LinkSearch) -> Iterator[Fault]:
    """Points with both a row of holes and ranges, or with neither; pitches without a range."""
    for n, moving in enumerate(search.points, 1):
        key = f"links.search.points[{n}]"
        boxed = bool(moving.x or moving.y or moving.z)
        if moving.holes is not None and (boxed or moving.face is not None):
            given = f"{moving.point} with holes and with ranges"
            yield Fault(key, given, "holes, or ranges of x, y and z", "leave one of the two out")
        if moving.holes is None and not boxed:
            given = f"{moving.point} without any range"
            yield Fault(key, given, "x, y or z, or a row of holes", "say where it may be, or leave the point out")
        for axis in ("x", "y", "z"):
            given_range = getattr(moving, axis)
            if len(given_range) == 1:
                yield Fault(f"{key}.{axis}", "one value", "two, the lower one first", "write both ends of the range")
            if getattr(moving, f"pitch_{axis}") is not None and not given_range:
                given = f"a hole pitch along {axis} without a range"
                yield Fault(f"{key}.pitch_{axis}", given, f"{axis} with both ends", f"write {axis}, or take it out")


def _room(linkage: Linkage, moving: MovingPoint) -> Room | Row:
    point = next(p for p in points_of(linkage) if p.name == moving.point)
    i, e = point.members[0]
    link = linkage.links[i]
    at = (link.frame, link.axle)[e].at
    if moving.holes is not None:
        return Row(moving.point, point_of(moving.holes.first), point_of(moving.holes.step), moving.holes.count, at)
    here = (link.frame, link.axle)[e].point
    low, high = list(here), list(here)
    pitch = [0.0, 0.0, 0.0]
    for k, axis in enumerate("xyz"):
        given = getattr(moving, axis)
        if given:
            low[k], high[k] = float(given[0]), float(given[1])
            pitch[k] = float(getattr(moving, f"pitch_{axis}") or 0.0)
    face = moving.face
    plane = None if face is None else Plane(point_of(face.normal), point_of(face.through))
    return Room(moving.point, _point(low), _point(high), _point(pitch), plane, at)


def _point(values: list[float]) -> Point:
    return values[0], values[1], values[2]


def _wishes(search: LinkSearch, unit: str) -> Iterator[Wish]:
    for metric in SCALES:
        for wanted in getattr(search.want, metric):
            low = -math.inf if wanted.least is None else float(wanted.least)
            high = math.inf if wanted.most is None else float(wanted.most)
            yield Wish(f"{metric}.{wanted.pose}", low, high, float(wanted.weight), unit)


def _kept_clear(search: LinkSearch) -> Iterator[KeepOut]:
    """Everything that must stay clear; what is there on both sides comes twice, under one name."""
    for box in search.boxes:
        yield from _box(box)
    for rail in search.rails:
        yield from _rail(rail)
    for plane in search.planes:
        yield from _plane(plane)


def _over(p: Point) -> Point:
    return p[0], -p[1], p[2]


def _box(given: ClearBox) -> Iterator[Box]:
    (x1, x2), (y1, y2), (z1, z2) = (tuple(float(v) for v in r) for r in (given.x, given.y, given.z))
    yield Box(given.name, (x1, y1, z1), (x2, y2, z2))
    if given.both_sides:
        yield Box(given.name, (x1, -y2, z1), (x2, -y1, z2))


def _rail(given: ClearRail) -> Iterator[Rail]:
    begin, end, size = point_of(given.begin), point_of(given.end), (float(given.width), float(given.height))
    yield Rail(given.name, begin, end, *size)
    if given.both_sides:
        yield Rail(given.name, _over(begin), _over(end), *size)


def _plane(given: ClearPlane) -> Iterator[Beyond]:
    through, normal = point_of(given.through), point_of(given.beyond)
    yield Beyond(given.name, through, normal)
    if given.both_sides:
        yield Beyond(given.name, _over(through), _over(normal))
