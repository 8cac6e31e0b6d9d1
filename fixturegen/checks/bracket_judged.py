"""Every bracket under every load case, worked out once a job: what each way of giving out comes to."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from fixturegen.checks.bracket_joins import Joined, joined, pad_welds
from fixturegen.checks.loads import loads_in
from fixturegen.checks.registry import Job
from fixturegen.errors import InputFault
from fixturegen.studies.axle_bending import bending_at
from fixturegen.studies.axle_loads import AxleLoads
from fixturegen.studies.bracket_case import BracketCase
from fixturegen.studies.bracket_forces import NONE, BracketForce, forces_on, unloaded
from fixturegen.studies.bracket_records import BracketFacts, Mount, TubeBase
from fixturegen.studies.bracket_strength import KINDS, Kind, strengths_of_kind
from fixturegen.studies.strength_records import STANDARD, Strength, steel_of
from fixturegen.studies.weld_groups import weld_strengths
from fixturegen.studies.weld_lines import counted_lines

STORE = "bracket.judged"
MOST_PRESSED = 0.99
"""Share of its yield strength beyond which a tube's wall under a bracket has nothing left [1]."""
SAME_LINE = 1e-6
"""Sine of the angle between two forces along one line [1]: rounding."""
WALL_OF_WELD = "wall beside the weld"
SHORT_RUN = "shortest run"
"""Not judged by itself: a short run counts with a smaller leg, so its strength has it already."""


@dataclass(frozen=True)
class Judged:
    """One way in which one bracket may give out in one load case.

    Attributes:
        facts: The bracket.
        kind: Of the way.
        force: Of the case.
        strength: What it comes to.
        case: The bracket as it was taken; None for a pad.
    """

    facts: BracketFacts
    kind: Kind
    force: BracketForce
    strength: Strength
    case: BracketCase | None

    @property
    def share(self) -> float:
        """Of what is allowed; over 1 it gives out or comes too near to it [1]."""
        return self.strength.used * self.strength.factor.value

    @property
    def when(self) -> str:
        """The case; empty for a size that hangs on no load."""
        return "" if self.strength.unit == "mm" else self.force.case


@dataclass
class Evaluation:
    """Every bracket under every case.

    Attributes:
        rows: What was worked out.
        faults: (bracket, kind or None for all, fault) of what cannot be worked out since a value is wrong.
        unloaded: (bracket, why) of brackets no case reaches.
        partly: (bracket, what of it is not worked out).
        cases: Names of the cases.
    """

    rows: list[Judged] = field(default_factory=list)
    faults: list[tuple[BracketFacts, Kind | None, InputFault]] = field(default_factory=list)
    unloaded: list[tuple[BracketFacts, str]] = field(default_factory=list)
    partly: list[tuple[BracketFacts, str]] = field(default_factory=list)
    cases: tuple[str, ...] = ()

    def of(self, kind: Kind) -> list[Judged]:
        """What was worked out of one kind."""
        return [r for r in self.rows if r.kind == kind]


def evaluated(job: Job) -> Evaluation | None:
    """Every bracket under every case, once a job; None without brackets, or without loads that can be told."""
    loads = loads_in(job)
    if not job.brackets.facts or not isinstance(loads, AxleLoads):
        return None
    if STORE not in job.store:
        made = Evaluation(cases=tuple(one.case.name for one in loads.cases))
        for facts in job.brackets.facts.values():
            _add(job, loads, facts, made)
        job.store[STORE] = made
    kept: Evaluation = job.store[STORE]
    return kept


def _add(job: Job, loads: AxleLoads, facts: BracketFacts, made: Evaluation) -> None:
    """What one bracket comes to."""
    mount = facts.mount
    forces = forces_on(mount, job.sheet, job.axle, loads)
    if not forces:
        made.unloaded.append((facts, unloaded(mount, job.sheet)))
        return
    try:
        if facts.ears and mount.joint is not None:
            _with_ears(job, loads, joined(job, facts, mount.joint), forces, made)
        elif facts.seams:
            _pad(job, facts, forces, made)
        else:
            made.partly.append((facts, "it has no bead that is known"))
    except InputFault as fault:
        made.faults.append((facts, None, fault))


def _with_ears(job: Job, loads: AxleLoads, one: Joined, forces: tuple[BracketForce, ...], made: Evaluation) -> None:
    mount = one.facts.mount
    made.partly += [(one.facts, note) for note in one.notes]
    if one.wall_known and one.case.tube_radius == 0.0 and one.case.rail_width == 0.0:
        made.partly.append((one.facts, f"{mount.base.words}: width of that side is not known, give rail_width"))
    if mount.spec.extra_holes:
        made.partly.append((one.facts, "the bolt is taken in the first of its holes; farther ones lever more"))
    bad: set[Kind] = set()
    largest = _largest(forces)
    for force in forces:
        case = one.under(force.force, _pressed(job, loads, mount, force.case))
        for kind in KINDS:
            # how hard the tube is pressed differs from case to case, and with it what its wall carries
            if kind in bad or (force.case not in largest and kind != "wall"):
                continue
            try:
                found = strengths_of_kind(case, kind)
            except InputFault as fault:
                bad.add(kind)
                made.faults.append((one.facts, kind, fault))
                continue
            rows = [s for s in found if SHORT_RUN not in s.what and (one.wall_known or WALL_OF_WELD not in s.what)]
            made.rows += [Judged(one.facts, kind, force, s, case) for s in rows]


def _largest(forces: tuple[BracketForce, ...]) -> set[str]:
    """Names of the cases that are largest along their line.

    Bolt, tabs and welds are used in proportion to the force, pull or push alike, so that of all forces
    along one line the largest tells for all.
    """
    kept: list[BracketForce] = []
    for force in sorted(forces, key=lambda f: -f.size):
        way = np.array(force.force) / max(force.size, NONE)
        others = (np.array(k.force) / k.size for k in kept if k.size > NONE)
        if force.size > NONE and not any(float(np.linalg.norm(np.cross(way, o))) < SAME_LINE for o in others):
            kept.append(force)
    return {k.case for k in kept} or {forces[0].case}


def _pressed(job: Job, loads: AxleLoads, mount: Mount, name: str) -> float:
    """How hard the axle's own bending presses its tube under a bracket, over its yield strength [1]."""
    on_axle = isinstance(mount.base, TubeBase) and mount.spec.end == "axle" and mount.spec.hoop is None
    if not on_axle or name not in {c.case.name for c in loads.cases}:
        return 0.0
    stress = bending_at(job.sheet, loads, loads.case(name), mount.point[1]).stress
    return min(stress / steel_of(job.sheet.tubes.material).yield_strength, MOST_PRESSED)


def _pad(job: Job, facts: BracketFacts, forces: tuple[BracketForce, ...], made: Evaluation) -> None:
    """A pad or seat: its welds alone."""
    beads, turn = pad_welds(job, facts)
    lines = counted_lines(beads)
    steel = steel_of(job.parts[facts.seams[0].part].material if facts.seams[0].part in job.parts else "a36")
    made.partly.append((facts, "of a pad or seat only the welds are worked out, not its plate nor the wall under it"))
    for force in forces:
        x, y, z = (float(v) for v in turn @ force.force)
        found = weld_strengths(
            counted_lines(lines), (x, y, z), (0.0, 0.0, 0.0), plate=steel, wall=steel, factors=STANDARD
        )
        made.rows += [Judged(facts, "welds", force, s, None) for s in found if WALL_OF_WELD not in s.what]
