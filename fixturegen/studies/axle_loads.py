"""Forces in the links and springs of an axle under its load cases, by equilibrium of the axle.

Links have joints at both ends and carry force along their line only. Four lengths and the springs of two
sides are six unknowns for six equations: the forces follow from statics alone. More than four lengths share
the load as their bushes give (least work); springs then hold the axle at the pose and give nothing. The
two lines of an arm stand for it: what its clamp on the axle bends in it is not among these forces. Wheel
loads are given and do not answer: what rolls the axle, the torque of the drive shaft among it, goes into
the springs, where the ground would take a part.

Source: statics, forces and moments about the axle centre; least work of springs in a frame.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.linkage import HELD, Linkage
from fixturegen.axle.linkage_equations import ARC
from fixturegen.axle.model import AxleModel, Point
from fixturegen.axle.motion import constraint_matrix
from fixturegen.axle.poses import Poses
from fixturegen.axle.travel import poses_at
from fixturegen.errors import Fault, InputFault
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.link_inputs import linkage_on
from fixturegen.studies.load_cases import cases_of, left_out
from fixturegen.studies.load_records import LoadCase
from fixturegen.studies.load_springs import SpringLine, springs_on

WEAK = 1e-3
"""Smallest singular value of the equations, per length of `ARC`: beyond it forces are 1000 times the load."""
FREE = 0.7
"""Part of the freest motion from which another is named with it."""
MOTIONS = ("fore and aft", "sideways", "up and down", "in roll", "about its own line", "in plan, as if it steered")
SPRING_SIDES = ("left", "right")

End = Literal["frame", "axle"]


@dataclass(frozen=True)
class LineForce:
    """The force in one line.

    Attributes:
        name: Of the link.
        body: Arm or wishbone it is a line of; empty for a rod.
        force: Tension positive [N].
        toward: Unit direction from its end on the axle to its end on the frame, in V at the pose.
        at: Its end on the axle, in A [mm].
    """

    name: str
    body: str
    force: float
    toward: Point
    at: Point


@dataclass(frozen=True)
class Residual:
    """What is left of the sums when loads, links and springs are added up.

    Attributes:
        force: [N].
        moment: About the axle centre [N*mm].
        share: The larger of both relative to the load (a moment relative to the load at 1 m).
    """

    force: float
    moment: float
    share: float


@dataclass(frozen=True)
class CaseLoads:
    """What one load case puts on links and springs.

    Attributes:
        case: The case.
        lines: Force in each line, in the order of the links.
        springs: Force of the springs of each side, pushing apart positive [N]; below zero a spring would have
            to pull, which strap, shock or anti-roll bar does.
        residual: What does not close.
        turn: Rotation that takes A to V at the pose, by rows.
        origin: Of A in V at the pose [mm].
    """

    case: LoadCase
    lines: tuple[LineForce, ...]
    springs: dict[str, float]
    residual: Residual
    turn: tuple[Point, Point, Point]
    origin: Point

    @property
    def links(self) -> dict[str, float]:
        """Force in each link by name, tension positive [N]."""
        return {k.name: k.force for k in self.lines}

    @property
    def pulling(self) -> tuple[str, ...]:
        """Sides whose springs would have to pull."""
        least = -1e-9 * max(abs(f) for f in (*self.springs.values(), 1.0))
        return tuple(side for side, force in self.springs.items() if force < least)

    def on_bracket(self, name: str, end: End, frame: Literal["A", "V"] = "A") -> Point:
        """Force on the bracket that holds a link, or the joint of an arm or wishbone [N].

        Args:
            name: Of a link, or of an arm or wishbone (`arm-left`, `upper`) for the sum of its lines.
            end: Which of its brackets.
            frame: A as the axle stands at the pose, or V.

        Raises:
            KeyError: When there is no such link.
        """
        found = [k for k in self.lines if name in (k.name, k.body)]
        if not found:
            raise KeyError(name)
        way = 1.0 if end == "axle" else -1.0
        force = sum((way * k.force * np.array(k.toward) for k in found), np.zeros(3))
        return _p(force if frame == "V" else np.array(self.turn).T @ force)


@dataclass(frozen=True)
class Uncarried:
    """A case that links and springs cannot carry, and why, in a sentence."""

    case: LoadCase
    why: str


@dataclass(frozen=True)
class AxleLoads:
    """Every load case of an axle.

    Attributes:
        linkage: What holds it.
        springs: Lines its springs push along.
        cases: What was carried, in the order of the cases.
        uncarried: What could not be.
        left_out: What has no case for want of a value, each in a sentence.
    """

    linkage: Linkage
    springs: tuple[SpringLine, ...]
    cases: tuple[CaseLoads, ...]
    uncarried: tuple[Uncarried, ...] = ()
    left_out: tuple[str, ...] = ()

    def case(self, name: str) -> CaseLoads:
        """What one case came to.

        Raises:
            KeyError: When it was not carried, or there is none of this name.
        """
        for one in self.cases:
            if one.case.name == name:
                return one
        raise KeyError(name)

    def governing(self, link: str, way: Literal["either", "pull", "push"] = "either") -> tuple[str, float]:
        """Name of the case that asks most of a link, and the force there, tension positive [N].

        Args:
            link: Its name.
            way: The largest force of all, the largest pull, or the largest push (which may be none: then
                the least pull).

        Raises:
            KeyError: When there is no such link, or no case was carried.
        """
        if not self.cases:
            raise KeyError(link)
        sign = {"either": 0.0, "pull": 1.0, "push": -1.0}[way]
        forces = [(one.case.name, one.links[link]) for one in self.cases]
        return max(forces, key=lambda f: sign * f[1] if sign else abs(f[1]))


def loads_of(sheet: Sheet, axle: AxleModel) -> AxleLoads:
    """What every load case of a sheet puts on links and springs.

    Raises:
        InputFault: When loads, links or springs are missing, or are not enough to tell the forces.
    """
    linkage = linkage_on(sheet, axle)
    return carried(linkage, springs_on(sheet, axle), cases_of(sheet, axle), left_out(sheet, axle))


def carried(
    linkage: Linkage, springs: tuple[SpringLine, ...], cases: tuple[LoadCase, ...], missing: tuple[str, ...] = ()
) -> AxleLoads:
    """What some load cases put on links and springs.

    Args:
        linkage: What holds the axle.
        springs: Lines the springs push along; those of one side share its force alike.
        cases: What pushes on it.
        missing: What has no case, each in a sentence.

    Raises:
        InputFault: When more than four lengths hold the axle and no bush rate says how they share.
    """
    _refuse_unshared(linkage)
    poses = poses_at(linkage, np.array([case.heave for case in cases]))
    with np.errstate(invalid="ignore"):  # poses out of reach are not numbers
        matrices = constraint_matrix(poses)
    done: list[CaseLoads] = []
    not_done: list[Uncarried] = []
    for i, case in enumerate(cases):
        if not poses.reached[i]:
            why = f"the links bind before {case.pose}, heave {case.heave / 25.4:+.2f} in is out of reach"
            not_done.append(Uncarried(case, why))
            continue
        found = _carry(poses, i, matrices[i], springs, case)
        if isinstance(found, CaseLoads):
            done.append(found)
        else:
            not_done.append(Uncarried(case, found))
    return AxleLoads(linkage, springs, tuple(done), tuple(not_done), missing)


def _refuse_unshared(linkage: Linkage) -> None:
    if len(linkage.links) > HELD and linkage.rates() is None:
        given = f"{linkage.kind} with {len(linkage.links)} lengths, which share a load in no one way"
        remedy = "measure or ask the maker for the rates of the bushes (rate of each link), or take fewer links"
        raise InputFault(Fault("links.kind", given, "links whose bush rates are given", remedy))


def load_on(poses: Poses, i: int, case: LoadCase) -> Array:
    """Force and moment of a case about the axle centre at a pose, in V, shape (6,) [N, N*mm]."""
    turn = poses.rotations()[i]
    total = np.zeros(6)
    for push in case.pushes:
        force = np.array(push.force)
        total[:3] += force
        total[3:] += np.cross(turn @ np.array(push.at) + np.array(push.below), force)
    for couple in case.couples:
        moment = np.array(couple.moment)
        total[3:] += turn @ moment if couple.frame == "A" else moment
    return total


def _spring_columns(poses: Poses, i: int, springs: tuple[SpringLine, ...]) -> Array:
    """Force and moment on the axle per force of each side's springs, shape (6, 2)."""
    turn, origin = poses.rotations()[i], poses.origins()[i]
    columns = np.zeros((6, len(SPRING_SIDES)))
    for k, side in enumerate(SPRING_SIDES):
        mine = [s for s in springs if s.side == side]
        for spring in mine:
            arm = turn @ np.array(spring.axle)
            way = np.array([0.0, 0.0, -1.0]) if spring.frame is None else arm + origin - np.array(spring.frame)
            way = way / np.linalg.norm(way)
            columns[:, k] += np.concatenate([way, np.cross(arm, way)]) / len(mine)
    return columns


