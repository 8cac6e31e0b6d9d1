"""The points of a linkage that can be measured or moved: each joint once, with every line that ends in it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from fixturegen.axle.frames import Array, as_point
from fixturegen.axle.linkage import HELD, Joint, Link, Linkage
from fixturegen.axle.linkage_faults import SAME
from fixturegen.errors import Fault, InputFault

ENDS = ("frame", "axle")
AXES = ("x", "y", "z")


@dataclass(frozen=True)
class LinkPoint:
    """One joint centre.

    Attributes:
        name: Of the first line that ends here, and which end: lower-left.frame.
        key: The same as dotted sheet key.
        members: (index of the line, 0 frame or 1 axle) of every line that ends here.
        tolerance: Of the measured point, either way in each coordinate [mm].
    """

    name: str
    key: str
    members: tuple[tuple[int, int], ...]
    tolerance: float


def points_of(linkage: Linkage) -> tuple[LinkPoint, ...]:
    """Every joint centre of a linkage once: legs of a wishbone share one, and so do the lines of an arm.

    Raises:
        InputFault: For leaf springs, whose lines stand for something else and have no measured points.
    """
    if linkage.kind == "leaf-springs":
        remedy = "search and spread are for linkages whose joints are measured"
        raise InputFault(Fault("links.kind", "leaf-springs", "a kind with links", remedy))
    ends = both_ends(linkage)
    found: list[LinkPoint] = []
    taken: set[tuple[int, int]] = set()
    for i, link in enumerate(linkage.links):
        for e, end in enumerate(ENDS):
            if (i, e) in taken:
                continue
            members = [(i, e)]
            if link.part != "rod":
                alike = [j for j, k in enumerate(linkage.links) if j > i and k.part == link.part]
                near = [j for j in alike if float(np.linalg.norm(ends[e, i] - ends[e, j])) < SAME]
                members += [(j, e) for j in near if (j, e) not in taken]
            taken |= set(members)
            widest = max(_joint(linkage.links[j], e).tolerance for j, e in members)
            found.append(LinkPoint(f"{link.name}.{end}", f"{link.key}.{end}", tuple(members), widest))
    return tuple(found)


def _joint(link: Link, end: int) -> Joint:
    return link.axle if end else link.frame


def refuse_stiff(linkage: Linkage) -> None:
    """Nothing, when the linkage can move with its points elsewhere.

    Raises:
        InputFault: When more than four lengths hold the axle and no joint has a rate: with a point moved they
            fit no more.
    """
    if len(linkage.links) > HELD and linkage.rates() is None:
        given = f"{linkage.kind} with {len(linkage.links)} lengths, which fit no more once a point is moved"
        remedy = "measure or ask the maker for the rates of the bushes (rate of each joint), or take fewer links"
        raise InputFault(Fault("links.kind", given, "joints whose bush rates are given", remedy))


def both_ends(linkage: Linkage) -> Array:
    """Frame ends and axle ends in V at ride height, shape (2, n, 3) [mm]."""
    stance = linkage.stance
    return np.stack([linkage.frame_points(), linkage.axle_points() @ stance.rotation.T + stance.origin])


def counterpart(linkage: Linkage, points: Iterable[LinkPoint], point: LinkPoint) -> LinkPoint | None:
    """The point on the other side of the truck; None where there is none, or where it is the point itself."""
    names = linkage.names
    i, e = point.members[0]
    parts = names[i].split("-")
    other = "-".join({"left": "right", "right": "left"}.get(p, p) for p in parts)
    if other == names[i] or other not in names:
        return None
    at = (names.index(other), e)
    found = next((p for p in points if at in p.members), None)
    return None if found is None or found is point else found


def with_ends(linkage: Linkage, ends: Array) -> Linkage:
    """The linkage with other joint centres, each given in the frame its joint is given in.

    Args:
        linkage: Whose kind, stance, bolts, limits and rates stay.
        ends: Frame ends and axle ends in V at ride height, shape (2, n, 3) [mm].
    """
    stance = linkage.stance
    links = []
    for i, link in enumerate(linkage.links):
        tip = ends[1, i] if link.axle.at == "vehicle" else stance.to_axle(as_point(ends[1, i]))
        links.append(
            replace(
                link,
                frame=replace(link.frame, point=as_point(ends[0, i])),
                axle=replace(link.axle, point=as_point(tip)),
            )
        )
    return replace(linkage, links=tuple(links))
