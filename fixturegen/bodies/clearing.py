"""The clearance answer: every pair over every pose by mesh, the worst pose of every pair by the kernel."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np

from fixturegen.axle.frames import as_point
from fixturegen.bodies.axle import OnTheBench
from fixturegen.bodies.drawing import rows
from fixturegen.bodies.found_parts import found_items
from fixturegen.bodies.gap_by_mesh import REACH, Near, near_gap
from fixturegen.bodies.gap_exact import least, nearness, settled
from fixturegen.bodies.in_the_way import Item, items_of
from fixturegen.errors import Fault, InputFault
from fixturegen.progress import Progress, silent
from fixturegen.shapes import solids
from fixturegen.shapes.meshes import DEFLECTION, Mesh, State
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
    PairGap,
    Tour,
    compared,
    picks_of,
    worst_first,
)
from fixturegen.studies.component_records import Component

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
        return solids.transformed(item.solid, rows(motion.rotations[pose]), as_point(motion.origins[pose]))


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
    found: dict[tuple[str, str], list[Near]] = {}
    far: set[tuple[str, str]] = set()
    tour = scene.tour
    for n, (a, b) in enumerate(met):
        progress(f"{a.thing.label} to {b.thing.label}", n, len(met))
        one = near_gap(a, b, tour, scene.gaps)
        if one is None:
            far.add((a.thing.whole, b.thing.whole))
        else:
            found.setdefault((one.pair.first, one.pair.second), []).append(one)
    told = []
    for n, nears in enumerate(found.values()):
        progress(f"exact: {nears[0].pair.labels[0]} to {nears[0].pair.labels[1]}", n, len(found))
        # the worst of the pieces of one telescoping line stands for it
        worst = least(nears, tour, scene.gaps)
        told += [] if worst is None else [worst]
    pairs = worst_first(told)
    near = set(found) | {(b, a) for a, b in found}
    moments = tuple(_moment(scene, pairs, name, words) for name, words in MOMENTS)
    asked = tuple(m for m in moments if m.poses)
    return ClearanceStudy(pairs, len(far - near), REACH, len(tour.places), tour.missed, scene.notes, asked)


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
    for pair in sorted(moving, key=lambda p: (*nearness(p), p.first, p.second)):
        # over all poses no gap of the pair is less than this: the pose was found on meshes
        if best is not None and (best.state != State.APART or pair.gap - 2.0 * pair.bound > best.gap):
            break
        both = [(a, b) for a in items[pair.first] for b in items[pair.second] if compared(a.thing, b.thing)]
        there = [near_gap(a, b, scene.tour, scene.gaps, picks) for a, b in both] if picks else []
        limit = np.inf if best is None else best.gap
        one = least([n for n in there if n is not None and (n.touching or n.pair.gap <= limit)], scene.tour, scene.gaps)
        if one is not None and (best is None or nearness(one) < nearness(best)):
            best = one
    return Moment(name, words, len(picks), best)


def pair_gap(a: Item, b: Item, tour: Tour, gaps: Gaps, picks: Sequence[int] = ()) -> PairGap | None:
    """The least gap of one pair over the tour, exact at its worst pose; None where it stays out of reach of the meshes.

    Args:
        a: One body.
        b: The other.
        tour: The poses.
        gaps: What is wanted.
        picks: Numbers of the poses that are looked at; all of them when none is given.
    """
    near = near_gap(a, b, tour, gaps, picks)
    return None if near is None else settled(near, tour, gaps)
