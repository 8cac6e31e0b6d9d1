"""What is no linkage: each fault in one sentence with its remedy."""

from __future__ import annotations

import itertools

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.linkage import HELD, Link, Linkage
from fixturegen.axle.linkage_equations import UNKNOWNS, cosines, system_of, values
from fixturegen.errors import Fault, InputFault
from fixturegen.units import as_text

SHORTEST = 25.4
"""mm; two joints nearer than this have no room beside each other: common practice, no source."""
SAME = 1.0
"""mm; two joint centres nearer than this are one: no tape tells them apart."""
WEAK = 1e-3
"""Smallest singular value of the constraint matrix: play in a joint comes out 1000 times larger at the axle."""

SHARED = 0.3
"""Of heave and roll in what is locked: with more than this of the other, both are told."""

MOTIONS = (
    "moves fore and aft",
    "moves sideways",
    "turns in plan, so that it steers by itself",
    "turns about its own line, so that the pinion swings up and down",
)


def linkage_faults(linkage: Linkage) -> tuple[Fault, ...]:
    """Everything wrong with a linkage at ride height; empty when it is one.

    What is measured wrong comes first: while a point is wrong, motions are not judged.
    """
    faults = [*_ends(linkage), *_sides(linkage), *_twice(linkage)]
    return tuple(faults) or tuple(_freedoms(linkage))


def refuse(linkage: Linkage) -> None:
    """Nothing, when the linkage is one.

    Raises:
        InputFault: With every fault found.
    """
    faults = linkage_faults(linkage)
    if faults:
        raise InputFault(*faults)


def _inch(value: float) -> str:
    return as_text(value, "length", "in", 3)


def _place(point: Array) -> str:
    return "(" + ", ".join(as_text(float(c), "length", "in", 2) for c in point) + ")"


def _in_vehicle(linkage: Linkage) -> tuple[Array, Array]:
    """Frame ends and axle ends in V at ride height, shape (n, 3) [mm]."""
    stance = linkage.stance
    return linkage.frame_points(), linkage.axle_points() @ stance.rotation.T + stance.origin


def _ends(linkage: Linkage) -> list[Fault]:
    """Ends that are no numbers, too near each other, or in the ground."""
    faults = []
    frame, axle = _in_vehicle(linkage)
    for link, f, a in zip(linkage.links, frame, axle, strict=True):
        if not np.isfinite([*f, *a]).all():
            faults.append(Fault(link.key, "a point that is no number", "three lengths", "measure the point again"))
            continue
        if link.part == "guide":
            continue
        length = float(np.linalg.norm(a - f))
        if length < SHORTEST:
            given = f"ends {_inch(length)} apart"
            remedy = "measure both joint centres again; is one given in the axle frame and named as of the vehicle?"
            faults.append(Fault(link.key, given, f"at least {_inch(SHORTEST)}", remedy))
        for name, point in (("frame", f), ("axle", a)):
            if point[2] < 0.0:
                remedy = "heights are measured up from the ground with the truck at ride height"
                faults.append(
                    Fault(f"{link.key}.{name}", f"a point {_inch(-point[2])} under the ground", "0 in or more", remedy)
                )
    return faults


def _sides(linkage: Linkage) -> list[Fault]:
    """Left and right links whose ends stand on each other's side."""
    faults = []
    frame, axle = _in_vehicle(linkage)
    at = {k.name: i for i, k in enumerate(linkage.links)}
    for name, i in at.items():
        other = at.get(name.removesuffix("-left") + "-right") if name.endswith("-left") else None
        if other is None:
            continue
        wrong = [w for w, p in (("frame", frame), ("axle", axle)) if p[i, 1] < p[other, 1] - SAME]
        if wrong:
            left, right = (frame, axle)[wrong[0] == "axle"][[i, other], 1]
            given = f"{wrong[0]} end {_inch(float(left))} to the left, its fellow {_inch(float(right))}"
            remedy = "left is the vehicle's left and counts positive; swap the two, or mend the sign"
            faults.append(Fault(f"{linkage.links[i].key}.{wrong[0]}", given, "left of the right-hand one", remedy))
    return faults


