"""ACC: bolts, cover, plugs, third member, shafts, springs and joint bolts come off; only where the sheet has [access].

What does not come off with everything fitted is told with what stands in its way: a warning where that unbolts,
a fail where it is welded on.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

from fixturegen.checks.clearance import BRACKET, scene_in
from fixturegen.checks.clearance import SCENE as THEIRS
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.scene import inches
from fixturegen.errors import Fault, InputFault
from fixturegen.findings import Finding, Level
from fixturegen.sheet.specs import Access, Clearance, Sheet
from fixturegen.studies.access_records import AccessStudy, Group, Met, Removal, Result

if TYPE_CHECKING:
    from fixturegen.bodies.clearing import Scene
    from fixturegen.studies.access_struts import Slack

STUDY = "access.study"
SCENE = "access.scene"
SLACK = "access.slack"
TOOLS = "tools: tables sockets and ratchets, common practice, no source; distances by mesh, less what it may be off"
WAYS = "air wanted: the sheet's; distances on the way by mesh, less what it may be off and half a step"
BOLTED = ("cover", "brake", "wheel", "spring", "shock", "shaft", "exhaust", "third-member")
"""Kinds of [[components]] that unbolt without being asked."""
SLENDER = ("strap", "bump stop")  # looked at where they have a diameter, and not asked for
MOST_NAMES = 4  # of what is in the way, in one finding


def scene_for(job: Job) -> Scene:
    """What stands about the axle, diameters of [access] among it.

    Raises:
        InputFault: When the links are no linkage, or a part the sheet lists cannot be read or placed.
    """
    if SCENE not in job.store:
        given = job.sheet.access or Access()
        alike = job.sheet.clearance is not None and not given.rounds
        job.store[SCENE] = scene_in(job) if alike else _own_scene(job, given)
    scene: Scene = job.store[SCENE]
    return scene


def _own_scene(job: Job, given: Access) -> Scene:
    """A scene with the diameters of [access] among those of [clearance], whose own scene stays as it is."""
    sheet = _few_poses(job.sheet, given)
    theirs = job.store.pop(THEIRS, None)
    try:
        return scene_in(replace(job, sheet=sheet))
    except InputFault as fault:
        raise InputFault(*(_own_key(f, job.sheet) for f in fault.faults)) from fault
    finally:
        # solids that were drawn stay in the store for whoever comes after
        job.store.pop(THEIRS, None)
        if theirs is not None:
            job.store[THEIRS] = theirs


def _own_key(fault: Fault, sheet: Sheet) -> Fault:
    """A fault of a diameter of [access] under its own key: they stand after those of [clearance]."""
    found = re.fullmatch(r"clearance\.rounds\[(\d+)\]\.name", fault.key)
    before = 0 if sheet.clearance is None else len(sheet.clearance.rounds)
    if found is None or int(found.group(1)) <= before:
        return fault
    return replace(fault, key=f"access.rounds[{int(found.group(1)) - before}].name")


def _few_poses(sheet: Sheet, given: Access) -> Sheet:
    """The sheet with the diameters of [access] among those of [clearance], and the fewest poses there may be."""
    clearance = sheet.clearance or Clearance()
    changed = {"rounds": (*clearance.rounds, *given.rounds), "steps": 1}
    return sheet.model_copy(update={"clearance": clearance.model_copy(update=changed)})


def removals_of(
    job: Job, scene: Scene
) -> tuple[tuple[Removal, ...], tuple[Slack, ...], tuple[tuple[Group, str, str], ...]]:
    """What is to come off, how slack the springs are, and what cannot be told with what is missing."""
    from fixturegen.studies import access_plan, access_struts
    from fixturegen.studies.clearance_poses import tour_of

    sheet, facts = job.sheet, tuple(job.brackets.facts.values())
    # ride and full droop are all that is asked for: the scene's own tour may have hundreds of poses
    tour, lines = tour_of(_few_poses(sheet, sheet.access or Access()), job.axle)
    removals = (
        *access_plan.removals_at_face(sheet, job.axle),
        *access_plan.removals_of_fittings(sheet),
        *access_plan.removals_of_shafts(sheet, job.axle),
        *access_struts.removals_of_struts(sheet, tour, lines, [f.mount for f in facts]),
        *access_struts.removals_of_joints(sheet, tour, facts),
    )
    struts = [(line, access_struts.strut_of(sheet, line)) for line in lines]
    slack = tuple(
        s
        for line, strut in struts
        if strut is not None and strut.kind == "spring"
        if (s := access_struts.slack_of(tour, line, strut)) is not None
    )
    missing: list[tuple[Group, str, str]] = [
        ("plugs", f"no place of the {kind} on the sheet", "measure where it is and add it to [[access.fittings]]")
        for kind in access_plan.missing_fittings(sheet)
    ]
    drawn = {item.thing.whole for item in scene.items}
    unseen = [(line, s) for line, s in struts if line.name not in drawn and (s is None or s.kind not in SLENDER)]
    blind = list(dict.fromkeys(line.label if s is None else s.name for line, s in unseen))
    if blind:
        words = f"not looked at for want of a diameter: {', '.join(blind)}"
        missing.append(("third-member", words, "measure each and add it to [[access.rounds]]"))
    unknown = [s.name for _, s in unseen if s is not None]
    if unknown:
        words = f"no diameter of {', '.join(dict.fromkeys(unknown))} on the sheet: no way out was looked at"
        missing.append(("springs", words, "measure it and add it to [[access.rounds]]"))
    return removals, slack, tuple(missing)


def study_in(job: Job) -> AccessStudy:
    """Every removal of a job, looked at once.

    Raises:
        InputFault: As `scene_for`.
    """
    if STUDY not in job.store:
        from fixturegen.bodies.access import results_of

        scene = scene_for(job)
        removals, slack, missing = removals_of(job, scene)
        _demand_known(scene, (job.sheet.access or Access()).comes_off)
        bolted = (c.name for c in job.sheet.components if c.kind in BOLTED)
        comes_off = (*(job.sheet.access or Access()).comes_off, *bolted)
        job.store[SLACK] = slack
        job.store[STUDY] = AccessStudy(tuple(results_of(scene, removals, comes_off)), missing)
    study: AccessStudy = job.store[STUDY]
    return study


def _demand_known(scene: Scene, comes_off: Iterable[str]) -> None:
    """Nothing, when everything that is said to come off is there.

    Raises:
        InputFault: When a name is not that of a body of the scene.
    """
    labels = {item.thing.label.casefold(): item.thing.label for item in scene.items}
    faults = [
        Fault(
            f"access.comes_off[{n}]",
            name,
            ", ".join(sorted(labels.values())),
            "write the name as `fixturegen clear` shows it",
        )
        for n, name in enumerate(comes_off, 1)
        if name.casefold() not in labels
    ]
    if faults:
        raise InputFault(*faults)


def names_of(met: Iterable[Met]) -> str:
    """What is in the way, in words."""
    labels = list(dict.fromkeys(m.label for m in met))
    more = len(labels) - MOST_NAMES
    # labels have commas of their own
    return " and ".join(labels[:MOST_NAMES]) + (f" and {more} more" if more > 0 else "")


def level_of(result: Result) -> Level:
    """Pass when it comes off with everything fitted; fail when what is welded on shuts it; else a warning."""
    if result.verdict == "shut":
        return Level.FAIL
    return Level.PASS if result.verdict == "free" and not result.taken.second else Level.WARN


def said(result: Result) -> str:
    """How a removal came out, in words."""
    removal, way = result.removal, result.taken.words
    if result.barred:
        way += f" ({names_of(result.barred)} bars the socket or its handle)"
    start = f"{removal.label}{f': {way}' if way else ''}"
    beside = "nothing within 2 in (50 mm) of its way"
    if result.nearest is not None:
        beside = f"nearest {result.nearest.label}, {inches(result.nearest.gap)}"
    if result.verdict == "free":
        words = f"{start}; comes off with every link and bracket fitted; {beside}"
    elif result.verdict == "tight":
        near = result.met[0]
        words = f"{start}; comes off, but only {inches(near.gap)} past {near.label}, {inches(removal.wanted)} wanted"
    else:
        hits = result.shutting or result.first_off
        words = f"{start}; {_meeting(hits, result)}"
        if result.verdict == "after":
            words += f": comes off only with {names_of(hits)} off"
        elif result.first_off:
            words += f"; {names_of(result.first_off)} would have to come off as well"
    if result.met and not result.met[0].handle:
        words += f"; {place_of(result.met[0])}"
    return f"{words} ({removal.notes})" if removal.notes else words


def place_of(met: Met) -> str:
    """Where it is met, from the middle of the axle line, pinion level, in words."""
    x, y, z = met.point
    ways = (("ahead", "behind", x), ("left", "right", y), ("above", "below", z))
    told = ", ".join(f"{abs(v) / 25.4:.1f} in {plus if v >= 0.0 else minus}" for plus, minus, v in ways)
    return f"there: {told} from the middle of the axle line"


def _meeting(hits: tuple[Met, ...], result: Result) -> str:
    first = hits[0]
    if first.handle:
        return f"the handle finds no swing for {names_of(hits)}"
    if first.travel > 0.0:
        return f"after {inches(first.travel)} it meets {names_of(hits)}"
    if result.taken.steps:
        return f"it stands against {names_of(hits)} before it moves: measure both again"
    return f"{names_of(hits)} stands in that room"


def _remedy(result: Result) -> str:
    if result.verdict == "free":
        return ""
    names = names_of(result.met)
    if result.verdict == "shut":
        return f"move {names_of(result.shutting)} or cut it back there before it is welded; it cannot be unbolted later"
    if result.verdict == "after":
        return f"write it on the job card: {names_of(result.first_off)} off first; or move it"
    return f"give it room beside {names}, or measure both again"


def finding_of(claim: Claim, result: Result) -> Finding:
    """The finding of one removal."""
    near = result.met[0] if result.met else result.nearest
    level = level_of(result)
    remedy = _remedy(result)
    if level is Level.WARN and not remedy:
        remedy = f"take {names_of(result.barred)} off to torque it, or give it room"
    return claim.finding(
        level,
        said(result),
        remedy=remedy,
        pose=result.removal.pose,
        point=None if near is None else near.point,
        frame="A",
        value=None if near is None else near.gap,
        limit=result.removal.wanted,
        unit="mm",
        source=TOOLS if result.removal.group in ("bolts", "plugs") else WAYS,
    )


def _study(claim: Claim, job: Job) -> tuple[AccessStudy | None, list[Finding]]:
    """The study of a job; none without [access], and with findings where it cannot be made."""
    if job.sheet.access is None:
        return None, []
    try:
        return study_in(job), []
    except InputFault as fault:
        return None, [_faulty(claim, f) for f in fault.faults]


def _faulty(claim: Claim, fault: Fault) -> Finding:
    """A key of [access] that is wrong fails; what other claims fail for is no more than not checked here."""
    level = Level.FAIL if fault.key.startswith("access") else Level.NOT_CHECKED
    return claim.finding(level, fault.sentence(), remedy=fault.remedy, frame="A")


def _unknown(claim: Claim, words: str, remedy: str) -> Finding:
    return claim.finding(Level.NOT_CHECKED, words, remedy=remedy, frame="A")


def _of(claim: Claim, job: Job, *groups: Group) -> list[Finding]:
    """A finding for each removal that is not free, then one for all that are; and what is missing."""
    study, found = _study(claim, job)
    if study is None:
        # told once is enough
        return found if "bolts" in groups else []
    results = study.of(*groups)
    odd = [r for r in results if level_of(r) is not Level.PASS]
    fine = [r for r in results if level_of(r) is Level.PASS]
    found = [finding_of(claim, r) for r in odd]
    if fine:
        tight = min(fine, key=lambda r: (r.nearest is None, r.nearest.gap if r.nearest else 0.0))
        one = finding_of(claim, tight)
        words = one.words if len(fine) == 1 else f"{len(fine)} looked at, each free; the tightest: {one.words}"
        longer = [f"{r.removal.label} {r.taken.words}" for r in fine if r.taken.swing and r.taken != r.removal.tries[0]]
        if longer and len(fine) > 1:
            words += f"; {', '.join(longer)}"
        found.append(replace(one, words=words))
    return found + [_unknown(claim, words, remedy) for group, words, remedy in study.missing if group in groups]


@claim(
    "ACC-01", "A socket goes on every bolt or nut of the face, and its ratchet swings.", holds="nothing", needed=False
)
def check_bolts(claim: Claim, job: Job) -> list[Finding]:
    """One finding for each bolt that is not free, by its number, and one for all others."""
    return _of(claim, job, "bolts")


@claim("ACC-02", "The cover pulls straight off and goes aside.", holds="nothing", needed=False)
def check_cover(claim: Claim, job: Job) -> list[Finding]:
    """One finding; none on a housing with a closed back."""
    return _of(claim, job, "cover")


@claim(
    "ACC-03", "A tool goes on fill plug, drain plug and breather, and each screws out.", holds="nothing", needed=False
)
def check_plugs(claim: Claim, job: Job) -> list[Finding]:
    """One finding for each that is not free, one for the others, and one for each the sheet has no place of."""
    return _of(claim, job, "plugs")


@claim("ACC-04", "Third member, or carrier with ring gear, comes out of the face.", holds="nothing", needed=False)
def check_third_member(claim: Claim, job: Job) -> list[Finding]:
    """One finding, with its weight."""
    return _of(claim, job, "third-member")


@claim("ACC-05", "Axle shafts come out at the wheel ends.", holds="nothing", needed=False)
def check_shafts(claim: Claim, job: Job) -> list[Finding]:
    """One finding for each that is not free, and one for the others."""
    return _of(claim, job, "shafts")


@claim("ACC-06", "Springs come loose at full droop, and springs and shocks come out.", holds="nothing", needed=False)
def check_springs(claim: Claim, job: Job) -> list[Finding]:
    """One finding for each spring's slack, then the ways out."""
    found = _of(claim, job, "springs")
    slack: tuple[Slack, ...] = job.store.get(SLACK, ())
    remedy = "squeeze it with a compressor made for it, by its maker's rules: a coil under load can kill"
    for one in slack if job.sheet.access is not None else ():
        fail = "give it a longer drop with shock, strap and hose off, or a shorter coil"
        found.append(
            claim.finding(
                one.level,
                one.words,
                remedy={Level.PASS: "", Level.WARN: remedy}.get(one.level, fail),
                pose="droop",
                frame="A",
                value=one.squeeze,
                limit=one.limit,
                unit="mm",
                source="geometry; lip of a seat 1 in, common practice, no source",
            )
        )
    return found


