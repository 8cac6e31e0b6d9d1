"""The clearance answer: every pair over every pose by mesh, the worst pose of each pair by the kernel."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Any

import numpy as np

from fixturegen import keeping
from fixturegen.axle.frames import Array
from fixturegen.axle.model import Point
from fixturegen.bodies.axle import OnTheBench
from fixturegen.bodies.drawing import rows
from fixturegen.bodies.found_parts import found_items
from fixturegen.bodies.in_the_way import Item, items_of
from fixturegen.errors import Fault, InputFault
from fixturegen.keeping import key_of
from fixturegen.progress import Progress, silent
from fixturegen.shapes import solids
from fixturegen.shapes.meshes import CONTACT, DEFLECTION, Mesh, State, exact_distance
from fixturegen.shapes.pair_gaps import Least, box_bounds, least_gap, point_at
from fixturegen.sheet.specs import Clearance as Given
from fixturegen.studies.bracket_records import Mount
from fixturegen.studies.clearance_poses import tour_of
from fixturegen.studies.clearance_records import (
    KINDS,
    LEFT,
    MOMENTS,
    RIGHT,
    ClearanceStudy,
    Gaps,
    Moment,
    Motion,
    PairGap,
    Picks,
    Tour,
    compared,
    kind_of,
    picks_of,
    worst_first,
)
from fixturegen.studies.component_records import Component

REACH = 100.0
"""mm; a pair that keeps this much more than it should over all poses is counted, and not measured."""
BY_KERNEL = 12.0
"""mm; pairs that keep this much more than they should are told by their meshes, less what those may be off."""
SHOWN = 40  # names told in a refusal
STEERED = {LEFT, RIGHT, "tie-rod", "drag-link"}
"""Movers that the steering moves."""


@dataclass(frozen=True, eq=False)
class Scene:
    """All bodies of a sheet and where they stand at every pose.

    Attributes:
        items: The bodies.
        tour: The poses, with the motion of every mover.
        gaps: What is wanted.
        notes: What is not looked at, and why.
    """

    items: tuple[Item, ...]
    tour: Tour
    gaps: Gaps
    notes: tuple[str, ...] = ()

    def placed(self, item: Item, pose: int) -> solids.Shape | Mesh | None:
        """The solid or mesh of a body in V at a pose; None for a plane, or where it is not known there."""
        motion = self.tour.motions[item.thing.rides]
        if item.plane is not None or not motion.known[pose]:
            return None
        if item.solid is None:
            own = item.body.mesh
            there = own.vertices @ motion.rotations[pose].T + motion.origins[pose]
            return Mesh(there, own.faces, own.deflection)
        return solids.transformed(item.solid, rows(motion.rotations[pose]), _point(motion.origins[pose]))


def scene_of(
    job: OnTheBench,
    mounts: Sequence[Mount] = (),
    parts: Sequence[tuple[Component, Mesh]] = (),
    deflection: float = DEFLECTION,
) -> Scene:
    """Everything that is compared.

    Args:
        job: Sheet, axle, parts and assemblies, their brackets drawn.
        mounts: Of the brackets.
        parts: What the person has, placed, with its surface in its own frame.
        deflection: Of the meshes [mm].

    Raises:
        InputFault: When the links are no linkage, or [clearance] names what is not there.
    """
    given = job.sheet.clearance or Given()
    tour, lines = tour_of(job.sheet, job.axle)
    items, motions, blind = items_of(job, lines, mounts, deflection)
    steered = job.axle.front and any(p.steer for p in tour.places)
    found, gone, told = found_items(parts, steered)
    everything = (*(i for i in items if i.thing.name not in gone), *found)
    faults = [*_unknown_rounds(given, [i.name for i in lines]), *_unknown_pairs(given, everything)]
    if faults:
        raise InputFault(*faults)
    gaps = Gaps(
        {kind: float(getattr(given, kind)) for kind in KINDS},
        {frozenset((p.first.casefold(), p.second.casefold())): float(p.gap) for p in given.pairs},
    )
    return Scene(everything, replace(tour, motions=tour.motions | motions), gaps, (*tour.notes, *blind, *told))


def _unknown_rounds(given: Given, lines: list[str]) -> list[Fault]:
    from fixturegen.studies.bracket_plan import slug

    heads = {n.removesuffix("-left").removesuffix("-right") for n in lines}
    return [
        Fault(
            f"clearance.rounds[{n + 1}].name",
            one.name,
            ", ".join(sorted(heads)) or "nothing: the sheet has no [links]",
            "name a link or strut as [links] does, or leave it out",
        )
        for n, one in enumerate(given.rounds)
        if slug(one.name) not in {*heads, *lines}
    ]


def _unknown_pairs(given: Given, items: Sequence[Item]) -> list[Fault]:
    labels = {i.thing.label.casefold(): i.thing.label for i in items}
    told = ", ".join(sorted(labels.values())[:SHOWN])
    return [
        Fault(f"clearance.pairs[{n + 1}].{key}", name, told, "write the name as `fixturegen clear` shows it")
        for n, pair in enumerate(given.pairs)
        for key, name in (("first", pair.first), ("second", pair.second))
        if name.casefold() not in labels
    ]


def clearance_study(scene: Scene, progress: Progress = silent) -> ClearanceStudy:
    """Every pair of a scene over ride and travel.

    Args:
        scene: The bodies and poses.
        progress: Told what is being done.
    """
    met = [(a, b) for a, b in combinations(scene.items, 2) if compared(a.thing, b.thing)]
    found: list[PairGap] = []
    far: set[tuple[str, str]] = set()
    for n, (a, b) in enumerate(met):
        progress(f"{a.thing.label} to {b.thing.label}", n, len(met))
        one = pair_gap(a, b, scene.tour, scene.gaps)
        if one is None:
            far.add((a.thing.whole, b.thing.whole))
        else:
            found.append(one)
    pairs = worst_first(_as_one(found))
    near = {(p.first, p.second) for p in pairs} | {(p.second, p.first) for p in pairs}
    tour = scene.tour
    moments = tuple(_moment(scene, pairs, name, words) for name, words in MOMENTS)
    told = tuple(m for m in moments if m.poses)
    return ClearanceStudy(pairs, len(far - near), REACH, len(tour.places), tour.missed, scene.notes, told)


def _moment(scene: Scene, pairs: Sequence[PairGap], name: str, words: str) -> Moment:
    """The smallest gap at one end of the travel: no pair is nearer there than over all of it."""
    picks = picks_of(name, scene.tour.places)
    best: PairGap | None = None
    items: dict[str, list[Item]] = {}
    for item in scene.items:
        items.setdefault(item.thing.whole, []).append(item)
    riders = {p: (items[p.first][0].thing.rides, items[p.second][0].thing.rides) for p in pairs}
    moving = [p for p, (one, other) in riders.items() if one != other]
    if name == "lock":
        moving = [p for p in moving if STEERED & set(riders[p])]  # the lock says nothing new of the others
    for pair in sorted(moving, key=lambda p: (p.state == State.APART, p.gap, p.first, p.second)):
        if best is not None and (best.state != State.APART or pair.gap - pair.bound > best.gap):
            break
        both = [(a, b) for a in items[pair.first] for b in items[pair.second] if compared(a.thing, b.thing)]
        for a, b in both if picks else ():
            one = pair_gap(a, b, scene.tour, scene.gaps, picks)
            if one is not None and (best is None or _nearness(one) < _nearness(best)):
                best = one
    return Moment(name, words, len(picks), best)


def _nearness(pair: PairGap) -> tuple[bool, float]:
    return pair.state == State.APART, pair.gap


def _as_one(found: list[PairGap]) -> list[PairGap]:
    """The worst of the pieces of one telescoping line."""
    worst: dict[tuple[str, str], PairGap] = {}
    for one in worst_first(found):
        worst.setdefault((one.first, one.second), one)
    return list(worst.values())


def pair_gap(a: Item, b: Item, tour: Tour, gaps: Gaps, picks: Sequence[int] = ()) -> PairGap | None:
    """The least gap of one pair over the tour; None where it stays farther than `REACH` over the gap wanted.

    Args:
        a: One body.
        b: The other.
        tour: The poses.
        gaps: What is wanted.
        picks: Numbers of the poses that are looked at; all of them when none is given.
    """
    if a.plane is not None and b.plane is not None:
        return None
    wanted = gaps.wanted(a.thing, b.thing)
    if b.plane is not None:
        a, b = b, a
    there = tour.motions[a.thing.rides].against(tour.motions[b.thing.rides])
    # what rides together is looked at once
    use = np.flatnonzero(there.known) if not picks else np.array([k for k in picks if there.known[k]], dtype=np.intp)
    use = use[:1] if a.thing.rides == b.thing.rides else use
    if not use.size:
        return None
    if a.plane is not None:
        return _to_plane(a, b, tour, there, use, wanted)
    got = _kept(a, b, there, use, wanted)
    return None if got is None else _record(a, b, tour, there, use, wanted, got)


def _kept(a: Item, b: Item, there: Motion, use: Picks, wanted: float) -> dict[str, Any] | None:
    """What measuring came to, kept between runs by all that it hangs on."""
    turns, shifts = there.rotations[use], there.origins[use]
    if float(box_bounds(a.box, b.box, turns, shifts).min()) > wanted + REACH:
        return None
    key = key_of(
        (
            "pair", a.digest, b.digest, a.thing.accuracy, b.thing.accuracy,
            turns.tobytes(), shifts.tobytes(), wanted,
        )
    )  # fmt: skip
    got: dict[str, Any] | None = keeping.kept_json("clearance", key, lambda: _measured(a, b, turns, shifts, wanted))
    return got


def _measured(a: Item, b: Item, turns: Array, shifts: Array, wanted: float) -> dict[str, Any] | None:
    least = least_gap(a.body, b.body, turns, shifts, wanted + REACH)
    found = least.found
    if found is None or (found.state is State.APART and found.measured > wanted + REACH):
        return None
    exact, point, other = None, found.point, found.other
    near = found.state is not State.APART or found.measured < wanted + BY_KERNEL
    if near and a.solid is not None and b.solid is not None:
        moved = solids.transformed(b.solid, rows(turns[found.pose]), _point(shifts[found.pose]))
        exact, point, other = exact_distance(a.solid, moved)
    return _plain(least, exact, point, other)


def _plain(least: Least, exact: float | None, point: Point, other: Point) -> dict[str, Any]:
    found = least.found
    if found is None:  # pragma: no cover - asked for before
        raise ValueError("nothing was measured")
    return {
        "state": str(found.state), "measured": found.measured, "pose": found.pose, "exact": exact,
        "point": list(point), "other": list(other), "looked": least.looked, "touching": least.touching,
    }  # fmt: skip


def _record(a: Item, b: Item, tour: Tour, there: Motion, use: Picks, wanted: float, got: dict[str, Any]) -> PairGap:
    at = int(use[got["pose"]])
    bound = a.thing.accuracy + b.thing.accuracy + there.slack
    state, exact, measured = str(got["state"]), got["exact"], float(got["measured"])
    if state == State.OVERLAP and exact is not None and exact > CONTACT:
        state = str(State.APART)  # the meshes cross by less than they are coarse
    gap = 0.0
    if state == State.APART:
        gap = max(0.0, measured - bound if exact is None else exact - there.slack)
    base = tour.motions[a.thing.rides]
    here = [point_at(base.rotations[at], base.origins[at], _point(np.array(got[k]))) for k in ("point", "other")]
    return PairGap(
        first=a.thing.whole,
        second=b.thing.whole,
        labels=(a.thing.label, b.thing.label),
        kind=kind_of(a.thing, b.thing),
        wanted=wanted,
        state=state,
        gap=gap,
        measured=measured,
        bound=bound,
        exact=exact if state == State.APART else None,
        place=tour.places[at],
        point=here[0],
        other=here[1],
        looked=int(got["looked"]),
        touching=int(got["touching"]) if state != State.APART else 0,
    )


def _to_plane(plane: Item, b: Item, tour: Tour, there: Motion, use: Picks, wanted: float) -> PairGap | None:
    """To a half space the farthest vertex tells; past it the gap is negative: how far it is past."""
    if plane.plane is None:  # pragma: no cover - asked for before
        raise ValueError("no plane")
    through, way = (np.array(v) for v in plane.plane)
    points = b.body.mesh.vertices
    ways = np.einsum("mij,i->mj", there.rotations[use], way)
    starts = (through - there.origins[use]) @ way
    # one pose at a time: all poses of a fine mesh at once would fill the memory
    heights = starts - np.array([float((points @ w).max()) for w in ways])
    k = int(np.argmin(np.round(heights, 9)))
    measured, at = float(heights[k]), int(use[k])
    if measured > wanted + REACH:
        return None
    bound = b.thing.accuracy + there.slack
    point = there.rotations[at] @ points[int(np.argmax(points @ ways[k]))] + there.origins[at]
    base = tour.motions[plane.thing.rides]
    gap = measured - bound
    state = State.APART if gap > 0.0 else State.OVERLAP
    if float(starts[k] - (points @ ways[k]).min()) < 0.0:
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
        other=point_at(base.rotations[at], base.origins[at], _point(point + measured * way)),
        looked=len(use),
        touching=int((heights <= bound).sum()) if state is not State.APART else 0,
    )


def _point(v: Array) -> Point:
    return float(v[0]), float(v[1]), float(v[2])
