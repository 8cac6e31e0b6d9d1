"""Jobs with [gauges], from the examples; no build, no example as a whole."""

import tomllib
from functools import cache
from pathlib import Path

from fixturegen.axle.model import axle_of
from fixturegen.checks.registry import Job
from fixturegen.gauges.registry import STORE, make_gauges
from fixturegen.sheet.specs import Sheet
from fixturegen.studies.bracket_plan import bracket_plan
from fixturegen.studies.jig_plan import plan_of

EXAMPLES = Path(__file__).parents[2] / "examples"
KINGPIN, BALL, REAR = "front-dropout-kingpin", "front-integral-balljoint", "rear-dropout"
FULL = {"wheel_stud": "9/16-18", "pinion_head": "2.6 in"}
INCH = 25.4


def sheet_with(name: str = KINGPIN, gauges: dict | None = None, **process: object) -> Sheet:
    data = tomllib.loads((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"))
    data["gauges"] = FULL if gauges is None else gauges
    data["process"] |= process
    return Sheet.model_validate(data)


def job_with(sheet: Sheet, *, drawn: bool = True) -> Job:
    """A job of the gauges alone."""
    axle = axle_of(sheet)
    plan = plan_of(sheet, axle)
    job = Job(sheet, axle, plan)
    if drawn:
        made = make_gauges(sheet, axle, plan, bracket_plan(sheet, axle))
        job.store[STORE] = made
        job.parts.update({p.name: p for p in made.parts})
    return job


@cache
def example(name: str = KINGPIN) -> Job:
    return job_with(sheet_with(name))


def gauge_of(job: Job, name: str):  # type: ignore[no-untyped-def]
    return next(g for g in job.store[STORE].plan.gauges if g.name == name)
