"""The clearance answer: every pair over every pose by mesh, the worst pose of each pair by the kernel."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.model import Point
from fixturegen.bodies.axle import OnTheBench
from fixturegen.bodies.drawing import rows
from fixturegen.bodies.in_the_way import Item, items_of
from fixturegen.progress import Progress, silent
from fixturegen.shapes import solids
from fixturegen.shapes.meshes import CONTACT, DEFLECTION, State, exact_distance
from fixturegen.shapes.pair_gaps import Least, least_gap, point_at
from fixturegen.sheet.specs import Clearance as Wanted
from fixturegen.studies.bracket_records import Mount
from fixturegen.studies.clearance_poses import tour_of
from fixturegen.studies.clearance_records import (
    KINDS,
    ClearanceStudy,
    Kind,
    Motion,
    PairGap,
    Picks,
    Tour,
    compared,
    kind_of,
    wanted_of,
    worst_first,
)

REACH = 100.0
"""mm; a pair that keeps this much more than it should over all poses is counted, and not measured."""
NEAR = 25.0
"""mm; pairs that have less than this over the gap wanted are measured by the kernel too."""


def gaps_wanted(given: Wanted) -> dict[Kind, float]:
    """Wanted gap of each kind of pair [mm]."""
    return {kind: float(getattr(given, kind)) for kind in KINDS}


def clearance_study(
    job: OnTheBench,
    mounts: Sequence[Mount] = (),
    more: Sequence[Item] = (),
    progress: Progress = silent,
    deflection: float = DEFLECTION,
) -> ClearanceStudy:
    """Every pair of the sheet's bodies over ride and travel.

    Args:
        job: Sheet, axle, parts and assemblies, their brackets drawn.
        mounts: Of the brackets.
        more: Further bodies: shapes the person brought.
        progress: Told what is being done.
        deflection: Of the meshes [mm].

    Raises:
        InputFault: When the links are no linkage.
    """
    given = job.sheet.clearance or Wanted()
    tour, lines = tour_of(job.sheet, job.axle)
    items, motions, blind = items_of(job, lines, mounts, deflection)
    whole = replace(tour, motions=tour.motions | motions)
    gaps = gaps_wanted(given)
    todo = [(a, b) for a, b in combinations((*items, *more), 2) if compared(a.thing, b.thing)]
    found: list[PairGap] = []
    far = 0
    for n, (a, b) in enumerate(todo):
        progress(f"{a.thing.label} to {b.thing.label}", n, len(todo))
        one = pair_gap(a, b, whole, gaps)
        if one is None:
            far += 1
        else:
            found.append(one)
    return ClearanceStudy(
        worst_first(_as_one(found)), far, REACH, len(tour.places), tour.missed, (*tour.notes, *blind)
    )  # fmt: skip


def _as_one(found: list[PairGap]) -> list[PairGap]:
    """The worst of the pieces of one telescoping line."""
    worst: dict[tuple[str, str], PairGap] = {}
    for one in worst_first(found):
        worst.setdefault((one.first, one.second), one)
    return list(worst.values())


def pair_gap(a: Item, b: Item, tour: Tour, gaps: dict[Kind, float]) -> PairGap | None:
    """The least gap of one pair over the tour; None where it stays farther than `REACH` over the gap wanted."""
    if a.plane is not None and b.plane is not None:
        return None
    wanted = wanted_of(a.thing, b.thing, gaps)
    if b.plane is not None:
        a, b = b, a
    there = tour.motions[a.thing.rides].against(tour.motions[b.thing.rides])
    # what rides together is looked at once
    use = np.flatnonzero(there.known)[:1] if a.thing.rides == b.thing.rides else np.flatnonzero(there.known)
    if not use.size:
        return None
    if a.plane is not None:
        return _to_plane(a, b, tour, there, use, wanted, gaps)
    least = least_gap(a.body, b.body, there.rotations[use], there.origins[use], wanted + REACH)
    if least.found is None or (least.found.state is State.APART and least.found.measured > wanted + REACH):
        return None
    return _measured(a, b, tour, there, use, least, wanted, gaps)


def _measured(
    a: Item, b: Item, tour: Tour, there: Motion, use: Picks, least: Least, wanted: float, gaps: dict[Kind, float]
) -> PairGap:
    found = least.found
    if found is None:  # pragma: no cover - asked for before
        raise ValueError("nothing was measured")
    at = int(use[found.pose])
    bound = a.thing.accuracy + b.thing.accuracy + there.slack
    state, exact, point, other = str(found.state), None, found.point, found.other
    gap = max(0.0, found.measured - bound) if found.state is State.APART else 0.0
    if a.solid is not None and b.solid is not None and found.measured < wanted + NEAR:
        moved = solids.transformed(b.solid, rows(there.rotations[at]), _point(there.origins[at]))
        distance, p, q = exact_distance(a.solid, moved)
        if found.state is State.APART or distance > CONTACT:
            exact, point, other, gap = distance, p, q, max(0.0, distance - there.slack)
            state = str(State.APART if distance > CONTACT else State.OVERLAP)
    base = tour.motions[a.thing.rides]
    here = [point_at(base.rotations[at], base.origins[at], p) for p in (point, other)]
    return PairGap(
        first=a.thing.whole,
        second=b.thing.whole,
        labels=(a.thing.label, b.thing.label),
        kind=kind_of(a.thing, b.thing),
        wanted=wanted,
        state=state,
        gap=gap,
        measured=found.measured,
        bound=bound,
        exact=exact,
        place=tour.places[at],
        point=here[0],
        other=here[1],
        looked=least.looked,
        touching=least.touching if state != str(State.APART) else 0,
    )


def _to_plane(
    plane: Item, b: Item, tour: Tour, there: Motion, use: Picks, wanted: float, gaps: dict[Kind, float]
) -> PairGap | None:
    """To a half space the farthest vertex tells; past it the gap is negative: how far it is past."""
    if plane.plane is None:  # pragma: no cover - asked for before
        raise ValueError("no plane")
    through, way = (np.array(v) for v in plane.plane)
    points = b.body.mesh.vertices
    ways = np.einsum("mij,i->mj", there.rotations[use], way)
    heights = (through - there.origins[use]) @ way - (ways @ points.T).max(axis=1)
    k = int(np.argmin(np.round(heights, 9)))
    measured, at = float(heights[k]), int(use[k])
    if measured > wanted + REACH:
        return None
    bound = b.thing.accuracy + there.slack
    vertex = points[int(np.argmax(points @ ways[k]))]
    point = there.rotations[at] @ vertex + there.origins[at]
    base = tour.motions[plane.thing.rides]
    foot = point + measured * way
    gap = measured - bound
    state = State.APART if gap > 0.0 else State.OVERLAP
    if float((through - there.origins[at]) @ way - (points @ ways[k]).min()) < 0.0:
        state = State.INSIDE
    return PairGap(
        first=b.thing.whole,
        second=plane.thing.whole,
        labels=(b.thing.label, plane.thing.label),
        kind=kind_of(plane.thing, b.thing),
        wanted=wanted,
        state=str(state),
        gap=gap,
        measured=measured,
        bound=bound,
        exact=None,
        place=tour.places[at],
        point=point_at(base.rotations[at], base.origins[at], _point(point)),
        other=point_at(base.rotations[at], base.origins[at], _point(foot)),
        looked=len(use),
        touching=int((heights <= bound).sum()) if state is not State.APART else 0,
    )


def _point(v: Array) -> Point:
    return float(v[0]), float(v[1]), float(v[2])
