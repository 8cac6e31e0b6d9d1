"""STR: every bracket carries every load case, by bolt, tabs, welds and the wall it stands on.

Static strength, as an aid in setting out. Beside every factor stands what it does not cover.
"""

from __future__ import annotations

from dataclasses import replace

from fixturegen.checks.bracket_judged import Evaluation, Judged, evaluated
from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.strength_words import allowed, comparison, in_place, not_covered, quantity
from fixturegen.findings import Finding, Level
from fixturegen.studies.bracket_case import drawn_tight
from fixturegen.studies.bracket_records import BracketFacts
from fixturegen.studies.bracket_strength import Kind, strengths_of_kind
from fixturegen.studies.strength_records import Strength

ASSEMBLY = "brackets"
LICENSED = "for a part people drive on or stand under, ask someone licensed to judge it"
REMEDIES: dict[Kind, str] = {
    "shear": "take a larger bolt or a better grade, shank in the plane",
    "bending": "close the gap between tabs and joint, take a larger bolt, a narrower joint or thicker tabs",
    "hole": "take thicker tabs, more steel round the hole, or a larger bolt",
    "root": "take thicker tabs, a wider root, a cross plate, or bring the joint nearer to what it stands on",
    "gap": "space the tabs to the joint's measured width plus 0.010 to 0.030 in",
    "welds": "take a larger leg, weld both sides of each tab, or a longer root",
    "wall": "spread the load: a doubler under the bracket, tabs farther apart, a longer root, a thicker tube",
}


@claim("STR-02", "Joint bolts carry their shear in every load case.", holds="part", needed=False)
def check_bolt_shear(claim: Claim, job: Job) -> list[Finding]:
    """The worst bolt, and what thread in its plane would leave; what no load case reaches stands here too."""
    found = _claimed(claim, job, "shear")
    if not job.brackets.facts:
        return found
    made = evaluated(job)
    if made is None:
        words = f"the strength of {len(job.brackets.facts)} brackets: no [loads] on the sheet that could be told"
        remedy = "add [loads] with axle_load, both tyres of this axle on the scales: see the examples"
        return [claim.finding(Level.NOT_CHECKED, words, remedy=remedy, assembly=ASSEMBLY)]
    for facts, why in made.unloaded:
        words = f"{facts.mount.label}: {why}"
        found.append(claim.finding(Level.NOT_CHECKED, words, remedy="judge it by hand", parts=facts.parts))
    for facts, kind, fault in made.faults:
        if kind is None:
            words = f"{facts.mount.label}: {fault.faults[0].sentence()}"
            found.append(claim.finding(Level.FAIL, words, remedy=fault.faults[0].remedy, parts=facts.parts))
    return found


@claim("STR-03", "Joint bolts carry bending over the gap, and shear with it.", holds="part", needed=False)
def check_bolt_bending(claim: Claim, job: Job) -> list[Finding]:
    """The worst bolt as its joint stands: drawn tight, or loose at the gap."""
    return _claimed(claim, job, "bending")


@claim("STR-04", "Tabs carry their bolts: bearing, tear-out, the section beside the hole.", holds="part", needed=False)
def check_tab_holes(claim: Claim, job: Job) -> list[Finding]:
    """The worst tab at its hole."""
    return _claimed(claim, job, "hole")


@claim("STR-05", "Tabs stand at their roots: pull, bending, a push sideways.", holds="part", needed=False)
def check_tab_roots(claim: Claim, job: Job) -> list[Finding]:
    """The worst tab at its root, and pushed sideways."""
    return _claimed(claim, job, "root")


@claim("STR-06", "Bolts draw the tabs tight to their joints.", holds="part", needed=False)
def check_gaps(claim: Claim, job: Job) -> list[Finding]:
    """A gap beyond what the bolt draws in is a fail; an ordinary one over which a tab yields a little is said."""
    return _claimed(claim, job, "gap")


@claim("STR-07", "Welds of the brackets carry every load case.", holds="part", needed=False)
def check_welds(claim: Claim, job: Job) -> list[Finding]:
    """The worst weld: metal, plate and wall beside it, size for the thickness, length of a run."""
    return _claimed(claim, job, "welds")