def _carry(poses: Poses, i: int, lines: Array, springs: tuple[SpringLine, ...], case: LoadCase) -> CaseLoads | str:
    """The forces of one case at one pose, or why there are none.

    Args:
        poses: The axle at each case's pose.
        i: Which of them.
        lines: Change of each length with the axle's motion, shape (n, 6).
        springs: Lines of the springs.
        case: What pushes.
    """
    linkage = poses.linkage
    columns, load = _spring_columns(poses, i, springs), load_on(poses, i, case)
    # moments become forces at one ARC, so that all six equations weigh alike
    level = np.array([1.0, 1.0, 1.0, 1.0 / ARC, 1.0 / ARC, 1.0 / ARC])
    pull, push, given = -lines.T * level[:, None], columns * level[:, None], load * level
    ways, sizes, _ = np.linalg.svd(np.hstack([pull, push]))
    if sizes[-1] < WEAK:
        part = np.linalg.norm(ways[:, sizes < WEAK], axis=1)  # of each motion in those that nothing holds
        free = " and ".join(m for m, p in zip(MOTIONS, part, strict=True) if p > FREE * part.max())
        return f"links and springs leave the axle free to move {free}, where no force of theirs can answer"
    forces = _shared(linkage, pull, push, given, poses.off[i])
    if forces is None:
        return "links without a bush rate share the load in no one way: give the rate of more links"
    left = load - lines.T @ forces[: len(lines)] + columns @ forces[len(lines) :]
    turn = poses.rotations()[i]
    found = tuple(
        LineForce(k.name, "" if k.body == k.name else k.body, float(f), _p(-line[:3]), _p(linkage.axle_points()[j]))
        for j, (k, f, line) in enumerate(zip(linkage.links, forces, lines, strict=False))
    )
    sides = dict(zip(SPRING_SIDES, (float(f) for f in forces[len(lines) :]), strict=True))
    rows = (_p(turn[0]), _p(turn[1]), _p(turn[2]))
    return CaseLoads(case, found, sides, _residual(case, left), rows, _p(poses.origins()[i]))


