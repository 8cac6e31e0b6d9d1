"""Getting things off: each removal's room and ways against everything that stands about it, in frame A."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict, dataclass, replace
from typing import Any

import numpy as np

from fixturegen import keeping
from fixturegen.axle.frames import Array, as_point
from fixturegen.bodies.clearing import Scene
from fixturegen.bodies.in_the_way import Item
from fixturegen.keeping import key_of
from fixturegen.plate.part import Vector
from fixturegen.shapes.meshes import Body, Clearance, Pose, State, clearance
from fixturegen.shapes.sweeps import (
    LEAST_STEP,
    above_plane,
    bar,
    boxes_gap,
    least_on_way,
    meeting_point,
    sector,
    swept_box,
    swept_into,
    turned,
    union_box,
    upright,
)
from fixturegen.studies.access_records import Met, Removal, Result, Swing, Try, Verdict
from fixturegen.studies.access_struts import pose_index
from fixturegen.studies.clearance_records import AXLE, Motion

REACH = 60.0  # mm; what stays farther off is not told
LONG_STEP = 2.0  # mm, of a motion while ways are compared
TURN = 15.0  # deg, from one place a handle is tried at to the next
UNBOLTS = ("wheel-", "brake-", "outer-", "cover", "nose", "pinion", "studs")
"""Names, or their first letters, of the axle's own bodies that unbolt; the others are one piece with it."""
ORDER: tuple[Verdict, ...] = ("free", "tight", "after", "shut")


@dataclass(frozen=True, eq=False)
class Standing:
    """A body where it stands in frame A at a pose.

    Attributes:
        item: The body.
        pose: Rotation (3, 3) and origin (3,) [mm] from its own frame to A.
        fixed: Whether it does not unbolt.
    """

    item: Item
    pose: Pose
    fixed: bool

    @property
    def body(self) -> Body:
        """Its mesh there."""
        return self.item.body.at(self.pose)

    @property
    def plane(self) -> tuple[Vector, Vector]:
        """A point of a plane and the way beyond it, in A."""
        if self.item.plane is None:
            raise ValueError(f"{self.item.thing.name} is no plane")
        turn, at = np.array(self.pose[0]), np.array(self.pose[1])
        through, way = (np.array(v) for v in self.item.plane)
        return as_point(turn @ through + at), as_point(turn @ way)


def standing(scene: Scene, at: int, comes_off: Iterable[str] = ()) -> tuple[Standing, ...]:
    """Everything of a scene in frame A at one of its poses; what is not known there is left out.

    Args:
        scene: The bodies and poses.
        at: Which place of its tour.
        comes_off: Labels that unbolt, beside what does so anyway.
    """
    loose = {name.casefold() for name in comes_off}
    axle = scene.tour.motions[AXLE]
    found = []
    for item in scene.items:
        motion = scene.tour.motions[item.thing.rides]
        if motion.known[at] and axle.known[at]:
            fixed = not (_unbolts(item) or item.thing.label.casefold() in loose)
            found.append(Standing(item, _in_axle(axle, motion, at), fixed))
    return tuple(found)


def _unbolts(item: Item) -> bool:
    """Whether a body comes off with a wrench: a line between two joints, what hangs in rubber, wheel ends."""
    thing = item.thing
    line = thing.rides in (thing.name, thing.part_of) or bool(thing.part_of)
    return line or thing.soft != "" or (thing.own and thing.name.startswith(UNBOLTS))


def _in_axle(axle: Motion, motion: Motion, at: int) -> Pose:
    back = axle.rotations[at].T
    turn, origin = back @ motion.rotations[at], back @ (motion.origins[at] - axle.origins[at])
    a, b, c = (as_point(row) for row in turn)
    return (a, b, c), as_point(origin)


def results_of(scene: Scene, removals: Iterable[Removal], comes_off: Iterable[str] = ()) -> Iterator[Result]:
    """How each removal comes out; those at a pose the tour has not are left out.

    Args:
        scene: The bodies and poses.
        removals: What is to be got out.
        comes_off: Labels that unbolt, beside what does so anyway.
    """
    loose = tuple(comes_off)
    there: dict[str, tuple[Standing, ...]] = {}
    for removal in removals:
        at = pose_index(scene.tour, removal.pose)
        if at is None:
            continue
        if removal.pose not in there:
            there[removal.pose] = standing(scene, at, loose)
        yield result_of(removal, there[removal.pose])


