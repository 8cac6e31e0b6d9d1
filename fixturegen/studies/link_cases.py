"""Every link with what it is made of and the most it is pushed and pulled by in any load case."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fixturegen.axle.linkage import Link
from fixturegen.axle.model import AxleModel
from fixturegen.sheet.specs import Loads, Sheet
from fixturegen.sheet.specs.loads import LinkTube
from fixturegen.studies.axle_loads import AxleLoads
from fixturegen.studies.joint_bolts import thread_area
from fixturegen.studies.link_columns import LinkCase, link_strengths
from fixturegen.studies.link_inputs import stance_of
from fixturegen.studies.load_cases import loads_on, weights_of
from fixturegen.studies.strength_records import Strength, steel_of

ROCKED = ("lower",)
"""Links that come down on rocks (common practice, no source)."""


@dataclass(frozen=True)
class LinkStrength:
    """One link.

    Attributes:
        name: Of the link.
        push: Name of the case that pushes most.
        pull: Name of the case that pulls most.
        case: The link and its loads.
        strengths: Every way in which it may give out.
        missing: What is not worked out for want of a value, in a sentence; empty when nothing.
    """

    name: str
    push: str
    pull: str
    case: LinkCase
    strengths: tuple[Strength, ...]
    missing: str = ""


def link_strengths_of(sheet: Sheet, axle: AxleModel, loads: AxleLoads) -> tuple[LinkStrength, ...]:
    """Every rod whose tube the sheet gives, in the order of the links."""
    found = []
    for link in loads.linkage.links:
        tube = tube_of(loads_on(sheet), link)
        if tube is not None:
            found.append(_judged(sheet, axle, loads, link, tube))
    return tuple(found)


def without_tube(sheet: Sheet, loads: AxleLoads) -> tuple[str, ...]:
    """Names of the rods whose tube is not on the sheet; lines that stand for leaf springs are none."""
    given = loads_on(sheet)
    if loads.linkage.approximate:
        return ()
    return tuple(k.name for k in loads.linkage.links if k.part == "rod" and tube_of(given, k) is None)


def strange_tubes(sheet: Sheet, loads: AxleLoads) -> tuple[str, ...]:
    """What [[loads.links]] names and no rod is called."""
    rods = [k for k in loads.linkage.links if k.part == "rod"]
    return tuple(t.link for t in loads_on(sheet).links if not any(_named(t, k) for k in rods))


def tube_of(loads: Loads, link: Link) -> LinkTube | None:
    """What a rod is made of; a row of its full name goes before one for left and right."""
    if link.part != "rod":
        return None
    fits = [t for t in loads.links if _named(t, link)]
    return next((t for t in fits if t.link == link.name), fits[0] if fits else None)


def _named(tube: LinkTube, link: Link) -> bool:
    name = tube.link.replace("_", "-").replace(" ", "-")
    return link.name in (name, f"{name}-left", f"{name}-right")


def _judged(sheet: Sheet, axle: AxleModel, loads: AxleLoads, link: Link, tube: LinkTube) -> LinkStrength:
    (pushing, push), (pulling, pull) = loads.governing(link.name, "push"), loads.governing(link.name, "pull")
    stance = stance_of(sheet, axle)
    length = math.dist(stance.in_axle(link.axle), stance.to_axle(link.frame.point))
    area = None if tube.thread is None or tube.thread_strength is None else thread_area(tube.thread)
    rocks = link.name.startswith(ROCKED)
    case = LinkCase(
        name=link.name.replace("-", " "),
        push=min(push, 0.0),
        pull=max(pull, 0.0),
        diameter=float(tube.diameter),
        wall=float(tube.wall),
        length=length,
        steel=steel_of(tube.material),
        offset=float(tube.offset),
        thread_area=area,
        thread_tensile=float(tube.thread_strength or 0.0),
        rating=_rating(sheet, link.name),
        rock=weights_of(sheet, axle).axle / 2.0 if rocks else 0.0,
    )
    missing = ""
    if area is None:
        missing = "thread of its rod ends: give thread and thread_strength"
    return LinkStrength(link.name, pushing, pulling, case, link_strengths(case), missing)


def _rating(sheet: Sheet, name: str) -> float | None:
    """The weaker rating of the joints of a link's brackets; None where no maker's number is on the sheet."""
    names = {name, name.removesuffix("-left").removesuffix("-right"), name.replace("right", "left")}
    joints = {b.joint for b in sheet.brackets if b.holds in names}
    return min((float(j.rating) for j in sheet.joints if j.name in joints and j.rating is not None), default=None)
