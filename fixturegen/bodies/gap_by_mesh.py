"""The worst pose of one pair, found on meshes: every pose of the tour, none of them by the kernel."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from fixturegen import keeping
from fixturegen.axle.frames import Array, as_point
from fixturegen.bodies.in_the_way import Item
from fixturegen.keeping import key_of
from fixturegen.shapes.meshes import State
from fixturegen.shapes.pair_gaps import box_bounds, least_gap, point_at
from fixturegen.studies.clearance_records import Gaps, Motion, PairGap, Picks, Tour, kind_of

REACH = 100.0
"""mm; a pair that keeps this much more than it should over all poses is counted, and not measured."""


@dataclass(frozen=True, eq=False)
class Near:
    """A pair at its worst pose, as the meshes have it.

    Attributes:
        a: The body that stands still; the plane, where one is.
        b: The one that moves past it.
        pose: Number of the worst pose in the tour.
        rotation: Of b as seen from a there (3, 3).
        origin: Of b's frame in a's there (3,) [mm].
        pair: What is told of it without the kernel; no true gap at any of the poses is less than its gap.
        use: Numbers of the poses that were looked at.
    """

    a: Item
    b: Item
    pose: int
    rotation: Array
    origin: Array
    pair: PairGap
    use: tuple[int, ...] = ()

    @property
    def touching(self) -> bool:
        """Whether the meshes are in contact."""
        return self.pair.state != State.APART


def near_gap(a: Item, b: Item, tour: Tour, gaps: Gaps, picks: Sequence[int] = ()) -> Near | None:
    """One pair at its worst pose by mesh; None where it stays farther than `REACH` over the gap wanted.

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
    got = (_kept if a.plane is None else _to_plane)(a, b, there, use, wanted)
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
    return {
        "state": str(found.state), "measured": found.measured, "pose": found.pose,
        "point": list(found.point), "other": list(found.other), "looked": least.looked, "touching": least.touching,
    }  # fmt: skip


def _record(a: Item, b: Item, tour: Tour, there: Motion, use: Picks, wanted: float, got: dict[str, Any]) -> Near:
    """What is told of a pair that came near; past a plane the gap is negative: how far it is past."""
    at = int(use[got["pose"]])
    state, measured, bound = State(got["state"]), float(got["measured"]), _bound(a, b, there)
    if a.plane is not None:
        first, second, gap = b.thing, a.thing, measured - bound
    else:
        first, second, gap = a.thing, b.thing, max(0.0, measured - bound) if state is State.APART else 0.0
    base = tour.motions[a.thing.rides]
    here = [point_at(base.rotations[at], base.origins[at], as_point(np.array(got[k]))) for k in ("point", "other")]
    pair = PairGap(
        first=first.whole,
        second=second.whole,
        labels=(first.label, second.label),
        kind=kind_of(a.thing, b.thing),
        wanted=wanted,
        state=str(state),
        gap=gap,
        measured=measured,
        bound=bound,
        exact=None,
        place=tour.places[at],
        point=here[0],
        other=here[1],
        looked=int(got["looked"]),
        touching=int(got["touching"]) if state is not State.APART else 0,
        slack=there.slack + a.thing.given + b.thing.given,
    )
    return Near(a, b, at, there.rotations[at], there.origins[at], pair, tuple(int(k) for k in use))


def _bound(a: Item, b: Item, there: Motion) -> float:
    """How far the distance may be off the true one [mm]; a plane is as true as it was given."""
    return (a.thing.accuracy if a.plane is None else a.thing.given) + b.thing.accuracy + there.slack


def _to_plane(plane: Item, b: Item, there: Motion, use: Picks, wanted: float) -> dict[str, Any] | None:
    """To a half space the farthest vertex tells."""
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
    bound = _bound(plane, b, there)
    point = there.rotations[at] @ points[int(np.argmax(points @ ways[k]))] + there.origins[at]
    state = State.APART if measured > bound else State.OVERLAP
    if float(starts[k] - (points @ ways[k]).min()) < 0.0:
        state = State.INSIDE
    return {
        "state": str(state), "measured": measured, "pose": k, "point": point, "other": point + measured * way,
        "looked": len(use), "touching": int((heights <= bound).sum()),
    }  # fmt: skip
