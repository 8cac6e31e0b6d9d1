"""What each load case puts on each bracket: the force of its link, spring, shock, strap or stop, in A.

A bracket on the frame is told in A as the axle stands at ride height, as its plan is.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array
from fixturegen.axle.model import AxleModel, Point, Side
from fixturegen.findings import Trust, weakest
from fixturegen.sheet.specs import Sheet, StrutEnds
from fixturegen.studies.axle_loads import AxleLoads, CaseLoads
from fixturegen.studies.bracket_records import Mount
from fixturegen.studies.link_inputs import links_on, stance_of
from fixturegen.studies.load_cases import loads_on, weights_of
from fixturegen.studies.load_factors import NOT_COVERED, LoadFactor, factor_of
from fixturegen.studies.load_numbers import trust_of
from fixturegen.studies.load_springs import SpringLine, strut_line

DROP = "dropped"
STOP_SHARE = "the bump stop is taken to carry all that the springs of its side carry"
PULLS = "where a spring would have to pull, strap or shock does"
DROP_NOT_COVERED = "a truck that leaves the ground, the shock's own damping force"
STRUTS = {
    "shock-tab": "shock",
    "hoop-tab": "shock",
    "strap-tab": "strap",
    "coil-seat": "spring",
    "bump-pad": "bump stop",
}
"""Kind of strut that a kind of bracket is made for."""
NONE = 1e-6
"""Force below which nothing is there [N]: rounding of loads of tons."""


@dataclass(frozen=True)
class BracketForce:
    """A force on one bracket.

    Attributes:
        case: Name of the load case.
        words: What happens.
        force: On the bracket, in A [N].
        factors: In it.
        not_covered: What the case says nothing about.
        trust: How far to trust it.
    """

    case: str
    words: str
    force: Point
    factors: tuple[LoadFactor, ...]
    not_covered: str
    trust: Trust

    @property
    def size(self) -> float:
        """Of the force [N]."""
        return float(np.linalg.norm(self.force))


def forces_on(mount: Mount, sheet: Sheet, axle: AxleModel, loads: AxleLoads) -> tuple[BracketForce, ...]:
    """The force of every case on a bracket; none where no case reaches it: `unloaded` says why.

    Args:
        mount: The bracket.
        sheet: The sheet.
        axle: The axle.
        loads: Of every case.
    """
    lines = {k.name: k for k in loads.linkage.links}
    if mount.holds in lines:
        line = lines[mount.holds]
        # the lines of a wishbone meet in one joint on the axle
        name = line.body if line.part == "wishbone" and mount.spec.end == "axle" and line.body else line.name
        return tuple(_of_link(mount, sheet, axle, loads, one, name) for one in loads.cases)
    leaf = [s for s in loads.springs if s.frame is None and s.side == mount.side]
    if mount.spec.kind == "spring-pad" and leaf:
        return tuple(
            _of_strut(mount, sheet, axle, one, leaf[0], one.springs[leaf[0].side], _guessed(sheet, loads, one))
            for one in loads.cases
        )
    row, side = _strut(mount, sheet)
    if row is None or side is None:
        return ()
    line_of = strut_line(sheet, axle, row, side)
    mine = [s for s in loads.springs if s.side == side]
    if row.name in {s.name for s in mine}:
        return tuple(
            _of_strut(mount, sheet, axle, one, line_of, one.springs[side] / len(mine), trust_of(sheet, loads, one))
            for one in loads.cases
        )
    return tuple(f for f in _of_travel(mount, sheet, axle, loads, row, line_of) if f.size > NONE)


def unloaded(mount: Mount, sheet: Sheet) -> str:
    """Why no case reaches a bracket, in a sentence."""
    row, _ = _strut(mount, sheet)
    if row is not None and row.kind == "shock":
        return "springs carry, straps catch: of its shock only the damping force is left, which is not worked out"
    if row is not None:
        return f"no load case reaches its {row.kind}"
    return "it holds neither link nor strut of [links], so no load case reaches it: ask its maker for the force"


def _strut(mount: Mount, sheet: Sheet) -> tuple[StrutEnds | None, Side | None]:
    """The strut that a bracket holds, and its side."""
    struts = () if sheet.links is None else sheet.links.struts
    for side in ("left", "right"):
        for row in struts:
            if mount.holds == f"{row.name}-{side}":
                return row, "left" if side == "left" else "right"
    # its points are given by hand: the one strut of its kind is meant
    alike = [row for row in struts if row.kind == STRUTS.get(mount.spec.kind)]
    if len(alike) == 1 and mount.side != "middle":
        return alike[0], mount.side
    return None, None


def _of_link(mount: Mount, sheet: Sheet, axle: AxleModel, loads: AxleLoads, one: CaseLoads, name: str) -> BracketForce:
    if mount.spec.end == "axle":
        force = one.on_bracket(name, "axle", "A")
    else:
        force = _at_ride(sheet, axle, np.array(one.on_bracket(name, "frame", "V")))
    return _made(one, force, trust_of(sheet, loads, one))


def _at_ride(sheet: Sheet, axle: AxleModel, force: Array) -> Point:
    """A force of V in A as the axle stands at ride height."""
    return _p(stance_of(sheet, axle).rotation.T @ force)


def _made(one: CaseLoads, force: Point, trust: Trust) -> BracketForce:
    return BracketForce(one.case.name, one.case.words, force, one.case.factors, one.case.not_covered, trust)


def _of_strut(
    mount: Mount, sheet: Sheet, axle: AxleModel, one: CaseLoads, line: SpringLine, push: float, trust: Trust
) -> BracketForce:
    """A strut that pushes its ends apart with `push` [N]; below zero it pulls."""
    turn = np.array(one.turn)
    way = push * apart(line, turn, np.array(one.origin))
    force = _p(turn.T @ way) if mount.spec.end == "axle" else _at_ride(sheet, axle, -way)
    return _made(one, force, trust)


def apart(line: SpringLine, turn: Array, origin: Array) -> Array:
    """Unit direction in V from the end on the frame to the end on the axle."""
    if line.frame is None:
        return np.array([0.0, 0.0, -1.0])
    way = origin + turn @ np.array(line.axle) - np.array(line.frame)
    return np.asarray(way / np.linalg.norm(way), dtype=np.float64)


def _of_travel(
    mount: Mount, sheet: Sheet, axle: AxleModel, loads: AxleLoads, row: StrutEnds, line: SpringLine
) -> list[BracketForce]:
    """A stop at full bump; a strap, or the shock where there is no strap, that catches the axle."""
    if row.kind == "bump stop":
        return [
            _of_strut(mount, sheet, axle, one, line, max(one.springs[line.side], 0.0), _guessed(sheet, loads, one))
            for one in loads.cases
            if one.case.pose == "bump"
        ]
    kinds = {s.kind for s in links_on(sheet).struts}
    if row.kind != ("strap" if "strap" in kinds else "shock"):
        return []
    found = [
        _of_strut(mount, sheet, axle, one, line, min(one.springs[line.side], 0.0), _guessed(sheet, loads, one))
        for one in loads.cases
    ]
    return [_dropped(mount, sheet, axle, line), *found]


def _guessed(sheet: Sheet, loads: AxleLoads, one: CaseLoads) -> Trust:
    """Stops and straps share with springs in a way that is common practice."""
    return weakest(Trust.PRACTICE, trust_of(sheet, loads, one))


def _dropped(mount: Mount, sheet: Sheet, axle: AxleModel, line: SpringLine) -> BracketForce:
    """Half of axle and wheels caught at full droop, along the line at ride height."""
    stance, factor = stance_of(sheet, axle), factor_of(loads_on(sheet), "vertical_factor")
    pull = factor.value * weights_of(sheet, axle).unsprung / 2.0
    way = -pull * apart(line, stance.rotation, stance.origin)
    force = _p(stance.rotation.T @ way) if mount.spec.end == "axle" else _at_ride(sheet, axle, -way)
    words = f"axle dropped to full droop: half of it with its wheel hangs here, {factor.value:g} times"
    weighed = loads_on(sheet).unsprung
    trust = weakest(Trust.PRACTICE, factor.trust, Trust.ASSUMED if weighed is None else Trust.MEASURED)
    return BracketForce(DROP, words, force, (factor,), f"{DROP_NOT_COVERED}; {NOT_COVERED}", trust)


def _p(v: Array) -> Point:
    return float(v[0]), float(v[1]), float(v[2])
