"""A rear axle with two-tab brackets for its lower links, for the claims about their strength."""

from dataclasses import replace
from functools import cache

from fixturegen.axle.model import axle_of
from fixturegen.brackets.registry import make_brackets
from fixturegen.checks import registry
from fixturegen.checks.registry import Job
from fixturegen.findings import Level
from fixturegen.studies.axle_loads import loads_of
from fixturegen.studies.bracket_plan import bracket_plan
from fixturegen.studies.jig_plan import plan_of
from tests.studies.study_jobs import REAR, sheet_of

CLAIMS = {c.code: c for c in registry.claims()}
JOINT = {
    "name": "lower joint",
    "width": "67 mm",
    "body": "58 mm",
    "bolt": "M20",
    "shank": "20 mm",
    "grade": "10.9",
}
LOADS = {"axle_load": "1090 kg", "truck_load": "2290 kg", "unsprung": "290 kg", "ratio": "4.875"}
TUBES = [
    {"link": "lower", "diameter": "50 mm", "wall": "6 mm", "material": "dom-1020"},
    {"link": "upper", "diameter": "45 mm", "wall": "6 mm", "material": "dom-1020"},
]


def bracket(**changes):
    given = {"holds": "lower-left", "kind": "two-tab", "joint": "lower joint", "plate": "10 mm", "leg": "8 mm"}
    return {**given, **changes}


def _drawn(sheet):
    axle = axle_of(sheet)
    plan = plan_of(sheet, axle)
    return axle, plan, make_brackets(sheet, axle, plan, bracket_plan(sheet, axle)), loads_of(sheet, axle)


@cache
def _plain():
    sheet = sheet_of(REAR, joints=[JOINT], brackets=[bracket()], loads={**LOADS, "links": TUBES})
    return sheet, *_drawn(sheet)


def job(times=1.0, joint=None, loads=None, cases=None, **changes):
    """The job, its loads `times` those of the cases, or of some cases alone."""
    if changes or joint or loads:
        sheet = sheet_of(
            REAR,
            joints=[{**JOINT, **(joint or {})}],
            brackets=[bracket(**changes)],
            loads={**LOADS, "links": TUBES, **(loads or {})},
        )
        axle, plan, made, forces = _drawn(sheet)
    else:
        sheet, axle, plan, made, forces = _plain()
    store = {"axle.loads": scaled(forces, times, cases)}
    parts, assemblies = {p.name: p for p in made.parts}, {a.name: a for a in made.assemblies}
    return Job(sheet, axle, plan, parts, assemblies, store, made)


def scaled(loads, times, names=None):
    """Every force of the cases so many times as large."""
    cases = [
        replace(
            one,
            case=replace(
                one.case,
                pushes=tuple(replace(p, force=tuple(times * f for f in p.force)) for p in one.case.pushes),
                couples=tuple(replace(c, moment=tuple(times * m for m in c.moment)) for c in one.case.couples),
            ),
            lines=tuple(replace(k, force=times * k.force) for k in one.lines),
            springs={side: times * f for side, f in one.springs.items()},
        )
        for one in loads.cases
        if names is None or one.case.name in names
    ]
    return replace(loads, cases=tuple(cases))


def findings(code, made):
    return CLAIMS[code].check(made)


def level(code, made):
    """The gravest level a claim comes to, what is not checked left out."""
    order = (Level.FAIL, Level.WARN, Level.PASS)
    found = {f.level for f in findings(code, made)}
    return next(one for one in order if one in found)


def first(code, made):
    return findings(code, made)[0]


def drive_force(made, name="lower-left"):
    """Of a link when the axle drives [N]; the case that asks most of this axle's lower links."""
    return abs(made.store["axle.loads"].case("drive").links[name])
