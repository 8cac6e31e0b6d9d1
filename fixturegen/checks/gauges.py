"""GAU: whether each gauge is finer than what it must prove, what is not made, and that no torch makes what measures."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.checks.wording import INCH, PRACTICE, inch, shared
from fixturegen.findings import Finding, Level

if TYPE_CHECKING:
    from fixturegen.plate import Profile
    from fixturegen.studies.gauge_records import Gauge, GaugePlan

STORE = "gauges"  # where the pipeline keeps those that were drawn
STUDY = "study.gauges"
SAME = 0.005  # [mm] a drawn distance that differs by less is the planned one
LEAST_LEFT = INCH / 32.0  # steel a mill needs on a torch-cut edge [mm] (common practice, no source)


def planned(job: Job) -> GaugePlan:
    """The gauges of a job as numbers, those that could not be drawn taken out."""

    def plan() -> GaugePlan:
        from fixturegen.studies.bracket_plan import bracket_plan
        from fixturegen.studies.gauge_plan import gauge_plan

        return gauge_plan(job.sheet, job.axle, job.plan, bracket_plan(job.sheet, job.axle))

    drawn = job.store.get(STORE)
    return drawn.plan if drawn is not None else shared(job, STUDY, plan)


def parts_of(job: Job, gauge: Gauge) -> tuple[str, ...]:
    """Names of the parts of a gauge; none before they are drawn."""
    drawn = job.store.get(STORE)
    return () if drawn is None else dict(drawn.parts_of).get(gauge.name, ())


@claim("GAU-01", "each gauge is four times as fine as what it must prove", holds="part", needed=False, stage="travel")
def check_fineness(claim: Claim, job: Job) -> list[Finding]:
    """Tolerance to prove over the gauge's usual error; coarser than the tolerance itself is held."""
    if job.sheet.gauges is None:
        return []
    from fixturegen.studies.gauge_records import AIM

    found = []
    for gauge in planned(job).gauges:
        fine = gauge.ratio >= AIM
        level = Level.PASS if fine else Level.WARN if gauge.ratio > 1.0 else Level.FAIL
        words = (
            f"{gauge.label}: usually within {gauge.usual:.3g} {gauge.unit}, at worst {gauge.worst:.3g}; it must tell "
            f"{gauge.tolerance:.3g} {gauge.unit}: 1 to {gauge.ratio:.1f}"
        )
        found.append(
            claim.finding(
                level,
                words,
                remedy="" if fine else _remedy(job, gauge),
                parts=parts_of(job, gauge),
                frame="P",
                value=gauge.usual,
                limit=gauge.tolerance / AIM,
                unit=gauge.unit,
                source=gauge.limit_source,
            )
        )
    return found


def _remedy(job: Job, gauge: Gauge) -> str:
    """What makes a gauge finer: the mill where that is enough, else what matters most, and how to judge meanwhile."""
    from fixturegen.studies.bracket_plan import bracket_plan
    from fixturegen.studies.gauge_plan import gauge_plan, ways_of
    from fixturegen.studies.gauge_records import AIM

    brackets = bracket_plan(job.sheet, job.axle)
    best = gauge_plan(job.sheet, job.axle, job.plan, brackets, ways_of(job.sheet, best=True))
    milled = next((g for g in best.gauges if g.name == gauge.name), gauge)
    if milled.ratio >= AIM:
        return f"holes bored on a mill and edges milled make it 1 to {milled.ratio:.1f}"
    worst = gauge.largest
    more = f", with all of it on a mill 1 to {milled.ratio:.1f}" if milled.ratio > gauge.ratio * 1.05 else ""
    keep = gauge.tolerance - gauge.usual
    judge = f"; until then accept only within {keep:.3g} {gauge.unit}" if keep > 0.0 else "; do not judge by it"
    return f"most comes from {worst.name} ({worst.off:.3g} {gauge.unit}): {worst.cure}{more}{judge}"


@claim("GAU-02", "every gauge that is wanted can be made from what the sheet says", holds="nothing", stage="travel")
def check_made(claim: Claim, job: Job) -> list[Finding]:
    """Gauges that are not made: told when they were asked for by name, listed when all were meant."""
    if job.sheet.gauges is None:
        return []
    plan = planned(job)
    named = job.sheet.gauges.wanted
    grouped: dict[tuple[Level, str, str], list[str]] = {}
    for one in plan.not_made:
        level = Level.WARN if one.kind in named else Level.NOT_CHECKED
        grouped.setdefault((level, one.why, one.remedy), []).append(one.what)
    found = [
        claim.finding(level, f"not made: {', '.join(what)}: {why}", remedy=remedy, frame="P", source=PRACTICE)
        for (level, why, remedy), what in grouped.items()
    ]
    if plan.gauges:
        words = f"{len(plan.gauges)} gauges: {', '.join(g.name for g in plan.gauges)}"
        found.insert(0, claim.finding(Level.PASS, words, frame="P", source=PRACTICE))
    return found


@claim(
    "GAU-03",
    "what measures stands where the plan says and is never left as the torch cut it",
    holds="part",
    needed=False,
)
def check_not_cut(claim: Claim, job: Job) -> list[Finding]:
    """Distances of holes that measure, what is done for them at the cutter, and steel left on edges that measure."""
    drawn = job.store.get(STORE)
    if drawn is None:
        return []
    good, found = [], []
    for name in (n for _, names in drawn.parts_of for n in names):
        part = job.parts.get(name)
        if part is None or part.profile is None:
            continue
        faults = [*_holes(part.profile, drawn.checked, name), *_edges(part.profile, drawn.edges, name)]
        if faults:
            found.append(
                claim.finding(
                    Level.FAIL,
                    f"{name}: {'; '.join(faults)}",
                    remedy="mark such holes only and ream them as noted; leave 1/16 in on edges that measure",
                    parts=(name,),
                    frame="P",
                    source=PRACTICE,
                )
            )
        else:
            good.append(name)
    if good:
        words = (
            f"on {len(good)} plates holes that measure stand as planned and are marks, edges that measure have steel"
        )
        found.append(claim.finding(Level.PASS, words, parts=tuple(good), frame="P", source=PRACTICE))
    return found


def _holes(profile: Profile, checked: Iterable[tuple[str, str, str, float]], name: str) -> Iterator[str]:
    """What is wrong with the holes of a plate that measure."""
    by_label = {h.label: h for h in profile.holes}
    for part, a, b, planned_ in checked:
        if part != name:
            continue
        if a not in by_label or b not in by_label:
            yield f"{a} or {b} is missing"
            continue
        one, two = by_label[a], by_label[b]
        apart = math.hypot(one.x - two.x, one.y - two.y)
        if abs(apart - planned_) > SAME:
            yield f"{a} to {b} is {inch(apart, 4)}, planned {inch(planned_, 4)}"
        for h in (one, two):
            if h.cut is not None:
                yield f"{h.label} would be cut by the torch"


def _edges(profile: Profile, edges: Iterable[tuple[str, float, float]], name: str) -> Iterator[str]:
    """What is wrong with the edges of a plate that measure."""
    from fixturegen.plate.tape import overall

    for part, x, finished in edges:
        if part != name:
            continue
        span = overall(profile.outer, (x, 0.0), (x, 1.0))
        left = -1.0 if span is None else span.length - finished
        if left < 2.0 * LEAST_LEFT:
            yield f"at {inch(x, 2)} only {inch(max(left, 0.0))} is left to be milled off both edges"
