"""Numbers in findings as the shop reads them, and studies shared by several claims of one job."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from fixturegen.checks.registry import Job
from fixturegen.studies.jig_pose import Simulation
from fixturegen.studies.masses import Body, bodies_of

INCH = 25.4
POUND = 0.45359237
POUND_FORCE = 4.4482216152605
PRACTICE = "common practice, no source"
JOB_RULE = "limit of this job, build target of the trade; common practice, no source"

T = TypeVar("T")


def inch(value: float, places: int = 3) -> str:
    """A length [mm] in decimal inches."""
    return f"{value / INCH:.{places}f} in"


def pounds(mass: float) -> str:
    """A mass [kg] in pounds."""
    return f"{mass / POUND:.0f} lb"


def pounds_force(force: float) -> str:
    """A force [N] in pounds-force."""
    return f"{force / POUND_FORCE:.0f} lbf"


def shared(job: Job, name: str, make: Callable[[], T]) -> T:
    """A study made once a job, kept in the job's store under `name`."""
    if name not in job.store:
        job.store[name] = make()
    kept: T = job.store[name]
    return kept


def bodies(job: Job) -> dict[str, Body]:
    """Masses and middles of everything on the table, worked out once a job."""
    return shared(job, "study.bodies", lambda: bodies_of(job.sheet, job.axle, job.plan))


def simulation(job: Job) -> Simulation:
    """The job's simulated jig, made once a job."""
    return shared(job, "study.simulation", lambda: Simulation(job.sheet, job.axle, job.plan))
