"""The tour of poses that clearances are looked at over, and where every mover stands at each of them.

Both wheels go from full droop to full bump, each by itself, so heave, roll, one wheel alone and crossed
wheels are all among them; and at every one of these the steering from lock to lock. Springs and shocks
become longer and shorter: they are drawn as pieces of fixed length that overlap along their line.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array, rotated
from fixturegen.axle.linkage import Linkage
from fixturegen.axle.model import AxleModel
from fixturegen.axle.poses import Bools, Poses, wheel_travel
from fixturegen.axle.travel import poses_at
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.clearance_records import AXLE, FRAME, LEFT, RIGHT, Motion, Picks, Place, Tour
from fixturegen.studies.link_inputs import (
    box_on,
    linkage_on,
    links_on,
    lock_on,
    shaft_on,
    stance_of,
    steering_on,
    struts_on,
)
from fixturegen.studies.link_lock import pitman_swing, turns_at
from fixturegen.studies.link_steering import Steering, drag_ends, steering_motion

LOCKS = (0.0, 0.5, -0.5, 1.0, -1.0)
"""Shares of full lock that are looked at, left positive."""
NAMES = {(0, 0): "ride", (1, 1): "bump", (-1, -1): "droop", (1, -1): "cross-L", (-1, 1): "cross-R"}
"""By whether left and right wheel are at full bump, ride or full droop."""
SHORT = 1.0  # mm; a line shorter than this has no direction worth having
MOST_PIECES = 12  # of a telescoping line; one that grows more than elevenfold is a slip on the sheet


@dataclass(frozen=True, eq=False)
class Line:
    """A straight round thing between two points that move: link, strut, rod or shaft.

    Attributes:
        name: Of the link or strut.
        label: What people call it.
        length: Of the piece that is drawn, along local Z from 0 [mm].
        motions: One for each piece; a link has one, what telescopes has several.
        ends: Names of what its ends are joined to, beside the frame and the housing.
    """

    name: str
    label: str
    length: float
    motions: tuple[Motion, ...]
    ends: tuple[str, ...] = ()

    @property
    def tips(self) -> tuple[Array, Array]:
        """Both ends at ride height in V, each shape (3,) [mm]."""
        first, last = self.motions[0], self.motions[-1]
        return first.origins[0], last.origins[0] + self.length * last.rotations[0][:, 2]


@dataclass(frozen=True, eq=False)
class Stage:
    """Positions of the wheels, and how far they are steered at each.

    Attributes:
        left: Travel of the left wheel, up positive (m,) [mm].
        right: Of the right wheel (m,) [mm].
        shares: Of full lock, left positive; 0 is straight ahead.
    """

    left: Array
    right: Array
    shares: tuple[float, ...] = (0.0,)


def tour_of(sheet: Sheet, axle: AxleModel, stages: tuple[Stage, ...] | None = None) -> tuple[Tour, tuple[Line, ...]]:
    """The poses with the movers every axle has, and every line of the sheet.

    Without [links] there is ride height alone.

    Args:
        sheet: The build sheet.
        axle: The idealized axle.
        stages: Where the wheels go; when not given, the grid that clearances are looked at over.

    Raises:
        InputFault: When the links are no linkage.
    """
    if sheet.links is None:
        stance = stance_of(sheet, axle)
        at = Motion(stance.rotation[None], stance.origin[None], np.ones(1, np.bool_))
        note = "no [links] on the sheet: looked at ride height only"
        return Tour((Place(0.0, 0.0, 0.0, "ride"),), _riding(at, at, at), 0, (note,)), ()
    linkage = linkage_on(sheet, axle)
    steering, lock = steering_on(sheet, axle), lock_on(sheet)
    steered = steering is not None and lock is not None
    notes: list[str] = []
    if axle.front and steering is None:
        notes.append("no [links.steering]: the knuckles were looked at straight ahead only")
    elif steering is not None and lock is None:
        notes.append("no lock in [links.steering]: the wheels were looked at straight ahead only")
    sets, places, reached, missed, asked = [], [], [], 0, 0
    for stage in (Stage(*_wheels(sheet), LOCKS),) if stages is None else stages:
        heave, roll = wheel_travel(stage.left, stage.right, linkage.stance.half_track)
        poses = poses_at(linkage, heave, roll, traced=False)
        missed, asked = missed + int((~poses.reached).sum()), asked + poses.heave.size
        for share in stage.shares if steered else tuple(s for s in stage.shares if s == 0.0):
            sets.append(_set(sheet, poses, steering, share * (lock or 0.0)))
            reached.append(poses.reached)
            places += [
                _place(sheet, float(a), float(b), float(z), float(r), share, lock or 0.0)
                for a, b, z, r in zip(stage.left, stage.right, heave, roll, strict=True)
            ]
    keep = np.concatenate(reached)
    way = [abs(p.heave) + abs(p.roll) + abs(p.steer) for p in places]
    order = np.array(sorted(np.flatnonzero(keep), key=lambda i: (round(way[i], 6), i)), dtype=np.intp)
    joined = {name: _joined([s[name] for s in sets], order) for name in sets[0]}
    lines = tuple(_lines(sheet, axle, linkage, joined, notes))
    motions = {name: m for name, m in joined.items() if not isinstance(m, _Ends)}
    if missed:
        notes.append(f"the links do not reach {missed} of {asked} positions of the wheels (LNK-01)")
    return Tour(tuple(places[int(i)] for i in order), motions, missed, tuple(notes)), lines


@dataclass(frozen=True, eq=False)
class _Ends:
    """Both ends of a line in V at each pose, each shape (m, 3) [mm]."""

    begin: Array
    end: Array


def _wheels(sheet: Sheet) -> tuple[Array, Array]:
    """Travel of left and right wheel at each pose, up positive, each shape (m,) [mm]."""
    links = links_on(sheet)
    steps = 1 if sheet.clearance is None else sheet.clearance.steps
    up, down = float(links.bump), float(links.droop)
    stops = np.concatenate([np.linspace(-down, 0.0, steps + 1), np.linspace(0.0, up, steps + 1)[1:]])
    left, right = np.meshgrid(stops, stops, indexing="ij")
    return left.ravel(), right.ravel()


def _place(sheet: Sheet, left: float, right: float, heave: float, roll: float, share: float, lock: float) -> Place:
    links = links_on(sheet)

    def where(travel: float) -> int | None:
        ends = {1: float(links.bump), 0: 0.0, -1: -float(links.droop)}
        return next((k for k, at in ends.items() if abs(travel - at) < 1e-9), None)

    both = (where(left), where(right))
    name = NAMES.get(both, f"h{heave:+04.0f}r{roll:+03.0f}")  # type: ignore[arg-type]  # None is no key of it
    if share:
        side = "L" if share > 0.0 else "R"
        name += f"+lock-{side}" if abs(share) == 1.0 else f"+half-lock-{side}"
    return Place(heave, roll, share * lock, name)


def _riding(axle: Motion, left: Motion, right: Motion) -> dict[str, Motion]:
    m = len(axle.origins)
    still = Motion(np.broadcast_to(np.eye(3), (m, 3, 3)), np.zeros((m, 3)), np.ones(m, np.bool_))
    return {FRAME: still, AXLE: axle, LEFT: left, RIGHT: right}


def _set(sheet: Sheet, poses: Poses, steering: Steering | None, steer: float) -> dict[str, Motion | _Ends]:
    """Every mover at the poses with the wheels turned so [deg]; what is not known there is no number."""
    turn, at = poses.rotations(), poses.origins()
    axle = Motion(turn, at, poses.reached)
    if steering is None:
        return dict(_riding(axle, axle, axle))
    stance = poses.linkage.stance
    m = poses.heave.size
    if steer:
        angles = np.broadcast_to(turns_at(steering, stance, np.array([steer])), (m, 2))
    else:
        angles = steering_motion(poses, steering).knuckles
    sides, ties = [], []
    for i, knuckle in enumerate((steering.left, steering.right)):
        axis = np.array(knuckle.axis) / np.linalg.norm(knuckle.axis)
        own = np.stack([rotated(e, axis, np.radians(angles[:, i])) for e in np.eye(3)], axis=2)
        point = np.array(knuckle.point)
        shift = point - own @ point
        known: Bools = poses.reached & np.isfinite(angles[:, i])
        sides.append(Motion(turn @ own, np.einsum("mij,mj->mi", turn, shift) + at, known))
        tie = stance.in_axle(knuckle.tie)
        ties.append(np.einsum("mij,j->mi", sides[i].rotations, tie) + sides[i].origins)
    made: dict[str, Motion | _Ends] = dict(_riding(axle, *sides))
    made["tie-rod"] = _Ends(ties[0], ties[1])
    made["drag-link"] = _drag(sheet, poses, steering, angles, bool(steer))
    return made


def _drag(sheet: Sheet, poses: Poses, steering: Steering, angles: Array, turned: bool) -> _Ends:
    """Both ends of the drag link; no number where the box that turns the pitman arm is not on the sheet."""
    ends = np.stack([drag_ends_at(poses, steering, angles, k) for k in range(poses.heave.size)])
    pitman = np.broadcast_to(np.array(steering.pitman), ends.shape)
    if turned:
        box = box_on(sheet)
        if box is None:
            return _Ends(np.full_like(ends, np.nan), ends)
        way = np.array(box.way) / np.linalg.norm(box.way)
        ride = poses_at(poses.linkage, 0.0)
        swing = np.radians(pitman_swing(ride, steering, box, angles[0]))
        arm = np.array(steering.pitman) - np.array(box.shaft)
        # the box turned so far holds its arm there over the travel; the wheel then wanders by its bump steer
        pitman = np.broadcast_to(np.array(box.shaft) + rotated(arm, way, swing)[0], ends.shape)
    return _Ends(pitman, ends)


def drag_ends_at(poses: Poses, steering: Steering, angles: Array, k: int) -> Array:
    """The drag link's joint at the axle in V at one pose, shape (3,) [mm]."""
    if not np.isfinite(angles[k]).all():
        return np.full(3, np.nan)
    return np.asarray(drag_ends(_one(poses, k), steering, angles[k])[0], dtype=np.float64)


