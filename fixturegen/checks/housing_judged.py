"""The housing under its loads, with and without its truss, worked out once for claims, numbers and papers."""

from __future__ import annotations

from dataclasses import dataclass

from fixturegen.axle.frames import Array
from fixturegen.checks.loads import loads_in
from fixturegen.checks.registry import Job
from fixturegen.studies.axle_loads import AxleLoads
from fixturegen.studies.housing_study import HousingStudy, housing_study
from fixturegen.studies.housing_truss import ActingTruss, acting
from fixturegen.studies.housing_welds import SeamFlow, centre_flows, nearest, seam_flows, seam_strengths
from fixturegen.studies.strength_records import STANDARD, Strength, steel_of
from fixturegen.studies.truss_records import TrussPlan
from fixturegen.units import as_text

STORE = "housing.study"
LEAVES = "; leaf springs are taken to share wind-up and side force alike"


@dataclass(frozen=True, eq=False)
class Housing:
    """What is known of the housing.

    Attributes:
        study: As it is on the sheet.
        truss: Its truss, or None.
        across: Of a truss that bridges the centre section without weld: the same if its plates carry on over it.
        welds: Flow through each of its seams where it is used most, with the strength nearest to its factor.
        limit: What the tubes are allowed, yield over its factor [MPa].
        plate_limit: What the plates of the truss are allowed [MPa]; 0 without one.
    """

    study: HousingStudy
    truss: ActingTruss | None
    across: HousingStudy | None
    welds: tuple[tuple[SeamFlow, Strength], ...]
    limit: float
    plate_limit: float

    @property
    def plan(self) -> TrussPlan | None:
        """The plan of the truss, where there is one."""
        return self.truss.plan if self.truss else None


def housing_in(job: Job) -> Housing | None:
    """The housing of a job; None without loads and links, or where LOD-01 says that they cannot be told."""
    loads = loads_in(job)
    if not isinstance(loads, AxleLoads) or not loads.cases:
        return None
    kept: tuple[AxleLoads, Housing] | None = job.store.get(STORE)
    if kept is None or kept[0] is not loads:
        kept = (loads, _made(job, loads))
        job.store[STORE] = kept
    return kept[1]


def _made(job: Job, loads: AxleLoads) -> Housing:
    plan = plan_of_truss(job)
    limit = steel_of(job.sheet.tubes.material).yield_strength / STANDARD.tab_yield.value
    if plan is None:
        return Housing(housing_study(job.sheet, job.axle, loads), None, None, (), limit, 0.0)
    truss = acting(plan, job.axle.section)
    study = housing_study(job.sheet, job.axle, loads, truss)
    across = None
    if not truss.anchored():
        carried = acting(plan, job.axle.section, across=True)
        across = housing_study(job.sheet, job.axle, loads, carried)
    steel = steel_of(plan.material)
    flows = (*seam_flows(study), *centre_flows(study, truss))
    welds = tuple((flow, nearest(seam_strengths(flow, steel))) for flow in flows)
    weakest = min(steel.yield_strength, steel_of(plan.top_material).yield_strength)
    return Housing(study, truss, across, welds, limit, weakest / STANDARD.tab_yield.value)


def plan_of_truss(job: Job) -> TrussPlan | None:
    """The plan of the truss; None without one, or where TRS-01 says that it cannot be drawn."""
    if job.sheet.truss is None:
        return None
    # only a sheet with a truss pays for its plan
    from fixturegen.checks.truss import drawn_plan

    return drawn_plan(job)


def housing_approximate(job: Job) -> bool:
    """Whether lines stand for leaf springs."""
    return job.sheet.links is not None and job.sheet.links.kind == "leaf-springs"


def place_words(station: float, units: str) -> str:
    """A station as the shop says it."""
    side = "left" if station >= 0.0 else "right"
    metric = units == "mm"
    return f"{as_text(abs(station), 'length', 'mm' if metric else 'in', 0 if metric else 1)} {side} of the middle"


def largest(values: Array) -> tuple[float, str]:
    """The larger in size of what is told of the right and the left wheel, and which."""
    right, left = (float(v) for v in values)
    return (left, "left") if abs(left) >= abs(right) else (right, "right")