def _shared(linkage: Linkage, pull: Array, push: Array, given: Array, off: Array) -> Array | None:
    """Forces in links and springs, shape (n + 2,) [N]; None when stiff links share them in no one way.

    Four lengths: six equations. More: each soft link has force = rate x (what the pose asks of it + what the
    load adds), stiff links and springs give nothing, and the load's motion of the axle is found with them.

    Args:
        linkage: For the rates.
        pull: Force on the axle per tension in each link, shape (6, n).
        push: Per force of each side's springs, shape (6, 2).
        given: The load, shape (6,).
        off: What the pose asks of each length, shape (n,) [mm].

    Source: least work of springs in a frame (Castigliano), with equilibrium kept.
    """
    whole = np.hstack([pull, push])
    count = len(linkage.links)
    if count == HELD:
        return np.asarray(np.linalg.solve(whole, -given), dtype=np.float64)
    rates = linkage.rates()
    give = np.zeros(whole.shape[1])
    if rates is not None:
        give[:count] = 1.0 / rates
    stiff = whole[:, give == 0.0]
    if np.linalg.svd(stiff)[1].min() < WEAK or stiff.shape[1] > whole.shape[0]:
        return None
    scale = give.max()
    # unknown: forces, and the axle's motion times the stiffest bush; rows: give of each, then equilibrium
    size = whole.shape[1]
    matrix = np.zeros((size + 6, size + 6))
    matrix[:size, :size] = np.diag(give / scale)
    matrix[:size, size:] = whole.T
    matrix[size:, :size] = whole
    right = np.concatenate([np.where(give[:count] > 0.0, off, 0.0) / scale, np.zeros(len(SPRING_SIDES)), -given])
    found = np.linalg.solve(matrix, right)
    found += np.linalg.solve(matrix, right - matrix @ found)  # once more, so that equilibrium closes to rounding
    return np.asarray(found[:size], dtype=np.float64)


def _residual(case: LoadCase, left: Array) -> Residual:
    load = sum(float(np.linalg.norm(p.force)) for p in case.pushes)
    force, moment = float(np.linalg.norm(left[:3])), float(np.linalg.norm(left[3:]))
    share = max(force, moment / ARC) / load if load > 0.0 else max(force, moment / ARC)
    return Residual(force, moment, share)


def _p(v: Array) -> Point:
    return float(v[0]), float(v[1]), float(v[2])