def _one(poses: Poses, k: int) -> Poses:
    part = slice(k, k + 1)
    return Poses(
        poses.linkage, poses.heave[part], poses.roll[part], poses.unknowns[:, part], poses.reached[part],
        poses.off[part], poses.margin[part],
    )  # fmt: skip


def _joined(parts: list[Motion | _Ends], order: Picks) -> Motion | _Ends:
    if isinstance(parts[0], _Ends):
        begin, end = (np.concatenate([getattr(p, k) for p in parts])[order] for k in ("begin", "end"))
        return _Ends(begin, end)
    turn, at, known = (np.concatenate([getattr(p, k) for p in parts])[order] for k in ("rotations", "origins", "known"))
    return Motion(turn, at, known)


def _lines(
    sheet: Sheet, axle: AxleModel, linkage: Linkage, joined: dict[str, Motion | _Ends], notes: list[str]
) -> Iterator[Line]:
    """Every link, strut, rod and shaft with its motion."""
    going = joined[AXLE]
    if isinstance(going, _Ends):  # pragma: no cover - the axle is a mover
        return
    if linkage.approximate:
        notes.append("the leaf springs themselves were not looked at: lines stand for them")
    for link, tip in zip(() if linkage.approximate else linkage.links, linkage.axle_points(), strict=False):
        yield _line(link.name, link.name.replace("-", " "), *_to_frame(going, link.frame.point, tip), telescopes=False)
    for _, strut in struts_on(sheet):
        for side, word in ((1.0, "left"), (-1.0, "right")):
            mirror = np.array([1.0, side, 1.0])
            frame = np.array(strut.frame.point) * mirror
            tip = linkage.stance.in_axle(strut.axle) * mirror
            name = f"{_slug(strut.name)}-{word}"
            yield _line(name, f"{strut.name}, {word}", *_to_frame(going, frame, tip), telescopes=True)
    for name, label, ends in (("tie-rod", "tie rod", (LEFT, RIGHT)), ("drag-link", "drag link", ())):
        rod = joined.get(name)
        if isinstance(rod, _Ends):
            yield _line(name, label, rod.begin, rod.end, telescopes=name == "drag-link", ends=ends)
            if not np.isfinite(rod.begin).all():
                notes.append("no sector_shaft in [links.steering]: the drag link was looked at straight ahead only")
    shaft = shaft_on(sheet, axle)
    if shaft is not None:
        ends_there = _to_frame(going, np.array(shaft.case), np.array(shaft.pinion))
        yield _line("drive-shaft", "drive shaft", *ends_there, telescopes=True)