def _twice(linkage: Linkage) -> list[Fault]:
    """Two links that share a joint centre without being lines of one body, or are the same line."""
    faults = []
    frame, axle = _in_vehicle(linkage)
    for (i, a), (j, b) in itertools.combinations(enumerate(linkage.links), 2):
        if "guide" in (a.part, b.part):
            continue
        one_body = a.body and a.body == b.body
        same = [w for w, p in (("frame", frame), ("axle", axle)) if float(np.linalg.norm(p[i] - p[j])) < SAME]
        shared = {"wishbone": "axle", "arm": "frame"}.get(a.part) if one_body else None
        loose = [w for w in same if w != shared and not _arms_on_one_pivot(a, b, w)]
        if loose:
            point = (frame, axle)[loose[0] == "axle"][i]
            given = f"the same joint centre as {b.key}.{loose[0]}, {_place(point)}"
            remedy = "measure both; two links that end in one joint are the two legs of a wishbone"
            faults.append(Fault(f"{a.key}.{loose[0]}", given, "joint centres apart", remedy))
    return faults


def _arms_on_one_pivot(a: Link, b: Link, end: str) -> bool:
    """Truck arms may meet in one pivot on the frame."""
    return end == "frame" and a.part == b.part == "arm"


def _freedoms(linkage: Linkage) -> list[Fault]:
    """What the links leave free beside heave and roll, or do not let the axle do."""
    names = ", ".join(linkage.names)
    zero = np.zeros(1)
    at = values(system_of(linkage), np.zeros((UNKNOWNS, 1)), zero, cosines(zero), with_roll=True)
    held = np.stack([c[:, 0] for c in at.matrix], axis=1)  # (n, 4), lengths per length
    lever = at.lever if at.lever is not None else at.climb
    whole = np.concatenate([held, at.climb, lever], axis=1)
    faults = []
    _, sizes, ways = np.linalg.svd(held, full_matrices=True)
    full = np.concatenate([sizes, np.zeros(UNKNOWNS - sizes.size)])
    weak = [ways[k] for k in range(UNKNOWNS) if full[k] < WEAK]
    if not weak:
        return []
    count = len(linkage.links)
    stuck = int(np.sum(np.linalg.svd(whole)[1] >= WEAK)) >= HELD
    if stuck:
        motion = MOTIONS[int(np.abs(weak[0]).argmax())]
        given = (
            f"links that lock the axle at ride height ({names}): it cannot {_locked(whole)}, and instead it {motion}"
        )
        remedy = (
            "a link stands square to the travel it should allow, or links run parallel that should be splayed: lay it "
            "flatter, splay them, or add a track bar"
        )
        return [Fault("links.kind", given, "links that leave the axle up and down and roll", remedy)]
    for way in weak:
        motion = MOTIONS[int(np.abs(way).argmax())]
        if count < HELD:
            given = f"{count} lengths ({names}), with which the axle {motion}"
            remedy = "add a link that stops this; a track bar stops sideways motion"
            allowed = "four independent lengths"
        else:
            given = f"{count} links that lie in one plane, run parallel or meet in one line, so that the axle {motion}"
            remedy = "set links apart in height, splay them, or add a track bar"
            allowed = "links that hold the axle with heave and roll alone left free"
        faults.append(Fault("links.kind", given, allowed, remedy))
    return faults


def _locked(whole: Array) -> str:
    """Which of heave and roll links that hold four motions leave out.

    Args:
        whole: Changes of the lengths with the four unknowns, with heave and with roll, shape (n, 6).
    """
    ways = np.linalg.svd(whole, full_matrices=True)[2]
    left = ways[HELD:, UNKNOWNS:]  # heave and roll of what stays free
    none = np.linalg.svd(left)[2][-1]  # the mix of the two that never happens
    heave, roll = np.abs(none)
    if min(heave, roll) > SHARED * max(heave, roll):
        return "go up and down without leaning"
    return "go up and down" if heave > roll else "roll"
