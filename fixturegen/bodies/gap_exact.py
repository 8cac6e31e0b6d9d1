"""The gap of a pair at its worst pose by the kernel, between the true solids; kept by just what it hangs on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

import numpy as np

from fixturegen import keeping
from fixturegen.axle.frames import Array, as_point
from fixturegen.bodies.gap_by_mesh import Near, near_gap
from fixturegen.errors import GeometryFault
from fixturegen.keeping import key_of
from fixturegen.plate.part import Matrix
from fixturegen.shapes import solids
from fixturegen.shapes.cache import shape_key
from fixturegen.shapes.meshes import CONTACT, State, exact_distance
from fixturegen.shapes.pair_gaps import point_at
from fixturegen.shapes.skins import farthest_along, nearest
from fixturegen.studies.clearance_records import Gaps, PairGap, Tour

PLACES = 12
"""Decimals of the place of one body beside the other [1, mm]: finer than the kernel by far, coarser than the noise of
what turns it, so that a place that comes again is known again."""
LIMIT_PLACES = 3  # decimals of where the search begins [mm]


def exactly(near: Near, tour: Tour) -> PairGap:
    """A pair with the exact distance at its worst pose; as the meshes tell it, and why, where there is none.

    Args:
        near: The pair as the meshes have it.
        tour: The poses.
    """
    missing = [i for i in (near.a, near.b) if i.plane is None and i.exact is None]
    if missing:
        words = " and ".join(dict.fromkeys(i.thing.label for i in missing))
        return replace(near.pair, why=f"{words}: {'meshes' if len(missing) > 1 else 'a mesh'} without an exact solid")
    try:
        got = _past_plane(near) if near.a.plane is not None else _between(near)
    except GeometryFault as fault:
        return replace(near.pair, why=f"the solid kernel could not measure it ({fault.words})")
    return _told(near, tour, got)


def settled(near: Near, tour: Tour, gaps: Gaps) -> PairGap:
    """A pair with the exact distance at its worst pose, and the gap wanted there at every pose if it is there at all.

    Meshes may choose a pose at which the true gap is a little more than at another. Where that could hide a gap that
    is missed, the kernel is asked at every pose that could be nearer.

    Args:
        near: The pair as the meshes have it.
        tour: The poses.
        gaps: What is wanted.
    """
    best = exactly(near, tour)
    if best.exact is None or not best.met or best.measured - best.bound >= best.wanted:
        return best
    for pose in near.use:
        one = near_gap(near.a, near.b, tour, gaps, (pose,)) if pose != near.pose else None
        if one is not None and (one.touching or one.pair.gap < best.gap):
            best = min(best, exactly(one, tour), key=nearness)
    return best


def least(nears: Iterable[Near], tour: Tour, gaps: Gaps) -> PairGap | None:
    """The one with the least gap; of those that cannot be it none is measured by the kernel.

    Args:
        nears: Pairs as the meshes have them.
        tour: The poses.
        gaps: What is wanted.
    """
    best: PairGap | None = None
    for near in sorted(nears, key=lambda n: (not n.touching, n.pair.gap, n.pair.first, n.pair.second)):
        if best is not None and not near.touching and (best.state != State.APART or near.pair.gap > best.gap):
            break
        one = settled(near, tour, gaps)
        if best is None or nearness(one) < nearness(best):
            best = one
    return best


def nearness(pair: PairGap) -> tuple[bool, float]:
    """What pairs are put in order by: contacts first, then the smaller gap."""
    return pair.state == State.APART, pair.gap


def _between(near: Near) -> dict[str, Any]:
    """Distance and points of two solids in the frame of the first."""
    a, b, touching = near.a, near.b, near.touching
    turn, shift = np.round(near.rotation, PLACES) + 0.0, np.round(near.origin, PLACES) + 0.0
    limit = round(near.pair.measured + near.pair.bound, LIMIT_PLACES)

    def made() -> dict[str, Any]:
        rows, at = _rows(turn), as_point(shift)
        if touching:  # one within the other has a skin that is apart: solids are asked, not skins
            distance, point, other = exact_distance(a.exact, solids.transformed(b.exact, rows, at))
        else:
            found = nearest(a.skin, b.skin, rows, at, limit)
            distance, point, other = found.distance, found.point, found.other
        return {"exact": distance, "point": list(point), "other": list(other)}

    key = key_of(("exact", shape_key(a.exact), shape_key(b.exact), turn.tobytes(), shift.tobytes(), limit, touching))
    got: dict[str, Any] = keeping.kept_json("exact", key, made)
    return got


def _past_plane(near: Near) -> dict[str, Any]:
    """Distance of a solid from a half space, negative where it is past it, and points in the frame of the plane."""
    plane, b = near.a.plane, near.b
    if plane is None:  # pragma: no cover - asked for before
        raise ValueError("no plane")
    through, way = (np.array(v) for v in plane)
    own = np.round(near.rotation.T @ way, PLACES) + 0.0
    own = own / np.linalg.norm(own)
    start = float((through - near.origin) @ way)
    thought = round(start - near.pair.measured, LIMIT_PLACES) - 10.0**-LIMIT_PLACES

    def made() -> dict[str, Any]:
        height, point = farthest_along(b.skin, as_point(own), thought)
        return {"height": height, "point": list(point)}

    got = keeping.kept_json("exact", key_of(("reach", shape_key(b.exact), own.tobytes(), thought)), made)
    exact = start - float(got["height"])
    point = near.rotation @ np.array(got["point"]) + near.origin
    return {"exact": exact, "point": as_point(point), "other": as_point(point + exact * way)}


def _told(near: Near, tour: Tour, got: dict[str, Any]) -> PairGap:
    exact, pair, flat = float(got["exact"]), near.pair, near.a.plane is not None
    base = tour.motions[near.a.thing.rides]
    turn, at = base.rotations[near.pose], base.origins[near.pose]
    state = pair.state
    if state == State.OVERLAP and exact - (pair.slack if flat else 0.0) > CONTACT:
        state = str(State.APART)  # the meshes cross by less than they are coarse
    found = replace(
        pair,
        state=state,
        exact=exact,
        point=point_at(turn, at, as_point(np.array(got["point"]))),
        other=point_at(turn, at, as_point(np.array(got["other"]))),
        touching=0 if state == State.APART else pair.touching,
    )
    # where kernel and meshes do not agree, the lesser of both is relied on, and CLR-06 says so
    gap = (exact if found.agrees else min(exact, pair.measured - pair.mesh_bound)) - pair.slack
    if not flat:
        gap = max(0.0, gap) if state == State.APART else 0.0
    return replace(found, gap=gap)


def _rows(m: Array) -> Matrix:
    one, two, three = (as_point(r) for r in m)
    return one, two, three
