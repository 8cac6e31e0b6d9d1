"""CLR: what must clear what, at ride and over the travel; only where the sheet has [clearance]."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fixturegen.checks.components import fit_in, read_in
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.scene import inches
from fixturegen.errors import Fault, InputFault
from fixturegen.findings import Finding, Level
from fixturegen.progress import Progress, silent
from fixturegen.studies.clearance_records import ClearanceStudy, Kind, PairGap

if TYPE_CHECKING:
    from fixturegen.bodies.clearing import Scene

CODES = ("CLR-01", "CLR-02", "CLR-03", "CLR-04", "CLR-05", "CLR-06")
SOURCE = "gap wanted: the sheet's; distance of the solids by the kernel at the worst pose"
BY_MESH = "gap wanted: the sheet's; distance of the meshes at the worst pose, less what they may be off"
DEFLECTIONS = "stated: the sum of what both meshes may lie off their surfaces; derived"
BRACKET = "bracket-"
SCENE, STUDY = "clearance.scene", "clearance.study"
"""Where a job keeps its bodies and poses, and its gaps."""
MEND = "mend its unit or its points in [[components]]: no distance to it would be true"


def scene_in(job: Job) -> Scene:
    """Bodies and poses of a job, put together once.

    Raises:
        InputFault: When the links are no linkage, or [clearance] names what is not there.
    """
    from fixturegen.bodies.clearing import scene_of

    if SCENE not in job.store:
        read = read_in(job)
        faults = [
            Fault("components", f"{r.component.label}: {r.fault.words}", "a part that can be read", r.fault.remedy)
            for r in read
            if r.fault is not None
        ]
        good, left_out = fit_in(job)
        told = {r.component.label for r in read if r.fault is not None}
        faults += [
            Fault("components", f"{label}: {words}", "a part that is placed and of a likely size", MEND)
            for label, words in left_out
            if label not in told
        ]
        if faults:
            raise InputFault(*faults)
        parts = [(r.component, r.mesh) for r in good if r.mesh is not None]
        job.store[SCENE] = scene_of(job, [f.mount for f in job.brackets.facts.values()], parts)
    scene: Scene = job.store[SCENE]
    return scene


def study_in(job: Job, progress: Progress = silent) -> ClearanceStudy:
    """Every gap of a job, measured once.

    Raises:
        InputFault: As `scene_in`.
    """
    from fixturegen.bodies.clearing import clearance_study

    if STUDY not in job.store:
        job.store[STUDY] = clearance_study(scene_in(job), progress)
    study: ClearanceStudy = job.store[STUDY]
    return study


def findings_of(job: Job) -> tuple[Finding, ...]:
    """What the claims of this file say of a job."""
    from fixturegen.checks import registry

    return tuple(f for c in registry.claims() if c.code in CODES for f in c.check(job))


def where(pair: PairGap, units: str = "in") -> str:
    """The pose of a pair in words."""
    place = pair.place
    if place.name == "ride":
        return "at ride height"
    heave = f"{place.heave / 25.4:+.2f} in" if units == "in" else f"{place.heave:+.0f} mm"
    told = [f"heave {heave}"] if abs(place.heave) >= 0.05 else []
    told += [f"roll {place.roll:+.1f} deg"] if abs(place.roll) >= 0.05 else []
    if place.steer:
        told.append(f"wheels {abs(place.steer):.0f} deg to the {'left' if place.steer > 0.0 else 'right'}")
    return f"at {place.name} ({', '.join(told)})"


def said(pair: PairGap) -> str:
    """A pair in words: both, the gap, the pose."""
    both = f"{pair.labels[0]} and {pair.labels[1]}"
    if pair.state == "inside":
        return f"{both}: one lies wholly within the other {where(pair)}; {inches(pair.wanted)} wanted"
    if pair.state != "apart":
        return f"{both} run into each other, first {where(pair)}; {inches(pair.wanted)} wanted"
    told = f"{both}: {inches(pair.gap)} {where(pair)}, {inches(pair.wanted)} wanted"
    resting = pair.resting(inches)
    return told if resting == "exact" else f"{told} ({resting})"


def _study(claim: Claim, job: Job) -> tuple[ClearanceStudy | None, list[Finding]]:
    """The study of a job; none without [clearance], and with findings where it cannot be made."""
    if job.sheet.clearance is None:
        return None, []
    try:
        return study_in(job), []
    except InputFault as fault:
        return None, [claim.finding(Level.FAIL, f.sentence(), remedy=f.remedy, source=SOURCE) for f in fault.faults]


def _of_kind(claim: Claim, job: Job, kind: Kind) -> list[Finding]:
    study, found = _study(claim, job)
    if study is None:
        # told once is enough
        return found if kind == "static" else []
    own = [p for p in study.pairs if p.kind == kind]
    short = [p for p in own if not p.met]
    if not short:
        if not own:
            return []
        return [_finding(claim, Level.PASS, own[0], f"{len(own)} pairs that come near; the tightest: {said(own[0])}")]
    return [_finding(claim, Level.FAIL, p, said(p)) for p in short]


def _finding(claim: Claim, level: Level, pair: PairGap, words: str, parts: tuple[str, ...] = ()) -> Finding:
    passed = level is Level.PASS
    return claim.finding(
        level,
        words,
        remedy="" if passed else f"move {pair.labels[0]} or {pair.labels[1]}, or take less travel or lock there",
        parts=parts,
        pose=pair.place.name,
        point=pair.point,
        value=pair.gap,
        limit=pair.wanted,
        unit="mm",
        source=BY_MESH if pair.why else SOURCE,
        frame="V",
    )


@claim("CLR-01", "What does not move against each other has the air the sheet wants.", holds="nothing")
def check_static(claim: Claim, job: Job) -> list[Finding]:
    """One fail for each pair with less, or one pass with the tightest."""
    return _of_kind(claim, job, "static")


@claim("CLR-02", "What moves past something keeps the gap the sheet wants over all the travel.", holds="nothing")
def check_moving(claim: Claim, job: Job) -> list[Finding]:
    """One fail for each pair with less, at its worst pose, or one pass with the tightest."""
    return _of_kind(claim, job, "moving")


@claim("CLR-03", "Tyres keep the gap the sheet wants over all the travel and from lock to lock.", holds="nothing")
def check_tyre(claim: Claim, job: Job) -> list[Finding]:
    """One fail for each pair with less, at its worst pose, or one pass with the tightest."""
    return _of_kind(claim, job, "tyre")


@claim("CLR-04", "What gives on its mounts keeps the gap the sheet wants over all the travel.", holds="nothing")
def check_flex(claim: Claim, job: Job) -> list[Finding]:
    """One fail for each pair with less, at its worst pose, or one pass with the tightest."""
    return _of_kind(claim, job, "flex")


@claim("CLR-05", "No bracket is cut that something runs into.", holds="part")
def check_brackets_free(claim: Claim, job: Job) -> list[Finding]:
    """One fail for each bracket that is in contact with something at some pose; it holds the bracket's parts."""
    study, _ = _study(claim, job)
    if study is None:
        return []
    found = []
    near = 0
    for pair in study.pairs:
        parts = tuple(n for name in (pair.first, pair.second) for n in _parts(job, name))
        near += bool(parts)
        if parts and pair.state != "apart":
            found.append(_finding(claim, Level.FAIL, pair, said(pair), parts))
    if not found and near:
        words = f"{near} pairs with a bracket that come near: none is in contact at any pose"
        return [claim.finding(Level.PASS, words, source=SOURCE)]
    return found