def result_of(removal: Removal, about: Iterable[Standing]) -> Result:
    """How a removal comes out on its best way among what stands about it; the first way that is free is taken.

    Args:
        removal: What is to be got out.
        about: Everything that stands there, frame A.
    """
    every = tuple(about)
    own = tuple(s for s in every if s.item.thing.name in removal.bodies)
    still = tuple(
        s
        for s in every
        if s not in own and s.item.thing.name not in removal.leave and s.item.thing.whole not in removal.leave
    )
    moving = tuple(s.body for s in own)
    boxes = tuple(_boxes(removal, moving))
    near = tuple(s for s in still if s.item.plane is not None or _within_reach(s.body.box, boxes))
    key = key_of(
        (
            "access", _told(removal), tuple((s.item.digest, s.pose) for s in own),
            tuple((s.item.thing.label, _digest(s), s.item.thing.accuracy, s.pose, s.fixed) for s in near),
        )
    )  # fmt: skip
    got = keeping.kept_json("access", key, lambda: _plain(_best(removal, moving, near)))
    met, barred = (tuple(_met(m) for m in got[k]) for k in ("met", "barred"))
    nearest = None if got["nearest"] is None else _met(got["nearest"])
    fixed = frozenset(s.item.thing.whole for s in near if s.fixed)
    return Result(removal, removal.tries[got["taken"]], met, nearest, fixed, barred)


def _told(removal: Removal) -> object:
    """What of a removal enters the key: all but what it is called."""
    return tuple(replace(t, words="") for t in removal.tries), removal.bodies, removal.wanted


def _digest(one: Standing) -> object:
    return one.item.plane if one.item.plane is not None else one.item.digest


def _met(raw: Mapping[str, Any]) -> Met:
    x, y, z = raw["point"]
    return Met(raw["name"], raw["label"], raw["gap"], (x, y, z), raw["travel"], raw["handle"])


def _plain(found: Result) -> dict[str, Any]:
    return {
        "taken": found.removal.tries.index(found.taken),
        "met": [asdict(m) for m in found.met],
        "barred": [asdict(m) for m in found.barred],
        "nearest": None if found.nearest is None else asdict(found.nearest),
    }


def movers(one: Try, moving: Iterable[Body]) -> tuple[Body, ...]:
    """Everything that moves on a way, where it stands before."""
    return (*moving, *(bar(r.begin, r.end, r.diameter) for r in one.moving))


def rooms(one: Try) -> tuple[Body, ...]:
    """The room of tools and of what is drawn straight out, as bars that stand still."""
    return tuple(bar(r.begin, r.end, r.diameter) for r in one.rods)


def handles(swing: Swing) -> tuple[Body, ...]:
    """The room of a handle at each of the places round its axis."""
    own = sector(swing.reach, swing.arc, swing.width, swing.height)
    upward = upright(np.array(swing.axis))
    found = []
    for place in range(round(360.0 / TURN)):
        a, b, c = (as_point(row) for row in upward @ turned(np.array([0.0, 0.0, 1.0]), place * TURN))
        found.append(own.at(((a, b, c), swing.foot)))
    return tuple(found)


def _within_reach(box: Array, boxes: tuple[Array, ...]) -> bool:
    return any(boxes_gap(b, box) <= REACH for b in boxes)


def _boxes(removal: Removal, moving: tuple[Body, ...]) -> Iterator[Array]:
    for one in removal.tries:
        for body in movers(one, moving):
            yield swept_box(body, one.steps)
        yield from (body.box for body in rooms(one))
        if one.swing is not None:
            yield union_box(h.box for h in handles(one.swing))


def _best(removal: Removal, moving: tuple[Body, ...], near: tuple[Standing, ...]) -> Result:
    """How the best way came out; the first that is free is taken, of equals the first.

    What is in the way, or nearer than wanted, is found with long steps; gaps are told on the way taken alone.
    """
    best: tuple[tuple[int, int], Result] | None = None
    fixed = frozenset(s.item.thing.whole for s in near if s.fixed)
    for one in removal.tries:
        give_up = best is not None and best[1].verdict != "shut"
        found = _as_one(_all_met(one, moving, near, removal.wanted, give_up))
        met = tuple(m for m in found if m.gap < removal.wanted or m.meets)
        barred = best[1].met if one.second and best is not None else ()
        result = Result(removal, one, met, None, fixed, barred)
        rank = ORDER.index(result.verdict), len(met)
        if best is None or rank < best[0]:
            best = rank, result
        if result.verdict == "free":
            break
    if best is None:
        raise ValueError(f"{removal.name} has no way out")
    told = _as_one(_told_exactly(best[1].taken, moving, near, removal.wanted))
    handle = tuple(m for m in best[1].met if m.handle)
    met = (*(m for m in told if m.gap < removal.wanted or m.meets), *handle)
    return replace(best[1], met=met, nearest=told[0] if told else None)