def _slug(name: str) -> str:
    return "-".join("".join(c if c.isalnum() else " " for c in name.lower()).split())


def _to_frame(axle: Motion, frame: Array | tuple[float, float, float], tip: Array) -> tuple[Array, Array]:
    end = np.einsum("mij,j->mi", axle.rotations, np.asarray(tip, dtype=np.float64)) + axle.origins
    return np.broadcast_to(np.asarray(frame, dtype=np.float64), end.shape), end


def _line(name: str, label: str, begin: Array, end: Array, *, telescopes: bool, ends: tuple[str, ...] = ()) -> Line:
    """A line between two ends: one piece, or as many as it takes for pieces as long as its shortest to cover it."""
    known: Bools = np.asarray(np.isfinite(begin).all(axis=1) & np.isfinite(end).all(axis=1))
    way = end - begin
    length = np.linalg.norm(way, axis=1)
    turn = _aimed(way / np.maximum(length, SHORT)[:, None])
    ride = float(length[0])
    if not telescopes:
        slack = float(np.nanmax(np.abs(length - ride)))
        return Line(name, label, ride, (Motion(turn, begin, known, slack),), ends)
    short, long = float(np.nanmin(length)), float(np.nanmax(length))
    pieces = min(MOST_PIECES, max(1, math.ceil((long - short) / max(short, SHORT) - 1e-9) + 1))
    if long - short < 1e-6:
        pieces = 1
    motions = []
    for k in range(pieces):
        share = k / max(1, pieces - 1)
        start = begin + share * (length - short)[:, None] * (way / np.maximum(length, SHORT)[:, None])
        motions.append(Motion(turn, start, known))
    return Line(name, label, short, tuple(motions), ends)


def _aimed(way: Array) -> Array:
    """Rotations whose Z runs along each direction, turned least from the first one's, shape (m, 3, 3).

    Source: geometry, the least turn from one direction to another.
    """
    first = way[0]
    aside = np.array([1.0, 0.0, 0.0]) if abs(first[0]) < 0.9 else np.array([0.0, 1.0, 0.0])
    x = np.cross(aside, first)
    x = x / np.linalg.norm(x)
    start = np.stack([x, np.cross(first, x), first], axis=1)
    out = np.empty((len(way), 3, 3))
    for i, one in enumerate(way):
        v, c = np.cross(first, one), float(first @ one)
        k = np.array([[0.0, -v[2], v[1]], [v[2], 0.0, -v[0]], [-v[1], v[0], 0.0]])
        out[i] = (np.eye(3) + k + k @ k / (1.0 + c)) @ start
    return out