@claim("CLR-06", "Each exact gap lies where the meshes that found its worst pose say it must.", holds="nothing")
def check_meshes(claim: Claim, job: Job) -> list[Finding]:
    """One fail for each pair whose exact distance is farther off that of its meshes than is stated, else one pass."""
    study, _ = _study(claim, job)
    if study is None:
        return []
    exact = [p for p in study.pairs if p.exact is not None]
    remedy = "measure this gap on the truck at this pose and the ones beside it, and report it with the sheet: "
    remedy += "the lesser of both is told, but the worst pose may be another one"
    found = [
        claim.finding(
            Level.FAIL,
            f"{p.labels[0]} and {p.labels[1]}: the kernel says {inches(p.exact or 0.0)} {where(p)}, the meshes "
            f"{inches(p.measured)}, and they may differ by {inches(p.mesh_bound)} at the most",
            remedy=remedy,
            pose=p.place.name,
            point=p.point,
            value=p.off,
            limit=p.mesh_bound,
            unit="mm",
            source=DEFLECTIONS,
            frame="V",
        )
        for p in exact
        if not p.agrees
    ]
    if found or not exact:
        return found
    most = max(exact, key=lambda p: (p.off, p.first, p.second))
    words = (
        f"{len(exact)} exact gaps; the farthest off its meshes by {inches(most.off)}, {inches(most.mesh_bound)} stated"
    )
    return [claim.finding(Level.PASS, words, value=most.off, limit=most.mesh_bound, unit="mm", source=DEFLECTIONS)]


def _parts(job: Job, name: str) -> tuple[str, ...]:
    facts = job.brackets.facts.get(name.removeprefix(BRACKET)) if name.startswith(BRACKET) else None
    return () if facts is None else facts.parts