def _as_one(found: list[Met]) -> list[Met]:
    """Nearest first, each body once, though it is drawn as several."""
    seen: dict[str, Met] = {}
    for one in sorted(found, key=lambda m: (m.gap, m.travel, m.name)):
        seen.setdefault(one.name, one)
    return list(seen.values())


def _all_met(
    one: Try, moving: tuple[Body, ...], near: tuple[Standing, ...], reach: float, give_up: bool = False
) -> list[Met]:
    """Every body within reach [mm] of a way; what stops the handle where it has no free swing comes after.

    Args:
        one: The way.
        moving: Bodies that move on it, beside its own bars.
        near: What stands about.
        reach: What stays farther off is not told [mm].
        give_up: Whether the first thing met that does not unbolt is enough.
    """
    found = []
    parts, room = movers(one, moving), rooms(one)
    for other in near:
        hits = [_on_way(body, other, one, reach) for body in parts] + [_beside(body, other, reach) for body in room]
        found += [hit for hit in hits if hit is not None]
        if give_up and other.fixed and any(hit is not None and hit.meets for hit in hits):
            return found
    return found if one.swing is None else found + _stopping(one.swing, near)


def _told_exactly(one: Try, moving: tuple[Body, ...], near: tuple[Standing, ...], wanted: float) -> list[Met]:
    """What is nearer than wanted, and the nearest of all, with short steps; what is shown to be farther is left out."""
    parts, room = movers(one, moving), rooms(one)
    boxes = [swept_box(b, one.steps) for b in parts] + [b.box for b in room]
    far = {id(s): 0.0 if s.item.plane is not None else min(boxes_gap(b, s.body.box) for b in boxes) for s in near}
    found: list[Met] = []
    reach = REACH
    for other in sorted(near, key=lambda s: far[id(s)]):
        hits = [_on_way(body, other, one, max(reach, wanted), LEAST_STEP) for body in parts]
        hits += [_beside(body, other, max(reach, wanted)) for body in room]
        found += [hit for hit in hits if hit is not None]
        reach = min([reach, *(hit.gap for hit in found)])
    return found


def _on_way(body: Body, other: Standing, one: Try, reach: float, least_step: float = LONG_STEP) -> Met | None:
    if other.item.plane is not None:
        through, beyond = other.plane
        passed = above_plane(body, one.steps, through, beyond)
        return _close(other, passed.gap, passed.point, passed.travel, reach)
    if boxes_gap(swept_box(body, one.steps), other.body.box) > reach:
        return None
    way = least_on_way(body, other.body, one.steps, reach, least_step)
    return None if way is None else _close(other, way.gap, way.point, way.travel, reach)


def _beside(body: Body, other: Standing, reach: float = REACH) -> Met | None:
    if other.item.plane is not None:
        through, beyond = other.plane
        passed = above_plane(body, (), through, beyond)
        return _close(other, passed.gap, passed.point, 0.0, reach)
    if boxes_gap(body.box, other.body.box) > reach:
        return None
    found = clearance(body, other.body)
    gap = _gap(found)
    point = found.other if found.state is State.APART else meeting_point(body, other.body)
    return _close(other, gap, point, 0.0, reach)


def _gap(found: Clearance) -> float:
    return found.gap if found.state is State.APART else 0.0


def _close(other: Standing, gap: float, point: Vector, travel: float, reach: float) -> Met | None:
    thing = other.item.thing
    return None if gap > reach else Met(thing.whole, thing.label, gap, as_point(np.array(point)), travel)


def _stopping(swing: Swing, near: tuple[Standing, ...]) -> list[Met]:
    """What stops a handle at the place where least does; nothing where some place is free."""
    every = handles(swing)
    round_it = union_box(h.box for h in every)
    there = [(s, s.body) for s in near if s.item.plane is None and boxes_gap(round_it, s.body.box) <= 0.0]
    planes = [s for s in near if s.item.plane is not None]
    least: tuple[tuple[int, int], list[Standing]] | None = None
    for handle in every:
        met = [s for s, body in there if swept_into(handle, body)]
        met += [s for s in planes if (hit := _beside(handle, s)) is not None and hit.meets]
        if not met:
            return []
        rank = sum(s.fixed for s in met), len(met)
        if least is None or rank < least[0]:
            least = rank, met
    return (
        []
        if least is None
        else [Met(s.item.thing.whole, s.item.thing.label, 0.0, swing.foot, 0.0, True) for s in least[1]]
    )
