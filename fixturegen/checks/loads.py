"""LOD: the forces that the load cases put on links and springs."""

from __future__ import annotations

from fixturegen.checks.registry import Claim, Job, claim
from fixturegen.errors import InputFault
from fixturegen.findings import Finding, Level
from fixturegen.studies.axle_loads import AxleLoads, loads_of
from fixturegen.studies.load_factors import NOT_COVERED
from fixturegen.studies.load_springs import PLAIN
from fixturegen.units import as_text

CLOSES = 1e-9  # of the load: rounding of six equations in double precision, far below any scale's reading
SOURCE = "statics, sums of forces and moments about the axle centre"


def loads_in(job: Job) -> AxleLoads | InputFault | None:
    """The loads of the job, worked out once; the fault where there are none; None without loads or links."""
    if job.sheet.loads is None or job.sheet.links is None:
        return None
    if "axle.loads" not in job.store:
        try:
            job.store["axle.loads"] = loads_of(job.sheet, job.axle)
        except InputFault as fault:
            job.store["axle.loads"] = fault
    found = job.store["axle.loads"]
    return found if isinstance(found, AxleLoads | InputFault) else None


@claim("LOD-01", "links and springs carry every load case", holds="nothing", stage="travel")
def check_equilibrium(claim: Claim, job: Job) -> list[Finding]:
    """Forces and moments close in every case; which case governs each link; what cannot be carried."""
    if job.sheet.loads is not None and job.sheet.links is None:
        words = "[loads] are on the sheet, and no [links] that could carry them"
        remedy = "add [links] with the points of each link, or take [loads] off the sheet"
        return [claim.finding(Level.FAIL, words, remedy=remedy, source=SOURCE)]
    made = loads_in(job)
    if made is None:
        return []
    if isinstance(made, InputFault):
        return [claim.finding(Level.FAIL, f.sentence(), remedy=f.remedy, source=SOURCE) for f in made.faults]
    found = []
    for one in made.uncarried:
        words = f"{one.case.name} ({one.case.words}) cannot be carried: {one.why}"
        remedy = "move joints or springs so that they hold the axle there, or take less travel"
        found.append(claim.finding(Level.FAIL, words, remedy=remedy, pose=one.case.pose, source=SOURCE))
    open_ = [one for one in made.cases if not one.residual.share < CLOSES]
    for case in open_:
        words = f"{case.case.name}: forces and moments do not close, {case.residual.share:.1e} of the load is left"
        remedy = "links and springs hold the axle poorly there: set their joints farther apart"
        share = case.residual.share
        found.append(
            claim.finding(Level.FAIL, words, remedy=remedy, value=share, limit=CLOSES, unit="1", source=SOURCE)
        )
    if not found and made.cases:
        found.append(_carried(claim, made))
    for sentence in made.left_out:
        what = sentence.partition(":")[2].strip()
        found.append(claim.finding(Level.NOT_CHECKED, sentence, remedy=what, source=SOURCE))
    return found


def _carried(claim: Claim, made: AxleLoads) -> Finding:
    """Which case governs each link, and what to know beside it."""
    worst = max(one.residual.share for one in made.cases)
    told = []
    for name in made.linkage.names:
        case, force = made.governing(name)
        told.append(f"{name} {as_text(abs(force), 'force', 'lbf', 0)} {'pull' if force > 0.0 else 'push'} in {case}")
    words = f"{len(made.cases)} cases close within {worst:.0e} of the load; most in {'; '.join(told)}"
    pulling = [f"{one.case.name} ({' and '.join(one.pulling)})" for one in made.cases if one.pulling]
    if pulling:
        words += f"; a spring would have to pull in {', '.join(pulling)}: strap, shock or anti-roll bar does that"
    notes = sorted({s.how for s in made.springs if s.how != PLAIN})
    if made.linkage.approximate:
        notes.append("leaf springs are approximated by links")
    words = "; ".join([words, *notes])
    return claim.finding(
        Level.PASS,
        f"{words}. {NOT_COVERED[0].upper()}{NOT_COVERED[1:]}",
        value=worst,
        limit=CLOSES,
        unit="1",
        source=SOURCE,
        data={"governing": {name: list(made.governing(name)) for name in made.linkage.names}},
    )