@claim("STR-08", "The wall under each bracket carries every load case.", holds="part", needed=False)
def check_walls(claim: Claim, job: Job) -> list[Finding]:
    """The worst wall by limit states; the stress at its surface is told, and warned of beyond a hinge."""
    found = _claimed(claim, job, "wall")
    made = evaluated(job)
    if made is None:
        return found
    worst: dict[str, Judged] = {}
    for row in made.of("wall"):
        name = row.facts.mount.name
        if not row.strength.judged and row.share > max(1.0, worst[name].share if name in worst else 0.0):
            worst[name] = row
    found += [
        _finding(claim, job, Level.WARN, row, f"{row.strength.note}; {REMEDIES['wall']}") for row in worst.values()
    ]
    for why in dict.fromkeys(why for _, why in made.partly):
        those = [facts for facts, reason in made.partly if reason == why]
        words = f"{', '.join(f.mount.label for f in those)}: {why}"
        found.append(
            claim.finding(
                Level.NOT_CHECKED,
                words,
                remedy="give it, or judge it by hand",
                parts=tuple(p for f in those for p in f.parts),
            )
        )
    return found


def _claimed(claim: Claim, job: Job, kind: Kind) -> list[Finding]:
    """A fail for every bracket that gives out in a way of this kind; else the one nearest to it."""
    made = evaluated(job)
    if made is None:
        return []
    found = _faults(claim, made, kind)
    worst = _worst(made, kind)
    bad = [row for row in worst if not row.strength.holds]
    drawn = [row for row in bad if kind == "gap" and row.case is not None and drawn_tight(row.case)]
    for row in bad:
        if row not in drawn:
            found.append(_finding(claim, job, Level.FAIL, row, REMEDIES[kind]))
    if drawn:
        row = max(drawn, key=lambda r: r.share)
        remedy = "space the tabs closer to the joint, or move the cross plate away from the bolt"
        found.append(_finding(claim, job, Level.WARN, row, remedy, [r.facts for r in drawn]))
    if worst and not found:
        row = max(worst, key=lambda r: r.share)
        found.append(_finding(claim, job, Level.PASS, row, "", [r.facts for r in worst]))
    return found


def _faults(claim: Claim, made: Evaluation, kind: Kind) -> list[Finding]:
    return [
        claim.finding(
            Level.FAIL,
            f"{facts.mount.label}: {fault.faults[0].sentence()}",
            remedy=fault.faults[0].remedy,
            parts=facts.parts,
        )
        for facts, bad, fault in made.faults
        if bad == kind
    ]


def _worst(made: Evaluation, kind: Kind) -> list[Judged]:
    """Of each bracket the judged row that is nearest to giving out."""
    worst: dict[str, Judged] = {}
    for row in made.of(kind):
        name = row.facts.mount.name
        if row.strength.judged and (name not in worst or row.share > worst[name].share):
            worst[name] = row
    return list(worst.values())


def _finding(
    claim: Claim, job: Job, level: Level, row: Judged, remedy: str, others: list[BracketFacts] | None = None
) -> Finding:
    """What one row comes to, in the words of the shop."""
    one, units = row.strength, job.sheet.job.units
    under = "" if not row.when else f" in {row.force.case}, {quantity(row.force.size, 'N', units)}"
    words = f"{row.facts.mount.label}{under}: {one.what}: {comparison(one, units)}"
    if one.note:
        words += f"; {one.note}"
    if row.kind == "shear":
        words += _with_thread(row, one)
    told = others or [row.facts]
    if len(told) > 1:
        words += f"; worst of {len(told)} brackets"
    words = in_place(f"{words}. Not covered: {not_covered(one)}; {LICENSED}", row.facts.mount)
    return claim.finding(
        level,
        words,
        remedy=remedy,
        parts=tuple(dict.fromkeys(p for f in told for p in f.parts)),
        assembly=ASSEMBLY,
        frame="A",
        value=one.demand,
        limit=allowed(one),
        unit=one.unit,
        source=one.cited(),
        data={"case": row.force.case, "bracket": row.facts.mount.name, "strength": one.as_json()},
    )


def _with_thread(row: Judged, one: Strength) -> str:
    """What is used when thread lies in the plane, where the shank does."""
    if row.case is None or row.case.thread_in_plane:
        return ""
    threaded = strengths_of_kind(replace(row.case, thread_in_plane=True), "shear")[0]
    share = threaded.used * threaded.factor.value
    return f"; shank in the plane: {100.0 * row.share:.0f} % of that is used, with thread there {100.0 * share:.0f} %"
