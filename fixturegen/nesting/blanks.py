"""Flat parts as blanks to be nested: outlines as cut, openings and cut holes, quantities."""

from __future__ import annotations

from collections.abc import Iterable

from fixturegen.nesting.records import Blank
from fixturegen.plate import Part
from fixturegen.plate.profile import Operation, bounds, circle

LEAST_OPENING = 40.0  # [mm] across; nothing that is cut goes into a smaller one with its spacing


def blanks_of(parts: Iterable[Part], turns: tuple[float, ...], *, in_holes: bool = True) -> tuple[Blank, ...]:
    """The flat parts as blanks, by name; parts without a profile are left out.

    Args:
        parts: Parts of one plate.
        turns: Rotations allowed, from the grain to the part's x axis [deg].
        in_holes: Whether openings are told, so that parts may lie in them.
    """
    found = []
    for part in parts:
        profile = part.profile
        if profile is None:
            continue
        openings = list(profile.inner)
        for hole in profile.holes:
            cut = hole.finished if hole.cut is None else hole.cut
            if hole.operation is not Operation.PILOT:
                openings.append(circle(hole.x, hole.y, cut))
        kept = tuple(loop for loop in openings if _across(bounds(loop)) >= LEAST_OPENING) if in_holes else ()
        found.append(Blank(part.name, profile.outer, kept, part.quantity, turns))
    return tuple(sorted(found, key=lambda b: b.name))


def _across(box: tuple[float, float, float, float]) -> float:
    return min(box[2] - box[0], box[3] - box[1])