@claim("ACC-07", "The bolt of every bracket can be drawn to one side.", holds="nothing", needed=False)
def check_joints(claim: Claim, job: Job) -> list[Finding]:
    """One finding for each that cannot, or only once something is off; one for the others."""
    return _of(claim, job, "joints")


@claim("ACC-08", "No part is cut that shuts in what must come off.", holds="part", needed=False)
def check_parts_free(claim: Claim, job: Job) -> list[Finding]:
    """One fail for each part of ours that shuts something; it holds the part. One pass for all others."""
    study, _ = _study(claim, job)
    if study is None or not study.results:
        return []
    found = []
    for result in study.results:
        for met in result.shutting:
            parts = _parts(job, met.name)
            if parts:
                one = finding_of(claim, result)
                found.append(replace(one, words=f"{met.label} shuts it in: {one.words}", parts=parts))
    words = f"{len(study.results)} things to come off: no part of this job shuts any of them in"
    return found or [claim.finding(Level.PASS, words, frame="A", source=WAYS)]


def _parts(job: Job, name: str) -> tuple[str, ...]:
    """Names of the parts of a bracket, or of a whole assembly welded to the axle."""
    if name.startswith(BRACKET):
        facts = job.brackets.facts.get(name.removeprefix(BRACKET))
        return () if facts is None else facts.parts
    assembly = job.assemblies.get(name)
    return () if assembly is None else tuple(dict.fromkeys(p.part for p in assembly.placements))
